package qr

// A symbol is a QR code in the making: a square of modules.
type symbol struct {
	version int
	side    int
	modules []module // row by row
}

// A module is one square: dark or light, and whether it is part of the frame, which carries no data.
type module byte

const (
	dark  module = 1
	frame module = 2
)

// newSymbol returns a symbol with its frame: finder, alignment and timing patterns, and the places of the format and
// version information, which are written with the mask (ISO/IEC 18004, section 5.3).
func newSymbol(version int) *symbol {
	side := 17 + 4*version
	s := &symbol{version, side, make([]module, side*side)}
	for i := range side {
		s.set(6, i, i%2 == 0)
		s.set(i, 6, i%2 == 0)
	}
	places := alignment(version, side)
	last := len(places) - 1
	for i, row := range places {
		for j, column := range places {
			if i == 0 && (j == 0 || j == last) || i == last && j == 0 {
				continue // a finder stands here
			}
			s.rings(row, column, 2)
		}
	}
	s.rings(3, 3, 4)
	s.rings(3, side-4, 4)
	s.rings(side-4, 3, 4)
	s.writeFormat(0)
	if version >= 7 {
		s.writeVersion()
	}
	return s
}

// alignment returns the rows, and columns, of the centres of alignment patterns: 6, the one 7 modules before the end, and
// even steps between from the end on (annex E; the step of version 32 is the one that the table gives and no formula).
func alignment(version, side int) []int {
	if version == 1 {
		return nil
	}
	n := version/7 + 2
	step := (version*4 + n*2 + 1) / (n*2 - 2) * 2
	if version == 32 {
		step = 26
	}
	places := make([]int, n)
	places[0] = 6
	for i := 1; i < n; i++ {
		places[i] = side - 7 - (n-1-i)*step
	}
	return places
}

// set makes a module part of the frame.
func (s *symbol) set(row, column int, isDark bool) {
	m := frame
	if isDark {
		m |= dark
	}
	s.modules[row*s.side+column] = m
}

// rings sets concentric squares about a centre, as far as they are inside: dark, but for the one next to the centre of an
// alignment pattern (reach 2), and the two outer ones but one of a finder (reach 4, its light border included).
func (s *symbol) rings(row, column, reach int) {
	for y := -reach; y <= reach; y++ {
		for x := -reach; x <= reach; x++ {
			if r, c := row+y, column+x; r >= 0 && r < s.side && c >= 0 && c < s.side {
				ring := max(x, -x, y, -y)
				light := ring == 4 || ring == 2 && reach == 4 || ring == 1 && reach == 2
				s.set(r, c, !light)
			}
		}
	}
}

// writeFormat writes level M and the mask, with their check bits, at both places (section 6.9).
func (s *symbol) writeFormat(mask int) {
	const levelM, generator, pattern = 0, 0x537, 0x5412
	bits := remainder(levelM<<3|mask, 10, generator) ^ pattern
	for i := range 15 { // from the low bit on
		isDark := bits>>i&1 == 1
		switch { // down column 8
		case i < 6:
			s.set(i, 8, isDark)
		case i < 8:
			s.set(i+1, 8, isDark)
		default:
			s.set(s.side-15+i, 8, isDark)
		}
		switch { // along row 8, from the right
		case i < 8:
			s.set(8, s.side-1-i, isDark)
		case i < 9:
			s.set(8, 15-i, isDark)
		default:
			s.set(8, 14-i, isDark)
		}
	}
	s.set(s.side-8, 8, true)
}

// writeVersion writes the version, with its check bits, at both places (section 6.10).
func (s *symbol) writeVersion() {
	bits := remainder(s.version, 12, 0x1F25)
	for i := range 18 {
		isDark := bits>>i&1 == 1
		s.set(i/3, s.side-11+i%3, isDark)
		s.set(s.side-11+i%3, i/3, isDark)
	}
}

// remainder returns value with so many check bits after it: what remains of it when divided by the generator modulo 2.
func remainder(value, checkBits, generator int) int {
	rest := value
	for range checkBits {
		rest <<= 1
		if rest>>checkBits&1 == 1 {
			rest ^= generator
		}
	}
	return value<<checkBits | rest&(1<<checkBits-1)
}

// words returns how many code words the symbol holds.
func (s *symbol) words() int {
	n := 0
	for _, m := range s.modules {
		if m&frame == 0 {
			n++
		}
	}
	return n / 8
}

// place writes the code words, the high bit first, in columns two modules wide from the right, upwards and downwards by turns
// (section 6.7.3). What remains at the end is light.
func (s *symbol) place(words []byte) {
	bit := 0
	for right := s.side - 1; right > 0; right -= 2 {
		if right == 6 { // the timing pattern's own column
			right--
		}
		for i := range s.side {
			row := i
			if (right+1)&2 == 0 {
				row = s.side - 1 - i
			}
			for _, column := range [2]int{right, right - 1} {
				m := &s.modules[row*s.side+column]
				if *m&frame == 0 && bit < 8*len(words) {
					*m = module(words[bit/8] >> (7 - bit%8) & 1)
					bit++
				}
			}
		}
	}
}

func (s *symbol) code() Code {
	c := Code{Side: s.side, Rows: make([]string, s.side)}
	row := make([]byte, s.side)
	for i := range c.Rows {
		for j := range row {
			row[j] = '0' + byte(s.modules[i*s.side+j]&dark)
		}
		c.Rows[i] = string(row)
	}
	return c
}

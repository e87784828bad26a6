package qr

// isMasked tells whether a mask inverts the module in row i and column j (ISO/IEC 18004, section 6.8.1, table 10).
func isMasked(mask, i, j int) bool {
	switch mask {
	case 0:
		return (i+j)%2 == 0
	case 1:
		return i%2 == 0
	case 2:
		return j%3 == 0
	case 3:
		return (i+j)%3 == 0
	case 4:
		return (i/2+j/3)%2 == 0
	case 5:
		return i*j%2+i*j%3 == 0
	case 6:
		return (i*j%2+i*j%3)%2 == 0
	}
	return ((i+j)%2+i*j%3)%2 == 0
}

// apply inverts what a mask inverts, outside the frame, and writes the format information; applied twice it is undone.
func (s *symbol) apply(mask int) {
	for at, m := range s.modules {
		if m&frame == 0 && isMasked(mask, at/s.side, at%s.side) {
			s.modules[at] ^= dark
		}
	}
	s.writeFormat(mask)
}

// maskBest applies the mask with the least penalty, the first of those that are equal.
func (s *symbol) maskBest() {
	best, least := 0, -1
	for mask := range 8 {
		s.apply(mask)
		if p := s.penalty(); least < 0 || p < least {
			best, least = mask, p
		}
		s.apply(mask)
	}
	s.apply(best)
}

// The weights of section 6.8.2, table 11.
const (
	n1 = 3  // five modules of one colour in a row or column, and 1 for each more
	n2 = 3  // each square of two by two of one colour
	n3 = 40 // each 1:1:3:1:1 of dark and light, with four light modules before or after it
	n4 = 10 // each whole 5 % that the dark modules are away from half
)

// penalty returns what makes a symbol hard to read, by section 6.8.2. Light modules beside 1:1:3:1:1 may be of the quiet zone.
func (s *symbol) penalty() int {
	p, darks, side := 0, 0, s.side
	for i := range side {
		p += s.linePenalty(i*side, 1) + s.linePenalty(i, side)
		for j := range side {
			at := i*side + j
			colour := s.modules[at] & dark
			darks += int(colour)
			if i > 0 && j > 0 && colour == s.modules[at-1]&dark && colour == s.modules[at-side]&dark && colour == s.modules[at-side-1]&dark {
				p += n2
			}
		}
	}
	away := 2*darks - side*side // of all, in half modules
	return p + max(away, -away)*10/(side*side)*n4
}

// linePenalty returns the part of the penalty of one row or column, which begins at from and has a module every step.
func (s *symbol) linePenalty(from, step int) int {
	p, run := 0, 0
	window := 0 // the last 15 modules, the newest lowest: four before, seven of the pattern, four after
	const pattern = 0b1011101
	last := dark
	for i := range s.side + QuietZone {
		colour := module(0)
		if i < s.side {
			colour = s.modules[from+i*step] & dark
			if run++; colour != last || i == 0 {
				run = 1
			}
			switch {
			case run == 5:
				p += n1
			case run > 5:
				p++
			}
			last = colour
		}
		window = window<<1&0x7FFF | int(colour)
		if window>>4&0x7F == pattern && (window>>11 == 0 || window&0xF == 0) {
			p += n3
		}
	}
	return p
}

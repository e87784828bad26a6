package survey

// A Ramp says that the dump is an address pattern: nothing drove the data bus, and it kept what was on it last, which on
// many boards and readers is a part of the address.
type Ramp struct {
	Pattern  string // in words, "the low byte of the address"; empty if the dump is no ramp
	Inverted bool   // the pattern's complement was read
	Matches  int    // bytes that are as the pattern says
	Of       int    // bytes in the dump
}

// Found tells whether the dump is a ramp.
func (r Ramp) Found() bool { return r.Pattern != "" }

// A pattern says which byte of the address is read at even and at odd byte addresses: address>>shift, to eight bits.
type pattern struct {
	name      string
	even, odd int // bits
}

// patterns lists the ramps that are known. Common practice, no source.
var patterns = []pattern{
	{"the low byte of the address", 0, 0},
	{"the low byte of the 16-bit word's address", 1, 1},
	{"the low byte of the 32-bit word's address", 2, 2},
	{"the high byte of a 16-bit address", 8, 8},
	{"the high byte of a 16-bit word's address", 9, 9},
	{"the 16-bit word's address, low byte first", 1, 9},
	{"the 16-bit word's address, high byte first", 9, 1},
}

// A ramp shows at least one whole turn, all 256 values of the faster byte, and at most one byte in rampNoise is another.
const rampNoise = 16

// FindRamp returns the pattern that most bytes of data agree with, if that is nearly all of them.
func FindRamp(data []byte) (best Ramp) {
	for _, p := range patterns {
		if len(data) < 256<<min(p.even, p.odd) {
			continue
		}
		for _, inverted := range []bool{false, true} {
			if !p.likely(data, inverted) {
				continue
			}
			matches := p.matches(data, inverted)
			if matches > best.Matches && len(data)-matches <= len(data)/rampNoise {
				best = Ramp{Pattern: p.name, Inverted: inverted, Matches: matches, Of: len(data)}
			}
		}
	}
	return best
}

// at returns what the pattern says is read at an address.
func (p pattern) at(address int, inverted bool) byte {
	value := byte(address >> p.even)
	if address%2 == 1 {
		value = byte(address >> p.odd)
	}
	if inverted {
		return ^value
	}
	return value
}

// likely tells whether at least three in four of about 256 addresses spread over data are as the pattern says. It saves
// counting: other content agrees with a pattern at one in 256.
func (p pattern) likely(data []byte, inverted bool) bool {
	stride := len(data)/256 | 1 // odd, so that every low byte of the address comes up
	agree, looked := 0, 0
	for address := 0; address < len(data); address += stride {
		looked++
		if data[address] == p.at(address, inverted) {
			agree++
		}
	}
	return 4*agree >= 3*looked
}

// matches returns how many bytes of data are as the pattern says.
func (p pattern) matches(data []byte, inverted bool) (n int) {
	for address, value := range data {
		if value == p.at(address, inverted) {
			n++
		}
	}
	return n
}

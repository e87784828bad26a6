package arrange

import (
	"strconv"
	"strings"

	"lunette/core/words"
)

// exchanges names the exchange of addresses, by x: its part of an ID and of a sentence. None has no part.
var exchanges = [4]struct{ code, name string }{
	1: {"swap16", "bytes swapped in 16-bit words"},
	2: {"halves32", "16-bit halves exchanged in 32-bit words"},
	3: {"reverse32", "32-bit words reversed"},
}

// String returns the arrangement in the trade's words, as in "as stored" or "even byte lane, bytes swapped in 16-bit
// words".
func (a Arrangement) String() string {
	var parts []string
	if a.laneBits > 0 {
		parts = append(parts, a.laneName())
	}
	if name := exchanges[a.exchange].name; name != "" {
		parts = append(parts, name)
	}
	if a.mirrored {
		parts = append(parts, "bits mirrored in each byte")
	}
	if len(parts) == 0 {
		return "as stored"
	}
	return strings.Join(parts, ", ")
}

// laneName returns the lane as "odd byte lane" or "byte lane 1 of 0 to 3". Both ends of the count are said, because
// "lane 1 of 4" would be read as the first, and the second chip would go into the first socket.
func (a Arrangement) laneName() string {
	lane, of := a.Lanes()
	if of == 2 {
		return [2]string{"even byte lane", "odd byte lane"}[lane]
	}
	return words.Fill("byte lane {} of 0 to {}", strconv.Itoa(lane), strconv.Itoa(of-1))
}

// ID returns a short name for files, links and JSON: "stored", "swap16", "lane1of2-reverse32-mirror". Lanes count from 0.
// Parse reads it.
func (a Arrangement) ID() string {
	var parts []string
	if a.laneBits > 0 {
		lane, of := a.Lanes()
		parts = append(parts, "lane"+strconv.Itoa(lane)+"of"+strconv.Itoa(of))
	}
	if code := exchanges[a.exchange].code; code != "" {
		parts = append(parts, code)
	}
	if a.mirrored {
		parts = append(parts, "mirror")
	}
	if len(parts) == 0 {
		return "stored"
	}
	return strings.Join(parts, "-")
}

// Parse returns the arrangement with the given ID; ok is false when there is none.
func Parse(id string) (a Arrangement, ok bool) {
	a, ok = byID[id]
	return a, ok
}

// byID holds every arrangement that can be made: 31 lanes of 1, 2, 4, 8 or 16, with 4 exchanges, mirrored or not.
var byID = func() map[string]Arrangement {
	table := make(map[string]Arrangement)
	for laneBits := uint8(0); laneBits <= maxLaneBits; laneBits++ {
		for lane := uint8(0); lane < 1<<laneBits; lane++ {
			for exchange := uint8(0); exchange < 4; exchange++ {
				for _, mirrored := range []bool{false, true} {
					a := Arrangement{exchange, mirrored, laneBits, lane}
					table[a.ID()] = a
				}
			}
		}
	}
	return table
}()

// MarshalText returns the ID, which is how an Arrangement stands in JSON. The error is always nil.
func (a Arrangement) MarshalText() ([]byte, error) { return []byte(a.ID()), nil }

package marks

import (
	"math"
	"slices"

	"lunette/core/arrange"
	"lunette/core/sorted"
	"lunette/core/words"
)

// A SelfCheck tells whether what a header says about its own content is true.
type SelfCheck string

// What a self-check can say.
const (
	CheckHolds    SelfCheck = "holds"
	CheckFails    SelfCheck = "does not hold"
	CheckNone     SelfCheck = "none"            // the pattern has no self-check
	CheckUnknown  SelfCheck = "cannot be made"  // what it covers is not wholly in this dump
	CheckNotAsked SelfCheck = "is not required" // the standard asks for none in this kind of image
)

// A Header is one known pattern found at one place, read in one arrangement.
type Header struct {
	Row       string                // ID of its HeaderRow
	Name      string                // the row's name
	Source    string                // the row's source
	Memory    bool                  // the layout was written down from memory, not read in a source
	Order     arrange.Arrangement   // the arrangement in which it reads right
	Also      []arrange.Arrangement // arrangements in which the same bytes read equally right with the other byte order
	At        int                   // offset of its first byte in the arranged image
	Stored    int                   // offset of that byte in the stored bytes
	Length    int                   // bytes it speaks for, 0 when it does not say
	Bits      float64               // evidence: in random data a claim this strong comes once in 2^Bits dumps, all tries counted
	Tries     int                   // places times arrangements times rows that share this claim's chance
	SelfCheck SelfCheck
	Expected  string   // what the self-check should give, in hex; empty when there is none
	Found     string   // what it gives
	Detail    []string // plain sentences: entry, identifiers, dates, what of the pattern was seen
	Family    string   // ID of the CPU family it implies, empty when it implies none
	Settles   bool     // decides the arrangement alone: see settleHeaders

	plain float64 // bits without the cap and before tries are subtracted
	next  int     // offset in the arranged image of the next image of a chain, 0 when it does not chain
	last  bool    // it says that it is the last of its chain
}

// settleBits is what a header with a self-check must reach to decide the arrangement alone: by chance once in a million
// dumps.
const settleBits = 20

// leastHeaderBits is what a header must reach to be reported: by chance in one of 64 dumps.
const leastHeaderBits = 6

// rareParts is how much rarer than a whole image a header at the start or end of only a half or quarter is taken to be.
const rareParts = 8

// rareMirror is how much rarer than another arrangement one with mirrored bits is taken to be.
const rareMirror = 8

// patternCap bounds the plain bits of a pattern that has no self-check. Data that is no ROM can look like a table of
// addresses for reasons that no model of random bytes knows: of 7,467 windows of a system's files one reached the cap.
const patternCap = 24

// maxHeaders bounds how many headers are returned: a chain of them, not a file that was made to hold a hundred
// thousand.
const maxHeaders = 256

// A headerPlace says where the pattern of a row may stand.
type headerPlace int

const (
	atStart headerPlace = iota // at the start of the image, of a half or of a quarter
	atEnd                      // before the end of the image, of a half or of a quarter
	atSteps                    // at every multiple of the row's step
)

// A HeaderRow is one known pattern: what it is called, where it was published, where it stands, and the test.
type HeaderRow struct {
	ID     string
	Name   string
	Source string
	Memory bool   // the layout, or part of it, was written down from memory
	Family string // ID of the CPU family it implies, empty for none
	Proves bool   // its self-check is a sum of 16 bits or more over all that it speaks for: a bad read does not pass

	place  headerPlace
	step   int    // bytes between places, for atSteps
	lead   string // the first bytes at a place, tested before all else; empty when they vary
	whole  bool   // it is made of words, which no byte lane alone can show
	either bool   // the CPU exists in both byte orders: read with the high and with the low byte first
	test   func(v *headerView, part headerSpan) *headerHit
}

// Proves tells whether h's self-check holds and is one that a bad read does not pass: a sum of at least 16 bits over Length
// bytes. A date that is a date proves nothing of the rest, and 8 bits let one bad read in 256 pass.
func (h Header) Proves() bool {
	return h.SelfCheck == CheckHolds && slices.ContainsFunc(HeaderRows, func(row HeaderRow) bool { return row.ID == h.Row && row.Proves })
}

// A headerSpan is the stretch of the arranged image that a pattern is looked for in, from its start or before its end.
type headerSpan struct{ from, to int }

func (s headerSpan) len() int { return s.to - s.from }

// A headerHit is what a row's test saw. Its bits are those of the pattern alone; tries are subtracted later.
type headerHit struct {
	at       int // offset in the arranged image
	length   int
	bits     float64
	check    SelfCheck
	expected string
	found    string
	detail   []string
	family   string // CPU family that this hit implies, where the row's own does not say
	next     int    // offset of the next image of a chain
	last     bool   // this image says that it is the last of its chain
}

// say adds a sentence to the detail of h. Not inlined, for the size of the code.
//
//go:noinline
func (h *headerHit) say(template string, parts ...string) {
	h.detail = append(h.detail, words.Fill(template, parts...))
}

// FindHeaders looks for every row of HeaderRows in every arrangement of arrange.All, at every place it may stand, and
// returns what it found, strongest first, at most 256. progress, when not nil, is told how many of the arrangements'
// bytes have been looked at, of len(data) in all.
//
// # What Bits mean
//
// A test multiplies chances: a byte that must have a value gives the chance that a byte of this dump has it, or a byte
// of the 1 KiB at this place, or 1/256, whichever is most. A condition that need not hold gives half of its weight to
// the case that it does not: a hit costs one bit and a miss costs one. Such products average at most one over random
// data, whatever the test looks at, so by Markov's inequality a single place shows 2^b with a chance of at most 2^-b.
//
// The chances of all rows, arrangements and places add up, and log2 of their number is subtracted: half of the whole
// goes to the first place of each row (the start, the end), the other half, or a sixteenth for halves and quarters, is
// shared by the others; a mirrored arrangement has an eighth of the weight of another. Without a self-check a pattern
// gives 24 plain bits at most.
func FindHeaders(data []byte, progress func(done int)) []Header {
	return findHeaders(data, nil, progress)
}

// findHeaders is FindHeaders with what was counted of data already, or nil.
func findHeaders(data []byte, counted *sumTally, progress func(done int)) []Header {
	var found []Header
	odds := oddsOf(data, counted)
	orders := arrange.All()
	for i, order := range orders {
		v := newHeaderView(data, order, odds)
		for r := range HeaderRows {
			found = append(found, HeaderRows[r].find(v, len(orders)*len(HeaderRows))...)
		}
		if progress != nil {
			progress(int(int64(len(data)) * int64(i+1) / int64(len(orders))))
		}
	}
	found = dropShadows(dropEchoes(found))
	settleHeaders(found)
	tellChains(found)
	sorted.By(found, func(a, b Header) int {
		switch {
		case a.Bits > b.Bits:
			return -1
		case a.Bits < b.Bits:
			return 1
		}
		return a.Stored - b.Stored
	})
	return found[:min(len(found), maxHeaders)]
}

// find looks for row r in the arranged image v. shares is the number of rows times the number of arrangements, which
// share the chance of a wrong claim.
func (r *HeaderRow) find(v *headerView, shares int) []Header {
	if _, of := v.order.Lanes(); r.whole && of > 1 {
		return nil
	}
	if r.either && exchangesHalves(v.order) {
		return nil // it is the other byte order of an arrangement that is looked at with both
	}
	var found []Header
	spans := r.spans(v.n)
	for _, i := range v.leads(r, spans) {
		if len(found) >= maxHeaders {
			break
		}
		part := spans.at(i)
		v.weigh(part, r.place)
		tries := 2 * shares
		if r.either {
			tries *= 2
		}
		if v.order.IsMirrored() {
			tries *= rareMirror
		}
		if i > 0 {
			tries *= spans.count - 1
			if r.place != atSteps {
				tries *= rareParts
			}
		}
		v.tries = tries
		for _, little := range []bool{false, true} {
			if little && !r.either {
				break
			}
			v.little = little
			if hit := r.test(v, part); hit != nil {
				if h, ok := r.header(v, hit); ok {
					found = append(found, h)
				}
			}
		}
		v.little = false
	}
	return found
}

// header makes a Header of a hit; ok is false when it is too weak to be told.
func (r *HeaderRow) header(v *headerView, hit *headerHit) (h Header, ok bool) {
	bits := hit.bits
	if hit.check == CheckNone {
		bits = min(bits, patternCap)
	}
	if !v.tells(bits) {
		return Header{}, false
	}
	bits -= v.toll()
	h = Header{
		Row: r.ID, Name: r.Name, Source: r.Source, Memory: r.Memory, Family: r.Family,
		Order: v.order, At: hit.at, Stored: v.order.Source(hit.at, len(v.stored)), Length: hit.length,
		Bits: bits, Tries: v.tries, SelfCheck: hit.check, Expected: hit.expected, Found: hit.found, Detail: hit.detail,
	}
	h.plain, h.next, h.last = hit.bits, hit.next, hit.last
	if hit.family != "" {
		h.Family = hit.family
	}
	if r.either {
		here, there := "high", "low"
		if v.little {
			here, there = there, here
		}
		h.Also = []arrange.Arrangement{otherEnd(v.order)}
		h.Detail = append(h.Detail, words.Fill("words read with the {} byte first here; the same as {} byte first with {}",
			here, there, h.Also[0].String()))
	}
	return h, true
}

// toll returns the bits that tries cost at the place that is tried.
func (v *headerView) toll() float64 { return math.Log2(float64(v.tries)) }

// tells reports whether so many plain bits are enough there for a claim.
func (v *headerView) tells(bits float64) bool { return bits-v.toll() >= leastHeaderBits }

// exchangesHalves tells whether order exchanges the 16-bit halves of a 32-bit word.
func exchangesHalves(order arrange.Arrangement) bool {
	_, of := order.Lanes()
	return order.Unit()/of == 4
}

// otherEnd returns the arrangement in which 32-bit words have the bytes of those of order in reverse.
func otherEnd(order arrange.Arrangement) arrange.Arrangement {
	reversed, _ := order.Then(arrange.Reversed) // never refused: no lane is added
	return reversed
}

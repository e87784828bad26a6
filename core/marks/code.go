package marks

import (
	"slices"

	"lunette/core/arrange"
)

// A Range is a stretch of stored bytes, from Start to End-1.
type Range struct{ Start, End int }

// A Reading is a CPU family together with the arrangement in which that CPU sees the image: what must be done with the
// stored bytes so that they stand in the order of the CPU's addresses.
type Reading struct {
	Family string // ID
	Order  arrange.Arrangement
}

// A Code says whose code is in a dump and which way round it stands.
type Code struct {
	Reading           // the likeliest; Family is "" when Sure is CannotTell
	Other   []Reading // the same marks as a CPU of the other byte order would have them; empty when something decided
	Shift   int       // bytes to leave out at the start before Order reads right, 0 to 3
	Sure    Sure
	Bits    float64 // evidence of the strongest window against chance, in bits
	Margin  float64 // by how much the order leads the one that comes next, in nats, on average of the windows that say so
	Windows int     // windows of 4 KiB (the whole dump when shorter) that say so
	Against int     // windows that name another CPU or order
	Looked  int     // windows looked at that were neither blank nor packed
	Seen    []Seen  // the most telling marks, counted in the whole dump; in more than 4 MiB, only in Where
	Where   []Range // where the windows that say so lie
	Rival   Reading // what the windows against say, or the order that comes next
}

// A Seen is one mark with what was counted.
type Seen struct {
	Mnemonic, Pattern string
	Count             int   // in the order named
	RivalCount        int   // in the order that comes next
	First             []int // stored offsets of the first ones, at most 3
}

const (
	window      = 4096 // bytes judged in one piece
	poolWindows = 4    // windows that are judged once more together
	least       = 512  // bytes; less is not looked at
)

// In dumps of more than fewWindows, glances at pieces that lie evenly in a window say whether the whole is worth counting:
// half of them first, all when those are promising.
const (
	fewWindows = 16
	glances    = 16
	glanced    = 64 // bytes, a multiple of 4
)

// promising is the score, in nats, of the best family in half of the glances and in all. Of 2,129 windows of Debian's
// libraries that are sure when counted whole, all passed the first; one in 17 windows of 7-bit noise does.
var promising = [2]float64{10, 14}

// twiceAsMuch as is asked of all glances, shown by half of them, makes the others superfluous.
const twiceAsMuch = 2

// FindCode tells whose code data holds and in which arrangement. It looks at windows: each is judged alone, so tables,
// fonts and text around the code say nothing instead of something wrong. Dumps of more than 64 KiB are sampled, more
// densely as long as the answer is not certain, and of each of their windows an eighth is counted first: all of it only
// where that looks like code. progress, which may be nil, is told how many bytes are done. The memory needed does not
// grow with the dump.
func FindCode(data []byte, progress func(done int)) Code {
	f := newFinder(data)
	for round := range f.rounds() {
		f.look(round, progress)
		if f.settled() {
			break
		}
	}
	f.finishPool()
	c := f.answer(0)
	if c.Sure == CannotTell {
		c = f.shifted()
	}
	if len(c.Other) > 0 {
		c = c.decidedBy(FindText(data))
	}
	if len(c.Other) > 0 {
		c = c.decidedByConstants(data)
	}
	if c.Sure > CannotTell {
		c.Seen = f.seen(&c)
	}
	return c
}

// FamilyByID returns the CPU family with the given ID.
func FamilyByID(id string) (f Family, ok bool) {
	i := slices.IndexFunc(families, func(f Family) bool { return f.ID == id })
	if i < 0 {
		return Family{}, false
	}
	return families[i], true
}

// Families returns every CPU family whose code is known.
func Families() []Family { return slices.Clone(families) }

// BigEndian tells whether the CPUs of this family keep the high byte of a word at the lower address, always.
func (f Family) BigEndian() bool { return f.endian == big }

// FirstByte returns which byte of a word the CPUs of this family keep at the lower address: "big" for the high one, "little"
// for the low one, "" where that is set by the board or means nothing for the bus. An x86 takes its instructions byte by
// byte, and words of data low byte first.
func (f Family) FirstByte() string {
	switch {
	case f.endian == big:
		return "big"
	case f.endian == little || f.ID == "x86":
		return "little"
	}
	return ""
}

// Word returns the size in bytes of the words in which the CPUs of this family take their code; 1 for one that takes bytes.
func (f Family) Word() int { return f.word }

// A claim is one answer of a window: a family read in one of the eight readings.
type claim struct{ family, reading int }

// A vote is what the windows say for one claim.
type vote struct {
	windows int
	best    float64 // nats
	total   float64 // nats, over its windows
	margin  float64 // the same of the margins
	where   []Range
	marks   []uint32 // hits of each of the family's rules in the windows that voted
	rival   []uint32 // the same in the reading that came next
	next    int      // that reading
}

type finder struct {
	data     []byte
	judge    *judge
	room     []byte
	one      *tally // the window at hand
	pool     *tally // up to poolWindows windows
	side     *tally // the window at hand from an odd offset on
	pooled   int
	pooledAt []Range
	hopeful  bool // a window of the pool was promising
	fine     map[claim]*vote
	coarse   map[claim]*vote
	looked   int
	done     int
}

func newFinder(data []byte) *finder {
	return &finder{data: data, judge: newJudge(), room: make([]byte, window+2*tail), one: newTally(), pool: newTally(), side: newTally(),
		fine: map[claim]*vote{}, coarse: map[claim]*vote{}}
}

// A dump is looked at in rounds of at most windowsPerRound windows that lie evenly in it, each round between those before,
// until the answer is certain. At most mostWindows are looked at: all of a dump of 2 MiB, one in 32 of one of 64 MiB.
const (
	windowsPerRound = 8
	mostWindows     = 512
)

// stripes returns which windows the rounds take: round r takes window stripes[r] and every len(stripes)-th after it.
func (f *finder) stripes() []int {
	windows := (len(f.data) + window - 1) / window
	n := 1
	for windows/n > windowsPerRound {
		n *= 2
	}
	order := make([]int, n)
	for i := range order {
		for bit, v := 1, n/2; v > 0; bit, v = bit*2, v/2 {
			if i&bit != 0 {
				order[i] += v
			}
		}
	}
	return order
}

func (f *finder) rounds() int { return min(len(f.stripes()), mostWindows/windowsPerRound) }

// look judges the windows of one round.
func (f *finder) look(round int, progress func(int)) {
	stripes := f.stripes()
	for at := stripes[round] * window; at < len(f.data); at += len(stripes) * window {
		n := min(window, len(f.data)-at)
		f.done += n
		if n < least || n < 1024 && at > 0 {
			continue
		}
		f.lookAt(at, n)
		if progress != nil {
			progress(f.done)
		}
	}
}

// lookAt judges one window and puts it into the pool.
func (f *finder) lookAt(at, n int) {
	f.one.clear()
	f.one.countPlaces(f.data[at : at+n])
	if f.one.dull() {
		return
	}
	f.looked++
	var v verdict
	var left []int // sizes of words that are not counted
	from, counted := 0, f.side
	if f.promises(at, n, 0, plain) {
		v, left = f.countPlain(at, n)
		from, counted = plain, f.one
	}
	if !v.sure && !f.plainKnown() && f.promises(at, n, plain, readings) {
		f.one.countMarks(f.data, at, n, from, readings, wordSizes, f.room)
		v = f.judge.weigh(f.one)
		counted = f.one
	}
	if v.sure && f.standsBetter(v, at, n) {
		v.sure = false
		f.one.countMarks(f.data, at, n, 0, plain, left, f.room)
	}
	if f.pooled == 0 {
		f.pool.clear()
	}
	f.pool.add(counted)
	f.pooled++
	f.pooledAt = append(f.pooledAt, Range{at, at + n})
	f.hopeful = f.hopeful || counted == f.one
	f.note(f.fine, v, f.one, Range{at, at + n})
	if f.pooled == poolWindows {
		f.finishPool()
	}
}

// plainKnown tells whether so many windows read in one way without mirrored bits that none will with them: a dump has all its
// bits mirrored or none.
func (f *finder) plainKnown() bool {
	for key, v := range f.fine {
		if v.windows >= checkedWindows && key.reading < plain {
			return true
		}
	}
	return false
}

// countPlain counts a window in the plain readings and judges it. In larger dumps families whose words have another size
// than those of the best are counted only if the glances leave them a chance, or if the window does not tell without them;
// left are the sizes that were not.
func (f *finder) countPlain(at, n int) (v verdict, left []int) {
	words, left := f.promisingWords(n)
	f.one.countMarks(f.data, at, n, 0, plain, words, f.room)
	if v = f.judge.weigh(f.one); !v.sure && len(left) > 0 {
		f.one.countMarks(f.data, at, n, 0, plain, left, f.room)
		v, left = f.judge.weigh(f.one), nil
	}
	return v, left
}

// clearWords is by how much the best family of the glances must exceed all of another size of word.
const clearWords = 3

// allBut are the sizes of words without one of them, in the order of wordSizes.
var allBut = [3][]int{{2, 4}, {1, 4}, {1, 2}}

// promisingWords returns the sizes of words that are to be counted at once, and the others.
func (f *finder) promisingWords(n int) (words, others []int) {
	if !f.glancesFirst(n) {
		return wordSizes, nil
	}
	var best [3]float64 // by size of word
	for family, score := range f.judge.best {
		size := families[family].word >> 1
		best[size] = max(best[size], score)
	}
	for size, score := range best {
		next := 0.0
		for _, word := range allBut[size] {
			next = max(next, best[word>>1])
		}
		if score >= clearWords*next {
			return wordSizes[size : size+1], allBut[size]
		}
	}
	return wordSizes, nil
}

// glancesFirst tells whether windows of n bytes are looked at in pieces first: not in small dumps.
func (f *finder) glancesFirst(n int) bool { return len(f.data) > fewWindows*window && n == window }

// promises tells whether a window is worth counting in readings from..to-1; in small dumps every one is. f.one holds the
// window's places, f.side what the glances saw in this call and, with from above 0, the one before.
func (f *finder) promises(at, n, from, to int) bool {
	if !f.glancesFirst(n) {
		return true
	}
	if from == 0 {
		f.side.clear()
		f.side.places = f.one.places
	}
	for look, least := range promising {
		for piece := look * window / glances; piece < window; piece += len(promising) * window / glances {
			f.side.countMarks(f.data, at+piece, glanced, from, to, wordSizes, f.room)
		}
		f.side.n = (look + 1) * glances * glanced / len(promising)
		score := f.judge.highest(f.side, from, to)
		if score < least {
			f.side.n = glances * glanced
			return false
		}
		if score >= twiceAsMuch*promising[len(promising)-1] {
			break // whatever the other half shows
		}
	}
	return true
}

// standsBetter tells whether the family's marks of a window are seen more clearly from the next odd offset on. Where the
// first bytes of instructions that follow each other are equal (4E5E 4E75 4E56), a dump that lost one byte looks like one
// with its bytes swapped; only the comparison shows it. The first windows of each claim are checked.
func (f *finder) standsBetter(v verdict, at, n int) bool {
	if x := f.fine[claim{v.family, v.reading}]; x != nil && x.windows >= checkedWindows {
		return false
	}
	if families[v.family].word == 1 && v.reading&3 == 0 {
		return false // bytes that follow each other do so at any offset
	}
	return f.clearer(v, []Range{{at, at + n}})
}

// clearer tells whether a verdict's family has a higher score over the same windows from an odd offset on.
func (f *finder) clearer(v verdict, where []Range) bool {
	from, to := 0, plain
	if v.reading >= plain {
		from, to = plain, readings
	}
	for _, shift := range []int{1, 3} {
		f.side.clear()
		for _, w := range where {
			data := f.data[w.Start+shift : min(len(f.data), w.End+shift)]
			f.side.countPlaces(data)
			f.side.countMarks(f.data[w.Start+shift:], 0, len(data), from, to, []int{families[v.family].word}, f.room)
		}
		if f.judge.scoreOf(f.side, v.family, from, to) > v.score {
			return true
		}
	}
	return false
}

// checkedWindows is how many windows of a claim are compared with the next odd offset.
const checkedWindows = 3

// finishPool judges the pooled windows together, which matters as long as no window alone has a vote.
func (f *finder) finishPool() {
	if f.pooled > 1 && f.hopeful && len(f.fine) == 0 {
		v := f.judge.weigh(f.pool)
		if v.sure && f.clearer(v, f.pooledAt) {
			v.sure = false
		}
		f.note(f.coarse, v, f.pool, Range{})
	}
	f.pooled, f.pooledAt, f.hopeful = 0, f.pooledAt[:0], false
}

// note enters a verdict that is sure.
func (f *finder) note(votes map[claim]*vote, v verdict, t *tally, where Range) {
	if !v.sure {
		return
	}
	key := claim{v.family, v.reading}
	b := book()
	from, to := b.first[v.family], b.first[v.family+1]
	x := votes[key]
	if x == nil {
		x = &vote{marks: make([]uint32, to-from), rival: make([]uint32, to-from), next: v.next}
		votes[key] = x
	}
	x.windows++
	x.best = max(x.best, v.score)
	x.total += v.score
	x.margin += v.margin
	for i := range x.marks {
		x.marks[i] += t.hits[v.reading][from+i]
		x.rival[i] += t.hits[x.next][from+i]
	}
	if where.End > 0 {
		x.where = append(x.where, where)
	}
}

// settled tells whether more windows would change nothing: many say the same and hardly any says otherwise.
func (f *finder) settled() bool {
	c := f.answer(0)
	return c.Sure == Certain && c.Windows >= 8
}

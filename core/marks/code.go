package marks

import (
	"lunette/core/arrange"
)

// A Range is a stretch of stored bytes, from Start to End-1.
type Range struct{ Start, End int }

// A Reading is a family together with the arrangement in which its CPU sees the image.
type Reading struct {
	Family string // ID
	Order  arrange.Arrangement
}

// A Code says whose code is in a dump and which way round it stands.
type Code struct {
	Reading           // Order is what must be done with the stored bytes to see them as the CPU addresses them
	Other   []Reading // the same marks read by a CPU of the other byte order: equally possible unless text decides
	Shift   int       // bytes to leave out at the start before Order reads right; 0 but for damaged dumps
	Sure    Sure
	Bits    float64 // evidence of the best window, in bits
	Seen    []Seen
	Where   []Range // stretches where the marks of the family stand close
	Rival   string  // ID of the family that comes next, "" when none does
}

// A Seen is one mark with what was counted.
type Seen struct {
	Mnemonic, Pattern string
	Count             int   // in this order
	RivalCount        int   // in the order that comes next
	First             []int // stored offsets of the first ones
}

const window = 4096 // bytes looked at in one piece

// FindCode tells whose code data holds and in which arrangement.
func FindCode(data []byte, progress func(done int)) Code {
	f := newFinder(data)
	f.run(progress)
	return f.answer()
}

// A vote is what the windows say for one family in one reading.
type vote struct {
	windows int
	score   float64
	where   []Range
}

type finder struct {
	data    []byte
	judge   *judge
	room    []byte
	one     *tally
	quarter *tally // of 16 KiB
	all     *tally
	fine    map[[2]int]*vote
	coarse  map[[2]int]*vote
	whole   verdict
}

func newFinder(data []byte) *finder {
	return &finder{data: data, judge: newJudge(), room: make([]byte, window+2*tail),
		one: newTally(), quarter: newTally(), all: newTally(),
		fine: map[[2]int]*vote{}, coarse: map[[2]int]*vote{}}
}

func (f *finder) run(progress func(int)) {
	for at := 0; at < len(f.data); at += window {
		n := min(window, len(f.data)-at)
		if n < 1024 && at > 0 {
			break
		}
		f.look(at, n)
		f.quarter.add(f.one)
		if (at/window)%4 == 3 || at+window >= len(f.data) {
			f.note(f.coarse, f.judge.weigh(f.quarter), at+n-f.quarter.n, f.quarter.n)
			f.all.add(f.quarter)
			f.quarter.clear()
		}
	}
	if f.quarter.n > 0 {
		f.all.add(f.quarter)
	}
	f.whole = f.judge.weigh(f.all)
}

func (f *finder) look(at, n int) {
	f.one.clear()
	f.one.countPlaces(f.data[at : at+n])
	f.one.countMarks(f.data, at, n, 0, plain, f.room)
	v := f.judge.weigh(f.one)
	if !v.sure {
		f.one.countMarks(f.data, at, n, plain, readings, f.room)
		v = f.judge.weigh(f.one)
	}
	f.note(f.fine, v, at, n)
}

func (f *finder) note(votes map[[2]int]*vote, v verdict, at, n int) {
	if !v.sure {
		return
	}
	key := [2]int{v.family, v.reading}
	if votes[key] == nil {
		votes[key] = &vote{}
	}
	votes[key].windows++
	votes[key].score = max(votes[key].score, v.score)
	votes[key].where = append(votes[key].where, Range{at, at + n})
}

func (f *finder) answer() Code {
	for _, votes := range []map[[2]int]*vote{f.fine, f.coarse} {
		var best [2]int
		most, others := 0, 0
		for key, v := range votes {
			if v.windows > most {
				best, most = key, v.windows
			}
		}
		for key, v := range votes {
			if key != best {
				others += v.windows
			}
		}
		if most > 0 {
			c := f.code(best[0], best[1])
			c.Sure = Strong
			if others*4 > most {
				c.Sure = Weak
			}
			c.Where = votes[best].where
			return c
		}
	}
	if f.whole.sure {
		c := f.code(f.whole.family, f.whole.reading)
		c.Sure = Strong
		return c
	}
	return Code{}
}

func (f *finder) code(family, reading int) Code {
	fam := &families[family]
	c := Code{Reading: Reading{fam.ID, orderOf(fam, reading, fam.endian == little)}}
	if fam.endian == either {
		c.Other = []Reading{{fam.ID, orderOf(fam, reading, true)}}
	}
	return c
}

// orderOf returns the arrangement in which a CPU of the family sees the image whose words read right in reading x. Words
// are read most significant byte first; a little-endian CPU has them the other way round in memory.
func orderOf(fam *Family, x int, littleEndian bool) arrange.Arrangement {
	if littleEndian {
		x ^= fam.word - 1
	}
	return arrangementOf[x]
}

package main

import (
	"fmt"
	"math/rand"
	"slices"

	"lunette/core/arrange"
	"lunette/core/marks"
	"lunette/core/relate"
)

const laneSize = 32 << 10

// A trial offers dumps to relate.Find, as a person has them open, among them the two lanes of one image.
type trial struct {
	of        *sample
	dumps     []relate.Named
	even, odd int // which of the dumps are the lanes; -1 when no two of the dumps belong together
}

// A lineup says what the two dumps that a trial is about are to each other.
type lineup string

const (
	partners  lineup = "the two lanes of one image"
	strangers lineup = "two lanes of different images of one CPU"
	ofFour    lineup = "two lanes of the four of one image"
)

// An outcome is what was said about a trial's lanes and about all other dumps, which belong to nothing.
type outcome struct {
	right, open, missed, wrong int // open: partners, but not which is which
	told                       []string
}

// lanes measures how often the two lanes of one image are found among others, how often lanes of different images are
// related, and what is said of a lane alone.
func (r *run) lanes() {
	byLabel := map[string][]*sample{}
	for i := range r.samples {
		if s := &r.samples[i]; s.family != "" && !s.whole && len(s.code) >= 2*laneSize {
			byLabel[s.label] = append(byLabel[s.label], s)
		}
	}
	var labels []string
	for label := range byLabel {
		labels = append(labels, label)
	}
	slices.Sort(labels)
	if len(labels) == 0 {
		return
	}
	rng := rand.New(rand.NewSource(r.seed + 5))
	each := max(3, r.count/25/len(labels))
	fmt.Printf("\n| two lanes of 32 KiB among 20 others | trials | right | partners, roles open | missed | wrong |\n|---|---|---|---|---|---|\n")
	all := outcome{}
	for _, label := range append(labels, "") {
		o := all
		if label != "" {
			o = r.try(each, func() trial { return newTrial(rng, byLabel, labels, label, 20, partners) })
			all.add(o)
		}
		name := label
		if label == "" {
			name = "**all**"
		}
		n := o.right + o.open + o.missed
		fmt.Printf("| %s | %d | %s %% | %s %% | %s %% | %d |\n", name, n, percent(o.right, n), percent(o.open, n), percent(o.missed, n), o.wrong)
	}
	r.wrong += all.wrong

	// What does not belong together, alone and among others: nothing may be said.
	fmt.Printf("\n| offered | trials | related |\n|---|---|---|\n")
	for _, what := range []lineup{strangers, ofFour} {
		for _, others := range []int{0, 2, 6} {
			o := outcome{}
			for _, label := range labels {
				o.add(r.try(each, func() trial { return newTrial(rng, byLabel, labels, label, others, what) }))
			}
			r.wrong += o.wrong
			fmt.Printf("| %s, and %d others | %d | %d |\n", what, others, each*len(labels), o.wrong)
		}
	}
	r.single(rng, byLabel, labels, each)
}

// newTrial takes two lanes that are so to each other, and as many others of any CPU.
func newTrial(rng *rand.Rand, byLabel map[string][]*sample, labels []string, label string, others int, what lineup) trial {
	take := func(label string, of int) (s *sample, lanes [][]byte) {
		for s = nil; s == nil || len(s.code) < of*laneSize; {
			s = byLabel[label][rng.Intn(len(byLabel[label]))]
			if of > 2 && longest(byLabel[label]) < of*laneSize {
				of = 2
			}
		}
		at := rng.Intn(len(s.code)-of*laneSize+1) &^ 3
		return s, arrange.Split(s.code[at:at+of*laneSize], of)
	}
	t := trial{}
	s, lanes := take(label, 2)
	switch what {
	case strangers:
		_, more := take(label, 2)
		lanes[1] = more[rng.Intn(2)]
	case ofFour:
		if s, lanes = take(label, 4); len(lanes) < 4 {
			return trial{of: s, even: -1, odd: -1}
		}
		order := rng.Perm(4)
		lanes = [][]byte{lanes[order[0]], lanes[order[1]]}
	}
	t.of = s
	for range others {
		decoy, more := take(labels[rng.Intn(len(labels))], 2)
		for decoy.name == s.name { // variants of one library hold the same code: another lane may belong as well
			decoy, more = take(labels[rng.Intn(len(labels))], 2)
		}
		lanes = append(lanes, more[rng.Intn(2)])
	}
	place := rng.Perm(len(lanes))
	t.dumps = make([]relate.Named, len(lanes))
	for i, lane := range lanes {
		t.dumps[place[i]] = relate.Named{Name: fmt.Sprintf("u%d.bin", place[i]), Bytes: lane}
	}
	if t.even, t.odd = place[0], place[1]; what != partners {
		t.even, t.odd = -1, -1
	}
	return t
}

func longest(samples []*sample) (most int) {
	for _, s := range samples {
		most = max(most, len(s.code))
	}
	return most
}

// try makes trials and adds up what came of them.
func (r *run) try(n int, next func() trial) (all outcome) {
	trials, outcomes := make([]trial, n), make([]outcome, n)
	for i := range trials {
		trials[i] = next()
	}
	inParallel(n, func(i int) { outcomes[i] = trials[i].outcome() })
	for _, o := range outcomes {
		all.add(o)
		for _, line := range o.told {
			if r.verbose {
				fmt.Println(line)
			}
		}
	}
	return all
}

func (o *outcome) add(other outcome) {
	o.right += other.right
	o.open += other.open
	o.missed += other.missed
	o.wrong += other.wrong
}

func (t *trial) outcome() (o outcome) {
	found := false
	for _, one := range relate.Find(t.dumps, nil) {
		pair := one.Kind == relate.Lanes && len(one.Dumps) == 2
		switch {
		case pair && slices.Equal(one.Dumps, []int{t.even, t.odd}) && !one.Open:
			o.right++
			found = true
		case pair && one.Open && slices.Contains(one.Dumps, t.even) && slices.Contains(one.Dumps, t.odd):
			o.open++
			found = true
		default:
			o.wrong++
			o.told = append(o.told, fmt.Sprintf("WRONG lanes %s %s, lanes %d %d: %s %v", t.of.label, t.of.name, t.even, t.odd, one.Sentence, one.Evidence))
		}
	}
	if !found && t.even >= 0 {
		o.missed++
		o.told = append(o.told, fmt.Sprintf("missed lanes %s %s", t.of.label, t.of.name))
	}
	return o
}

// single asks of one lane alone what it would be asked of a whole image.
func (r *run) single(rng *rand.Rand, byLabel map[string][]*sample, labels []string, each int) {
	var lanes [][]byte
	for _, label := range labels {
		for range each {
			t := newTrial(rng, byLabel, labels, label, 0, partners)
			lanes = append(lanes, t.dumps[0].Bytes, t.dumps[1].Bytes)
		}
	}
	codes := make([]marks.Code, len(lanes))
	inParallel(len(lanes), func(i int) { codes[i] = marks.FindCode(lanes[i], nil) })
	alone := score{}
	for _, c := range codes {
		switch c.Sure {
		case marks.CannotTell:
			alone.cannot++
		case marks.Weak:
			alone.weakWrong++
		default:
			alone.wrong++
			if r.verbose {
				fmt.Printf("WRONG single lane: %+v\n", c)
			}
		}
	}
	r.wrong += alone.wrong
	fmt.Printf("\n| one lane alone taken for a whole image | cannot tell | weak | confident |\n|---|---|---|---|\n| %d lanes | %d | %d | %d |\n",
		alone.all(), alone.cannot, alone.weakWrong, alone.wrong)
}

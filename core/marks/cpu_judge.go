package marks

import "math"

// background holds how likely each byte value and each hex digit is at each place of a word, as this window has them. Rows
// 0 to 3 are the four places of a long, 4 and 5 the two of a 16-bit word, 6 is for CPUs that fetch bytes. A mark counts
// only as far as it is more frequent than these chances explain.
type background [7][slots]float32

func (bg *background) set(t *tally) {
	var total [7]float32
	for row := range bg {
		bg[row] = [slots]float32{}
	}
	for place := range t.places {
		for v, k := range t.places[place] {
			if k == 0 {
				continue
			}
			f := float32(k)
			bg[place][v] += f
			bg[4+place&1][v] += f
			bg[6][v] += f
			total[place] += f
			total[4+place&1] += f
			total[6] += f
		}
	}
	for row := range bg {
		r := &bg[row]
		scale := 1 / (total[row] + 64)
		for v := range 256 {
			p := (r[v] + 0.25) * scale
			r[v] = p
			r[highDigits+v>>4] += p
			r[lowDigits+v&15] += p
		}
	}
}

// expected returns how often rule r would stand in n bytes of this background in reading x.
func (bg *background) expected(r *rule, n, x int) float64 {
	e := float64(n / r.word)
	if x >= plain {
		for _, p := range r.parts {
			e *= float64(bg[row(r.word, p.place, x-plain)][p.mirrored])
		}
		return e
	}
	for _, p := range r.parts {
		e *= float64(bg[row(r.word, p.place, x)][p.slot])
	}
	return e
}

func row(word, place, x int) int {
	switch word {
	case 4:
		return (place ^ x) & 3
	case 2:
		return 4 + (place^x)&1
	}
	return 6
}

const (
	surpriseFloor = 1.5 // nats: less than this is chance
	surpriseCap   = 8.0 // nats: so that a table which repeats one value cannot win
	duelCap       = 20.0
)

// surprise returns how surprising k hits are where e were expected, in nats (the exponent of the Poisson tail).
func surprise(k, e float64) float64 {
	if k <= e {
		return 0
	}
	s := k*math.Log(k/e) - k + e
	if s < surpriseFloor {
		return 0
	}
	return min(s, surpriseCap)
}

// A standing is the score of one family in one reading.
type standing struct {
	score, cover, largest float64
	kinds                 int
}

// A verdict is what the marks say about some bytes.
type verdict struct {
	family, reading int // of the best; -1 when nothing matched
	rival           int // the family that comes next, -1
	rivalScore      float64
	score, cover    float64 // nats; share of the bytes that its marks explain without the most frequent one
	kinds           int
	margin          float64 // duel against the nearest other reading
	next            int     // that reading
	sure            bool
}

type judge struct {
	bg     background
	scores [readings][]standing
	best   []float64 // of each family, over the readings
}

func newJudge() *judge {
	j := &judge{best: make([]float64, len(families))}
	for x := range j.scores {
		j.scores[x] = make([]standing, len(families))
	}
	return j
}

// scoreOf returns the best score of a family in the readings from..to-1.
func (j *judge) scoreOf(t *tally, family, from, to int) (best float64) {
	b := book()
	j.bg.set(t)
	for x := from; x < to; x++ {
		score := 0.0
		for _, n := range t.touched[x] {
			if r := &b.rules[n]; r.family == family {
				score += surprise(float64(t.hits[x][n]), j.bg.expected(r, t.n, x))
			}
		}
		best = max(best, score)
	}
	return best
}

// score sets the standing of every family in every reading, and the best of each family.
func (j *judge) score(t *tally) {
	b := book()
	j.bg.set(t)
	clear(j.best)
	for x := range j.scores {
		clear(j.scores[x])
		for _, n := range t.touched[x] {
			r := &b.rules[n]
			k := float64(t.hits[x][n])
			e := j.bg.expected(r, t.n, x)
			s := surprise(k, e)
			if s == 0 {
				continue
			}
			st := &j.scores[x][r.family]
			st.score += s
			st.kinds++
			c := (k - e) * float64(r.fixedBits) / 8 / float64(t.n)
			st.cover += c
			st.largest = max(st.largest, c)
		}
		for f := range families {
			j.best[f] = max(j.best[f], j.scores[x][f].score)
		}
	}
}

// highest returns the score of the best family in the readings from..to-1, in nats.
func (j *judge) highest(t *tally, from, to int) (best float64) {
	j.score(t)
	for x := from; x < to; x++ {
		for _, s := range j.scores[x] {
			best = max(best, s.score)
		}
	}
	return best
}

// weigh judges a tally.
func (j *judge) weigh(t *tally) verdict {
	j.score(t)
	v := verdict{family: -1, reading: -1, rival: -1}
	for f, s := range j.best {
		if s > 0 && (v.family < 0 || s > j.best[v.family]) {
			v.family = f
		}
	}
	if v.family < 0 {
		return v
	}
	for f, s := range j.best {
		if f != v.family && !kin(f, v.family) && s > 0 && (v.rival < 0 || s > j.best[v.rival]) {
			v.rival, v.rivalScore = f, s
		}
	}
	v.reading, v.next, v.margin = j.duels(book(), t, v.family)
	st := j.scores[v.reading][v.family]
	v.score, v.cover, v.kinds = st.score, st.cover-st.largest, st.kinds
	v.sure = v.passes(t.n) && (families[v.family].word == 1 || t.parity() >= leastParity)
	return v
}

func kin(f, g int) bool { return families[f].kin != "" && families[f].kin == families[g].kin }

// needed returns the score that n bytes must reach, in nats: more for more bytes, as structure in tables adds up too.
func needed(n int) float64 {
	switch {
	case n < window:
		return 48
	case n == window:
		return 70
	case n <= poolWindows*window:
		return 100
	}
	return 160
}

const (
	mirroredNeeds = 1.25 // mirrored bits are rare: ask that much more
	rivalRatio    = 1.5  // times the best other family
	leastKinds    = 6    // different marks
	leastCover    = 0.01 // share of the window explained without the most frequent mark
	leastMargin   = 25   // nats, duel against every other reading
	leastParity   = 0.4  // code with words is 0.6 at least, one lane of 16-bit words 0.2 at most
)

func (v *verdict) passes(n int) bool {
	need, cover := needed(n), leastCover
	if v.reading >= plain {
		need *= mirroredNeeds
	}
	if n > window {
		cover *= 2
	}
	return v.score >= need && v.score >= rivalRatio*v.rivalScore && v.kinds >= leastKinds && v.cover >= cover &&
		v.margin >= leastMargin
}

// duels lets every reading meet every other over the family's marks; the one whose worst duel is best wins, by that much.
func (j *judge) duels(b *rulebook, t *tally, family int) (winner, next int, margin float64) {
	margin = math.Inf(-1)
	count := plain
	if t.deep {
		count = readings
	}
	var worst [readings]float64
	var hardest [readings]int
	e := make([][readings]float64, b.first[family+1]-b.first[family])
	for i := range e {
		for x := range count {
			if t.hits[x][b.first[family]+i] > 0 {
				e[i] = j.allExpected(&b.rules[b.first[family]+i], t.n)
				break
			}
		}
	}
	for x := range count {
		worst[x] = math.Inf(1)
	}
	for x := range count {
		for y := range x {
			d := 0.0
			for n := b.first[family]; n < b.first[family+1]; n++ {
				kx, ky := float64(t.hits[x][n]), float64(t.hits[y][n])
				if kx == ky {
					continue
				}
				term := duel(kx, ky, e[n-b.first[family]][x], e[n-b.first[family]][y])
				switch { // max and min of floats are calls in wasm
				case term > duelCap:
					d += duelCap
				case term < -duelCap:
					d -= duelCap
				default:
					d += term
				}
			}
			if d < worst[x] {
				worst[x], hardest[x] = d, y
			}
			if -d < worst[y] {
				worst[y], hardest[y] = -d, x
			}
		}
	}
	for x := range count {
		if worst[x] > margin {
			winner, margin = x, worst[x]
		}
	}
	return winner, hardest[winner], margin
}

func (j *judge) allExpected(r *rule, n int) (e [readings]float64) {
	for x := range e {
		e[x] = j.bg.expected(r, n, x)
	}
	return e
}

// duelFloor is how many hits the loser of a duel is granted although it has none.
var duelFloor = 0.03

// duel returns how much kx hits in one reading against ky in another speak for the first, in nats.
func duel(kx, ky, ex, ey float64) float64 {
	if kx < ky {
		return -duel(ky, kx, ey, ex)
	}
	m := max(ex, ey, ky+duelFloor)
	if kx <= m {
		return 0
	}
	return kx*math.Log(kx/m) - kx + m
}

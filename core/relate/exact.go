package relate

import (
	"bytes"
	"slices"

	"lunette/core/arrange"
	"lunette/core/marks"
	"lunette/core/words"
)

// findSame takes one dump of each content that holds enough to be related, and tells which dumps are the same.
func (s *search) findSame() {
	type key struct {
		size int
		fold uint64
	}
	alike := map[key][]*sample{}
	equals := map[*sample][]int{}
	for done, i := range s.inOrder {
		s.progress(0.2 * float64(done) / float64(len(s.inOrder)))
		data := s.dumps[i].Bytes
		bits := information(data)
		if bits < leastBits {
			continue
		}
		k := key{len(data), foldOf(data, 0, 1)}
		same := slices.IndexFunc(alike[k], func(other *sample) bool { return bytes.Equal(other.data, data) })
		if same >= 0 {
			first := alike[k][same]
			equals[first] = append(equals[first], i)
			continue
		}
		one := &sample{index: i, name: s.dumps[i].Name, data: data, bits: bits, fold: k.fold, class: len(s.kept),
			number: len(s.kept), once: once(data)}
		if len(alike[k]) > 0 {
			one.class = alike[k][0].class // to be confirmed by findRearranged
		}
		alike[k] = append(alike[k], one)
		s.kept = append(s.kept, one)
	}
	for _, first := range s.kept {
		others := equals[first]
		if len(others) == 0 {
			continue
		}
		names := []string{first.name}
		for _, i := range others {
			names = append(names, s.dumps[i].Name)
		}
		s.add(Relation{Kind: Same, Dumps: append([]int{first.index}, others...), Sure: marks.Certain, Bits: first.bits,
			Sentence: words.Fill("{} hold the same bytes.", words.List(names)),
			Evidence: []string{words.Fill("all {} bytes are equal", words.Count(len(first.data)))}})
	}
}

// once returns the length of the image that data repeats a power of two times.
func once(data []byte) int {
	for len(data) >= 2*leastImage && len(data)%8 == 0 {
		half := len(data) / 2
		if !bytes.Equal(data[:half], data[half:]) {
			break
		}
		data = data[:half]
	}
	return len(data)
}

// leastImage is the smallest image, in bytes, that is looked for inside a dump.
const leastImage = 64

// findRearranged tells which contents are others in another order. Those that are make one class.
func (s *search) findRearranged() {
	first := map[int]*sample{}
	for i, b := range s.kept {
		a := first[b.class]
		if a == nil {
			first[b.class] = b
			continue
		}
		order, _, ok := orderOf(arrange.Stored, a.data, b.data)
		if !ok {
			b.class = i
			first[i] = b
			continue
		}
		s.add(Relation{Kind: Rearranged, Dumps: []int{b.index, a.index}, Sure: marks.Certain, Bits: min(a.bits, b.bits),
			Sentence: words.Fill("{} is {} with {}.", b.name, a.name, order.String()),
			Evidence: []string{words.Fill("as stored {} of {} bytes are equal, with {} all are",
				words.Count(equalBytes(a.data, b.data)), words.Count(len(a.data)), order.String())},
			Recipe: Recipe{Join: Alone, Dumps: []int{a.index}, Arrangement: order, Name: newName(order.ID(), a.name)}})
	}
}

func equalBytes(a, b []byte) (equal int) {
	for i := range min(len(a), len(b)) {
		if a[i] == b[i] {
			equal++
		}
	}
	return equal
}

// findCopies tells which dumps are one image written several times, and which of the others is that image.
func (s *search) findCopies() {
	for _, a := range s.kept {
		if a.once == len(a.data) {
			continue
		}
		image := a.data[:a.once]
		r := Relation{Kind: Doubled, Dumps: []int{a.index}, Sure: marks.Certain, Bits: information(image),
			Sentence: words.Fill("{} holds the same {} {} times.", a.name, words.Size(a.once), words.Count(len(a.data)/a.once)),
			Recipe:   Recipe{Join: Alone, Dumps: []int{a.index}, To: a.once, Name: newName("once", a.name)}}
		if r.Bits < leastBits {
			continue
		}
		r.Evidence = []string{words.Fill("bytes {} to {} come again exactly up to the end", words.Address(0), words.Address(a.once-1))}
		if b, order, ok := s.holding(image); ok {
			r.Dumps = append(r.Dumps, b.index)
			r.Recipe.Arrangement = order
			r.Sentence = words.Fill("{} is {} written {} times{}.", a.name, b.name, words.Count(len(a.data)/a.once), with(order))
		}
		s.add(r)
	}
}

// holding returns the sample that holds image in the simplest order; order makes the sample's bytes of image.
func (s *search) holding(image []byte) (b *sample, order arrange.Arrangement, ok bool) {
	fold, best := foldOf(image, 0, 1), 0
	for _, one := range s.kept {
		if len(one.data) != len(image) || one.fold != fold {
			continue
		}
		if o, rank, fits := orderOf(arrange.Stored, image, one.data); fits && (!ok || rank < best) {
			b, order, ok, best = one, o, true, rank
		}
	}
	return b, order, ok
}

// with returns ", with bytes swapped..." for an order that is not as stored.
func with(order arrange.Arrangement) string {
	if order == arrange.Stored {
		return ""
	}
	return ", with " + order.String()
}

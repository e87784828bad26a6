package relate_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/marks"
	"lunette/core/relate"
)

// Blank dumps, constant ones, ramps and small tables match each other trivially, and nothing is said of them.
func TestNothingIsSaidOfDumpsThatHoldNothing(t *testing.T) {
	const size = 32 << 10
	fill := func(unit ...byte) []byte { return slices.Repeat(unit, size/len(unit)) }
	ramp := make([]byte, size)
	for i := range ramp {
		ramp[i] = byte(i / 2 >> (8 * (1 - i%2))) // 16-bit numbers, high byte first
	}
	var dumps []relate.Named
	for name, data := range map[string][]byte{
		"empty": nil, "one byte": {1}, "FF": fill(0xFF), "00": fill(0), "AA 55": fill(0xAA, 0x55), "55 AA": fill(0x55, 0xAA),
		"00 FF": fill(0, 0xFF), "ramp": ramp, "swapped ramp": arrange.Swapped.Apply(ramp), "lane of the ramp": arrange.Lane(1, 2).Apply(ramp),
		"a few bytes": fill(0x4E, 0x56, 0xFF, 0xF8), "half FF": fill(0xFF)[:size/2], "quarter 00": fill(0)[:size/4],
	} {
		dumps = append(dumps, relate.Named{Name: name, Bytes: data}, relate.Named{Name: "same " + name, Bytes: data})
	}
	require.Empty(t, relate.Find(dumps, nil))
	require.Empty(t, relate.Find(nil, nil))
}

// What belongs together is said only of all its parts: lanes of different images, one half of one and one of another,
// two versions of which the sums do not tell which lane goes with which.
func TestPartsOfDifferentImagesAreNotJoined(t *testing.T) {
	cpu, _ := u41(t)
	n := len(cpu)
	t.Run("one lane without its partner", func(t *testing.T) {
		for i := range 2 {
			require.Empty(t, relate.Find(append(others(n/2), relate.Named{Name: "a", Bytes: arrange.Lane(i, 2).Apply(cpu)}), nil))
		}
	})
	t.Run("three lanes of four", func(t *testing.T) {
		dumps := others(n / 4)
		for i := range 3 {
			dumps = append(dumps, relate.Named{Name: fmt.Sprint(i), Bytes: arrange.Lane(i, 4).Apply(cpu)})
		}
		require.Empty(t, relate.Find(dumps, nil))
	})
	t.Run("lanes of two halves", func(t *testing.T) {
		require.Empty(t, relate.Find([]relate.Named{{Name: "a", Bytes: arrange.Lane(0, 2).Apply(cpu[:n/2])},
			{Name: "b", Bytes: arrange.Lane(1, 2).Apply(cpu[n/2:])}}, nil))
	})
	t.Run("halves with a changed byte", func(t *testing.T) {
		changed := slices.Clone(cpu)
		changed[n/4]++
		require.Empty(t, relate.Find([]relate.Named{{Name: "a", Bytes: changed[:n/2]}, {Name: "b", Bytes: changed[n/2:]}}, nil))
	})
	t.Run("a half with one byte changed is no half", func(t *testing.T) {
		changed := slices.Clone(cpu[:n/2])
		changed[0]++
		require.Empty(t, relate.Find([]relate.Named{{Name: "a", Bytes: cpu}, {Name: "b", Bytes: changed}}, nil))
	})
}

// Of two versions of one image the sums tell which lanes go together; without a sum nobody could.
func TestTwoVersionsAreToldApartByTheirSums(t *testing.T) {
	cpu, _ := u41(t)
	// In the second version two bytes of the base part differ, one in each lane, so that its closing sum is wrong.
	second := slices.Clone(cpu)
	second[0x500] ^= 0x10
	second[0x601] ^= 0x04
	dumps := []relate.Named{{Name: "a-even", Bytes: arrange.Lane(0, 2).Apply(cpu)}, {Name: "a-odd", Bytes: arrange.Lane(1, 2).Apply(cpu)},
		{Name: "b-even", Bytes: arrange.Lane(0, 2).Apply(second)}, {Name: "b-odd", Bytes: arrange.Lane(1, 2).Apply(second)}}
	relations := relate.Find(dumps, nil)
	require.Len(t, relations, 3)
	require.Equal(t, relate.Lanes, relations[0].Kind)
	require.Equal(t, []int{0, 1}, relations[0].Dumps)
	require.Equal(t, cpu, made(t, relations[0], dumps))
	require.Equal(t, relate.NearlySame, relations[1].Kind)
	require.Equal(t, []int{0, 2}, relations[1].Dumps)
	require.Equal(t, []int{1, 3}, relations[2].Dumps)
}

// Reads of one chip that differ in a few bytes are said to be nearly the same, with how many; more than one byte in 256 is
// something else.
func TestNearlyTheSame(t *testing.T) {
	cpu, _ := u41(t)
	changed := func(bytes int) []byte {
		image := slices.Clone(cpu)
		for i := range bytes {
			image[i*1021%len(image)] ^= 1
		}
		return image
	}
	dumps := []relate.Named{{Name: "a", Bytes: cpu}, {Name: "b", Bytes: changed(1)}, {Name: "c", Bytes: changed(40)},
		{Name: "d", Bytes: changed(len(cpu)/256 + 1)}}
	r := only(t, dumps)
	require.Equal(t, relate.NearlySame, r.Kind)
	require.Equal(t, []int{0, 1, 2}, r.Dumps)
	require.Contains(t, r.Sentence, "a, b and c are nearly the same: they differ in 1 to 40 bytes of 524,288")
	require.Equal(t, []string{"b differs from a in 1 of 524,288 bytes", "c differs from a in 40 of 524,288 bytes"}, r.Evidence)
	differ, ok := relate.Nearly(cpu, changed(len(cpu)/256))
	require.True(t, ok)
	require.Equal(t, len(cpu)/256, differ)
	_, ok = relate.Nearly(cpu, cpu[1:])
	require.False(t, ok)
}

// Noise of many kinds, 5,000 pairs of dumps of one size: nothing is claimed.
func TestNoiseIsRelatedToNothing(t *testing.T) {
	for round := range 25 {
		var dumps []relate.Named
		size := []int{256, 1024, 2048, 8192, 16384}[round%5]
		for i := range 21 {
			data := noise(uint64(round*100+i), size)
			for k := range data {
				data[k] &= byte(0xFF >> (i % 5))
				if k/256%4 == i%7 {
					data[k] = 0xFF
				}
			}
			dumps = append(dumps, relate.Named{Name: fmt.Sprint(i), Bytes: data})
		}
		require.Empty(t, relate.Find(dumps, nil))
	}
}

// A list in another order gives the same relations between the same dumps.
func TestTheOrderOfTheListMakesNoDifference(t *testing.T) {
	cpu, stored := u41(t)
	n := len(cpu)
	dumps := append(others(n/2),
		relate.Named{Name: "cpu", Bytes: cpu}, relate.Named{Name: "stored", Bytes: stored}, relate.Named{Name: "again", Bytes: stored},
		relate.Named{Name: "twice", Bytes: slices.Repeat(cpu, 2)},
		relate.Named{Name: "half", Bytes: cpu[:n/2]}, relate.Named{Name: "lane", Bytes: arrange.Lane(1, 2).Apply(stored)},
		relate.Named{Name: "quarter", Bytes: stored[:n/4]}, relate.Named{Name: "u7", Bytes: arrange.Lane(0, 2).Apply(stored[:n/2])},
		relate.Named{Name: "u8", Bytes: arrange.Lane(1, 2).Apply(stored[:n/2])})
	told := func(dumps []relate.Named) (all []string) {
		for _, r := range relate.Find(dumps, nil) {
			names := []string{string(r.Kind), r.Sentence, r.Sure.String(), r.Chance, r.Recipe.Name}
			for _, i := range append(slices.Clone(r.Dumps), r.Recipe.Dumps...) {
				names = append(names, dumps[i].Name)
			}
			if r.Recipe.Already >= 0 {
				names = append(names, dumps[r.Recipe.Already].Name)
			}
			all = append(all, fmt.Sprint(names, r.Evidence))
		}
		return all
	}
	want := told(dumps)
	require.Greater(t, len(want), 5)
	for round := range uint64(4) {
		rand.New(rand.NewPCG(round, 2)).Shuffle(len(dumps), func(i, j int) { dumps[i], dumps[j] = dumps[j], dumps[i] })
		require.Equal(t, want, told(dumps))
	}
}

func TestProgressRisesToOne(t *testing.T) {
	cpu, _ := u41(t)
	last := 0.0
	relate.Find(append(others(len(cpu)/2), relate.Named{Name: "a", Bytes: arrange.Lane(0, 2).Apply(cpu)},
		relate.Named{Name: "b", Bytes: arrange.Lane(1, 2).Apply(cpu)}), func(share float64) {
		require.GreaterOrEqual(t, share, last)
		require.LessOrEqual(t, share, 1.0)
		last = share
	})
	require.Equal(t, 1.0, last)
}

func TestRecipesRefuseOtherDumps(t *testing.T) {
	three := [][]byte{{1, 2, 3, 4}, {5, 6, 7, 8}, {9}}
	for message, r := range map[string]relate.Recipe{
		"there is nothing to make of these dumps":                                     {},
		"the recipe asks for dump 3 and 3 are given; give all that were related":      {Join: relate.Alone, Dumps: []int{3}},
		"the recipe keeps bytes 0 to 9 of 8; the dumps are not those it was made for": {Join: relate.InSequence, Dumps: []int{0, 1}, To: 9},
		"lane 1 has 1 byte, lane 0 has 4 bytes; take lanes of equal size":             {Join: relate.Interleave, Dumps: []int{0, 2}},
		"the recipe asks for dump -1 and 3 are given; give all that were related":     {Join: relate.InSequence, Dumps: []int{0, -1}},
		"the recipe keeps bytes 3 to 2 of 4; the dumps are not those it was made for": {Join: relate.Alone, Dumps: []int{0}, From: 3, To: 2},
	} {
		_, err := r.Make(three)
		require.EqualError(t, err, message)
	}
	made, err := relate.Recipe{Join: relate.InSequence, Dumps: []int{1, 0}, From: 2, To: 6, Arrangement: arrange.Swapped}.Make(three)
	require.NoError(t, err)
	require.Equal(t, []byte{8, 7, 2, 1}, made)
	require.Equal(t, []byte{1, 2, 3, 4}, three[0])
}

// What goes to the page is named as the page's other results are.
func TestRelationsAsJSON(t *testing.T) {
	cpu, stored := u41(t)
	relations := relate.Find([]relate.Named{{Name: "a.bin", Bytes: cpu}, {Name: "b.bin", Bytes: stored}}, nil)
	require.Len(t, relations, 1)
	require.Equal(t, marks.Certain, relations[0].Sure)
	written, err := json.Marshal(relations)
	require.NoError(t, err)
	require.Contains(t, string(written), `"recipe":{"join":"alone","dumps":[0],"from":0,"to":0,"arrangement":"swap16","name":"a.swap16.bin","already":1}`)
}

// Whatever the dumps are: no panic, no relation to a dump that is not there, and every recipe makes something or says why
// it cannot.
func FuzzFind(f *testing.F) {
	cpu, _ := u41(f)
	f.Add(cpu[:2048], byte(0), 3)
	f.Add(cpu[0x400:0x1400], byte(7), 2)
	f.Add([]byte("0123456789ABCDEF0123456789ABCDEF"), byte(1), 5)
	f.Add(noise(1, 1023), byte(3), 1)
	f.Fuzz(func(t *testing.T, data []byte, how byte, cut int) {
		data = data[:min(len(data), 8192)]
		cut = min(max(cut, 0), len(data))
		order := arrange.Orders()[how&7]
		dumps := []relate.Named{{Name: "a", Bytes: data}, {Name: "b.bin", Bytes: order.Apply(data)}, {Name: "", Bytes: data[cut:]},
			{Name: "d/e.x", Bytes: arrange.Lane(int(how>>3&1), 2).Apply(data)}, {Name: "f", Bytes: data[:len(data)-cut]},
			{Name: "g", Bytes: slices.Concat(data, data)}, {Name: "h", Bytes: order.Apply(arrange.Lane(int(how>>4&3), 4).Apply(data))}}
		for _, r := range relate.Find(dumps, nil) {
			require.NotEmpty(t, r.Sentence)
			require.NotEmpty(t, r.Evidence)
			for _, i := range r.Dumps {
				require.Less(t, i, len(dumps))
			}
			made, err := r.Recipe.Make(contents(dumps))
			if r.Kind == relate.Same {
				require.Error(t, err)
				continue
			}
			require.NoError(t, err)
			if r.Recipe.Already >= 0 {
				require.Equal(t, dumps[r.Recipe.Already].Bytes, made)
			}
		}
	})
}

func BenchmarkFindAmongTwenty(b *testing.B) {
	cpu, _ := u41(b)
	var dumps []relate.Named
	for i := range 20 {
		data := slices.Clone(cpu)
		for k := i; k < len(data); k += 97 + i {
			data[k] ^= byte(i)
		}
		dumps = append(dumps, relate.Named{Name: fmt.Sprint(i), Bytes: data})
	}
	b.SetBytes(int64(20 * len(cpu)))
	for b.Loop() {
		relate.Find(dumps, nil)
	}
}

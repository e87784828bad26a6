package relate_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/marks"
	"lunette/core/outside"
	"lunette/core/relate"
)

// u41 is the demo ROM as the CPU sees it, and as the reader stored it: testdata/halden.
func u41(t testing.TB) (cpu, stored []byte) {
	t.Helper()
	stored, err := os.ReadFile("../../testdata/halden/u41.bin")
	require.NoError(t, err)
	return arrange.Swapped.Apply(stored), stored
}

// lane returns one byte lane of image as objcopy (binutils) deals it.
func lane(t testing.TB, image []byte, i, of int) []byte {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in"), filepath.Join(dir, "out")
	outside.Tool(t, "objcopy")
	require.NoError(t, os.WriteFile(in, image, 0o600))
	outside.Run(t, "objcopy", nil, "-I", "binary", "-O", "binary", "--interleave="+strconv.Itoa(of), "--byte="+strconv.Itoa(i), in, out)
	dealt, err := os.ReadFile(out)
	require.NoError(t, err)
	return dealt
}

// noise returns bytes that nothing is related to, from a seed.
func noise(seed uint64, size int) []byte {
	r := rand.New(rand.NewPCG(seed, 1))
	data := make([]byte, size)
	for i := range data {
		data[i] = byte(r.Uint32())
	}
	return data
}

// others returns ten dumps of the given size that are unrelated to each other and to all else: noise, noise of few values,
// noise with blanks, blank ones and ramps.
func others(size int) (dumps []relate.Named) {
	for i := range 10 {
		data := noise(uint64(100+i), size)
		for k := range data {
			switch {
			case i == 3:
				data[k] = 0xFF
			case i == 4:
				data[k] = 0
			case i == 5:
				data[k] = byte(k)
			case i == 6:
				data[k] &= 0x21
			case i > 6 && k/1024%i != 0:
				data[k] = 0xFF
			}
		}
		dumps = append(dumps, relate.Named{Name: fmt.Sprintf("other%d.bin", i), Bytes: data})
	}
	return dumps
}

func contents(dumps []relate.Named) (all [][]byte) {
	for _, d := range dumps {
		all = append(all, d.Bytes)
	}
	return all
}

// only returns the one relation between dumps, and requires that there is no other.
func only(t testing.TB, dumps []relate.Named) relate.Relation {
	t.Helper()
	relations := relate.Find(dumps, nil)
	for _, r := range relations {
		t.Log(r.Sentence, r.Sure, r.Chance, r.Evidence)
	}
	require.Len(t, relations, 1)
	return relations[0]
}

func made(t testing.TB, r relate.Relation, dumps []relate.Named) []byte {
	t.Helper()
	image, err := r.Recipe.Make(contents(dumps))
	require.NoError(t, err)
	return image
}

func TestLanesOfAnImageThatIsNotOpen(t *testing.T) {
	cpu, stored := u41(t)
	for _, test := range []struct {
		name  string
		image []byte
		of    int
		order []int // in which the lanes make the CPU's image
	}{
		{"two lanes of the CPU's image", cpu, 2, []int{0, 1}},
		{"two lanes of the image as stored", stored, 2, []int{1, 0}},
		{"four lanes of the CPU's image", cpu, 4, []int{0, 1, 2, 3}},
		{"four lanes of the image as stored", stored, 4, []int{1, 0, 3, 2}},
	} {
		t.Run(test.name, func(t *testing.T) {
			dumps := others(len(cpu) / test.of)
			lanes := []int{}
			for i := range test.of {
				lanes = append(lanes, len(dumps))
				dumps = append(dumps, relate.Named{Name: fmt.Sprintf("u%d.bin", 7+i), Bytes: lane(t, test.image, i, test.of)})
			}
			r := only(t, dumps)
			require.Equal(t, relate.Lanes, r.Kind)
			require.Equal(t, marks.Certain, r.Sure)
			for k, i := range test.order {
				require.Equal(t, lanes[i], r.Dumps[k])
			}
			require.Equal(t, cpu, made(t, r, dumps))
			require.Equal(t, -1, r.Recipe.Already)
		})
	}
}

func TestHalvesOfAnImageThatIsNotOpen(t *testing.T) {
	cpu, stored := u41(t)
	for name, image := range map[string][]byte{"CPU's": cpu, "as stored": stored} {
		t.Run(name, func(t *testing.T) {
			half := len(image) / 2
			dumps := append(others(half), relate.Named{Name: "b.bin", Bytes: image[:half]}, relate.Named{Name: "a.bin", Bytes: image[half:]})
			r := only(t, dumps)
			require.Equal(t, relate.Halves, r.Kind)
			require.Equal(t, []int{10, 11}, r.Dumps)
			require.Equal(t, image, made(t, r, dumps))
		})
	}
}

func TestTheSameInAnotherOrder(t *testing.T) {
	cpu, _ := u41(t)
	for _, order := range arrange.Orders() {
		t.Run(order.ID(), func(t *testing.T) {
			dumps := append(others(len(cpu)), relate.Named{Name: "a.bin", Bytes: cpu}, relate.Named{Name: "b.bin", Bytes: order.Apply(cpu)})
			r := only(t, dumps)
			if order == arrange.Stored {
				require.Equal(t, relate.Same, r.Kind)
				return
			}
			require.Equal(t, relate.Rearranged, r.Kind)
			require.Equal(t, order, r.Recipe.Arrangement)
			require.Equal(t, dumps[r.Dumps[0]].Bytes, made(t, r, dumps))
			require.Equal(t, r.Dumps[0], r.Recipe.Already)
		})
	}
}

func TestOneLaneOfAnOpenDump(t *testing.T) {
	cpu, _ := u41(t)
	for _, of := range []int{2, 4} {
		for i := range of {
			dealt := lane(t, cpu, i, of)
			for _, order := range arrange.Orders() {
				t.Run(fmt.Sprint(i, of, order.ID()), func(t *testing.T) {
					b := order.Apply(dealt)
					dumps := append(others(len(b))[:2+i], relate.Named{Name: "u41.bin", Bytes: cpu}, relate.Named{Name: "lane.bin", Bytes: b})
					r := only(t, dumps)
					require.Equal(t, relate.LaneOf, r.Kind)
					require.Equal(t, []int{3 + i, 2 + i}, r.Dumps)
					require.Equal(t, b, made(t, r, dumps))
				})
			}
		}
	}
}

func TestLanesOfAnOpenDump(t *testing.T) {
	cpu, _ := u41(t)
	for _, of := range []int{2, 4} {
		dumps := append(others(len(cpu)/of), relate.Named{Name: "u41.bin", Bytes: cpu})
		for i := range of {
			dumps = append(dumps, relate.Named{Name: fmt.Sprintf("u%d.bin", 7+i), Bytes: lane(t, cpu, i, of)})
		}
		r := only(t, dumps)
		require.Equal(t, relate.Lanes, r.Kind)
		require.Equal(t, cpu, made(t, r, dumps))
		require.Equal(t, 10, r.Recipe.Already)
	}
}

func TestPartsOfAnOpenDump(t *testing.T) {
	cpu, stored := u41(t)
	n := len(cpu)
	fill := func(size int, b byte) []byte { return slices.Repeat([]byte{b}, size) }
	for _, test := range []struct {
		name     string
		kind     relate.Kind
		whole, b []byte
		sentence string
	}{
		{"first half", relate.Half, cpu, cpu[:n/2], "b.bin is the first half of whole.bin."},
		{"second half", relate.Half, cpu, cpu[n/2:], "b.bin is the second half of whole.bin."},
		{"second half swapped", relate.Half, cpu, stored[n/2:], "b.bin is the second half of whole.bin, with bytes swapped in 16-bit words."},
		{"third quarter", relate.Quarter, cpu, cpu[n/2 : n*3/4], "b.bin is the third quarter of whole.bin."},
		{"twice", relate.Doubled, slices.Repeat(cpu, 2), cpu, "whole.bin is b.bin written 2 times."},
		{"four times, swapped", relate.Doubled, slices.Repeat(cpu, 4), stored,
			"whole.bin is b.bin written 4 times, with bytes swapped in 16-bit words."},
		{"FF after", relate.Padded, slices.Concat(cpu, fill(n, 0xFF)), cpu, "whole.bin is b.bin with 512 KiB of FF after it."},
		{"00 before", relate.Padded, slices.Concat(fill(n, 0), cpu), cpu, "whole.bin is b.bin with 512 KiB of 00 before it."},
	} {
		t.Run(test.name, func(t *testing.T) {
			dumps := append(others(len(test.b)), relate.Named{Name: "whole.bin", Bytes: test.whole}, relate.Named{Name: "b.bin", Bytes: test.b})
			r := only(t, dumps)
			require.Equal(t, test.kind, r.Kind)
			require.Equal(t, test.sentence, r.Sentence)
			require.Equal(t, test.b, made(t, r, dumps))
			require.Equal(t, 11, r.Recipe.Already)
		})
	}
}

func TestBothHalvesOfAnOpenDump(t *testing.T) {
	cpu, _ := u41(t)
	n := len(cpu)
	dumps := append(others(n/2), relate.Named{Name: "b.bin", Bytes: cpu[n/2:]}, relate.Named{Name: "a.bin", Bytes: cpu[:n/2]},
		relate.Named{Name: "u41.bin", Bytes: cpu})
	r := only(t, dumps)
	require.Equal(t, relate.Halves, r.Kind)
	require.Equal(t, []int{11, 10}, r.Dumps)
	require.Equal(t, cpu, made(t, r, dumps))
	require.Equal(t, 12, r.Recipe.Already)
}

func TestOneDumpThatIsDoubled(t *testing.T) {
	cpu, _ := u41(t)
	dumps := []relate.Named{{Name: "u41.bin", Bytes: slices.Repeat(cpu, 2)}}
	r := only(t, dumps)
	require.Equal(t, "u41.bin holds the same 512 KiB 2 times.", r.Sentence)
	require.Equal(t, cpu, made(t, r, dumps))
	require.Equal(t, "u41.once.bin", r.Recipe.Name)
}

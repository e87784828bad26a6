package arrange

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/outside"
)

// plainGroups is the table of the package comment, spelled out for a group of every length: which byte of the group
// stands where, by exchange and by the number of bytes there are.
var plainGroups = [4][5]string{
	0: {"", "0", "01", "012", "0123"},
	1: {"", "0", "10", "102", "1032"},
	2: {"", "0", "01", "012", "2301"},
	3: {"", "0", "10", "102", "3210"},
}

// plain is the slow reference for everything in this file: it deals, looks up and mirrors one byte after another, and
// shares no arithmetic with the package.
func plain(a Arrangement, stored []byte) []byte {
	var lane []byte
	for offset, b := range stored {
		if offset%(1<<a.laneBits) == int(a.lane) {
			lane = append(lane, b)
		}
	}
	arranged := []byte{}
	for group := range slices.Chunk(lane, 4) {
		for _, place := range plainGroups[a.exchange][len(group)] {
			arranged = append(arranged, group[place-'0'])
		}
	}
	if a.mirrored {
		for i, b := range arranged {
			var mirrored byte
			for bit := range 8 {
				mirrored = mirrored<<1 | b>>bit&1
			}
			arranged[i] = mirrored
		}
	}
	return arranged
}

// every returns all arrangements there can be: 31 lanes of 1, 2, 4, 8 and 16, four exchanges, mirrored or not.
func every() []Arrangement {
	var all []Arrangement
	for laneBits := range uint8(5) {
		for lane := range uint8(1) << laneBits {
			for exchange := range uint8(4) {
				all = append(all, Arrangement{exchange, false, laneBits, lane}, Arrangement{exchange, true, laneBits, lane})
			}
		}
	}
	return all
}

// random returns n bytes that are the same in every run.
func random(n int) []byte {
	source := rand.New(rand.NewPCG(1, uint64(n)))
	data := make([]byte, n)
	for i := range data {
		data[i] = byte(source.Uint32())
	}
	return data
}

// ramp returns every value of a byte once.
func ramp() []byte {
	data := make([]byte, 256)
	for i := range data {
		data[i] = byte(i)
	}
	return data
}

// lengths are 0 to 40 bytes, and larger ones on and beside whole groups.
func lengths() []int {
	var all []int
	for n := range 41 {
		all = append(all, n)
	}
	return append(all, 255, 256, 257, 4094, 4095, 4096, 65537, 1<<18+3)
}

func TestApplyAgreesWithPlain(t *testing.T) {
	for _, n := range lengths() {
		stored := random(n)
		for _, a := range every() {
			if n > 4096 && a.laneBits > 2 {
				continue // the slow reference: the larger lengths with the arrangements of All are enough
			}
			require.Equal(t, plain(a, stored), a.Apply(stored), "%s of %d bytes", a, n)
		}
	}
}

// objcopy runs objcopy with a raw binary in and out.
func objcopy(t *testing.T, image []byte, option ...string) []byte {
	t.Helper()
	outside.Tool(t, "objcopy")
	in, out := filepath.Join(t.TempDir(), "in"), filepath.Join(t.TempDir(), "out")
	require.NoError(t, os.WriteFile(in, image, 0o600))
	outside.Run(t, "objcopy", nil, append([]string{"-I", "binary", "-O", "binary"}, append(option, in, out)...)...)
	result, err := os.ReadFile(out)
	require.NoError(t, err)
	return result
}

func TestSwappedIsDdSwab(t *testing.T) {
	for _, n := range lengths() {
		stored := random(n)
		require.Equal(t, outside.Run(t, "dd", stored, "conv=swab", "status=none"), Swapped.Apply(stored), "%d bytes", n)
	}
}

// objcopy refuses to reverse when the unit does not divide the length, so here are only lengths that it does.
func TestOrdersAreObjcopyReverseBytes(t *testing.T) {
	for _, n := range []int{4, 8, 12, 16, 20, 40, 4096, 1<<18 + 4} {
		stored := random(n)
		words := objcopy(t, stored, "--reverse-bytes=2")
		longs := objcopy(t, stored, "--reverse-bytes=4")
		require.Equal(t, words, Swapped.Apply(stored), "%d bytes", n)
		require.Equal(t, longs, Reversed.Apply(stored), "%d bytes", n)
		require.Equal(t, objcopy(t, longs, "--reverse-bytes=2"), Halves.Apply(stored), "%d bytes", n)
	}
	for _, n := range []int{2, 6, 10, 38} {
		stored := random(n)
		require.Equal(t, objcopy(t, stored, "--reverse-bytes=2"), Swapped.Apply(stored), "%d bytes", n)
	}
}

func TestLanesAreObjcopyInterleave(t *testing.T) {
	for _, n := range []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 31, 32, 33, 4097, 1<<18 + 3} { // objcopy refuses an empty file
		stored := random(n)
		for _, of := range []int{2, 4} {
			for lane := range of {
				want := objcopy(t, stored, "--interleave="+strconv.Itoa(of), "--byte="+strconv.Itoa(lane))
				require.Equal(t, want, Lane(lane, of).Apply(stored), "lane %d of %d from %d bytes", lane, of, n)
			}
		}
	}
}

// Python's integers know nothing of bytes in an array: the halves of a long are exchanged by turning it 16 bits round,
// and mirrored bits are the binary digits of an 8, 16 or 32-bit number read backwards.
func TestOrdersAreIntegersOfPython(t *testing.T) {
	const script = `
import struct, sys
data = sys.stdin.buffer.read()
def write(code, size, change):
    layout = '>%d%s' % (len(data) // size, code)
    sys.stdout.buffer.write(struct.pack(layout, *map(change, struct.unpack(layout, data))))
def backwards(bits):
    return lambda v: int(format(v, '0%db' % bits)[::-1], 2)
write('I', 4, lambda v: (v << 16 | v >> 16) & 0xFFFFFFFF)
write('B', 1, backwards(8))
write('H', 2, backwards(16))
write('I', 4, backwards(32))`
	for _, stored := range [][]byte{ramp(), random(4100)} {
		written := outside.Run(t, "python3", stored, "-c", script)
		require.Len(t, written, 4*len(stored))
		for i, a := range []Arrangement{Halves, Mirrored, {exchange: 1, mirrored: true}, {exchange: 3, mirrored: true}} {
			require.Equal(t, written[i*len(stored):][:len(stored)], a.Apply(stored), "%s of %d bytes", a, len(stored))
		}
	}
}

func TestOrdersUndoThemselves(t *testing.T) {
	for _, n := range lengths() {
		stored := random(n)
		for _, a := range Orders() {
			undo, ok := a.Inverse()
			require.True(t, ok, "%s", a)
			require.Equal(t, stored, undo.Apply(a.Apply(stored)), "%s of %d bytes", a, n)
			both, ok := a.Then(undo)
			require.True(t, ok, "%s", a)
			require.Equal(t, Stored, both, "%s", a)
		}
	}
}

func TestLanesHaveNoInverse(t *testing.T) {
	for _, a := range every() {
		_, ok := a.Inverse()
		assert.Equal(t, a.laneBits == 0, ok, "%s", a)
	}
}

func TestThenIsOneAfterTheOther(t *testing.T) {
	stored := random(1 << 13)
	closed, open := 0, 0
	for _, a := range every() {
		for _, next := range every() {
			both, ok := a.Then(next)
			_, lanes := a.Lanes()
			_, nextLanes := next.Lanes()
			require.Equal(t, lanes*nextLanes <= 16, ok, "%s, then %s", a, next)
			if !ok {
				require.Zero(t, both)
				open++
				continue
			}
			closed++
			unit := a.Unit() * next.Unit()
			for _, n := range []int{0, unit, 3 * unit} {
				require.Equal(t, next.Apply(a.Apply(stored[:n])), both.Apply(stored[:n]), "%s, then %s, of %d bytes", a, next, n)
			}
			// At another length all but the incomplete group at the end is still so.
			n := 2*unit + unit/2 + unit/3
			whole := both.Len(2 * unit)
			require.Equal(t, next.Apply(a.Apply(stored[:n]))[:whole], both.Apply(stored[:n])[:whole],
				"%s, then %s, of %d bytes", a, next, n)
		}
	}
	// By hand: 1+2+4+8+16 lanes of 8 orders each; a pair stays within 16 lanes when the powers of two add up to 4 or less.
	assert.Equal(t, (1*31+2*15+4*7+8*3+16*1)*64, closed)
	assert.Equal(t, 31*31*64-closed, open)
}

func TestThenIsAssociative(t *testing.T) {
	for _, a := range All() {
		for _, b := range All() {
			ab, okAB := a.Then(b)
			for _, c := range All() {
				left, okLeft := ab.Then(c)
				bc, okBC := b.Then(c)
				right, okRight := a.Then(bc)
				require.Equal(t, okAB && okLeft, okBC && okRight, "%s, %s, %s", a, b, c)
				if okAB && okLeft {
					require.Equal(t, left, right, "%s, %s, %s", a, b, c)
				}
			}
		}
	}
}

// Two different arrangements never give the same image, so == on values is == on what they do.
func TestEqualIsTheSame(t *testing.T) {
	stored := ramp()
	seen := map[string]Arrangement{}
	for _, a := range every() {
		image := string(a.Apply(stored))
		other, twice := seen[image]
		require.False(t, twice, "%s and %s", a, other)
		seen[image] = a
	}
}

func TestUnitIsTheSmallestWholeGroup(t *testing.T) {
	for _, a := range every() {
		// By its definition: the first length at which bytes that follow change nothing of what is made of those before.
		stored := ramp()
		whole := func(n int) bool {
			part := a.Apply(stored[:n])
			return slices.Equal(part, a.Apply(stored)[:len(part)]) && len(part)<<a.laneBits == n
		}
		unit := 1
		for !whole(unit) {
			unit++
		}
		assert.Equal(t, unit, a.Unit(), "%s", a)
	}
}

func TestSourceAndPlace(t *testing.T) {
	for _, n := range lengths() {
		if n > 4096 {
			continue
		}
		stored := random(n)
		for _, a := range every() {
			arranged := a.Apply(stored)
			require.Len(t, arranged, a.Len(n), "%s of %d bytes", a, n)
			seen := make([]bool, n)
			for j := range arranged {
				offset := a.Source(j, n)
				if offset < 0 || offset >= n || seen[offset] {
					require.Fail(t, "source outside or taken twice", "%s of %d bytes: %d from %d", a, n, j, offset)
				}
				seen[offset] = true
				back, ok := a.Place(offset, n)
				if !ok || back != j {
					require.Fail(t, "place does not undo source", "%s of %d bytes: %d from %d", a, n, j, offset)
				}
				if want := plain(Arrangement{mirrored: a.mirrored}, stored[offset:offset+1])[0]; arranged[j] != want {
					require.Fail(t, "source disagrees with apply", "%s of %d bytes: %d from %d", a, n, j, offset)
				}
				if a.At(stored, j) != arranged[j] {
					require.Fail(t, "at disagrees with apply", "%s of %d bytes: %d", a, n, j)
				}
			}
			for offset := range n {
				if _, ok := a.Place(offset, n); ok != seen[offset] {
					require.Fail(t, "place of a byte in another lane", "%s of %d bytes: offset %d", a, n, offset)
				}
			}
		}
	}
}

// checkCopy copies a window and compares it with the slice of the whole; what stands beside the window must stay.
func checkCopy(t *testing.T, a Arrangement, stored, whole []byte, from, length int) {
	t.Helper()
	const margin, mark = 9, 0xA7
	around := slices.Repeat([]byte{mark}, margin+length+margin)
	got := a.Copy(around[margin:margin+length], stored, from)
	want := []byte{}
	if from >= 0 && from < len(whole) {
		want = whole[from:min(len(whole), from+length)]
	}
	if got != len(want) || !slices.Equal(want, around[margin:margin+got]) {
		require.Equal(t, want, around[margin:margin+got], "%s of %d bytes: %d from %d, returned %d", a, len(stored), length, from, got)
	}
	for i, b := range around {
		if (i < margin || i >= margin+got) && b != mark {
			require.Fail(t, "wrote beside the window", "%s of %d bytes: %d from %d, at %d", a, len(stored), length, from, i-margin)
		}
	}
}

func TestCopyEveryWindow(t *testing.T) {
	for _, n := range []int{0, 1, 2, 3, 4, 7, 23, 40, 77, 128} {
		stored := random(n)
		for _, a := range every() {
			whole := plain(a, stored)
			for from := range len(whole) + 3 {
				for length := range len(whole) - min(from, len(whole)) + 3 {
					checkCopy(t, a, stored, whole, from, length)
				}
			}
			for _, from := range []int{-1, -4, math.MinInt, math.MaxInt, math.MaxInt - 3} {
				checkCopy(t, a, stored, whole, from, 16)
			}
		}
	}
}

func FuzzCopy(f *testing.F) {
	f.Add([]byte("as stored"), uint8(0), 0, uint16(9))
	f.Add(random(67), uint8(14), 5, uint16(40))
	f.Add(random(64), uint8(247), -1, uint16(8))
	f.Add(random(33), uint8(7), math.MaxInt, uint16(1))
	f.Add(random(33), uint8(3), math.MinInt, uint16(0))
	f.Fuzz(func(t *testing.T, stored []byte, which uint8, from int, length uint16) {
		all := every()
		a := all[int(which)%len(all)]
		before := slices.Clone(stored)
		checkCopy(t, a, stored, plain(a, stored), from, int(length))
		assert.Equal(t, before, stored, "%s changed what it read", a)
	})
}

func TestCopyAllocatesNothing(t *testing.T) {
	stored, window := random(1000), make([]byte, 333)
	for _, a := range every() {
		assert.Zero(t, testing.AllocsPerRun(10, func() { a.Copy(window, stored, 3) }), "%s", a)
	}
}

func TestApplyAllocatesOnceAndKeepsItsInput(t *testing.T) {
	stored := random(1003)
	before := slices.Clone(stored)
	for _, a := range every() {
		assert.Equal(t, 1.0, testing.AllocsPerRun(10, func() { a.Apply(stored) }), "%s", a)
		arranged := a.Apply(stored)
		clear(arranged) // were it a view of stored, this would show
		require.Equal(t, before, stored, "%s", a)
	}
}

func TestListsOfArrangements(t *testing.T) {
	assert.Equal(t, []Arrangement{
		Stored, Swapped, Reversed, Halves,
		Mirrored, {exchange: 1, mirrored: true}, {exchange: 3, mirrored: true}, {exchange: 2, mirrored: true},
	}, Orders())
	assert.Equal(t, Orders(), All()[:8])
	assert.Equal(t, []Arrangement{Lane(0, 2), Lane(1, 2), Lane(0, 4), Lane(1, 4), Lane(2, 4), Lane(3, 4)}, All()[8:])
	assert.Equal(t, Stored, Lane(0, 1))
	for _, a := range every() {
		lane, of := a.Lanes()
		assert.Equal(t, [2]int{int(a.lane), 1 << a.laneBits}, [2]int{lane, of})
		assert.Equal(t, a.mirrored, a.IsMirrored())
	}
}

func TestLanePanicsOnWhatIsNoLane(t *testing.T) {
	for _, c := range [][2]int{{0, 0}, {0, 3}, {0, 8}, {0, -2}, {2, 2}, {4, 4}, {-1, 4}, {1, 1}} {
		assert.PanicsWithValue(t, fmt.Sprintf("arrange: no lane %d of %d", c[0], c[1]), func() { Lane(c[0], c[1]) })
	}
}

func TestNames(t *testing.T) {
	for _, c := range []struct {
		id, name string
		a        Arrangement
	}{
		{"stored", "as stored", Stored},
		{"swap16", "bytes swapped in 16-bit words", Swapped},
		{"reverse32", "32-bit words reversed", Reversed},
		{"halves32", "16-bit halves exchanged in 32-bit words", Halves},
		{"mirror", "bits mirrored in each byte", Mirrored},
		{"swap16-mirror", "bytes swapped in 16-bit words, bits mirrored in each byte", Orders()[5]},
		{"lane0of2", "even byte lane", Lane(0, 2)},
		{"lane1of2", "odd byte lane", Lane(1, 2)},
		{"lane3of4", "byte lane 3 of 0 to 3", Lane(3, 4)},
		{"lane1of2-reverse32-mirror", "odd byte lane, 32-bit words reversed, bits mirrored in each byte", Arrangement{3, true, 1, 1}},
		{"lane10of16-halves32", "byte lane 10 of 0 to 15, 16-bit halves exchanged in 32-bit words", Arrangement{2, false, 4, 10}},
	} {
		assert.Equal(t, c.id, c.a.ID())
		assert.Equal(t, c.name, c.a.String())
	}
}

func TestNamesAreDistinctAndParse(t *testing.T) {
	names := map[string]bool{}
	for _, a := range every() {
		assert.False(t, names[a.String()], "%s names two", a)
		names[a.String()] = true
		back, ok := Parse(a.ID())
		assert.True(t, ok, a.ID())
		assert.Equal(t, a, back, a.ID())
	}
	assert.Len(t, names, 248)
}

func TestParseRefusesWhatIsNoID(t *testing.T) {
	for _, id := range []string{
		"", " ", "-", "Stored", "stored ", "stored-mirror", "mirror-swap16", "swap16-swap16", "swap32", "swap16-", "lane",
		"lane0of1", "lane2of2", "lane0of3", "lane-1of2", "lane00of2", "lane16of16", "lane0of32", "lane1of2mirror",
		"swap16-lane0of2", "as stored", "\x00", "swap16\n",
	} {
		a, ok := Parse(id)
		assert.False(t, ok, "%q", id)
		assert.Zero(t, a, "%q", id)
	}
}

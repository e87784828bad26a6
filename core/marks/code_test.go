package marks

import (
	"bytes"
	"math/rand"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
)

// samples are machine code of a small program of this project's own, compiled for several CPUs: testdata/README.txt.
func samples(t testing.TB) map[string][]byte {
	paths, err := filepath.Glob("testdata/*.code")
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	all := map[string][]byte{}
	for _, path := range paths {
		code, err := os.ReadFile(path)
		require.NoError(t, err)
		all[strings.TrimSuffix(filepath.Base(path), ".code")] = code[:len(code)&^3]
	}
	return all
}

// familyOf is the family that a sample's CPU belongs to, where its name is not the ID.
var familyOf = map[string]string{"sm83": "z80"}

func wanted(name string) string {
	if id, ok := familyOf[name]; ok {
		return id
	}
	return name
}

func TestCodeIsFoundInEveryArrangement(t *testing.T) {
	for name, code := range samples(t) {
		for _, order := range arrange.Orders() {
			c := FindCode(order.Apply(code), nil)
			assert.Equal(t, wanted(name), c.Family, "%s stored %s", name, order)
			assert.Equal(t, order, c.Order, "%s stored %s", name, order)
			assert.GreaterOrEqual(t, c.Sure, Strong, "%s stored %s", name, order)
		}
	}
}

func TestEvidenceCanBeCounted(t *testing.T) {
	code := samples(t)["m68k"]
	stored := arrange.Swapped.Apply(code)
	c := FindCode(stored, nil)
	require.NotEmpty(t, c.Seen)
	for _, s := range c.Seen {
		assert.Positive(t, s.Count, s.Mnemonic)
		assert.Less(t, s.RivalCount, s.Count, s.Mnemonic)
		require.NotEmpty(t, s.First)
		assert.LessOrEqual(t, len(s.First), 3)
		if !strings.Contains(s.Pattern, ".") {
			want := bytes.Count(code, fromHex(s.Pattern))
			assert.LessOrEqual(t, s.Count, want, "%s: counted at word boundaries only", s.Mnemonic)
			at := s.First[0] ^ 1 // the stored offset of a byte of a swapped word
			assert.Equal(t, fromHex(s.Pattern)[0], code[at], s.Mnemonic)
		}
	}
}

func fromHex(pattern string) (b []byte) {
	for i := 0; i+1 < len(pattern); i += 2 {
		high, _ := digit(pattern[i])
		low, _ := digit(pattern[i+1])
		b = append(b, high<<4|low)
	}
	return b
}

// Code that is a small part of a dump, with text, tables, noise and blanks around it.
func TestCodeAmongOtherThings(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	for name, code := range samples(t) {
		if len(code) < 1800 {
			continue // too little to stand out: a window is 4 KiB
		}
		image := bytes.Repeat([]byte{0xFF}, 128<<10)
		rng.Read(image[16<<10 : 24<<10])
		copy(image[32<<10:], bytes.Repeat([]byte("Press any key to continue the memory test. "), 300))
		for i := range 8 << 10 {
			image[64<<10+i] = byte(i / 7)
		}
		for k := range 2 {
			copy(image[96<<10+4096*k:], code)
		}
		for _, order := range arrange.Orders() {
			c := FindCode(order.Apply(image), nil)
			assert.Equal(t, wanted(name), c.Family, "%s stored %s", name, order)
			assert.Equal(t, order, c.Order, "%s stored %s", name, order)
			for _, r := range c.Where {
				assert.GreaterOrEqual(t, r.Start, 96<<10, name)
				assert.LessOrEqual(t, r.End, 104<<10, name)
			}
		}
	}
}

// Two windows of code in 1 MiB of other things: the glances must not pass over them, in any arrangement.
func TestLittleCodeInALargeDump(t *testing.T) {
	rng := rand.New(rand.NewSource(4))
	for name, code := range samples(t) {
		if len(code) < 1800 {
			continue
		}
		image := make([]byte, 1<<20)
		for i := range image {
			image[i] = byte(rng.Intn(128))
		}
		copy(image[300<<10:308<<10], bytes.Repeat(code, 8))
		for _, order := range arrange.Orders() {
			c := FindCode(order.Apply(image), nil)
			assert.Equal(t, Reading{wanted(name), order}, c.Reading, "%s stored %s", name, order)
			assert.Equal(t, []Range{{300 << 10, 308 << 10}}, c.Where, "%s stored %s", name, order)
		}
	}
}

func TestNoCodeGivesNoAnswer(t *testing.T) {
	rng := rand.New(rand.NewSource(2))
	for _, size := range []int{0, 1, 3, 511, 512, 1 << 10, 4 << 10, 12 << 10} {
		rounds := min(400, 1<<20/(size+1))
		for range rounds {
			data := make([]byte, size)
			rng.Read(data)
			if rng.Intn(3) == 0 { // few values, as in fonts and tables
				few := rng.Intn(40) + 2
				for i := range data {
					data[i] %= byte(few)
				}
			}
			c := FindCode(data, nil)
			require.Equal(t, CannotTell, c.Sure, "%d bytes: %+v", size, c)
			require.Empty(t, c.Family)
		}
	}
	for _, fill := range []byte{0x00, 0xFF, 0x4E, 0xC9} {
		assert.Equal(t, CannotTell, FindCode(bytes.Repeat([]byte{fill}, 70000), nil).Sure)
	}
}

// One byte lane alone must never be taken for a whole image. CPUs with an 8-bit bus have no lanes.
func TestOneLaneIsNoImage(t *testing.T) {
	for _, name := range []string{"m68k", "h8"} {
		for _, lane := range arrange.Split(bytes.Repeat(samples(t)[name], 3), 2) {
			assert.LessOrEqual(t, FindCode(lane, nil).Sure, Weak, name)
		}
	}
}

// A dump that lost its first byte: the words stand at odd offsets.
func TestShiftedByOneByte(t *testing.T) {
	for _, name := range []string{"m68k", "h8"} {
		code := samples(t)[name]
		long := append(append([]byte{}, code...), code...)[1:]
		c := FindCode(long, nil)
		if c.Sure > Weak {
			assert.Equal(t, 1, c.Shift%2, name)
			assert.Equal(t, wanted(name), c.Family)
		}
	}
}

func TestLanesThatBelongTogether(t *testing.T) {
	var lanes [][]byte
	rng := rand.New(rand.NewSource(3))
	const size = 4096
	whole := func(name string) []byte { return bytes.Repeat(samples(t)[name], 8)[:2*size] }
	m68k, h8 := arrange.Split(whole("m68k"), 2), arrange.Split(whole("h8"), 2)
	noise := make([]byte, size)
	rng.Read(noise)
	lanes = append(lanes, noise, m68k[1], h8[0], make([]byte, size), h8[1], m68k[0], bytes.Repeat([]byte("text"), size/4))
	matches := MatchLanes(lanes)
	found := map[string][]int{}
	for _, m := range matches {
		found[m.Code.Family] = m.Lanes
		assert.Equal(t, arrange.Stored, m.Code.Order)
	}
	assert.Equal(t, map[string][]int{"m68k": {5, 1}, "h8": {2, 4}}, found)
}

func TestFourLanes(t *testing.T) {
	four := arrange.Split(bytes.Repeat(samples(t)["m68k"], 12)[:16<<10], 4)
	matches := MatchLanes([][]byte{four[2], four[0], four[3], four[1]})
	require.Len(t, matches, 1)
	assert.Equal(t, []int{1, 3, 0, 2}, matches[0].Lanes)
}

// Every row of the table can be read, stands once in its family, and is long enough to mean something.
func TestTableOfMarks(t *testing.T) {
	for _, f := range families {
		assert.NotEmpty(t, f.Manual, f.ID)
		assert.GreaterOrEqual(t, len(f.rows()), 25, f.ID)
		seen := map[string]bool{}
		for _, m := range f.rows() {
			assert.False(t, seen[m.pattern], "%s %s stands twice", f.ID, m.pattern)
			seen[m.pattern] = true
			assert.Zero(t, len(m.pattern)%2, m.pattern)
			assert.LessOrEqual(t, len(m.pattern), 2*tail, m.pattern)
			assert.NotEmpty(t, m.mnemonic, m.pattern)
			r := newRule(0, f.word, m)
			assert.GreaterOrEqual(t, r.fixedBits, 12, m.pattern)
			if f.word > 1 {
				assert.Zero(t, r.length%2, m.pattern)
			}
		}
	}
}

// The counts of the index against a search that knows no index.
func TestCountsAgainstPlainSearch(t *testing.T) {
	code := samples(t)["m68k"]
	b := book()
	tally := newTally()
	tally.countPlaces(code)
	room := make([]byte, len(code)+2*tail)
	tally.countMarks(code, 0, len(code), 0, readings, wordSizes, room)
	for x := range readings {
		view := arrangementOf[x].Apply(code)
		for n := range b.rules {
			r, count := &b.rules[n], 0
			for i := 0; i+r.length <= len(view); i += r.word {
				match := true
				for k := range r.length {
					high, highMask := digit(r.mark.pattern[2*k])
					low, lowMask := digit(r.mark.pattern[2*k+1])
					match = match && view[i+k]&(highMask<<4|lowMask) == high<<4|low
				}
				if match {
					count++
				}
			}
			require.Equal(t, count, int(tally.hits[x][n]), "%s in %s", r.mark.pattern, arrangementOf[x])
		}
	}
}

func FuzzFindCode(f *testing.F) {
	for _, code := range samples(f) {
		f.Add(code)
		f.Add(code[1:])
	}
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 20000 {
			return
		}
		c := FindCode(data, nil)
		FindText(data)
		MatchLanes(arrange.Split(data, 2))
		assert.Equal(t, c.Sure == CannotTell, c.Family == "")
		for _, r := range c.Where {
			assert.True(t, 0 <= r.Start && r.Start < r.End && r.End <= len(data))
		}
		// Rearranging the dump rearranges the answer and nothing else.
		if len(data)%4 == 0 && c.Sure >= Strong && c.Shift == 0 && len(c.Other) == 0 {
			swapped := FindCode(arrange.Swapped.Apply(data), nil)
			want, _ := arrange.Swapped.Then(c.Order)
			assert.Equal(t, Reading{c.Family, want}, swapped.Reading)
		}
	})
}

func BenchmarkFindCode(b *testing.B) {
	code := bytes.Repeat(samples(b)["m68k"], 300)[:512<<10]
	noise := make([]byte, 512<<10)
	rand.New(rand.NewSource(1)).Read(noise)
	for i := range noise {
		noise[i] &= 0x7F
	}
	for name, data := range map[string][]byte{"code512K": code, "noise512K": noise, "code64M": bytes.Repeat(code, 128),
		"noise64M": bytes.Repeat(noise, 128)} {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			for range b.N {
				FindCode(data, nil)
			}
		})
	}
}

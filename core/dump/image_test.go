package dump

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/outside"
)

// objcopy runs binutils' objcopy on data as a file and returns the file it makes.
func objcopy(t testing.TB, data []byte, args ...string) []byte {
	t.Helper()
	outside.Tool(t, "objcopy") // skips before files are made
	in, out := filepath.Join(t.TempDir(), "in"), filepath.Join(t.TempDir(), "out")
	require.NoError(t, os.WriteFile(in, data, 0o600))
	outside.Run(t, "objcopy", nil, append(args, in, out)...)
	made, err := os.ReadFile(out)
	require.NoError(t, err)
	return made
}

// Reference: binutils' objcopy, from binary to Intel HEX and S-records at addresses of every width. Above FFFF it writes
// segment bases up to FFFFF and linear bases beyond.
func TestRecordsOfObjcopy(t *testing.T) {
	forms := []struct {
		format Format
		args   []string
	}{
		{HEX, []string{"-O", "ihex"}},
		{SRecord, []string{"-O", "srec"}},
		{SRecord, []string{"-O", "srec", "--srec-forceS3"}},
		{SRecord, []string{"-O", "srec", "--srec-len=1"}},
		{SRecord, []string{"-O", "srec", "--srec-len=250"}},
	}
	for _, form := range forms {
		for _, base := range []uint64{0, 0x1234, 0xFFF1, 0xF8000, 0xFFFF8, 0x800000, 0xFFFFF0, 0x8000000, 0x7FFFFFF0} {
			for _, size := range []int{1, 17, 70_000} {
				t.Run(fmt.Sprintf("%v at %X, %d bytes", form.args, base, size), func(t *testing.T) {
					want := noise(size, base)
					args := append([]string{"-I", "binary", fmt.Sprintf("--change-addresses=0x%X", base)}, form.args...)
					d := loadOne(t, string(objcopy(t, want, args...)))
					assert.Equal(t, form.format, d.Format)
					assert.Equal(t, base, d.Base)
					assert.True(t, bytes.Equal(want, d.Bytes))
					assert.Nil(t, d.Gaps)
				})
			}
		}
	}
}

// Reference: objcopy's start address, and its reading back to binary with gaps filled.
func TestRecordsReadAsObjcopyReadsThem(t *testing.T) {
	start := uint64(0x12345)
	want := withGaps(3, 40_000, 0xFFF80)
	want.Start = &start
	for format, text := range map[string]string{"ihex": writeHex(want, 21), "srec": writeSRecords(want, 33)} {
		t.Run(format, func(t *testing.T) {
			d := loadOne(t, text)
			assert.Equal(t, want.Base, d.Base)
			assert.Equal(t, want.Gaps, d.Gaps)
			assert.Equal(t, start, *d.Start)
			assert.True(t, bytes.Equal(want.Bytes, d.Bytes))
			assert.True(t, bytes.Equal(objcopy(t, []byte(text), "-I", format, "-O", "binary", "--gap-fill=0xFF"), d.Bytes))

			again := loadOne(t, string(objcopy(t, []byte(text), "-I", format, "-O", "srec")))
			assert.Equal(t, start, *again.Start)
			assert.Equal(t, want.Gaps, again.Gaps)
		})
	}
}

// withGaps makes a dump of about n bytes with gaps in it.
func withGaps(seed uint64, n int, base uint64) Dump {
	random := rand.New(rand.NewPCG(seed, 2))
	d := Dump{Base: base, Bytes: noise(n, seed)}
	for at := 1; ; {
		gap := Range{From: at + random.IntN(n/4+1)}
		gap.To = gap.From + 1 + random.IntN(n/8+1)
		if gap.To >= n {
			return d
		}
		copy(d.Bytes[gap.From:gap.To], bytes.Repeat([]byte{0xFF}, gap.Len()))
		d.Gaps = append(d.Gaps, gap)
		at = gap.To + 1
	}
}

// Written down and read again, an image is the same, whatever the length and the order of its records.
func TestWrittenAndReadIsTheSame(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	for seed := range uint64(60) {
		n := 1 + random.IntN(1<<random.IntN(18))
		want := withGaps(seed, n, uint64(random.Uint32())-uint64(n))
		length := 1 + random.IntN(250)
		text := writeSRecords(want, length)
		for _, text := range []string{writeHex(want, length), text, shuffled(text, random)} {
			d := loadOne(t, text)
			require.Equal(t, want.Base, d.Base)
			require.Equal(t, want.Gaps, d.Gaps)
			require.True(t, bytes.Equal(want.Bytes, d.Bytes))
		}
	}
}

// shuffled returns a text of S-records with its data records in another order.
func shuffled(text string, random *rand.Rand) string {
	lines := strings.SplitAfter(strings.TrimSpace(text), "\n")
	data := lines[:len(lines)-2] // the last two are count and end
	random.Shuffle(len(data), func(i, j int) { data[i], data[j] = data[j], data[i] })
	return strings.Join(lines, "")
}

// An image that spans more than a dump holds is cut at its widest gaps, those of a kind alike.
func TestFarApart(t *testing.T) {
	at := func(address uint64, data ...byte) string { return sLine('3', 4, address, data...) }
	tests := []struct {
		want []string
		name string
		text string
	}{
		{[]string{"u7 00000000 (67108864)"}, "64 MiB in all are one dump", at(0, 1) + at(MaxBytes-1, 2)},
		{[]string{"u7 at 00000000 00000000 (1)", "u7 at 04000000 04000000 (1)"}, "one more are two", at(0, 1) + at(MaxBytes, 2)},
		{[]string{"u7 at 08000000 08000000 (5)", "u7 at 1FFF0000 1FFF0000 (2)"}, "the small gap stays",
			at(0x1FFF0000, 8, 9) + at(0x08000000, 1) + at(0x08000004, 2)},
		{[]string{"u7 at 00000000 00000000 (1)", "u7 at 03000000 03000000 (1)", "u7 at 06000000 06000000 (1)"}, "equal gaps are all cut",
			at(0, 1) + at(0x03000000, 2) + at(0x06000000, 3)},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			dumps, err := Load("u7", []byte(test.text+sLine('7', 4, 0)))
			require.NoError(t, err)
			var got []string
			for _, d := range dumps {
				got = append(got, fmt.Sprintf("%s %08X (%d)", d.Name, d.Base, len(d.Bytes)))
				if len(dumps) > 1 {
					assert.Contains(t, d.Notes, fmt.Sprintf("The records span more than the 64 MiB that one dump holds; "+
						"they were cut at the widest gaps into %d dumps.", len(dumps)))
				}
			}
			assert.Equal(t, test.want, got)
		})
	}
}

func TestTooFarApart(t *testing.T) {
	var b strings.Builder
	for i := range uint64(MaxDumps + 1) {
		b.WriteString(sLine('3', 4, i<<23, 1))
	}
	_, err := Load("u7", []byte(b.String()+sLine('7', 4, 0)))
	assert.EqualError(t, err, "the records lie so far apart that they make more than 256 dumps; cut the file into parts")

	b.Reset()
	for i := range uint64(5) { // each pair spans 60 MiB: a few lines that ask for 300 MiB
		b.WriteString(sLine('3', 4, i<<28, 1) + sLine('3', 4, i<<28+60<<20-1, 2))
	}
	_, err = Load("u7", []byte(b.String()+sLine('7', 4, 0)))
	assert.EqualError(t, err, "the records span 300 MiB with their gaps, 256 MiB of 256 MiB for one file are left; cut the file into parts")
}

// A file of more than 64 MiB without a gap is too much for a dump, and says so before anything of that size is made.
func TestTooMuchWithoutAGap(t *testing.T) {
	extents := []extent{{0x1000, 0x1000 + MaxBytes + 1}, {0xF0000000, 0xF0000010}}
	_, err := groupExtents(extents, HEX, MaxUnpacked)
	assert.EqualError(t, err, "the records cover 67,108,865 bytes without a gap from address 001000 on, a dump holds at most 64 MiB; "+
		"cut the file into parts")
}

package faults_test

import (
	"bytes"
	"fmt"
	"math/bits"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/faults"
)

func erased(n int) []byte { return bytes.Repeat([]byte{0xFF}, n) }

// with returns data with some bits of one byte made 0.
func with(data []byte, at int, low byte) []byte {
	data = bytes.Clone(data)
	data[at] &^= low
	return data
}

func and(a, b []byte) []byte {
	out := bytes.Clone(a)
	for i := range out {
		out[i] &= b[i]
	}
	return out
}

// What a person must be told of each chip. Only 1 -> 0 is possible without ultraviolet light (any UV EPROM's data sheet), so
// that a master can be burnt over a chip exactly if chip AND master = master.
func TestBlankChecks(t *testing.T) {
	rom := demoROM(t)
	size := len(rom)
	empty := erased(size)
	stopped := append(bytes.Clone(rom[:0x3E80]), empty[0x3E80:]...)
	ramp := make([]byte, 4096)
	for i := range ramp {
		ramp[i] = byte(i)
	}
	for _, c := range []struct {
		state        faults.BlankState
		burn         faults.Burn
		say          string
		name         string
		chip, master []byte
	}{
		{faults.IsBlank, faults.NoMaster, "Blank: all 512 KiB read FF.", "erased", empty, nil},
		{faults.IsBlank, faults.BurnAsIs, "The image can be burnt.", "erased, with a master", empty, rom},
		{faults.IsBlank, faults.Burnt, "Blank, and so is the image", "nothing to burn", empty, empty},
		{faults.IsBlank, faults.WrongSize, "The image does not fit", "too small a chip", erased(256 << 10), rom},
		{faults.IsBlank, faults.BurnAsIs, "The image can be burnt.", "too large a chip", erased(1 << 20), rom},
		{faults.NotBlank, faults.NoMaster, "Not blank: 1 of 4,194,304 bits is low, in 1 byte.", "one bit", with(empty, 0x1234, 8), nil},
		{faults.NotBlank, faults.BurnAsIs, "None stands in the way", "a burn that stopped", stopped, rom},
		{faults.NotBlank, faults.Burnt, "It holds this image already", "burnt", rom, rom},
		{faults.NotBlank, faults.EraseFirst, "must be erased first", "another content", rom[0x40000:0x50000], rom[:0x10000]},
		{faults.NotBlank, faults.EraseFirst, " 1 bit is in the way", "a stopped burn and one bit", with(stopped, 0x10000, rom[0x10000]&-rom[0x10000]), rom},
		{faults.NotRead, faults.DoNotBurn, "D3 reads low everywhere", "D3 dead", bytes.Repeat([]byte{0xF7}, size), rom},
		{faults.NotRead, faults.NoMaster, "D11 reads low everywhere", "D11 of a x16 chip dead", bytes.Repeat([]byte{0xFF, 0xF7}, size/2), nil},
		{faults.NotRead, faults.NoMaster, "Nothing was read: all 512 KiB are 00", "all 00", make([]byte, size), nil},
		{faults.NotRead, faults.DoNotBurn, "the bytes follow the address", "a floating bus", ramp, ramp},
		{faults.NotRead, faults.NoMaster, "There is nothing in this file", "no bytes", nil, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := faults.BlankCheck(c.chip, c.master, faults.Options{})
			require.Equal(t, c.state, b.State, b.Headline)
			require.Equal(t, c.burn, b.Burn, b.Headline)
			require.Contains(t, b.Headline, c.say)
			require.NotEmpty(t, b.Next)
			blankConsistent(t, c.chip, c.master, b)
		})
	}
	b := faults.BlankCheck(with(with(empty, 0x1234, 0x18), 0x40001, 0x80), rom, faults.Options{})
	require.Equal(t, []int{0x1234, 0x40001}, b.First)
	require.Equal(t, []faults.LowRun{{From: 0x1234, To: 0x1235, Bits: 2}, {From: 0x40001, To: 0x40002, Bits: 1}}, b.Runs)
	require.Contains(t, b.Reasons, "the first at 001234, the last at 040001")
	require.Contains(t, faults.BlankCheck(rom[:0x10000], rom[0x40000:0x50000], faults.Options{}).Cautions, faults.CautionErase)
	require.Equal(t, "D3", faults.BlankCheck(bytes.Repeat([]byte{0xF7}, size), nil, faults.Options{}).Lines[0].String())
}

// blankConsistent holds every count against a plain one.
func blankConsistent(t *testing.T, chip, master []byte, b faults.BlankResult) {
	low, notFF, way, already, toBurn := 0, 0, 0, 0, 0
	x8, x16 := [8]int{}, [16]int{}
	for at, v := range chip {
		low += bits.OnesCount8(^v)
		if v != 0xFF {
			notFF++
		}
		for bit := range 8 {
			if v>>bit&1 == 0 {
				x8[bit]++
				if at/2 < len(chip)/2 {
					x16[bit+8*(at%2)]++
				}
			}
		}
	}
	require.Equal(t, []int{low, notFF}, []int{b.Bits, b.Bytes})
	total := 0
	for _, n := range b.Map.Counts {
		total += n
	}
	require.Equal(t, low, total)
	for k, line := range b.X8 {
		require.Equal(t, x8[k], line.Low)
	}
	for k, line := range b.X16 {
		require.Equal(t, x16[k], line.Low)
	}
	if b.Total == len(b.Runs) {
		sum := 0
		for _, run := range b.Runs {
			sum += run.Bits
		}
		require.Equal(t, low, sum)
	}
	if b.Burn == faults.NoMaster || b.Burn == faults.WrongSize || b.Burn == faults.DoNotBurn {
		return
	}
	for at, m := range master {
		way += bits.OnesCount8(^chip[at] & m)
		already += bits.OnesCount8(^chip[at] & ^m)
		toBurn += bits.OnesCount8(chip[at] & ^m)
	}
	require.Equal(t, []int{way, already, toBurn}, []int{b.InTheWay, b.Already, b.ToBurn})
	overwritable := bytes.Equal(and(chip[:len(master)], master), master)
	require.Equal(t, overwritable, b.Burn != faults.EraseFirst)
}

// Any chip made by AND of a master with anything else, or by OR, is judged as the rule says.
func TestBurnOverWhatIsThere(t *testing.T) {
	rom := demoROM(t)[:28<<10]
	r := rand.New(rand.NewPCG(3, 3))
	for n := range 200 {
		chip := bytes.Clone(rom)
		for range r.IntN(40) {
			chip[r.IntN(len(chip))] |= byte(r.Uint32()) // bits still to be burnt
		}
		spoilt := n%2 == 1
		if spoilt {
			at := r.IntN(len(chip))
			for rom[at] == 0 {
				at = r.IntN(len(chip))
			}
			chip[at] &^= 1 << bits.TrailingZeros8(rom[at])
		}
		b := faults.BlankCheck(chip, rom, faults.Options{})
		require.Equal(t, spoilt, b.Burn == faults.EraseFirst)
		blankConsistent(t, chip, rom, b)
	}
}

func FuzzBlankCheck(f *testing.F) {
	rom := demoROM(f)
	f.Add([]byte{}, []byte{})
	f.Add([]byte{0xFF, 0xFF, 0xFE}, []byte{1})
	f.Add(rom[:700], rom[:600])
	f.Add(rom[:600], rom[:700])
	f.Add(erased(1000), rom[:1000])
	f.Fuzz(func(t *testing.T, chip, master []byte) {
		b := faults.BlankCheck(chip, master, faults.Options{})
		require.NotEmpty(t, b.Headline)
		require.NotEmpty(t, b.Next)
		require.NotContains(t, fmt.Sprint(b.Headline, b.Next, b.Reasons), "{}")
		require.NotEmpty(t, b.AppendJSON(nil))
		blankConsistent(t, chip, master, b)
	})
}

func BenchmarkBlankCheck(b *testing.B) {
	rom := demoROM(b)
	b.SetBytes(int64(len(rom)))
	for b.Loop() {
		faults.BlankCheck(rom, rom, faults.Options{})
	}
}

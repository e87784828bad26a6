package faults_test

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/faults"
)

// How often is the trouble right, and how often confidently wrong, with troubles of any strength on contents of any kind? The
// strengths are drawn. A confident wrong answer is a defect; "cannot tell" is none. The guards of the judgement were tuned on draws
// like these: of 9,000 others one was confidently wrong, which led to one guard more, and of 12,000 drawn after that none.
func TestRateOfTroubles(t *testing.T) {
	rom := demoROM(t)
	contents := [][]byte{rom[:32<<10], rom[0x40000:0x50000], rom[0x54000:0x56000], rom[0x18000:0x1A000], rom[0x58000:0x68000], rom}
	for _, name := range []string{"cbios_main_msx2.rom", "bios-256k.bin"} {
		if image, err := os.ReadFile(filepath.Join(os.Getenv("LUNETTE_FIRMWARE"), name)); err == nil {
			contents = append(contents, image[:32<<10])
		}
	}
	r := rand.New(rand.NewPCG(41, 1988))
	upTo := func(n int) int { return 1 + int(float64(n)*r.Float64()*r.Float64()) } // small ones more often
	kinds := []struct {
		trouble faults.Trouble
		draw    func(size int) disturbance
	}{
		{faults.Leaking, func(size int) disturbance {
			if r.IntN(2) == 0 {
				return weakCells(r, upTo(60), size, r.Float64())
			}
			span := max(64, size>>r.IntN(5))
			from := r.IntN(size - span + 1)
			return leak(upTo(60), from, from+span)
		}},
		{faults.DataContact, func(int) disturbance { return dataContact(r.IntN(8), 1+upTo(500), 1+r.IntN(2), 0) }},
		{faults.AddrContact, func(size int) disturbance {
			bit := r.IntN(13)
			return addressContact(bit, 1+upTo(500))
		}},
		{faults.Slow, func(int) disturbance {
			if r.IntN(2) == 0 {
				return pageStart(64 << r.IntN(4))
			}
			return stale(1+r.IntN(2), 1+upTo(500))
		}},
		{faults.Supply, func(int) disturbance { return bursts(upTo(6), 32+upTo(500)) }},
	}
	type rate struct{ right, weak, unsure, wrong, confident, same int }
	rates := map[faults.Trouble]*rate{}
	for _, kind := range kinds {
		rates[kind.trouble] = &rate{}
	}
	for range 1500 {
		kind := kinds[r.IntN(len(kinds))]
		chip := contents[r.IntN(len(contents))]
		d := kind.draw(len(chip))
		var reads [][]byte
		for range 2 + r.IntN(3) {
			if r.IntN(4) == 0 {
				reads = append(reads, bytes.Clone(chip))
			} else {
				reads = append(reads, d(r, chip))
			}
		}
		got, c := faults.Rereads(reads, nil, faults.Options{}), rates[kind.trouble]
		switch {
		case got.State == faults.Stable:
			c.same++
		case got.Trouble == kind.trouble && got.Sure == "strong":
			c.right++
		case got.Trouble == kind.trouble:
			c.weak++
		case got.Trouble == faults.CannotTell || got.State == faults.Strangers:
			c.unsure++
		default:
			c.wrong++
			t.Logf("%s, weakly called %s: %q", kind.trouble, got.Trouble, got.Reasons)
			if got.Sure == "strong" {
				c.confident++
				t.Errorf("%s called %s: %s %q", kind.trouble, got.Trouble, got.Headline, got.Reasons)
			}
		}
	}
	for _, kind := range kinds {
		c := rates[kind.trouble]
		t.Logf("%-18s right %4d strong, %4d weak; cannot tell %4d; wrong %3d weak, %d confident; stable %d", kind.trouble, c.right, c.weak,
			c.unsure, c.wrong-c.confident, c.confident, c.same)
		require.Positive(t, c.right+c.weak)
	}
}

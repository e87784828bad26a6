package core_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core"
)

// Of a dump with 68000 code the bench knows that its CPU takes 16-bit words (M68000 Family Programmer's Reference Manual): four
// chips are first two pairs, and one chip of eight bits gets a caution. Of noise nothing is known.
func TestBurningKnowsTheCPU(t *testing.T) {
	b := core.NewBench()
	rom := demoROM(t)
	noise := make([]byte, len(rom))
	rand.NewChaCha8([32]byte{5}).Read(noise)
	id, other := opened(t, b, "s1", "u41.bin", rom), opened(t, b, "s2", "noise.bin", noise)
	said := func(id string) (string, string) {
		burning, err := b.Fits(id)
		require.NoError(t, err)
		four := ""
		for _, fit := range burning.Fitting.Fits {
			if fit.Chips == 4 && four == "" {
				four = string(fit.View)
			}
		}
		prepared, err := b.Prepare(id, core.BurnPlan{Device: "27C040", View: "x8", Order: "swap16", CPU: "big"})
		require.NoError(t, err)
		require.Equal(t, strings.Contains(strings.Join(burning.Fitting.Remarks, " "), "68000 code is made of 16-bit words"),
			strings.Contains(strings.Join(prepared.Cautions, " "), "68000 code is made of 16-bit words"))
		return four, strings.Join(prepared.Cautions, " ")
	}
	_, cautions := said(other)
	require.NotContains(t, cautions, "16-bit words")
	four, cautions := said(id)
	require.Equal(t, "pairs", four)
	require.Contains(t, cautions, "68000 code is made of 16-bit words")

	_, err := b.Prepare(id, core.BurnPlan{Device: "27C010", View: "pairs", Order: "swap16", CPU: "big"})
	require.NoError(t, err)
	labels, err := b.Labels(id, "U41", "", true)
	require.NoError(t, err)
	require.Len(t, labels, 4)
}

func TestBadFillAndLampAreRefused(t *testing.T) {
	b := core.NewBench()
	id := opened(t, b, "s1", "u41.bin", demoROM(t))
	for _, fill := range []int{-1, 256, 511} {
		_, err := b.Prepare(id, core.BurnPlan{Device: "27C800", View: "x16", Order: "swap16", CPU: "big", Buffer: "low", Spare: "pad", Fill: fill})
		require.ErrorContains(t, err, "expected 0 to 255, which is 00 to FF")
	}
	times, err := core.Times("27C400", "12 mW")
	require.NoError(t, err)
	require.Equal(t, 12000, times.Erase.Lamp)
	for _, lamp := range []string{"0", "abc", "12"} {
		_, err := core.Times("27C400", lamp)
		require.ErrorContains(t, err, "the lamp's irradiance")
	}
}

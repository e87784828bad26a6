package core_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core"
	"lunette/core/demo"
	"lunette/core/faults"
)

// board opens the demo's dumps and returns their ids by name.
func board(t *testing.T, b *core.Bench) map[string]string {
	rom := demoROM(t)
	ids := map[string]string{}
	for i, d := range append(demo.Dumps(rom), demo.Board(rom)...) {
		ids[strings.TrimSuffix(strings.TrimPrefix(d.Name, "halden-"), ".bin")] = opened(t, b, fmt.Sprint("s", i+1), d.Name, d.Bytes)
	}
	return ids
}

// With master and read exchanged, the good chip is neither erased nor burnt over: U41's own sum proves it.
func TestTheBetterReadIsLeftAsItIs(t *testing.T) {
	b := core.NewBench()
	ids := board(t, b)
	for master, then := range map[string]string{
		"u41-reread-1":         "",
		"u41-not-erased":       "",
		"u41-burn-stopped":     "With the two exchanged, one thing explains every byte: the burn stopped at 003D8A, after 3.0 % of the image.",
		"u41-a10-open":         "With the two exchanged, one thing explains every byte: A10 is stuck high.",
		"u41-d3-d11-exchanged": "",
	} {
		c, err := b.Compare(ids[master], ids["u41"], "", nil)
		require.NoError(t, err)
		require.True(t, c.Result.Exchange, master)
		require.Contains(t, c.Result.Headline, "The read is the better one of the two: it is proven by its built-in sum", master)
		require.Contains(t, c.Result.Next[0], "Exchange the two", master)
		require.NotContains(t, strings.ToLower(strings.Join(c.Result.Next, " ")), "erase", master)
		require.NotContains(t, strings.ToLower(strings.Join(c.Result.Next, " ")), "burn", master)
		require.Empty(t, c.Result.Cautions, master)
		require.Empty(t, c.Times, master)
		if then != "" {
			require.Contains(t, c.Result.Reasons, then)
		}
		right, err := b.Compare(ids["u41"], ids[master], "", nil)
		require.NoError(t, err)
		require.False(t, right.Result.Exchange, "the right way round: %s", master)
	}
}

// Where nothing proves the master, it is said before any step that takes it for right.
func TestAnUnprovenMasterIsDoubted(t *testing.T) {
	b := core.NewBench()
	ids := board(t, b)
	c, err := b.Compare(ids["u41-not-erased"], ids["u41-reread-1"], "", nil)
	require.NoError(t, err)
	require.Contains(t, c.Result.Next[0], "Nothing in the master proves it")
	c, err = b.Compare(ids["u41"], ids["u41-not-erased"], "", nil)
	require.NoError(t, err)
	require.NotContains(t, c.Result.Next[0], "Nothing in the master proves it")
}

// U7 holds some of what U41 holds: zeros over blank space of the master are no older content.
func TestAnotherChipIsNotErased(t *testing.T) {
	b := core.NewBench()
	ids := board(t, b)
	for _, other := range []string{"u7-even", "u8-odd"} {
		c, err := b.Compare(ids["u41"], ids[other], "", nil)
		require.NoError(t, err)
		require.Equal(t, faults.Shares, c.Result.Relation)
		require.Contains(t, c.Result.Headline, "another chip or version that shares parts")
		require.NotContains(t, strings.ToLower(strings.Join(c.Result.Next, " ")), "erase")
		c, err = b.Compare(ids[other], ids["u41"], "", nil)
		require.NoError(t, err)
		require.True(t, c.Result.Exchange, "the larger one is the master")
	}
}

// What is said of erasing follows the kind of the chip, as the catalogue has it.
func TestErasingFollowsTheKindOfTheChip(t *testing.T) {
	rom := demoROM(t)
	older := bytes.Clone(rom)
	for i := range older {
		older[i] &= rom[(i+0x1240)%len(rom)]
	}
	b := core.NewBench()
	m, r := opened(t, b, "s1", "u41.bin", rom), opened(t, b, "s2", "read.bin", older)
	for device, want := range map[string]struct{ step, caution string }{
		"27C040":     {"UV-C light", faults.CautionErase},
		"29F040":     {"erase the chip with the reader, no lamp", faults.CautionReader},
		"mask-4M-40": {"neither erased nor burnt", ""},
	} {
		c, err := b.Compare(m, r, device, nil)
		require.NoError(t, err)
		require.Equal(t, faults.Underneath, c.Result.Relation)
		check, err := b.Blank(r, m, device)
		require.NoError(t, err)
		for _, said := range [][]string{c.Result.Next, check.Result.Next} {
			require.Contains(t, strings.Join(said, " "), want.step, device)
			require.Equal(t, device == "27C040", strings.Contains(strings.Join(said, " "), "UV"), device)
		}
		for _, cautions := range [][]string{c.Result.Cautions, check.Result.Cautions} {
			require.Equal(t, want.caution == faults.CautionErase, strings.Contains(strings.Join(cautions, " "), "UV"), device)
			if want.caution != "" {
				require.Contains(t, cautions, want.caution, device)
			}
		}
		if device == "mask-4M-40" {
			require.Equal(t, faults.CannotBurn, check.Result.Burn)
			require.Empty(t, c.Times+check.Times)
		}
	}
}

// What is said of several reads counts on the lines of the chip where its width is known.
func TestRereadsCountTheLinesOfTheChip(t *testing.T) {
	b := core.NewBench()
	ids := board(t, b)
	r, err := b.Rereads([]string{ids["u41-reread-1"], ids["u41-reread-2"], ids["u41-reread-3"]}, "27C400")
	require.NoError(t, err)
	require.Contains(t, strings.Join(r.Result.Reasons, "\n"), "of 16 lines")
	// (1 / 0.713)^42, the share and the number of bits as they are said, is 1.5 million.
	require.Contains(t, strings.Join(r.Result.Reasons, "\n"), "about 1 in 1.5 million: about 71.3 % of the steady bits around are 0")
}

// Light is not spoken of where the chip is erased by the reader, and no cell of a mask ROM leaks.
func TestRereadsFollowTheKindOfTheChip(t *testing.T) {
	b := core.NewBench()
	ids := board(t, b)
	for device, want := range map[string]struct {
		trouble faults.Trouble
		light   bool
	}{"27C400": {faults.Leaking, true}, "29F400": {faults.Leaking, false}, "mask-4M-40": {faults.CannotTell, false}} {
		r, err := b.Rereads([]string{ids["u41-reread-1"], ids["u41-reread-2"], ids["u41-reread-3"]}, device)
		require.NoError(t, err)
		require.Equal(t, want.trouble, r.Result.Trouble, device)
		require.Equal(t, want.light, strings.Contains(strings.Join(r.Result.Next, " "), "UV"), device)
	}
}

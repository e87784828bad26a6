package chips

import (
	"math/bits"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func fitsOf(known Known, view View, copies int) (list []string) {
	for _, fit := range Fits(known).Fits {
		if fit.View == view && fit.Copies == copies && fit.Writable {
			list = append(list, fit.Device)
		}
	}
	return list
}

// Capacities of the sheets: what 512 KiB, a lane of 32 KiB and 24 KiB go into, worked by hand.
func TestFits(t *testing.T) {
	whole := Known{Size: 512 << 10}
	assert.Equal(t, []string{"27C040", "29F040", "39SF040"}, fitsOf(whole, X8, 1))
	assert.Equal(t, []string{"27C4096", "27C400", "29F400"}, fitsOf(whole, X16, 1))
	assert.Equal(t, []string{"27C020", "39SF020A"}, fitsOf(whole, Pair, 1))
	assert.Equal(t, []string{"27C010", "29F010", "39SF010A"}, fitsOf(whole, Four, 1))
	assert.Equal(t, []string{"27C010", "29F010", "39SF010A"}, fitsOf(whole, Pairs, 1), "the same as two pairs on 16 bits")
	assert.Equal(t, []string{"27C800", "29F800"}, fitsOf(whole, X16, 2))
	assert.Equal(t, "512 KiB fill one 27C040, 29F040, 39SF040, 27C4096, 27C400 or 29F400; two 27C020 or 39SF020A; "+
		"four 27C010, 29F010 or 39SF010A.", Fits(whole).Answer)

	lane := Known{Size: 32 << 10, Lanes: 2, OrderSure: true}
	assert.Equal(t, []string{"27C256", "28C256"}, fitsOf(lane, Pair, 1))
	assert.Empty(t, fitsOf(lane, X8, 1))
	assert.Empty(t, fitsOf(lane, X16, 1))

	padded := Known{Size: 24 << 10}
	assert.Equal(t, []string{"27128"}, fitsOf(padded, Pair, 0))
	assert.Empty(t, fitsOf(padded, X8, 1))
	assert.Contains(t, Fits(padded).Answer, "No device that can be written has just 24 KiB")
}

// Four chips are two pairs on a bus of 16 bits and four lanes on one of 32: both are offered, with what each is for. A CPU that
// takes words of 16 bits (68000: M68000 Family Programmer's Reference Manual) is warned of one chip of eight bits.
func TestFourChipsEitherWay(t *testing.T) {
	remarks := func(known Known) string { return strings.Join(Fits(known).Remarks, " ") }
	first := func(known Known) View {
		fits := Fits(known).Fits
		return fits[slices.IndexFunc(fits, func(f Fit) bool { return f.Chips == 4 })].View
	}
	whole := Known{Size: 512 << 10, CPU: "68000", Word: 2}
	assert.Equal(t, Pairs, first(whole))
	assert.Equal(t, Four, first(Known{Size: 512 << 10, CPU: "PowerPC", Word: 4}))
	assert.Contains(t, remarks(whole), "two even/odd pairs where the board has 16 data lines (68000, 8086), and a byte lane each where it has 32")
	assert.Contains(t, remarks(whole), "68000 code is made of 16-bit words")
	assert.NotContains(t, remarks(Known{Size: 512 << 10}), "16-bit words")
	assert.NotContains(t, remarks(Known{Size: 32 << 10, Lanes: 4}), "pairs")
	titles := map[string]bool{}
	for _, fit := range Fits(whole).Fits {
		require.False(t, titles[strconv.Itoa(fit.Chips)+fit.Title], "%s is offered twice under one name", fit.Title)
		titles[strconv.Itoa(fit.Chips)+fit.Title] = true
	}
	assert.True(t, titles["427C010, UV EPROM / OTP, 128 KiB, DIP-32, two pairs on 16 bits"])
	assert.Empty(t, fitsOf(Known{Size: 384 << 10}, Pairs, 0), "half of it is at no address line")
}

// Properties of every fit at many sizes: the dump goes in, each device is named as fitting or as unfit, and as many lines
// are tied as the chip has halves to spare.
func TestEveryFitHolds(t *testing.T) {
	for _, size := range []int{1, 2, 3, 100, 2048, 4096, 5000, 8192, 24 << 10, 65535, 65536, 65537, 128 << 10, 512 << 10, 3 << 20, 4 << 20, 16 << 20, 17 << 20, 64 << 20} {
		for _, lanes := range []int{0, 1, 2, 4} {
			f := Fits(Known{Size: size, Lanes: lanes})
			seen := map[string]bool{}
			rank := 0
			for _, fit := range f.Fits {
				d, _ := ByID(fit.Device)
				seen[d.ID] = true
				require.GreaterOrEqual(t, fit.rank(), rank)
				rank = fit.rank()
				require.LessOrEqual(t, rank, worst)
				require.GreaterOrEqual(t, d.Capacity*fit.Chips, size)
				need := size / fit.Chips
				require.Equal(t, size, need*fit.Chips)
				require.Equal(t, d.Capacity-need, fit.Spare)
				if fit.Copies > 0 {
					require.Equal(t, d.Capacity, need*fit.Copies)
				}
				require.Equal(t, fit.View == X16, d.HasBits(16))
				halves := bits.TrailingZeros(uint(d.Capacity)) - bits.Len(uint(need-1))
				require.Len(t, fit.Ties, halves, "%d bytes in %s", size, d.ID)
				for _, tie := range fit.Ties {
					require.Equal(t, tie.Line, d.Pins[tie.Pin-1].Signal)
				}
			}
			for _, unfit := range f.Unfit {
				require.False(t, seen[unfit.Device])
				require.NotEmpty(t, unfit.Why)
				seen[unfit.Device] = true
			}
			require.Len(t, seen, 37)
		}
	}
}

func TestTies(t *testing.T) {
	d, _ := ByID("27C800")
	ties := d.Ties(512 << 10)
	require.Len(t, ties, 1)
	assert.Equal(t, Tie{"A18", 1, "either", ties[0].Why}, ties[0]) // S04 Figure 2A: pin 1 is A18
	assert.Contains(t, ties[0].Why, "may be tied to ground or to +5 V")
	assert.Empty(t, d.Ties(1<<20))
	d, _ = ByID("27C040")
	lines := []string{}
	for _, tie := range d.Ties(96 << 10) {
		lines = append(lines, tie.Line)
		assert.Equal(t, "low or high", tie.Level)
	}
	assert.Equal(t, []string{"A17", "A18"}, lines, "96 KiB use A0 to A16")
}

func TestWhatDoesNotFitSaysWhy(t *testing.T) {
	why := func(known Known, id string) string {
		unfit := Fits(known).Unfit
		i := slices.IndexFunc(unfit, func(u Unfit) bool { return u.Device == id })
		require.GreaterOrEqual(t, i, 0, id)
		return unfit[i].Why
	}
	assert.Equal(t, "It holds 64 KiB, the dump has 512 KiB; that is more than four of them hold.", why(Known{Size: 512 << 10}, "27C512"))
	assert.Equal(t, "It holds 256 KiB, the dump has 512 KiB.", why(Known{Size: 512 << 10}, "27C2048"))
	assert.Contains(t, why(Known{Size: 65537}, "27C1024"), "an odd number")
	assert.Contains(t, why(Known{Size: 65537}, "27C512"), "an odd number that cannot be dealt")
	assert.Contains(t, why(Known{Size: 32 << 10, Lanes: 2}, "27C400"), "join the lanes")
	assert.Contains(t, why(Known{Size: 2048}, "27C512"), "a smaller one is enough")
	assert.Contains(t, Fits(Known{}).Answer, "empty")
}

package chips

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func timesOf(t *testing.T, id string, lamp int) Times {
	d, ok := ByID(id)
	require.True(t, ok, id)
	times, err := TimesOf(d, lamp)
	require.NoError(t, err)
	return times
}

// Words times pulse, with the figures of the sheets named; the products are worked by hand.
func TestBurnTimes(t *testing.T) {
	for _, c := range []struct {
		id      string
		seconds float64
		says    string
	}{
		{"27C400", 26.2144, "262,144 words x 100 us = 26 s (S01)"},
		{"2764", 0.8192, "27C64: 8,192 bytes x 100 us = 0.8 s (S23)"}, // the sheet says: about 1 s for the chip
		{"27C512", 6.5536, "65,536 bytes x 100 us = 6.6 s; 3 min at most if every one took 25 pulses (S15)"},
		{"27C322", 104.8576, "2,097,152 words x 50 us = 105 s; 44 min at most if every one took 25 pulses (S02)"},
		{"27C010", 12.45184, "131,072 bytes x 95 us = 12 s, x 105 us = 14 s (S14)"},
		{"28C256", 1.536, "512 pages x 3 ms = 1.5 s, x 10 ms = 5.1 s (S30)"},
		{"2716", 102.4, "2,048 bytes x 50 ms = 102 s (from memory, check the data sheet)"},
	} {
		burn := timesOf(t, c.id, 0).Burn
		require.NotEmpty(t, burn, c.id)
		assert.InDelta(t, c.seconds, burn[0].Seconds, 1e-9, c.id)
		assert.True(t, strings.HasPrefix(burn[0].Sentence, c.says), burn[0].Sentence)
	}
	// S24 gives 420 s for all 8192 bytes of a 2764 without A.
	assert.InDelta(t, 420, timesOf(t, "2764", 0).Burn[1].Seconds, 0.01)
	assert.Equal(t, "About 26 s of pulses; the reader's own time for looking up, sending and verifying comes on top.",
		timesOf(t, "27C400", 0).Burning)
}

// The arithmetic of the sheets' dose and lamp: 15 W.s/cm2 at 12000 uW/cm2 is 15 / 0.012 = 1250 s, that is 20.8 min; twice
// the dose takes 41.7 min.
func TestEraseMinutes(t *testing.T) {
	for _, c := range []struct {
		want float64
		id   string
		lamp int
	}{
		{20.8333, "27C010", 0},
		{20.8333, "27C010", 12000},
		{41.6667, "27C160", 12000},
		{62.5, "27C010", 4000},
		{10, "27C4096", 25000},
	} {
		assert.InDelta(t, c.want, timesOf(t, c.id, c.lamp).Erase.MinutesLow, 0.001, "%s %d", c.id, c.lamp)
	}
	assert.Equal(t, "15 W.s/cm2 at least (S14): 20.8 min under 12,000 uW/cm2.", timesOf(t, "27C010", 0).Erase.Sentence)
	assert.Equal(t, "15 or 30 W.s/cm2 by maker (from memory, check the data sheet): 20.8 or 41.7 min under 12,000 uW/cm2.",
		timesOf(t, "2764", 0).Erase.Sentence)
}

func TestNoFigureIsSaidToBeNone(t *testing.T) {
	for _, id := range []string{"27C400", "27C800", "27C080"} {
		e := timesOf(t, id, 0).Erase
		assert.Zero(t, e.DoseLow, id)
		assert.Contains(t, e.Sentence, "No figure here, see the data sheet", id)
	}
	for _, id := range []string{"29F010", "29F800"} {
		times := timesOf(t, id, 0)
		assert.Empty(t, times.Burn)
		assert.Contains(t, times.Burning, "No figure here, see the data sheet", id)
	}
}

func TestKindsThatNeedNoLamp(t *testing.T) {
	for _, d := range All() {
		times := timesOf(t, d.ID, 0)
		switch d.Kind {
		case MaskROM:
			assert.Equal(t, "never", times.Erase.Way)
			assert.Contains(t, times.Burning, "cannot be burnt")
			assert.Empty(t, times.Burn)
		case EEPROM, Flash:
			assert.Equal(t, "electrical", times.Erase.Way)
			assert.Zero(t, times.Erase.Lamp)
		default:
			assert.Equal(t, "light", times.Erase.Way)
			assert.Contains(t, strings.Join(times.Cautions, " "), "harms eyes and skin")
			assert.NotContains(t, strings.Join(times.Cautions, " "), "VPP", "that belongs before burning")
			assert.Contains(t, d.BurnCautions()[0], "VPP "+d.VPP, "what destroys a chip comes first")
			assert.NotEmpty(t, times.Burn, d.ID)
		}
	}
}

// The numbers to reckon with stand in the catalogue's texts too: each figure is in the text of its row.
func TestFiguresAgreeWithTheCatalogue(t *testing.T) {
	for _, p := range pulses {
		d, ok := ByID(p.family)
		require.True(t, ok, p.family)
		for _, us := range []int{p.low, p.high} {
			if us != 51270 { // reckoned from 420 s
				figure := strings.TrimSuffix(strings.TrimSuffix(microseconds(us), " us"), " ms")
				assert.Contains(t, d.Pulse, figure, "%s: %d us", p.family, us)
			}
		}
		if p.source != "" {
			assert.Contains(t, d.Pulse, p.source, p.family)
		} else {
			assert.Contains(t, d.Pulse, "from memory", p.family)
		}
	}
	for _, row := range doses {
		d, ok := ByID(row.family)
		require.True(t, ok, row.family)
		assert.Contains(t, d.Erase, map[float64]string{15: "15", 30: "30"}[row.low], row.family)
		if row.source != "" {
			assert.Contains(t, d.Erase, row.source, row.family)
		} else {
			assert.Contains(t, d.Erase, "from memory", row.family)
		}
	}
}

func TestLampOutOfRange(t *testing.T) {
	d, _ := ByID("27C010")
	for _, lamp := range []int{-1, 1, 99, 200001} {
		_, err := TimesOf(d, lamp)
		require.Error(t, err)
		assert.Contains(t, err.Error(), "expected 100 to 200,000")
	}
}

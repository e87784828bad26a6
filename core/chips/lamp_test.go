package chips

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Irradiances as lamps print them: 1 mW is 1000 uW (SI prefixes).
func TestLamp(t *testing.T) {
	for text, want := range map[string]int{
		"": 0, " ": 0, "12000": 12000, "12,000": 12000, "12'000 uW/cm2": 12000, "12 mW": 12000, "12mW/cm2": 12000, "7.5 mW/cm²": 7500,
		"7,5 mw": 7500, "9000 µW/cm²": 9000, "100": 100, "200000": 200000, "0.1 mW": 100,
	} {
		got, err := Lamp(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for text, says := range map[string]string{
		"0":           "the lamp's irradiance is 0 uW/cm2, expected 100 to 200,000 uW/cm2; take it from the lamp's label",
		"12":          "expected 100 to 200,000 uW/cm2; if the lamp says mW/cm2, write 12 mW",
		"12000 mW":    "the lamp's irradiance is 12000 mW/cm2, expected",
		"0 mW":        "is 0 mW/cm2",
		"abc":         "is no number of uW/cm2 or mW/cm2; write it as 12000 or as 12 mW, or leave the field empty",
		"12 W":        "is no number",
		"1.2.3":       "is no number",
		"-5":          "is no number",
		"99999999999": "is no number",
		"mW":          "is no number",
	} {
		_, err := Lamp(text)
		require.ErrorContains(t, err, says, text)
	}
}

func FuzzLamp(f *testing.F) {
	for _, seed := range []string{"12 mW", "12000", "1e9", "NaN", ",", "µW", "0x10", "\xff"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if lamp, err := Lamp(text); err == nil && lamp != 0 {
			require.GreaterOrEqual(t, lamp, minLamp)
			require.LessOrEqual(t, lamp, maxLamp)
		}
	})
}

package sums

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
)

// A planted value is made in the slow way: arrange the whole, cut, pad, sum.
type planted struct {
	a                      arrange.Arrangement
	from, to, device, fill int
	isQuarter              bool
	sums                   []Sum
}

// plant makes every value that Explain should find in data, written down again from its promise and not from its code.
func plant(t *testing.T, data []byte, devices []int) (all []planted) {
	for _, a := range arrange.All() {
		image := a.Apply(data)
		n := len(image)
		if n == 0 {
			continue
		}
		isQuarter := false
		add := func(from, to, device, fill int) {
			part := image[from:to]
			if device > 0 {
				padded, err := arrange.Pad(part, device, byte(fill), arrange.Bottom)
				require.NoError(t, err)
				part = padded
			}
			all = append(all, planted{a, from, to, device, fill, isQuarter, All(part, nil, nil)})
		}
		add(0, n, 0, 0)
		if n%2 == 0 {
			add(0, n/2, 0, 0)
			add(n/2, n, 0, 0)
		}
		if n%4 == 0 {
			isQuarter = true
			for i := range 4 {
				add(i*n/4, (i+1)*n/4, 0, 0)
			}
			isQuarter = false
		}
		for _, erased := range []byte{0xFF, 0x00} {
			used := n
			for used > 0 && image[used-1] == erased {
				used--
			}
			if used > 0 && used < n {
				add(0, used, 0, 0)
			}
		}
		for _, device := range devices {
			if device > n && device <= 8*n {
				add(0, n, device, 0xFF)
				add(0, n, device, 0x00)
			}
		}
	}
	return all
}

// dumps are small ones of several kinds; their sizes let lanes and quarters be cut inside and outside of whole words.
func dumps() map[string][]byte {
	text := []byte(strings.Repeat("Halden HX-16 system ROM, board U41. ", 9))
	return map[string][]byte{
		"random":            randomBytes(256, 1),
		"trailing FF":       append(randomBytes(171, 2), constantBytes(85, 0xFF)...),
		"trailing 00":       append(randomBytes(90, 3), constantBytes(38, 0)...),
		"text":              text,
		"odd length":        randomBytes(203, 4),
		"three bytes":       {1, 2, 0xFF},
		"all FF":            constantBytes(64, 0xFF),
		"doubled":           arrange.Repeat(randomBytes(64, 5), 2),
		"blank but a byte":  append(constantBytes(63, 0xFF), 0x12),
		"as long as a chip": randomBytes(512, 6),
	}
}

var smallDevices = []int{512, 256, 128, 1024, 256, 100_000}

// valueFor returns text for a value of the given width that is as likely as any.
func valueFor(bits int) string { return strings.Repeat("5", bits/4) }

func TestEverythingPromisedIsTriedAndNothingElse(t *testing.T) {
	for name, data := range dumps() {
		all := plant(t, data, []int{128, 256, 512, 1024})
		for _, bits := range []int{8, 16, 32, 128, 160, 256} {
			expected, combinations := make(map[string]bool), 0
			for _, p := range all {
				if bits > 32 && (p.a.IsMirrored() || p.isQuarter) {
					continue
				}
				for _, sum := range p.sums {
					if sum.Bits == bits {
						expected[sum.Hex] = true
						combinations++
					}
				}
			}
			readings, _, err := parsePrinted("0x" + valueFor(bits))
			require.NoError(t, err)
			trial := newTrial(readings, []int{128, 256, 512, 1024}, nil)
			trial.run(data)
			found := make(map[string]bool)
			for sum := range trial.values[0] {
				found[sum] = true
			}
			require.Equal(t, expected, found, "%s, %d bits", name, bits)
			require.Equal(t, combinations, trial.combinations, "%s, %d bits", name, bits)
		}
	}
}

func TestPlantedValuesAreFound(t *testing.T) {
	random := rand.New(rand.NewSource(7))
	for name, data := range dumps() {
		all := plant(t, data, smallDevices)
		for i, row := range Catalogue() {
			p := all[random.Intn(len(all))]
			for row.Bits > 32 && (p.a.IsMirrored() || p.isQuarter) {
				p = all[random.Intn(len(all))]
			}
			value := p.sums[i].Hex
			e, err := Explain(data, value, smallDevices, nil)
			require.NoError(t, err)
			claim := fmt.Sprintf("%s: %s of %s, %d to %d, device %d of %02X", name, row.ID, p.a, p.from, p.to, p.device, p.fill)
			isPlanted := func(m Match) bool {
				return m.ID == row.ID && slices.Contains(m.Arrangements, p.a) &&
					m.From == p.from && m.To == p.to && m.Device == p.device && (p.device == 0 || int(m.Fill) == p.fill)
			}
			isWhole := func(m Match) bool { // with more or fewer zeros at the end
				return m.ID == row.ID && slices.Contains(m.Arrangements, p.a) && m.From == 0 && p.from == 0
			}
			require.True(t, slices.ContainsFunc(e.Matches, isPlanted) || slices.ContainsFunc(e.Matches, isWhole),
				"%s: %s is not among %d matches", claim, value, len(e.Matches))
			for _, m := range e.Matches {
				checkMatch(t, data, value, m, claim)
			}
			checkChances(t, e, len(value), claim)
		}
	}
}

// checkMatch does what a match says and compares.
func checkMatch(t *testing.T, data []byte, value string, m Match, claim string) {
	for _, a := range m.Arrangements {
		part := a.Apply(data)[m.From:m.To]
		if m.Device > 0 {
			padded, err := arrange.Pad(part, m.Device, m.Fill, arrange.Bottom)
			require.NoError(t, err)
			part = padded
		}
		require.Equal(t, value, byID(All(part, nil, nil))[m.ID], "%s: %s over %s, %s", claim, m.Name, m.Range, m.Order)
	}
}

// checkChances checks what holds of the chances of every explanation of a value typed in full.
func checkChances(t *testing.T, e Explanation, digits int, claim string) {
	require.InDelta(t, float64(e.Different)/math.Pow(16, float64(digits)), e.Chance, 1e-12, claim)
	require.LessOrEqual(t, e.Different, e.Combinations, claim)
	last := 1 / math.Pow(16, float64(digits))
	for _, m := range e.Matches {
		require.GreaterOrEqual(t, m.Chance, last, "%s: a later match has no smaller chance", claim)
		require.LessOrEqual(t, m.Chance, e.Chance, claim)
		last = m.Chance
	}
	if len(e.Matches) > 0 {
		require.Equal(t, e.Matches[0].Verdict, e.Verdict, claim)
	}
	if digits >= 8 && len(e.Matches) > 0 && e.Caution == "" {
		require.Equal(t, NearProof, e.Verdict, claim)
	}
}

// TestChanceOfTwoDigitsIsExact types all 256 values: as many as the stated chance says are matched, and no more than one
// in twenty is called better than nothing.
func TestChanceOfTwoDigitsIsExact(t *testing.T) {
	for name, data := range dumps() {
		matched, hints := 0, 0
		var chance float64
		for value := range 256 {
			e, err := Explain(data, fmt.Sprintf("%02X", value), smallDevices[:2], nil)
			require.NoError(t, err)
			if len(e.Matches) > 0 {
				matched++
			}
			if e.Verdict != Nothing {
				hints++
			}
			chance = e.Chance
			require.NotContains(t, []Verdict{NearProof, Likely}, e.Verdict, "two digits prove nothing")
		}
		assert.Equal(t, int(math.Round(256*chance)), matched, name)
		assert.LessOrEqual(t, hints, 256/20, name)
	}
}

// TestFalseAlarmsAreAsOftenAsStated types random values of four digits, and of five decimal ones, that have nothing to do
// with the dump: they are matched as often as the stated chances add up to, within four standard deviations.
func TestFalseAlarmsAreAsOftenAsStated(t *testing.T) {
	random := rand.New(rand.NewSource(8))
	for _, form := range []struct {
		format string
		below  int
	}{{"%04X", 1 << 16}, {"%05d", 100_000}} {
		tried, matched, likely := 0, 0, 0
		var expected float64
		for range 12 {
			data := randomBytes(256+4*random.Intn(20), random.Int63())
			copy(data[200:], constantBytes(40, []byte{0xFF, 0x00, 0x4E}[random.Intn(3)]))
			for range 50 {
				e, err := Explain(data, fmt.Sprintf(form.format, random.Intn(form.below)), []int{512}, nil)
				require.NoError(t, err)
				tried++
				expected += e.Chance
				if len(e.Matches) > 0 {
					matched++
					assert.NotEqual(t, NearProof, e.Verdict)
				}
				if e.Verdict == Likely {
					likely++
				}
			}
		}
		t.Logf("form %s: %d of %d unrelated values matched, %.1f expected; %d called likely",
			form.format, matched, tried, expected, likely)
		assert.InDelta(t, expected, matched, 4*math.Sqrt(expected), form.format)
		assert.LessOrEqual(t, likely, 4, "at most one in a thousand is called likely")
	}
}

func TestVerdictsAndAnswers(t *testing.T) {
	data := append(randomBytes(3000, 9), constantBytes(1096, 0xFF)...)
	of := func(id string, part []byte) string { return byID(All(part, nil, nil))[id] }
	decimal := func(hex string) string {
		value, err := strconv.ParseUint(hex, 16, 64)
		require.NoError(t, err)
		return fmt.Sprintf("%05d", value)
	}
	for _, example := range []struct {
		verdict       Verdict
		answer, value string
	}{
		{Likely, "{} is most likely the 16-bit byte sum, over the whole, in any byte order", of("byte-sum-16", data)},
		{Hint, "{} may be the 8-bit byte sum, over the whole, in any byte order: a hint, no more", of("byte-sum-8", data)},
		{NearProof, "{} is the CRC-32, over the whole, as stored", of("crc-32", data)},
		{NearProof, "{} is the CRC-32, over the second half, bytes swapped in 16-bit words",
			of("crc-32", arrange.Swapped.Apply(data)[2048:])},
		{NearProof, "{} is the CRC-32, over the whole without its trailing FF, as stored", of("crc-32", data[:3000])},
		{NearProof, "{} is the Adler-32, over the whole, odd byte lane", of("adler-32", arrange.Lane(1, 2).Apply(data))},
		{NearProof, "{} is the SHA-1, over the whole, filled with FF to 8 KiB, as stored",
			strings.ToUpper(of("sha-1", append(slices.Clone(data), constantBytes(4096, 0xFF)...)))},
		{NearProof, "{} is the POSIX cksum (with the length), over the whole, as stored", decimal(of("cksum", data))},
		{Likely, "{} is most likely the BSD sum (rotate right and add), over the whole, as stored",
			decimal(of("bsd-sum", data))},
		{Nothing, "nothing that was tried gives {}", "DEADBEEF"},
	} {
		e, err := Explain(data, example.value, nil, nil)
		require.NoError(t, err)
		assert.Equal(t, strings.Replace(example.answer, "{}", example.value, 1), e.Answer)
		assert.Equal(t, example.verdict, e.Verdict, e.Answer)
		assert.NotEmpty(t, e.Odds)
		assert.NotEmpty(t, e.Tried)
	}
}

func TestWhatWasTriedIsSaid(t *testing.T) {
	e, err := Explain(randomBytes(96<<10, 9), "12345678", nil, nil)
	require.NoError(t, err)
	tried := strings.Join(e.Tried, "\n")
	for _, part := range []string{"CRC-32;", "Adler-32; the plain sums negated", "mirrored bits", "quarters",
		"to 128 KiB, 256 KiB and 512 KiB;", fmt.Sprint(e.Combinations/1000, ",")} {
		assert.Contains(t, tried, part)
	}
	e, err = Explain(randomBytes(96<<10, 9), valueFor(128), []int{1 << 20}, nil)
	require.NoError(t, err)
	tried = strings.Join(e.Tried, "\n")
	assert.NotContains(t, tried, "mirrored")
	assert.NotContains(t, tried, "quarters")
	assert.Contains(t, tried, "filled up to no larger device; each lane")
}

func TestZerosAndOnesAreAtMostAHint(t *testing.T) {
	for _, value := range []string{"00000000", "FFFFFFFF", "0000", "ffffffffffffffffffffffffffffffff"} {
		e, err := Explain(make([]byte, 4096), value, nil, nil)
		require.NoError(t, err)
		assert.NotContains(t, []Verdict{NearProof, Likely}, e.Verdict, value)
	}
	e, err := Explain(make([]byte, 4096), "00000000", nil, nil)
	require.NoError(t, err)
	assert.Equal(t, "in any byte order, bits mirrored or not", e.Matches[0].Order)
	assert.NotEmpty(t, e.Caution)
}

func TestProgressOfExplainRisesToOne(t *testing.T) {
	var shares []float64
	_, err := Explain(make([]byte, 1<<20), "12345678", nil, func(share float64) { shares = append(shares, share) })
	require.NoError(t, err)
	assert.True(t, slices.IsSorted(shares))
	assert.Equal(t, 1.0, shares[len(shares)-1])
	assert.Greater(t, len(shares), 5)
}

func TestExplainRefusesWhatItCannotDo(t *testing.T) {
	_, err := Explain(nil, "1A2B", nil, nil)
	assert.EqualError(t, err, "the dump is empty: there is nothing to sum")
	_, err = Explain([]byte{1}, "12G4", nil, nil)
	assert.ErrorContains(t, err, `character 3, "G", is not a hex digit`)
}

func ExampleExplain() {
	dump := []byte("123456789")
	explanation, _ := Explain(dump, "0xCBF43926", nil, nil)
	fmt.Println(explanation.Answer)
	fmt.Println(explanation.Odds)
	// Output:
	// CBF43926 is the CRC-32, over the whole, as stored
	// chance that an unrelated value is matched so early in the list: 1 in 2,147,483,648; by anything tried: 1 in 11,639,478
}

package words

import (
	"math"
	"math/big"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFill(t *testing.T) {
	for _, c := range []struct {
		want, template string
		parts          []string
	}{
		{"line 14: record checksum is 3A, computed 3B", "line {}: record checksum is {}, computed {}", []string{"14", "3A", "3B"}},
		{"nothing to fill", "nothing to fill", nil},
		{"", "", nil},
		{"", "", []string{"too many"}},
		{"a b {}", "a {} {}", []string{"b"}},
		{"{}", "{}", nil},
		{"a b", "a {}", []string{"b", "too many"}},
		{"ab", "{}{}", []string{"a", "b"}},
		{"-", "{}-{}", []string{"", ""}},
		{"a {} b c", "a {} {} {}", []string{"{}", "b", "c"}},
		{"{}{} b", "{} {}", []string{"{}{}", "b"}},
		{"{} and {}", "{} and {}", []string{"{}", "{}"}},
		{"{x}", "{{}}", []string{"x"}},
		{"{ } }{ x", "{ } }{ {}", []string{"x"}},
		{"100 % of %d", "{} % of %d", []string{"100"}},
		{"Größe: 1 µs", "Größe: {} µs", []string{"1"}},
	} {
		assert.Equal(t, c.want, Fill(c.template, c.parts...), "%q %q", c.template, c.parts)
	}
}

func TestSize(t *testing.T) {
	for _, c := range []struct {
		want string
		n    int
	}{
		{"0 bytes", 0},
		{"1 byte", 1},
		{"2 bytes", 2},
		{"1,000 bytes", 1000},
		{"1,023 bytes", 1023},
		{"1 KiB", 1024},
		{"1,025 bytes", 1025},
		{"1,536 bytes", 1536},
		{"512 KiB", 512 << 10},
		{"524,287 bytes", 512<<10 - 1},
		{"1,023 KiB", 1023 << 10},
		{"1 MiB", 1 << 20},
		{"1,025 KiB", 1<<20 + 1<<10},
		{"64 MiB", 64 << 20},
		{"1,024 MiB", 1 << 30},
		{"9,223,372,036,854,775,807 bytes", math.MaxInt},
		{"-1 bytes", -1},
		{"-1 KiB", -1024},
		{"-8,796,093,022,208 MiB", math.MinInt},
	} {
		assert.Equal(t, c.want, Size(c.n), "%d", c.n)
	}
}

func TestCount(t *testing.T) {
	for _, c := range []struct {
		want string
		n    int
	}{
		{"0", 0},
		{"9", 9},
		{"12", 12},
		{"123", 123},
		{"999", 999},
		{"1,000", 1000},
		{"2,088", 2088},
		{"99,999", 99999},
		{"100,000", 100000},
		{"1,000,000", 1000000},
		{"9,223,372,036,854,775,807", math.MaxInt},
		{"-1", -1},
		{"-123", -123},
		{"-1,234", -1234},
		{"-123,456", -123456},
		{"-9,223,372,036,854,775,808", math.MinInt},
	} {
		assert.Equal(t, c.want, Count(c.n))
	}
}

func TestCountIsTheNumberInGroupsOfThree(t *testing.T) {
	grouped := regexp.MustCompile(`^-?[0-9]{1,3}(,[0-9]{3})*$`)
	for n := 1; n < math.MaxInt/7; n *= 7 {
		for _, signed := range []int{n, -n, n + 1, n - 1} {
			text := Count(signed)
			assert.Regexp(t, grouped, text)
			assert.Equal(t, strconv.Itoa(signed), strings.ReplaceAll(text, ",", ""))
		}
	}
}

func TestPlural(t *testing.T) {
	assert.Equal(t, "0 bytes", Plural(0, "byte"))
	assert.Equal(t, "1 byte", Plural(1, "byte"))
	assert.Equal(t, "2 blocks", Plural(2, "block"))
	assert.Equal(t, "1,000 lines", Plural(1000, "line"))
	assert.Equal(t, "-1 bytes", Plural(-1, "byte"))
}

func TestHex(t *testing.T) {
	for _, c := range []struct {
		want   string
		value  uint64
		digits int
	}{
		{"0", 0, 0},
		{"0", 0, 1},
		{"00", 0, 2},
		{"0A", 10, 2},
		{"A", 10, 0},
		{"A", 10, -3},
		{"CBF43926", 0xCBF43926, 8},
		{"CBF43926", 0xCBF43926, 2},
		{"0000000000000001", 1, 16},
		{"FFFFFFFFFFFFFFFF", math.MaxUint64, 8},
	} {
		assert.Equal(t, c.want, Hex(c.value, c.digits))
	}
}

func TestByteAndAddress(t *testing.T) {
	assert.Equal(t, "00", Byte(0))
	assert.Equal(t, "0F", Byte(15))
	assert.Equal(t, "FF", Byte(255))
	assert.Equal(t, "000000", Address(0))
	assert.Equal(t, "001FF0", Address(0x1FF0))
	assert.Equal(t, "FFFFFF", Address(0xFFFFFF))
	assert.Equal(t, "1000000", Address(0x1000000))
	assert.Equal(t, "7FFFFFFFFFFFFFFF", Address(math.MaxInt))
}

func TestShare(t *testing.T) {
	for _, c := range []struct {
		want        string
		part, whole int
	}{
		{"0 %", 0, 0},
		{"0 %", 0, 1},
		{"0 %", 5, 0},
		{"0 %", -1, 10},
		{"0 %", 1, -10},
		{"100 %", 1, 1},
		{"100 %", 512, 512},
		{"100 %", 2, 1},
		{"50.0 %", 1, 2},
		{"2.9 %", 29, 1000},
		{"33.3 %", 1, 3},
		{"66.7 %", 2, 3},
		{"0.1 %", 1, 1000},
		{"under 0.1 %", 1, 1001},
		{"under 0.1 %", 1, 64 << 20},
		{"under 0.1 %", 1, math.MaxInt},
		{"0.1 %", 149, 100000},
		{"0.2 %", 151, 100000},
		{"99.9 %", 999, 1000},
		{"99.8 %", 99849, 100000},
		{"over 99.9 %", 99901, 100000},
		{"over 99.9 %", 9996, 10000},
		{"over 99.9 %", 64<<20 - 1, 64 << 20},
		{"over 99.9 %", math.MaxInt - 1, math.MaxInt},
		{"100 %", math.MaxInt, math.MaxInt},
	} {
		assert.Equal(t, c.want, Share(c.part, c.whole), "%d of %d", c.part, c.whole)
	}
}

func TestOnlyNoneAndAllAreSaidToBe(t *testing.T) {
	for _, whole := range []int{1, 7, 999, 1000, 1001, 4096} {
		for part := range whole + 1 {
			text := Share(part, whole)
			require.Equal(t, part == 0, text == "0 %" || text == "0.0 %", "%d of %d is %s", part, whole, text)
			require.Equal(t, part == whole, text == "100 %" || text == "100.0 %", "%d of %d is %s", part, whole, text)
		}
	}
}

func TestDecimal(t *testing.T) {
	for _, c := range []struct {
		want     string
		x        float64
		decimals int
	}{
		{"7.98", 7.984, 2},
		{"8.00", 7.996, 2},
		{"8", 7.6, 0},
		{"0.00", 0, 2},
		{"0.00", math.Copysign(0, -1), 2},
		{"0.00", -0.004, 2},
		{"0", -0.4, 0},
		{"-0.01", -0.006, 2},
		{"-10.0", -10, 1},
		{"1000000.5", 1000000.5, 1},
	} {
		assert.Equal(t, c.want, Decimal(c.x, c.decimals), "%v", c.x)
	}
}

func TestOneIn(t *testing.T) {
	for _, c := range []struct {
		want string
		bits float64
	}{
		{"to be expected", 0},
		{"to be expected", -3},
		{"to be expected", math.Inf(-1)},
		{"to be expected", math.NaN()},
		{"to be expected", 0.5}, // 1 in 1.41
		{"1 in 2", 0.6},         // 1 in 1.52
		{"1 in 2", 1},
		{"1 in 256", 8},
		{"1 in 65,536", 16},
		{"1 in 4,294,967,296", 32},
		{"1 in 10^18", 60},
		{"1 in 10^19", 64},
		{"1 in 10^38", 128},
		{"1 in 10^77", 256},
	} {
		assert.Equal(t, c.want, OneIn(c.bits), "%v bits", c.bits)
	}
}

// Whole numbers of bits, against integers that have no rounding: exact below 60 bits, above them the power of ten that
// is one less than the number of decimal digits.
func TestOneInIsAPowerOfTwo(t *testing.T) {
	for bits := uint(1); bits < 5000; bits++ {
		exact := new(big.Int).Lsh(big.NewInt(1), bits).String()
		want := "1 in 10^" + strconv.Itoa(len(exact)-1)
		if bits < 60 {
			want = "1 in " + exact
		}
		require.Equal(t, want, strings.ReplaceAll(OneIn(float64(bits)), ",", ""), "%d bits", bits)
	}
}

// Tenths of a bit, against the same integers: the tenth power of the number said is 2 to the power of the tenths, but for
// the half that rounding to a whole number costs and one part in 2^47 that the float of so many bits leaves open.
func TestOneInOfTenthsOfABit(t *testing.T) {
	ten := big.NewInt(10)
	for tenths := 7; tenths < 600; tenths++ {
		text := OneIn(float64(tenths) / 10)
		said, ok := new(big.Int).SetString(strings.ReplaceAll(strings.TrimPrefix(text, "1 in "), ",", ""), 10)
		require.True(t, ok, text)
		// In 64ths of the number, so that a half and the small part are integers too.
		said.Lsh(said, 6)
		open := new(big.Int).Rsh(said, 47)
		open.Add(open, big.NewInt(32))
		low, high := new(big.Int).Sub(said, open), new(big.Int).Add(said, open)
		exact := new(big.Int).Lsh(big.NewInt(1), uint(tenths)+6*10)
		require.LessOrEqual(t, low.Exp(low, ten, nil).Cmp(exact), 0, "%s for %d tenths", text, tenths)
		require.GreaterOrEqual(t, high.Exp(high, ten, nil).Cmp(exact), 0, "%s for %d tenths", text, tenths)
	}
	for tenths := 600; tenths < 5000; tenths++ {
		power, err := strconv.Atoi(strings.TrimPrefix(OneIn(float64(tenths)/10), "1 in 10^"))
		require.NoError(t, err)
		exact := new(big.Int).Lsh(big.NewInt(1), uint(tenths)) // the tenth power of the number, as is ten to 10*power
		require.Equal(t, power, (len(exact.String())-1)/10, "%d tenths", tenths)
	}
}

func TestList(t *testing.T) {
	assert.Equal(t, "", List(nil))
	assert.Equal(t, "D0", List([]string{"D0"}))
	assert.Equal(t, "D0 and D1", List([]string{"D0", "D1"}))
	assert.Equal(t, "D0, D1 and D2", List([]string{"D0", "D1", "D2"}))
	assert.Equal(t, "A0, A1, A2 and A3", List([]string{"A0", "A1", "A2", "A3"}))
}

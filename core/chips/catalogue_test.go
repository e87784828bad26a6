package chips

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the packages of the trade have, from outside the table: the pins of a supply and of the grounds by package and
// number of data lines. 24, 28 and 32 pins: the corners, "JEDEC standard" by S10, S28, S30 and S36. 40 pins with eight and
// sixteen lines: S01 Figure 2 and S05 Figure 2A. 42 pins: S02 Figure 2A, S03 Figure 2. 44 pins: S37, S38 Figure 3.
var supplies = map[string]struct{ vcc, gnd []int }{
	"DIP-24":           {[]int{24}, []int{12}},
	"DIP-28":           {[]int{28}, []int{14}},
	"DIP-32":           {[]int{32}, []int{16}},
	"DIP-40":           {[]int{40}, []int{11, 30}},
	"DIP-40 byte/word": {[]int{21}, []int{11, 30}},
	"DIP-42":           {[]int{22}, []int{12, 31}},
	"SOP-44":           {[]int{23}, []int{13, 32}},
}

func TestCatalogueHas37Families(t *testing.T) {
	assert.Len(t, All(), 37)
	seen := map[string]bool{}
	for _, d := range All() {
		assert.False(t, seen[d.ID], "%s twice", d.ID)
		seen[d.ID] = true
		found, ok := ByID(d.ID)
		assert.True(t, ok)
		assert.Equal(t, d, found)
	}
	_, ok := ByID("27C401")
	assert.False(t, ok)
}

func TestEveryPinHasOneSignalOfItsSort(t *testing.T) {
	for _, d := range All() {
		t.Run(d.ID, func(t *testing.T) {
			_, count, _ := strings.Cut(d.Package, "-")
			assert.Equal(t, count, strconv.Itoa(d.PinCount), "the package's name says how many pins")
			require.Len(t, d.Pins, d.PinCount)
			seen := map[string]int{}
			for i, pin := range d.Pins {
				assert.Equal(t, i+1, pin.Number)
				assert.NotEqual(t, roleless, pin.Role, "signal %s", pin.Signal)
				if pin.Role != Ground && pin.Role != Unwired {
					assert.Zero(t, seen[pin.Signal], "%s on pins %d and %d", pin.Signal, seen[pin.Signal], pin.Number)
				}
				seen[pin.Signal] = pin.Number
			}
		})
	}
}

// The capacity stands in a row as its sheet prints it; the lines on the pins must reach just that far.
func TestAddressAndDataLinesMatchTheCapacity(t *testing.T) {
	for _, d := range All() {
		addresses, data, byteMode := 0, 0, false
		for _, pin := range d.Pins {
			switch {
			case pin.Role == Address:
				addresses++
			case pin.Role == Data:
				data++
				byteMode = byteMode || pin.Signal == "D15/A-1"
			}
		}
		for i := range addresses {
			_, ok := PinOf(d, "A"+strconv.Itoa(i))
			assert.True(t, ok, "%s has %d address lines, but no A%d", d.ID, addresses, i)
		}
		for i := range data {
			_, ok := PinOf(d, "D"+strconv.Itoa(i))
			assert.True(t, ok, "%s has %d data lines, but no D%d", d.ID, data, i)
		}
		assert.Equal(t, d.Capacity*8, 1<<addresses*data, "%s: bits on the lines", d.ID)
		assert.Equal(t, byteMode, d.HasBits(8) && d.HasBits(16), "%s: D15/A-1 and byte mode", d.ID)
		assert.Equal(t, byteMode, len(d.Pin("BYTE")) == 1, "%s: BYTE and byte mode", d.ID)
		for _, mode := range d.Modes {
			assert.Equal(t, d.Capacity, mode.Words*mode.Bits/8, "%s %s", d.ID, mode.When)
			assert.LessOrEqual(t, mode.Bits, data, d.ID)
		}
	}
}

func TestSuppliesAreWhereThePackageHasThem(t *testing.T) {
	for _, d := range All() {
		layout := d.Package
		if layout == "DIP-40" && d.HasBits(8) {
			layout += " byte/word"
		}
		assert.Equal(t, supplies[layout].vcc, d.Pin("VCC"), d.ID)
		assert.Equal(t, supplies[layout].gnd, d.Pin("GND"), d.ID)
	}
}

// Which control pins a kind of device has: a chip that is written needs a way to be.
func TestControlPinsSuitTheKind(t *testing.T) {
	for _, d := range All() {
		vpp, we := len(d.Pin("VPP")), len(d.Pin("WE"))
		assert.Len(t, d.Pin("CE"), 1, d.ID)
		switch d.Kind {
		case UV, UVorOTP:
			assert.Equal(t, []int{1, 0}, []int{vpp, we}, "%s: VPP, WE", d.ID)
		case EEPROM, Flash:
			assert.Equal(t, []int{0, 1}, []int{vpp, we}, "%s: VPP, WE", d.ID)
		case MaskROM:
			assert.Equal(t, []int{0, 0}, []int{vpp, we}, "%s: VPP, WE", d.ID)
			assert.Empty(t, d.Pin("PGM"), d.ID)
		default:
			t.Errorf("%s has the kind %q", d.ID, d.Kind)
		}
		if d.ID != "mask-1M-28" { // A16 is where its OE would be
			assert.Len(t, d.Pin("OE"), 1, d.ID)
		}
	}
}

func TestEverySourceHasATitleAndIsUsed(t *testing.T) {
	used := map[string]bool{}
	for _, d := range All() {
		texts := append([]string{d.VPP, d.VCC, d.Pulse, d.Signature, d.Erase, d.Compared}, d.Notes...)
		for _, source := range d.Sources {
			assert.NotEmpty(t, source.Title, "%s of %s", source.Number, d.ID)
			assert.NotContains(t, source.Title, "\n")
			used[source.Number] = true
		}
		for _, word := range strings.FieldsFunc(strings.Join(texts, " "), func(r rune) bool { return !strings.ContainsRune("S0123456789", r) }) {
			if len(word) == 3 && word[0] == 'S' {
				assert.True(t, slices.ContainsFunc(d.Sources, func(s Source) bool { return s.Number == word }), "%s names %s", d.ID, word)
			}
		}
	}
	for _, line := range strings.Split(strings.TrimSuffix(sourceTitles, "\n"), "\n") {
		assert.True(t, used[line[:3]], "%s is used by no row", line[:3])
	}
	assert.Len(t, strings.Split(strings.TrimSuffix(sourceTitles, "\n"), "\n"), 43)
	assert.Equal(t, "", sourceTitle("S44"))
}

// Whatever was not read in a sheet of the part says so.
func TestStatusIsKept(t *testing.T) {
	counted := map[Status]int{}
	for _, d := range All() {
		counted[d.Status]++
		assert.NotEmpty(t, d.Standing, d.ID)
		if d.Status == Confirmed {
			assert.NotEmpty(t, d.Compared, "%s: confirmed by which drawing?", d.ID)
			assert.NotEmpty(t, d.Sources, d.ID)
		} else {
			assert.Contains(t, d.Standing, "data sheet", d.ID)
		}
		for _, text := range append([]string{d.VPP, d.VCC, d.Pulse, d.Signature, d.Erase}, d.Notes...) {
			assert.NotContains(t, text, "(memory)", d.ID)
		}
	}
	assert.Equal(t, map[Status]int{Confirmed: 14, Sibling: 6, Partly: 2, Memory: 15}, counted)
}

func TestPins(t *testing.T) {
	d, _ := ByID("27C400")
	assert.Equal(t, []int{32}, d.Pin("A16"))
	assert.Equal(t, []int{11, 30}, d.Pin("GND"))
	for _, name := range []string{"BYTE", "VPP", "BYTE/VPP"} {
		assert.Equal(t, []int{31}, d.Pin(name))
	}
	for _, name := range []string{"", "A18", "A", "D16", "NC", "/"} {
		assert.Empty(t, d.Pin(name), name)
	}
	pin, ok := PinOf(d, "D15")
	assert.True(t, ok)
	assert.Equal(t, Pin{29, "D15/A-1", Data}, pin)
	pin, _ = PinOf(d, "A-1")
	assert.Equal(t, 29, pin.Number)
	_, ok = PinOf(d, "GND")
	assert.False(t, ok, "two pins are not one line")
}

func TestAddressLine(t *testing.T) {
	wide, _ := ByID("27C400")
	narrow, _ := ByID("27C020")
	assert.Equal(t, "", wide.AddressLine(0, 16))
	assert.Equal(t, "A0", wide.AddressLine(1, 16))
	assert.Equal(t, "A17", wide.AddressLine(18, 16))
	assert.Equal(t, "A-1", wide.AddressLine(0, 8))
	assert.Equal(t, "A17", wide.AddressLine(18, 8))
	assert.Equal(t, "A0", narrow.AddressLine(0, 8))
	assert.Equal(t, "A17", narrow.AddressLine(17, 8))
}

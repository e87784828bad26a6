package chips

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/words"
)

// "42-pin DIP to 44-pin SOP: DIP pin n is SOP pin n+1", with the differences that testdata/seatings.md lists.
func TestDIPToSOP(t *testing.T) {
	for _, c := range []struct {
		old, new string
		differs  []string
	}{
		{"27C800", "29F800", []string{"32 BYTE/VPP -> 33 BYTE", "42 NC -> 43 WE", "SOP only 1 RY/BY", "SOP only 44 RESET"}},
		{"27C160", "29F160", []string{"32 BYTE/VPP -> 33 BYTE", "SOP only 1 RESET", "SOP only 44 WE"}},
	} {
		d := DropIn(device(t, c.old), device(t, c.new))
		var found, only []string
		for _, row := range d.Rows {
			switch {
			case row.OldPin == 0:
				only = append(only, "SOP only "+strconv.Itoa(row.NewPin)+" "+row.NewSignal)
			case row.Agreement != Same:
				require.Equal(t, row.OldPin+1, row.NewPin)
				found = append(found, strconv.Itoa(row.OldPin)+" "+row.OldSignal+" -> "+strconv.Itoa(row.NewPin)+" "+row.NewSignal)
			}
		}
		assert.Equal(t, c.differs, append(found, only...))
		assert.False(t, d.SamePlugs)
		assert.Contains(t, d.Answer, "does not go into the place")
	}
}

// "Same pin count, different pinout (straight in the wrong socket)" of testdata/seatings.md: how many pins agree.
func TestSamePinCountOtherPinout(t *testing.T) {
	for _, row := range workedTables(t, "Pinouts that nest")[1] {
		d := DropIn(device(t, row[1]), device(t, row[0]))
		assert.Equal(t, row[2], strconv.Itoa(d.Same)+" of "+strconv.Itoa(len(d.Rows)))
		assert.Equal(t, Wrong, d.Verdict)
		assert.Contains(t, d.Answer, "does not drop into the place")
		assert.True(t, d.SamePlugs)
	}
}

func TestDropIn(t *testing.T) {
	for _, c := range []struct {
		verdict  Agreement
		old, new string
		says     string
	}{
		{Same, "27C400", "27C400", "all 40 pins have the same signal"},
		{Alike, "mask-4M-40", "27C400", "drops into the place of a mask-4M-40 for reading: 39 of 40"}, // S01: mask ROM replacement
		{Alike, "mask-23512", "27C512", "the others make no difference"},
		{Fixed, "mask-1M-32", "27C010", "2 pins need a fixed level"}, // VPP and PGM on NC
		{Wrong, "27C256", "28C256", "does not drop into"},
		{Wrong, "27C160", "27C400", "A 27C400 does not take the place of a 27C160: it holds 512 KiB where the board reads 2 MiB, so 1,536 KiB of the ROM are missing."},
		{Wrong, "27C322", "27C160", "It holds only 2 MiB of the 4 MiB that the board reads"},
		{Fixed, "27C010", "27C020", "It holds 256 KiB and the board reads 128 KiB: write the image twice."},
		{Wrong, "27C400", "27C040", "it takes two such chips"},
		{Wrong, "27C040", "27C4096", "No adapter of wires alone does it"},
	} {
		d := DropIn(device(t, c.old), device(t, c.new))
		assert.Equal(t, c.verdict, d.Verdict, "%s for %s", c.new, c.old)
		assert.Contains(t, d.Answer, c.says)
	}
	d := DropIn(device(t, "27C010"), device(t, "mask-1M-28"))
	assert.Contains(t, strings.Join(d.Remarks, " "), "has no OE")
	d = DropIn(device(t, "27C160"), device(t, "27C322"))
	assert.Contains(t, strings.Join(d.Remarks, " "), "only a board that reads words")
}

// What a chip holds is in the answer, whichever the two are: none that holds less takes the other's place.
func TestCapacityIsInTheAnswer(t *testing.T) {
	for _, old := range All() {
		for _, new := range All() {
			d := DropIn(old, new)
			if new.Capacity < old.Capacity {
				require.Equal(t, Wrong, d.Verdict)
				require.NotContains(t, d.Answer, "drops into")
				require.Contains(t, d.Answer, "of the ROM")
			}
			require.Equal(t, new.Capacity != old.Capacity, strings.Contains(d.Answer, words.Size(new.Capacity)+" "), d.Answer)
		}
	}
}

// Every device in the place of every other: what stands on the old places reaches the new chip's pins through the adapter
// so that it reads what the board asks for, and its data lines come out where the board expects them.
func TestAdaptersReadRightly(t *testing.T) {
	adapters := 0
	for _, old := range All() {
		for _, new := range All() {
			a := DropIn(old, new).Adapter
			wide, board := new.HasBits(16), 8
			if old.HasBits(16) {
				board = 16
			}
			if impossible := !wide && board == 16 || board == 8 && !new.HasBits(8); impossible {
				require.NotEmpty(t, a.Refusal)
				require.Empty(t, a.Wires)
				require.Empty(t, a.Text)
				continue
			}
			require.Empty(t, a.Refusal, "%s for %s", new.ID, old.ID)
			adapters++
			require.Len(t, a.Wires, new.PinCount)
			for _, word := range []int{0, 0x555, old.Capacity*8/board - 1} {
				checkAdapter(t, old, new, a, board, word)
			}
			for _, line := range strings.Split(a.Text, "\n") {
				require.LessOrEqual(t, len(line), 105)
			}
		}
	}
	assert.Greater(t, adapters, 500)
}

// checkAdapter has a board with so many data lines ask an old place for a word and looks what the new chip is asked for.
func checkAdapter(t *testing.T, old, new Device, a Adapter, board, word int) {
	name := new.ID + " for " + old.ID
	levels := map[string]int{"VCC": 1, "GND": 0, "CE": 0, "OE": 0, "WE": 1, "PGM": 1, "RESET": 1, "BYTE": board / 16}
	for i := range 24 {
		levels["A"+strconv.Itoa(i)] = word >> i & 1
	}
	asked, byteMode := 0, false
	data := map[string]string{} // line of the board -> line of the chip
	for i, wire := range a.Wires {
		pin := new.Pins[i]
		if wire.OldPin == 0 {
			require.Contains(t, []Role{Unwired, Ready, Data}, pin.Role, "%s: %s is open", name, pin.Signal)
			continue
		}
		require.Equal(t, wire.OldSignal, old.Pins[wire.OldPin-1].Signal)
		place := base(wire.OldSignal)
		signal := base(pin.Signal)
		level := levels[place]
		switch {
		case pin.Role == Address:
			n, _ := strconv.Atoi(signal[1:])
			asked |= level << (n + 1)
		case signal == "D15/A-1" && place == "A0":
			asked |= level
			byteMode = true
		case pin.Role == Data:
			theirs, _, _ := strings.Cut(place, "/")
			data[theirs], _, _ = strings.Cut(signal, "/")
		case signal == "BYTE":
			require.Equal(t, level, board/16, name)
		case signal == "VPP":
			require.Equal(t, "VCC", place)
		default:
			require.Equal(t, levels[signal], level, "%s: %s on %s", name, signal, place)
		}
	}
	if !byteMode {
		asked >>= 1
	}
	require.Equal(t, new.HasBits(16) && board == 8, byteMode, name)
	require.Equal(t, word&(new.Capacity*8/board-1), asked, "%s: word %X", name, word)
	require.Len(t, data, board, name)
	for theirs, ours := range data {
		require.Equal(t, theirs, ours, name)
	}
}

// Agreement of the pins does not depend on which way it is asked where both are the same.
func TestEveryDeviceDropsIntoItsOwnPlace(t *testing.T) {
	for _, d := range All() {
		drop := DropIn(d, d)
		assert.Equal(t, Same, drop.Verdict, d.ID)
		assert.Zero(t, drop.Matter)
		for _, wire := range drop.Adapter.Wires {
			if wire.OldPin > 0 && !d.Pins[wire.NewPin-1].Carries("PGM") && wire.NewSignal != "VPP" { // these are held at +5 V
				assert.Equal(t, wire.NewSignal, wire.OldSignal, d.ID)
			}
		}
	}
}

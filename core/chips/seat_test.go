package chips

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// workedTables returns the tables of testdata/seatings.md that follow a heading, each a list of rows of cells.
func workedTables(t *testing.T, heading string) (tables [][][]string) {
	text, err := os.ReadFile(filepath.Join("testdata", "seatings.md"))
	require.NoError(t, err)
	_, after, found := strings.Cut(string(text), "\n## "+heading)
	require.True(t, found, heading)
	section, _, _ := strings.Cut(after, "\n## ")
	var table [][]string
	for _, line := range append(strings.Split(section, "\n"), "") {
		if strings.HasPrefix(line, "|") {
			cells := strings.Split(strings.Trim(line, "|"), "|")
			for i := range cells {
				cells[i] = strings.TrimSpace(cells[i])
			}
			table = append(table, cells)
			continue
		}
		if table != nil {
			tables = append(tables, table[2:]) // without the header and the rule below it
			table = nil
		}
	}
	return tables
}

func device(t *testing.T, id string) Device {
	d, ok := ByID(id)
	require.True(t, ok, id)
	return d
}

// seatings returns a chip in a socket by the seatings' ids.
func seatings(t *testing.T, chip, socket string, straps Straps) map[string]Seating {
	s, err := Seat(device(t, chip), device(t, socket), straps)
	require.NoError(t, err)
	byID := map[string]Seating{}
	for _, seating := range s.Seatings {
		byID[seating.ID] = seating
	}
	require.Len(t, byID, len(s.Seatings))
	return byID
}

// workedCases are the worked example's five seatings.
var workedCases = []struct{ name, socket, id string }{
	{"a", "27C400", "turned"},
	{"b1", "27C800", "off-1"},
	{"b2", "27C800", "off+1"},
	{"c1", "27C800", "turned"},
	{"c2", "27C800", "turned-1"},
}

// Every cell of the worked example: S01 Figure 2 for the chip and the 40-pin socket, S04 Figure 2A for the 42-pin one.
func TestWorkedExamplePinByPin(t *testing.T) {
	table := workedTables(t, "Worked example")[0]
	require.Len(t, table, 40)
	for column, c := range workedCases {
		seating := seatings(t, "27C400", c.socket, Straps{})[c.id]
		require.Len(t, seating.Meetings, 40)
		for i, row := range table {
			m := seating.Meetings[i]
			require.Equal(t, row[:2], []string{strconv.Itoa(m.ChipPin), m.ChipSignal})
			cell := strconv.Itoa(m.SocketPin) + " " + m.SocketSignal
			if m.SocketPin == 0 {
				cell = "outside"
			}
			if m.Power {
				cell = "**" + cell + "**"
			}
			require.Equal(t, row[2+column], cell, "case %s, chip pin %d", c.name, m.ChipPin)
		}
	}
}

// The worked example's second table: who meets whom among supplies.
func TestWorkedExampleSupplies(t *testing.T) {
	table := workedTables(t, "Worked example")[1]
	require.Len(t, table, 5)
	yes := func(b bool) string { return map[bool]string{true: "yes", false: "no"}[b] }
	for i, c := range workedCases {
		s := seatings(t, "27C400", c.socket, Straps{})[c.id].Supplies
		place := func(m Meeting) string {
			if m.SocketPin == 0 {
				return "nothing (outside)"
			}
			return strconv.Itoa(m.SocketPin) + " " + m.SocketSignal
		}
		var grounds, boardGrounds []string
		for _, m := range s.ChipGND {
			grounds = append(grounds, place(m))
		}
		boardVCC := "nothing"
		for _, m := range s.BoardVCC {
			boardVCC = "pin " + strconv.Itoa(m.ChipPin) + " " + m.ChipSignal
		}
		for _, m := range inSocketOrder(s.BoardGND) {
			boardGrounds = append(boardGrounds, "pin "+strconv.Itoa(m.ChipPin)+" "+m.ChipSignal)
		}
		onBYTE := "no"
		if len(s.GroundOnBYTE) == 1 {
			onBYTE = "yes, chip pin " + strconv.Itoa(s.GroundOnBYTE[0])
		}
		assert.Equal(t, table[i], []string{
			c.name, place(s.ChipVCC[0]), strings.Join(grounds, "; "), boardVCC, strings.Join(boardGrounds, "; "),
			yes(s.SupplyOnGround), yes(s.GroundOnSupply), yes(s.Reversed), onBYTE,
		})
	}
}

// inSocketOrder sorts meetings by their place, as the worked example lists the board's grounds.
func inSocketOrder(list []Meeting) []Meeting {
	sorted := append([]Meeting{}, list...)
	for i := range sorted {
		for j := i; j > 0 && sorted[j].SocketPin < sorted[j-1].SocketPin; j-- {
			sorted[j], sorted[j-1] = sorted[j-1], sorted[j]
		}
	}
	return sorted
}

// What the worked example says follows from its tables, by how the board straps BYTE.
func TestWorkedExampleConclusions(t *testing.T) {
	for _, c := range workedCases {
		unknown := seatings(t, "27C400", c.socket, Straps{})[c.id]
		tiedHigh := seatings(t, "27C400", c.socket, Straps{BYTE: High})[c.id]
		tiedLow := seatings(t, "27C400", c.socket, Straps{BYTE: Low})[c.id]
		text := strings.Join(unknown.Sentences, " ")
		switch c.name {
		case "a", "b1", "c1": // a chip ground on BYTE: tied high, the supply is on a ground pin
			assert.Equal(t, []int{mayDamage, heats, driversFight}, []int{unknown.Danger, tiedHigh.Danger, tiedLow.Danger}, c.name)
			assert.Contains(t, unknown.Headline, "depending on a strap")
			assert.Contains(t, tiedHigh.Headline, "switch off")
			assert.Contains(t, strings.Join(tiedHigh.Sentences, " "), "reversed by up to 5 V")
			assert.Contains(t, text, "never program a chip seated so", "12.5 V on BYTE/VPP")
			assert.ElementsMatch(t, []string{"BYTE/VPP", "CE"}, unknown.Joined[0].Lines)
		case "b2": // VCC and D11 outside, +5 V on D4, CE and BYTE/VPP grounded
			assert.Equal(t, mayDamage, unknown.Danger)
			assert.Equal(t, "May be damaged: a chip without supply is fed through an output.", unknown.Headline)
			assert.Contains(t, text, "+5 V is on an output: D4 on VCC.")
			assert.ElementsMatch(t, []string{"OE", "D15/A-1"}, unknown.Joined[0].Lines)
			assert.Equal(t, Outside, unknown.Meetings[20].Mark)
			assert.Equal(t, 0, unknown.Meetings[19].SocketPin, "D11")
		case "c2": // no supply pin reached
			assert.Equal(t, driversFight, unknown.Danger)
			assert.Empty(t, unknown.Supplies.BoardVCC)
			assert.ElementsMatch(t, []string{"A16", "A0"}, unknown.Joined[0].Lines)
			assert.Contains(t, text, "the polarity follows the lines")
		}
		assert.Contains(t, text, "inference from the absolute limits")
	}
	s, err := Seat(device(t, "27C400"), device(t, "27C800"), Straps{})
	require.NoError(t, err)
	assert.True(t, s.AskBYTE)
	s, err = Seat(device(t, "27C400"), device(t, "27C800"), Straps{BYTE: High})
	require.NoError(t, err)
	assert.False(t, s.AskBYTE)
	assert.Equal(t, "right", s.Seatings[0].ID)
	assert.Equal(t, heats, s.Seatings[1].Danger, "the most dangerous of the others comes first")
}

// (a) and (c1) give the same meetings signal for signal, because 40 pins nest in 42.
func TestTurnedInItsOwnAndInALongerSocket(t *testing.T) {
	a, c1 := seatings(t, "27C400", "27C400", Straps{})["turned"], seatings(t, "27C400", "27C800", Straps{})["turned"]
	for i := range a.Meetings {
		assert.Equal(t, a.Meetings[i].SocketSignal, c1.Meetings[i].SocketSignal)
	}
}

// "Chip turned end for end in its own socket", for every DIP family of the table.
func TestTurnedInItsOwnSocket(t *testing.T) {
	families := 0
	for _, row := range workedTables(t, "Chip turned end for end")[0] {
		for _, id := range strings.Split(row[1], ", ") {
			families++
			turned := seatings(t, id, id, Straps{})["turned"]
			assert.Equal(t, strings.HasPrefix(row[2], "YES"), turned.Supplies.Reversed, id)
			place := func(m Meeting) string { return "pin " + strconv.Itoa(m.SocketPin) + " (" + m.SocketSignal + ")" }
			vcc, gnd := place(turned.Supplies.ChipVCC[0]), []string{}
			for _, m := range turned.Supplies.ChipGND {
				gnd = append(gnd, place(m))
			}
			if id == "mask-4M-40" { // the table is printed for the EPROM of its line, whose BYTE pin has a second job
				gnd[0] = strings.Replace(gnd[0], "BYTE)", "BYTE/VPP)", 1)
			}
			assert.Equal(t, row[3:5], []string{vcc, strings.Join(gnd, "; ")}, id)
			if turned.Supplies.Reversed {
				assert.Equal(t, heats, turned.Danger, id)
				assert.Equal(t, "Heats at once, switch off: the supply is reversed.", turned.Headline)
			}
		}
	}
	dips := 0
	for _, d := range All() {
		if isDIP(d) {
			dips++
		}
	}
	assert.Equal(t, dips, families)
}

// "Pinouts that nest in a longer socket": the right seating, pin by pin, what differs and what stays empty.
func TestNesting(t *testing.T) {
	tables := workedTables(t, "Pinouts that nest")
	for _, row := range tables[0] {
		right := seatings(t, row[0], row[1], Straps{})["right"]
		same, different, empty := 0, []string{}, []string{}
		for _, m := range right.Meetings {
			if m.ChipSignal == m.SocketSignal {
				same++
				continue
			}
			different = append(different, strconv.Itoa(m.ChipPin)+" "+m.ChipSignal+" -> "+strconv.Itoa(m.SocketPin)+" "+m.SocketSignal)
		}
		for _, place := range right.Empty {
			empty = append(empty, strconv.Itoa(place.Number)+" "+place.Signal)
		}
		differs := strings.Join(different, "; ")
		if differs == "" {
			differs = "none"
		}
		assert.Equal(t, row[2:], []string{
			strconv.Itoa(right.FirstRow - 1), strconv.Itoa(same) + " of " + strconv.Itoa(len(right.Meetings)), differs, strings.Join(empty, "; "),
		}, "%s in %s", row[0], row[1])
	}
	for _, row := range tables[1] {
		right, same := seatings(t, row[0], row[1], Straps{})["right"], 0
		for _, m := range right.Meetings {
			if m.ChipSignal == m.SocketSignal {
				same++
			}
		}
		assert.Equal(t, row[2], strconv.Itoa(same)+" of "+strconv.Itoa(len(right.Meetings)), "%s in %s", row[0], row[1])
	}
}

// "28 in 32 ...: the board needs a jumper that feeds VCC to socket pin 30 (or 26), or the short chip has no supply."
func TestAShortChipNeedsAJumper(t *testing.T) {
	for _, c := range []struct {
		chip, socket string
		pin          int
	}{{"27C512", "27C010", 30}, {"27C256", "27C010", 30}, {"2732", "2764", 26}} {
		right := seatings(t, c.chip, c.socket, Straps{})["right"]
		assert.Equal(t, nothingHappens, right.Danger, c.chip)
		assert.Contains(t, right.Headline, "needs a jumper")
		right = seatings(t, c.chip, c.socket, Straps{Pins: []Strap{{c.pin, High}}})["right"]
		assert.Equal(t, works, right.Danger, c.chip)
	}
	// Where the jumper is not known, a ground pin on its place is as bad as it may be; with the jumper it is reversed.
	turned := seatings(t, "27C512", "27C010", Straps{})["turned"]
	assert.Equal(t, mayDamage, turned.Danger)
	assert.Equal(t, 30, turned.Supplies.ChipGND[0].SocketPin)
	assert.Contains(t, turned.Headline, "depending on a strap")
	assert.Equal(t, heats, seatings(t, "27C512", "27C010", Straps{Pins: []Strap{{30, High}}})["turned"].Danger)
	assert.Contains(t, seatings(t, "2716", "2732", Straps{})["right"].Headline, "1 pin needs a level") // VPP on A11

	right := seatings(t, "27C400", "27C160", Straps{})["right"]
	assert.Equal(t, works, right.Danger)
	right = seatings(t, "27C400", "27C322", Straps{})["right"]
	assert.Equal(t, readsNonsense, right.Danger, "A20 moves BYTE")
	right = seatings(t, "27C322", "27C160", Straps{BYTE: Low})["right"]
	assert.Equal(t, driversFight, right.Danger, "D15 of a chip without byte mode on A-1")
}

// Properties of every chip in every socket: nothing panics, every seating has all pins once, the right one is first.
func TestEverySeating(t *testing.T) {
	for _, chip := range All() {
		for _, socket := range All() {
			s, err := Seat(chip, socket, Straps{})
			if !isDIP(chip) || !isDIP(socket) || chip.PinCount > socket.PinCount {
				require.Error(t, err)
				require.Empty(t, s.Seatings)
				continue
			}
			require.NoError(t, err)
			require.Equal(t, "right", s.Seatings[0].ID)
			require.LessOrEqual(t, strings.Count(s.Answer, ". "), 1, "two sentences at most: %s", s.Answer)
			require.Less(t, len(s.Answer), 280, s.Answer)
			require.True(t, strings.HasSuffix(s.Answer, s.Seatings[1].Name+": "+s.Seatings[1].Rank+"."), s.Answer)
			if s.Seatings[0].Danger > nothingHappens {
				require.Contains(t, s.Answer, "the socket is for another pinout: "+s.Seatings[0].Rank)
			}
			seen := map[string]bool{}
			for i, seating := range s.Seatings {
				require.False(t, seen[seating.ID], seating.ID)
				seen[seating.ID] = true
				require.Len(t, seating.Meetings, chip.PinCount)
				places := map[int]bool{}
				inside := 0
				for _, m := range seating.Meetings {
					if m.SocketPin > 0 {
						inside++
						require.False(t, places[m.SocketPin])
						places[m.SocketPin] = true
					}
				}
				require.Equal(t, socket.PinCount, inside+len(seating.Empty))
				require.Equal(t, ranks[seating.Danger], seating.Rank)
				require.NotEmpty(t, seating.Sentences)
				require.True(t, i < 2 || s.Seatings[i-1].Danger >= seating.Danger)
				if seating.Supplies.Reversed {
					require.Equal(t, heats, seating.Danger)
				}
			}
			if chip.ID == socket.ID {
				require.Equal(t, works, s.Seatings[0].Danger, chip.ID)
				require.Len(t, s.Seatings, 10)
			}
		}
	}
}

func TestSeatRefuses(t *testing.T) {
	_, err := Seat(device(t, "27C800"), device(t, "27C400"), Straps{})
	assert.ErrorContains(t, err, "a 27C800 has 42 pins, the socket of a 27C400 has 40; a longer chip does not go in")
	_, err = Seat(device(t, "29F400"), device(t, "27C400"), Straps{})
	assert.ErrorContains(t, err, "only DIP chips sit in sockets")
	_, err = Seat(device(t, "27C400"), device(t, "27C400"), Straps{Pins: []Strap{{41, High}}})
	assert.ErrorContains(t, err, "pin 41 is strapped, the socket has pins 1 to 40")
}

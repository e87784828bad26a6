package chips

import (
	"strconv"
	"strings"
)

// Where each pin of a seated chip is, and what the board does there.

// A net is what the board gives a place.
type net uint8

const (
	nothing  net = iota // not connected, or outside the socket
	plus                // +5 V
	ground              // ground
	unknown             // tied to one or the other: the strap is not known
	line                // the board drives it: address, select
	dataLine            // the data bus, driven by whoever is selected
)

// isLine tells whether the place is neither supply, ground, a strap nor nothing.
func (n net) isLine() bool { return n == line || n == dataLine }

// netOf returns what the board gives a place of the socket.
func netOf(place Pin, straps Straps) net {
	for _, strap := range straps.Pins {
		if strap.Pin == place.Number {
			return tied(strap.Level)
		}
	}
	switch place.Role {
	case Supply:
		return plus
	case Ground:
		return ground
	case Unwired:
		return nothing
	case Program:
		return tied(straps.VPP)
	case Address:
		return line
	case Data:
		if place.Signal == "D15/A-1" && straps.BYTE == Low {
			return line // the board drives it
		}
		return dataLine
	case Ready:
		return dataLine // a pull-up and an input of the board: nothing that drives hard
	}
	if place.Carries("BYTE") {
		return tied(straps.BYTE)
	}
	return line
}

func tied(level Level) net {
	switch level {
	case High:
		return plus
	case Low:
		return ground
	}
	return unknown
}

func isDIP(d Device) bool { return strings.HasPrefix(d.Package, "DIP") }

// placeOf returns the pin of a socket with places pins that pin number pin of a chip with pins pins is in, or 0 when it
// hangs outside. Rows are two pins, one of each side, and count from the pin-1 end: below is how many of the socket's rows
// lie before the chip's first one.
func placeOf(pin, pins, places int, turned bool, below int) int {
	rows, left := pins/2, pin <= pins/2
	row := pin
	if !left {
		row = pins + 1 - pin
	}
	if turned {
		row, left = rows+1-row, !left
	}
	row += below
	switch {
	case row < 1 || row > places/2:
		return 0
	case left:
		return row
	}
	return places + 1 - row
}

// met is a meeting with what it means for the circuit.
type met struct {
	chip Pin
	at   Pin // Number 0 outside
	net  net
}

// meetings returns who meets whom, one for each pin of the chip in order, and the places that stay empty.
func meetings(chip, socket Device, straps Straps, turned bool, below int) (list []met, empty []Pin) {
	taken := make([]bool, socket.PinCount+1)
	for _, pin := range chip.Pins {
		m := met{chip: pin}
		if at := placeOf(pin.Number, chip.PinCount, socket.PinCount, turned, below); at > 0 {
			m.at = socket.Pins[at-1]
			m.net = netOf(m.at, straps)
			taken[at] = true
		}
		list = append(list, m)
	}
	empty = []Pin{}
	for _, place := range socket.Pins {
		if !taken[place.Number] {
			empty = append(empty, place)
		}
	}
	return list, empty
}

// mark returns what is wrong about a meeting.
func (m *met) mark() Mark {
	switch {
	case m.chip.Role == Unwired:
		return Fine
	case m.chip.Role == Supply:
		return m.powerMark(plus, GroundOnSupply)
	case m.chip.Role == Ground:
		return m.powerMark(ground, SupplyOnGround)
	case m.at.Number == 0:
		return Outside
	case m.isOutput() && m.net == plus:
		return SupplyOnOutput
	case m.isOutput() && m.net == ground:
		return GroundOnOutput
	case m.isOutput() && m.net == unknown:
		return StrapOnOutput
	case m.isOutput() && m.net == line && !m.isShared():
		return Fight
	case m.chip.Signal == m.at.Signal:
		return Fine
	}
	if agreement, _ := agree(m.chip, m.at); agreement == Same || agreement == Alike {
		return Fine
	}
	return Differs
}

// serves tells whether the pin of the chip can do its work here, or needs none. Supply and ground are judged apart.
func (m *met) serves() bool {
	if m.chip.Role == Unwired || isPower(m.chip) {
		return true
	}
	agreement, _ := agree(m.chip, m.at)
	return m.at.Number > 0 && agreement != Wrong
}

// isOutput tells whether the chip drives the pin while it is read. RDY/BUSY only pulls low.
func (m *met) isOutput() bool { return m.chip.Role == Data || m.chip.Role == Ready }

// isShared tells whether the pin is an output or an input by the mode, and where the board expects it.
func (m *met) isShared() bool {
	return m.chip.Signal == "D15/A-1" && strings.HasPrefix(m.at.Signal, "D15")
}

// powerMark returns the mark of a supply or ground pin of the chip, which belongs on right and never on the opposite.
func (m *met) powerMark(right net, opposite Mark) Mark {
	switch {
	case m.net == right:
		return Fine
	case m.net == plus || m.net == ground:
		return opposite
	case m.net == unknown:
		return PowerOnStrap
	case m.net.isLine():
		return PowerOnLine
	case m.at.Number == 0:
		return Outside
	case m.chip.Role == Supply:
		return NoSupply
	}
	return Differs
}

// meeting returns m for the result.
func (m *met) meeting() Meeting {
	return Meeting{
		ChipPin: m.chip.Number, ChipSignal: m.chip.Signal, SocketPin: m.at.Number, SocketSignal: m.at.Signal,
		Power: isPower(m.chip) || isPower(m.at), Mark: m.mark(),
	}
}

func isPower(pin Pin) bool { return pin.Role == Supply || pin.Role == Ground }

// suppliesOf picks out who meets whom among supply and ground pins.
func suppliesOf(list []met) Supplies {
	s := Supplies{ChipVCC: []Meeting{}, ChipGND: []Meeting{}, BoardVCC: []Meeting{}, BoardGND: []Meeting{}, GroundOnBYTE: []int{}}
	for i := range list {
		m := &list[i]
		switch m.chip.Role {
		case Supply:
			s.ChipVCC = append(s.ChipVCC, m.meeting())
			s.GroundOnSupply = s.GroundOnSupply || m.at.Role == Ground
		case Ground:
			s.ChipGND = append(s.ChipGND, m.meeting())
			s.SupplyOnGround = s.SupplyOnGround || m.at.Role == Supply
			if m.at.Carries("BYTE") {
				s.GroundOnBYTE = append(s.GroundOnBYTE, m.chip.Number)
			}
		}
		switch m.at.Role {
		case Supply:
			s.BoardVCC = append(s.BoardVCC, m.meeting())
		case Ground:
			s.BoardGND = append(s.BoardGND, m.meeting())
		}
	}
	s.Reversed = s.SupplyOnGround && s.GroundOnSupply
	return s
}

// joinedBy returns the places that the chip's grounds tie together, when they are more than one and not all ground.
func joinedBy(list []met) []Joined {
	var lines []string
	tells := false
	for i := range list {
		m := &list[i]
		if m.chip.Role == Ground && m.net != nothing {
			lines = append(lines, m.at.Signal)
			tells = tells || m.net != ground
		}
	}
	if len(lines) < 2 || !tells {
		return []Joined{}
	}
	return []Joined{{Lines: lines}}
}

// placed names a place for a sentence: "A17 (socket pin 1)".
func placed(signal string, pin int) string {
	if pin == 0 {
		return "nothing (it hangs outside)"
	}
	return signal + " (socket pin " + strconv.Itoa(pin) + ")"
}

package chips

import (
	"errors"

	"lunette/core/words"
)

// A Level is what a board ties a pin to.
type Level string

// The levels of a strap.
const (
	NotKnown Level = ""     // to be asked
	High     Level = "high" // +5 V
	Low      Level = "low"  // ground
)

// Straps says how the board ties pins of the socket that are not driven.
type Straps struct {
	BYTE Level   // the socket's BYTE pin
	VPP  Level   // the socket's VPP pin, where it has one of its own
	Pins []Strap // any other pin, as NC pins that a jumper feeds
}

// A Strap is one pin of the socket.
type Strap struct {
	Pin   int
	Level Level
}

// Seats is a chip in a socket, every way it goes in.
type Seats struct {
	Chip     string    `json:"chip"`     // id of the family
	Socket   string    `json:"socket"`   // id of the family whose pinout the socket has
	ChipPins []Pin     `json:"chipPins"` // for the drawing
	Places   []Pin     `json:"places"`   // the socket's pins
	Answer   string    `json:"answer"`   // how it goes in rightly, and the worst that a wrong seating does
	AskBYTE  bool      `json:"askByte"`  // how the board straps BYTE decides about some seating, and is not known
	Seatings []Seating `json:"seatings"` // the right one first; then the others, the most dangerous first
	Cautions []string  `json:"cautions"`
}

// A Seating is one way a chip sits in a socket. Rows count from the pin-1 end of the socket.
type Seating struct {
	ID        string    `json:"id"`       // "right", "turned", "off-1", "turned+2": rows away from the right seating
	Name      string    `json:"name"`     // in words
	Turned    bool      `json:"turned"`   // end for end
	Shift     int       `json:"shift"`    // rows off the right seating; below 0 toward the pin-1 end of the socket
	FirstRow  int       `json:"firstRow"` // the socket's row under the chip's first row, seen from the pin-1 end of the socket; below 1 outside
	Meetings  []Meeting `json:"meetings"` // one for each pin of the chip, in order
	Empty     []Pin     `json:"empty"`    // places without a pin
	Supplies  Supplies  `json:"supplies"`
	Joined    []Joined  `json:"joined"` // lines of the board that the chip's grounds tie together
	Danger    int       `json:"danger"` // 0 works, 1 nothing happens, up to 5
	Rank      string    `json:"rank"`   // the same in words
	Headline  string    `json:"headline"`
	Sentences []string  `json:"sentences"`
}

// A Meeting is a pin of the chip and the place it is in.
type Meeting struct {
	ChipPin      int    `json:"chipPin"`
	ChipSignal   string `json:"chipSignal"`
	SocketPin    int    `json:"socketPin"` // 0 when the pin hangs outside the socket
	SocketSignal string `json:"socketSignal"`
	Power        bool   `json:"power"` // one of the two is a supply or a ground
	Mark         Mark   `json:"mark"`
}

// A Mark says what is wrong about a meeting; Fine is "".
type Mark string

// The marks.
const (
	Fine           Mark = ""
	Differs        Mark = "differs"          // another signal, without harm
	NoSupply       Mark = "no supply"        // chip VCC reaches nothing
	SupplyOnGround Mark = "supply on ground" // +5 V on a ground pin of the chip
	GroundOnSupply Mark = "ground on supply" // board ground on VCC of the chip
	PowerOnLine    Mark = "power on a line"  // VCC or a ground of the chip on a line of the board
	PowerOnStrap   Mark = "power on a strap" // the same on a pin whose level is not known
	SupplyOnOutput Mark = "supply on output" // +5 V on an output of the chip
	GroundOnOutput Mark = "ground on output" // board ground on an output of the chip
	StrapOnOutput  Mark = "strap on output"  // a pin whose level is not known on an output of the chip
	Fight          Mark = "drivers fight"    // an output of the chip on a line that the board drives
	Outside        Mark = "outside"          // the pin hangs out of the socket
)

// Supplies is who meets whom among supply and ground pins. A board pin that meets nothing is not in the lists.
type Supplies struct {
	ChipVCC        []Meeting `json:"chipVcc"`
	ChipGND        []Meeting `json:"chipGnd"`
	BoardVCC       []Meeting `json:"boardVcc"`
	BoardGND       []Meeting `json:"boardGnd"`
	SupplyOnGround bool      `json:"supplyOnGround"` // the board's +5 V pin is on a ground pin of the chip
	GroundOnSupply bool      `json:"groundOnSupply"` // a ground pin of the board is on VCC of the chip
	Reversed       bool      `json:"reversed"`       // both: the supply is reversed directly
	GroundOnBYTE   []int     `json:"groundOnByte"`   // ground pins of the chip on the socket's BYTE pin
}

// Joined is lines of the board that meet through the chip's grounds, which are joined inside (usual, not stated in the text
// read).
type Joined struct {
	Lines []string `json:"lines"`
}

// withJumper adds the jumper of a board that takes shorter chips: the unconnected place under VCC of the right seating may be
// fed with +5 V, and must count as that when a wrong seating puts something else there.
func withJumper(chip, socket Device, straps Straps, right int) Straps {
	for _, pin := range chip.Pin("VCC") {
		place := placeOf(pin, chip.PinCount, socket.PinCount, false, right)
		if place == 0 || socket.Pins[place-1].Role != Unwired {
			continue
		}
		for _, strap := range straps.Pins {
			if strap.Pin == place {
				return straps
			}
		}
		straps.Pins = append(straps.Pins[:len(straps.Pins):len(straps.Pins)], Strap{place, NotKnown})
	}
	return straps
}

// reach is how many rows off the right seating are looked at, either way.
const reach = 2

// Seat computes what each pin of chip meets in a socket with the pinout of socket: in the right seating, which for a
// shorter chip is at the end away from pin 1 (grounds and low addresses then line up, S10 draws it so), then turned round,
// up to two rows off, and both. It fails when the parts cannot be put together at all.
func Seat(chip, socket Device, straps Straps) (Seats, error) {
	switch {
	case !isDIP(chip) || !isDIP(socket):
		return Seats{}, errors.New(words.Fill("a {} is {} and a {} is {}; only DIP chips sit in sockets, compare the pinouts for an "+
			"adapter instead", chip.ID, chip.Package, socket.ID, socket.Package))
	case chip.PinCount > socket.PinCount:
		return Seats{}, errors.New(words.Fill("a {} has {} pins, the socket of a {} has {}; a longer chip does not go in, compare the "+
			"pinouts for an adapter instead", chip.ID, words.Count(chip.PinCount), socket.ID, words.Count(socket.PinCount)))
	}
	for _, strap := range straps.Pins {
		if strap.Pin < 1 || strap.Pin > socket.PinCount {
			return Seats{}, errors.New(words.Fill("pin {} is strapped, the socket has pins 1 to {}", words.Count(strap.Pin),
				words.Count(socket.PinCount)))
		}
	}
	s := Seats{Chip: chip.ID, Socket: socket.ID, ChipPins: chip.Pins, Places: socket.Pins}
	right := (socket.PinCount - chip.PinCount) / 2
	straps = withJumper(chip, socket, straps, right)
	low, high := min(right-reach, 0), max(right+reach, right)
	var others []Seating
	for _, turned := range []bool{false, true} {
		for row := low; row <= high; row++ {
			seating := seat(chip, socket, straps, turned, row, row-right)
			if !turned && row == right {
				s.Seatings = append(s.Seatings, seating)
			} else {
				others = append(others, seating)
			}
		}
	}
	for danger := worstDanger; danger >= 0; danger-- {
		for _, seating := range others {
			if seating.Danger == danger {
				s.Seatings = append(s.Seatings, seating)
			}
		}
	}
	s.AskBYTE = straps.BYTE == NotKnown && asksBYTE(s.Seatings)
	s.Answer = s.answer()
	s.Cautions = seatCautions(chip, socket)
	return s, nil
}

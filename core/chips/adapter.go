package chips

import (
	"strconv"
	"strings"

	"lunette/core/words"
)

// An Adapter is wired from a new chip to the place of an old one, for reading.
type Adapter struct {
	Refusal string `json:"refusal"` // why wires alone cannot do it; "" when they can
	Wires   []Wire `json:"wires"`   // one for each pin of the new chip, in order
	Open    []Pin  `json:"open"`    // places of the old chip that no wire goes to
	Text    string `json:"text"`    // the list to print
}

// A Wire goes from a pin of the new chip to a place of the old one. OldPin is 0 where the pin stays open.
type Wire struct {
	NewPin    int    `json:"newPin"`
	NewSignal string `json:"newSignal"`
	OldPin    int    `json:"oldPin"`
	OldSignal string `json:"oldSignal"`
	To        string `json:"to"`  // the same for a list: "socket pin 22 (VCC)", "open"
	Why       string `json:"why"` // where it is not simply its own signal
}

// adapter wires new into the place of old, signal by signal.
func adapter(old, new Device) Adapter {
	a := Adapter{Wires: []Wire{}, Open: []Pin{}}
	wide, narrow := new.HasBits(16), !old.HasBits(16)
	switch {
	case !wide && !narrow:
		a.Refusal = words.Fill("a {} gives eight bits at a time and the board reads sixteen; it takes two such chips, one for each byte lane", new.ID)
		return a
	case wide && narrow && !new.HasBits(8):
		a.Refusal = words.Fill("a {} always gives sixteen bits at a time and the board reads eight", new.ID)
		return a
	}
	w := wiring{old: old, byteMode: wide && narrow, used: make([]bool, old.PinCount+1)}
	for _, pin := range new.Pins {
		a.Wires = append(a.Wires, w.wire(pin))
	}
	for _, place := range old.Pins {
		if !w.used[place.Number] && place.Role != Unwired && !isPower(place) {
			a.Open = append(a.Open, place)
		}
	}
	a.Text = a.text(old, new)
	return a
}

// wires counts the pins that a wire goes to.
func (a *Adapter) wires() int {
	n := 0
	for _, wire := range a.Wires {
		if wire.OldPin > 0 {
			n++
		}
	}
	return n
}

// wiring is an adapter in the making.
type wiring struct {
	old      Device
	byteMode bool // a chip of sixteen lines on a board of eight: its BYTE is tied low
	used     []bool
}

// wire returns where a pin of the new chip goes.
func (w *wiring) wire(pin Pin) Wire {
	signal, why := w.wanted(pin)
	wire := Wire{NewPin: pin.Number, NewSignal: pin.Signal, Why: why, To: "open"}
	if signal == "" {
		return wire
	}
	places := w.old.Pin(signal)
	if len(places) == 0 {
		return wire
	}
	at := w.old.Pins[places[0]-1]
	if pin.Role == Ground && len(places) > 1 && w.used[at.Number] {
		at = w.old.Pins[places[1]-1] // each ground to one of its own, where there are two
	}
	w.used[at.Number] = true
	wire.OldPin, wire.OldSignal = at.Number, at.Signal
	wire.To = words.Fill("socket pin {} ({})", strconv.Itoa(at.Number), at.Signal)
	return wire
}

// wanted returns the signal of the old place that a pin of the new chip goes to, "" for open, and why if it is not its own.
func (w *wiring) wanted(pin Pin) (signal, why string) {
	has := func(signal string) bool { return len(w.old.Pin(signal)) > 0 }
	name := base(pin.Signal)
	switch {
	case pin.Role == Unwired:
		return "", ""
	case pin.Role == Supply || pin.Role == Ground:
		return name, ""
	case pin.Role == Ready:
		if has(name) {
			return name, ""
		}
		return "", "an output that nobody listens to"
	case pin.Role == Data:
		return w.wantedData(name)
	case pin.Role == Address:
		return w.wantedAddress(name)
	case name == "VPP":
		return "VCC", "for reading, as most sheets ask (common practice, no source)"
	case name == "BYTE" && w.byteMode:
		return "GND", "byte mode"
	case name == "BYTE" && has("BYTE"):
		return "BYTE", ""
	case name == "BYTE":
		return "VCC", "word mode"
	case name == "PGM", name == "WE" && !has("WE"), name == "RESET" && !has("RESET"):
		return "VCC", "held high: only read"
	case name == "OE" && !has("OE"):
		return "GND", "the socket has no OE; the chip answers on CE alone"
	}
	return name, ""
}

// wantedData returns the place of a data line. In byte mode the pin of D15 is the lowest address line.
func (w *wiring) wantedData(name string) (signal, why string) {
	if name == "D15/A-1" {
		if w.byteMode {
			return "A0", "A-1, the lowest address line in byte mode"
		}
		return "D15", ""
	}
	if w.byteMode && len(w.old.Pin(name)) == 0 {
		return "", "off in byte mode"
	}
	return name, ""
}

// wantedAddress returns the place of an address line, which in byte mode is called one higher on the board.
func (w *wiring) wantedAddress(name string) (signal, why string) {
	number, _ := strconv.Atoi(strings.TrimPrefix(name, "A"))
	wanted := name
	if w.byteMode {
		wanted = "A" + strconv.Itoa(number+1)
		why = "byte mode counts bytes from A-1 on"
	}
	if len(w.old.Pin(wanted)) == 0 {
		return "GND", "the socket has no " + wanted + "; tied low"
	}
	return wanted, why
}

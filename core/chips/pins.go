package chips

import (
	"strconv"
	"strings"
)

// A Role says what a pin is for.
type Role string

// The roles of pins.
const (
	Supply   Role = "supply"  // VCC
	Ground   Role = "ground"  // GND
	Address  Role = "address" // an input
	Data     Role = "data"    // an output while the chip is read; D15/A-1 is an input too, in byte mode
	Control  Role = "control" // an input: CE, OE, PGM, WE, BYTE, RESET
	Program  Role = "program" // VPP alone: the programming supply
	Ready    Role = "ready"   // RDY/BUSY, an open drain: the chip pulls it low
	Unwired  Role = "none"    // NC
	roleless Role = ""
)

// roleOf returns the role of a signal of the catalogue. Where a pin has two jobs it is the one while reading that counts:
// OE/VPP is a control, D15/A-1 is data.
func roleOf(signal string) Role {
	switch signal {
	case "VCC":
		return Supply
	case "GND":
		return Ground
	case "VPP":
		return Program
	case "NC":
		return Unwired
	case "RDY/BUSY", "RY/BY":
		return Ready
	case "CE", "OE", "PGM", "WE", "BYTE", "RESET", "CE/PGM", "OE/VPP", "BYTE/VPP":
		return Control
	}
	switch {
	case isNumbered(signal, 'A'):
		return Address
	case isNumbered(signal, 'D'), signal == "D15/A-1":
		return Data
	}
	return roleless
}

// isNumbered holds for a letter and a number: A0, D15.
func isNumbered(signal string, letter byte) bool {
	if len(signal) < 2 || signal[0] != letter {
		return false
	}
	_, err := strconv.ParseUint(signal[1:], 10, 8)
	return err == nil
}

// Pin returns the numbers of the pins that carry a signal, ascending: one for "A16", two for the grounds of a 40-pin chip,
// none for what the device has not. A pin with two jobs is found by either and by both: "BYTE", "VPP" and "BYTE/VPP" are
// all pin 31 of a 27C400.
func (d Device) Pin(signal string) []int {
	var numbers []int
	for _, pin := range d.Pins {
		if pin.Carries(signal) {
			numbers = append(numbers, pin.Number)
		}
	}
	return numbers
}

// Carries tells whether the pin has a signal, alone or as one of two jobs.
func (p Pin) Carries(signal string) bool {
	first, second, _ := strings.Cut(p.Signal, "/")
	return signal != "" && (p.Signal == signal || first == signal || second == signal)
}

// PinOf returns the pin of d that carries a line: "D3", "A16", "A-1", "CE". ok is false when d has no such line, or more
// than one pin with it.
func PinOf(d Device, line string) (pin Pin, ok bool) {
	numbers := d.Pin(line)
	if len(numbers) != 1 {
		return Pin{}, false
	}
	return d.Pins[numbers[0]-1], true
}

// AddressLine returns the name of the line that carries one bit of the byte address, from 0 for the lowest, when the
// device is read with words of bits bits, 8 or 16. A device with sixteen data lines counts words on A0 and up: the lowest
// bit of the byte address is then A-1 in byte mode, and in word mode no line at all, for which the name is "" (it chooses
// D0-D7 or D8-D15).
func (d Device) AddressLine(bit, bits int) string {
	if d.HasBits(16) {
		bit--
	}
	if bit < 0 && bits == 16 {
		return ""
	}
	return "A" + strconv.Itoa(bit)
}

package core

import "lunette/core/chips"

// Seat returns what each pin of a chip meets in a socket with the pinout of another, rightly seated and wrongly. byteTied and
// vppTied are "high" or "low" where the board ties these pins of the socket, empty where that is not known.
func Seat(chip, socket, byteTied, vppTied string) (chips.Seats, error) {
	c, s, err := twoDevices(chip, socket)
	if err != nil {
		return chips.Seats{}, err
	}
	return chips.Seat(c, s, chips.Straps{BYTE: chips.Level(byteTied), VPP: chips.Level(vppTied)})
}

// DropIn returns two pinouts side by side, and the adapter that puts the new chip in the place of the old one.
func DropIn(old, new string) (chips.Drop, error) {
	o, n, err := twoDevices(old, new)
	if err != nil {
		return chips.Drop{}, err
	}
	return chips.DropIn(o, n), nil
}

func twoDevices(first, second string) (a, b chips.Device, err error) {
	a, ok := chips.ByID(first)
	if !ok {
		return a, b, errNoDevice(first)
	}
	b, ok = chips.ByID(second)
	if !ok {
		return a, b, errNoDevice(second)
	}
	return a, b, nil
}

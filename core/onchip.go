package core

import (
	"lunette/core/chips"
	"lunette/core/faults"
	"lunette/core/sorted"
)

// OnChip is where lines are on a chip.
type OnChip struct {
	Devices []Choice  `json:"devices"` // that a dump of this size can come from, the likeliest first
	Device  string    `json:"device"`  // the one taken; empty for none
	Width   int       `json:"width"`   // data lines of it as the dump was read: 8 or 16
	Signals []string  `json:"signals"` // of its pins, from pin 1 on
	Window  bool      `json:"window"`  // whether it may have one
	Note    string    `json:"note"`    // how far its pin list is known
	Pins    []LinePin `json:"pins"`    // of the lines that are named
}

// A LinePin is a line and its pin.
type LinePin struct {
	Line string `json:"line"`
	Pin  int    `json:"pin"`
}

// chipOf returns the device with an id, none for one that is not in the catalogue, or, with an empty one, the likeliest that holds a dump of size bytes just so: one
// of width data lines where width is not 0, one that can be burnt rather than one that cannot.
func chipOf(id string, size, width int) OnChip {
	on := OnChip{Devices: []Choice{}, Signals: []string{}, Pins: []LinePin{}, Width: max(width, 8)}
	var fitting []chips.Device
	for _, d := range chips.All() {
		if d.Capacity == size {
			fitting = append(fitting, d)
		}
	}
	sorted.By(fitting, func(a, b chips.Device) int { return unlikeliness(a, width) - unlikeliness(b, width) })
	for _, d := range fitting {
		on.Devices = append(on.Devices, Choice{d.ID, d.Title()})
	}
	if id == "" && len(fitting) > 0 {
		id = fitting[0].ID
	}
	d, ok := chips.ByID(id)
	if !ok {
		return on
	}
	on.Device, on.Window, on.Note = d.ID, d.Kind == chips.UV || d.Kind == chips.UVorOTP, d.Standing
	switch {
	case !d.HasBits(16):
		on.Width = 8 // whatever the dump looks like: a person may have chosen it
	case width == 0 || !d.HasBits(8):
		on.Width = 16
	}
	for _, pin := range d.Pins {
		on.Signals = append(on.Signals, pin.Signal)
	}
	return on
}

// eraseOf returns how a device of the catalogue loses what is in it; nothing is known of another.
func eraseOf(id string) faults.Erase {
	d, ok := chips.ByID(id)
	if !ok {
		return faults.EraseUnknown
	}
	switch d.Kind {
	case chips.UV:
		return faults.EraseByLight
	case chips.UVorOTP:
		return faults.EraseByWindow
	case chips.EEPROM, chips.Flash:
		return faults.EraseByReader
	case chips.MaskROM:
		return faults.EraseNever
	}
	return faults.EraseUnknown
}

// unlikeliness orders devices of one size.
func unlikeliness(d chips.Device, width int) int {
	points := 0
	if width != 0 && !d.HasBits(width) {
		points += 8
	}
	if width == 8 && d.HasBits(16) {
		points += 4 // in byte mode, which readers seldom use
	}
	if width == 16 && !d.HasBits(8) {
		points += 3 // the pinout of chips with both modes is that of the mask ROMs too
	}
	switch d.Kind {
	case chips.UV, chips.UVorOTP:
	case chips.MaskROM:
		points++
	default:
		points += 2
	}
	return points
}

// carrying returns the chip with the pins of lines; those it does not have are left out.
func (on OnChip) carrying(lines []faults.Line) OnChip {
	d, ok := chips.ByID(on.Device)
	if !ok {
		return on
	}
	seen := map[faults.Line]bool{}
	for _, line := range lines {
		if seen[line] || !d.HasBits(line.Width) {
			continue
		}
		seen[line] = true
		name := line.String()
		if line.Kind == faults.Address {
			name = d.AddressLine(line.Number+line.Width/16, line.Width)
		}
		if pin, ok := chips.PinOf(d, name); ok {
			on.Pins = append(on.Pins, LinePin{name, pin.Number})
		}
	}
	return on
}

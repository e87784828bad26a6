package chips_test

import (
	"fmt"

	"lunette/core/chips"
)

// What is written on a chip, and what is known of it.
func ExampleFind() {
	for _, match := range chips.Find("M27C400-100F1") {
		d, _ := chips.ByID(match.ID)
		fmt.Println(d.Title())
		fmt.Println("A16 on pin", d.Pin("A16"), "GND on pins", d.Pin("GND"))
		fmt.Println(d.Standing)
	}
	// Output:
	// 27C400, UV EPROM / OTP, 512 KiB, DIP-40
	// A16 on pin [32] GND on pins [11 30]
	// The pin list was read in a data sheet of this part.
}

// A 40-pin chip in a 42-pin socket, turned round: what happens depends on how the board straps BYTE.
func ExampleSeat() {
	chip, _ := chips.ByID("27C400")
	socket, _ := chips.ByID("27C800")
	for _, tied := range []chips.Level{chips.NotKnown, chips.High, chips.Low} {
		seats, _ := chips.Seat(chip, socket, chips.Straps{BYTE: tied})
		for _, seating := range seats.Seatings {
			if seating.ID == "turned" {
				fmt.Println(seating.Headline)
			}
		}
	}
	// Output:
	// May be damaged, depending on a strap: tied to +5 V it puts the supply on a ground pin of the chip.
	// Heats at once, switch off: +5 V is on a ground pin, and the supply is reversed whenever the line on VCC is low.
	// Drivers fight: lines of the board end on supply or ground pins of the chip.
}

func ExampleDropIn() {
	old, _ := chips.ByID("27C256")
	new, _ := chips.ByID("28C256")
	drop := chips.DropIn(old, new)
	fmt.Println(drop.Answer)
	for _, row := range drop.Rows {
		if row.Agreement != chips.Same {
			fmt.Printf("%d %s -> %d %s: %s\n", row.NewPin, row.NewSignal, row.OldPin, row.OldSignal, row.Why)
		}
	}
	// Output:
	// A 28C256 does not drop into the place of a 27C256: 26 of 28 pins have the same signal, and 2 of the others matter. An adapter of 28 wires does it, see the wiring.
	// 1 A14 -> 1 VPP: no address line is here: the level that stands here decides which half of the chip is read
	// 27 WE -> 27 A14: it must be held high, and a line of the board moves it
}

package main

import (
	"fmt"

	"lunette/core/faults"
)

// A board is what stands between a chip and a reader, simulated word by word in the plainest way and without any code of the
// package under test: what the reader asks for, what the chip sees of it, what the chip puts out and what arrives.
type board struct {
	width     int  // data lines of the chip: 8 or 16
	highFirst bool // of a x16 chip: how the reader stores words
	address   []func(a uint) uint
	data      []func(word uint) uint
}

// read returns the dump that a reader makes of a chip that holds image, through all faults of the board.
func (b board) read(image []byte) []byte {
	dump := make([]byte, len(image))
	words := uint(len(image) / (b.width / 8))
	for a := range words {
		seen := a
		for _, through := range b.address {
			seen = through(seen)
		}
		word := uint(0)
		if b.width == 8 {
			word = uint(image[seen])
		} else if b.highFirst {
			word = uint(image[2*seen])<<8 | uint(image[2*seen+1])
		} else {
			word = uint(image[2*seen+1])<<8 | uint(image[2*seen])
		}
		for _, through := range b.data {
			word = through(word)
		}
		switch {
		case b.width == 8:
			dump[a] = byte(word)
		case b.highFirst:
			dump[2*a], dump[2*a+1] = byte(word>>8), byte(word)
		default:
			dump[2*a], dump[2*a+1] = byte(word), byte(word>>8)
		}
	}
	return dump
}

// trouble adds a fault of lines to the board.
func (b *board) trouble(kind faults.FaultKind, lines []faults.Line) {
	first := uint(1) << lines[0].Number
	second := first
	if len(lines) == 2 {
		second = uint(1) << lines[1].Number
	}
	wires := func(level uint) uint {
		one, two := level&first != 0, level&second != 0
		switch kind {
		case faults.StuckLow:
			one, two = false, false
		case faults.StuckHigh:
			one, two = true, true
		case faults.Exchanged:
			one, two = two, one
		case faults.BridgedLow:
			one, two = one && two, one && two
		case faults.BridgedHi:
			one, two = one || two, one || two
		default:
			panic(fmt.Sprintf("no simulation of %q", kind))
		}
		level &^= first | second
		if one {
			level |= first
		}
		if two {
			level |= second
		}
		return level
	}
	if lines[0].Kind == faults.Address {
		b.address = append(b.address, wires)
	} else {
		b.data = append(b.data, wires)
	}
}

// connect adds a wiring: address line i of the reader goes to address[i] of the chip, data line d comes from data[d].
func (b *board) connect(address, data []int) {
	b.address = append(b.address, func(a uint) (seen uint) {
		for i, to := range address {
			if a>>i&1 == 1 {
				seen |= 1 << to
			}
		}
		return seen
	})
	b.data = append(b.data, func(word uint) (arrives uint) {
		for d, from := range data {
			if word>>from&1 == 1 {
				arrives |= 1 << d
			}
		}
		return arrives
	})
}

// An order is an arrangement of bytes, by its id, and the same done byte by byte.
type order struct {
	id   string
	xor  int // byte j of the new image is byte j XOR xor of the old one
	flip bool
}

var orders = []order{{"stored", 0, false}, {"swap16", 1, false}, {"halves32", 2, false}, {"reverse32", 3, false},
	{"mirror", 0, true}, {"swap16-mirror", 1, true}, {"halves32-mirror", 2, true}, {"reverse32-mirror", 3, true}}

// of returns image, of a multiple of four bytes, in the order.
func (o order) of(image []byte) []byte {
	arranged := make([]byte, len(image))
	for j := range image {
		b := image[j^o.xor]
		if o.flip {
			mirrored := byte(0)
			for k := range 8 {
				mirrored |= b >> k & 1 << (7 - k)
			}
			b = mirrored
		}
		arranged[j] = b
	}
	return arranged
}

func orderByID(id string) (order, bool) {
	for _, o := range orders {
		if o.id == id {
			return o, true
		}
	}
	return order{}, false
}

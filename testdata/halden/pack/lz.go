package main

import (
	"encoding/binary"
	"hash/crc32"
	"math/bits"
)

// The form of a pack is told in src/unpack.c, which takes it apart.
const (
	plainBits  = 6
	shortest   = 2
	longest    = 4096
	chainSteps = 400 // how many earlier places are tried for a copy
)

// bitWriter writes bits, highest first.
type bitWriter struct {
	bytes []byte
	room  int // bits still free in the last byte
}

func (w *bitWriter) write(value, count int) {
	for count--; count >= 0; count-- {
		if w.room == 0 {
			w.bytes = append(w.bytes, 0)
			w.room = 8
		}
		w.room--
		w.bytes[len(w.bytes)-1] |= byte(value>>count&1) << w.room
	}
}

// number writes a number from 1 up: as many ones as there are bits after its leading one, a zero, those bits.
func (w *bitWriter) number(value int) {
	n := bits.Len(uint(value)) - 1
	w.write(1<<(n+1)-2, n+1)
	w.write(value&(1<<n-1), n)
}

func numberCost(value int) int { return 2*bits.Len(uint(value)) - 1 }

// saved says how many bits a copy saves against the same bytes one by one.
func saved(length, distance int) int {
	return 9*length - 1 - numberCost(length-1) - numberCost((distance-1)>>plainBits+1) - plainBits
}

// copies finds copies by chains of earlier places that begin with the same two bytes.
type copies struct {
	data []byte
	last map[uint16]int
	next []int // the place before this one with the same two bytes, or -1
}

func (c *copies) key(at int) uint16 { return binary.BigEndian.Uint16(c.data[at:]) }

func (c *copies) add(at int) {
	if at+1 >= len(c.data) {
		return
	}
	earlier, ok := c.last[c.key(at)]
	if !ok {
		earlier = -1
	}
	c.next[at] = earlier
	c.last[c.key(at)] = at
}

// best returns the copy for the bytes at `at` that saves most; length 0 where none saves anything.
func (c *copies) best(at int) (length, distance, gain int) {
	if at+1 >= len(c.data) {
		return 0, 0, 0
	}
	from, ok := c.last[c.key(at)]
	for steps := 0; ok && from >= 0 && steps < chainSteps; steps++ {
		n := shortest
		for n < longest && at+n < len(c.data) && c.data[from+n] == c.data[at+n] {
			n++
		}
		if g := saved(n, at-from); g > gain {
			length, distance, gain = n, at-from, g
		}
		from = c.next[from]
	}
	return length, distance, gain
}

// packHXP packs data. A copy is put off by a byte where the next byte begins a better one.
func packHXP(data []byte) []byte {
	search := copies{data, map[uint16]int{}, make([]int, len(data))}
	var out bitWriter
	for at := 0; at < len(data); {
		length, distance, gain := search.best(at)
		search.add(at)
		if length > 0 {
			if _, _, later := search.best(at + 1); later > gain {
				length = 0
			}
		}
		if length == 0 {
			out.write(int(data[at]), 9)
			at++
			continue
		}
		out.write(1, 1)
		out.number(length - 1)
		out.number((distance-1)>>plainBits + 1)
		out.write((distance-1)&(1<<plainBits-1), plainBits)
		for i := 1; i < length; i++ {
			search.add(at + i)
		}
		at += length
	}
	pack := []byte("HXP1")
	pack = binary.BigEndian.AppendUint32(pack, uint32(len(data)))
	pack = binary.BigEndian.AppendUint32(pack, uint32(len(out.bytes)))
	pack = binary.BigEndian.AppendUint32(pack, crc32.ChecksumIEEE(data))
	return append(pack, out.bytes...)
}

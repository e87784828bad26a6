package sums

import (
	"hash/adler32"
	"math/bits"
	"strings"

	"golang.org/x/exp/constraints"
)

// The plain definitions, one byte, word or bit at a time. The tests hold the quick ways against them.

// wordsOf returns data as words of size bytes, 1, 2 or 4, the last padded with 00.
func wordsOf(data []byte, size int, big bool) []uint64 {
	var words []uint64
	for at := 0; at < len(data); at += size {
		word := uint64(0)
		for i := range size {
			b := uint64(0)
			if at+i < len(data) {
				b = uint64(data[at+i])
			}
			if big {
				word = word<<8 | b
			} else {
				word |= b << (8 * i)
			}
		}
		words = append(words, word)
	}
	return words
}

// plainSum adds words in a register of type W; what runs over is lost.
func plainSum[W constraints.Unsigned](words []uint64) (sum W) {
	for _, word := range words {
		sum += W(word)
	}
	return sum
}

// plainCarrySum adds words in a register of type W; what runs over is added at the low end at once.
func plainCarrySum[W constraints.Unsigned](words []uint64) (sum W) {
	for _, word := range words {
		before := sum
		sum += W(word)
		if sum < before {
			sum++
		}
	}
	return sum
}

// plainXor combines words by exclusive or.
func plainXor(words []uint64) (xor uint64) {
	for _, word := range words {
		xor ^= word
	}
	return xor
}

// plainTurned turns a register of type W left by left bits (negative: right), then adds the byte.
func plainTurned[W constraints.Unsigned](data []byte, width, left int) (sum W) {
	left = (left + width) % width
	for _, b := range data {
		sum = sum<<left | sum>>(width-left)
		sum += W(b)
	}
	return sum
}

// plainCRC is the definition of a CRC as the published catalogues state it, bit by bit.
func plainCRC(data []byte, width int, c crc) uint64 {
	top := uint64(1) << (width - 1)
	register := c.init
	for _, b := range data {
		if c.reflected {
			b = bits.Reverse8(b)
		}
		for bit := 7; bit >= 0; bit-- {
			out := register&top != 0
			register <<= 1
			if out != (b>>bit&1 == 1) {
				register ^= c.polynomial
			}
		}
	}
	register &= top | (top - 1)
	if c.reflected {
		register = bits.Reverse64(register) >> (64 - width)
	}
	return register ^ c.xorout
}

// plainValues returns the whole catalogue but for the digests, hex by row id, by the plain definitions.
func plainValues(data []byte) map[string]string {
	values := make(map[string]string)
	numbers := make(map[string]uint64) // the plain sums, to be negated
	bytes := wordsOf(data, 1, true)
	numbers["byte-sum-8"] = uint64(plainSum[uint8](bytes))
	numbers["byte-sum-16"] = uint64(plainSum[uint16](bytes))
	numbers["byte-sum-32"] = uint64(plainSum[uint32](bytes))
	for _, order := range []string{"big", "little"} {
		words, longs := wordsOf(data, 2, order == "big"), wordsOf(data, 4, order == "big")
		numbers["word-sum-16-"+order] = uint64(plainSum[uint16](words))
		numbers["word-sum-32-"+order] = uint64(plainSum[uint32](words))
		numbers["long-sum-32-"+order] = uint64(plainSum[uint32](longs))
		numbers["word-sum-carry-"+order] = uint64(plainCarrySum[uint16](words))
		numbers["long-sum-carry-"+order] = uint64(plainCarrySum[uint32](longs))
		values["xor-16-"+order] = hex(plainXor(words), 16)
	}
	values["xor-8"] = hex(plainXor(bytes), 8)
	for id, number := range numbers {
		width := rowByID(id).Bits
		mask := uint64(1)<<width - 1
		values[id] = hex(number, width)
		values[id+"-ones"] = hex(mask-number, width)
		if !strings.Contains(id, "carry") {
			values[id+"-twos"] = hex((mask-number+1)&mask, width)
		}
	}
	values["rotate-add-8"] = hex(uint64(plainTurned[uint8](data, 8, 1)), 8)
	values["rotate-add-32"] = hex(uint64(plainTurned[uint32](data, 32, 1)), 32)
	values["bsd-sum"] = hex(uint64(plainTurned[uint16](data, 16, -1)), 16)
	folded := uint64(plainSum[uint32](bytes))
	folded = folded&0xFFFF + folded>>16
	values["system-v-sum"] = hex(folded&0xFFFF+folded>>16, 16)
	values["adler-32"] = hex(uint64(adler32.Checksum(data)), 32)
	for _, row := range Catalogue() {
		if c, ok := row.rule.(crc); ok {
			message := data
			if c.length {
				message = append([]byte(nil), data...)
				for n := len(data); n > 0; n >>= 8 {
					message = append(message, byte(n))
				}
			}
			values[row.ID] = hex(plainCRC(message, row.Bits, c), row.Bits)
		}
	}
	return values
}

func rowByID(id string) Row {
	for _, row := range catalogue() {
		if row.ID == id {
			return row
		}
	}
	panic("no row " + id)
}

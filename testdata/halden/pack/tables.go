package main

import (
	"encoding/binary"
	"math"
)

// sineTable is the first quarter of a sine, 257 words of 1/65536; one itself stands as FFFF.
func sineTable() []byte {
	var table []byte
	for angle := 0; angle <= 256; angle++ {
		value := math.Round(65536 * math.Sin(float64(angle)*math.Pi/512))
		table = binary.BigEndian.AppendUint16(table, uint16(min(value, 65535)))
	}
	return table
}

// gammaTable turns a level that looks evenly spaced into the share of white dots that gives it, for the exponent 2.2.
func gammaTable() []byte {
	table := make([]byte, 256)
	for level := range table {
		table[level] = byte(math.Round(255 * math.Pow(float64(level)/255, 2.2)))
	}
	return table
}

// spreadTable holds the thresholds of an 8 by 8 square of dots, each as far as can be from the next: every quarter of
// the square repeats the square of half the side, four times finer.
func spreadTable() []byte {
	table := make([]byte, 64)
	for y := range 8 {
		for x := range 8 {
			rank := 0
			for bit := range 3 {
				quarter := (x^y)>>bit&1<<1 | y>>bit&1
				rank |= quarter << (4 - 2*bit)
			}
			table[y*8+x] = byte(rank*4 + 2)
		}
	}
	return table
}

// crc16Table is for the polynomial of ITU-T V.41, highest bit first.
func crc16Table() []byte {
	var table []byte
	for index := range 256 {
		crc := uint16(index) << 8
		for range 8 {
			carry := crc >> 15
			crc = crc<<1 ^ carry*0x1021
		}
		table = binary.BigEndian.AppendUint16(table, crc)
	}
	return table
}

// crc32Table is for the polynomial of IEEE 802.3, lowest bit first.
func crc32Table() []byte {
	var table []byte
	for index := range 256 {
		crc := uint32(index)
		for range 8 {
			carry := crc & 1
			crc = crc>>1 ^ carry*0xEDB88320
		}
		table = binary.BigEndian.AppendUint32(table, crc)
	}
	return table
}

package dump

import (
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"strings"
)

// Writers for the tests: the plain way round from bytes to records, by the same specifications as the readers.

// hexLine writes one Intel HEX record.
func hexLine(kind byte, offset uint16, data ...byte) string {
	bytes := append([]byte{byte(len(data)), byte(offset >> 8), byte(offset), kind}, data...)
	var sum byte
	for _, b := range bytes {
		sum += b
	}
	return fmt.Sprintf(":%X%02X\n", bytes, -sum)
}

// sLine writes one S-record with an address of the given number of bytes.
func sLine(kind byte, width int, address uint64, data ...byte) string {
	bytes := []byte{byte(width + len(data) + 1)}
	bytes = append(bytes, binary.BigEndian.AppendUint64(nil, address)[8-width:]...)
	bytes = append(bytes, data...)
	var sum byte
	for _, b := range bytes {
		sum += b
	}
	return fmt.Sprintf("S%c%X%02X\n", kind, bytes, ^sum)
}

// stretches calls visit with the address and the bytes of each record of at most length bytes that writes d down,
// leaving out its gaps and crossing no multiple of 64 KiB.
func stretches(d Dump, length int, visit func(address uint64, data []byte)) {
	at := 0
	put := func(to int) {
		for at < to {
			n := min(length, to-at, 1<<16-int((d.Base+uint64(at))%(1<<16)))
			visit(d.Base+uint64(at), d.Bytes[at:at+n])
			at += n
		}
	}
	for _, gap := range d.Gaps {
		put(gap.From)
		at = gap.To
	}
	put(len(d.Bytes))
}

// writeHex writes d as Intel HEX with a linear base before each record that needs another one.
func writeHex(d Dump, length int) string {
	var b strings.Builder
	base := uint64(0)
	stretches(d, length, func(address uint64, data []byte) {
		if address>>16 != base {
			base = address >> 16
			b.WriteString(hexLine(hexLinearBase, 0, byte(base>>8), byte(base)))
		}
		b.WriteString(hexLine(hexData, uint16(address), data...))
	})
	if d.Start != nil {
		b.WriteString(hexLine(hexLinearStart, 0, binary.BigEndian.AppendUint32(nil, uint32(*d.Start))...))
	}
	b.WriteString(hexLine(hexEnd, 0))
	return b.String()
}

// writeSRecords writes d as S3 records with a count and an end.
func writeSRecords(d Dump, length int) string {
	var b strings.Builder
	records := uint64(0)
	stretches(d, length, func(address uint64, data []byte) {
		b.WriteString(sLine('3', 4, address, data...))
		records++
	})
	if records < 1<<16 {
		b.WriteString(sLine('5', 2, records))
	} else {
		b.WriteString(sLine('6', 3, records))
	}
	start := uint64(0)
	if d.Start != nil {
		start = *d.Start
	}
	b.WriteString(sLine('7', 4, start))
	return b.String()
}

// noise returns n bytes that look like nothing in particular, the same for the same seed.
func noise(n int, seed uint64) []byte {
	random := rand.New(rand.NewPCG(seed, 1))
	bytes := make([]byte, n)
	for i := range bytes {
		bytes[i] = byte(random.Uint32())
	}
	return bytes
}

package faults

import (
	"hash/crc32"
	"math/bits"
	"strconv"
	"strings"

	"lunette/core/digest"
	"lunette/core/words"
)

// An UnstableByte is one byte on which the reads do not agree.
type UnstableByte struct {
	Offset int      `json:"offset"`
	Values []string `json:"values"` // as read, in the order of the reads, two hex digits each
	Chosen string   `json:"chosen"` // two hex digits
	Why    string   `json:"why"`
}

func (r *Reread) unstableByte(at int) UnstableByte {
	u := UnstableByte{Offset: at}
	apart := byte(0)
	for _, read := range r.reads {
		u.Values = append(u.Values, words.Byte(read[at]))
		apart |= read[at] ^ r.reads[0][at]
	}
	value, tied := r.chosen(at)
	u.Chosen = words.Byte(value)
	switch {
	case len(r.reads) == 2:
		u.Why = "two reads, 0 taken"
	case tied == 0:
		u.Why = "majority"
	case tied == apart:
		u.Why = "tie, 0 taken"
	default:
		u.Why = words.Fill("majority; {} tied, 0 taken", words.List(bitNames(tied)))
	}
	return u
}

// bitNames returns the names of the bits in a mask: "bit 3".
func bitNames(mask byte) (names []string) {
	for ; mask != 0; mask &= mask - 1 {
		names = append(names, "bit "+strconv.Itoa(bits.TrailingZeros8(mask)))
	}
	return names
}

// List returns what must be saved beside the consensus, as plain text: which reads it was made from, and every byte that
// was not unanimous, with the values read, the one chosen and why. It is empty when there is no consensus.
func (r *Reread) List() []byte {
	if r.Consensus == nil {
		return nil
	}
	var b strings.Builder
	hash := digest.NewSHA256()
	hash.Write(r.Consensus)
	line := func(parts ...string) {
		for _, part := range parts {
			b.WriteString(part)
		}
		b.WriteByte('\n')
	}
	line("Consensus of ", words.Plural(len(r.reads), "read"), ", ", words.Size(r.Size), " each")
	line()
	for i, read := range r.reads {
		name := r.names[i]
		if number := "read " + strconv.Itoa(i+1); name != number {
			name = number + ", " + name
		}
		line(name, ": CRC-32 ", words.Hex(uint64(crc32.ChecksumIEEE(read)), 8), ", ", words.Plural(r.Reads[i].Odd, "byte"),
			" other than the consensus")
	}
	line("consensus: CRC-32 ", words.Hex(uint64(crc32.ChecksumIEEE(r.Consensus)), 8))
	line("consensus: SHA-256 ", hex(hash.Sum()))
	line()
	line(r.Agreement)
	line(r.Headline)
	line()
	line(words.Plural(r.Bytes, "byte"), " not unanimous (offset, read 1 to ", strconv.Itoa(len(r.reads)), ", chosen, why; hex):")
	r.walk(func(at int, _ uint64) {
		u := r.unstableByte(at)
		line(words.Address(at), "  ", strings.Join(u.Values, " "), "  ", u.Chosen, "  ", u.Why)
	})
	return []byte(b.String())
}

func hex(sum []byte) string {
	var b strings.Builder
	for _, v := range sum {
		b.WriteString(strings.ToLower(words.Byte(v)))
	}
	return b.String()
}

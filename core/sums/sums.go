// Package sums answers: what are this dump's checksums, and what is this printed value?
//
// All gives every sum of the Catalogue over a dump or any part of it, Of over the dump in another byte arrangement, an
// Engine over bytes that come in pieces. Explain takes what a sticker or a manual says and looks for the sum, the
// arrangement and the range that give it, and says how little or how much that proves.
//
// The catalogue is one table; code over it is general. Its fifty-odd rows cost four passes:
//
//   - columns.go: plain and negated sums and exclusive ors of bytes, words and longs in both orders, and Adler-32, follow
//     from what the bytes at each place of a long add up to.
//   - remainder.go and crc.go: all CRCs follow from one division per bit order, by the product of their polynomials.
//     Those that differ only in start and end value share a remainder, because division is linear.
//   - rotate.go: the rotating sums run side by side in one loop.
//   - digest.go: MD5, SHA-1 and SHA-256 are those of package digest.
//
// The plain definitions stand in reference_test.go, and the tests hold the quick ones against them.
package sums

//go:generate go run lunette/core/jsontext/generate

import "lunette/core/arrange"

// A Sum is one sum of given bytes.
type Sum struct {
	ID    string `json:"id"`    // stable, for links and JSON: "byte-sum-16", "crc-32"
	Name  string `json:"name"`  // in the trade's words
	Group string `json:"group"` // a heading that neighbouring rows share
	Bits  int    `json:"bits"`  // width: 8, 16, 32, 128, 160 or 256
	// Hex is the value in Bits/4 digits: upper case, and lower case for digests, as their standards print them.
	Hex    string `json:"hex"`
	Note   string `json:"note,omitempty"` // where it is met
	Source string `json:"source"`         // the document that defines it
}

const (
	blockSize    = 16 << 10 // bytes; together with the tables of one bit order it fits the smallest first-level cache
	progressStep = 1 << 20  // bytes between two calls of progress
)

// All returns every sum of data, in the order of the catalogue; pass a part of a dump for the sums of that part. known
// and progress may be nil; progress is called about once a MiB with the number of bytes done.
func All(data []byte, known Known, progress func(done int)) []Sum {
	return Of(data, arrange.Stored, known, progress)
}

// Of is All over data in arrangement a, which is read through a small window and never copied as a whole. known are
// digests of the arranged bytes; done counts arranged bytes.
func Of(data []byte, a arrange.Arrangement, known Known, progress func(done int)) []Sum {
	return Over(data, a, 0, a.Len(len(data)), known, progress)
}

// Over is Of a part of the arranged image: from offset from to before to, both from 0 to the arranged length.
func Over(data []byte, a arrange.Arrangement, from, to int, known Known, progress func(done int)) []Sum {
	e := NewEngine(known)
	done, next := 0, progressStep
	view{data, a}.each(from, to, func(block []byte) {
		e.Write(block)
		done += len(block)
		if progress != nil && done >= next {
			progress(done)
			next += progressStep
		}
	})
	return e.Sums()
}

// A view is stored bytes seen in an arrangement.
type view struct {
	stored []byte
	a      arrange.Arrangement
}

func (v view) len() int { return v.a.Len(len(v.stored)) }

// each passes the arranged bytes from from to before to, in order, in blocks of at most blockSize. A block is good until
// the next call only and must not be written to.
func (v view) each(from, to int, take func(block []byte)) {
	if v.a == arrange.Stored {
		for ; from < to; from += blockSize {
			take(v.stored[from:min(from+blockSize, to)])
		}
		return
	}
	window := make([]byte, min(blockSize, max(to-from, 0)))
	for ; from < to; from += blockSize {
		n := v.a.Copy(window[:min(blockSize, to-from)], v.stored, from)
		take(window[:n])
	}
}

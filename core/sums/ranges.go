package sums

import (
	"slices"

	"lunette/core/arrange"
	"lunette/core/sorted"
	"lunette/core/words"
)

// A span is one range of an arranged image that a printed value may cover, and what it is extended with.
type span struct {
	name     string // "the whole", "the first half"
	from, to int    // bytes of the arranged image, to not included
	device   int    // where it is extended: the size of the device in bytes; else 0
	fill     byte   // with what
	isWhole  bool   // the image as it is, or with more or fewer erased bytes at its end
	unlikely int
}

// Devices larger than this many times the image are not tried: small images do stand in larger chips, but each device
// adds to what can match by accident.
const largestDevice = 8

// isLarger tells whether an image of n bytes may have been extended to a device of the given size.
func isLarger(device, n int) bool { return device > n && device <= largestDevice*n }

// defaultDevices are the sizes of the trade's parallel ROMs, in bytes: powers of two from 2 KiB to 8 MiB.
func defaultDevices() (sizes []int) {
	for size := 2 << 10; size <= 8<<20; size *= 2 {
		sizes = append(sizes, size)
	}
	return sizes
}

// spans returns the ranges of v that are tried, the likeliest kind first. Quarters are left out where withQuarters is
// false. devices are in bytes, in rising order.
func spans(v view, devices []int, withQuarters bool) []span {
	n := v.len()
	all := []span{{name: "the whole", to: n, isWhole: true}}
	if fill, used := v.used(); used > 0 && used < n {
		name := "the whole without its trailing " + words.Byte(fill)
		all = append(all, span{name: name, to: used, isWhole: true, unlikely: 2})
	}
	for _, fill := range []byte{0xFF, 0x00} {
		unlikely := 2
		if fill == 0x00 {
			unlikely = 3
		}
		for _, device := range devices {
			if isLarger(device, n) {
				name := words.Fill("the whole, filled with {} to {}", words.Byte(fill), words.Size(device))
				all = append(all, span{name, 0, n, device, fill, true, unlikely})
			}
		}
	}
	if half := n / 2; n%2 == 0 && half > 0 {
		all = append(all,
			span{name: "the first half", to: half, unlikely: 2},
			span{name: "the second half", from: half, to: n, unlikely: 2})
	}
	if quarter := n / 4; withQuarters && n%4 == 0 && quarter > 0 {
		for i, which := range []string{"first", "second", "third", "fourth"} {
			all = append(all, span{name: "the " + which + " quarter", from: i * quarter, to: (i + 1) * quarter, unlikely: 3})
		}
	}
	return all
}

// used returns how many bytes of the arranged image are left without the run of erased bytes, FF or 00, at its end. It is
// the whole length where there is none.
func (v view) used() (fill byte, used int) {
	used = v.len()
	if used == 0 {
		return 0, 0
	}
	fill = v.a.At(v.stored, used-1)
	if fill != 0xFF && fill != 0x00 {
		return fill, used
	}
	window := make([]byte, blockSize)
	for used > 0 {
		from := max(0, used-blockSize)
		n := v.a.Copy(window[:used-from], v.stored, from)
		for i := n - 1; i >= 0; i-- {
			if window[i] != fill {
				return fill, from + i + 1
			}
		}
		used = from
	}
	return fill, 0
}

// cuts returns where spans begin or end, in rising order.
func cuts(spans []span) (at []int) {
	for _, s := range spans {
		at = append(at, s.from, s.to)
	}
	sorted.Ascending(at)
	return slices.Compact(at)
}

// mostUnlikely is no less than what the unlikeliest combination adds up to.
const mostUnlikely = 100

// arrangements returns those that are tried: all, but for digests no mirrored ones, of which nobody keeps lists.
func arrangements(withMirrored bool) (tried []arrange.Arrangement) {
	for _, a := range arrange.All() {
		if withMirrored || !a.IsMirrored() {
			tried = append(tried, a)
		}
	}
	return tried
}

// unlikelyOrder says how seldom a value is printed of bytes in arrangement a: 0 for as stored, up to 6.
func unlikelyOrder(a arrange.Arrangement) int {
	if a.IsMirrored() {
		plain, _ := a.Then(arrange.Mirrored) // twice mirrored is not mirrored; no lane is added, so it always exists
		return 3 + unlikelyOrder(plain)
	}
	_, lanes := a.Lanes()
	switch {
	case a == arrange.Swapped, lanes == 2:
		return 1
	case a == arrange.Reversed, lanes == 4:
		return 2
	case a == arrange.Halves:
		return 3
	}
	return 0
}

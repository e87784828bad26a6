package main

import (
	"math/bits"
	"math/rand/v2"

	"lunette/core/faults"
)

var stuck = []faults.FaultKind{faults.StuckLow, faults.StuckHigh}
var between = []faults.FaultKind{faults.Exchanged, faults.BridgedLow, faults.BridgedHi}

// A setting is a size, a width and a byte order.
type setting struct {
	size, width int
	high        bool
}

func (s setting) lines() int { return bits.Len(uint(s.size/(s.width/8) - 1)) }

// singles returns every fault of one line or between two, of one kind of line.
func (s setting) singles(kind string) (all []faults.LineTrouble) {
	n, line := s.lines(), faults.AddressLine
	if kind == "data" {
		n, line = s.width, faults.DataLine
	}
	for i := range n {
		for _, k := range stuck {
			all = append(all, faults.LineTrouble{Kind: k, Lines: []faults.Line{line(i, s.width)}})
		}
		for j := i + 1; j < n; j++ {
			for _, k := range between {
				all = append(all, faults.LineTrouble{Kind: k, Lines: []faults.Line{line(i, s.width), line(j, s.width)}})
			}
		}
	}
	return all
}

// truths returns the cases of a setting: all single faults, or so many of each kind drawn at random when sample is positive;
// and always a sample of the pairs and wirings.
func (s setting) truths(sample, pairs int, draw *rand.Rand) (all []truth) {
	one := func(group string, o order, troubles ...faults.LineTrouble) {
		all = append(all, truth{group: group, order: o, width: s.width, high: s.high, troubles: troubles})
	}
	address, data := s.singles("address"), s.singles("data")
	some := func(list []faults.LineTrouble) []faults.LineTrouble {
		if sample <= 0 || sample >= len(list) {
			return list
		}
		picked := make([]faults.LineTrouble, sample)
		for i, n := range draw.Perm(len(list))[:sample] {
			picked[i] = list[n]
		}
		return picked
	}
	for _, t := range some(address) {
		one("one address fault", orders[0], t)
	}
	for _, t := range some(data) {
		one("one data fault", orders[0], t)
	}
	any := func(list []faults.LineTrouble) faults.LineTrouble { return list[draw.IntN(len(list))] }
	for range pairs {
		one("address and data", orders[0], any(address), any(data))
		one("order and line", orders[1+draw.IntN(len(orders)-1)], any(append(address, data...)))
		first, second := any(data), any(data)
		for overlap(first, second) {
			second = any(data)
		}
		one("two data lines", orders[0], first, second)
	}
	for range max(1, pairs/4) {
		w := truth{group: "wiring", order: orders[0], width: s.width, high: s.high, address: draw.Perm(s.lines()), data: draw.Perm(s.width)}
		all = append(all, w)
		w.data = inOrder(s.width)
		all = append(all, w)
		w.address, w.data = inOrder(s.lines()), draw.Perm(s.width)
		all = append(all, w)
	}
	return all
}

func inOrder(n int) []int {
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	return order
}

func overlap(a, b faults.LineTrouble) bool {
	for _, x := range a.Lines {
		for _, y := range b.Lines {
			if x == y {
				return true
			}
		}
	}
	return false
}

package marks

import (
	"cmp"
	"slices"

	"lunette/core/arrange"
	"lunette/core/sorted"
	"lunette/core/words"
)

// What headers say together: echoes and shadows, the arrangement they decide, and chains of expansion ROMs.

// dropEchoes leaves out what says nothing new: the same row at the same place of the same arrangement, seen as the
// start of the whole, of a half and of a quarter; and a ROM part seen in a byte lane alone when the joined parts were
// seen.
func dropEchoes(found []Header) []Header {
	type spot struct {
		row   string
		order arrange.Arrangement
		at    int
	}
	best := map[spot]int{}
	joined := map[string]bool{}
	var kept []Header
	for _, h := range found {
		s := spot{h.Row, h.Order, h.At}
		i, again := best[s]
		switch {
		case !again:
			best[s] = len(kept)
			kept = append(kept, h)
		case h.Bits > kept[i].Bits:
			kept[i] = h
		}
		if _, of := h.Order.Lanes(); of == 1 && h.Row == "rom-part" {
			joined[h.Row] = true
		}
	}
	return slices.DeleteFunc(kept, func(h Header) bool {
		_, of := h.Order.Lanes()
		return of > 1 && joined[h.Row]
	})
}

// shadowBits is how much weaker a pattern must be than the same one in another arrangement of the same bytes to be
// taken for its shadow. Two that are closer are both told: neither can be trusted alone.
const shadowBits = 4

// dropShadows leaves out patterns that another arrangement of the same bytes shows clearly stronger: vectors whose
// bytes are exchanged can still pass for some.
func dropShadows(found []Header) []Header {
	strongest := map[string]float64{}
	key := func(h Header) string { return h.Row + "@" + words.Address(h.Stored>>4) }
	for _, h := range found {
		strongest[key(h)] = max(strongest[key(h)], h.plain)
	}
	return slices.DeleteFunc(found, func(h Header) bool {
		return h.SelfCheck != CheckHolds && h.plain < strongest[key(h)]-shadowBits
	})
}

// settleHeaders sets Settles: the self-check holds, the claim is 24 bits strong, and the row's self-check holds in no
// other arrangement at the same stored bytes.
func settleHeaders(found []Header) {
	for i := range found {
		h := &found[i]
		h.Settles = h.SelfCheck == CheckHolds && h.Bits >= settleBits
		for j := range found {
			if j != i && found[j].Row == h.Row && found[j].SelfCheck == CheckHolds && found[j].Stored>>4 == h.Stored>>4 &&
				found[j].Order != h.Order {
				h.Settles = false
			}
		}
	}
}

// tellChains says of each PCI image where it stands in its chain, and what is wrong with the chain.
func tellChains(found []Header) {
	var images []*Header
	for i := range found {
		if found[i].next > 0 {
			images = append(images, &found[i])
		}
	}
	sorted.By(images, func(a, b *Header) int {
		return cmp.Or(cmp.Compare(a.Order.ID(), b.Order.ID()), cmp.Compare(a.At, b.At))
	})
	for len(images) > 0 {
		chain := 1
		for chain < len(images) && !images[chain-1].last && images[chain].Order == images[0].Order &&
			images[chain].At == images[chain-1].next {
			chain++
		}
		for i, h := range images[:chain] {
			h.Detail = append(h.Detail, words.Fill("image {} of {} in its chain", words.Count(i+1), words.Count(chain)))
		}
		if end := images[chain-1]; !end.last {
			end.Detail = append(end.Detail,
				words.Fill("it says another image follows at {}, and none does: the dump may be cut short", words.Address(end.next)))
		}
		images = images[chain:]
	}
}

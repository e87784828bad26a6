package link

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
	"lunette/core/dump"
)

// posted returns the statement of stored as the other end reads it.
func posted(t testing.TB, stored []byte, order arrange.Arrangement, short bool) Statement {
	s := of(t, stored, order)
	if short {
		s = s.Shortened()
	}
	s, err := Decode(Encode(s))
	require.NoError(t, err)
	return s
}

// Every arrangement of the dump against every order that may have been posted, at sizes of all kinds: power of two, odd, with
// incomplete words at the end, of one block.
func TestEveryArrangementIsFound(t *testing.T) {
	for _, n := range []int{64, 1023, 2048, 4098, 5003, 65536, 70_002} {
		stored := random(n)
		for _, order := range arrange.Orders() {
			for _, short := range []bool{false, true} {
				s := posted(t, stored, order, short)
				for _, other := range arrange.Orders() {
					own := other.Apply(stored)
					a := Check(own, s, nil)
					require.True(t, a.Same, "%d bytes, %s, %s", n, order, other)
					view, ok := arrange.Parse(a.Order)
					require.True(t, ok)
					require.Equal(t, order.Apply(stored), view.Apply(own), "the order that is named gives what was posted")
					require.Empty(t, a.Own)
					if other == arrange.Stored {
						require.Equal(t, Identical, a.Relation)
						continue
					}
					require.Equal(t, Arranged, a.Relation)
					require.True(t, strings.HasSuffix(a.Sentence, " with "+strings.ReplaceAll(other.String(), ", ", " and ")+"."), a.Sentence)
				}
			}
		}
	}
}

// A dump with changed bytes, in any arrangement, names exactly the blocks that hold them.
func TestChangedBytesAreNamedByBlock(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 10))
	rom := u41(t)[:128<<10]
	for _, stored := range [][]byte{rom, random(100_003), random(64 << 10), random(3000)} {
		for _, order := range []arrange.Arrangement{arrange.Stored, arrange.Swapped, arrange.Orders()[6]} {
			s := posted(t, stored, order, false)
			for _, changes := range []int{1, 10, 1000} {
				for _, other := range arrange.Orders() {
					own := other.Apply(stored)
					changed := map[int]bool{} // by block, as the package divides a dump
					for range changes {
						at := r.IntN(len(own))
						if changes == 1000 && len(own) > 3000 {
							at = at / 3 // so that some blocks stay as they are
						}
						own[at] ^= byte(1 << r.IntN(8))
					}
					back := other.Apply(own)
					for i := range s.Blocks {
						from, to := s.span(i)
						changed[i] = !bytes.Equal(back[from:to], stored[from:to])
					}
					a := Check(own, s, nil)
					require.False(t, a.Same)
					require.Equal(t, a.Own, a.Posted, "blocks hold whole words, so they stand at the same offsets in every order")
					named := inside(a.Own)
					for i := range s.Blocks {
						from, to := s.span(i)
						for offset := from; offset < to; offset++ {
							if named(offset) != changed[i] {
								require.Fail(t, "block", "%d bytes, %d changed, %s, %s: block %d, named %v, changed %v: %s", len(own), changes,
									order, other, i, named(offset), changed[i], a.Sentence)
							}
						}
					}
					if a.Relation == Differs {
						view, _ := arrange.Parse(a.Order)
						require.Equal(t, order.Apply(stored), view.Apply(other.Apply(stored)))
					}
				}
			}
		}
	}
}

func inside(ranges []dump.Range) func(offset int) bool {
	return func(offset int) bool {
		for _, r := range ranges {
			if offset >= r.From && offset < r.To {
				return true
			}
		}
		return false
	}
}

func TestLanesAndParts(t *testing.T) {
	stored := random(64 << 10)
	code := u41(t)[:64<<10]
	for _, order := range arrange.Orders() {
		for _, stored := range [][]byte{stored, code} {
			s := posted(t, stored, order, false)
			short := posted(t, stored, order, true)
			cpu := order.Apply(stored)
			for _, own := range arrange.Orders() {
				for _, of := range []int{2, 4} {
					for i := range of {
						lane := arrange.Lane(i, of)
						for _, s := range []Statement{s, short} {
							a := Check(own.Apply(lane.Apply(cpu)), s, nil)
							require.Equal(t, Lane, a.Relation)
							require.True(t, a.Same)
							require.Equal(t, own.ID(), a.Order)
							require.True(t, strings.HasPrefix(a.Sentence, "Your dump is "+laneName(lane)+" of the posted one"), a.Sentence)
						}
					}
				}
				half := own.Apply(cpu[:len(cpu)/2])
				a := Check(half, s, nil)
				require.Equal(t, Part, a.Relation)
				require.True(t, a.Same)
				require.True(t, strings.HasPrefix(a.Sentence, "Your dump is the first half of the posted one"), a.Sentence)
			}
		}
	}
}

func TestPartsMultiplesAndBeginnings(t *testing.T) {
	stored := random(64 << 10)
	blank := bytes.Repeat([]byte{0xFF}, 64<<10)
	other := random(64<<10 + 4)[4:]
	cpu := arrange.Swapped.Apply(stored)
	join := func(lanes ...[]byte) []byte {
		image, err := arrange.Join(lanes)
		require.NoError(t, err)
		return image
	}
	with := func(image []byte, at ...int) []byte {
		image = bytes.Clone(image)
		for _, at := range at {
			image[at] ^= 0x10
		}
		return image
	}
	s := posted(t, stored, arrange.Swapped, false)
	short := posted(t, stored, arrange.Swapped, true)
	twice := posted(t, arrange.Repeat(stored, 2), arrange.Swapped, false)
	for _, c := range []struct {
		name     string
		relation Relation
		same     bool
		sentence string
		own      []byte
		s        Statement
	}{
		{"second half", Part, true, "Your dump is the second half of the posted one.", stored[32<<10:], s},
		{"third quarter", Part, true, "Your dump is the third quarter of the posted one with bytes swapped in 16-bit words.", cpu[32<<10 : 48<<10], s},
		{"half with a fault", Differs, false, "Different in 1 of 32 blocks of what would be the second half: 000400 to 0007FF.", with(stored[32<<10:], 0x412), s},
		{"read once", Part, true, "Your dump once is what the posted one holds twice.", stored, twice},
		{"read twice", Repeats, true, "Your dump is the posted one twice over.", arrange.Repeat(stored, 2), s},
		{"read twice, swapped", Repeats, true, "Your dump is the posted one twice over with bytes swapped in 16-bit words.", arrange.Repeat(cpu, 2), s},
		{"read four times", Repeats, true, "Your dump is the posted one 4 times over.", arrange.Repeat(stored, 4), s},
		{"upper half", Holds, true, "The posted dump is the second half of yours.", append(bytes.Clone(other), stored...), s},
		{"padded", Holds, true, "The posted dump is the first half of yours.", append(bytes.Clone(stored), blank...), s},
		{"posted is odd lane", Holds, true, "The posted dump is the odd byte lane of yours.", join(other, stored), s},
		{"posted is lane 2", Holds, true, "The posted dump is byte lane 2 (of lanes 0 to 3) of yours with bytes swapped in 16-bit words.", join(other, other, cpu, other), s},
		{"posted is a lane, with a fault", Differs, false, "Different in 1 of 64 blocks of what would be the odd byte lane, compared with bytes swapped in 16-bit words: 000800 to 000FFF.",
			join(other, with(cpu, 0x412)), s},
		{"half with a fault in a doubled one", Differs, false, "Different in 2 of 64 blocks of what would be the first half: 001000 to 0013FF and 00FC00 to 00FFFF.",
			append(with(stored, 0x1000, 0xFFFF), other...), s},
		{"cut", Part, true, "Your dump is the beginning of the posted one: 44 KiB of 64 KiB agree.", stored[:45_100], s},
		{"long", Holds, true, "Your dump begins with the posted one; 1,000 bytes more follow.", append(bytes.Clone(stored), other[:1000]...), s},
		{"another", Different, false, "Different throughout: no block with content agrees, in any of the eight orders.", other, s},
		{"another half", Different, false, "Different: no part of one is found in the other, as far as the link can show.", other[:32<<10], s},
		{"another, larger", Different, false, "Different: no part of one is found in the other, as far as the link can show.", append(bytes.Clone(other), blank...), s},
		{"empty", Different, false, "Your dump is empty: there is nothing to compare.", nil, s},
		{"a byte", Different, false, "Not the same dump: the sizes differ, and yours is smaller than anything the link has a print of.", stored[:1], s},
		{"blank", Different, false, "Different throughout: no block with content agrees, in any of the eight orders.", blank, s},
		{"blank half of a padded one", Unknown, true, "Cannot tell: your dump is FF throughout, and so is a part of the posted one.", blank,
			posted(t, append(bytes.Clone(stored), blank...), arrange.Stored, false)},
		{"blank lane of a padded one", Unknown, true, "Cannot tell: your dump is FF throughout, and so is a part of the posted one.", blank,
			posted(t, join(stored, blank), arrange.Stored, false)},

		{"short: another", Different, false, "Not the same dump, in any of the eight orders.", other, short},
		{"short: half", Different, false, "Not the same dump: the sizes differ.", stored[:32<<10], short},
		{"short: twice", Holds, true, "The posted dump is the first half of yours.", arrange.Repeat(stored, 2), short},
		{"short: lane", Holds, true, "The posted dump is the odd byte lane of yours.", join(other, stored), short},
		{"short: cut", Different, false, "Not the same dump: the sizes differ.", stored[:45_000], short},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := Check(c.own, c.s, nil)
			require.Equal(t, c.sentence, a.Sentence)
			require.Equal(t, c.relation, a.Relation)
			require.Equal(t, c.same, a.Same)
			require.NotNil(t, a.Own)
			require.NotNil(t, a.Evidence)
			require.NotContains(t, strings.Join(append(a.Evidence, a.Next), " "), "{}")
		})
	}
}

// A link that says two things at once is not believed.
func TestContradictionIsSaid(t *testing.T) {
	stored := random(64 << 10)
	s := posted(t, stored, arrange.Stored, false)
	s.SHA256 = strings.Repeat("0", 64)
	s.SHA256CPU = s.SHA256
	a := Check(stored, s, nil)
	require.Equal(t, Unknown, a.Relation)
	require.False(t, a.Same)
	require.Contains(t, a.Sentence, "contradicts itself")
	require.Contains(t, Check(arrange.Repeat(stored, 2), s, nil).Sentence, "contradicts itself")
}

// Whatever a link says and whatever dump it is held against, there is an answer, and its ranges lie in the dumps.
func FuzzCheck(f *testing.F) {
	stored := random(5000)
	for _, order := range arrange.Orders() {
		s := of(f, stored, order)
		f.Add(Encode(s), stored, uint8(0))
		f.Add(Encode(s.Shortened()), stored[:2500], uint8(3))
	}
	f.Fuzz(func(t *testing.T, link string, own []byte, times uint8) {
		s, err := Decode(link)
		if err != nil || len(own) > 1<<16 {
			return
		}
		share := 0.0
		a := Check(bytes.Repeat(own, 1+int(times)%5), s, func(now float64) {
			require.GreaterOrEqual(t, now, share)
			require.LessOrEqual(t, now, 1.0)
			share = now
		})
		require.NotEmpty(t, a.Sentence)
		for i := range a.Own {
			require.Less(t, a.Own[i].From, a.Own[i].To)
			require.Less(t, a.Posted[i].From, a.Posted[i].To)
			require.GreaterOrEqual(t, a.Own[i].From, 0)
			require.LessOrEqual(t, a.Own[i].To, len(own)*(1+int(times)%5))
			require.LessOrEqual(t, a.Posted[i].To, s.Size)
		}
	})
}

func BenchmarkCheck(b *testing.B) {
	stored := random(1 << 20)
	s := of(b, stored, arrange.Swapped)
	other := random(1<<20 + 4)[4:]
	for name, own := range map[string][]byte{"identical": stored, "swapped": arrange.Swapped.Apply(stored), "another": other} {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(own)))
			for b.Loop() {
				Check(own, s, nil)
			}
		})
	}
}

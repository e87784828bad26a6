package faults_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/faults"
)

// A master that was read through a fault makes a good read look as if it must be erased or burnt. Nothing else is known of the
// two.
func TestAFaultyMasterIsFound(t *testing.T) {
	good := small(t)
	for name, c := range map[string]struct {
		say  string
		made change
	}{
		"address line": {"A6 is stuck low (x8 device).", reads[2].of},
		"data line low": {"D0 is stuck low (x8 device)", func(m []byte) []byte {
			read := bytes.Clone(m)
			for i := range read {
				read[i] &^= 1
			}
			return read
		}},
		"stopped": {"the burn stopped at 001000, after 12.5 % of the image", func(m []byte) []byte {
			return append(bytes.Clone(m[:4096]), bytes.Repeat([]byte{0xFF}, len(m)-4096)...)
		}},
	} {
		got := faults.Compare(c.made(good), good, faults.Options{}, nil)
		said := strings.Join(append(got.Reasons, got.Headline), "\n")
		require.Contains(t, said, c.say, name)
		require.NotContains(t, strings.Join(got.Next, " "), "rase the chip", name)
		require.NotContains(t, strings.Join(got.Next, " "), "urn the master", name)

		proven := faults.Options{Master: faults.LooksProven, Read: faults.LooksSound}
		require.False(t, faults.Compare(c.made(good), good, proven, nil).Exchange, "a proven master is none that was read wrong: %s", name)
	}
}

// Who stands better is only asked where the two belong together.
func TestStrangersAreNotExchanged(t *testing.T) {
	master := small(t)
	options := faults.Options{Master: faults.LooksFaulty, Read: faults.LooksProven}
	require.False(t, faults.Compare(master, reads[6].of(master), options, nil).Exchange)
	require.False(t, faults.Compare(master, master, options, nil).Exchange)
	require.True(t, faults.Compare(master, reads[4].of(master), options, nil).Exchange)
	for _, same := range []faults.Options{{}, {Read: faults.LooksProven}, {Master: faults.LooksUndecided, Read: faults.LooksSound},
		{Master: faults.LooksProven, Read: faults.LooksProven}} {
		require.False(t, faults.Compare(master, reads[4].of(master), same, nil).Exchange, "%+v", same)
	}
}

// Ones on a line that the master never uses are the read's trouble as well as the master's: both are told.
func TestAnUnsteadyLineIsNoReasonToExchange(t *testing.T) {
	master := bytes.Clone(small(t))
	for i := range master {
		master[i] &= 0x7F
	}
	read := bytes.Clone(master)
	for i := 50; i < len(read); i += 101 {
		read[i] |= 0x80
	}
	c := faults.Compare(master, read, faults.Options{Width: 8}, nil)
	require.Equal(t, faults.LineFault, c.Relation)
	require.False(t, c.Exchange)
	require.Contains(t, c.Reasons, "With the two exchanged, one thing explains every byte: D7 is stuck low.")
}

// More where the master is blank is another version as well as older content, and erasing may lose the only copy of it.
func TestContentInBlankSpaceIsNoOlderContent(t *testing.T) {
	read := small(t)
	master := bytes.Clone(read)
	for i := 0x2000; i < 0x5000; i++ {
		master[i] = 0xFF
	}
	c := faults.Compare(master, read, faults.Options{}, nil)
	require.Equal(t, faults.Shares, c.Relation, c.Headline)
	require.NotContains(t, strings.Join(c.Next, " "), "rase")
}

// A block that is changed both ways may be another version of the ROM.
func TestAChangedBlockMayBeAnotherVersion(t *testing.T) {
	master := small(t)
	read := bytes.Clone(master)
	for i := range 64 {
		read[0x1240+i] = byte(37*i) ^ 0x5A
	}
	c := faults.Compare(master, read, faults.Options{}, nil)
	require.Equal(t, faults.Different, c.Relation)
	require.Contains(t, strings.Join(c.Next, " "), "another version of the ROM")
	require.Contains(t, strings.Join(c.Next, " "), "Only if the chip was burnt from this master, erase")
	require.Contains(t, c.Reasons[0], "from 001240 to 00127F")
}

// Few scattered ones ask for another read before a burn.
func TestFewOnesAreReadAgain(t *testing.T) {
	c := faults.Compare(small(t), reads[4].of(small(t)), faults.Options{}, nil)
	require.Equal(t, faults.FewHigh, c.Relation)
	require.Contains(t, c.Headline, "a tired chip, a weak supply, a slow read or a weak burn")
	require.Contains(t, c.Next[0], "Read it twice more first")
}

// The top address line being stuck, a smaller chip and a half that was burnt twice read the same.
func TestTheTopLineIsNotBlamedAlone(t *testing.T) {
	master := small(t)
	half := len(master) / 2
	for part, want := range [][2]string{{"A14 is stuck low", "lower half"}, {"A14 is stuck high", "upper half"}} {
		one := master[part*half : (part+1)*half]
		c := faults.Compare(master, append(bytes.Clone(one), one...), faults.Options{Width: 8}, nil)
		require.Equal(t, want[0]+". 2 other causes explain it as well.", c.Headline)
		require.Equal(t, faults.Selection, c.Explanations[1].Kind)
		require.Equal(t, "The chip holds 16 KiB, the "+want[1]+" of the master, and was read as one of 32 KiB: it is smaller, or the wrong "+
			"type was selected.", c.Explanations[1].Sentence)
		require.Contains(t, c.Explanations[2].Sentence, want[1]+" of the master twice")
		require.Contains(t, c.Next[0], "Check first which part the chip is")
	}
	c := faults.Compare(master, reads[2].of(master), faults.Options{Width: 8}, nil)
	require.Equal(t, 1, c.Causes, "a lower line is no matter of size")
}

// A few bytes are too few to say anything.
func TestTooLittle(t *testing.T) {
	c := faults.Compare([]byte{1}, []byte{2}, faults.Options{}, nil)
	require.Equal(t, faults.TooLittle, c.Relation)
	require.Equal(t, "This is too little to compare: 1 of 1 byte differs.", c.Headline)
	c = faults.Compare([]byte("chips"), []byte("shops"), faults.Options{}, nil)
	require.Equal(t, faults.TooLittle, c.Relation)
	require.Equal(t, "This is too little to compare: 2 of 5 bytes differ.", c.Headline)
}

// The first bit that is low has its data lines, by each device that it may be from: counted by hand.
func TestTheFirstLowBitHasItsLine(t *testing.T) {
	master := small(t)
	at := 0x1001
	for master[at]&0x06 != 0x06 || at%2 == 0 {
		at++
	}
	read := bytes.Clone(master)
	read[at] &^= 0x06
	for _, c := range []struct {
		options faults.Options
		lines   string
	}{
		{faults.Options{Width: 8}, ", on D1 and D2."},
		{faults.Options{Width: 16, LowFirst: true}, ", on D9 and D10."},
		{faults.Options{Width: 16}, ", on D9 and D10 (x16, low byte first) or D1 and D2 (x16, high byte first)."},
		{faults.Options{}, ", on D1 and D2 (x8) or D9 and D10 (x16, low byte first) or D1 and D2 (x16, high byte first)."},
	} {
		require.Contains(t, strings.Join(faults.Compare(master, read, c.options, nil).Reasons, " "), c.lines)
	}
}

// 14 bits that are all 1 in one of two reads are one-sided, and too few to tell.
func TestFewBitsOfTwoReads(t *testing.T) {
	rom := demo(t, 64<<10)
	read := bytes.Clone(rom)
	for at, n := 0x100, 0; n < 14; at += 301 {
		if bit := byte(1) << (n % 8); rom[at]&bit == 0 {
			read[at] |= bit
			n++
		}
	}
	r := faults.Rereads([][]byte{rom, read}, nil, faults.Options{})
	require.Equal(t, faults.CannotTell, r.Trouble)
	require.Equal(t, []string{"14 bits differ, all of them 1 in one read and 0 in the other: too few to tell"}, r.Reasons)
}

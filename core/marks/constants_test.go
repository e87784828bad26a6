package marks

import (
	"bytes"
	"encoding/binary"
	"math/rand"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
)

// Code that a compiler made for SuperH loads its constants in line; of every other word of it nobody does.
func TestConstantsOfCompiledCode(t *testing.T) {
	image, err := os.ReadFile("testdata/sh.linked")
	require.NoError(t, err)
	image = image[:len(image)&^3]
	for _, order := range arrange.Orders() {
		stored := order.Apply(image)
		c := FindCode(stored, nil)
		require.Equal(t, "sh", c.Family, order.String())
		require.GreaterOrEqual(t, c.Sure, Strong, order.String())
		require.True(t, c.InPlace(stored), order.String())
		require.Contains(t, append([]Reading{{c.Family, c.Order}}, c.Other...), Reading{"sh", order})
	}
	var halves [2][]byte
	for i := 0; i < len(image); i += 4 {
		halves[0], halves[1] = append(halves[0], image[i:i+2]...), append(halves[1], image[i+2:i+4]...)
	}
	for _, half := range halves {
		c := Code{Reading: Reading{"sh", arrange.Stored}, Where: []Range{{0, len(half)}}}
		require.False(t, c.InPlace(half))
	}
}

// loading returns functions that load addresses of one region and return, high byte first: MOV.L @(disp,PC),Rn is 1101nnnn
// dddddddd and loads from disp*4 + (PC AND FFFFFFFC), where PC is four bytes behind it (SuperH RISC Engine SH-1/SH-2
// Programming Manual; from memory, and as the compiler's code above has it).
func loading(rng *rand.Rand, functions int) (image []byte) {
	for range functions {
		constants := 2 + 2*rng.Intn(3)
		code := constants + 2 // loads, RTS, NOP: a multiple of four bytes
		pool := len(image) + 2*code
		for i := range constants {
			distance := pool + 4*i - len(image)&^3 - 4
			image = append(image, 0xD0|byte(i), byte(distance/4))
		}
		image = append(image, 0x00, 0x0B, 0x00, 0x09)
		for range constants {
			image = binary.BigEndian.AppendUint32(image, 0x8C040000+uint32(rng.Intn(1<<16)))
		}
	}
	return image
}

// The halves of addresses tell the byte order of the CPU, in every arrangement.
func TestConstantsTellTheByteOrder(t *testing.T) {
	rng := rand.New(rand.NewSource(7))
	image := loading(rng, 60)
	little := make([]byte, 0, len(image)) // words and longs with the low byte first
	for at := 0; at < len(image); {
		if image[at]&0xF0 == 0xD0 || image[at] == 0 {
			little = append(little, image[at+1], image[at])
			at += 2
			continue
		}
		little = append(little, image[at+3], image[at+2], image[at+1], image[at])
		at += 4
	}
	for name, image := range map[string][]byte{"high byte first": image, "low byte first": little} {
		for _, order := range arrange.Orders() {
			stored := order.Apply(image)
			other, _ := order.Then(arrange.Swapped)
			for _, readings := range [][2]arrange.Arrangement{{order, other}, {other, order}} {
				c := Code{Reading: Reading{"sh", readings[0]}, Other: []Reading{{"sh", readings[1]}}, Where: []Range{{0, len(stored)}}}
				c = c.decidedByConstants(stored)
				assert.Equal(t, Reading{"sh", order}, c.Reading, "%s, %s", name, order)
				assert.Empty(t, c.Other, "%s, %s", name, order)
			}
		}
	}
}

// Small numbers and round ones have halves of zeros, above or below: they decide nothing.
func TestNumbersTellNoByteOrder(t *testing.T) {
	for _, shift := range []int{0, 16} {
		c := constants{seen: map[uint32]int{}}
		for i := range 500 {
			c.seen[uint32(i)<<shift] = 1
		}
		assert.Zero(t, c.upper())
	}
}

// Whole code is not taken for half of it, and half of it never for the whole, whether or not half of it still reads as code.
func TestHalfOfCodeMayBeHalf(t *testing.T) {
	code := bytes.Repeat(samples(t)["m68k"], 18)
	c := FindCode(code, nil)
	require.Equal(t, "m68k", c.Family)
	assert.Greater(t, c.Margin, 175.0)
	assert.False(t, c.MayBeHalf(code))
	for half := range 2 {
		var words []byte
		for i := 2 * half; i+4 <= len(code); i += 4 {
			words = append(words, code[i:i+2]...)
		}
		if c := FindCode(words, nil); c.Family != "" {
			assert.True(t, c.MayBeHalf(words), "margin %.0f", c.Margin)
		}
		assert.True(t, Code{Reading: Reading{"m68k", arrange.Stored}, Where: []Range{{0, len(words)}}}.MayBeHalf(words))
	}
	assert.False(t, Code{Reading: Reading{"ppc", arrange.Stored}}.MayBeHalf(code), "half of a long is no instruction")
}

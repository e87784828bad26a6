package chips

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Circuits by hand. What each does is reasoned from how a CMOS chip is built: the grounds are one node, every pin has a diode
// up from ground, outputs also one to VCC (common knowledge of the trade, no source; the sheets give only the limits of S17).
func TestDangerOfCircuits(t *testing.T) {
	for _, c := range []struct {
		danger int
		name   string
		circuit
	}{
		{works, "supply and ground right", circuit{vcc: plus, groundGround: true}},
		{readsNonsense, "the same with mixed lines", circuit{vcc: plus, groundGround: true, wrong: 2}},
		{nothingHappens, "no supply", circuit{groundGround: true}},
		{nothingHappens, "no ground", circuit{vcc: plus}},
		{nothingHappens, "nothing at all", circuit{}},
		{driversFight, "outputs on driven lines", circuit{vcc: plus, groundGround: true, fights: 1}},
		{driversFight, "fed by a line", circuit{vcc: line, groundGround: true}},
		{driversFight, "ground on a line", circuit{vcc: plus, groundLine: true}},
		{driversFight, "+5 V on an input of a chip without supply", circuit{groundGround: true, plusOnInput: 1}},
		{mayDamage, "an output of a powered chip on ground", circuit{vcc: plus, groundGround: true, groundOnOutput: 1}},
		{mayDamage, "fed through an output", circuit{groundGround: true, plusOnOutput: 1}},
		{mayDamage, "from an output at +5 V to VCC at ground", circuit{vcc: ground, plusOnOutput: 1}},
		{mayDamage, "VCC at ground, ground on a line", circuit{vcc: ground, groundLine: true}},
		{mayDamage, "+5 V on ground, nothing else", circuit{groundPlus: true}},
		{mayDamage, "ground on a strap that may be +5 V", circuit{vcc: line, groundUnknown: true}},
		{mayDamage, "grounds on ground and on a strap", circuit{vcc: plus, groundGround: true, groundUnknown: true}},
		{heats, "reversed", circuit{vcc: ground, groundPlus: true}},
		{heats, "reversed whenever a line is low", circuit{vcc: line, groundPlus: true}},
		{heats, "grounds short the supply", circuit{vcc: plus, groundPlus: true, groundGround: true}},
		{heats, "+5 V on ground, board ground on an input", circuit{groundPlus: true, groundOnInput: 1}},
		{heats, "+5 V on ground, board ground on an output", circuit{groundPlus: true, groundOnOutput: 1}},
	} {
		assert.Equal(t, ranks[c.danger], ranks[c.circuit.danger()], c.name)
	}
}

// A strap that is not known is ranked between what it is tied high and tied low, and "heats at once" only if it is that
// either way.
func TestAnUnknownStrapLiesBetween(t *testing.T) {
	for vcc := nothing; vcc <= dataLine; vcc++ {
		for bits := range 64 {
			c := circuit{
				vcc: vcc, groundUnknown: true, groundPlus: bits&1 > 0, groundGround: bits&2 > 0, groundLine: bits&4 > 0,
				fights: bits >> 3 & 1, plusOnOutput: bits >> 4 & 1, groundOnInput: bits >> 5 & 1,
			}
			high, low := c.as(plus), c.as(ground)
			assert.GreaterOrEqual(t, c.danger(), min(high.danger(), low.danger()))
			assert.LessOrEqual(t, c.danger(), max(high.danger(), low.danger()))
			assert.Equal(t, c.danger() == heats, min(high.danger(), low.danger()) == heats)
		}
	}
}

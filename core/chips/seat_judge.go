package chips

// How dangerous a seating is. The meetings are computed; what they do to a chip is inference, mostly from the absolute
// limits of a related part: VCC not below -2 V, inputs not below -0.5 V DC (S17, Table 2).

// Dangers, the least first.
const (
	works = iota
	nothingHappens
	readsNonsense
	driversFight
	mayDamage
	heats
	worstDanger = heats
)

// ranks says the dangers in words.
var ranks = [...]string{
	works:          "works",
	nothingHappens: "nothing happens",
	readsNonsense:  "does not work, no harm expected",
	driversFight:   "drivers fight",
	mayDamage:      "may be damaged",
	heats:          "heats at once, switch off",
}

// A circuit is what the meetings come to.
type circuit struct {
	vcc net // what the chip's supply pin is on

	// What the chip's grounds are on; byStrap says that +5 V comes by a strap, not by the board's own supply pin.
	groundPlus, groundGround, groundUnknown, groundLine, byStrap bool

	// How many pins of a sort: outputs on +5 V, on ground, on a strap that is not known, on lines that the board drives; inputs
	// on +5 V and on ground; pins that cannot do their work where they are.
	plusOnOutput, groundOnOutput, strapOnOutput, fights int
	plusOnInput, groundOnInput                          int
	wrong                                               int
	look                                                int // pins that want a fixed level which the board may or may not give
}

func circuitOf(list []met) circuit {
	var c circuit
	for i := range list {
		m := &list[i]
		switch m.chip.Role {
		case Supply:
			c.vcc = m.net
		case Ground:
			c.groundPlus = c.groundPlus || m.net == plus
			c.groundGround = c.groundGround || m.net == ground
			c.groundUnknown = c.groundUnknown || m.net == unknown
			c.groundLine = c.groundLine || m.net.isLine()
			c.byStrap = c.byStrap || m.net == plus && m.at.Role != Supply
		}
		switch m.mark() {
		case SupplyOnOutput:
			c.plusOnOutput++
		case GroundOnOutput:
			c.groundOnOutput++
		case StrapOnOutput:
			c.strapOnOutput++
		case Fight:
			c.fights++
		}
		if isInput := !m.isOutput() && !isPower(m.chip) && m.chip.Role != Unwired; isInput && m.net == plus {
			c.plusOnInput++
		} else if isInput && m.net == ground {
			c.groundOnInput++
		}
		if !m.serves() {
			c.wrong++
		} else if agreement, _ := agree(m.chip, m.at); agreement == Fixed && m.chip.Role != Unwired {
			c.look++
		}
	}
	return c
}

// reaches tells whether current can come out of the chip's grounds at all.
func (c *circuit) reaches() bool { return c.groundGround || c.groundLine || c.groundUnknown }

// danger ranks a circuit. A strap that is not known counts as the worse way, but heats only if it does so either way.
func (c *circuit) danger() int {
	if c.groundUnknown || c.vcc == unknown {
		high, low := c.as(plus), c.as(ground)
		better, worse := min(high.danger(), low.danger()), max(high.danger(), low.danger())
		return max(better, min(worse, mayDamage))
	}
	switch {
	case c.groundPlus && c.groundGround: // the chip's joined grounds short the supply
		return heats
	case c.groundPlus && (c.vcc == ground || c.vcc.isLine()): // reversed, all the time or whenever the line is low
		return heats
	case c.groundPlus && c.groundOnOutput+c.groundOnInput > 0: // from the chip's ground through the pin's diode to board ground
		return heats
	case c.groundPlus:
		return mayDamage
	case c.vcc == ground && c.groundLine: // reversed whenever the line is high
		return mayDamage
	case c.vcc != plus && c.plusOnOutput > 0 && (c.reaches() || c.vcc == ground): // fed through an output
		return mayDamage
	case c.vcc == plus && c.reaches() && c.plusOnOutput+c.groundOnOutput+c.strapOnOutput > 0: // an output shorted
		return mayDamage
	case c.vcc.isLine() || c.groundLine || c.fights > 0 && c.vcc == plus:
		return driversFight
	case (c.vcc == nothing && c.reaches() || c.vcc == ground) && c.plusOnInput > 0:
		return driversFight
	case c.vcc == ground, c.vcc == nothing, !c.reaches():
		return nothingHappens
	case c.wrong > 0:
		return readsNonsense
	}
	return works
}

// as returns the circuit with straps that are not known taken as tied.
func (c circuit) as(level net) circuit {
	if c.groundUnknown {
		c.groundUnknown = false
		c.groundPlus = c.groundPlus || level == plus
		c.groundGround = c.groundGround || level == ground
	}
	if c.vcc == unknown {
		c.vcc = level
	}
	return c
}

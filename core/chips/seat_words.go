package chips

import (
	"strconv"
	"strings"

	"lunette/core/words"
)

// seat computes one seating.
func seat(chip, socket Device, straps Straps, turned bool, below, shift int) Seating {
	list, empty := meetings(chip, socket, straps, turned, below)
	c := circuitOf(list)
	s := Seating{
		ID: seatingID(turned, shift), Name: seatingName(turned, shift), Turned: turned, Shift: shift, FirstRow: below + 1,
		Empty: empty, Supplies: suppliesOf(list), Joined: joinedBy(list), Danger: c.danger(),
	}
	if turned {
		s.FirstRow = below + chip.PinCount/2
	}
	for i := range list {
		m := &list[i]
		s.Meetings = append(s.Meetings, m.meeting())
	}
	s.Rank = ranks[s.Danger]
	s.Headline = s.headline(c)
	s.Sentences = s.sentences(list, c)
	return s
}

func seatingID(turned bool, shift int) string {
	id := "off"
	switch {
	case turned:
		id = "turned"
	case shift == 0:
		return "right"
	}
	switch {
	case shift > 0:
		id += "+" + strconv.Itoa(shift)
	case shift < 0:
		id += strconv.Itoa(shift)
	}
	return id
}

func seatingName(turned bool, shift int) string {
	off := ""
	if shift != 0 {
		rows, way := max(shift, -shift), "away from"
		if shift < 0 {
			way = "toward"
		}
		off = words.Fill("{} {} the pin-1 end", words.Plural(rows, "position"), way)
	}
	switch {
	case turned && shift == 0:
		return "turned round, in the right rows"
	case turned:
		return "turned round, " + off
	case shift == 0:
		return "the right way round, in the right rows"
	}
	return off
}

// headline is the seating in one sentence.
func (s *Seating) headline(c circuit) string {
	if s.ID == "right" {
		switch s.Danger {
		case works:
			if c.look > 0 {
				return words.Fill("This is the right seating, but {} a level for reading that the board may or may not give: look first.",
					needs(c.look))
			}
			return "This is the right seating: every pin meets what it needs for reading, as far as the board decides it."
		case nothingHappens:
			return "The rows are right, but the chip has no supply here: the board needs a jumper that feeds its VCC pin."
		}
		return "This is how the chip would go in, but the socket is for another pinout: " + s.Rank + "."
	}
	switch {
	case s.Danger == heats && s.Supplies.Reversed:
		return "Heats at once, switch off: the supply is reversed."
	case s.Danger == heats && c.groundGround:
		return "Heats at once, switch off: the chip's grounds short +5 V to ground."
	case s.Danger == heats && c.vcc.isLine():
		return "Heats at once, switch off: +5 V is on a ground pin, and the supply is reversed whenever the line on VCC is low."
	case s.Danger == heats:
		return "Heats at once, switch off: +5 V is on a ground pin of the chip and board ground on other pins."
	case s.Danger == mayDamage && (c.groundUnknown || c.vcc == unknown):
		return "May be damaged, depending on a strap: tied to +5 V it puts the supply on a ground pin of the chip."
	case s.Danger == mayDamage && c.vcc != plus && c.plusOnOutput > 0:
		return "May be damaged: a chip without supply is fed through an output."
	case s.Danger == mayDamage && c.vcc == plus:
		return "May be damaged: outputs of the chip are shorted."
	case s.Danger == mayDamage:
		return "May be damaged: supply or ground are the wrong way round."
	case s.Danger == driversFight && (c.vcc.isLine() || c.groundLine):
		return "Drivers fight: lines of the board end on supply or ground pins of the chip."
	case s.Danger == driversFight:
		return "Drivers fight: outputs or +5 V are where they do not belong."
	case s.Danger == nothingHappens:
		return "Nothing happens: the chip has no supply."
	case s.Danger == works:
		return "Works as far as the pins tell."
	}
	return "Does not work; no harm expected as far as the pins tell."
}

// inference is said wherever more is claimed than who meets whom.
const inference = "Who meets whom is computed from the pin lists. What it does to the chip is inference from the absolute limits of a " +
	"related part (S17: VCC not below -2 V, inputs not below -0.5 V DC), not a statement of this part's sheet."

// sentences explain a seating: supplies first, then straps, then lines.
func (s *Seating) sentences(list []met, c circuit) []string {
	var say []string
	add := func(template string, parts ...string) { say = append(say, words.Fill(template, parts...)) }
	for _, m := range s.Supplies.ChipVCC {
		add("Chip VCC (pin {}) meets {}.", strconv.Itoa(m.ChipPin), placed(m.SocketSignal, m.SocketPin))
	}
	var grounds []string
	for _, m := range s.Supplies.ChipGND {
		grounds = append(grounds, words.Fill("pin {} meets {}", strconv.Itoa(m.ChipPin), placed(m.SocketSignal, m.SocketPin)))
	}
	add("Chip GND: {}.", strings.Join(grounds, "; "))
	s.sayBoard(add)
	if s.ID == "right" {
		s.sayDifferences(list, add)
	}
	s.sayPower(c, add)
	for _, joined := range s.Joined {
		add("The chip's grounds are taken to be joined inside (usual, not stated in the text read); they then tie {} together.",
			words.List(joined.Lines))
	}
	s.sayOutputs(list, c, add)
	if s.Danger >= mayDamage {
		add("Treat a chip that was powered this way as suspect.")
	}
	if s.Danger > works {
		say = append(say, inference)
	}
	return say
}

// sayBoard says what the board's supply and ground pins meet.
func (s *Seating) sayBoard(add func(string, ...string)) {
	meets := func(list []Meeting) string {
		if len(list) == 0 {
			return "no pin of the chip"
		}
		var pins []string
		for i := range list {
			m := &list[i]
			pins = append(pins, words.Fill("{} (chip pin {})", m.ChipSignal, strconv.Itoa(m.ChipPin)))
		}
		return words.List(pins)
	}
	add("The board's +5 V meets {}; its ground meets {}.", meets(s.Supplies.BoardVCC), meets(s.Supplies.BoardGND))
}

// sayPower says what becomes of the chip's supply.
func (s *Seating) sayPower(c circuit, add func(string, ...string)) {
	switch {
	case s.Supplies.Reversed:
		add("The supply is reversed directly: VCC stands at -5 V against the chip's ground.")
	case c.groundPlus && c.byStrap && c.vcc.isLine():
		add("+5 V is on a ground pin through a strap; whenever the line on VCC is low, the supply is reversed by up to 5 V.")
	case c.groundPlus:
		add("+5 V is on a ground pin of the chip; current flows from there into every pin that is lower.")
	case c.groundUnknown:
		add("A ground pin of the chip is on a strap or a jumper. If the board ties it to +5 V, the supply is on a ground pin, and reversed whenever a " +
			"line that feeds VCC is low; if it is tied to ground, it is not. Look at the strap before deciding.")
	case c.vcc.isLine() && !c.groundPlus:
		add("VCC is fed by a line of the board: the polarity follows the lines, at the strength of their drivers.")
	}
	for _, m := range s.Supplies.ChipGND {
		if strings.Contains(m.SocketSignal, "VPP") {
			add("A reader that drives {} to the programming voltage would put it on a ground pin of the chip: never program a chip seated so.",
				m.SocketSignal)
			break
		}
	}
}

// sayOutputs says what the chip's outputs run into.
func (s *Seating) sayOutputs(list []met, c circuit, add func(string, ...string)) {
	name := func(mark Mark) []string {
		var pins []string
		for i := range list {
			m := &list[i]
			if m.mark() == mark {
				pins = append(pins, words.Fill("{} on {}", m.chip.Signal, m.at.Signal))
			}
		}
		return pins
	}
	if pins := name(SupplyOnOutput); len(pins) > 0 {
		add("+5 V is on an output: {}.", words.List(pins))
	}
	if pins := name(GroundOnOutput); len(pins) > 0 {
		add("Board ground is on an output: {}.", words.List(pins))
	}
	if pins := name(StrapOnOutput); len(pins) > 0 {
		add("An output is on a strap: {}.", words.List(pins))
	}
	if pins := name(Fight); len(pins) > 0 {
		if c.vcc == nothing || !c.reaches() {
			add("{} of the chip are on lines that the board drives, but the chip has no supply to drive them with: {}.",
				words.Plural(len(pins), "output"), words.List(pins))
		} else {
			add("{} of the chip would fight the board's drivers: {}.", words.Plural(len(pins), "output"), words.List(pins))
		}
	}
}

// sayDifferences names the pins that do not meet their own signal in the right seating.
func (s *Seating) sayDifferences(list []met, add func(string, ...string)) {
	for i := range list {
		m := &list[i]
		if m.at.Number == 0 || m.chip.Signal == m.at.Signal {
			continue
		}
		_, why := agree(m.chip, m.at)
		switch {
		case m.chip.Role == Supply && m.net == plus:
			why = "the board's jumper feeds it"
		case m.chip.Role == Supply && (m.net == nothing || m.net == unknown):
			why = "without a jumper that feeds it the chip has no supply"
		}
		add("Chip pin {}, {}, meets {}: {}.", strconv.Itoa(m.chip.Number), m.chip.Signal, placed(m.at.Signal, m.at.Number), why)
	}
	if len(s.Empty) > 0 {
		var names []string
		for _, place := range s.Empty {
			names = append(names, strconv.Itoa(place.Number)+" "+place.Signal)
		}
		add("Socket pins left empty: {}.", strings.Join(names, "; "))
	}
}

// answer says in two sentences at most where the chip goes and what the worst of the wrong seatings does. Why stands with each
// seating.
func (s *Seats) answer() string {
	right := s.Seatings[0]
	text := "Notch toward the socket's notch, pin 1 in pin 1"
	if first := right.FirstRow; first > 1 {
		rows := "1 row at the pin-1 end stays"
		if first > 2 {
			rows = strconv.Itoa(first-1) + " rows at the pin-1 end stay"
		}
		text = words.Fill("Notch toward the socket's notch, chip pin 1 in socket pin {}: {} empty", strconv.Itoa(first), rows)
	}
	switch right.Danger {
	case works:
	case nothingHappens:
		text += ", and the board needs a jumper that feeds VCC"
	default:
		text += ", but the socket is for another pinout: " + right.Rank
	}
	if len(s.Seatings) > 1 {
		worst := s.Seatings[1]
		text += words.Fill(". The worst wrong seating is {}: {}", worst.Name, worst.Rank)
	}
	return text + "."
}

// asksBYTE tells whether a supply or ground pin, or an output, is on a BYTE strap that is not known.
func asksBYTE(seatings []Seating) bool {
	for _, s := range seatings {
		for _, m := range s.Meetings {
			if (m.Mark == PowerOnStrap || m.Mark == StrapOnOutput) && strings.HasPrefix(m.SocketSignal, "BYTE") {
				return true
			}
		}
	}
	return false
}

// seatCautions are what belongs beside a drawing of seatings.
func seatCautions(chip, socket Device) []string {
	list := []string{
		"Switch off and unplug before touching a socket; wear a ground strap.",
		"Look for the notch or the dot at pin 1 on both the chip and the socket, and count the rows before switching on.",
		"If a chip gets warm within a second or two, switch off at once; it can be hot enough to burn a finger.",
	}
	if chip.Status != Confirmed {
		list = append(list, chip.ID+": "+chip.Standing)
	}
	if socket.Status != Confirmed && socket.ID != chip.ID {
		list = append(list, socket.ID+": "+socket.Standing)
	}
	return list
}

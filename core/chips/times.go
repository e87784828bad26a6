package chips

import (
	"errors"

	"lunette/core/words"
)

// Times is how long a device takes to write and to erase, as far as a figure is known.
type Times struct {
	Device   string   `json:"device"`
	Burn     []Burn   `json:"burn"`     // one for each figure; none when there is none
	Burning  string   `json:"burning"`  // the answer as a sentence
	Erase    Erase    `json:"erase"`    //
	Cautions []string `json:"cautions"` // what belongs beside erasing; what belongs before burning is in BurnCautions
}

// Burn is one figure for writing a whole device.
type Burn struct {
	Part          string  `json:"part"`          // for which parts, "" for all of the family
	Units         int     `json:"units"`         // bytes, words or pages that are written one after the other
	Unit          string  `json:"unit"`          // "byte", "word" or "page of 64 bytes"
	PulseLow      int     `json:"pulseLow"`      // microseconds
	PulseHigh     int     `json:"pulseHigh"`     // microseconds; equal to PulseLow when the sheet has one figure
	MaxPulses     int     `json:"maxPulses"`     // tried at most for each; 0 when not known
	Seconds       float64 `json:"seconds"`       // with one pulse each, the short one
	SecondsAtMost float64 `json:"secondsAtMost"` // with the long pulse, MaxPulses times if that is known
	Source        string  `json:"source"`        // number of the data sheet, or that it is from memory
	Sentence      string  `json:"sentence"`
}

// Erase is how a device is erased. Doses are in W.s/cm2 at 253.7 nm; without a figure they and the minutes are 0.
type Erase struct {
	Way         string  `json:"way"` // "light", "electrical" or "never"
	DoseLow     float64 `json:"doseLow"`
	DoseHigh    float64 `json:"doseHigh"`
	Lamp        int     `json:"lamp"`        // irradiance of the lamp at the chip, in uW/cm2
	MinutesLow  float64 `json:"minutesLow"`  // under that lamp
	MinutesHigh float64 `json:"minutesHigh"` //
	Source      string  `json:"source"`
	Sentence    string  `json:"sentence"`
}

// Irradiances of a lamp, in uW/cm2.
const (
	SheetLamp = 12000  // what S14 and S06 reckon with
	minLamp   = 100    // below, an erasure takes days and the number is more likely in other units
	maxLamp   = 200000 // above is no lamp for this
)

// TimesOf returns burn and erase figures of d under a lamp of so many uW/cm2 at the chip; 0 stands for the SheetLamp. It
// fails when the irradiance cannot be that of a lamp.
func TimesOf(d Device, lamp int) (Times, error) {
	if lamp == 0 {
		lamp = SheetLamp
	}
	if lamp < minLamp || lamp > maxLamp {
		return Times{}, errors.New(words.Fill("the lamp's irradiance is {} uW/cm2, expected {} to {}; take it from the lamp's "+
			"label or a UV-C meter, in uW/cm2 at the chip", words.Count(lamp), words.Count(minLamp), words.Count(maxLamp)))
	}
	t := Times{Device: d.ID, Burn: []Burn{}, Erase: d.erase(lamp), Cautions: d.eraseCautions()}
	for i := range pulses {
		if p := &pulses[i]; p.family == d.ID {
			t.Burn = append(t.Burn, p.burn(d))
		}
	}
	t.Burning = d.burning(t.Burn)
	return t, nil
}

// burning is the answer to how long burning takes.
func (d *Device) burning(burns []Burn) string {
	switch {
	case d.Kind == MaskROM:
		return "A mask ROM is made with its contents; it cannot be burnt."
	case len(burns) == 0:
		return words.Fill("No figure here, see the data sheet of the part: {}.", d.Pulse)
	}
	low, high := burns[0].Seconds, burns[0].SecondsAtMost
	for _, b := range burns {
		low, high = min(low, b.Seconds), max(high, b.SecondsAtMost)
	}
	text := words.Fill("About {} of pulses", Duration(low))
	if Duration(low) != Duration(high) {
		text = words.Fill("From {} to {} of pulses", Duration(low), Duration(high))
	}
	return text + "; the reader's own time for looking up, sending and verifying comes on top."
}

// burn reckons the time for all of d.
func (p *pulse) burn(d Device) Burn {
	unit, units := unitNames(p.unit)
	b := Burn{
		Part: p.part, Units: d.Capacity / p.unit, Unit: unit, PulseLow: p.low, PulseHigh: p.high, MaxPulses: p.most, Source: p.source,
	}
	b.Seconds = float64(b.Units) * float64(p.low) / 1e6
	b.SecondsAtMost = float64(b.Units) * float64(p.high) / 1e6 * float64(max(p.most, 1))
	if p.source == "" {
		b.Source = "from memory, check the data sheet"
	}
	b.Sentence = words.Fill("{} {} x {} = {}", words.Count(b.Units), units, microseconds(p.low), Duration(b.Seconds))
	if p.high != p.low {
		b.Sentence += words.Fill(", x {} = {}", microseconds(p.high), Duration(float64(b.Units)*float64(p.high)/1e6))
	}
	if p.most > 1 {
		b.Sentence += words.Fill("; {} at most if every one took {} pulses", Duration(b.SecondsAtMost), words.Count(p.most))
	}
	if p.part != "" {
		b.Sentence = p.part + ": " + b.Sentence
	}
	b.Sentence += " (" + b.Source + ")."
	if p.note != "" {
		b.Sentence += " The pulse: " + p.note + "."
	}
	return b
}

// unitNames names what is written at once, one and several.
func unitNames(bytes int) (one, several string) {
	switch bytes {
	case 1:
		return "byte", "bytes"
	case 2:
		return "word", "words"
	}
	return "page of " + words.Count(bytes) + " bytes", "pages"
}

// microseconds returns a pulse's length as the sheets write it: "100 us", "50 ms".
func microseconds(us int) string {
	if us >= 1000 {
		decimals := 0
		if us%1000 != 0 {
			decimals = 2
		}
		return words.Decimal(float64(us)/1000, decimals) + " ms"
	}
	return words.Count(us) + " us"
}

// Duration returns a time in seconds for a sentence: "0.8 s", "26 s", "11 min".
func Duration(seconds float64) string {
	switch {
	case seconds < 10:
		return words.Decimal(seconds, 1) + " s"
	case seconds < 120:
		return words.Decimal(seconds, 0) + " s"
	}
	return words.Decimal(seconds/60, 0) + " min"
}

// erase reckons the minutes under a lamp.
func (d *Device) erase(lamp int) Erase {
	switch d.Kind {
	case MaskROM:
		return Erase{Way: "never", Sentence: "A mask ROM cannot be erased."}
	case EEPROM, Flash:
		return Erase{Way: "electrical", Sentence: words.Fill("Erased by the reader in the socket, no lamp: {}.", d.Erase)}
	}
	e := Erase{Way: "light", Lamp: lamp}
	for _, row := range doses {
		if row.family != d.ID {
			continue
		}
		e.DoseLow, e.DoseHigh, e.Source = row.low, row.high, row.source
		e.MinutesLow, e.MinutesHigh = minutes(row.low, lamp), minutes(row.high, lamp)
		from := ""
		if e.Source == "" {
			e.Source = "from memory, check the data sheet"
		} else {
			from = " at least"
		}
		if row.low == row.high {
			e.Sentence = words.Fill("{} W.s/cm2{} ({}): {} min under {} uW/cm2.", words.Decimal(row.low, 0), from, e.Source,
				words.Decimal(e.MinutesLow, 1), words.Count(lamp))
		} else {
			e.Sentence = words.Fill("{} or {} W.s/cm2 by maker ({}): {} or {} min under {} uW/cm2.", words.Decimal(row.low, 0),
				words.Decimal(row.high, 0), e.Source, words.Decimal(e.MinutesLow, 1), words.Decimal(e.MinutesHigh, 1), words.Count(lamp))
		}
		return e
	}
	e.Sentence = words.Fill("No figure here, see the data sheet of the part ({}). Of the doses that were read for other parts "+
		"15 W.s/cm2 is the least, {} min under {} uW/cm2; some ask 30 {}.", d.Erase, words.Decimal(minutes(15, lamp), 1),
		words.Count(lamp), memory)
	return e
}

// minutes is the time that a dose in W.s/cm2 takes under a lamp in uW/cm2.
func minutes(dose float64, lamp int) float64 { return dose * 1e6 / float64(lamp) / 60 }

// BurnCautions are what a person has to know before d is written, the worst mistake first.
func (d Device) BurnCautions() []string {
	switch d.Kind {
	case MaskROM:
		return []string{}
	case EEPROM, Flash:
		return []string{"Read the chip and keep the file before it is erased or written: what stood there is gone afterwards."}
	}
	list := []string{
		words.Fill("Set the reader to this very part: VPP {}. Too high a programming voltage destroys a chip at once.", d.VPP),
		"An erased chip reads FF everywhere (S15, S06); check that before burning.",
	}
	if d.Kind == UVorOTP {
		list = append(list, "A part in plastic without a window is written once and cannot be erased.")
	}
	return list
}

// eraseCautions are what belongs beside erasing d, and keeping it from being erased.
func (d *Device) eraseCautions() []string {
	switch d.Kind {
	case MaskROM, EEPROM, Flash:
		return []string{}
	}
	return []string{
		"UV-C light harms eyes and skin within minutes: erase only in a closed lamp box that switches itself off when opened.",
		"Go by the dose, at 253.7 nm, tubes within 2.5 cm, no filter, window clean of labels and glue (S14, S06). The sheets' " +
			"15 to 20 minutes at 12,000 uW/cm2 fall short of their own 15 W.s/cm2, which takes 20.8.",
		"Cover the window after burning: room fluorescent light can erase a chip in about 3 years, direct sunlight in about a week " +
			"(S14, S19, S05, S03).",
	}
}

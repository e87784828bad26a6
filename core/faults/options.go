package faults

// Options are what is known beside the bytes. The zero value knows nothing.
type Options struct {
	Width    int      // data lines of the device, 8 or 16; 0 when it is not known: then both are tried
	LowFirst bool     // of a x16 device: D0 to D7 stand at even offsets of the dump; false when that is not known
	Erase    Erase    // how the device loses what is in it
	Master   Standing // what the master is by itself
	Read     Standing // and the read
}

// An Erase says how a device loses what is in it.
type Erase string

// The ways of erasing.
const (
	EraseUnknown  Erase = ""       // the kind of the device is not known
	EraseByLight  Erase = "light"  // UV EPROM
	EraseByWindow Erase = "window" // UV EPROM, or the same part in plastic without a window, which is never erased
	EraseByReader Erase = "reader" // EEPROM, flash: electrically
	EraseNever    Erase = "never"  // mask ROM: it is not burnt either
)

// A Standing says how far a dump can be trusted by what is in it alone; the higher the better.
type Standing int

// The standings.
const (
	NotJudged  Standing = iota // nobody has looked
	LooksBlank                 // nothing is in it
	LooksFaulty
	LooksUndecided // nothing in it tells
	LooksSuspect
	LooksSound
	LooksProven // something in it proves the whole, as a sum over all of it does
)

// words returns what a dump of the standing is called, after "the master" or "the read".
func (s Standing) words() string {
	switch s {
	case LooksBlank:
		return "is blank"
	case LooksFaulty:
		return "looks faulty by itself"
	case LooksSuspect:
		return "looks suspect by itself"
	case LooksSound:
		return "shows no fault by itself"
	case LooksProven:
		return "is proven by its built-in sum"
	}
	return "is proven by nothing in it"
}

// readIsBetter tells whether the read is more to be trusted than the master: it is proven and the master is not, or the
// master shows trouble and the read less of it.
func (o Options) readIsBetter() bool {
	if o.Master == NotJudged || o.Read <= o.Master {
		return false
	}
	return o.Read == LooksProven || o.Master == LooksBlank || o.Master == LooksFaulty || o.Master == LooksSuspect
}

// erase returns the step of erasing, without a full stop.
func (e Erase) step() string {
	switch e {
	case EraseByLight:
		return "erase the chip with UV-C light"
	case EraseByWindow:
		return "erase the chip with UV-C light if it has a window (one without is written once: take another)"
	case EraseByReader:
		return "erase the chip with the reader, no lamp"
	}
	return "erase the chip"
}

// cautions returns those of erasing.
func (e Erase) cautions() []string {
	switch e {
	case EraseNever:
		return nil
	case EraseByReader:
		return []string{CautionReader}
	}
	return []string{CautionErase}
}

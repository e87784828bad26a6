package chips

import (
	"strings"
	"sync"
)

// A Kind says how a device is written and erased.
type Kind string

// The kinds of device.
const (
	UV      Kind = "UV EPROM"
	UVorOTP Kind = "UV EPROM / OTP" // with a window, or in plastic without one and then written once
	EEPROM  Kind = "EEPROM"
	Flash   Kind = "flash"
	MaskROM Kind = "mask ROM"
)

// A Status says how far a pin list is known.
type Status string

// The statuses of a pin list, the best first.
const (
	Confirmed Status = "confirmed" // read in a sheet of the part
	Sibling   Status = "sibling"   // read on a related part only
	Partly    Status = "partly"    // some pins read, the rest from memory
	Memory    Status = "memory"    // no drawing of the part was read
)

// A width says how many data lines a device has.
type width uint8

const (
	byteWide     width = iota + 1 // D0 to D7
	wordWide                      // D0 to D15
	bytesOrWords                  // D0 to D15 with BYTE high; D0 to D7 with BYTE low, D15 being the lowest address A-1
)

// A row is a family as the catalogue writes it down, in byteRows and wordRows. "(memory)" in a text is written out as
// "(from memory, check the data sheet)". Codes and figures are per maker: another maker's chip of the same number can
// differ.
type row struct {
	id        string
	parts     string // part numbers, parted by "; "
	kind      Kind
	pack      string // package: "DIP-40"
	kib       int    // capacity
	width     width
	status    Status
	sources   string // numbers of sourceTitles
	compared  string // drawings that the pin list was compared with: source and how many pins, parted by "; "
	pins      string // signals in the order of the pins' numbers, from pin 1 on
	vpp       string // programming supply
	vcc       string // supply while programming
	pulse     string
	signature string // what the chip says of itself: maker's code, device code
	erase     string
	notes     string // parted by "|"
}

// A Device is one family of the catalogue.
type Device struct {
	ID        string   `json:"id"` // the family: "27C400"
	Parts     []string `json:"parts"`
	Kind      Kind     `json:"kind"`
	Package   string   `json:"package"`
	PinCount  int      `json:"pinCount"`
	Capacity  int      `json:"capacity"` // bytes
	Modes     []Mode   `json:"modes"`
	Status    Status   `json:"status"`    // of the pin list
	Standing  string   `json:"standing"`  // the same as a sentence
	Compared  string   `json:"compared"`  // the drawings that the pin list was compared with, and how many pins
	VPP       string   `json:"vpp"`       // programming supply
	VCC       string   `json:"vcc"`       // supply while programming
	Pulse     string   `json:"pulse"`     // programming pulse
	Signature string   `json:"signature"` // what the chip says of itself, and how it is asked
	Erase     string   `json:"erase"`
	Notes     []string `json:"notes"`
	Sources   []Source `json:"sources"`
	Pins      []Pin    `json:"pins"` // Pins[n-1] is pin n
}

// A Mode is one organisation of a device.
type Mode struct {
	Words int    `json:"words"`
	Bits  int    `json:"bits"` // a word: 8 or 16
	When  string `json:"when"` // "always", "BYTE high" or "BYTE low"
}

// A Source is a data sheet.
type Source struct {
	Number string `json:"number"` // as the texts of the catalogue name it: "S01"
	Title  string `json:"title"`
}

// A Pin is one pin of a device.
type Pin struct {
	Number int    `json:"number"` // from 1
	Signal string `json:"signal"` // "A16", "CE", "BYTE/VPP"
	Role   Role   `json:"role"`
}

// All returns the catalogue, shortest package first. The devices are not to be changed.
func All() []Device { return catalogue() }

// ByID returns the family with this id, which is "27C400" and not "M27C400-100F1": Find reads that. ok is false when
// there is none.
func ByID(id string) (d Device, ok bool) {
	for _, d := range catalogue() {
		if d.ID == id {
			return d, true
		}
	}
	return Device{}, false
}

var catalogue = sync.OnceValue(func() []Device {
	devices := make([]Device, 0, len(byteRows)+len(wordRows))
	for i := range byteRows {
		devices = append(devices, byteRows[i].device())
	}
	for i := range wordRows {
		devices = append(devices, wordRows[i].device())
	}
	return devices
})

// memory is what "(memory)" stands for.
const memory = "(from memory, check the data sheet)"

func (r *row) device() Device {
	spelt := func(text string) string { return strings.ReplaceAll(text, "(memory)", memory) }
	d := Device{
		ID: r.id, Parts: strings.Split(r.parts, "; "), Kind: r.kind, Package: r.pack, Capacity: r.kib << 10,
		Modes: r.width.modes(r.kib << 10), Status: r.status, Standing: standings[r.status], Compared: r.compared,
		VPP: spelt(r.vpp), VCC: spelt(r.vcc), Pulse: spelt(r.pulse),
		Signature: spelt(r.signature), Erase: spelt(r.erase),
		Notes: []string{}, Sources: []Source{},
	}
	if r.notes != "" {
		d.Notes = strings.Split(spelt(r.notes), "|")
	}
	for _, number := range strings.Fields(r.sources) {
		d.Sources = append(d.Sources, Source{number, sourceTitle(number)})
	}
	for i, signal := range strings.Fields(r.pins) {
		d.Pins = append(d.Pins, Pin{i + 1, signal, roleOf(signal)})
	}
	d.PinCount = len(d.Pins)
	return d
}

// standings says of each status what a person should make of it.
var standings = map[Status]string{
	Confirmed: "The pin list was read in a data sheet of this part.",
	Sibling: "The pin list was read on a related part only (the 3 V version, or the EPROM that is sold for this mask ROM); " +
		"check the part's own data sheet.",
	Partly: "Some of the pins were read in a data sheet, the rest is from memory; check the part's own data sheet.",
	Memory: "The pin list is from memory; check the part's own data sheet before anything is connected.",
}

func (w width) modes(capacity int) []Mode {
	switch w {
	case byteWide:
		return []Mode{{capacity, 8, "always"}}
	case wordWide:
		return []Mode{{capacity / 2, 16, "always"}}
	}
	return []Mode{{capacity / 2, 16, "BYTE high"}, {capacity, 8, "BYTE low"}}
}

// sourceTitle returns the title of the source with this number, or "" when there is none.
func sourceTitle(number string) string {
	_, after, _ := strings.Cut(sourceTitles, number+" ")
	title, _, _ := strings.Cut(after, "\n")
	return title
}

// HasBits tells whether d can be read with words of this many bits, 8 or 16.
func (d Device) HasBits(bits int) bool {
	for _, mode := range d.Modes {
		if mode.Bits == bits {
			return true
		}
	}
	return false
}

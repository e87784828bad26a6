package core

import (
	"errors"
	"strconv"

	"lunette/core/arrange"
	"lunette/core/chips"
	"lunette/core/marks"
	"lunette/core/prepare"
	"lunette/core/words"
)

// Burning is what can hold a dump, and what is known of it that files for chips depend on.
type Burning struct {
	Fitting chips.Fitting `json:"fitting"`
	Likely  string        `json:"likely"` // the device and the view that are most likely wanted: "27C400 x16"; empty for none
	Order   string        `json:"order"`  // arrangement in which the CPU sees the dump; "stored" where that is not known
	CPU     string        `json:"cpu"`    // "big" or "little", the byte of a word that the CPU keeps first; empty when not known
}

// Fits returns what can hold an open dump. Of a dump that has been inspected it knows the order and the CPU.
func (b *Bench) Fits(id string) (Burning, error) {
	d, ok := b.dumps[id]
	if !ok {
		return Burning{}, errClosed
	}
	seen := b.seen[id]
	burning := Burning{Order: arrange.Stored.ID()}
	if orderIsFirm(seen) {
		burning.Order = seen.Order.ID
	}
	family, coded := b.familyOf(id)
	if coded {
		burning.CPU = family.FirstByte()
	}
	order, _ := arrange.Parse(burning.Order)
	known := chips.Known{Size: len(d.Bytes), OrderSure: orderIsFirm(seen), CPU: family.Name, Word: family.Word()}
	if _, lanes := order.Lanes(); lanes > 1 {
		burning.Order = arrange.Stored.ID()
	}
	burning.Fitting = chips.Fits(known)
	burning.Likely = likely(burning.Fitting.Fits, b.width(id))
	return burning, nil
}

// familyOf returns the CPU family of the code in a dump, if its order and its CPU are known.
func (b *Bench) familyOf(id string) (marks.Family, bool) {
	seen := b.seen[id]
	if !orderIsFirm(seen) {
		return marks.Family{}, false
	}
	return marks.FamilyByID(seen.CPU.ID)
}

// likely returns the full chip, or else the smallest larger one, that is likeliest to hold a dump which was read with so many
// data lines, 0 when that is not known.
func likely(fits []chips.Fit, width int) string {
	best, points := "", 0
	for _, fit := range fits {
		d, _ := chips.ByID(fit.Device)
		if !fit.Writable || fit.Chips > 1 {
			continue
		}
		unlikely := unlikeliness(d, width)
		if fit.Copies != 1 {
			unlikely += 100
		}
		if best == "" || unlikely < points {
			best, points = fit.Device+" "+string(fit.View), unlikely
		}
	}
	return best
}

// A BurnPlan says what a person wants, in the words of package prepare. Fill is a byte, 0 to 255.
type BurnPlan struct {
	Device, View, Order, CPU, Buffer, Spare, End, Bits, Format string
	Fill                                                       int
}

// Prepare makes the files for chips out of an open dump. They are kept until the next call.
func (b *Bench) Prepare(id string, plan BurnPlan) (*prepare.Prepared, error) {
	d, ok := b.dumps[id]
	if !ok {
		return nil, errClosed
	}
	order, ok := arrange.Parse(plan.Order)
	if !ok {
		return nil, errors.New(words.Fill("there is no arrangement {}; take one of those listed", plan.Order))
	}
	if plan.Fill < 0 || plan.Fill > 0xFF {
		return nil, errors.New(words.Fill("the fill byte is {}, expected 0 to 255, which is 00 to FF", strconv.Itoa(plan.Fill)))
	}
	wordCPU := ""
	if family, ok := b.familyOf(id); ok && family.Word() == 2 {
		wordCPU = family.Name
	}
	end := arrange.Bottom
	if plan.End == "top" {
		end = arrange.Top
	}
	prepared, err := prepare.Prepare(d.Bytes, prepare.Plan{Name: d.Name, Device: plan.Device, View: chips.View(plan.View), Order: order,
		CPU: prepare.Endian(plan.CPU), Buffer: prepare.Buffer(plan.Buffer), Spare: prepare.Spare(plan.Spare), End: end, Fill: byte(plan.Fill),
		Bits: prepare.Bits(plan.Bits), Format: prepare.Format(plan.Format), WordCPU: wordCPU})
	if err != nil {
		return nil, err
	}
	b.prepared, b.preparedOf = prepared, id
	return prepared, nil
}

// PreparedFile returns the bytes of file n of the last call of Prepare.
func (b *Bench) PreparedFile(n int) ([]byte, error) {
	if b.prepared == nil || n < 0 || n >= len(b.prepared.Files) {
		return nil, errors.New("there is no such file; make the files again")
	}
	return b.prepared.Files[n].Data, nil
}

// Chips returns the catalogue.
func Chips() []chips.Device { return chips.All() }

// FindChips returns the devices that a part number, a size or a number of pins names.
func FindChips(text string) []chips.Match { return chips.Find(text) }

// Times returns how long a device takes to burn and to erase under a lamp, whose irradiance is written as chips.Lamp reads it;
// "" stands for the usual one.
func Times(device, lamp string) (chips.Times, error) {
	d, ok := chips.ByID(device)
	if !ok {
		return chips.Times{}, errNoDevice(device)
	}
	irradiance, err := chips.Lamp(lamp)
	if err != nil {
		return chips.Times{}, err
	}
	return chips.TimesOf(d, irradiance)
}

func errNoDevice(device string) error {
	return errors.New(words.Fill("there is no device {} in the catalogue", device))
}

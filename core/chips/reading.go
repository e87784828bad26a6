package chips

import "strings"

// What happens when a pin of one chip meets a place that another pinout gives another signal, as long as the chip is only
// read. Seat asks it of a chip in a socket, DropIn of a new chip in an old one's place.

// Agreement says how a pin of a chip and a place in a socket go together while the chip is read.
type Agreement string

// The agreements, the best first.
const (
	Same  Agreement = "same"  // the same signal
	Alike Agreement = "alike" // another name, no difference while reading
	Fixed Agreement = "level" // the pin needs a fixed level that the board may or may not give: look
	Wrong Agreement = "wrong" // the chip does not work there, or worse
)

// base returns a signal without the job that it has while the chip is programmed.
func base(signal string) string {
	switch signal {
	case "OE/VPP", "BYTE/VPP", "CE/PGM":
		return signal[:strings.IndexByte(signal, '/')]
	case "RY/BY":
		return "RDY/BUSY"
	}
	return signal
}

// agree returns how the pin of a chip gets on with the place in a socket, and why.
func agree(chip, place Pin) (Agreement, string) {
	ours, theirs := base(chip.Signal), base(place.Signal)
	switch {
	case chip.Signal == place.Signal:
		return Same, ""
	case chip.Role == Unwired:
		return Alike, "the chip does not use this pin"
	case ours == theirs:
		return Alike, "the same while reading; the other job is for programming"
	case ours == "D15/A-1" && theirs == "D15", ours == "D15" && theirs == "D15/A-1":
		return Alike, "the same in word mode"
	case chip.Role == Supply, chip.Role == Ground, place.Role == Supply && chip.Role == Data, place.Role == Ground && chip.Role != Program && chip.Role != Address:
		return Wrong, "supply and ground are elsewhere"
	case chip.Role == Data:
		return Wrong, "an output of the chip does not belong on this line"
	}
	fixed := place.Role == Unwired || place.Role == Program || place.Role == Supply || place.Role == Ground ||
		theirs == "PGM" || theirs == "WE" || theirs == "RESET"
	switch {
	case chip.Role == Program && place.Role == Supply:
		return Alike, "VPP at +5 V is what most sheets ask while reading (common practice, no source)"
	case chip.Role == Program && fixed:
		return Fixed, "VPP wants +5 V, or the level its sheet asks while reading, and the board may leave it open here"
	case chip.Role == Program:
		return Fixed, "VPP follows a line of the board here; look whether the sheet lets it while reading"
	case chip.Role == Address && fixed:
		return Fixed, "no address line is here: the level that stands here decides which half of the chip is read"
	case chip.Role == Address:
		return Wrong, "another line is here: addresses are mixed up"
	case (ours == "PGM" || ours == "WE" || ours == "RESET") && place.Role == Supply:
		return Alike, "tied high, as it should be while reading"
	case (ours == "PGM" || ours == "WE" || ours == "RESET") && fixed:
		return Fixed, "it must be held high while reading, and the board may leave it open here"
	case ours == "PGM":
		return Fixed, "PGM follows a line of the board here; look whether the sheet lets it while reading"
	case ours == "WE" || ours == "RESET":
		return Wrong, "it must be held high, and a line of the board moves it"
	case ours == "BYTE" && fixed:
		return Fixed, "it must be high for words or low for bytes, and the board may leave it open here"
	case ours == "BYTE":
		return Wrong, "the chip changes between words and bytes with this line"
	case chip.Role == Ready && place.Role == Unwired:
		return Alike, "an output that nobody listens to"
	case chip.Role == Ready:
		return Wrong, "the chip pulls this line low while it is busy"
	case ours == "OE" && fixed:
		return Fixed, "it must be low for the chip to answer, and the board may not pull it low here"
	}
	return Wrong, "the chip is selected by the wrong line"
}

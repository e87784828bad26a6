package chips

// What the catalogue says about pulses and doses as numbers, to reckon with. A source of "" is memory; no row means that
// there is no figure. The texts in the catalogue say the same in words and have the conditions.

// A pulse is what one unit takes to write.
type pulse struct {
	family string
	part   string // for which parts, if not for all
	unit   int    // bytes written at once: 1 a byte, 2 a word, 64 a page
	low    int    // microseconds, the shortest that a sheet gives
	high   int    // microseconds, the longest
	most   int    // pulses that are tried at most before the chip counts as bad; 0 when the text read does not say
	source string
	note   string
}

var pulses = [...]pulse{
	// family      part              unit  low    high   most source note
	{"2716", "", 1, 50000, 50000, 1, "", ""},
	{"2732", "", 1, 50000, 50000, 1, "", ""},
	{"2764", "27C64", 1, 100, 100, 0, "S23", ""},
	{"2764", "2764 without A", 1, 51270, 51270, 1, "S24", "reckoned from the 420 s that the sheet gives for the chip"},
	{"27128", "", 1, 1000, 1000, 25, "", "each byte then gets one longer pulse, which is not counted here"},
	{"27C256", "", 1, 100, 100, 0, "S17", ""},
	{"27C512", "", 1, 100, 100, 25, "S15", ""},
	{"28C64", "28C64", 1, 200, 1000, 1, "S28", "by version; the chip times it"},
	{"28C64", "28C64B", 64, 2000, 10000, 1, "S29", "at most; the chip times it"},
	{"28C256", "", 64, 3000, 10000, 1, "S30", "at most; the chip times it"},
	{"27C010", "", 1, 95, 105, 0, "S14", ""},
	{"27C020", "", 1, 100, 100, 0, "S12", ""},
	{"27C040", "", 1, 100, 100, 0, "", ""},
	{"27C080", "", 1, 50, 50, 25, "S09", ""},
	{"29F040", "", 1, 10, 10, 0, "S32", "typical; the chip times it"},
	{"39SF010A", "", 1, 14, 20, 0, "S36", "typical and at most; the chip times it"},
	{"39SF020A", "", 1, 14, 20, 0, "S36", "typical and at most; the chip times it"},
	{"39SF040", "", 1, 14, 20, 0, "S36", "typical and at most; the chip times it"},
	{"27C1024", "", 2, 100, 100, 0, "S06", ""},
	{"27C2048", "", 2, 100, 100, 0, "", ""},
	{"27C4096", "27C4002", 2, 100, 100, 25, "S05", ""},
	{"27C4096", "27C4096", 2, 50, 50, 0, "S08", "typical"},
	{"27C400", "", 2, 100, 100, 0, "S01", ""},
	{"27C800", "", 1, 100, 100, 0, "S04", "typical, read on the 3 V version, which counts bytes; later sheets have 50 us " + memory},
	{"27C160", "", 2, 50, 100, 0, "S03", "100 us in the sheets of 1999 and 2001, 50 us in that of 2002; " +
		"taken as a word, which the text read does not say"},
	{"27C322", "", 2, 50, 50, 25, "S02", ""},
	{"29F400", "", 2, 11, 11, 0, "S40", "typical; the chip times it"},
	{"29F400", "in byte mode", 1, 9, 9, 0, "S40", "typical; the chip times it"},
	{"29F160", "", 2, 10, 10, 0, "S38", "typical, read on the 3 V version; taken as a word, which the text read does not say"},
}

// A dose is the light that erases a family, in W.s/cm2 at 253.7 nm.
type dose struct {
	family    string
	low, high float64
	source    string
}

var doses = [...]dose{
	{"2716", 15, 15, ""},
	{"2732", 15, 15, ""},
	{"2764", 15, 30, ""},
	{"27128", 15, 15, "S19"},
	{"27C256", 15, 15, ""},
	{"27C512", 15, 15, ""},
	{"27C010", 15, 15, "S14"},
	{"27C020", 15, 15, ""},
	{"27C040", 15, 15, ""},
	{"27C1024", 15, 15, "S06"},
	{"27C2048", 15, 15, ""},
	{"27C4096", 15, 15, "S05"},
	{"27C160", 30, 30, ""},
	{"27C322", 30, 30, ""},
}

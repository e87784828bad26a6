package faults

// The cautions of steps that can hurt a person or the last chip, each one sentence or two. A result carries those of the
// steps that it names.
const (
	// CautionErase stands where a chip must be erased with ultraviolet light.
	CautionErase = "UV-C light harms eyes and skin: close the eraser before it lights, and never look into it. " +
		"Parts that are erased electrically need no light; the part's own data sheet comes first."
	// CautionReader stands where a chip is erased electrically.
	CautionReader = "Read the chip and keep the file before it is erased: what stood there is gone afterwards."
	// CautionSocket stands where a chip or a contact is touched.
	CautionSocket = "Power off and unplug before touching a socket, and wear a ground strap."
)

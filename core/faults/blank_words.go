package faults

import "lunette/core/words"

// neverBurnt is what to do with a chip that is a mask ROM.
const neverBurnt = "A mask ROM can be neither erased nor burnt: it holds what it was made with. Burn the image into a chip that takes its place, " +
	"or choose the type of this chip if it is none."

// say words the answer for a master of so many bytes; 0 where there is none.
func (b *BlankResult) say(master int) {
	size := words.Size(b.Size)
	if b.State == IsBlank {
		b.Headline = words.Fill("Blank: all {} read FF.", size)
		b.Reasons = append(b.Reasons, words.Fill("{}, none low", words.Plural(8*b.Size, "bit")))
		b.Next = []string{"It is ready to be burnt. An empty socket often reads FF as well: make sure that the chip is seated and powered."}
		if b.erase == EraseNever {
			b.Next = []string{"No mask ROM is made blank: make sure that the chip is seated and powered, and that the type is right."}
		}
		b.sayMaster(master)
		return
	}
	b.Headline = words.Fill("Not blank: {} of {} {} low, in {}.", words.Count(b.Bits), words.Plural(8*b.Size, "bit"),
		verb(b.Bits, "is", "are"), words.Plural(b.Bytes, "byte"))
	b.Reasons = append(b.Reasons, words.Fill("the first at {}, the last at {}", words.Address(b.First[0]), words.Address(b.last())),
		words.Fill("in {}", words.Plural(b.Total, "stretch")))
	if b.Total != 1 {
		b.Reasons[1] = words.Fill("in {} stretches", words.Count(b.Total))
	}
	if b.Burn == NoMaster {
		if b.erase == EraseNever {
			b.Next = []string{neverBurnt}
			return
		}
		b.Next = []string{words.Fill("Open the image that is to go into it, and this says whether it can be burnt over what is there. "+
			"Otherwise {} first.", b.erase.step())}
		if weak := b.Bits * 1000; weak <= 8*b.Size {
			b.Reasons = append(b.Reasons, "so few low bits are left where an erasure was too short, or by a burn that stopped at once")
		}
		b.Cautions = append(b.Cautions, b.erase.cautions()...)
		return
	}
	b.sayMaster(master)
}

// last returns the offset of the last byte that is not FF, as far as the runs are listed, else the end of its block.
func (b *BlankResult) last() int {
	if b.Total == len(b.Runs) {
		return b.Runs[len(b.Runs)-1].To - 1
	}
	_, to := b.Map.ends()
	return min(to, b.Size) - 1
}

// sayMaster adds what becomes of the master.
func (b *BlankResult) sayMaster(master int) {
	switch b.Burn {
	case NoMaster:
		return
	case WrongSize:
		b.Reasons = append(b.Reasons, words.Fill("the image has {}, {} more than the chip", words.Plural(master, "byte"), words.Count(master-b.Size)))
		b.Headline += " The image does not fit into it."
		b.Next = []string{words.Fill("The image needs a larger chip, or this is the wrong image. If the chip is larger than {}, the reader was set too "+
			"small: check the device and read again.", words.Size(b.Size))}
		return
	case Burnt:
		b.Headline = words.Fill("It holds this image already: none of {} is missing and none too many.", words.Plural(8*master, "bit"))
		b.Next = []string{"Nothing is to be burnt. If the board does not run with it, look at the byte order and the socket."}
		if b.State == IsBlank {
			b.Headline = words.Fill("Blank, and so is the image: all {} are FF.", words.Size(master))
			b.Next = []string{"Check the image: there is nothing in it to burn."}
		}
	case BurnAsIs:
		b.Reasons = append(b.Reasons, words.Fill("{} still to be burnt, {} already low where the image wants 0", words.Plural(b.ToBurn, "bit"),
			words.Count(b.Already)))
		b.Next = []string{"Burn it as it is, then read back and compare."}
		if b.State == NotBlank {
			b.Headline += " None stands in the way: the image can be burnt over it."
			b.Next = []string{"Switch off the reader's own blank check for this burn, burn, then read back and compare."}
		} else {
			b.Headline += " The image can be burnt."
			b.Next = append(b.Next, "An empty socket often reads FF as well: make sure that the chip is seated.")
		}
	case EraseFirst:
		b.Headline += words.Fill(" {} {} in the way of the image: it must be erased first.", words.Plural(b.InTheWay, "bit"),
			verb(b.InTheWay, "is", "are"))
		b.Reasons = append(b.Reasons, words.Fill("low where the image wants 1: {}, the first at {}", words.Plural(b.InTheWay, "bit"),
			words.Address(b.FirstWays[0])))
		b.Next = []string{words.Fill("Keep this read; then {}, check that it is blank, and burn. Burning now would spoil those bytes.", b.erase.step())}
		b.Cautions = append(b.Cautions, b.erase.cautions()...)
	case CannotBurn:
		b.Headline += " It is a mask ROM, and not this image."
		b.Next = []string{neverBurnt}
		return
	}
	if master < b.Size {
		b.Reasons = append(b.Reasons, words.Fill("the image has {}, the chip {}: compared from the chip's start on; the rest stays as it is",
			words.Size(master), words.Size(b.Size)))
		b.Next = append(b.Next, words.Fill("The image is smaller than the chip: pad or repeat it to {} as the board wants it.", words.Size(b.Size)))
	}
}

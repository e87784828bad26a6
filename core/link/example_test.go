package link_test

import (
	"fmt"
	"os"

	"lunette/core/arrange"
	"lunette/core/dump"
	"lunette/core/link"
	"lunette/core/marks"
	"lunette/core/report"
	"lunette/core/survey"
)

// Somebody posts a link to what was found in the demo board's ROM; others hold what they have against it.
func Example() {
	rom, err := os.ReadFile("../../testdata/halden/u41.bin")
	if err != nil {
		fmt.Println(err)
		return
	}
	found := report.Of(dump.Dump{Name: "u41.bin", Bytes: rom, Format: dump.Raw}, survey.Take(rom, nil), marks.Inspect(rom, nil), report.Texts{}, nil)
	statement, err := link.Of(rom, found, "U41 of a Halden HX-16", nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fragment := link.Encode(statement)

	posted, err := link.Decode(fragment)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(posted.Title + ": " + posted.Headline)
	worn := arrange.Swapped.Apply(rom)
	worn[0x12345] ^= 0x08
	for _, own := range [][]byte{rom, arrange.Swapped.Apply(rom), arrange.Lane(0, 2).Apply(rom), rom[:256<<10], worn} {
		fmt.Println(link.Check(own, posted, nil).Sentence)
	}
	// Output:
	// U41 of a Halden HX-16: A whole, good 68000 image, stored swapped.
	// The same dump: all 512 KiB agree, in the same order.
	// The same content in another arrangement: your dump is the posted one with bytes swapped in 16-bit words.
	// Your dump is the odd byte lane of the posted one as the CPU sees it.
	// Your dump is the first half of the posted one.
	// Different in 1 of 64 blocks, compared with bytes swapped in 16-bit words: 012000 to 013FFF.
}

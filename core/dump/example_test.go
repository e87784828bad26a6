package dump_test

import (
	"fmt"

	"lunette/core/dump"
)

// The boot monitor of a Halden HX-16 as somebody typed it in from a printed listing: one record is missing, and one
// letter is not what it should be.
func Example() {
	text := ":10C00000210046010136012147013600007EFE096C\n" +
		":10C02000194E79234623965778239EDA3F01B2CAE8\n" +
		":00000001FF\n"
	dumps, err := dump.Load("U8.hex", []byte(text))
	if err != nil {
		for _, problem := range dump.Problems(err) {
			fmt.Println(problem)
		}
	}
	for _, d := range dumps {
		fmt.Printf("%s, %s: %d bytes from %04X on, gaps %v\n", d.Name, d.Format, len(d.Bytes), d.Base, d.Gaps)
	}

	_, err = dump.Load("U8.hex", []byte(":10C02000194E79234623965778239EDA3F01B2CAE9\n"))
	fmt.Println(err)
	// Output:
	// U8.hex, Intel HEX: 48 bytes from C000 on, gaps [{16 32}]
	// line 1: record checksum is E9, computed E8
}

func ExampleFromHexText() {
	d, err := dump.FromHexText("pasted", `
		00FC0000: 4e56 fff8 48e7 3f3e  NV..H.?>
		00FC0008: 2079 00fc             y..`)
	fmt.Printf("% X from %06X on, %v\n", d.Bytes, d.Base, err)

	_, err = dump.FromHexText("pasted", "4E 56 FF F")
	fmt.Println(err)
	// Output:
	// 4E 56 FF F8 48 E7 3F 3E 20 79 00 FC from FC0000 on, <nil>
	// line 1, column 10: "F" has 1 hex digit, an odd number; write each byte with two
}

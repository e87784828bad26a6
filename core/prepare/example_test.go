package prepare_test

import (
	"bytes"
	"fmt"

	"lunette/core/arrange"
	"lunette/core/chips"
	"lunette/core/prepare"
)

// A dump that a reader for x16 chips stored swapped, for the even and the odd chip of a 68000 board.
func ExamplePrepare() {
	stored := bytes.Repeat([]byte("BADCFEHG"), 1<<14)
	made, err := prepare.Prepare(stored, prepare.Plan{
		Name: "halden-u7u8.bin", Device: "27C512", View: chips.Pair, Order: arrange.Swapped, CPU: prepare.Big,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range made.Files {
		fmt.Printf("%s on %s: %s...\n", f.Name, f.Lines, f.Content[:8])
	}
	for _, step := range made.Steps {
		fmt.Println(step)
	}
	// Output:
	// halden-u7u8.even.27C512.bin on D8-D15: ACEGACEG...
	// halden-u7u8.odd.27C512.bin on D0-D7: BDFHBDFH...
	// The dump is put into the CPU's order: bytes swapped in 16-bit words.
	// Even: the bytes at the addresses 0, 2, 4 and so on; this chip is the one on D8-D15 of the board.
	// Odd: the bytes at the addresses 1, 3, 5 and so on; this chip is the one on D0-D7 of the board.
}

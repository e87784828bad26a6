package arrange_test

import (
	"fmt"

	"lunette/core/arrange"
)

// Eight bytes in every arrangement a dump is looked at in.
func Example() {
	stored := []byte("ABCDEFGH")
	for _, a := range arrange.All() {
		if a.IsMirrored() {
			continue // unreadable as text
		}
		fmt.Printf("%-10s %-8s  %s\n", a.ID(), a.Apply(stored), a)
	}
	// Output:
	// stored     ABCDEFGH  as stored
	// swap16     BADCFEHG  bytes swapped in 16-bit words
	// reverse32  DCBAHGFE  32-bit words reversed
	// halves32   CDABGHEF  16-bit halves exchanged in 32-bit words
	// lane0of2   ACEG      even byte lane
	// lane1of2   BDFH      odd byte lane
	// lane0of4   AE        byte lane 0 of 0 to 3
	// lane1of4   BF        byte lane 1 of 0 to 3
	// lane2of4   CG        byte lane 2 of 0 to 3
	// lane3of4   DH        byte lane 3 of 0 to 3
}

// A dump that the reader stored swapped is cut into the files for a pair of x8 chips: the two steps are one.
func ExampleArrangement_Then() {
	stored := []byte("aHdlne")
	for lane := range 2 {
		chip, _ := arrange.Swapped.Then(arrange.Lane(lane, 2))
		fmt.Printf("%s from the %s\n", chip.Apply(stored), chip)
	}
	// Output:
	// Hle from the odd byte lane
	// adn from the even byte lane
}

// The byte grid asks for one row of a large image at a time.
func ExampleArrangement_Copy() {
	stored := []byte("aHdlneH -X61")
	row := make([]byte, 4)
	for from := 0; ; from += len(row) {
		n := arrange.Swapped.Copy(row, stored, from)
		if n == 0 {
			break
		}
		fmt.Printf("%06X %s\n", from, row[:n])
	}
	// Output:
	// 000000 Hald
	// 000004 en H
	// 000008 X-16
}

// Two files that were read from the even and the odd chip become the image the CPU sees.
func ExampleJoin() {
	image, err := arrange.Join([][]byte{[]byte("Hle"), []byte("adn")})
	fmt.Println(string(image), err)
	_, err = arrange.Join([][]byte{[]byte("Hle"), []byte("ad"), []byte("n")})
	fmt.Println(err)
	// Output:
	// Halden <nil>
	// lane 2 has 1 byte, lane 1 has 2 bytes; take lanes of equal size
}

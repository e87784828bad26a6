package survey_test

import (
	"bytes"
	"fmt"

	"lunette/core/survey"
)

// A 2 KiB dump of one lane of a Halden HX-16's boot monitor: code, a message, blank space. Its line D7 is stuck low.
func ExampleTake() {
	dump := bytes.Repeat([]byte{0xFF}, 2048)
	for i := range 768 {
		dump[i] = byte(i * i * 40503 >> 9)
	}
	copy(dump[1024:], bytes.Repeat([]byte("HALDEN HX-16 BOOT MONITOR\r\n"), 20))
	for i := range dump {
		dump[i] &= 0x7F
	}

	s := survey.Take(dump, nil)
	for i, block := range s.Blocks {
		from, _ := s.Span(i)
		fmt.Printf("%06X  %.2f bits per byte  %s\n", from, block.Entropy, block.Kind)
	}
	for i, line := range s.X8 {
		if line.StuckHigh() || line.StuckLow() {
			fmt.Printf("D%d read 1 in %d of %d bytes\n", i, line.Ones, line.Of)
		}
	}
	text := s.Texts[0]
	fmt.Printf("the longest text, at %06X, is %s\n", text.From, dump[text.From:text.To])
	fmt.Printf("the last %d bytes are %02X\n", s.Tail.Len(), s.Tail.Value)
	// Output:
	// 000000  6.64 bits per byte  mixed
	// 000100  6.64 bits per byte  mixed
	// 000200  6.66 bits per byte  mixed
	// 000300  0.00 bits per byte  constant
	// 000400  4.07 bits per byte  text
	// 000500  4.04 bits per byte  text
	// 000600  0.94 bits per byte  sparse
	// 000700  0.00 bits per byte  constant
	// D7 read 1 in 0 of 2048 bytes
	// the longest text, at 000400, is HALDEN HX-16 BOOT MONITOR
	// the last 484 bytes are 7F
}

// Command generate writes json.go in the package whose go:generate line runs it: a method AppendJSON for each exported
// struct with json tags, which writes what encoding/json would.
//
// The tags are the one place that says how a result looks as JSON. This program reads the kinds of fields that results are
// made of and refuses any other, so that nothing is written wrongly.
package main

import (
	"fmt"
	"os"
)

// output is the name of the file that is written.
const output = "json.go"

func main() {
	source, err := Generate(".")
	if err == nil {
		err = os.WriteFile(output, source, 0o644)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "generate:", err)
		os.Exit(1)
	}
}

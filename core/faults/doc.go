// Package faults answers: what went wrong between a chip and a file?
//
// There are three questions, each with a file of its name and files beside it:
//
//	Compare     a readback against its master: the relation, the fault of a line, what to do next (compare.go)
//	Rereads     several reads of one chip: what is unstable, and what the chip most likely holds (rereads.go)
//	BlankCheck  a chip that should be empty, and whether an image can be burnt over what is in it (blank.go)
//
// What one dump alone shows of its lines is counted in package survey and judged in package report (lines.go).
//
// Whatever is named is held against every byte: an explanation gives the read exactly, or says how many bytes it leaves
// unexplained, and explanations that are equally good are all given.
//
// A Line (line.go) is a data or address line of the device that was read; where a result names one, it is also in a list, so
// that core can add the pin it has on a device.
package faults

//go:generate go run lunette/core/jsontext/generate

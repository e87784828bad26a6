// Package chips answers: which chip is this, which chips can hold the dump, how long does it take to write and to erase
// one, and what happens when it is put into a socket, rightly or wrongly?
//
// All it knows of devices is in one table (catalogue_bytes.go and catalogue_words.go, explained in catalogue.go): a row a
// family with its pins, its figures and the data sheets they were read in. A row also says how far its pin list can be
// trusted, and whoever shows the list shows that too.
//
// Find (find.go) reads part numbers as people write them; Fits (fits.go) says what can hold a dump; TimesOf (times.go) how
// long burning and erasing take; Seat (seat.go) what each pin meets in a socket, by way of seat_meet.go and seat_judge.go;
// DropIn (dropin.go) whether one chip can take another's place, and how an adapter is wired (adapter.go). Both ask reading.go
// how a pin gets on with a place while the chip is read. The files for the chips are made by package prepare.
//
// Signals are named as in the sheets, without the bar of those that are active low: CE, OE, PGM, WE, BYTE, RESET. A name
// such as BYTE/VPP is one pin with two jobs. In this project "chip" is the part in the hand and "socket" the pinout that
// the board gives a place.
package chips

//go:generate go run lunette/core/jsontext/generate

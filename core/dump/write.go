package dump

// Files of records for a chip: 16 data bytes a record, addresses from 0 on, lines that end in CR LF, as objcopy writes them.
// The specifications are those of the readers (hex.go, srecord.go).

// recordBytes is how many data bytes a record holds.
const recordBytes = 16

// AppendHEX appends content as Intel HEX to text: data records from address 0 on, an extended linear address record (04)
// wherever bits 16 to 31 of the address change, and the end record. content is at most 4 GiB long.
func AppendHEX(text, content []byte) []byte {
	var w recordWriter
	w.text = reserve(text, len(content), 1+2*(1+2+1+1)+2)
	for at := 0; at < len(content); at += recordBytes {
		if at&0xFFFF == 0 && at > 0 {
			w.hexRecord(hexLinearBase, 0, []byte{byte(at >> 24), byte(at >> 16)})
		}
		w.hexRecord(hexData, at&0xFFFF, content[at:min(at+recordBytes, len(content))])
	}
	w.hexRecord(hexEnd, 0, nil)
	return w.text
}

// AppendSRecords appends content as Motorola S-records to text: a header with title (at most 40 bytes of it), data from
// address 0 on with addresses as wide as the last one needs (S1, S2 or S3), a count record (S5) where its 16 bits suffice,
// and the end record that belongs to the data (S9, S8 or S7). content is at most 4 GiB long.
func AppendSRecords(text, content []byte, title string) []byte {
	const maxTitle = 40
	data, end := sDataKind(len(content)), byte(0)
	for digit, kind := range sKinds {
		if kind.purpose == sEnd && kind.address == sKinds[data].address {
			end = byte(digit)
		}
	}
	var w recordWriter
	w.text = reserve(text, len(content), 2+2*(1+sKinds[data].address+1)+2)
	w.sRecord(0, 0, []byte(title[:min(len(title), maxTitle)]))
	records := 0
	for at := 0; at < len(content); at += recordBytes {
		w.sRecord(data, at, content[at:min(at+recordBytes, len(content))])
		records++
	}
	if records < 1<<16 {
		w.sRecord(5, records, nil)
	}
	w.sRecord(end, 0, nil)
	return w.text
}

// sDataKind returns the digit of the narrowest data record that reaches the last of size bytes.
func sDataKind(size int) byte {
	switch last := max(size-1, 0); {
	case last < 1<<16:
		return 1
	case last < 1<<24:
		return 2
	}
	return 3
}

// reserve makes room behind text for size bytes in records of so many characters besides their data, with some over.
func reserve(text []byte, size, besides int) []byte {
	records := size/recordBytes + size>>16 + 8
	grown := make([]byte, len(text), len(text)+2*size+records*besides+128)
	copy(grown, text)
	return grown
}

// A recordWriter writes records of hex digits and sums up their bytes.
type recordWriter struct {
	text []byte
	sum  byte
}

func (w *recordWriter) hexRecord(kind byte, offset int, data []byte) {
	w.text = append(w.text, ':')
	w.sum = 0
	w.byte(byte(len(data)))
	w.address(offset, 2)
	w.byte(kind)
	w.bytes(data)
	w.byte(-w.sum)
	w.text = append(w.text, '\r', '\n')
}

func (w *recordWriter) sRecord(digit byte, address int, data []byte) {
	width := sKinds[digit].address
	w.text = append(w.text, 'S', '0'+digit)
	w.sum = 0
	w.byte(byte(width + len(data) + 1))
	w.address(address, width)
	w.bytes(data)
	w.byte(^w.sum)
	w.text = append(w.text, '\r', '\n')
}

// address writes the low width bytes of an address, high byte first.
func (w *recordWriter) address(address, width int) {
	for shift := 8 * (width - 1); shift >= 0; shift -= 8 {
		w.byte(byte(address >> shift))
	}
}

func (w *recordWriter) bytes(data []byte) {
	for _, b := range data {
		w.byte(b)
	}
}

func (w *recordWriter) byte(b byte) {
	const digits = "0123456789ABCDEF"
	w.text = append(w.text, digits[b>>4], digits[b&15])
	w.sum += b
}

package arrange

import "encoding/binary"

// Apply returns the whole arranged image in a new slice; stored is not changed.
func (a Arrangement) Apply(stored []byte) []byte {
	arranged := make([]byte, a.Len(len(stored)))
	a.Copy(arranged, stored, 0)
	return arranged
}

// Copy fills window with the arranged image of stored from byte from on, and returns how many bytes it wrote: fewer
// than the window holds when the image ends before, none when from is outside the image. It allocates nothing. The
// window and stored must not overlap.
func (a Arrangement) Copy(window, stored []byte, from int) int {
	total := a.Len(len(stored))
	if from < 0 || from >= total {
		return 0
	}
	window = window[:min(len(window), total-from)]
	// Between head and tail stand whole groups of four, eight bytes at a time; what is left at either end goes singly.
	head := min(-from&3, len(window))
	tail := head + (len(window)-head)&^7
	a.copySingly(window[:head], stored, from)
	a.copyLane(window[head:tail], stored, from+head)
	a.exchangeInPlace(window[head:tail])
	a.copySingly(window[tail:], stored, from+tail)
	return len(window)
}

// copySingly fills window with the arranged image from byte from on, byte by byte: slow, and right for any window.
func (a Arrangement) copySingly(window, stored []byte, from int) {
	for i := range window {
		window[i] = a.At(stored, from+i)
	}
}

// copyLane fills window, a multiple of 8 bytes long, with bytes of the lane, from its byte from on.
func (a Arrangement) copyLane(window, stored []byte, from int) {
	if a.laneBits == 0 {
		copy(window, stored[from:])
		return
	}
	i := 0
	if a.laneBits == 1 { // what most boards have; three times as fast
		shift := 8 * a.lane
		for ; i+8 <= len(window) && (from+i+8)*2 <= len(stored); i += 8 {
			sixteen := stored[(from+i)*2:]
			first, second := binary.LittleEndian.Uint64(sixteen)>>shift, binary.LittleEndian.Uint64(sixteen[8:])>>shift
			binary.LittleEndian.PutUint64(window[i:i+8], everyOther(first)|everyOther(second)<<32)
		}
	}
	step := 1 << a.laneBits
	for ; i+4 <= len(window); i += 4 {
		four := window[i : i+4 : i+4]
		dealt := stored[(from+i)*step+int(a.lane):]
		four[0], four[1], four[2], four[3] = dealt[0], dealt[step], dealt[2*step], dealt[3*step]
	}
}

// everyOther returns bytes 0, 2, 4 and 6 of v as bytes 0 to 3.
func everyOther(v uint64) uint64 {
	v &= lowerBytes
	v = (v | v>>8) & lowerHalves
	return (v | v>>16) & 0xFFFFFFFF
}

// Every exchange, of bytes in a word as of bits in a byte, is made of steps in which neighbours of one width change
// places all over a 64-bit word. These masks pick the lower neighbour of each pair.
const (
	lowerBits    = 0x5555555555555555 // neighbours 1 bit wide
	lowerPairs   = 0x3333333333333333 // 2 bits
	lowerNibbles = 0x0F0F0F0F0F0F0F0F // 4 bits
	lowerBytes   = 0x00FF00FF00FF00FF // 8 bits
	lowerHalves  = 0x0000FFFF0000FFFF // 16 bits
)

// neighbours returns v with neighbours of the given width in bits exchanged.
func neighbours(v, lower uint64, width uint) uint64 { return v>>width&lower | v&lower<<width }

// exchangeInPlace exchanges and mirrors window, whole groups of four and a multiple of 8 bytes long. A loop for each
// step, without a branch inside, is up to three times as fast in wasm as one loop that does all.
func (a Arrangement) exchangeInPlace(window []byte) {
	if a.exchange&1 != 0 {
		for i := 0; i+8 <= len(window); i += 8 {
			eight := window[i : i+8]
			binary.LittleEndian.PutUint64(eight, neighbours(binary.LittleEndian.Uint64(eight), lowerBytes, 8))
		}
	}
	if a.exchange&2 != 0 {
		for i := 0; i+8 <= len(window); i += 8 {
			eight := window[i : i+8]
			binary.LittleEndian.PutUint64(eight, neighbours(binary.LittleEndian.Uint64(eight), lowerHalves, 16))
		}
	}
	if a.mirrored {
		for i := 0; i+8 <= len(window); i += 8 {
			eight := window[i : i+8]
			v := binary.LittleEndian.Uint64(eight)
			v = neighbours(v, lowerNibbles, 4)
			v = neighbours(v, lowerPairs, 2)
			v = neighbours(v, lowerBits, 1)
			binary.LittleEndian.PutUint64(eight, v)
		}
	}
}

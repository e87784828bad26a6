package arrange

import (
	"errors"
	"strconv"

	"lunette/core/words"
)

// Split deals image to n lanes, byte by byte: lane i gets bytes i, i+n, i+2n and so on. With a length that n does not
// divide, the first lanes are one byte longer. n is at least 1.
func Split(image []byte, n int) [][]byte {
	lanes := make([][]byte, n)
	for i := range lanes {
		lane := make([]byte, 0, (len(image)+n-1)/n)
		for j := i; j < len(image); j += n {
			lane = append(lane, image[j])
		}
		lanes[i] = lane
	}
	return lanes
}

// Join is the inverse of Split: it interleaves the lanes byte by byte, the first lane's byte first. It fails when there
// are no lanes or their lengths do not fit together.
func Join(lanes [][]byte) ([]byte, error) {
	if len(lanes) == 0 {
		return nil, errors.New("no lanes to join")
	}
	total := 0
	for _, lane := range lanes {
		total += len(lane)
	}
	for i, lane := range lanes {
		if want := (total - i + len(lanes) - 1) / len(lanes); len(lane) != want {
			return nil, errors.New(words.Fill("lane {} of {} has {}, where {} together need {}; take lanes of equal size",
				strconv.Itoa(i), strconv.Itoa(len(lanes)), words.Size(len(lane)), words.Size(total), words.Size(want)))
		}
	}
	image := make([]byte, total)
	for i, lane := range lanes {
		for j, b := range lane {
			image[j*len(lanes)+i] = b
		}
	}
	return image, nil
}

// Repeat returns image written times times after another, as for a device that is larger by that factor. times is at
// least 1.
func Repeat(image []byte, times int) []byte {
	repeated := make([]byte, 0, len(image)*times)
	for range times {
		repeated = append(repeated, image...)
	}
	return repeated
}

// An End says at which end of a larger device an image stands.
type End int

// The two ends of a device.
const (
	Bottom End = iota // the image begins at address 0, the fill follows
	Top               // the fill begins at address 0, the image follows
)

// Pad returns image placed at one end of size bytes, the rest filled with fill. It fails when image is larger.
func Pad(image []byte, size int, fill byte, at End) ([]byte, error) {
	if len(image) > size {
		return nil, errors.New(words.Fill("{} do not fit into {}", words.Size(len(image)), words.Size(size)))
	}
	padded := make([]byte, size)
	for i := range padded {
		padded[i] = fill
	}
	if at == Top {
		copy(padded[size-len(image):], image)
	} else {
		copy(padded, image)
	}
	return padded, nil
}

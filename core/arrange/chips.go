package arrange

import (
	"bytes"
	"errors"
	"strconv"

	"lunette/core/words"
)

// Split deals image to n lanes, byte by byte: lane i gets bytes i, i+n, i+2n and so on. With a length that n does not
// divide, the first lanes are one byte longer. n is at least 1.
func Split(image []byte, n int) [][]byte {
	lanes := make([][]byte, n)
	for i := range lanes {
		lane := make([]byte, laneLen(len(image), i, n))
		for j := range lane {
			lane[j] = image[j*n+i]
		}
		lanes[i] = lane
	}
	return lanes
}

// Join is the inverse of Split: it interleaves the lanes byte by byte, the first lane's byte first. It fails when there
// are no lanes, or when their lengths are not such as Split makes.
func Join(lanes [][]byte) ([]byte, error) {
	if len(lanes) == 0 {
		return nil, errors.New("no lanes to join; take at least one")
	}
	total := 0
	for i, lane := range lanes {
		total += len(lane)
		// Equal lengths fit, and one step down by one byte: the last round of dealing may end at any lane.
		if i == 0 || len(lane) == len(lanes[i-1]) {
			continue
		}
		if previous := len(lanes[i-1]); previous != len(lanes[0]) || len(lane) != previous-1 {
			return nil, errors.New(words.Fill("lane {} has {}, lane {} has {}; take lanes of equal size",
				strconv.Itoa(i), words.Size(len(lane)), strconv.Itoa(i-1), words.Size(previous)))
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

// Repeat returns image written times times one after the other, as for a device that is larger by that factor. times is
// at least 1.
func Repeat(image []byte, times int) []byte { return bytes.Repeat(image, times) }

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
		return nil, errors.New(words.Fill("an image of {} does not fit into {}; take a larger device",
			words.Size(len(image)), words.Size(size)))
	}
	padded := bytes.Repeat([]byte{fill}, size)
	if at == Top {
		copy(padded[size-len(image):], image)
	} else {
		copy(padded, image)
	}
	return padded, nil
}

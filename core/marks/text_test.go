package marks

import (
	"math/rand"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/core/arrange"
)

const message = "The station could not start from the disk. Check the cable between the drive and the rear connector, then press any key. "

func TestTextSettlesTheOrder(t *testing.T) {
	data := make([]byte, 32<<10)
	rand.New(rand.NewSource(4)).Read(data)
	copy(data[5000:], strings.Repeat(message, 4))
	for _, order := range arrange.Orders() {
		text := FindText(order.Apply(data))
		assert.GreaterOrEqual(t, text.Sure, Strong, order)
		assert.Equal(t, order, text.Order)
		assert.NotEmpty(t, text.Where)
	}
}

// Letter by letter over an arranged copy, at every length of the incomplete group at the end.
func TestTextCountsAsAPlainScan(t *testing.T) {
	const count = "the ver ion Res Men TES ram boo dev ste sys and ing ERRor "
	for _, length := range []int{12, 13, 14, 15, 63, 64, 65, 66, 2*window + 70, 2*window + 71, 3 * window, 4*window - 1} {
		data := []byte(strings.Repeat(count, length/len(count)+1)[:length])
		for _, order := range arrange.Orders() {
			most := 0
			for _, read := range arrange.Orders() {
				hits := 0
				for piece := range slices.Chunk(read.Apply(order.Apply(data)), window) {
					for i := 3; i <= len(piece); i++ {
						three := string(piece[i-3 : i])
						small, capitals := strings.ToLower(three), strings.ToUpper(three)
						mixed := three != small && three != capitals && three != capitals[:1]+small[1:]
						if slices.Contains(triples, small) && !mixed {
							hits++
						}
					}
				}
				most = max(most, hits)
			}
			require.Equal(t, most, FindText(order.Apply(data)).Hits, "%d bytes, %s", length, order)
		}
	}
}

func TestNoTextSettlesNothing(t *testing.T) {
	rng := rand.New(rand.NewSource(5))
	for range 200 {
		data := make([]byte, 16<<10)
		rng.Read(data)
		assert.Less(t, FindText(data).Sure, Strong)
	}
	assert.Equal(t, CannotTell, FindText(nil).Sure)
	assert.Less(t, FindText([]byte(strings.Repeat("the ", 1000))).Sure, Strong, "one word over and over is a pattern, not text")
}

// Records in which a letter that never changes stands between two numbers make triples by the dozen; they are no text.
func TestRecordsAreNoText(t *testing.T) {
	rng := rand.New(rand.NewSource(11))
	for _, rest := range []string{"\x80\x90\x00\x04\x10\x00\x00\x07\x21", "\xF0\x02\x80\x11\x00\x00\x03\xFF\x03\x00\x9A\x10\x7F\x00\x01"} {
		var data []byte
		for range 4 {
			for _, numbers := range []string{"he!", "her", "\x90eq", "ter", "\x04ez", "ver", "Oe1", "per", "xe\x00", "res", "tes", "zet", "men"} {
				data = append(append(data, numbers...), rest...)
				data[len(data)-1] = byte(rng.Intn(256))
			}
		}
		for _, order := range arrange.Orders()[:4] {
			text := FindText(order.Apply(data[:len(data)&^3]))
			assert.Equal(t, 28, text.Hits)
			assert.Equal(t, Weak, text.Sure, "%q %s", rest, order)
		}
	}
}

// Words are in small letters or capitals, or begin with a capital. Other mixtures are chance.
func TestMixedLettersAreNoText(t *testing.T) {
	mixed := []byte(strings.ToLower(message))
	for i := 0; i < len(mixed); i += 2 {
		mixed[i] = byte(unicode.ToUpper(rune(mixed[i])))
	}
	for text, sure := range map[string]Sure{message: Strong, strings.ToUpper(message): Strong, string(mixed): CannotTell} {
		data := []byte(strings.Repeat(text, 5))
		assert.Equal(t, sure, FindText(data[:len(data)&^3]).Sure, text)
	}
}

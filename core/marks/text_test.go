package marks

import (
	"math/rand"
	"slices"
	"strings"
	"testing"

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
						if slices.Contains(triples, strings.ToLower(string(piece[i-3:i]))) {
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

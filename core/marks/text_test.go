package marks

import (
	"math/rand"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

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

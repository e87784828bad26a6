package www_test

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/outside"
	"lunette/www/browser"
)

// Two byte lanes, as objcopy cuts them, are known for what they are; one tap opens the joined image, which is the ROM.
func TestLanesAreJoined(t *testing.T) {
	folder := t.TempDir()
	even, odd := filepath.Join(folder, "u7.bin"), filepath.Join(folder, "u8.bin")
	outside.Run(t, "objcopy", nil, "-I", "binary", "-O", "binary", "--interleave=2", "--byte=0", u41, even)
	outside.Run(t, "objcopy", nil, "-I", "binary", "-O", "binary", "--interleave=2", "--byte=1", u41, odd)
	stored := read(t, u41)
	swapped := outside.Run(t, "dd", stored, "conv=swab", "status=none")
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		b.Find("#files").SetFiles(even, odd)
		b.WaitText("#relations", "byte lanes of one image")
		b.Find("#relations button").Click()
		b.WaitFor(`return document.querySelectorAll(".dumps .choose").length === 3`)
		b.WaitText(".headline", "A whole, good 68000 image")

		b.Run(`document.querySelector("#order").value = "stored"; document.querySelector("#order").dispatchEvent(new Event("change"));
			[...document.querySelectorAll("button")].find(e => e.textContent === "Save all in this order").click()`)
		joined := b.Downloaded("u8+u7.joined.stored.bin")
		require.Len(t, joined, len(stored))
		require.True(t, bytes.Equal(stored, joined) || bytes.Equal(swapped, joined))
	})
}

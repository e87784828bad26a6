package www_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/outside"
	"lunette/www/browser"
)

// The files for U41 are those that objcopy and dd make: for a 27C400 in both buffer conventions, two 27C020, four 27C010, and
// a 27C800 that holds it twice.
func TestFilesForChips(t *testing.T) {
	outside.Tool(t, "dd")
	outside.Tool(t, "objcopy")
	rom := read(t, u41)
	swapped := outside.Run(t, "dd", rom, "conv=swab", "status=none")
	lane := func(lanes, n string) []byte {
		in, out := write(t, "cpu.bin", swapped), filepath.Join(t.TempDir(), "lane.bin")
		outside.Run(t, "objcopy", nil, "-I", "binary", "-O", "binary", "--interleave="+lanes, "--byte="+n, in, out)
		return read(t, out)
	}
	plans := []struct {
		name, device, view, buffer string
		files                      [][]byte
	}{
		{"27C400, low byte first", "27C400", "x16", "low", [][]byte{rom}},
		{"27C400, high byte first", "27C400", "x16", "high", [][]byte{swapped}},
		{"two 27C020", "27C020", "pair", "", [][]byte{lane("2", "0"), lane("2", "1")}},
		{"four 27C010", "27C010", "four", "", [][]byte{lane("4", "0"), lane("4", "1"), lane("4", "2"), lane("4", "3")}},
		{"27C800, twice", "27C800", "x16", "low", [][]byte{append(bytes.Clone(rom), rom...)}},
	}
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		choose(b, 1, u41)
		b.WaitText(".prepared .headline", "27C400")
		require.Equal(t, "27C400 x16", b.Run(`return document.querySelector("#burn-fit").value`), "the likely chip of a swapped dump of 512 KiB")

		b.Run(`window.made = {}; const create = URL.createObjectURL.bind(URL);
			URL.createObjectURL = (blob) => { window.last = blob; return create(blob); };
			HTMLAnchorElement.prototype.click = function () { window.made[this.download] = window.last; };`)
		for _, plan := range plans {
			b.Run(`window.made = {}`)
			b.Find("#burn-part").Clear()
			enter(b, "#burn-part", plan.device)
			askFor(b, "#burn-view", plan.view)
			if plan.buffer != "" {
				askFor(b, "#burn-buffer", plan.buffer)
			}
			b.WaitFor(`return document.querySelectorAll(".chip-files tbody tr").length === arguments[0] && document.querySelector(".prepared").textContent.includes(arguments[1])`,
				len(plan.files), plan.device)
			want := []any{}
			for _, file := range plan.files {
				sum := sha256.Sum256(file)
				want = append(want, hex.EncodeToString(sum[:]))
			}
			b.WaitFor(`
				document.querySelector(".prepared .joined button").click();
				await new Promise((resolve) => setTimeout(resolve, 300));
				return Object.keys(window.made).length === arguments[0] + 1`, len(plan.files))
			got := b.Run(`return Promise.all(Object.entries(window.made).filter(([name]) => name.endsWith(".bin")).map(async ([, blob]) => {
				const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", await blob.arrayBuffer()));
				return Array.from(sum, (b) => b.toString(16).padStart(2, "0")).join("");
			}))`)
			require.Equal(t, want, got, plan.name)
		}
		askFor(b, "#burn-view", "x16")
		enter(b, "#burn-part", "2764")
		b.WaitText(".prepared .refused", "Nothing was made")
		enter(b, "#burn-part", "teapot")
		b.WaitText("#burn-section .field-error", "teapot")
	})
}

// A chip of 40 pins in a socket of 42: the right way first, the wrong ones with what they do, drawn; another strap, another
// danger.
func TestSeating(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		askFor(b, "#seat-chip", "27C400")
		askFor(b, "#seat-socket", "27C800")
		b.WaitText("#seat-section .said-first", "chip pin 1 in socket pin 2")
		require.Equal(t, 40.0, b.Run(`return document.querySelectorAll(".seating.right .chip .pin").length`))
		b.Run(`document.querySelector(".seating summary").click()`)
		b.WaitFor(`return document.querySelector("details.seating[open] .chip .trouble") !== null`)
		askFor(b, "#seat-byte", "high")
		b.WaitText("#seat-section .seatings", "heats at once")
		askFor(b, "#seat-chip", "27C160")
		askFor(b, "#seat-socket", "27C400")
		b.WaitText("#seat-section .refused", "does not go in")
		b.WaitText("#seat-section", "Does it take the other's place?")
	})
}

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

// The files for U41 are those that objcopy and dd make: for a 27C400 in both buffer conventions, two 27C020, four 27C010
// as lanes and as two pairs, and a 27C800 that holds it twice.
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
	bank := func(half, n string) []byte {
		part := outside.Run(t, "dd", swapped, "bs=256k", "count=1", "iflag=fullblock", "skip="+half, "status=none")
		in, out := write(t, "half.bin", part), filepath.Join(t.TempDir(), "lane.bin")
		outside.Run(t, "objcopy", nil, "-I", "binary", "-O", "binary", "--interleave=2", "--byte="+n, in, out)
		return read(t, out)
	}
	plans := []struct {
		name, device, view, buffer, inName string
		files                              [][]byte
	}{
		{"27C400, low byte first", "27C400", "x16", "low", "low-first.27C400", [][]byte{rom}},
		{"27C400, high byte first", "27C400", "x16", "high", "high-first.27C400", [][]byte{swapped}},
		{"two 27C020", "27C020", "pair", "", ".even.27C020", [][]byte{lane("2", "0"), lane("2", "1")}},
		{"four 27C010", "27C010", "four", "", ".byte0.27C010", [][]byte{lane("4", "0"), lane("4", "1"), lane("4", "2"), lane("4", "3")}},
		{"four 27C010 in two pairs", "27C010", "pairs", "", ".low-even.27C010", [][]byte{bank("0", "0"), bank("0", "1"), bank("1", "0"), bank("1", "1")}},
		{"27C800, twice", "27C800", "x16", "low", "doubled.27C800", [][]byte{append(bytes.Clone(rom), rom...)}},
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
			b.WaitFor(`return document.querySelector("#burn-fit").value.startsWith(arguments[0])`, plan.device) // taken, and with it a view
			askFor(b, "#burn-view", plan.view)
			if plan.buffer != "" {
				askFor(b, "#burn-buffer", plan.buffer)
			}
			b.WaitFor(`return document.querySelectorAll(".chip-files tbody tr").length === arguments[0] && document.querySelector(".prepared").textContent.includes(arguments[1])`,
				len(plan.files), plan.inName)
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

// What cannot be read as a chip, a byte or a lamp is refused in words where it was typed, and what was on offer is withdrawn; a
// number that several chips have is taken for none of them.
func TestBurnRefusesInWords(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		choose(b, 1, u41)
		made := func(is bool) {
			b.WaitFor(`return (document.querySelector(".chip-files") !== null) === arguments[0] && (document.querySelector(".prepared .joined button") !== null) === arguments[0]`, is)
		}
		made(true)
		require.Equal(t, true, b.Run(`const position = document.querySelector(".prepared .cautions").compareDocumentPosition(document.querySelector(".prepared .joined button"));
			return Boolean(position & Node.DOCUMENT_POSITION_FOLLOWING) && document.querySelector(".prepared .cautions").textContent.includes("destroys a chip")`),
			"what destroys a chip is said before its files are saved")
		b.WaitText(".prepared .next", "Load the file into the reader")
		require.NotContains(t, b.Run(`return document.querySelector(".prepared").textContent`), "Joined", "one file is joined to nothing")

		for _, unknown := range []string{"banana", "MBM27C1000", "UPD23C4000"} {
			enter(b, "#burn-part", "27C400")
			made(true)
			enter(b, "#burn-part", unknown)
			b.WaitText("#burn-section .field-error", unknown)
			made(false)
			b.WaitFor(`return document.querySelector("#burn .times").childElementCount === 0 && document.querySelector("#burn-fit").value === ""`)
		}
		enter(b, "#burn-part", "27C")
		b.WaitText("#burn-section .field-error", "Choose yours")
		b.WaitFor(`return document.querySelectorAll("#burn .choices button").length === 12`)
		made(false)
		b.Run(`[...document.querySelectorAll("#burn .choices button")].find((e) => e.textContent === "27C040").click()`)
		made(true)
		b.WaitText(".prepared", "16-bit words: one chip read 8 bits at a time suits only a board that reads bytes")
		require.Equal(t, 0.0, b.Run(`return document.querySelectorAll("#burn .choices button").length`))
		enter(b, "#burn-part", "M27V800")
		b.WaitText("#burn-section .field-error", "Taken for a 27C800")
		made(true)

		askFor(b, "#burn-spare", "bottom")
		for _, bad := range []string{"zz", "1FF", "", "-1"} {
			askFor(b, "#burn-fill", bad)
			b.WaitText("#burn-fill-state", "is no byte")
			made(false)
		}
		askFor(b, "#burn-fill", "a5")
		made(true)
		b.WaitText(".chip-files", "padA5")

		for bad, says := range map[string]string{"abc": "is no number of uW/cm2 or mW/cm2", "0": "expected 100 to 200,000", "12": "write 12 mW"} {
			askFor(b, "#burn-lamp", bad)
			b.WaitText("#burn-lamp-state", says)
			require.NotContains(t, b.Run(`return document.querySelector("#burn .times").textContent`), "Erasing:")
		}
		askFor(b, "#burn-lamp", "12 mW")
		b.WaitText("#burn .times", "min under 12,000 uW/cm2")
		require.Equal(t, "", b.Run(`return document.querySelector("#burn-lamp-state").textContent`))
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
		b.WaitFor(`document.querySelector("details.seating").open = true;
			return document.querySelector("details.seating[open] .chip .trouble") !== null`) // drawn anew for every answer
		askFor(b, "#seat-byte", "high")
		b.WaitText("#seat-section .seatings", "heats at once")
		askFor(b, "#seat-chip", "27C160")
		askFor(b, "#seat-socket", "27C400")
		b.WaitText("#seat-section .refused", "does not go in")
		askFor(b, "#seat-chip", "27C400")
		askFor(b, "#seat-socket", "27C4096")
		b.WaitFor(`return document.querySelectorAll(".wiring path").length === 40`)
		askFor(b, "#seat-chip", "27C160")
		askFor(b, "#seat-socket", "27C400")
		b.WaitText("#seat-section", "Does it take the other's place?")
		askFor(b, "#seat-chip", "27C400")
		askFor(b, "#seat-socket", "27C160")
		b.WaitText("#seat-section", "A 27C400 does not take the place of a 27C160")
	})
}

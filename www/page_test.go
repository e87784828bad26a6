package www_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash/crc32"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core/outside"
	"lunette/www"
	"lunette/www/browser"
)

// page returns the page as it is served.
func page(t testing.TB) http.Handler {
	t.Helper()
	files, err := www.Files()
	require.NoError(t, err)
	return www.Handler(files)
}

// opened opens the page and waits until the core is there.
func opened(t testing.TB, b *browser.Browser) *browser.Site {
	t.Helper()
	site := browser.Serve(t, page(t))
	b.Open(site.URL)
	ready(b)
	return site
}

func ready(b *browser.Browser) { b.WaitFor(`return document.documentElement.dataset.core === "ready"`) }

// choose opens files by the button and waits until all have been looked at, the first of them is shown, and every section has
// drawn its answer: a click must not fall on what moves.
func choose(b *browser.Browser, shown int, paths ...string) {
	b.Find("#files").SetFiles(paths...)
	b.WaitFor(`const all = document.querySelectorAll(".dumps .choose");
		return all.length === arguments[0] && document.querySelectorAll(".dumps .choose[data-looked]").length === arguments[0] &&
			document.querySelector("#answers").dataset.shown === all[arguments[1]].dataset.id &&
			document.querySelector(".compared:not([aria-busy])")?.childElementCount > 0 && document.querySelector(".prepared").childElementCount > 0`,
		shown, shown-len(paths))
}

func write(t testing.TB, name string, content []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, content, 0o644))
	return path
}

func read(t testing.TB, path string) []byte {
	t.Helper()
	content, err := os.ReadFile(path)
	require.NoError(t, err)
	return content
}

// onShelf waits until a dump's name stands on the shelf; WebKit's driver does not tell text that may be cut off.
func onShelf(b *browser.Browser, name string) {
	b.WaitFor(`return document.querySelector(".dumps").textContent.includes(arguments[0])`, name)
}

// enter types into an empty field and presses Enter.
func enter(b *browser.Browser, field, text string) {
	b.Find(field).Clear()
	b.Find(field).Type(text)
	b.Keys("Enter")
}

const u41 = "../testdata/halden/u41.bin"

// firmware returns the path of an open firmware image that `make test` has fetched.
func firmware(t testing.TB, name string) string {
	t.Helper()
	folder := os.Getenv("LUNETTE_FIRMWARE")
	if folder == "" {
		if os.Getenv("LUNETTE_CI") != "" {
			t.Fatal("LUNETTE_FIRMWARE is not set, and with LUNETTE_CI set no test may be skipped")
		}
		t.Skip("LUNETTE_FIRMWARE names no folder of firmware; make test does")
	}
	var found string
	require.NoError(t, filepath.WalkDir(folder, func(path string, entry os.DirEntry, err error) error {
		if err == nil && entry.Name() == name {
			found = path
		}
		return err
	}))
	require.NotEmpty(t, found, "%s is not in %s", name, folder)
	return found
}

// Real files in, true answers out. The sums are held against Go's hash packages, the HEX file is objcopy's.
func TestAnswers(t *testing.T) {
	rom := read(t, u41)
	hexFile := filepath.Join(t.TempDir(), "u41.hex")
	outside.Run(t, "objcopy", nil, "-I", "binary", "-O", "ihex", "--change-addresses=0xF00000", u41, hexFile)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		for i, c := range []struct {
			state, path string
			content     []byte
		}{
			{"sound", u41, rom},
			{"sound so far", firmware(t, "bios.bin"), nil},
			{"sound so far", firmware(t, "vgabios-stdvga.bin"), nil},
			{"sound", hexFile, rom},
		} {
			if c.content == nil {
				c.content = read(t, c.path)
			}
			choose(b, i+1, c.path)
			require.Equal(t, c.state, strings.ToLower(b.Find(".answer .word").Text()), c.path)
			require.NotEmpty(t, b.Find(".answer .headline").Text())

			table := b.Find(".sum-table").Text()
			require.Contains(t, table, fmt.Sprintf("%08X", crc32.ChecksumIEEE(c.content)), c.path)
			digest := sha256.Sum256(c.content)
			require.Contains(t, table, hex.EncodeToString(digest[:]), c.path)
			sum := uint16(0)
			for _, value := range c.content {
				sum += uint16(value)
			}
			require.Contains(t, table, fmt.Sprintf("%04X", sum), c.path)

			seen := c.content // as the CPU sees it
			if bytes.Equal(seen, rom) {
				seen = outside.Run(t, "dd", rom, "conv=swab", "status=none")
			}
			b.WaitFor(`return document.querySelector(".row .byte").textContent === arguments[0]`, fmt.Sprintf("%02X", seen[0]))
			first := fmt.Sprintf("%X", seen[:16])
			require.Equal(t, first, b.Run(`return [...document.querySelectorAll(".row")[0].querySelectorAll(".byte")].map(e => e.textContent).join("")`))
			blocks := (len(c.content) + blockSize(len(c.content)) - 1) / blockSize(len(c.content))
			require.Equal(t, fmt.Sprint(blocks), b.Find(".skyline").Attribute("aria-valuemax"), c.path)
		}
		require.Contains(t, b.Find("#verdict").Text(), "addresses F00000 to F7FFFF")
	})
}

// blockSize is the rule of core/survey: at most 512 blocks, of at least 256 bytes.
func blockSize(size int) int {
	block := 256
	for block*512 < size {
		block *= 2
	}
	return block
}

func TestDemoBoard(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		b.Find("#demo").Click()
		b.WaitText(".answer .word", "SOUND")
		digest := sha256.Sum256(read(t, u41))
		b.WaitText(".sum-table", hex.EncodeToString(digest[:]))
	})
}

func TestDropPasteAndSeveral(t *testing.T) {
	rom := read(t, u41)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		b.Find("body").Drop(map[string][]byte{"first.bin": rom[:65536]})
		onShelf(b, "first.bin")
		b.Find("body").Paste("000000: 4E 56 FF F8 48 E7 1F 38\n000008: 4E 75", nil)
		onShelf(b, "pasted text")
		b.WaitText(".under", "000000: 4E")

		b.Find(".dumps li:first-child .choose").Click()
		b.WaitFor(`return document.querySelector(".dumps li:first-child").className === "current"`)
		b.WaitText(".skyline + .block", "000000 to 0000FF")

		b.Find(".dumps li:first-child .close").Click()
		b.WaitFor(`return document.querySelectorAll(".dumps li").length === 1`)
		b.WaitFor(`return document.querySelector(".dumps .current").textContent.includes("pasted text")`)

		b.Find("body").Paste(":0400000001020304F3\n:00000001FF\n", nil)
		b.WaitText("#problems", "line 1: record checksum is F3, computed F2")
	})
}

func TestByteGrid(t *testing.T) {
	stored := read(t, u41)
	rom := outside.Run(t, "dd", stored, "conv=swab", "status=none") // the grid opens in the CPU's order
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		choose(b, 1, u41)
		under := func(offset int, image []byte) {
			t.Helper()
			b.WaitText(".under", fmt.Sprintf("%06X: %02X", offset, image[offset]))
		}
		under(0, rom)

		t.Run("keys", func(t *testing.T) {
			b.Find(".grid").ClickAt(200, 12)
			b.Keys("Control+Home")
			under(0, rom)
			for _, step := range []struct {
				key string
				at  int
			}{{"ArrowRight", 1}, {"ArrowDown", 17}, {"End", 31}, {"ArrowRight", 31}, {"Home", 16}, {"ArrowUp", 0}, {"ArrowLeft", 0}, {"Control+End", len(rom) - 1}} {
				b.Keys(step.key)
				under(step.at, rom)
			}
			b.Keys("Control+Home", "Shift+ArrowDown", "Shift+ArrowRight")
			b.WaitText(".length", "18 bytes")
			b.WaitText(".selection-sums", fmt.Sprintf("CRC-32 %08X", crc32.ChecksumIEEE(rom[:18])))
			require.Equal(t, "000011", b.Find("#last").Property("value"))
		})

		t.Run("go to an address", func(t *testing.T) {
			enter(b, "#goto", "0x1F400")
			under(0x1F400, rom)
			enter(b, "#goto", "80000")
			b.WaitText("#goto-error", "The image ends at 07FFFF")
		})

		t.Run("order", func(t *testing.T) {
			for _, c := range []struct {
				order string
				image []byte
			}{{"stored", stored}, {"swap16", rom}} {
				b.Run(`const order = document.querySelector("#order"); order.value = arguments[0]; order.dispatchEvent(new Event("change"))`, c.order)
				enter(b, "#goto", "4")
				under(4, c.image)
			}
		})

		t.Run("search", func(t *testing.T) {
			capitals, name := folded(rom), []byte("HALDEN")
			enter(b, "#goto", "0")
			enter(b, "#find", "HALDEN")
			b.WaitText("#find-state", fmt.Sprintf("1 of %d at %06X", bytes.Count(capitals, name), bytes.Index(capitals, name)))
			enter(b, "#find", "no such text")
			b.WaitText("#find-state", "Not found in this order")
		})

		t.Run("save", func(t *testing.T) {
			b.Run(`[...document.querySelectorAll("button")].find(e => e.textContent === "Save all in this order").click()`)
			require.True(t, bytes.Equal(rom, b.Downloaded("u41.swap16.bin")))
		})

		t.Run("from map to bytes", func(t *testing.T) {
			b.Run(`document.querySelector(".skyline").focus()`)
			b.Keys("Home", "ArrowDown", "ArrowRight", "Enter")
			at := 65 * blockSize(len(rom))
			b.WaitText(".under", fmt.Sprintf("%06X:", at))
		})
	})
}

// folded returns image with ASCII letters in capitals; bytes.ToUpper would read UTF-8.
func folded(image []byte) []byte {
	capitals := bytes.Clone(image)
	for i, b := range capitals {
		if 'a' <= b && b <= 'z' {
			capitals[i] = b - 'a' + 'A'
		}
	}
	return capitals
}

// A blank dump, and one of three bytes, after another: every section shows the new one.
func TestBlankAndTinyAfterAnother(t *testing.T) {
	blank := bytes.Repeat([]byte{0xFF}, 8192)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		choose(b, 1, u41)
		choose(b, 3, write(t, "tiny.bin", []byte{1, 2, 3}), write(t, "blank.bin", blank))
		b.Find(".dumps li:last-child .choose").Click()
		b.WaitText(".headline", "Blank: all 8 KiB read FF")
		require.Contains(t, b.Find(".sum-table").Text(), fmt.Sprintf("%08X", crc32.ChecksumIEEE(blank)))
		b.WaitText("#text", "No readable text")
		b.Find(".dumps li:nth-child(2) .choose").Click()
		b.WaitText(".headline", "3 bytes")
		require.Contains(t, b.Find(".sum-table").Text(), fmt.Sprintf("%08X", crc32.ChecksumIEEE([]byte{1, 2, 3})))
	})
}

// A person who disagrees sets order and CPU by hand, and everything follows; and can go back.
func TestSetByHand(t *testing.T) {
	stored := read(t, u41)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		choose(b, 1, u41)
		require.Equal(t, "A whole, good 68000 image, stored swapped.", b.Find(".headline").Text())
		b.WaitText(".under", fmt.Sprintf("000000: %02X", stored[1]))

		b.Find(".disagree summary").Click()
		b.Run(`document.querySelector("#said-order").value = "stored"; document.querySelector("#said-cpu").value = "z80"`)
		b.Find(".disagree button[type=submit]").Click()
		b.WaitText("#verdict", "Set by hand: stored as the CPU sees it.")
		b.WaitText("#verdict", "Set by hand: Z80 or 8080.")
		b.WaitText(".under", fmt.Sprintf("000000: %02X", stored[0]))

		b.Find(".disagree button[type=button]").Click()
		b.WaitText("#verdict", "Stored swapped: the two bytes of each 16-bit word")
		b.WaitText(".under", fmt.Sprintf("000000: %02X", stored[1]))
	})
}

func TestTexts(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		choose(b, 1, u41)
		b.Find("#text-filter").Type("rev c")
		b.WaitText(".texts", "HALDEN HX-16 SYSTEM ROM REV C 1988-03-14")
		b.Find(".texts li:last-child button").Click()
		b.WaitFor(`return document.querySelector(".under").textContent.slice(0, 6) === document.querySelector(".texts li:last-child .mono").textContent`)
	})
}

func TestPrintedValue(t *testing.T) {
	rom := read(t, u41)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		choose(b, 1, u41)
		enter(b, "#printed", fmt.Sprintf("%08X", crc32.ChecksumIEEE(rom[:len(rom)/2])))
		b.WaitText(".explained", "CRC-32, over the first half, as stored")
		enter(b, "#printed", "no hex")
		b.WaitText(".explained .field-error", "hex")
	})
}

// A file of the greatest size: the page goes on answering, shows how far it is, and never holds more rows than the screen.
func TestLargestDump(t *testing.T) {
	image := bytes.Repeat(read(t, u41), 128)
	for i := 0; i < len(image); i += 4096 {
		copy(image[i:], fmt.Sprintf("%08X", i)) // nothing repeats
	}
	path := write(t, "large.bin", image)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		b.Run(`window.ticks = 0; window.late = 0; let last = performance.now();
			setInterval(() => { const now = performance.now(); window.late = Math.max(window.late, now - last); last = now; window.ticks++; }, 20);
			window.progress = 0; new MutationObserver(() => { if (document.querySelector(".dumps progress")) window.progress++; }).observe(document.body, {subtree: true, childList: true});`)
		choose(b, 1, path)
		require.Positive(t, b.Run("return window.progress"), "progress was shown")
		require.Less(t, b.Run("return window.late"), 1000.0, "the page was not frozen")

		b.Run(`const order = document.querySelector("#order"); order.value = "stored"; order.dispatchEvent(new Event("change"))`)
		enter(b, "#goto", "3FFFFFF")
		b.WaitText(".under", fmt.Sprintf("3FFFFFF: %02X", image[len(image)-1]))
		enter(b, "#goto", "2345000")
		b.WaitText(".under", "2345000: 30")
		b.Run(`const grid = document.querySelector(".grid"); grid.scrollTop = grid.scrollHeight / 3`)
		b.WaitFor(`return [...document.querySelectorAll(".row:not([hidden]) .byte")].every(e => e.textContent !== "··")`)
		rows := b.Run(`const grid = document.querySelector(".grid"); return document.querySelectorAll(".row").length * 24 / grid.clientHeight`)
		require.Less(t, rows, 2.0, "rows beyond twice the screen")
	})
}

func TestRestartKeepsDumps(t *testing.T) {
	own := page(t)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		b.Open(elsewhere(t, own).URL + "/other.html")
		got := b.Run(`
			const { open, WorkerLost } = await import("/tools/lunette/lunette.js");
			let reason = "";
			const l = await open({ restart: why => { reason = why; } });
			const { dumps } = await l.load(new Blob([new Uint8Array(4096).fill(0xFF)]), "blank.bin");
			let lost = false;
			try { await l.panic(); } catch (error) { lost = error instanceof WorkerLost; }
			const report = await l.report(dumps[0].id);
			return { lost, reason, state: report.verdict.state, name: report.dump.name };`).(map[string]any)
		require.Equal(t, true, got["lost"])
		require.Contains(t, got["reason"], "asked for")
		require.Equal(t, "blank", got["state"])
		require.Equal(t, "blank.bin", got["name"])
	})
}

// elsewhere is a site with an empty page of its own, the client in a folder, and a dump.
func elsewhere(t testing.TB, own http.Handler) *browser.Site {
	rom := read(t, u41)
	return browser.Serve(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/other.html":
			fmt.Fprint(w, "<!doctype html><title>another page</title>")
		case "/u41.bin":
			w.Write(rom)
		default:
			http.StripPrefix("/tools/lunette", own).ServeHTTP(w, r)
		}
	}))
}

// The client works from another page, which needs nothing but the module.
func TestClientFromAnotherPage(t *testing.T) {
	own := page(t)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		b.Open(elsewhere(t, own).URL + "/other.html")
		report := b.Run(`
			const { open } = await import("/tools/lunette/lunette.js");
			const l = await open();
			return l.inspect(await (await fetch("/u41.bin")).arrayBuffer(), "u41.bin");`).(map[string]any)
		require.EqualValues(t, 1, report["version"])
		require.EqualValues(t, 512<<10, report["dump"].(map[string]any)["size"])
		require.Equal(t, "sound", report["verdict"].(map[string]any)["state"])
	})
}

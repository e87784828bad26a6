package www_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/www/browser"
)

// askFor sets a choice of the page.
func askFor(b *browser.Browser, field, value string) {
	b.Run(`const e = document.querySelector(arguments[0]); e.value = arguments[1]; e.dispatchEvent(new Event("change", { bubbles: true }))`, field, value)
}

// The demo board opens whole, and Compare says of each of its reads what happened to it; the pins are those of the data
// sheet's drawing (M27C400, S01 of core/chips).
func TestCompareTheDemoBoard(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		b.Find("#demo").Click()
		b.WaitFor(`return document.querySelectorAll(".dumps .choose[data-looked]").length === 11 && document.querySelector("#compare-second").options.length === 11`)
		b.WaitText("#relations", "even and odd byte lanes of one image")
		id := func(name string) string {
			return b.Run(`return [...document.querySelector("#compare-second").options].find((o) => o.textContent === arguments[0]).value`, name).(string)
		}
		require.Equal(t, id("halden-u41.bin"), b.Run(`return document.querySelector("#compare-first").value`), "the master is guessed")
		for _, read := range []struct{ name, headline string }{
			{"halden-u41-burn-stopped.bin", "stopped at 003D8A"},
			{"halden-u41-not-erased.bin", "not blank"},
			{"halden-u41-a10-open.bin", "A10 is stuck high"},
			{"halden-u41-d3-d11-exchanged.bin", "D3 and D11 are exchanged"},
		} {
			askFor(b, "#compare-second", id(read.name))
			b.WaitText(".compared .headline", read.headline)
		}
		// The wrong way round, the page offers to exchange the two.
		askFor(b, "#compare-first", id("halden-u41-reread-1.bin"))
		askFor(b, "#compare-second", id("halden-u41.bin"))
		b.WaitText(".compared .headline", "The read is the better one of the two")
		b.Find(".compared .exchange").Click()
		b.WaitText(".compared .headline", "14 bits read 1 and should be 0")
		require.Equal(t, id("halden-u41.bin"), b.Run(`return document.querySelector("#compare-first").value`))
		require.Equal(t, "swap", b.Run(`return document.activeElement.className`), "the focus is not lost")
		require.Contains(t, b.Find(".compared .linebars thead").Text(), "read 1, should be 0")
		askFor(b, "#compare-second", id("halden-u41-d3-d11-exchanged.bin"))
		b.WaitText(".compared .headline", "D3 and D11 are exchanged")
		b.WaitText(".compared .pins figcaption", "D3 is pin 19")
		b.WaitText(".compared .explanations button", "repaired")

		b.Find(".pair-place button:nth-child(2)").Click()
		b.WaitText(".pair-place .quiet", "Difference 2 of")

		askFor(b, "#compare-question", "rereads")
		b.WaitFor(`return document.querySelectorAll(".reads input:checked").length === 4`)
		b.WaitText(".compared .headline", "leaking cells")
		require.Contains(t, b.Find(".compared .linebars thead").Text(), "towards 1")
		for _, left := range []string{"halden-u41.bin", "halden-u41-reread-3.bin"} {
			b.Run(`[...document.querySelectorAll(".reads label")].find((l) => l.textContent.includes(arguments[0])).querySelector("input").click()`, left)
		}
		b.WaitText(".compared .linebars caption", "Bits that differ by data line")
		require.NotContains(t, b.Find(".compared .linebars").Text(), "0.5", "no half bits")
		askFor(b, "#compare-question", "blank")
		askFor(b, "#compare-second", id("halden-u41-burn-stopped.bin"))
		b.WaitText(".compared .headline", "can be burnt over it")
	})
}

// The client's calls give what the page shows, and what is repaired is the master.
func TestClientCompares(t *testing.T) {
	own := page(t)
	rom := read(t, u41)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		b.Open(elsewhere(t, own).URL + "/other.html")
		got := b.Run(`
			const { open } = await import("/tools/lunette/lunette.js");
			const l = await open();
			const rom = new Uint8Array(await (await fetch("/u41.bin")).arrayBuffer());
			const crossed = rom.map((v, i) => i % 2 ? v : v & ~0x28 | (v & 8) << 2 | (v & 0x20) >> 2);
			const id = async (bytes, name) => (await l.load(new Blob([bytes]), name)).dumps[0].id;
			const [master, read, blank] = [await id(rom, "master.bin"), await id(crossed, "read.bin"), await id(new Uint8Array(rom.length).fill(0xFF), "new.bin")];
			const c = await l.compare(master, read, "27C400");
			const repaired = await l.repaired(0);
			const laid = await l.laid(0, 4);
			const rereads = await l.rereads([master, master]);
			const check = await l.blank(blank, master);
			let gone = "";
			try { await l.compare("nothing", read); } catch (error) { gone = error.message; }
			return { relation: c.result.relation, pins: c.chip.pins.map(({ line, pin }) => line + " " + pin).join(), repairs: c.repairs[0],
				same: repaired.length === rom.length && repaired.every((v, i) => v === rom[i]), laid: laid.master.join(), stable: rereads.result.state, blank: check.result.state, gone };`).(map[string]any)
		require.Equal(t, "line fault", got["relation"])
		require.Contains(t, got["pins"], "D3 19")
		require.Equal(t, "read.repaired.bin", got["repairs"])
		require.Equal(t, true, got["same"])
		require.Equal(t, "01,00,00,00", got["laid"])
		require.Equal(t, "stable", got["stable"])
		require.Equal(t, "blank", got["blank"])
		require.Contains(t, got["gone"], "no longer open")
		require.True(t, bytes.HasPrefix(rom, []byte{1, 0, 0, 0}))
	})
}

package www_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image/png"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/core"
	"lunette/core/dump"
	"lunette/core/link"
	"lunette/core/outside"
	"lunette/www/browser"
)

// makeLink types a title, looks at what will be in the link and makes it; it returns the link and what was shown before.
func makeLink(b *browser.Browser, title string) (url, contents string) {
	if title != "" {
		b.Find("#link-title").Type(title)
	}
	b.Run(`document.querySelector(".link-form button").click()`) // the sections above still grow and push it down
	contents = b.WaitText(".contents", "SHA-256")
	b.Run(`document.querySelector(".contents .make").click()`)
	return b.WaitFor(`return document.querySelector("#link-url").value`).(string), contents
}

// A link goes from one visitor to another, at a path of a host and with a query: opened without a dump it asks for one;
// with one's own it says what that is to it.
func TestLinkFromOneVisitorToAnother(t *testing.T) {
	own := http.StripPrefix("/a/sub/path", page(t))
	rom := read(t, u41)
	swapped := write(t, "swapped.bin", outside.Run(t, "dd", rom, "conv=swab", "status=none"))
	changed := bytes.Clone(rom)
	changed[0x12345] ^= 0x10
	other := write(t, "changed.bin", changed)
	half := write(t, "half.bin", rom[:len(rom)/2])
	sum := strings.Fields(string(outside.Run(t, "sha256sum", rom)))[0]
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		site := browser.Serve(t, own)
		b.Open(site.URL + "/a/sub/path/?from=forum")
		ready(b)
		choose(b, 1, u41)
		url, contents := makeLink(b, "U41 of no. 207")
		require.True(t, strings.HasPrefix(url, site.URL+"/a/sub/path/?from=forum#s1."), url)
		require.NotContains(t, contents, "u41.bin")
		require.Contains(t, contents, sum)
		for _, id := range []string{"plain", "forum", "markdown"} {
			text := b.Find("#text-" + id).Property("value").(string)
			require.Contains(t, text, url)
			require.Contains(t, text, sum)
			require.NotContains(t, text, "u41.bin")
		}
		b.Run(`navigator.clipboard.writeText = async text => { window.copied = text; }`)
		for i, id := range []string{"plain", "forum", "markdown"} {
			b.Run(`document.querySelectorAll(".pasted button")[arguments[0]].click()`, i)
			require.Equal(t, b.Find("#text-"+id).Property("value"), b.WaitFor(`return window.copied`))
			b.Run(`delete window.copied`)
		}
		s, err := link.Decode(url)
		require.NoError(t, err)
		require.Equal(t, "U41 of no. 207", s.Title)
		require.Equal(t, sum, s.SHA256)

		loaded := len(site.Requests())
		b.Open(url)
		b.Reload()
		ready(b)
		b.WaitText("#posted", "Not checked here.")
		b.WaitText("#posted", "A whole, good 68000 image, stored swapped.")
		b.WaitText("#posted .own", "open your own dump")
		for _, request := range site.Requests()[loaded:] {
			require.NotContains(t, request.String(), s.SHA256[:8], "the fragment stays here")
			require.NotContains(t, request.String(), "s1.")
		}

		choose(b, 1, swapped)
		b.WaitFor(`return document.querySelector("#posted [data-relation=arranged]")`)
		require.Contains(t, b.Find("#posted .own").Text(), "The same content in another arrangement")
		choose(b, 2, half)
		b.WaitFor(`return document.querySelector("#posted [data-relation=part]")`)
		require.Contains(t, b.Find("#posted .own").Text(), "the first half of the posted one")
		choose(b, 3, other)
		b.WaitFor(`return document.querySelector("#posted [data-relation=differs]")`)
		require.Equal(t, "012000 to 013FFF", b.Find("#posted .stretches").Text())
		b.Find("#posted .stretches button").Click()
		b.WaitText(".under", "012000:")
		choose(b, 4, u41)
		b.WaitFor(`return document.querySelector("#posted [data-relation=identical]")`)

		b.Run(`[...document.querySelectorAll("#posted button")].find(e => e.textContent === "Put it away").click()`)
		b.WaitFor(`return document.querySelector("#posted-section").hidden && location.hash === "" && location.search === "?from=forum"`)
		b.Run(`document.querySelector(".dumps .close").click()`)
		b.WaitFor(`return document.querySelectorAll(".dumps li").length === 3`)
	})
}

// The file's name goes in only when the person says so; and where the system can share, it is offered the link.
func TestNameAndSharing(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		choose(b, 1, u41)
		b.Run(`navigator.share = async what => { window.shared = what; }`)
		b.Run(`document.querySelector("#link-name").click()`)
		url, contents := makeLink(b, "from the attic")
		require.Contains(t, contents, "from the attic, u41.bin")
		s, err := link.Decode(url)
		require.NoError(t, err)
		require.Equal(t, "from the attic, u41.bin", s.Title)
		b.Run(`[...document.querySelectorAll(".made button")].find(e => e.textContent === "Share").click()`)
		require.Equal(t, url, b.WaitFor(`return window.shared.url`))
		require.NotContains(t, b.Run(`return window.shared.text`), "s1.")

		b.Find("#link-title").Type("!") // what was made is of another title
		b.WaitFor(`return document.querySelector(".made").childElementCount === 0 && document.querySelector(".contents").childElementCount === 0`)
	})
}

// What stands after # may be anything. It ends in a plain sentence, and text in it stays text.
func TestHostileLinks(t *testing.T) {
	const attack = `<img src=x onerror="window.hit=1"><script>window.hit=1</script>`
	rom := read(t, u41)
	report := core.Inspect(dump.Dump{Name: "u41.bin", Bytes: rom, Format: dump.Raw}, core.ByHand{}, nil, nil)
	s, err := link.Of(rom, report, attack, nil)
	require.NoError(t, err)
	s.Headline = attack
	s.Findings[0].Answer = attack
	s.Findings = s.Findings[:3]
	whole := link.Encode(s)
	altered := []byte(whole)
	altered[200] ^= 1
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		for _, c := range []struct{ fragment, says string }{
			{"javascript:alert(1)", "This is no link of ours"},
			{attack, "This is no link of ours"},
			{"s9." + whole[3:], "this page reads version 1 only"},
			{whole[:len(whole)/2], "This link was cut"},
			{string(altered), "This link was altered"},
			{"s1.%3Cscript%3E", "This link was altered"},
			{"s1." + strings.Repeat("A", 100_000) + "e", "none of ours has more than 1,500"},
			{whole, attack},
		} {
			b.Run(`location.hash = arguments[0]`, c.fragment)
			b.WaitText("#posted", c.says)
		}
		b.Run(`document.querySelector("#posted summary").click()`)
		require.Equal(t, true, b.Run(`return window.hit === undefined && document.querySelectorAll("#posted :is(img, script)").length === 0`))
		b.Run(`document.querySelector(".skip").click()`) // a place on this page is no link of anybody's
		b.WaitFor(`return location.hash === "#main"`)
		require.Contains(t, b.Find("#posted").Text(), attack)
		b.Run(`location.hash = ""`)
		b.WaitFor(`return document.querySelector("#posted-section").hidden`)
	})
}

// zbarimg, an independent decoder, reads the code off a picture of the screen, in the dark scheme too.
func TestQRCodeOnTheScreen(t *testing.T) {
	outside.Tool(t, "zbarimg")
	for _, dark := range []bool{false, true} {
		browser.Each(t, browser.Options{Dark: dark}, func(t *testing.T, b *browser.Browser) {
			opened(t, b)
			choose(b, 1, u41)
			makeLink(b, "U41")
			short := b.Find(".short-link").Property("textContent").(string)
			require.Less(t, len(short), 300)
			b.Run(`document.querySelector(".qr").scrollIntoView({ block: "center" })`)
			path := filepath.Join(t.TempDir(), "screen.png")
			b.Screenshot(path)
			seen := outside.Run(t, "zbarimg", nil, "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", path)
			require.Equal(t, short, strings.TrimSpace(string(seen)))
			s, err := link.Decode(short)
			require.NoError(t, err)
			require.True(t, s.Short)
			require.Equal(t, "U41", s.Title)
		})
	}
}

func TestPictureCard(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		choose(b, 1, u41)
		url, _ := makeLink(b, "")
		s, err := link.Decode(url)
		require.NoError(t, err)
		b.Run(`[...document.querySelectorAll(".made button")].find(e => e.textContent === "Save the picture").click()`)
		content := b.Downloaded("lunette-" + s.CRC32 + ".png")
		picture, err := png.Decode(bytes.NewReader(content))
		require.NoError(t, err)
		require.Equal(t, "1200x630", fmt.Sprintf("%dx%d", picture.Bounds().Dx(), picture.Bounds().Dy()))
		colours := map[any]int{}
		for y := 280; y < 460; y++ { // the skyline
			for x := range 1200 {
				colours[picture.At(x, y)]++
			}
		}
		require.Greater(t, len(colours), 4, "tones of the skyline")
	})
}

// The report has what was typed and handed over; it is saved as text and as JSON, and nothing of it is stored.
func TestReportOnPaper(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		site := opened(t, b)
		settled(b)
		choose(b, 1, u41)
		loaded := len(site.Requests())
		b.Find("#job-name").Type("HX-16 no. 207")
		b.Find("#job-owner").Type("A. Person <b>")
		b.Find("#job-reads").Type("3 times, all the same")
		b.Find("#job-notes").Type("Battery had leaked.")
		b.WaitFor(`return document.querySelectorAll(".for-paper .tick input").length >= 2`)
		b.WaitFor(`return document.querySelector(".for-paper .reads").textContent.includes("Files prepared for")`)
		b.WaitFor(`const offered = document.querySelector(".for-paper .reads").textContent;
			return ["Seating looked up: a 27C400 in a socket for a 27C400", "Blank check of u41.bin"].every((title) => offered.includes(title)) && !/Burnt|Seated|Checked/.test(offered)`)
		b.Run(`for (const label of document.querySelectorAll(".for-paper .tick")) if (label.textContent.startsWith("Files prepared")) label.querySelector("input").click()`)
		b.WaitFor(`const text = document.querySelector(".paper").textContent;
			return ["HX-16 no. 207", "A. Person <b>", "3 times, all the same", "Battery had leaked.", "Files prepared for a 27C400", "A whole, good 68000 image", "Cautions"].every(part => text.includes(part))`)
		b.Find(".for-paper .save-text").Click() // by hand: Chromium lets no script save two files at once
		text := string(b.Downloaded("u41.report.txt"))
		require.Contains(t, text, "Job      HX-16 no. 207\n")
		require.Contains(t, text, "Files prepared for a 27C400\n")
		var saved struct {
			Version int
			Verdict struct{ State string }
			Job     struct{ Owner, Notes string }
			Also    []struct{ Title string } `json:"sections"`
		}
		b.Find(".for-paper .save-json").Click()
		require.NoError(t, json.Unmarshal(b.Downloaded("u41.report.json"), &saved))
		require.Equal(t, 1, saved.Version)
		require.Equal(t, "sound", saved.Verdict.State)
		require.Equal(t, "A. Person <b>", saved.Job.Owner)
		require.Len(t, saved.Also, 1)
		require.Equal(t, true, b.Run(`return localStorage.length === 0 && sessionStorage.length === 0 && document.cookie === ""`))
		require.Empty(t, site.Requests()[loaded:], "the server was asked for more")
	})
}

// On paper there is the report, or the labels, and nothing else of the page.
func TestPrintedIsWhatWasAskedFor(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		if b.Engine == browser.WebKit {
			return // its driver cannot print
		}
		opened(t, b)
		choose(b, 1, u41)
		b.WaitFor(`return document.querySelector(".paper").textContent.includes("Cautions") && document.querySelectorAll(".label").length >= 3`)
		pages := bytes.Count(b.PrintPDF(), []byte("/Type /Page\n"))
		if b.Engine != browser.Chromium {
			return
		}
		require.GreaterOrEqual(t, pages, 2)
		require.LessOrEqual(t, pages, 4)
		b.CDP("Emulation.setEmulatedMedia", map[string]any{"media": "print"})
		shown := b.Run(`return document.body.innerText`).(string)
		require.Contains(t, shown, "Report on a ROM dump")
		require.NotContains(t, shown, "Checksums")
		require.NotContains(t, shown, "Labels for the chips")
		b.Run(`document.documentElement.dataset.print = "labels"`)
		shown = b.Run(`return document.body.innerText`).(string)
		require.Contains(t, shown, "Cover the window")
		require.NotContains(t, shown, "Report on a ROM dump")
		require.Equal(t, 1, bytes.Count(b.PrintPDF(), []byte("/Type /Page\n")))
	})
}

// Labels are to scale: CSS takes an inch for 96 pixels (CSS Values 4, section 6.2), so 52 mm are 196.5.
func TestLabelsToScale(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		choose(b, 1, u41)
		b.WaitFor(`return document.querySelector("#burn-fit option[value='27C020 pair']")`)
		b.Run(`const fit = document.querySelector("#burn-fit"); fit.value = "27C020 pair"; fit.dispatchEvent(new Event("change"))`)
		b.WaitFor(`return document.querySelectorAll(".label-pair").length === 2`)
		b.WaitFor(`return document.querySelector("#label-body").value === "DIP-32"`)
		bodies := core.Bodies()
		for _, body := range bodies {
			b.Run(`const body = document.querySelector("#label-body"); body.value = arguments[0]; body.dispatchEvent(new Event("change"))`, body.Package)
			b.WaitFor(`const box = document.querySelector(".label-pair .label").getBoundingClientRect();
				return Math.abs(box.width - arguments[0] * 96 / 25.4) < 0.5 && Math.abs(box.height - arguments[1] * 96 / 25.4) < 0.5`, body.Length, body.Width)
			require.Equal(t, true, b.Run(`return [...document.querySelectorAll(".label-pair .label")].every(label => {
				const outer = label.getBoundingClientRect();
				return [...label.querySelectorAll("text")].every(text => {
					const box = text.getBoundingClientRect();
					return box.left >= outer.left && box.right <= outer.right && box.top >= outer.top - 1 && box.bottom <= outer.bottom + 1;
				});
			})`), "text within the label of %s", body.Package)
		}
		require.Contains(t, b.Find(".label-sheet").Property("textContent"), "even, D8-D15")
		require.Contains(t, b.Find(".label-sheet").Property("textContent"), "Cover the window")
	})
}

// The client makes, reads and checks links from another page.
func TestClientPassesOn(t *testing.T) {
	own := page(t)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		b.Open(elsewhere(t, own).URL + "/other.html")
		got := b.Run(`
			const { open } = await import("/tools/lunette/lunette.js");
			const l = await open();
			const bytes = await (await fetch("/u41.bin")).arrayBuffer();
			const { dumps: [{ id }] } = await l.load(new Blob([bytes]), "u41.bin");
			const { url, fragment } = await l.link(id, { title: "U41", base: "https://example.org/#old" });
			const { headline } = await l.read(url);
			const answer = await l.check(id, fragment);
			let refused = "";
			try { await l.read("nothing"); } catch (error) { refused = error.message; }
			const { text } = await l.paper(id, { name: "a job" });
			const labels = await l.labels(id, { name: "U41" });
			return { url, headline, relation: answer.relation, refused, text, label: labels[0].lines[0], bodies: (await l.bodies()).length, side: (await l.qr("HELLO")).side };`).(map[string]any)
		require.True(t, strings.HasPrefix(got["url"].(string), "https://example.org/#s1."))
		require.Equal(t, "A whole, good 68000 image, stored swapped.", got["headline"])
		require.Equal(t, "identical", got["relation"])
		require.Contains(t, got["refused"], "no link of ours")
		require.Contains(t, got["text"], "a job")
		require.Equal(t, "U41", got["label"])
		require.Equal(t, 5.0, got["bodies"])
		require.Equal(t, 21.0, got["side"]) // version 1: ISO/IEC 18004, section 5.3.1
	})
}

package www_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"lunette/www/browser"
)

// The page fits a phone: nothing scrolls sideways, the grid shows eight bytes a row, and all that is pressed is at
// least 24 CSS pixels high and wide (WCAG 2.2, success criteria 1.4.10 and 2.5.8).
func TestNarrowPhone(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		site := browser.Serve(t, page(t))
		b.OpenFramed(site, "/", 360+scrollBar, 800)
		ready(b)
		wide := func(when string) {
			t.Helper()
			require.LessOrEqual(t, b.Run("return document.documentElement.scrollWidth - innerWidth"), 0.0, when)
		}
		wide("before a dump is open")
		b.Find("#demo").Click()
		b.WaitText(".answer .word", "SOUND")
		b.Run(`document.querySelectorAll("main details").forEach(e => { e.open = true; })`)
		wide("with everything unfolded")
		b.WaitFor(`return document.querySelectorAll(".row:first-child .byte").length === 8`)
		small := b.Run(`return [...document.querySelectorAll("button, select, input:not([type=file]), summary, .open")]
			.filter(e => e.checkVisibility()).map(e => ({ e, box: e.getBoundingClientRect() }))
			.filter(({ box }) => box.height < 24 || box.width < 24).map(({ e }) => e.outerHTML.slice(0, 120))`)
		require.Empty(t, small)
	})
}

// scrollBar is what a desktop's scroll bar takes in CSS pixels; a phone's lies over the page.
const scrollBar = 15

// Everything that can be used says to a screen reader what it is.
func TestEveryControlHasAName(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		choose(b, 1, u41)
		b.Run(`document.querySelectorAll(".verdict details").forEach(e => { e.open = true; }); document.querySelector("#paste-button").click()`)
		const all = ":is(main button, main select, main input, main textarea, main summary, main [tabindex='0'], main [role=grid]):not(.sums details *, [hidden] *, details:not([open]) > :not(summary) *)"
		// The 55 sums unfold to as many buttons of one kind; the usual ones stand for them.
		seen := map[string]bool{}
		for _, element := range b.FindAll(all) {
			control := element.Control()
			require.NotEmpty(t, control.Label, control.HTML)
			seen[control.Label] = true
		}
		for _, label := range []string{"Order", "Address", "Find", "Bytes", "Block of the dump"} {
			require.True(t, seen[label], "%s among %v", label, seen)
		}
	})
}

// The keyboard reaches everything and leaves the grid again.
func TestKeyboardAlone(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		choose(b, 1, u41)
		b.Run(`document.querySelector(".skip").focus()`)
		b.Keys("Enter")
		reached := map[string]bool{}
		for range 80 {
			b.Keys("Tab")
			reached[fmt.Sprint(b.Run(`const e = document.activeElement; return e.id || e.className.baseVal || e.className || e.tagName`))] = true
		}
		for _, want := range []string{"files", "choose", "close", "paste-button", "demo", "skyline", "order", "goto", "find", "grid", "from", "printed"} {
			require.True(t, reached[want], "%s among %v", want, reached)
		}
	})
}

// Package browser drives real browsers in tests: Chromium, Firefox and WebKit, with nothing but the standard library.
//
// All three obey the commands of W3C WebDriver (https://www.w3.org/TR/webdriver2/); two take them over HTTP, Firefox takes
// them over its own socket, Marionette. A test says what a person does and reads what a person sees:
//
//	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
//		b.Open(browser.Serve(t, handler).URL)
//		b.Find("#open").SetFiles("dump.bin")
//		b.WaitText("#verdict", "Good dump")
//	})
//
// Nothing sleeps for a fixed time: whatever the page must first do is asked for again and again until Options.Patience is
// used up. Whatever goes wrong ends the test with a message that shows the page; so call all of it from the test's own
// goroutine. Files in the order they are read: this one (a browser and its page), element.go (what one does to a part of
// the page), keys.go and files.go, launch.go (programs and preferences), webdriver.go and marionette.go (the two
// carriages), site.go (the servers a page is tested against).
package browser

import (
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Engine names a browser engine.
type Engine string

// The three engines, each standing for a family of browsers.
const (
	Chromium Engine = "chromium"
	Firefox  Engine = "firefox"
	WebKit   Engine = "webkit"
)

// Options says what kind of visitor opens the page. The zero value is a light page of 1280 by 900 CSS pixels.
type Options struct {
	Dark          bool          // the visitor prefers a dark page
	ReducedMotion bool          // the visitor prefers less movement
	ForcedColours bool          // the system forces its own colours; not known to WebKit, where Start fails
	Width, Height int           // size of the viewport in CSS pixels; at least 500 wide in Firefox, 450 in WebKit
	Downloads     string        // folder for downloads; empty: a temporary one
	Patience      time.Duration // how long the page may take for anything a test waits for; 0: 20 s
}

// Browser is one running browser with one page. It ends with the test that started it.
type Browser struct {
	Engine    Engine
	Downloads string // folder where downloads arrive

	t        testing.TB
	carriage carriage
	patience time.Duration
	groups   []int // its process groups
}

// Engines returns the engines asked for by the environment variable LUNETTE_ENGINES, a list with commas; without it,
// Chromium alone.
func Engines(t testing.TB) []Engine {
	t.Helper()
	asked := os.Getenv("LUNETTE_ENGINES")
	if asked == "" {
		return []Engine{Chromium}
	}
	var engines []Engine
	for name := range strings.SplitSeq(asked, ",") {
		engine := Engine(strings.TrimSpace(name))
		if launchers[engine].launch == nil {
			t.Fatalf("LUNETTE_ENGINES names %q: known are chromium, firefox and webkit", name)
		}
		engines = append(engines, engine)
	}
	return engines
}

// Each runs test once in every engine asked for, each time in a subtest with a browser of its own. The engines run at the same
// time, for a browser mostly waits.
func Each(t *testing.T, o Options, test func(t *testing.T, b *Browser)) {
	t.Helper()
	for _, engine := range Engines(t) {
		t.Run(string(engine), func(t *testing.T) {
			t.Parallel()
			test(t, Start(t, engine, o))
		})
	}
}

// For returns the same browser reporting to t, for subtests that share one browser.
func (b *Browser) For(t testing.TB) *Browser {
	shared := *b
	shared.t = t
	return &shared
}

// Open goes to a URL and returns when its page has loaded.
func (b *Browser) Open(url string) {
	b.t.Helper()
	b.must(navigate, map[string]any{"url": url})
}

// OpenFramed opens a path of the site in a frame of the given size in CSS pixels, and works inside that frame from then
// on. No window gets as narrow as a phone in all three engines, but a frame does, and media queries follow it.
func (b *Browser) OpenFramed(site *Site, path string, width, height int) {
	b.t.Helper()
	b.Open(site.framed(path, width, height))
	frame, err := b.locate("iframe", 0)
	if err == nil {
		_, err = b.carriage.do(enterFrame, map[string]any{"id": map[string]any{elementKey: frame}, "element": frame})
	}
	if err != nil {
		b.t.Fatalf("%s: enter the frame of %s: %v", b.Engine, path, err)
	}
	b.WaitFor("return document.readyState === 'complete' && location.href !== 'about:blank'")
}

// Reload loads the page again. In Firefox its driver passes by whatever a service worker has to say; where that matters let
// the page itself do it, by location.reload().
func (b *Browser) Reload() {
	b.t.Helper()
	b.must(refresh, nil)
}

// Run runs script as the body of an async function, awaits what it returns, and hands it back as encoding/json decodes
// it. The script finds args in "arguments".
func (b *Browser) Run(script string, args ...any) any {
	b.t.Helper()
	value, err := b.run(script, args...)
	if err != nil {
		b.t.Fatalf("%s: script: %v\n%s", b.Engine, err, script)
	}
	return value
}

// RunInto is Run with the answer decoded into target, as by json.Unmarshal.
func (b *Browser) RunInto(target any, script string, args ...any) {
	b.t.Helper()
	text, err := json.Marshal(b.Run(script, args...))
	if err == nil {
		err = json.Unmarshal(text, target)
	}
	if err != nil {
		b.t.Fatalf("%s: answer of a script: %v\n%s", b.Engine, err, script)
	}
}

// WaitFor runs script until it returns something true, and returns that. A script that throws counts as "not yet".
func (b *Browser) WaitFor(script string, args ...any) any {
	b.t.Helper()
	var value any
	b.wait("for "+script, func() error {
		var err error
		if value, err = b.run(script, args...); err != nil {
			if errors.As(err, new(thrown)) || errors.As(err, new(refusal)) {
				return notYet{err}
			}
			return err
		}
		if value == nil || value == false || value == 0.0 || value == "" {
			return notYet{fmt.Errorf("it returns %v", value)}
		}
		return nil
	})
	return value
}

// WaitText waits until the first element that matches css shows text, and returns all that it shows then.
func (b *Browser) WaitText(css, text string) string {
	b.t.Helper()
	var shown string
	b.wait(fmt.Sprintf("for %q in %s", text, css), func() error {
		id, err := b.locate(css, 0)
		if err != nil {
			return err
		}
		answer, err := b.carriage.do(elementText, map[string]any{"id": id})
		if err != nil {
			return err
		}
		if shown, _ = answer.(string); !strings.Contains(shown, text) {
			return notYet{fmt.Errorf("it shows %q", shown)}
		}
		return nil
	})
	return shown
}

// Resize gives the viewport the size in CSS pixels, whatever the window's own borders take.
func (b *Browser) Resize(width, height int) {
	b.t.Helper()
	b.wait(fmt.Sprintf("for a viewport of %d by %d", width, height), func() error {
		inner, err := b.run("return {width: innerWidth, height: innerHeight}")
		if err != nil {
			return err
		}
		innerWidth, innerHeight := number(inner, "width"), number(inner, "height")
		if innerWidth == width && innerHeight == height {
			return nil
		}
		outer, err := b.carriage.do(windowSize, nil)
		if err == nil {
			_, err = b.carriage.do(resizeWindow, map[string]any{
				"width":  number(outer, "width") + width - innerWidth,
				"height": number(outer, "height") + height - innerHeight,
			})
		}
		if err != nil {
			return err
		}
		return notYet{fmt.Errorf("it is %d by %d (for a narrow page use OpenFramed)", innerWidth, innerHeight)}
	})
}

// Screenshot writes a picture of the viewport to path, as PNG.
func (b *Browser) Screenshot(path string) {
	b.t.Helper()
	// On a busy machine WebKit hands out what it has not painted yet: measured 11 times in 12, and never after two frames.
	b.Run("await new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
	picture, err := base64.StdEncoding.DecodeString(fmt.Sprint(b.must(screenshot, map[string]any{"full": false})))
	if err == nil {
		err = os.MkdirAll(filepath.Dir(path), 0o755)
	}
	if err == nil {
		err = os.WriteFile(path, picture, 0o644)
	}
	if err != nil {
		b.t.Fatalf("%s: screenshot %s: %v", b.Engine, path, err)
	}
}

// PrintPDF returns the page as it would be printed. WebKit's driver cannot print.
func (b *Browser) PrintPDF() []byte {
	b.t.Helper()
	pdf, err := base64.StdEncoding.DecodeString(fmt.Sprint(b.must(printPage, nil)))
	if err != nil {
		b.t.Fatalf("%s: print: %v", b.Engine, err)
	}
	return pdf
}

// CDP gives Chromium a command of its own protocol and returns the answer, for what the common commands cannot do: a phone's
// screen ("Emulation.setDeviceMetricsOverride"), print on screen ("Emulation.setEmulatedMedia"), memory
// ("Performance.getMetrics"). Other engines do not know it and the test fails.
func (b *Browser) CDP(name string, params map[string]any) map[string]any {
	b.t.Helper()
	if b.Engine != Chromium {
		b.t.Fatalf("%s: %s: only Chromium knows this protocol", b.Engine, name)
	}
	if params == nil {
		params = map[string]any{}
	}
	answer, _ := b.must(chromiumOwn, map[string]any{"cmd": name, "params": params}).(map[string]any)
	return answer
}

// must carries one command out, or ends the test.
func (b *Browser) must(c command, params map[string]any) any {
	b.t.Helper()
	answer, err := b.carriage.do(c, params)
	if err != nil {
		b.t.Fatalf("%s: %s %v: %v", b.Engine, c.path, params, err)
	}
	return answer
}

// thrown is what a script threw or its promise was rejected with, and where.
type thrown string

func (t thrown) Error() string { return strings.TrimSpace(string(t)) }

// run runs a script; what it throws is the error.
func (b *Browser) run(script string, args ...any) (any, error) {
	if args == nil {
		args = []any{}
	}
	answer, err := b.carriage.do(runAsync, map[string]any{"args": args, "script": `
		const args = [...arguments], done = args.pop();
		(async function () {` + script + `
		}).apply(null, args).then(value => done({value}), e => done({error: String(e) + "\n" + (e?.stack ?? "")}));`})
	if err != nil {
		return nil, err
	}
	result, _ := answer.(map[string]any)
	if message, bad := result["error"].(string); bad {
		return nil, thrown(message)
	}
	return result["value"], nil
}

// notYet marks an error that the page may still put right.
type notYet struct{ error }

// wait tries until there is no error, the error is one that time does not heal, or patience is at its end.
func (b *Browser) wait(what string, try func() error) {
	b.t.Helper()
	err := retry(b.patience, try)
	if err == nil {
		return
	}
	page, pageErr := b.run("return location.href + '\\n' + (document.body?.innerText ?? '').slice(0, 1500)")
	if pageErr != nil {
		page = pageErr
	}
	b.t.Fatalf("%s: waited up to %v %s: %v\nthe page: %v", b.Engine, b.patience, what, err, page)
}

// retry tries every 50 ms while the error is one that may pass, for as long as limit.
func retry(limit time.Duration, try func() error) error {
	for deadline := time.Now().Add(limit); ; time.Sleep(50 * time.Millisecond) {
		err := try()
		var refused refusal
		passing := errors.As(err, &notYet{}) || errors.As(err, &refused) && refused.passes()
		if err == nil || !passing || time.Now().After(deadline) {
			return err
		}
	}
}

// number returns a whole number out of a decoded object, 0 where there is none.
func number(object any, key string) int {
	fields, _ := object.(map[string]any)
	value, _ := fields[key].(float64)
	return int(value)
}

package browser

import (
	"crypto/sha256"
	"fmt"
	"image/color"
	"image/png"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pages serves the helper's own page, and "/say", which answers what was sent.
func pages() http.Handler {
	mux := http.NewServeMux()
	mux.Handle("/", http.FileServer(http.Dir("testdata")))
	mux.HandleFunc("POST /say", func(w http.ResponseWriter, r *http.Request) { io.Copy(w, r.Body) })
	return mux
}

// dump writes a file of 64 KiB and returns its path and what the page must say of it.
func dump(t *testing.T, name string, seed byte) (path, line string) {
	content := make([]byte, 64<<10)
	for i := range content {
		content[i] = byte(i*7+i>>8) ^ seed
	}
	path = filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, content, 0o644))
	return path, fmt.Sprintf("%s %x", name, sha256.Sum256(content))
}

func TestAPageIsWorkedAsAVisitorWorksIt(t *testing.T) {
	for _, engine := range Engines(t) {
		t.Run(string(engine), func(t *testing.T) {
			began := time.Now()
			b := Start(t, engine, Options{})
			started := time.Now()
			site := Serve(t, pages())
			even, evenLine := dump(t, "even.bin", 0)
			odd, oddLine := dump(t, "odd.bin", 0x55)
			fresh := func(t *testing.T) *Browser {
				b := b.For(t)
				b.Open(site.URL)
				b.WaitFor("return document.documentElement.dataset.ready")
				return b
			}
			heard := func(b *Browser) (lines []string) {
				b.RunInto(&lines, "return [...document.querySelectorAll('#heard li')].map(line => line.textContent)")
				return lines
			}

			t.Run("a file reaches the worker", func(t *testing.T) {
				b := fresh(t)
				b.Find("#file").SetFiles(even)
				b.WaitText("#sum", evenLine)
				path := filepath.Join(t.TempDir(), "pictures", "page.png")
				b.Screenshot(path)
				file, err := os.Open(path)
				require.NoError(t, err)
				defer file.Close()
				picture, err := png.Decode(file)
				require.NoError(t, err)
				assert.Equal(t, 1280, picture.Bounds().Dx())
				assert.Equal(t, 900, picture.Bounds().Dy())
				assert.Equal(t, color.RGBA{0, 0, 255, 255}, color.RGBAModel.Convert(picture.At(50, 50)), "the pad is blue")
				assert.Equal(t, color.RGBA{255, 0, 0, 255}, color.RGBAModel.Convert(picture.At(600, 800)), "the page is red")
				t.Logf("start %v, load to picture %v", started.Sub(began).Round(time.Millisecond),
					time.Since(started).Round(time.Millisecond))
			})
			t.Run("several files, chosen and dropped", func(t *testing.T) {
				b := fresh(t)
				b.Find("#file").SetFiles(even, odd)
				b.WaitText("#sum", evenLine+" and "+oddLine)
				b.Find("body").Drop(map[string][]byte{"dropped.bin": {1, 2, 3}})
				b.WaitText("#sum", fmt.Sprintf("dropped.bin %x", sha256.Sum256([]byte{1, 2, 3})))
				b.Find("body").Paste("4E 71", map[string][]byte{"pasted.bin": {4}})
				assert.Equal(t, []string{"paste 4E 71 and 1 files"}, heard(b))
			})
			t.Run("keys", func(t *testing.T) {
				b := fresh(t)
				b.Keys("ArrowDown", "Shift+PageDown", "Control+Home", "x", "7")
				assert.Equal(t, []string{"ArrowDown", "shift Shift", "shift PageDown", "control Control", "control Home", "x", "7"},
					heard(b))
				b.Find("#offset").Type("0x1F")
				b.Keys("Backspace", "E")
				assert.Equal(t, "0x1E", b.Find(":focus").Property("value"))
				b.Find("#late[data-fresh]") // or the focus goes with the old one
				b.Keys("Control+a", "Control+c", "Tab", "Control+v")
				assert.Equal(t, "late", b.Find(":focus").Attribute("id"))
				assert.Equal(t, "paste 0x1E and 0 files", b.FindAll("#heard li")[7].Text())
				b.Find("#offset").Clear()
				assert.Equal(t, "", b.Find("#offset").Property("value"))
			})
			t.Run("every key with a name", func(t *testing.T) {
				b := fresh(t)
				b.Run(`window.pressed = [];
					addEventListener("keydown", event => { event.preventDefault(); pressed.push(event.key) }, {capture: true})`)
				var names []string
				for name := range keyCodes {
					b.Keys(name)
					names = append(names, pick(name == "Space", " ", name))
				}
				var pressed []string
				b.RunInto(&pressed, "return pressed")
				assert.Equal(t, names, pressed)
			})
			t.Run("mouse", func(t *testing.T) {
				b := fresh(t)
				b.Find("#pad").ClickAt(30, 40, "Shift")
				b.Find("#pad").Drag(10, 10, 150, 90)
				assert.Equal(t, []string{"shift Shift", "mousedown 30,40 shift", "mouseup 30,40 shift",
					"mousedown 10,10", "mouseup 150,90"}, heard(b))
			})
			t.Run("an element drawn anew", func(t *testing.T) {
				b := fresh(t)
				late := b.Find("#late")
				b.Find("#late[data-fresh]")
				late.Click()
				assert.Equal(t, []string{"late"}, heard(b))
				assert.Len(t, b.FindAll("#heard li"), 1)
				assert.Empty(t, b.FindAll("#nowhere"))
				assert.Equal(t, "late", b.FindAll("#heard li")[0].Text())
			})
			t.Run("what a screen reader is told", func(t *testing.T) {
				control := fresh(t).Find("#late").Control()
				assert.Equal(t, "button", control.Role)
				assert.Equal(t, "Show the sum", control.Label)
				assert.Contains(t, control.HTML, `<button id="late"`)
				assert.Equal(t, "Show the sum", b.For(t).Find("#late").Attribute("aria-label"))
				assert.Equal(t, "Offset", b.For(t).Find("#offset").Label())
			})
			t.Run("a download", func(t *testing.T) {
				b := fresh(t)
				b.Find("#save").Click()
				assert.Equal(t, []byte{1, 2, 3, 4}, b.Downloaded("saved.bin"))
			})
			t.Run("a frame as narrow as a phone", func(t *testing.T) {
				b := b.For(t)
				b.OpenFramed(site, "/index.html?in=frame", 390, 844)
				b.WaitText("#narrow", "narrow")
				assert.Equal(t, []any{390.0, 844.0}, b.Run("return [innerWidth, innerHeight]"))
				b.Find("#file").SetFiles(even)
				b.WaitText("#sum", evenLine)
				b.Find("#pad").ClickAt(30, 40)
				assert.Equal(t, []string{"mousedown 30,40", "mouseup 30,40"}, heard(b))
				b.Open(site.URL)
				assert.Equal(t, 1280.0, b.Run("return innerWidth"))
			})
			t.Run("sizes", func(t *testing.T) {
				b := fresh(t)
				b.Resize(700, 1400)
				assert.Equal(t, []any{700.0, 1400.0}, b.Run("return [innerWidth, innerHeight]"))
				b.Resize(1280, 900)
			})
			t.Run("the server remembers, stops and serves again", func(t *testing.T) {
				b := fresh(t)
				const say = "return fetch('/say?x=1', {method: 'POST', body: arguments[0]}).then(r => r.text(), () => 'refused')"
				before := len(site.Requests())
				assert.Equal(t, "hello", b.Run(say, "hello"))
				requests := site.Requests()[before:]
				require.Len(t, requests, 1)
				assert.Equal(t, "POST /say?x=1 (5 bytes)", requests[0].String())
				assert.Equal(t, "hello", string(requests[0].Body))
				site.Stop()
				assert.Equal(t, "refused", b.Run(say, "hello"))
				site.Resume(t)
				assert.Equal(t, "again", b.Run(say, "again"))
				b.Reload()
				b.WaitFor("return document.documentElement.dataset.ready")
			})
			t.Run("a site that must stay silent tells on who speaks", func(t *testing.T) {
				b := fresh(t)
				fake := &fakeTest{TB: t}
				silent := Silent(fake)
				assert.Empty(t, silent.Requests())
				assert.Equal(t, 204.0, b.Run("return (await fetch(arguments[0])).status", silent.URL+"/leak?bytes"))
				fake.finish()
				assert.Contains(t, fake.said, "GET /leak?bytes")
			})
			t.Run("failures say what the page shows", func(t *testing.T) {
				fake := &fakeTest{TB: t}
				b := fresh(t).For(fake)
				b.patience = 100 * time.Millisecond
				fake.run(func() { b.Find("#nowhere") })
				assert.Contains(t, fake.said, "#nowhere: 0 elements match")
				assert.Contains(t, fake.said, "Sum", "the text of the page")
				fake.run(func() { b.WaitText("#late", "Sun") })
				assert.Contains(t, fake.said, `it shows "Sum"`)
				fake.run(func() { b.Run("throw new Error('no such lane')") })
				assert.Contains(t, fake.said, "no such lane")
				fake.run(func() { b.Find("#file").SetFiles("testdata/nowhere.bin") })
				assert.Contains(t, fake.said, "nowhere.bin: no such file")
			})
			t.Run("paper", func(t *testing.T) {
				if engine == WebKit {
					fake := &fakeTest{TB: t}
					fake.run(func() { fresh(t).For(fake).PrintPDF() })
					assert.Contains(t, fake.said, "unknown command")
					return
				}
				assert.Equal(t, "%PDF-", string(fresh(t).PrintPDF()[:5]))
			})
			t.Run("Chromium's own protocol", func(t *testing.T) {
				b := fresh(t)
				if engine != Chromium {
					fake := &fakeTest{TB: t}
					fake.run(func() { b.For(fake).CDP("Performance.enable", nil) })
					assert.Contains(t, fake.said, "only Chromium")
					return
				}
				b.CDP("Emulation.setDeviceMetricsOverride", map[string]any{"width": 390, "height": 844, "deviceScaleFactor": 2,
					"mobile": false})
				assert.Equal(t, []any{390.0, 2.0}, b.Run("return [innerWidth, devicePixelRatio]"))
				b.CDP("Emulation.clearDeviceMetricsOverride", nil)
			})
		})
	}
}

func TestAVisitorsPreferencesReachThePage(t *testing.T) {
	tests := map[string]struct {
		expected map[string]any
		options  Options
	}{
		"none":                     {map[string]any{"dark": false, "still": false, "forced": false}, Options{}},
		"dark and little motion":   {map[string]any{"dark": true, "still": true, "forced": false}, Options{Dark: true, ReducedMotion: true}},
		"colours forced by system": {map[string]any{"still": false, "forced": true}, Options{ForcedColours: true}},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			for _, engine := range Engines(t) {
				t.Run(string(engine), func(t *testing.T) {
					needed(t, engine)
					if engine == WebKit && test.options.ForcedColours {
						fake := &fakeTest{TB: t}
						fake.run(func() { Start(fake, engine, test.options) })
						fake.finish()
						assert.Contains(t, fake.said, "forced colours are unknown to WebKit")
						return
					}
					b := Start(t, engine, test.options)
					b.Open(Serve(t, pages()).URL)
					found, _ := b.Run(`const is = query => matchMedia(query).matches;
						return {dark: is("(prefers-color-scheme: dark)"), still: is("(prefers-reduced-motion: reduce)"),
							forced: is("(forced-colors: active)")}`).(map[string]any)
					for preference, expected := range test.expected {
						assert.Equal(t, expected, found[preference], preference)
					}
				})
			}
		})
	}
}

func TestNoBrowserOutlivesItsTest(t *testing.T) {
	if name := os.Getenv("LUNETTE_ABANDON"); name != "" { // the test below, in a process that ends without cleaning up
		b := Start(t, Engine(name), Options{})
		fmt.Println("groups", strings.Trim(fmt.Sprint(b.groups), "[]"))
		os.Exit(0)
	}
	gone := func(groups []int) func() bool {
		return func() bool { return !slices.ContainsFunc(groups, alive) }
	}
	for _, engine := range Engines(t) {
		t.Run(string(engine)+", test ended", func(t *testing.T) {
			needed(t, engine)
			fake := &fakeTest{TB: t}
			b := Start(fake, engine, Options{})
			assert.False(t, gone(b.groups)())
			fake.finish()
			assert.Eventually(t, gone(b.groups), 10*time.Second, 10*time.Millisecond)
		})
		t.Run(string(engine)+", test died", func(t *testing.T) {
			needed(t, engine)
			folder, err := os.MkdirTemp("", "lunette") // short: Chromium puts sockets there, whose names may have 107 bytes
			require.NoError(t, err)
			defer os.RemoveAll(folder)
			c := exec.Command(os.Args[0], "-test.run=^"+"TestNoBrowserOutlivesItsTest$")
			c.Env = append(os.Environ(), "LUNETTE_ABANDON="+string(engine), "TMPDIR="+folder)
			output, err := c.Output()
			require.NoError(t, err, string(output))
			_, list, found := strings.Cut(strings.TrimSpace(string(output)), "groups ")
			require.True(t, found, string(output))
			var groups []int
			for _, field := range strings.Fields(list) {
				group, err := strconv.Atoi(field)
				require.NoError(t, err)
				groups = append(groups, group)
			}
			assert.Eventually(t, gone(groups), 10*time.Second, 10*time.Millisecond)
		})
	}
}

// needed skips or fails the true test where a false one would be the first to miss a program.
func needed(t *testing.T, engine Engine) {
	for _, names := range launchers[engine].needs {
		program(t, engine, names)
	}
}

// alive tells whether a process of the group still runs. Dead ones that nobody has collected do not count.
func alive(group int) bool {
	paths, _ := filepath.Glob("/proc/[0-9]*/stat")
	for _, path := range paths {
		line, _ := os.ReadFile(path) // number (name) state parent group ...
		_, rest, _ := strings.Cut(string(line), ") ")
		if fields := strings.Fields(rest); len(fields) > 2 && fields[2] == strconv.Itoa(group) && fields[0] != "Z" {
			return true
		}
	}
	return false
}

func TestAMissingProgramSkipsOrFails(t *testing.T) {
	fake := &fakeTest{TB: t}
	t.Setenv("LUNETTE_CI", "")
	fake.run(func() { program(fake, Firefox, []string{"no-such-program", "nor-this"}) })
	assert.Equal(t, `skip: no-such-program is missing; on Debian "sh www/browser/install.sh firefox" installs it`, fake.said)
	t.Setenv("LUNETTE_CI", "1")
	fake.run(func() { program(fake, Firefox, []string{"no-such-program"}) })
	assert.Contains(t, fake.said, "fail: no-such-program is missing")
}

func TestTheEnvironmentChoosesTheEngines(t *testing.T) {
	t.Setenv("LUNETTE_ENGINES", "")
	assert.Equal(t, []Engine{Chromium}, Engines(t))
	t.Setenv("LUNETTE_ENGINES", "webkit, firefox")
	assert.Equal(t, []Engine{WebKit, Firefox}, Engines(t))
	fake := &fakeTest{TB: t}
	t.Setenv("LUNETTE_ENGINES", "chromium,lynx")
	fake.run(func() { Engines(fake) })
	assert.Contains(t, fake.said, `"lynx": known are chromium, firefox and webkit`)
}

// fakeTest stands in for a test that is expected to fail; it keeps what was said.
type fakeTest struct {
	testing.TB
	said     string
	cleanups []func()
}

func (f *fakeTest) Errorf(format string, args ...any) {
	f.said = "fail: " + fmt.Sprintf(format, args...)
}
func (f *fakeTest) Fatalf(format string, args ...any) { f.Errorf(format, args...); runtime.Goexit() }
func (f *fakeTest) Fatal(args ...any)                 { f.Errorf("%s", fmt.Sprint(args...)); runtime.Goexit() }
func (f *fakeTest) Skip(args ...any)                  { f.said = "skip: " + fmt.Sprint(args...); runtime.Goexit() }
func (f *fakeTest) Cleanup(cleanup func())            { f.cleanups = append(f.cleanups, cleanup) }

// run runs test to its end, be it a fatal one.
func (f *fakeTest) run(test func()) {
	f.said = ""
	done := make(chan struct{})
	go func() { defer close(done); test() }()
	<-done
}

// finish ends the test as package testing does: the last clean-up first.
func (f *fakeTest) finish() {
	for len(f.cleanups) > 0 {
		last := len(f.cleanups) - 1
		f.cleanups[last]()
		f.cleanups = f.cleanups[:last]
	}
}

package www_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"net/http"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"lunette/www"
	"lunette/www/browser"
)

// A host is a static host whose page can be replaced while browsers visit it. It remembers what it sent.
type host struct {
	*browser.Site
	mutex   sync.Mutex
	handler http.Handler
	caching string // a Cache-Control of the host's own; "" for that of the page's server
	sent    []sent
}

// sent is one answer of a host.
type sent struct {
	path          string
	status, bytes int // bytes of the body
}

func hosted(t testing.TB, files fs.FS) *host {
	h := &host{}
	h.deploy(files)
	h.Site = browser.Serve(t, h)
	return h
}

// deploy replaces the page.
func (h *host) deploy(files fs.FS) { h.use(www.Handler(files)) }

func (h *host) use(handler http.Handler) {
	h.mutex.Lock()
	defer h.mutex.Unlock()
	h.handler = handler
}

func (h *host) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h.mutex.Lock()
	handler := h.handler
	h.mutex.Unlock()
	counted := &counter{ResponseWriter: w, caching: h.caching, sent: sent{path: r.URL.Path, status: http.StatusOK}}
	handler.ServeHTTP(counted, r)
	h.mutex.Lock()
	h.sent = append(h.sent, counted.sent)
	h.mutex.Unlock()
}

// answers returns what was sent so far, and forgets it.
func (h *host) answers() []sent {
	h.mutex.Lock()
	defer h.mutex.Unlock()
	answers := h.sent
	h.sent = nil
	return answers
}

// counter counts what is written through it.
type counter struct {
	http.ResponseWriter
	caching string
	sent
}

func (c *counter) WriteHeader(status int) {
	if c.caching != "" {
		c.Header().Set("Cache-Control", c.caching)
	}
	c.status = status
	c.ResponseWriter.WriteHeader(status)
}

func (c *counter) Write(p []byte) (int, error) {
	c.bytes += len(p)
	return c.ResponseWriter.Write(p)
}

// visit opens the page and waits until the core is there and it is settled whether the page is kept.
func visit(b *browser.Browser, address string) {
	b.Open(address)
	settled(b)
}

func settled(b *browser.Browser) {
	ready(b)
	b.WaitFor(`return document.documentElement.dataset.offline`)
}

// leave closes the page; the browser stays, and gets the second that a person takes at least until the next visit: a version
// that waits comes in only when the browser has done away with the closed page.
func leave(b *browser.Browser) {
	b.Open("about:blank")
	time.Sleep(time.Second)
}

// reload loads the page again as the visitor's button does; Browser.Reload passes by the service worker in Firefox.
func reload(b *browser.Browser) {
	b.Run(`document.documentElement.dataset.leaving = ""; setTimeout(() => location.reload(), 50)`)
	b.WaitFor(`return document.documentElement.dataset.leaving === undefined`)
	settled(b)
}

// told waits until the page tells of a newer version, which the browser is made to look for now rather than when it likes.
func told(b *browser.Browser) {
	b.Run(`await (await navigator.serviceWorker.ready).update()`)
	b.WaitText("#update", "A newer version is ready")
}

func version(b *browser.Browser) string { return b.Find("#version").Text() }

// kept returns the names of the sets that the browser keeps of a site's pages.
func kept(b *browser.Browser) []string {
	var names []string
	b.RunInto(&names, `return (await caches.keys()).filter(name => name.startsWith("lunette "))`)
	return names
}

// isKept waits until a version is in charge, and is the only one kept.
func isKept(b *browser.Browser, files fs.FS, t testing.TB) {
	t.Helper()
	b.WaitFor(`const names = (await caches.keys()).filter(name => name.startsWith("lunette ")); return names.length === 1 && names[0] === arguments[0]`,
		"lunette / "+versionIn(t, files))
}

func demo(b *browser.Browser) {
	b.Find("#demo").Click()
	b.WaitText(".answer .word", "SOUND")
}

// withWorkersEnd returns a version of the page with a way to end its worker.
func withWorkersEnd(t testing.TB, replaced map[string]string) fs.FS {
	all := map[string]string{"start.js": content(t, www.Source, "start.js") + "\nObject.assign(globalThis, { client });\n"}
	maps.Copy(all, replaced)
	return assembled(t, all)
}

// secondWorker ends the page's worker and waits until another has taken its place.
func secondWorker(b *browser.Browser) {
	b.Run(`const core = await globalThis.client; await core.panic().catch(() => {}); await core.families()`)
}

// newer returns a version of the page that differs in one module and one style sheet.
func newer(t testing.TB) fs.FS {
	return withWorkersEnd(t, map[string]string{
		"units.js":     content(t, www.Source, "units.js") + "// newer\n",
		"css/foot.css": content(t, www.Source, "css/foot.css") + "/* newer */\n",
	})
}

// mixed returns a newer version of which one file has not arrived at the host.
func mixed(t testing.TB) fs.FS {
	files := newer(t).(fstest.MapFS)
	files["units.js"] = &fstest.MapFile{Data: []byte(content(t, www.Source, "units.js")), Mode: 0o644}
	return files
}

// No signal: once it has been visited the page opens, reads a dump and starts new workers with the host gone, and the demo
// board opens too if it was fetched once.
func TestOfflineReload(t *testing.T) {
	files := withWorkersEnd(t, nil)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		h := hosted(t, files)
		visit(b, h.URL)
		demo(b)
		b.WaitFor(`return navigator.serviceWorker.controller !== null`)
		h.Stop()

		// The first visit itself goes on, with new workers if need be.
		secondWorker(b)
		for range 2 {
			reload(b)
			require.Equal(t, "Kept on this device: it opens without a network too, and the demo board once you have seen it.", b.Find("#offline").Text())
			choose(b, 1, u41)
			require.Equal(t, "SOUND", b.Find(".answer .word").Text())
			secondWorker(b)
		}
		leave(b)
		visit(b, h.URL+"/index.html?from=elsewhere#part")
		demo(b)
	})
}

// A visit fetches each file once, and the second visit of an unchanged version nothing: the browser may ask for sw.js, to
// compare it.
func TestOfflineBytesOverTheWire(t *testing.T) {
	files := assembled(t, nil)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		h := hosted(t, files)
		visit(b, h.URL)
		demo(b)
		bodies := map[string]int{}
		for _, answer := range h.answers() {
			if answer.bytes > 0 && answer.status == http.StatusOK {
				bodies[answer.path]++
			}
		}
		for path, times := range bodies {
			// The session that WebKit's driver starts has a cache that holds some files and not others.
			if b.Engine != browser.WebKit {
				require.Equal(t, 1, times, "the first visit fetched %s", path)
			}
		}

		for range 2 {
			leave(b)
			visit(b, h.URL)
			demo(b)
			b.Run(`await (await navigator.serviceWorker.ready).update()`) // what browsers do by themselves, a little later
		}
		for _, answer := range h.answers() {
			require.Equal(t, "/sw.js", answer.path, "%+v", answer)
		}
		require.True(t, b.Find("#update").Property("hidden").(bool))
	})
}

// A newer version is told and changes nothing while the page is open; the next visit has it, and fetched no more than what
// had changed.
func TestOfflineUpdate(t *testing.T) {
	old, next := withWorkersEnd(t, nil), newer(t)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		h := hosted(t, old)
		visit(b, h.URL)
		demo(b)
		h.answers()
		h.deploy(next)
		reload(b) // and the browser sees by itself that sw.js has changed
		require.Equal(t, versionIn(t, old), version(b))
		choose(b, 1, u41)
		b.WaitText("#update", "A newer version is ready")
		require.Equal(t, true, b.Find("#take").Property("hidden"), "with a dump open")
		var bodies []string
		for _, answer := range h.answers() {
			if answer.status == http.StatusOK && answer.path != "/sw.js" {
				bodies = append(bodies, answer.path)
			}
		}
		require.ElementsMatch(t, []string{"/", "/units.js", "/css/foot.css"}, bodies)

		// The page stays what it was, also in what it fetches now.
		require.Equal(t, content(t, old, "units.js"), b.Run(`return (await fetch("units.js")).text()`))
		secondWorker(b)
		require.Equal(t, "SOUND", b.Find(".answer .word").Text())
		require.Len(t, kept(b), 2)

		leave(b)
		h.Stop() // the next visit needs no network either, and has the demo board still
		visit(b, h.URL)
		require.Equal(t, versionIn(t, next), version(b))
		require.Equal(t, content(t, next, "units.js"), b.Run(`return (await fetch("units.js")).text()`))
		isKept(b, next, t)
		require.Equal(t, true, b.Find("#update").Property("hidden"))
		demo(b)
	})
}

// A person with nothing open may take the newer version at once; not while the page is open elsewhere.
func TestOfflineUpdateAtOnce(t *testing.T) {
	old, next := assembled(t, nil), newer(t)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		h := hosted(t, old)
		visit(b, h.URL)
		h.deploy(next)

		b.OpenFramed(h.Site, "/", 800, 600) // the page around it is one of this site as well
		settled(b)
		told(b)
		b.Find("#take").Click()
		b.WaitText("#said", "open elsewhere too")
		require.Equal(t, versionIn(t, old), version(b))

		visit(b, h.URL)
		if version(b) == versionIn(t, old) { // else the frame's end was already the next visit
			told(b)
			b.Find("#take").Click()
		}
		b.WaitText("#version", versionIn(t, next))
		settled(b)
		isKept(b, next, t)
	})
}

// A site of which one file is another version's is not kept: not over an older set, which goes on, and not at a first visit.
func TestOfflineHalfDeployed(t *testing.T) {
	old, next := assembled(t, nil), newer(t)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		h := hosted(t, old)
		h.caching = "max-age=600" // as on hosts that let nobody choose
		visit(b, h.URL)
		isKept(b, old, t)
		h.deploy(mixed(t))
		leave(b)
		visit(b, h.URL)
		tried := b.Run(`
			const registration = await navigator.serviceWorker.ready;
			await registration.update().catch(() => {});
			const worker = registration.installing;
			if (worker && worker.state !== "redundant") {
				await new Promise(done => worker.addEventListener("statechange", () => worker.state === "redundant" && done()));
			}
			return registration.waiting === null;`)
		require.Equal(t, true, tried)
		require.Equal(t, versionIn(t, old), version(b))
		require.Equal(t, true, b.Find("#update").Property("hidden"))
		isKept(b, old, t)
		h.Stop()
		reload(b)
		require.Equal(t, versionIn(t, old), version(b))
		choose(b, 1, u41)

		// When the rest has arrived it is taken as ever.
		h.Resume(t)
		h.deploy(next)
		leave(b) // a browser that looks for versions now finds it without a page to hold it up
		visit(b, h.URL)
		if version(b) == versionIn(t, old) {
			told(b)
			b.Find("#take").Click()
		}
		b.WaitText("#version", versionIn(t, next))
		isKept(b, next, t)

		first := hosted(t, mixed(t))
		visit(b, first.URL)
		require.Contains(t, b.Find("#offline").Text(), "Not kept on this device")
		require.Empty(t, kept(b))
		demo(b)
	})
}

// When a browser has lost one of the files, and the host has another version, the visit after that is whole again.
func TestOfflineLostFile(t *testing.T) {
	old, next := assembled(t, nil), newer(t)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		h := hosted(t, old)
		visit(b, h.URL)
		lose := func() {
			t.Helper()
			require.Equal(t, 1.0, b.Run(`
				const set = await caches.open((await caches.keys())[0]);
				const lost = (await set.keys()).filter(({ url }) => url.includes("/units.js?"));
				await Promise.all(lost.map(key => set.delete(key)));
				return lost.length`))
		}
		lose()
		reload(b)
		b.Run(`return (await fetch("units.js")).text()`) // the host still had it, and it is kept again
		lose()
		h.deploy(next)
		require.Equal(t, true, b.Run(`return fetch("units.js").then(() => false, () => true)`), "rather nothing than another version's")
		b.WaitFor(`return (await navigator.serviceWorker.getRegistrations()).length === 0`)
		leave(b)
		visit(b, h.URL)
		require.Equal(t, versionIn(t, next), version(b))
	})
}

// off/sw.js in place of sw.js takes everything away, and pages go on without.
func TestOfflineSwitchedOff(t *testing.T) {
	files := assembled(t, nil)
	off := assembled(t, nil).(fstest.MapFS)
	off["sw.js"] = &fstest.MapFile{Data: read(t, "off/sw.js"), Mode: 0o644}
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		h := hosted(t, files)
		visit(b, h.URL)
		isKept(b, files, t)
		h.deploy(off)
		leave(b)
		visit(b, h.URL)
		choose(b, 1, u41)
		b.WaitFor(`return (await caches.keys()).length === 0`)
		require.Equal(t, "SOUND", b.Find(".answer .word").Text())
		leave(b)
		visit(b, h.URL)
		require.Equal(t, true, b.Run(`return navigator.serviceWorker.controller === null`))
		demo(b)
		require.Empty(t, kept(b))
	})
}

// Two copies of the page on one host, each in a folder, do not touch what the other keeps.
func TestOfflineTwoCopies(t *testing.T) {
	old, next := assembled(t, nil), newer(t)
	copies := func(second fs.FS) http.Handler {
		mux := http.NewServeMux()
		mux.Handle("/a/", http.StripPrefix("/a", www.Handler(old)))
		mux.Handle("/a/b/", http.StripPrefix("/a/b", www.Handler(second)))
		return mux
	}
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		h := hosted(t, old)
		h.use(copies(old))
		visit(b, h.URL+"/a/")
		visit(b, h.URL+"/a/b/")
		h.use(copies(next))
		visit(b, h.URL+"/a/b/")
		told(b)
		leave(b)
		h.Stop()
		visit(b, h.URL+"/a/b/")
		require.Equal(t, versionIn(t, next), version(b))
		visit(b, h.URL+"/a/")
		require.Equal(t, versionIn(t, old), version(b))
		require.ElementsMatch(t, []string{"lunette /a/ " + versionIn(t, old), "lunette /a/b/ " + versionIn(t, next)}, kept(b))
	})
}

// beforehand returns a handler of the page in which a script runs before all others.
func beforehand(t testing.TB, script string) http.Handler {
	own := page(t)
	index := strings.Replace(string(read(t, "index.html")), "<link rel=\"icon\"", "<script src=\"beforehand.js\"></script>\n<link rel=\"icon\"", 1)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/beforehand.js":
			w.Header().Set("Content-Type", "text/javascript")
			fmt.Fprint(w, script)
		case "/":
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			fmt.Fprint(w, index)
		default:
			own.ServeHTTP(w, r)
		}
	})
}

// The page works in full where no service worker is to be had.
func TestOfflineUnavailable(t *testing.T) {
	for name, script := range map[string]string{
		"insecure context": `delete Navigator.prototype.serviceWorker;`,
		"private window":   `ServiceWorkerContainer.prototype.register = () => Promise.reject(new DOMException("not here", "SecurityError"));`,
		"no storage":       `delete globalThis.caches;`,
	} {
		browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
			b.Open(browser.Serve(t, beforehand(t, script)).URL + "/?shared")
			settled(b)
			require.Equal(t, "Not kept on this device: without a network it works until you close it.", b.Find("#offline").Text(), name)
			choose(b, 1, u41)
			require.Equal(t, "SOUND", b.Find(".answer .word").Text())
			b.Find("body").Paste("4E 56 FF F8", nil)
			b.WaitText(".headline", "4 bytes")
		})
	}
}

// Files shared to the installed page arrive as a form; the service worker keeps them and the page opens them, once.
func TestOfflineShared(t *testing.T) {
	rom := read(t, u41)
	files := assembled(t, nil)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		h := hosted(t, files)
		own := www.Handler(files)
		h.use(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if r.URL.Path == "/form.html" {
				fmt.Fprint(w, `<!doctype html><form action="share" method="post" enctype="multipart/form-data"><input id="files" type="file" name="files" multiple><button>Share</button></form>`)
				return
			}
			own.ServeHTTP(w, r)
		}))
		visit(b, h.URL)
		h.Stop()
		h.Resume(t)
		b.Open(h.URL + "/form.html")
		b.Find("#files").SetFiles(u41, write(t, "tiny ü.bin", []byte{1, 2, 3}))
		b.Find("button").Click()
		b.WaitFor(`return document.querySelectorAll(".dumps .choose[data-looked]").length === 2`)
		onShelf(b, "u41.bin")
		onShelf(b, "tiny ü.bin")
		require.Equal(t, h.URL+"/", b.Run("return location.href"))
		for _, request := range h.Requests() {
			require.Equal(t, http.MethodGet, request.Method)
			require.False(t, bytes.Contains(request.Body, rom[:64]))
		}
		reload(b)
		require.Equal(t, 0.0, b.Run(`return document.querySelectorAll(".dumps .choose").length`))

		b.Open(h.URL + "/?shared")
		b.WaitText("#said", "Nothing has arrived")
	})
}

// Files opened by the system are added to what is open.
func TestOpenedBySystem(t *testing.T) {
	script := `Object.defineProperty(globalThis, "launchQueue", { value: { setConsumer(consumer) { globalThis.launch = consumer; } } });`
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		b.Open(browser.Serve(t, beforehand(t, script)).URL)
		settled(b)
		choose(b, 1, u41)
		b.Run(`const launch = globalThis.launch; launch({}); launch({ files: [{ name: "tiny.bin", getFile: async () => new File([new Uint8Array(3)], "tiny.bin") }] })`)
		onShelf(b, "tiny.bin")
		onShelf(b, "u41.bin")
	})
}

// Installing is offered where the browser offers it, by a quiet button, after the first answer and once.
func TestInstallButton(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		b.Run(`const offer = new Event("beforeinstallprompt", { cancelable: true });
			offer.prompt = () => { window.asked = (window.asked ?? 0) + 1; };
			window.held = !dispatchEvent(offer);`)
		require.Equal(t, true, b.Run("return window.held"), "no banner")
		require.Equal(t, true, b.Find("#install").Property("hidden"), "before the first answer")
		choose(b, 1, u41)
		b.Find("#install").Click()
		b.WaitFor(`return window.asked === 1 && document.querySelector("#install").hidden`)
	})
}

// Chromium finds nothing in the manifest that it does not understand.
func TestManifest(t *testing.T) {
	b := browser.Start(t, browser.Chromium, browser.Options{})
	opened(t, b)
	answer := b.CDP("Page.getAppManifest", nil)
	require.Empty(t, answer["errors"])
	var read struct {
		ID, Name string
	}
	require.NoError(t, json.Unmarshal([]byte(answer["data"].(string)), &read))
	require.Equal(t, "lunette", read.ID)
	installable := b.CDP("Page.getInstallabilityErrors", nil)
	require.Empty(t, installable["installabilityErrors"])
}

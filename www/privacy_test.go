package www_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lunette/www/browser"
)

// Nothing leaves: page and worker are made to try, a listener that nobody may reach must stay silent, and once the page's
// files are here its own server is asked for nothing more.
func TestNothingLeaves(t *testing.T) {
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		silent := browser.Silent(t)
		// Chromium opens a connection for a frame before it asks the policy, and sends nothing over it.
		framed := browser.Serve(t, http.NotFoundHandler())
		site := opened(t, b)
		settled(b)                         // the page's files were fetched once more, to be kept
		time.Sleep(500 * time.Millisecond) // an icon may come late
		loaded := len(site.Requests())

		choose(b, 1, u41)
		b.Find("body").Paste("4E 56 FF F8", nil)
		b.WaitText(".headline", "4 bytes") // the pasted ones are shown
		enter(b, "#printed", "1234")
		b.WaitText(".explained", "1234")

		tries := b.Run(`
			const [url, framed] = arguments;
			const refused = async what => { try { await what(); return false; } catch { return true; } };
			await refused(() => {
				const inline = document.createElement("script");
				inline.append("window.ran = true");
				document.head.append(inline);
			});
			const picture = new Image();
			picture.src = url + "/picture.png";
			const frame = document.createElement("iframe");
			frame.src = framed + "/frame";
			document.body.append(frame);
			navigator.sendBeacon?.(url + "/beacon", "x");
			const results = {
				fetch: await refused(() => fetch(url + "/fetch", { mode: "no-cors" })),
				socket: await refused(() => new Promise((yes, no) => { const s = new WebSocket(url.replace("http", "ws")); s.onopen = yes; s.onerror = no; })),
				html: await refused(() => { document.body.innerHTML = "<b>text</b>"; }),
			};
			await new Promise(done => setTimeout(done, 500));
			frame.remove();
			return { ...results, inline: window.ran !== true, cookies: document.cookie === "" };`, silent.URL, framed.URL).(map[string]any)
		for name, refused := range tries {
			require.Equal(t, true, refused, name)
		}

		require.Empty(t, framed.Requests())

		var later []string
		for _, request := range site.Requests()[loaded:] {
			later = append(later, request.String())
		}
		require.Empty(t, later, "the page's own server was asked for more")
	})
}

// The worker tries to reach the silent listener: a copy of worker.js is served that tries first and tells what came of it.
func TestWorkerIsHeldByThePolicy(t *testing.T) {
	own := page(t)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		silent := browser.Silent(t)
		site := browser.Serve(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if r.URL.Path != "/worker.js" {
				own.ServeHTTP(w, r)
				return
			}
			w.Header().Set("Content-Type", "text/javascript")
			fmt.Fprintf(w, `
				const refused = async what => { try { await what(); return "reached"; } catch { return "refused"; } };
				const results = [
					await refused(() => fetch(%[1]q + "/from-worker", { mode: "no-cors" })),
					await refused(() => import(%[1]q + "/module.js")),
					await refused(() => (0, eval)("1")),
				];
				postMessage({ kind: "broken", reason: results.join(" ") });`, silent.URL)
		}))
		b.Open(site.URL)
		b.WaitText("#core-state", "refused refused refused")
	})
}

// Text out of a file reaches the page as text: a hostile name and hostile content do nothing.
func TestHostileTextStaysText(t *testing.T) {
	const attack = `<img src=x onerror="window.hit=1"><script>window.hit=1</script>`
	content := strings.Repeat(attack+"\x00\xFE", 60)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		opened(t, b)
		b.Find("body").Drop(map[string][]byte{attack + ".bin": []byte(content), "bad" + attack + ".hex": []byte(":0400000001020304F3\n:00000001FF\n")})
		onShelf(b, "<img src=x")
		b.WaitText("#problems", "<img src=x")
		enter(b, "#find", attack)
		b.WaitText("#find-state", "1 of 60")
		require.Equal(t, true, b.Run(`return window.hit === undefined && document.querySelectorAll("img, main script").length === 0`))
	})
}

func TestWithoutWebAssembly(t *testing.T) {
	own := page(t)
	browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
		site := browser.Serve(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			switch r.URL.Path {
			case "/without.js":
				w.Header().Set("Content-Type", "text/javascript")
				fmt.Fprint(w, "delete globalThis.WebAssembly;")
			case "/":
				index := strings.Replace(string(read(t, "index.html")), "<link rel=\"icon\"", "<script src=\"without.js\"></script>\n<link rel=\"icon\"", 1)
				w.Header().Set("Content-Type", "text/html; charset=utf-8")
				fmt.Fprint(w, index)
			default:
				own.ServeHTTP(w, r)
			}
		}))
		b.Open(site.URL + "/")
		b.WaitText("#core-state", "has WebAssembly switched off")
	})
}

// The page works from any path of a host that knows no types but those of scripts, and from one that unpacks .gz files on
// the way.
func TestAnyHost(t *testing.T) {
	own := page(t)
	for name, dress := range map[string]func(w http.ResponseWriter, path string){
		"no types": func(w http.ResponseWriter, path string) {
			if strings.HasSuffix(path, ".gz") {
				w.Header().Set("Content-Type", "application/octet-stream")
			}
		},
		"content encoding": func(w http.ResponseWriter, path string) {
			if strings.HasSuffix(path, ".gz") {
				w.Header().Set("Content-Encoding", "gzip")
			}
		},
	} {
		browser.Each(t, browser.Options{}, func(t *testing.T, b *browser.Browser) {
			site := browser.Serve(t, http.StripPrefix("/a/sub/path", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
				dress(w, r.URL.Path)
				own.ServeHTTP(w, r)
			})))
			b.Open(site.URL + "/a/sub/path/")
			ready(b)
			b.Find("#demo").Click()
			b.WaitText(".answer .word", "SOUND")
			for _, request := range site.Requests() {
				require.True(t, strings.HasPrefix(request.Path, "/a/sub/path/"), "%s: %s", name, request)
			}
		})
	}
}

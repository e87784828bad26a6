package bench

import (
	"bytes"
	"compress/gzip"
	"io/fs"
	"net/url"
	"path"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lunette/www"
	"lunette/www/browser"
)

// Weights of a first visit, in bytes: what it may be at most, and what is aimed at.
const (
	visitLimit = 1_100_000
	visitAim   = 900_000
)

// A loaded is a file that a first visit loads.
type loaded struct {
	name string
	raw  int // bytes
	wire int // bytes as a host sends it that packs text; what is packed already goes as it is
}

// firstVisit opens the page in a fresh browser, waits for the core, and returns what that loaded, the largest first.
func firstVisit(t testing.TB) (all []loaded, raw, wire int) {
	t.Helper()
	files, err := www.Files()
	require.NoError(t, err)
	site := browser.Serve(t, www.Handler(files))
	b := browser.Start(t, browser.Chromium, browser.Options{Patience: time.Minute})
	b.Open(site.URL + "/")
	b.WaitFor(`return document.documentElement.dataset.core === "ready"`)

	names := map[string]bool{"icon.svg": true} // a browser with a window asks for it
	for _, request := range site.Requests() {
		address, err := url.Parse(request.Path)
		require.NoError(t, err)
		name := strings.TrimPrefix(address.Path, "/")
		if name == "" {
			name = "index.html"
		}
		names[name] = true
	}
	for name := range names {
		content, err := fs.ReadFile(files, name)
		require.NoError(t, err, "the first visit asks for %s", name)
		f := loaded{name, len(content), len(content)}
		if ext := path.Ext(name); ext != ".gz" && ext != ".packed" {
			f.wire = packed(t, content)
		}
		all, raw, wire = append(all, f), raw+f.raw, wire+f.wire
	}
	slices.SortFunc(all, func(a, b loaded) int { return b.wire - a.wire })
	return all, raw, wire
}

// packed returns the size of content as gzip -9 makes it.
func packed(t testing.TB, content []byte) int {
	t.Helper()
	var out bytes.Buffer
	w, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	require.NoError(t, err)
	_, err = w.Write(content)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return out.Len()
}

func TestFirstVisitIsLight(t *testing.T) {
	all, _, wire := firstVisit(t)
	require.Equal(t, "built/lunette.wasm.packed", all[0].name, "the core is the largest: %v", all)
	assert.LessOrEqual(t, wire, visitLimit, "bytes over the wire at a first visit: %v", all)
}

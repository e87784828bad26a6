package www

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"html"
	"io"
	"io/fs"
	"maps"
	"net/url"
	"path"
	"slices"
	"strings"
	"testing/fstest"
)

// What is written into the page's own files; each stands in its file once.
const (
	versionMark = "@version@"                  // index.html, sw.js
	neededMark  = "const needed = {};"         // sw.js
	askedMark   = "const asked = {};"          // sw.js
	addressMark = "@address@"                  // index.html, in the lines of the card
	cardBegins  = "<!-- a known address -->\n" // index.html; up to cardEnds, and gone where the address is unknown
	cardEnds    = "<!-- of the card -->\n"
)

// assemble returns the page with its version and the service worker's list of files written in. One source gives the same
// bytes every time: nothing but the files themselves goes into them.
func assemble(source fs.FS, address string) (fs.FS, error) {
	files, err := contents(source)
	if err != nil {
		return nil, err
	}
	if files["index.html"], err = withCard(files["index.html"], address); err != nil {
		return nil, err
	}
	version := versionOf(files)
	if files["index.html"], err = write(files["index.html"], versionMark, version); err != nil {
		return nil, fmt.Errorf("index.html: %w", err)
	}
	if files["sw.js"], err = withList(files, version); err != nil {
		return nil, fmt.Errorf("sw.js: %w", err)
	}
	page := fstest.MapFS{}
	for name, content := range files {
		page[name] = &fstest.MapFile{Data: content, Mode: 0o644}
	}
	return page, nil
}

// contents reads every file of the page. Of the built ones it takes those that belong to this version: an older build may
// have left others.
func contents(source fs.FS) (map[string][]byte, error) {
	files := map[string][]byte{}
	err := fs.WalkDir(source, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || path.Dir(name) == "built" && !slices.Contains(Built, name) {
			return err
		}
		files[name], err = fs.ReadFile(source, name)
		return err
	})
	return files, err
}

// withCard writes the page's address into the lines that need it, or leaves them out.
func withCard(index []byte, address string) ([]byte, error) {
	before, rest, found := strings.Cut(string(index), cardBegins)
	card, after, ended := strings.Cut(rest, cardEnds)
	if !found || !ended {
		return nil, errors.New("index.html: the lines of the card are not marked")
	}
	if address == "" {
		return []byte(before + after), nil
	}
	at, err := url.Parse(address)
	if err != nil || at.Scheme != "https" && at.Scheme != "http" || at.Host == "" || at.RawQuery != "" || at.Fragment != "" {
		return nil, fmt.Errorf("the page's address is %q; it must be whole, as in https://example.org/lunette/", address)
	}
	address = strings.TrimRight(address, "/") + "/"
	return []byte(before + strings.ReplaceAll(card, addressMark, html.EscapeString(address)) + after), nil
}

// versionOf returns ten hex digits that change when any file changes.
func versionOf(files map[string][]byte) string {
	all := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(all, "%s %x\n", name, sha256.Sum256(files[name]))
	}
	return hex.EncodeToString(all.Sum(nil))[:10]
}

// withList writes into sw.js the version, and which files the service worker keeps: those that a visit needs, and those
// that it keeps once they have been asked for. The page itself goes by "./", since some hosts send "index.html" elsewhere.
func withList(files map[string][]byte, version string) ([]byte, error) {
	needed, asked := map[string]string{}, map[string]string{}
	for name, content := range files {
		switch {
		case name == "sw.js", path.Ext(name) == ".png": // icons are the system's to keep, the card is for other sites
		case name == "index.html":
			needed["./"] = integrity(name, content)
		case path.Dir(name) == "built" && !isCore(name):
			asked[name] = integrity(name, content)
		default:
			needed[name] = integrity(name, content)
		}
	}
	script, err := write(files["sw.js"], versionMark, version)
	for mark, list := range map[string]map[string]string{neededMark: needed, askedMark: asked} {
		if err == nil {
			script, err = write(script, mark, strings.Replace(mark, "{}", table(list), 1))
		}
	}
	return script, err
}

// isCore tells the core's own files from the dumps of the demo board.
func isCore(name string) bool {
	return strings.HasPrefix(name, "built/lunette.") || name == "built/wasm_exec.js"
}

// integrity returns the hash by which a browser checks a file (https://www.w3.org/TR/sri-2/). Of a gzip file also that of
// what it holds, since some hosts have the browser unpack it on the way.
func integrity(name string, content []byte) string {
	hash := func(content []byte) string {
		sum := sha256.Sum256(content)
		return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
	}
	if path.Ext(name) == ".gz" {
		if packed, err := gzip.NewReader(bytes.NewReader(content)); err == nil {
			if plain, err := io.ReadAll(packed); err == nil {
				return hash(content) + " " + hash(plain)
			}
		}
	}
	return hash(content)
}

// table returns a list as a JavaScript object, a line a file, in the order of the names.
func table(list map[string]string) string {
	text, _ := json.MarshalIndent(list, "", "\t") // strings can always be written
	return string(text)
}

// write puts text where the mark stands, which must be once.
func write(content []byte, mark, text string) ([]byte, error) {
	if n := bytes.Count(content, []byte(mark)); n != 1 {
		return nil, fmt.Errorf("%q is there %d times, and should be once", mark, n)
	}
	return bytes.Replace(content, []byte(mark), []byte(text), 1), nil
}

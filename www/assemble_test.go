package www_test

import (
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"lunette/core/outside"
	"lunette/www"
)

func content(t testing.TB, files fs.FS, name string) string {
	t.Helper()
	content, err := fs.ReadFile(files, name)
	require.NoError(t, err)
	return string(content)
}

// changed returns the page's source with some files replaced.
func changed(t testing.TB, replaced map[string]string) fs.FS {
	t.Helper()
	files := fstest.MapFS{}
	require.NoError(t, fs.WalkDir(www.Source, ".", func(name string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			files[name] = &fstest.MapFile{Data: []byte(content(t, www.Source, name)), Mode: 0o644}
		}
		return err
	}))
	for name, text := range replaced {
		require.Contains(t, files, name)
		files[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
	}
	return files
}

// assembled returns a version of the page in which some files are replaced.
func assembled(t testing.TB, replaced map[string]string) fs.FS {
	t.Helper()
	files, err := www.Assemble(changed(t, replaced), "")
	require.NoError(t, err)
	return files
}

// versionIn returns the version that a page says it is.
func versionIn(t testing.TB, files fs.FS) string {
	t.Helper()
	match := regexp.MustCompile(`id="version"[^>]*>([0-9a-f]{10})<`).FindStringSubmatch(content(t, files, "index.html"))
	require.NotNil(t, match)
	return match[1]
}

// One source gives one page, byte for byte, and what a build left behind is not in it; any change is another version.
func TestAssembleIsReproducible(t *testing.T) {
	first := assembled(t, nil)
	second := assembled(t, nil)
	require.NoError(t, fs.WalkDir(first, ".", func(name string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			require.Equal(t, content(t, first, name), content(t, second, name), name)
		}
		return err
	}))
	left := changed(t, nil).(fstest.MapFS)
	left["built/lunette.wasm.older"] = &fstest.MapFile{Data: []byte("left by an older build")}
	again, err := www.Assemble(left, "")
	require.NoError(t, err)
	require.Equal(t, content(t, first, "sw.js"), content(t, again, "sw.js"))
	_, err = fs.Stat(again, "built/lunette.wasm.older")
	require.ErrorIs(t, err, fs.ErrNotExist)

	versions := map[string]bool{versionIn(t, first): true}
	for _, name := range []string{"units.js", "index.html", "sw.js", "css/foot.css", "icon-192.png", "built/halden-u41.bin.gz"} {
		versions[versionIn(t, assembled(t, map[string]string{name: content(t, www.Source, name) + "\n"}))] = true
	}
	require.Len(t, versions, 7)
}

// The service worker's list has every file that a visit needs, and each hash is what openssl makes of the file.
func TestListOfFiles(t *testing.T) {
	files := assembled(t, nil)
	script := content(t, files, "sw.js")
	list := map[string]string{}
	for _, name := range []string{"needed", "asked"} {
		_, rest, found := strings.Cut(script, "const "+name+" = ")
		require.True(t, found)
		text, _, _ := strings.Cut(rest, ";\n")
		require.NoError(t, json.Unmarshal([]byte(text), &list)) // adds to what is there
	}
	require.Contains(t, script, `const version = "`+versionIn(t, files)+`"`)

	folder := t.TempDir()
	require.NoError(t, fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || name == "sw.js" || strings.HasSuffix(name, ".png") {
			require.NotContains(t, list, name)
			return err
		}
		path := filepath.Join(folder, "file")
		require.NoError(t, os.WriteFile(path, []byte(content(t, files, name)), 0o644))
		digest := outside.Run(t, "openssl", nil, "dgst", "-sha256", "-binary", path)
		want := "sha256-" + strings.TrimSpace(string(outside.Run(t, "openssl", digest, "base64", "-A")))
		if name == "index.html" {
			name = "./"
		}
		got, _, _ := strings.Cut(list[name], " ")
		require.Equal(t, want, got, name)
		return nil
	}))
}

// Where the address is known links to the page show a card; where not, nothing is said that would be wrong.
func TestAddressOfTheCard(t *testing.T) {
	files, err := www.FilesAt("https://example.org/lunette")
	require.NoError(t, err)
	index := content(t, files, "index.html")
	for property, value := range map[string]string{
		"og:url": "https://example.org/lunette/", "og:image": "https://example.org/lunette/card.png",
		"og:image:width": "1200", "og:image:height": "630", "og:type": "website"} {
		require.Contains(t, index, `<meta property="`+property+`" content="`+value+`">`)
	}
	files, err = www.Files()
	require.NoError(t, err)
	index = content(t, files, "index.html")
	require.NotContains(t, index, "og:image")
	require.NotContains(t, index, "og:url")
	require.Contains(t, index, "og:title")
	for _, none := range []string{"example.org/lunette/", "ftp://example.org/", "https://", "https://example.org/?page", "/lunette/"} {
		_, err := www.FilesAt(none)
		require.ErrorContains(t, err, "must be whole", none)
	}
	_, err = www.FilesAt(`https://example.org/"><b>/`)
	require.NoError(t, err)
}

// What hosts want besides says the page's own policy.
func TestHostFiles(t *testing.T) {
	files := assembled(t, nil)
	policy, err := www.Policy(files)
	require.NoError(t, err)
	for _, part := range []string{"default-src 'none'", "connect-src 'self'", "manifest-src 'self'", "worker-src 'self' blob:", "form-action 'none'"} {
		require.Contains(t, policy, part)
	}
	extra, err := www.HostFiles(files)
	require.NoError(t, err)
	require.Contains(t, extra, ".nojekyll")
	require.Contains(t, extra["_headers"], "/*\n  Content-Security-Policy: "+policy+"\n")
}

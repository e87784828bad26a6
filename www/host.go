package www

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"
)

// types are the file types of which a system's own tables may know nothing, or the wrong thing.
var types = map[string]string{
	".js":          "text/javascript; charset=utf-8",
	".svg":         "image/svg+xml",
	".gz":          "application/gzip",
	".packed":      "application/octet-stream",
	".webmanifest": "application/manifest+json",
}

// HostFiles returns what some static hosts want beside the page: a mark that nothing is to be processed, and the headers to
// send. Other hosts ignore them; the page carries its policy in itself, all but the service worker's.
func HostFiles(files fs.FS) (map[string]string, error) {
	policy, err := Policy(files)
	if err != nil {
		return nil, err
	}
	headers := "/*\n  Content-Security-Policy: " + policy + "\n  X-Content-Type-Options: nosniff\n" +
		"  Referrer-Policy: no-referrer\n  Cache-Control: no-cache\n"
	for _, suffix := range []string{".js", ".svg", ".webmanifest"} {
		headers += fmt.Sprintf("/*%s\n  Content-Type: %s\n", suffix, types[suffix])
	}
	return map[string]string{".nojekyll": "", "_headers": headers}, nil
}

// Policy returns the Content-Security-Policy that index.html sets for the page and its worker.
func Policy(files fs.FS) (string, error) {
	index, err := fs.ReadFile(files, "index.html")
	if err != nil {
		return "", err
	}
	_, rest, found := strings.Cut(string(index), `http-equiv="Content-Security-Policy" content="`)
	policy, _, ended := strings.Cut(rest, `"`)
	if !found || !ended {
		return "", errors.New("index.html sets no Content-Security-Policy")
	}
	return policy, nil
}

// Handler serves the page's files with the right types, and has browsers ask at every visit whether they have changed. Only
// the service worker is sent the policy: it is out of reach of the page's own, which must do for the rest on any host.
func Handler(files fs.FS) http.Handler {
	for suffix, kind := range types {
		if err := mime.AddExtensionType(suffix, kind); err != nil {
			panic(err) // only a malformed type in the table above
		}
	}
	tags := map[string]string{}
	fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if content, err := fs.ReadFile(files, name); err == nil {
			tags[name] = fmt.Sprintf("\"%x\"", sha256.Sum256(content))
		}
		return nil // what cannot be read has no tag, and the server says so when it is asked for
	})
	policy, _ := Policy(files)
	server := http.FileServerFS(files)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := strings.TrimPrefix(path.Clean("/"+r.URL.Path), "/")
		if name == "" {
			name = "index.html"
		}
		if tag := tags[name]; tag != "" {
			w.Header().Set("ETag", tag)
		}
		if name == "sw.js" && policy != "" {
			w.Header().Set("Content-Security-Policy", policy)
		}
		w.Header().Set("Cache-Control", "no-cache")
		w.Header().Set("X-Content-Type-Options", "nosniff")
		server.ServeHTTP(w, r)
	})
}

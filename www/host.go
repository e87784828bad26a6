package www

import (
	"io/fs"
	"mime"
	"net/http"
)

// HostFiles are what some static hosts want beside the page: a mark that nothing is to be processed, and the policy as a
// header. Other hosts ignore them; the page carries the same policy in itself.
var HostFiles = map[string]string{
	".nojekyll": "",
	"_headers":  "/*\n  X-Content-Type-Options: nosniff\n  Referrer-Policy: no-referrer\n",
}

// Handler serves the page's files with the right types and asks browsers to check for newer ones at every visit.
func Handler(files fs.FS) http.Handler {
	// The system's own tables may lack these or have them wrong.
	for suffix, kind := range map[string]string{".js": "text/javascript", ".svg": "image/svg+xml", ".gz": "application/gzip"} {
		if err := mime.AddExtensionType(suffix, kind); err != nil {
			panic(err) // only a malformed type in the table above
		}
	}
	server := http.FileServerFS(files)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "no-cache")
		w.Header().Set("X-Content-Type-Options", "nosniff")
		server.ServeHTTP(w, r)
	})
}

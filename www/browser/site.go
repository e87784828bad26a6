package browser

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"log"
	"net"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"
)

// Site is a web server on a free port of this machine that remembers all it was asked. It ends with the test. Each site is
// an origin of its own, so what one test stores in a browser another does not find.
type Site struct {
	URL string // without a slash at its end

	handler  http.Handler
	counting bool // connections are remembered as well as requests
	mutex    sync.Mutex
	server   *http.Server
	requests []Request
}

// Request is one thing that reached a site.
type Request struct {
	Method string // "" where a connection to a silent site was opened, whether or not a request follows
	Path   string // with its query
	Header http.Header
	Body   []byte
	Time   time.Time
}

func (r Request) String() string {
	return fmt.Sprintf("%s %s (%d bytes)", r.Method, r.Path, len(r.Body))
}

// Serve serves handler until the test ends.
func Serve(t testing.TB, handler http.Handler) *Site {
	t.Helper()
	return begin(t, &Site{handler: handler})
}

// Silent is a site that nobody may reach: when the test ends with so much as a connection to it, the test fails. It would
// answer every page of every origin, so that only the page's own policy can be what kept it silent.
func Silent(t testing.TB) *Site {
	t.Helper()
	s := begin(t, &Site{handler: http.HandlerFunc(invite), counting: true})
	t.Cleanup(func() {
		if heard := s.Requests(); len(heard) > 0 {
			t.Errorf("the site that nobody may reach was reached: %v", heard)
		}
	})
	return s
}

func invite(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Access-Control-Allow-Origin", "*")
	w.Header().Set("Access-Control-Allow-Headers", "*")
	w.WriteHeader(http.StatusNoContent)
}

func begin(t testing.TB, s *Site) *Site {
	t.Helper()
	if err := s.listen("127.0.0.1:0"); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Stop)
	return s
}

// Requests returns what has come so far, the oldest first.
func (s *Site) Requests() []Request {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return append([]Request(nil), s.requests...)
}

// Stop ends the server at once and all its connections, as when the network goes.
func (s *Site) Stop() { s.server.Close() }

// Resume serves again, at the same address.
func (s *Site) Resume(t testing.TB) {
	t.Helper()
	if err := s.listen(strings.TrimPrefix(s.URL, "http://")); err != nil {
		t.Fatal(err)
	}
}

func (s *Site) listen(address string) error {
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return err
	}
	s.URL = "http://" + listener.Addr().String()
	s.server = &http.Server{Handler: s, ErrorLog: log.New(io.Discard, "", 0)}
	if s.counting {
		s.server.ConnState = func(_ net.Conn, state http.ConnState) {
			if state == http.StateNew {
				s.remember(Request{Time: time.Now()})
			}
		}
	}
	go s.server.Serve(listener)
	return nil
}

// framePath is the page with the frame; it is the test's own, and is not among the requests.
const framePath = "/framed-by-the-test"

func (s *Site) framed(path string, width, height int) string {
	return fmt.Sprintf("%s%s?page=%s&width=%d&height=%d", s.URL, framePath, url.QueryEscape(path), width, height)
}

// ServeHTTP remembers the request and hands it on.
func (s *Site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.URL.Path == framePath {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		fmt.Fprintf(w, `<!doctype html><title>frame</title><style>body { margin: 0 } iframe { border: 0; display: block }</style>
<iframe src="%s" width="%s" height="%s"></iframe>`, html.EscapeString(r.FormValue("page")),
			html.EscapeString(r.FormValue("width")), html.EscapeString(r.FormValue("height")))
		return
	}
	body, _ := io.ReadAll(r.Body)
	r.Body = io.NopCloser(bytes.NewReader(body))
	s.remember(Request{r.Method, r.URL.RequestURI(), r.Header.Clone(), body, time.Now()})
	s.handler.ServeHTTP(w, r)
}

func (s *Site) remember(r Request) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	s.requests = append(s.requests, r)
}

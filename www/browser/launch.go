package browser

import (
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// startLimit is how long a browser may take to start on a busy machine.
const startLimit = 60 * time.Second

// launchers tells for each engine which programs it needs (any of the names in a row will do) and how it is started.
var launchers = map[Engine]struct {
	needs  [][]string
	launch func(l *launch) (carriage, error)
}{
	Chromium: {[][]string{{"chromium", "chromium-browser"}, {"chromedriver"}}, launchChromium},
	Firefox:  {[][]string{{"firefox-esr", "firefox"}}, launchFirefox},
	WebKit:   {[][]string{{"WebKitWebDriver"}, {"Xvfb"}}, launchWebKit},
}

// launch is what a launcher works with.
type launch struct {
	t            testing.TB
	o            Options
	home         string         // private folder: profile, settings, log
	programs     []string       // paths, in the order of the launcher's needs
	capabilities map[string]any // what the session is asked for
	limit        time.Duration  // for one command
	groups       []int          // process groups started
}

// Start starts a browser with a profile of its own. Where a program is missing it skips the test and says so, but fails
// where LUNETTE_CI is set. At the end of the test the browser's whole process group is killed and its folder removed.
func Start(t testing.TB, engine Engine, o Options) *Browser {
	t.Helper()
	launcher := launchers[engine]
	if launcher.launch == nil {
		t.Fatalf("no engine is called %q", engine)
	}
	l := &launch{t: t}
	for _, names := range launcher.needs {
		l.programs = append(l.programs, program(t, engine, names))
	}

	// Not t.TempDir: a dying browser may still write, and that must not fail the test. The clean-up that is registered
	// first runs last, after the browser has ended.
	var err error
	if l.home, err = os.MkdirTemp("", "lunette-browser-"); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { retry(time.Second, func() error { return asNotYet(os.RemoveAll(l.home)) }) })
	l.o = withDefaults(o, l.home)
	if err := os.MkdirAll(l.o.Downloads, 0o755); err != nil {
		t.Fatal(err)
	}

	patience := l.o.Patience.Milliseconds()
	l.limit = max(l.o.Patience, startLimit) + 10*time.Second // later than the browser's own limits, which say more
	l.capabilities = map[string]any{"timeouts": map[string]any{"script": patience, "pageLoad": patience, "implicit": 0}}
	carriage, err := launcher.launch(l)
	if err != nil {
		log, _ := os.ReadFile(filepath.Join(l.home, "log"))
		t.Fatalf("%s: start: %v\n%s", engine, err, log)
	}
	b := &Browser{engine, l.o.Downloads, t, carriage, l.o.Patience, l.groups}
	b.Resize(l.o.Width, l.o.Height)
	return b
}

func withDefaults(o Options, home string) Options {
	if o.Patience == 0 {
		o.Patience = 20 * time.Second
	}
	if o.Width == 0 || o.Height == 0 {
		o.Width, o.Height = 1280, 900
	}
	if o.Downloads == "" {
		o.Downloads = filepath.Join(home, "downloads")
	}
	if whole, err := filepath.Abs(o.Downloads); err == nil {
		o.Downloads = whole
	}
	return o
}

// program finds one of the names, or skips or fails the test.
func program(t testing.TB, engine Engine, names []string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	reason := fmt.Sprintf("%s is missing; on Debian \"sh www/browser/install.sh %s\" installs it", names[0], engine)
	if os.Getenv("LUNETTE_CI") != "" {
		t.Fatal(reason + ", and with LUNETTE_CI set no test may be skipped")
	}
	t.Skip(reason)
	return ""
}

func launchChromium(l *launch) (carriage, error) {
	// No sandbox, since root has none; no GPU, no update, no sign-in, no wish to talk to anybody but the page's server.
	flags := []string{"--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--disable-quic",
		"--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync",
		"--no-proxy-server", "--user-data-dir=" + filepath.Join(l.home, "profile")}
	if l.o.Dark {
		flags = append(flags, "--blink-settings=preferredColorScheme=0")
	}
	if l.o.ReducedMotion {
		flags = append(flags, "--force-prefers-reduced-motion")
	}
	if l.o.ForcedColours {
		flags = append(flags, "--force-high-contrast")
	}
	l.capabilities["goog:chromeOptions"] = map[string]any{"binary": l.programs[0], "args": flags,
		"prefs": map[string]any{"download.default_directory": l.o.Downloads}}
	return l.serve(dialHTTP, func(port string) (string, []string) { return l.programs[1], []string{"--port=" + port} })
}

func launchFirefox(l *launch) (carriage, error) {
	preferences := map[string]any{
		"browser.download.dir": l.o.Downloads, "browser.download.folderList": 2, "browser.download.useDownloadDir": true,
		"layout.css.prefers-color-scheme.content-override": pick(l.o.Dark, 0, 1),
		"ui.prefersReducedMotion":                          pick(l.o.ReducedMotion, 1, 0),
		"browser.display.document_color_use":               pick(l.o.ForcedColours, 2, 1),
		"network.proxy.type":                               0,
		"browser.startup.page":                             0, // an empty one
	}
	for _, quiet := range []string{"datareporting.policy.dataSubmissionEnabled", "app.update.enabled",
		"browser.shell.checkDefaultBrowser", "network.captive-portal-service.enabled",
		"network.connectivity-service.enabled", "browser.safebrowsing.update.enabled"} {
		preferences[quiet] = false
	}
	return l.serve(dialMarionette, func(port string) (string, []string) {
		lines := "user_pref(\"marionette.port\", " + port + ");\n"
		for name, value := range preferences {
			lines += fmt.Sprintf("user_pref(%q, %#v);\n", name, value)
		}
		profile := l.write("profile/user.js", lines)
		return l.programs[0], []string{"--headless", "--marionette", "--no-remote", "--profile", profile}
	})
}

func launchWebKit(l *launch) (carriage, error) {
	if l.o.ForcedColours {
		return nil, errors.New("forced colours are unknown to WebKit: test them in the other two")
	}
	settings := "[Settings]\ngtk-enable-animations=" + pick(l.o.ReducedMotion, "0", "1") + "\n"
	l.write("config/gtk-3.0/settings.ini", settings)
	l.write("config/user-dirs.dirs", fmt.Sprintf("XDG_DOWNLOAD_DIR=%q\n", l.o.Downloads))
	// WebKit draws to a display, so it gets one that nobody sees. Xvfb chooses a free number and tells it on file 3. Without
	// a window manager a window is active while the mouse is over it, and the mouse rests in the middle of the screen: so
	// the screen is small, and the window, which may be larger, always lies there.
	numbers, told, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	defer numbers.Close()
	l.start([]*os.File{told}, nil, l.programs[1], "-displayfd", "3", "-screen", "0", "800x600x24", "-nolisten", "tcp")
	told.Close()
	numbers.SetReadDeadline(time.Now().Add(startLimit))
	var display string
	if _, err := fmt.Fscanln(numbers, &display); err != nil {
		return nil, fmt.Errorf("no display from Xvfb: %w", err)
	}
	return l.serve(dialHTTP, func(port string) (string, []string) { return l.programs[0], []string{"--port=" + port} },
		"DISPLAY=:"+display, "GDK_BACKEND=x11", "GTK_THEME=Adwaita"+pick(l.o.Dark, ":dark", ""), "NO_AT_BRIDGE=1")
}

// serve starts a driver on a free port and opens a session as soon as the port answers. If another program takes the port
// in between, the driver ends, and it tries again.
func (l *launch) serve(dial func(string, map[string]any, time.Duration) (carriage, error),
	driver func(port string) (string, []string), environment ...string) (carriage, error) {
	var err error
	for range 3 {
		var address string
		if address, err = freeAddress(); err != nil {
			return nil, err
		}
		_, port, _ := net.SplitHostPort(address)
		program, args := driver(port)
		ended := l.start(nil, environment, program, args...)
		err = retry(startLimit, func() error {
			select {
			case <-ended:
				return fmt.Errorf("%s ended by itself", program)
			default:
			}
			connection, err := net.Dial("tcp", address)
			if err == nil {
				connection.Close()
			}
			return asNotYet(err)
		})
		if err == nil {
			return dial(address, l.capabilities, l.limit)
		}
	}
	return nil, err
}

// guard is the shell's part in ending a browser: it runs the program, and kills the whole process group when the program
// ends or when its own input closes. The system closes that input even if the test dies without cleaning up.
const guard = `("$@" </dev/null; kill -9 0) & read -r nothing; kill -9 0`

// start starts a program in a process group of its own, with a private home and in English wherever it runs. The channel closes when it has ended.
func (l *launch) start(files []*os.File, environment []string, program string, args ...string) <-chan struct{} {
	l.t.Helper()
	log, err := os.OpenFile(filepath.Join(l.home, "log"), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		l.t.Fatal(err)
	}
	defer log.Close()
	c := exec.Command("/bin/sh", append([]string{"-c", guard, "guard", program}, args...)...)
	c.Stdout, c.Stderr, c.ExtraFiles = log, log, files
	c.Env = append(os.Environ(), "HOME="+l.home, "TMPDIR="+l.home,
		"XDG_CONFIG_HOME="+filepath.Join(l.home, "config"), "XDG_CACHE_HOME="+filepath.Join(l.home, "cache"),
		"XDG_DATA_HOME="+filepath.Join(l.home, "data"), "LC_ALL=C.UTF-8", "LANGUAGE=en")
	c.Env = append(c.Env, environment...)
	c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	input, err := c.StdinPipe()
	if err == nil {
		err = c.Start()
	}
	if err != nil {
		l.t.Fatalf("start %s: %v", program, err)
	}
	ended := make(chan struct{})
	go func() { c.Wait(); close(ended) }()
	l.groups = append(l.groups, c.Process.Pid)
	l.t.Cleanup(func() { input.Close(); <-ended })
	return ended
}

// write writes a file of settings below the private home and returns its folder.
func (l *launch) write(name, content string) string {
	l.t.Helper()
	path := filepath.Join(l.home, filepath.FromSlash(name))
	err := os.MkdirAll(filepath.Dir(path), 0o755)
	if err == nil {
		err = os.WriteFile(path, []byte(content), 0o644)
	}
	if err != nil {
		l.t.Fatal(err)
	}
	return filepath.Dir(path)
}

// freeAddress returns an address of this machine that nothing listens on.
func freeAddress() (string, error) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	defer listener.Close()
	return listener.Addr().String(), nil
}

func asNotYet(err error) error {
	if err == nil {
		return nil
	}
	return notYet{err}
}

func pick[T any](condition bool, yes, no T) T {
	if condition {
		return yes
	}
	return no
}

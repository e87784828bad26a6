package browser

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The script sees no program but these: each stub writes its name and arguments to standard output.
func TestInstallationAsksForWhatIsMissingAndNoMore(t *testing.T) {
	shell, err := exec.LookPath("sh")
	require.NoError(t, err)
	const every = "chromium chromedriver firefox WebKitWebDriver Xvfb node"
	const install = "apt-get -q update\napt-get -q -y -o DPkg::Lock::Timeout=300 install --no-install-recommends "
	tests := []struct {
		name      string
		expected  string // with standard error
		succeeds  bool
		arguments string
		present   string
		user      string
	}{
		{"all is there", "", true, "chromium firefox webkit nodejs", every, "0"},
		{"nothing asked for", "", true, "", "", "1000"},
		{"as root", "install.sh: missing: chromedriver. Installing chromium-driver\n" + install + "chromium-driver\n",
			true, "chromium", "chromium apt-get", "0"},
		{"several at once", "install.sh: missing: chromium firefox-esr WebKitWebDriver Xvfb node. " +
			"Installing chromium firefox-esr webkit2gtk-driver xvfb nodejs\n" +
			install + "chromium firefox-esr webkit2gtk-driver xvfb nodejs\n",
			true, "chromium firefox webkit nodejs", "chromedriver apt-get", "0"},
		{"with sudo", "install.sh: missing: Xvfb. Installing xvfb\nsudo " + strings.Replace(install, "\n", "\nsudo ", 1) + "xvfb\n",
			true, "webkit", "WebKitWebDriver apt-get sudo", "1000"},
		{"no network", "install.sh: missing: node. Installing nodejs\napt-get -q update\ninstall.sh: apt-get could not install nodejs: " +
			"see its message above, install them by hand, then try again.\n", false, "nodejs", "apt-get-that-fails", "0"},
		{"neither root nor sudo", "install.sh: missing: node. Run this as root, then try again: " +
			"apt-get update && apt-get install --no-install-recommends nodejs\n", false, "nodejs", "apt-get", "1000"},
		{"another system", "install.sh: missing: firefox-esr. This system has no apt-get: install by its own means what Debian " +
			"calls firefox-esr, then try again.\n", false, "firefox", "sudo", "1000"},
		{"another engine", "install.sh: \"lynx\" is unknown; known are chromium, firefox, webkit, nodejs, npm, xz and references\n",
			false, "lynx", "apt-get", "0"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			folder := t.TempDir()
			stub := func(name, body string) {
				path := filepath.Join(folder, name)
				require.NoError(t, os.WriteFile(path, []byte("#!"+shell+"\n"+body+"\n"), 0o755))
			}
			stub("id", "echo "+test.user)
			for name := range strings.FieldsSeq(test.present) {
				name, fails := strings.CutSuffix(name, "-that-fails")
				stub(name, `echo "`+name+` $*"`+pick(fails, "; exit 100", ""))
			}
			command := exec.Command(shell, append([]string{"install.sh"}, strings.Fields(test.arguments)...)...)
			command.Env = []string{"PATH=" + folder}
			output, err := command.CombinedOutput()
			assert.Equal(t, test.expected, string(output))
			assert.Equal(t, test.succeeds, err == nil, err)
		})
	}
}

// What the script installs and what Start looks for must not drift apart.
func TestInstallationKnowsEveryProgram(t *testing.T) {
	script, err := os.ReadFile("install.sh")
	require.NoError(t, err)
	for engine, launcher := range launchers {
		assert.Contains(t, string(script), "\n\t"+string(engine)+")\n")
		for _, names := range launcher.needs {
			quoted := strings.Join(names, " ")
			if len(names) > 1 {
				quoted = `"` + quoted + `"`
			}
			assert.Contains(t, string(script), "need "+quoted+" ")
		}
	}
}

// Package outside runs programs from outside the project that tests compare with: coreutils, binutils, Python.
//
// On a contributor's machine a missing program skips the test and says so. Where LUNETTE_CI is set nothing may be skipped
// and it fails. As wasm under Node no process can be started: there the test is skipped, since it has run natively.
package outside

import (
	"bytes"
	"os"
	"os/exec"
	"runtime"
	"testing"
)

// Tool returns the path of the named program, or skips or fails the test.
func Tool(t testing.TB, name string) string {
	t.Helper()
	if runtime.GOOS == "js" {
		t.Skip(name + " cannot be started from wasm; the native run of this test compares with it")
	}
	path, err := exec.LookPath(name)
	switch {
	case err == nil:
		return path
	case os.Getenv("LUNETTE_CI") != "":
		t.Fatalf("%s is missing, and with LUNETTE_CI set no test may be skipped", name)
	default:
		t.Skipf("%s is not installed", name)
	}
	return ""
}

// Run runs the named program with stdin and returns what it wrote to standard output; the test fails when it ends in an
// error.
func Run(t testing.TB, name string, stdin []byte, args ...string) []byte {
	t.Helper()
	command := exec.Command(Tool(t, name), args...)
	command.Stdin = bytes.NewReader(stdin)
	var complaints bytes.Buffer
	command.Stderr = &complaints
	output, err := command.Output()
	if err != nil {
		t.Fatalf("%s %q: %v\n%s", name, args, err, complaints.String())
	}
	return output
}

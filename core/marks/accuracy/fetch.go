package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// A corpus is a folder of Debian packages, fetched with apt-get and unpacked with dpkg-deb when first asked for.
type corpus struct{ dir string }

// unpack returns the folder with the package's files, or "" with a note on stderr when Debian does not carry it.
func (c corpus) unpack(pkg string) string {
	root := filepath.Join(c.dir, "x", pkg)
	if _, err := os.Stat(root); err == nil {
		return root
	}
	debs := filepath.Join(c.dir, "debs")
	os.MkdirAll(debs, 0o755)
	found, _ := filepath.Glob(filepath.Join(debs, pkg+"_*.deb"))
	if len(found) == 0 {
		get := exec.Command("apt-get", "download", "-qq", pkg)
		get.Dir = debs
		get.Run()
		found, _ = filepath.Glob(filepath.Join(debs, pkg+"_*.deb"))
	}
	if len(found) == 0 {
		os.MkdirAll(root, 0o755) // not asked for again; not every library exists for every machine
		return root
	}
	if out, err := exec.Command("dpkg-deb", "-x", found[0], root).CombinedOutput(); err != nil {
		fmt.Fprintf(os.Stderr, "package %s: %v: %s\n", pkg, err, out)
		return ""
	}
	return root
}

// files returns the regular files below the package's root whose names match the pattern of path/filepath.
func (c corpus) files(pkg, pattern string) []string {
	root := c.unpack(pkg)
	if root == "" {
		return nil
	}
	found, _ := filepath.Glob(filepath.Join(root, pattern))
	return found
}

// walk returns all regular files of the package, symbolic links left out.
func (c corpus) walk(pkg string) []string {
	root := c.unpack(pkg)
	if root == "" {
		return nil
	}
	var all []string
	filepath.WalkDir(root, func(path string, d os.DirEntry, err error) error {
		if err == nil && d.Type().IsRegular() && !strings.Contains(path, "/doc/") {
			all = append(all, path)
		}
		return nil
	})
	return all
}

package main

import (
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"path"
	"path/filepath"
	"strings"
)

// A loader reads the packages of this module, without their tests and generated files. Of any other package it knows only
// the name: no result has a field of a type from there.
type loader struct {
	files  *token.FileSet
	module string // the module's path
	root   string // its folder
	known  map[string]*types.Package
}

// load returns the package in folder dir of the module around it.
func load(dir string) (*types.Package, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	root, module, err := moduleOf(dir)
	if err != nil {
		return nil, err
	}
	inside, err := filepath.Rel(root, dir)
	if err != nil {
		return nil, err
	}
	l := &loader{files: token.NewFileSet(), module: module, root: root, known: make(map[string]*types.Package)}
	return l.Import(path.Join(module, filepath.ToSlash(inside)))
}

// moduleOf returns the folder and the path of the module that dir is in.
func moduleOf(dir string) (root, module string, err error) {
	for root = dir; ; root = filepath.Dir(root) {
		text, err := os.ReadFile(filepath.Join(root, "go.mod"))
		if err == nil {
			line, _, _ := strings.Cut(string(text), "\n")
			return root, strings.TrimSpace(strings.TrimPrefix(line, "module ")), nil
		}
		if root == filepath.Dir(root) {
			return "", "", fmt.Errorf("%s is in no module: neither it nor a folder above has a go.mod", dir)
		}
	}
}

// Import returns the package with the given path; it makes a loader a types.Importer.
func (l *loader) Import(name string) (*types.Package, error) {
	if known := l.known[name]; known != nil {
		return known, nil
	}
	inside, ours := strings.CutPrefix(name+"/", l.module+"/")
	if !ours {
		other := types.NewPackage(name, path.Base(name))
		other.MarkComplete()
		l.known[name] = other
		return other, nil
	}
	files, err := l.parse(filepath.Join(l.root, filepath.FromSlash(inside)))
	if err != nil {
		return nil, err
	}
	// What is used of other packages counts as an error, and so does a call of what is yet to be generated. Fields whose
	// type stays unknown are refused later.
	config := types.Config{Importer: l, IgnoreFuncBodies: true, Error: func(error) {}}
	l.known[name], _ = config.Check(name, l.files, files, nil)
	return l.known[name], nil
}

func (l *loader) parse(dir string) ([]*ast.File, error) {
	names, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		return nil, err
	}
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") || filepath.Base(name) == output {
			continue
		}
		file, err := parser.ParseFile(l.files, name, nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		files = append(files, file)
	}
	if len(files) == 0 {
		return nil, errors.New("no Go files in " + dir)
	}
	return files, nil
}

package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"sort"
	"strings"
)

// sources is what can be read off the project's Go files.
type sources struct {
	files    []source
	packages []*pkg // by path
}

type source struct{ path string } // from the root, with slashes

// pkg is one folder of Go files.
type pkg struct {
	path       string // as the go command takes it: ./renderer/units
	tested     bool
	concurrent bool     // starts a goroutine or uses sync, in code or tests
	fuzz       []string // fuzz targets, sorted
}

// readSources parses every Go file of the project but those the go command
// passes over.
func readSources(root string) (sources, error) {
	var s sources
	byPath := map[string]*pkg{}
	err := filepath.WalkDir(root, func(full string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() {
			if full != root && (name == "testdata" || strings.HasPrefix(name, ".") || strings.HasPrefix(name, "_")) {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(name, ".go") {
			return nil
		}
		rel, err := filepath.Rel(root, full)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		file, err := parser.ParseFile(token.NewFileSet(), full, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		s.files = append(s.files, source{rel})
		dir := "./" + path.Dir(rel)
		p := byPath[dir]
		if p == nil {
			p = &pkg{path: dir}
			byPath[dir] = p
			s.packages = append(s.packages, p)
		}
		p.add(file, strings.HasSuffix(name, "_test.go"))
		return nil
	})
	sort.Slice(s.packages, func(a, b int) bool { return s.packages[a].path < s.packages[b].path })
	for _, p := range s.packages {
		sort.Strings(p.fuzz)
	}
	return s, err
}

func (p *pkg) add(file *ast.File, test bool) {
	for _, imp := range file.Imports {
		switch imp.Path.Value {
		case `"sync"`, `"sync/atomic"`, `"golang.org/x/sync/errgroup"`:
			p.concurrent = true
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GoStmt:
			p.concurrent = true
		case *ast.FuncDecl:
			if !test || n.Recv != nil {
				break
			}
			switch name := n.Name.Name; {
			case strings.HasPrefix(name, "Fuzz"):
				p.fuzz = append(p.fuzz, name)
				p.tested = true
			case strings.HasPrefix(name, "Test"), strings.HasPrefix(name, "Example"):
				p.tested = true
			}
		}
		return true
	})
}

package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// house says how the house is built: "a: b c" lets package a import b and c
// and all that they may. Names without a slash stand under renderer/; site,
// themes and cmd stand at the top. Tests may import what they like.
const house = `
finding:
units: finding
strict: units
published:
trace:
memo:
hands:
basis: units
geometry: units
climate: basis strict
material: basis strict
detail: material climate trace memo hands
schema: detail
thermal: basis material
dynamic: basis
moisture: basis
ground: basis
energy: basis
bearing: basis
carbon: basis
codes: basis
takeoff: basis
section: detail geometry
heatflow: geometry basis hands
continuity: section
figures: detail thermal moisture dynamic ground energy bearing carbon takeoff codes heatflow continuity
building: figures
drawing: units themes/fonts
drawing/svg: drawing
drawing/pdf: drawing
drawing/pdf/pdftest:
drawing/code: drawing
binder: drawing/pdf drawing/code
sheet: drawing figures section
themes/fonts:
themes: themes/fonts
site/prose: figures
site/page: site/prose sheet themes drawing/svg
site/search: figures
site/tree: trace
site/specimen:
site/revision: building
site/cited: site/prose
site: site/page site/search site/revision site/cited site/tree binder
cmd/wythe: site schema
cmd/verify:
`

// TestImports holds the tree to the house. It reads the sources itself: a
// pass that asks the go command is cached and misses new imports.
func TestImports(t *testing.T) {
	direct := map[string][]string{}
	for _, line := range strings.Split(strings.TrimSpace(house), "\n") {
		name, rest, ok := strings.Cut(line, ":")
		if !ok {
			t.Fatalf("house line %q has no colon", line)
		}
		direct[packagePath(name)] = strings.Fields(rest)
	}
	var reach func(p string, into map[string]bool)
	reach = func(p string, into map[string]bool) {
		for _, d := range direct[p] {
			if q := packagePath(d); !into[q] {
				into[q] = true
				reach(q, into)
			}
		}
	}
	root := filepath.Join("..", "..")
	checked := 0
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return err
		}
		rel, err := filepath.Rel(root, filepath.Dir(file))
		if err != nil {
			return err
		}
		if strings.HasPrefix(filepath.ToSlash(rel), "published") {
			return nil
		}
		pkg := "wythe/" + filepath.ToSlash(rel)
		if strings.Contains(pkg, "/testdata") {
			return nil
		}
		allowed := map[string]bool{}
		reach(pkg, allowed)
		if _, known := direct[pkg]; !known {
			t.Errorf("%s: package %s is not in the house; add a line for it", file, pkg)
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, imp := range parsed.Imports {
			name, err := strconv.Unquote(imp.Path.Value)
			if err != nil {
				return err
			}
			if strings.HasPrefix(name, "wythe/") && !allowed[name] {
				t.Errorf("%s imports %s, which the house does not allow %s", file, name, pkg)
			}
		}
		checked++
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if checked == 0 {
		t.Fatal("no source was read")
	}
}

func packagePath(name string) string {
	first, _, _ := strings.Cut(name, "/")
	switch first {
	case "site", "themes", "cmd":
		return "wythe/" + name
	}
	return "wythe/renderer/" + name
}

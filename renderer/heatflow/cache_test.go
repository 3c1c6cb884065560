package heatflow

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"testing"
)

func onlyFile(t *testing.T, folder string) string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil || len(files) != 1 {
		t.Fatalf("files %v, %v", files, err)
	}
	hidden, _ := filepath.Glob(filepath.Join(folder, ".heat-*"))
	if len(hidden) != 0 {
		t.Fatalf("left behind: %v", hidden)
	}
	return files[0]
}

func sameField(t *testing.T, a, b *Field) {
	t.Helper()
	if len(a.t) != len(b.t) || a.Unknowns() != b.Unknowns() || a.Rounds != b.Rounds || a.Residual() != b.Residual() || a.ErrorEstimate() != b.ErrorEstimate() || a.TemperatureError() != b.TemperatureError() {
		t.Fatal("fields differ")
	}
	for i := range a.t {
		if a.t[i] != b.t[i] {
			t.Fatalf("node %d: %g and %g", i, a.t[i], b.t[i])
		}
	}
	for i, q := range a.HeatFlow() {
		if b.HeatFlow()[i] != q {
			t.Fatal("heat flows differ")
		}
	}
	sa, _ := a.ColdestOf(0)
	sb, _ := b.ColdestOf(0)
	if sa != sb {
		t.Fatal("coldest places differ")
	}
	if la, lb := len(a.FlowLines(8, 1e-3)), len(b.FlowLines(8, 1e-3)); la != lb {
		t.Fatal("flow lines differ")
	}
}

func TestCacheKeepsAndMends(t *testing.T) {
	for name, p := range map[string]*Problem{"rim": femCases(t)[0].problem(), "three rooms": femCases(t)[2].problem(), "foil": filmCase(0.0002, 200), "held": angleWall(1, 2, 1, 0, 0)} {
		c := Cache{t.TempDir()}
		fresh, kept, err := c.Solve(p, Options{})
		if err != nil || kept {
			t.Fatalf("%s: kept %v, %v", name, kept, err)
		}
		file := onlyFile(t, c.Folder)
		good, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		again, kept, err := c.Solve(p, Options{})
		if err != nil || !kept {
			t.Fatalf("%s: solved again: %v", name, err)
		}
		sameField(t, fresh, again)
		// Damage of every kind is ignored and mended.
		flipped := bytes.Clone(good)
		flipped[len(flipped)-5] ^= 1
		otherKey := bytes.Clone(good)
		otherKey[len(magic)+3] ^= 1
		otherVersion := bytes.Replace(good, []byte(magic), []byte("wythe.heat.0\n"), 1)
		for kind, b := range map[string][]byte{
			"empty": {}, "cut off": good[:len(good)/2], "flipped": flipped, "another's": []byte("PNG picture"), "another key": otherKey,
			"another version": otherVersion, "longer": append(bytes.Clone(good), 0),
		} {
			if err := os.WriteFile(file, b, 0o666); err != nil {
				t.Fatal(err)
			}
			f, kept, err := c.Solve(p, Options{})
			if err != nil || kept {
				t.Fatalf("%s, %s: kept %v, %v", name, kind, kept, err)
			}
			sameField(t, fresh, f)
			if b, err := os.ReadFile(onlyFile(t, c.Folder)); err != nil || !bytes.Equal(b, good) {
				t.Errorf("%s, %s: not mended as it was", name, kind)
			}
		}
	}
}

// What changes the field changes the entry; temperatures and names do not.
func TestCacheKnowsContent(t *testing.T) {
	base := filmCase(0.0002, 200)
	key := contentKey(base, Options{})
	for name, change := range map[string]func(p *Problem){
		"point":        func(p *Problem) { p.Points[0].X++ },
		"edge":         func(p *Problem) { p.Edges[0].Surface = 1 - p.Edges[0].Surface },
		"conductivity": func(p *Problem) { p.Regions[1].Conductivity *= 1 + 1e-15 },
		"resistance":   func(p *Problem) { p.Surfaces[1].Resistance += 1e-9 },
		"film":         func(p *Problem) { p.Films[0].Thickness *= 2 },
		"space":        func(p *Problem) { p.Spaces = append(p.Spaces, Space{"third", 5}) },
	} {
		p := filmCase(0.0002, 200)
		change(p)
		if contentKey(p, Options{}) == key {
			t.Errorf("another %s has the same key", name)
		}
	}
	if contentKey(base, Options{Tolerance: 0.01}) == key {
		t.Error("another tolerance has the same key")
	}
	if contentKey(base, Options{Tolerance: 0.002}) != key {
		t.Error("the usual tolerance, said, has another key")
	}
	c := Cache{t.TempDir()}
	if _, _, err := c.Solve(base, Options{}); err != nil {
		t.Fatal(err)
	}
	warm := filmCase(0.0002, 200)
	warm.Spaces = []Space{{"room", 24}, {"yard", 3}}
	f, kept, err := c.Solve(warm, Options{})
	if err != nil || !kept {
		t.Fatalf("solved again for another temperature: %v", err)
	}
	direct := solved(t, warm, 0)
	sameField(t, direct, f)
	sameField(t, direct, solved(t, base, 0).With([]float64{24, 3}))
}

// A folder that cannot be written is no error.
func TestCacheWithoutFolder(t *testing.T) {
	blocked := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(blocked, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	for _, c := range []Cache{{}, {filepath.Join(blocked, "under")}} {
		f, kept, err := c.Solve(metalCase(), Options{})
		if err != nil || kept || f == nil {
			t.Errorf("%q: kept %v, %v", c.Folder, kept, err)
		}
	}
}

func TestWithIsNearlyFree(t *testing.T) {
	f := solved(t, metalCase(), 0.002)
	g := f.With([]float64{30, 0})
	q, r := f.HeatFlow(), g.HeatFlow()
	isNear(t, "half as much again", r[0], 1.5*q[0], 1e-9*q[0])
	if math.Abs(f.HeatFlow()[0]-q[0]) != 0 {
		t.Error("the first field changed")
	}
}

// On the mesh of a solved field, other surface resistances take one solve; from
// the cache none.
func TestOtherSurfacesOnTheSameMesh(t *testing.T) {
	p := femCases(t)[0].problem()
	c := Cache{t.TempDir()}
	f, _, err := c.Solve(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	mold := *p
	mold.Surfaces = append([]Surface(nil), p.Surfaces...)
	for i := range mold.Surfaces {
		mold.Surfaces[i].Resistance *= 2
	}
	g, err := c.SolveOn(f, &mold, Options{})
	if err != nil {
		t.Fatal(err)
	}
	again, err := c.SolveOn(f, &mold, Options{})
	if err != nil {
		t.Fatal(err)
	}
	sameField(t, g, again)
	if files, _ := filepath.Glob(filepath.Join(c.Folder, "*")); len(files) != 2 {
		t.Errorf("%d entries, want 2", len(files))
	}
	direct := solved(t, &mold, 0)
	a, _ := g.L2D()
	b, _ := direct.L2D()
	isNear(t, "L2D", a, b, (g.ErrorEstimate()+direct.ErrorEstimate())*b)
	if g.ErrorEstimate() > 0.002 {
		t.Errorf("error %g", g.ErrorEstimate())
	}
}

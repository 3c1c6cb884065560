package search

import (
	"bytes"
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wythe/renderer/memo"
)

func TestTerms(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"F-101", "f101 f 101"},
		{"Basement slab, heated", "basement slab heated"},
		{"air-tight", "air tight"},
		{"07 26 00", "07 26 00"},
		{"0.01 perm. Next", "001 0 01 perm next"},
		{"--a--b", "a b"},
		{"½ in", "½ in"},
		{"Öl und Äther", "öl und äther"},
		{"end-", "end"},
		{"", ""},
	} {
		var got []string
		eachTerm(c.text, func(s string) { got = append(got, s) })
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%q: %q; want %q", c.text, s, c.want)
		}
	}
}

func TestCommon(t *testing.T) {
	for term, want := range map[string]bool{"the": true, "a": true, "an": true, "with": true, "th": false, "he": false, "slab": false, "to": true, "tho": false} {
		if got := common(term); got != want {
			t.Errorf("%q: %v", term, got)
		}
	}
}

// data takes a script's value apart.
func data(t *testing.T, script []byte, into any) {
	t.Helper()
	_, value, ok := bytes.Cut(bytes.TrimSuffix(script, []byte(");\n")), []byte(","))
	if !ok {
		t.Fatalf("%s", script)
	}
	if err := json.Unmarshal(value, into); err != nil {
		t.Fatalf("%s: %v", value, err)
	}
}

func TestBuild(t *testing.T) {
	docs := []Doc{
		{Kind: "detail", Mark: "F-1", Title: "Slab", Href: "F-1/index.html", Thumb: "F-1/thumb.svg", Materials: []string{"concrete", "concrete"}, Body: []string{"The slab, the film."}},
		{Kind: "specification", Mark: "07 26 00", Title: "Film", Href: "specs/07-26-00/index.html", Specs: []string{"07 26 00"}, State: "superseded"},
	}
	index := Build(docs, nil)
	var main struct {
		Docs, Lengths, Terms string
		Averages             []float64
	}
	data(t, index.Main, &main)
	if want := "F-1\tSlab\t\t+\n07 26 00\tFilm\tspecs/07-26-00/index.html\t\tspecification\tsuperseded"; main.Docs != want {
		t.Errorf("documents %q; want %q", main.Docs, want)
	}
	if want := "3 3\n1 1\n1 0\n0 0\n0 5\n2 0"; main.Lengths != want {
		t.Errorf("lengths %q; want %q", main.Lengths, want)
	}
	if diff := cmp.Diff([]float64{3, 1, .5, 0, 2.5, 1}, main.Averages); diff != "" {
		t.Error(diff)
	}
	if want := "00\t4:1\n07\t4:1\n0726\t4:1\n072600\t4:1\n26\t4:1\nconcrete\t2:0*2\n"; main.Terms != want {
		t.Errorf("terms %q; want %q", main.Terms, want)
	}
	var words []string
	for _, part := range index.Words {
		var text string
		data(t, part.Data, &text)
		words = append(words, part.Begin, text)
	}
	if diff := cmp.Diff([]string{"f", "film\t5:0\n", "s", "slab\t5:0\n"}, words); diff != "" {
		t.Error(diff)
	}
}

// TestBuildByWayOfAStore: what a store gave is as what was read, also where it
// is damaged.
func TestBuildByWayOfAStore(t *testing.T) {
	file := filepath.Join(t.TempDir(), "store")
	docs := []Doc{
		{Mark: "F-1", Title: "Slab", Materials: []string{"concrete", "concrete"}, Body: []string{"The slab, the film, the slab."}},
		{Mark: "F-2", Title: "Slab on 1/2 in foam", Trades: []string{"concrete"}, Specs: []string{"07 26 00"}, Body: []string{"See F-1.", "Élan"}},
		{Title: "Nothing"},
	}
	for run := range 4 {
		docs[1].Body[1] = fmt.Sprint("Run ", run)
		store := memo.Open(file, "v")
		if run == 2 {
			for i := range docs {
				store.Put("terms/"+docs[i].hash(), "\x01\x05slab")
			}
		}
		want, got := Build(docs, nil), Build(docs, store)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("run %d (-want +got):\n%s", run, diff)
		}
		if _, ok := store.Get("terms/" + docs[0].hash()); !ok {
			t.Errorf("run %d: nothing is kept", run)
		}
		if err := store.Save(); err != nil {
			t.Fatal(err)
		}
	}
}

func BenchmarkBuild(b *testing.B) {
	text := strings.Repeat("Lap the film 6 in, wipe, tape and roll. Screw battens over the studs, screen foot and head, hang the siding. ", 12)
	docs := make([]Doc, 1000)
	for i := range docs {
		docs[i] = Doc{Mark: "F-" + string(rune('0'+i%10)), Title: "Slab", Body: []string{text}}
	}
	for b.Loop() {
		Build(docs, nil)
	}
}

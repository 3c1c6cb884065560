package schema

import (
	"bytes"
	"encoding/json"
	"slices"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"wythe/renderer/climate"
	"wythe/renderer/detail"
	"wythe/renderer/material"
)

// compiled compiles every schema, each valid against the draft's own schema.
func compiled(t *testing.T) map[string]*jsonschema.Schema {
	t.Helper()
	out := map[string]*jsonschema.Schema{}
	for _, f := range Files([]string{"concrete", "XPS type IV"}) {
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(f.Data))
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		c := jsonschema.NewCompiler()
		if err := c.AddResource(f.Name+".schema.json", doc); err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		s, err := c.Compile(f.Name + ".schema.json")
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		if s.DraftVersion != 2020 {
			t.Errorf("%s is of draft %d", f.Name, s.DraftVersion)
		}
		out[f.Name] = s
	}
	return out
}

func TestKeysOfMaterialsAndClimates(t *testing.T) {
	names := func(list []property) []string {
		var out []string
		for _, p := range list {
			out = append(out, p.name)
		}
		return out
	}
	if got, want := append([]string{"material"}, names(materialProperties)...), material.Keys(); !slices.Equal(got, want) {
		t.Errorf("a material has %q; the reader knows %q", got, want)
	}
	file, design := climate.Keys()
	if got := names(climateProperties); !sameSet(got, file) {
		t.Errorf("a climate has %q; the reader knows %q", got, file)
	}
	if got := names(designProperties); !sameSet(got, design) {
		t.Errorf("design conditions have %q; the reader knows %q", got, design)
	}
}

func sameSet(a, b []string) bool {
	a, b = slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b))
	return slices.Equal(a, b)
}

// TestEveryKeyIsDescribed: what an editor shows beside a key is what the
// reference says of it, and every definition that is named is there.
func TestEveryKeyIsDescribed(t *testing.T) {
	compiled(t)
	for _, f := range Files(nil) {
		var doc struct {
			Defs map[string]struct {
				Description string
				Properties  map[string]struct{ Description string }
			} `json:"$defs"`
		}
		if err := json.Unmarshal(f.Data, &doc); err != nil {
			t.Fatal(err)
		}
		if len(doc.Defs) == 0 {
			t.Errorf("%s has no definitions", f.Name)
		}
		for name, d := range doc.Defs {
			if d.Description == "" {
				t.Errorf("%s: %s says nothing", f.Name, name)
			}
			for key, p := range d.Properties {
				if p.Description == "" {
					t.Errorf("%s: %s of %s says nothing", f.Name, key, name)
				}
			}
		}
		for _, k := range detail.Kinds() {
			d, there := doc.Defs[defName(k.Kind)]
			if there && len(d.Properties) != len(k.Names()) {
				t.Errorf("%s: %s has %d keys, the reader %d", f.Name, k.Kind, len(d.Properties), len(k.Names()))
			}
		}
		if again := Files(nil); !bytes.Equal(again[0].Data, Files(nil)[0].Data) {
			t.Error("not the same twice")
		}
	}
}

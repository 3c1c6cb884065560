package schema

import (
	"fmt"

	"wythe/renderer/detail"
)

// draft is the schemas' own schema.
const draft = "https://json-schema.org/draft/2020-12/schema"

// File is one schema.
type File struct {
	Name string // "assembly": of assembly.schema.json
	Says string // what it is of, in one line
	Data []byte
}

// builder holds what all schemas share.
type builder struct {
	kinds     map[string]*detail.Keys
	materials []string
}

// front are the kinds of front matter, with the key that decides for each.
var front = []struct{ name, kind, decides string }{
	{"assembly", "assembly", "layers"},
	{"junction", "junction", "parts"},
	{"specification", "specification section", "section"},
	{"building", "building", "areas"},
	{"prose", "prose", ""},
}

// Files returns all schemas: detail (any front matter), each kind of front
// matter, library, materials and climate. materials are the names to offer;
// others are not refused, since the office's table may have grown since.
func Files(materials []string) []File {
	b := &builder{kinds: map[string]*detail.Keys{}, materials: materials}
	for _, k := range detail.Kinds() {
		b.kinds[k.Kind] = k
	}
	files := []File{b.file("detail", "The front matter of any detail file.", b.any())}
	for _, f := range front {
		k := b.kind(f.kind)
		files = append(files, b.file(f.name, k.Says, ref(f.kind)))
	}
	return append(files,
		b.file("library", b.kind("library").Says, ref("library")),
		b.file("materials", "The office's own materials: materials.yaml.", object{{"type", "array"}, {"items", ref("material entry")}}),
		b.file("climate", "One climate: climates/NAME.yaml.", ref("climate")),
	)
}

// kind returns the keys of a kind. It panics where there is none: that is a
// slip of this package.
func (b *builder) kind(name string) *detail.Keys {
	k := b.kinds[name]
	if k == nil {
		panic(fmt.Sprintf("schema: no kind %q", name))
	}
	return k
}

// file makes a schema of a root, with the definitions that it needs.
func (b *builder) file(name, says string, root object) File {
	defs := b.needed(root)
	o := object{{"$schema", draft}, {"title", name}, {"description", says}}
	o = append(o, root...)
	o = o.set("$defs", defs)
	return File{Name: name, Says: says, Data: o.print()}
}

// any is the front matter of any file: what it is follows from the keys that
// are there, as it does for the reader.
func (b *builder) any() object {
	var rest any = ref("prose")
	for i := len(front) - 1; i >= 0; i-- {
		if f := front[i]; f.decides != "" {
			rest = object{{"if", object{{"required", []string{f.decides}}}}, {"then", ref(f.kind)}, {"else", rest}}
		}
	}
	return append(object{{"type", "object"}}, rest.(object)...)
}

// needed returns the definitions that a schema refers to, directly or not, in
// the order of the reader's tables.
func (b *builder) needed(root object) object {
	all := b.definitions()
	have := map[string]bool{}
	var reach func(any)
	reach = func(v any) {
		switch v := v.(type) {
		case object:
			for _, m := range v {
				if m.name != "$ref" {
					reach(m.value)
					continue
				}
				name := m.value.(string)[len("#/$defs/"):]
				if have[name] {
					continue
				}
				have[name] = true
				for _, d := range all {
					if d.name == name {
						reach(d.value)
					}
				}
			}
		case []any:
			for _, i := range v {
				reach(i)
			}
		}
	}
	reach(root)
	var out object
	for _, d := range all {
		if have[d.name] {
			out = append(out, d)
		}
	}
	return out
}

// titled are the kinds whose title must be there, beside the keys that their
// tables mark.
var titled = map[string]bool{"assembly": true, "junction": true, "specification section": true, "building": true}

// definitions are those of all kinds, and of what stands in other files.
func (b *builder) definitions() object {
	var defs object
	for _, k := range detail.Kinds() {
		o := object{{"description", k.Says}, {"type", "object"}}
		var properties object
		var required []string
		for _, key := range k.List {
			properties = properties.set(key.Name, described(b.valueOf(k, key), key.Says))
			if key.Must || key.Name == "title" && titled[k.Kind] {
				required = append(required, key.Name)
			}
		}
		o = o.set("properties", properties)
		if k.Kind == "part" {
			o = o.set("patternProperties", object{{"^(left|right|bottom|top) of ", described(plain["edge"], "where these layers of an assembly end")}})
			o = o.set("allOf", kindsOfPart())
		}
		if required != nil {
			o = o.set("required", required)
		}
		defs = defs.set(defName(k.Kind), o.set("additionalProperties", false))
	}
	return append(defs, b.others()...)
}

// kindsOfPart says which keys each kind of part may have.
func kindsOfPart() []any {
	const trim = "^(left|right|bottom|top) of "
	var all []any
	var makers []any
	for _, k := range detail.KindsOfPart()[1:] {
		names := []any{object{{"enum", k.Keys}}}
		if k.Key == "assembly" {
			names = append(names, object{{"pattern", trim}})
		}
		makers = append(makers, object{{"required", []string{k.Key}}})
		all = append(all, object{{"if", object{{"required", []string{k.Key}}}}, {"then", object{{"propertyNames", anyOf(names...)}}}})
	}
	rectangle := object{{"enum", detail.KindsOfPart()[0].Keys}}
	return append(all, object{{"if", object{{"not", anyOf(makers...)}}}, {"then", object{{"propertyNames", rectangle}}}})
}

// described puts a line for the writer before a value's schema.
func described(value any, says string) object {
	return append(object{{"description", says}}, value.(object)...)
}

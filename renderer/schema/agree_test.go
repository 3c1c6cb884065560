package schema

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path"
	"strings"
	"testing"
	"testing/fstest"

	"gopkg.in/yaml.v3"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
)

// library is a folder of the corpus: its files by name.
type library struct {
	dir   string
	files map[string]string
}

func corpus(t *testing.T) []library {
	t.Helper()
	var out []library
	for _, dir := range []string{"../../details", "../detail/testdata/good", "../../cmd/wythe/starter"} {
		l := library{dir, map[string]string{}}
		err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(name, ".md") && !strings.HasSuffix(name, ".yaml") {
				return err
			}
			data, err := os.ReadFile(path.Join(dir, name))
			l.files[name] = string(data)
			return err
		})
		if err != nil || len(l.files) < 2 {
			t.Fatalf("%s: %d files, %v", dir, len(l.files), err)
		}
		out = append(out, l)
	}
	return out
}

// schemaOf names the schema that a file answers to.
func schemaOf(name string) string {
	switch {
	case strings.HasSuffix(name, ".md"):
		return "detail"
	case name == "library.yaml":
		return "library"
	case name == "materials.yaml":
		return "materials"
	case path.Dir(name) == "climates":
		return "climate"
	}
	return ""
}

// frontOf returns the YAML of a file and what stands around it.
func frontOf(name, text string) (before, yaml, after string) {
	if !strings.HasSuffix(name, ".md") {
		return "", text, ""
	}
	rest, ok := strings.CutPrefix(text, "---\n")
	if !ok {
		return "", "", text
	}
	yaml, after, _ = strings.Cut(rest, "\n---\n")
	return "---\n", yaml + "\n", "---\n" + after
}

// value turns YAML into what an editor checks: 1.2 core scalars, dates text.
func value(n *yaml.Node) any {
	switch n.Kind {
	case yaml.DocumentNode:
		return value(n.Content[0])
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			m[n.Content[i].Value] = value(n.Content[i+1])
		}
		return m
	case yaml.SequenceNode:
		list := []any{}
		for _, c := range n.Content {
			list = append(list, value(c))
		}
		return list
	}
	switch n.ShortTag() {
	case "!!null":
		return nil
	case "!!int", "!!float", "!!bool":
		var v any
		if n.Decode(&v) == nil {
			if i, ok := v.(int); ok {
				return float64(i)
			}
			return v
		}
	}
	return n.Value
}

// findings reads a library and returns what is wrong with one of its files.
func findings(t *testing.T, l library, name, text string) []finding.Item {
	t.Helper()
	fsys := fstest.MapFS{}
	for n, data := range l.files {
		// A detail's neighbors are read only where it may name them.
		if n == name || strings.HasSuffix(n, ".yaml") || strings.Contains(l.files[name], "\nparts:") && strings.Contains(data, "\nlayers:") ||
			strings.Contains(l.files[name], "\nareas:") {
			fsys[n] = &fstest.MapFile{Data: []byte(data)}
		}
	}
	fsys[name] = &fstest.MapFile{Data: []byte(text)}
	lib, err := detail.ReadFS(fsys)
	if err != nil {
		t.Fatal(err)
	}
	var out []finding.Item
	for _, i := range lib.Findings.Items {
		if i.File == name && i.Level == finding.Error {
			out = append(out, i)
		}
	}
	return out
}

func parse(t *testing.T, text string) *yaml.Node {
	t.Helper()
	var n yaml.Node
	if err := yaml.Unmarshal([]byte(text), &n); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	unfold(&n)
	return &n
}

// unfold puts each value in a line of its own, so that an emptied one prints
// as nothing.
func unfold(n *yaml.Node) {
	n.Style &^= yaml.FlowStyle
	for _, c := range n.Content {
		unfold(c)
	}
}

func TestSchemasTakeTheCorpus(t *testing.T) {
	schemas := compiled(t)
	seen := map[string]int{}
	for _, l := range corpus(t) {
		for name, text := range l.files {
			_, y, _ := frontOf(name, text)
			if y == "" || schemaOf(name) == "" {
				continue
			}
			v := value(parse(t, y))
			seen[schemaOf(name)]++
			if err := schemas[schemaOf(name)].Validate(v); err != nil {
				t.Errorf("%s/%s: %v", l.dir, name, err)
			}
			for _, f := range []struct{ key, schema string }{{"layers", "assembly"}, {"parts", "junction"}, {"section", "specification"}, {"areas", "building"}} {
				m, _ := v.(map[string]any)
				if _, is := m[f.key]; !is || schemaOf(name) != "detail" {
					continue
				}
				seen[f.schema]++
				if err := schemas[f.schema].Validate(v); err != nil {
					t.Errorf("%s/%s as %s: %v", l.dir, name, f.schema, err)
				}
			}
		}
	}
	for _, kind := range []string{"detail", "assembly", "junction", "specification", "building", "library", "materials", "climate"} {
		if seen[kind] == 0 {
			t.Errorf("no file of the corpus is of kind %s", kind)
		}
	}
}

// shape are the findings that a schema must make too: keys that are unknown,
// missing or of another kind, and values of the wrong kind.
var shape = map[string]bool{
	"unknown-key": true, "missing-key": true, "wrong-key": true, "not-a-map": true, "not-a-list": true, "not-text": true,
	"empty-value": true, "second-key": true, "unknown-word": true, "bad-section": true, "bad-point": true, "months": true,
}

// beyond are missing keys that depend on what stands beside them: a schema
// does not say them.
func beyond(i finding.Item) bool {
	for _, says := range []string{"framing needs", "edge insulation has", "belong together", "humidity of the rooms", "asks for no figure", `"hatch" is missing`,
		`"height" is missing`, `"diameter" is missing`, `"thickness" is missing`, `"joins" is missing`, `"at" is missing`, `"material" is missing`, `"inside" is missing`} {
		if strings.Contains(i.Message, says) {
			return i.Rule == "missing-key"
		}
	}
	return false
}

// TestSchemasAgreeWithTheReader breaks the corpus in one place at a time.
// Where the reader then refuses the shape, the schema must; where the reader
// takes it, the schema must take it too.
func TestSchemasAgreeWithTheReader(t *testing.T) {
	schemas := compiled(t)
	random := rand.New(rand.NewPCG(8, 2020))
	refused, taken := 0, 0
	for _, l := range corpus(t) {
		for _, name := range sortedNames(l.files) {
			before, y, after := frontOf(name, l.files[name])
			s := schemas[schemaOf(name)]
			if y == "" || s == nil {
				continue
			}
			was := map[string]bool{}
			again := func(y string) []finding.Item { return findings(t, l, name, before+y+after) }
			base, err := yaml.Marshal(parse(t, y))
			if err != nil {
				t.Fatal(err)
			}
			for _, i := range again(string(base)) {
				was[i.Rule+i.Message] = true
			}
			for range 14 {
				root := parse(t, y)
				says := mutate(root, random)
				text, err := yaml.Marshal(root)
				if err != nil {
					t.Fatal(err)
				}
				var hard, soft []finding.Item
				for _, i := range again(string(text)) {
					switch {
					case was[i.Rule+i.Message]:
					case shape[i.Rule] && !beyond(i):
						hard = append(hard, i)
					default:
						soft = append(soft, i)
					}
				}
				err = s.Validate(value(root))
				switch {
				case len(hard) > 0 && err == nil:
					t.Errorf("%s: %s: the reader says %v, the schema nothing", name, says, hard)
				case len(hard) == 0 && len(soft) == 0 && err != nil:
					t.Errorf("%s: %s: the reader says nothing, the schema %v", name, says, err)
				case err != nil:
					refused++
				default:
					taken++
				}
			}
		}
	}
	if refused < 200 || taken < 20 {
		t.Errorf("%d refused, %d taken: too few to tell", refused, taken)
	}
}

func sortedNames(files map[string]string) []string {
	names := make([]string, 0, len(files))
	for n := range files {
		names = append(names, n)
	}
	for i := range names {
		for j := i; j > 0 && names[j] < names[j-1]; j-- {
			names[j], names[j-1] = names[j-1], names[j]
		}
	}
	return names
}

// mutate breaks one place of a tree and says what it did.
func mutate(root *yaml.Node, random *rand.Rand) string {
	type spot struct {
		parent *yaml.Node
		i      int // of the value
	}
	var spots []spot
	var walk func(*yaml.Node)
	walk = func(n *yaml.Node) {
		for i, c := range n.Content {
			if n.Kind == yaml.MappingNode && i%2 == 0 {
				continue
			}
			if n.Kind != yaml.DocumentNode {
				spots = append(spots, spot{n, i})
			}
			walk(c)
		}
	}
	walk(root)
	at := spots[random.IntN(len(spots))]
	n := at.parent.Content[at.i]
	where := fmt.Sprintf("line %d", n.Line)
	isMap := at.parent.Kind == yaml.MappingNode
	scalar := func(s string) *yaml.Node { return &yaml.Node{Kind: yaml.ScalarNode, Value: s} }
	switch what := random.IntN(6); {
	case what == 0 && isMap:
		key := at.parent.Content[at.i-1]
		where += ": key " + key.Value
		at.parent.Content[at.i-1] = scalar(key.Value + "x")
		return where + " renamed"
	case what == 1 && isMap:
		where += ": key " + at.parent.Content[at.i-1].Value
		at.parent.Content = append(at.parent.Content[:at.i-1:at.i-1], at.parent.Content[at.i+1:]...)
		return where + " taken out"
	case what == 2:
		at.parent.Content[at.i] = &yaml.Node{Kind: yaml.SequenceNode, Content: []*yaml.Node{n}}
		return where + " made a list"
	case what == 3:
		at.parent.Content[at.i] = &yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{scalar("colour"), scalar("red")}}
		return where + " made a map"
	case what == 4:
		at.parent.Content[at.i] = &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!null"}
		return where + " emptied"
	}
	at.parent.Content[at.i] = scalar("some words")
	return where + " made words"
}

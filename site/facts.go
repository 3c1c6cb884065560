package site

import (
	"encoding/json"
	"strings"
	"sync"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/trace"
	"wythe/site/page"
)

// Facts are what pages of the whole library show of one detail. Each is a pure
// function of the reads it records, so that it is worked out once and taken
// from the store for as long as those give the same: a page of a thousand
// details then costs what changed. Such a page records the facts it shows, and
// not what they follow from: it stays as it is where they come out the same.

// fact is one fact, with a hash of it.
type fact[T any] struct {
	is   T
	hash string
}

// decoded is a fact as a library that is read again and again last took it from
// its store.
type decoded struct {
	text string // in the store
	fact any    // a fact[T]
}

// factOf takes a fact from the library's store, or makes it. now says what
// each read gives in the library as it stands.
func factOf[T any](l *Library, now *answers, name string, make func(v view) T) fact[T] {
	if text, ok := l.store.Get(name); ok {
		head, value, _ := strings.Cut(text, "\n")
		keys, hash, _ := strings.Cut(head, "\t")
		reads := now.all(strings.Split(keys, "\x00"))
		if reads != nil && hashOfReads(reads) == hash {
			if was, ok := l.decoded.Load(name); ok && was.(decoded).text == text {
				return was.(decoded).fact.(fact[T])
			}
			var is T
			if json.Unmarshal([]byte(value), &is) == nil {
				f := fact[T]{is, trace.Hash(value)}
				l.decoded.Store(name, decoded{text, f})
				return f
			}
		}
	}
	own := new(trace.Reads)
	is := make(l.view(own))
	value, err := json.Marshal(is)
	if err != nil {
		panic(err) // facts are made of words and numbers
	}
	reads := own.Sorted()
	if keys := namesOf(reads); !strings.ContainsAny(keys, "\t\n") {
		l.store.Put(name, keys+"\t"+hashOfReads(reads)+"\n"+string(value))
	}
	return fact[T]{is, trace.Hash(string(value))}
}

// all are reads with what they give now; nil where one cannot be told.
func (a *answers) all(keys []string) []trace.Read {
	reads := make([]trace.Read, len(keys))
	for i, key := range keys {
		hash := a.of(key)
		if hash == "" {
			return nil
		}
		reads[i] = trace.Read{Key: key, Hash: hash}
	}
	return reads
}

func namesOf(reads []trace.Read) string {
	names := make([]string, len(reads))
	for i, r := range reads {
		names[i] = r.Key
	}
	return strings.Join(names, "\x00")
}

func hashOfReads(reads []trace.Read) string {
	hashes := make([]string, len(reads))
	for i, r := range reads {
		hashes[i] = r.Hash
	}
	return trace.Hash(hashes...)
}

// facts are those of all details, in their order; each list is made when first
// asked for, on all processors.
type facts struct {
	rows   func() []fact[page.IndexRow]
	joints func() []fact[*joint] // nil of what is no junction, or has errors
	heard  func() []fact[[]heard]
	// register is of all details in one.
	register func() fact[[]Registered]
}

func (l *Library) newFacts() *facts {
	now := sync.OnceValue(func() *answers { return l.answers(nil) })
	name := func(kind string, e *entry) string { return kind + "/" + e.d.File }
	return &facts{
		rows: sync.OnceValue(func() []fact[page.IndexRow] {
			kind := "row"
			if len(l.details) > inlineThumbs {
				kind = "row with a file"
			}
			return ofAll(l, func(e *entry) fact[page.IndexRow] {
				return factOf(l, now(), name(kind, e), func(v view) page.IndexRow {
					v.View.Detail(e.d.Mark)
					return v.indexRow(e)
				})
			})
		}),
		joints: sync.OnceValue(func() []fact[*joint] {
			return ofAll(l, func(e *entry) fact[*joint] {
				if e.d.Junction == nil || e.broken {
					return fact[*joint]{}
				}
				return factOf(l, now(), name("joint", e), func(v view) *joint { return v.joint(e) })
			})
		}),
		heard: sync.OnceValue(func() []fact[[]heard] {
			return ofAll(l, func(e *entry) fact[[]heard] {
				if e.d.Junction == nil || e.broken {
					return fact[[]heard]{}
				}
				return factOf(l, now(), name("heard", e), func(v view) []heard { return v.heard(e) })
			})
		}),
		register: sync.OnceValue(func() fact[[]Registered] {
			return factOf(l, now(), "register", view.readRegister)
		}),
	}
}

// look records what a read of facts gives, and of all others of its kind.
func (f *facts) look(v view, kind string) {
	for i, e := range v.details {
		switch kind {
		case "row":
			v.reads.Record("row/"+e.d.File, f.rows()[i].hash)
		case "joint":
			v.reads.Record("joint/"+e.d.File, f.joints()[i].hash)
		}
	}
	if kind == "register" {
		v.reads.Record(kind, f.register().hash)
	}
}

// ofAll makes something of every detail, on all processors.
func ofAll[T any](l *Library, of func(e *entry) T) []T { return ofEach(l.details, of) }

// joint is what the pages of all junctions show of one.
type joint struct {
	Title     string
	Plan      bool
	Laid      []string // marks of assemblies, one for each that is laid
	Drawn     bool     // its section can be laid out
	Worst     continuity.Verdict
	Controls  []jointControl
	Handovers []continuity.Handover
}

// jointControl is what a junction proves of a control.
type jointControl struct {
	Control detail.Control
	Verdict continuity.Verdict
	Words   string
}

func (v view) joint(e *entry) *joint {
	j := v.junction(e)
	if j == nil {
		return nil
	}
	out := &joint{Title: e.d.Title, Plan: e.d.Junction.Plan, Drawn: j.Section != nil, Worst: j.Worst(), Handovers: continuity.Handovers(e.d.Mark, j.Continuity)}
	for _, p := range e.d.Junction.Parts {
		if p.Kind == detail.Laid {
			out.Laid = append(out.Laid, p.Mark)
		}
	}
	for i := range j.Continuity {
		r := &j.Continuity[i]
		out.Controls = append(out.Controls, jointControl{r.Control, r.Verdict, verdictWords(r, v.View.Settings().Units)})
	}
	return out
}

// heard is a finding that working a junction out came to.
type heard struct {
	At                  finding.Position
	Level               finding.Level
	Rule, Message, Mend string
}

func (v view) heard(e *entry) []heard {
	j := v.solved(e)
	if j == nil {
		return nil
	}
	out := make([]heard, len(j.Findings.Items))
	for i, f := range j.Findings.Items {
		out[i] = heard{f.Position, f.Level, f.Rule, f.Message, f.Mend}
	}
	return out
}

func (h heard) finding() finding.Item {
	return finding.Item{Position: h.At, Level: h.Level, Rule: h.Rule, Message: h.Message, Mend: h.Mend}
}

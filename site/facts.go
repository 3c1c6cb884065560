package site

import (
	"encoding/json"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/trace"
	"wythe/site/page"
)

// Facts are what pages of the whole library show of one detail. Each is a pure
// function of the reads it records, so that it is worked out once and taken
// from the store for as long as those give the same: a page of a thousand
// details then costs what changed.

// fact is one fact of a name and the reads that it follows from.
type fact[T any] struct {
	is    T
	reads []trace.Read
}

// factOf takes a fact from the library's store, or makes it. now says what
// each read gives in the library as it stands.
func factOf[T any](l *Library, now *answers, name string, make func(v view) T) fact[T] {
	if text, ok := l.store.Get(name); ok {
		head, value, _ := strings.Cut(text, "\n")
		keys, hash, _ := strings.Cut(head, "\t")
		reads := now.all(strings.Split(keys, "\x00"))
		var is T
		if reads != nil && hashOfReads(reads) == hash && json.Unmarshal([]byte(value), &is) == nil {
			return fact[T]{is, reads}
		}
	}
	own := new(trace.Reads)
	f := fact[T]{is: make(l.view(own)), reads: own.Sorted()}
	keys := namesOf(f.reads)
	if l.store == nil || strings.ContainsAny(keys, "\t\n") {
		return f
	}
	value, err := json.Marshal(f.is)
	if err != nil {
		panic(err) // facts are made of words and numbers
	}
	l.store.Put(name, keys+"\t"+hashOfReads(f.reads)+"\n"+string(value))
	return f
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
	}
}

// ofAll makes something of every detail, on all processors.
func ofAll[T any](l *Library, of func(e *entry) T) []T {
	out := make([]T, len(l.details))
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(out)) {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(out); i = int(next.Add(1)) - 1 {
				out[i] = of(l.details[i])
			}
		})
	}
	wait.Wait()
	return out
}

// joint is what the pages of all junctions show of one.
type joint struct {
	Drawn     bool // its section can be laid out
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
	out := &joint{Drawn: j.Section != nil, Worst: j.Worst(), Handovers: continuity.Handovers(e.d.Mark, j.Continuity)}
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

package detail

import (
	"fmt"
	"sort"

	"wythe/renderer/finding"
	"wythe/renderer/material"
	"wythe/renderer/trace"
)

// traces is what views record and look up, made once.
type traces struct {
	climate   string            // hash
	materials map[string]string // hash, by name, of those in use
	laidIn    map[string][]*Detail
	uses      map[string][]*Detail
	citedIn   map[string][]*Detail
	replaces  map[string][]*Detail
}

// trace makes the reads of each file and the lists of who names whom.
func (l *Library) trace(readers []*reader) {
	t := &l.traces
	t.materials = map[string]string{}
	t.laidIn, t.uses, t.citedIn, t.replaces = map[string][]*Detail{}, map[string][]*Detail{}, map[string][]*Detail{}, map[string][]*Detail{}
	for _, r := range readers {
		if r.d != nil {
			r.d.materials = sorted(r.materials)
			sort.Strings(r.laid)
			r.d.laid = r.laid
		}
	}
	// Assemblies first: junctions are made of them.
	for _, r := range readers {
		if r.d != nil && r.d.Junction == nil {
			l.traceOne(r.d)
		}
	}
	for _, r := range readers {
		if r.d != nil && r.d.Junction != nil {
			l.traceOne(r.d)
		}
	}
	for _, d := range l.Details {
		for _, name := range d.allMaterials(l) {
			t.uses[name] = append(t.uses[name], d)
		}
		before := ""
		for _, mark := range d.laid {
			if mark != before {
				t.laidIn[mark] = append(t.laidIn[mark], d)
			}
			before = mark
		}
		if d.SupersededBy != "" {
			t.replaces[d.SupersededBy] = append(t.replaces[d.SupersededBy], d)
		}
	}
	for _, r := range readers { // in order of files
		if r.d == nil {
			continue
		}
		before := map[string]bool{}
		for _, c := range r.d.Cites {
			if !before[c.Mark] {
				t.citedIn[c.Mark] = append(t.citedIn[c.Mark], r.d)
			}
			before[c.Mark] = true
		}
	}
}

// key is what a file is read by.
func (d *Detail) key() string {
	switch {
	case d.Spec != nil:
		return "spec/" + d.Spec.Section
	case d.Building != nil:
		return "building/" + d.Title
	case d.Mark != "":
		return "detail/" + d.Mark
	}
	return "prose/" + d.File
}

// traceOne lists the reads of one file: itself, its materials, and the reads
// of the assemblies that it lays. The file's name is part of its hash, for
// pages print it.
func (l *Library) traceOne(d *Detail) {
	d.reads = make([]trace.Read, 0, 1+len(d.materials))
	d.reads = append(d.reads, trace.Read{Key: d.key(), Hash: d.Hash + " " + d.File})
	for _, name := range d.materials {
		hash, ok := l.traces.materials[name]
		if !ok {
			hash = trace.Missing
			if m, found := l.Materials.Lookup(name); found {
				hash = materialHash(m)
				l.traces.materials[name] = hash
			}
		}
		d.reads = append(d.reads, trace.Read{Key: "material/" + name, Hash: hash})
	}
	before := ""
	for _, mark := range d.laid {
		if mark == before {
			continue
		}
		before = mark
		laid := l.byMark[mark]
		switch {
		case laid == nil:
			d.reads = append(d.reads, trace.Read{Key: "detail/" + mark, Hash: trace.Missing})
		case laid.Junction == nil:
			d.reads = append(d.reads, laid.reads...)
		}
	}
}

// allMaterials are the names of the table that d and the assemblies it lays
// use, each once.
func (d *Detail) allMaterials(l *Library) []string {
	if len(d.laid) == 0 {
		return d.materials
	}
	set := map[string]bool{}
	for _, name := range d.materials {
		set[name] = true
	}
	for _, mark := range d.laid {
		if laid := l.byMark[mark]; laid != nil {
			for _, name := range laid.materials {
				set[name] = true
			}
		}
	}
	return sorted(set)
}

// materialHash is the hash of all that a material says; where it says it is
// left out.
func materialHash(m *material.Material) string {
	c := *m
	c.At = finding.Position{}
	// A map prints in order of its keys.
	return trace.Hash(fmt.Sprintf("%+v", c))
}

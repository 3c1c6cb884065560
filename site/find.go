package site

import (
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/trace"
	"wythe/site/search"
	"wythe/site/tree"
	"wythe/themes"
)

// searchPointer is where a page learns which files the search is made of. Its
// name stays, so that no page changes when the index does.
const searchPointer = "search.js"

// searchDocs lists all that can be found, in the order of the library.
func (l *Library) searchDocs() []search.Doc {
	docs := make([]search.Doc, 0, len(l.details)+len(l.materials)+len(l.specs)+len(l.builds)+len(l.pages))
	sections := map[string][]string{} // that cite a mark
	for _, e := range l.specs {
		for _, c := range e.d.Cites {
			sections[c.Mark] = append(sections[c.Mark], e.d.Spec.Section)
		}
	}
	for i, e := range l.details {
		doc := textDoc("detail", e)
		doc.Mark, doc.Specs = e.d.Mark, sections[e.d.Mark]
		if l.pictured(i) {
			doc.Thumb = thumbFile(e)
		}
		docs = append(docs, doc)
	}
	for _, m := range l.materials {
		docs = append(docs, search.Doc{Kind: "material", Title: capital(m.m.Name), Href: m.href, Materials: []string{m.m.Name}, Body: []string{m.m.Note}})
	}
	for _, e := range l.specs {
		doc := textDoc("specification", e)
		doc.Mark, doc.Title, doc.Specs = e.d.Spec.Section, e.d.Title, []string{e.d.Spec.Section}
		docs = append(docs, doc)
	}
	for _, e := range l.builds {
		docs = append(docs, textDoc("building", e))
	}
	for _, e := range l.pages {
		docs = append(docs, textDoc("page", e))
	}
	return docs
}

// textDoc is what can be found of a file.
func textDoc(kind string, e *entry) search.Doc {
	d := e.d
	doc := search.Doc{Kind: kind, Title: d.Title, Href: e.href, Trades: d.Trades}
	if doc.Title == "" {
		doc.Title = e.name
	}
	if d.Status == detail.Superseded {
		doc.State = "superseded"
		if d.SupersededBy != "" {
			doc.State += " by " + d.SupersededBy
		}
	}
	body := make([]string, 0, 16+4*len(d.Sequence))
	body = append(body, d.Body)
	body = append(body, d.Tags...)
	body = append(body, d.UseFor...)
	body = append(body, d.Cautions...)
	body = append(body, d.References...)
	if a := d.Assembly; a != nil {
		for _, layer := range a.Layers {
			doc.Materials = append(doc.Materials, layer.Material.Name)
			if layer.Framing != nil && layer.Framing.Material != nil {
				doc.Materials = append(doc.Materials, layer.Framing.Material.Name)
			}
			if layer.Named {
				doc.Materials = append(doc.Materials, layer.Name)
			}
			body = append(body, layer.Joints, layer.Note)
		}
		for _, p := range a.Penetrations {
			body = append(body, p.What+" through the "+string(a.Element))
			for _, name := range p.Order {
				body = append(body, p.Seals[name])
			}
		}
	}
	if j := d.Junction; j != nil {
		for _, p := range j.Parts {
			if p.Material != nil {
				doc.Materials = append(doc.Materials, p.Material.Name)
			}
			body = append(body, p.Name, p.Mark, p.Note, p.SealWord)
		}
	}
	for i := range d.Sequence {
		s := &d.Sequence[i]
		body = append(body, s.Do, s.Caution, s.Hold, s.Trade, s.ReleasedBy)
		body = append(body, s.Tools...)
		body = append(body, s.Materials...)
	}
	doc.Body = body
	return doc
}

// pictured reports whether a detail has a small picture.
func (l *Library) pictured(i int) bool {
	if l.details[i].d.Assembly != nil {
		return true
	}
	j := l.facts.joints()[i].is
	return j != nil && j.Drawn
}

// searchOutputs puts the index among the assets, and returns the pointer and
// what lets a phone install the site.
func (l *Library) searchOutputs(assets *themes.Bundle, index *search.Index) []tree.Output {
	var s strings.Builder
	s.WriteString("wythe.give(\"pointer\",{\"engine\":\"" + assets.Path("find.js") + "\",\"index\":\"" + assets.Add("search.js", index.Main) + "\",\"words\":{")
	for i, part := range index.Words {
		if i > 0 {
			s.WriteByte(',')
		}
		s.WriteString("\n\"" + part.Begin + "\":\"" + assets.Add("words-"+part.Begin+".js", part.Data) + "\"")
	}
	s.WriteString("}});\n")
	pointer := []byte(s.String())
	return append(l.appOutputs(), tree.Output{Path: searchPointer, Make: func(reads *trace.Reads) ([]byte, error) {
		reads.Record("search", trace.Hash(string(pointer)))
		return pointer, nil
	}})
}

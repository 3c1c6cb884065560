package site

import (
	"slices"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/sheet"
	"wythe/site/revision"
)

// changesOf are what a detail changed since the revision before its newest, to
// be clouded on its sheets, and what the table of revisions must say of that;
// nil where nothing in the drawing did. Only what the history holds is told.
func (l *Library) changesOf(e *entry) (*sheet.Changes, string) {
	d := e.d
	if len(d.Revisions) < 2 {
		return nil, ""
	}
	newest, before := d.Revisions[0], d.Revisions[1]
	p := l.past()
	versions := p.issued[issueKey{d.Mark, before.Rev}]
	since := "revision " + before.Rev
	switch {
	case len(versions) > 0:
	case before.Fingerprint == "":
		return nil, "Not clouded: " + since + " bears no fingerprint by which the history would find it."
	case p.repo == nil:
		return nil, "Not clouded: there is no history that could hold " + since + "."
	case p.repo.Shallow:
		return nil, "Not clouded: the history is cut short, and " + since + " is not in what is here."
	default:
		return nil, "Not clouded: the history does not hold " + since + "."
	}
	_, old, _ := issuedAs(p.repo, versions, d.Mark, before)
	if old == nil {
		return nil, "Not clouded: " + since + " cannot be read from the history."
	}
	then := old.side(old.Detail(d.Mark))
	changes, lines := revision.Diff(then, l.side(d), l.lib.Settings.Units)
	c := &sheet.Changes{Rev: newest.Rev}
	if d.Assembly != nil && then.Detail.Assembly != nil {
		c.Layers = changedLayers(then.Detail.Assembly, d.Assembly, changes)
	} else if d.Junction != nil && lines != nil {
		c.Lines = slices.Concat(lines.Added, lines.Removed, lines.AddedFilms, lines.RemovedFilms)
		for _, x := range changes {
			if x.At != nil && (len(c.Lines) == 0 || unmoved(x, then.Detail.Junction, d.Junction)) {
				c.Places = append(c.Places, *x.At)
			}
		}
	}
	var words string
	switch {
	case len(c.Layers)+len(c.Lines)+len(c.Places) > 0:
		words = "Clouds with a delta " + newest.Rev + " mark what changed since " + since + "."
	case len(changes) > 0:
		c, words = nil, "Nothing in the drawing changed since "+since+"."
	default:
		c, words = nil, "Nothing changed since "+since+" but its revision."
	}
	if now := l.Fingerprint(d); now != "" && revision.Readable(newest.Fingerprint) && now != newest.Fingerprint {
		words += " Changed again since revision " + newest.Rev + " was issued."
	}
	return c, words
}

// unmoved reports whether a change of a part need not have moved a line: it is
// of a seal, of a material, or of what is said of the part.
func unmoved(c revision.Change, was, is *detail.Junction) bool {
	if c.What != "part" {
		return c.Aspect != "" // its thickness and material stand in one
	}
	if c.Aspect != "" {
		return c.Aspect != "place" && c.Aspect != "outline"
	}
	named := func(j *detail.Junction) *detail.Part {
		for _, p := range j.Parts {
			if p.Name == c.Name {
				return p
			}
		}
		return nil
	}
	p, q := named(was), named(is)
	if p == nil || q == nil {
		return q != nil && q.SealWord != ""
	}
	return p.SealWord != q.SealWord || p.Material != nil && q.Material != nil && p.Material.Name != q.Material.Name
}

// changedLayers are the layers of a stack that changes name. For one that was
// taken out, what now stands in its place does: its neighbor inside, or
// outside where it was the first.
func changedLayers(was, is *detail.Assembly, changes []revision.Change) []string {
	stands := func(name string) bool {
		return slices.ContainsFunc(is.Layers, func(l *detail.Layer) bool { return l.Name == name })
	}
	var names []string
	add := func(name string) {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, c := range changes {
		if c.What != "layer" {
			continue
		}
		if c.Aspect == "order" && c.Name == "" {
			for _, l := range is.Layers {
				if strings.Contains(", "+c.Before+", ", ", "+l.Name+", ") {
					add(l.Name)
				}
			}
			continue
		}
		if stands(c.Name) {
			add(c.Name)
			continue
		}
		at := slices.IndexFunc(was.Layers, func(l *detail.Layer) bool { return l.Name == c.Name })
		found := false
		for i := at - 1; i >= 0 && !found; i-- {
			if found = stands(was.Layers[i].Name); found {
				add(was.Layers[i].Name)
			}
		}
		for i := at + 1; at >= 0 && i < len(was.Layers) && !found; i++ {
			if found = stands(was.Layers[i].Name); found {
				add(was.Layers[i].Name)
			}
		}
	}
	return names
}

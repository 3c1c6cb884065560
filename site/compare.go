package site

import (
	"encoding/json"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/units"
	"wythe/site/revision"
)

// Comparison is what changed between two states of a library.
type Comparison struct {
	Firm, Title string
	From, To    string // "3f2a1b9c00 of 2026-06-03", "the folder as it stands"
	Says        []string
	Details     []DetailChange // by mark
	// Files are files that changed and hold no detail: specifications,
	// buildings, pages of text, settings.
	Files []string

	units units.System
}

// DetailChange is what became of one detail.
type DetailChange struct {
	Mark, Title string
	Kind        string // added, removed, changed
	Changes     []revision.Change
	// Lines are those of its drawing; nil where it is not drawn in both.
	Lines *revision.Linework
}

// Compare says what changed in the library in a folder between two commits;
// "" for from is that of the last issue, "" for to the folder as it stands.
//
// Errors: *[RefusedError] for a folder without history; *[revision.RefError].
func Compare(root, from, to string) (*Comparison, error) {
	repo, err := revision.OpenRepo(root)
	if err != nil {
		return nil, unseen(err)
	}
	p, err := repo.Pair(from, to)
	if err != nil {
		return nil, unseen(err)
	}
	c := &Comparison{
		Firm: p.After.Settings.Firm, Title: p.After.Settings.Title,
		From: p.From.Short() + " of " + p.From.Date, To: "the folder as it stands", Says: p.Says, units: p.After.Settings.Units,
	}
	if p.To != nil {
		c.To = p.To.Short() + " of " + p.To.Date
	}
	before, after := opened(p.Before), opened(p.After)
	details := map[string]bool{}
	for _, mark := range p.Marks {
		a, b := before.Detail(mark), after.Detail(mark)
		for _, d := range []*detail.Detail{a, b} {
			if d != nil {
				details[d.File] = true
			}
		}
		switch {
		case a == nil:
			c.Details = append(c.Details, DetailChange{Mark: mark, Title: b.Title, Kind: "added"})
		case b == nil:
			c.Details = append(c.Details, DetailChange{Mark: mark, Title: a.Title, Kind: "removed"})
		default:
			changes, lines := revision.Diff(before.side(a), after.side(b), after.Settings().Units)
			if len(changes) > 0 || lines != nil && lines.Changed() {
				c.Details = append(c.Details, DetailChange{mark, b.Title, "changed", changes, lines})
			}
		}
	}
	for _, f := range p.Files {
		if !details[f] {
			c.Files = append(c.Files, f)
		}
	}
	return c, nil
}

// unseen turns the want of a history into a refusal.
func unseen(err error) error {
	if none, ok := err.(*revision.NoHistoryError); ok {
		return &RefusedError{none.Why, none.Mend}
	}
	return err
}

// side is a detail with what is worked out of it, heat flow included.
func (l *Library) side(d *detail.Detail) revision.Side {
	s := revision.Side{Detail: d}
	for _, f := range l.lib.Findings.Items {
		if f.Level == finding.Error && f.File == d.File {
			s.Broken++
		}
	}
	if s.Broken == 0 {
		s.Assembly = l.Figures(d)
		if e := l.byFile[d.File]; e != nil {
			s.Junction = e.solved()
		}
	}
	return s
}

type changeJSON struct {
	Mark    string            `json:"mark"`
	Title   string            `json:"title"`
	Kind    string            `json:"kind"`
	Changes []revision.Change `json:"changes"`
	// Lines are the lengths of the drawing's lines, in metres.
	Lines *linesJSON `json:"lines"`
}

type linesJSON struct {
	Same    float64 `json:"same_m"`
	Added   float64 `json:"added_m"`
	Removed float64 `json:"removed_m"`
}

// MarshalJSON implements json.Marshaler.
func (c *Comparison) MarshalJSON() ([]byte, error) {
	out := struct {
		From    string       `json:"from"`
		To      string       `json:"to"`
		Says    []string     `json:"says"`
		Details []changeJSON `json:"details"`
		Files   []string     `json:"files"`
	}{c.From, c.To, c.Says, []changeJSON{}, c.Files}
	for _, d := range c.Details {
		j := changeJSON{Mark: d.Mark, Title: d.Title, Kind: d.Kind, Changes: d.Changes}
		if j.Changes == nil {
			j.Changes = []revision.Change{}
		}
		if l := d.Lines; l != nil {
			j.Lines = &linesJSON{
				Same:    revision.Meters(l.Same, l.SameFilms),
				Added:   revision.Meters(l.Added, l.AddedFilms),
				Removed: revision.Meters(l.Removed, l.RemovedFilms),
			}
		}
		out.Details = append(out.Details, j)
	}
	if out.Says == nil {
		out.Says = []string{}
	}
	if out.Files == nil {
		out.Files = []string{}
	}
	return json.Marshal(out)
}

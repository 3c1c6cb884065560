package site

import (
	"path"
	"slices"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/trace"
	"wythe/site/page"
	"wythe/site/prose"
)

// words is the text of one file made ready for its page.
type words struct {
	body       prose.HTML
	steps      []stepWords
	cautions   []page.Caution
	references []prose.HTML
	findings   finding.List // those that reading the library does not give
}

// stepWords is the text of one step of a sequence.
type stepWords struct{ do, caution, hold prose.HTML }

// words makes a file's text ready.
func (v view) words(e *entry) *words { return v.wordsIn(e, v.context(e)) }

func (v view) wordsIn(e *entry, ctx *prose.Context) *words {
	w := &words{}
	take := func(r prose.Result) prose.HTML {
		for _, f := range r.Findings.Items {
			switch f.Rule {
			case "unknown-mark", "unknown-revision", "unknown-figure": // given with their place in the file
			default:
				w.findings.Items = append(w.findings.Items, f)
			}
		}
		return r.HTML
	}
	line := func(text string) prose.HTML {
		if text == "" {
			return prose.HTML{}
		}
		return take(prose.Inline(text, ctx))
	}
	if e.d.Body != "" {
		ctx.Line = e.d.BodyLine
		w.body = take(prose.Render(e.d.Body, ctx))
	}
	for i := range e.d.Sequence {
		s := &e.d.Sequence[i]
		ctx.Line = s.At.Line
		w.steps = append(w.steps, stepWords{line(s.Do), line(s.Caution), line(s.Hold)})
	}
	ctx.Line = e.d.At.Line
	for _, c := range e.d.Cautions {
		w.cautions = append(w.cautions, v.caution(c, line))
	}
	for _, r := range e.d.References {
		w.references = append(w.references, line(r))
	}
	return w
}

// context is what the text of a file may refer to.
func (v view) context(e *entry) *prose.Context {
	level := 2
	if e.d.Assembly != nil {
		level = 3 // its prose stands in the page's section of notes
	}
	return &prose.Context{
		Marks: v.lib.Pattern(),
		File:  e.d.File,
		Self:  e.d.Mark,
		Level: level,
		Link: func(mark, rev string) (string, bool) {
			if v.now != nil {
				to := v.now.byMark[mark]
				if to == nil {
					return "", false
				}
				return e.root + to.href, true
			}
			there, revised := v.Has(mark, rev)
			to := v.byMark[mark]
			if !there || to == nil || rev != "" && !revised {
				return "", false
			}
			if rev != "" {
				held := v.revisionHref(mark, rev)
				v.reads.Record("issued/"+mark+"/"+rev, yes(held != ""))
				if held != "" {
					return e.root + held, true
				}
			}
			return e.root + to.href, true
		},
		Figure: func(words string) (string, bool) { return v.figureWords(e, words) },
		Page: func(target string) (string, bool) {
			file, fragment, _ := strings.Cut(target, "#")
			if file == "" {
				return target, fragment != ""
			}
			name := path.Join(path.Dir(e.d.File), file)
			to := v.byFile[name]
			if to == nil {
				v.reads.Record("page/"+name, trace.Missing)
				return "", false
			}
			v.reads.Record("page/"+name, to.href)
			href := e.root + to.href
			if fragment != "" {
				href += "#" + fragment
			}
			return href, true
		},
		Picture: func(target string) (string, bool) {
			p := v.pictures[pictureName(e.d.File, target)]
			if p == "" {
				v.reads.Record("picture/"+target, trace.Missing)
				return "", false
			}
			v.reads.Record("picture/"+target, p)
			return e.root + p, true
		},
	}
}

// figureNames are the figures that a text may name.
var figureNames = []string{"R-value", "U-factor", "thickness"}

// figureOf parts the words of a figure into its name and the assembly whose
// figure it is; ok is false where they make no figure.
func (l *Library) figureOf(self *entry, words string) (name string, of *entry, ok bool) {
	name, mark, other := strings.Cut(words, " of ")
	of = self
	if other {
		of = l.byMark[mark]
	}
	return name, of, of != nil && of.d.Assembly != nil && slices.Contains(figureNames, name)
}

// checkFigureWords finds the figures in texts that are none.
func (l *Library) checkFigureWords() {
	l.entries(func(e *entry) {
		for _, f := range e.d.Figures {
			name, of, ok := l.figureOf(e, f.Words)
			if ok {
				continue
			}
			mend := finding.DidYouMean(name, figureNames)
			if mend == "" && slices.Contains(figureNames, name) && of == e {
				mend = "say of which assembly: {" + name + " of MARK}"
			}
			if mend == "" {
				mend = "known are: " + strings.Join(figureNames, ", ") + "; for a brace as such write \\{"
			}
			l.own.Errorf(f.At, "unknown-figure", mend, "{%s} is no figure of this library", f.Words)
		}
	})
}

// figureWords prints the figure that a text names: "R-value",
// "U-factor of W-101", "thickness".
func (v view) figureWords(self *entry, words string) (string, bool) {
	name, e, ok := v.figureOf(self, words)
	if !ok {
		return "", false
	}
	system := v.View.Settings().Units
	fig := v.figures(e)
	if name == "thickness" {
		return stackThickness(e.d.Assembly).Show(system), true
	}
	if fig == nil || fig.Thermal == nil || !fig.Thermal.Resistance.Computed {
		return "not computed", true
	}
	if name == "U-factor" {
		return fig.Thermal.Transmittance.Show(system), true
	}
	return fig.Thermal.Resistance.Value.Show(system), true
}

// findBuildings notes which buildings use a detail, and how much of it.
func (l *Library) findBuildings() {
	l.builtOf = map[string][]page.Link{}
	system := l.lib.Settings.Units
	for _, e := range l.builds {
		note := func(mark, how string) {
			l.builtOf[mark] = append(l.builtOf[mark], page.Link{Href: e.href, Text: e.name, Note: how})
		}
		for _, a := range e.d.Building.Areas {
			note(a.Mark, a.Area.Show(system))
		}
		for _, n := range e.d.Building.Lengths {
			note(n.Mark, n.Length.ShowStated(system))
		}
	}
}

// usedBy returns what refers to a detail: the junctions it is laid in, what it
// replaces, the texts that name it, and the buildings that are built of it.
func (v view) usedBy(e *entry) []page.Link {
	mark := e.d.Mark
	var links []page.Link
	add := func(cards []detail.Card, note string) {
		for _, c := range cards {
			to := v.byFile[c.File]
			if to == nil || to == e || slices.ContainsFunc(links, func(l page.Link) bool { return l.Href == to.href }) {
				continue
			}
			link := page.Link{Href: to.href, Text: to.name, Note: c.Title}
			if link.Note == link.Text {
				link.Note = ""
			}
			if note != "" {
				link.Note = note
			}
			links = append(links, link)
		}
	}
	add(v.LaidIn(mark), "")
	add(v.Replaces(mark), "replaced by this")
	add(v.CitedIn(mark), "")
	built := v.builtOf[mark]
	v.reads.Record("built-of/"+mark, linkHash(built))
	for _, b := range built {
		links = slices.DeleteFunc(links, func(l page.Link) bool { return l.Href == b.Href })
	}
	return append(links, built...)
}

// caution spells a caution out: a word that the office or the house has a text
// for, or else the author's own words.
func (v view) caution(word string, line func(string) prose.HTML) page.Caution {
	text, known := v.View.Settings().Caution(word)
	if !known {
		return page.Caution{Text: line(word)}
	}
	return page.Caution{Head: capital(word) + ".", Text: prose.Plain(text)}
}

// capital begins with a capital.
func capital(s string) string {
	for i := range s {
		if i > 0 {
			return strings.ToUpper(s[:i]) + s[i:]
		}
	}
	return strings.ToUpper(s)
}

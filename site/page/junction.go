package page

import (
	"html/template"
	"io"

	"wythe/renderer/detail"
	"wythe/site/prose"
	"wythe/themes"
)

// Junction is the page of a section where assemblies meet.
type Junction struct {
	Frame
	UseFor, NotFor []string
	// Superseded leads to what replaces the detail; nil: it stands.
	Superseded *Link

	// Wide and Phone are the drawing in its two dresses, with ids as on the
	// page of an assembly. The bubble of keynote 3 leads to "#part-3".
	Wide, Phone template.HTML
	// Lines are the controls that the drawing has lines of; nil: none.
	Lines     []detail.Control
	Isotherms bool     // the drawing has them too
	Toggles   []Toggle // what else of the drawing can be hidden

	// Enlarged is the most crowded corner at a larger scale, its ids starting
	// with EnlargedPrefix, and Times how that scale is printed; "" for none.
	Enlarged template.HTML
	Times    string

	Keynotes   []Keynote
	Continuity []Verdicts
	// Corners says that three-way corners are not proved; "" leaves it out.
	Corners string
	Gaps    []Gap

	Figures     []FigureGroup
	FiguresNote string

	Body       prose.HTML
	Meets      []Link // the assemblies that meet here
	Used       []Link
	Cautions   []Caution
	Steps      []Step
	References []prose.HTML
	Revisions  []Revision
}

// Keynote is one entry of a junction's list, numbered as on its drawing.
type Keynote struct {
	Key      int
	Name     string // "XPS type IV"
	Sub      string // "Full depth of the slab, tight to the concrete"
	Size     string // "2 × 3 in"
	Of       Link   // the assembly that it is a layer of; zero: none
	Controls []detail.Control
}

// Verdicts is what is found of one control.
type Verdicts struct {
	Control detail.Control
	// Chain is the carriers from cut to cut, each with its keynote.
	Chain   []ChainPart
	Verdict Verdict
	Words   string   // "Unbroken in this section", "Gap 5 in"
	Notes   []string // declared ends, what a reader must know
}

// ChainPart is one carrier of a chain.
type ChainPart struct {
	Name string
	Key  int // its keynote; 0 none
}

// Gap is one place where a control is not whole.
type Gap struct {
	Label string // as its flag in the drawing: "A GAP 5 in"
	// Where says between which keynotes, and which space leaks to which.
	Between [2]ChainPart
	Where   string
	Do      string // what would close it
}

// Render writes the page.
func (p *Junction) Render(out io.Writer, set *themes.Set, s *Site) error {
	w := &writer{root: p.Root}
	w.Grow(32 << 10)
	v := s.frame(&p.Frame, p, "pg pg-a pg-b")
	v.Bar = w.bar(s, &p.Frame)
	v.Head = w.head(&p.Frame, func() { w.fitness(p.UseFor, p.NotFor, p.Superseded) })
	if p.Wide != "" {
		v.Wide, v.Phone = p.Wide, p.Phone
		if heightOf(p.Wide)+drawingClearing+p.blockRoom() > sheetHeight || sizeOf(p.Wide, ` width="`) > sheetWidth {
			v.Fit = "over"
		}
		v.Stamps = w.stamps(p.Status, p.Wide, v.Fit == "over")
		v.Toggles = p.lines(w)
	}
	v.Strip = w.strip(s, &p.Frame)
	v.Keynotes = p.keynotes(w)
	v.Continuity = p.continuity(w)
	v.Figures = w.figures(p.Figures, p.FiguresNote, s)
	v.Body = w.notes(p.Body)
	v.Meets = p.meets(w)
	v.Used = w.used(p.Used)
	v.Cautions = w.cautions(p.Cautions)
	v.Sequence = w.sequence(p.Steps)
	v.References = w.references(p.References)
	v.Revisions = w.revisions(p.Revisions)
	var anchors []anchor
	for _, a := range []struct {
		anchor
		there template.HTML
	}{
		{anchor{"keynotes", "Keynotes"}, v.Keynotes},
		{anchor{"continuity", "Continuity"}, v.Continuity},
		{anchor{"figures", "Figures"}, v.Figures},
		{anchor{"notes", "Notes"}, v.Body},
		{anchor{"meets", "What meets here"}, v.Meets},
		{anchor{"used", "Used by"}, v.Used},
		{anchor{"cautions", "Cautions"}, v.Cautions},
		{anchor{"sequence", "Sequence"}, v.Sequence},
		{anchor{"references", "References"}, v.References},
		{anchor{"revisions", "Revisions"}, v.Revisions},
	} {
		if a.there != "" {
			anchors = append(anchors, a.anchor)
		}
	}
	v.Block, v.Jump = w.block(s, &p.Frame, anchors), w.jump(anchors)
	return set.Execute(out, "junction", &v)
}

// lines writes the choice of lines in the drawing, the other toggles, and
// what each line is.
func (p *Junction) lines(w *writer) template.HTML {
	if len(p.Lines) == 0 && len(p.Toggles) == 0 && !p.Isotherms {
		return ""
	}
	return w.part(func() {
		w.raw(`<div class="show">`)
		if len(p.Lines) > 0 || p.Isotherms {
			w.raw(`<fieldset class="tog lines"><legend>Lines</legend>`)
			if len(p.Lines) > 0 {
				w.radio("ln-ctl", "Control", true)
			}
			if p.Isotherms {
				w.radio("ln-iso", "Isotherms", len(p.Lines) == 0)
			}
			w.radio("ln-none", "None", false)
			w.raw(`</fieldset>`)
			if p.Isotherms {
				w.raw(`<fieldset class="tog heat"><legend class="vh">Show with the isotherms</legend>`)
				w.boxes(heatToggles)
				w.raw(`</fieldset>`)
			}
		}
		if len(p.Toggles) > 0 {
			w.raw(`<fieldset class="tog"><legend class="vh">Show in the drawing</legend>`)
			w.boxes(p.Toggles)
			w.raw(`</fieldset>`)
		}
		w.raw(`</div>`)
		if len(p.Lines) > 0 {
			w.raw(`<ul class="leg" aria-label="Control lines in the drawing">`)
			for _, l := range letters {
				if has(p.Lines, l.control) {
					w.raw(`<li><svg viewBox="0 0 18 4" aria-hidden="true"><path class="ln ln-`, l.letter, `" d="M0 2H6.4M11.6 2H18"/><text x="9" y="3.15">`, l.letter, `</text></svg>`, l.word, `</li>`)
				}
			}
			w.raw(`</ul>`)
		}
	})
}

// heatToggles are what can be shown with the isotherms.
var heatToggles = []Toggle{{ID: "t-shd", Label: "Shading", Off: true}, {ID: "t-flo", Label: "Heat flow lines"}}

func (w *writer) radio(id, label string, on bool) {
	w.raw(`<label><input type="radio" name="ln" id="`, id, `"`)
	if on {
		w.raw(` checked`)
	}
	w.raw(`>`, label, `</label>`)
}

// keynotes writes what the drawing's numbers name, each tied to its bubble.
func (p *Junction) keynotes(w *writer) template.HTML {
	if len(p.Keynotes) == 0 {
		return ""
	}
	return w.part(func() {
		w.section("keynotes", "", "Keynotes", "Part, size, where it belongs, what it controls")
		w.raw(`<ol class="kns">`)
		for i := range p.Keynotes {
			k := &p.Keynotes[i]
			w.raw(`<li id="part-`)
			w.int(k.Key)
			w.raw(`" data-key="`)
			w.int(k.Key)
			w.raw(`"><span class="kc">`)
			w.keynote(WidePrefix, "wide", k.Key)
			w.keynote(PhonePrefix, "narrow", k.Key)
			w.raw(`</span><span class="nm"><b>`)
			w.trade(k.Name)
			w.raw(`</b>`)
			if k.Sub != "" {
				w.raw(`<span class="sub">`)
				w.trade(k.Sub)
				w.raw(`</span>`)
			}
			w.raw(`</span><span class="sz">`)
			w.trade(k.Size)
			w.raw(`</span><span class="of">`)
			if k.Of.Text != "" {
				w.link("m", k.Of)
			}
			if len(k.Controls) > 0 {
				w.raw(`<span class="ltrs">`)
				for _, l := range letters {
					if has(k.Controls, l.control) {
						w.raw(`<abbr class="ltr" title="`, l.word, ` control">`, l.letter, `</abbr>`)
					}
				}
				w.raw(`</span>`)
			}
			w.raw(`</span></li>`)
		}
		w.raw(`</ol></section>`)
	})
}

// continuity writes the verdict on each control, and a box for each gap.
func (p *Junction) continuity(w *writer) template.HTML {
	if len(p.Continuity) == 0 {
		return ""
	}
	return w.part(func() {
		w.section("continuity", "", "Continuity", "Traced from cut to cut")
		w.raw(`<div class="tw"><table class="cont"><thead><tr><th scope="col">Control</th><th scope="col">Carried by</th><th scope="col">Verdict</th></tr></thead><tbody>`)
		for i := range p.Continuity {
			c := &p.Continuity[i]
			w.raw(`<tr><th scope="row">`)
			for _, l := range letters {
				if l.control == c.Control {
					w.raw(`<span class="ltr" aria-hidden="true">`, l.letter, `</span> `, l.word)
				}
			}
			w.raw(`</th><td class="w">`)
			for k := range c.Chain {
				if k > 0 {
					w.raw(`, `)
				}
				w.chainPart(c.Chain[k])
			}
			for _, n := range c.Notes {
				w.raw(`<span class="sub">`)
				w.trade(n)
				w.raw(`</span>`)
			}
			w.raw(`</td><td class="vd">`)
			w.finding(c.Verdict, c.Words)
			w.raw(`</td></tr>`)
		}
		w.raw(`</tbody></table></div>`)
		for i := range p.Gaps {
			g := &p.Gaps[i]
			w.raw(`<div class="gap"><b>`)
			w.trade(g.Label)
			w.raw(`</b><p>`)
			if g.Between[0].Name != "" {
				w.raw(`Between `)
				w.chainPart(g.Between[0])
				w.raw(` and `)
				w.chainPart(g.Between[1])
				w.raw(`. `)
			}
			w.trade(g.Where)
			if g.Do != "" {
				w.raw(` <b>`)
				w.trade(g.Do)
				w.raw(`</b>`)
			}
			w.raw(`</p></div>`)
		}
		if p.Enlarged != "" {
			w.raw(`<figure class="near">`, string(p.Enlarged), `<figcaption>Where most comes together, enlarged to `)
			w.text(p.Times)
			w.raw(`; framed in the drawing.</figcaption></figure>`)
		}
		if p.Corners != "" {
			w.raw(`<p class="sub corners">`)
			w.trade(p.Corners)
			w.raw(`</p>`)
		}
		w.raw(`</section>`)
	})
}

// chainPart writes a carrier's name with its keynote.
func (w *writer) chainPart(c ChainPart) {
	w.trade(c.Name)
	if c.Key > 0 {
		w.raw(` <a class="ky" href="#part-`)
		w.int(c.Key)
		w.raw(`" aria-label="Keynote `)
		w.int(c.Key)
		w.raw(`">`)
		w.int(c.Key)
		w.raw(`</a>`)
	}
}

func (p *Junction) meets(w *writer) template.HTML {
	if len(p.Meets) == 0 {
		return ""
	}
	return w.part(func() {
		w.section("meets", "", "What meets here", "")
		w.links(p.Meets)
		w.raw(`</section>`)
	})
}

package sheet

import (
	"math"
	"strings"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// JunctionLook is how a junction is to be drawn.
type JunctionLook struct {
	Look
	// Link returns where a reference bubble leads: the address of a mark's
	// page as seen from the drawing's. Nil: bubbles are not links.
	Link func(mark string) string
	// Framed frames the corner that [JunctionSheet.Corner] enlarges: it stands
	// beside the drawing.
	Framed bool
	// Heat is the temperatures laid over the section; nil: none.
	Heat *Heat
}

// JunctionSheet is a junction ready to be drawn in several dresses: what its
// callouts name is gathered and numbered once, the same for all. One goroutine
// uses it.
type JunctionSheet struct {
	d       *detail.Detail
	s       *section.Section
	reports []continuity.Report
	system  units.System
	members []*member
	named   bool
}

// NewJunction prepares a resolved section, with what was traced in it; reports
// may be nil.
func NewJunction(d *detail.Detail, s *section.Section, reports []continuity.Report, system units.System) *JunctionSheet {
	return &JunctionSheet{d: d, s: s, reports: reports, system: system}
}

// name gathers and numbers what callouts name, once.
func (sh *JunctionSheet) name() {
	if sh.named {
		return
	}
	j := sh.begin(JunctionLook{Look: Look{System: sh.system}})
	j.gather()
	j.number()
	sh.members, sh.named = j.members, true
}

func (sh *JunctionSheet) begin(look JunctionLook) *junction {
	return &junction{d: sh.d, s: sh.s, reports: sh.reports, members: sh.members, look: look, draft: drawing.NewDraft()}
}

// Draw draws the section: its parts hatched and outlined, films, seals,
// breaks, levels, dimensions, control lines, callouts, title.
func (sh *JunctionSheet) Draw(look JunctionLook) *drawing.Drawing {
	if look.Dress == drawing.Thumb || look.Dress == drawing.StepPicture {
		return sh.begin(look).picture()
	}
	sh.name()
	j := sh.begin(look)
	j.bare = look.Dress == drawing.Phone
	return j.sheet()
}

// junction is one section being drawn.
type junction struct {
	d        *detail.Detail
	s        *section.Section
	reports  []continuity.Report
	look     JunctionLook
	scale    float64
	x, y     axis
	at       drawing.Point // top left of the view on paper
	windows  []window
	draft    *drawing.Draft
	members  []*member
	strings  chains  // dimensions
	width    float64 // of the sheet, mm
	bare     bool    // the phone's dress, or a picture: no words
	part     bool    // of the section: framed
	trimmed  bool    // of air over and under the work
	below    float64 // what was trimmed there, mm at scale 1
	above    float64
	standing map[string]bool // in a picture of a step: what stands then; nil: all
}

// Sizes of the sheet, mm.
const (
	junctionWide  = 258.0
	junctionPhone = 92.0
	junctionThumb = 28.0
	columnText    = 44.0 // width of a column of callouts on the wide sheet
	keynoteWide   = 6.0  // of the bubbles beside the phone's drawing
	keynoteGap    = 5.0  // between the view and them
	columnGap     = 11.0 // between the view and the bubbles
	columnGive    = 10.0 // how much narrower a column may be
)

// setScale lays the view out at a scale with its top left at the given place.
func (j *junction) setScale(scale float64, at drawing.Point) {
	k := 1 / (1000 * scale)
	j.scale, j.at = scale, at
	j.x = newAxis(j.s.View.Min.X, j.s.View.Max.X, j.s.Breaks, true, k)
	j.y = newAxis(j.s.View.Min.Y, j.s.View.Max.Y, j.s.Breaks, false, k)
	j.windows = windows(&j.x, &j.y, at)
}

// fit chooses the file's scale, or the largest standard scale at which the
// view is no wider and no taller than given, mm.
func (j *junction) fit(width, height, largest float64) float64 {
	if j.look.Scale > 0 {
		return j.look.Scale
	}
	return drawing.ChooseScale(j.look.System, largest, func(ratio float64) bool {
		j.setScale(ratio, drawing.Point{})
		return j.x.length <= width && j.y.length <= height
	})
}

func (j *junction) picture() *drawing.Drawing {
	width := junctionThumb
	if j.look.Dress == drawing.StepPicture {
		width = 46
	}
	scale := j.look.Scale
	if scale == 0 {
		scale = j.fit(width, width*0.9, 8)
	}
	j.setScale(scale, drawing.Point{X: 0.5, Y: 0.5})
	if j.look.Dress == drawing.StepPicture && j.look.After > 0 {
		j.stand()
	}
	j.body()
	return &drawing.Drawing{
		Title: j.d.Mark + " section", Desc: j.describe(),
		Width: j.x.length + 1, Height: j.y.length + 1, Scale: scale, Root: j.draft.Root(),
	}
}

// arrange chooses the scale and sets the view out on its sheet, with room for
// dimensions and callouts; it returns how far the view stands below the top.
func (j *junction) arrange() (top float64) {
	if !j.part && !j.trimmed {
		j.below, j.above = j.trimAir()
		j.trimmed = true
	}
	j.width = junctionWide
	beside, tall, largest := columnText+columnGap+2, 190.0, 4.0
	if j.bare {
		j.width = junctionPhone
		beside, tall, largest = keynoteWide+keynoteGap, 130, 8
	} else if j.look.Scale == 0 {
		j.look.Scale = float64(j.d.Junction.Scale)
	}
	j.setScale(j.fit(j.width-2*beside, tall, largest), drawing.Point{})
	j.strings = j.chains()
	l, r := j.reach(drawing.LeftOf), j.reach(drawing.RightOf)
	if !j.bare {
		beside = max(beside-columnGive, min(beside, (j.width-j.x.length-l-r)/2))
	}
	l, r = l+beside, r+beside
	j.width = max(j.width, l+j.x.length+r)
	left := l + (j.width-l-j.x.length-r)/2
	top = 7 + j.reach(drawing.Above)
	j.setScale(j.scale, drawing.Point{X: left, Y: top})
	j.strings = j.chains()
	return top
}

func (j *junction) sheet() *drawing.Drawing {
	top := j.arrange()
	// The callouts may stand higher than the view: everything moves down by
	// what they need.
	placed, mode := j.callouts()
	lift := 0.0
	for i := range placed {
		lift = max(lift, 1-placed[i].Box.Min.Y)
	}
	if lift > 0 {
		top += lift
		j.setScale(j.scale, drawing.Point{X: j.at.X, Y: top})
		j.strings = j.chains()
		placed, mode = j.callouts()
	}
	bottom := top + j.y.length + 4 + j.reach(drawing.Below)
	for i := range placed {
		bottom = max(bottom, placed[i].Box.Max.Y+1)
	}

	rm := newRoom(placed)
	j.placeChains(placed)
	j.takeChains(rm)
	marks := j.gapMarks(rm)
	runs := j.controlRuns()
	j.takeLines(rm, runs)
	levels := j.levelMarks(rm) // there are few places for one, and many for what follows
	j.flagGaps(rm, marks, bottom)
	references, names := j.bubbles(rm, runs), j.spaceNames(rm)
	for i := range runs {
		runs[i].letter(rm)
	}

	d := j.draft
	j.body()
	j.beyond()
	if j.d.Status != detail.Issued {
		d.NotForConstruction(j.stampAt(placed, runs), j.x.length*0.8, j.y.length*0.5)
	}
	j.isotherms(rm, j.look.Heat)
	j.controlLines(runs)
	if j.part {
		d.Shape(drawing.Tag{}, drawing.Stroke{Pen: drawing.PenSecondary, Ink: drawing.InkLine}, drawing.InkNone,
			j.at, drawing.Point{X: j.at.X + j.x.length, Y: j.at.Y}, drawing.Point{X: j.at.X + j.x.length, Y: j.at.Y + j.y.length}, drawing.Point{X: j.at.X, Y: j.at.Y + j.y.length})
	} else {
		j.breakLines()
	}
	j.cornerFrame(rm)
	j.references(references)
	j.evidence()
	d.Callouts(placed)
	j.controlLetters(runs)
	j.levels(levels)
	j.spaces(names)
	j.drawChains()
	j.gaps(marks)
	height := j.foot(bottom, placed, mode)
	j.clouds(height)
	_, ratio := drawing.ScaleWords(j.scale)
	return &drawing.Drawing{
		Title: j.d.Mark + " section, scale " + ratio, Desc: j.describe(),
		Width: j.width, Height: height, Scale: j.scale, Root: d.Root(),
	}
}

// foot draws what stands below the section and returns the drawing's height.
func (j *junction) foot(y float64, placed []drawing.PlacedCallout, mode drawing.CalloutMode) float64 {
	d := j.draft
	if j.bare {
		y += 4
		used := d.ScaleBar(drawing.Point{X: 8, Y: y}, j.scale, j.look.System, 44)
		d.Open(drawing.Tag{Kind: "title"})
		_, ratio := drawing.ScaleWords(j.scale)
		d.Letter(drawing.Tag{}, &styleSmall, drawing.Point{X: 8 + used + 14, Y: y + 0.9}, drawing.Start, "SCALE "+ratio)
		d.Close()
		return y + 5.4
	}
	if mode == drawing.Keynotes && !j.look.Listed {
		y += d.KeynoteList(placed, drawing.Point{X: 6, Y: y + 2}, j.width-12, 3) + 5
	}
	y += 9
	view := "SECTION"
	if j.d.Junction.Plan {
		view = "PLAN SECTION"
	}
	block := drawing.TitleBlock{Mark: j.d.Mark, Name: j.d.Title, View: view, Scale: j.scale, System: j.look.System, UseFor: j.d.UseFor, NotFor: j.d.NotFor}
	if j.d.Status != detail.Issued {
		block.Status = strings.ToUpper(string(j.d.Status))
	}
	_, down := d.Title(&block, drawing.Point{X: 6, Y: y}, j.width-86)
	d.ScaleBar(drawing.Point{X: j.width - 68, Y: y}, j.scale, j.look.System, 50)
	return y + max(down, 5.4) + 1
}

// grain is how coarse hatches are at a scale: see the look of the house.
func grain(scale float64, thumb bool) float64 {
	switch {
	case thumb:
		return 0.62
	case scale <= 8:
		return 1
	}
	return max(0.62, math.Pow(8/scale, 0.474)) // 0.72 at 1:16
}

// describe says for readers what is drawn.
func (j *junction) describe() string {
	var b strings.Builder
	b.WriteString("Parts, as numbered: ")
	for i, m := range j.members {
		if i > 0 {
			b.WriteString("; ")
		}
		b.WriteString(m.head(j.look.System, false))
	}
	b.WriteByte('.')
	if j.d.Status != detail.Issued {
		b.WriteString(" Not for construction.")
	}
	return b.String()
}

func (j *junction) length(v int64) units.Length { return units.Length(float64(v) * 1e-6) }

// shown returns the window a place shows in and where.
func (j *junction) shown(p geometry.Point) (drawing.Point, *window, bool) {
	for i := range j.windows {
		w := &j.windows[i]
		if w.box.Contains(p) {
			return w.point(p), w, true
		}
	}
	return drawing.Point{}, nil, false
}

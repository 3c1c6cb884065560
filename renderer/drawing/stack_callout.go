package drawing

import "math"

// callouts places the callouts beside the section and so settles how wide the
// section is: words first, then words in a wider column, then keynotes.
func (l *layout) callouts(edge float64) {
	dress := l.dress
	top, bottom := l.ends()
	middle := (top + bottom) / 2
	if !dress.bare && !l.stack.Keyed {
		tall := max(dress.calloutTall, bottom-top+10)
		for _, e := range [...]float64{edge, edge - (dress.wideColumn - dress.column)} {
			if e != edge && e-shoulder-dress.gutter-l.x0 < 40 {
				break
			}
			l.x1 = e - shoulder - dress.gutter
			l.x1 -= min(l.fan(e)*0.4, 16, max(0, l.x1-l.x0-40))
			cols := Columns{Right: Column{Edge: e, Outer: l.width - 1}, Top: middle - tall/2, Bottom: middle + tall/2}
			if l.place(cols, false) != Keynotes {
				return
			}
		}
	}
	l.mode = Keynotes
	e := l.width - 1 - 2*keynoteR
	fan := max(0, (float64(len(l.order))*keynotePitch-(bottom-top))/2)
	l.x1 = e - keynoteElbow - dress.gutter
	l.x1 -= min(fan*0.3, 10, max(0, l.x1-l.x0-24))
	l.place(Columns{Right: Column{Edge: e, Outer: l.width - 1}, Top: top - 2, Bottom: bottom + 4}, true)
}

// place places the callouts of all layers. Their heights do not hang on where
// in its layer a dot stands; so the dots are set last, where the leaders leave
// them clear.
func (l *layout) place(cols Columns, bare bool) CalloutMode {
	list := l.parts()
	var mode CalloutMode
	l.placed, mode = PlaceCallouts(list, cols, bare)
	if mode == Keynotes && !bare {
		return mode
	}
	l.setDots()
	for i := range l.placed {
		for j := i + 1; j < len(l.placed); j++ {
			a, b := &l.placed[i], &l.placed[j]
			if segmentsMeet(a.Elbow, a.At, b.Elbow, b.At) {
				for k := range list {
					list[k] = l.placed[k].Callout
				}
				l.placed, mode = PlaceCallouts(list, cols, bare)
				return mode
			}
		}
	}
	return mode
}

// fan is how far the column of words is likely to stand over the section, and
// under it: the leaders need the more room to spread.
func (l *layout) fan(edge float64) float64 {
	top, bottom := l.ends()
	room := l.width - 1 - edge - bubbleText
	h := 0.0
	for i := range l.words {
		w := &l.words[i]
		lines := math.Ceil(styleHead.Width(w.head)/room) + math.Ceil(styleNote.Width(w.note)/room)
		h += textHeight(int(lines)) + calloutGap
	}
	return max(0, (h-(bottom-top))/2)
}

// parts are the callouts of the layers, top to bottom, their dots in one line
// near the cut side.
func (l *layout) parts() []Callout {
	n := len(l.order)
	list := make([]Callout, 0, n+1)
	x := l.x1 - dotInset
	if b := l.stack.Beyond; b != nil && l.above > 0 {
		list = append(list, l.callout(-1, Point{x, l.stackFrame.top() - beyondDot}, calloutDot))
	}
	for k := range l.order {
		y, dot := l.dotIn(k)
		list = append(list, l.callout(k, Point{x, y}, dot))
	}
	if b := l.stack.Beyond; b != nil && l.above == 0 {
		list = append(list, l.callout(-1, Point{x, l.stackFrame.bottom() + beyondDot}, calloutDot))
	}
	return list
}

// Distances of dots, mm.
const (
	dotInset  = 4.5 // from the cut side
	beyondDot = 4.0 // from the outside face
	filmDot   = 0.65
	dotNear   = 5.0 // between dots that would look like one line
	dotClear  = 1.0 // of a leader from another's dot
	dotTouch  = 2.2
	dotStep   = 2.0
)

// dotIn is the height and the radius of the dot in layer k: in the middle, or
// in a course beside it.
func (l *layout) dotIn(k int) (y, r float64) {
	a := l.layer(k)
	if a.Film {
		return l.filmY(k, &sheetPens), filmDot
	}
	y0, y1 := l.y[k], l.y[k+1]
	y = (y0 + y1) / 2
	if c := a.courses(); c%2 == 0 {
		y += (y1 - y0) / float64(2*c) // not on a joint
	}
	return y, max(0.35, min(calloutDot, (y1-y0)*0.42))
}

// setDots sets each dot along its layer. A leader that rises could run over
// the dot above it, one that falls over the dot below: such a dot is set
// further from the cut side, out of its way. Dots stand clear of members.
func (l *layout) setDots() {
	p := l.placed
	n := len(p)
	step := min(dotStep, (l.x1-l.x0)*0.8/float64(n+2))
	layer := func(i int) *StackLayer {
		if l.stack.Beyond != nil && l.above > 0 {
			i--
		}
		if i < 0 || i >= len(l.order) {
			return l.stack.Beyond
		}
		return l.layer(i)
	}
	set := func(i int, x float64) {
		p[i].At.X = max(l.clearOfMembers(layer(i), x), l.x0+1.5)
	}
	// yields says whether the upper of two neighbours gives way, or the lower.
	yields := func(i int) (upper, lower bool) {
		a, b := &p[i], &p[i+1]
		switch {
		case b.Elbow.Y < a.At.Y+dotClear:
			return true, false
		case a.Elbow.Y > b.At.Y-dotClear:
			return false, true
		case b.At.Y-a.At.Y < dotTouch: // the leaders part: the one that parts faster starts behind
			x := l.x1 - dotInset
			over := clearance(Point{x - step, a.At.Y}, a.Elbow, Point{x, b.At.Y}) - b.Dot
			under := clearance(Point{x - step, b.At.Y}, b.Elbow, Point{x, a.At.Y}) - a.Dot
			return over > under, over <= under
		}
		return false, false
	}
	alone := func(i int) bool {
		return (i == 0 || p[i].At.Y-p[i-1].At.Y > dotNear) && (i+1 == n || p[i+1].At.Y-p[i].At.Y > dotNear)
	}
	for i := n - 1; i >= 0; i-- {
		x := l.x1 - dotInset
		if i&1 == 1 && alone(i) {
			x -= dotStep // not all in one line
		}
		if i+1 < n {
			if upper, _ := yields(i); upper {
				x = min(x, p[i+1].At.X-step)
			}
		}
		set(i, x)
	}
	for i := 1; i < n; i++ {
		if _, lower := yields(i - 1); lower && p[i].At.X > p[i-1].At.X-step {
			set(i, p[i-1].At.X-step)
		}
	}
}

// callout is that of layer k; of what lies beyond for -1.
func (l *layout) callout(k int, at Point, dot float64) Callout {
	a, solid := l.stack.Beyond, false
	words := l.words[len(l.words)-1]
	if k >= 0 {
		a, words = l.layer(k), l.words[k]
		solid = a.Hatch == "membrane" || l.y[k+1]-l.y[k] < thinLayer && solidWhenThin(a.Hatch)
	}
	return Callout{
		Key: a.Key, Head: words.head, Note: words.note, At: at, Dot: dot, Open: a.Film || solid,
		Tag: Tag{Part: a.Part, Step: a.Step, Href: a.Href},
	}
}

// sayAll makes the words of every layer, top to bottom, then of what lies
// beyond.
func (l *layout) sayAll() {
	l.words = make([]words, 0, len(l.order)+1)
	for k := range l.order {
		a := l.layer(k)
		l.words = append(l.words, words{a.head(l.stack.System), a.note()})
	}
	if b := l.stack.Beyond; b != nil {
		l.words = append(l.words, words{b.head(l.stack.System), b.note()})
	}
}

// clearOfMembers moves a dot out of a member, away from the leaders.
func (l *layout) clearOfMembers(a *StackLayer, x float64) float64 {
	lefts, width := l.members(a)
	for i := len(lefts) - 1; i >= 0; i-- {
		if x > lefts[i]-1.2 && x < lefts[i]+width+1.2 {
			x = lefts[i] - 1.8
		}
	}
	return x
}

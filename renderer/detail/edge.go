package detail

import (
	"strings"
	"unicode"

	"wythe/renderer/finding"
	"wythe/renderer/units"
)

// The language of edges. A text is cut into words at spaces; words that are
// not of the language make a name, which a dot joins to a layer and a side.
// A name may hold spaces ("service space") and begin with a figure ("2x4
// plate"), but no word that the language uses after an edge (see NameFault).

// longestEdge is the most text an edge may have, in bytes.
const longestEdge = 400

// edgeMend shows the commonest forms.
const edgeMend = "write an edge as 4 in, slab.top, wall.concrete.right, 2 in above slab.top, or cut"

// ParseEdge reads an edge said in words. Positions in it have no file and no
// line; their columns count the characters of text from 1.
// Errors: *[units.ParseError].
func ParseEdge(text string) (Edge, error) {
	return parseEdge(text, func(offset int) finding.Position {
		return finding.Position{Column: len([]rune(text[:offset])) + 1}
	})
}

// parseEdge reads an edge; at gives the place of a byte of the text.
func parseEdge(text string, at func(int) finding.Position) (Edge, error) {
	p, err := newWords(text, at)
	if err != nil {
		return Edge{}, err
	}
	e, err := p.edge()
	if err == nil {
		err = p.end()
	}
	if err != nil {
		return Edge{}, err
	}
	return e, nil
}

// words is a text cut at its spaces, and how far it has been read.
type words struct {
	text string
	at   func(int) finding.Position
	list []word
	i    int
}

type word struct {
	s          string
	start, end int // bytes
}

func newWords(text string, at func(int) finding.Position) (*words, error) {
	if len(text) > longestEdge {
		return nil, &units.ParseError{Text: text[:40] + "…", Offset: 0, Message: "too long for an edge", Mend: edgeMend}
	}
	p := &words{text: text, at: at, list: make([]word, 0, 12)}
	start := -1
	for i, r := range text {
		switch blank := unicode.IsSpace(r); {
		case blank && start >= 0:
			p.list = append(p.list, word{text[start:i], start, i})
			start = -1
		case !blank && start < 0:
			start = i
		}
	}
	if start >= 0 {
		p.list = append(p.list, word{text[start:], start, len(text)})
	}
	return p, nil
}

// fault returns an error at the next word.
func (p *words) fault(message, mend string) error {
	return p.faultAt(p.offset(), message, mend)
}

func (p *words) faultAt(offset int, message, mend string) error {
	return &units.ParseError{Text: p.text, Offset: offset, Message: message, Mend: mend}
}

// offset is where the next word begins.
func (p *words) offset() int {
	if p.i < len(p.list) {
		return p.list[p.i].start
	}
	return len(p.text)
}

func (p *words) peek(ahead int) string {
	if p.i+ahead < len(p.list) {
		return p.list[p.i+ahead].s
	}
	return ""
}

// end returns an error unless all is read.
func (p *words) end() error {
	if p.i < len(p.list) {
		return p.fault(quote(p.text[p.offset():])+" does not belong here", edgeMend)
	}
	return nil
}

// direction reports whether the next words say which way from an edge, and
// how many words that takes.
func (p *words) direction(ahead int) (n int, sign float64, vertical bool) {
	switch p.peek(ahead) {
	case "above":
		return 1, 1, true
	case "below":
		return 1, -1, true
	case "right":
		if p.peek(ahead+1) == "of" {
			return 2, 1, false
		}
	case "left":
		if p.peek(ahead+1) == "of" {
			return 2, -1, false
		}
	}
	return 0, 0, false
}

// stops reports whether a word ahead ends a length or a name.
func (p *words) stops(ahead int) bool {
	switch p.peek(ahead) {
	case "", "and", "meets", "at", "up", "down":
		return true
	}
	n, _, _ := p.direction(ahead)
	return n > 0
}

func (p *words) edge() (Edge, error) {
	start := p.offset()
	e, err := p.form(start)
	if err != nil {
		return Edge{}, err
	}
	e.At = p.at(start)
	e.Written = strings.TrimSpace(p.text[start:p.read()])
	return e, nil
}

// read is where the last word read ends.
func (p *words) read() int {
	if p.i == 0 {
		return 0
	}
	return p.list[p.i-1].end
}

func (p *words) form(start int) (Edge, error) {
	switch first := p.peek(0); {
	case first == "":
		return Edge{}, p.fault("an edge is missing", edgeMend)
	case first == "cut" && p.cutAlone():
		p.i++
		return Edge{Kind: EdgeCut}, nil
	case first == "midway":
		return p.midway()
	case first == "under" || first == "over":
		return p.face(first)
	case mayBeNumber(first):
		return p.measured(start)
	}
	return p.reference()
}

func (p *words) cutAlone() bool {
	next := p.peek(1)
	return next == "" || next == "and" || next == "meets"
}

func (p *words) midway() (Edge, error) {
	p.i++
	if p.peek(0) != "between" {
		return Edge{}, p.fault("\"between\" is missing after \"midway\"", "write midway between slab.top and footing.top")
	}
	p.i++
	a, err := p.edge()
	if err != nil {
		return Edge{}, err
	}
	if p.peek(0) != "and" {
		return Edge{}, p.fault("\"and\" and a second edge are missing", "write midway between slab.top and footing.top")
	}
	p.i++
	b, err := p.edge()
	if err != nil {
		return Edge{}, err
	}
	return Edge{Kind: EdgeMidway, A: &a, B: &b}, nil
}

func (p *words) face(first string) (Edge, error) {
	p.i++
	names, err := p.names()
	if err != nil {
		return Edge{}, err
	}
	e := Edge{Kind: EdgeUnder, Part: names[0]}
	if first == "over" {
		e.Kind = EdgeOver
	}
	switch {
	case len(names) == 2:
		e.Layer = names[1]
	case len(names) > 2:
		return Edge{}, p.faultAt(p.list[p.i-1].start, "\""+first+"\" takes the name of a part, without a side", "write "+first+" "+names[0])
	}
	return e, nil
}

// measured reads what begins with a figure: a length, a length from an edge,
// or a name such as "2x4 plate".
func (p *words) measured(start int) (Edge, error) {
	n := 0
	for !p.stops(n) {
		n++
	}
	if n == 0 {
		return Edge{}, p.fault("a length is missing", edgeMend)
	}
	text := p.text[start:p.list[p.i+n-1].end]
	length, err := units.ParseCoordinate(text)
	steps, sign, vertical := p.direction(n)
	if err != nil {
		if steps == 0 && strings.Contains(text, ".") {
			if _, rest, lengthErr := units.LengthBefore(text); lengthErr == nil && rest != "" {
				return Edge{}, p.faultAt(start+len(text)-len(rest), "which way from "+quote(rest)+" is not said",
					"write above, below, right of or left of between the length and the edge")
			}
			keep := p.i
			if e, refErr := p.reference(); refErr == nil {
				return e, nil
			}
			p.i = keep
		}
		return Edge{}, p.moved(err, start)
	}
	p.i += n
	if steps == 0 {
		return Edge{Kind: EdgeAbsolute, Length: length}, nil
	}
	p.i += steps
	of, err := p.edge()
	if err != nil {
		return Edge{}, err
	}
	if of.Kind == EdgeCut {
		return Edge{}, p.faultAt(p.list[p.i-1].start, "a cut lies nowhere in particular", "measure from an edge of a part")
	}
	if sign < 0 {
		length = 0 - length
	}
	return Edge{Kind: EdgeOffset, Length: length, Of: &of, Vertical: vertical}, nil
}

// moved puts an error of a part of the text at its place in the whole.
func (p *words) moved(err error, by int) error {
	if e, ok := err.(*units.ParseError); ok {
		return p.faultAt(e.Offset+by, e.Message, e.Mend)
	}
	return p.faultAt(by, err.Error(), "")
}

// reference reads NAME.side, NAME.layer.side or a level's name, and
// "at edge" after a side.
func (p *words) reference() (Edge, error) {
	start := p.offset()
	names, err := p.names()
	if err != nil {
		return Edge{}, err
	}
	e := Edge{Kind: EdgeRef, Part: names[0]}
	if len(names) > 1 {
		last := names[len(names)-1]
		side := Side(last)
		if len(names) > 3 {
			return Edge{}, p.faultAt(start, "too many dots", "write NAME.side or NAME.LAYER.side; give a layer whose name has a dot another name")
		}
		if !isSide(last) {
			at := start + strings.LastIndex(p.text[start:p.read()], ".") + 1
			mend := finding.DidYouMean(last, sideWords)
			if mend == "" {
				mend = "say which side: " + strings.Join(names[:min(2, len(names))], ".") + ".left, .right, .bottom or .top"
			}
			return Edge{}, p.faultAt(at, quote(last)+" is no side of a part", mend)
		}
		e.Side = side
		if len(names) == 3 {
			e.Layer = names[1]
		}
	}
	if p.peek(0) == "at" {
		if e.Side == "" {
			return Edge{}, p.fault("only a side lies \"at\" an edge", "write NAME.side at edge, as rafters.bottom at wall.left")
		}
		p.i++
		of, err := p.edge()
		if err != nil {
			return Edge{}, err
		}
		e.Kind, e.Of = EdgeAtEdge, &of
	}
	return e, nil
}

// names reads a name and splits it at its dots; spaces within are made one.
func (p *words) names() ([]string, error) {
	start := p.offset()
	n := 0
	for !p.stops(n) {
		n++
	}
	if n == 0 {
		return nil, p.fault("a name is missing", edgeMend)
	}
	var b strings.Builder
	for k := range n {
		if k > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(p.list[p.i+k].s)
	}
	p.i += n
	names := strings.Split(b.String(), ".")
	for i, s := range names {
		if names[i] = strings.TrimSpace(s); names[i] == "" {
			return nil, p.faultAt(start, "a name is missing beside the dot", edgeMend)
		}
	}
	return names, nil
}

// mayBeNumber reports whether a length could begin with this word.
func mayBeNumber(s string) bool {
	switch c := s[0]; {
	case c >= '0' && c <= '9':
		return true
	case (c == '-' || c == '+' || c == '.') && len(s) > 1:
		return s[1] >= '0' && s[1] <= '9' || s[1] == '.' || s[1] >= 0x80
	}
	return strings.HasPrefix(s, "−") || strings.ContainsRune("½¼¾⅛⅜⅝⅞⅓⅔", []rune(s)[0])
}

var sideWords = []string{string(Left), string(Right), string(Bottom), string(Top)}

func isSide(s string) bool {
	switch Side(s) {
	case Left, Right, Bottom, Top:
		return true
	}
	return false
}

// quote returns a text in quotes, cut short.
func quote(s string) string {
	const most = 40
	if len(s) > most {
		n := most
		for n > 0 && s[n]&0xc0 == 0x80 {
			n--
		}
		s = s[:n] + "…"
	}
	return "\"" + s + "\""
}

// NameFault says why a part, level or space cannot bear a name, or "".
func NameFault(name string) string {
	list := strings.Fields(name)
	switch {
	case len(list) == 0:
		return "a name is missing"
	case len(name) > 60:
		return "the name is longer than 60 letters"
	case strings.Contains(name, "."):
		return "a name has no dot: a dot parts a part from its layer and side"
	case isSide(name) || name == "cut":
		return quote(name) + " is a word of the edge language"
	}
	switch list[0] {
	case "under", "over", "midway", "where":
		return "a name does not begin with \"" + list[0] + "\", which begins an edge"
	}
	for i, w := range list {
		switch w {
		case "of":
			if i > 0 && (list[i-1] == "left" || list[i-1] == "right") {
				return "a name does not hold the words \"" + list[i-1] + " of\", which are words of the edge language"
			}
		case "at", "and", "meets", "above", "below", "up", "down":
			return "a name does not hold the word \"" + w + "\", which is a word of the edge language"
		}
	}
	if _, _, err := units.LengthBefore(name); err == nil {
		return "a name does not begin with a length"
	}
	return ""
}

package detail

import (
	"io/fs"
	"net/url"
	"path"
	"strings"

	"wythe/renderer/finding"
	"wythe/renderer/strict"
	"wythe/renderer/trace"
	"wythe/renderer/units"
)

// defaultMarks is the pattern of a library that states none.
const defaultMarks = "[A-Z]-[0-9]{3}"

// readSettings reads library.yaml. Whatever is wrong is a finding, and the
// default stands in its place.
func (l *Library) readSettings(fsys fs.FS, f files, list *finding.List) strict.Map {
	s := &l.Settings
	s.Marks = defaultMarks
	s.ThermalLeast = units.Inches(1)
	s.At = at(libraryFile)
	var m strict.Map
	if !f.library {
		list.Errorf(s.At, "no-library-file", "begin one with: wythe begin", "the folder has no %s", libraryFile)
	} else if data, ok := readFile(fsys, libraryFile, list); ok {
		s.Hash = trace.Hash(string(data))
		if root, ok := strict.Load(libraryFile, data, list); ok {
			m = root.Map(libraryKeys.names)
		}
	}
	s.read(m)
	marks, err := NewMarks(s.Marks)
	if err != nil {
		m.Get("marks").Errorf("bad-pattern", "write a regular expression, such as \""+defaultMarks+"\"", "%q is no pattern: %v", s.Marks, patternFault(err))
		s.Marks = defaultMarks
		marks, _ = NewMarks(s.Marks)
	}
	l.marks = marks
	return m
}

func (s *Settings) read(m strict.Map) {
	s.Firm = m.Get("firm").Text()
	s.Title = m.Get("title").Text()
	if oneOf[string](m, libraryKeys, "units") == "metric" {
		s.Units = units.Metric
	}
	s.Headline, s.Surfaces = ParallelPath, SurfacesASHRAEWinter
	if s.Units == units.Metric {
		s.Headline, s.Surfaces = CombinedLimits, SurfacesISO6946
	}
	if h := oneOf[Headline](m, libraryKeys, "headline"); h != "" {
		s.Headline = h
	}
	if w := oneOf[SurfaceSet](m, libraryKeys, "surfaces"); w != "" {
		s.Surfaces = w
	}
	if n := m.Get("marks"); !n.IsZero() {
		if p := n.Text(); p != "" {
			s.Marks = p
		}
	}
	s.ClimateName = m.Get("climate").Text()
	s.Sheet = oneOf[string](m, libraryKeys, "sheet")
	s.PDF = m.Get("pdf").Bool()
	s.site(m.Get("site"))
	s.inside(m.Get("inside"))
	s.targets(m.Get("targets"))
	s.energy(m.Get("energy"))
	if n := m.Get("thermal at least"); !n.IsZero() {
		if v := positive(n, units.ParseLength); v > 0 {
			s.ThermalLeast = v
		}
	}
	s.MoistureMargin = quantity(m.Get("moisture margin"), units.ParseShare)
	for _, p := range m.Get("cautions").Pairs() {
		if s.Cautions == nil {
			s.Cautions = map[string]string{}
		}
		if text := p.Value.Text(); text != "" {
			s.Cautions[p.Key.Written()] = text
		}
	}
}

func (s *Settings) site(n strict.Node) {
	if n.IsZero() || n.Written() == "" && n.IsText() {
		return
	}
	s.Site = n.Text()
	if s.Site == "" {
		return
	}
	u, err := url.Parse(s.Site)
	if err != nil || u.Host == "" || u.Scheme != "http" && u.Scheme != "https" {
		n.Errorf("bad-address", "write the whole address: https://details.example.org/", "%q is no address of a site", s.Site)
		s.Site = ""
	}
}

func (s *Settings) inside(n strict.Node) {
	m, ok := open(n, insideKeys)
	if !ok {
		return
	}
	t, ok := strict.Quantity(m.Get("temperature"), units.ParseTemperature)
	if ok && (t < -40 || t > 60) {
		m.Get("temperature").Errorf("out-of-range", "check the scale: F or C", "rooms are not at %q", m.Get("temperature").Written())
		ok = false
	}
	i := Inside{Temperature: t, At: m.At()}
	class, humid := m.Get("moisture class"), m.Get("humidity")
	switch {
	case !class.IsZero() && !humid.IsZero():
		humid.Errorf("over-constrained", "keep one of the two", "moisture class and humidity both stand here")
		ok = false
	case !class.IsZero():
		i.MoistureClass = count(class, 1, 5)
		ok = ok && i.MoistureClass > 0
	case !humid.IsZero():
		i.Humidity = share(humid)
		ok = ok && i.Humidity > 0
	default:
		m.Errorf("missing-key", "add \"moisture class: 3\" or \"humidity: 45 %\"", "the humidity of the rooms is missing")
		ok = false
	}
	if ok {
		s.Inside = i
	}
}

func (s *Settings) targets(n strict.Node) {
	for _, item := range n.List() {
		m := item.Map(targetKeys.names)
		if !m.IsMap() {
			continue
		}
		t := Target{At: m.At()}
		element, junction := m.Get("element"), m.Get("junction")
		switch {
		case element.IsZero() == junction.IsZero():
			m.Errorf("target-of-what", "name one: element: wall, or junction: any", "a target holds for an element or for a junction")
			continue
		case !element.IsZero():
			t.Element, _ = wordOf(element, "element", elements)
		default:
			t.Junction = junction.Text()
		}
		if t.Element == "" && t.Junction == "" || !t.figure(m) {
			continue
		}
		s.Targets = append(s.Targets, t)
	}
}

// figure reads the one figure of a target.
func (t *Target) figure(m strict.Map) bool {
	var n strict.Node
	for _, key := range [...]string{"R-value", "U-factor", "temperature factor"} {
		v := m.Get(key)
		switch {
		case v.IsZero():
		case t.Quantity != "":
			v.Errorf("over-constrained", "give each figure a target of its own", "a target has one figure: %s stands here too", t.Quantity)
			return false
		default:
			t.Quantity, n = key, v
		}
	}
	if t.Quantity == "" {
		m.Errorf("missing-key", "add \"R-value: at least R 35\"", "the target asks for no figure")
		return false
	}
	t.Written = n.Text()
	if t.Written == "" {
		return false
	}
	rest, least := strings.CutPrefix(t.Written, "at least ")
	if !least {
		most := false
		if rest, most = strings.CutPrefix(t.Written, "at most "); !most {
			n.Errorf("bad-target", "write \"at least R 35\" or \"at most U 0.03\"", "%q does not begin with at least or at most", t.Written)
			return false
		}
	}
	t.AtLeast = least
	var err error
	switch t.Quantity {
	case "R-value":
		t.Resistance, err = units.ParseResistance(rest)
	case "U-factor":
		t.Transmittance, err = units.ParseUFactor(rest)
	default:
		t.Factor, err = units.ParseNumber(rest)
		if err == nil && (t.Factor <= 0 || t.Factor > 1) {
			n.Errorf("out-of-range", "a temperature factor lies between 0 and 1", "%q is no temperature factor", rest)
			return false
		}
	}
	if err != nil {
		if e, ok := err.(*units.ParseError); ok {
			err = &units.ParseError{Text: t.Written, Offset: len(t.Written) - len(rest) + e.Offset, Message: e.Message, Mend: e.Mend}
		}
		n.Complain(err)
		return false
	}
	return true
}

func (s *Settings) energy(n strict.Node) {
	for _, item := range n.List() {
		m, ok := open(item, fuelKeys)
		if !ok {
			continue
		}
		f := Fuel{Name: m.Get("fuel").Text(), Efficiency: 1, At: m.At()}
		if e := m.Get("efficiency"); !e.IsZero() {
			f.Efficiency = positive(e, units.ParseRatio)
		}
		price := m.Get("price")
		money, per, err := units.ParsePrice(price.Text())
		if price.Written() == "" || f.Name == "" || f.Efficiency == 0 {
			continue
		}
		if err != nil {
			price.Complain(err)
			continue
		}
		f.Price, f.PriceUnit = money, per
		s.Energy = append(s.Energy, f)
	}
}

// climateFile returns the file of a climate's name among those there are; a
// name that is none is a finding.
func climateFile(n strict.Node, name string, there []string) (string, bool) {
	names := make([]string, len(there))
	for i, f := range there {
		names[i] = strings.TrimSuffix(path.Base(f), path.Ext(f))
		if names[i] == name {
			return f, true
		}
	}
	mend := finding.DidYouMean(name, names)
	if mend == "" {
		mend = "write " + climateFolder + "/NAME.yaml, and its NAME here"
	}
	n.Errorf("unknown-climate", mend, "no file %s/%s.yaml", climateFolder, name)
	return "", false
}

package revision

import (
	"wythe/renderer/detail"
	"wythe/renderer/section"
)

// junction sets a section down: its parts' words, then its geometry as laid,
// in whole micrometres, then the assemblies laid in it.
func (c *canon) junction(j *detail.Junction, s *section.Section) {
	c.key("junction")
	c.flag(j.Plan)
	for _, p := range j.Parts {
		c.part(p)
	}
	for i := range s.Regions {
		c.region("region", &s.Regions[i])
	}
	for i := range s.Beyond {
		c.region("beyond", &s.Beyond[i])
	}
	for i := range s.Films {
		f := &s.Films[i]
		c.key("film line")
		c.int(int64(f.Part))
		c.int(int64(f.Layer))
		c.int(int64(f.Instance))
		c.length(f.Thickness)
		c.points(f.Line)
		for _, n := range f.Normal {
			c.int(int64(n))
		}
	}
	for i := range s.Seals {
		x := &s.Seals[i]
		c.key("seal place")
		c.int(int64(x.Part))
		c.flag(x.Placed)
		if x.Placed {
			c.point(x.Place)
		}
	}
	for _, r := range s.Rounds {
		c.key("round")
		c.int(int64(r.Part))
		c.int(int64(r.Instance))
		c.point(r.Center)
		c.int(r.Radius)
	}
	c.around(j, s)
	before := map[string]bool{}
	for _, p := range j.Parts {
		if p.Assembly != nil && p.Assembly.Assembly != nil && !before[p.Mark] {
			before[p.Mark] = true
			c.key("laid")
			c.text(p.Mark)
			c.stack(p.Assembly.Assembly)
		}
	}
	c.penetrations(j.Penetrations)
}

// around is what stands about the parts: spaces, levels, dimensions, ends.
func (c *canon) around(j *detail.Junction, s *section.Section) {
	for i := range s.Spaces {
		x := &s.Spaces[i]
		c.key("space")
		c.text(x.Name)
		c.flag(x.Inside)
		c.points(x.Points)
	}
	for _, l := range s.Levels {
		c.key("level")
		c.text(l.Name)
		c.int(l.Y)
	}
	for _, d := range s.Dimensions {
		c.key("dimension")
		c.flag(d.Across)
		c.int(d.From)
		c.int(d.To)
	}
	for _, e := range s.Ends {
		c.key("end")
		c.text(string(e.Control))
		c.point(e.Place)
		c.text(e.Why)
	}
	for _, k := range j.KeepOpen {
		c.key("keep open")
		c.text(k.Through)
		c.length(k.Least)
	}
}

// part is what a part's file entry says beside its geometry.
func (c *canon) part(p *detail.Part) {
	c.key("part")
	c.text(p.Name)
	c.int(int64(p.Kind))
	c.material(p.Material)
	c.flag(p.Hole)
	c.flag(p.Beyond)
	c.controls(p.Control)
	for _, words := range [...]string{p.Note, p.Wet, p.Mark, p.SealWord, p.Joints} {
		c.text(words)
	}
	c.length(p.Lap)
	c.texts("continues", p.Continues)
	c.texts("joins", p.Joins)
}

func (c *canon) region(kind string, r *section.Region) {
	c.key(kind)
	c.int(int64(r.Part))
	c.int(int64(r.Layer))
	c.int(int64(r.Instance))
	c.points(r.Ring)
}

package sheet

import (
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/section"
)

// stepOf returns the first step of a junction's sequence, from 1, after which
// a part, or a layer of one, stands; 0 where no step shows it, so that it
// stands from the start. A step that shows a part shows all its layers.
func stepOf(d *detail.Detail, name string) int {
	part, _, layered := strings.Cut(name, ".")
	for i, s := range d.Sequence {
		for _, shown := range s.Shows {
			if shown == name || layered && shown == part {
				return i + 1
			}
		}
	}
	return 0
}

// stand finds what stands after the step of a picture.
func (j *junction) stand() {
	j.standing = map[string]bool{}
	note := func(name string) {
		j.standing[name] = stepOf(j.d, name) <= j.look.After
	}
	for i := range j.s.Faces {
		note(j.s.Faces[i].Name)
	}
	for i := range j.s.Films {
		note(j.s.Films[i].Name)
	}
	for _, p := range j.d.Junction.Parts {
		note(p.Name)
	}
	for i := range j.s.Beyond {
		note(j.s.Beyond[i].Name)
	}
}

// stands reports whether something is drawn.
func (j *junction) stands(name string) bool { return j.standing == nil || j.standing[name] }

// empty reports whether nothing is drawn in a face: open air, or what does not
// stand yet.
func (j *junction) empty(f *section.Face) bool { return f.Region < 0 || !j.stands(f.Name) }

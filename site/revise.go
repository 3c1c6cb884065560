package site

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/site/revision"
)

// RefusedError says why something is not done, and what would let it be.
type RefusedError struct{ Why, Mend string }

func (e *RefusedError) Error() string { return e.Why + "\n\t" + e.Mend }

// Fingerprint returns the fingerprint of a detail as it stands; "" where it
// has errors.
func (l *Library) Fingerprint(d *detail.Detail) string {
	e := l.byFile[d.File]
	if e == nil || e.broken {
		return ""
	}
	if d.Assembly != nil {
		return revision.Fingerprint(d, nil)
	}
	j := e.junction()
	if j == nil || j.Laying.Errors() > 0 {
		return ""
	}
	return revision.Fingerprint(d, j.Section)
}

// Revise writes the next revision of a detail into its file, with a note, a
// date (year-month-day) and its fingerprint. All else in the file stays byte
// for byte. Nothing is written unless the file then reads back as it should.
//
// Errors: *[RefusedError]; *[FindingsError] for a detail with errors;
// *[revision.LayoutError].
func (l *Library) Revise(d *detail.Detail, note, date string) (detail.Revision, error) {
	entry := detail.Revision{Rev: revision.Next(d), Date: date, Note: strings.Join(strings.Fields(note), " ")}
	former := detail.Revision{}
	if len(d.Revisions) > 0 {
		former = d.Revisions[0]
	}
	switch {
	case entry.Note == "":
		return entry, &RefusedError{"a revision needs a note", "say what changed: --note \"Foam 3 in, was 2 in.\""}
	case d.Status == detail.Superseded:
		return entry, &RefusedError{d.Mark + " is superseded: it is issued no more", "revise " + d.SupersededBy + ", which takes its place"}
	case entry.Rev == "":
		return entry, &RefusedError{fmt.Sprintf("no revision of three signs follows %s", former.Rev), "give the detail a new mark"}
	case former.Date > date:
		return entry, &RefusedError{fmt.Sprintf("the date %s is before revision %s of %s", date, former.Rev, former.Date), "give a later one: --date " + former.Date}
	}
	if entry.Fingerprint = l.Fingerprint(d); entry.Fingerprint == "" {
		own := l.ErrorsOf(d)
		return entry, &FindingsError{max(1, own.Errors())}
	}
	if former.Fingerprint == entry.Fingerprint {
		return entry, &RefusedError{fmt.Sprintf("nothing of %s changed since revision %s", d.Mark, former.Rev), "change the detail first"}
	}
	name := filepath.Join(l.root, filepath.FromSlash(d.File))
	data, err := os.ReadFile(name)
	if err != nil {
		return entry, err
	}
	fresh, err := revision.Insert(d.File, data, entry)
	if err != nil {
		return entry, err
	}
	if err := l.readsBack(d, entry, fresh); err != nil {
		return entry, err
	}
	return entry, replaceFile(name, fresh)
}

// readsBack reads the library with a file as it would be, and holds the detail
// in it to what was meant.
func (l *Library) readsBack(d *detail.Detail, entry detail.Revision, data []byte) error {
	root, err := os.OpenRoot(l.root)
	if err != nil {
		return err
	}
	defer root.Close()
	again, err := detail.ReadFS(revision.Overlay(root.FS(), d.File, data))
	if err != nil {
		return err
	}
	for _, f := range again.Findings.Items {
		if f.Level == finding.Error && f.File == d.File {
			return &RefusedError{"with the new revision the file would have an error: " + f.Message, "mend the table of revisions by hand: wythe review"}
		}
	}
	is := again.Detail(d.Mark)
	if is == nil || len(is.Revisions) != len(d.Revisions)+1 {
		return &RefusedError{"the new revision would not read back from " + d.File, "write an entry a line in its table of revisions"}
	}
	first := is.Revisions[0]
	first.At = entry.At
	if first != entry {
		return &RefusedError{"the new revision would not be the first of the table in " + d.File, "list the newest revision first"}
	}
	return nil
}

// replaceFile writes a file aside and swaps it in, with the rights it had.
func replaceFile(name string, data []byte) error {
	mode := fs.FileMode(0o666)
	if info, err := os.Stat(name); err == nil {
		mode = info.Mode().Perm()
	}
	aside, err := os.CreateTemp(filepath.Dir(name), ".wythe-*")
	if err != nil {
		return err
	}
	_, err = aside.Write(data)
	if err == nil {
		err = aside.Chmod(mode)
	}
	if err == nil {
		err = aside.Sync()
	}
	if closing := aside.Close(); err == nil {
		err = closing
	}
	if err == nil {
		err = os.Rename(aside.Name(), name)
	}
	if err != nil {
		_ = os.Remove(aside.Name()) // the file itself stands as it was
	}
	return err
}

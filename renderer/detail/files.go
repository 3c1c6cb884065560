package detail

import (
	"errors"
	"io"
	"io/fs"
	"path"
	"sort"
	"strings"

	"wythe/renderer/finding"
)

// Limits of one file. A detail is read by people: nothing near these sizes
// is one.
const (
	MaxFile = 512 << 10 // bytes of one file
	MaxBody = 256 << 10 // bytes of Markdown after the front matter
)

// Files of the library's root, and the folder of climates.
const (
	libraryFile   = "library.yaml"
	materialsFile = "materials.yaml"
	climateFolder = "climates"
)

// recordFile marks a published site: the folder that holds it is output and
// is never read as input.
const recordFile = ".wythe-manifest.json"

// files are what a library's folder holds, each list sorted.
type files struct {
	pages    []string // *.md
	climates []string // climates/*.yaml
	library  bool
	own      bool // materials.yaml
}

// findFiles goes through the folder. Hidden folders, published/ and any other
// published site are passed over; so are links, with a finding.
func findFiles(fsys fs.FS, list *finding.List) (files, error) {
	var f files
	err := fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			if name == "." {
				return err
			}
			list.Errorf(finding.Position{File: name}, "unreadable", "check the rights to read it", "cannot be read: %v", cause(err))
			if d != nil && d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		base := path.Base(name)
		if d.IsDir() {
			if name == "." {
				return nil
			}
			if strings.HasPrefix(base, ".") || name == "published" {
				return fs.SkipDir
			}
			if _, err := fs.Stat(fsys, name+"/"+recordFile); err == nil {
				return fs.SkipDir
			}
			return nil
		}
		if strings.HasPrefix(base, ".") {
			return nil
		}
		dir, ext := path.Dir(name), strings.ToLower(path.Ext(name))
		if ext == "" && d.Type()&fs.ModeSymlink != 0 {
			list.Warnf(finding.Position{File: name}, "not-a-file", "put the folder itself into the library", "%s is a link and is not followed", base)
		}
		if ext != ".md" && ext != ".yaml" && ext != ".yml" {
			return nil
		}
		if !d.Type().IsRegular() {
			says, mend := "is not a regular file and is not read", "take it out of the library"
			if d.Type()&fs.ModeSymlink != 0 {
				says, mend = "is a link and is not followed", "put the file itself into the library"
			}
			list.Errorf(finding.Position{File: name}, "not-a-file", mend, "%s %s", base, says)
			return nil
		}
		switch {
		case ext == ".md":
			f.pages = append(f.pages, name)
		case name == libraryFile:
			f.library = true
		case name == materialsFile:
			f.own = true
		case dir == climateFolder && ext == ".yaml":
			f.climates = append(f.climates, name)
		case dir == climateFolder:
			list.Warnf(finding.Position{File: name}, "unknown-file", "name it "+strings.TrimSuffix(base, path.Ext(base))+".yaml", "%s is not read", base)
		case dir == ".":
			mend := finding.DidYouMean(base, []string{libraryFile, materialsFile})
			if mend == "" {
				mend = "a climate goes into " + climateFolder + "/, materials into " + materialsFile
			}
			list.Warnf(finding.Position{File: name}, "unknown-file", mend, "%s is not read", base)
		}
		return nil
	})
	sort.Strings(f.pages)
	sort.Strings(f.climates)
	return f, err
}

// readFile returns the bytes of a file that is no larger than MaxFile. What
// goes wrong is a finding.
func readFile(fsys fs.FS, name string, list *finding.List) ([]byte, bool) {
	at := finding.Position{File: name}
	file, err := fsys.Open(name)
	if err != nil {
		list.Errorf(at, "unreadable", "check the rights to read it", "cannot be read: %v", cause(err))
		return nil, false
	}
	defer file.Close()
	size := 8 << 10
	if info, err := file.Stat(); err == nil {
		if info.Size() > MaxFile {
			tooLarge(at, info.Size(), list)
			return nil, false
		}
		size = int(info.Size())
	}
	data := make([]byte, 0, size+1)
	for {
		if len(data) == cap(data) {
			data = append(data, 0)[:len(data)]
		}
		n, err := file.Read(data[len(data):cap(data)])
		data = data[:len(data)+n]
		switch {
		case len(data) > MaxFile:
			tooLarge(at, int64(len(data)), list)
			return nil, false
		case errors.Is(err, io.EOF):
			return data, true
		case err != nil:
			list.Errorf(at, "unreadable", "check the rights to read it", "cannot be read: %v", cause(err))
			return nil, false
		}
	}
}

func tooLarge(at finding.Position, size int64, list *finding.List) {
	list.Errorf(at, "too-large", "part it into several files", "%d KB is more than the %d KB read", size>>10, MaxFile>>10)
}

// cause is an error of the file system without the path in it.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

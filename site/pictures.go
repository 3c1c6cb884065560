package site

import (
	"path"
	"regexp"
	"strings"

	"wythe/renderer/trace"
	"wythe/site/tree"
)

// pictured finds the pictures that a Markdown text names.
var pictured = regexp.MustCompile(`!\[[^\]]*\]\(<?([^)>\s]+)`)

// pictureKinds are the endings of pictures that are published. An SVG may hold
// a script, and is not among them.
var pictureKinds = map[string]bool{".png": true, ".jpg": true, ".jpeg": true, ".webp": true, ".gif": true}

// pictureName is a picture's file, from the library's root, as a text in file
// names it; "" where that is no file of the library.
func pictureName(file, target string) string {
	name := path.Join(path.Dir(file), target)
	if strings.Contains(target, ":") || path.IsAbs(target) || strings.HasPrefix(name, "..") || !pictureKinds[strings.ToLower(path.Ext(name))] {
		return ""
	}
	return name
}

// findPictures gives each picture that a text names its address: its name with
// the hash of its bytes, as other assets have.
func (l *Library) findPictures() {
	l.pictures = map[string]string{}
	l.entries(func(e *entry) {
		if !strings.Contains(e.d.Body, "![") {
			return
		}
		for _, m := range pictured.FindAllStringSubmatch(e.d.Body, -1) {
			name := pictureName(e.d.File, m[1])
			if name == "" || l.pictures[name] != "" {
				continue
			}
			data, ok := l.view(nil).File(name)
			if !ok {
				continue
			}
			ext := path.Ext(name)
			l.pictures[name] = "pictures/" + strings.TrimSuffix(path.Base(name), ext) + "." + trace.Hash(string(data))[:10] + strings.ToLower(ext)
			l.pictureNames = append(l.pictureNames, name)
		}
	})
}

// pictureOutputs are the pictures of the site.
func (l *Library) pictureOutputs() []tree.Output {
	var outs []tree.Output
	placed := map[string]bool{}
	for _, name := range l.pictureNames {
		if at := l.pictures[name]; !placed[at] {
			placed[at] = true
			outs = append(outs, tree.Output{Path: at, Make: func(reads *trace.Reads) ([]byte, error) {
				data, ok := l.view(reads).File(name)
				if !ok {
					return nil, &lostError{name}
				}
				return data, nil
			}})
		}
	}
	return outs
}

// lostError says that a file of the library went away while it was published.
type lostError struct{ name string }

func (e *lostError) Error() string {
	return e.name + " went away while the library was published; publish again"
}

package themes

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"path"
	"sort"
	"strconv"
	"strings"

	"wythe/themes/fonts"
)

// AssetFolder is where assets stand in a published site.
const AssetFolder = "assets"

// Asset is a file that pages name by its content.
type Asset struct {
	Name string // style.css
	Path string // from the site's root: assets/style.5d41402abc.css
	Data []byte
}

// Bundle is the assets of a site.
type Bundle struct {
	assets []Asset
	paths  map[string]string
}

// Bundle returns the theme's assets: the fonts, style.css (the theme's style
// sheets, then those given), site.js and icon.svg. Fonts carry their hash in the style
// sheet, so that its own hash follows theirs.
func (s *Set) Bundle(sheets ...[]byte) (*Bundle, error) {
	b := &Bundle{paths: map[string]string{}}
	var style bytes.Buffer
	var pairs []string
	seen := map[string]bool{}
	for _, f := range fonts.WebFaces() {
		if !seen[f.File] {
			seen[f.File] = true
			data, err := fs.ReadFile(fonts.Files, f.File)
			if err != nil {
				return nil, fmt.Errorf("theme: %w", err)
			}
			b.Add(f.File, data)
			pairs = append(pairs, "url("+f.File+")", "url("+path.Base(b.Path(f.File))+")")
		}
		fmt.Fprintf(&style, "@font-face{font-family:%q;src:url(%s) format(\"woff2\");font-weight:%s;font-display:swap;unicode-range:%s}\n",
			f.Family, path.Base(b.Path(f.File)), f.Weights, f.Range)
	}
	own := strings.NewReplacer(pairs...)
	if _, err := own.WriteString(&style, string(s.style)); err != nil {
		return nil, err
	}
	for _, sheet := range sheets {
		style.Write(sheet)
	}
	b.Add("style.css", style.Bytes())
	b.Add(script, s.script)
	b.Add(findScript, s.find)
	b.Add(icon, s.icon)
	return b, nil
}

// Add puts a file into the bundle and returns its path from the site's root.
// A name that is there already is replaced.
func (b *Bundle) Add(name string, data []byte) string {
	sum := sha256.Sum256(data)
	ext := path.Ext(name)
	at := AssetFolder + "/" + strings.TrimSuffix(name, ext) + "." + hex.EncodeToString(sum[:5]) + ext
	if _, there := b.paths[name]; there {
		for i := range b.assets {
			if b.assets[i].Name == name {
				b.assets[i] = Asset{name, at, data}
			}
		}
	} else {
		b.assets = append(b.assets, Asset{name, at, data})
	}
	b.paths[name] = at
	return at
}

// Path returns where an asset stands, from the site's root; "" if there is
// none of that name.
func (b *Bundle) Path(name string) string { return b.paths[name] }

// Assets returns the files, ordered by name.
func (b *Bundle) Assets() []Asset {
	sort.Slice(b.assets, func(i, j int) bool { return b.assets[i].Name < b.assets[j].Name })
	return b.assets
}

// Manifest returns a JSON object of names to paths, ordered by name.
func (b *Bundle) Manifest() []byte {
	var m bytes.Buffer
	m.WriteString("{\n")
	for i, a := range b.Assets() {
		if i > 0 {
			m.WriteString(",\n")
		}
		m.WriteString("  " + strconv.Quote(a.Name) + ": " + strconv.Quote(a.Path))
	}
	m.WriteString("\n}\n")
	return m.Bytes()
}

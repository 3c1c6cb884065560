package cited

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"path"
	"regexp"
	"strconv"
	"strings"
)

// readArchive reads a word-processing document of ISO/IEC 29500.
func readArchive(data []byte, book *Book, link bool) ([]Cite, []byte, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if errors.Is(err, zip.ErrInsecurePath) {
		return nil, nil, refusef("a part of the archive has a name that leads out of it")
	}
	if err != nil {
		return nil, nil, refusef("it is a broken archive: %v", err)
	}
	byName, err := checkParts(z, int64(len(data)))
	if err != nil {
		return nil, nil, err
	}
	if byName["[content_types].xml"] == nil || byName["word/document.xml"] == nil {
		return nil, nil, refusef("it is an archive, but no word-processing document: it has no word/document.xml")
	}
	var cites []Cite
	fresh := map[string][]byte{}
	for _, f := range z.File {
		if !textPart.MatchString(f.Name) {
			continue
		}
		text, err := unpack(f)
		if err != nil {
			return nil, nil, err
		}
		p := &part{name: f.Name, text: text, book: book, link: link}
		if err := p.read(); err != nil {
			return nil, nil, err
		}
		cites = append(cites, p.cites...)
		if err := checkCount(cites); err != nil {
			return nil, nil, err
		}
		if len(p.edits) == 0 {
			continue
		}
		relsName := path.Join(path.Dir(f.Name), "_rels", path.Base(f.Name)+".rels")
		var rels []byte
		if r := byName[strings.ToLower(relsName)]; r != nil {
			relsName = r.Name
			if rels, err = unpack(r); err != nil {
				return nil, nil, err
			}
		}
		if fresh[relsName], err = p.relate(rels); err != nil {
			return nil, nil, err
		}
		fresh[f.Name] = p.rewritten()
	}
	if len(fresh) == 0 {
		return cites, nil, nil
	}
	copied, err := repack(z, fresh)
	return cites, copied, err
}

// textPart matches the parts whose text a reader sees.
var textPart = regexp.MustCompile(`^word/(document|header[0-9]*|footer[0-9]*|footnotes|endnotes)\.xml$`)

// checkParts refuses an archive that is meant to harm, before any of it is
// unpacked.
func checkParts(z *zip.Reader, size int64) (map[string]*zip.File, error) {
	if len(z.File) > maxParts {
		return nil, refusef("the archive has more than %d parts", maxParts)
	}
	byName := make(map[string]*zip.File, len(z.File))
	packed := int64(0)
	for _, f := range z.File {
		clean := strings.TrimSuffix(f.Name, "/")
		switch {
		case clean == "" || strings.ContainsAny(f.Name, "\\:\x00") || path.IsAbs(f.Name) || path.Clean(clean) != clean || clean == ".." || strings.HasPrefix(clean, "../"):
			return nil, refusef("a part of the archive has the name %q, which leads out of it", f.Name)
		case f.Flags&1 != 0:
			return nil, refusef("the document is locked with a password")
		case f.UncompressedSize64 > maxPart && textPart.MatchString(f.Name):
			return nil, refusef("%s would unpack to more than %d MB", f.Name, maxPart>>20)
		case byName[strings.ToLower(f.Name)] != nil:
			return nil, refusef("the archive holds %s twice", f.Name)
		}
		byName[strings.ToLower(f.Name)] = f
		packed += int64(f.CompressedSize64)
		if packed > size {
			return nil, refusef("the parts of the archive lie over one another")
		}
	}
	return byName, nil
}

// unpack returns a part, whatever size its header claims.
func unpack(f *zip.File) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, refusef("%s cannot be unpacked: %v", f.Name, err)
	}
	defer r.Close()
	data, err := io.ReadAll(io.LimitReader(r, maxPart+1))
	if len(data) > maxPart {
		return nil, refusef("%s unpacks to more than %d MB", f.Name, maxPart>>20)
	}
	if err != nil {
		return nil, refusef("%s cannot be unpacked: %v", f.Name, err)
	}
	return data, nil
}

// repack copies an archive, part by part as it lies, but for those that are
// given anew; those that it lacks come last.
func repack(z *zip.Reader, fresh map[string][]byte) ([]byte, error) {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	if err := w.SetComment(z.Comment); err != nil {
		return nil, err
	}
	done := map[string]bool{}
	put := func(h *zip.FileHeader, data []byte) error {
		part, err := w.CreateHeader(h)
		if err == nil {
			_, err = part.Write(data)
		}
		return err
	}
	for _, f := range z.File {
		data, changed := fresh[f.Name]
		if !changed {
			if err := w.Copy(f); err != nil {
				return nil, refusef("%s cannot be copied: %v", f.Name, err)
			}
			continue
		}
		done[f.Name] = true
		h := zip.FileHeader{Name: f.Name, Method: f.Method, Comment: f.Comment, ModifiedDate: f.ModifiedDate, ModifiedTime: f.ModifiedTime, ExternalAttrs: f.ExternalAttrs, CreatorVersion: f.CreatorVersion}
		if err := put(&h, data); err != nil {
			return nil, err
		}
	}
	for _, name := range sortedKeys(fresh) {
		if !done[name] {
			if err := put(&zip.FileHeader{Name: name, Method: zip.Deflate}, fresh[name]); err != nil {
				return nil, err
			}
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

var relation = regexp.MustCompile(`Id\s*=\s*["'](wythe([0-9]+))["']`)

// relate adds the part's new links to its relationships.
func (p *part) relate(rels []byte) ([]byte, error) {
	if rels == nil {
		rels = []byte(`<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n" + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"></Relationships>`)
	}
	if bytes.Contains(rels, []byte("<!DOCTYPE")) || bytes.Contains(rels, []byte("<!ENTITY")) {
		return nil, refusef("the relationships of %s declare entities", p.name)
	}
	next := 1
	for _, m := range relation.FindAllSubmatch(rels, -1) {
		if n, err := strconv.Atoi(string(m[2])); err == nil && n >= next {
			next = n + 1
		}
	}
	var add strings.Builder
	prefix, at, empty := relationsEnd(rels)
	if at < 0 {
		return nil, refusef("the relationships of %s cannot be read", p.name)
	}
	for i := range p.links {
		l := &p.links[i]
		l.id = "wythe" + strconv.Itoa(next+i)
		add.WriteString("<" + prefix + `Relationship Id="` + l.id + `" Type="` + p.space.relations + `/hyperlink" Target="` + escapeXML(l.href) + `" TargetMode="External"/>`)
	}
	out := append([]byte(nil), rels[:at]...)
	if empty { // <Relationships …/>
		out = append(out, ">"...)
		out = append(out, add.String()...)
		out = append(out, "</"+prefix+"Relationships>"...)
		return append(out, rels[at+2:]...), nil
	}
	out = append(out, add.String()...)
	return append(out, rels[at:]...), nil
}

var (
	relationsTag   = regexp.MustCompile(`<((?:[A-Za-z_][\w.-]*:)?)Relationships\b[^<>]*>`)
	relationsClose = regexp.MustCompile(`</((?:[A-Za-z_][\w.-]*:)?)Relationships\s*>\s*$`)
)

// relationsEnd finds where a relationship can be added.
func relationsEnd(rels []byte) (prefix string, at int, empty bool) {
	open := relationsTag.FindSubmatchIndex(rels)
	if open == nil {
		return "", -1, false
	}
	prefix = string(rels[open[2]:open[3]])
	if rels[open[1]-2] == '/' {
		return prefix, open[1] - 2, true
	}
	if end := relationsClose.FindSubmatchIndex(rels); end != nil {
		return prefix, end[0], false
	}
	return "", -1, false
}

package search

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"
)

// Index is the files of an index.
type Index struct {
	Main  []byte // a script: documents, and the terms of their materials, trades and sections
	Words []Part // the terms of the texts, by how they begin, in order
}

// Part is a script with the terms of texts that begin alike.
type Part struct {
	Begin string // the first letters or digits; "_" for any other sign
	Data  []byte
}

// mostOfPart is how many bytes a part holds before it is split by one more
// letter; a phone loads one or two of them to answer.
const mostOfPart = 48 << 10

// begin is how a term begins, in so many signs.
func begin(term string, signs int) string {
	out := make([]byte, 0, 8)
	for _, r := range term {
		if len(out) == signs {
			break
		}
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			out = append(out, byte(r))
		} else {
			out = append(out, '_')
		}
	}
	return string(out)
}

// parts splits lines of terms, which are in order, by how they begin: as far
// as it takes to keep each small.
func parts(lines []string, signs int) []Part {
	byBegin, order := map[string][]string{}, []string{}
	for _, line := range lines {
		term, _, _ := strings.Cut(line, "\t")
		key := begin(term, signs)
		if byBegin[key] == nil {
			order = append(order, key)
		}
		byBegin[key] = append(byBegin[key], line)
	}
	slices.Sort(order) // signs outside the alphabet stand apart in the terms' order
	var out []Part
	for _, key := range order {
		list := byBegin[key]
		size := 0
		for _, line := range list {
			size += len(line)
		}
		if size > mostOfPart && len(list) > 1 && signs < 6 {
			out = append(out, parts(list, signs+1)...)
			continue
		}
		data := append([]byte("wythe.give(\"words-"+key+"\","), quoted(strings.Join(list, ""))...)
		out = append(out, Part{key, append(data, ");\n"...)})
	}
	return out
}

func (b *builder) write(docs []Doc, order []int32) *Index {
	var main, line []byte
	var lines []string
	for _, n := range order {
		term, list := b.terms[n], b.postings[n]
		// Marks and titles stand among the documents: who reads them takes their terms.
		if line = appendPostings(append(append(line[:0], term...), '\t'), list, fieldMaterial, fieldSpec); line[len(line)-1] != '\t' {
			main = append(append(main, line...), '\n')
		}
		if line = appendPostings(append(append(line[:0], term...), '\t'), list, fieldBody, fieldBody); line[len(line)-1] != '\t' {
			lines = append(lines, string(append(line, '\n')))
		}
	}
	out := &Index{}
	var s strings.Builder
	s.WriteString("wythe.give(\"index\",{\"docs\":")
	s.Write(quoted(documents(docs)))
	s.WriteString(",\n\"lengths\":")
	s.Write(quoted(b.lengthLines()))
	s.WriteString(",\n\"averages\":[")
	for f, a := range b.averages {
		if f > 0 {
			s.WriteByte(',')
		}
		s.WriteString(strconv.FormatFloat(a, 'g', -1, 64))
	}
	s.WriteString("],\n\"quiet\":")
	s.Write(quoted(strings.TrimSpace(quiet)))
	s.WriteString(",\n\"terms\":")
	s.Write(quoted(string(main)))
	s.WriteString("});\n")
	out.Main = []byte(s.String())
	out.Words = parts(lines, 1)
	return out
}

// documents prints one line a document: kind, mark, title, address, picture,
// state, parted by tabs. What follows from the mark is left out.
func documents(docs []Doc) string {
	var s strings.Builder
	plain := func(text string) string {
		return strings.NewReplacer("\t", " ", "\n", " ").Replace(text)
	}
	for i := range docs {
		d := &docs[i]
		href, thumb := d.Href, d.Thumb
		if href == d.Mark+"/index.html" {
			href = ""
		}
		if thumb == d.Mark+"/thumb.svg" {
			thumb = "+"
		}
		kind := d.Kind
		if kind == "detail" {
			kind = ""
		}
		if i > 0 {
			s.WriteByte('\n')
		}
		s.WriteString(strings.TrimRight(strings.Join([]string{plain(d.Mark), plain(d.Title), href, thumb, kind, d.State}, "\t"), "\t"))
	}
	return s.String()
}

// lengthLines prints one line a field: how many terms each document has in it,
// in base 36.
func (b *builder) lengthLines() string {
	var out []byte
	for f := range b.lengths {
		if f > 0 {
			out = append(out, '\n')
		}
		for i, n := range b.lengths[f] {
			if i > 0 {
				out = append(out, ' ')
			}
			out = strconv.AppendInt(out, int64(n), 36)
		}
	}
	return string(out)
}

// quoted is a text as a string of JSON, which a script reads as well.
func quoted(text string) []byte {
	q, err := json.Marshal(text)
	if err != nil {
		panic(err) // a string always has a JSON form
	}
	return q
}

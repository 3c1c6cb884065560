package search

import (
	"encoding/json"
	"strconv"
	"strings"
)

// Index is the files of an index.
type Index struct {
	Main  []byte // a script: documents, and the terms of all but their texts
	Words []Part // the terms of the texts, by first letter, in order
}

// Part is a script with the terms of texts that begin with one letter.
type Part struct {
	Letter string // "a" to "z"; "0" for any other sign
	Data   []byte
}

// letterOf is the part in which a term stands.
func letterOf(term string) byte {
	if c := term[0]; c >= 'a' && c <= 'z' {
		return c
	}
	return '0'
}

func (b *builder) write(docs []Doc, order []int32) *Index {
	var main []byte
	parts := map[byte][]byte{}
	for _, n := range order {
		term, list := b.terms[n], b.postings[n]
		inBody, inMain := false, false
		for i := range list {
			inBody = inBody || list[i].field == fieldBody
			inMain = inMain || list[i].field != fieldBody
		}
		if inMain {
			main = append(append(main, term...), '\t')
			main = append(appendPostings(main, list, false), '\n')
		}
		if inBody {
			letter := letterOf(term)
			part := append(append(parts[letter], term...), '\t')
			parts[letter] = append(appendPostings(part, list, true), '\n')
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
	for _, letter := range []byte("0abcdefghijklmnopqrstuvwxyz") {
		if part, ok := parts[letter]; ok {
			data := append([]byte("wythe.give(\"words-"+string(letter)+"\","), quoted(string(part))...)
			out.Words = append(out.Words, Part{string(letter), append(data, ");\n"...)})
		}
	}
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

package tree

import (
	"encoding/json"
	"strconv"
	"strings"

	"wythe/renderer/trace"
)

// decodePrinted reads a record exactly as encode prints it, in about a tenth of
// the time that any JSON takes; ok is false for every other text, which may be
// a record all the same.
func decodePrinted(text string) (r Record, ok bool) {
	p := printed{rest: text, ok: true}
	p.skip("{\"wythe\": " + strconv.Itoa(recordForm) + ",\n\"reads\": [")
	p.list("\n[", func() {
		key := p.text("")
		hash := p.text(",")
		p.skip("]")
		r.Reads = append(r.Reads, trace.Read{Key: key, Hash: hash})
	})
	p.skip("\n],\n\"files\": [")
	r.Files = p.files()
	if p.next("\n],\n\"earlier\": [") {
		r.Earlier = p.files()
	}
	p.skip("\n]}\n")
	return r, p.ok && p.rest == ""
}

// printed is what is still to be read of a record.
type printed struct {
	rest string
	ok   bool
}

// next takes a text where it follows.
func (p *printed) next(s string) bool {
	rest, found := strings.CutPrefix(p.rest, s)
	if found {
		p.rest = rest
	}
	return found
}

func (p *printed) skip(s string) { p.ok = p.next(s) && p.ok }

// list reads what begins with a line each, commas between.
func (p *printed) list(begin string, item func()) {
	for more := p.next(begin); more && p.ok; more = p.next("," + begin) {
		item()
	}
}

// text reads a quoted text after what goes before.
func (p *printed) text(before string) string {
	p.skip(before)
	p.skip("\"")
	end := strings.IndexByte(p.rest, '"')
	if end < 0 {
		p.ok = false
		return ""
	}
	s := p.rest[:end]
	if strings.IndexByte(s, '\\') < 0 {
		p.rest = p.rest[end+1:]
		if !isPlain(s) && !json.Valid([]byte("\""+s+"\"")) {
			p.ok = false
		}
		return s
	}
	for end = 0; end < len(p.rest) && p.rest[end] != '"'; end++ {
		if p.rest[end] == '\\' {
			end++
		}
	}
	if end >= len(p.rest) {
		p.ok = false
		return ""
	}
	if json.Unmarshal([]byte("\""+p.rest[:end]+"\""), &s) != nil {
		p.ok = false
	}
	p.rest = p.rest[end+1:]
	return s
}

// number reads digits.
func (p *printed) number() int64 {
	var n int64
	i := 0
	for ; i < len(p.rest) && i < 18 && p.rest[i] >= '0' && p.rest[i] <= '9'; i++ {
		n = n*10 + int64(p.rest[i]-'0')
	}
	p.ok = p.ok && i > 0
	p.rest = p.rest[i:]
	return n
}

func (p *printed) files() []File {
	var files []File
	var all []int // of many files, in one piece
	p.list("\n{\"path\": ", func() {
		f := File{Path: p.text("")}
		f.Hash = p.text(", \"hash\": ")
		p.skip(", \"size\": ")
		f.Size = p.number()
		if p.next(", \"reads\": [") {
			from := len(all)
			for more := true; more && p.ok; more = p.next(",") {
				all = append(all, int(p.number()))
			}
			f.Reads = all[from:len(all):len(all)]
			p.skip("]")
		}
		p.skip("}")
		files = append(files, f)
	})
	return files
}

// Package cited finds the marks of a library in documents kept elsewhere, and
// writes copies with the marks hyperlinked: plain text, HTML, and
// word-processing documents (ISO/IEC 29500).
//
// A document is read as if its author meant harm: sizes are bounded before
// anything is unpacked, no entity is looked up, no name in an archive is taken
// for a path. What is refused is refused whole. In a copy every byte that is
// no part of a new link stays as it was; the parts of an archive that hold no
// mark are copied as they lie, packed.
package cited

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"wythe/renderer/detail"
)

// Cite is a mark that a document names.
type Cite struct {
	Mark, Rev string
	Place     string // "line 3", "paragraph 12 of word/document.xml"
	// Small says that it is a mark only if capitals are not told from small
	// letters; Mark is as written.
	Small  bool
	Linked bool // the document links it already
}

// Book is what a library tells of its marks.
type Book struct {
	Marks *detail.Marks
	// Known reports whether the library has a mark.
	Known func(mark string) bool
	// Address is where a mark, or its revision, is published; "" links nothing.
	Address func(mark, rev string) string
}

// RefusedError says why a document is not read.
type RefusedError struct{ Why string }

func (e *RefusedError) Error() string { return e.Why }

func refusef(format string, args ...any) error { return &RefusedError{fmt.Sprintf(format, args...)} }

// Limits of one document.
const (
	MaxDocument = 64 << 20  // bytes of the file
	maxPart     = 64 << 20  // bytes of one part, unpacked
	maxParts    = 10_000    // of an archive
	maxCites    = 1_000_000 // beyond it nobody reads a list
)

// Read finds the marks of a document and, where link is set, returns a copy
// with links; the copy is nil where it would be the same.
//
// Errors: *[RefusedError].
func Read(name string, data []byte, book *Book, link bool) (cites []Cite, copied []byte, err error) {
	switch {
	case len(data) > MaxDocument:
		return nil, nil, refusef("it is larger than %d MB", MaxDocument>>20)
	case bytes.HasPrefix(data, []byte("PK\x03\x04")) || bytes.HasPrefix(data, []byte("PK\x05\x06")):
		return readArchive(data, book, link)
	case bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")):
		return nil, nil, refusef("it is a document of the old binary form: save it as .docx")
	case bytes.HasPrefix(data, []byte("%%PDF")) || bytes.HasPrefix(data, []byte("%PDF")):
		return nil, nil, refusef("it is a PDF: name the document that it was made from")
	case bytes.IndexByte(data, 0) >= 0 || !utf8.Valid(data):
		return nil, nil, refusef("it is no text in UTF-8, no HTML and no word-processing document")
	}
	text := string(data)
	if isHTML(name, text) {
		return readHTML(text, book, link)
	}
	return readText(name, text, book, link)
}

func isHTML(name, text string) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".html", ".htm", ".xhtml":
		return true
	}
	head := strings.ToLower(strings.TrimSpace(strings.TrimPrefix(text[:min(len(text), 200)], "\ufeff")))
	return strings.HasPrefix(head, "<!doctype html") || strings.HasPrefix(head, "<html")
}

// found is a mark in a run of text, with what follows of its revision.
type found struct {
	from, to  int // the mark
	end       int // the mark and its revision
	mark, rev string
	small     bool
}

// marksIn finds the marks of a run of text.
func marksIn(s string, book *Book) []found {
	var out []found
	upper, same := capitals(s)
	plain := 0 // the next mark as written begins at or after
	pFrom, pTo, pOK := book.Marks.Next(s, 0)
	for from := 0; ; {
		start, end, ok := book.Marks.Next(upper, from)
		for pOK && pFrom < start {
			// As written it is a mark, in capitals it would be part of none.
			out = append(out, take(s, pFrom, pTo, false))
			plain = pTo
			pFrom, pTo, pOK = book.Marks.Next(s, plain)
		}
		if !ok {
			for pOK {
				out = append(out, take(s, pFrom, pTo, false))
				pFrom, pTo, pOK = book.Marks.Next(s, pTo)
			}
			return out
		}
		from = end
		switch {
		case pOK && pFrom == start:
			out = append(out, take(s, pFrom, pTo, false))
			from = max(end, pTo)
			pFrom, pTo, pOK = book.Marks.Next(s, pTo)
		case !same && book.Known(upper[start:end]):
			out = append(out, take(s, start, end, true))
		}
	}
}

// capitals turns ASCII letters into capitals; all else stays in its place.
func capitals(s string) (string, bool) {
	for i := range len(s) {
		if s[i] >= 'a' && s[i] <= 'z' {
			b := []byte(s)
			for k := i; k < len(b); k++ {
				if b[k] >= 'a' && b[k] <= 'z' {
					b[k] -= 'a' - 'A'
				}
			}
			return string(b), false
		}
	}
	return s, true
}

func take(s string, from, to int, small bool) found {
	f := found{from: from, to: to, end: to, mark: s[from:to], small: small}
	f.rev, f.end = revisionAfter(s, to)
	return f
}

// revisionAfter reads " rev B", "rev. B", ", revision B" after a mark.
func revisionAfter(s string, at int) (rev string, end int) {
	rest := s[at:]
	trimmed := strings.TrimLeft(rest, " \t\u00a0")
	trimmed = strings.TrimPrefix(trimmed, ",")
	trimmed = strings.TrimLeft(trimmed, " \t\u00a0\n\r")
	if len(trimmed) == len(rest) {
		return "", at
	}
	for _, word := range []string{"revision", "rev.", "rev"} {
		if len(trimmed) <= len(word) || !strings.EqualFold(trimmed[:len(word)], word) {
			continue
		}
		tail := strings.TrimLeft(trimmed[len(word):], " \t\u00a0\n\r")
		if len(tail) == len(trimmed)-len(word) {
			return "", at
		}
		n := 0
		for n < len(tail) && (tail[n] >= 'A' && tail[n] <= 'Z' || tail[n] >= '0' && tail[n] <= '9') {
			n++
		}
		if n == 0 || n > 3 || n < len(tail) && (tail[n] >= 'a' && tail[n] <= 'z' || tail[n] >= 0x80) {
			return "", at
		}
		return tail[:n], len(s) - len(tail) + n
	}
	return "", at
}

package cited

import (
	"path/filepath"
	"strconv"
	"strings"

	"wythe/site/prose"
)

// longestAddress is how far back an address is looked for.
const longestAddress = 500

// readText reads plain text. Its copy has each address in angle brackets after
// its mark; Markdown has links of its own.
func readText(name, text string, book *Book, link bool) ([]Cite, []byte, error) {
	markdown := strings.EqualFold(filepath.Ext(name), ".md")
	var cites []Cite
	var out strings.Builder
	line, at, from := 1, 0, 0
	for _, f := range marksIn(text, book) {
		before := text[max(0, f.from-longestAddress):f.from]
		word := before[strings.LastIndexAny(before, " \t\r\n")+1:]
		if strings.Contains(word, "://") {
			continue // in an address
		}
		line += strings.Count(text[at:f.from], "\n")
		at = f.from
		linked := strings.HasPrefix(text[f.end:], " <http") || f.from > 0 && text[f.from-1] == '[' && strings.HasPrefix(text[f.end:], "](")
		cites = append(cites, Cite{f.mark, f.rev, "line " + strconv.Itoa(line), f.small, linked})
		href := ""
		if link && !linked && !f.small && book.Known(f.mark) {
			href = book.Address(f.mark, f.rev)
		}
		if href == "" {
			continue
		}
		out.WriteString(text[from:f.from])
		if markdown {
			out.WriteString("[" + text[f.from:f.end] + "](" + href + ")")
		} else {
			out.WriteString(text[f.from:f.end] + " <" + href + ">")
		}
		from = f.end
	}
	return cites, finished(&out, text, from), checkCount(cites)
}

func checkCount(cites []Cite) error {
	if len(cites) > maxCites {
		return refusef("it names more than %d marks", maxCites)
	}
	return nil
}

// finished ends a copy; nil where nothing was put in.
func finished(out *strings.Builder, text string, from int) []byte {
	if out.Len() == 0 {
		return nil
	}
	out.WriteString(text[from:])
	return []byte(out.String())
}

// silent are the elements whose text is not shown, or is shown as it stands.
var silent = map[string]bool{"script": true, "style": true, "textarea": true, "title": true, "template": true, "noscript": true, "iframe": true, "xmp": true, "svg": true, "math": true, "option": true, "select": true, "button": true}

// readHTML reads the text between the tags of a page. Marks within a link, or
// where a link cannot stand, are counted and left as they are.
func readHTML(text string, book *Book, link bool) ([]Cite, []byte, error) {
	var cites []Cite
	var out strings.Builder
	from, line, at := 0, 1, 0
	anchors := 0
	quiet := "" // the silent element that is open
	run := func(a, b int) {
		for _, f := range marksIn(text[a:b], book) {
			line += strings.Count(text[at:a+f.from], "\n")
			at = a + f.from
			cites = append(cites, Cite{f.mark, f.rev, "line " + strconv.Itoa(line), f.small, anchors > 0})
			if !link || anchors > 0 || quiet != "" || f.small || !book.Known(f.mark) {
				continue
			}
			if href := book.Address(f.mark, f.rev); href != "" {
				out.WriteString(text[from : a+f.from])
				out.WriteString(`<a href="` + prose.Escape(href) + `">` + text[a+f.from:a+f.end] + `</a>`)
				from = a + f.end
			}
		}
	}
	for i := 0; i < len(text); {
		open := strings.IndexByte(text[i:], '<')
		if open < 0 {
			run(i, len(text))
			break
		}
		open += i
		if open > i && (quiet == "" || quiet == "option" || quiet == "select" || quiet == "button" || quiet == "title") {
			run(i, open)
		}
		name, closing, end := tag(text, open)
		i = end
		switch {
		case quiet != "":
			if closing && name == quiet {
				quiet = ""
			}
		case name == "a" && !strings.HasSuffix(text[open:end], "/>"):
			if closing {
				anchors = max(0, anchors-1)
			} else {
				anchors++
			}
		case !closing && silent[name] && !strings.HasSuffix(text[open:end], "/>"):
			quiet = name
		}
	}
	return cites, finished(&out, text, from), checkCount(cites)
}

// tag reads what begins with a <: a tag, a comment, or the sign alone.
func tag(text string, open int) (name string, closing bool, end int) {
	rest := text[open:]
	for _, c := range [...][2]string{{"<!--", "-->"}, {"<![CDATA[", "]]>"}, {"<?", ">"}, {"<!", ">"}} {
		if strings.HasPrefix(rest, c[0]) {
			if n := strings.Index(rest[len(c[0]):], c[1]); n >= 0 {
				return "", false, open + len(c[0]) + n + len(c[1])
			}
			return "", false, len(text)
		}
	}
	i := 1
	if i < len(rest) && rest[i] == '/' {
		closing, i = true, 2
	}
	start := i
	for i < len(rest) && (rest[i] >= 'a' && rest[i] <= 'z' || rest[i] >= 'A' && rest[i] <= 'Z' || i > start && (rest[i] >= '0' && rest[i] <= '9' || rest[i] == '-' || rest[i] == ':')) {
		i++
	}
	if i == start {
		return "", false, open + 1 // a sign in the text
	}
	name = strings.ToLower(rest[start:i])
	for quote := byte(0); i < len(rest); i++ {
		switch c := rest[i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '>':
			return name, closing, open + i + 1
		}
	}
	return name, closing, len(text)
}

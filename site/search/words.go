package search

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// quiet are words too common to look for.
const quiet = " a an and are as at be by for from in into is it its no not of on or so than that the then they this to with "

// joins reports whether a sign may stand inside a word: F-101, 1/2, 0.01.
func joins(r rune) bool { return r == '-' || r == '.' || r == '/' }

// eachTerm calls do with the terms of a text: its words in small letters. A
// word with a digit and signs inside is a term without them, and so is each
// of its pieces: F-101 is f101, f and 101.
func eachTerm(text string, do func(string)) {
	for i := 0; i < len(text); {
		from, digit, inner, big := i, false, false, false
		end := i // after the last letter or digit
		for i < len(text) {
			r, size := rune(text[i]), 1
			if r >= utf8.RuneSelf {
				r, size = utf8.DecodeRuneInString(text[i:])
			}
			switch {
			case r >= '0' && r <= '9':
				digit = true
			case r >= 'a' && r <= 'z':
			case r >= 'A' && r <= 'Z':
				big = true
			case joins(r):
				if end == i && end > from {
					i += size
					continue
				}
				size = 0
			case r >= utf8.RuneSelf && (unicode.IsLetter(r) || unicode.IsNumber(r)):
				big = big || unicode.IsUpper(r)
			default:
				size = 0
			}
			if size == 0 {
				break
			}
			if end < i {
				inner = true
			}
			i += size
			end = i
		}
		if end == from {
			_, size := utf8.DecodeRuneInString(text[i:])
			i += size
			continue
		}
		word := text[from:end]
		if big {
			word = strings.ToLower(word)
		}
		if !inner {
			do(word)
			continue
		}
		if digit {
			do(bare(word))
		}
		for len(word) > 0 {
			cut := strings.IndexFunc(word, joins)
			if cut < 0 {
				do(word)
				break
			}
			if cut > 0 {
				do(word[:cut])
			}
			word = word[cut+1:]
		}
	}
}

// bare is a word without the signs inside it.
func bare(word string) string {
	return strings.Map(func(r rune) rune {
		if joins(r) || r == ' ' {
			return -1
		}
		return r
	}, word)
}

// common reports whether a term of a text is not worth a place in the index.
func common(term string) bool {
	if len(term) < 2 {
		return true
	}
	if len(term) > 5 {
		return false
	}
	i := strings.Index(quiet, term)
	for i > 0 {
		if quiet[i-1] == ' ' && quiet[i+len(term)] == ' ' {
			return true
		}
		next := strings.Index(quiet[i+1:], term)
		if next < 0 {
			return false
		}
		i += 1 + next
	}
	return false
}

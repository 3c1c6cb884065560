// Package basis says where a figure comes from: by which method and clause,
// from which inputs, on whose authority.
package basis

// Kind says how far a value can be relied on.
type Kind string

const (
	Design         Kind = "design"          // a design value of a standard or handbook
	Declared       Kind = "declared"        // a maker's or product standard's declared value
	FromMemory     Kind = "from memory"     // known, not seen again
	CommonPractice Kind = "common practice" // a fact of the trade without a source
	Stated         Kind = "stated"          // written by the author of the library
)

// Source is the authority behind one value.
type Source struct {
	Text string // "ISO 10456:2007 table 3"
	Kind Kind
}

// Method is a published way to work a figure out.
type Method struct {
	Name   string // "ISO 6946:2017"
	Clause string // "6.7.2"
	Says   string // one line a practitioner reads
}

// Input is one value that went into a figure, as printed.
type Input struct {
	Name, Value string
	Source      Source
}

// Trace is all that stands behind a figure.
type Trace struct {
	Method Method
	Inputs []Input
	Limits []string // what the figure leaves out, in the page's words
}

// NotComputed says why a figure is missing and what would supply it.
type NotComputed struct {
	Key string `json:"key"`
	Why string `json:"why"`
}

package svg

import _ "embed"

// CSS is the style sheet of drawings in the Inline dress; doc.go lists its
// classes and the variables it reads.
//
//go:embed drawing.css
var CSS string

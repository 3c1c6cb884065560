// Package pdf writes drawings as PDF, through fpdf: vector lines, embedded
// fonts, links, bookmarks.
//
// True size: one mm of a drawing is one mm of the page, to 0.001 pt for lines
// and 0.01 pt for hatches and the place of a text. Looks are those of paper:
// black ink on white, as in the standalone dress of package svg.
//
// A document keeps what it writes in memory until [Book.WriteTo]. The same
// calls give the same bytes: dates are the caller's, and no map is walked.
//
// Texts are set run by run as drawing.Text measures them, without kerning. A
// text that is taken apart for its fractions carries its plain words as
// ActualText, so that "3 1/2 in" is found and copied as such.
//
// Embedding a font costs some 8 ms a document, whatever its length: set many
// drawings in one book.
package pdf

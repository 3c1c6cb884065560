// Package prose turns a detail's Markdown into HTML for a page.
//
// On top of CommonMark, tables, struck text and definition lists:
//
//   - a mark of the library (J-201) becomes a link, and J-201 rev B a link to
//     that revision; a mark that fits the library's pattern but names no
//     detail is a finding;
//   - {R-value}, {U-factor of W-101} print a computed figure in the line; an
//     unknown figure is a finding, and \{ is a brace;
//   - raw HTML is shown as text;
//   - links that a browser would run (javascript: and its like) are shown as
//     their text alone, as are pictures from another site.
//
// What comes out holds no style attribute, no script, no event handler and no
// id that the text could choose to clash with the page's own: each heading's
// id starts with "s-".
package prose

// Package page turns what is known of a detail into the bytes of its page.
//
// Each kind of page is a plain struct: [Assembly], [Index], [Material],
// [List] and [Prose]. Whoever fills one gives words and figures as they are
// printed, links from the root of the site ("F-101/index.html"), and drawings
// as SVG. A page knows nothing of how they came about.
//
// Tables are written here in Go and handed to the theme's templates as ready
// HTML: a template action costs about a microsecond, and a page has hundreds
// of cells.
package page

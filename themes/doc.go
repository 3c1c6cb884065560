// Package themes holds the looks of a published site: folders of templates,
// style sheets and one script, embedded.
//
// # The files of a theme
//
// The built-in theme is the folder drawn/. A library overrides any one file
// of it by a file of the same name in its own theme/ folder; every other file
// stays as it is here.
//
//	page.tmpl      "top" and "foot": the sheet around every page
//	assembly.tmpl  "assembly": a layer stack
//	index.tmpl     "index": the drawing index
//	material.tmpl  "material": a material
//	list.tmpl      "list": materials, specifications, buildings
//	prose.tmpl     "prose": a page of text
//	base.css       palette, type, links, forms
//	sheet.css      the sheet, its title block, the head of a page
//	tables.css     schedules, figures, lists
//	parts.css      cautions, sequence, notices, prose
//	junction.css   keynotes, verdicts, the continuity matrix
//	index.css      the drawing index, its filters and its parts
//	phone.css      narrow screens
//	print.css      paper
//	find.css       the search
//	keep.css       notices, and what is kept without a connection
//	keep.js        keeps pages on the device, says what is new
//	sw.js          the worker that serves what is kept
//	sequence.css   the sequence as a checklist
//	sequence.js    ticks, initials and one step at a time
//	site.js        what a page gains by a script; pages work without
//	minisearch.js  the search engine, with its licence
//	synonyms.js    what words of the trade may mean in a library
//	find.js        the search; loaded with the engine once it is asked for
//	icon.svg       the sign in a browser's tab
//
// The style sheets are joined in that order into one file. A file of another
// name in the library's folder is an error, so that a slip is not overlooked;
// so is a template that does not parse or a page's template that is missing.
//
// # What a template is given
//
// Templates are html/template. The dot of a page's template has
//
//	.Page    the page as plain data (package page): Mark, Title, Layers, …
//	.Site    firm, title and navigation of the library
//	.Root    the way from this page to the site's root: "", "../", "../../"
//
// and, because a row of a table costs a template many steps and a writer in
// Go few, the page's parts as ready HTML: .Head, .Wide and .Phone (the
// drawing), .Jump (links to the sections, for a narrow screen), .Layers, .Figures and so on, each empty where there is nothing to
// show. A template arranges the parts, leaves some out, or writes its own
// from .Page. The built-in templates name every part once.
//
// # Rules for a theme
//
// Pages carry no style attribute, style element or inline script, since a
// site may be served under a policy that forbids them; they ask nothing of
// another site; they work without the script and from a disk.
// url(NAME) in a style sheet may name a font file of package fonts.
package themes

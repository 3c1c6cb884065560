// Package search writes the index that a published site is searched with.
//
// The index is that of the search engine published beside it (minisearch, see
// themes/drawn/minisearch.js), set down in a denser form: what a page loads to
// search is two scripts, so that it works from a disk too. Marks, titles,
// materials, trades and specification numbers stand in one small file; the
// words of the texts stand in files by their first letter, loaded when a word
// of that letter is looked for.
package search

// Package site publishes a library: it fills the pages from the library's
// details and figures, and hands them as tasks to package tree, which writes
// them aside and swaps them in whole.
//
// Each file of the site is made by a pure function of the reads it traces:
// nothing but the library's files, the theme and this program goes into its
// bytes. Files are made on all cores and placed by their address, so that two
// runs give identical bytes.
package site

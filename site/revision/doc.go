// Package revision knows how a library changes: the fingerprint of a detail,
// the next entry of its revision table, its history in git, and what differs
// between two states of a library.
//
// A fingerprint stands for what is built and said, not for what follows from
// it: geometry in SI, laid assemblies, names of materials, notes. Figures,
// values of materials, status and the revision table itself are left out, so
// that a better method or a corrected conductivity changes no revision.
//
// History is read through the git command alone, and never written. A folder
// outside git, or a clone with its history cut short, is no error: what cannot
// be seen is said.
package revision

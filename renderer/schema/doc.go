// Package schema writes the file language as JSON Schemas (draft 2020-12), so
// that an editor completes and checks while an author types.
//
// The keys come from the tables that the reader itself reads by
// ([detail.Kinds], [material.Keys], [climate.Keys]), so that a key known to
// one is known to the other. What a schema cannot say stays with the reader:
// names that must exist, edges that must resolve, sizes that must fit.
//
// A schema is stricter than the reader in one thing: it takes the bare words
// null and ~ for a missing value, where the reader takes them for text.
package schema

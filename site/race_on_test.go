//go:build race

package site

// raced says that the race detector is on: long tests then run shorter.
const raced = true

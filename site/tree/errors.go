package tree

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"
)

// PlaceError says why a folder cannot become a tree.
type PlaceError struct {
	Dir, Why, Mend string
}

func (e *PlaceError) Error() string {
	return fmt.Sprintf("cannot publish to %s: %s\n\t%s", e.Dir, e.Why, e.Mend)
}

// ForeignError names the files in a folder that no record of ours names.
type ForeignError struct {
	Dir   string
	Names []string // from Dir, with slashes, sorted
}

// named is how many foreign files a message names.
const named = 5

func (e *ForeignError) Error() string {
	shown := e.Names
	more := ""
	if len(shown) > named {
		more = fmt.Sprintf(" and %d more", len(shown)-named)
		shown = shown[:named]
	}
	return fmt.Sprintf("%s holds files that wythe did not write: %s%s\n\tmove them away, or publish to another folder with --to; nothing was removed",
		e.Dir, strings.Join(shown, ", "), more)
}

// BusyError says that another run is writing to the same folder.
type BusyError struct{ Dir string }

func (e *BusyError) Error() string {
	return fmt.Sprintf("another publish is writing to %s\n\tlet it end, then publish again", e.Dir)
}

// MakeError says which output could not be made.
type MakeError struct {
	Path string
	Err  error
}

func (e *MakeError) Error() string { return e.Path + ": " + e.Err.Error() }

// Unwrap returns the cause.
func (e *MakeError) Unwrap() error { return e.Err }

// WriteError says which file or folder could not be written.
type WriteError struct {
	Path string
	Err  error
}

// Error is one clear line of what happened, and one of what to do.
func (e *WriteError) Error() string {
	cause := e.Err
	var at *fs.PathError
	if errors.As(e.Err, &at) {
		cause = at.Err
	}
	mend := "mend that and publish again; the last good site stays as it was"
	switch {
	case errors.Is(e.Err, syscall.ENOSPC), tooMuch(e.Err):
		mend = "free some room and publish again; the last good site stays as it was"
	case errors.Is(e.Err, fs.ErrPermission), errors.Is(e.Err, syscall.EROFS):
		mend = "the new site is written beside the old one, so that folder must be writable: give the rights, or publish elsewhere with --to"
	}
	return fmt.Sprintf("cannot write %s: %v\n\t%s", e.Path, cause, mend)
}

// Unwrap returns the cause.
func (e *WriteError) Unwrap() error { return e.Err }

func writeError(path string, err error) error {
	var already *WriteError
	if errors.As(err, &already) {
		return err
	}
	return &WriteError{path, err}
}

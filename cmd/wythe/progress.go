package main

import (
	"fmt"
	"io"
	"os"
	"time"
)

// progress prints how far long work has come. On a terminal it is one line
// that is written over; elsewhere a line now and then. Work of less than
// [quiet] prints nothing.
type progress struct {
	w        io.Writer
	doing    string // "Publishing"
	terminal bool
	now      func() time.Time
	start    time.Time
	last     time.Time
	shown    bool
}

const (
	quiet         = time.Second            // before the first line, off a terminal
	quietTerminal = 200 * time.Millisecond // and on one
	between       = 5 * time.Second        // lines, off a terminal
	betweenLines  = 100 * time.Millisecond // changes of the line, on a terminal
)

func newProgress(w io.Writer, doing string) *progress {
	return &progress{w: w, doing: doing, terminal: isTerminal(w), now: time.Now, start: time.Now()}
}

// step tells of one more output done.
func (p *progress) step(done, total int) {
	now := p.now()
	wait, gap := quiet, between
	if p.terminal {
		wait, gap = quietTerminal, betweenLines
	}
	if now.Sub(p.start) < wait || p.shown && now.Sub(p.last) < gap {
		return
	}
	p.last, p.shown = now, true
	if p.terminal {
		fmt.Fprintf(p.w, "\r%s: %d of %d", p.doing, done, total)
		return
	}
	fmt.Fprintf(p.w, "%s: %d of %d\n", p.doing, done, total)
}

// end clears the line of a terminal.
func (p *progress) end() {
	if p.terminal && p.shown {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0 && f.Name() != os.DevNull
}

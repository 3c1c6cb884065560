package site

import (
	"sync"

	"wythe/renderer/building"
	"wythe/renderer/figures"
)

// worked is what is worked out of one file, once. It holds no way to work it
// out: a library that is opened again takes it over, and the one before goes.
type worked struct {
	figures  once[*figures.Assembly]
	junction once[*figures.Junction]
	solved   once[*figures.Junction]
	linear   once[building.Linear]
}

// once is a value that is worked out when first asked for.
type once[T any] struct {
	mu   sync.Mutex
	done bool
	is   T
}

// get returns the value. keep says whether one just worked out is kept; nil: it
// is.
func (o *once[T]) get(work func() T, keep func() bool) T {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.done {
		return o.is
	}
	is := work()
	if keep == nil || keep() {
		o.is, o.done = is, true
	}
	return is
}

// kept reports whether the value is there.
func (o *once[T]) kept() bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.done
}

// figures are those of an assembly that is not broken; else nil. They are read
// through [view.figures].
func (e *entry) figures() *figures.Assembly {
	return e.worked.figures.get(func() *figures.Assembly { return e.in.workOut(e) }, nil)
}

// junction is what is worked out of a junction that is not broken; else nil. It
// is read through [view.junction].
func (e *entry) junction() *figures.Junction {
	return e.worked.junction.get(func() *figures.Junction { return e.in.traceJunction(e) }, nil)
}

// mostFields is how many solved junctions a library keeps in memory, at about
// half a megabyte each. One that is not kept is read from the cache, at little
// cost beside its page.
const mostFields = 64

// solved is junction with its heat flow, read through [view.solved].
func (e *entry) solved() *figures.Junction {
	return e.worked.solved.get(func() *figures.Junction {
		j := e.in.solveJunction(e, heatCache())
		e.worked.linear.get(func() building.Linear { return linearOf(j) }, nil)
		return j
	}, func() bool { return e.d.Junction == nil || e.in.fields.Add(1) <= mostFields })
}

// transmittance is what buildings need of a junction: it is kept of all.
func (e *entry) transmittance() building.Linear {
	return e.worked.linear.get(func() building.Linear { return linearOf(e.in.solveJunction(e, heatCache())) }, nil)
}

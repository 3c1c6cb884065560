package drawing

import "sync"

// Memo keeps the path data that a back end makes of a path which many
// drawings share.
type Memo struct {
	key  MemoKey
	once sync.Once
	data []byte
}

// Data returns what write returned when first called for m.
func (m *Memo) Data(write func() []byte) []byte {
	m.once.Do(func() { m.data = write() })
	return m.data
}

// MemoKey tells shared paths apart: equal keys, equal paths. Pointers do not
// serve, since a path that was given up is drawn again.
type MemoKey struct {
	hatch sharedKey
	path  int // of the hatch
}

// Key returns m's key.
func (m *Memo) Key() MemoKey { return m.key }

package drawing

import "sync"

// Memo keeps the path data that a back end makes of a path which many
// drawings share.
type Memo struct {
	once sync.Once
	data []byte
}

// Data returns what write returned when first called for m.
func (m *Memo) Data(write func() []byte) []byte {
	m.once.Do(func() { m.data = write() })
	return m.data
}

package material

// Table is the built-in materials with the firm's own on top.
type Table struct {
	byName map[string]*Material
	names  []string // sorted
}

package material

// Direction is where heat flows through a layer or a face.
type Direction int

const (
	Horizontal Direction = iota // walls; within 30° of the horizontal plane
	Up                          // ceilings and roofs
	Down                        // floors
)

// String returns "horizontal", "up" or "down".
func (d Direction) String() string {
	switch d {
	case Up:
		return "up"
	case Down:
		return "down"
	}
	return "horizontal"
}

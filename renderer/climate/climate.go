// Package climate holds monthly climates and design conditions.
package climate

import (
	"wythe/renderer/finding"
	"wythe/renderer/units"
)

// Month is the mean of one month.
type Month struct {
	Temperature units.Temperature
	Humidity    units.Ratio // relative, 0 to 1
}

// Climate is one place's year.
type Climate struct {
	Name    string
	Heating units.Temperature // design day outside
	Ground  units.Temperature // deep ground; 0 where not GroundStated
	Months  [12]Month         // January first
	Source  string

	GroundStated bool
	At           finding.Position
}

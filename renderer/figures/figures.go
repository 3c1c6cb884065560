// Package figures works out everything a page says in numbers about a detail:
// it turns the checked model of a detail file into the inputs of each method,
// runs it, and keeps the result with what was not computed and why.
//
// It is the one place where detail files meet physics. The physics packages
// know no file; pages, drawings and commands take their numbers from here.
package figures

import (
	"errors"

	"wythe/renderer/basis"
	"wythe/renderer/bearing"
	"wythe/renderer/carbon"
	"wythe/renderer/climate"
	"wythe/renderer/codes"
	"wythe/renderer/detail"
	"wythe/renderer/dynamic"
	"wythe/renderer/energy"
	"wythe/renderer/moisture"
	"wythe/renderer/takeoff"
)

// Context is what the figures of every detail in a library rest on.
type Context struct {
	Settings *detail.Settings
	Climate  *climate.Climate // nil where the library names none
}

// Assembly is the figures of one layer stack.
type Assembly struct {
	Detail *detail.Detail

	// Each is nil where it is not computed, or does not apply.
	Thermal         *Thermal
	Dynamic         *dynamic.Result
	Moisture        *moisture.Result
	MoistureSection *moisture.Section
	CrawlWet        []int // months, from 0, in which moisture settles in the crawl space
	Ground          *Ground
	Dead            *bearing.DeadLoad
	Bearing         *Bearing
	Pour            *bearing.PourResult
	Energy          *energy.Year
	Study           *energy.Study
	Takeoff         *takeoff.Result
	Carbon          *carbon.Result
	Codes           []codes.ZoneVerdict

	NotComputed []basis.NotComputed
}

// OfAssembly works out the figures of an assembly. It never fails: what cannot
// be worked out is listed in NotComputed with the reason.
func OfAssembly(c Context, d *detail.Detail) *Assembly {
	a := &Assembly{Detail: d}
	a.thermal(c)
	a.dynamic()
	a.ground(c)
	a.moisture(c)
	a.dead()
	a.bearing()
	a.energy(c)
	a.codes()
	a.takeoff(c)
	a.carbon()
	return a
}

// miss notes that a figure is not computed.
func (a *Assembly) miss(key, why string) {
	a.NotComputed = append(a.NotComputed, basis.NotComputed{Key: key, Why: why})
}

// Why returns the reason why the figure of a key is missing, or "".
func (a *Assembly) Why(key string) string {
	for _, n := range a.NotComputed {
		if n.Key == key {
			return n.Why
		}
	}
	return ""
}

// reason returns an error's text without the wrapping of Go.
func reason(err error) string {
	var refused *basis.RefusedError
	if errors.As(err, &refused) {
		return refused.Error()
	}
	return err.Error()
}

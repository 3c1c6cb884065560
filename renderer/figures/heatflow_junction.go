package figures

import (
	"wythe/renderer/basis"
	"wythe/renderer/detail"
	"wythe/renderer/heatflow"
)

// SolveHeat works out the junction's heat flow and keeps it in Heat; what
// stands in the way is listed in NotComputed. lookup is that of [OfJunction].
func (j *Junction) SolveHeat(c Context, lookup func(mark string) *detail.Detail, cache heatflow.Cache) {
	h, why := HeatFlowOf(c, j, lookup, cache)
	j.Heat = h
	if h == nil {
		j.NotComputed = append(j.NotComputed, basis.NotComputed{Key: heatFlowKey, Why: why})
		return
	}
	if h.Unbounded {
		j.NotComputed = append(j.NotComputed, basis.NotComputed{Key: heatFlowKey + ".heat_flow_W_m", Why: unboundedWhy})
	}
	if !h.Psi.HasInternal || !h.Psi.HasExternal {
		j.NotComputed = append(j.NotComputed, basis.NotComputed{Key: heatFlowKey + ".psi", Why: h.Psi.Why})
	}
	if h.Moisture == nil {
		j.NotComputed = append(j.NotComputed, basis.NotComputed{Key: heatFlowKey + ".mold", Why: h.MoistureWhy})
	}
	j.warn(c)
	if !h.Temperatures {
		j.NotComputed = append(j.NotComputed, basis.NotComputed{Key: heatFlowKey + ".temperatures", Why: "no climate and no temperature of every space: only coupling, psi and temperature factor hold"})
	}
}

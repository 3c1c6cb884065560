package figures

import (
	"encoding/json"

	"wythe/renderer/basis"
	"wythe/renderer/continuity"
)

type junctionJSON struct {
	Mark        string              `json:"mark"`
	Title       string              `json:"title"`
	Continuity  []continuityJSON    `json:"continuity"`
	HeatFlow    *heatflowJSON       `json:"heatflow"`
	At          []Place             `json:"at,omitempty"`
	NotComputed []basis.NotComputed `json:"not_computed"`
}

type continuityJSON struct {
	Control string    `json:"control"`
	Verdict string    `json:"verdict"`
	Reason  string    `json:"reason,omitempty"`
	Chain   []string  `json:"chain"`
	Gaps    []gapJSON `json:"gaps"`
}

type gapJSON struct {
	Between [2]string `json:"between"`
	X       Number    `json:"x_m"`
	Y       Number    `json:"y_m"`
	Width   Number    `json:"width_m"`
	Mend    string    `json:"mend"`
}

// MarshalJSON prints one entry for each control that any part carries, with
// its verdict, its chain and its gaps; places are in the section's own
// coordinates, in metres.
func (j *Junction) MarshalJSON() ([]byte, error) {
	out := junctionJSON{
		Mark: j.Detail.Mark, Title: j.Detail.Title,
		Continuity: make([]continuityJSON, 0, len(j.Continuity)), NotComputed: j.NotComputed,
	}
	if out.NotComputed == nil {
		out.NotComputed = []basis.NotComputed{}
	}
	out.HeatFlow = j.Heat.json()
	if j.Heat != nil {
		out.At = j.Heat.Places
	}
	for i := range j.Continuity {
		out.Continuity = append(out.Continuity, reportJSON(&j.Continuity[i]))
	}
	return json.Marshal(out)
}

func reportJSON(r *continuity.Report) continuityJSON {
	out := continuityJSON{Control: string(r.Control), Verdict: string(r.Verdict), Reason: r.Reason, Chain: r.Chain, Gaps: make([]gapJSON, 0, len(r.Gaps))}
	if out.Chain == nil {
		out.Chain = []string{}
	}
	for _, g := range r.Gaps {
		out.Gaps = append(out.Gaps, gapJSON{
			Between: g.Between, X: Number(float64(g.At.X) * 1e-6), Y: Number(float64(g.At.Y) * 1e-6),
			Width: Number(g.Width), Mend: g.Mend,
		})
	}
	return out
}

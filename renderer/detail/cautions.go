package detail

import (
	"sort"
	"strings"
)

// cautionTexts are the dangers that details name by a word, in plain words.
// Each says what hurts and what keeps one whole, and leaves the rest to the
// local code and to those licensed to judge it. Common practice.
var cautionTexts = map[string]string{
	"asbestos":            "Old boards, coats and floor tiles can hold asbestos. Stop if you suspect it; testing and removal are for licensed firms.",
	"backfill":            "Fill pushes walls over. Wait for the floor above or the engineer's bracing; fill in thin lifts; keep machines back from the wall.",
	"confined space":      "Air in pits, tanks and crawl spaces can kill without a warning. Test it, move it, keep a second person outside. Follow the local safety code.",
	"crawl space air":     "Crawl spaces hold stale air, wires and animals. Move the air first, use a low-voltage lamp, keep a second person outside.",
	"dust":                "Dust harms lungs. Cut outdoors or with extraction, wear a fitted mask, keep the hose and the machine grounded.",
	"electricity":         "Lock out and test every circuit before cutting into a wall, floor or roof. Wiring is for licensed electricians.",
	"excavation":          "Cuts in the ground fall in without a warning. Slope, step or shore them as the local safety code asks; keep soil and machines back from the edge.",
	"falling objects":     "Clear and fence the ground below overhead work. Hard hats for all; tie tools and sheets down.",
	"foam fire":           "Foam burns fast with black smoke. No flame, torch or welding near it; cover it inside as the local fire code asks.",
	"gas":                 "Call for the lines to be marked before you dig. Gas piping is for licensed fitters; if you smell it, leave and call.",
	"glass":               "Panes break and cut. Carry them upright with gloves and sleeves; never stand below one that is lifted.",
	"hot attic":           "Attics pass 120 F in summer. Work early, drink, take turns, never alone.",
	"hot work":            "Torch and weld only with a permit, an extinguisher at hand and a fire watch that stays after the work. Follow the local fire code.",
	"lead paint":          "Paint in old buildings can hold lead. Have it tested; removal is for trained firms under the local rules.",
	"lifting":             "Boards, bags and panels strain backs and catch wind. Two people or a lift; bend the knees; do not carry sheets in gusts.",
	"mineral fiber":       "Mineral wool itches and its dust irritates. Gloves, long sleeves, mask; wash with cold water.",
	"mold":                "Mold spores harm lungs. Dry the cause first; wear a mask; large areas are for trained firms.",
	"radon":               "Ground gas that causes lung cancer and cannot be smelled. Seal the floor, leave the stub, test the rooms in use. Follow the local code.",
	"rot":                 "Wood kept damp rots. Keep its clearance from the ground, its drips and its vents, as the local code asks.",
	"silica dust":         "Dust of concrete, brick and stone scars lungs for good. Cut wet or with extraction; wear a fitted respirator as the safety code asks.",
	"solvents":            "Fumes of solvents, primers and coats burn and stupefy. Open the space, no flame, mask for vapors; read the maker's sheet.",
	"spray foam":          "Spray foam gives off vapors that harm lungs for life. Installers in supplied air only; others stay out until the maker's time has passed.",
	"sun and heat":        "Heat kills on roofs and decks. Water, shade and rest each hour; watch each other.",
	"temporary bracing":   "Walls and trusses without bracing fall in wind. Brace as you stand them and leave it until the structure is whole.",
	"treated wood":        "Dust and smoke of treated wood are poisonous. Mask and gloves; never burn it.",
	"wet concrete burns":  "Wet concrete burns skin to the bone within hours and is not felt at first. Gloves, boots, sleeves; wash at once with clean water.",
	"working at height":   "Falls kill. Guard every edge and opening, tie off above, as the local safety code asks.",
	"working under loads": "Nobody stands under a load or an unshored member. Prop first, then cut.",
	"winter work":         "Ice and snow make edges slip and loads heavy. Clear first; frozen ground and frozen stone carry no concrete.",
	"wind":                "Sheets, foam and panels fly. Weigh them down as you lay them and stop when gusts lift them.",
	"cement dust":         "Dry cement burns eyes and lungs. Mask, glasses, gloves; stand upwind.",
	"sharp edges":         "Cut sheet metal and glass slice. Cut-proof gloves and sleeves; turn the edges in.",
	"adhesives":           "Glues and tapes primers irritate skin and air. Gloves, open windows; read the maker's sheet.",
	"carbon monoxide":     "Engines and heaters in closed rooms kill without a smell. Run them outside only; carry an alarm.",
	"demolition":          "Find what carries before you take anything away. Prop first; a licensed engineer decides what may go.",
	"formwork":            "Wet concrete pushes forms open. Tie and brace for the full height and place in lifts; nobody below.",
	"reinforcing bars":    "Bar ends impale. Cap or bend every one that someone could fall on.",
	"roof openings":       "Roof lights and openings do not carry a person. Guard or board them before anyone steps near.",
}

// Caution returns the text behind a caution word: the office's own, else the
// built-in one; false and the words themselves where there is none.
func (s *Settings) Caution(word string) (string, bool) {
	if t, ok := s.Cautions[word]; ok {
		return t, true
	}
	if t, ok := cautionTexts[word]; ok {
		return t, true
	}
	return word, false
}

// CautionWords returns all caution words with a text, sorted.
func (s *Settings) CautionWords() []string {
	out := make([]string, 0, len(cautionTexts)+len(s.Cautions))
	for w := range cautionTexts {
		out = append(out, w)
	}
	for w := range s.Cautions {
		if _, both := cautionTexts[w]; !both {
			out = append(out, w)
		}
	}
	sort.Strings(out)
	return out
}

// isCautionWord reports whether a text is a word for a danger rather than a
// sentence about it.
func isCautionWord(s string) bool {
	return strings.Count(s, " ") < 4 && !strings.HasSuffix(s, ".")
}

package browser

import (
	"fmt"
	"path"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// seen counts the elements of a kind that show in the drawing of a page.
const seen = `[...document.querySelectorAll('.fig svg .k-%s')].filter(e => e.getBoundingClientRect().width > 0).length`

// press chooses a switch as a reader does: by its label.
func press(p *tab, id string) {
	p.t.Helper()
	p.run(chromedp.Click(chromedp.CSS(`label:has(#` + id + `)`)))
}

// TestLinesOfAJunction shows and hides its control lines, on a desk and on a
// phone, with scripts and without. Paper shows control lines where none are
// chosen, and the isotherms, shaded, where those are.
func TestLinesOfAJunction(t *testing.T) {
	for _, s := range screens {
		for _, scripts := range []bool{true, false} {
			t.Run(fmt.Sprintf("%s, scripts %v", s.name, scripts), func(t *testing.T) {
				p := open(t, s, "J-201/index.html")
				if !scripts {
					call(p, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
					p.visit("J-201/index.html")
				}
				lines := func() int { return ask[int](p, seen, "control") }
				if lines() == 0 {
					t.Fatal("no control line shows at first")
				}
				legend := `getComputedStyle(document.querySelector('.leg')).display`
				press(p, "ln-none")
				if n := lines(); n != 0 {
					t.Errorf("%d groups of control lines show with none chosen", n)
				}
				if d := ask[string](p, legend); d != "none" {
					t.Errorf("the legend of lines shows (%s) with none chosen", d)
				}
				if ask[int](p, seen, "hatch") == 0 || ask[int](p, seen, "callouts")+ask[int](p, seen, "callout") == 0 {
					t.Error("choosing no lines hides more than lines")
				}
				call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
				if lines() == 0 {
					t.Error("the lines are not printed with none chosen on the screen")
				}
				call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "screen"})
				press(p, "ln-ctl")
				if lines() == 0 {
					t.Error("the lines do not come back")
				}
				press(p, "ln-iso")
				if n := ask[int](p, seen, "shade"); n != 0 || ask[int](p, seen, "isotherm") == 0 || ask[int](p, seen, "flow") == 0 {
					t.Errorf("isotherms show with %d groups of shading, and %d of flow lines", n, ask[int](p, seen, "flow"))
				}
				press(p, "t-shd")
				press(p, "t-flo")
				for _, media := range []string{"print", "screen"} {
					call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: media})
					if ask[int](p, seen, "isotherm") == 0 || ask[int](p, seen, "shade") == 0 || ask[int](p, seen, "flow") != 0 || lines() != 0 {
						t.Errorf("%s: isotherms %d, shades %d, flow lines %d, control lines %d; want the first two", media,
							ask[int](p, seen, "isotherm"), ask[int](p, seen, "shade"), ask[int](p, seen, "flow"), lines())
					}
				}
				press(p, "ln-ctl")
				press(p, "t-hat")
				if o := ask[string](p, `getComputedStyle(document.querySelector('.fig .wide .k-hatch')).opacity`); o == "1" {
					t.Error("the hatch does not fade")
				}
				p.blame("lines")
			})
		}
	}
}

// TestLinesAreLettered finds the letter of each control on its line, in both
// dresses, so that none is told by its dash alone.
func TestLinesAreLettered(t *testing.T) {
	for _, s := range screens {
		p := open(t, s, "J-201/index.html")
		letters := ask[[]string](p, `[...document.querySelectorAll('.fig svg .k-control text')].filter(e => e.getBoundingClientRect().width > 0).map(e => e.textContent)`)
		for _, want := range []string{"A", "V", "W", "T"} {
			if !strings.Contains(strings.Join(letters, " "), want) {
				t.Errorf("%s: no letter %s among %v", s.name, want, letters)
			}
		}
		if dashes := ask[int](p, `new Set([...document.querySelectorAll('.fig .wide [data-control] path')].map(e => getComputedStyle(e).strokeDasharray)).size`); dashes < 4 {
			t.Errorf("%s: %d ways to dash a line; want 4", s.name, dashes)
		}
	}
}

// TestKeynotesOfAJunction leads from each keynote to its bubble and back, and
// from a chain to the keynotes of its parts.
func TestKeynotesOfAJunction(t *testing.T) {
	for _, s := range screens {
		t.Run(s.name, func(t *testing.T) {
			p := open(t, s, "J-201/index.html")
			keys := ask[[]string](p, `[...document.querySelectorAll('.kns li')].map(r => r.dataset.key)`)
			if len(keys) < 15 {
				t.Fatalf("%d keynotes", len(keys))
			}
			for _, k := range keys {
				to := ask[string](p, `[...document.querySelectorAll('#part-%s a.kn')].find(e => e.getBoundingClientRect().width > 0)?.getAttribute('href') ?? ''`, k)
				if !strings.HasSuffix(to, "-k-"+k) {
					t.Errorf("keynote %s leads to %q", k, to)
					continue
				}
				if back := ask[string](p, `(() => { const e = document.querySelector(%q); return e && e.getBoundingClientRect().width > 0 ? (e.closest('a')?.getAttribute('href') ?? e.querySelector('a')?.getAttribute('href') ?? '(none)') : '(hidden)' })()`, to); back != "#part-"+k {
					t.Errorf("the bubble %s leads to %q", to, back)
				}
			}
			if chain := ask[int](p, `[...document.querySelectorAll('.cont a.ky')].filter(a => document.querySelector(a.getAttribute('href'))).length`); chain < 8 {
				t.Errorf("%d parts of chains lead to their keynotes", chain)
			}
			p.blame("keynotes")
		})
	}
}

// TestReferencesLead follows the bubbles of a junction to the assemblies laid
// in it, and the assembly's list back.
func TestReferencesLead(t *testing.T) {
	p := open(t, desk, "J-201/index.html")
	links := ask[[]string](p, `[...document.querySelectorAll('.fig .wide .k-reference')].map(e => e.closest('a')?.getAttribute('href') ?? '')`)
	if len(links) != 2 {
		t.Fatalf("references lead to %v; want W-101 and F-101", links)
	}
	for _, l := range links {
		page := path.Join("J-201", l)
		p.visit(page)
		if n := ask[int](p, `[...document.querySelectorAll('#used a')].filter(a => a.textContent === 'J-201').length`); n != 1 {
			t.Errorf("%s names J-201 %d times among its users", page, n)
		}
	}
	p.blame("references")
}

// TestABrokenSectionSaysSo finds ring, flag, way and boxes of a broken section
// on the page that teaches by it, in each light; nothing hides the rings.
func TestABrokenSectionSaysSo(t *testing.T) {
	for _, s := range screens {
		p := open(t, s, "broken-section/index.html")
		for _, light := range lights {
			ask[bool](p, `(() => { const i = document.getElementById(%q); i.checked = true; i.dispatchEvent(new Event('change', {bubbles: true})); return true })()`, light)
			red := ask[string](p, `getComputedStyle(document.documentElement).getPropertyValue('--mark').trim()`)
			if red == "" || ask[int](p, seen, "gap") != 1 || ask[int](p, seen, "evidence") != 1 {
				t.Errorf("%s, %s: gaps %d, ways %d, red %q", s.name, light, ask[int](p, seen, "gap"), ask[int](p, seen, "evidence"), red)
			}
		}
		flags := ask[string](p, `[...document.querySelectorAll('.fig .k-gap text')].map(e => e.textContent).join(' | ')`)
		boxes := ask[[]string](p, `[...document.querySelectorAll('.gap > b')].map(e => e.textContent)`)
		if len(boxes) != 3 {
			t.Fatalf("%s: boxes %v", s.name, boxes)
		}
		for _, b := range boxes {
			if !strings.Contains(flags, strings.Replace(b, " in", "″", 1)) {
				t.Errorf("%s: the box %q has no flag among %s", s.name, b, flags)
			}
		}
		press(p, "ln-none")
		if ask[int](p, seen, "gap") != 1 || ask[int](p, seen, "evidence") != 0 {
			t.Errorf("%s: with no lines the rings should stay and the way go", s.name)
		}
		p.blame("broken")
	}
}

// TestMatrixLeads finds each junction in the matrix once, under its verdicts.
func TestMatrixLeads(t *testing.T) {
	p := open(t, desk, "continuity/index.html")
	rows := ask[[]string](p, `[...document.querySelectorAll('.mj tbody th .m')].map(e => e.textContent)`)
	if len(rows) < 16 {
		t.Errorf("%d junctions in the matrix: %v", len(rows), rows)
	}
	for _, r := range rows {
		if r == "J-290" {
			t.Error("a section broken on purpose stands among what is proved")
		}
	}
	if n := ask[int](p, `[...document.querySelectorAll('.lp tbody tr')].length`); n < 4 {
		t.Errorf("%d rows of the loop from floor to roof", n)
	}
	p.blame("matrix")
}

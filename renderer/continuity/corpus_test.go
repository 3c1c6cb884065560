package continuity

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/section"
	"wythe/renderer/units"
)

// corpus reads the library of sections whose verdict is known. Each says in a
// block of its text what is expected:
//
//	air: broken, sheet > wall           verdict, and the chain
//	gap 5 in sheet | wall through pipe  the gaps of the control above, in any order
//	touch sheet | wall
//	thin 1/2 in foam | foam
//	finding reverse-lap
//
// A verdict without a chain asks nothing of chain and gaps.
func corpus(t testing.TB) []*detail.Detail {
	t.Helper()
	lib, err := detail.ReadFS(os.DirFS("testdata/corpus"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range lib.Findings.Items {
		t.Errorf("%s", f)
	}
	var out []*detail.Detail
	for _, d := range lib.Details {
		if d.Junction != nil {
			out = append(out, d)
		}
	}
	return out
}

// expected reads the block of a junction's text.
func expected(t testing.TB, d *detail.Detail) (want []string) {
	t.Helper()
	_, rest, ok := strings.Cut(d.Body, "```\n")
	block, _, closed := strings.Cut(rest, "```")
	if !ok || !closed {
		t.Fatalf("%s: no block says what is expected", d.File)
	}
	return strings.Split(strings.TrimSpace(block), "\n")
}

// inches prints a length as these files do.
func inches(l units.Length) string {
	s := math.Round(float64(l)/0.0254*16) / 16
	whole := math.Floor(s)
	n, d := int((s-whole)*16), 16
	for n > 0 && n%2 == 0 {
		n, d = n/2, d/2
	}
	switch {
	case s == 0:
		return "0"
	case n == 0:
		return fmt.Sprintf("%d in", int(whole))
	case whole == 0:
		return fmt.Sprintf("%d/%d in", n, d)
	}
	return fmt.Sprintf("%d %d/%d in", int(whole), n, d)
}

func gapLine(verdict Verdict, g Gap) string {
	pair := []string{g.Between[0], g.Between[1]}
	slices.Sort(pair)
	s := strings.Join(pair, " | ")
	switch {
	case g.Touch:
		return "touch " + s
	case verdict == Thin:
		return "thin " + inches(g.Width) + " " + s
	}
	if len(g.Through) > 0 {
		s += " through " + strings.Join(g.Through, ", ")
	}
	return "gap " + inches(g.Width) + " " + s
}

// normal sorts the two names of an expected gap.
func normal(line string) string {
	head, rest := "", line
	switch word, after, _ := strings.Cut(line, " "); word {
	case "touch":
		head, rest = "touch ", after
	case "gap", "thin":
		if after, zero := strings.CutPrefix(after, "0 "); zero {
			head, rest = word+" 0 ", after
			break
		}
		size, names, _ := strings.Cut(after, " in ")
		head, rest = word+" "+size+" in ", names
	}
	names, through, passes := strings.Cut(rest, " through ")
	pair := strings.Split(names, " | ")
	slices.Sort(pair)
	line = head + strings.Join(pair, " | ")
	if passes {
		line += " through " + through
	}
	return line
}

func TestCorpus(t *testing.T) {
	all := corpus(t)
	if len(all) < 40 {
		t.Errorf("%d sections, at least 40 are wanted", len(all))
	}
	broken := 0
	for _, d := range all {
		t.Run(d.Mark+" "+d.Title, func(t *testing.T) {
			s, list := section.Resolve(d.Junction, nil, section.Options{})
			for _, f := range list.Items {
				if f.Rule != "spaces-joined" {
					t.Errorf("%s", f)
				}
			}
			if s == nil {
				t.FailNow()
			}
			reports, found := Check(s, Options{})
			want := expected(t, d)
			byControl := map[string]Report{}
			for _, r := range reports {
				byControl[string(r.Control)] = r
			}
			worst := Continuous
			rules := map[string]bool{}
			for i := 0; i < len(want); i++ {
				line := want[i]
				if rule, ok := strings.CutPrefix(line, "finding "); ok {
					rules[rule] = true
					continue
				}
				control, rest, ok := strings.Cut(line, ": ")
				if !ok {
					t.Fatalf("line %q", line)
				}
				verdict, chain, asked := strings.Cut(rest, ", ")
				r, ok := byControl[control]
				delete(byControl, control)
				if !ok || string(r.Verdict) != verdict {
					t.Errorf("%s: %s (%s), want %s", control, r.Verdict, r.Reason, verdict)
				}
				if r.Verdict != Continuous {
					worst = r.Verdict
				}
				var gaps []string
				for ; i+1 < len(want) && (strings.HasPrefix(want[i+1], "gap ") || strings.HasPrefix(want[i+1], "touch ") || strings.HasPrefix(want[i+1], "thin ")); i++ {
					gaps = append(gaps, normal(want[i+1]))
				}
				holds(t, r)
				if !asked {
					continue
				}
				if got := strings.Join(r.Chain, " > "); got != chain {
					t.Errorf("%s: chain %s, want %s", control, got, chain)
				}
				var got []string
				for _, g := range r.Gaps {
					got = append(got, gapLine(r.Verdict, g))
				}
				slices.Sort(got)
				slices.Sort(gaps)
				if !slices.Equal(got, gaps) {
					t.Errorf("%s: gaps %q, want %q", control, got, gaps)
				}
			}
			for c, r := range byControl {
				t.Errorf("%s is %s, and nothing is said of it", c, r.Verdict)
			}
			for _, f := range found.Items {
				if !rules[f.Rule] {
					t.Errorf("%s", f)
				}
				delete(rules, f.Rule)
			}
			for r := range rules {
				t.Errorf("no finding %s", r)
			}
			if worst != Continuous {
				broken++
			}
		})
	}
	if 2*broken < len(all) {
		t.Errorf("%d of %d sections are at fault; half are wanted", broken, len(all))
	}
	files, _ := filepath.Glob("testdata/corpus/junctions/*.md")
	if len(files) != len(all) {
		t.Errorf("%d files, %d junctions read", len(files), len(all))
	}
}

// holds checks what must be true of any report.
func holds(t *testing.T, r Report) {
	t.Helper()
	if (r.Verdict == Continuous) != (len(r.Gaps) == 0 && len(r.Leaks) == 0) {
		t.Errorf("%s: %s with %d gaps and leaks %v", r.Control, r.Verdict, len(r.Gaps), r.Leaks)
	}
	if r.Verdict != Continuous && len(r.Ends) == 0 && len(r.Path) < 2 {
		t.Errorf("%s: %s without the way that slips through", r.Control, r.Verdict)
	}
	if r.Verdict == Continuous && len(r.Chain) == 0 {
		t.Errorf("%s: continuous, and no chain", r.Control)
	}
	for _, g := range r.Gaps {
		if g.Mend == "" || g.Touch != (g.Width == 0) && r.Verdict != Thin {
			t.Errorf("%s: gap %+v", r.Control, g)
		}
	}
}

// Two runs say the same, word for word.
func TestTwice(t *testing.T) {
	for _, d := range corpus(t) {
		say := func() string {
			s, list := section.Resolve(d.Junction, nil, section.Options{})
			reports, found := Review(s, d.Sequence, Options{})
			return fmt.Sprint(list, reports, found, s.Faces, s.Outlines, s.Runs)
		}
		if a, b := say(), say(); a != b {
			t.Errorf("%s: two runs differ", d.Mark)
		}
	}
}

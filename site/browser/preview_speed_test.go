package browser

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"wythe/site/specimen"
)

// BenchmarkSaveToDrawing saves a file of a library of 1,000 details and
// measures in the browser how long it takes until the open page shows the
// changed drawing: the page is changed (p50-ms, p95-ms), and the frame after
// is painted (p95-painted-ms). It counts from just before the save; the page
// tells the time by the same clock.
func BenchmarkSaveToDrawing(b *testing.B) {
	const details = 1000
	b.Setenv("XDG_CACHE_HOME", b.TempDir())
	b.Run("assembly", func(b *testing.B) {
		dir := b.TempDir()
		if err := specimen.Assemblies(dir, details); err != nil {
			b.Fatal(err)
		}
		mark := specimen.Mark(details / 2)
		saveToDrawing(b, dir, filepath.Join(dir, "assemblies", mark+".md"), mark, `(?m)^    thickness: [0-9]+()( [0-9/]+)? in$`)
	})
	b.Run("junction", func(b *testing.B) {
		dir := b.TempDir()
		if _, err := specimen.Whole(dir, filepath.Join("..", "..", "details"), details); err != nil {
			b.Fatal(err)
		}
		saveToDrawing(b, dir, filepath.Join(dir, "junctions", "J-201003.md"), "J-201003", `wall\.left, 8() in above footing\.top`)
	})
}

// saveToDrawing saves a file with the first size that a pattern finds, at its
// group, a little larger each time.
func saveToDrawing(b *testing.B, dir, file, mark, size string) {
	text, err := os.ReadFile(file)
	if err != nil {
		b.Fatal(err)
	}
	at := regexp.MustCompile(size).FindStringSubmatchIndex(string(text))
	if at == nil {
		b.Fatalf("%s: no size to change", file)
	}
	before, after := string(text[:at[2]]), string(text[at[3]:])
	if len(at) > 4 && at[4] >= 0 {
		after = string(text[at[5]:])
	}
	title := ""
	for line := range strings.Lines(string(text)) {
		if t, is := strings.CutPrefix(line, "title: "); is {
			title = strings.TrimSpace(t)
		}
	}
	address := previewOf(b, dir)
	p := open(b, desk, "index.html")
	p.run(chromedp.Navigate(address + "/" + mark + "/"))
	for limit := time.Now().Add(time.Minute); !ask[bool](p, `document.readyState === 'complete' && !!document.getElementById('wythe-preview')`); {
		if time.Now().After(limit) {
			b.Fatal("the page is not served")
		}
	}
	ask[bool](p, `(() => {
		const now = () => performance.timeOrigin + performance.now();
		window.drawn = () => document.querySelector('main svg').outerHTML;
		window.seen = null;
		new MutationObserver(() => {
			const s = {changed: Number(document.documentElement.dataset.refreshed), title: document.querySelector('h1').textContent, drawing: window.drawn()};
			requestAnimationFrame(() => requestAnimationFrame(() => { s.painted = now(); window.seen = s; }));
		}).observe(document.documentElement, {attributes: true, attributeFilter: ['data-refreshed']});
		return true;
	})()`)
	var changed, painted []float64
	was := ask[string](p, `window.drawn()`)
	for i := 0; b.Loop(); i++ {
		b.StopTimer()
		time.Sleep(250 * time.Millisecond)
		// Sizes differ from save to save; they stay near what the file says.
		next := strings.Replace(before+fmt.Sprintf(" %d/64", 1+2*(i%31))+after, "title: "+title, fmt.Sprintf("title: %s, save %d", title, i), 1)
		aside := file + "~"
		if err := os.WriteFile(aside, []byte(next), 0o666); err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		saved := float64(time.Now().UnixMicro()) / 1000
		if err := os.Rename(aside, file); err != nil {
			b.Fatal(err)
		}
		type sight struct {
			Changed, Painted float64
			Title, Drawing   string
		}
		want := fmt.Sprintf("%s, save %d", title, i)
		var s sight
		for limit := time.Now().Add(30 * time.Second); s.Title != want; time.Sleep(2 * time.Millisecond) {
			if time.Now().After(limit) {
				b.Fatalf("save %d is not shown: %s", i, ask[string](p, `document.getElementById('wythe-preview').innerText`))
			}
			s = ask[sight](p, `(() => { const s = window.seen; return s && s.title === '%s' ? s : {}; })()`, want)
		}
		if s.Drawing == was || s.Drawing == "" {
			b.Fatalf("save %d changed no drawing", i)
		}
		was = s.Drawing
		changed, painted = append(changed, s.Changed-saved), append(painted, s.Painted-saved)
	}
	slices.Sort(changed)
	slices.Sort(painted)
	of := func(list []float64, share float64) float64 {
		return list[min(len(list)-1, int(share*float64(len(list))))]
	}
	b.ReportMetric(of(changed, 0.5), "p50-ms")
	b.ReportMetric(of(changed, 0.95), "p95-ms")
	b.ReportMetric(of(painted, 0.95), "p95-painted-ms")
}

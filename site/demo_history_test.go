package site

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// issuedTwice are the details of the demonstration whose table bears fingerprints,
// each with the revision before.
var issuedTwice = map[string][2]string{"W-104": {"C", "B"}, "R-102": {"C", "B"}, "J-202": {"D", "C"}}

// The demonstration's issued details are drawn as they were stamped, whatever
// history the checkout has.
func TestDemonstrationIsAsIssued(t *testing.T) {
	l, err := Open(demo)
	if err != nil {
		t.Fatal(err)
	}
	for mark, revs := range issuedTwice {
		d := l.Detail(mark)
		if d.Revisions[0].Rev != revs[0] || d.Revisions[1].Rev != revs[1] || d.Revisions[1].Fingerprint == "" {
			t.Errorf("%s: %v", mark, d.Revisions)
		}
		if got := l.Fingerprint(d); got != d.Revisions[0].Fingerprint {
			t.Errorf("%s changed since it was issued: it is %s, its table says %s; revise it", mark, got, d.Revisions[0].Fingerprint)
		}
	}
}

// A copy of the demonstration without git, and one whose history was made one
// commit, are reviewed and published: they say what cannot be seen, and all
// that stands now is the same.
func TestDemonstrationWithoutItsHistory(t *testing.T) {
	lib := filepath.Join(t.TempDir(), "lib")
	if err := os.CopyFS(lib, os.DirFS(demo)); err != nil {
		t.Fatal(err)
	}
	said := func() map[string]int {
		l, err := Open(lib)
		if err != nil {
			t.Fatal(err)
		}
		list := l.Review()
		if list.Errors() > 0 {
			t.Fatalf("%v", list.Items)
		}
		rules := map[string]int{}
		for _, f := range list.Items {
			if strings.Contains(f.Rule, "history") || strings.Contains(f.Rule, "revision") || strings.Contains(f.Rule, "fingerprint") {
				rules[f.Rule]++
			}
		}
		return rules
	}
	if rules := said(); len(rules) != 1 || rules["no-history"] != 1 {
		t.Errorf("without git: %v", rules)
	}
	plain := publishPast(t, lib)
	git(t, lib, "init", "-q", "-b", "main", ".")
	commit(t, lib, "all")
	if rules := said(); len(rules) != 1 || rules["revision-before-history"] != len(issuedTwice) {
		t.Errorf("in one commit: %v", rules)
	}
	squashed := publishPast(t, lib)
	checkLinks(t, plain)
	checkLinks(t, squashed)
	for mark, revs := range issuedTwice {
		if squashed[mark+"/rev/"+revs[0]+"/index.html"] == "" || squashed[mark+"/rev/"+revs[1]+"/index.html"] != "" {
			t.Errorf("%s: revision %s is to be drawn, %s not", mark, revs[0], revs[1])
		}
	}
	same := 0
	for name, text := range plain {
		mark, _, _ := strings.Cut(name, "/")
		if !strings.HasSuffix(name, ".html") || issuedTwice[mark][0] != "" || name == "register/index.html" || strings.HasPrefix(name, "buildings/") {
			continue
		}
		same++
		if squashed[name] != text {
			t.Errorf("%s is not the same with a history", name)
		}
	}
	if same < 100 {
		t.Errorf("%d pages were compared", same)
	}
}

package detail

import (
	"regexp"
	"strings"
	"testing"
)

// TestKeys: every key says what it is for, in a form that is known; a map of
// a kind names a kind; no key stands twice.
func TestKeys(t *testing.T) {
	kindOf := map[string]bool{}
	for _, k := range Kinds() {
		if kindOf[k.Kind] {
			t.Errorf("kind %s stands twice", k.Kind)
		}
		kindOf[k.Kind] = true
	}
	plain := map[string]bool{}
	for _, f := range strings.Split("text number count answer mark edge point date slope scale pattern material word price leakage "+
		"length area pressure force resistance conductivity temperature transmittance volume ratio share", " ") {
		plain[f] = true
	}
	plain["pair of lengths"], plain["section number"] = true, true
	list := regexp.MustCompile(`^(?:list of |map of )(.+)$`)
	for _, k := range Kinds() {
		if k.Says == "" || len(k.List) == 0 || len(k.List) != len(k.Names()) {
			t.Errorf("%s: says %q, %d keys, %d names", k.Kind, k.Says, len(k.List), len(k.Names()))
		}
		seen := map[string]bool{}
		for i, key := range k.List {
			if seen[key.Name] || key.Says == "" || key.Name != k.Names()[i] {
				t.Errorf("%s: key %q stands twice, says nothing or is out of order", k.Kind, key.Name)
			}
			seen[key.Name] = true
			for _, form := range strings.Split(key.Form, " or ") {
				of := form
				if m := list.FindStringSubmatch(form); m != nil {
					of = m[1]
				}
				if !plain[of] && !kindOf[of] {
					t.Errorf("%s: key %q has the unknown form %q", k.Kind, key.Name, form)
				}
			}
			if strings.HasSuffix(key.Form, "word") != (len(key.Words) > 0) && !strings.Contains(key.Form, "word or") {
				t.Errorf("%s: key %q has form %q and words %q", k.Kind, key.Name, key.Form, key.Words)
			}
		}
	}
	for kind, keys := range kindKeys {
		for _, key := range keys {
			if !has(partKeys.names, key) {
				t.Errorf("%s: key %q is no key of a part", kindNames[kind], key)
			}
		}
	}
}

func TestWordsOfTheModelAreThoseOfTheKeys(t *testing.T) {
	for _, c := range []struct {
		keys *Keys
		key  string
		want string
	}{
		{assemblyKeys, "element", join2(elements)},
		{targetKeys, "element", join2(elements)},
		{commonKeys, "status", join2([]Status{Draft, ForReview, Issued, Superseded})},
		{layerKeys, "ventilation", join2([]Ventilation{Unventilated, SlightlyVentilated, WellVentilated})},
		{libraryKeys, "headline", join2([]Headline{ParallelPath, CombinedLimits, IsothermalPlanes})},
		{libraryKeys, "surfaces", join2([]SurfaceSet{SurfacesISO6946, SurfacesASHRAEWinter})},
		{partKeys, "inside", join2([]Side{Left, Right, Bottom, Top})},
	} {
		if got := strings.Join(c.keys.words(c.key), ", "); got != c.want {
			t.Errorf("%s of %s: %q; want %q", c.key, c.keys.Kind, got, c.want)
		}
	}
}

func join2[T ~string](list []T) string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = string(s)
	}
	return strings.Join(out, ", ")
}

func TestCautions(t *testing.T) {
	s := Settings{Cautions: map[string]string{"tides": "Know the tide table.", "radon": "Ours."}}
	for _, c := range []struct {
		word, want string
		known      bool
	}{
		{"tides", "Know the tide table.", true}, {"radon", "Ours.", true}, {"no such danger", "no such danger", false},
	} {
		if got, known := s.Caution(c.word); got != c.want || known != c.known {
			t.Errorf("Caution(%q) = %q, %v", c.word, got, known)
		}
	}
	for _, word := range []string{"silica dust", "wet concrete burns", "radon", "excavation"} {
		if text, known := (&Settings{}).Caution(word); !known || len(text) > 200 {
			t.Errorf("Caution(%q) = %q, %v", word, text, known)
		}
	}
	words := s.CautionWords()
	for i := 1; i < len(words); i++ {
		if words[i-1] >= words[i] {
			t.Errorf("%q before %q", words[i-1], words[i])
		}
	}
	if !has(words, "tides") || len(words) != len(cautionTexts)+1 {
		t.Errorf("%d words", len(words))
	}
}

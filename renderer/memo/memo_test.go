package memo

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func save(t *testing.T, s *Store) {
	t.Helper()
	if err := s.Save(); err != nil {
		t.Fatal(err)
	}
}

func want(t *testing.T, s *Store, key, text string) {
	t.Helper()
	if got, ok := s.Get(key); got != text || ok != (text != "") {
		t.Errorf("%s: got %q, %v; want %q", key, got, ok, text)
	}
}

func TestWhatIsPutIsThereInTheNextRun(t *testing.T) {
	file := filepath.Join(t.TempDir(), "a", "store")
	s := Open(file, "v1")
	s.Put("one", "1")
	s.Put("two", "2")
	save(t, s)
	s.Put("two", "zwei")
	save(t, s)
	s = Open(file, "v1")
	want(t, s, "one", "1")
	want(t, s, "two", "zwei")
	want(t, s, "three", "")
	want(t, Open(file, "v2"), "one", "")
	var none *Store
	none.Put("one", "1")
	want(t, none, "one", "")
	save(t, none)
}

// TestAChangeIsAddedAndWasteIsDropped: one change writes little, and what
// nobody asks for any more does not stay for ever.
func TestAChangeIsAddedAndWasteIsDropped(t *testing.T) {
	file := filepath.Join(t.TempDir(), "store")
	text := strings.Repeat("x", 1000)
	s := Open(file, "v")
	for i := range 100 {
		s.Put(fmt.Sprint(i), text)
	}
	save(t, s)
	size := func() int64 {
		info, err := os.Stat(file)
		if err != nil {
			t.Fatal(err)
		}
		return info.Size()
	}
	before := size()
	s = Open(file, "v")
	for i := range 99 {
		want(t, s, fmt.Sprint(i), text)
	}
	s.Put("99", "new")
	save(t, s)
	if grown := size() - before; grown < 3 || grown > 50 {
		t.Errorf("one change added %d bytes", grown)
	}
	s = Open(file, "v")
	for i := range 10 {
		want(t, s, fmt.Sprint(i), text)
	}
	save(t, s)
	if size() > before/5 {
		t.Errorf("%d bytes of %d are left, of a tenth that is in use", size(), before)
	}
	s = Open(file, "v")
	want(t, s, "5", text)
	want(t, s, "50", "")
}

// TestADamagedFileCostsTimeAlone changes and cuts a store byte by byte: what
// is read is what was put, or nothing.
func TestADamagedFileCostsTimeAlone(t *testing.T) {
	file := filepath.Join(t.TempDir(), "store")
	s := Open(file, "v")
	s.Put("one", "the first text")
	s.Put("two", "the second text")
	save(t, s)
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for i := range whole {
		for _, data := range [][]byte{whole[:i], append(append(append([]byte{}, whole[:i]...), whole[i]^0x10), whole[i+1:]...)} {
			if err := os.WriteFile(file, data, 0o666); err != nil {
				t.Fatal(err)
			}
			s := Open(file, "v")
			for key, text := range map[string]string{"one": "the first text", "two": "the second text"} {
				if got, ok := s.Get(key); ok && got != text {
					t.Fatalf("byte %d: %s is %q", i, key, got)
				}
				s.Put(key, text)
			}
			save(t, s)
			s = Open(file, "v")
			want(t, s, "one", "the first text")
			want(t, s, "two", "the second text")
		}
	}
}

// TestTwoRunsDoNotMix: of two that save at a time, what is read is sound.
func TestTwoRunsDoNotMix(t *testing.T) {
	file := filepath.Join(t.TempDir(), "store")
	s := Open(file, "v")
	s.Put("one", "1")
	save(t, s)
	a, b := Open(file, "v"), Open(file, "v")
	want(t, a, "one", "1")
	want(t, b, "one", "1")
	a.Put("two", "2")
	b.Put("three", "3")
	save(t, a)
	save(t, b)
	s = Open(file, "v")
	want(t, s, "one", "1")
	want(t, s, "three", "3")
}

// FuzzOpen: no file breaks a store.
func FuzzOpen(f *testing.F) {
	f.Add([]byte(form + "v\n"))
	f.Add(appendEntry([]byte(form+"v\n"), "key", "text"))
	f.Add([]byte(form + "v\n\xff\xff\xff\xff\xff\xff\xff\xff\x00\x00\x00\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		file := filepath.Join(t.TempDir(), "store")
		if err := os.WriteFile(file, data, 0o666); err != nil {
			t.Fatal(err)
		}
		s := Open(file, "v")
		s.Put("key", "another text")
		save(t, s)
		want(t, Open(file, "v"), "key", "another text")
	})
}

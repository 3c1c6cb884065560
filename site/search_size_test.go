package site

import (
	"bytes"
	"compress/gzip"
	"testing"

	"wythe/site/search"
)

// TestSearchStaysSmallAtTenThousand holds what a phone loads to answer, as
// servers send it: the index once, then one part of the texts' words for each
// word that is looked for.
func TestSearchStaysSmallAtTenThousand(t *testing.T) {
	const details, mostMain, mostPart = 10_000, 96 << 10, 32 << 10 // bytes, compressed
	l, err := Open(generateLibrary(t, details))
	if err != nil {
		t.Fatal(err)
	}
	index := search.Build(l.searchDocs(), nil)
	largest, all, which := 0, 0, ""
	for _, p := range index.Words {
		size := zippedSize(t, p.Data)
		all += size
		if size > largest {
			largest, which = size, p.Begin
		}
	}
	main := zippedSize(t, index.Main)
	t.Logf("%d details: index %d KB; words of the texts %d KB in %d parts, the largest (%s) %d KB", details, main>>10, all>>10, len(index.Words), which, largest>>10)
	if main > mostMain {
		t.Errorf("the index is %d KB compressed; want at most %d", main>>10, mostMain>>10)
	}
	if largest > mostPart {
		t.Errorf("part %s is %d KB compressed; want at most %d", which, largest>>10, mostPart>>10)
	}
}

// zippedSize is how many bytes of data a server sends.
func zippedSize(tb testing.TB, data []byte) int {
	tb.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	if _, err := z.Write(data); err != nil {
		tb.Fatal(err)
	}
	if err := z.Close(); err != nil {
		tb.Fatal(err)
	}
	return b.Len()
}

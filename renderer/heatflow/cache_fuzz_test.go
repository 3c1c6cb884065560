package heatflow

import (
	"bytes"
	"testing"
)

// FuzzCacheEntry: an entry is taken only as it was written, byte for byte;
// whatever else lies in the cache is passed over.
func FuzzCacheEntry(f *testing.F) {
	p := angleWall(1, 2, 1, 0, 0)
	field, err := Solve(p, Options{})
	if err != nil {
		f.Fatal(err)
	}
	key := contentKey(p, Options{})
	good := pack(field, key)
	if unpack(good, key, p) == nil {
		f.Fatal("the entry itself is not taken")
	}
	f.Add(good)
	f.Add(good[:len(good)-1])
	f.Add(append(bytes.Clone(good), 0))
	f.Add(good[:len(magic)+64])
	f.Add([]byte(magic))
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, b []byte) {
		if unpack(b, key, p) != nil && !bytes.Equal(b, good) {
			t.Errorf("an entry of %d bytes is taken that was never written", len(b))
		}
	})
}

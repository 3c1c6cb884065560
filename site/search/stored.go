package search

import (
	"encoding/binary"

	"wythe/renderer/memo"
	"wythe/renderer/trace"
)

// stored reads a document by way of a store, which keeps the terms of each
// document under the hash of its texts.
func (b *builder) stored(n int, d *Doc, store *memo.Store) {
	if store == nil {
		b.document(n, d)
		return
	}
	key := "terms/" + d.hash()
	if text, ok := store.Get(key); ok && b.restore(n, text) {
		return
	}
	var out []byte
	b.onClose = func(field uint8) {
		out = binary.AppendUvarint(out, uint64(len(b.here)))
		for _, t := range b.here {
			out = binary.AppendUvarint(out, uint64(len(b.terms[t])))
			out = append(out, b.terms[t]...)
			list := b.postings[t]
			out = binary.AppendUvarint(out, uint64(list[len(list)-1].times))
		}
	}
	b.document(n, d)
	b.onClose = nil
	store.Put(key, string(out))
}

// hash is of all that a document's terms follow from.
func (d *Doc) hash() string {
	parts := []string{d.Mark, d.Title}
	for _, list := range [][]string{d.Materials, d.Trades, d.Specs, d.Body} {
		parts = append(append(parts, list...), "\x00")
	}
	return trace.Hash(parts...)
}

// restore adds a document's terms as they were kept; false, and nothing
// added, where the text is none of those.
func (b *builder) restore(n int, text string) bool {
	type counted struct {
		term  string
		times uint16
	}
	var fields [fieldCount][]counted
	bad := false
	number := func() int {
		var v [binary.MaxVarintLen32]byte
		x, size := binary.Uvarint(v[:copy(v[:], text)])
		if size <= 0 || x > 1<<20 {
			bad = true
			return 0
		}
		text = text[size:]
		return int(x)
	}
	for f := range fields {
		count := number()
		if bad || count > len(text) {
			return false
		}
		list := make([]counted, count)
		for i := range list {
			size := number()
			if bad || size == 0 || size > len(text) {
				return false
			}
			list[i].term, text = text[:size], text[size:]
			list[i].times = uint16(number())
		}
		fields[f] = list
	}
	if bad || text != "" {
		return false
	}
	for f := range fields {
		for _, c := range fields[f] {
			t, known := b.number[c.term]
			if !known {
				t = b.first(c.term)
			}
			b.here = append(b.here, t)
			b.postings[t] = append(b.postings[t], posting{int32(n), uint8(f), c.times})
		}
		b.close(n, uint8(f))
	}
	return true
}

// Package trace records what was read while an output was made, so that the
// output can be kept for as long as the same reads give the same answers.
//
// A read is a key and the hash of what was found there. A look-up that found
// nothing is a read too (its hash is [Missing]), and so is a list (its hash
// covers the names in it, in order).
package trace

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"sort"
	"sync"
)

// Missing is the hash of a look-up that found nothing.
const Missing = "missing"

// Reads is the reads of one output. A nil *Reads records nothing.
// It is safe for use by several goroutines.
type Reads struct {
	mu sync.Mutex
	m  map[string]string
}

// Record notes that key was read and had the given hash.
func (r *Reads) Record(key, hash string) {
	if r == nil {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.m == nil {
		r.m = map[string]string{}
	}
	r.m[key] = hash
}

// Hash returns the hash that was recorded for a key, "" for none.
func (r *Reads) Hash(key string) string {
	if r == nil {
		return ""
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.m[key]
}

// Read is one recorded read.
type Read struct{ Key, Hash string }

// Sorted returns the reads in order of key.
func (r *Reads) Sorted() []Read {
	if r == nil {
		return nil
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	out := make([]Read, 0, len(r.m))
	for k, h := range r.m {
		out = append(out, Read{k, h})
	}
	sort.Slice(out, func(a, b int) bool { return out[a].Key < out[b].Key })
	return out
}

// Hash returns the hex SHA-256 of the parts, each preceded by its length so
// that no two lists of parts share a hash.
func Hash(parts ...string) string {
	b := buffers.Get().(*[]byte)
	all := (*b)[:0]
	for _, p := range parts {
		all = binary.LittleEndian.AppendUint64(all, uint64(len(p)))
		all = append(all, p...)
	}
	sum := sha256.Sum256(all)
	if cap(all) < 1<<20 {
		*b = all
		buffers.Put(b)
	}
	return hex.EncodeToString(sum[:])
}

// buffers are what hashes are taken of: a hash reads bytes alone.
var buffers = sync.Pool{New: func() any { b := make([]byte, 0, 8<<10); return &b }}

package drawing

import "sync"

// Layers of a material come in few thicknesses, and pages draw them at few
// widths: hatches of rectangles are drawn once, at the origin, and shared.
// What is shared is never changed.

// sharedKey is all that the hatch of a rectangle depends on.
type sharedKey struct {
	word       string
	variant    uint8
	wide, high float64
	opt        Hatching // without its seed
}

const (
	// seedVariants is how many hatches there are of one word, size and
	// options: parts that lie side by side seldom look alike.
	seedVariants = 4
	// sharedSegs bounds what is kept, in segments: some 30 MB.
	sharedSegs = 400_000
)

var shared = struct {
	sync.RWMutex
	nodes map[sharedKey][]Node
	segs  int
}{nodes: map[sharedKey][]Node{}}

// sharedHatch returns the hatch of a rectangle whose corner of least x and y
// is the origin.
func sharedHatch(k sharedKey) []Node {
	shared.RLock()
	nodes, ok := shared.nodes[k]
	shared.RUnlock()
	if ok {
		return nodes
	}
	nodes = drawHatch(k.word, RectRegion(0, 0, k.wide, k.high), k.opt, uint64(k.variant)+hash(k.word))
	segs := 1
	for i, n := range nodes {
		p := n.(*Path)
		p.Memo = &Memo{key: MemoKey{k, i}}
		segs += len(p.Segs)
	}
	shared.Lock()
	defer shared.Unlock()
	if kept, ok := shared.nodes[k]; ok {
		return kept // another drew it meanwhile
	}
	if shared.segs += segs; shared.segs > sharedSegs {
		clear(shared.nodes)
		shared.segs = segs
	}
	shared.nodes[k] = nodes
	return nodes
}

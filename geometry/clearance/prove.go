package clearance

import (
	"context"
	"math"

	"axleloft/geometry/cell"
	"axleloft/geometry/motion"
	"axleloft/geometry/shape"
)

// Proof is what is proved of a pair over the range: nowhere is its gap less than NotLess, and at Left, Right it is Found.
type Proof struct {
	NotLess     float64 // mm
	Found       float64 // mm
	Left, Right float64
}

// Closeness says how close a proof is to come.
type Closeness struct {
	Width float64 // mm between what is found and what is proved
	Far   float64 // mm: a pair proved to be further apart than this may stop there; infinite: none
	Most  int     // cells and pieces looked at for one pair; a pair that would need more keeps the wider figures it has
}

// Prover is the work space of one goroutine.
type Prover struct {
	c      *Model
	base   *cell.Tree // read-only
	tree   *cell.Tree // its own copy, cut as far as the pairs so far asked for
	inside func(*motion.Pose) bool
	pieces [][]piece
	heap   []entry
	a, b   moving
	tried  []cell.Point
	at     cell.Standing
	shape  shape.Scratch
	looked int
}

type entry struct {
	bound  float64
	cell   int32
	seq    int32
	pa, pb int32
	slack  float32 // mm: how much lower than at the cell's centre
	corner int8
}

// before is the heap's order: the lowest bound first, of equal ones the earlier.
func (e *entry) before(o *entry) bool {
	return e.bound < o.bound || e.bound == o.bound && e.seq < o.seq
}

// mostCut is how many cells beyond the tree's own are kept from one pair to the next: what one pair cut serves others, but memory has an end.
const mostCut = 20_000

// NewProver returns a work space over the cells of a range, which it does not change; inside tells of a pose whether it is within every limit.
func (c *Model) NewProver(tree *cell.Tree, inside func(*motion.Pose) bool) *Prover {
	return &Prover{c: c, base: tree, tree: tree.Clone(), inside: inside, pieces: c.pieces()}
}

// refresh drops the cells cut for earlier pairs where they have become too many.
func (w *Prover) refresh() {
	if len(w.tree.Cells) > len(w.base.Cells)+mostCut {
		w.tree = w.base.Clone()
	}
}

// Prove bounds the gap of a pair over the whole range, best first: of all cells and pieces those of the lowest bound are cut in four, until that bound is within the width of the smallest
// gap found. An error is the context's.
func (w *Prover) Prove(ctx context.Context, pair int, how Closeness) (p Proof, err error) {
	w.refresh()
	sides := w.c.sides[pair]
	pa, pb := w.pieces[sides[0]], w.pieces[sides[1]]
	p = Proof{NotLess: math.Inf(1), Found: math.Inf(1)}
	meshA, closedA := meshed(pa)
	meshB, closedB := meshed(pb)
	if meshA {
		pa = roots(pa)
	}
	if meshB {
		pb = roots(pb)
	}
	onAxle := w.c.Parts[w.c.Pairs[pair].A].Body == OnAxle || w.c.Parts[w.c.Pairs[pair].B].Body == OnAxle
	w.heap = w.heap[:0]
	w.looked = 0
	seq := int32(0)
	floor := math.Inf(1) // lowest bound of what was put aside
	look := func(k, i, j int32) {
		c := &w.tree.Cells[k]
		if c.N == 0 {
			return
		}
		w.looked++
		e := entry{bound: math.Inf(-1), cell: k, seq: seq, pa: i, pb: j, corner: -1}
		seq++
		if pa[i].over(w.tree, c, onAxle, &w.a) && pb[j].over(w.tree, c, onAxle, &w.b) {
			var g Gap
			w.shape.Gap(&w.a.at, &w.b.at, &g)
			least, corner := bound(&w.a, &w.b, c, &g)
			e.bound, e.corner, e.slack = least, int8(corner), float32(g.Gap-least)
			if pa[i].coarse()+pb[j].coarse() == 0 && c.Proved && g.Gap < p.Found && c.Inside() {
				w.find(c, [2]float64{}, &pa[i], &pb[j], &p)
			}
		}
		if e.bound >= p.Found-how.Width {
			floor = math.Min(floor, e.bound)
			return
		}
		w.push(e)
	}
	ride := &w.tree.Cells[w.tree.Ride]
	for i := range pa {
		for j := range pb {
			w.find(ride, [2]float64{}, &pa[i], &pb[j], &p)
		}
	}
	for _, k := range w.tree.Roots {
		for i := range pa {
			for j := range pb {
				look(k, int32(i), int32(j))
			}
		}
	}
	for round := 1; len(w.heap) > 0; round++ {
		top := w.heap[0]
		if top.bound >= p.Found-how.Width || top.bound >= how.Far || w.looked > how.Most {
			break
		}
		if round%256 == 0 && ctx.Err() != nil {
			return p, ctx.Err()
		}
		w.pop()
		// Of a mesh the ball, or of two the larger one, is parted while that brings more than parting the cell.
		if ca, cb := pa[top.pa].coarse(), pb[top.pb].coarse(); ca+cb > 0 && top.corner >= 0 && math.Max(ca, cb) > float64(top.slack) {
			for k := range int32(2) {
				if ca >= cb {
					look(top.cell, open(&pa, top.pa)+k, top.pb)
				} else {
					look(top.cell, top.pa, open(&pb, top.pb)+k)
				}
			}
			continue
		}
		if c := &w.tree.Cells[top.cell]; c.Proved && top.corner >= 0 && pa[top.pa].coarse()+pb[top.pb].coarse() == 0 {
			for _, t := range [3]float64{1, 0.97, 0.9} {
				u := c.Poly[top.corner]
				if w.find(c, [2]float64{t * u[0], t * u[1]}, &pa[top.pa], &pb[top.pb], &p) {
					break
				}
			}
		}
		for _, k := range w.tree.Split(top.cell) {
			if k >= 0 {
				look(k, top.pa, top.pb)
			}
		}
	}
	p.NotLess = math.Min(floor, p.Found)
	if len(w.heap) > 0 {
		p.NotLess = math.Min(p.NotLess, w.heap[0].bound)
	}
	if (closedA || closedB) && p.NotLess <= 0 {
		err = w.sink(ctx, w.pieces[sides[0]], w.pieces[sides[1]], how, &p)
	}
	return p, err
}

// find measures the two pieces at a place of a cell; false where that is outside the range.
func (w *Prover) find(c *cell.Cell, u [2]float64, a, b *piece, p *Proof) bool {
	if !w.tree.Stand(c, u, &w.at) || !w.inside(&w.at.Pose) {
		return false
	}
	a.place(&w.at, &w.a.at)
	b.place(&w.at, &w.b.at)
	var g Gap
	w.shape.Gap(&w.a.at, &w.b.at, &g)
	if g.Gap < p.Found {
		p.Found, p.Left, p.Right = g.Gap, w.at.Pose.Left, w.at.Pose.Right
	}
	return true
}

func (w *Prover) push(e entry) {
	w.heap = append(w.heap, e)
	h := w.heap
	i := len(h) - 1
	for i > 0 {
		up := (i - 1) / 2
		if !h[i].before(&h[up]) {
			break
		}
		h[i], h[up] = h[up], h[i]
		i = up
	}
}

func (w *Prover) pop() {
	h := w.heap
	n := len(h) - 1
	h[0] = h[n]
	h = h[:n]
	w.heap = h
	i := 0
	for {
		k := 2*i + 1
		if k >= n {
			return
		}
		if k+1 < n && h[k+1].before(&h[k]) {
			k++
		}
		if !h[k].before(&h[i]) {
			return
		}
		h[i], h[k] = h[k], h[i]
		i = k
	}
}

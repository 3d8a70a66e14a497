package clearance

import (
	"context"
	"math"

	"axleloft/geometry/cell"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// How deep a part lies in a closed mesh is the largest distance to the surface of the core's points that are tried and lie within, and the radius beyond. Over a cell a point is no deeper than its
// distance to any one place of the surface: a convex function of where it is, and that straight in the cell's place but for what it strays, so that the corners of what is left of the cell bound it. A point that is
// outside in the middle of the cell must cross the surface first.

// sinking is a closed mesh and a piece of the other part, as the mesh's carrier sees it.
type sinking struct {
	mesh, other *piece
	tried       []r3.Vec // points of the other's core, where it is carried whole
}

// sinkings lists the closed meshes of one list against the pieces of the other.
func sinkings(list []sinking, meshes, others []piece) []sinking {
	for i := range meshes {
		m := &meshes[i]
		if m.sort == straight || m.of.Kind != shape.Surface || !m.of.Mesh.Closed {
			continue
		}
		for k := range others {
			s := sinking{mesh: m, other: &others[k]}
			if s.other.sort != straight {
				s.tried = s.other.of.Tried(nil)
			}
			list = append(list, s)
		}
	}
	return list
}

// points places the points that are tried over a cell; false where their motion is not bounded.
func (w *Prover) points(s *sinking, c *cell.Cell) (radius float64, ok bool) {
	w.tried = w.tried[:0]
	onAxle := s.mesh.sort == carried
	if s.other.sort == straight {
		if !s.other.over(w.tree, c, onAxle, &w.a) {
			return 0, false
		}
		for k := range shape.BarTries {
			w.tried = append(w.tried, cell.Between(&w.a.pts[0], &w.a.pts[1], float64(k)/(shape.BarTries-1)))
		}
		return w.a.radius, true
	}
	for _, at := range s.tried {
		var p cell.Point
		if s.other.sort == carried {
			p = c.Carried(at)
		} else {
			fixed := cell.Fixed(at)
			p = c.Seen(&fixed)
		}
		w.tried = append(w.tried, p)
	}
	return s.other.of.Radius, true
}

// sunk is a bound from below on minus how deep the piece lies in the mesh over what is left of a cell, and the corner it comes from; infinite where none of its points that are tried is in it.
func (w *Prover) sunk(s *sinking, c *cell.Cell) (least float64, corner int) {
	radius, ok := w.points(s, c)
	if !ok {
		return math.Inf(-1), -1
	}
	least, corner = math.Inf(1), -1
	skin := s.mesh.of.Radius
	for k := range w.tried {
		p := &w.tried[k]
		ball := shape.Piece{Kind: shape.Point, A: p.X}
		var g Gap
		w.shape.Gap(&ball, s.mesh.of, &g)
		out := g.Gap + skin // from the surface; inside below nothing
		at := r3.Sub(p.X, r3.Scale(out, g.N))
		far, move, worst := 0.0, 0.0, -1
		for i := range c.N {
			d := r3.Add(r3.Scale(c.Poly[i][0], p.V[0]), r3.Scale(c.Poly[i][1], p.V[1]))
			move = math.Max(move, length(d))
			if x := length(r3.Sub(r3.Add(p.X, d), at)); x >= far {
				far, worst = x, i
			}
		}
		stray := p.Stray() + 1e-9
		deep := far + stray
		if out > 0 {
			if deep = math.Min(deep, move+stray-out); deep < 0 {
				continue
			}
		}
		if b := -deep - radius - skin; b < least {
			least, corner = b, worst
		}
	}
	return least, corner
}

// sink bounds how deep one part lies in the other's closed mesh: it lowers what is proved of the pair, and what is found.
func (w *Prover) sink(ctx context.Context, pa, pb []piece, how Closeness, p *Proof) error {
	list := sinkings(sinkings(nil, pa, pb), pb, pa)
	w.heap = w.heap[:0]
	seq, looked := int32(0), 0
	floor := p.NotLess
	look := func(k, i int32) {
		c := &w.tree.Cells[k]
		if c.N == 0 {
			return
		}
		looked++
		s := &list[i]
		least, corner := w.sunk(s, c)
		if least >= p.Found-how.Width {
			floor = math.Min(floor, least)
			return
		}
		if c.Proved && c.Inside() {
			w.find(c, [2]float64{}, s.mesh, s.other, p)
		}
		w.push(entry{bound: least, cell: k, seq: seq, pa: i, corner: int8(corner)})
		seq++
	}
	for _, k := range w.tree.Roots {
		for i := range list {
			look(k, int32(i))
		}
	}
	for round := 1; len(w.heap) > 0; round++ {
		top := w.heap[0]
		if top.bound >= p.Found-how.Width || looked > how.Most {
			floor = math.Min(floor, top.bound)
			break
		}
		if round%256 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		w.pop()
		s := &list[top.pa]
		if c := &w.tree.Cells[top.cell]; c.Proved && top.corner >= 0 {
			for _, t := range [3]float64{1, 0.97, 0.9} {
				u := c.Poly[top.corner]
				if w.find(c, [2]float64{t * u[0], t * u[1]}, s.mesh, s.other, p) {
					break
				}
			}
		}
		for _, k := range w.tree.Split(top.cell) {
			if k >= 0 {
				look(k, top.pa)
			}
		}
	}
	w.looked += looked
	p.NotLess = math.Min(floor, p.Found)
	return nil
}

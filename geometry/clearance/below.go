package clearance

import (
	"math"

	"axleloft/geometry/cell"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// duo is two pieces, one of either part, that may come nearer each other than a level somewhere in a cell.
type duo struct{ a, b int32 }

// closing measures one pair against a level, cell by cell: which pieces may be nearer, and whether some surely are.
type closing struct {
	w      *Prover
	pa, pb []piece
	whole  [2][]piece // meshes as they are, for measuring at a pose
	closed bool       // one is a closed mesh, which can hold the other without touching it
	onAxle bool
	level  float64 // mm
	todo   []duo
}

// close prepares a pair.
func (w *Prover) close(pair int, level float64) (k *closing) {
	w.refresh()
	sides := w.c.sides[pair]
	k = &closing{w: w, pa: w.pieces[sides[0]], pb: w.pieces[sides[1]], level: level}
	k.whole = [2][]piece{k.pa, k.pb}
	meshA, closedA := meshed(k.pa)
	meshB, closedB := meshed(k.pb)
	k.closed = closedA || closedB
	if meshA {
		k.pa = roots(k.pa)
	}
	if meshB {
		k.pb = roots(k.pb)
	}
	p := &w.c.Pairs[pair]
	k.onAxle = w.c.Parts[p.A].Body == OnAxle || w.c.Parts[p.B].Body == OnAxle
	return k
}

// all are the pieces before anything is known.
func (k *closing) all() []duo {
	var list []duo
	for i := range k.pa {
		for j := range k.pb {
			list = append(list, duo{int32(i), int32(j)})
		}
	}
	return list
}

// look bounds the gap over what is left of a cell: of the pieces in live it adds to dst those that may be nearer than the level there, none where no place of the cell is; most is a bound from above on the gap
// anywhere in it, found only where one is asked for.
func (k *closing) look(c *cell.Cell, live []duo, above bool, dst []duo) (list []duo, most float64) {
	w := k.w
	most = math.Inf(1)
	k.todo = append(k.todo[:0], live...)
	for n := 0; n < len(k.todo); n++ { // in order: parts of a ball come after what was there
		d := k.todo[n]
		a, b := &k.pa[d.a], &k.pb[d.b]
		if !a.over(w.tree, c, k.onAxle, &w.a) || !b.over(w.tree, c, k.onAxle, &w.b) {
			dst = append(dst, d)
			continue
		}
		var g Gap
		w.shape.Gap(&w.a.at, &w.b.at, &g)
		least, _ := bound(&w.a, &w.b, c, &g)
		if least >= k.level {
			continue
		}
		if ca, cb := a.coarse(), b.coarse(); ca+cb > 0 && math.Max(ca, cb) > g.Gap-least {
			if ca >= cb {
				n := open(&k.pa, d.a)
				k.todo = append(k.todo, duo{n, d.b}, duo{n + 1, d.b})
			} else {
				n := open(&k.pb, d.b)
				k.todo = append(k.todo, duo{d.a, n}, duo{d.a, n + 1})
			}
			continue
		}
		dst = append(dst, d)
		if above && a.coarse()+b.coarse() == 0 {
			most = math.Min(most, k.most(c, a, b, &g))
		}
	}
	return dst, most
}

// most bounds the gap of two pieces from above over what is left of the cell. No two points of their cores are nearer each other than the cores are, and a point within a core is no deeper in it than the other core is.
// So a point is kept on the core that moves: its distance from the other, less than nothing inside it, is a convex function of where it is, so largest at the corners, but for what it strays from its straight line. Where
// both move it is the distance of a point of each.
func (k *closing) most(c *cell.Cell, a, b *piece, g *Gap) float64 {
	w := k.w
	pa := r3.Add(g.PointA, r3.Scale(w.a.at.Radius, g.N))
	pb := r3.Sub(g.PointB, r3.Scale(w.b.at.Radius, g.N))
	movesA, movesB := a.moves(k.onAxle), b.moves(k.onAxle)
	most := math.Inf(-1)
	switch {
	case movesA && movesB:
		p, q := a.pointOn(c, &w.a, pa), b.pointOn(c, &w.b, pb)
		d := r3.Sub(p.X, q.X)
		v := [2]r3.Vec{r3.Sub(p.V[0], q.V[0]), r3.Sub(p.V[1], q.V[1])}
		for i := range c.N {
			most = math.Max(most, length(along(d, v, c.Poly[i])))
		}
		return most + p.Stray() + q.Stray() - a.thin(w, c, k.onAxle) - b.thin(w, c, k.onAxle) + roundOff
	case movesB:
		return k.fromStill(c, b, &w.b, pb, &w.a.at)
	default:
		return k.fromStill(c, a, &w.a, pa, &w.b.at)
	}
}

// roundOff is what rounding does to a distance and to where on a core a point lies, mm.
const roundOff = 1e-6

// fromStill is most where one stands still: at is a point of the core of the other, p, over the cell in m.
func (k *closing) fromStill(c *cell.Cell, p *piece, m *moving, at r3.Vec, still *shape.Piece) float64 {
	x := p.pointOn(c, m, at)
	ball := shape.Piece{Kind: shape.Point}
	most := math.Inf(-1)
	for i := range c.N {
		ball.A = along(x.X, x.V, c.Poly[i])
		var g Gap
		k.w.shape.Gap(&ball, still, &g)
		most = math.Max(most, g.Gap)
	}
	return most + x.Stray() - p.thin(k.w, c, k.onAxle) + roundOff
}

func along(x r3.Vec, v [2]r3.Vec, u [2]float64) r3.Vec {
	return r3.Add(x, r3.Add(r3.Scale(u[0], v[0]), r3.Scale(u[1], v[1])))
}

// moves reports whether a piece moves in the frame it is measured in.
func (k *piece) moves(onAxle bool) bool {
	return k.sort == straight || onAxle && k.sort == still
}

// pointOn is the point of a moving piece's core that is at x in the middle of the cell, over the cell.
func (k *piece) pointOn(c *cell.Cell, m *moving, x r3.Vec) cell.Point {
	if k.sort != straight {
		at, ex, ey, ez := c.Frame()
		p := cell.Fixed(r3.Add(at, r3.Add(r3.Scale(x.X, ex), r3.Add(r3.Scale(x.Y, ey), r3.Scale(x.Z, ez)))))
		return c.Seen(&p)
	}
	a, b := &m.pts[0], &m.pts[1]
	d := r3.Sub(b.X, a.X)
	t := 0.0
	if l := r3.Norm2(d); l > 0 {
		t = math.Max(0, math.Min(1, r3.Dot(r3.Sub(x, a.X), d)/l))
	}
	mix := func(p, q r3.Vec) r3.Vec { return r3.Add(r3.Scale(1-t, p), r3.Scale(t, q)) }
	out := cell.Point{X: mix(a.X, b.X), S: (1-t)*a.S + t*b.S}
	for i := range out.V {
		out.V[i] = mix(a.V[i], b.V[i])
	}
	for i := range out.E {
		out.E[i] = mix(a.E[i], b.E[i])
	}
	return out
}

// thin is the least radius of a piece over a cell.
func (k *piece) thin(w *Prover, c *cell.Cell, onAxle bool) float64 {
	if k.sort != straight {
		return k.of.Radius
	}
	b := k.bar
	if b.bag == nil {
		return b.radius
	}
	p, okP := w.tree.Point(c, &b.ends[0])
	q, okQ := w.tree.Point(c, &b.ends[1])
	if !okP || !okQ {
		return 0
	}
	lo, hi := cell.Length(&p, &q)
	r := math.Min(b.radiusAt(lo), b.radiusAt(hi))
	for _, d := range b.bag.Diameters {
		if d[0] > lo && d[0] < hi {
			r = math.Min(r, d[1]/2)
		}
	}
	return r
}

// at measures the two parts at a place of a cell; false where that is outside the range.
func (k *closing) at(c *cell.Cell, u [2]float64) (gap float64, ok bool) {
	w := k.w
	if !w.tree.Stand(c, u, &w.at) || !w.inside(&w.at.Pose) {
		return 0, false
	}
	gap = math.Inf(1)
	for i := range k.whole[0] {
		k.whole[0][i].place(&w.at, &w.a.at)
		for j := range k.whole[1] {
			k.whole[1][j].place(&w.at, &w.b.at)
			var g Gap
			w.shape.Gap(&w.a.at, &w.b.at, &g)
			gap = math.Min(gap, g.Gap)
		}
	}
	return gap, true
}

// middle is a place of a cell well within what the limits leave of it.
func middle(c *cell.Cell) (u [2]float64) {
	for i := range c.N {
		u[0] += c.Poly[i][0] / float64(c.N)
		u[1] += c.Poly[i][1] / float64(c.N)
	}
	return u
}

// width is how wide a cell is, mm of wheel travel.
func (w *Prover) width(c *cell.Cell) float64 {
	return 2 * math.Max(c.RH, c.RA*w.c.mech.Track/2)
}

package vessel

import (
	"cmp"
	"math"
	"slices"

	"axleloft/geometry/clearance"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// takenOf is how much of a flat vessel's room in a box at its edge may be taken (most) or surely is, mm3, and points whose hull holds it, in the vessel's own axes: in each tetrahedron of the box what lies straight between the values at
// its corners ends at a plane, by which the vessel's own faces are cut.
func (v *Vessel) takenOf(r *room, b *box, most bool) (mm3 float64, pts [][3]float64) {
	add := func(r *room) {
		mm3 += r.volume()
		if most {
			pts = v.corners(r, pts)
		}
	}
	if b.taken {
		add(r)
		return mm3, once(pts)
	}
	at := &b.high
	if most {
		at = &b.low
	}
	for _, k := range kuhn {
		end, all, none := b.ends(v, at, k, most)
		if none {
			continue
		}
		part := *r
		for j := range 2 {
			part = part.cut(b.parts(v, k, j))
		}
		if !all {
			part = part.cut(end)
		}
		add(&part)
	}
	return mm3, once(pts)
}

// once leaves out what is there more often.
func once(pts [][3]float64) [][3]float64 {
	slices.SortFunc(pts, func(p, q [3]float64) int {
		return cmp.Or(cmp.Compare(p[0], q[0]), cmp.Compare(p[1], q[1]), cmp.Compare(p[2], q[2]))
	})
	return slices.Compact(pts)
}

// parts is the plane between two tetrahedra of a box: the way along the j-th axis of k is at least that along the next.
func (b *box) parts(v *Vessel, k [4]int, j int) plane {
	p, q := axisOf(k[j]^k[j+1]), axisOf(k[j+1]^k[j+2])
	wp, wq := b.hi[p]-b.lo[p], b.hi[q]-b.lo[q]
	n := r3.Sub(r3.Scale(1/wq, v.axes[q]), r3.Scale(1/wp, v.axes[p]))
	l := r3.Norm(n)
	return plane{r3.Scale(1/l, n), (b.lo[q]/wq - b.lo[p]/wp) / l}
}

// ends is where what lies straight between the values at the corners of a tetrahedron is nought: they are negative within the plane. all and none: over all of it, nowhere in it. Where a value is not known, all of it may be taken and none surely is.
func (b *box) ends(v *Vessel, at *[8]float64, k [4]int, most bool) (end plane, all, none bool) {
	below, known := 0, true
	for _, i := range k {
		if at[i] < 0 {
			below++
		}
		known = known && !math.IsInf(at[i], 0)
	}
	switch {
	case below == 0:
		return end, false, true
	case below == 4:
		return end, true, false
	case !known:
		return end, most, !most
	}
	var n r3.Vec
	off := -at[k[0]]
	for j := range 3 {
		a := axisOf(k[j] ^ k[j+1])
		g := (at[k[j+1]] - at[k[j]]) / (b.hi[a] - b.lo[a])
		n = r3.Add(n, r3.Scale(g, v.axes[a]))
		off += g * b.lo[a]
	}
	l := r3.Norm(n)
	return plane{r3.Scale(1/l, n), off / l}, false, false
}

// axisOf is the axis along which two corners differ in one bit.
func axisOf(bit int) int { return bit >> 1 }

// corners of what of the vessel lies in a box, in its own axes.
func (v *Vessel) corners(r *room, dst [][3]float64) [][3]float64 {
	put := func(x r3.Vec) {
		var p [3]float64
		for i, a := range v.axes {
			p[i] = r3.Dot(a, x)
		}
		dst = append(dst, p)
	}
	for _, q := range r.polys {
		for _, f := range q.faces {
			for _, x := range f {
				put(x)
			}
		}
	}
	for i := range r.skin {
		for _, x := range r.skin[i] {
			put(x)
		}
	}
	return dst
}

// roundPoints are points whose hull holds what may be taken of a round vessel in a box at its edge: the box's, cut by a plane that touches each ball or bar where it is nearest to the box's middle. So they reach
// beyond the vessel by no more than it curves within the box.
func (v *Vessel) roundPoints(b *box) [][3]float64 {
	block := v.block(b.lo, b.hi)
	hull := blockPoly(&block)
	var dst [][3]float64
	for i := range v.solid.Pieces {
		p := &v.solid.Pieces[i]
		parts := room{}
		if out := touching(p, &block); b.taken {
			parts.polys = []poly{hull.cut(out)}
		} else {
			for _, k := range kuhn {
				end, all, none := b.ends(v, &b.low, k, true)
				if none {
					continue
				}
				q := hull.cut(out)
				for j := range 2 {
					q = q.cut(b.parts(v, k, j))
				}
				if !all {
					q = q.cut(end)
				}
				parts.polys = append(parts.polys, q)
			}
		}
		dst = v.corners(&parts, dst)
	}
	return dst
}

// touching is a plane that holds all of a ball or bar and touches it where it is nearest to the middle of a block.
func touching(p *shape.Piece, b *clearance.Block) plane {
	on := onLine(p, b.At)
	d := r3.Sub(b.At, on)
	if l := r3.Norm(d); l > onPlane {
		d = r3.Scale(1/l, d)
	} else {
		return plane{r3.Vec{Z: 1}, math.Inf(1)}
	}
	furthest := r3.Dot(d, p.A)
	if p.Kind == shape.Segment {
		furthest = math.Max(furthest, r3.Dot(d, p.B))
	}
	return plane{d, furthest + p.Radius}
}

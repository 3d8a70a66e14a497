package shape

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// The gap of a mesh and a piece is the smallest over its triangles. Where they overlap it is "at least": the translation that parts the piece from one triangle, or,
// of a closed mesh that holds a point of the piece's core, that point's distance to the surface and the radius beyond it, whichever is more. Both are needed
// before the two can stand apart: a point that leaves the mesh must cross its surface, and then be a radius away from where it crossed. Tried are the core's corners,
// its middle, of a bar eighths of it.

// BarTries is how many points along a bar, evenly from end to end, are tried for how deep it lies in a mesh.
const BarTries = 9

// open is a node of a tree still to be looked at.
type open struct {
	node  int32
	bound float64
}

// most is the largest number of nodes that wait: the tree is halved each time, so its depth is at most 20.
const most = 64

// reverse returns the motion that undoes the piece's own.
func (p *Piece) reverse() (shift, ex, ey, ez r3.Vec) {
	return r3.Vec{X: -dot(p.Ex, p.Shift), Y: -dot(p.Ey, p.Shift), Z: -dot(p.Ez, p.Shift)},
		r3.Vec{X: p.Ex.X, Y: p.Ey.X, Z: p.Ez.X}, r3.Vec{X: p.Ex.Y, Y: p.Ey.Y, Z: p.Ez.Y}, r3.Vec{X: p.Ex.Z, Y: p.Ey.Z, Z: p.Ez.Z}
}

// surface measures a mesh a and a piece b.
func (s *Scratch) surface(a, b *Piece, dst *Result) {
	q := *b
	if a.Moved {
		shift, ex, ey, ez := a.reverse()
		b.Place(shift, ex, ey, ez, &q)
	}
	dst.Gap = math.Inf(1)
	if b.Kind == Surface {
		s.meshes(a, &q, dst)
	} else {
		s.triangles(a.Mesh, a.Radius, &q, dst)
		if a.Mesh.Closed {
			s.within(a, &q, dst)
		}
	}
	if a.Moved {
		dst.PointA = carry(a.Shift, a.Ex, a.Ey, a.Ez, dst.PointA)
		dst.PointB = carry(a.Shift, a.Ex, a.Ey, a.Ez, dst.PointB)
		dst.N = a.turnMesh(dst.N)
	}
}

func (p *Piece) turnMesh(v r3.Vec) r3.Vec { return carry(r3.Vec{}, p.Ex, p.Ey, p.Ez, v) }

// triangles measures the piece q, in the mesh's own coordinates, and the triangles swollen by radius.
func (s *Scratch) triangles(m *Mesh, radius float64, q *Piece, dst *Result) {
	var wait [most]open
	n := 1
	wait[0] = open{0, math.Inf(-1)}
	tri := Piece{Kind: Polytope, Radius: radius}
	var r Result
	var part r3.Vec // the direction that parts the nearest so far from the piece
	for n > 0 {
		n--
		o := wait[n]
		if o.bound >= dst.Gap {
			continue
		}
		node := &m.tree[o.node]
		if node.tri >= 0 {
			if m.parted(node.tri, radius, q, part, dst.Gap) {
				continue
			}
			tri.Hull = s.one.set(m, node.tri)
			s.Gap(&tri, q, &r)
			if r.Gap < dst.Gap {
				*dst = r
				dst.FacetA = node.tri
				dst.FeatureA.of(m, node.tri)
				part = r.N
			}
			continue
		}
		c1, c2 := o.node+1, node.other
		b1, b2 := s.ballGap(&m.tree[c1], radius, q), s.ballGap(&m.tree[c2], radius, q)
		if b1 < b2 {
			c1, c2, b1, b2 = c2, c1, b2, b1
		}
		wait[n], wait[n+1] = open{c1, b1}, open{c2, b2} // the nearer is looked at first
		n += 2
	}
}

// parted reports whether a triangle is surely no nearer to the piece than gap: whatever the direction, a plane square to it bounds the gap of what lies on either side from below.
// Tried is the direction n and, of a drum, whose depth takes long to find, those out of it.
func (m *Mesh) parted(tri int32, radius float64, q *Piece, n r3.Vec, gap float64) bool {
	t := &m.T[tri]
	a, b, c := m.V[t[0]], m.V[t[1]], m.V[t[2]]
	beyond := func(n r3.Vec) bool {
		at, _ := q.support(n)
		return min(dot(a, n), dot(b, n), dot(c, n))-dot(at, n)-radius-q.Radius >= gap
	}
	if n != (r3.Vec{}) && beyond(n) {
		return true
	}
	if q.Kind != Drum || gap > 0 {
		return false
	}
	d := sub(scale(1.0/3, add(a, add(b, c))), q.A)
	h := dot(d, q.Axis)
	if beyond(scale(math.Copysign(1, h), q.Axis)) {
		return true
	}
	d = along(d, -h, q.Axis)
	l := norm(d)
	return l > 1e-9 && beyond(scale(1/l, d))
}

// of makes the corners of a triangle the mesh's.
func (f *Feature) of(m *Mesh, tri int32) {
	for i := range f.N {
		f.V[i] = m.T[tri][f.V[i]]
	}
}

// ballGap is the gap of a node's ball, swollen, and a piece: no triangle in it has a smaller one.
func (s *Scratch) ballGap(n *ballNode, radius float64, q *Piece) float64 {
	switch q.Kind {
	case Point:
		d := sub(q.A, n.centre)
		return math.Sqrt(dot(d, d)) - n.reach - radius - q.Radius
	case Segment:
		d, e := sub(n.centre, q.A), sub(q.B, q.A)
		if ee := dot(e, e); ee > 0 {
			d = along(d, -clamp01(dot(d, e)/ee), e)
		}
		return math.Sqrt(dot(d, d)) - n.reach - radius - q.Radius
	}
	ball := Piece{Kind: Point, A: n.centre, Radius: n.reach + radius}
	var r Result
	s.Gap(&ball, q, &r)
	return r.Gap - 1e-6
}

// meshes measures two meshes; b is in a's coordinates.
func (s *Scratch) meshes(a, b *Piece, dst *Result) {
	type both struct {
		a, b  int32
		bound float64
	}
	var wait [2 * most]both
	n := 1
	wait[0] = both{0, 0, math.Inf(-1)}
	ma, mb := a.Mesh, b.Mesh
	ta, tb := Piece{Kind: Polytope, Radius: a.Radius}, *b
	tb.Kind = Polytope
	var r Result
	gap := func(i, j int32) float64 {
		c := mb.tree[j].centre
		if b.Moved {
			c = carry(b.Shift, b.Ex, b.Ey, b.Ez, c)
		}
		d := sub(ma.tree[i].centre, c)
		return math.Sqrt(dot(d, d)) - ma.tree[i].reach - mb.tree[j].reach - a.Radius - b.Radius
	}
	for n > 0 {
		n--
		o := wait[n]
		if o.bound >= dst.Gap {
			continue
		}
		na, nb := &ma.tree[o.a], &mb.tree[o.b]
		if na.tri >= 0 && nb.tri >= 0 {
			ta.Hull, tb.Hull = s.one.set(ma, na.tri), s.two.set(mb, nb.tri)
			s.Gap(&ta, &tb, &r)
			if r.Gap < dst.Gap {
				*dst = r
				dst.FacetA, dst.FacetB = na.tri, nb.tri
				dst.FeatureA.of(ma, na.tri)
				dst.FeatureB.of(mb, nb.tri)
			}
			continue
		}
		p, q := o, o
		if nb.tri >= 0 || na.tri < 0 && na.reach >= nb.reach {
			p.a, q.a = o.a+1, na.other
		} else {
			p.b, q.b = o.b+1, nb.other
		}
		p.bound, q.bound = gap(p.a, p.b), gap(q.a, q.b)
		if p.bound < q.bound {
			p, q = q, p
		}
		wait[n], wait[n+1] = p, q
		n += 2
	}
	// One can lie in the other whole; where the surfaces cross, a corner may lie deeper than the triangles tell.
	if ma.Closed {
		for _, k := range mb.shells {
			at := mb.V[k]
			if b.Moved {
				at = carry(b.Shift, b.Ex, b.Ey, b.Ez, at)
			}
			s.sink(a, at, b.Radius, dst)
		}
	}
	if mb.Closed {
		shift, ex, ey, ez := r3.Vec{}, r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
		if b.Moved {
			shift, ex, ey, ez = b.reverse()
		}
		still := Piece{Kind: Surface, Mesh: mb, Radius: b.Radius}
		for _, k := range ma.shells {
			if r = *dst; s.sink(&still, carry(shift, ex, ey, ez, ma.V[k]), a.Radius, &r) {
				swapResult(&r)
				if b.Moved {
					r.PointA = carry(b.Shift, b.Ex, b.Ey, b.Ez, r.PointA)
					r.PointB = carry(b.Shift, b.Ex, b.Ey, b.Ez, r.PointB)
					r.N = b.turnMesh(r.N)
				}
				*dst = r
			}
		}
	}
}

// within looks whether the piece q, in the mesh's coordinates, lies in the closed mesh of a, and how deep at least.
func (s *Scratch) within(a *Piece, q *Piece, dst *Result) {
	// A core that does not touch the surface is in it whole or not at all: then one point tells.
	clear := dst.Gap > -(q.Radius+a.Radius) && !dst.Deep
	mid, _ := q.Ball()
	switch q.Kind {
	case Point:
		s.sink(a, q.A, q.Radius, dst)
	case Segment:
		if clear && !a.Mesh.Holds(mid) {
			return
		}
		e := sub(q.B, q.A)
		for k := range BarTries {
			s.sink(a, along(q.A, float64(k)/(BarTries-1), e), q.Radius, dst)
		}
	case Drum:
		if clear && !a.Mesh.Holds(mid) {
			return
		}
		s.sink(a, q.A, q.Radius, dst)
		s.sink(a, along(q.A, q.Half, q.Axis), q.Radius, dst)
		s.sink(a, along(q.A, -q.Half, q.Axis), q.Radius, dst)
	case Polytope:
		if clear && !a.Mesh.Holds(q.Vertex(0)) {
			return
		}
		s.sink(a, mid, q.Radius, dst)
		for k := range q.vertices() {
			s.sink(a, q.Vertex(k), q.Radius, dst)
		}
	}
}

// Tried adds to dst the points of the core that are tried for how deep it lies in a mesh: those of within and meshes.
func (p *Piece) Tried(dst []r3.Vec) []r3.Vec {
	switch p.Kind {
	case Segment:
		for k := range BarTries {
			dst = append(dst, along(p.A, float64(k)/(BarTries-1), sub(p.B, p.A)))
		}
	case Drum:
		dst = append(dst, p.A, along(p.A, p.Half, p.Axis), along(p.A, -p.Half, p.Axis))
	case Polytope:
		mid, _ := p.Ball()
		dst = append(dst, mid)
		for k := range p.vertices() {
			dst = append(dst, p.Vertex(k))
		}
	case Surface:
		for _, k := range p.Mesh.shells {
			dst = append(dst, p.Vertex(int(k)))
		}
	default:
		dst = append(dst, p.A)
	}
	return dst
}

// sink makes dst the overlap of the closed mesh of a and a ball of the given radius at p (mesh coordinates), if p lies in the mesh and that is more than dst has.
func (s *Scratch) sink(a *Piece, p r3.Vec, radius float64, dst *Result) bool {
	if !a.Mesh.Holds(p) {
		return false
	}
	ball := Piece{Kind: Point, A: p}
	r := Result{Gap: math.Inf(1)}
	s.triangles(a.Mesh, 0, &ball, &r)
	gap := -r.Gap - radius - a.Radius
	if !(r.Gap > coresApart) || gap >= dst.Gap {
		return false
	}
	// From the surface's point to p the mesh must move, or the ball the other way.
	n := scale(1/r.Gap, sub(p, r.PointA))
	dst.Gap, dst.N, dst.Deep = gap, n, true
	dst.PointA = along(r.PointA, -a.Radius, n)
	dst.PointB = along(p, radius, n)
	dst.FacetA, dst.FeatureA, dst.FeatureB = r.FacetA, r.FeatureA, Feature{}
	return true
}

// The ray by which Holds counts: a direction in which no face of anything drawn lies, with two square to it.
var rayX, rayY, rayZ = func() (x, y, z r3.Vec) {
	z = r3.Unit(r3.Vec{X: 0.5372894, Y: 0.2718493, Z: 0.7984217})
	x = square(z)
	return x, cross(z, x), z
}()

// Holds reports whether a point lies in a closed mesh: how often a ray from it leaves the mesh more than it enters. An edge that the ray meets counts for one of its two
// triangles: its two ends are multiplied in the same way for both, and where that gives nothing the order of the corners decides. No allocation.
func (m *Mesh) Holds(p r3.Vec) bool {
	if !m.Closed || p.X < m.lo.X || p.Y < m.lo.Y || p.Z < m.lo.Z || p.X > m.hi.X || p.Y > m.hi.Y || p.Z > m.hi.Z {
		return false
	}
	var wait [most]int32
	n, count := 1, 0
	wait[0] = 0
	for n > 0 {
		n--
		at := wait[n]
		node := &m.tree[at]
		d := sub(node.centre, p)
		x, y, z := dot(d, rayX), dot(d, rayY), dot(d, rayZ)
		if x*x+y*y > node.reach*node.reach*(1+1e-9) || z < -node.reach*(1+1e-9) {
			continue
		}
		if node.tri < 0 {
			wait[n], wait[n+1] = at+1, node.other
			n += 2
			continue
		}
		t := m.T[node.tri]
		var u [3][2]float64
		var h [3]float64
		for k := range t {
			d := sub(m.V[t[k]], p)
			u[k] = [2]float64{dot(d, rayX), dot(d, rayY)}
			h[k] = dot(d, rayZ)
		}
		var w [3]float64
		up := 0
		for k := range w {
			i, j := (k+1)%3, (k+2)%3
			w[k] = float64(u[i][0]*u[j][1]) - float64(u[i][1]*u[j][0])
			if w[k] > 0 || w[k] == 0 && t[i] < t[j] {
				up++
			}
		}
		if up != 0 && up != 3 {
			continue
		}
		if sum := w[0] + w[1] + w[2]; sum != 0 && (w[0]*h[0]+w[1]*h[1]+w[2]*h[2])/sum > 0 {
			if up == 3 {
				count++
			} else {
				count--
			}
		}
	}
	return count > 0
}

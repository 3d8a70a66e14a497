package clearance

import (
	"math"
	"slices"

	"axleloft/geometry/cell"
	"axleloft/geometry/motion"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// sort of a piece for the proof.
type sort uint8

const (
	straight sort = iota // a bar, or a stretch of a bent one
	still                // fixed to the frame
	carried              // fixed to the axle
)

// piece is one convex piece of a solid, and what moves it.
type piece struct {
	sort sort
	bar  *bar
	cut  [2]float64
	of   *shape.Piece // still, carried: as the model holds it
	pts  []cell.Point // still, carried: its core's corners where nothing moves them
	in   *meshPart    // of part of a mesh
}

// pieces lists the pieces of every solid.
func (c *Model) pieces() [][]piece {
	all := make([][]piece, len(c.fixed))
	for i := range c.fixed {
		all[i] = make([]piece, len(c.fixed[i].Pieces))
		if i >= len(c.Parts) || c.Parts[i].Body == Between {
			continue // bars, below
		}
		for k := range all[i] {
			all[i][k] = piece{sort: still, of: &c.fixed[i].Pieces[k]}
			if c.Parts[i].Body == OnAxle {
				all[i][k].sort = carried
			}
			all[i][k].corners()
		}
	}
	for i := range c.bars {
		b := &c.bars[i]
		for _, r := range b.rests {
			if len(b.bends) == 0 {
				all[r.solid][r.first] = piece{sort: straight, bar: b, cut: r.cut}
				continue
			}
			for k, s := range b.stretches(r.cut) {
				all[r.solid][r.first+k] = piece{sort: straight, bar: s}
			}
		}
	}
	return all
}

// stretches are the straight runs of a bent link, less what is cut off its ends: rigid as the link is, each is a bar between two points the link carries.
func (b *bar) stretches(cut [2]float64) []*bar {
	k := append(append([]r3.Vec{{}}, b.bends...), r3.Scale(b.length, b.dir))
	trim(k, cut[0])
	slices.Reverse(k)
	trim(k, cut[1])
	slices.Reverse(k)
	var list []*bar
	for i := 1; i < len(k); i++ {
		on := motion.Carrier{On: motion.OnLink, Index: b.link}
		list = append(list, &bar{ends: [2]motion.Place{{Carrier: on, At: k[i-1]}, {Carrier: on, At: k[i]}}, link: -1, radius: b.radius})
	}
	return list
}

// bounded reports whether the piece is a convex one: a bar, or what is no mesh.
func (k *piece) bounded() bool {
	return k.sort == straight || k.of.Kind != shape.Surface
}

// moving is a piece over a cell.
type moving struct {
	at     shape.Piece  // at the cell's centre
	pts    []cell.Point // its core's corners; none of a drum, which stays where it is
	own    []cell.Point // room for them
	radius float64
}

// over places a piece over a cell: in body axes or, with onAxle, as the axle sees it. false where its motion is not bounded so far.
func (k *piece) over(t *cell.Tree, c *cell.Cell, onAxle bool, dst *moving) bool {
	if k.sort == straight {
		var ends [2]cell.Point
		for i, e := range k.bar.ends {
			p, ok := t.Point(c, &e)
			if onAxle {
				p, ok = t.SeenPoint(c, &e)
			}
			if !ok {
				return false
			}
			ends[i] = p
		}
		a, okA := cell.Along(&ends[0], &ends[1], k.cut[0])
		b, okB := cell.Along(&ends[1], &ends[0], k.cut[1])
		if cut := k.cut[0] + k.cut[1]; !okA || !okB || cut > 0 && !(length(r3.Sub(ends[0].X, ends[1].X)) > cut) {
			return false
		}
		dst.own = append(dst.own[:0], a, b)
		dst.pts = dst.own
		dst.radius = k.bar.most(&ends[0], &ends[1])
		dst.at = shape.Piece{Kind: shape.Segment, A: a.X, B: b.X, Radius: dst.radius}
		return true
	}
	dst.radius = k.of.Radius
	dst.at = *k.of
	if !onAxle || k.sort == carried {
		dst.pts = k.pts // read-only
		return true
	}
	dst.own = dst.own[:0]
	for i := range k.pts {
		dst.own = append(dst.own, c.Seen(&k.pts[i]))
	}
	dst.pts = dst.own
	at, ex, ey, ez := c.Frame()
	back := r3.Vec{X: -r3.Dot(ex, at), Y: -r3.Dot(ey, at), Z: -r3.Dot(ez, at)}
	k.of.Place(back, r3.Vec{X: ex.X, Y: ey.X, Z: ez.X}, r3.Vec{X: ex.Y, Y: ey.Y, Z: ez.Y}, r3.Vec{X: ex.Z, Y: ey.Z, Z: ez.Z}, &dst.at)
	return true
}

// corners fills the corners of the piece's core; a drum has none.
func (k *piece) corners() {
	switch p := k.of; p.Kind {
	case shape.Point:
		k.pts = []cell.Point{cell.Fixed(p.A)}
	case shape.Segment:
		k.pts = []cell.Point{cell.Fixed(p.A), cell.Fixed(p.B)}
	case shape.Polytope:
		for i := range p.Hull.V {
			k.pts = append(k.pts, cell.Fixed(p.Vertex(i)))
		}
	}
}

// most is the largest radius of a bar over a cell.
func (b *bar) most(from, to *cell.Point) float64 {
	if b.bag == nil {
		return b.radius
	}
	lo, hi := cell.Length(from, to)
	r := math.Max(b.radiusAt(lo), b.radiusAt(hi))
	for _, d := range b.bag.Diameters {
		if d[0] > lo && d[0] < hi {
			r = math.Max(r, d[1]/2)
		}
	}
	return r
}

// place puts the piece where it stands, in body axes.
func (k *piece) place(s *cell.Standing, dst *shape.Piece) { k.placeBy(&s.Pose, s.At, dst) }

// placeBy is place with what tells where a carried point stands.
func (k *piece) placeBy(p *motion.Pose, at func(*motion.Place) r3.Vec, dst *shape.Piece) {
	switch k.sort {
	case straight:
		a, b := at(&k.bar.ends[0]), at(&k.bar.ends[1])
		*dst = shape.Piece{Kind: shape.Segment, Radius: k.bar.radiusAt(r3.Norm(r3.Sub(b, a))), A: a, B: b}
		if k.cut != [2]float64{} {
			u := r3.Unit(r3.Sub(b, a))
			dst.A, dst.B = r3.Add(a, r3.Scale(k.cut[0], u)), r3.Sub(b, r3.Scale(k.cut[1], u))
		}
	case carried:
		k.all().Place(p.C, p.Ex, p.Ey, p.Ez, dst)
	default:
		*dst = *k.all()
	}
}

// all is what stands still or is carried: of part of a mesh the whole.
func (k *piece) all() *shape.Piece {
	if k.in != nil {
		return &k.in.whole
	}
	return k.of
}

// turning is a direction that turns as the cell's place changes: n + t[0] u0 + t[1] u1, square to n.
type turning struct {
	n r3.Vec
	t [2]r3.Vec
}

const (
	alongDrum = 1e-7 // of n.axis: this near 1 a drum's flat side is touched, this near 0 its round one
	shortEdge = 1.0  // mm: a shorter one does not turn the direction
	sameEdge  = 1e-3 // of sine: two edges this near each other are one
)

// direction is the one that parts the two at the cell's centre, turned as the edges touched there turn.
func direction(a, b *moving, g *Gap) turning {
	d := turning{n: g.N}
	var edges [4]r3.Vec
	var rates [4][2]r3.Vec
	count := 0
	for _, s := range [2]struct {
		m *moving
		f *shape.Feature
	}{{a, &g.FeatureA}, {b, &g.FeatureB}} {
		if s.m.at.Kind == shape.Drum {
			t := math.Abs(r3.Dot(d.n, s.m.at.Axis))
			if t > 1-alongDrum {
				return d // the flat side stays where it is
			}
			if t < alongDrum {
				edges[count] = s.m.at.Axis
				count++
			}
			continue
		}
		for i := int8(1); i < s.f.N; i++ {
			p, q := &s.m.pts[s.f.V[0]], &s.m.pts[s.f.V[i]]
			e := r3.Sub(q.X, p.X)
			if r3.Norm2(e) < shortEdge*shortEdge {
				continue
			}
			edges[count] = e
			for k := range d.t {
				rates[count][k] = r3.Sub(q.V[k], p.V[k])
			}
			count++
		}
	}
	// The least turn with (n + t u).(edge + rate u) = 0 to first order for up to two edges.
	var first r3.Vec
	have := 0
	for i := range count {
		e := r3.Sub(edges[i], r3.Scale(r3.Dot(edges[i], d.n), d.n))
		whole := length(e)
		if have == 1 {
			e = r3.Sub(e, r3.Scale(r3.Dot(e, first), first))
		}
		l := length(e)
		if !(l > sameEdge*whole) || !(whole > 0) {
			continue
		}
		u := r3.Scale(1/l, e)
		for k := range d.t {
			// what is missing of the turn along u
			need := -r3.Dot(d.n, rates[i][k]) - r3.Dot(d.t[k], edges[i])
			d.t[k] = r3.Add(d.t[k], r3.Scale(need/l, u))
		}
		first = u
		if have++; have == 2 {
			break
		}
	}
	return d
}

// side gathers, over the corners of a cell, the least (sign +1: part A) or the largest (-1: part B, turned round) of n.x over a piece.
func (d *turning) side(m *moving, o r3.Vec, sign float64, c *cell.Cell, turn float64, dst *[maxCorners]float64) {
	most := math.Sqrt(1 + turn*turn) // |n + t u|
	for i := range c.N {
		dst[i] = math.Inf(1)
	}
	if m.at.Kind == shape.Drum {
		for i := range c.N {
			n := d.at(c.Poly[i])
			tau := r3.Dot(n, m.at.Axis)
			reach := m.at.Half*math.Abs(tau) + m.at.Rho*math.Sqrt(math.Max(0, r3.Norm2(n)-tau*tau))
			dst[i] = sign*r3.Dot(n, r3.Sub(m.at.A, o)) - reach
		}
		return
	}
	for j := range m.pts {
		p := &m.pts[j]
		x := r3.Sub(p.X, o)
		base := sign * r3.Dot(d.n, x)
		if p.S > 0 { // else it stays where it is
			// n.(its box and the rest), and the box's part along the turn: |t u| times its length.
			base -= p.Dev(d.n, most) + turn*(length(p.E[0])+length(p.E[1])+length(p.E[2])+length(p.E[3]))
		}
		l0 := sign * (r3.Dot(d.n, p.V[0]) + r3.Dot(d.t[0], x))
		l1 := sign * (r3.Dot(d.n, p.V[1]) + r3.Dot(d.t[1], x))
		q00, q11 := sign*r3.Dot(d.t[0], p.V[0]), sign*r3.Dot(d.t[1], p.V[1])
		q01 := sign * (r3.Dot(d.t[0], p.V[1]) + r3.Dot(d.t[1], p.V[0]))
		base += math.Min(0, q00) + math.Min(0, q11) - math.Abs(q01)
		for i := range c.N {
			dst[i] = math.Min(dst[i], base+l0*c.Poly[i][0]+l1*c.Poly[i][1])
		}
	}
}

func (d *turning) at(u [2]float64) r3.Vec {
	return r3.Add(d.n, r3.Add(r3.Scale(u[0], d.t[0]), r3.Scale(u[1], d.t[1])))
}

const maxCorners = len(cell.Cell{}.Poly)

// bound is a bound from below on the gap of the two over what is left of the cell, and the corner it comes from. For every direction the planes square to it part the two
// by what one side's least exceeds the other's largest; that is concave in the cell's place (affine parts, less convex ones, bounded by their worst), so its least is at a corner.
func bound(a, b *moving, c *cell.Cell, g *Gap) (least float64, corner int) {
	return boundOf(a, b, c, g, nil)
}

// boundOf is bound where a is swollen by a block, if any: how far that reaches along n is a convex function of it.
func boundOf(a, b *moving, c *cell.Cell, g *Gap, swell *Block) (least float64, corner int) {
	return boundAlong(direction(a, b, g), r3.Scale(0.5, r3.Add(g.PointA, g.PointB)), a, b, c, swell)
}

// boundAlong is boundOf for a direction of the caller's, from any origin o. Of a still point a it is a concave function of its place: the least of straight-line ones less convex ones.
func boundAlong(d turning, o r3.Vec, a, b *moving, c *cell.Cell, swell *Block) (least float64, corner int) {
	var by [maxCorners]float64 // |t u|^2
	turn := 0.0
	for i := range c.N {
		by[i] = r3.Norm2(r3.Add(r3.Scale(c.Poly[i][0], d.t[0]), r3.Scale(c.Poly[i][1], d.t[1])))
		turn = math.Max(turn, by[i])
	}
	turn = math.Sqrt(turn)
	var sa, sb [maxCorners]float64
	d.side(a, o, 1, c, turn, &sa)
	d.side(b, o, -1, c, turn, &sb)
	least = math.Inf(1)
	negative := false
	for i := range c.N {
		if swell != nil {
			sa[i] -= swell.reach(d.at(c.Poly[i]))
		}
		f := sa[i] + sb[i]
		if f < 0 {
			negative = true
		}
		if f < least {
			least, corner = f, i
		}
	}
	if !negative {
		for i := range c.N {
			if f := (sa[i] + sb[i]) / math.Sqrt(1+by[i]); f < least {
				least, corner = f, i
			}
		}
	}
	return least - a.radius - b.radius - 1e-9, corner
}

// length is |v|; r3.Norm guards against overflow at many times the cost.
func length(v r3.Vec) float64 { return math.Sqrt(r3.Norm2(v)) }

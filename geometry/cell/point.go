package cell

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// eps covers what rounding can do to any place, mm: under 1e-9 mm in a vehicle's size.
const eps = 1e-6

// Point is a point's place over a cell: X + V u + sum of E[k] xi_k + something no longer than S, every xi_k in [-1, 1].
type Point struct {
	X r3.Vec
	V [2]r3.Vec
	E [4]r3.Vec
	S float64
}

// Fixed is a point that does not move.
func Fixed(at r3.Vec) Point { return Point{X: at} }

// Dev bounds what the point strays from its straight line along n, which has length l.
func (p *Point) Dev(n r3.Vec, l float64) float64 {
	return p.S*l + math.Abs(dot(n, p.E[0])) + math.Abs(dot(n, p.E[1])) + math.Abs(dot(n, p.E[2])) + math.Abs(dot(n, p.E[3]))
}

// Stray is Dev over every unit direction.
func (p *Point) Stray() float64 {
	return p.S + norm(p.E[0]) + norm(p.E[1]) + norm(p.E[2]) + norm(p.E[3])
}

// Most bounds how far the point moves from X.
func (p *Point) Most() float64 { return larger(p.V[0], p.V[1]) + p.Stray() }

// Frame is the axle at the cell's centre: its centre and own axes in body axes.
func (c *Cell) Frame() (at, ex, ey, ez r3.Vec) { return c.at.c, c.at.ex, c.at.ey, c.at.ez }

// Carried is the point with offset o from the axle centre at ride, in body axes.
func (c *Cell) Carried(o r3.Vec) Point {
	r := c.at.offset(o)
	turned := c.E[2] + c.E[3]
	return Point{
		X: add(c.at.c, r),
		V: [2]r3.Vec{add(c.vc[0], cross(c.w[0], r)), add(c.vc[1], cross(c.w[1], r))},
		E: [4]r3.Vec{{X: c.E[0]}, {Y: c.E[1]}, {X: -c.E[2] * r.Y, Y: c.E[2] * r.X}, scale(c.E[3], cross(c.at.ey, r))},
		S: norm(o)*(c.sway.k/2+2*turned*c.sway.turn) + eps,
	}
}

// Seen is a point given in body axes as the axle sees it: from the axle centre, in the axle's own axes.
func (c *Cell) Seen(p *Point) Point {
	r := sub(p.X, c.at.c)
	v := [2]r3.Vec{sub(p.V[0], c.vc[0]), sub(p.V[1], c.vc[1])}
	e := [4]r3.Vec{{X: c.E[0]}, {Y: c.E[1]}, {X: -c.E[2] * r.Y, Y: c.E[2] * r.X}, scale(c.E[3], cross(c.at.ey, r))}
	own := norm(p.E[0]) + norm(p.E[1]) + norm(p.E[2]) + norm(p.E[3])
	far, moves, shift, turned := norm(r), larger(v[0], v[1]), c.E[0]+c.E[1], c.E[2]+c.E[3]
	out := Point{
		X: c.at.unturn(r),
		S: p.S + (c.sway.k*(far+moves)+2*c.sway.w*moves)/2 + c.sway.turn*(shift+own) + (c.sway.turn*far+moves+own+shift+p.S)*turned + eps,
	}
	for k := range v {
		out.V[k] = c.at.unturn(sub(v[k], cross(c.w[k], r)))
	}
	for k := range e {
		out.E[k] = c.at.unturn(sub(p.E[k], e[k]))
	}
	return out
}

// SeenPoint is Point as the axle sees it.
func (t *Tree) SeenPoint(c *Cell, pl *motion.Place) (Point, bool) {
	switch pl.On {
	case motion.OnAxle:
		return Fixed(pl.At), true
	case motion.OnArm:
		for i, k := range t.arms {
			if k == pl.Index {
				return t.onArm(c, i, pl.At, true), true
			}
		}
	}
	p, ok := t.Point(c, pl)
	if !ok {
		return p, false
	}
	return c.Seen(&p), true
}

// onLine reports whether a point carried by a link lies on its very line; eps covers what is left.
func onLine(m *motion.Mechanism, pl *motion.Place) bool {
	return norm(cross(m.Links[pl.Index].Along, pl.At)) <= 1e-7
}

// Point is a carried point over a cell, in body axes. false in a cell too large for a bound.
func (t *Tree) Point(c *Cell, pl *motion.Place) (Point, bool) {
	switch {
	case pl.On == motion.OnFrame:
		return Fixed(pl.At), true
	case pl.On == motion.OnAxle:
		return c.Carried(pl.At), true
	case pl.On == motion.OnRocker:
		return t.onRocker(c, pl), true
	case pl.On == motion.OnLink && !onLine(t.mech, pl):
		return t.beside(c, pl.Index, pl.At)
	case pl.On == motion.OnLink:
		l := &t.mech.Links[pl.Index]
		from, to := Fixed(l.Frame), c.Carried(l.Axle)
		return Along(&from, &to, dot(l.Along, pl.At))
	}
	for i, k := range t.arms {
		if k == pl.Index {
			return t.onArm(c, i, pl.At, false), true
		}
	}
	// An A-arm turns about its frame line with the direction in which its point stands off it.
	a := &t.mech.Arms[pl.Index]
	line := sub(a.Frame[1], a.Frame[0])
	line = scale(1/norm(line), line)
	square := func(v r3.Vec) r3.Vec { return sub(v, scale(dot(line, v), line)) }
	tip := c.Carried(a.Axle[0])
	tip = tip.mapped(a.Frame[0], r3.Vec{}, square)
	var pin Point
	ride, x := square(sub(add(a.Axle[0], r3.Vec{Z: t.radius}), a.Frame[0])), square(pl.At)
	out, ok := Along(&pin, &tip, norm(x))
	if !ok || norm(x) == 0 {
		return Fixed(add(a.Frame[0], pl.At)), ok
	}
	k := norm(ride) * norm(x)
	cos, sin := dot(ride, x)/k, dot(line, cross(ride, x))/k
	return out.mapped(r3.Vec{}, add(a.Frame[0], scale(dot(line, pl.At), line)), func(v r3.Vec) r3.Vec {
		return add(scale(cos, v), scale(sin, cross(line, v)))
	}), true
}

// onRocker is a point of a rocker.
func (t *Tree) onRocker(c *Cell, pl *motion.Place) Point {
	k := &t.mech.Rockers[pl.Index]
	i := own + pl.Index
	sin, cos := math.Sincos(c.at.q[i])
	arm := spun(k.Axis, cos, sin, pl.At)
	way, out := cross(k.Axis, arm), norm(pl.At)
	f := math.Abs(c.s[i][0]) + math.Abs(c.s[i][1])
	if k.Pivot.On != motion.OnAxle {
		p := Fixed(add(k.Pivot.At, arm))
		p.V = [2]r3.Vec{scale(c.s[i][0], way), scale(c.s[i][1], way)}
		p.S = out*(f*f/2+c.E[i]) + eps
		return p
	}
	p := c.Carried(add(k.Pivot.At, arm))
	way = c.at.offset(way)
	for x := range p.V {
		p.V[x] = add(p.V[x], scale(c.s[i][x], way))
	}
	// The turn of the axle and that of the rocker bend the way further, and the box's turns act on where the rocker has gone.
	p.S += out * (c.sway.w*f + f*f/2 + c.E[i] + (f+c.E[i])*(c.E[2]+c.E[3]))
	return p
}

// mapped is the point to + f(p - from), f linear and lengthening nothing.
func (p *Point) mapped(from, to r3.Vec, f func(r3.Vec) r3.Vec) Point {
	out := Point{X: add(to, f(sub(p.X, from))), S: p.S + eps}
	for i := range p.V {
		out.V[i] = f(p.V[i])
	}
	for i := range p.E {
		out.E[i] = f(p.E[i])
	}
	return out
}

// Along is the point a distance mm from a on the way to b; false where the two come too near each other for that to be bounded.
func Along(a, b *Point, mm float64) (Point, bool) {
	if mm == 0 {
		return *a, true
	}
	d := sub(b.X, a.X)
	l := norm(d)
	most := a.Most() + b.Most()
	if !(most < 0.5*l) {
		return Point{}, false
	}
	u := scale(1/l, d)
	k := mm / l
	// The unit vector along d + D is u + (D less its part along u)/l + at most (1/sqrt 3) |D|^2/(l - |D|)^2.
	lead := func(x, y r3.Vec) r3.Vec {
		e := sub(y, x)
		return add(x, scale(k, sub(e, scale(dot(u, e), u))))
	}
	p := Point{X: add(a.X, scale(mm, u)), S: a.S + k*(a.S+b.S) + mm/math.Sqrt(3)*(most/(l-most))*(most/(l-most)) + eps}
	for i := range p.V {
		p.V[i] = lead(a.V[i], b.V[i])
	}
	for i := range p.E {
		p.E[i] = lead(a.E[i], b.E[i])
	}
	return p, true
}

// Length bounds the distance of two points over the cell, mm.
func Length(a, b *Point) (least, most float64) {
	d := sub(b.X, a.X)
	l := norm(d)
	q := a.Most() + b.Most()
	return math.Max(0, l-q), l + q
}

package cell

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// A point beside a link's line goes round with the link's spin. Where one end leads, its bore lies as near to its bolt as it can, so that the part of the one square to the link lies along
// the part of the other: the link's axes are
//
//	u = (P - F)/|P - F|,  e2 = unit(b - (b.u) u),  e3 = u x e2
//
// with b the leading end's bolt now. Where the ends share the spin, the link is turned on from there, about u, by what spin.go bounds.

// linkAxes are the link's own axes at ride for an end that leads: u, and the way its bore lies square to it.
func linkAxes(l *motion.Link, lead *motion.End) (u, e2, e3 r3.Vec) {
	u = l.Along
	e2 = sub(lead.Bore, scale(dot(lead.Bore, u), u))
	e2 = scale(1/norm(e2), e2)
	return u, e2, cross(u, e2)
}

// beside is a point carried by a link, given from its frame pivot at ride, in body axes. false in a cell too large for a bound.
func (t *Tree) beside(c *Cell, i int, at r3.Vec) (Point, bool) {
	l := &t.mech.Links[i]
	from, to := Fixed(l.Frame), c.Carried(l.Axle)
	k := t.turnedLink(c, i)
	axial, ok := Along(&from, &to, dot(at, k.u0))
	if !ok {
		return Point{}, false
	}
	a2, a3 := dot(at, k.e20), dot(at, k.e30)
	if !k.ok { // anywhere on its circle about the link's line
		axial.S += math.Hypot(a2, a3)
		return axial, true
	}
	return combined(part{1, &axial}, part{a2, &k.e2}, part{a3, &k.e3}), true
}

// direction is a unit direction over the cell, fixed to the axle or to the frame.
func (c *Cell) direction(d r3.Vec, onAxle bool) Point {
	if !onAxle {
		return Fixed(d)
	}
	p := c.Carried(d)
	// A direction is turned, and moves with nothing.
	for x := range p.V {
		p.V[x] = sub(p.V[x], c.vc[x])
	}
	p.X = sub(p.X, c.at.c)
	p.E[0], p.E[1] = r3.Vec{}, r3.Vec{}
	p.S -= eps
	return p
}

type part struct {
	k float64
	p *Point
}

// combined is a sum of points or directions.
func combined(parts ...part) (out Point) {
	for _, q := range parts {
		out.X = add(out.X, scale(q.k, q.p.X))
		for x := range out.V {
			out.V[x] = add(out.V[x], scale(q.k, q.p.V[x]))
		}
		for i := range out.E {
			out.E[i] = add(out.E[i], scale(q.k, q.p.E[i]))
		}
		out.S += math.Abs(q.k) * q.p.S
	}
	return out
}

// square is the unit vector along b less its part along u, b and u unit; false where that is too short, or moves too far, for a bound.
func square(b, u *Point) (Point, bool) {
	along := dot(b.X, u.X)
	f := sub(b.X, scale(along, u.X))
	l := norm(f)
	db, du := b.Most(), u.Most()
	change := func(vb, vu r3.Vec) r3.Vec {
		return sub(sub(vb, scale(dot(vb, u.X)+dot(b.X, vu), u.X)), scale(along, vu))
	}
	s := 2*b.S + 2*u.S + db*du + (db+du)*du + db*du*du
	far := db + 2*du + s // change lengthens vb by no more than 1, vu by no more than 2
	if !(far < l/2) {
		return Point{}, false
	}
	g := scale(1/l, f)
	unit := func(v r3.Vec) r3.Vec { return scale(1/l, sub(v, scale(dot(g, v), g))) }
	p := Point{X: g, S: s/l + (far/(l-far))*(far/(l-far))/math.Sqrt(3)}
	for x := range p.V {
		p.V[x] = unit(change(b.V[x], u.V[x]))
	}
	for i := range p.E {
		p.E[i] = unit(change(b.E[i], u.E[i]))
	}
	return p, true
}

// product is a x b of two unit directions.
func product(a, b *Point) Point {
	p := Point{X: cross(a.X, b.X), S: a.S + b.S + a.Most()*b.Most()}
	for x := range p.V {
		p.V[x] = add(cross(a.V[x], b.X), cross(a.X, b.V[x]))
	}
	for i := range p.E {
		p.E[i] = add(cross(a.E[i], b.X), cross(a.X, b.E[i]))
	}
	return p
}

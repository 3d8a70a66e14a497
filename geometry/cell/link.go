package cell

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// A point beside a link's line goes round with the link's spin. Where one end has its way (a bush beside a free end, or the only end with a limit) the spin is that of its least
// misalignment: the part of its bore square to the link lies along the part of its bolt square to it. So the link's axes are
//
//	u = (P - F)/|P - F|,  e2 = unit(b - (b.u) u),  e3 = u x e2
//
// with b the bolt now, for as long as the other end stays within its own limit.

// leads returns which end of a link has its way in every position (0 frame, 1 axle), and whether the other end's limit can stop it; ok is false where no end has.
func leads(l *motion.Link) (end int, limited, ok bool) {
	ends := [2]*motion.End{&l.FrameEnd, &l.AxleEnd}
	known := func(k int) bool { return !math.IsNaN(ends[k].MisLimit) }
	bush := func(k int) bool { return ends[k].Kind == motion.Bush }
	switch {
	case bush(0) && !bush(1):
		return 0, known(1), true
	case bush(1) && !bush(0):
		return 1, known(0), true
	case !bush(0) && known(0) && !known(1):
		return 0, false, true
	case !bush(0) && known(1) && !known(0):
		return 1, false, true
	}
	return 0, false, false
}

// linkAxes are the link's own axes at ride for an end that leads: u, and the way its bore lies square to it.
func linkAxes(l *motion.Link, lead *motion.End, radius float64) (u, e2, e3 r3.Vec) {
	u = scale(1/l.Length, sub(add(l.Axle, r3.Vec{Z: radius}), l.Frame))
	e2 = sub(lead.Bore, scale(dot(lead.Bore, u), u))
	e2 = scale(1/norm(e2), e2)
	return u, e2, cross(u, e2)
}

// beside is a point carried by a link, given from its frame pivot at ride, in body axes. false where no end leads, or not surely over the whole cell.
func (t *Tree) beside(c *Cell, i int, at r3.Vec) (Point, bool) {
	l := &t.mech.Links[i]
	lead, limited, ok := leads(l)
	if !ok {
		return Point{}, false
	}
	ends := [2]*motion.End{&l.FrameEnd, &l.AxleEnd}
	u0, e20, e30 := linkAxes(l, ends[lead], t.radius)
	from, to := Fixed(l.Frame), c.Carried(l.Axle)
	tip, ok := Along(&from, &to, 1)
	if !ok {
		return Point{}, false
	}
	u := combined(part{1, &tip}, part{-1, &from})
	b := c.direction(ends[lead].Bolt, lead == 1)
	e2, ok := square(&b, &u)
	if !ok {
		return Point{}, false
	}
	e3 := product(&u, &e2)
	if limited {
		bore := ends[1-lead].Bore
		n := combined(part{dot(bore, u0), &u}, part{dot(bore, e20), &e2}, part{dot(bore, e30), &e3})
		o := c.direction(ends[1-lead].Bolt, lead == 0)
		// The product of the two directions: its value at the centre, the straight-line part, and the rest.
		var move [2]float64
		for x := range move {
			move[x] = math.Abs(dot(n.X, o.V[x]) + dot(n.V[x], o.X))
		}
		least := math.Abs(dot(n.X, o.X)) - move[0] - move[1] - n.Stray() - o.Stray() - n.Most()*o.Most()
		if !(least > math.Cos(ends[1-lead].MisLimit)) {
			return Point{}, false
		}
	}
	axial, ok := Along(&from, &to, dot(at, u0))
	if !ok {
		return Point{}, false
	}
	return combined(part{1, &axial}, part{dot(at, e20), &e2}, part{dot(at, e30), &e3}), true
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

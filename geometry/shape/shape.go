// Package shape knows convex pieces and meshes, the distance and parting direction between two of them, and their volumes.
// It does not know what a tank or a link is.
//
// All lengths are mm, in whatever right-handed frame the caller uses. A piece is a core (point, segment, polytope or flat
// drum) swollen by a radius; distances are found between the cores and the radii taken off after, so a round bar or a
// rounded tyre costs no more than its core. A shape that is not convex is a Solid, a union of pieces; a mesh is one piece, its triangles held in a tree.
package shape

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Kind is the kind of a convex piece's core.
type Kind uint8

// The kinds of core.
const (
	Point    Kind = iota // a ball is a point with a radius
	Segment              // a round bar is a segment with a radius
	Polytope             // box or prism
	Drum                 // a tyre: a flat cylinder core with a radius (its shoulder)
	Surface              // a mesh of triangles, the one kind that is not convex
)

// Piece is a convex piece or a mesh: a core swollen by Radius. It is laid out for moving without allocation: Place fills another piece.
type Piece struct {
	Kind              Kind
	Radius            float64 // swelling, mm
	A, B              r3.Vec  // Point: A. Segment: A, B. Drum: A centre of the core.
	Axis              r3.Vec  // Drum: unit axis
	Half              float64 // Drum: half width of the core
	Rho               float64 // Drum: radius of the core
	Hull              *Hull   // Polytope: read-only, shared, in its own fixed coordinates
	Mesh              *Mesh   // Surface: read-only, shared, in its own fixed coordinates
	Moved             bool    // Polytope, Surface: placed by (Shift, Ex, Ey, Ez); else the coordinates of Hull or Mesh are the body's
	Shift, Ex, Ey, Ez r3.Vec
}

// Solid is a union of pieces. Pieces of one decomposition share no more than faces.
type Solid struct {
	Pieces []Piece
}

// Convex reports whether the solid is a single convex piece.
func (s *Solid) Convex() bool { return len(s.Pieces) == 1 && s.Pieces[0].Kind != Surface }

// Place writes p, moved by x -> shift + ex*x.X + ey*x.Y + ez*x.Z (ex, ey, ez the columns of a rotation), into dst.
// p and dst may be the same. No allocation.
func (p *Piece) Place(shift, ex, ey, ez r3.Vec, dst *Piece) {
	q := *p
	switch p.Kind {
	case Point:
		q.A = carry(shift, ex, ey, ez, p.A)
	case Segment:
		q.A = carry(shift, ex, ey, ez, p.A)
		q.B = carry(shift, ex, ey, ez, p.B)
	case Drum:
		q.A = carry(shift, ex, ey, ez, p.A)
		q.Axis = carry(r3.Vec{}, ex, ey, ez, p.Axis)
	case Polytope, Surface:
		if p.Moved {
			q.Shift = carry(shift, ex, ey, ez, p.Shift)
			q.Ex = carry(r3.Vec{}, ex, ey, ez, p.Ex)
			q.Ey = carry(r3.Vec{}, ex, ey, ez, p.Ey)
			q.Ez = carry(r3.Vec{}, ex, ey, ez, p.Ez)
		} else {
			q.Shift, q.Ex, q.Ey, q.Ez = shift, ex, ey, ez
			q.Moved = true
		}
	}
	*dst = q
}

func carry(shift, ex, ey, ez, v r3.Vec) r3.Vec {
	return r3.Vec{
		X: shift.X + ex.X*v.X + ey.X*v.Y + ez.X*v.Z,
		Y: shift.Y + ex.Y*v.X + ey.Y*v.Y + ez.Y*v.Z,
		Z: shift.Z + ex.Z*v.X + ey.Z*v.Y + ez.Z*v.Z,
	}
}

// turn takes a direction of the hull's own coordinates to the body's.
func (p *Piece) turn(v r3.Vec) r3.Vec {
	if !p.Moved {
		return v
	}
	return carry(r3.Vec{}, p.Ex, p.Ey, p.Ez, v)
}

// Vertex returns vertex i of the core of a point, segment, polytope or mesh, in body coordinates.
func (p *Piece) Vertex(i int) r3.Vec {
	switch p.Kind {
	case Surface:
		if p.Moved {
			return carry(p.Shift, p.Ex, p.Ey, p.Ez, p.Mesh.V[i])
		}
		return p.Mesh.V[i]
	case Polytope:
		if p.Moved {
			return carry(p.Shift, p.Ex, p.Ey, p.Ez, p.Hull.V[i])
		}
		return p.Hull.V[i]
	case Segment:
		if i == 1 {
			return p.B
		}
	}
	return p.A
}

// vertices returns how many vertices the core has; 0 for a drum.
func (p *Piece) vertices() int {
	switch p.Kind {
	case Polytope:
		return len(p.Hull.V)
	case Surface:
		return len(p.Mesh.V)
	case Segment:
		return 2
	case Point:
		return 1
	}
	return 0
}

// support returns the core's furthest point along d (any length) and which vertex it is (0 for a drum).
func (p *Piece) support(d r3.Vec) (r3.Vec, int32) {
	switch p.Kind {
	case Segment:
		if d.X*(p.B.X-p.A.X)+d.Y*(p.B.Y-p.A.Y)+d.Z*(p.B.Z-p.A.Z) > 0 {
			return p.B, 1
		}
		return p.A, 0
	case Polytope:
		if p.Moved {
			d = r3.Vec{X: dot(p.Ex, d), Y: dot(p.Ey, d), Z: dot(p.Ez, d)}
		}
		v := p.Hull.V
		best, at := d.X*v[0].X+d.Y*v[0].Y+d.Z*v[0].Z, 0
		for i := 1; i < len(v); i++ {
			if t := d.X*v[i].X + d.Y*v[i].Y + d.Z*v[i].Z; t > best {
				best, at = t, i
			}
		}
		if p.Moved {
			return carry(p.Shift, p.Ex, p.Ey, p.Ez, v[at]), int32(at)
		}
		return v[at], int32(at)
	case Surface:
		if p.Moved {
			d = r3.Vec{X: dot(p.Ex, d), Y: dot(p.Ey, d), Z: dot(p.Ez, d)}
		}
		at := p.Mesh.furthest(d)
		return p.Vertex(int(at)), at
	case Drum:
		// The radial part as axis x (d x axis): subtracting the axial part from d would leave its round-off on the axis.
		r := cross(p.Axis, cross(d, p.Axis))
		h := math.Copysign(p.Half, dot(p.Axis, d))
		at := r3.Vec{X: p.A.X + h*p.Axis.X, Y: p.A.Y + h*p.Axis.Y, Z: p.A.Z + h*p.Axis.Z}
		if rr := dot(r, r); rr > 0 {
			k := p.Rho / math.Sqrt(rr)
			at.X += k * r.X
			at.Y += k * r.Y
			at.Z += k * r.Z
		}
		return at, 0
	}
	return p.A, 0
}

// Support returns the furthest point of the swollen piece along the unit direction n, mm.
func (p *Piece) Support(n r3.Vec) r3.Vec {
	c, _ := p.support(n)
	return r3.Vec{X: c.X + p.Radius*n.X, Y: c.Y + p.Radius*n.Y, Z: c.Z + p.Radius*n.Z}
}

// Bounds returns the smallest box along the axes that holds the swollen piece, mm; of a mesh that is turned, one that holds its own box.
func (p *Piece) Bounds() (lo, hi r3.Vec) {
	if p.Kind == Surface {
		lo, hi = p.Mesh.lo, p.Mesh.hi
		if p.Moved {
			c, h := scale(0.5, add(lo, hi)), scale(0.5, sub(hi, lo))
			c = carry(p.Shift, p.Ex, p.Ey, p.Ez, c)
			h = r3.Vec{
				X: math.Abs(p.Ex.X)*h.X + math.Abs(p.Ey.X)*h.Y + math.Abs(p.Ez.X)*h.Z,
				Y: math.Abs(p.Ex.Y)*h.X + math.Abs(p.Ey.Y)*h.Y + math.Abs(p.Ez.Y)*h.Z,
				Z: math.Abs(p.Ex.Z)*h.X + math.Abs(p.Ey.Z)*h.Y + math.Abs(p.Ez.Z)*h.Z,
			}
			lo, hi = sub(c, h), add(c, h)
		}
		r := r3.Vec{X: p.Radius, Y: p.Radius, Z: p.Radius}
		return sub(lo, r), add(hi, r)
	}
	hi = r3.Vec{X: p.Support(r3.Vec{X: 1}).X, Y: p.Support(r3.Vec{Y: 1}).Y, Z: p.Support(r3.Vec{Z: 1}).Z}
	lo = r3.Vec{X: p.Support(r3.Vec{X: -1}).X, Y: p.Support(r3.Vec{Y: -1}).Y, Z: p.Support(r3.Vec{Z: -1}).Z}
	return lo, hi
}

// Ball returns a ball that holds the swollen piece, mm.
func (p *Piece) Ball() (centre r3.Vec, radius float64) {
	switch p.Kind {
	case Segment:
		h := sub(p.B, p.A)
		return r3.Vec{X: p.A.X + h.X/2, Y: p.A.Y + h.Y/2, Z: p.A.Z + h.Z/2}, math.Sqrt(dot(h, h))/2 + p.Radius
	case Polytope:
		if p.Moved {
			return carry(p.Shift, p.Ex, p.Ey, p.Ez, p.Hull.centre), p.Hull.reach + p.Radius
		}
		return p.Hull.centre, p.Hull.reach + p.Radius
	case Surface:
		top := &p.Mesh.tree[0]
		if p.Moved {
			return carry(p.Shift, p.Ex, p.Ey, p.Ez, top.centre), top.reach + p.Radius
		}
		return top.centre, top.reach + p.Radius
	case Drum:
		return p.A, math.Hypot(p.Half, p.Rho) + p.Radius
	}
	return p.A, p.Radius
}

func dot(a, b r3.Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

func cross(a, b r3.Vec) r3.Vec {
	return r3.Vec{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X}
}

func sub(a, b r3.Vec) r3.Vec { return r3.Vec{X: a.X - b.X, Y: a.Y - b.Y, Z: a.Z - b.Z} }

func add(a, b r3.Vec) r3.Vec { return r3.Vec{X: a.X + b.X, Y: a.Y + b.Y, Z: a.Z + b.Z} }

func scale(k float64, a r3.Vec) r3.Vec { return r3.Vec{X: k * a.X, Y: k * a.Y, Z: k * a.Z} }

// along returns a + k*d.
func along(a r3.Vec, k float64, d r3.Vec) r3.Vec {
	return r3.Vec{X: a.X + k*d.X, Y: a.Y + k*d.Y, Z: a.Z + k*d.Z}
}

func norm(a r3.Vec) float64 { return math.Sqrt(dot(a, a)) }

// square returns a unit vector square to d (any unit vector where d is nothing).
func square(d r3.Vec) r3.Vec {
	ax, ay, az := math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)
	var c r3.Vec
	switch {
	case az >= ax && az >= ay:
		c = cross(d, r3.Vec{X: 1})
	case ay >= ax:
		c = cross(d, r3.Vec{Z: 1})
	default:
		c = cross(d, r3.Vec{Z: 1})
	}
	if l := norm(c); l > 0 {
		return scale(1/l, c)
	}
	return r3.Vec{Z: 1}
}

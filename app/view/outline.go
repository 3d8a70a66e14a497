package view

import (
	"cmp"
	"math"
	"slices"

	"axleloft/geometry/shape"
	"axleloft/plotting/drawing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Outline is the smallest convex outline round places as a view shows them, mm to the right and up, anticlockwise.
func (p Plane) Outline(places []r3.Vec) [][2]float64 {
	pts := make([]point, len(places))
	for i, v := range places {
		pts[i].X, pts[i].Y = p.Project(v)
	}
	var out [][2]float64
	for _, q := range hull(pts) {
		out = append(out, [2]float64{q.X, q.Y})
	}
	return out
}

// hull returns the corners of the smallest convex polygon round points, anticlockwise in axes right and up.
//
// A. M. Andrew, "Another efficient algorithm for convex hulls in two dimensions", Information Processing Letters 9 (1979), 216-219 (from memory).
func hull(pts []point) []point {
	p := slices.Clone(pts)
	slices.SortFunc(p, func(a, b point) int {
		if c := cmp.Compare(a.X, b.X); c != 0 {
			return c
		}
		return cmp.Compare(a.Y, b.Y)
	})
	p = slices.Compact(p)
	if len(p) < 3 {
		return p
	}
	out := make([]point, 0, 2*len(p))
	half := func(add func(i int) point) {
		base := len(out)
		for i := range p {
			q := add(i)
			for len(out) >= base+2 && turn(out[len(out)-2], out[len(out)-1], q) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, q)
		}
		out = out[:len(out)-1]
	}
	half(func(i int) point { return p[i] })
	half(func(i int) point { return p[len(p)-1-i] })
	return out
}

func turn(a, b, c point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }

// corners is how many directions a round silhouette is found in.
const corners = 96

// silhouette returns the outline of a convex piece as a view shows it, anticlockwise, mm in the view's axes.
func silhouette(p Plane, s *shape.Piece) []point {
	var pts []point
	if s.Kind == shape.Polytope && s.Radius == 0 {
		for _, v := range s.Hull.V {
			if s.Moved {
				v = r3.Add(s.Shift, r3.Add(r3.Add(r3.Scale(v.X, s.Ex), r3.Scale(v.Y, s.Ey)), r3.Scale(v.Z, s.Ez)))
			}
			a, b := p.Project(v)
			pts = append(pts, point{a, b})
		}
		return hull(pts)
	}
	right, up := p.axes()
	for i := range corners {
		sn, cs := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / corners) // never along an axis: no support is a tie there
		a, b := p.Project(s.Support(r3.Add(r3.Scale(cs, right), r3.Scale(sn, up))))
		pts = append(pts, point{a, b})
	}
	return hull(pts)
}

// axes are the body directions a view shows to the right and up.
func (p Plane) axes() (right, up r3.Vec) {
	switch p {
	case Side:
		return r3.Vec{X: 1}, r3.Vec{Z: 1}
	case Rear:
		return r3.Vec{Y: -1}, r3.Vec{Z: 1}
	default:
		return r3.Vec{X: 1}, r3.Vec{Y: 1}
	}
}

// common returns the area that two convex polygons (anticlockwise) share; nil where there is none.
func common(a, b []point) []point {
	if len(a) < 3 || len(b) < 3 {
		return nil
	}
	out := a
	for i := range b {
		p, q := b[i], b[(i+1)%len(b)]
		// turn(p, q, x) >= 0, written as a half plane
		a, c := p.Y-q.Y, q.X-p.X
		out = drawing.CutArea(out, a, c, -a*p.X-c*p.Y)
		if len(out) == 0 {
			return nil
		}
	}
	return out
}

// rounding is how many corners stand for a circle a polygon is grown by.
const rounding = 12

// grow returns the convex polygon that reaches about d further than pts on every side.
func grow(pts []point, d float64) []point {
	all := make([]point, 0, rounding*len(pts))
	for _, p := range pts {
		for k := range rounding {
			sn, cs := math.Sincos(2 * math.Pi * float64(k) / rounding)
			all = append(all, point{p.X + d*cs, p.Y + d*sn})
		}
	}
	return hull(all)
}

// across returns the least width of a convex polygon.
func across(pts []point) float64 {
	if len(pts) < 3 {
		return 0
	}
	least := math.Inf(1)
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		if l == 0 {
			continue
		}
		far := 0.0
		for _, c := range pts {
			far = math.Max(far, math.Abs(turn(a, b, c))/l)
		}
		least = math.Min(least, far)
	}
	return least
}

// mark returns the area that marks a place in a picture: grown by 3, at least 12 across. Units.
func mark(pts []point) []point {
	const by, least = 3.0, 12.0
	h := hull(pts)
	d := math.Max(by, (least-across(h))/2)
	return grow(h, d)
}

// inside reports whether p lies in a polygon (even-odd).
func inside(pts []point, p point) bool {
	if len(pts) == 0 {
		return false
	}
	in := false
	b := pts[len(pts)-1]
	for _, a := range pts {
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < (b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y)+a.X {
			in = !in
		}
		b = a
	}
	return in
}

// bounds returns the box round points.
func bounds(pts []point) box {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range pts {
		b = box{math.Min(b.x0, p.X), math.Min(b.y0, p.Y), math.Max(b.x1, p.X), math.Max(b.y1, p.Y)}
	}
	return b
}

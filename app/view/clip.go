package view

import (
	"math"

	"axleloft/plotting/drawing"
)

type point = drawing.Point

// Clip cuts the line from (x1, y1) to (x2, y2) to the box (x0, y0)-(x3, y3) by the parameters at which it enters and leaves each side; ok is
// false where nothing of it lies inside or an end is not a number.
//
// Y.-D. Liang and B. A. Barsky, "A new concept and method for line clipping", ACM Transactions on Graphics 3 (1984), 1-22 (from memory).
func Clip(x0, y0, x3, y3, x1, y1, x2, y2 float64) (a1, b1, a2, b2 float64, ok bool) {
	dx, dy := x2-x1, y2-y1
	t0, t1 := 0.0, 1.0
	p := [4]float64{-dx, dx, -dy, dy}
	q := [4]float64{x1 - x0, x3 - x1, y1 - y0, y3 - y1}
	for i := range p {
		switch {
		case p[i] == 0:
			if !(q[i] >= 0) {
				return 0, 0, 0, 0, false
			}
		case p[i] < 0:
			t0 = math.Max(t0, q[i]/p[i])
		default:
			t1 = math.Min(t1, q[i]/p[i])
		}
	}
	if !(t0 <= t1) {
		return 0, 0, 0, 0, false
	}
	return x1 + t0*dx, y1 + t0*dy, x1 + t1*dx, y1 + t1*dy, true
}

// box is an upright box, units.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) grown(d float64) box { return box{b.x0 - d, b.y0 - d, b.x1 + d, b.y1 + d} }

func (b box) overlaps(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }

func (b box) holds(o box) bool {
	return b.x0 <= o.x0 && b.y0 <= o.y0 && b.x1 >= o.x1 && b.y1 >= o.y1
}

func (b box) crossed(p, q point) bool {
	if p.X < b.x0 && q.X < b.x0 || p.X > b.x1 && q.X > b.x1 || p.Y < b.y0 && q.Y < b.y0 || p.Y > b.y1 && q.Y > b.y1 {
		return false
	}
	_, _, _, _, ok := Clip(b.x0, b.y0, b.x1, b.y1, p.X, p.Y, q.X, q.Y)
	return ok
}

// clipLines cuts a polyline to a box: the runs of it that lie inside. Clipped closes it first.
func clipLines(b box, pts []point, closed bool) [][]point {
	n := len(pts)
	if n == 0 {
		return nil
	}
	inside := true
	for _, p := range pts {
		if !(p.X >= b.x0 && p.X <= b.x1 && p.Y >= b.y0 && p.Y <= b.y1) {
			inside = false
			break
		}
	}
	if closed {
		pts = append(pts[:n:n], pts[0])
	}
	if inside {
		return [][]point{pts}
	}
	var out [][]point
	var run []point
	for i := 1; i < len(pts); i++ {
		x1, y1, x2, y2, ok := Clip(b.x0, b.y0, b.x1, b.y1, pts[i-1].X, pts[i-1].Y, pts[i].X, pts[i].Y)
		if !ok {
			if len(run) > 1 {
				out = append(out, run)
			}
			run = nil
			continue
		}
		if len(run) == 0 || run[len(run)-1] != (point{x1, y1}) {
			if len(run) > 1 {
				out = append(out, run)
			}
			run = []point{{x1, y1}}
		}
		run = append(run, point{x2, y2})
	}
	if len(run) > 1 {
		out = append(out, run)
	}
	return out
}

// clipArea cuts a closed polygon to a box, side by side. Where the polygon is not convex the cut may run along the box's edge, outside the picture's ink.
//
// I. E. Sutherland and G. W. Hodgman, "Reentrant polygon clipping", Communications of the ACM 17 (1974), 32-42 (from memory).
func clipArea(b box, pts []point) []point {
	for side := 0; side < 4 && len(pts) > 0; side++ {
		pts = cutBy(pts, func(p point) float64 {
			switch side {
			case 0:
				return p.X - b.x0
			case 1:
				return b.x1 - p.X
			case 2:
				return p.Y - b.y0
			default:
				return b.y1 - p.Y
			}
		})
	}
	return pts
}

// cutBy keeps what of a polygon lies where f is not negative; f is affine.
func cutBy(pts []point, f func(point) float64) []point {
	var out []point
	for i, q := range pts {
		p := pts[(i+len(pts)-1)%len(pts)]
		fp, fq := f(p), f(q)
		if (fp >= 0) != (fq >= 0) {
			t := fp / (fp - fq)
			out = append(out, point{p.X + t*(q.X-p.X), p.Y + t*(q.Y-p.Y)})
		}
		if fq >= 0 {
			out = append(out, q)
		}
	}
	return out
}

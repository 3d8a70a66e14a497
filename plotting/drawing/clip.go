package drawing

import "math"

// ClipLine cuts the line from (x1, y1) to (x2, y2) to the box (x0, y0)-(x3, y3) by the parameters at which it enters and leaves each side;
// ok is false where nothing of it lies inside or an end is not a number.
//
// Y.-D. Liang and B. A. Barsky, "A new concept and method for line clipping", ACM Transactions on Graphics 3 (1984), 1-22 (from memory).
func ClipLine(x0, y0, x3, y3, x1, y1, x2, y2 float64) (a1, b1, a2, b2 float64, ok bool) {
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

// ClipPath cuts a polyline (closed: back to its first point) to the box (x0, y0)-(x1, y1): the runs of it that lie inside.
func ClipPath(x0, y0, x1, y1 float64, pts []Point, closed bool) [][]Point {
	n := len(pts)
	if n == 0 {
		return nil
	}
	inside := true
	for _, p := range pts {
		if !(p.X >= x0 && p.X <= x1 && p.Y >= y0 && p.Y <= y1) {
			inside = false
			break
		}
	}
	if closed {
		pts = append(pts[:n:n], pts[0])
	}
	if inside {
		return [][]Point{pts}
	}
	var out [][]Point
	var run []Point
	for i := 1; i < len(pts); i++ {
		ax, ay, bx, by, ok := ClipLine(x0, y0, x1, y1, pts[i-1].X, pts[i-1].Y, pts[i].X, pts[i].Y)
		if !ok {
			if len(run) > 1 {
				out = append(out, run)
			}
			run = nil
			continue
		}
		if a := (Point{ax, ay}); len(run) == 0 || run[len(run)-1] != a {
			if len(run) > 1 {
				out = append(out, run)
			}
			run = []Point{a}
		}
		run = append(run, Point{bx, by})
	}
	if len(run) > 1 {
		out = append(out, run)
	}
	return out
}

// ClipArea cuts a closed polygon to the box (x0, y0)-(x1, y1), side by side. Where the polygon is not convex the cut may run along an edge of the box.
//
// I. E. Sutherland and G. W. Hodgman, "Reentrant polygon clipping", Communications of the ACM 17 (1974), 32-42 (from memory).
func ClipArea(x0, y0, x1, y1 float64, pts []Point) []Point {
	pts = CutArea(pts, 1, 0, -x0)
	pts = CutArea(pts, -1, 0, x1)
	pts = CutArea(pts, 0, 1, -y0)
	return CutArea(pts, 0, -1, y1)
}

// CutArea keeps what of a polygon lies where a*x + b*y + c is not negative.
func CutArea(pts []Point, a, b, c float64) []Point {
	var out []Point
	for i, q := range pts {
		p := pts[(i+len(pts)-1)%len(pts)]
		fp, fq := a*p.X+b*p.Y+c, a*q.X+b*q.Y+c
		if (fp >= 0) != (fq >= 0) {
			t := fp / (fp - fq)
			out = append(out, Point{p.X + t*(q.X-p.X), p.Y + t*(q.Y-p.Y)})
		}
		if fq >= 0 {
			out = append(out, q)
		}
	}
	return out
}

func within(pts []Point, x, y float64) bool {
	in := false
	for i, a := range pts {
		b := pts[(i+len(pts)-1)%len(pts)]
		if (a.Y > y) != (b.Y > y) && x < (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)+a.X {
			in = !in
		}
	}
	return in
}

func extent(pts []Point) (x0, y0, x1, y1 float64) {
	x0, y0, x1, y1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range pts {
		x0, y0, x1, y1 = math.Min(x0, p.X), math.Min(y0, p.Y), math.Max(x1, p.X), math.Max(y1, p.Y)
	}
	return
}

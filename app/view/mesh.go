package view

import (
	"cmp"
	"math"
	"slices"

	"axleloft/geometry/shape"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"gonum.org/v1/gonum/spatial/r3"
)

// Bounds of what is drawn of a mesh in a view: a casting has thousands of lines, and each is an object on the screen.
const (
	mostLines  = 60
	finestLine = 1.0 // mm: a line strays no more from the mesh's own, and one that is shorter all told is left out
)

// contour is a mesh's outline as a view shows it, the longest lines first; a line that is closed repeats its first point.
func contour(p Plane, m *shape.Piece) [][]point {
	right, up := p.axes()
	var out [][]point
	for _, line := range m.Contour(r3.Cross(right, up)) {
		pts := make([]point, len(line))
		for i, v := range line {
			a, b := p.Project(v)
			pts[i] = point{a, b}
		}
		if pts = coarser(pts, finestLine); lineRun(pts) > 2*finestLine {
			out = append(out, pts)
		}
	}
	slices.SortStableFunc(out, func(a, b []point) int { return cmp.Compare(lineRun(b), lineRun(a)) })
	return out[:min(len(out), mostLines)]
}

// lineRun is the length of a line.
func lineRun(pts []point) float64 {
	sum := 0.0
	for i := 1; i < len(pts); i++ {
		sum += math.Hypot(pts[i].X-pts[i-1].X, pts[i].Y-pts[i-1].Y)
	}
	return sum
}

// coarser leaves out points that lie within off of the line without them (D. H. Douglas and T. K. Peucker, "Algorithms for the reduction of the number of points required to
// represent a digitized line", Cartographica 10(2), 1973).
func coarser(pts []point, off float64) []point {
	if len(pts) < 3 {
		return pts
	}
	keep := make([]bool, len(pts))
	keep[0], keep[len(pts)-1] = true, true
	spans := [][2]int{{0, len(pts) - 1}}
	for len(spans) > 0 {
		s := spans[len(spans)-1]
		spans = spans[:len(spans)-1]
		worst, at := off, -1
		for i := s[0] + 1; i < s[1]; i++ {
			if d := offLine(pts[i], pts[s[0]], pts[s[1]]); d > worst {
				worst, at = d, i
			}
		}
		if at >= 0 {
			keep[at] = true
			spans = append(spans, [2]int{s[0], at}, [2]int{at, s[1]})
		}
	}
	var out []point
	for i, p := range pts {
		if keep[i] {
			out = append(out, p)
		}
	}
	return out
}

// offLine is how far p is from the straight line between two points.
func offLine(p, a, b point) float64 {
	x, y := b.X-a.X, b.Y-a.Y
	t := 0.0
	if l := x*x + y*y; l > 0 {
		t = math.Min(1, math.Max(0, ((p.X-a.X)*x+(p.Y-a.Y)*y)/l))
	}
	return math.Hypot(p.X-a.X-t*x, p.Y-a.Y-t*y)
}

// addMesh draws a mesh as f says and returns the corners of what it covers.
func (s *Scene) addMesh(f figure, m *shape.Piece) []point {
	var all []point
	for i, pts := range contour(s.plane, m) {
		all = append(all, pts...)
		f.pts, f.closed = pts, len(pts) > 3 && pts[0] == pts[len(pts)-1]
		if f.kind = drawing.Line; f.closed {
			f.pts = pts[:len(pts)-1]
		}
		s.add(f)
		if i == 0 {
			f.fill = ink.None // the outermost alone is filled
		}
	}
	return hull(all)
}

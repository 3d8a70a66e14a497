package view

import "axleloft/plotting/drawing"

type point = drawing.Point

// Clip cuts the line from (x1, y1) to (x2, y2) to the box (x0, y0)-(x3, y3); ok is false where nothing of it lies inside.
func Clip(x0, y0, x3, y3, x1, y1, x2, y2 float64) (a1, b1, a2, b2 float64, ok bool) {
	return drawing.ClipLine(x0, y0, x3, y3, x1, y1, x2, y2)
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

func clipLines(b box, pts []point, closed bool) [][]point {
	return drawing.ClipPath(b.x0, b.y0, b.x1, b.y1, pts, closed)
}

func clipArea(b box, pts []point) []point { return drawing.ClipArea(b.x0, b.y0, b.x1, b.y1, pts) }

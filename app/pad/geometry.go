package pad

import (
	"math"

	"axleloft/app/brush"

	"fyne.io/fyne/v2"
)

// margins are what stands round the patch, units: the heading and the word above it, the sentence (of so many lines) and the word below it,
// the words at its sides. A small pad has two lines and less room.
type margins struct {
	above, below, aside float64
	lines               int
}

func marginsOf(size fyne.Size) margins {
	if size.Width < 290 || size.Height < 290 {
		return margins{76, 61, 20, 2}
	}
	return margins{79, 79, 35, 3}
}

const (
	dotRadius = 10
	dotRing   = 13
	lineStep  = 19
)

// geometry is how travels become places on the pad.
type geometry struct {
	ok     bool
	cx, cy float64 // ride
	k      float64 // units a mm
	box    brush.Box
}

// fit makes room for the outline on a pad of a size.
func fit(edge []place, size fyne.Size) geometry {
	if len(edge) < 3 {
		return geometry{}
	}
	u0, u1, v0, v1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, e := range edge {
		u, v := (e.right-e.left)/2, (e.left+e.right)/2
		u0, u1, v0, v1 = math.Min(u0, u), math.Max(u1, u), math.Min(v0, v), math.Max(v1, v)
	}
	m := marginsOf(size)
	w, h := float64(size.Width)-2*m.aside, float64(size.Height)-m.above-m.below
	if u1-u0 < 1e-6 || v1-v0 < 1e-6 || w < 40 || h < 40 {
		return geometry{}
	}
	k := math.Min(w/(u1-u0), h/(v1-v0))
	g := geometry{ok: true, k: k}
	g.cx = m.aside + w/2 - k*(u0+u1)/2
	g.cy = m.above + h/2 + k*(v0+v1)/2
	g.box = brush.Box{X0: g.cx + k*u0, Y0: g.cy - k*v1, X1: g.cx + k*u1, Y1: g.cy - k*v0}
	return g
}

// at is where a position is on the pad.
func (g *geometry) at(left, right float64) (x, y float32) {
	return float32(g.cx + g.k*(right-left)/2), float32(g.cy - g.k*(left+right)/2)
}

// line is the outline in as few points as keep it within a third of a unit, so that it is drawn in long straight lines.
//
// D. Douglas and T. Peucker, "Algorithms for the reduction of the number of points required to represent a digitized line or its caricature",
// Cartographica 10 (1973), 112-122 (from memory).
func (g *geometry) line(edge []place) []fyne.Position {
	const off = 0.34
	n := len(edge)
	pts := make([]fyne.Position, n+1)
	far := 0
	for i, e := range edge {
		x, y := g.at(e.left, e.right)
		pts[i] = fyne.NewPos(x, y)
		if dist(pts[i], pts[0]) > dist(pts[far], pts[0]) {
			far = i
		}
	}
	pts[n] = pts[0]
	keep := make([]bool, n+1)
	keep[0], keep[far] = true, true
	var split func(a, b int)
	split = func(a, b int) {
		worst, at := off, -1
		p, q := pts[a], pts[b]
		l := math.Max(dist(p, q), 1e-9)
		for i := a + 1; i < b; i++ {
			d := math.Abs(float64((q.X-p.X)*(pts[i].Y-p.Y)-(q.Y-p.Y)*(pts[i].X-p.X))) / l
			if d > worst {
				worst, at = d, i
			}
		}
		if at >= 0 {
			keep[at] = true
			split(a, at)
			split(at, b)
		}
	}
	split(0, far)
	split(far, n)
	var out []fyne.Position
	for i := range n {
		if keep[i] {
			out = append(out, pts[i])
		}
	}
	return out
}

func dist(a, b fyne.Position) float64 { return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)) }

// travels is the position of a place on the pad.
func (g *geometry) travels(at fyne.Position) (left, right float64) {
	if !g.ok {
		return 0, 0
	}
	u, v := (float64(at.X)-g.cx)/g.k, (g.cy-float64(at.Y))/g.k
	return v - u, v + u
}

// inside reports whether a place lies in the outline.
func (g *geometry) inside(edge []place, at fyne.Position) bool {
	left, right := g.travels(at)
	_, _, t, _, ok := locate(edge, left, right)
	return ok && t <= 1
}

// room is how far from the left border (or the right one) a line of words between two heights may reach before it meets the outline.
func (g *geometry) room(edge []place, size fyne.Size, left bool, y0, y1 float64) float64 {
	free := float64(size.Width)/2 - 8
	n := len(edge)
	for i := range n {
		ax, ay := g.at(edge[i].left, edge[i].right)
		bx, by := g.at(edge[(i+1)%n].left, edge[(i+1)%n].right)
		c := brush.Box{X0: -1e6, Y0: y0, X1: 1e6, Y1: y1}
		x1, _, x2, _, ok := brush.Clip(c, float64(ax), float64(ay), float64(bx), float64(by))
		if !ok {
			continue
		}
		for _, x := range [2]float64{x1, x2} {
			if left {
				free = math.Min(free, x-7-8)
			} else {
				free = math.Min(free, float64(size.Width)-x-7-8)
			}
		}
	}
	return free
}

// action is what a press on the pad asks for.
type action uint8

const (
	none action = iota
	goRide
	walkEdge
	goBump
	goDroop
	goLeftUp
	goRightUp
	onDot
)

// zone is a place to press.
type zone struct {
	do    action
	words string
	box   brush.Box
}

// zoneAt is what a place asks for; the nearest of several wins.
func (p *Pad) zoneAt(at fyne.Position) action {
	best, near := none, math.Inf(1)
	x, y := float64(at.X), float64(at.Y)
	for _, z := range p.zones {
		// a word's hit area is 40 high and reaches 8 beyond its ends
		more := math.Max(0, (40-(z.box.Y1-z.box.Y0))/2)
		dx := math.Max(0, math.Max(z.box.X0-x, x-z.box.X1))
		dy := math.Max(0, math.Max(z.box.Y0-y, y-z.box.Y1))
		if dx > 8 || dy > more {
			continue
		}
		if d := math.Hypot(dx, dy); d < near {
			best, near = z.do, d
		}
	}
	return best
}

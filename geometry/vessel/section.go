package vessel

import (
	"context"
	"errors"
	"math"
	"slices"

	"axleloft/geometry/clearance"

	"gonum.org/v1/gonum/spatial/r3"
)

// Section is a cut through a keep-out at a station of one of the body axes. Its loops run anticlockwise seen from the axis' far end round what is kept out, clockwise round holes in it; mm, body axes.
type Section struct {
	Axis  int // 0 X, 1 Y, 2 Z
	At    float64
	Loops [][]r3.Vec
}

// mostNodes of a section's grid.
const mostNodes = 4_000_000

// ErrGrid is returned for a section that would need too fine a grid.
var ErrGrid = errors.New("so fine a section needs too many places; ask for a coarser one")

// nodeWidth is how near what is proved of a place of the grid comes to what is found there, mm.
const nodeWidth = 0.25

// Section marches over a grid of the plane at a station, within the vessel's outermost faces: at its places what the movers come nearer than their margins, as proved, and how far beyond the vessel's own outline they
// are, whichever is more, and straight between them: corners of the outline are cut off by half a step at most. step is the grid's, mm.
func (v *Vessel) Section(ctx context.Context, w *clearance.Sweep, axis int, at, step float64) (*Section, error) {
	g := grid{w: w, axis: axis, at: at}
	lo, hi := v.Bounds()
	from, to := xyz(lo), xyz(hi)
	if at < from[axis] || at > to[axis] || !(step > 0) {
		return &Section{Axis: axis, At: at}, nil
	}
	for k := range 2 {
		g.along[k] = (axis + 1 + k) % 3
		a := g.along[k]
		room := to[a] - from[a]
		if !(room/step < mostNodes) {
			return nil, ErrGrid
		}
		g.n[k] = int(math.Ceil(room/step)) + 1
		g.lo[k], g.step[k] = from[a], room/float64(g.n[k]-1)
	}
	if g.n[0]*g.n[1] > mostNodes {
		return nil, ErrGrid
	}
	g.value = make([]float64, g.n[0]*g.n[1])
	for i := range g.value {
		g.value[i] = math.NaN()
	}
	if err := g.fill(ctx, [2]int{}, [2]int{g.n[0] - 1, g.n[1] - 1}, w.Start()); err != nil {
		return nil, err
	}
	if v.Why == "" {
		g.within(v, math.Max(from[axis]+inFace, math.Min(to[axis]-inFace, at)))
	}
	return &Section{Axis: axis, At: at, Loops: g.loops()}, nil
}

// inFace: a station in an outermost face counts as so far within, mm.
const inFace = 1e-6

// within keeps what lies in the vessel, whose outline is taken at a station in it.
func (g *grid) within(v *Vessel, at float64) {
	edge := v.outline(g.axis, at)
	most := math.Max(g.step[0], g.step[1])
	for j := range g.n[1] {
		for i := range g.n[0] {
			if at := &g.value[j*g.n[0]+i]; *at < most { // nothing is drawn beyond
				*at = math.Max(*at, v.beyond(edge, g.place(float64(i), float64(j)), g.along))
			}
		}
	}
}

// line is a piece of an outline, what it goes round on its left.
type line struct{ a, b [2]float64 }

// outline is where a flat vessel ends in the plane at a station. What two of its pieces share runs both ways there and is left out.
func (v *Vessel) outline(axis int, at float64) []line {
	u, w := (axis+1)%3, (axis+2)%3
	var list []line
	add := func(loop []r3.Vec) {
		var enters, leaves [2]float64
		n := 0
		for i := range loop {
			p, q := xyz(loop[i]), xyz(loop[(i+1)%len(loop)])
			if (p[axis] <= at) == (q[axis] <= at) {
				continue
			}
			in := p[axis] <= at
			if !in {
				p, q = q, p
			}
			t := (at - p[axis]) / (q[axis] - p[axis])
			x := [2]float64{p[u] + t*(q[u]-p[u]), p[w] + t*(q[w]-p[w])}
			if in {
				leaves = x
			} else {
				enters = x
			}
			n++
		}
		if n == 2 && enters != leaves {
			list = append(list, line{enters, leaves})
		}
	}
	for _, q := range v.polys {
		for _, f := range q.faces {
			add(f)
		}
	}
	for i := range v.skin {
		add(v.skin[i][:])
	}
	same := func(p, q [2]float64) bool { return math.Hypot(p[0]-q[0], p[1]-q[1]) < 10*onPlane }
	for i := 0; i < len(list) && len(v.polys) > 1; i++ {
		if k := slices.IndexFunc(list, func(l line) bool { return same(l.a, list[i].b) && same(l.b, list[i].a) }); k > i {
			list = slices.Delete(slices.Delete(list, k, k+1), i, i+1)
			i--
		}
	}
	return list
}

// beyond is how far a place lies beyond the vessel's outline in a plane, or beyond a round vessel; negative: in it.
func (v *Vessel) beyond(edge []line, x r3.Vec, along [2]int) float64 {
	least := math.Inf(1)
	if !v.Flat {
		for i := range v.solid.Pieces {
			p := &v.solid.Pieces[i]
			least = math.Min(least, r3.Norm(r3.Sub(x, onLine(p, x)))-p.Radius)
		}
		return least
	}
	c := xyz(x)
	p := [2]float64{c[along[0]], c[along[1]]}
	round := 0 // how often the outline goes round it
	for _, l := range edge {
		d := [2]float64{l.b[0] - l.a[0], l.b[1] - l.a[1]}
		o := [2]float64{p[0] - l.a[0], p[1] - l.a[1]}
		t := math.Max(0, math.Min(1, (o[0]*d[0]+o[1]*d[1])/(d[0]*d[0]+d[1]*d[1])))
		least = math.Min(least, math.Hypot(o[0]-t*d[0], o[1]-t*d[1]))
		switch left := d[0]*o[1] - d[1]*o[0]; {
		case l.a[1] <= p[1] && l.b[1] > p[1] && left > 0:
			round++
		case l.a[1] > p[1] && l.b[1] <= p[1] && left < 0:
			round--
		}
	}
	if round > 0 {
		return -least
	}
	return least
}

func xyz(p r3.Vec) [3]float64 { return [3]float64{p.X, p.Y, p.Z} }

type grid struct {
	w        *clearance.Sweep
	axis     int
	at       float64
	along    [2]int
	n        [2]int
	lo, step [2]float64
	value    []float64
}

// place is a place of the plane, in steps of the grid.
func (g *grid) place(u, v float64) r3.Vec {
	var p [3]float64
	p[g.axis] = g.at
	p[g.along[0]] = g.lo[0] + u*g.step[0]
	p[g.along[1]] = g.lo[1] + v*g.step[1]
	return r3.Vec{X: p[0], Y: p[1], Z: p[2]}
}

var bodyAxes = [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}

// fill works out the places from a to b.
func (g *grid) fill(ctx context.Context, a, b [2]int, list []clearance.Moment) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	k := clearance.Block{At: g.place(float64(a[0]+b[0])/2, float64(a[1]+b[1])/2), Axes: bodyAxes}
	radius := 0.0
	for i := range 2 {
		h := float64(b[i]-a[i]) * g.step[i] / 2
		k.Half[g.along[i]] = h
		radius = math.Hypot(radius, h)
	}
	s, keep := g.w.Sift(&k, list, nil, 0, clearance.MoreSlack*radius)
	if s != clearance.Open {
		v := -1.0
		if s == clearance.Free {
			v = 1
		}
		for j := a[1]; j <= b[1]; j++ {
			for i := a[0]; i <= b[0]; i++ {
				if at := &g.value[j*g.n[0]+i]; math.IsNaN(*at) {
					*at = v * math.Max(g.step[0], g.step[1])
				}
			}
		}
		return nil
	}
	if b[0]-a[0] <= 1 && b[1]-a[1] <= 1 {
		for j := a[1]; j <= b[1]; j++ {
			for i := a[0]; i <= b[0]; i++ {
				g.value[j*g.n[0]+i] = g.node(g.place(float64(i), float64(j)), list)
			}
		}
		return nil
	}
	long := 0
	if float64(b[1]-a[1])*g.step[1] > float64(b[0]-a[0])*g.step[0] || b[0]-a[0] <= 1 {
		long = 1
	}
	if b[long]-a[long] <= 1 {
		long = 1 - long
	}
	mid := (a[long] + b[long]) / 2
	first, second := b, a
	first[long], second[long] = mid, mid
	if err := g.fill(ctx, a, first, keep); err != nil {
		return err
	}
	return g.fill(ctx, second, b, keep)
}

// node is how much nearer than the margins the movers come to a place, as proved; no more than a step beyond them.
func (g *grid) node(x r3.Vec, list []clearance.Moment) float64 {
	most := math.Max(g.step[0], g.step[1])
	b := clearance.Block{At: x, Axes: bodyAxes}
	least := most
	for _, m := range g.w.Settle(&b, list, most, nodeWidth) {
		n := g.w.Near(m, &b)
		least = math.Min(least, n.Least-g.w.Swept[m.Piece].Margin)
	}
	return least
}

// loops chains where the values change their sign; beyond the grid nothing is kept out.
func (g *grid) loops() [][]r3.Vec {
	wide, high := g.n[0]+2, g.n[1]+2
	value := func(i, j int) float64 {
		if i == 0 || j == 0 || i == wide-1 || j == high-1 {
			return 1
		}
		return g.value[(j-1)*g.n[0]+i-1]
	}
	spot := func(i, j int) (u, v float64) {
		return float64(min(max(i-1, 0), g.n[0]-1)), float64(min(max(j-1, 0), g.n[1]-1))
	}
	type edge struct {
		i, j int // from this place
		up   bool
	}
	next := map[edge]edge{}
	var order []edge
	for j := range high - 1 {
		for i := range wide - 1 {
			corner := [4][2]int{{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}}
			sides := [4]edge{{i, j, false}, {i + 1, j, true}, {i, j + 1, false}, {i, j, true}}
			var in [4]bool
			for k, c := range corner {
				in[k] = value(c[0], c[1]) < 0
			}
			for k := range 4 {
				if !in[k] || in[(k+1)%4] {
					continue
				}
				for n := 1; n < 4; n++ { // to where it comes in again
					if m := (k + n) % 4; !in[m] && in[(m+1)%4] {
						next[sides[k]] = sides[m]
						order = append(order, sides[k])
						break
					}
				}
			}
		}
	}
	point := func(e edge) r3.Vec {
		i, j := e.i+1, e.j
		if e.up {
			i, j = e.i, e.j+1
		}
		a, b := value(e.i, e.j), value(i, j)
		t := a / (a - b)
		u0, v0 := spot(e.i, e.j)
		u1, v1 := spot(i, j)
		return g.place(u0+t*(u1-u0), v0+t*(v1-v0))
	}
	var out [][]r3.Vec
	for _, e := range order {
		var loop []r3.Vec
		for at, ok := e, true; ok; {
			to, left := next[at]
			if !left {
				break
			}
			delete(next, at)
			if p := point(at); len(loop) == 0 || p != loop[len(loop)-1] {
				loop = append(loop, p)
			}
			at = to
		}
		if len(loop) > 1 && loop[0] == loop[len(loop)-1] {
			loop = loop[:len(loop)-1]
		}
		if len(loop) >= 3 {
			out = append(out, loop)
		}
	}
	return out
}

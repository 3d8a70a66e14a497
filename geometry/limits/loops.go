package limits

import (
	"context"
	"math"
	"slices"

	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
)

// loopSteps is how often the way between two squares' middles is halved to find where a loop crosses it.
const loopSteps = 12

// crossing is a way from the middle of square (i, k) to that of (i+1, k), across, or of (i, k+1), that a loop crosses.
type crossing struct {
	i, k   int
	across bool
}

// tracer finds the loops round where a pair's gap is below a level.
type tracer struct {
	m    *motion.Mechanism
	r    *Range
	of   *clearance.Region
	pair int
	s    *motion.Solver
	sc   *clearance.Scratch
	last motion.Pose
}

// loops fills the loops of a region: through the middles of its squares, each crossing found by halving on positions themselves.
func (t *touching) loops(ctx context.Context, pair int, out *Region) error {
	w := &tracer{m: t.m, r: t.r, of: out.Region, pair: pair, s: t.m.NewSolver(), sc: t.c.NewScratch(), last: t.m.Ride()}
	nh, na := out.Size()
	in := make([]bool, (nh+2)*(na+2)) // with a border that is out
	at := func(i, k int) *bool { return &in[(i+1)*(na+2)+k+1] }
	for i := range nh {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		for k := range na {
			if out.Square(i, k) >= clearance.NearUnder {
				*at(i, k) = w.reached(float64(i)+0.5, float64(k)+0.5)
			}
		}
	}
	place := map[crossing]Corner{}
	next := map[crossing]crossing{}
	var order []crossing
	cross := func(c crossing) crossing {
		if _, have := place[c]; !have {
			j, l := c.i, c.k+1
			if c.across {
				j, l = c.i+1, c.k
			}
			place[c] = w.between(c.i, c.k, j, l, *at(c.i, c.k))
			order = append(order, c)
		}
		return c
	}
	for i := -1; i < nh; i++ {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		for k := -1; k < na; k++ {
			// the corners of a square between four middles, and the ways between them, going round
			in := [4]bool{*at(i, k), *at(i+1, k), *at(i+1, k+1), *at(i, k+1)}
			ways := [4]crossing{{i, k, true}, {i + 1, k, false}, {i, k + 1, true}, {i, k, false}}
			for n := range 4 { // a loop comes in where the next corner is out, and goes out where, turning back, one is
				if !in[n] || in[(n+1)%4] {
					continue
				}
				back := n
				for in[back] {
					back = (back + 3) % 4
				}
				next[cross(ways[n])] = cross(ways[back])
			}
		}
	}
	used := map[crossing]bool{}
	for _, c := range order {
		if used[c] {
			continue
		}
		var loop []Corner
		for at, ok := c, true; ok && !used[at]; at, ok = next[at] {
			used[at] = true
			loop = append(loop, place[at])
		}
		if slices.Reverse(loop); len(loop) > 2 { // heave and articulation turn the other way round than left and right
			out.Loops = append(out.Loops, loop)
		}
	}
	if len(out.Loops) == 0 {
		return nil
	}
	out.Left, out.Right = [2]float64{math.Inf(1), math.Inf(-1)}, [2]float64{math.Inf(1), math.Inf(-1)}
	for _, l := range out.Loops {
		for _, p := range l {
			out.Left = [2]float64{math.Min(out.Left[0], p.Left), math.Max(out.Left[1], p.Left)}
			out.Right = [2]float64{math.Min(out.Right[0], p.Right), math.Max(out.Right[1], p.Right)}
		}
	}
	return nil
}

// reached reports whether a place, counted in squares, lies in the range; well within the outline no position is worked out.
func (w *tracer) reached(i, k float64) bool {
	l, r := w.of.Travels(i, k)
	if radius, _ := w.r.outline(l, r); math.Hypot(l, r) < wellInside*radius {
		return true
	}
	return w.r.Contains(l, r)
}

// wellInside is the share of the outline's polygon within which all is in the range.
const wellInside = 0.98

// below reports whether a position is in the range and the gap there below the level.
func (w *tracer) below(l, r float64) bool {
	var p motion.Pose
	if !w.s.Near(&w.last, l, r, rowTries, &p) || !w.r.inside(&p) {
		return false
	}
	w.last = p
	w.sc.PlacePair(w.pair, &p)
	var g clearance.Gap
	w.sc.Gap(w.pair, &g)
	return g.Gap < w.of.Level
}

// between is where a loop crosses the way from the middle of square (i, k) to that of (j, l); first tells whether the one it starts from is in.
func (w *tracer) between(i, k, j, l int, first bool) Corner {
	from, to := 0.0, 1.0
	at := func(t float64) (left, right float64) {
		return w.of.Travels(float64(i)+0.5+t*float64(j-i), float64(k)+0.5+t*float64(l-k))
	}
	for range loopSteps {
		if mid := (from + to) / 2; w.below(at(mid)) == first {
			from = mid
		} else {
			to = mid
		}
	}
	if !first { // the end that is in
		from = to
	}
	left, right := at(from)
	return Corner{left, right}
}

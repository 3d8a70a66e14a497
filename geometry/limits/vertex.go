package limits

import (
	"math"

	"axleloft/geometry/motion"
)

// vertex finds where the outline passes from one limit to another between two rays; the last of the one and the first of the other. Where two limits
// cross it is the position at which both are met; else, and where another comes between, the angle is halved.
func (r *Range) vertex(s *motion.Solver, lo, hi, close float64, a, b *By) []By {
	if a.Cause != NoAssembly && b.Cause != NoAssembly {
		if p, ok := r.crossing(s, lo, hi, a, b); ok {
			first, second := *a, *b
			first.Left, first.Right, second.Left, second.Right = p.Left, p.Right, p.Left, p.Right
			return []By{first, second}
		}
	}
	first, second := *a, By{}
	ray := r.near(s, lo, hi, math.Min(math.Hypot(a.Left, a.Right), math.Hypot(b.Left, b.Right)))
	for range 60 {
		if hi-lo < close {
			break
		}
		mid := (lo + hi) / 2
		b := ray(mid)
		if b.Cause == a.Cause && b.Index == a.Index {
			lo, first = mid, b
		} else {
			hi, second = mid, b
		}
	}
	if second.Cause == 0 {
		return []By{first}
	}
	return []By{first, second}
}

// crossing is the position between two rays at which the limits that end them are both met, and no other is overrun.
func (r *Range) crossing(s *motion.Solver, lo, hi float64, a, b *By) (*motion.Pose, bool) {
	var at motion.Pose
	if s.Solve(a.Left, a.Right, &at) != nil {
		return nil, false
	}
	of := func(e *By) func(*motion.Pose) (float64, int) {
		k := limit{e.Cause, e.Index}
		return func(p *motion.Pose) (float64, int) { return k.margin(r.m, p), 0 }
	}
	p, ok := r.meet(s, at, of(a), of(b))
	if !ok {
		return nil, false
	}
	angle := positive(math.Atan2(p.Right, p.Left))
	if _, v := r.worst(p); v < -edgeTol || angle < lo || angle > hi {
		return nil, false
	}
	return p, true
}

// corner finds the position of the outline with the largest sign*(left - right). The best point of the outline is it where the outline falls away on
// both sides at once, as at a vertex; else it is searched for about that point by the angle.
func (r *Range) corner(s *motion.Solver, sign float64) *Corner {
	best, at := math.Inf(-1), 0
	for i := range r.Edge {
		if d := sign * (r.Edge[i].Left - r.Edge[i].Right); d > best {
			best, at = d, i
		}
	}
	n := len(r.Edge)
	angleOf := func(e *By) float64 { return math.Atan2(e.Right, e.Left) }
	mid := angleOf(&r.Edge[at])
	wrap := func(a float64) float64 { return a - 2*math.Pi*math.Round((a-mid)/(2*math.Pi)) }
	lo, hi := wrap(angleOf(&r.Edge[(at+n-1)%n])), wrap(angleOf(&r.Edge[(at+1)%n]))
	// neighbours that are the same vertex leave no room: step out
	for k := 2; mid-lo < 1e-6 && k < n; k++ {
		lo = wrap(angleOf(&r.Edge[(at+n-k)%n]))
	}
	for k := 2; hi-mid < 1e-6 && k < n; k++ {
		hi = wrap(angleOf(&r.Edge[(at+k)%n]))
	}
	ray := r.near(s, lo, hi, math.Min(math.Hypot(r.Edge[at].Left, r.Edge[at].Right), 1e6))
	b := r.Edge[at]
	f := func(a float64) float64 {
		e := ray(a)
		v := sign * (e.Left - e.Right)
		if v > best {
			b, best = e, v
		}
		return v
	}
	close := cornerClose
	if r.Edge[at].Cause == NoAssembly {
		close = 1e-2 // the outline turns there, and it is where the links end, which no one sets
	}
	top := best
	switch up, down := f(mid+cornerLook), f(mid-cornerLook); {
	case up > top:
		highest(f, mid, top, hi, close)
	case down > top:
		highest(f, mid, top, lo, close)
	}
	entered := func(e *By) bool { return e.Cause == EnteredLimit && e.Index == EnteredArticulation }
	for i := range r.Edge {
		if e := &r.Edge[i]; entered(e) && sign*(e.Left-e.Right) >= best-10*edgeTol {
			return nil
		}
	}
	if entered(&b) {
		return nil
	}
	b = r.held(s, b)
	return &Corner{Left: b.Left, Right: b.Right}
}

const (
	cornerLook  = 1e-5 // rad to either side: does the outline fall away there?
	cornerClose = 2e-7 // rad: 5e-5 mm along the outline, which is flat there
)

// highest searches a function for its largest value between a, where it has the value fa and rises, and b, by parabolas through the best three points
// and golden section where they do not help.
func highest(f func(float64) float64, a, fa, b, close float64) {
	golden := (3 - math.Sqrt(5)) / 2
	// x is the best so far, w and v the next; lo and hi hold the place
	lo, hi := a, b
	if lo > hi {
		lo, hi = hi, lo
	}
	x := a + golden*(b-a)
	fx := f(x)
	w, fw := a, fa
	if fw > fx {
		x, w, fx, fw = w, x, fw, fx
	}
	v, fv := w, fw
	last, before := hi-lo, hi-lo
	for hi-lo > close && math.Max(x-lo, hi-x) > close {
		mid := (lo + hi) / 2
		step := 0.0
		p := (x-v)*(x-v)*(fx-fw) - (x-w)*(x-w)*(fx-fv)
		q := 2 * ((x-v)*(fx-fw) - (x-w)*(fx-fv))
		if q != 0 {
			step = -p / q
		}
		if y := x + step; q == 0 || !(y > lo+close/4 && y < hi-close/4) || math.Abs(step) > before/2 {
			if x < mid {
				step = golden * (hi - x)
			} else {
				step = golden * (lo - x)
			}
		}
		if math.Abs(step) < close/4 {
			step = math.Copysign(close/4, mid-x)
		}
		before, last = last, math.Abs(step)
		y := x + step
		fy := f(y)
		if fy >= fx {
			if y > x {
				lo = x
			} else {
				hi = x
			}
			v, fv, w, fw, x, fx = w, fw, x, fx, y, fy
			continue
		}
		if y > x {
			hi = y
		} else {
			lo = y
		}
		if fy >= fw || w == x {
			v, fv, w, fw = w, fw, y, fy
		} else if fy >= fv || v == x || v == w {
			v, fv = y, fy
		}
	}
}

package limits

import (
	"math"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// How a ray is followed to where the links end it.
const (
	lastRounds = 16
	lastLooks  = 2     // at each round, for a limit overrun and kept again
	lastPart   = 0.75  // of the way that is left, each round
	lastNear   = 0.8   // mm left, from which the end of the links' reach is believed as it is worked out
	lastWell   = 5.0   // mm left, from which it is believed if the round before gave the same
	lastSame   = 0.02  // mm, to this
	lastTries  = 400   // steps of the march to the position short of it
	linksBack  = 0.25  // mm: how far short of it the range ends
	heldLeast  = 0.001 // of Pose.Held: less, and the links have let go of the axle
)

// held draws an end that the links make back by as little as makes it a position that can be had from ride height in whatever steps.
func (r *Range) held(s *motion.Solver, b By) By {
	const most = 0.1 // mm
	far := math.Hypot(b.Left, b.Right)
	if b.Cause != NoAssembly || far < most {
		return b
	}
	var p motion.Pose
	for back := 0.0; back < most; back = 4*back + edgeTol {
		k := 1 - back/far
		if s.Solve(k*b.Left, k*b.Right, &p) == nil {
			b.Left, b.Right = k*b.Left, k*b.Right
			break
		}
	}
	return b
}

// last goes on along a ray from a position inside, at the distance at, on to where the links let the axle no further, if no limit is met before and
// that is no further than most: p is how far the first step towards next came.
//
// At the end of the links' reach x* the axle moves ever faster for its travel, as 1/sqrt(x* - x): with w = 1/speed, x = x* - a w^2 - b w^3. Steps
// towards it get ever shorter, so x* is worked out from the last three positions when it is near, and the ray ends linksBack short of it, at a
// position that can be stood on.
func (r *Range) last(s *motion.Solver, from *motion.Pose, at float64, p *motion.Pose, next, most, dl, dr, before float64) By {
	t := tail{r: r, s: s, dl: dl, dr: dr, base: *from, before: before}
	t.x[1], t.w[1] = at, t.slow(from)
	n, was := 2, math.Inf(1)
	for range lastRounds {
		y := t.along(p)
		if !(y > t.x[1]+edgeTol) {
			break
		}
		if t.goOn(p) {
			return t.met
		}
		if p.Held < heldLeast {
			return linksEnd(y, dl, dr)
		}
		end := foldAt(t.x, t.w, n)
		n = 3
		left := end - y
		if !(left > 0) || end > most+lastNear {
			end, left = most, math.Inf(1)
		}
		sure := left < lastNear || (left < lastWell && math.Abs(end-was) < lastSame)
		was = end
		if sure {
			y = math.Max(y, math.Min(end-linksBack, most))
			start := t.base
			reached := s.Near(&start, y*dl, y*dr, lastTries, p)
			if t.along(p) > t.x[1] && t.goOn(p) {
				return t.met
			}
			if reached && y == most {
				return r.along(s, *p, y, marchStep, dl, dr, most)
			}
			break
		}
		y = math.Min(y+lastPart*(end-y), next)
		start := t.base
		if s.Near(&start, y*dl, y*dr, alongTries, p) && y == next {
			if t.goOn(p) {
				return t.met
			}
			return r.along(s, *p, y, edgeTol, dl, dr, most)
		}
	}
	return linksEnd(t.along(&t.base), dl, dr)
}

// tail is the last part of a ray.
type tail struct {
	r      *Range
	s      *motion.Solver
	dl, dr float64
	base   motion.Pose // furthest position inside so far
	before float64     // its worst margin
	x, w   [3]float64  // distance and slowness of the newest position, at 1, and of those before it, at 0 and 2
	met    By
}

func (t *tail) along(p *motion.Pose) float64 { return p.Left*t.dl + p.Right*t.dr }

// slow is 1/speed of the axle for travel along the ray, speed in mm (and turns at one metre) per mm.
func (t *tail) slow(p *motion.Pose) float64 {
	const metre = 1000.0
	var q motion.Rates
	if t.s.Rates(p, &q) != nil {
		return math.NaN()
	}
	h, c := (t.dl+t.dr)/2, (t.dl-t.dr)/2
	v := r3.Add(r3.Scale(h, q.Heave.V), r3.Scale(c, q.Roll.V))
	w := r3.Add(r3.Scale(h, q.Heave.W), r3.Scale(c, q.Roll.W))
	return 1 / math.Sqrt(v.X*v.X+v.Y*v.Y+metre*metre*r3.Norm2(w))
}

// goOn takes in a position further on; true where a limit is met on the way to it: then it is in met.
func (t *tail) goOn(q *motion.Pose) bool {
	from, to := t.x[1], t.along(q)
	for i := 1; i < lastLooks; i++ { // a limit may be overrun and kept again within so fast a step
		var look motion.Pose
		y := from + (to-from)*float64(i)/lastLooks
		if !t.s.Near(&t.base, y*t.dl, y*t.dr, alongTries, &look) {
			break
		}
		if k, v := t.r.worst(&look); v < 0 {
			t.met = t.r.root(t.s, &t.base, t.dl, t.dr, from, y, t.before, v, k)
			return true
		}
	}
	k, v := t.r.worst(q)
	if v < 0 {
		t.met = t.r.root(t.s, &t.base, t.dl, t.dr, from, to, t.before, v, k)
		return true
	}
	t.base, t.before = *q, v
	t.x = [3]float64{from, to, t.x[0]}
	t.w = [3]float64{t.w[1], t.slow(q), t.w[0]}
	return false
}

// foldAt is x* of x = x* - a w^2 (- b w^3 with three points).
func foldAt(x, w [3]float64, n int) float64 {
	s0, s1 := w[0]*w[0], w[1]*w[1]
	a := (x[1] - x[0]) / (s0 - s1)
	if n < 3 {
		return x[1] + a*s1
	}
	// divided differences by w^2 leave a + b (w^3 differences)/(w^2 differences)
	s2 := w[2] * w[2]
	c0 := (w[0]*s0 - w[1]*s1) / (s0 - s1)
	a2 := (x[0] - x[2]) / (s2 - s0)
	c2 := (w[2]*s2 - w[0]*s0) / (s2 - s0)
	b := (a - a2) / (c0 - c2)
	return x[1] + (a-b*c0)*s1 + b*w[1]*s1
}

// linksEnd is the end of a ray where the links let the axle no further.
func linksEnd(at, dl, dr float64) By {
	return By{Cause: NoAssembly, What: NoAssembly.String(), Left: at * dl, Right: at * dr}
}

package limits

import (
	"math"
	"sort"
	"sync"

	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	edgeTol    = 1e-6 // mm, of an edge or a crossing along a ray
	marchStep  = 25.0 // mm along a ray
	lastLooks  = 2    // at each step towards where the links end a ray
	sameEdge   = 1e-7 // rad: two rays this close have the range's vertex between them
	sameEnd    = 5e-4 // rad: the same where the links are what ends the travel on one side of it
	alongTries = 30   // steps of a march along a ray that are waited for
	lastTries  = 400  // of the one to the position short of the links' end
	lastRounds = 16
	lastPart   = 0.75  // of the way that is left, each round
	lastNear   = 0.8   // mm left, from which the end of the links\' reach is believed as it is worked out
	lastWell   = 5.0   // mm left, from which it is believed if the position before gave the same
	lastSame   = 0.02  // mm, to this
	heldLeast  = 0.001 // of Pose.Held: less, and the links have let go of the axle
	linksBack  = 0.25  // mm: how far short of the links' end the range ends
	inside     = 0.97  // of the way to the edge: where rays of neighbouring angles start
)

// Range is the patch of (left, right) that counts: all that can be reached from ride height within what the job gives of struts, stops, straps
// and entered travel. It is safe for concurrent use.
type Range struct {
	Bounded         bool
	Edge            []By    // the outline by rising angle from 0 to 360 deg: one per ray, and the vertices between them
	Bump, Droop     float64 // positive, along left = right
	LeftUp, RightUp *Corner // of largest and smallest left - right; nil where the articulation entered is itself the edge there

	m       *motion.Mechanism
	angles  []float64 // of Edge, rad, rising from 0
	list    []limit
	solvers sync.Pool
}

// Find finds the range with the given number of rays. A job that gives nothing to bound the travel has Bounded false and no edge.
// The error is a plain sentence: ride height itself lies outside a limit.
func Find(m *motion.Mechanism, rays int) (*Range, error) { return FindWith(m, rays, 1) }

// FindWith is Find on some goroutines; the range does not depend on how many.
func FindWith(m *motion.Mechanism, rays, workers int) (*Range, error) {
	r := &Range{m: m, list: rangeLimits(m)}
	r.solvers.New = func() any { return m.NewSolver() }
	if len(r.list) == 0 {
		return r, nil
	}
	if err := atRide(m, r.list); err != nil {
		return r, err
	}
	r.Bounded = true
	if m.OverLocated {
		r.list = append(r.list, limit{NoAssembly, 0})
	}
	spread := func(n int, work func(s *motion.Solver, i int)) {
		Spread(max(1, workers), n, func() func(int) {
			s := m.NewSolver()
			return func(i int) { work(s, i) }
		})
	}
	angle := func(i int) float64 { return 2 * math.Pi * float64(i) / float64(rays) }
	edges := make([]By, rays)
	spread(rays, func(s *motion.Solver, i int) { edges[i] = r.ray(s, angle(i)) })
	between := make([][]By, rays)
	spread(rays, func(s *motion.Solver, i int) {
		a, b := &edges[i], &edges[(i+1)%rays]
		if a.Cause == b.Cause && a.Index == b.Index {
			return
		}
		close := sameEdge
		if a.Cause == NoAssembly || b.Cause == NoAssembly {
			close = sameEnd
		}
		between[i] = r.vertex(s, angle(i), angle(i+1), close, a, b)
	})
	for i := range rays {
		r.Edge = append(append(r.Edge, edges[i]), between[i]...)
	}
	r.angles = make([]float64, len(r.Edge))
	for i := range r.Edge {
		r.angles[i] = positive(math.Atan2(r.Edge[i].Right, r.Edge[i].Left))
		if i > 0 { // round-off must not turn the order round
			r.angles[i] = math.Max(r.angles[i], r.angles[i-1])
		}
	}
	spread(4, func(s *motion.Solver, i int) {
		switch i {
		case 0:
			r.Bump = r.held(s, r.ray(s, math.Pi/4)).Left
		case 1:
			r.Droop = -r.held(s, r.ray(s, 5*math.Pi/4)).Left
		case 2:
			r.LeftUp = r.corner(s, 1)
		case 3:
			r.RightUp = r.corner(s, -1)
		}
	})
	return r, nil
}

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

// direction is the unit direction of an angle, with the diagonals and axes exact.
func direction(a float64) (l, r float64) {
	r, l = math.Sincos(a)
	eighth := a / (math.Pi / 4)
	if k := math.Round(eighth); math.Abs(eighth-k) < 1e-12 {
		d := math.Sqrt2 / 2
		v := [8][2]float64{{1, 0}, {d, d}, {0, 1}, {-d, d}, {-1, 0}, {-d, -d}, {0, -1}, {d, -d}}[((int(k)%8)+8)%8]
		l, r = v[0], v[1]
	}
	return l, r
}

// ray marches from ride height and finds where the range ends: false position (Illinois) on the worst margin.
func (r *Range) ray(s *motion.Solver, a float64) By {
	dl, dr := direction(a)
	return r.along(s, r.m.Ride(), 0, marchStep, dl, dr, math.Inf(1))
}

// near gives rays of neighbouring angles a common start well inside the edge, so that they need not march from ride height each time.
func (r *Range) near(s *motion.Solver, lo, hi float64, at float64) func(a float64) By {
	first := firstStep(at)
	at *= inside
	dl, dr := direction((lo + hi) / 2)
	var start motion.Pose
	if s.Solve(at*dl, at*dr, &start) != nil {
		return func(a float64) By { return r.ray(s, a) }
	}
	return func(a float64) By {
		dl, dr := direction(a)
		var p motion.Pose
		if s.Near(&start, at*dl, at*dr, nearTries, &p) {
			if _, v := r.worst(&p); v > 0 {
				return r.along(s, p, at, first, dl, dr, math.Inf(1))
			}
		}
		return r.ray(s, a)
	}
}

// firstStep is the first step of a ray that starts inside the edge it has at about the distance far: a step that runs far past the edge may end
// where the links do, which is costly to find out.
func firstStep(far float64) float64 { return math.Min(marchStep, 1.5*(1-inside)*far) }

// along is ray for a unit direction, from a position on it at the distance at to at most the distance far, with a first step that is doubled up to
// marchStep; Cause is 0 where nothing is met up to there.
func (r *Range) along(s *motion.Solver, last motion.Pose, at, step, dl, dr, far float64) By {
	m := r.m
	var p motion.Pose
	_, before := r.worst(&last)
	most := math.Inf(1) // the travels' difference must stay under the track
	if d := math.Abs(dl - dr); d > 1e-12 {
		most = 0.98 * m.Track / d
	}
	end := math.Min(far, most)
	for {
		next := math.Min(at+step, end)
		step = math.Min(2*step, marchStep)
		if !s.Near(&last, next*dl, next*dr, alongTries, &p) {
			return r.last(s, &last, at, &p, next, end, dl, dr, before)
		}
		k, v := r.worst(&p)
		if v < 0 {
			return r.root(s, &last, dl, dr, at, next, before, v, k)
		}
		if next == far {
			return By{Left: next * dl, Right: next * dr}
		}
		if next == most {
			return linksEnd(next, dl, dr)
		}
		at, last, before = next, p, v
	}
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

// worst is the smallest margin of all limits and which it is.
func (r *Range) worst(p *motion.Pose) (int, float64) {
	k, least := -1, math.Inf(1)
	for i := range r.list {
		if v := r.list[i].margin(r.m, p); v < least {
			k, least = i, v
		}
	}
	return k, least
}

// root finds where the worst margin is zero between lo (inside) and hi (outside), by the Illinois form of false position. near is the pose at lo
// and moves with it: close to where the links end the travel a step from further away is no more than a costly failure.
func (r *Range) root(s *motion.Solver, near *motion.Pose, dl, dr, lo, hi, vlo, vhi float64, k int) By {
	var p motion.Pose
	from := *near
	flo, fhi := vlo, vhi
	for range 100 {
		if hi-lo <= edgeTol/4 {
			break
		}
		x := (lo*fhi - hi*flo) / (fhi - flo)
		if !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		stuck := s.SolveFrom(&from, x*dl, x*dr, &p) != nil
		i, v := r.worst(&p)
		if stuck {
			if x = p.Left*dl + p.Right*dr; v >= 0 {
				return linksEnd(math.Max(lo, x), dl, dr)
			}
		}
		if v < 0 {
			hi, fhi, k = x, v, i
			flo /= 2
		} else {
			lo, flo, from = x, v, p
			fhi /= 2
			if v < edgeTol/20 {
				k = i
				break
			}
		}
	}
	l := r.list[k]
	return By{Cause: l.cause, Index: l.index, What: l.what(r.m), Left: lo * dl, Right: lo * dr}
}

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

// positive is an angle from 0 up to a whole turn.
func positive(a float64) float64 {
	if a < 0 {
		a += 2 * math.Pi
	}
	return a
}

// outline is how far the outline's polygon reaches in a direction, mm, and whether the links end the travel there.
func (r *Range) outline(left, right float64) (radius float64, links bool) {
	a := positive(math.Atan2(right, left))
	n := len(r.Edge)
	i := sort.SearchFloat64s(r.angles, a)
	p, q := &r.Edge[(i+n-1)%n], &r.Edge[i%n]
	links = p.Cause == NoAssembly || q.Cause == NoAssembly
	// the ray through the polygon's side from p to q
	sin, cos := math.Sincos(a)
	dl, dr := q.Left-p.Left, q.Right-p.Right
	if den := cos*dr - sin*dl; math.Abs(den) > 1e-12 {
		if t := (p.Left*dr - p.Right*dl) / den; t > 0 {
			return t, links
		}
	}
	return math.Max(math.Hypot(p.Left, p.Right), math.Hypot(q.Left, q.Right)), links
}

// wellOutside reports whether a position lies so far beyond a part of the outline where the links end the travel that to go there would be lost time:
// near the end of their way the march makes ever smaller steps.
func (r *Range) wellOutside(left, right float64) bool {
	radius, links := r.outline(left, right)
	return links && math.Hypot(left, right) > 1.02*radius+0.5
}

// Contains reports whether a position lies in the range, to 1e-6 mm of its edge, by the limits themselves, not by the outline.
func (r *Range) Contains(left, right float64) bool {
	if !r.Bounded || r.wellOutside(left, right) {
		return false
	}
	s := r.solvers.Get().(*motion.Solver)
	defer r.solvers.Put(s)
	var p motion.Pose
	if s.Solve(left, right, &p) != nil {
		return false
	}
	return r.inside(&p)
}

// inside reports whether a solved position lies within every limit.
func (r *Range) inside(p *motion.Pose) bool {
	for i := range r.list {
		if r.list[i].margin(r.m, p) < -edgeTol {
			return false
		}
	}
	return true
}

// Clamp returns the last position inside the range on the way from ride to (left, right), and what ends it there (nil where (left, right) itself
// is inside). Without a range it returns the position as it is.
func (r *Range) Clamp(left, right float64) (l, rr float64, by *By) {
	far := math.Hypot(left, right)
	if !r.Bounded || far == 0 {
		return left, right, nil
	}
	s := r.solvers.Get().(*motion.Solver)
	defer r.solvers.Put(s)
	b := r.along(s, r.m.Ride(), 0, marchStep, left/far, right/far, far)
	if b.Cause == 0 {
		return left, right, nil
	}
	return b.Left, b.Right, &b
}

package limits

import (
	"math"
	"sort"
	"sync"

	"axleloft/geometry/motion"
)

const (
	edgeTol    = 1e-6 // mm, of an edge or a crossing along a ray
	marchStep  = 25.0 // mm along a ray
	alongTries = 30   // steps of a march along a ray that are waited for
	sameEdge   = 1e-7 // rad: two rays this close have the range's vertex between them
	sameEnd    = 5e-4 // rad: the same where the links are what ends the travel on one side of it
	inside     = 0.97 // of the way to the edge: where rays of neighbouring angles start
)

// Range is the patch of (left, right) that counts: all that can be reached from ride height within what the job gives of struts, stops, straps
// and entered travel. It is safe for concurrent use.
type Range struct {
	Bounded         bool
	Edge            []By    // the outline by rising angle from 0 to 360 deg: one per ray, and the vertices between them
	Bump, Droop     float64 // positive, along left = right
	LeftUp, RightUp *Corner // of largest and smallest left - right; nil where the articulation entered is itself the edge there

	m       *motion.Mechanism
	rays    int
	angles  []float64 // of Edge, rad, rising from 0
	list    []limit
	solvers sync.Pool
}

// Find finds the range with the given number of rays. A job that gives nothing to bound the travel has Bounded false and no edge.
// The error is a plain sentence: ride height itself lies outside a limit.
func Find(m *motion.Mechanism, rays int) (*Range, error) { return FindWith(m, rays, 1) }

// FindWith is Find on some goroutines; the range does not depend on how many.
func FindWith(m *motion.Mechanism, rays, workers int) (*Range, error) {
	r := &Range{m: m, rays: rays, list: rangeLimits(m)}
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

// FindFrom is FindWith that gives an earlier range where that is the same: the motion is, and what ends it has the same names.
func FindFrom(m *motion.Mechanism, rays, workers int, before ...*Range) (*Range, error) {
	for _, o := range before {
		if o != nil && o.Bounded && o.rays == rays && m.SameMotion(o.m) && sameNames(m, o.m) {
			return o, nil
		}
	}
	return FindWith(m, rays, workers)
}

// sameNames reports whether what bounds the range of two mechanisms of the same motion is called the same.
func sameNames(a, b *motion.Mechanism) bool {
	of := rangeLimits(b)
	for i, k := range rangeLimits(a) {
		if k != of[i] || k.what(a) != of[i].what(b) {
			return false
		}
	}
	return true
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
		most = motion.CrossedMost * m.Track / d
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

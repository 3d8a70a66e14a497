package limits

import (
	"context"
	"errors"
	"math"
	"slices"
	"sort"
	"sync/atomic"

	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

const (
	ringRays    = 24
	ringStep    = 2.0  // mm along a ray
	closeStep   = 0.5  // mm along a ray while a pair is within nearGap
	nearGap     = 6.0  // mm
	gapSpeed    = 4.0  // mm of gap per mm along a ray: how fast two parts are taken to close at most; those of a live axle close at 1 to 2 (chosen, not proved)
	beyond      = 1.5  // what comes after the first strut, stop, strap or entered travel is looked for to this many times its travel
	beyondOther = 4.0  // and where nothing of that kind is met, to this many times the first of anything
	beyondMost  = 80.0 // and at most this far past it, mm
)

// Ray is one direction from ride height: the things met in order; the first is the stop. By is empty where nothing is met.
type Ray struct {
	Angle       float64 // deg
	Left, Right float64 // where the first is met
	By          []By
	Rubber      []By // where the rubber of stops is met, in order, up to where By ends
}

// meter measures everything but gaps that can stop an axle at one pose as margins, positive inside.
type meter struct {
	m      *motion.Mechanism
	list   []limit
	solver *motion.Solver
	vals   *quantity.Values
	rates  motion.Rates
	load   quantity.Load
	events []event
	pose   motion.Pose
}

// event is one thing that can be met.
type event struct {
	cause   Cause
	index   int
	torsion bool
	what    string
}

func newMeter(m *motion.Mechanism, list []limit) *meter {
	t := &meter{m: m, list: list, solver: m.NewSolver(), vals: quantity.NewValues(m), load: quantity.Load{Radius: m.Radius}}
	for _, k := range list {
		t.events = append(t.events, event{cause: k.cause, index: k.index, what: k.what(m)})
	}
	for i := range m.Stops {
		if k := (limit{RubberTouch, i}); m.Stops[i].Touch > m.Stops[i].Closed {
			t.events = append(t.events, event{cause: k.cause, index: i, what: k.what(m)})
		}
	}
	for i := range m.Joints {
		j := &m.Joints[i]
		if !math.IsNaN(j.End.MisLimit) {
			t.events = append(t.events, event{JointLimit, i, false, "joint " + j.Name + ", misalignment"})
		}
		if !math.IsNaN(j.End.TorLimit) {
			t.events = append(t.events, event{JointLimit, i, true, "joint " + j.Name + ", torsion"})
		}
	}
	if d := &m.Drive; d.Has {
		if !math.IsNaN(d.JointLimit) {
			joints := []int{ShaftFront, ShaftRear}
			if d.TwoPiece {
				joints = []int{ShaftFront, ShaftBearing, ShaftRear}
			}
			for _, k := range joints {
				t.events = append(t.events, event{cause: ShaftLimit, index: k, what: ShaftLimit.String() + " " + shaftWords[k]})
			}
		}
		if !math.IsNaN(d.SlipIn) {
			t.events = append(t.events, event{cause: SlipUsed, index: 0, what: "slip in"})
		}
		if !math.IsNaN(d.SlipOut) {
			t.events = append(t.events, event{cause: SlipUsed, index: 1, what: "slip out"})
		}
	}
	return t
}

// at solves a position from a near one and works out what the margins need; false where it cannot be reached.
func (t *meter) at(from *motion.Pose, left, right float64) error {
	if err := t.solver.SolveFrom(from, left, right, &t.pose); err != nil {
		return err
	}
	if err := t.solver.Rates(&t.pose, &t.rates); err != nil {
		return err
	}
	quantity.Eval(t.m, &t.pose, &t.rates, &t.load, t.vals)
	return nil
}

// margin of one event at the position solved last.
func (t *meter) margin(e *event) float64 {
	switch e.cause {
	case JointLimit:
		j := &t.m.Joints[e.index]
		use := t.vals.Joint(j)
		if e.torsion {
			return j.End.TorLimit - math.Abs(use.Torsion)
		}
		return j.End.MisLimit - use.Misalignment
	case ShaftLimit:
		angle := [...]float64{ShaftFront: t.vals.ShaftFrontDeg, ShaftRear: t.vals.ShaftRearDeg, ShaftBearing: t.vals.ShaftBearingDeg}[e.index]
		return t.m.Drive.JointLimit - angle*math.Pi/180
	case SlipUsed:
		if e.index == 0 {
			return t.m.Drive.SlipIn + t.vals.Slip
		}
		return t.m.Drive.SlipOut - t.vals.Slip
	}
	return limit{e.cause, e.index}.margin(t.m, &t.pose)
}

// Ring marches the 24 directions 0, 15 ... 345 deg, (left, right) = s (cos a, sin a), and tells everything met, in order, up to the first stop and
// some way beyond. touch may be nil: gaps are left out then. Pairs that overlap at ride height are a finding of their own and left out here.
// The same bits however many workers. A cancelled context gives its error.
func Ring(ctx context.Context, m *motion.Mechanism, touch *clearance.Model, r *Range, workers int) ([]Ray, error) {
	w, err := RingFrom(ctx, m, touch, r, workers, nil, nil)
	if err != nil {
		return nil, err
	}
	return w.Rays, nil
}

// RingWork is what one pass round the ring came to, kept so that the next one need not do again what has stayed the same. Read-only.
type RingWork struct {
	Rays []Ray

	m       *motion.Mechanism
	touch   *clearance.Model // nil: gaps left out
	rays    int              // of the range
	march   [ringRays]march
	touches [ringRays][]float64 // by pair, how far along the ray it first touches, mm; NaN: it does not, or overlaps at ride height
}

// march is what is met along a ray, gaps left out.
type march struct {
	ray   Ray
	steps []float64 // distances along the ray, from 0
}

// RingFrom is Ring that takes from earlier passes what holds for this one too: what is met along the rays, where the axle is the same; where a pair touches, where besides its two shapes are. To the last
// bit it gives what it would without them. tell, unless nil, is called from any goroutine with how much is done, 0 to 1.
func RingFrom(ctx context.Context, m *motion.Mechanism, touch *clearance.Model, r *Range, workers int, before []*RingWork, tell func(float64)) (*RingWork, error) {
	list := r.list
	if list == nil {
		list = rangeLimits(m)
	}
	w := &RingWork{Rays: make([]Ray, ringRays), m: m, touch: touch, rays: r.rays}
	n := 0
	if touch != nil {
		n = len(touch.Pairs)
	}
	have := make([]bool, n)
	marched := false
	for i := range w.touches {
		w.touches[i] = make([]float64, n)
	}
	for _, o := range before {
		if o == nil || o.rays != w.rays || !m.Same(o.m) {
			continue
		}
		w.march, marched = o.march, true
		if touch == nil || o.touch == nil {
			continue
		}
		for i, k := range touch.Matches(o.touch) {
			if k < 0 || have[i] {
				continue
			}
			have[i] = true
			for a := range w.touches {
				w.touches[a][i] = o.touches[a][k]
			}
		}
	}
	var done atomic.Int64
	Spread(max(1, workers), ringRays, func() func(int) {
		var t *meter
		var c *toucher
		return func(i int) {
			if ctx.Err() != nil {
				return
			}
			deg := 360 / ringRays * float64(i)
			if !marched {
				if t == nil {
					t = newMeter(m, list)
				}
				w.march[i] = t.march(deg)
			}
			if slices.Contains(have, false) {
				if c == nil {
					c = newToucher(m, touch)
				}
				c.along(ctx, deg, w.march[i].steps, have, w.touches[i])
			}
			w.Rays[i] = w.ray(i)
			if tell != nil {
				tell(float64(done.Add(1)) / ringRays)
			}
		}
	})
	return w, ctx.Err()
}

// goesOn is how far along a ray it is looked on after something is met at s.
func goesOn(c Cause, s float64) float64 {
	switch {
	case c == NoAssembly:
		return s
	case c.Metal() || c == EnteredLimit:
		return math.Min(beyond*s, s+beyondMost)
	}
	return math.Max(beyondOther*s, beyondMost)
}

// ray puts together what is met along a ray.
func (w *RingWork) ray(i int) Ray {
	of := &w.march[i].ray
	ray := Ray{Angle: of.Angle}
	dl, dr := direction(ray.Angle * math.Pi / 180)
	all := slices.Clone(of.By)
	for k, s := range w.touches[i] {
		if !math.IsNaN(s) {
			all = append(all, By{Cause: Contact, Index: k, What: pairWhat(w.touch, k), Left: s * dl, Right: s * dr})
		}
	}
	far := math.Inf(1)
	for k := range all {
		far = math.Min(far, goesOn(all[k].Cause, travelled(&all[k], dl, dr)))
	}
	ray.By, ray.Rubber = inOrder(all, far, dl, dr), inOrder(slices.Clone(of.Rubber), far, dl, dr)
	if len(ray.By) > 0 {
		ray.Left, ray.Right = ray.By[0].Left, ray.By[0].Right
	}
	return ray
}

// inOrder sorts what is met along a ray and leaves out what is met beyond far; nil where nothing is left.
func inOrder(list []By, far, dl, dr float64) []By {
	list = slices.DeleteFunc(list, func(b By) bool { return travelled(&b, dl, dr) > far+edgeTol })
	sort.SliceStable(list, func(a, b int) bool {
		return travelled(&list[a], dl, dr) < travelled(&list[b], dl, dr)-edgeTol
	})
	if len(list) == 0 {
		return nil
	}
	return list
}

// march goes along one direction, gaps left out.
func (t *meter) march(deg float64) march {
	out := march{ray: Ray{Angle: deg}}
	ray := &out.ray
	dl, dr := direction(deg * math.Pi / 180)
	n := len(t.events)
	before, met := make([]float64, n), make([]bool, n)
	ride := t.m.Ride()
	if t.at(&ride, 0, 0) != nil {
		return out
	}
	for i := range t.events {
		before[i] = t.margin(&t.events[i])
		met[i] = before[i] < 0
	}
	last, at, far := t.pose, 0.0, math.Inf(1)
	out.steps = append(out.steps, 0)
	found := func(i int, s float64) {
		e := &t.events[i]
		met[i] = true
		b := By{Cause: e.cause, Index: e.index, Torsion: e.torsion, What: e.what, Left: s * dl, Right: s * dr}
		if e.cause == RubberTouch {
			ray.Rubber = append(ray.Rubber, b)
			return
		}
		ray.By = append(ray.By, b)
		far = math.Min(far, goesOn(e.cause, s))
	}
	var hits []int
	for at < far {
		s := at + ringStep
		err := t.at(&last, s*dl, s*dr)
		if err == nil && math.Abs(s*(dl-dr)) > 0.98*t.m.Track {
			err = &motion.Error{Kind: motion.OutOfReach, Left: at * dl, Right: at * dr}
		}
		end := false
		if err != nil {
			var e *motion.Error
			s = at
			if errors.As(err, &e) {
				s = math.Max(at, e.Left*dl+e.Right*dr)
			}
			end = true
			if !(s > at) || t.at(&last, s*dl, s*dr) != nil {
				ray.By = append(ray.By, By{Cause: NoAssembly, What: NoAssembly.String(), Left: s * dl, Right: s * dr})
				break
			}
		}
		pose := t.pose
		hits = hits[:0]
		for i := range t.events {
			if met[i] {
				continue
			}
			if v := t.margin(&t.events[i]); v < 0 {
				hits = append(hits, i)
			} else {
				before[i] = v
			}
		}
		for _, i := range hits {
			found(i, t.cross(&last, i, dl, dr, at, s))
		}
		out.steps = append(out.steps, s)
		at, last = s, pose
		if end {
			ray.By = append(ray.By, By{Cause: NoAssembly, What: NoAssembly.String(), Left: s * dl, Right: s * dr})
			break
		}
	}
	return out
}

func travelled(b *By, dl, dr float64) float64 { return b.Left*dl + b.Right*dr }

// cross finds where an event is met between two places of a ray, by halving after false position, to edgeTol.
func (t *meter) cross(from *motion.Pose, i int, dl, dr, lo, hi float64) float64 {
	e := &t.events[i]
	start := *from
	if t.at(&start, lo*dl, lo*dr) != nil {
		return lo
	}
	flo := t.margin(e)
	if t.at(&start, hi*dl, hi*dr) != nil {
		return lo
	}
	fhi := t.margin(e)
	for k := 0; hi-lo > edgeTol/2 && k < 100; k++ {
		x := (lo*fhi - hi*flo) / (fhi - flo)
		if k%3 == 2 || !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		if t.at(&start, x*dl, x*dr) != nil {
			hi = x
			continue
		}
		v := t.margin(e)
		if v < 0 {
			hi, fhi = x, v
			flo /= 2
		} else {
			lo, flo = x, v
			if v == 0 {
				return x
			}
			fhi /= 2
		}
	}
	return lo
}

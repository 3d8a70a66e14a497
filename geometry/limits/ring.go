package limits

import (
	"context"
	"errors"
	"math"
	"sort"

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

// meter measures everything that can stop an axle at one pose as margins, positive inside.
type meter struct {
	m      *motion.Mechanism
	touch  *clearance.Model
	list   []limit
	solver *motion.Solver
	vals   *quantity.Values
	rates  motion.Rates
	load   quantity.Load
	place  *clearance.Scratch
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

func newMeter(m *motion.Mechanism, touch *clearance.Model, list []limit, skip []bool) *meter {
	t := &meter{m: m, touch: touch, list: list, solver: m.NewSolver(), vals: quantity.NewValues(m), load: quantity.Load{Radius: m.Radius}}
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
	if touch != nil {
		t.place = touch.NewScratch()
		for i := range touch.Pairs {
			if !skip[i] {
				t.events = append(t.events, event{cause: Contact, index: i, what: pairWhat(touch, i)})
			}
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
	if t.place != nil {
		t.place.Place(&t.pose, t.vals.Links)
	}
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
	case Contact:
		var g clearance.Gap
		t.place.Gap(e.index, &g)
		return g.Gap
	}
	return limit{e.cause, e.index}.margin(t.m, &t.pose)
}

// Ring marches the 24 directions 0, 15 ... 345 deg, (left, right) = s (cos a, sin a), and tells everything met, in order, up to the first stop and
// some way beyond. touch may be nil: gaps are left out then. Pairs that overlap at ride height are a finding of their own and left out here.
// The same bits however many workers. A cancelled context gives its error.
func Ring(ctx context.Context, m *motion.Mechanism, touch *clearance.Model, r *Range, workers int) ([]Ray, error) {
	list := r.list
	if list == nil {
		list = rangeLimits(m)
	}
	var skip []bool
	if touch != nil {
		skip = overlapAtRide(m, touch)
	}
	rays := make([]Ray, ringRays)
	Spread(max(1, workers), ringRays, func() func(int) {
		t := newMeter(m, touch, list, skip)
		return func(i int) {
			if ctx.Err() == nil {
				rays[i] = t.ring(360 / ringRays * float64(i))
			}
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return rays, nil
}

// overlapAtRide tells which pairs overlap at ride height.
func overlapAtRide(m *motion.Mechanism, touch *clearance.Model) []bool {
	skip := make([]bool, len(touch.Pairs))
	ride := m.Ride()
	sc := touch.NewScratch()
	uses := make([]quantity.LinkUse, len(m.Links))
	quantity.Links(m, &ride, uses)
	sc.Place(&ride, uses)
	for i := range skip {
		var g clearance.Gap
		sc.Gap(i, &g)
		skip[i] = g.Gap < 0
	}
	return skip
}

// ring marches one direction.
func (t *meter) ring(deg float64) Ray {
	ray := Ray{Angle: deg}
	dl, dr := direction(deg * math.Pi / 180)
	n := len(t.events)
	before, next, met := make([]float64, n), make([]float64, n), make([]bool, n)
	ride := t.m.Ride()
	if t.at(&ride, 0, 0) != nil {
		return ray
	}
	for i := range t.events {
		before[i] = t.margin(&t.events[i])
		met[i] = before[i] < 0
	}
	last, at, far := t.pose, 0.0, math.Inf(1)
	found := func(i int, s float64) {
		e := &t.events[i]
		met[i] = true
		b := By{Cause: e.cause, Index: e.index, Torsion: e.torsion, What: e.what, Left: s * dl, Right: s * dr}
		if e.cause == RubberTouch {
			ray.Rubber = append(ray.Rubber, b)
			return
		}
		ray.By = append(ray.By, b)
		if e.cause == NoAssembly {
			far = math.Min(far, s)
		} else if e.cause.Metal() || e.cause == EnteredLimit {
			far = math.Min(far, math.Min(beyond*s, s+beyondMost))
		} else {
			far = math.Min(far, math.Max(beyondOther*s, beyondMost))
		}
	}
	lastSeen := make([]float64, n)
	for at < far {
		step := ringStep
		for i := range t.events {
			if t.events[i].cause == Contact && !met[i] && before[i] < nearGap && next[i] <= at {
				step = closeStep
				break
			}
		}
		s := at + step
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
		var hits []int
		for i := range t.events {
			if met[i] || (t.events[i].cause == Contact && next[i] > s) {
				continue
			}
			v := t.margin(&t.events[i])
			if v < 0 {
				hits = append(hits, i)
				continue
			}
			before[i], lastSeen[i] = v, s
			next[i] = s + math.Max(0, v-nearGap)/gapSpeed
		}
		for _, i := range hits {
			found(i, t.cross(&last, i, dl, dr, lastSeen[i], s))
		}
		at, last = s, pose
		if end {
			ray.By = append(ray.By, By{Cause: NoAssembly, What: NoAssembly.String(), Left: s * dl, Right: s * dr})
			break
		}
	}
	for _, list := range [][]By{ray.By, ray.Rubber} {
		sort.SliceStable(list, func(a, b int) bool {
			return travelled(&list[a], dl, dr) < travelled(&list[b], dl, dr)-edgeTol
		})
	}
	if len(ray.By) > 0 {
		ray.Left, ray.Right = ray.By[0].Left, ray.By[0].Right
	}
	return ray
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

package study

import (
	"context"
	"math"

	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// newExtent is an extent that has seen nothing.
func newExtent() Extent {
	return Extent{Min: math.Inf(1), Max: math.Inf(-1)}
}

// Known reports whether the extent has seen a value.
func (e *Extent) Known() bool { return e.Min <= e.Max }

func (e *Extent) add(v float64, left, right float64) {
	if math.IsNaN(v) {
		return
	}
	if v < e.Min {
		e.Min, e.MinLeft, e.MinRight = v, left, right
	}
	if v > e.Max {
		e.Max, e.MaxLeft, e.MaxRight = v, left, right
	}
}

// take takes in another extent, seen later.
func (e *Extent) take(o *Extent) {
	if !o.Known() {
		return
	}
	e.add(o.Min, o.MinLeft, o.MinRight)
	e.add(o.Max, o.MaxLeft, o.MaxRight)
}

// Most is the value furthest from zero, and where.
func (e *Extent) Most() (v, left, right float64) {
	if -e.Min > e.Max {
		return e.Min, e.MinLeft, e.MinRight
	}
	return e.Max, e.MaxLeft, e.MaxRight
}

// newExtents are extents that have seen nothing.
func newExtents(m *motion.Mechanism, loads int) *Extents {
	x := &Extents{
		AntiSquat: make([]Extent, loads), Lines: make([]Extent, len(m.Lines)),
		Struts: make([]Extent, len(m.Struts)), Lean: make([]Extent, len(m.Struts)), Tilt: make([]Extent, len(m.Struts)),
		Stretch: make([]Extent, len(m.Distances)), Force: make([]Extent, len(m.Distances)),
		Gives: make([][3]Extent, len(m.Arms)), GiveForces: make([][3]Extent, len(m.Arms)),
		Joints: make([]Extent, len(m.Joints)), Stops: make([]Extent, len(m.Stops)), Sensors: make([]SensorExtent, len(m.Sensors)),
	}
	for _, e := range x.each() {
		*e = newExtent()
	}
	return x
}

// each lists every extent, in fixed order.
func (x *Extents) each() []*Extent {
	list := []*Extent{&x.Pinion, &x.RollSteer, &x.Use, &x.Slip, &x.SideShift, &x.Squareness, &x.ShaftFront, &x.ShaftBearing, &x.ShaftRear,
		&x.Fluctuation, &x.Torsional, &x.InertiaFront, &x.InertiaRear}
	for _, many := range [][]Extent{x.AntiSquat, x.Lines, x.Struts, x.Lean, x.Tilt, x.Stretch, x.Force, x.Joints, x.Stops} {
		for i := range many {
			list = append(list, &many[i])
		}
	}
	for i := range x.Gives {
		for k := range 3 {
			list = append(list, &x.Gives[i][k], &x.GiveForces[i][k])
		}
	}
	for i := range x.Sensors {
		list = append(list, &x.Sensors[i].Turn, &x.Sensors[i].Angle, &x.Sensors[i].Straight)
	}
	return list
}

// take takes in what was seen later.
func (x *Extents) take(o *Extents) {
	mine, theirs := x.each(), o.each()
	for i := range mine {
		mine[i].take(theirs[i])
	}
	for i := range x.Sensors {
		if s := &o.Sensors[i]; s.Lost {
			x.Sensors[i].lose(s.LostLeft, s.LostRight)
		}
	}
}

// lose notes a position the rod cannot reach; the one nearest ride height is kept.
func (e *SensorExtent) lose(left, right float64) {
	if !e.Lost || math.Hypot(left, right) < math.Hypot(e.LostLeft, e.LostRight) {
		e.Lost, e.LostLeft, e.LostRight = true, left, right
	}
}

// looker works out the quantities of positions and takes them into extents; it belongs to one goroutine.
type looker struct {
	s      *Study
	solver *motion.Solver
	vals   []quantity.Values // by load; what does not depend on the load is shared
	rates  motion.Rates
	x      *Extents
}

func (s *Study) newLooker() *looker {
	k := &looker{s: s, solver: s.Mech.NewSolver(), vals: make([]quantity.Values, len(s.Loads)), x: newExtents(s.Mech, len(s.Loads))}
	k.vals[0] = *quantity.NewValues(s.Mech)
	return k
}

// look takes in every quantity of a position, all loads of it.
func (k *looker) look(p *motion.Pose) {
	s, x := k.s, k.x
	m := s.Mech
	if k.solver.Rates(p, &k.rates) != nil {
		return
	}
	v := &k.vals[0]
	quantity.Eval(m, p, &k.rates, &s.Loads[0], v)
	for i := 1; i < len(k.vals); i++ {
		k.vals[i] = *v
		quantity.ForLoad(m, p, &k.rates, &s.Loads[i], &k.vals[i])
	}
	l, r := v.Left, v.Right
	x.Pinion.add(v.PinionDeg, l, r)
	x.RollSteer.add(v.RollSteerPct, l, r)
	x.Use.add(v.WorstBind, l, r)
	x.Slip.add(v.Slip, l, r)
	x.SideShift.add(v.Y, l, r)
	x.Squareness.add(v.Squareness, l, r)
	x.ShaftFront.add(v.ShaftFrontDeg, l, r)
	x.ShaftRear.add(v.ShaftRearDeg, l, r)
	if m.Drive.TwoPiece {
		x.ShaftBearing.add(v.ShaftBearingDeg, l, r)
	}
	x.Fluctuation.add(v.FluctuationPct, l, r)
	if m.Drive.Speed > 0 {
		x.Torsional.add(v.Torsional, l, r)
		x.InertiaFront.add(v.InertiaFront, l, r)
		x.InertiaRear.add(v.InertiaRear, l, r)
	}
	for i := range k.vals {
		x.AntiSquat[i].add(k.vals[i].AntiSquatPct, l, r)
	}
	for i := range x.Lines {
		x.Lines[i].add(v.Lines[i], l, r)
	}
	for i := range x.Struts {
		x.Struts[i].add(v.Struts[i].Length, l, r)
		x.Lean[i].add(v.Struts[i].Lean, l, r)
		x.Tilt[i].add(math.Max(v.Struts[i].FrameTilt, v.Struts[i].AxleTilt), l, r)
	}
	for i := range x.Stretch {
		x.Stretch[i].add(v.Stretch(&m.Distances[i]), l, r)
		x.Force[i].add(v.Pull(&m.Distances[i]), l, r)
	}
	for i := range x.Gives {
		for n := range v.Arms[i].Gives {
			x.Gives[i][n].add(v.Arms[i].Gives[n], l, r)
			x.GiveForces[i][n].add(v.Arms[i].GiveForces[n], l, r)
		}
	}
	for i := range x.Joints {
		x.Joints[i].add(v.Joint(&m.Joints[i]).Use, l, r)
	}
	for i := range x.Stops {
		if t := &m.Stops[i]; v.Stops[i].Length <= math.Max(t.Closed, orZero(t.Touch)) {
			x.Stops[i].add(v.Stops[i].Off, l, r)
		}
	}
	for i := range x.Sensors {
		u, e := &v.Sensors[i], &x.Sensors[i]
		if !u.Reached {
			e.lose(l, r)
			continue
		}
		e.Turn.add(u.Turn, l, r)
		e.Angle.add(u.RodAngle, l, r)
		e.Straight.add(math.Min(u.RodAngle, math.Pi-u.RodAngle), l, r)
	}
}

// measureExtents looks over the range: the two sweeps, a grid of n by n positions, the outline and its corners; then, when deep, it searches on
// from the best position of each extreme. The same bits on any number of goroutines.
func (s *Study) measureExtents(ctx context.Context, n int) {
	first := s.newLooker()
	for _, sw := range []*Sweep{&s.Both, &s.Crossed} {
		for i := range sw.Poses {
			first.look(&sw.Poses[i])
		}
	}
	lo, hi := s.Range.Box()
	lefts, rights := steps(lo.Left, hi.Left, n), steps(lo.Right, hi.Right, n)
	rows := make([]*Extents, n+1)
	limits.Spread(s.cores(), n+1, func() func(int) {
		k := s.newLooker()
		return func(i int) {
			if ctx.Err() != nil {
				return
			}
			k.x = newExtents(s.Mech, len(s.Loads))
			if i < n {
				s.Range.Row(k.solver, lefts[i], rights, func(_ int, in bool, p *motion.Pose) {
					if in {
						k.look(p)
					}
				})
			} else {
				k.outline()
			}
			rows[i] = k.x
		}
	})
	if ctx.Err() != nil {
		return
	}
	for _, row := range rows {
		first.x.take(row)
	}
	if s.Depth == Full {
		s.searchOn(ctx, first.x)
	}
	s.Extents = *first.x
}

// outline looks at the range's outline and corners, each reached from ride height.
func (k *looker) outline() {
	var p motion.Pose
	at := func(left, right float64) {
		if k.solver.Solve(left, right, &p) == nil && k.s.Range.Within(&p) {
			k.look(&p)
		}
	}
	for i := range k.s.Range.Edge {
		at(k.s.Range.Edge[i].Left, k.s.Range.Edge[i].Right)
	}
	for _, c := range k.s.corners() {
		at(c[0], c[1])
	}
}

const (
	climbFrom = 8.0 // mm, the first step of a search on
	climbTo   = 0.1 // mm, the last
	climbMost = 200 // rounds
	nearUse   = 0.8 // of a joint's limit: below it the place of its extreme is not searched for
)

// searchOn refines the extremes that stand against a limit or a length: eight places about the best one in steps that are halved when none is
// better; one outside the range is brought back to its edge. Each extreme is searched for by itself.
func (s *Study) searchOn(ctx context.Context, x *Extents) {
	m := s.Mech
	want := map[*Extent]bool{}
	mark := func(list ...*Extent) {
		for _, e := range list {
			want[e] = e.Known()
		}
	}
	mark(&x.Use, &x.Slip, &x.SideShift, &x.ShaftFront, &x.ShaftBearing, &x.ShaftRear, &x.Pinion)
	for i := range x.Lines {
		mark(&x.Lines[i])
	}
	for i := range x.Tilt {
		mark(&x.Lean[i], &x.Tilt[i])
	}
	for i := range x.Sensors {
		mark(&x.Sensors[i].Turn, &x.Sensors[i].Straight)
	}
	for i := range x.Joints {
		if x.Joints[i].Max >= nearUse {
			mark(&x.Joints[i])
		}
	}
	if m.OverLocated {
		for i := range x.Stretch {
			mark(&x.Stretch[i])
		}
		for i := range x.Gives {
			for k := range 3 {
				mark(&x.Gives[i][k])
			}
		}
	}
	all := x.each()
	var todo []int
	for i, e := range all {
		if want[e] {
			todo = append(todo, i)
		}
	}
	found := make([]*Extents, len(todo))
	limits.Spread(s.cores(), len(todo), func() func(int) {
		k := s.newLooker()
		return func(n int) {
			k.x = newExtents(m, len(s.Loads))
			k.x.take(x)
			k.climb(ctx, k.x.each()[todo[n]])
			found[n] = k.x
		}
	})
	for n, i := range todo {
		*all[i] = *found[n].each()[i]
	}
}

// climb searches on from both ends of one extent.
func (k *looker) climb(ctx context.Context, e *Extent) {
	var at, p motion.Pose
	for _, up := range [2]bool{true, false} {
		best := func() (v, left, right float64) {
			if up {
				return e.Max, e.MaxLeft, e.MaxRight
			}
			return -e.Min, e.MinLeft, e.MinRight
		}
		v, l, r := best()
		if k.solver.Solve(l, r, &at) != nil {
			continue
		}
		for round, step := 0, climbFrom; step >= climbTo && round < climbMost && ctx.Err() == nil; round++ {
			for _, d := range [8][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, -1}, {1, -1}, {-1, 1}} {
				if k.s.Range.Try(k.solver, &at, l+step*d[0], r+step*d[1], 2*step, &p) {
					k.look(&p)
				}
			}
			now, nl, nr := best()
			if !(now > v) {
				step /= 2
				continue
			}
			if k.solver.SolveFrom(&at, nl, nr, &p) != nil {
				break
			}
			v, l, r, at = now, nl, nr, p
		}
	}
}

// corners are the range's crossed-up corners, where there are any.
func (s *Study) corners() [][2]float64 {
	var out [][2]float64
	if c := s.Range.LeftUp; c != nil {
		out = append(out, [2]float64{c.Left, c.Right})
	}
	if c := s.Range.RightUp; c != nil {
		out = append(out, [2]float64{c.Left, c.Right})
	}
	return out
}

func orZero(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return v
}

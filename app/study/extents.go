package study

import (
	"context"
	"math"

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

// addAll takes in every quantity of a position, all loads of it.
func (x *Extents) addAll(m *motion.Mechanism, vals []quantity.Values) {
	v := &vals[0]
	l, r := v.Left, v.Right
	x.Pinion.add(v.PinionDeg, l, r)
	x.RollSteer.add(v.RollSteerPct, l, r)
	x.Use.add(v.WorstBind, l, r)
	x.Slip.add(v.Slip, l, r)
	x.SideShift.add(v.Y, l, r)
	x.Squareness.add(v.Squareness, l, r)
	x.ShaftFront.add(v.ShaftFrontDeg, l, r)
	x.ShaftRear.add(v.ShaftRearDeg, l, r)
	for i := range vals {
		x.AntiSquat[i].add(vals[i].AntiSquatPct, l, r)
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
	}
	for i := range x.Joints {
		x.Joints[i].add(v.Joint(&m.Joints[i]).Use, l, r)
	}
}

// measureExtents looks over the range: a grid of n by n positions, the outline and the two sweeps; then, when deep, it climbs from the best
// position of each extreme in smaller and smaller steps.
func (s *Study) measureExtents(ctx context.Context, n int) {
	m := s.Mech
	x := &s.Extents
	for _, e := range []*Extent{&x.Pinion, &x.RollSteer, &x.Use, &x.Slip, &x.SideShift, &x.Squareness, &x.ShaftFront, &x.ShaftRear} {
		*e = newExtent()
	}
	many := func(n int) []Extent {
		list := make([]Extent, n)
		for i := range list {
			list[i] = newExtent()
		}
		return list
	}
	x.AntiSquat, x.Lines, x.Struts = many(len(s.Loads)), many(len(m.Lines)), many(len(m.Struts))
	x.Lean, x.Tilt, x.Stretch = many(len(m.Struts)), many(len(m.Struts)), many(len(m.Distances))

	x.Joints, x.Stops = many(len(m.Joints)), many(len(m.Stops))

	solver := m.NewSolver()
	vals := make([]quantity.Values, len(s.Loads))
	for i := range vals {
		vals[i] = *quantity.NewValues(m)
	}
	var rates motion.Rates
	look := func(p *motion.Pose) {
		if solver.Rates(p, &rates) != nil {
			return
		}
		for i := range vals {
			if i > 0 { // what does not depend on the load is the same; keep the slices apart
				keep := vals[i]
				vals[i] = vals[0]
				vals[i].Links, vals[i].Struts, vals[i].Stops, vals[i].Straps, vals[i].Lines = keep.Links, keep.Struts, keep.Stops, keep.Straps, keep.Lines
				quantity.ForLoad(m, p, &rates, &s.Loads[i], &vals[i])
				continue
			}
			quantity.Eval(m, p, &rates, &s.Loads[0], &vals[0])
		}
		x.addAll(m, vals)
		for i := range x.Stops {
			if k := &m.Stops[i]; vals[0].Stops[i].Length <= math.Max(k.Closed, orZero(k.Touch)) {
				x.Stops[i].add(vals[0].Stops[i].Off, p.Left, p.Right)
			}
		}
	}
	for _, sw := range []*Sweep{&s.Both, &s.Crossed} {
		for i := range sw.Poses {
			look(&sw.Poses[i])
		}
	}
	lo, hi := s.box()
	ride := m.Ride()
	var p motion.Pose
	for i := range n {
		if ctx.Err() != nil {
			return
		}
		last := ride
		left := lo[0] + (hi[0]-lo[0])*float64(i)/float64(n-1)
		for k := range n {
			right := lo[1] + (hi[1]-lo[1])*float64(k)/float64(n-1)
			if !s.Range.Contains(left, right) {
				continue
			}
			if solver.SolveFrom(&last, left, right, &p) != nil {
				continue
			}
			last = p
			look(&p)
		}
	}
	edge := ride
	for i := range s.Range.Edge {
		e := &s.Range.Edge[i]
		if solver.SolveFrom(&edge, e.Left, e.Right, &p) == nil {
			edge = p
			look(&p)
		}
	}
	for _, c := range s.corners() {
		if solver.Solve(c[0], c[1], &p) == nil {
			look(&p)
		}
	}
	if s.Depth == Full {
		s.climb(ctx, solver, look)
	}
}

// climb refines the extremes that stand against a limit: slip, joint use, line spans, side shift. Positions are tried about the best one
// in steps that shrink from 8 mm to 0.1 mm, inside the range.
func (s *Study) climb(ctx context.Context, solver *motion.Solver, look func(*motion.Pose)) {
	x := &s.Extents
	list := []*Extent{&x.Use, &x.Slip, &x.SideShift, &x.ShaftFront, &x.ShaftRear, &x.Pinion}
	for i := range x.Lines {
		list = append(list, &x.Lines[i])
	}
	var p motion.Pose
	try := func(l, r float64) {
		if s.Range.Contains(l, r) && solver.Solve(l, r, &p) == nil {
			look(&p)
		}
	}
	for _, e := range list {
		if !e.Known() {
			continue
		}
		for step := 8.0; step >= 0.1 && ctx.Err() == nil; {
			before := *e
			for _, d := range [8][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, -1}, {1, -1}, {-1, 1}} {
				try(before.MaxLeft+step*d[0], before.MaxRight+step*d[1])
				try(before.MinLeft+step*d[0], before.MinRight+step*d[1])
			}
			if e.Max <= before.Max && e.Min >= before.Min {
				step /= 2
			}
		}
	}
}

// box is the smallest box round the range's outline.
func (s *Study) box() (lo, hi [2]float64) {
	lo = [2]float64{math.Inf(1), math.Inf(1)}
	hi = [2]float64{math.Inf(-1), math.Inf(-1)}
	for i := range s.Range.Edge {
		e := &s.Range.Edge[i]
		lo[0], hi[0] = math.Min(lo[0], e.Left), math.Max(hi[0], e.Left)
		lo[1], hi[1] = math.Min(lo[1], e.Right), math.Max(hi[1], e.Right)
	}
	for _, c := range s.corners() {
		lo[0], hi[0] = math.Min(lo[0], c[0]), math.Max(hi[0], c[0])
		lo[1], hi[1] = math.Min(lo[1], c[1]), math.Max(hi[1], c[1])
	}
	return lo, hi
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

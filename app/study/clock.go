package study

import (
	"context"
	"math"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// Clocking is how the axle end of a link (and of its twin, mirrored) may be clocked: the turn of its bore about the link from where the bolt alone
// would put it at ride height, deg as the job file's clock gives it for the link as drawn.
type Clocking struct {
	Ride, Midway, Now ClockChoice // clocked at ride height; midway between ride and the crossed-up corner; as the job has it
}

// ClockChoice is one way of clocking and what it gives: the worst joint of the link and its twin over the range.
type ClockChoice struct {
	Deg         float64
	Use         float64 // of its limit; NaN where no limit is known
	At          string  // the joint, "" where no limit is known
	Left, Right float64 // mm, where
}

// clockGrid is the grid of positions clocking is judged on.
const clockGrid = 31

// Clock works out the clocking of a link of the mechanism; ok is false where there is no range, where the context is cancelled, or where the link's
// two ends have nothing to clock against each other. Safe for concurrent use.
//
// Midway is half of what the two ends ask of the link's spin, the best spin of the axle end less that of the frame end, at the crossed-up corner of
// the range where they ask most.
func (s *Study) Clock(ctx context.Context, link int) (c Clocking, ok bool) {
	if !s.Bounded() || link < 0 || link >= len(s.Mech.Links) {
		return Clocking{}, false
	}
	index := s.Mech.Links[link].Ref.Index
	was := 0.0
	if k := s.Job.Links[index].Clock; k != nil {
		was = *k
	}
	ride := s.clocked(index, 0)
	if ride == nil {
		return Clocking{}, false
	}
	asked := 0.0
	solver := s.Mech.NewSolver()
	var p motion.Pose
	for _, at := range s.crossedUp() {
		if solver.Solve(at[0], at[1], &p) != nil {
			continue
		}
		for i := range ride.Links {
			l := &ride.Links[i]
			if l.Ref.Index != index {
				continue
			}
			frame, axle := ride.LinkSpins(&p, i)
			d := math.Remainder(axle-frame, math.Pi) // bolts and bores are lines
			if l.Ref.Side == job.Right {             // a turn about the mirrored link is the opposite one
				d = -d
			}
			if math.Abs(d) > math.Abs(asked) {
				asked = d
			}
		}
	}
	poses := s.overRange(ctx)
	if poses == nil {
		return Clocking{}, false
	}
	c.Ride = s.clockChoice(ride, index, 0, poses)
	c.Midway = s.clockChoice(s.clocked(index, deg(asked/2)), index, deg(asked/2), poses)
	c.Now = s.clockChoice(s.clocked(index, was), index, was, poses)
	return c, true
}

// crossedUp are the two ends of crossed-up travel: the range's corners, or where the travel entered is itself the edge, the ends of the line of
// pure articulation.
func (s *Study) crossedUp() [][2]float64 {
	if c := s.corners(); len(c) == 2 {
		return c
	}
	right, left := s.crossedEnds()
	return append(s.corners(), right, left)
}

// clocked is the job's mechanism with a link's clock set, deg; nil where it cannot be.
func (s *Study) clocked(index int, clock float64) *motion.Mechanism {
	j := s.Job.Clone()
	j.Links[index].Clock = &clock
	m, err := motion.Compile(j)
	if err != nil {
		return nil
	}
	return m
}

// overRange are the positions of the grid that lie in the range, and those of both sweeps; nil where the context is cancelled.
func (s *Study) overRange(ctx context.Context) []*motion.Pose {
	s.gridMu.Lock()
	defer s.gridMu.Unlock()
	g := s.grid(ctx, clockGrid)
	if g == nil {
		return nil
	}
	var out []*motion.Pose
	for _, sw := range []*Sweep{&s.Both, &s.Crossed} {
		for i := range sw.Poses {
			out = append(out, &sw.Poses[i])
		}
	}
	for at := range g.poses {
		if g.in[at] {
			out = append(out, &g.poses[at])
		}
	}
	return out
}

// clockChoice judges a clocking. How a link is clocked moves no axle, so the study's own positions serve.
func (s *Study) clockChoice(m *motion.Mechanism, index int, clock float64, poses []*motion.Pose) ClockChoice {
	c := ClockChoice{Deg: clock, Use: math.NaN()}
	if m == nil {
		return c
	}
	uses := make([]quantity.LinkUse, len(m.Links))
	for _, p := range poses {
		quantity.Links(m, p, uses)
		for i := range m.Joints {
			j := &m.Joints[i]
			if j.Of != motion.OnLink || m.Links[j.Member].Ref.Index != index {
				continue
			}
			end := &uses[j.Member].FrameEnd
			if j.Sub == 1 {
				end = &uses[j.Member].AxleEnd
			}
			if end.Use > c.Use || (c.At == "" && !math.IsNaN(end.Use)) {
				c.Use, c.At, c.Left, c.Right = end.Use, JointName(j), p.Left, p.Right
			}
		}
	}
	return c
}

package start

import (
	"math"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Limits that joints of the trade have at the least (common practice, no source), deg; a layout that turns them further is guessed larger ones.
const (
	bushTilt  = 8
	bushTwist = 20
	ballTilt  = 18
	mostUsed  = 0.85 // of its limit a joint uses, so that a guess does not start at the brink
)

// endOf returns the job's own end behind a joint of the mechanism; twins share one.
func endOf(j *job.Job, m *motion.Mechanism, k *motion.Joint) *job.End {
	switch k.Of {
	case motion.OnArm:
		a := &j.Arms[m.Arms[k.Member].Ref.Index]
		if n := len(a.FrameEnds); k.Sub >= n {
			return &a.AxleEnds[k.Sub-n]
		}
		return &a.FrameEnds[k.Sub]
	case motion.OnRocker:
		rod := &j.Rockers[m.Rockers[k.Member].Ref.Index].Rods[k.Sub/2]
		if k.Sub%2 == 0 {
			return rod.RockerEnd
		}
		return rod.FarEnd
	}
	l := &j.Links[m.Links[k.Member].Ref.Index]
	if k.Sub == 0 {
		return l.FrameEnd
	}
	return l.AxleEnd
}

// joints gives every end limits it stays within over the range.
func (p *plan) joints(j *job.Job) error {
	var load quantity.Load
	for round := range 3 { // where a link sits between its ends depends on their limits
		m, err := motion.Compile(j)
		if err != nil {
			return err
		}
		type most struct{ tilt, twist float64 }
		seen := map[*job.End]*most{}
		ends := make([]*job.End, len(m.Joints))
		for i := range m.Joints {
			e := endOf(j, m, &m.Joints[i])
			if ends[i] = e; seen[e] == nil {
				seen[e] = &most{}
			}
		}
		if round == 0 {
			for e := range seen {
				e.Misalignment = num(ballTilt)
				if e.Kind == "bush" {
					e.Misalignment, e.Torsion = num(bushTilt), num(bushTwist)
				}
			}
			continue
		}
		v := quantity.NewValues(m)
		const steps = 6
		err = p.over(m, steps, func(pose *motion.Pose, rates *motion.Rates) error {
			quantity.Eval(m, pose, rates, &load, v)
			for i := range m.Joints {
				u, w := v.Joint(&m.Joints[i]), seen[ends[i]]
				w.tilt = math.Max(w.tilt, u.Misalignment)
				if !math.IsNaN(u.Torsion) {
					w.twist = math.Max(w.twist, math.Abs(u.Torsion))
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
		for e, w := range seen {
			fits := func(limit **float64, used float64) {
				if deg := used * 180 / math.Pi / mostUsed; *limit != nil && deg > **limit {
					*limit = num(math.Ceil(deg))
				}
			}
			fits(&e.Misalignment, w.tilt)
			fits(&e.Torsion, w.twist)
		}
	}
	return nil
}

// over shows the positions that struts, stops and straps let the axle take, with their rates: a grid of 2 steps + 1 a side, and where each of its
// columns meets the edge.
func (p *plan) over(m *motion.Mechanism, steps int, look func(*motion.Pose, *motion.Rates) error) error {
	const halving = 7 // of a step toward the edge: 0.3 mm of 40
	s := m.NewSolver()
	near := m.Ride()
	var pose, edge motion.Pose
	var rates motion.Rates
	for i := range 2*steps + 1 {
		apart := p.Track * math.Sin(p.crossed*float64(i-steps)/float64(steps)) / 2
		stands := func(h float64, pose *motion.Pose) bool {
			if s.SolveFrom(&near, h+apart, h-apart, pose) != nil {
				return false
			}
			near = *pose
			return within(m, pose)
		}
		show := func(pose *motion.Pose) error {
			if s.Rates(pose, &rates) != nil {
				return nil
			}
			return look(pose, &rates)
		}
		was, last := false, 0.0
		for k := range 2*steps + 1 {
			h := -p.Droop + (p.Droop+p.Bump)*float64(k)/float64(2*steps)
			now := stands(h, &pose)
			if k > 0 && now != was {
				in, out := h, last
				if was {
					in, out = last, h
				}
				for range halving {
					if mid := (in + out) / 2; stands(mid, &edge) {
						in = mid
					} else {
						out = mid
					}
				}
				if stands(in, &edge) {
					if err := show(&edge); err != nil {
						return err
					}
				}
			}
			if now {
				if err := show(&pose); err != nil {
					return err
				}
			}
			was, last = now, h
		}
	}
	return nil
}

// within reports whether struts, stops and straps let the axle stand there.
func within(m *motion.Mechanism, pose *motion.Pose) bool {
	for i := range m.Struts {
		t := &m.Struts[i]
		if l := length(pose, t.Frame, t.Axle); l < t.Closed || l > t.Open {
			return false
		}
	}
	for i := range m.Stops {
		t := &m.Stops[i]
		n := pose.Offset(t.Axis)
		at := pose.Point(t.Axle)
		d := (at.X-t.Frame.X)*n.X + (at.Y-t.Frame.Y)*n.Y + (at.Z-t.Frame.Z)*n.Z
		if d/(t.Axis.X*n.X+t.Axis.Y*n.Y+t.Axis.Z*n.Z) < t.Closed-2 {
			return false
		}
	}
	for i := range m.Straps {
		t := &m.Straps[i]
		if length(pose, t.Frame, t.Axle) > t.Open+2 {
			return false
		}
	}
	return true
}

func length(pose *motion.Pose, frame, axle r3.Vec) float64 {
	return r3.Norm(r3.Sub(pose.Point(axle), frame))
}

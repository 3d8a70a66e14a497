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

// joints gives every end limits it stays within over the range.
func (p *plan) joints(j *job.Job) error {
	for i := range j.Links {
		for _, e := range []*job.End{j.Links[i].FrameEnd, j.Links[i].AxleEnd} {
			e.Misalignment = num(ballTilt)
			if e.Kind == "bush" {
				e.Misalignment, e.Torsion = num(bushTilt), num(bushTwist)
			}
		}
	}
	for range 2 { // where a link sits between its ends depends on their limits
		m, err := motion.Compile(j)
		if err != nil {
			return err
		}
		s := m.NewSolver()
		var pose motion.Pose
		uses := make([]quantity.LinkUse, len(m.Links))
		type most struct{ tilt, twist float64 }
		seen := map[*job.End]*most{}
		look := func(e *job.End, u quantity.EndUse) {
			w := seen[e]
			if w == nil {
				w = &most{}
				seen[e] = w
			}
			w.tilt = math.Max(w.tilt, u.Misalignment)
			if !math.IsNaN(u.Torsion) {
				w.twist = math.Max(w.twist, math.Abs(u.Torsion))
			}
		}
		const steps = 10
		for i := range 2*steps + 1 {
			apart := p.Track * math.Sin(p.crossed*float64(i-steps)/steps) / 2
			for k := range 2*steps + 1 {
				h := -p.Droop + (p.Droop+p.Bump)*float64(k)/(2*steps)
				if s.Solve(h+apart, h-apart, &pose) != nil || !within(m, &pose) {
					continue
				}
				quantity.Links(m, &pose, uses)
				for n := range uses {
					l := &j.Links[m.Links[n].Ref.Index]
					look(l.FrameEnd, uses[n].FrameEnd)
					look(l.AxleEnd, uses[n].AxleEnd)
				}
			}
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

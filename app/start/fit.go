package start

import (
	"errors"
	"math"

	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// fit sets what follows from the motion: stop, strap and strut lengths that give the travel asked for, limits of joints, slip and hose that
// are not used up.
func (p *plan) fit(j *job.Job) error {
	free := j.Clone()
	free.Struts, free.Stops, free.Straps = nil, nil, nil
	m, err := motion.Compile(free)
	if err != nil {
		return err
	}
	s := m.NewSolver()
	stop, strap, strut := &j.Stops[0], &j.Straps[0], &j.Struts[0]
	carried := func(pose *motion.Pose, at job.Point, y float64) r3.Vec {
		v := at.Vec()
		return pose.Point(r3.Vec{X: v.X, Y: v.Y * y, Z: v.Z - p.r})
	}
	side := func(at job.Point, y float64) r3.Vec { return r3.Vec{X: at[0], Y: at[1] * y, Z: at[2]} }
	// Along the stop's axis, straight down, to the plane through the pad square to the axis as carried.
	stopLength := func(pose *motion.Pose, y float64) float64 {
		return r3.Dot(r3.Sub(carried(pose, stop.Axle, y), side(stop.Frame, y)), r3.Scale(-1, pose.Ez)) / pose.Ez.Z
	}
	span := func(pose *motion.Pose, frame, axle job.Point, y float64) float64 {
		return r3.Norm(r3.Sub(carried(pose, axle, y), side(frame, y)))
	}
	var pose motion.Pose
	if err := s.Solve(p.Bump, p.Bump, &pose); err != nil {
		return tooFar(err, words.T("bump"))
	}
	half := func(v float64) float64 { return math.Floor(v*2) / 2 }
	stop.Closed = half(math.Min(stopLength(&pose, 1), stopLength(&pose, -1)))
	if stop.Closed < leastStop {
		return words.Errorf("at full bump the bump stops have no room left. Give less bump.")
	}
	stop.Touch = num(stop.Closed + math.Round(math.Min(40, 0.4*p.Bump)))
	if err := s.Solve(-p.Droop, -p.Droop, &pose); err != nil {
		return tooFar(err, words.T("droop"))
	}
	strap.Open = -half(-math.Max(span(&pose, strap.Frame, strap.Axle, 1), span(&pose, strap.Frame, strap.Axle, -1)))

	// The whole range that stops, straps and the articulation leave.
	const (
		columns = 20
		steps   = 5
		halving = 11 // of a step toward the edge: 0.03 mm of 60
	)
	shortest, longest, hose, slipIn, slipOut, bend := math.Inf(1), 0.0, 0.0, 0.0, 0.0, 0.0
	reached, near := true, m.Ride()
	look := func(h, apart float64) (inside bool) {
		if s.SolveFrom(&near, h+apart, h-apart, &pose) != nil {
			reached = reached && apart != 0
			return false
		}
		near = pose
		for _, y := range []float64{1, -1} {
			if stopLength(&pose, y) < stop.Closed || span(&pose, strap.Frame, strap.Axle, y) > strap.Open {
				return false
			}
		}
		for _, y := range []float64{1, -1} {
			l := span(&pose, strut.Frame, strut.Axle, y)
			shortest, longest = math.Min(shortest, l), math.Max(longest, l)
		}
		hose = math.Max(hose, span(&pose, j.Lines[0].Frame, j.Lines[0].Axle, 1))
		out, pin := j.Driveline.Output, j.Axle.Pinion
		shaft := r3.Sub(carried(&pose, pin.Joint, 1), out.Joint.Vec())
		slip := r3.Norm(shaft) - m.Drive.Length
		slipIn, slipOut = math.Max(slipIn, -slip), math.Max(slipOut, slip)
		bend = math.Max(bend, math.Max(between(out.Axis.Vec(), shaft), between(pose.Offset(pin.Axis.Vec()), r3.Scale(-1, shaft))))
		return true
	}
	for i := range 2*columns + 1 {
		apart := p.Track * math.Sin(p.crossed*float64(i-columns)/columns) / 2
		was, last := false, 0.0
		for k := range 2*steps + 1 {
			h := -p.Droop + (p.Droop+p.Bump)*float64(k)/(2*steps)
			now := look(h, apart)
			if k > 0 && now != was { // the edge lies between
				in, out := h, last
				if was {
					in, out = last, h
				}
				for range halving {
					if mid := (in + out) / 2; look(mid, apart) {
						in = mid
					} else {
						out = mid
					}
				}
			}
			was, last = now, h
		}
	}
	if !reached {
		return words.Errorf("the links do not reach that far. Give less bump and droop.")
	}
	strut.Closed, strut.Open = num(math.Floor(shortest)-strutReserve), num(math.Ceil(longest)+strutReserve)
	j.Lines[0].Length = num(math.Ceil(hose*hoseReserve/5) * 5)
	up := func(v, step float64) float64 { return math.Ceil(v/step) * step }
	j.Driveline.Slip = &job.Slip{In: up(slipIn+slipReserve, 5), Out: up(slipOut+slipReserve, 5)}
	j.Driveline.JointLimit = num(math.Max(20, up(bend+3, 5)))
	j.Travel = &job.Travel{Articulation: num(math.Round(p.crossed * 180 / math.Pi))} // for which there is room
	return p.joints(j)
}

// tooFar words that the links end the travel before what was asked.
func tooFar(err error, way string) error {
	var e *motion.Error
	if !errors.As(err, &e) || e.Kind == motion.NotLocated {
		return err
	}
	return &reachError{mm: math.Floor(math.Abs(e.Left)), way: way}
}

// reachError tells that the links end the travel of both wheels, however much articulation the layout is made for.
type reachError struct {
	mm  float64
	way string
}

func (e *reachError) Error() string {
	return words.F("the links of this layout let the axle go %.0f mm of %s. Give less, or choose another layout.", e.mm, e.way)
}

// between is the angle between two directions, deg.
func between(a, b r3.Vec) float64 {
	return math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b)) * 180 / math.Pi
}

package edit

import (
	"math"

	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"

	"gonum.org/v1/gonum/spatial/r3"
)

// StoodSays says how axle or body stood by its numbers, and so what they do to a place; the error says what is still missing.
func StoodSays(j *job.Job, how string, hang Hang) (string, error) {
	s, err := standOf(j, how, hang)
	if err != nil {
		return "", err
	}
	if how == OnFloor {
		out := words.F("The body stood %s; across, %s.", tipped(math.Asin(s.Ex.Z)/deg, words.T("nose up"), words.T("nose down")), tipped(math.Asin(s.Ey.Z)/deg, words.T("left side up"), words.T("right side up")))
		if f := s.floor; f.Fore.Z != 0 || f.Left.Z != 0 {
			out += " " + words.F("The floor falls %.1f in 1000 ahead and %.1f to the left.", -1000*f.Fore.Z/f.Fore.X, -1000*f.Left.Z/math.Hypot(f.Left.X, f.Left.Y))
		}
		return out, nil
	}
	axis := r3.Vec{X: 1}
	if j.Axle != nil && j.Axle.Pinion != nil {
		axis = j.Axle.Pinion.Axis.Vec()
	} else if j.Stood != nil {
		var typed *float64
		if t := j.Stood.Stands; how == OnStands && t != nil {
			typed = t.PinionAtRide
		} else if t := j.Stood.Hanging; how == Hanging && t != nil {
			typed = t.PinionAtRide
		}
		if a, err := rideAxis(j, typed); err == nil {
			axis = a
		}
	}
	n := r3.Unit(axis)
	nose := r3.Add(r3.Scale(n.X, s.Ex), r3.Add(r3.Scale(n.Y, s.Ey), r3.Scale(n.Z, s.Ez)))
	ride, then := math.Atan2(n.Z, n.X)/deg, math.Atan2(nose.Z, nose.X)/deg
	turned := tipped(then-ride, words.T("nose up"), words.T("nose down"))
	if how == OnStands {
		return words.F("The pinion points %.1f deg up at ride height and did %.1f as the axle lay: turned %s, its tube %s.", ride, then, turned, tipped(math.Asin(s.Ey.Z)/deg, words.T("left end up"), words.T("right end up"))), nil
	}
	left, right := s.travels(j)
	down := func(v float64) string {
		where := words.T("above")
		if v < 0 {
			where = words.T("below")
		}
		return measure.Format(math.Round(math.Abs(v)), shownUnit(j), 0) + " " + where
	}
	out := words.F("It hung with the left wheel %s ride, the right %s, turned %s from ride.", down(left), down(right), turned)
	if j.Stood.Hanging.Strut == "" && j.Axle != nil && j.Axle.Tube != nil {
		at := func(e *job.TubeEnd) r3.Vec { return r3.Vec{X: *e.X, Y: *e.Y, Z: *e.Z} }
		apart := r3.Norm(r3.Sub(at(j.Stood.Hanging.LeftEnd), at(j.Stood.Hanging.RightEnd)))
		drawn := j.Axle.Tube.To - j.Axle.Tube.From
		out += " " + words.F("The ends are %s apart, the tube is drawn %s long.", measure.Format(math.Round(apart), shownUnit(j), 0), measure.Format(math.Round(drawn), shownUnit(j), 0))
	}
	return out, nil
}

// tipped is an angle with its sign in words: "1.2 deg nose up", "level" where it is nothing.
func tipped(deg float64, up, down string) string {
	switch {
	case math.Abs(deg) < 0.05:
		return words.T("level")
	case deg < 0:
		return words.F("%.1f deg %s", -deg, down)
	}
	return words.F("%.1f deg %s", deg, up)
}

// travels are how far the wheel centres stood above where they are at ride height, mm.
func (s *stand) travels(j *job.Job) (left, right float64) {
	r, half := j.Vehicle.Tyre.LoadedRadius, j.Vehicle.Track/2
	return s.FromRide(r3.Vec{Y: half, Z: r}).Z - r, s.FromRide(r3.Vec{Y: -half, Z: r}).Z - r
}

// HungAt are the wheel travels at which the axle hung, mm, bump positive.
func HungAt(j *job.Job, hang Hang) (left, right float64, err error) {
	s, err := standOf(j, Hanging, hang)
	if err != nil {
		return 0, 0, err
	}
	left, right = s.travels(j)
	return left, right, nil
}

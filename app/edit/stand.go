package edit

import (
	"math"

	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"

	"gonum.org/v1/gonum/spatial/r3"
)

// stand is how something stood, ready to bring places to ride height.
type stand struct {
	measure.Stood
	others []measure.Stood // with one number off each
	floor  *measure.Floor
	how    string
}

// place is a place as measured, in the axes it was measured in.
func (s *stand) place(v r3.Vec) r3.Vec {
	if s.floor != nil {
		return s.floor.Over(v.X, v.Y, v.Z)
	}
	return v
}

// standOf works out from its numbers how something stood.
func standOf(j *job.Job, how string, hang Hang) (*stand, error) {
	if j.Vehicle == nil || j.Vehicle.Tyre == nil {
		return nil, words.Error("Give wheelbase, track and tyre first.")
	}
	in := job.Stood{}
	if j.Stood != nil {
		in = *j.Stood
	}
	s := &stand{how: how}
	var err error
	switch how {
	case OnStands:
		err = s.stands(j, in.Stands)
	case Hanging:
		err = s.hanging(j, in.Hanging, hang)
	case OnFloor:
		err = s.onFloor(j, in.Floor)
	default:
		err = errGone
	}
	if err != nil {
		return nil, err
	}
	return s, nil
}

// vary adds how it would have stood with one number off by its +-.
func (s *stand) vary(v *float64, off float64, build func() (measure.Stood, error)) {
	if v == nil || off == 0 {
		return
	}
	was := *v
	*v += off
	if o, err := build(); err == nil {
		s.others = append(s.others, o)
	}
	*v = was
}

const deg = math.Pi / 180

func value(v *float64, left float64) float64 {
	if v == nil {
		return left
	}
	return *v
}

// ownNumber makes a number one's own, so that it can be varied; nil stays nil.
func ownNumber(v **float64) *float64 {
	if *v != nil {
		own := **v
		*v = &own
	}
	return *v
}

// tubeMiddle is the middle of the axle's tube at ride height.
func tubeMiddle(j *job.Job) r3.Vec {
	at := r3.Vec{Z: j.Vehicle.Tyre.LoadedRadius}
	if j.Axle != nil && j.Axle.Tube != nil {
		at.Y = (j.Axle.Tube.From + j.Axle.Tube.To) / 2
	}
	return at
}

// rideAxis is where the pinion points at ride height: as the job draws it, else by the angle typed.
func rideAxis(j *job.Job, typed *float64) (r3.Vec, error) {
	switch {
	case j.Axle != nil && j.Axle.Pinion != nil:
		return j.Axle.Pinion.Axis.Vec(), nil
	case typed != nil:
		s, c := math.Sincos(*typed * deg)
		return r3.Vec{X: c, Z: s}, nil
	}
	return r3.Vec{}, words.Error("The job draws no pinion. Type the angle it has at ride height, or add the driveshaft.")
}

// RidePinion is the pinion's angle at ride height, deg, + nose up, and whether the job draws it.
func RidePinion(j *job.Job) (angle float64, drawn bool) {
	if j.Axle == nil || j.Axle.Pinion == nil {
		return 0, false
	}
	a := j.Axle.Pinion.Axis
	return math.Atan2(a[2], a[0]) / deg, true
}

func (s *stand) stands(j *job.Job, t *job.Stands) error {
	if t == nil || t.Pinion == nil {
		return words.Error("Type the angle the pinion had as the axle lay, + nose up.")
	}
	n := *t
	axis, err := rideAxis(j, n.PinionAtRide)
	if err != nil {
		return err
	}
	pinion, tilt := ownNumber(&n.Pinion), ownNumber(&n.Tilt)
	build := func() (measure.Stood, error) {
		o, err := measure.OnStands(axis, *n.Pinion*deg, value(n.Tilt, 0)*deg)
		o.Ride = tubeMiddle(j)
		return o, err
	}
	if s.Stood, err = build(); err != nil {
		return err
	}
	gauge := value(n.Gauge, measure.GaugeOff)
	s.vary(pinion, gauge, build)
	s.vary(tilt, gauge, build)
	return nil
}

func (s *stand) hanging(j *job.Job, t *job.Hanging, hang Hang) error {
	if t == nil {
		t = &job.Hanging{}
	}
	n := *t
	if n.Strut != "" {
		if n.Left == nil {
			return words.Errorf("Type how long %s was as the axle hung, pivot to pivot.", n.Strut)
		}
		if hang == nil {
			return words.Error("Nothing here knows how the axle hangs by its struts.")
		}
		left, right := ownNumber(&n.Left), ownNumber(&n.Right)
		build := func() (measure.Stood, error) { return hang(j, n.Strut, *n.Left, value(n.Right, *n.Left)) }
		var err error
		if s.Stood, err = build(); err != nil {
			return err
		}
		s.vary(left, typedOff(n.Given, "left", measure.TapeOff), build)
		s.vary(right, typedOff(n.Given, "right", measure.TapeOff), build)
		return nil
	}
	ends := [2]*job.TubeEnd{n.LeftEnd, n.RightEnd}
	for i, e := range ends {
		if e == nil || e.X == nil || e.Y == nil || e.Z == nil {
			return []error{words.Error("Type where the left end of the tube was: ahead, left and up."), words.Error("Type where the right end of the tube was: ahead, left and up.")}[i]
		}
		own := *e
		ends[i] = &own
	}
	if n.Pinion == nil {
		return words.Error("Type the angle the pinion had as the axle hung, + nose up.")
	}
	axis, err := rideAxis(j, n.PinionAtRide)
	if err != nil {
		return err
	}
	pinion, rake := ownNumber(&n.Pinion), ownNumber(&n.Rake)
	at := func(e *job.TubeEnd) r3.Vec { return r3.Vec{X: *e.X, Y: *e.Y, Z: *e.Z} }
	build := func() (measure.Stood, error) {
		body, err := measure.OnFloor(value(n.Rake, 0)*deg, 0)
		if err != nil {
			return body, err
		}
		o, err := measure.ByEnds(at(ends[0]), at(ends[1]), axis, *n.Pinion*deg, body.Up())
		o.Ride = tubeMiddle(j)
		return o, err
	}
	if s.Stood, err = build(); err != nil {
		return err
	}
	gauge := value(n.Gauge, measure.GaugeOff)
	s.vary(pinion, gauge, build)
	s.vary(rake, gauge, build)
	for i, side := range []string{"leftEnd", "rightEnd"} {
		for a, v := range []**float64{&ends[i].X, &ends[i].Y, &ends[i].Z} {
			s.vary(ownNumber(v), typedOff(n.Given, side+"."+axisKeys[a], measure.TapeOff), build)
		}
	}
	return nil
}

func typedOff(g job.Given, key string, usual float64) float64 {
	if v := g[key].PlusMinus; v != nil {
		return *v
	}
	return usual
}

func (s *stand) onFloor(j *job.Job, t *job.Floor) error {
	if t == nil {
		t = &job.Floor{}
	}
	n := *t
	at, off := tubeMiddle(j), 0.0
	at.Y = 0
	if n.Datum != "" {
		i := datumAt(j, n.Datum)
		if i < 0 || j.Datums[i].At == nil || j.Datums[i].Axis != "" {
			return words.Errorf("There is no datum %s that has X, Y and Z any more. Choose another one.", n.Datum)
		}
		if j.Datums[i].Taken != nil {
			return words.Errorf("%s is itself measured from the floor, so the marks cannot be measured from it. Choose another datum.", n.Datum)
		}
		at, off = j.Datums[i].At.Vec(), value(j.Datums[i].PlusMinus, 0)
	}
	if n.Height == nil {
		return words.Errorf("Type how high %s was above the floor by the plumb line.", floorDatum(n.Datum))
	}
	if n.Rake == nil && (n.RakeRear == nil || n.RakeFront == nil || n.RakeOver == nil) {
		return words.Error("Type the body's rake: the angle of a rail, or its height above the floor at two places and how far apart they are.")
	}
	if n.Lean == nil && (n.LeanLeft != nil || n.LeanRight != nil || n.LeanOver != nil) && (n.LeanLeft == nil || n.LeanRight == nil || n.LeanOver == nil) {
		return words.Error("Type all three for the lean: left height, right height and how far apart they are.")
	}
	for _, v := range []struct{ fall, over *float64 }{{n.FallForward, n.FallForwardOver}, {n.FallLeft, n.FallLeftOver}} {
		if v.fall != nil && v.over == nil {
			return words.Error("Type over how far the floor falls by that: the length of the straightedge.")
		}
	}
	var floor measure.Floor
	build := func() (measure.Stood, error) {
		fall := func(v, over *float64) float64 {
			if v == nil {
				return 0
			}
			return *v / *over
		}
		var err error
		if floor, err = measure.FloorOf(fall(n.FallForward, n.FallForwardOver), fall(n.FallLeft, n.FallLeftOver)); err != nil {
			return measure.Stood{}, err
		}
		rake, lean := value(n.Rake, 0)*deg, value(n.Lean, 0)*deg
		if n.Rake == nil {
			rake = measure.Rise(floor.Fore, *n.RakeOver, *n.RakeFront-*n.RakeRear)
		}
		if n.Lean == nil && n.LeanLeft != nil {
			lean = measure.Rise(floor.Left, *n.LeanOver, *n.LeanLeft-*n.LeanRight)
		}
		o, err := measure.OnFloor(rake-value(n.RailAtRide, 0)*deg, lean)
		o.At, o.Ride = floor.Over(0, 0, *n.Height), at
		return o, err
	}
	var err error
	if s.Stood, err = build(); err != nil {
		return err
	}
	now := floor
	s.floor = &now
	gauge := value(n.Gauge, measure.GaugeOff)
	for _, v := range []struct {
		at  **float64
		off float64
	}{{&n.Rake, gauge}, {&n.Lean, gauge}, {&n.RailAtRide, gauge}, {&n.FallForward, fallOff}, {&n.FallLeft, fallOff}} {
		s.vary(ownNumber(v.at), v.off, build)
	}
	tape := []**float64{&n.Height}
	if n.Rake == nil {
		tape = append(tape, &n.RakeRear, &n.RakeFront)
	}
	if n.Lean == nil {
		tape = append(tape, &n.LeanLeft, &n.LeanRight)
	}
	for _, v := range tape {
		s.vary(ownNumber(v), measure.TapeOff, build)
	}
	for _, d := range []r3.Vec{{X: off}, {Y: off}, {Z: off}} {
		o := s.Stood
		o.Ride = r3.Add(o.Ride, d)
		s.others = append(s.others, o)
	}
	return nil
}

// floorDatum is what the marks on the floor are measured from, in words.
func floorDatum(name string) string {
	if name == "" {
		return words.T("the axle centre")
	}
	return name
}

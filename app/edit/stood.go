package edit

import (
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"

	"gonum.org/v1/gonum/spatial/r3"
)

// How axle or body stood while places on it were measured: the keys of job.Stood, and the indexes of the parts of the list Standing in this order.
const (
	OnStands = "stands"
	Hanging  = "hanging"
	OnFloor  = "floor"
)

// Stoods are the ways something may have stood.
var Stoods = []string{OnStands, Hanging, OnFloor}

// fallOff is how far off the drop under a straightedge is taken to be, mm (our choice).
const fallOff = 1.0

// Hang finds how the axle of a job hangs with the struts of a name so long, mm pivot to pivot: worked out by whoever knows how it moves.
type Hang func(j *job.Job, strut string, left, right float64) (measure.Stood, error)

// StoodText are the three numbers of a place as a hand gives them: ahead, left, up (on the floor: height), the datum each is taken from (hanging only,
// "" as the job counts), and how far off each may be ("" as a hooked tape).
type StoodText struct {
	Typed     [3]string
	From      [3]string
	PlusMinus string
}

// StoodSource is the source of coordinates worked out so, in the file; the screen translates it.
func StoodSource(how string) string {
	return map[string]string{OnStands: "on stands", Hanging: "as it hung", OnFloor: "from the floor"}[how]
}

// StoodWords is that in the words of the screen: "on stands".
func StoodWords(how string) string {
	switch how {
	case OnStands:
		return words.T("on stands")
	case Hanging:
		return words.T("as it hung")
	}
	return words.T("from the floor")
}

// CanStand reports whether a pivot can be measured that way: what the axle carries on stands or hanging, what the frame carries over the floor. What turns by
// itself, a lever or what stands on a link, cannot.
func CanStand(j *job.Job, p Pivot, how string) bool {
	axle, frame := carriedBy(j, p)
	if how == OnFloor {
		return frame
	}
	return axle
}

func carriedBy(j *job.Job, p Pivot) (axle, frame bool) {
	if find(j, p) == nil {
		return false, false
	}
	switch p.List {
	case Rockers:
		on := j.Rockers[p.Index].On == "axle"
		switch p.End {
		case Centre:
			return on, !on
		case FarEnd:
			return !on, on
		}
		return false, false
	case Sensors:
		on := j.Sensors[p.Index].On
		return p.End == FarEnd && (on == "" || on == "axle"), p.End == Shaft
	case Struts:
		if p.End == AxleEnd && j.Struts[p.Index].On != "" && j.Struts[p.Index].On != "axle" {
			return false, false
		}
	case Output, Bearing:
		return false, true
	}
	return p.End == AxleEnd, p.End == FrameEnd
}

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

// read makes a place of what was typed, in the axes it was measured in, and how far off its three numbers may be.
func (s *stand) read(j *job.Job, t StoodText) (at, off r3.Vec, err error) {
	names := [3]string{words.T("Ahead"), words.T("Left"), words.T("Up")}
	if s.how == OnFloor {
		names[2] = words.T("Height")
	}
	tape := measure.TapeOff
	if text := plainOff(t.PlusMinus); text != "" {
		tape, err = parseLength(j, text)
		if err == nil && tape < 0 {
			err = words.Error("It is below 0.")
		}
		if err != nil {
			return at, off, words.Errorf("±: %w", err)
		}
	}
	var v, o [3]float64
	for a := range v {
		if v[a], err = parseLength(j, t.Typed[a]); err != nil {
			return at, off, words.Errorf("%s: %w", names[a], err)
		}
		o[a] = tape
		if name := t.From[a]; name != "" && s.how == Hanging {
			i := datumAt(j, name)
			if i < 0 {
				return at, off, words.Errorf("%s: there is no datum %s any more. Choose another one.", names[a], name)
			}
			from, ok := fixes(&j.Datums[i], Axis(a))
			if !ok {
				return at, off, words.Errorf("%s does not say where it is in %s. Choose another datum.", name, Axis(a))
			}
			v[a] += from
			o[a] = math.Hypot(tape, value(j.Datums[i].PlusMinus, 0))
		}
	}
	return s.place(r3.Vec{X: v[0], Y: v[1], Z: v[2]}), r3.Vec{X: o[0], Y: o[1], Z: o[2]}, nil
}

// StoodAt is where a place measured that way is at ride height, body axes, and how far off it may be per axis, mm.
func StoodAt(j *job.Job, how string, t StoodText, hang Hang) (at, off r3.Vec, err error) {
	s, err := standOf(j, how, hang)
	if err != nil {
		return at, off, err
	}
	p, o, err := s.read(j, t)
	if err != nil {
		return at, off, err
	}
	at = s.ToRide(p)
	if r3.Norm(at) > farthest || math.IsNaN(at.X+at.Y+at.Z) {
		return at, off, words.Error("That place would be more than 100 m from the axle. Check its three numbers.")
	}
	return at, s.PlusMinus(p, o, s.others), nil
}

// TakeStood puts a pivot where its three numbers, measured that way, come to at ride height, and keeps them as typed. A measured pivot refuses, and a link
// that keeps its length.
func TakeStood(j *job.Job, p Pivot, how string, t StoodText, hang Hang) error {
	s := find(j, p)
	switch {
	case s == nil:
		return errGone
	case !CanStand(j, p, how):
		return words.Errorf("%s is not carried by what stood so, so it cannot be measured on it.", s.words(p))
	case s.isMeasured():
		return locked(s.words(p))
	case p.List == Links && KeepsLength(j, p.Index):
		return words.Errorf("%s keeps its length, and that would change it. Turn Keep length off first.", s.words(p))
	}
	if err := tellsItself(j, p, how); err != nil {
		return err
	}
	at, off, err := StoodAt(j, how, t, hang)
	if err != nil {
		return words.Errorf("%s: %w", s.words(p), err)
	}
	if _, err := s.move(j, p, rounded(at)); err != nil {
		return err
	}
	if now, _ := At(j, p); r3.Norm(r3.Sub(now, rounded(at))) > restoodTol { // led elsewhere
		return words.Errorf("%s is kept to something, and that would change it. Turn Keep off first.", s.words(p))
	}
	for a := X; a <= Z; a++ {
		own := takenAs(j, how, t)
		if s.mirrored(p) {
			own.Side = "right"
		}
		v := roundedUp(coordinate(off, a))
		setGiven(s.given, s.key+"."+axisKeys[a], job.GivenValue{PlusMinus: &v, Source: StoodSource(how), Taken: &own})
	}
	return nil
}

// takenAs is what was typed of a place, each number with its unit.
func takenAs(j *job.Job, how string, t StoodText) job.Taken {
	taken := job.Taken{How: how}
	for a, text := range t.Typed {
		taken.Typed = append(taken.Typed, withUnit(j, text))
		if how == Hanging && t.From[a] != "" {
			taken.From = slices.Clone(t.From[:])
		}
	}
	if off := plainOff(t.PlusMinus); off != "" {
		taken.PlusMinus = withUnit(j, off)
	}
	return taken
}

// tellsItself refuses the foot of the very strut whose length tells where the axle hung: whatever place it is given agrees with that length.
func tellsItself(j *job.Job, p Pivot, how string) error {
	if how != Hanging || j.Stood == nil || j.Stood.Hanging == nil || j.Stood.Hanging.Strut == "" || p.List != Struts || p.End != AxleEnd {
		return nil
	}
	name := j.Stood.Hanging.Strut
	if bare, _ := parted(j.Struts[p.Index].Name); j.Struts[p.Index].Name != name && bare != name {
		return nil
	}
	return words.Errorf("%s tells by its length where the axle hung, so its own axle end cannot be measured there. Choose the tube's two ends to tell it.", name)
}

func roundedUp(off float64) float64 { return math.Ceil(off*10) / 10 }

func rounded(v r3.Vec) r3.Vec {
	round := func(v float64) float64 { return math.Round(v*decimals) / decimals }
	return r3.Vec{X: round(v.X), Y: round(v.Y), Z: round(v.Z)}
}

// takenOf is what a pivot was worked out from that way, by the first of its coordinates that still holds it; nil where none does.
func takenOf(s *slot, how string) *job.Taken {
	for _, a := range axisKeys {
		if t := (*s.given)[s.key+"."+a].Taken; t != nil && (how == "" || t.How == how) {
			return t
		}
	}
	return nil
}

func textOf(t *job.Taken) (out StoodText) {
	out.PlusMinus = t.PlusMinus
	copy(out.Typed[:], t.Typed)
	copy(out.From[:], t.From)
	return out
}

// StoodOf is how a pivot was measured, on an axle or a body that stood otherwise than at ride height, with its three numbers as typed; ok is false where it
// was not, or where its twin was.
func StoodOf(j *job.Job, p Pivot) (how string, t StoodText, ok bool) {
	s := find(j, p)
	if s == nil {
		return "", t, false
	}
	k := takenOf(s, "")
	if k == nil || (k.Side == "right") != s.mirrored(p) {
		return "", t, false
	}
	return k.How, textOf(k), true
}

// StoodPivots are the pivots measured that way, each on the side it was measured on.
func StoodPivots(j *job.Job, how string) []Pivot {
	var out []Pivot
	for _, p := range Pivots(j) {
		if t := takenOf(find(j, p), how); t != nil && CanStand(j, p, how) {
			if t.Side == "right" && p.Side == job.Left {
				p.Side = job.Right
			}
			out = append(out, p)
		}
	}
	return out
}

// IsStood reports whether a coordinate was measured on an axle or a body that stood otherwise than at ride height, and what was typed for it then.
func IsStood(g job.GivenValue, a Axis) (how, typed string, ok bool) {
	if g.Taken == nil || len(g.Taken.Typed) != 3 {
		return "", "", false
	}
	return g.Taken.How, strings.TrimSpace(g.Taken.Typed[a]), true
}

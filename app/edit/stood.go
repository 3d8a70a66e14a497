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
		return words.Errorf("%s keeps its length, and that would change it. Press Keep and leave the length first.", s.words(p))
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
	if err := s.stands(j, p, rounded(at)); err != nil {
		return err
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

package edit

import (
	"slices"
	"strconv"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// holeNear is how far from a hole's middle a pivot still stands in it, mm (our choice: what a bolt gives in its hole).
const holeNear = 0.5

// leastPitch is how near one hole of a row lies to the next, mm.
const leastPitch = 1.0

// holesAt is the entry of the file for a pivot's holes, -1 where it has none; mirrored tells that the entry is the other side's: of a pair's right twin, or
// of the pair one of its twins was unlinked from.
func holesAt(j *job.Job, p Pivot) (i int, mirrored bool) {
	s := find(j, p)
	if s == nil {
		return -1, false
	}
	name := PartName(j, PartOf(p))
	of := func(name string) int {
		return slices.IndexFunc(j.Holes, func(h job.Holes) bool { return h.Of == name && h.End == s.key })
	}
	if i = of(name); i >= 0 {
		return i, s.mirrored(p)
	}
	if bare, side := parted(name); side >= 0 {
		return of(bare), side == 1
	}
	return -1, false
}

// Holes are the places of the holes a pivot may be bolted in, number 1 first, body axes; nil where it has none.
func Holes(j *job.Job, p Pivot) []r3.Vec {
	i, mirrored := holesAt(j, p)
	if i < 0 {
		return nil
	}
	var out []r3.Vec
	for _, at := range j.Holes[i].Places() {
		if mirrored {
			at = at.Mirror()
		}
		out = append(out, at.Vec())
	}
	return out
}

// HoleOf is the number of the hole a pivot stands in; 0: in none.
func HoleOf(j *job.Job, p Pivot) int {
	i, mirrored := holesAt(j, p)
	if i < 0 {
		return 0
	}
	v, _ := At(j, p)
	at := job.Point{v.X, v.Y, v.Z}
	if mirrored {
		at = at.Mirror()
	}
	return j.Holes[i].Hole(at, holeNear)
}

// HoleText is a row of holes as a hand types it: the number of the hole the pivot stands in (empty: the row stays where it is), how many holes there are
// (empty: none) and the way from one to the next, ahead, to the left and up (empty: 0).
type HoleText struct {
	Stands, Count string
	Step          [3]string
}

// FieldError is a refusal of one field of a form, counted from 0 in the order the form has them.
type FieldError struct {
	Field int
	Err   error
}

// Error is the refusal's own sentence.
func (e *FieldError) Error() string { return e.Err.Error() }

// Unwrap is the refusal.
func (e *FieldError) Unwrap() error { return e.Err }

// The fields of a HoleText as a form has them.
const (
	HoleCount = iota
	HoleStands
	HoleStep   // and the two after it
	HoleFields = HoleStep + 3
)

// HolesTyped is how a pivot's row of holes reads in a form; one whose holes are each for themselves reads by their number only.
func HolesTyped(j *job.Job, p Pivot) (t HoleText) {
	i, mirrored := holesAt(j, p)
	if i < 0 {
		return t
	}
	h := &j.Holes[i]
	t.Count = strconv.Itoa(len(h.Places()))
	if k := HoleOf(j, p); k > 0 {
		t.Stands = strconv.Itoa(k)
	}
	if h.Step == nil {
		return t
	}
	step := *h.Step
	if mirrored {
		step = step.Mirror()
	}
	for a := range step {
		if typed := h.Given["step."+axisKeys[a]].Typed; typed != "" {
			if t.Step[a] = typed; mirrored && a == int(Y) {
				t.Step[a] = negated(typed)
			}
		} else if step[a] != 0 {
			t.Step[a] = showLength(j, step[a])
		}
	}
	return t
}

// TypeHoles gives a pivot a row of holes as typed, or takes its holes away. What was typed for the way from one to the next is kept. A refusal is a
// *FieldError where one field is to blame.
func TypeHoles(j *job.Job, p Pivot, t HoleText) error {
	s := find(j, p)
	if s == nil {
		return errGone
	}
	if strings.TrimSpace(t.Count) == "" || strings.TrimSpace(t.Count) == "0" {
		return SetHoles(j, p, r3.Vec{}, r3.Vec{}, 0)
	}
	count, err := strconv.Atoi(strings.TrimSpace(t.Count))
	if err != nil {
		return &FieldError{HoleCount, words.Errorf("%s: how many holes the row has is a whole number.", s.words(p))}
	}
	if count < 2 || count > job.MostHoles {
		return holeCountRefused(s, p)
	}
	var way [3]float64
	for a := range way {
		if strings.TrimSpace(t.Step[a]) == "" {
			continue
		}
		if way[a], err = parseLength(j, t.Step[a]); err != nil {
			return &FieldError{HoleStep + a, words.Errorf("%s, to the next hole, %s: %w", s.words(p), Axis(a), err)}
		}
	}
	step := r3.Vec{X: way[0], Y: way[1], Z: way[2]}
	first, _ := At(j, p)
	stands := strings.TrimSpace(t.Stands)
	switch had := Holes(j, p); {
	case stands != "":
		k, err := strconv.Atoi(stands)
		if err != nil || k < 1 || k > count {
			return &FieldError{HoleStands, words.Errorf("%s: the hole it stands in is a number from 1 to %d, or empty where it stands in none.", s.words(p), count)}
		}
		first = r3.Sub(first, r3.Scale(float64(k-1), step))
	case had != nil:
		first = had[0]
	}
	if err := SetHoles(j, p, first, step, count); err != nil {
		return err
	}
	i, mirrored := holesAt(j, p)
	for a := range way {
		if typed := strings.TrimSpace(t.Step[a]); typed != "" {
			if mirrored && a == int(Y) {
				typed = negated(typed)
			}
			setGiven(&j.Holes[i].Given, "step."+axisKeys[a], job.GivenValue{Typed: typed})
		}
	}
	return nil
}

func holeCountRefused(s *slot, p Pivot) error {
	return &FieldError{HoleCount, words.Errorf("%s: a row has from 2 to %d holes. Give another number.", s.words(p), job.MostHoles)}
}

// SetHoles gives a pivot a row of holes: the first, from each to the next, body axes, mm, and how many. Count 0 takes them away.
func SetHoles(j *job.Job, p Pivot, first, step r3.Vec, count int) error {
	s := find(j, p)
	if s == nil {
		return errGone
	}
	name := PartName(j, PartOf(p))
	i := slices.IndexFunc(j.Holes, func(h job.Holes) bool { return h.Of == name && h.End == s.key })
	if count == 0 {
		if i < 0 {
			if i, _ = holesAt(j, p); i < 0 {
				return nil
			}
			return &FieldError{HoleCount, words.Errorf("%s has the holes of %s. Link the two again to take them away.", s.words(p), j.Holes[i].Of)}
		}
		if j.Holes = slices.Delete(slices.Clone(j.Holes), i, i+1); len(j.Holes) == 0 {
			j.Holes = nil
		}
		return nil
	}
	if count < 2 || count > job.MostHoles {
		return holeCountRefused(s, p)
	}
	if !(r3.Norm(step) >= leastPitch) || r3.Norm(first) > farthest || r3.Norm(step)*float64(count) > farthest {
		return &FieldError{HoleStep, words.Errorf("%s: the holes of a row lie at least 1 mm apart, within 100 m. Give the way from one to the next.", s.words(p))}
	}
	a, b := job.Point{tidy(first.X), tidy(first.Y), tidy(first.Z)}, job.Point{tidy(step.X), tidy(step.Y), tidy(step.Z)}
	if s.mirrored(p) {
		a, b = a.Mirror(), b.Mirror()
	}
	h := job.Holes{Of: name, End: s.key, First: &a, Step: &b, Count: count}
	if j.Holes = slices.Clone(j.Holes); i >= 0 {
		j.Holes[i] = h
	} else {
		j.Holes = append(j.Holes, h)
	}
	return nil
}

// TakeHole puts a pivot into its hole of a number.
func TakeHole(j *job.Job, p Pivot, number int) error {
	list := Holes(j, p)
	if number < 1 || number > len(list) {
		return words.Errorf("%s has no hole %d.", Name(j, p), number)
	}
	if err := Move(j, p, list[number-1]); err != nil {
		return err
	}
	return find(j, p).stands(j, p, list[number-1])
}

// holePlaces are the landings of a pivot in its holes.
func holePlaces(out []Landing, j *job.Job, p Pivot) []Landing {
	list := Holes(j, p)
	for i, at := range list {
		out = append(out, Landing{Kind: LandHole, Words: words.F("in hole %d of %d", i+1, len(list)), At: at})
	}
	return out
}

// holesFollow gives a part that was renamed the holes it had by its old name. The old entry stays for a trial that still has the old name; Job.Tidy takes
// out what nothing goes by.
func holesFollow(j *job.Job, old, name string) {
	for _, h := range slices.Clone(j.Holes) {
		if h.Of == old && !slices.ContainsFunc(j.Holes, func(o job.Holes) bool { return o.Of == name && o.End == h.End }) {
			h.Of = name
			j.Holes = append(slices.Clone(j.Holes), h)
		}
	}
}

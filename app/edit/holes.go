package edit

import (
	"slices"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// holeNear is how far from a hole's middle a pivot still stands in it, mm (our choice: what a bolt gives in its hole).
const holeNear = 0.5

// holesAt is the entry of the file for a pivot's holes, -1 where it has none.
func holesAt(j *job.Job, p Pivot) int {
	s := find(j, p)
	if s == nil {
		return -1
	}
	e, ok := at(j, PartOf(p))
	if !ok || e.name == nil {
		return -1
	}
	return slices.IndexFunc(j.Holes, func(h job.Holes) bool { return h.Of == *e.name && h.End == s.key })
}

// Holes are the places of the holes a pivot may be bolted in, number 1 first, body axes (mirrored for the right twin); nil where it has none.
func Holes(j *job.Job, p Pivot) []r3.Vec {
	i := holesAt(j, p)
	if i < 0 {
		return nil
	}
	mirrored := find(j, p).mirrored(p)
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
	i := holesAt(j, p)
	if i < 0 {
		return 0
	}
	return j.Holes[i].Hole(*find(j, p).at, holeNear)
}

// SetHoles gives a pivot a row of holes: the first as its own place in the file is given (of a pair the left), from each to the next, and how many. None: count 0.
func SetHoles(j *job.Job, p Pivot, first, step r3.Vec, count int) error {
	s := find(j, p)
	e, ok := at(j, PartOf(p))
	if s == nil || !ok || e.name == nil {
		return errGone
	}
	i := holesAt(j, p)
	if count == 0 {
		if i >= 0 {
			j.Holes = cut(j.Holes, i)
			if len(j.Holes) == 0 {
				j.Holes = nil
			}
		}
		return nil
	}
	if count < 2 || count > job.MostHoles {
		return words.Errorf("%s: a row has from 2 to %d holes. Give another number.", s.words(p), job.MostHoles)
	}
	if !(r3.Norm(step) >= 1) || r3.Norm(first) > farthest || r3.Norm(step) > farthest {
		return words.Errorf("%s: the holes of a row lie at least 1 mm apart, within 100 m. Give the way from one to the next.", s.words(p))
	}
	a, b := job.Point{tidy(first.X), tidy(first.Y), tidy(first.Z)}, job.Point{tidy(step.X), tidy(step.Y), tidy(step.Z)}
	if s.mirrored(p) {
		a, b = a.Mirror(), b.Mirror()
	}
	h := job.Holes{Of: *e.name, End: s.key, First: &a, Step: &b, Count: count}
	if i >= 0 {
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
	return Move(j, p, list[number-1])
}

// holePlaces are the landings of a pivot in its holes.
func holePlaces(out []Landing, j *job.Job, p Pivot) []Landing {
	list := Holes(j, p)
	for i, at := range list {
		out = append(out, Landing{Kind: LandHole, Words: words.F("in hole %d of %d", i+1, len(list)), At: at})
	}
	return out
}

// holesFollow keeps holes with their part when it is renamed.
func holesFollow(j *job.Job, old, name string) {
	for i := range j.Holes {
		if j.Holes[i].Of == old {
			j.Holes[i].Of = name
		}
	}
}

// holesGone takes out the holes of a part that is removed.
func holesGone(j *job.Job, name string) {
	j.Holes = slices.DeleteFunc(j.Holes, func(h job.Holes) bool { return h.Of == name })
	if len(j.Holes) == 0 {
		j.Holes = nil
	}
}

// holesApart gives each of two twins that are unlinked the pair's holes, the right one's mirrored.
func holesApart(j *job.Job, name string) {
	for i := range len(j.Holes) {
		h := &j.Holes[i]
		if h.Of != name {
			continue
		}
		right := job.Holes{Of: name + " right", End: h.End, Count: h.Count}
		flip := func(p *job.Point) *job.Point {
			if p == nil {
				return nil
			}
			m := p.Mirror()
			return &m
		}
		right.First, right.Step = flip(h.First), flip(h.Step)
		for _, p := range h.At {
			right.At = append(right.At, p.Mirror())
		}
		h.Of = name + " left"
		j.Holes = append(j.Holes, right)
	}
}

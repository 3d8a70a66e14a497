package edit

import (
	"slices"

	"axleloft/geometry/job"
)

// BracketOf is the bracket that holds a pivot, nil where the job has none. Of a pair one is given for both sides.
func BracketOf(j *job.Job, p Pivot) *job.Bracket {
	s := find(j, p)
	if s == nil {
		return nil
	}
	of := func(name string) int {
		return slices.IndexFunc(j.Brackets, func(b job.Bracket) bool { return b.Of == name && b.End == s.key })
	}
	name := PartName(j, PartOf(p))
	i := of(name)
	if i < 0 {
		if bare, side := parted(name); side >= 0 { // one of an unlinked pair
			i = of(bare)
		}
	}
	if i < 0 {
		return nil
	}
	return &j.Brackets[i]
}

// Paired reports whether a pivot has a twin that moves as its mirror image.
func Paired(j *job.Job, p Pivot) bool {
	s := find(j, p)
	return s != nil && s.pair
}

// Bracketed are the pivots that have a bracket, each pair once, in file order.
func Bracketed(j *job.Job) []Pivot {
	return slices.DeleteFunc(Pivots(j), func(p Pivot) bool { return BracketOf(j, p) == nil })
}

// Named are the pivots of a job by all the names they go by: a pair's by that of either side, and that of both.
func Named(j *job.Job) (names []string, of map[string]Pivot) {
	of = map[string]Pivot{}
	for _, p := range Pivots(j) {
		sides := []job.Side{p.Side}
		if Paired(j, p) {
			sides = []job.Side{job.Left, job.Right, job.Single}
		}
		for _, side := range sides {
			q := p
			q.Side = side
			name := Name(j, q)
			names, of[name] = append(names, name), q
		}
	}
	return names, of
}

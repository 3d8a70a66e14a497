package edit

import (
	"slices"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// Strays are sentences about the brackets and rows of holes of a whole job, trials included, that are of no pivot it has, in no trial either.
func Strays(j *job.Job) (out []string) {
	layouts := []*job.Job{j}
	for i := range j.Trials {
		if t, err := j.WithTrial(j.Trials[i].Name); err == nil {
			layouts = append(layouts, t)
		}
	}
	for i := range j.Brackets {
		if !slices.ContainsFunc(layouts, func(l *job.Job) bool { _, ok := Holds(l, i); return ok }) {
			out = append(out, words.F("The bracket of %q at %q is of no pivot there is: correct its of or end.", j.Brackets[i].Of, j.Brackets[i].End))
		}
	}
	for i := range j.Holes {
		if !slices.ContainsFunc(layouts, func(l *job.Job) bool {
			return slices.ContainsFunc(Pivots(l), func(p Pivot) bool { k, _ := holesAt(l, p); return k == i })
		}) {
			out = append(out, words.F("The holes of %q at %q are of no pivot there is: correct their of or end.", j.Holes[i].Of, j.Holes[i].End))
		}
	}
	return out
}

package edit

import (
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// ReadyReasons are the ready reasons to set a finding aside.
var ReadyReasons = []string{words.Mark("will be cut away"), words.Mark("can be moved"), words.Mark("measured on the vehicle, clear"), words.Mark("meant to touch")}

// asideNumber is the name under which the number of a set-aside finding is kept.
const asideNumber = "value"

// SetAside puts a finding aside with a reason, its number and the date (2006-01-02). It replaces an earlier reason.
func SetAside(j *job.Job, finding, trial, reason, date string, number float64) error {
	reason = strings.TrimSpace(reason)
	if reason == "" {
		return words.Errorf("Say why it is set aside: one word will do.")
	}
	if finding == "" {
		return words.Errorf("That finding is no longer there.")
	}
	a := job.SetAside{Finding: finding, Trial: trial, Reason: reason, Date: date}
	if number == number && number-number == 0 { // finite
		a.Numbers = map[string]float64{asideNumber: number}
	}
	if i := asideAt(j, finding, trial); i >= 0 {
		j.SetAside[i] = a
		return nil
	}
	j.SetAside = append(j.SetAside, a)
	return nil
}

// BringBack ends that.
func BringBack(j *job.Job, finding, trial string) error {
	i := asideAt(j, finding, trial)
	if i < 0 {
		return words.Errorf("That finding is not set aside.")
	}
	j.SetAside = cut(j.SetAside, i)
	return nil
}

func asideAt(j *job.Job, finding, trial string) int {
	return slices.IndexFunc(j.SetAside, func(a job.SetAside) bool { return a.Finding == finding && a.Trial == trial })
}

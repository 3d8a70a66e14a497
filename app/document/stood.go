package document

import (
	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// SetStood sets one number of how axle or body stood while places on it were measured, and works out again every pivot measured so, in the job and in every
// trial: one undoable step. said tells how many moved, or what is still missing; pivots stay where they are till it is there.
func (d *Document) SetStood(how, key, text string) (said string, err error) {
	part := edit.Part{List: edit.Standing, Index: stoodIndex(how)}
	err = d.editAll(words.F("%s: corrected", edit.PartName(d.current, part)), func(j *job.Job) error {
		if err := edit.Set(j, part, key, text); err != nil {
			return err
		}
		said, err = restand(j, how)
		return err
	})
	return said, err
}

// restand works out again what was measured so where it can be told how it stood.
func restand(j *job.Job, how string) (said string, err error) {
	if why := edit.StoodWhy(j, how, study.Hang); why != nil {
		if edit.AnyStood(j, how) {
			return words.F("Places measured so stay where they are. %s", Words(why)), nil
		}
		return "", nil
	}
	r, err := edit.Restand(j, how, study.Hang)
	if err != nil || r == (edit.Restood{}) {
		return "", err
	}
	return r.Words(), nil
}

func stoodIndex(how string) int {
	for i, h := range edit.Stoods {
		if h == how {
			return i
		}
	}
	return -1
}

// Restand works out again every pivot measured so, after something else has changed that it hangs on: one undoable step.
func (d *Document) Restand(how string) (said string, err error) {
	err = d.editAll(words.F("%s: worked out again", edit.PartName(d.current, edit.Part{List: edit.Standing, Index: stoodIndex(how)})), func(j *job.Job) error {
		r, err := edit.Restand(j, how, study.Hang)
		said = r.Words()
		return err
	})
	return said, err
}

// StoodAt is where a place measured so is at ride height, body axes, and how far off it may be per axis, mm.
func (d *Document) StoodAt(how string, t edit.StoodText) (at, off r3.Vec, err error) {
	return edit.StoodAt(shownIn(d.current, d.unit), how, t, study.Hang)
}

// StoodWhy is what is still missing to tell how something stood; nil where nothing is.
func (d *Document) StoodWhy(how string) error {
	return edit.StoodWhy(shownIn(d.current, d.unit), how, study.Hang)
}

// Astray is how many pivots measured so stand elsewhere than their numbers say, and by how much the worst, mm.
func (d *Document) Astray(how string) (n int, worst float64, err error) {
	return edit.Astray(d.current, how, study.Hang)
}

// TakeStood puts a pivot where its three numbers, measured so, come to at ride height, and keeps them as typed: undoable.
func (d *Document) TakeStood(p Pivot, how string, t edit.StoodText) error {
	label := words.F("%s, measured %s", edit.Name(d.current, p), edit.StoodWords(how))
	return d.Edit(label, "", func(j *job.Job) error { return edit.TakeStood(j, p, how, t, study.Hang) })
}

// StoodSays says how axle or body stood by its numbers; the error what is still missing.
func (d *Document) StoodSays(how string) (string, error) {
	return edit.StoodSays(shownIn(d.current, d.unit), how, study.Hang)
}

// TakeStoodDatum puts a datum where its three numbers, measured from the floor, come to, a new one where there is none of that name, and takes along what
// hangs on it in the job and in every trial: one undoable step. said tells how much moved.
func (d *Document) TakeStoodDatum(name string, t edit.StoodText) (said string, err error) {
	err = d.editAll(words.F("%s, measured %s", name, edit.StoodWords(edit.OnFloor)), func(j *job.Job) error {
		_, had := edit.DatumPlace(j, name)
		c, err := edit.TakeStoodDatum(j, name, t)
		if said = words.F("%s: taken.", name); had {
			said = c.Words(name)
		}
		return err
	})
	return said, err
}

// HungAt are the wheel travels at which the axle hung, mm, bump positive.
func (d *Document) HungAt() (left, right float64, err error) {
	return edit.HungAt(shownIn(d.current, d.unit), study.Hang)
}

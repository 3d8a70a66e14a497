package document

import (
	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
)

// AddDatum adds a datum: undoable.
func (d *Document) AddDatum(t edit.DatumText) error {
	return d.Edit(words.F("datum %s", t.Name), "", func(j *job.Job) error { return edit.AddDatum(j, t) })
}

// CorrectDatum gives a datum its right place or name, and takes along what hangs on it in the job and in every trial: one undoable step. words say how much
// moved.
func (d *Document) CorrectDatum(i int, t edit.DatumText) (phrase string, err error) {
	var c edit.Carried
	err = d.editAll(words.F("correct datum %s", t.Name), func(j *job.Job) (err error) {
		if c, err = edit.CorrectDatum(j, i, t); err != nil {
			return err
		}
		for _, how := range []string{edit.Hanging, edit.OnFloor} { // what was measured from it, axle or body standing otherwise
			if edit.StoodWhy(j, how, study.Hang) == nil {
				r, err := edit.Restand(j, how, study.Hang)
				if c.Numbers += 3*r.Moved + r.With; err != nil {
					return err
				}
			}
		}
		return nil
	})
	return c.Words(t.Name), err
}

// RemoveDatum takes a datum out: undoable. What was counted from it stays where it is; counted is how many numbers that are.
func (d *Document) RemoveDatum(i int) (counted int, err error) {
	err = d.editAll(words.T("remove datum"), func(j *job.Job) (err error) {
		counted, err = edit.RemoveDatum(j, i)
		return err
	})
	return counted, err
}

// editAll changes the job with all its trials, whichever is shown, as one undoable step.
func (d *Document) editAll(label string, f func(*job.Job) error) error {
	d.Commit()
	next, err := d.change(d.whole, "", f)
	if err != nil || next == nil {
		return err
	}
	d.take(step{label: label, before: d.whole, after: next, trialBefore: d.trial, trialAfter: d.trial})
	return nil
}

// SetDatum counts a coordinate from a datum, "" from where the job counts: undoable. The pivot stays where it is.
func (d *Document) SetDatum(p Pivot, a edit.Axis, name string) error {
	return d.Edit(words.F("%s, %s: counted from", edit.Name(d.current, p), a.String()), "", func(j *job.Job) error { return edit.SetDatum(j, p, a, name) })
}

// ReadTapes makes tapes to a pivot of what was typed.
func (d *Document) ReadTapes(to Pivot, rows []edit.TapeText) ([]measure.Tape, error) {
	return edit.ReadTapes(shownIn(d.current, d.unit), to, rows)
}

// TakeTapes puts a pivot at an answer of its tapes: undoable.
func (d *Document) TakeTapes(p Pivot, rows []edit.TapeText, answer measure.Taped) error {
	return d.Edit(words.F("by tapes: %s", edit.Name(d.current, p)), "", func(j *job.Job) error { return edit.TakeTapes(j, p, rows, answer) })
}

// DatumTexts are the datums as they are typed, in the unit shown.
func (d *Document) DatumTexts() []edit.DatumText { return edit.DatumTexts(shownIn(d.current, d.unit)) }

// SquareWords says how square and level four datums lie.
func (d *Document) SquareWords(names [4]string, diagonals [2]string) (string, error) {
	return edit.SquareWords(shownIn(d.current, d.unit), names, diagonals)
}

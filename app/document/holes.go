package document

import (
	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/job"
)

// TypeHoles gives a pivot a row of holes as typed, or takes its holes away: undoable. A refusal is an *edit.FieldError where one field is to blame.
func (d *Document) TypeHoles(p Pivot, t edit.HoleText) error {
	return d.Edit(words.F("holes of %s", edit.Name(d.current, p)), "", func(j *job.Job) error { return edit.TypeHoles(j, p, t) })
}

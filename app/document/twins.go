package document

import (
	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/job"
)

// Unlink makes two singles of a pair: undoable. A pivot of it that is held stays held, as the side the hand took.
func (d *Document) Unlink(p Part) error {
	held := d.held
	if err := d.Edit(words.F("unlink %s", edit.PartName(d.current, p)), "", func(j *job.Job) error { return edit.Unlink(j, p) }); err != nil {
		return err
	}
	if held != nil && edit.PartOf(*held) == p {
		h := *held
		if h.Side == job.Right {
			h.Index++
		}
		h.Side = job.Single
		d.Hold(h)
	}
	return nil
}

// LinkAgain makes a pair of the two of an unlinked pair again, what hold is holding for both: undoable. A held pivot of either stays held.
func (d *Document) LinkAgain(hold Part) error {
	held := d.held
	var other Part
	side := job.Single
	if held != nil {
		if o, ok := edit.OtherSide(d.current, *held); ok {
			other, side = edit.PartOf(o), edit.SideOf(d.current, edit.PartOf(*held))
		}
	}
	if err := d.Edit(words.F("link again, as %s", edit.PartName(d.current, hold)), "", func(j *job.Job) error { return edit.LinkAgain(j, hold) }); err != nil {
		return err
	}
	if held != nil && side != job.Single && (edit.PartOf(*held) == hold || other == hold) {
		h := *held
		h.Index, h.Side = min(h.Index, other.Index), side
		d.Hold(h)
	}
	return nil
}

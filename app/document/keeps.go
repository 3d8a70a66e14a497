package document

import (
	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/job"
)

// SetKeepLength makes a link keep its length while its pivots are moved, or ends that: undoable.
func (d *Document) SetKeepLength(link int, keep bool) error {
	name := edit.PartName(d.current, Part{List: Links, Index: link})
	label := words.F("length of %s left", name)
	if keep {
		label = words.F("keep length: %s", name)
	}
	return d.Edit(label, "", func(j *job.Job) error { return edit.SetKeepLength(j, link, keep) })
}

// SetKeepLine keeps a pivot on a line through where it stands, or leaves the line: undoable.
func (d *Document) SetKeepLine(p Pivot, way edit.Way) error {
	label := words.F("line of %s left", edit.Name(d.current, p))
	if way != edit.WayNone {
		label = words.F("keep on line: %s", edit.Name(d.current, p))
	}
	return d.Edit(label, "", func(j *job.Job) error { return edit.SetKeepLine(j, p, way) })
}

// SetKeepPinion keeps how far the pinion turns between two travels of both wheels, mm, by the height of a link's frame end: undoable.
func (d *Document) SetKeepPinion(link int, from, to float64) error {
	return d.Edit(words.F("keep pinion: %s", edit.PartName(d.current, Part{List: Links, Index: link})), "", func(j *job.Job) error { return edit.SetKeepPinion(j, link, from, to) })
}

// LeavePinion keeps the pinion no more: undoable.
func (d *Document) LeavePinion() error {
	return d.Edit(words.T("pinion left"), "", func(j *job.Job) error { edit.LeavePinion(j); return nil })
}

// LeaveKeep leaves all that is kept of a pivot: undoable.
func (d *Document) LeaveKeep(p Pivot) error {
	return d.Edit(words.F("nothing kept: %s", edit.Name(d.current, p)), "", func(j *job.Job) error { return edit.LeaveKeep(j, p) })
}

package document

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"time"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// gesture is a drag under way.
type gesture struct {
	label string
	whole *job.Job // at its beginning
	trial string
}

// Edit changes the current job (the trial's part if a trial is chosen) by f on a copy, as one undoable step called label.
// If f or the checks refuse, nothing changes and the error is a plain sentence. Steps with the same non-empty key made without a pause in between join.
// A gesture under way is kept first. An edit that changes nothing is no step.
func (d *Document) Edit(label, key string, f func(*job.Job) error) error {
	d.Commit()
	next, err := d.change(d.whole, d.trial, f)
	if err != nil || next == nil {
		return err
	}
	d.take(step{label: label, key: key, before: d.whole, after: next, trialBefore: d.trial, trialAfter: d.trial})
	return nil
}

// take makes a step and shows it.
func (d *Document) take(s step) {
	d.history.add(s, d.saved)
	d.show(s.after, s.trialAfter)
	d.touched()
	d.tell(FileChanged)
}

// change works f on a copy of the job as the trial has it and returns the whole job with the result in its place; nil where nothing changed.
func (d *Document) change(whole *job.Job, trial string, f func(*job.Job) error) (*job.Job, error) {
	base, err := whole.WithTrial(trial)
	if err != nil {
		return nil, err
	}
	if trial == "" {
		base.Trials = whole.Trials // renames and removals reach the trials
	}
	c := shownIn(base, d.unit).Clone()
	if err := f(c); err != nil {
		return nil, err
	}
	if _, err := study.KeepPinion(c); err != nil {
		return nil, err
	}
	c.Shown = whole.Shown
	base.Shown = whole.Shown
	if reflect.DeepEqual(base, c) {
		return nil, nil
	}
	next := c
	if trial != "" {
		next = intoTrial(whole, trial, base, c)
	}
	if err := refuse(whole, next); err != nil {
		return nil, err
	}
	if edit.PartsWent(base, c) {
		next = next.Clone()
		next.Tidy() // a part that went leaves its name in carries lists
		edit.Forget(whole, next)
	}
	return next, nil
}

// intoTrial puts what changed from base to c into the trial, what is no trial's (notes, datums, set-aside findings ...) into the job.
func intoTrial(whole *job.Job, trial string, base, c *job.Job) *job.Job {
	next := *whole
	next.Trials = append([]job.Trial(nil), whole.Trials...)
	var t *job.Trial
	for i := range next.Trials {
		if next.Trials[i].Name == trial {
			t = &next.Trials[i]
		}
	}
	to, own := reflect.ValueOf(t).Elem(), reflect.ValueOf(&next).Elem()
	from, old := reflect.ValueOf(c).Elem(), reflect.ValueOf(base).Elem()
	for i := range from.NumField() {
		name := from.Type().Field(i).Name
		v := from.Field(i)
		if name == "Trials" || name == "Shown" || reflect.DeepEqual(v.Interface(), old.Field(i).Interface()) {
			continue
		}
		k := v.Kind()
		if part := to.FieldByName(name); part.IsValid() && (k == reflect.Pointer || k == reflect.Slice) {
			if k == reflect.Slice && v.IsNil() {
				v = reflect.MakeSlice(v.Type(), 0, 0) // none, not as drawn
			}
			part.Set(v)
			continue
		}
		own.Field(i).Set(v)
	}
	return &next
}

// refuse tells, in a sentence, the first thing wrong with next that was not wrong with before.
func refuse(before, next *job.Job) error {
	list := job.Check(next)
	if len(list) == 0 {
		return nil
	}
	old := map[string]bool{}
	for _, c := range job.Check(before) {
		old[c.Place+c.Text] = true
	}
	for _, c := range list {
		if !old[c.Place+c.Text] {
			return &Refusal{Place: c.Place, Words: inWords(next, c)}
		}
	}
	return nil
}

// Refusal is an edit the checks refused: nothing was changed.
type Refusal struct {
	Place string // "links[2].frame[1]"
	Words string
}

func (e *Refusal) Error() string { return e.Words }

// inWords puts the part's name before a complaint.
func inWords(j *job.Job, c job.Complaint) string {
	list, rest, ok := strings.Cut(c.Place, "[")
	at, _, ok2 := strings.Cut(rest, "]")
	i, err := strconv.Atoi(at)
	l, known := map[string]List{"links": Links, "arms": Arms, "rockers": Rockers, "sensors": Sensors, "struts": Struts, "stops": Stops, "straps": Straps, "lines": Lines, "envelopes": Envelopes,
		"vehicle.loads": Loads, "vehicle.heights": Heights}[list]
	if ok && ok2 && err == nil && known {
		if name := edit.PartName(j, Part{List: l, Index: i}); name != "" && !strings.Contains(c.Text, name) {
			return name + ": " + c.Text
		}
	}
	return c.Text
}

// show makes the job with a trial chosen the one on the bench.
func (d *Document) show(whole *job.Job, trial string) {
	changed := JobChanged | StudyChanged | PositionChanged
	if trial != d.trial {
		changed |= ShownChanged
	}
	before, was := d.current, d.whole
	d.whole, d.trial = whole, trial
	d.recompute()
	if d.followSelection(before) {
		changed |= SelectionChanged
	}
	if n := edit.Len(d.current, Loads); d.load >= n && d.load > 0 {
		d.load = max(0, n-1)
		changed |= ShownChanged
	}
	if d.checkPencils(was) {
		changed |= ShownChanged
	}
	d.tell(changed)
}

// recompute compiles the job at once and asks the worker for the figures.
func (d *Document) recompute() {
	c, err := d.whole.WithTrial(d.trial)
	if err != nil { // the trial is gone
		d.trial = ""
		c, _ = d.whole.WithTrial("")
	}
	d.current = d.placed(shownIn(asideIn(c, d.trial), d.unit))
	d.gen++
	d.now = study.Compile(d.current)
	d.stand()
	d.ask()
}

// BeginDrag, Preview, Commit, Cancel: one gesture is one undo step; Preview recomputes at once and writes no history.
// A gesture under way is kept first.
func (d *Document) BeginDrag(label string) {
	d.Commit()
	d.drag = &gesture{label: label, whole: d.whole, trial: d.trial}
}

// Preview shows the job as f makes it from the one at BeginDrag. A refusal leaves the last good one.
func (d *Document) Preview(f func(*job.Job) error) error {
	if d.drag == nil {
		return words.Error("Nothing is being dragged. Take a pivot first.")
	}
	next, err := d.change(d.drag.whole, d.drag.trial, f)
	if err != nil {
		return err
	}
	if next == nil {
		next = d.drag.whole
	}
	if next != d.whole {
		d.show(next, d.drag.trial)
		d.touched()
	}
	return nil
}

// Commit ends the gesture and keeps it. Without one it does nothing.
func (d *Document) Commit() {
	g := d.drag
	if g == nil {
		return
	}
	d.drag = nil
	if d.whole == g.whole {
		d.ask()
		return
	}
	d.history.add(step{label: g.label, before: g.whole, after: d.whole, trialBefore: g.trial, trialAfter: g.trial}, d.saved)
	d.ask() // the geometry is that of the last preview; now the fine figures
	d.touched()
	changed := JobChanged | FileChanged
	if d.checkPencils(g.whole) {
		changed |= ShownChanged
	}
	d.tell(changed)
}

// Cancel ends the gesture and puts everything back.
func (d *Document) Cancel() {
	g := d.drag
	if g == nil {
		return
	}
	d.drag = nil
	if d.whole != g.whole {
		d.show(g.whole, g.trial)
		d.touched()
		return
	}
	d.ask()
}

// Dragging reports whether a gesture is under way.
func (d *Document) Dragging() bool { return d.drag != nil }

// Undo takes the last step back; Redo does it again. The label says what: "rod 55 lower". During a gesture it is the gesture that goes back.
func (d *Document) Undo() (label string, ok bool) {
	if d.drag != nil {
		label = d.drag.label
		d.Cancel()
		return label, true
	}
	s, ok := d.history.undo()
	if !ok {
		return "", false
	}
	d.show(s.before, s.trialBefore)
	d.touched()
	d.tell(FileChanged)
	return s.label, true
}

// Redo does the last undone step again.
func (d *Document) Redo() (label string, ok bool) {
	d.Commit()
	s, ok := d.history.redo()
	if !ok {
		return "", false
	}
	d.show(s.after, s.trialAfter)
	d.touched()
	d.tell(FileChanged)
	return s.label, true
}

// CanUndo tells the label of the step Undo would take back.
func (d *Document) CanUndo() (label string, ok bool) {
	if h := &d.history; h.index > 0 {
		return h.steps[h.index-1].label, true
	}
	return "", false
}

// CanRedo tells the label of the step Redo would do again.
func (d *Document) CanRedo() (label string, ok bool) {
	if h := &d.history; h.index < len(h.steps) {
		return h.steps[h.index].label, true
	}
	return "", false
}

// DragPivot previews a pivot at a place (ride height, body axes), between BeginDrag and Commit.
func (d *Document) DragPivot(p Pivot, to r3.Vec) error {
	return d.Preview(func(j *job.Job) error { return edit.Move(j, p, to) })
}

// NudgePivot moves a pivot by a step as an undoable step; a run of nudges is one step.
func (d *Document) NudgePivot(p Pivot, by r3.Vec) error {
	at, ok := edit.At(d.current, p)
	if !ok {
		return words.Error("That pivot is no longer in the job. Take another one.")
	}
	to := r3.Add(at, by)
	tidy := func(v float64) float64 { return math.Round(v*1e6) / 1e6 } // so that steps of 0.1 do not leave tails
	to = r3.Vec{X: tidy(to.X), Y: tidy(to.Y), Z: tidy(to.Z)}
	label := words.F("move %s", edit.Name(d.current, p))
	return d.Edit(label, fmt.Sprint("nudge ", p), func(j *job.Job) error { return edit.Move(j, p, to) })
}

// TypePivot sets one coordinate from text as an undoable step.
func (d *Document) TypePivot(p Pivot, a edit.Axis, text string) error {
	label := fmt.Sprintf("%s, %s", edit.Name(d.current, p), a)
	return d.Edit(label, "", func(j *job.Job) error { return edit.Type(j, p, a, text) })
}

// SetPlusMinus takes how far off a coordinate may be as typed, as an undoable step; the pivot stays where it is.
func (d *Document) SetPlusMinus(p Pivot, a edit.Axis, text string) error {
	label := fmt.Sprintf("%s, %s ±", edit.Name(d.current, p), a)
	return d.Edit(label, "", func(j *job.Job) error { return edit.SetPlusMinus(j, p, a, text) })
}

// SetSource says how a coordinate was come by, as an undoable step; the pivot stays where it is.
func (d *Document) SetSource(p Pivot, a edit.Axis, source string) error {
	label := words.F("%s, %s: source", edit.Name(d.current, p), a)
	return d.Edit(label, "", func(j *job.Job) error { return edit.SetSource(j, p, a, source) })
}

// Placed reports whether a coordinate that nobody has given now was given when the job was opened: a hand has moved its pivot since.
func (d *Document) Placed(p Pivot, a edit.Axis) bool {
	if !edit.IsGuess(d.current, p, a) {
		return false
	}
	name := edit.PartName(d.current, edit.PartOf(p))
	for i := range edit.Len(d.opened, p.List) {
		was := p
		was.Index = i
		if edit.PartName(d.opened, edit.PartOf(was)) == name {
			_, given := edit.GivenOf(d.opened, was, a)
			return given
		}
	}
	return false
}

// SetMeasured marks a pivot measured, or frees it: undoable.
func (d *Document) SetMeasured(p Pivot, measured bool) error {
	label := words.F("free %s", edit.Name(d.current, p))
	if measured {
		label = words.F("measured: %s", edit.Name(d.current, p))
	}
	return d.Edit(label, "", func(j *job.Job) error { return edit.SetMeasured(j, p, measured) })
}

// SetPartMeasured marks a part in the way (or the axle) measured, or frees it: undoable.
func (d *Document) SetPartMeasured(p Part, measured bool) error {
	label := words.F("free %s", edit.PartName(d.current, p))
	if measured {
		label = words.F("measured: %s", edit.PartName(d.current, p))
	}
	return d.Edit(label, "", func(j *job.Job) error { return edit.SetPartMeasured(j, p, measured) })
}

// twinShift is a shift of the right twin as one of the left entry the file gives.
func twinShift(by r3.Vec, side job.Side) r3.Vec {
	if side == job.Right {
		by.Y = -by.Y
	}
	return by
}

// DragPart previews a part in the way shifted from where it was at BeginDrag; side says which twin the hand took.
func (d *Document) DragPart(p Part, side job.Side, by r3.Vec) error {
	return d.Preview(func(j *job.Job) error { return edit.MovePart(j, p, twinShift(by, side)) })
}

// NudgePart shifts a part in the way as an undoable step; a run of nudges is one step.
func (d *Document) NudgePart(p Part, side job.Side, by r3.Vec) error {
	label := words.F("move %s", edit.PartName(d.current, p))
	return d.Edit(label, fmt.Sprint("nudge ", p), func(j *job.Job) error { return edit.MovePart(j, p, twinShift(by, side)) })
}

// SetField sets one field of a part's form: undoable.
func (d *Document) SetField(p Part, key, text string) error {
	label := edit.PartName(d.current, p)
	for _, f := range edit.Fields(d.current, p) {
		if f.Key == key {
			label += ", " + strings.ToLower(f.Label)
		}
	}
	return d.Edit(label, fmt.Sprint("field ", p, key), func(j *job.Job) error { return edit.Set(j, p, key, text) })
}

// SetAside puts a finding aside with a reason; BringBack ends that. Undoable.
func (d *Document) SetAside(f *study.Finding, reason string) error {
	return d.Edit(words.F("set aside %s", f.What), "", func(j *job.Job) error {
		return edit.SetAside(j, f.Key, d.trial, reason, time.Now().Format(time.DateOnly), f.Value)
	})
}

// BringBack brings a finding back that was set aside.
func (d *Document) BringBack(f *study.Finding) error {
	trial := d.trial
	if f.SetAside != nil {
		trial = f.SetAside.Trial
	}
	return d.Edit(words.F("bring back %s", f.What), "", func(j *job.Job) error { return edit.BringBack(j, f.Key, trial) })
}

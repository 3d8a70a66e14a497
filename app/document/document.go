// Package document is the open job: edits with undo and redo, the chosen trial and load, autosave and recovery, and a worker that
// keeps the study up to date with the latest edit winning. No widgets, no Fyne: results come back through a function the window gives.
package document

import (
	"crypto/sha256"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"
)

// Change says what a subscriber must look at again.
type Change uint16

// What changed.
const (
	JobChanged       Change = 1 << iota // parts, numbers
	StudyChanged                        // new figures are in Study (or the figures there are no longer of the present geometry)
	PositionChanged                     // where the axle stands
	SelectionChanged                    // held pivot, selected part
	FileChanged                         // name, saved state
	ShownChanged                        // load, unit, trial, pencil lines, which charts
	ProgressChanged                     // how far the fine figures are, see Progress
)

// The words for pivots and parts are those of package edit.
type (
	// End names a pivot of a part.
	End = edit.End
	// List names a list of the job.
	List = edit.List
	// Pivot is one pivot of one entry of the file.
	Pivot = edit.Pivot
	// Part is one entry of a list.
	Part = edit.Part
)

// The ends and the lists.
const (
	FrameEnd  = edit.FrameEnd
	AxleEnd   = edit.AxleEnd
	Links     = edit.Links
	Arms      = edit.Arms
	Rockers   = edit.Rockers
	Sensors   = edit.Sensors
	Bearing   = edit.Bearing
	Struts    = edit.Struts
	Stops     = edit.Stops
	Straps    = edit.Straps
	Lines     = edit.Lines
	Output    = edit.Output
	Pinion    = edit.Pinion
	Envelopes = edit.Envelopes
	Loads     = edit.Loads
	Heights   = edit.Heights
)

// Document is the open job. All methods are called from one goroutine (the window's) unless they say otherwise.
//
// Jobs and studies it hands out are never changed afterwards: an edit makes new ones.
type Document struct {
	options Options

	whole   *job.Job // trials included
	trial   string   // chosen, "" as drawn
	current *job.Job // whole with the trial in place and the unit shown
	unit    string
	charts  []string

	history history
	drag    *gesture

	gen      uint64       // of the geometry as it stands
	now      *study.Study // compiled, of gen
	study    *study.Study // newest finished
	studyGen uint64

	axle      axle
	axleGen   uint64 // the geometry axle.position is of
	load      int
	pencils   []*pencil
	other     another
	pencilGen uint64

	held     *Pivot
	selected *Part

	file        string
	demo        bool
	saved       *job.Job // the job as the file has it; nil: never saved
	opened      *job.Job // as it was opened
	unitIn      string   // the unit as the file has it
	sum         *[sha256.Size]byte
	savedAt     time.Time
	saveWords   []string // of the files beside the job, at the last save
	hold        *hold    // of the file; nil: not held
	taken       string   // why it is not: another window has it
	outside     outside  // what somebody else did to the file
	keeper      *keeper  // autosave; nil where there is none
	keeperWords string

	worker *worker
	watch  map[int]func(Change)
	order  []int
	closed bool
}

// Options wires a document to its surroundings.
type Options struct {
	Post     func(func()) // runs a function on the window's goroutine; nil: results wait till Settle is called (tests)
	StateDir string       // where autosaves of jobs without a file live
	Autosave bool
}

// New opens a job that has no file yet. demo marks it "DEMO, not your vehicle": saving makes a job of one's own.
// A demo counts as saved till it is changed; any other job without a file is one's own work and is not saved yet.
func New(j *job.Job, demo bool, o Options) *Document {
	d := open(j, "", o)
	d.demo = demo
	if !demo {
		d.saved = nil
	}
	d.keeper = newKeeper(d)
	if !demo {
		d.touched() // it is kept aside from the start
	}
	return d
}

// Open reads a job file. The error is a plain sentence. Where another window has the job open, Elsewhere says so.
func Open(name string, o Options) (*Document, error) {
	if full, err := filepath.Abs(name); err == nil {
		name = full
	}
	sum := fileSum(name) // before it is read: what is written in between is found to be somebody else's
	j, err := job.ReadFile(name)
	if err != nil {
		return nil, err
	}
	d := open(j, name, o)
	d.sum = sum
	d.holdFile()
	d.keeper = newKeeper(d)
	d.lookOut()
	return d, nil
}

func open(j *job.Job, file string, o Options) *Document {
	d := &Document{options: o, file: file, whole: j, saved: j, opened: j, unit: "mm", watch: map[int]func(Change){}, charts: []string{"antisquat", "rollsteer"}}
	if j.Shown != nil && j.Shown.Length == "in" {
		d.unit = "in"
	}
	d.unitIn = d.unit
	d.load = heaviest(j)
	d.axle.corner = nowhere
	d.worker = newWorker(o.Post, d.accept, d.progressed)
	d.recompute()
	return d
}

// heaviest is the load a job opens with: the one that matters most.
func heaviest(j *job.Job) int {
	best := 0
	if j.Vehicle != nil {
		for i, l := range j.Vehicle.Loads {
			if l.Mass > j.Vehicle.Loads[best].Mass {
				best = i
			}
		}
	}
	return best
}

// Close stops the worker and removes the autosave if all is saved; else the autosave is brought up to date and stays.
func (d *Document) Close() {
	if d.closed {
		return
	}
	d.Commit()
	d.closed = true
	d.worker.close()
	if d.keeper != nil {
		d.keeper.close(d.toWrite(), d.Dirty())
	}
	d.outside.end()
	d.hold.release()
}

// Discard is Close for a job whose changes are thrown away: its autosave goes too.
func (d *Document) Discard() {
	if d.closed {
		return
	}
	d.closed = true
	d.worker.close()
	if d.keeper != nil {
		d.keeper.close(nil, false)
	}
	d.outside.end()
	d.hold.release()
}

// Subscribe calls f after every change, in the order of subscribing; cancel ends it.
func (d *Document) Subscribe(f func(Change)) (cancel func()) {
	key := 0
	if n := len(d.order); n > 0 {
		key = d.order[n-1] + 1
	}
	d.watch[key] = f
	d.order = append(d.order, key)
	return func() {
		delete(d.watch, key)
		d.order = slices.DeleteFunc(slices.Clone(d.order), func(k int) bool { return k == key })
	}
}

func (d *Document) tell(c Change) {
	for _, k := range d.order {
		if f := d.watch[k]; f != nil {
			f(c)
		}
	}
}

// Job is the whole job (trials included); Current is the job with the chosen trial in place: read-only, both.
func (d *Document) Job() *job.Job { return d.whole }

// Current returns the job as the chosen trial has it, the shown unit included.
func (d *Document) Current() *job.Job { return d.current }

// Measured is how much of the job is known: "measured 6 of 67".
func (d *Document) Measured() edit.Count { return edit.Measured(d.current) }

// Unit is "mm" or "in".
func (d *Document) Unit() string { return d.unit }

// SetUnit chooses the unit lengths are shown and typed in. No undo step; the file gets it with the next save.
func (d *Document) SetUnit(unit string) {
	if unit != "in" {
		unit = "mm"
	}
	if unit == d.unit {
		return
	}
	d.Commit()
	d.unit = unit
	d.recompute() // sentences of findings say their figures in it
	d.touched()
	d.tell(ShownChanged | JobChanged | StudyChanged | FileChanged)
}

// Reword has the figures and findings worded again, in the language now in use.
func (d *Document) Reword() {
	d.Commit()
	d.recompute()
	d.tell(ShownChanged | StudyChanged)
}

// shownIn is the job shown in a unit; the job given stays as it is.
func shownIn(j *job.Job, unit string) *job.Job {
	now := "mm"
	if j.Shown != nil && j.Shown.Length != "" {
		now = j.Shown.Length
	}
	if now == unit {
		return j
	}
	c := *j
	s := job.Shown{}
	if j.Shown != nil {
		s = *j.Shown
	}
	s.Length = unit
	c.Shown = &s
	return &c
}

// Charts are the keys of the charts shown, at most two; SetCharts chooses others.
func (d *Document) Charts() []string { return slices.Clone(d.charts) }

// SetCharts chooses the charts.
func (d *Document) SetCharts(keys ...string) {
	d.charts = slices.Clone(keys)
	d.tell(ShownChanged)
}

// Name is what to call the job on screen: the file's name without ending, or the title.
func (d *Document) Name() string {
	if d.file != "" {
		return strings.TrimSuffix(filepath.Base(d.file), Ending)
	}
	if t := strings.TrimSpace(d.whole.Title); t != "" {
		return t
	}
	return words.T("New job")
}

// --- held pivot, selected part ---

// Hold takes a pivot in hand; LetGo lets go of it.
func (d *Document) Hold(p Pivot) {
	if _, ok := edit.At(d.current, p); !ok {
		return
	}
	d.held = &p
	d.tell(SelectionChanged)
}

// LetGo lets go of the held pivot.
func (d *Document) LetGo() {
	if d.held != nil {
		d.held = nil
		d.tell(SelectionChanged)
	}
}

// Held is the pivot in hand.
func (d *Document) Held() (p Pivot, ok bool) {
	if d.held == nil {
		return Pivot{}, false
	}
	return *d.held, true
}

// Select chooses a part for the form; Deselect ends that.
func (d *Document) Select(p Part) {
	if p.Index < 0 || p.Index >= edit.Len(d.current, p.List) {
		return
	}
	d.selected = &p
	d.tell(SelectionChanged)
}

// Deselect ends the choice of a part.
func (d *Document) Deselect() {
	if d.selected != nil {
		d.selected = nil
		d.tell(SelectionChanged)
	}
}

// Selected is the chosen part.
func (d *Document) Selected() (p Part, ok bool) {
	if d.selected == nil {
		return Part{}, false
	}
	return *d.selected, true
}

// followSelection keeps what is held in hand through a change of the job: by name where entries moved, and lets go of what is no longer there.
func (d *Document) followSelection(before *job.Job) (changed bool) {
	find := func(p Part) (Part, bool) {
		name := edit.PartName(before, p)
		if edit.PartName(d.current, p) == name && name != "" {
			return p, true
		}
		for i := range edit.Len(d.current, p.List) {
			if q := (Part{List: p.List, Index: i}); edit.PartName(d.current, q) == name {
				return q, true
			}
		}
		// Renamed in place, or gone: the same place counts as the same part while the list is as long as before.
		return p, p.Index < edit.Len(d.current, p.List) && edit.Len(before, p.List) == edit.Len(d.current, p.List)
	}
	if d.held != nil {
		q, ok := find(edit.PartOf(*d.held))
		p := *d.held
		if p.List != Output && p.List != Pinion {
			p.Index = q.Index
		}
		if _, there := edit.At(d.current, p); !ok || !there {
			d.held, changed = nil, true
		} else if p != *d.held {
			d.held, changed = &p, true
		}
	}
	if d.selected != nil {
		q, ok := find(*d.selected)
		if !ok {
			d.selected, changed = nil, true
		} else if q != *d.selected {
			d.selected, changed = &q, true
		}
	}
	return changed
}

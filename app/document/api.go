// Package document is the open job: edits with undo and redo, the chosen trial and load, autosave and recovery, and a worker that
// keeps the study up to date with the latest edit winning. No widgets, no Fyne: results come back through a function the window gives.
package document

import (
	"time"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
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
	ShownChanged                        // load, unit, trial, pencil line, which charts
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
type Document struct{ _ [0]int }

// Options wires a document to its surroundings.
type Options struct {
	Post     func(func()) // runs a function on the window's goroutine; nil: results wait till Settle is called (tests)
	StateDir string       // where autosaves of jobs without a file live
	Autosave bool
}

// New opens a job that has no file yet. demo marks it "DEMO, not your vehicle": saving makes a job of one's own.
func New(j *job.Job, demo bool, o Options) *Document { panic("not built") }

// Open reads a job file.
func Open(name string, o Options) (*Document, error) { panic("not built") }

// Close stops the worker and removes the autosave if all is saved.
func (d *Document) Close() { panic("not built") }

// Discard is Close for a job whose changes are thrown away: its autosave goes too.
func (d *Document) Discard() { panic("not built") }

// Subscribe calls f after every change; cancel ends it.
func (d *Document) Subscribe(f func(Change)) (cancel func()) { panic("not built") }

// Settle works until the figures of the present geometry are Full and delivered (only where Options.Post is nil); for tests and the command line.
func (d *Document) Settle() { panic("not built") }

// --- what is there ---

// Job is the whole job (trials included); Current is the job with the chosen trial in place: read-only, both.
func (d *Document) Job() *job.Job { panic("not built") }

// Current returns the job as the chosen trial has it, the shown unit included.
func (d *Document) Current() *job.Job { panic("not built") }

// Now is the present geometry compiled (Mech, Gaps, Parts, Loads, Refusal): at once, without range, sweeps, findings.
// Draw parts and the axle from this and Position; take range, charts, extents and findings from Study.
func (d *Document) Now() *study.Study { panic("not built") }

// Study is the newest finished study, and whether it is of the geometry as it now stands. Before the first is finished it is Now.
func (d *Document) Study() (s *study.Study, current bool) { panic("not built") }

// Freshness tells which figures are of the present geometry: those of depth Live, those of depth Full.
// Show nothing of Study as current when Live is false; Ring and fine gaps only when Full is true.
func (d *Document) Freshness() Freshness { panic("not built") }

// Freshness is what of the figures is of the geometry as it now stands.
type Freshness struct{ Live, Full bool }

// Measured is how much of the job is known: "measured 6 of 67".
func (d *Document) Measured() edit.Count { panic("not built") }

// --- the axle ---

// Position is the axle where it now stands, of the geometry as it now stands (worked out at once).
func (d *Document) Position() *study.Position { panic("not built") }

// MoveAxle puts the axle at two travels (clamped to the range where there is one).
func (d *Document) MoveAxle(left, right float64) { panic("not built") }

// MoveWheel moves one wheel and leaves the other; clamped to the range.
func (d *Document) MoveWheel(side job.Side, travel float64) { panic("not built") }

// Held up: why the axle stands short of where it was asked to, a plain sentence; "" where it does not.
func (d *Document) StopWords() string { panic("not built") }

// Corner is a place of the travel pad one goes to by a press.
type Corner uint8

// The corners.
const (
	Ride Corner = iota
	FullBump
	FullDroop
	LeftUp
	RightUp
	nowhere
)

// GoCorner puts the axle there; ok is false where the range has no such corner. The axle follows the corner while pivots are dragged.
func (d *Document) GoCorner(c Corner) (ok bool) { panic("not built") }

// CornerAt tells at which corner the axle stands.
func (d *Document) CornerAt() (c Corner, ok bool) { panic("not built") }

// GoHeight puts both wheels at the height's travel plus the load's.
func (d *Document) GoHeight(i int) { panic("not built") }

// Standing tells which height button is lit (-1: none) and the words for where the axle is otherwise: "between", "past lowered", "past raised".
func (d *Document) Standing() (height int, words string) { panic("not built") }

// Load is the index of the present load; SetLoad chooses another (a lit height stays lit: the axle goes where that height is with that load).
func (d *Document) Load() int { panic("not built") }

// SetLoad chooses the present load.
func (d *Document) SetLoad(i int) { panic("not built") }

// Unit is "mm" or "in".
func (d *Document) Unit() string { panic("not built") }

// SetUnit chooses the unit lengths are shown and typed in. No undo step.
func (d *Document) SetUnit(unit string) { panic("not built") }

// Charts are the keys of the charts shown; SetCharts chooses others.
func (d *Document) Charts() []string { panic("not built") }

// SetCharts chooses the charts.
func (d *Document) SetCharts(keys ...string) { panic("not built") }

// --- edits ---

// Edit changes the current job (the trial's part if a trial is chosen) by f on a copy, as one undoable step called label.
// If f or the checks refuse, nothing changes and the error is a plain sentence. Steps with the same non-empty key made without a pause in between join.
func (d *Document) Edit(label, key string, f func(*job.Job) error) error { panic("not built") }

// BeginDrag, Preview, Commit, Cancel: one gesture is one undo step; Preview recomputes at once and writes no history.
func (d *Document) BeginDrag(label string) { panic("not built") }

// Preview shows the job as f makes it from the one at BeginDrag. A refusal leaves the last good one.
func (d *Document) Preview(f func(*job.Job) error) error { panic("not built") }

// Commit ends the gesture and keeps it.
func (d *Document) Commit() { panic("not built") }

// Cancel ends the gesture and puts everything back.
func (d *Document) Cancel() { panic("not built") }

// Dragging reports whether a gesture is under way.
func (d *Document) Dragging() bool { panic("not built") }

// Undo takes the last step back; Redo does it again. The label says what: "rod 55 lower".
func (d *Document) Undo() (label string, ok bool) { panic("not built") }

// Redo does the last undone step again.
func (d *Document) Redo() (label string, ok bool) { panic("not built") }

// CanUndo tells the label of the step Undo would take back.
func (d *Document) CanUndo() (label string, ok bool) { panic("not built") }

// CanRedo tells the label of the step Redo would do again.
func (d *Document) CanRedo() (label string, ok bool) { panic("not built") }

// --- pivots and parts held ---

// Hold takes a pivot in hand; LetGo lets go of it.
func (d *Document) Hold(p Pivot) { panic("not built") }

// LetGo lets go of the held pivot.
func (d *Document) LetGo() { panic("not built") }

// Held is the pivot in hand.
func (d *Document) Held() (p Pivot, ok bool) { panic("not built") }

// Select chooses a part for the form; Deselect ends that.
func (d *Document) Select(p Part) { panic("not built") }

// Deselect ends the choice of a part.
func (d *Document) Deselect() { panic("not built") }

// Selected is the chosen part.
func (d *Document) Selected() (p Part, ok bool) { panic("not built") }

// DragPivot previews a pivot at a place (ride height, body axes), between BeginDrag and Commit.
func (d *Document) DragPivot(p Pivot, to r3.Vec) error { panic("not built") }

// NudgePivot moves a pivot by d as an undoable step; a run of nudges is one step.
func (d *Document) NudgePivot(p Pivot, by r3.Vec) error { panic("not built") }

// TypePivot sets one coordinate from text as an undoable step.
func (d *Document) TypePivot(p Pivot, a edit.Axis, text string) error { panic("not built") }

// SetMeasured marks a pivot measured, or frees it: undoable.
func (d *Document) SetMeasured(p Pivot, measured bool) error { panic("not built") }

// SetField sets one field of a part's form: undoable.
func (d *Document) SetField(p Part, key, text string) error { panic("not built") }

// SetAside puts a finding aside with a reason; BringBack ends that. Undoable.
func (d *Document) SetAside(f *study.Finding, reason string) error { panic("not built") }

// BringBack brings a finding back that was set aside.
func (d *Document) BringBack(f *study.Finding) error { panic("not built") }

// --- trials and the pencil line ---

// Trials lists the kept trials by name.
func (d *Document) Trials() []string { panic("not built") }

// Trial is the chosen trial, "" for the job as drawn.
func (d *Document) Trial() string { panic("not built") }

// SetTrial chooses a trial; "" is the job as drawn.
func (d *Document) SetTrial(name string) error { panic("not built") }

// KeepTrial keeps the present state as a new trial and chooses it; undoable. An empty name takes a free one.
func (d *Document) KeepTrial(name string) error { panic("not built") }

// RemoveTrial drops a trial; undoable.
func (d *Document) RemoveTrial(name string) error { panic("not built") }

// RenameTrial renames one; undoable.
func (d *Document) RenameTrial(old, name string) error { panic("not built") }

// TakeOver makes the trial the job as drawn and chooses that; the trial stays. Undoable.
func (d *Document) TakeOver(name string) error { panic("not built") }

// AsItWas is the pencil line of the geometry at the moment SetPencil was called.
const AsItWas = "as it was"

// SetPencil draws a trial ("" the job as drawn, AsItWas the present geometry, kept) as the pencil line.
func (d *Document) SetPencil(name string) error { panic("not built") }

// ClearPencil takes the pencil line away.
func (d *Document) ClearPencil() { panic("not built") }

// Pencil is the pencil line: its name, its newest study (Now-like at first) and the axle at the present travels. ok is false where there is none.
func (d *Document) Pencil() (name string, s *study.Study, at *study.Position, ok bool) {
	panic("not built")
}

// --- files ---

// File is the job's file, "" where it has none; Name is what to call it on screen; IsDemo tells a demo.
func (d *Document) File() string { panic("not built") }

// Name is what to call the job on screen: the file's name without ending, or the title.
func (d *Document) Name() string { panic("not built") }

// IsDemo reports whether it is a demo, "DEMO, not your vehicle".
func (d *Document) IsDemo() bool { panic("not built") }

// Dirty reports whether there are changes that are not in the file.
func (d *Document) Dirty() bool { panic("not built") }

// SavedAt is when the job was last written to its file by this document; zero: never.
func (d *Document) SavedAt() time.Time { panic("not built") }

// Save writes to the document's file. Errors: ErrNoFile (ask for a place), ErrChanged (somebody else changed the file: offer SaveForced or SaveAs).
func (d *Document) Save() error { panic("not built") }

// SaveForced writes over a file that somebody else changed.
func (d *Document) SaveForced() error { panic("not built") }

// SaveAs writes to a new file; a demo becomes a job of one's own.
func (d *Document) SaveAs(name string) error { panic("not built") }

// Words turns any error of this package into one plain sentence for the screen.
func Words(err error) string { panic("not built") }

// AddRecent returns the recent list with name in front: newest first, no duplicates, at most 8. The list given is not changed.
func AddRecent(list []string, name string) []string { panic("not built") }

// Lost is work found after a program that was killed.
type Lost struct {
	Autosave string    // the file it is in
	File     string    // the job's file, "" where it had none
	Title    string    // the job's title
	When     time.Time // last written
}

// FindLost lists work left behind: autosaves in stateDir and beside the given files (the recent list) newer than their job, newest first.
func FindLost(stateDir string, files []string) []Lost { panic("not built") }

// Recover opens lost work: the job as autosaved, with its own file, not yet saved.
func Recover(l Lost, o Options) (*Document, error) { panic("not built") }

// Forget throws lost work away.
func Forget(l Lost) error { panic("not built") }

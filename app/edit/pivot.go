// Package edit holds every change a hand can make to a job, as pure functions: they change the job they are given, check what they
// are asked, and refuse in a plain sentence that says what, where and what to do. A refused edit may leave the job half changed:
// work on a copy (app/document does). No window, no files, no solver.
//
// Lengths are mm, masses kg, angles deg, in the body frame of the job file. A number typed without a unit is in the unit the job
// shows (job.Shown.Length: "mm" or "in").
package edit

import "axleloft/geometry/job"

// End names a pivot of a part.
type End uint8

// The ends.
const (
	FrameEnd End = iota
	AxleEnd
)

// List names a list of the job, or one of its single things (index 0).
type List uint8

// The lists whose parts have pivots, places or numbers.
const (
	Links List = iota
	Struts
	Stops
	Straps
	Lines
	Output // the driveline's output joint
	Pinion // the pinion joint
	Envelopes
	Loads
	Heights
	Vehicle   // wheelbase, track, tyre, shares, title and notes
	AxleTube  // the axle's tube
	Housing   // the pieces of the axle's housing
	Driveline // the driveshaft itself
	Travel    // the travel entered
)

// Pivot is one pivot of one entry of the file; twins are one entry (Side says which twin the hand took).
type Pivot struct {
	List  List
	Index int
	End   End
	Side  job.Side
}

// Part is one entry of a list.
type Part struct {
	List  List
	Index int
}

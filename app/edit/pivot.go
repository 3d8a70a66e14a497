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

// The ends. Links, arms, struts and all that reaches from the frame to the axle have the first two.
const (
	FrameEnd End = iota
	AxleEnd
	Centre    // a rocker's own bolt
	RockerEnd // where a rod joins its rocker
	FarEnd    // the other end of a rocker's rod, or of a sensor's
	Shaft     // a sensor's shaft
	LeverEnd  // where a sensor's rod joins its lever
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
	Arms      // A-arms and radius arms
	Rockers   // the centre pieces of Watt's linkages with their rods
	Sensors   // height sensors
	Bearing   // the driveline's centre bearing
	JobCard   // the job card, and what was measured before stripping
	Standing  // how axle and body stood while places on them were measured, one of Stoods each
	Brackets  // the plates that hold pivots
)

// Pivot is one pivot of one entry of the file; twins are one entry (Side says which twin the hand took).
type Pivot struct {
	List  List
	Index int
	End   End
	Side  job.Side
	Sub   int // which of several: an arm's pivots at that end, a rocker's rods
}

// Same reports whether two pivots are one entry of the file: the same one, or its twin.
func (p Pivot) Same(o Pivot) bool {
	p.Side, o.Side = job.Single, job.Single
	return p == o
}

// Part is one entry of a list.
type Part struct {
	List  List
	Index int
}

// Package study is one pass over a job: compiled, moved over its range, measured, and its findings put in trade words.
// The window and the command both show what a Study holds; nothing else computes. No Fyne here, no files.
package study

import (
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// Depth says how much is worked out.
type Depth uint8

// The depths: Live is what follows a hand (96 rays, 61 positions, gaps proved to 5 mm or, of an axle on radius arms or whose links end its travel, on a coarse grid); Full adds the fine
// grid, gaps proved to half a millimetre and searched on from, and the ring.
const (
	Live Depth = iota
	Full
)

// Study is everything worked out for one job with its trial chosen. Read-only once made; safe to share.
type Study struct {
	Depth     Depth
	Job       *job.Job // trial chosen
	Parts     *job.Expanded
	Mech      *motion.Mechanism // nil where Refusal says why
	Refusal   string            // why nothing can be worked out, a plain sentence; "" otherwise
	Free      []motion.Free     // the motions nothing stops, where that is why
	Loads     []quantity.Load
	Gaps      *clearance.Model
	Range     *limits.Range // nil or not Bounded: RangeNote says what to enter
	RangeNote string
	Both      Sweep           // both wheels, droop to bump
	Crossed   Sweep           // along the line between the crossed-up corners
	Smallest  []limits.Proved // by pair of Gaps.Pairs, with what is proved of it; nil where there is no range
	Ring      []limits.Ray    // Full only
	Extents   Extents
	Findings  []Finding // worst first

	works
}

// Sweep is a line of positions with every load's values: Values[load][position].
type Sweep struct {
	Poses  []motion.Pose
	Values [][]quantity.Values
	Note   string // where the links end it, "" otherwise
}

// Extent is the least and the largest of a quantity over the whole range, and where.
type Extent struct{ Min, Max, MinLeft, MinRight, MaxLeft, MaxRight float64 }

// Extents are over the whole range, crossed up included.
type Extents struct {
	Pinion, RollSteer, Use, Slip, SideShift, Squareness Extent
	ShaftFront, ShaftBearing, ShaftRear                 Extent   // joint angles, deg
	Fluctuation                                         Extent   // %
	Torsional, InertiaFront, InertiaRear                Extent   // rad/s2, where a shaft speed is chosen
	AntiSquat                                           []Extent // by load
	Lines                                               []Extent
	Struts, Lean, Tilt                                  []Extent    // by strut: length mm, lean rad, the larger end tilt rad
	Stretch, Force                                      []Extent    // by kept distance of Mech.Distances, mm and N
	Gives, GiveForces                                   [][3]Extent // by arm and pivot (frame first): how far a radius arm's pivots give, mm, and with what force, N
	Joints                                              []Extent    // use, by joint of Mech.Joints
	Stops                                               []Extent    // by stop, how far off its axis it lands where its rubber touches, mm
	Sensors                                             []SensorExtent
}

// SensorExtent is what a height sensor does over the range.
type SensorExtent struct {
	Turn, Angle         Extent  // of the lever since ride, and between lever and rod, rad
	Straight            Extent  // how far lever and rod are from one straight line, rad
	Lost                bool    // somewhere its rod cannot reach
	LostLeft, LostRight float64 // the position nearest ride height where that is so
}

// Kind is the kind of a finding, in order of weight.
type Kind uint8

// The kinds of finding.
const (
	Hits Kind = iota
	RunsOut
	Tight
	NotKnown
	Outside // outside common practice: no rule, your call
)

// Finding is one thing to know, in trade words.
type Finding struct {
	Kind        Kind
	Key         string // stable: "gap/Panhard rod/Tank shelf", what a set-aside is remembered by
	What        string // "Panhard rod / tank shelf"
	Number      string // "29 mm", "13.4 of 15 deg"
	Where       string // "both wheels up; first at 78 of 109 mm" in at most two short lines (\n)
	Sentence    string // the whole finding
	Place       bool   // Left, Right is a position to go to
	Left, Right float64
	Pair        int           // index of Gaps.Pairs, -1
	Value       float64       // the number set-aside compares: smaller is worse for gaps, larger for use
	SetAside    *job.SetAside // put aside with this reason and no worse since

	weight float64 // within its kind
}

// Position is the axle at one place: everything the window shows of it.
type Position struct {
	Pose   motion.Pose
	Rates  motion.Rates
	Values []quantity.Values // by load
	Gaps   []clearance.Gap   // by pair
	Err    string            // why there is none, a plain sentence
}

// Chart is what can be drawn against travel: a reading, or several lines of one kind.
type Chart struct {
	Reading
	ByHeight bool // can be drawn through every height the driver can choose, see CurvesByHeight
}

// Curve is one named line of a chart.
type Curve struct {
	Name string
	X, Y []float64 // mm of travel (crossed up: half the difference, left up positive), NaN gaps
}

// Package quantity works out each quantity of a pose (anti-squat, roll centre, driveline angles, joints, struts, lines) from the pose and its rates.
// It does not know how poses are found. Units inside: mm, rad, N; a field's name ends in Deg or Pct where it is not.
// A value that does not exist is NaN (an instant centre at infinity, a driveshaft the job does not have).
package quantity

import (
	"gonum.org/v1/gonum/spatial/r3"
)

// Load is a state of loading ready for use; Radius is the loaded tyre radius in force. Has is false where the job gives no load: then
// anti-squat and anti-lift are NaN and Radius is the job's.
type Load struct {
	Name   string
	Has    bool
	Mass   float64 // kg
	CG     r3.Vec  // mm, X forward from the rear axle
	Heave  float64 // mm
	Radius float64 // mm
}

// EndUse is how an end of a link stands: angles in rad (torsion signed, NaN where there is none), use = the larger of misalignment/limit and torsion/limit, NaN where no limit is known.
type EndUse struct {
	Misalignment, Torsion float64
	Use                   float64
	ByTorsion             bool // the use is that of torsion
}

// LinkUse is a link at a pose.
type LinkUse struct {
	Length            float64 // mm
	Stretch, Force    float64 // mm, N
	Spin              float64 // rad, the link's turn about its own axis since ride, after the least turn of its direction
	FrameEnd, AxleEnd EndUse
}

// ArmUse is an A-arm or a radius arm at a pose. Slices are as long as the arm has such things.
type ArmUse struct {
	Ends []EndUse // frame ends first
	// A-arm: its two bars, in the order of the frame pivots. A radius arm has none.
	Lengths, Stretches, Forces []float64 // mm, mm, N
	// Radius arm: how far each of its pivots gives and the force there, frame first; sizes. An A-arm has none.
	Gives, GiveForces []float64 // mm, N
}

// RockerUse is a Watt's rocker at a pose: its turn since ride and its rods, FrameEnd being the end at the rocker and AxleEnd the far one.
type RockerUse struct {
	Turn float64 // rad
	Rods [2]LinkUse
}

// SensorUse is a height sensor at a pose. Reached is false where its rod cannot reach: then the angles are NaN.
type SensorUse struct {
	Turn     float64 // rad, of the lever about its shaft since ride, right-hand about the axis
	RodAngle float64 // rad, between lever and rod, 0 to pi; within 20 deg of straight (0 or pi) it may flip over
	Reached  bool
}

// StrutUse is a strut at a pose.
type StrutUse struct {
	Length                float64 // mm
	Lean                  float64 // rad to body Z
	FrameTilt, AxleTilt   float64 // rad, turn of its direction since ride seen from frame and from axle
	RatioHeave, RatioRoll float64 // motion ratios; NaN for RatioRoll of a strut on the centre plane
}

// StopUse is a stop at a pose: Length along its frame axis to the pad plane, Off its axis where it lands (mm).
type StopUse struct{ Length, Off float64 }

// Values are all quantities at one pose. Make it with NewValues and reuse it; Eval does not allocate.
type Values struct {
	// The csv quantities, by the file format's names.
	Left, Right, Heave          float64 // mm
	ArticulationDeg             float64
	X, Y, Z                     float64 // shifts of the axle centre, mm
	SteerDeg, PitchDeg, RollDeg float64
	Squareness                  float64 // mm
	PinionDeg                   float64 // to the body
	PinionGroundDeg             float64 // to the ground (equal to PinionDeg unless the front stays)
	Wheelbase                   float64 // mm
	AntiSquatPct, AntiLiftPct   float64
	ICX, ICZ                    float64 // mm, NaN where parallel
	RollCentre                  float64 // mm above ground
	RollAxisDeg, RollSteerPct   float64
	ShaftFrontDeg, ShaftRearDeg float64 // at the output and at the pinion
	ShaftBearingDeg             float64 // at the joint behind the centre bearing, NaN for a one-piece shaft
	ShaftLength, Slip           float64 // mm
	FluctuationPct              float64
	ShaftPhase                  float64 // rad: the phase error between the joint planes and the yokes (of the rear piece)
	ShaftFrontPhase             float64 // rad: the same of the front piece, NaN for a one-piece shaft
	// Shaft accelerations at Drive.Speed, rad/s2: torsional at the pinion, and the inertia of what the first and the last joint drive; NaN where no speed is chosen.
	Torsional, InertiaFront, InertiaRear float64
	WorstBind                            float64 // largest use; NaN where no limit is known
	WorstJoint                           int     // index into Mechanism.Joints, -1
	WorstTorsion                         bool

	Links   []LinkUse
	Arms    []ArmUse
	Rockers []RockerUse
	Sensors []SensorUse
	Struts  []StrutUse
	Stops   []StopUse
	Straps  []float64 // lengths, mm
	Lines   []float64 // spans, mm
}

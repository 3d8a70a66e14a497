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
	ShaftFrontDeg, ShaftRearDeg float64
	ShaftLength, Slip           float64 // mm
	FluctuationPct              float64
	ShaftPhase                  float64 // rad: the phase error between the joint planes and the yokes
	WorstBind                   float64 // largest use; NaN where no limit is known
	WorstLink                   int     // index into Links, -1
	WorstAxleEnd, WorstTorsion  bool

	Links  []LinkUse
	Struts []StrutUse
	Stops  []StopUse
	Straps []float64 // lengths, mm
	Lines  []float64 // spans, mm
}

// Package motion turns a job into a mechanism and finds where the axle stands at two wheel travels, and how fast it moves there.
//
// Units: mm, N, rad. Frame: body axes, X forward, Y left, Z up, origin on the ground under the axle centre at design ride height.
// A point carried by the axle is kept as its offset from the axle centre at ride height, so its place at a pose is Pose.Point(offset).
package motion

import (
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// EndKind is how an end is held.
type EndKind uint8

// The kinds of end.
const (
	Ball EndKind = iota // also an end without a kind
	Bush
	Stud
)

// End is one end of a link. Vectors are unit vectors in body axes at ride height; limits in rad, NaN where not known.
type End struct {
	Kind             EndKind
	Known            bool   // the file gives a kind
	Bolt, Bore       r3.Vec // the bolt's axis and the axis of the bore that sits on it, at ride
	MisLimit         float64
	TorLimit         float64 // bush only, else NaN
	Stiffness        float64 // N/mm square to the bolt, assumed where not given
	StiffnessAssumed bool
	Axial            float64 // N/mm along the bolt, a quarter of Stiffness unless given
	Bracket          float64 // own-bracket reach, mm
}

// Link is a bar that keeps (or, over-located, nearly keeps) the distance between its pivots.
type Link struct {
	Name              string
	Ref               job.Ref
	Frame             r3.Vec  // frame pivot, body axes
	Axle              r3.Vec  // axle pivot as offset from the axle centre at ride
	Length            float64 // kept: at ride, unless it is made another one (WithLengths)
	Along             r3.Vec  // unit direction frame pivot to axle pivot at ride, as drawn
	K                 float64 // N/mm of ends and tube in series
	FrameEnd, AxleEnd End
}

// On says which body carries a point or a direction.
type On uint8

// The bodies.
const (
	OnFrame On = iota
	OnAxle
	OnLink   // a link, turned from ride by the least turn of its direction and its spin, held at its frame pivot
	OnArm    // an A-arm or radius arm
	OnRocker // the centre piece of a Watt's linkage
)

// Carrier is a body: On, and for a link, arm or rocker its index.
type Carrier struct {
	On    On
	Index int
}

// Place is a point carried by a body, as it is at ride: in body axes where the frame carries it, else as offset from the carrier's own point (axle
// centre; a link's frame pivot; an arm's first frame pivot; a rocker's pivot) at ride height.
type Place struct {
	Carrier
	At r3.Vec
}

// Arm is an A-arm (two frame pivots, one at the axle) or a radius arm (one frame pivot, two at the axle).
type Arm struct {
	Name                string
	Ref                 job.Ref
	Radius              bool       // a radius arm: a body of its own on springs
	Frame               []r3.Vec   // body axes
	Axle                []r3.Vec   // offsets from the axle centre at ride
	FrameEnds, AxleEnds []End      // as many as Frame, Axle
	Lengths             [2]float64 // of its two bars at ride, in the order of the pair's pivots

	k         [2]float64 // N/mm of an A-arm's bars, ends and tube in series
	line, out r3.Vec     // A-arm: unit vectors along its frame line and square to it towards its point, at ride
	mounts    [3]spring  // radius arm: its three pivots, frame first
}

// Stiffness is the stiffness of a bar of an A-arm, ends and tube in series, N/mm.
func (a *Arm) Stiffness(bar int) float64 { return a.k[bar] }

// Rod is one rod of a rocker: a link from the rocker to the body the rocker does not turn on.
type Rod struct {
	Name              string
	Rocker, Far       Place
	Length, K         float64 // at ride; N/mm of ends and tube in series
	RockerEnd, FarEnd End
}

// Rocker is the centre piece of a Watt's linkage and its two rods.
type Rocker struct {
	Name  string
	Ref   job.Ref
	Pivot Place  // on the frame or the axle
	Axis  r3.Vec // unit, as carried at ride
	Rods  [2]Rod

	reach float64 // of the farther rod's pivot from its bolt, mm
}

// Joint is one end of one member, in the flat list of everything that can bind: frame and axle end of every link, then every end of every arm
// (frame first), then rocker and far end of every rod.
type Joint struct {
	Name   string // "Upper left, frame end"
	Of     On     // OnLink, OnArm, OnRocker
	Member int    // index of the link, arm or rocker
	Sub    int    // link: 0 frame, 1 axle; arm: index among its ends, frame first; rocker: 2*rod, +1 at the far end
	End    *End
}

// Distance is one kept distance, in the order of Stretch: every link, then the two bars of every A-arm, then the rods of every rocker.
type Distance struct {
	Name   string // "Lower left", "A-arm, first bar", a rod's own name
	Of     On
	Member int
	Sub    int // bar of the arm, rod of the rocker
}

// ForcedMost is how far a member of an over-located layout may be stretched, or a pivot of a radius arm give, before the links count as letting the
// axle no further, mm: several times what a bush gives (chosen). Without it springs would follow the axle for ever where nothing given ends the travel.
const ForcedMost = 50.0

// CrossedMost is the most that left and right travel may differ by, of the track: beyond it articulation is all but upright (chosen).
const CrossedMost = 0.98

// Free is a motion the axle is left with or poorly held in: velocity of its centre (mm) and its turn times one metre (mm), body axes, at most
// one long in all.
type Free [6]float64

// Strut, Stop, Strap, Line: frame point in body axes, axle point as offset from the axle centre at ride. NaN where a limit is not given.
type Strut struct {
	Name               string
	Ref                job.Ref
	Frame, Axle        r3.Vec
	Foot               Place   // the axle pivot again, as its carrier holds it: the axle, or the link or arm it stands on
	Closed, Open, Tilt float64 // mm, mm, rad
	Bracket            float64
	Length             float64 // at ride
}

// Stop is a bump stop; Axis is its unit axis at ride, pointing from the frame to the pad.
type Stop struct {
	Name                string
	Ref                 job.Ref
	Frame, Axle, Axis   r3.Vec
	Touch, Closed, Face float64
}

// Strap is a limit strap.
type Strap struct {
	Name        string
	Ref         job.Ref
	Frame, Axle r3.Vec
	Open        float64
}

// Line is a hose or loom between two clips.
type Line struct {
	Name        string
	Ref         job.Ref
	Frame, Axle r3.Vec
	Length      float64 // NaN where not given
}

// Sensor is a height sensor: a lever on a shaft fixed to the frame and a rod from the lever's end to the axle or a link.
type Sensor struct {
	Name               string
	Ref                job.Ref
	Shaft, Axis, Lever r3.Vec  // body axes at ride; Axis unit
	Far                Place   // the rod's other end
	Rod                float64 // its length at ride, mm
	SwingLo, SwingHi   float64 // rad since ride, NaN where not given
}

// Driveline is the driveshaft; Has tells whether the job gives both joints. With a centre bearing it is in two pieces: the front one stays still
// between Output and Bearing, the rear one, with the slip, runs from Bearing to the pinion.
type Driveline struct {
	Has                bool
	Output, OutputAxis r3.Vec // joint in body axes; unit axis pointing rearward
	Pinion, PinionAxis r3.Vec // offset from axle centre; unit axis pointing forward (axis also without an output)
	HasPinion          bool
	YokePhase          float64 // rad
	JointLimit         float64 // rad, NaN
	SlipIn, SlipOut    float64 // mm, NaN
	Length             float64 // of the piece that slips, joint to joint at ride
	TwoPiece           bool
	Bearing            r3.Vec  // the joint behind the centre bearing, body axes
	FrontYokePhase     float64 // rad, of the front piece
	Speed              float64 // rad/s at which shaft accelerations are told; NaN where none is chosen
}

// Mechanism is a compiled job: read-only after Compile, safe to share between goroutines.
type Mechanism struct {
	Wheelbase, Track, Radius                    float64 // Radius: the job's loaded tyre radius; the axle centre at ride is (0, 0, Radius)
	FrontStill                                  bool    // frontTravel "still"
	DriveShare, BrakeShare                      float64
	Links                                       []Link
	Arms                                        []Arm
	Rockers                                     []Rocker
	Joints                                      []Joint
	Distances                                   []Distance
	Sensors                                     []Sensor
	Struts                                      []Strut
	Stops                                       []Stop
	Straps                                      []Strap
	Lines                                       []Line
	Drive                                       Driveline
	TravelBump, TravelDroop, TravelArticulation float64 // entered travel: mm, mm (positive), rad; NaN where not entered

	OverLocated bool    // more than four independent distances
	Singular    float64 // smallest singular value at ride (the smallest singular value of the unit directions and moments at one metre of all distances and both travels)
	// Poorly held (Singular below 0.10): the motion that is, in plain words, "" otherwise.
	PoorlyHeld string
	Weakest    Free // the motion the axle is held least in at ride, whatever Singular is

	rows   []row               // the distances between frame and axle: links, then the bars of A-arms
	four   [exactDistances]row // the first of them, for axles that have so many
	radius []int               // the radius arms among Arms, as a pose keeps them
	folded bool                // there are rockers or radius arms, with unknowns of their own
	ride   Pose
}

// row is a kept distance as the inner loop reads it.
type row struct {
	f, p   r3.Vec  // frame pivot; axle pivot as offset at ride
	l, inv float64 // length at ride and its inverse
	l2     float64 // length squared
	half   float64 // half the inverse
	k      float64 // N/mm
}

// Pose is where the axle stands.
type Pose struct {
	Left, Right float64 // travels asked for, mm
	Heave       float64 // their mean
	Alpha       float64 // articulation, rad
	X, Y        float64 // shift of the axle centre, mm
	Psi, Theta  float64 // turns of R = Rz(Psi) Rx(Alpha) Ry(Theta), rad
	C           r3.Vec  // axle centre, body axes
	Ex, Ey, Ez  r3.Vec  // axle's own axes in body axes: the columns of R
	Residual    float64 // largest |f| of the kept distances, mm (over-located: size of the last Newton step, mm and 1000 rad)
	Held        float64 // a lower bound of the smallest singular value at this pose

	q      state      // the unknowns as the iteration carries them
	dh, da [4]float64 // d(unknowns)/d(heave) and /d(alpha), mm and rad
	det    float64    // sign tells the assembly (exactly located)

	perRoll float64 // d(alpha) of the roll motion, rad per mm

	rockers [mostFolded]pair // turn of each rocker since ride
	arms    [mostFolded]body // each radius arm, in the order of Mechanism.radius
}

// Offset returns R p: the offset p of an axle-carried point turned into body axes.
func (p *Pose) Offset(o r3.Vec) r3.Vec {
	return r3.Vec{
		X: p.Ex.X*o.X + p.Ey.X*o.Y + p.Ez.X*o.Z,
		Y: p.Ex.Y*o.X + p.Ey.Y*o.Y + p.Ez.Y*o.Z,
		Z: p.Ex.Z*o.X + p.Ey.Z*o.Y + p.Ez.Z*o.Z,
	}
}

// Point returns where the axle-carried point with offset o stands, body axes, mm.
func (p *Pose) Point(o r3.Vec) r3.Vec { return r3.Add(p.C, p.Offset(o)) }

// Unturn returns R' v: a body-axes direction seen from the axle.
func (p *Pose) Unturn(v r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(p.Ex, v), Y: r3.Dot(p.Ey, v), Z: r3.Dot(p.Ez, v)}
}

// Rate is one unit motion at a pose: V of the axle centre (mm per mm), W of the axle (rad per mm).
type Rate struct{ V, W r3.Vec }

// At returns the velocity of the axle-fixed point whose offset from the axle centre is r (body axes, at the pose).
func (q *Rate) At(r r3.Vec) r3.Vec { return r3.Add(q.V, r3.Cross(q.W, r)) }

// Rates are the two unit motions: heave (both travels +1) and roll (left +1, right -1).
type Rates struct{ Heave, Roll Rate }

// Kind says why a pose or a mechanism could not be had.
type Kind uint8

// The kinds of failure.
const (
	NotLocated Kind = iota + 1 // the layout leaves the axle free (Words names the motion)
	CannotMove                 // more arms or rockers than can be moved
	OutOfReach                 // the links do not let the axle there; Left, Right is how far it got
	OtherSide                  // going on would jump to another assembly of the links; Left, Right is how far it got
	DeadCentre                 // the axle becomes loose at that pose (Held below 0.001); Left, Right is where
	NoConverge                 // the iteration did not settle
	BadTravel                  // travel not finite or |left-right| >= track
)

// Error is a failure in words; Left, Right is the last pose reached on the way.
type Error struct {
	Kind        Kind
	Words       string // a plain sentence
	Left, Right float64
	Free        []Free // NotLocated, DeadCentre: the motions nothing stops
}

func (e *Error) Error() string { return e.Words }

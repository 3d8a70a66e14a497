// Package job holds what the user drew: the job file's types, its reader, writer and schema, mirror twins, trials, and checks with a place
// for every complaint. It knows neither how the axle moves nor any screen.
//
// Everything is as the file writes it: mm, kg, N, degrees. Body axes: X forward, Y left, Z up (axis directions of ISO 8855:2011); the
// origin lies on the ground, on the vehicle's centre plane, under the rear axle centre at design ride height, and every place is where the
// point is at that height. The axle centre is then at (0, 0, loaded tyre radius), the wheel centres at Y = +-track/2.
package job

import "gonum.org/v1/gonum/spatial/r3"

// Version is the newest job file version this program reads and the one it writes.
const Version = 1

// Format is the value of the "format" key of every job file.
const Format = "axleloft-job"

// Point is a place or a direction in the body frame as the file writes it: X forward, Y left, Z up, mm (directions have no unit).
type Point [3]float64

// Vec returns the point as a vector.
func (p Point) Vec() r3.Vec { return r3.Vec{X: p[0], Y: p[1], Z: p[2]} }

// Mirror returns the point reflected in the vehicle's centre plane (Y negated, never -0).
func (p Point) Mirror() Point { return Point{p[0], 0 - p[1], p[2]} }

// Point2 is a corner of an outline, in the two axes of its plane, mm.
type Point2 [2]float64

// Job is one vehicle's rear axle: what is there, what is planned, how far it moves.
// A nil pointer or a nil slice is a key the file does not have; defaults are read through methods, never written back.
type Job struct {
	Format    string     `json:"format"`
	Version   int        `json:"version"`
	Title     string     `json:"title"`
	Notes     string     `json:"notes,omitempty"`
	Shown     *Shown     `json:"shown,omitempty"`
	Vehicle   *Vehicle   `json:"vehicle"`
	Axle      *Axle      `json:"axle,omitempty"`
	Driveline *Driveline `json:"driveline,omitempty"`
	Links     []Link     `json:"links,omitempty"`
	Arms      []Arm      `json:"arms,omitempty"`
	Rockers   []Rocker   `json:"rockers,omitempty"`
	Struts    []Strut    `json:"struts,omitempty"`
	Stops     []Stop     `json:"stops,omitempty"`
	Straps    []Strap    `json:"straps,omitempty"`
	Lines     []Line     `json:"lines,omitempty"`
	Sensors   []Sensor   `json:"sensors,omitempty"`
	Envelopes []Envelope `json:"envelopes,omitempty"`
	Travel    *Travel    `json:"travel,omitempty"`
	Trials    []Trial    `json:"trials,omitempty"`

	// For the window and the sheets; nothing computed depends on them.
	Datums   []Datum    `json:"datums,omitempty"`
	Brackets []Bracket  `json:"brackets,omitempty"`
	Keep     []Keep     `json:"keep,omitempty"`
	SetAside []SetAside `json:"setAside,omitempty"`
	Photos   []Photo    `json:"photos,omitempty"`
	Card     *Card      `json:"card,omitempty"`
	Before   *Before    `json:"before,omitempty"`
	AsBuilt  []AsBuilt  `json:"asBuilt,omitempty"`
	Holes    []Holes    `json:"holes,omitempty"`
	Stood    *Stood     `json:"stood,omitempty"`

	Folder string `json:"-"` // where the job's file lies, for the files beside it; "": in none
}

// Shown says in which units lengths and forces are shown; the file itself is always mm, kg, N and degrees.
type Shown struct {
	Length string `json:"length,omitempty"` // "mm" or "in"
	Force  string `json:"force,omitempty"`  // "N" or "lbf"
	Mass   string `json:"mass,omitempty"`   // "kg" or "lb"
}

// Vehicle is what the axle carries and how it stands.
type Vehicle struct {
	Wheelbase   float64   `json:"wheelbase"` // mm
	Track       float64   `json:"track"`     // mm, between wheel centres
	Tyre        *Tyre     `json:"tyre"`
	DriveShare  *float64  `json:"driveShare,omitempty"`  // this axle's share of the tractive force, 0..1, default 1
	BrakeShare  *float64  `json:"brakeShare,omitempty"`  // this axle's share of the braking force, 0..1, default 0.4
	FrontTravel string    `json:"frontTravel,omitempty"` // "with" (default) or "still"
	Loads       []Load    `json:"loads,omitempty"`
	Heights     []Height  `json:"heights,omitempty"`
	Overhang    *Overhang `json:"overhang,omitempty"`
}

// Overhang is where the vehicle comes lowest apart from what is drawn: each a place in side view, mm, with its height above the ground at design ride height.
type Overhang struct {
	Rear         *float64 `json:"rear,omitempty"` // behind this axle
	RearHeight   *float64 `json:"rearHeight,omitempty"`
	Middle       *float64 `json:"middle,omitempty"` // ahead of this axle, between the axles
	MiddleHeight *float64 `json:"middleHeight,omitempty"`
	Front        *float64 `json:"front,omitempty"` // ahead of the front axle
	FrontHeight  *float64 `json:"frontHeight,omitempty"`
}

// Tyre is the size of one tyre, mm.
type Tyre struct {
	LoadedRadius float64  `json:"loadedRadius"`
	FreeRadius   *float64 `json:"freeRadius,omitempty"` // default: loaded radius / 0.96 (common practice, no source)
	Width        *float64 `json:"width,omitempty"`      // no width: no tyre is drawn or checked
	Shoulder     *float64 `json:"shoulder,omitempty"`   // default 25
	Clearance    *float64 `json:"clearance,omitempty"`  // default 40
}

// Load is a state of loading: mass in kg, CG measured from the rear axle forward, mm; heave is the wheel travel it causes, bump positive.
type Load struct {
	Name         string   `json:"name"`
	Mass         float64  `json:"mass"`
	CG           Point    `json:"cg"`
	Heave        float64  `json:"heave"`
	LoadedRadius *float64 `json:"loadedRadius,omitempty"`
	Given        Given    `json:"given,omitempty"`
}

// Height is a ride height the driver can select: wheel travel in mm, bump (lowered) positive.
type Height struct {
	Name  string  `json:"name"`
	Heave float64 `json:"heave"`
}

// Axle is what is drawn of the axle itself.
type Axle struct {
	Tube     *AxleTube  `json:"tube,omitempty"`
	Housing  []Envelope `json:"housing,omitempty"`
	Pinion   *Joint     `json:"pinion,omitempty"`
	Measured *bool      `json:"measured,omitempty"`
}

// AxleTube is the round tube along the wheel axis, from and to in Y, mm.
type AxleTube struct {
	Outside   float64  `json:"outside"`
	From      float64  `json:"from"`
	To        float64  `json:"to"`
	Clearance *float64 `json:"clearance,omitempty"`
}

// Joint is a driveshaft joint: its centre and the axis of the yoke it sits on (output: pointing rearward; pinion: forward).
type Joint struct {
	Joint    Point    `json:"joint"`
	Axis     Point    `json:"axis"`
	Given    Given    `json:"given,omitempty"`
	Measured []string `json:"measured,omitempty"`
}

// Driveline is the driveshaft between output and pinion.
type Driveline struct {
	Output        *Joint   `json:"output"`
	YokePhase     float64  `json:"yokePhase"`               // deg
	ShaftDiameter *float64 `json:"shaftDiameter,omitempty"` // mm; none: the shaft is not checked for gaps
	JointLimit    *float64 `json:"jointLimit,omitempty"`    // deg
	Slip          *Slip    `json:"slip,omitempty"`
	Bearing       *Bearing `json:"bearing,omitempty"` // makes the shaft a two-piece one
	Speed         *float64 `json:"speed,omitempty"`   // rev/min, at which shaft accelerations are told
	Clearance     *float64 `json:"clearance,omitempty"`
}

// Bearing is the centre bearing of a two-piece driveshaft: the front shaft runs from the output's joint to the joint behind the bearing and stays
// where it is; the rear shaft, with the slip, runs from there to the pinion.
type Bearing struct {
	Joint     Point    `json:"joint"`     // the joint behind the bearing
	YokePhase float64  `json:"yokePhase"` // deg: turn of the front shaft's rear yoke from its front yoke
	Given     Given    `json:"given,omitempty"`
	Measured  []string `json:"measured,omitempty"`
}

// Slip is how far the spline can go in and out from ride height, mm.
type Slip struct {
	In  float64 `json:"in"`
	Out float64 `json:"out"`
}

// Tube is the section of a link, mm.
type Tube struct {
	Outside float64  `json:"outside"`
	Wall    *float64 `json:"wall,omitempty"` // none: solid
	Steel   string   `json:"steel,omitempty"`
}

// End is how a link or arm is held at one pivot.
type End struct {
	Kind            string   `json:"kind,omitempty"` // "bush", "ball" or "stud"; none counts as a ball without limits
	Bolt            *Point   `json:"bolt,omitempty"`
	Square          *bool    `json:"square,omitempty"`
	Misalignment    *float64 `json:"misalignment,omitempty"`    // limit, deg
	Torsion         *float64 `json:"torsion,omitempty"`         // limit, deg
	RadialStiffness *float64 `json:"radialStiffness,omitempty"` // N/mm
	AxialStiffness  *float64 `json:"axialStiffness,omitempty"`  // N/mm
	Bracket         *float64 `json:"bracket,omitempty"`         // own-bracket reach, mm
	Clevis          *Clevis  `json:"clevis,omitempty"`          // what the rod end sits in
	Takes           *float64 `json:"takes,omitempty"`           // from the pivot's centre to the tube's end, mm, screwed to the middle
	Adjust          *float64 `json:"adjust,omitempty"`          // how far it screws in and out from there, mm
	Thread          *float64 `json:"thread,omitempty"`          // pitch of that thread, mm a turn
	Hand            string   `json:"hand,omitempty"`            // of the thread: "right" (default) or "left"
	BoltOut         *BoltOut `json:"boltOut,omitempty"`         // the room its bolt needs to be drawn out
}

// BoltOut is what has to pass when a bolt is drawn out along itself. mm.
type BoltOut struct {
	Length float64 `json:"length"`        // of the bolt, its head with it
	Across float64 `json:"across"`        // of head, washer or socket, whatever is widest
	Grip   float64 `json:"grip"`          // over what it clamps, outside to outside: the way out begins there
	Way    string  `json:"way,omitempty"` // "left", "right", "forward", "back", "up" or "down", of the pivot as given; left out: either way will do
}

// Clevis is a rod end between two cheeks: the head can touch them before the ball runs out. mm.
type Clevis struct {
	Head       float64  `json:"head"`                 // outside diameter of the head
	HeadWidth  float64  `json:"headWidth"`            // of the head, less than the ball's
	BallWidth  float64  `json:"ballWidth"`            // of the ball, what the cheeks clamp
	Gap        *float64 `json:"gap,omitempty"`        // between the cheeks; default the ball's width
	EdgeRadius *float64 `json:"edgeRadius,omitempty"` // of the head's edges; default square edges
}

// Link is a bar between a pivot on the frame and a pivot on the axle.
type Link struct {
	Name      string   `json:"name"`
	Pair      bool     `json:"pair,omitempty"`
	Frame     Point    `json:"frame"`
	Axle      Point    `json:"axle"`
	Bends     []Point  `json:"bends,omitempty"` // centre line between the pivots, frame end first, at ride
	Tube      *Tube    `json:"tube,omitempty"`
	FrameEnd  *End     `json:"frameEnd,omitempty"`
	AxleEnd   *End     `json:"axleEnd,omitempty"`
	Clock     *float64 `json:"clock,omitempty"` // deg the axle end's bore is turned about the link from where it sits at ride height
	Clearance *float64 `json:"clearance,omitempty"`
	Given     Given    `json:"given,omitempty"`
	Measured  []string `json:"measured,omitempty"` // of "frame", "axle"
}

// Arm is an A-arm (two frame pivots, one at the axle) or a radius arm (one frame pivot, two at the axle).
type Arm struct {
	Name      string   `json:"name"`
	Pair      bool     `json:"pair,omitempty"`
	Frame     []Point  `json:"frame"`
	Axle      []Point  `json:"axle"`
	FrameEnds []End    `json:"frameEnds,omitempty"`
	AxleEnds  []End    `json:"axleEnds,omitempty"`
	Tube      *Tube    `json:"tube,omitempty"`
	Clearance *float64 `json:"clearance,omitempty"`
	Given     Given    `json:"given,omitempty"`
	Measured  []string `json:"measured,omitempty"`
}

// Rocker is the centre piece of a Watt's linkage with its two rods.
type Rocker struct {
	Name     string   `json:"name"`
	On       string   `json:"on"` // "axle" or "frame"
	Pivot    Point    `json:"pivot"`
	Axis     Point    `json:"axis"`
	Rods     []Rod    `json:"rods"`
	Given    Given    `json:"given,omitempty"`
	Measured []string `json:"measured,omitempty"`
}

// Rod is one rod of a rocker.
type Rod struct {
	Name      string   `json:"name"`
	Rocker    Point    `json:"rocker"`
	Far       Point    `json:"far"`
	Tube      *Tube    `json:"tube,omitempty"`
	RockerEnd *End     `json:"rockerEnd,omitempty"`
	FarEnd    *End     `json:"farEnd,omitempty"`
	Clearance *float64 `json:"clearance,omitempty"`
}

// Strut is a spring strut, damper or air bag between frame and axle.
type Strut struct {
	Name      string   `json:"name"`
	Pair      bool     `json:"pair,omitempty"`
	Frame     Point    `json:"frame"`
	Axle      Point    `json:"axle"`
	On        string   `json:"on,omitempty"`     // the link or arm it stands on; none: the axle
	Closed    *float64 `json:"closed,omitempty"` // pivot to pivot, mm
	Open      *float64 `json:"open,omitempty"`
	Diameter  *float64 `json:"diameter,omitempty"`
	Diameters []Point2 `json:"diameters,omitempty"` // an air bag: length pivot to pivot and diameter there, mm
	Rate      *float64 `json:"rate,omitempty"`      // N/mm
	Tilt      *float64 `json:"tilt,omitempty"`      // end tilt limit, deg
	Clearance *float64 `json:"clearance,omitempty"`
	Bracket   *float64 `json:"bracket,omitempty"` // own-bracket reach at both ends, mm
	Given     Given    `json:"given,omitempty"`
	Measured  []string `json:"measured,omitempty"`
}

// Stop is a bump stop on the frame and the pad it meets on the axle.
type Stop struct {
	Name     string   `json:"name"`
	Pair     bool     `json:"pair,omitempty"`
	Frame    Point    `json:"frame"`
	Axle     Point    `json:"axle"`
	Axis     *Point   `json:"axis,omitempty"`  // default straight down
	Touch    *float64 `json:"touch,omitempty"` // none: solid at first touch
	Closed   float64  `json:"closed"`
	Face     *float64 `json:"face,omitempty"` // radius within which it may land, mm
	Given    Given    `json:"given,omitempty"`
	Measured []string `json:"measured,omitempty"`
}

// Strap is a limit strap.
type Strap struct {
	Name     string   `json:"name"`
	Pair     bool     `json:"pair,omitempty"`
	Frame    Point    `json:"frame"`
	Axle     Point    `json:"axle"`
	Open     float64  `json:"open"` // taut length, mm
	Given    Given    `json:"given,omitempty"`
	Measured []string `json:"measured,omitempty"`
}

// Line is a hose, loom, cable or breather between two clips.
type Line struct {
	Name      string   `json:"name"`
	Pair      bool     `json:"pair,omitempty"`
	Frame     Point    `json:"frame"`
	Axle      Point    `json:"axle"`
	Length    *float64 `json:"length,omitempty"`
	Diameter  *float64 `json:"diameter,omitempty"`
	Clearance *float64 `json:"clearance,omitempty"`
	Given     Given    `json:"given,omitempty"`
	Measured  []string `json:"measured,omitempty"`
}

// Sensor is a height sensor with lever and rod.
type Sensor struct {
	Name     string      `json:"name"`
	Pair     bool        `json:"pair,omitempty"`
	Shaft    Point       `json:"shaft"`
	Axis     Point       `json:"axis"`
	Lever    Point       `json:"lever"`
	Far      Point       `json:"far"`
	On       string      `json:"on,omitempty"` // "axle" (default) or a link's name
	Swing    *[2]float64 `json:"swing,omitempty"`
	Given    Given       `json:"given,omitempty"`
	Measured []string    `json:"measured,omitempty"`
}

// Envelope is a part in the way, fixed to the frame (or, in axle.housing, carried by the axle). Which keys count depends on Kind.
type Envelope struct {
	Name      string   `json:"name,omitempty"` // required but in axle.housing
	Pair      bool     `json:"pair,omitempty"`
	Kind      string   `json:"kind"` // "box", "prism", "ball", "tube", "mesh"
	Min       *Point   `json:"min,omitempty"`
	Max       *Point   `json:"max,omitempty"`
	Turn      *Point   `json:"turn,omitempty"`  // deg about X, Y, Z: R = Rz Ry Rx about the box's centre
	Plane     string   `json:"plane,omitempty"` // "side" XZ, "plan" XY, "rear" YZ
	Outline   []Point2 `json:"outline,omitempty"`
	From      *float64 `json:"from,omitempty"`
	To        *float64 `json:"to,omitempty"`
	Centre    *Point   `json:"centre,omitempty"`
	Radius    *float64 `json:"radius,omitempty"`
	Path      []Point  `json:"path,omitempty"`
	Outside   *float64 `json:"outside,omitempty"`
	File      string   `json:"file,omitempty"` // mesh: STL beside the job file
	Clearance *float64 `json:"clearance,omitempty"`
	Vessel    bool     `json:"vessel,omitempty"`
	Fill      *Fill    `json:"fill,omitempty"` // of a vessel
	Movable   bool     `json:"movable,omitempty"`
	Carries   []string `json:"carries,omitempty"`
	Given     Given    `json:"given,omitempty"`
	Measured  *bool    `json:"measured,omitempty"`

	Beside Beside `json:"-"` // of a mesh; Expand fills it
}

// Fill says where a vessel is filled, breathes, is emptied from and is dipped, in body axes at ride height, mm.
type Fill struct {
	Filler   *Point `json:"filler,omitempty"`   // the lower edge of its neck: filled no higher
	Breather *Point `json:"breather,omitempty"` // its lower end: filled no higher
	Pickup   *Point `json:"pickup,omitempty"`   // the pick-up's end: emptied no lower
	Dip      *Point `json:"dip,omitempty"`      // where the dip stick stands; default the middle of the vessel in plan
}

// Travel is the travel entered by the user: bump and droop positive mm, articulation deg.
type Travel struct {
	Bump         *float64 `json:"bump,omitempty"`
	Droop        *float64 `json:"droop,omitempty"`
	Articulation *float64 `json:"articulation,omitempty"`
}

// Trial is a kept variant: every part it has replaces the job's own, a missing one (nil) is as drawn.
// Links, Arms ... distinguish "not there" (nil) from "none" (empty, non-nil).
type Trial struct {
	Name      string     `json:"name"`
	Note      string     `json:"note,omitempty"`
	Vehicle   *Vehicle   `json:"vehicle,omitempty"`
	Axle      *Axle      `json:"axle,omitempty"`
	Driveline *Driveline `json:"driveline,omitempty"`
	Links     []Link     `json:"links,omitempty"`
	Arms      []Arm      `json:"arms,omitempty"`
	Rockers   []Rocker   `json:"rockers,omitempty"`
	Struts    []Strut    `json:"struts,omitempty"`
	Stops     []Stop     `json:"stops,omitempty"`
	Straps    []Strap    `json:"straps,omitempty"`
	Lines     []Line     `json:"lines,omitempty"`
	Sensors   []Sensor   `json:"sensors,omitempty"`
	Envelopes []Envelope `json:"envelopes,omitempty"`
	Travel    *Travel    `json:"travel,omitempty"`
}

// Given says how coordinates came to be, keyed by place within the part: "frame.x", "axle.z", "min.y", "outline[3].0", "mass", "cg.z" ...
// A load may have "front" and "rear" too: the kilograms on the scales its mass and CG were worked out from.
// A coordinate without an entry is a guess.
type Given map[string]GivenValue

// GivenValue is one number as the hand gave it.
type GivenValue struct {
	Typed     string   `json:"typed,omitempty"`     // as typed: "44 3/8\""
	From      string   `json:"from,omitempty"`      // datum it was taken from
	PlusMinus *float64 `json:"plusMinus,omitempty"` // mm
	Source    string   `json:"source,omitempty"`    // tape, plumb bob, drawing ...
	Taken     *Taken   `json:"taken,omitempty"`     // what the place was worked out from, where it was measured on an axle or a body that stood otherwise
}

// Taken are the three numbers of a place as they were measured while axle or body stood as Job.Stood says. Each of its coordinates holds all three.
type Taken struct {
	How       string   `json:"how"`                 // "stands", "hanging" or "floor": the key of Job.Stood
	Typed     []string `json:"typed"`               // ahead, left, up (on the floor: ahead, left, height), each with its unit: "412 mm"
	From      []string `json:"from,omitempty"`      // hanging: the datum each was taken from, "" as the job counts; three, or none at all
	PlusMinus string   `json:"plusMinus,omitempty"` // of each of them, as typed with its unit; "" as a hooked tape's
	Side      string   `json:"side,omitempty"`      // "right": measured on the twin the file does not give
}

// Datum is something measurements start from.
type Datum struct {
	Name      string   `json:"name"`
	At        *Point   `json:"at,omitempty"`
	Axis      string   `json:"axis,omitempty"` // "x", "y" or "z" where it fixes only one
	PlusMinus *float64 `json:"plusMinus,omitempty"`
	Note      string   `json:"note,omitempty"`
	Taken     *Taken   `json:"taken,omitempty"` // what its place was worked out from, where it was measured from the floor
}

// Bracket is what holds a pivot, made of plates. All sizes mm.
type Bracket struct {
	Of        string   `json:"of"`               // the part whose pivot it is
	End       string   `json:"end"`              // which of its pivots, as Holes.End
	Kind      string   `json:"kind"`             // "tab": one flat plate; "pair": two, the bolt in double shear; "saddle": two on a plate folded over a rail
	Thickness float64  `json:"thickness"`        // of the plates
	Hole      float64  `json:"hole"`             // for the bolt
	Edge      float64  `json:"edge"`             // from the hole's centre to the plate's edge round it
	Base      float64  `json:"base"`             // from the hole's centre to the mounting face
	Width     *float64 `json:"width,omitempty"`  // of the plates at the mounting face; left out: twice the edge
	Offset    *float64 `json:"offset,omitempty"` // the middle of that width from under the hole, + to the right as the template is drawn
	Gap       *float64 `json:"gap,omitempty"`    // clear between two plates
	Steel     string   `json:"steel,omitempty"`
	Pattern   *Pattern `json:"pattern,omitempty"` // bolted: holes past the mounting face
	Rail      *Over    `json:"rail,omitempty"`    // of a saddle
}

// Pattern is a row of holes a plate is bolted on by. mm.
type Pattern struct {
	Count int      `json:"count"`
	Pitch *float64 `json:"pitch,omitempty"` // from one to the next; needed from two on
	Hole  float64  `json:"hole"`
	In    float64  `json:"in"`             // from the mounting face; of a saddle from the leg's free edge
	Edge  *float64 `json:"edge,omitempty"` // from the row to the plate's edge past it; left out: one and a half holes
}

// Over is the folded plate of a saddle. mm.
type Over struct {
	Width     float64  `json:"width"`               // of the rail: clear between the legs
	Leg       float64  `json:"leg"`                 // how far the legs reach down the rail from its face
	Along     *float64 `json:"along,omitempty"`     // how long it is along the rail; left out: as wide as the plates on it
	Thickness *float64 `json:"thickness,omitempty"` // left out: as the plates
	Bend      *float64 `json:"bend,omitempty"`      // inside radius of the folds; left out: its thickness
}

// Keep is a wish the window holds while pivots are moved.
type Keep struct {
	What  string   `json:"what"` // "length", "line", "pinion"
	Of    string   `json:"of,omitempty"`
	End   string   `json:"end,omitempty"`   // a line: which of its pivots, as Holes.End
	Way   string   `json:"way,omitempty"`   // a line: "level", "upright", "fore-and-aft", "across", "link", "holes"
	Along *Point   `json:"along,omitempty"` // way "link" and "holes": how that lay; need not be of length 1
	From  *float64 `json:"from,omitempty"`  // the pinion: its change from this travel of both wheels ...
	To    *float64 `json:"to,omitempty"`    // ... to this one, mm, bump positive
	Value *float64 `json:"value,omitempty"`
}

// SetAside is a finding the user has put aside, with the reason and the figures it had then.
type SetAside struct {
	Finding string             `json:"finding"`
	Trial   string             `json:"trial,omitempty"`
	Reason  string             `json:"reason"`
	Date    string             `json:"date,omitempty"`
	Numbers map[string]float64 `json:"numbers,omitempty"`
}

// Photo is a picture kept beside the job, behind the view it names: the middle of the picture lies at At, one of its pixels is MmPerPixel, and it is
// turned by Turn. Without At and MmPerPixel it is not placed.
type Photo struct {
	File       string   `json:"file"`
	View       string   `json:"view,omitempty"`
	At         *Point2  `json:"at,omitempty"`         // the view's own axes, right and up: side X Z, rear -Y Z, plan X Y; mm
	MmPerPixel *float64 `json:"mmPerPixel,omitempty"` // of the picture as it is shown, upright
	Turn       *float64 `json:"turn,omitempty"`       // deg, against the clock as seen
	Opacity    *float64 `json:"opacity,omitempty"`    // 0 to 1
	Hidden     bool     `json:"hidden,omitempty"`
	Typed      string   `json:"typed,omitempty"` // the length its scale was taken from, as typed
	Note       string   `json:"note,omitempty"`
}

// Card is the job card.
type Card struct {
	Complaint string   `json:"complaint,omitempty"`
	Use       string   `json:"use,omitempty"`
	FrontKg   *float64 `json:"frontKg,omitempty"`
	RearKg    *float64 `json:"rearKg,omitempty"`
	Tyre      string   `json:"tyre,omitempty"`
	Given     Given    `json:"given,omitempty"`
}

// Before is what was measured before stripping. BeforeValues names the values.
type Before struct {
	Date   string             `json:"date,omitempty"`
	Note   string             `json:"note,omitempty"`
	Photo  string             `json:"photo,omitempty"`
	Values map[string]float64 `json:"values,omitempty"`
	Given  Given              `json:"given,omitempty"`
}

// Holes are the holes a pivot may be bolted in, numbered from 1: a row along a bracket or a rail, or each for itself; at ride height, of a pair on the side the file gives.
type Holes struct {
	Of    string  `json:"of"`              // the link, arm, strut ...
	End   string  `json:"end"`             // where the part's own pivot stands in it: "frame", "axle[1]", "rods[0].far"
	First *Point  `json:"first,omitempty"` // of a row: the first hole,
	Step  *Point  `json:"step,omitempty"`  // from one to the next
	Count int     `json:"count,omitempty"` // and how many
	At    []Point `json:"at,omitempty"`    // or each hole
	Given Given   `json:"given,omitempty"`
}

// AsBuilt is a point as it was welded.
type AsBuilt struct {
	Of    string `json:"of"`
	End   string `json:"end,omitempty"`
	At    Point  `json:"at"`
	Given Given  `json:"given,omitempty"`
}

// Stood keeps how axle and body stood while places on them were measured, so that these can be brought to ride height (GivenValue.Taken).
// In Given each number has what was typed for it.
type Stood struct {
	Stands  *Stands  `json:"stands,omitempty"`
	Hanging *Hanging `json:"hanging,omitempty"`
	Floor   *Floor   `json:"floor,omitempty"`
}

// Stands is the axle on stands or on the bench. Places are measured ahead and square to the tube, to the left and up, all level or plumb, from the middle
// of the tube.
type Stands struct {
	Pinion       *float64 `json:"pinion,omitempty"`       // deg to the horizontal as it lay, + nose up
	Tilt         *float64 `json:"tilt,omitempty"`         // deg of the tube as it lay, + left end up; default 0
	PinionAtRide *float64 `json:"pinionAtRide,omitempty"` // deg, + nose up, where the job draws no pinion
	Gauge        *float64 `json:"gauge,omitempty"`        // deg the angles may be off; default 0.2
	Given        Given    `json:"given,omitempty"`
}

// Hanging is the axle under the vehicle, hanging or standing otherwise than at ride height. Places are measured from the frame, in body axes.
type Hanging struct {
	Strut        string   `json:"strut,omitempty"` // the struts whose lengths tell where it hung; "": the two ends of its tube tell
	Left         *float64 `json:"left,omitempty"`  // length pivot to pivot, mm
	Right        *float64 `json:"right,omitempty"` // default as the left one
	LeftEnd      *TubeEnd `json:"leftEnd,omitempty"`
	RightEnd     *TubeEnd `json:"rightEnd,omitempty"`
	Pinion       *float64 `json:"pinion,omitempty"` // deg to the horizontal as it hung, + nose up; by the tube's ends only
	Rake         *float64 `json:"rake,omitempty"`   // deg of the body then, + nose up; default 0
	PinionAtRide *float64 `json:"pinionAtRide,omitempty"`
	Gauge        *float64 `json:"gauge,omitempty"`
	Given        Given    `json:"given,omitempty"`
}

// TubeEnd is the middle of one end of the axle's tube as it hung, body axes, mm.
type TubeEnd struct {
	X *float64 `json:"x,omitempty"`
	Y *float64 `json:"y,omitempty"`
	Z *float64 `json:"z,omitempty"`
}

// Floor is the body over a workshop floor. Places on it are measured along the floor from the mark under the datum, ahead and square to that to the left,
// and up the plumb line from the floor. Rake and lean of the body are given as an angle, or by two heights above the floor.
type Floor struct {
	Datum           string   `json:"datum,omitempty"`  // a datum with X, Y and Z; "": the axle centre at ride height
	Height          *float64 `json:"height,omitempty"` // of the datum above the floor, mm
	Rake            *float64 `json:"rake,omitempty"`   // deg to the horizontal, + nose up
	RakeRear        *float64 `json:"rakeRear,omitempty"`
	RakeFront       *float64 `json:"rakeFront,omitempty"`
	RakeOver        *float64 `json:"rakeOver,omitempty"` // how far ahead of the rear height the front one is, mm along the floor
	RailAtRide      *float64 `json:"railAtRide,omitempty"`
	Lean            *float64 `json:"lean,omitempty"` // deg to the horizontal, + left side up
	LeanLeft        *float64 `json:"leanLeft,omitempty"`
	LeanRight       *float64 `json:"leanRight,omitempty"`
	LeanOver        *float64 `json:"leanOver,omitempty"`
	FallForward     *float64 `json:"fallForward,omitempty"`     // mm the floor falls ahead; default 0
	FallForwardOver *float64 `json:"fallForwardOver,omitempty"` // over how many mm, level
	FallLeft        *float64 `json:"fallLeft,omitempty"`
	FallLeftOver    *float64 `json:"fallLeftOver,omitempty"`
	Gauge           *float64 `json:"gauge,omitempty"`
	Given           Given    `json:"given,omitempty"`
}

// Package clearance knows which parts are tested against which, and measures the gaps at a pose. It does not know how poses are found.
//
// Lengths are mm, in body axes (X forward, Y left, Z up). Round bars (links, the bars of arms, rods, struts, lines, driveshaft, axle tube) are swept
// spheres along their centre line with half spheres beyond both ends; a tyre is a drum with rounded shoulders fixed to the axle; housings and envelopes are balls, boxes, prisms,
// tubes and meshes. The gap of two convex pieces is the distance between their surfaces or, where they overlap, minus the shortest translation that
// parts them; the gap of two unions is the smallest over their pieces, so the overlap of a union is "at least" that.
package clearance

import (
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/shape"
)

// Body says what carries a part.
type Body uint8

// The bodies.
const (
	OnFrame Body = iota
	OnAxle
	Between // bars that move with neither: link, arm, rod, strut, line, driveshaft
)

// PartKind is what a part is in the trade's words.
type PartKind uint8

// The kinds of part.
const (
	LinkPart PartKind = iota
	ArmPart           // an A-arm or a radius arm, both its bars
	RodPart           // one rod of a Watt's rocker
	StrutPart
	LinePart
	ShaftPart
	TubePart
	HousingPart
	TyrePart
	EnvelopePart
)

// Part is one thing that can touch another.
type Part struct {
	Name     string
	Kind     PartKind
	Body     Body
	Ref      job.Ref // entry of its own list in the job (links, arms, rockers, struts, lines, envelopes); Side for tyres
	Rod      int     // of a rod: which of its rocker's
	Required float64 // its own clearance, mm
	Convex   bool    // one piece; else an overlap is "at least"
}

// Pair is two parts that are tested, by index into Parts. Required is the larger of the two.
type Pair struct {
	A, B     int
	Required float64
}

// Unread is a mesh that could not be read: its part, or what the mesh is of the housing, is left out.
type Unread struct {
	Name, Why string  // Why is half a sentence
	Ref       job.Ref // entry of the job's envelopes, or of the housing's shapes
	Housing   bool
}

// LeftOut is a pair that is not tested, or only in part, and why, in words. B is "" where that is so of A against everything.
type LeftOut struct{ A, B, Why string }

// Model is the list of parts and pairs of a job: read-only after Compile, safe to share between goroutines.
type Model struct {
	Parts   []Part
	Pairs   []Pair
	LeftOut []LeftOut
	Unread  []Unread

	mech  *motion.Mechanism
	fixed []shape.Solid // per solid of a scratch: frame parts as they stand, axle parts from the axle centre at ride, of bars their pieces to fill; every part whole, then what counts of some against their own brackets
	bars  []bar
	sides [][2]int // per pair: which solids of a scratch
}

// Gap is one pair at one pose.
type Gap = shape.Result

// Smallest is the smallest gap of a pair over a set of poses.
type Smallest struct {
	Gap         Gap
	Left, Right float64 // where
	AtRide      float64
}

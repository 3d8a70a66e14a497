// Package clearance knows which parts are tested against which, and measures the gaps at a pose. It does not know how poses are found.
//
// Lengths are mm, in body axes (X forward, Y left, Z up). Round bars are swept spheres along their centre line with half spheres
// beyond both ends; a tyre is a drum with rounded shoulders fixed to the axle; housings and envelopes are balls, boxes, prisms and
// tubes. The gap of two convex pieces is the distance between their surfaces or, where they overlap, minus the shortest translation that
// parts them; the gap of two unions is the smallest over their pieces, so the overlap of a union is "at least" that.
package clearance

import (
	"axleloft/geometry/job"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// Body says what carries a part.
type Body uint8

// The bodies.
const (
	OnFrame Body = iota
	OnAxle
	Between // a bar from a frame point to an axle point: link, strut, line, driveshaft
)

// PartKind is what a part is in the trade's words.
type PartKind uint8

// The kinds of part.
const (
	LinkPart PartKind = iota
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
	Ref      job.Ref // entry of its own list in the job (links, struts, lines, envelopes); Side for tyres
	Required float64 // its own clearance, mm
	Convex   bool    // one piece; else an overlap is "at least"
}

// Pair is two parts that are tested, by index into Parts. Required is the larger of the two.
type Pair struct {
	A, B     int
	Required float64
}

// LeftOut is a pair that is not tested, or only in part, and why, in words. B is "" where A is left out against everything.
type LeftOut struct{ A, B, Why string }

// Model is the list of parts and pairs of a job: read-only after Compile, safe to share between goroutines.
type Model struct {
	Parts   []Part
	Pairs   []Pair
	LeftOut []LeftOut

	fixed  []shape.Solid // per part: of frame parts as they stand, of axle parts from the axle centre at ride, of bars their pieces to fill
	bars   []bar         // every bar whole, then every bar shortened for a bracket
	places []int         // per solid of a scratch beyond the parts: which bar fills it
	sides  [][2]int      // per pair: which solids of a scratch; below len(Parts) the part whole, else a shortened bar
}

// bar is a round bar from a frame point to an axle point, less what its brackets hide.
type bar struct {
	part        int
	frame, axle r3.Vec   // axle: from the axle centre at ride
	bends       []r3.Vec // from the frame point, at ride
	dir         r3.Vec   // unit direction from frame to axle at ride
	length      float64  // pivot to pivot at ride
	link        int      // index among the mechanism's links, -1
	radius      float64
	fromFrame   float64 // reach not counted at the frame end, along the centre line
	fromAxle    float64
}

// centreLine returns the length of the bar's centre line at ride.
func (b *bar) centreLine() float64 {
	at, sum := r3.Vec{}, 0.0
	for _, k := range b.bends {
		sum += r3.Norm(r3.Sub(k, at))
		at = k
	}
	return sum + r3.Norm(r3.Sub(r3.Scale(b.length, b.dir), at))
}

// Gap is one pair at one pose.
type Gap = shape.Result

// Smallest is the smallest gap of a pair over a set of poses.
type Smallest struct {
	Gap         Gap
	Left, Right float64 // where
	AtRide      float64
}

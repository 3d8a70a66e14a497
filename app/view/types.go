// Package view turns a study and a position into drawings: projections, scenes in world units, hit testing. Pure: no Fyne, no files.
//
// A Scene is made once for a position of the axle (New) and drawn for any transform (Scene.Picture), so zooming costs no geometry.
package view

import (
	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// Plane is a view.
type Plane uint8

// The views: side seen from the vehicle's right, nose to the right; rear to its right, seen from behind; plan below, left upward.
const (
	Side Plane = iota
	Rear
	Plan
)

// Project returns the view's own axes (right, up) of a body point, mm.
func (p Plane) Project(v r3.Vec) (right, up float64) {
	switch p {
	case Side:
		return v.X, v.Z
	case Rear:
		return -v.Y, v.Z
	default:
		return v.X, v.Y
	}
}

// Depth returns how far a body point lies toward the eye, mm.
func (p Plane) Depth(v r3.Vec) float64 {
	switch p {
	case Side:
		return -v.Y
	case Rear:
		return -v.X
	default:
		return v.Z
	}
}

// Shift moves a body point along the view's own axes, mm.
func (p Plane) Shift(v r3.Vec, right, up float64) r3.Vec {
	switch p {
	case Side:
		v.X += right
		v.Z += up
	case Rear:
		v.Y -= right
		v.Z += up
	default:
		v.X += right
		v.Y += up
	}
	return v
}

// Input is what a scene is made from.
type Input struct {
	Plane    Plane
	Now      *study.Study    // the geometry as it stands; compiled is enough
	At       *study.Position // where the axle stands, of Now; nil or with Err: only what is fixed is drawn, and the axle at ride
	Held     *edit.Pivot     // its rings, bracket and bolt are drawn
	Grips    bool            // its bolt has grips: it does not hang on the pointer just now
	Turning  bool            // the keys turn its bolt: the grips are filled
	Selected *edit.Part      // drawn in the colour of what a hand can move
	Pencils  []Pencil        // drawn grey behind it
	LinksEnd bool            // the axle stands where the links end its way: those that hold it are marked
	ShowGap  bool            // draw the gap of Pair as a dimension between its two points
	Pair     int             // index of Now.Gaps.Pairs
	Laid     []Laid          // what the open panel lays over the views
	Demo     bool            // say "DEMO, not your vehicle"
	Inch     bool            // lengths in words in inches
}

// Handle is something a hand can take in a view: a pivot where it stands, its ride place, or a tyre.
type Handle struct {
	Pivot edit.Pivot
	Wheel job.Side // Left or Right: a tyre; Single: a pivot
	Ride  bool     // the hollow ring at the ride place of a pivot that is carried
	Bolt  int      // a grip of the held pivot's bolt, 1 at one end and -1 at the other; 0: none
	At    r3.Vec   // body axes, mm
	X, Y  float64  // units
	box   [4]float64
}

// Reach is how far from a handle a press still takes it, units: an area of 48.
const Reach = 24.0

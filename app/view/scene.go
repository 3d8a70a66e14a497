package view

import (
	"slices"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"gonum.org/v1/gonum/spatial/r3"
)

// The widths of lines, units.
const (
	heavy = 3.0 // links, axle, tyres, parts in the way
	light = 1.5 // far parts, struts, driveshaft, ground, leaders, pencil line
	thin  = 1.0
)

// figure is one thing of a scene, in the view's own axes, mm.
type figure struct {
	kind   drawing.Kind // Line, Circle, Bar, Dashed; a Line that is closed may be filled
	layer  drawing.Layer
	stroke ink.Role
	fill   ink.Role
	width  float64 // units
	radius float64 // mm
	shift  float64 // of dashes along their pattern, units
	pts    []point
	closed bool
	own    ink.Role // of a part in the way: its fill, however it is drawn here
	part   bool     // a part in the way: drawn light and open where it is larger than half the view
	name   string
}

// word is a name that waits for a place.
type word struct {
	words  string
	role   ink.Role
	area   []point // of what it names; a bar's centre line where radius is not 0
	radius float64
	bar    bool
	beside bool     // never inside: its own other bar would lie over it
	name   string   // of the part
	ground ink.Role // what it stands on inside what it names
	layer  drawing.Layer
	weight float64 // the larger the sooner it gets its place
}

// Scene is what one view shows of a position of the axle, in world units. Read-only once made.
type Scene struct {
	stage
	in      Input
	plane   Plane
	gaps    *clearance.Scratch // placed; nil where no gaps are known
	figures []figure
	words   []word
	pivots  []pivot
	hits    []trouble
	close   []trouble
	marks   []worded
	laid    []laid
	holders []string    // the members that end the axle's way where it stands
	poorly  string      // what little stops it doing there, "" where it is held well
	loose   motion.Free // that motion
}

// worded is a place in trouble with what there is to say of it.
type worded struct {
	words string
	area  []point // mm
	name  string
}

// New makes the scene of a view. A job that cannot be moved is drawn at ride height.
func New(in Input) *Scene {
	s := &Scene{in: in, plane: in.Plane}
	if in.Now == nil || in.Now.Parts == nil {
		return s
	}
	s.stage = newStage(in.Now, in.At)
	if s.there && in.Now.Gaps != nil && len(in.At.Values) > 0 {
		s.gaps = in.Now.Gaps.NewScratch()
		s.gaps.Place(&s.pose, in.At.Values[0].Links)
	}
	s.addHolding()
	s.addParts()
	s.addAxle()
	s.addBars()
	for i := range in.Pencils {
		s.addPencil(&in.Pencils[i])
	}
	s.addLaid()
	s.addPivots()
	s.addTrouble()
	slices.SortStableFunc(s.figures, func(a, b figure) int { return int(a.layer) - int(b.layer) })
	return s
}

func rollingRadius(j *job.Job) float64 {
	if j.Vehicle == nil || j.Vehicle.Tyre == nil {
		return 0
	}
	return j.Vehicle.Tyre.LoadedRadius
}

func ridePose(radius float64) motion.Pose {
	return motion.Pose{C: r3.Vec{Z: radius}, Ex: r3.Vec{X: 1}, Ey: r3.Vec{Y: 1}, Ez: r3.Vec{Z: 1}}
}

func (s *Scene) flat(v r3.Vec) point {
	a, b := s.plane.Project(v)
	return point{a, b}
}

func (s *Scene) flats(v ...r3.Vec) []point {
	out := make([]point, len(v))
	for i := range v {
		out[i] = s.flat(v[i])
	}
	return out
}

func (s *Scene) add(f figure) { s.figures = append(s.figures, f) }

// chosen reports whether an expanded entry of a list is of the part a hand has selected.
func (s *Scene) chosen(l edit.List, ref job.Ref) bool {
	return s.in.Selected != nil && s.in.Selected.List == l && s.in.Selected.Index == ref.Index
}

// PlainName is a part's name as a view says it: without its twin's side, in the running text's lower case.
func PlainName(name string) string {
	return study.Lower(strings.TrimSuffix(strings.TrimSuffix(name, " left"), " right"))
}

package edit

import (
	"math"
	"slices"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// PointKind is what a point of a part in the way is.
type PointKind uint8

// The kinds of points.
const (
	BoxCorner    PointKind = iota // bit 0, 1, 2 of the index: at the upper end of the box's own X, Y, Z
	OutlinePoint                  // of an outline, by its index; it lies midway between the part's two ends
	FromEnd                       // where an outlined part begins, square to its outline
	ToEnd                         // and where it ends
	PathPoint                     // of a pipe's centre line, by its index
	Middle                        // of a ball
	Rim                           // a place on a ball: it stands for the radius
)

// PartPoint is a point of a part in the way that can be led by itself.
type PartPoint struct {
	Kind  PointKind
	Index int
}

// AppendPoints adds the points that lead a part in the way to a list; a shape from a file has none.
func AppendPoints(dst []PartPoint, e *job.Envelope) []PartPoint {
	row := func(kind PointKind, n int) {
		for i := range n {
			dst = append(dst, PartPoint{kind, i})
		}
	}
	switch {
	case e.Kind == "box" && e.Min != nil && e.Max != nil:
		row(BoxCorner, 8)
	case e.Kind == "prism" && e.From != nil && e.To != nil:
		row(OutlinePoint, len(e.Outline))
		row(FromEnd, 1)
		row(ToEnd, 1)
	case e.Kind == "tube" && e.Outside != nil:
		row(PathPoint, len(e.Path))
	case e.Kind == "ball" && e.Centre != nil && e.Radius != nil:
		row(Middle, 1)
		row(Rim, 1)
	}
	return dst
}

// PointAt is where a point of a part in the way is, body axes, mm, of a pair on the left. The Rim lies ahead of the ball's middle.
func PointAt(e *job.Envelope, p PartPoint) (at r3.Vec, ok bool) {
	switch {
	case p.Kind == BoxCorner && e.Min != nil && e.Max != nil && p.Index >= 0 && p.Index < 8:
		c, half, _ := boxOf(e, p.Index)
		return r3.Add(c, half), true
	case p.Kind == OutlinePoint && e.From != nil && e.To != nil && p.Index >= 0 && p.Index < len(e.Outline):
		return offPlane(e.Plane, e.Outline[p.Index], (*e.From+*e.To)/2), true
	case (p.Kind == FromEnd || p.Kind == ToEnd) && e.From != nil && e.To != nil && len(e.Outline) > 0:
		lo, hi := e.Outline[0], e.Outline[0]
		for _, q := range e.Outline {
			for a := range q {
				lo[a], hi[a] = math.Min(lo[a], q[a]), math.Max(hi[a], q[a])
			}
		}
		end := *e.From
		if p.Kind == ToEnd {
			end = *e.To
		}
		return offPlane(e.Plane, job.Point2{(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2}, end), true
	case p.Kind == PathPoint && p.Index >= 0 && p.Index < len(e.Path):
		return e.Path[p.Index].Vec(), true
	case p.Kind == Middle && e.Centre != nil:
		return e.Centre.Vec(), true
	case p.Kind == Rim && e.Centre != nil && e.Radius != nil:
		return r3.Add(e.Centre.Vec(), r3.Vec{X: *e.Radius}), true
	}
	return r3.Vec{}, false
}

// offPlane is the place of a corner of an outline drawn in a view, so far along the third axis.
func offPlane(plane string, p job.Point2, third float64) r3.Vec {
	u, w, t := planeAxes(plane)
	var v [3]float64
	v[u], v[w], v[t] = p[0], p[1], third
	return r3.Vec{X: v[0], Y: v[1], Z: v[2]}
}

// inPlane is the reverse.
func inPlane(plane string, v r3.Vec) (p job.Point2, third float64) {
	u, w, t := planeAxes(plane)
	x := [3]float64{v.X, v.Y, v.Z}
	return job.Point2{x[u], x[w]}, x[t]
}

// boxOf is a box's middle, from there to a corner, both in body axes, and its own axes as columns.
func boxOf(e *job.Envelope, corner int) (c, half r3.Vec, axes [3]r3.Vec) {
	lo, hi := e.Min.Vec(), e.Max.Vec()
	c, half = r3.Scale(0.5, r3.Add(lo, hi)), r3.Scale(0.5, r3.Sub(hi, lo))
	axes[0], axes[1], axes[2] = clearance.Turned(e.Turn)
	sum := r3.Vec{}
	for a, h := range [3]float64{half.X, half.Y, half.Z} {
		if corner>>a&1 == 0 {
			h = -h
		}
		sum = r3.Add(sum, r3.Scale(h, axes[a]))
	}
	return c, sum, axes
}

// shapeOf finds a part in the way whose shape a hand may change.
func shapeOf(j *job.Job, part Part) (*job.Envelope, error) {
	if part.List != Envelopes || part.Index < 0 || part.Index >= len(j.Envelopes) {
		return nil, errGone
	}
	e := &j.Envelopes[part.Index]
	if IsPartMeasured(j, part) {
		return nil, locked(e.Name)
	}
	return e, nil
}

// MovePoint leads a point of a part in the way to a place (body axes, mm; of a pair on the left) and leaves the others where they are; of a box the
// opposite corner stays. What was typed of a number that changes is forgotten. It refuses a measured part, an outline that would cross or
// touch itself and a shape without thickness, and then changes nothing.
func MovePoint(j *job.Job, part Part, p PartPoint, to r3.Vec) error {
	e, err := shapeOf(j, part)
	if err != nil {
		return err
	}
	if math.IsNaN(to.X+to.Y+to.Z) || r3.Norm(to) > farthest {
		return words.Errorf("%s cannot go there: a place must be within 100 m of the axle.", e.Name)
	}
	if _, ok := PointAt(e, p); !ok {
		return errGone
	}
	switch p.Kind {
	case BoxCorner:
		return moveCorner(e, p.Index, to)
	case OutlinePoint:
		next := slices.Clone(e.Outline)
		next[p.Index], _ = inPlane(e.Plane, to)
		return outlineTo(e, next)
	case FromEnd, ToEnd:
		_, end := inPlane(e.Plane, to)
		from, of := *e.From, *e.To
		if p.Kind == FromEnd {
			from = end
		} else {
			of = end
		}
		if (*e.To-*e.From)*(of-from) <= 0 || math.Abs(of-from) < shortest {
			return words.Errorf("%s would have no thickness there.", e.Name)
		}
		setNumber(e, "from", e.From, from)
		setNumber(e, "to", e.To, of)
	case PathPoint:
		next := slices.Clone(e.Path)
		next[p.Index] = job.Point{to.X, to.Y, to.Z}
		return pathTo(e, next)
	case Middle:
		for a, v := range [3]float64{to.X, to.Y, to.Z} {
			setNumber(e, "centre."+axisKeys[a], &e.Centre[a], v)
		}
	case Rim:
		radius := tidy(r3.Norm(r3.Sub(to, e.Centre.Vec())))
		if radius < shortest {
			return words.Errorf("%s would have no thickness there.", e.Name)
		}
		setNumber(e, "radius", e.Radius, radius)
	}
	return nil
}

// setNumber gives a number of a shape; what was typed of one that changes is forgotten.
func setNumber(e *job.Envelope, key string, at *float64, v float64) {
	if math.Abs(*at-v) > stillTol {
		*at = v
		setGiven(&e.Given, key, job.GivenValue{})
	}
}

// moveCorner leads a corner of a box: along each of its own axes the box reaches from the opposite corner to there.
func moveCorner(e *job.Envelope, corner int, to r3.Vec) error {
	c, half, axes := boxOf(e, corner)
	opposite := r3.Sub(c, half)
	across := r3.Sub(to, opposite)
	var size [3]float64
	for a := range size {
		size[a] = r3.Dot(across, axes[a])
		if corner>>a&1 == 0 {
			size[a] = -size[a]
		}
		if !(size[a] >= shortest) {
			return words.Errorf("%s would have no thickness there.", e.Name)
		}
	}
	middle := r3.Add(opposite, r3.Scale(0.5, across))
	for a, m := range [3]float64{middle.X, middle.Y, middle.Z} {
		lo, hi := tidy(m-size[a]/2), tidy(m+size[a]/2)
		if e.Turn == nil { // the far side stays to the last digit
			if corner>>a&1 == 0 {
				hi = e.Max[a]
			} else {
				lo = e.Min[a]
			}
		}
		setNumber(e, "min."+axisKeys[a], &e.Min[a], lo)
		setNumber(e, "max."+axisKeys[a], &e.Max[a], hi)
	}
	return nil
}

// outlineTo gives a part another outline, or says why it cannot be.
func outlineTo(e *job.Envelope, next []job.Point2) error {
	if err := checkOutline(e.Name, next); err != nil {
		return err
	}
	e.Outline = next
	return nil
}

// checkOutline says what is wrong with the outline of a part of that name.
func checkOutline(name string, o []job.Point2) error {
	if len(o) < 3 {
		return words.Errorf("%s needs at least three corners.", name)
	}
	for i := range o {
		if k := (i + 1) % len(o); math.Hypot(o[i][0]-o[k][0], o[i][1]-o[k][1]) < shortest {
			return words.Errorf("Two corners of %s would lie in one place.", name)
		}
	}
	if _, _, ok := job.Crossing(o); !ok {
		return words.Errorf("The outline of %s would cross or touch itself.", name)
	}
	return nil
}

// pathTo gives a pipe another centre line, or says why it cannot be.
func pathTo(e *job.Envelope, next []job.Point) error {
	if len(next) < 2 {
		return words.Errorf("%s needs at least two points.", e.Name)
	}
	for i := 1; i < len(next); i++ {
		if r3.Norm(r3.Sub(next[i].Vec(), next[i-1].Vec())) < shortest {
			return words.Errorf("Two points of %s would lie in one place.", e.Name)
		}
	}
	e.Path = next
	return nil
}

// most is how many points an outline or a pipe can have.
const most = 1000

// AddPoint puts a point on an edge of an outline or a run of a pipe: edge i goes from point i to the next. It tells which point it is.
func AddPoint(j *job.Job, part Part, edge int, at r3.Vec) (PartPoint, error) {
	e, err := shapeOf(j, part)
	if err != nil {
		return PartPoint{}, err
	}
	switch {
	case e.Kind == "prism" && edge >= 0 && edge < len(e.Outline):
		if len(e.Outline) >= most {
			return PartPoint{}, words.Errorf("%s has as many corners as there can be.", e.Name)
		}
		q, _ := inPlane(e.Plane, at)
		return PartPoint{OutlinePoint, edge + 1}, outlineTo(e, slices.Insert(slices.Clone(e.Outline), edge+1, q))
	case e.Kind == "tube" && edge >= 0 && edge < len(e.Path)-1:
		if len(e.Path) >= most {
			return PartPoint{}, words.Errorf("%s has as many points as there can be.", e.Name)
		}
		return PartPoint{PathPoint, edge + 1}, pathTo(e, slices.Insert(slices.Clone(e.Path), edge+1, job.Point{at.X, at.Y, at.Z}))
	}
	return PartPoint{}, words.Errorf("Points can be added to an outline or a pipe only.")
}

// RemovePoint takes a point of an outline or a pipe out.
func RemovePoint(j *job.Job, part Part, p PartPoint) error {
	e, err := shapeOf(j, part)
	if err != nil {
		return err
	}
	switch {
	case p.Kind == OutlinePoint && p.Index >= 0 && p.Index < len(e.Outline):
		return outlineTo(e, slices.Delete(slices.Clone(e.Outline), p.Index, p.Index+1))
	case p.Kind == PathPoint && p.Index >= 0 && p.Index < len(e.Path):
		return pathTo(e, slices.Delete(slices.Clone(e.Path), p.Index, p.Index+1))
	}
	return words.Errorf("Only a corner of an outline or a point of a pipe can be taken out.")
}

// PointName is what a point is called in the words beside Undo.
func PointName(j *job.Job, part Part, p PartPoint) string {
	name := PartName(j, part)
	switch p.Kind {
	case BoxCorner, OutlinePoint:
		return words.F("corner of %s", name)
	case FromEnd, ToEnd:
		return words.F("end of %s", name)
	case Rim:
		return words.F("radius of %s", name)
	case Middle:
		return words.F("middle of %s", name)
	}
	return words.F("point of %s", name)
}

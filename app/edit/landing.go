package edit

import (
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"

	"gonum.org/v1/gonum/spatial/r3"
)

// Lands is a set of kinds of things a dragged pivot may land on.
type Lands uint8

// The kinds.
const (
	LandLevel  Lands = 1 << iota // the height of another pivot
	LandFace                     // a flat face of a part in the way
	LandOther                    // the mirrored place of the other side, where a pair is unlinked
	LandLength                   // as long as another link
	LandHole                     // a hole of its row

	LandAll = LandLevel | LandFace | LandOther | LandLength | LandHole
)

// Landing is one thing a dragged pivot may land on. Places are body axes at ride height, mm, as the hand took the pivot (a right twin's mirrored).
type Landing struct {
	Kind   Lands
	Words  string       // "level with Upper, frame end"
	Axis   Axis         // LandLevel, LandFace: the coordinate it holds
	Value  float64      // and at what, mm
	At     r3.Vec       // the pivot it is level with; the mirrored place; the hole; LandLength: the link's other end
	Length float64      // LandLength
	Face   [2]job.Point // LandFace: the two far corners of the face, where it lies itself
}

// faceNear is how far beside a face a pivot still counts as on it, mm (our choice: a bracket's width).
const faceNear = 100.0

// Over reports whether a place lies over the face, or beside it by no more than a bracket's width.
func (l *Landing) Over(at r3.Vec) bool {
	for a := X; a <= Z; a++ {
		if v := coordinate(at, a); a != l.Axis && (v < l.Face[0][a]-faceNear || v > l.Face[1][a]+faceNear) {
			return false
		}
	}
	return true
}

// Landings lists what a pivot may land on, of the kinds wanted. off is how far a pivot stands off a face, mm; NaN: half its member's tube, so that
// the tube lies against the face.
func Landings(j *job.Job, p Pivot, want Lands, off float64) []Landing {
	s := find(j, p)
	if s == nil {
		return nil
	}
	var out []Landing
	if want&LandLevel != 0 {
		out = levels(out, j, p)
	}
	if want&LandOther != 0 {
		if o, ok := OtherSide(j, p); ok {
			at, _ := At(j, o)
			at.Y = 0 - at.Y
			out = append(out, Landing{Kind: LandOther, Words: words.F("at the mirrored place of %s", Name(j, o)), At: at})
		}
	}
	if want&LandHole != 0 {
		out = holePlaces(out, j, p)
	}
	if want&LandLength != 0 && p.List == Links && !KeepsLength(j, p.Index) {
		out = lengths(out, j, p)
	}
	if want&LandFace != 0 {
		if math.IsNaN(off) {
			off = halfTube(j, p)
		}
		out = faces(out, j, off)
	}
	return slices.DeleteFunc(out, func(l Landing) bool { return !canLand(j, p, &l) })
}

// canLand reports whether what is kept of a pivot lets it land there: one that is led elsewhere on the way has not landed.
func canLand(j *job.Job, p Pivot, l *Landing) bool {
	line, on := KeptOn(j, p)
	length := p.List == Links && KeepsLength(j, p.Index)
	if !on && !length {
		return true
	}
	switch l.Kind {
	case LandHole, LandOther: // a place: it can be had where a move there ends there
		c := j.Clone()
		err := Move(c, p, l.At)
		now, _ := At(c, p)
		return err == nil && r3.Norm(r3.Sub(now, l.At)) < lineTol
	case LandLength:
		return !on
	}
	if length { // two coordinates are led together
		return false
	}
	if line.Level {
		return l.Axis != Z
	}
	return math.Abs(coordinate(line.Along, l.Axis)) > 1-1e-9
}

// locates reports whether pivots of a list locate the axle: those one levels others with.
func locates(l List) bool { return l == Links || l == Arms || l == Rockers }

// levels are the heights of the pivot's own other ends, of its like and of all that locate the axle.
func levels(out []Landing, j *job.Job, p Pivot) []Landing {
	for _, o := range Pivots(j) {
		if o.Same(p) || o.List != p.List && !locates(o.List) {
			continue
		}
		if find(j, o).pair && p.Side == job.Right {
			o.Side = job.Right
		}
		at, _ := At(j, o)
		name := Name(j, twinless(o))
		if o.List == p.List && o.Index == p.Index {
			name = words.F("its own %s", find(j, o).what)
		}
		out = append(out, Landing{Kind: LandLevel, Words: words.F("level with %s", name), Axis: Z, Value: at.Z, At: at})
	}
	return out
}

// twinless is a pair's pivot as one thing: both twins stand at one height.
func twinless(p Pivot) Pivot {
	p.Side = job.Single
	return p
}

// lengths are the lengths of the other links.
func lengths(out []Landing, j *job.Job, p Pivot) []Landing {
	end := p
	if end.End = FrameEnd; p.End == FrameEnd {
		end.End = AxleEnd
	}
	at, _ := At(j, end)
	for i := range j.Links {
		if i != p.Index {
			out = append(out, Landing{Kind: LandLength, Words: words.F("as long as %s", j.Links[i].Name), At: at, Length: LinkLength(j, i)})
		}
	}
	return out
}

// halfTube is half the outside of the tube of a pivot's member, mm; 0 where it has none.
func halfTube(j *job.Job, p Pivot) float64 {
	var t *job.Tube
	switch p.List {
	case Links:
		t = j.Links[p.Index].Tube
	case Arms:
		t = j.Arms[p.Index].Tube
	case Rockers:
		if p.End != Centre {
			t = j.Rockers[p.Index].Rods[p.Sub].Tube
		}
	}
	if t == nil {
		return 0
	}
	return t.Outside / 2
}

// faces are the flat faces, square to a body axis, of the boxes and outlines in the way: both sides of a pair.
func faces(out []Landing, j *job.Job, off float64) []Landing {
	x := job.Expand(j).Job
	for i := range x.Envelopes {
		e := &x.Envelopes[i]
		switch {
		case e.Kind == "box" && e.Turn == nil && e.Min != nil && e.Max != nil:
			out = boxFaces(out, j, e.Name, *e.Min, *e.Max, [3]bool{true, true, true}, off)
		case e.Kind == "prism" && e.From != nil && e.To != nil && len(e.Outline) > 2:
			out = prismFaces(out, j, e, off)
		}
	}
	return out
}

// boxFaces are the faces of a box across the axes wanted.
func boxFaces(out []Landing, j *job.Job, name string, lo, hi job.Point, across [3]bool, off float64) []Landing {
	for a := range lo {
		if lo[a] > hi[a] {
			lo[a], hi[a] = hi[a], lo[a]
		}
	}
	for a := X; a <= Z; a++ {
		if !across[a] {
			continue
		}
		for _, upper := range []bool{false, true} {
			out = append(out, face(j, name, a, upper, lo, hi, off))
		}
	}
	return out
}

// face is one face of a box; upper is the one at the larger coordinate.
func face(j *job.Job, name string, a Axis, upper bool, lo, hi job.Point, off float64) Landing {
	l := Landing{Kind: LandFace, Axis: a, Face: [2]job.Point{lo, hi}}
	flat, sign := lo[a], -1.0
	if upper {
		flat, sign = hi[a], 1
	}
	l.Face[0][a], l.Face[1][a] = flat, flat
	l.Value = flat + sign*off
	var which string
	switch middle := lo[a]+hi[a] == 0 || lo[a] < 0 && hi[a] > 0; {
	case a == X && upper:
		which = words.F("front face of %s", name)
	case a == X:
		which = words.F("rear face of %s", name)
	case a == Z && upper:
		which = words.F("top of %s", name)
	case a == Z:
		which = words.F("underside of %s", name)
	case middle && upper:
		which = words.F("left face of %s", name)
	case middle:
		which = words.F("right face of %s", name)
	case upper == (lo[a] >= 0):
		which = words.F("outer face of %s", name)
	default:
		which = words.F("inner face of %s", name)
	}
	if l.Words = words.F("on the %s", which); off != 0 {
		l.Words = words.F("%s off the %s", strings.TrimSuffix(measure.Format(off, measure.UnitOf(shownLength(j)), measure.DefaultDenominator), " even"), which)
	}
	return l
}

// prismFaces are the two ends of an outline pushed through, and those of its edges that lie along a body axis.
func prismFaces(out []Landing, j *job.Job, e *job.Envelope, off float64) []Landing {
	u, w, third := planeAxes(e.Plane)
	var lo, hi job.Point
	lo[third], hi[third] = math.Min(*e.From, *e.To), math.Max(*e.From, *e.To)
	lo[u], lo[w], hi[u], hi[w] = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	turn := 0.0 // twice the area within the outline, with the sign of its turning
	for i, c := range e.Outline {
		d := e.Outline[(i+1)%len(e.Outline)]
		turn += c[0]*d[1] - d[0]*c[1]
		for k, a := range []int{u, w} {
			lo[a], hi[a] = math.Min(lo[a], c[k]), math.Max(hi[a], c[k])
		}
	}
	var across [3]bool
	across[third] = true
	out = boxFaces(out, j, e.Name, lo, hi, across, off)
	for i, c := range e.Outline {
		d := e.Outline[(i+1)%len(e.Outline)]
		for k, a := range []int{u, w} {
			if c[k] != d[k] || c[1-k] == d[1-k] {
				continue
			}
			// the outside lies to the right of an edge of an outline that turns against the clock
			run := d[1-k] - c[1-k]
			upper := (run*turn > 0) == (k == 0)
			l, h := lo, hi
			b := []int{u, w}[1-k]
			l[b], h[b] = math.Min(c[1-k], d[1-k]), math.Max(c[1-k], d[1-k])
			l[a], h[a] = c[k], c[k]
			out = append(out, face(j, e.Name, Axis(a), upper, l, h, off))
		}
	}
	return out
}

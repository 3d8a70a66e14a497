package view

import (
	"math"

	"axleloft/app/study"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	fitMargin = 150.0 // mm round the links
	allMargin = 60.0  // mm round everything
)

// span is a box in body axes.
type span struct{ lo, hi r3.Vec }

func nothing() span {
	inf := math.Inf(1)
	return span{r3.Vec{X: inf, Y: inf, Z: inf}, r3.Vec{X: -inf, Y: -inf, Z: -inf}}
}

func (b *span) add(p r3.Vec, r float64) {
	b.lo = r3.Vec{X: math.Min(b.lo.X, p.X-r), Y: math.Min(b.lo.Y, p.Y-r), Z: math.Min(b.lo.Z, p.Z-r)}
	b.hi = r3.Vec{X: math.Max(b.hi.X, p.X+r), Y: math.Max(b.hi.Y, p.Y+r), Z: math.Max(b.hi.Z, p.Z+r)}
}

func (b *span) empty() bool { return !(b.lo.X <= b.hi.X) }

// Fit is the eye that frames the links, and what lies within 150 mm of them, at one scale for the sizes of side, rear and plan.
func Fit(s *study.Study, sizes [3]Size) Eye {
	b := linkSpan(s)
	m := r3.Vec{X: fitMargin, Y: fitMargin, Z: fitMargin}
	b.lo, b.hi = r3.Sub(b.lo, m), r3.Add(b.hi, m)
	if s != nil && s.Parts != nil {
		j := s.Parts.Job
		for i := range j.Struts { // up and down the struts count as well: their heads would be cut
			for _, p := range []job.Point{j.Struts[i].Frame, j.Struts[i].Axle} {
				r := 0.0
				if j.Struts[i].Diameter != nil {
					r = *j.Struts[i].Diameter / 2
				}
				b.lo.Z, b.hi.Z = math.Min(b.lo.Z, p[2]-r), math.Max(b.hi.Z, p[2]+r)
			}
		}
	}
	return frame(b, sizes)
}

// FitAll is the eye that frames links, struts, tyres, parts in the way and the ground.
func FitAll(s *study.Study, sizes [3]Size) Eye {
	b := linkSpan(s)
	if s != nil && s.Parts != nil {
		j := s.Parts.Job
		for i := range j.Struts {
			b.add(j.Struts[i].Frame.Vec(), 0)
			b.add(j.Struts[i].Axle.Vec(), 0)
		}
		for i := range j.Envelopes {
			solid, err := clearance.EnvelopeSolid(&j.Envelopes[i])
			if err != nil {
				continue
			}
			for k := range solid.Pieces {
				lo, hi := solid.Pieces[k].Bounds()
				b.add(lo, 0)
				b.add(hi, 0)
			}
		}
		sc := &Scene{stage: newStage(s, nil)}
		for _, side := range []job.Side{job.Left, job.Right} {
			var p shape.Piece
			var ok bool
			if p, ok = sc.tyre(side); ok {
				lo, hi := p.Bounds()
				b.add(lo, 0)
				b.add(hi, 0)
			}
		}
		b.add(r3.Vec{}, 0) // the ground
	}
	m := r3.Vec{X: allMargin, Y: allMargin, Z: allMargin}
	b.lo, b.hi = r3.Sub(b.lo, m), r3.Add(b.hi, m)
	return frame(b, sizes)
}

// FrameBox is the eye that frames a box, body axes, mm, and what lies within 60 mm of it.
func FrameBox(lo, hi r3.Vec, sizes [3]Size) Eye {
	m := r3.Vec{X: allMargin, Y: allMargin, Z: allMargin}
	return frame(span{r3.Sub(lo, m), r3.Add(hi, m)}, sizes)
}

// linkSpan is the box round the links, arms and rods at ride height; round the axle where there are none.
func linkSpan(s *study.Study) span {
	b := nothing()
	radius := 0.0
	if s != nil && s.Parts != nil {
		st := newStage(s, nil)
		radius = st.radius
		for _, l := range st.located() {
			for _, p := range l.pts {
				b.add(p, l.radius)
			}
		}
	}
	if b.empty() {
		b.add(r3.Vec{Z: radius}, 500)
	}
	return b
}

// frame is the eye whose views all hold the box.
func frame(b span, sizes [3]Size) Eye {
	scale := math.Inf(1)
	for p, s := range sizes {
		if s.W < 20 || s.H < 20 {
			continue
		}
		x0, y0 := Plane(p).Project(b.lo)
		x1, y1 := Plane(p).Project(b.hi)
		scale = math.Min(scale, math.Min(s.W/math.Max(1, math.Abs(x1-x0)), s.H/math.Max(1, math.Abs(y1-y0))))
	}
	if math.IsInf(scale, 1) {
		scale = 0.2
	}
	return Eye{At: r3.Scale(0.5, r3.Add(b.lo, b.hi)), Scale: math.Max(LeastScale, math.Min(MostScale, scale))}
}

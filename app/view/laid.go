package view

import (
	"math"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/geometry/shape"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"gonum.org/v1/gonum/spatial/r3"
)

// Laying is what something laid over the views is, and so how it is drawn.
type Laying uint8

// The layings.
const (
	CutOff   Laying = iota // what a cut takes of a part: outlined and hatched
	KeptOut                // how far moving parts reach: long dash two dots, where they come nearer than is wanted
	Taken                  // the room a moving part takes: the same in blue, above what it goes through
	AnyOther               // another size or place of something: long dash two dots
)

// Laid is something a panel lays over the views while it is open. It is no part of the job.
type Laid struct {
	Name   string // what words and marks are told apart by
	Look   Laying
	Only   bool            // in one view alone
	In     Plane           // which
	Bodies [][]r3.Vec      // convex bodies by their corners: their outlines as seen, body axes, mm
	Loops  [][]r3.Vec      // closed lines as they are
	Tyre   *study.TyreSize // both tyres so much larger, wherever the axle stands
	Span   *[2]r3.Vec      // a dimension between two places, with Words
	Words  string          // in a tag beside it, "" none
}

// laid is what is laid over one view, mm in its axes.
type laid struct {
	of   *Laid
	runs [][]point // closed
}

// addLaid collects what is laid over this view.
func (s *Scene) addLaid() {
	for i := range s.in.Laid {
		l := &s.in.Laid[i]
		if l.Only && l.In != s.plane {
			continue
		}
		out := laid{of: l}
		for _, b := range l.Bodies {
			out.runs = append(out.runs, hull(s.flats(b...)))
		}
		for _, loop := range l.Loops {
			out.runs = append(out.runs, s.flats(loop...))
		}
		if l.Tyre != nil {
			for _, side := range []job.Side{job.Left, job.Right} {
				if p, ok := s.tyreOf(side, *l.Tyre); ok {
					out.runs = append(out.runs, silhouette(s.plane, &p))
				}
			}
			s.addOtherGround(l)
		}
		s.laid = append(s.laid, out)
	}
}

// tyreOf is a tyre so much larger, where it stands; ok is false where the job gives none or no size is left.
func (s *Scene) tyreOf(side job.Side, more study.TyreSize) (p shape.Piece, ok bool) {
	if p, ok = s.tyre(side); !ok {
		return p, false
	}
	v := s.job.Vehicle
	free, half := v.Tyre.Free()+more.Radius, (v.Tyre.WidthOr0()+more.Width)/2
	if !(free > 0 && half > 0) {
		return p, false
	}
	p.Radius = math.Min(math.Min(v.Tyre.Rounding(), free), half)
	p.Rho, p.Half = free-p.Radius, half-p.Radius
	return p, true
}

// addOtherGround draws where the ground is with another tyre: that much lower under this axle, and under the front wheels too unless they stay.
func (s *Scene) addOtherGround(l *Laid) {
	m := s.in.Now.Mech
	if s.plane == Plan || m == nil || l.Tyre.Radius == 0 {
		return
	}
	at := func(x float64) float64 {
		share := 1.0
		if m.FrontStill && m.Wheelbase > s.pose.C.X {
			share = (m.Wheelbase - x) / (m.Wheelbase - s.pose.C.X)
		}
		return s.groundAt(x) - share*l.Tyre.Radius
	}
	f := figure{kind: drawing.Dashed, layer: drawing.Pencil, stroke: ink.Pencil, width: light, name: l.Name}
	if s.plane == Side {
		f.pts = []point{{-groundSpan, at(-groundSpan)}, {groundSpan, at(groundSpan)}}
	} else {
		z := at(s.pose.C.X)
		f.pts = []point{{-groundSpan, z}, {groundSpan, z}}
	}
	s.add(f)
}

const (
	hatching = 9.0 // how far the lines of a hatch lie apart, units
	taken    = 2.0 // of the outline of the room a part takes
)

// drawLaid draws what is laid over the view, above what moves and under its pivots.
func (s *Scene) drawLaid(d *drafter) {
	for i := range s.laid {
		l := &s.laid[i]
		for _, run := range l.runs {
			pts := s.screen(d.t, run)
			if len(pts) < 3 || !bounds(pts).grown(2).overlaps(d.room) {
				continue
			}
			it := drawing.Item{Kind: drawing.Dashed, Layer: drawing.Pencil, Stroke: ink.Pencil, Fill: ink.None, Width: light, Name: l.of.Name}
			switch l.of.Look {
			case KeptOut:
				it.Layer, it.Stroke = drawing.Hoses, ink.Trouble
			case Taken:
				it.Layer, it.Stroke, it.Width = drawing.Hoses, ink.Press, taken
			case CutOff:
				it.Kind, it.Layer, it.Stroke, it.Width = drawing.Line, drawing.Hoses, ink.Press, heavy
				for _, h := range hatch(clipArea(d.room.grown(2), pts)) {
					d.item(drawing.Item{Kind: drawing.Line, Layer: drawing.Hoses, Stroke: ink.Press, Fill: ink.None, Width: thin, Points: h, Name: l.of.Name})
				}
			case AnyOther:
			}
			for _, part := range clipLines(d.room.grown(2), pts, true) {
				it.Points = part
				d.item(it)
				d.inkLine(part, it.Width, onFar, it.Layer)
			}
		}
		if p := l.of.Span; p != nil {
			ax, ay := d.t.Place(p[0])
			bx, by := d.t.Place(p[1])
			if math.Hypot(bx-ax, by-ay) >= 4 { // seen end on it says nothing
				d.dimension(point{ax, ay}, point{bx, by}, l.of.Words, l.of.Name)
			}
		}
		if l.of.Words == "" || len(l.runs) == 0 {
			continue
		}
		if area := clipArea(d.room.grown(20), mark(s.screen(d.t, l.runs[0]))); len(area) > 2 && bounds(area).overlaps(d.room) {
			d.tags = append(d.tags, tag{words: l.of.Words, area: area, name: l.of.Name, laid: true})
		}
	}
}

// hatch are the lines at 45 degrees across a convex area, units. They lie where they lie whatever the area is, so that areas side by side are hatched as one.
func hatch(area []point) [][]point {
	if len(area) < 3 {
		return nil
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range area {
		lo, hi = math.Min(lo, p.X+p.Y), math.Max(hi, p.X+p.Y)
	}
	const step = hatching * math.Sqrt2
	var out [][]point
	for at := math.Ceil(lo/step) * step; at < hi; at += step {
		var ends []point
		for i, q := range area {
			p := area[(i+len(area)-1)%len(area)]
			fp, fq := p.X+p.Y-at, q.X+q.Y-at
			if (fp < 0) != (fq < 0) {
				t := fp / (fp - fq)
				ends = append(ends, point{p.X + t*(q.X-p.X), p.Y + t*(q.Y-p.Y)})
			}
		}
		if len(ends) == 2 && ends[0] != ends[1] {
			out = append(out, ends)
		}
	}
	return out
}

package view

import (
	"math"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/shape"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"gonum.org/v1/gonum/spatial/r3"
)

// groundSpan is how far the ground is drawn each way, mm: past any view.
const groundSpan = 1e5

// addAxle draws ground, tyres, driveshaft, axle tube and housing.
func (s *Scene) addAxle() {
	s.addGround()
	for _, side := range []job.Side{job.Left, job.Right} {
		s.addTyre(side)
	}
	s.addShaft()
	if s.plane == Side { // the tube is seen end on, in front of the housing
		s.addHousing()
		s.addTube()
		return
	}
	s.addTube()
	s.addHousing()
}

// groundAt is the height of the ground at x, body axes: level through this axle's contacts, or from the front contact of ride height
// to this axle's where the front stays.
func (s *Scene) groundAt(x float64) float64 {
	c := s.pose.C.Z - s.radius
	if m := s.in.Now.Mech; m != nil && m.FrontStill && m.Wheelbase > s.pose.C.X {
		return c * (m.Wheelbase - x) / (m.Wheelbase - s.pose.C.X)
	}
	return c
}

func (s *Scene) addGround() {
	f := figure{kind: drawing.Line, layer: drawing.GroundTyres, stroke: ink.PartLine, width: light, name: "Ground"}
	switch s.plane {
	case Side:
		f.pts = []point{{-groundSpan, s.groundAt(-groundSpan)}, {groundSpan, s.groundAt(groundSpan)}}
	case Rear:
		z := s.groundAt(s.pose.C.X)
		f.pts = []point{{-groundSpan, z}, {groundSpan, z}}
	default:
		return
	}
	s.add(f)
}

// tyre is a tyre where it stands; ok is false where the job gives none.
func (s *Scene) tyre(side job.Side) (p shape.Piece, ok bool) {
	v := s.job.Vehicle
	if v == nil || v.Tyre == nil || v.Tyre.WidthOr0() <= 0 {
		return p, false
	}
	y := v.Track / 2
	if side == job.Right {
		y = -y
	}
	free := v.Tyre.Free()
	shoulder := math.Min(v.Tyre.Rounding(), free)
	p = shape.Piece{
		Kind: shape.Drum, Radius: shoulder, A: r3.Vec{Y: y}, Axis: r3.Vec{Y: 1},
		Half: v.Tyre.WidthOr0()/2 - shoulder, Rho: free - shoulder,
	}
	p.Place(s.pose.C, s.pose.Ex, s.pose.Ey, s.pose.Ez, &p)
	return p, true
}

func (s *Scene) addTyre(side job.Side) {
	p, ok := s.tyre(side)
	if !ok {
		return
	}
	name := job.TyreLeftName
	if side == job.Right {
		name = job.TyreRightName
	}
	f := figure{layer: drawing.GroundTyres, stroke: ink.Text, fill: ink.AxleFill, width: heavy, name: name}
	if s.plane == Side {
		f.stroke, f.fill, f.width = ink.PartLine, ink.None, light
		if math.Hypot(p.Axis.X, p.Axis.Z) < 1e-3 {
			f.kind, f.radius, f.pts = drawing.Circle, p.Rho+p.Radius, s.flats(p.A)
			s.add(f)
			return
		}
	}
	f.pts, f.closed = silhouette(s.plane, &p), true
	s.add(f)
}

func (s *Scene) addShaft() {
	line := s.shaft()
	if line == nil {
		return
	}
	d := s.job.Driveline
	for i := 1; i < len(line); i++ { // one piece, or the front one that stays and the rear one
		f := figure{kind: drawing.Bar, layer: drawing.Shaft, stroke: ink.Text, fill: ink.AxleFill, width: light, pts: s.flats(line[i-1], line[i]), name: job.DriveshaftName}
		if d.ShaftDiameter != nil {
			f.radius = *d.ShaftDiameter / 2
		}
		s.add(f)
		if len(s.in.Now.Free) > 0 {
			continue // lines swing over it: no word stands in it
		}
		s.words = append(s.words, word{words: words.T("driveshaft"), role: ink.Text, area: f.pts, radius: f.radius, bar: true, ground: ink.AxleFill, layer: drawing.Shaft, weight: 3})
	}
}

func (s *Scene) addTube() {
	if s.job.Axle == nil || s.job.Axle.Tube == nil {
		return
	}
	t := s.job.Axle.Tube
	a, b := s.pose.Point(r3.Vec{Y: t.From}), s.pose.Point(r3.Vec{Y: t.To})
	width := heavy
	if s.plane == Side {
		width = light
	}
	s.add(figure{kind: drawing.Bar, layer: drawing.Axle, stroke: ink.Text, fill: ink.AxleFill, width: width, radius: t.Outside / 2, pts: s.flats(a, b), name: job.AxleTubeName})
}

func (s *Scene) addHousing() {
	if s.job.Axle == nil {
		return
	}
	for i := range s.job.Axle.Housing {
		e := &s.job.Axle.Housing[i]
		solid, err := clearance.EnvelopeSolid(e)
		if err != nil {
			continue
		}
		f := figure{layer: drawing.Axle, stroke: ink.Text, fill: ink.AxleFill, width: heavy, name: job.HousingName}
		switch e.Kind {
		case "ball":
			f.kind, f.radius, f.pts = drawing.Circle, *e.Radius, s.flats(s.carry(e.Centre.Vec()))
			s.add(f)
		case "tube":
			f.kind, f.radius = drawing.Bar, *e.Outside/2
			for _, p := range e.Path {
				f.pts = append(f.pts, s.flat(s.carry(p.Vec())))
			}
			s.add(f)
		case "mesh":
			p := s.carriedPiece(solid.Pieces[0])
			s.addMesh(f, &p)
		default:
			for k := range solid.Pieces {
				p := s.carriedPiece(solid.Pieces[k])
				f.pts, f.closed = silhouette(s.plane, &p), true
				s.add(f)
			}
		}
	}
}

package view

import (
	"math"

	"axleloft/app/edit"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/shape"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"gonum.org/v1/gonum/spatial/r3"
)

// farFrom is how far a part lies from every link to be drawn light and open, mm.
const farFrom = 150.0

// addParts draws the parts in the way.
func (s *Scene) addParts() {
	ride := newStage(s.in.Now, nil)
	var links []shape.Piece
	for _, st := range []*stage{&s.stage, &ride} {
		for _, l := range st.located() {
			for i := 1; i < len(l.pts); i++ {
				links = append(links, shape.Piece{Kind: shape.Segment, Radius: l.radius, A: l.pts[i-1], B: l.pts[i]})
			}
		}
	}
	for i := range s.job.Envelopes {
		e := &s.job.Envelopes[i]
		solid, err := clearance.EnvelopeSolid(e)
		if err != nil {
			continue // what cannot be built is said where the gaps are
		}
		ref := s.in.Now.Parts.Envelopes[i]
		far := !near(links, &solid)
		s.solidPart(e, &solid, ink.PartLine, fillOf(e), far, s.chosen(edit.Envelopes, ref))
	}
}

// fillOf is the fill of a part in the way: solid is there, open can still move.
func fillOf(e *job.Envelope) ink.Role {
	if e.Measured != nil && *e.Measured && !e.Movable {
		return ink.PartFill
	}
	return ink.None
}

func near(links []shape.Piece, solid *shape.Solid) bool {
	var sc shape.Scratch
	var g shape.Result
	for i := range links {
		for k := range solid.Pieces {
			if sc.Gap(&links[i], &solid.Pieces[k], &g); g.Gap <= farFrom {
				return true
			}
		}
	}
	return len(links) == 0
}

// outlineOf is the outline of an envelope as a view shows it, closed; where it is more than one (a pipe), ok is false.
func outlineOf(p Plane, e *job.Envelope, solid *shape.Solid) (pts []point, ok bool) {
	switch e.Kind {
	case "prism":
		same := e.Plane == "side" && p == Side || e.Plane == "plan" && p == Plan || e.Plane == "rear" && p == Rear
		if same {
			for _, c := range e.Outline {
				x := c[0]
				if p == Rear {
					x = -x
				}
				pts = append(pts, point{x, c[1]})
			}
			return pts, true
		}
		// Seen along an edge of its plane, a connected outline pushed through covers a rectangle.
		b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		for i := range solid.Pieces {
			o := bounds(silhouette(p, &solid.Pieces[i]))
			b = box{math.Min(b.x0, o.x0), math.Min(b.y0, o.y0), math.Max(b.x1, o.x1), math.Max(b.y1, o.y1)}
		}
		return []point{{b.x0, b.y0}, {b.x1, b.y0}, {b.x1, b.y1}, {b.x0, b.y1}}, true
	case "box":
		return silhouette(p, &solid.Pieces[0]), true
	}
	return nil, false
}

// solidPart draws one part in the way.
func (s *Scene) solidPart(e *job.Envelope, solid *shape.Solid, stroke, fill ink.Role, far, chosen bool) {
	width, own := heavy, fill
	if far {
		width, fill = light, ink.None
	}
	if chosen {
		stroke, width = ink.Press, heavy
	}
	f := figure{layer: drawing.PartLines, stroke: stroke, fill: fill, width: width, own: own, part: !chosen, name: e.Name}
	w := word{words: PlainName(e.Name), role: ink.Second, ground: fill, layer: drawing.PartLines, weight: 1}
	if chosen {
		w.weight = 10
	}
	if far {
		w.weight = 0.5
	}
	switch e.Kind {
	case "tube":
		f.kind, f.radius = drawing.Bar, *e.Outside/2
		for _, p := range e.Path {
			f.pts = append(f.pts, s.flat(p.Vec()))
		}
		if f.fill == ink.None {
			f.fill = ink.Ground
		}
		w.area, w.radius, w.bar = f.pts, f.radius, true
		s.add(f)
	case "ball":
		f.kind, f.radius, f.pts = drawing.Circle, *e.Radius, s.flats(e.Centre.Vec())
		c := f.pts[0]
		w.area = []point{{c.X - f.radius, c.Y - f.radius}, {c.X + f.radius, c.Y - f.radius}, {c.X + f.radius, c.Y + f.radius}, {c.X - f.radius, c.Y + f.radius}}
		s.add(f)
	case "mesh":
		if w.area = s.addMesh(f, &solid.Pieces[0]); len(w.area) < 3 {
			return
		}
	default:
		pts, ok := outlineOf(s.plane, e, solid)
		if !ok {
			return
		}
		f.pts, f.closed = pts, true
		w.area = pts
		s.add(f)
	}
	s.words = append(s.words, w)
}

// carriedPiece places a piece that is given at ride height and carried by the axle.
func (s *Scene) carriedPiece(p shape.Piece) shape.Piece {
	var at, out shape.Piece
	p.Place(r3.Vec{Z: -s.radius}, r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}, &at)
	at.Place(s.pose.C, s.pose.Ex, s.pose.Ey, s.pose.Ez, &out)
	return out
}

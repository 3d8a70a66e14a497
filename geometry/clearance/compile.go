package clearance

import (
	"fmt"
	"math"
	"strconv"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// compiler collects the parts of one job.
type compiler struct {
	Model
	job      *job.Job // expanded
	centre   r3.Vec   // axle centre at ride
	carries  [][]string
	reach    [][2]float64 // per part: own-bracket reach at frame and axle end, bars only
	unbuilt  []string     // envelopes that are not measured
	halfMesh bool         // the housing has a mesh that is not measured
}

const meshWhy = "meshes are not measured in this version"

// Compile builds the parts and pairs of a job (its trial already chosen) from its compiled mechanism. A shape that cannot be built is
// an error that names the part.
func Compile(j *job.Job, m *motion.Mechanism) (*Model, error) {
	ex := job.Expand(j)
	c := &compiler{job: ex.Job, centre: r3.Vec{Z: m.Radius}}
	if len(ex.Job.Links) != len(m.Links) || len(ex.Job.Struts) != len(m.Struts) || len(ex.Job.Lines) != len(m.Lines) {
		return nil, fmt.Errorf("the gaps cannot be measured: the axle was worked out from another job")
	}
	c.linkParts(m)
	c.strutParts(m)
	c.shaftPart(m)
	c.lineParts(m)
	c.axleTube()
	if err := c.housing(); err != nil {
		return nil, err
	}
	c.tyres()
	if err := c.envelopes(ex); err != nil {
		return nil, err
	}
	c.pair()
	return &c.Model, nil
}

// part adds a part; its index is returned.
func (c *compiler) part(p Part, s shape.Solid) int {
	p.Convex = s.Convex()
	c.Parts = append(c.Parts, p)
	c.fixed = append(c.fixed, s)
	c.carries = append(c.carries, nil)
	c.reach = append(c.reach, [2]float64{})
	return len(c.Parts) - 1
}

// bar adds a part that is a round bar. bends are body points at ride; axle is from the axle centre.
func (c *compiler) bar(p Part, frame, axle r3.Vec, bends []job.Point, link int, diameter float64, reach [2]float64) {
	p.Body = Between
	span := r3.Sub(r3.Add(c.centre, axle), frame)
	b := bar{frame: frame, axle: axle, link: link, radius: diameter / 2, length: r3.Norm(span)}
	b.dir = r3.Scale(1/b.length, span)
	for _, k := range bends {
		b.bends = append(b.bends, r3.Sub(k.Vec(), frame))
	}
	b.part = c.part(p, barSolid(&b))
	c.reach[b.part] = reach
	c.bars = append(c.bars, b)
}

// barSolid returns pieces for a scratch to fill.
func barSolid(b *bar) shape.Solid {
	s := shape.Solid{Pieces: make([]shape.Piece, len(b.bends)+1)}
	for i := range s.Pieces {
		s.Pieces[i] = shape.Piece{Kind: shape.Segment, Radius: b.radius}
	}
	return s
}

func (c *compiler) without(name, why string) {
	c.LeftOut = append(c.LeftOut, LeftOut{A: name, Why: why})
}

func (c *compiler) linkParts(m *motion.Mechanism) {
	for i := range c.job.Links {
		l, k := &c.job.Links[i], &m.Links[i]
		if l.Tube == nil || !(l.Tube.Outside > 0) {
			c.without(l.Name, "no tube diameter given")
			continue
		}
		c.bar(Part{Name: l.Name, Kind: LinkPart, Ref: k.Ref, Required: l.Gap()},
			k.Frame, k.Axle, l.Bends, i, l.Tube.Outside, [2]float64{l.FrameEnd.Reach(), l.AxleEnd.Reach()})
	}
}

func (c *compiler) strutParts(m *motion.Mechanism) {
	for i := range c.job.Struts {
		s, k := &c.job.Struts[i], &m.Struts[i]
		if s.Diameter == nil {
			c.without(s.Name, "no diameter given")
			continue
		}
		reach := s.Reach()
		c.bar(Part{Name: s.Name, Kind: StrutPart, Ref: k.Ref, Required: s.Gap()},
			k.Frame, k.Axle, nil, -1, *s.Diameter, [2]float64{reach, reach})
	}
}

func (c *compiler) shaftPart(m *motion.Mechanism) {
	d := c.job.Driveline
	if !m.Drive.Has || d == nil {
		return
	}
	if d.ShaftDiameter == nil {
		c.without(job.DriveshaftName, "no shaft diameter given")
		return
	}
	c.bar(Part{Name: job.DriveshaftName, Kind: ShaftPart, Required: d.Gap()},
		m.Drive.Output, m.Drive.Pinion, nil, -1, *d.ShaftDiameter, [2]float64{0, job.BracketReach})
}

func (c *compiler) lineParts(m *motion.Mechanism) {
	for i := range c.job.Lines {
		l, k := &c.job.Lines[i], &m.Lines[i]
		if l.Diameter == nil {
			c.without(l.Name, "no diameter given")
			continue
		}
		c.bar(Part{Name: l.Name, Kind: LinePart, Ref: k.Ref, Required: l.Gap()},
			k.Frame, k.Axle, nil, -1, *l.Diameter, [2]float64{})
	}
}

func (c *compiler) axleTube() {
	if c.job.Axle == nil || c.job.Axle.Tube == nil {
		return
	}
	t := c.job.Axle.Tube
	c.part(Part{Name: job.AxleTubeName, Kind: TubePart, Body: OnAxle, Required: t.Gap()},
		shape.Solid{Pieces: []shape.Piece{{Kind: shape.Segment, Radius: t.Outside / 2, A: r3.Vec{Y: t.From}, B: r3.Vec{Y: t.To}}}})
}

func (c *compiler) housing() error {
	if c.job.Axle == nil || len(c.job.Axle.Housing) == 0 {
		return nil
	}
	var all shape.Solid
	for i := range c.job.Axle.Housing {
		e := &c.job.Axle.Housing[i]
		if e.Kind == "mesh" {
			c.halfMesh = true
			continue
		}
		s, err := EnvelopeSolid(e)
		if err != nil {
			return fmt.Errorf("axle.housing[%d]: %w", i, err)
		}
		for k := range s.Pieces {
			var p shape.Piece
			s.Pieces[k].Place(r3.Scale(-1, c.centre), r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}, &p)
			all.Pieces = append(all.Pieces, p)
		}
	}
	if len(all.Pieces) == 0 {
		c.halfMesh = false
		c.without(job.HousingName, meshWhy)
		return nil
	}
	c.part(Part{Name: job.HousingName, Kind: HousingPart, Body: OnAxle, Required: c.job.Axle.HousingGap()}, all)
	return nil
}

func (c *compiler) tyres() {
	v := c.job.Vehicle
	if v == nil || v.Tyre == nil {
		return
	}
	t := v.Tyre
	free := t.Free()
	for _, side := range []job.Side{job.Left, job.Right} {
		name, y := job.TyreLeftName, v.Track/2
		if side == job.Right {
			name, y = job.TyreRightName, -v.Track/2
		}
		if t.Width == nil {
			c.without(name, "no tyre width given")
			continue
		}
		shoulder := math.Min(t.Rounding(), free)
		c.part(Part{Name: name, Kind: TyrePart, Body: OnAxle, Ref: job.Ref{Side: side}, Required: t.Gap()},
			shape.Solid{Pieces: []shape.Piece{{
				Kind: shape.Drum, Radius: shoulder, A: r3.Vec{Y: y}, Axis: r3.Vec{Y: 1},
				Half: *t.Width/2 - shoulder, Rho: free - shoulder,
			}}})
	}
}

func (c *compiler) envelopes(ex *job.Expanded) error {
	for i := range c.job.Envelopes {
		e := &c.job.Envelopes[i]
		if e.Kind == "mesh" {
			c.unbuilt = append(c.unbuilt, e.Name)
			continue
		}
		s, err := EnvelopeSolid(e)
		if err != nil {
			return fmt.Errorf("%s: %w", e.Name, err)
		}
		k := c.part(Part{Name: e.Name, Kind: EnvelopePart, Body: OnFrame, Ref: ex.Envelopes[i], Required: e.Gap()}, s)
		c.carries[k] = e.Carries
	}
	return nil
}

// pair lists the pairs: every mover against every part that another body carries.
func (c *compiler) pair() {
	barOf := map[int]int{}
	for i := range c.bars {
		barOf[c.bars[i].part] = i
	}
	for a := range c.Parts {
		pa := &c.Parts[a]
		if pa.Body == OnFrame {
			break // envelopes come last
		}
		for b := a + 1; b < len(c.Parts); b++ {
			pb := &c.Parts[b]
			if pa.Body == OnAxle && pb.Body == OnAxle {
				continue
			}
			if c.halfMesh && (pa.Kind == HousingPart || pb.Kind == HousingPart) {
				c.LeftOut = append(c.LeftOut, LeftOut{pa.Name, pb.Name, "of the housing only the simple shapes: " + meshWhy})
			}
			side := a
			if i, ok := barOf[a]; ok {
				fromFrame, fromAxle := c.ownReach(a, b)
				if fromFrame > 0 || fromAxle > 0 {
					mm := strconv.FormatFloat(fromFrame+fromAxle, 'f', -1, 64)
					if c.bars[i].centreLine() <= fromFrame+fromAxle {
						c.LeftOut = append(c.LeftOut, LeftOut{pa.Name, pb.Name, "all of it lies within " + mm + " mm of its own bracket"})
						continue
					}
					c.LeftOut = append(c.LeftOut, LeftOut{pa.Name, pb.Name, "only beyond " + mm + " mm from its own bracket"})
					side = c.shorten(i, fromFrame, fromAxle)
				}
			}
			c.Pairs = append(c.Pairs, Pair{A: a, B: b, Required: math.Max(pa.Required, pb.Required)})
			c.sides = append(c.sides, [2]int{side, b})
		}
		for _, name := range c.unbuilt {
			c.LeftOut = append(c.LeftOut, LeftOut{pa.Name, name, meshWhy})
		}
	}
}

// ownReach returns how much of bar part a is not counted against part b because b is what it is mounted on: at its axle end axle
// tube and housing, never the tyre; at its frame end the envelopes that carry it; of the driveshaft the housing at its pinion joint.
func (c *compiler) ownReach(a, b int) (fromFrame, fromAxle float64) {
	pa, pb := &c.Parts[a], &c.Parts[b]
	switch pa.Kind {
	case LinkPart, StrutPart:
		switch pb.Kind {
		case TubePart, HousingPart:
			return 0, c.reach[a][1]
		case EnvelopePart:
			if job.Carried(c.carries[b], pa.Name) {
				return c.reach[a][0], 0
			}
		}
	case ShaftPart:
		if pb.Kind == HousingPart {
			return 0, c.reach[a][1]
		}
	}
	return 0, 0
}

// shorten returns the solid index of bar i less the reaches, adding it if it is new.
func (c *compiler) shorten(i int, fromFrame, fromAxle float64) int {
	for k, n := range c.places {
		if b := &c.bars[n]; b.part == c.bars[i].part && b.fromFrame == fromFrame && b.fromAxle == fromAxle {
			return len(c.Parts) + k
		}
	}
	b := c.bars[i]
	b.fromFrame, b.fromAxle = fromFrame, fromAxle
	c.places = append(c.places, len(c.bars))
	c.bars = append(c.bars, b)
	return len(c.Parts) + len(c.places) - 1
}

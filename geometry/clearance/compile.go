package clearance

import (
	"fmt"
	"math"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// compiler collects the parts of one job.
type compiler struct {
	Model
	job               *job.Job // expanded
	centre            r3.Vec   // axle centre at ride
	carries           [][]string
	also              []string   // per part: another name by which an envelope carries it
	members           [][]int    // per part: its bars
	own               [][2]mount // per bar
	still             []bool     // per bar
	linkPart, armPart []int      // by link and arm of the mechanism; -1 where it has no bar
	extras            []extra    // solids beyond the parts
	halfHousing       string     // why a mesh of the housing is not measured; "" where none is left out
	skins             []string   // per part: what cannot be told of it, being a surface with holes
}

// Compile builds the parts and pairs of a job (its trial already chosen) from its compiled mechanism. A shape that cannot be built is
// an error that names the part.
func Compile(j *job.Job, m *motion.Mechanism) (*Model, error) {
	ex := job.Expand(j)
	c := &compiler{Model: Model{mech: m}, job: ex.Job, centre: r3.Vec{Z: m.Radius}}
	if err := c.same(m); err != nil {
		return nil, err
	}
	c.linkParts(m)
	c.armParts(m)
	c.rodParts(m)
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
	c.also = append(c.also, "")
	c.skins = append(c.skins, skinWords(&s))
	c.members = append(c.members, nil)
	return len(c.Parts) - 1
}

func (c *compiler) without(name, why string) {
	c.LeftOut = append(c.LeftOut, LeftOut{A: name, Why: why})
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
		s, err := EnvelopeSolid(e)
		if err != nil && e.Kind == "mesh" {
			c.halfHousing = err.Error()
			c.Unread = append(c.Unread, Unread{Name: job.HousingName, Why: err.Error(), Ref: job.Ref{Index: i}, Housing: true})
			continue
		}
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
		c.without(job.HousingName, c.halfHousing)
		c.halfHousing = ""
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
		s, err := EnvelopeSolid(e)
		if err == nil {
			err = acrossMesh(e, ex.Envelopes[i], &s)
		}
		if err != nil && e.Kind == "mesh" {
			c.without(e.Name, err.Error())
			c.Unread = append(c.Unread, Unread{Name: e.Name, Why: err.Error(), Ref: ex.Envelopes[i]})
			continue
		}
		if err != nil {
			return fmt.Errorf("%s: %w", e.Name, err)
		}
		k := c.part(Part{Name: e.Name, Kind: EnvelopePart, Body: OnFrame, Ref: ex.Envelopes[i], Required: e.Gap()}, s)
		c.carries[k] = e.Carries
	}
	return nil
}

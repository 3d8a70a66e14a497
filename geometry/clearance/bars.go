package clearance

import (
	"fmt"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// bar is a round bar between two carried points: of a link, strut, line and driveshaft the frame's and the axle's, of an arm a pivot of its pair and the
// third, of a rod the rocker's and the far one.
type bar struct {
	ends   [2]motion.Place
	bends  []r3.Vec // links only: from the frame pivot, at ride
	dir    r3.Vec   // unit direction between the ends at ride
	length float64  // between the ends at ride
	link   int      // index among the mechanism's links, -1
	radius float64
	bag    *job.Strut // an air bag, whose diameter depends on its length; else radius counts
	rests  []rest
}

// rest is a bar, or what is left of it beyond the reach of its brackets, as pieces of a solid.
type rest struct {
	solid, first int
	cut          [2]float64 // not counted at either end, mm along the centre line
}

// pieces is how many pieces the bar fills.
func (b *bar) pieces() int { return len(b.bends) + 1 }

// centreLine returns the length of the bar's centre line at ride.
func (b *bar) centreLine() float64 {
	at, sum := r3.Vec{}, 0.0
	for _, k := range b.bends {
		sum += r3.Norm(r3.Sub(k, at))
		at = k
	}
	return sum + r3.Norm(r3.Sub(r3.Scale(b.length, b.dir), at))
}

// radiusAt is the bar's radius where its ends are the given length apart, mm.
func (b *bar) radiusAt(length float64) float64 {
	if b.bag == nil {
		return b.radius
	}
	d, _ := b.bag.DiameterAt(length)
	return d / 2
}

// ground is what an end of a bar is mounted on.
type ground uint8

const (
	nothing    ground = iota // a rocker, a hose's clip
	theFrame                 // the envelopes whose carries names the part
	theAxle                  // axle tube and housings, never the tyre
	theHousing               // of the driveshaft
	another                  // a link or arm
)

// mount is an end's own bracket.
type mount struct {
	on    ground
	part  int     // of another
	reach float64 // mm
}

// member is a bar and its own brackets, on the way to a part.
type member struct {
	bar
	own   [2]mount
	still bool // it stays where it is: not tested against what does too
}

// between makes a bar of two places; their points at ride are a and b.
func between(from, to motion.Place, a, b r3.Vec, diameter float64) bar {
	k := bar{ends: [2]motion.Place{from, to}, link: -1, radius: diameter / 2}
	span := r3.Sub(b, a)
	if k.length = r3.Norm(span); k.length > 0 {
		k.dir = r3.Scale(1/k.length, span)
	}
	return k
}

func onFrame(at r3.Vec) motion.Place { return motion.Place{At: at} }

func onAxle(at r3.Vec) motion.Place {
	return motion.Place{Carrier: motion.Carrier{On: motion.OnAxle}, At: at}
}

// plain is a bar from a frame point to an axle point, which is given from the axle centre at ride.
func (c *compiler) plain(frame, axle r3.Vec, diameter float64) bar {
	return between(onFrame(frame), onAxle(axle), frame, r3.Add(c.centre, axle), diameter)
}

// barPart adds a part made of bars.
func (c *compiler) barPart(p Part, members ...member) int {
	p.Body = Between
	var s shape.Solid
	for i := range members {
		s.Pieces = append(s.Pieces, members[i].solid()...)
	}
	n := c.part(p, s)
	first := 0
	for i := range members {
		k := members[i]
		k.rests = []rest{{solid: n, first: first}}
		first += k.pieces()
		c.members[n] = append(c.members[n], len(c.bars))
		c.bars = append(c.bars, k.bar)
		c.own = append(c.own, k.own)
		c.still = append(c.still, k.still)
	}
	return n
}

// solid returns pieces for a scratch to fill.
func (b *bar) solid() []shape.Piece {
	s := make([]shape.Piece, b.pieces())
	for i := range s {
		s[i] = shape.Piece{Kind: shape.Segment, Radius: b.radius}
	}
	return s
}

// section is a tube's outside diameter, 0 where none is given: then there is no bar.
func section(t *job.Tube) float64 {
	if t == nil {
		return 0
	}
	return t.Outside
}

const noTube = "no tube diameter given"

func (c *compiler) linkParts(m *motion.Mechanism) {
	for i := range m.Links {
		l, k := &c.job.Links[i], &m.Links[i]
		c.linkPart = append(c.linkPart, -1)
		d := section(l.Tube)
		if !(d > 0) {
			c.without(l.Name, noTube)
			continue
		}
		b := c.plain(k.Frame, k.Axle, d)
		b.link = i
		for _, at := range l.Bends {
			b.bends = append(b.bends, r3.Sub(at.Vec(), k.Frame))
		}
		c.linkPart[i] = c.barPart(Part{Name: l.Name, Kind: LinkPart, Ref: k.Ref, Required: l.Gap()},
			member{bar: b, own: [2]mount{{on: theFrame, reach: k.FrameEnd.Bracket}, {on: theAxle, reach: k.AxleEnd.Bracket}}})
	}
}

// armParts adds the arms. The bars of an A-arm run from its frame pivots to the axle pivot as they stand; those of a radius arm between the arm's own
// points, not their mounts.
func (c *compiler) armParts(m *motion.Mechanism) {
	for i := range m.Arms {
		l, k := &c.job.Arms[i], &m.Arms[i]
		c.armPart = append(c.armPart, -1)
		d := section(l.Tube)
		if !(d > 0) {
			c.without(l.Name, noTube)
			continue
		}
		var members []member
		if k.Radius {
			for n, axle := range k.Axle {
				to := r3.Add(c.centre, axle)
				arm := motion.Carrier{On: motion.OnArm, Index: i}
				members = append(members, member{
					bar: between(motion.Place{Carrier: arm}, motion.Place{Carrier: arm, At: r3.Sub(to, k.Frame[0])}, k.Frame[0], to, d),
					own: [2]mount{{on: theFrame, reach: k.FrameEnds[0].Bracket}, {on: theAxle, reach: k.AxleEnds[n].Bracket}},
				})
			}
		} else {
			for n, frame := range k.Frame {
				members = append(members, member{
					bar: c.plain(frame, k.Axle[0], d),
					own: [2]mount{{on: theFrame, reach: k.FrameEnds[n].Bracket}, {on: theAxle, reach: k.AxleEnds[0].Bracket}},
				})
			}
		}
		c.armPart[i] = c.barPart(Part{Name: l.Name, Kind: ArmPart, Ref: k.Ref, Required: l.Gap()}, members...)
	}
}

// rodParts adds the rods of the rockers: at the rocker a rod's bracket is the rocker, which is no part; at its far end the body that the rocker does not
// turn on.
func (c *compiler) rodParts(m *motion.Mechanism) {
	for i := range m.Rockers {
		for n := range m.Rockers[i].Rods {
			l, k := &c.job.Rockers[i].Rods[n], &m.Rockers[i].Rods[n]
			d := section(l.Tube)
			if !(d > 0) {
				c.without(l.Name, noTube)
				continue
			}
			far := mount{on: theAxle, reach: k.FarEnd.Bracket}
			if k.Far.On == motion.OnFrame {
				far.on = theFrame
			}
			part := c.barPart(Part{Name: l.Name, Kind: RodPart, Ref: m.Rockers[i].Ref, Rod: n, Required: l.Gap()},
				member{bar: between(k.Rocker, k.Far, l.Rocker.Vec(), l.Far.Vec(), d), own: [2]mount{{}, far}})
			c.also[part] = c.job.Rockers[i].Name
		}
	}
}

// strutParts adds struts, dampers and air bags. One that stands on a link or arm has its lower bracket there.
func (c *compiler) strutParts(m *motion.Mechanism) {
	for i := range m.Struts {
		s, k := &c.job.Struts[i], &m.Struts[i]
		d, ok := s.DiameterAt(k.Length)
		if !ok {
			c.without(s.Name, "no diameter given")
			continue
		}
		b := between(onFrame(k.Frame), k.Foot, k.Frame, r3.Add(c.centre, k.Axle), d)
		if len(s.Diameters) > 0 {
			b.bag = s
		}
		foot := mount{on: theAxle, reach: k.Bracket}
		switch k.Foot.On {
		case motion.OnLink:
			foot.on, foot.part = another, c.linkPart[k.Foot.Index]
		case motion.OnArm:
			foot.on, foot.part = another, c.armPart[k.Foot.Index]
		}
		c.barPart(Part{Name: s.Name, Kind: StrutPart, Ref: k.Ref, Required: s.Gap()},
			member{bar: b, own: [2]mount{{on: theFrame, reach: k.Bracket}, foot}})
	}
}

// shaftPart adds the driveshaft. The front piece of one with a centre bearing stays where it is: what moves is tested against it, what does not is not.
func (c *compiler) shaftPart(m *motion.Mechanism) {
	d := c.job.Driveline
	if !m.Drive.Has || d == nil {
		return
	}
	if d.ShaftDiameter == nil {
		c.without(job.DriveshaftName, "no shaft diameter given")
		return
	}
	front := mount{on: theFrame, reach: job.BracketReach}
	pinion := mount{on: theHousing, reach: job.BracketReach}
	var members []member
	from := m.Drive.Output
	if m.Drive.TwoPiece {
		members = append(members, member{
			bar: between(onFrame(from), onFrame(m.Drive.Bearing), from, m.Drive.Bearing, *d.ShaftDiameter), still: true,
		})
		from = m.Drive.Bearing
	}
	members = append(members, member{bar: c.plain(from, m.Drive.Pinion, *d.ShaftDiameter), own: [2]mount{front, pinion}})
	c.barPart(Part{Name: job.DriveshaftName, Kind: ShaftPart, Required: d.Gap()}, members...)
}

func (c *compiler) lineParts(m *motion.Mechanism) {
	for i := range m.Lines {
		l, k := &c.job.Lines[i], &m.Lines[i]
		if l.Diameter == nil {
			c.without(l.Name, "no diameter given")
			continue
		}
		c.barPart(Part{Name: l.Name, Kind: LinePart, Ref: k.Ref, Required: l.Gap()}, member{bar: c.plain(k.Frame, k.Axle, *l.Diameter)})
	}
}

// same tells whether the mechanism was compiled from this job.
func (c *compiler) same(m *motion.Mechanism) error {
	j := c.job
	if len(j.Links) != len(m.Links) || len(j.Arms) != len(m.Arms) || len(j.Rockers) != len(m.Rockers) || len(j.Struts) != len(m.Struts) || len(j.Lines) != len(m.Lines) {
		return fmt.Errorf("the gaps cannot be measured: the axle was worked out from another job")
	}
	return nil
}

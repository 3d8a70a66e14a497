package clearance

import (
	"math"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// BoltOut is one way a joint's bolt can be drawn out: a round bar along the bolt, as wide as what has to pass, from the outside of what it clamps to as far
// as the bolt is long, with a half ball beyond for the hand that draws it. It is no part of the axle's travel: a bolt is drawn out where the axle stands.
type BoltOut struct {
	Joint  int    // of the mechanism
	Way    string // "left", "right", "forward", "back", "up", "down": where most of it goes, at ride height
	OnAxle bool
	at     r3.Vec      // pivot at ride: body axes, or as offset from the axle centre
	bar    shape.Piece // from the pivot, as it lies at ride
	own    int         // the part whose bolt it is, -1 where that has no shape
}

// BoltsOut are the ways out of every joint whose job says what its bolt needs: both where none is asked for. Ends at a rocker have none: they turn with it.
// m is compiled from j, c from both.
func (c *Model) BoltsOut(j *job.Job) []BoltOut {
	m := c.mech
	var out []BoltOut
	put := func(joint int, e *job.End, at r3.Vec, axle bool, ref job.Ref, kind PartKind, rod int) {
		if e == nil || e.BoltOut == nil {
			return
		}
		o := e.BoltOut
		own := -1
		for i := range c.Parts {
			if p := &c.Parts[i]; p.Kind == kind && p.Ref == ref && (kind != RodPart || p.Rod == rod) {
				own = i
			}
		}
		b := m.Joints[joint].End.Bolt
		if n := r3.Norm(b); n > 0 {
			b = r3.Scale(1/n, b)
		}
		given := *o
		if ref.Side == job.Right { // said of the left one
			given.Way = mirroredWay(o.Way)
		}
		for _, d := range [2]r3.Vec{b, r3.Scale(-1, b)} {
			if bar, ok := DrawnOut(&given, d); ok {
				out = append(out, BoltOut{Joint: joint, Way: wayWord(d), OnAxle: axle, at: at, bar: bar, own: own})
			}
		}
	}
	end := func(list []job.End, i int) *job.End {
		if i < len(list) {
			return &list[i]
		}
		return nil
	}
	for i := range m.Joints {
		switch k := &m.Joints[i]; k.Of {
		case motion.OnLink:
			l := &m.Links[k.Member]
			if k.Sub == 0 {
				put(i, j.Links[l.Ref.Index].FrameEnd, l.Frame, false, l.Ref, LinkPart, 0)
			} else {
				put(i, j.Links[l.Ref.Index].AxleEnd, l.Axle, true, l.Ref, LinkPart, 0)
			}
		case motion.OnArm:
			a := &m.Arms[k.Member]
			if n := len(a.Frame); k.Sub < n {
				put(i, end(j.Arms[a.Ref.Index].FrameEnds, k.Sub), a.Frame[k.Sub], false, a.Ref, ArmPart, 0)
			} else {
				put(i, end(j.Arms[a.Ref.Index].AxleEnds, k.Sub-n), a.Axle[k.Sub-n], true, a.Ref, ArmPart, 0)
			}
		case motion.OnRocker:
			r := &m.Rockers[k.Member]
			rod := k.Sub / 2
			if far := &r.Rods[rod].Far; k.Sub%2 == 1 && (far.On == motion.OnFrame || far.On == motion.OnAxle) {
				put(i, j.Rockers[r.Ref.Index].Rods[rod].FarEnd, far.At, far.On == motion.OnAxle, r.Ref, RodPart, rod)
			}
		}
	}
	return out
}

// DrawnOut is the room a bolt needs along d, a unit vector, to be drawn out that way: a round bar about the pivot, mm. ok is false where it may not go that
// way, or nothing is said of it. A bolt square to the way wanted may go both.
func DrawnOut(o *job.BoltOut, d r3.Vec) (bar shape.Piece, ok bool) {
	if o == nil || r3.Dot(d, boltWay(o.Way)) < 0 {
		return bar, false
	}
	radius := o.Across / 2
	from := o.Grip/2 + radius // the round end begins at the bracket
	return shape.Piece{Kind: shape.Segment, Radius: radius, A: r3.Scale(from, d), B: r3.Scale(math.Max(from, o.Grip/2+o.Length), d)}, true
}

func mirroredWay(word string) string {
	switch word {
	case "left":
		return "right"
	case "right":
		return "left"
	}
	return word
}

// boltWay is the direction of a word, zero for none.
func boltWay(word string) r3.Vec {
	return map[string]r3.Vec{"left": {Y: 1}, "right": {Y: -1}, "forward": {X: 1}, "back": {X: -1}, "up": {Z: 1}, "down": {Z: -1}}[word]
}

// wayWord is where most of a direction goes.
func wayWord(d r3.Vec) string {
	x, y, z := math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)
	pick := func(v float64, plus, minus string) string {
		if v < 0 {
			return minus
		}
		return plus
	}
	switch {
	case y >= x && y >= z:
		return pick(d.Y, "left", "right")
	case x >= z:
		return pick(d.X, "forward", "back")
	}
	return pick(d.Z, "up", "down")
}

// Bar is the room the bolt takes on its way at a pose, body axes.
func (o *BoltOut) Bar(p *motion.Pose) shape.Piece {
	bar, at := o.bar, o.at
	if o.OnAxle {
		at = p.Point(at)
		turn := func(d r3.Vec) r3.Vec {
			return r3.Add(r3.Add(r3.Scale(d.X, p.Ex), r3.Scale(d.Y, p.Ey)), r3.Scale(d.Z, p.Ez))
		}
		bar.A, bar.B = turn(bar.A), turn(bar.B)
	}
	bar.A, bar.B = r3.Add(at, bar.A), r3.Add(at, bar.B)
	return bar
}

// Blocked measures the gap of a bolt's way out to every part but its own as last placed, and tells the nearest; part is -1 where there is none.
func (s *Scratch) Blocked(o *BoltOut, p *motion.Pose) (gap float64, part int) {
	bar := shape.Solid{Pieces: []shape.Piece{o.Bar(p)}}
	gap, part = math.Inf(1), -1
	for i := range s.model.Parts {
		if i == o.own || len(s.solids[i].Pieces) == 0 {
			continue
		}
		var g shape.Result
		s.shape.SolidGap(&bar, &s.solids[i], &g)
		if g.Gap < gap {
			gap, part = g.Gap, i
		}
	}
	return gap, part
}

package view

import (
	"math"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// Much is how much a view has the room to say.
type Much uint8

// From all there is to the least: short leaves out how the member lies, least where the pivot is too, which the card says.
const (
	All Much = iota
	Short
	Least
)

// changed is from how much on a length is said to have changed, mm.
const changed = 0.05

// Readout is what a view says at the pivot in hand: where it is at ride height, each coordinate from its datum; its member's length and how that
// changed; how the member lies in the view; and what is in its way where the axle now stands, by the gap that is least against the gap wanted.
// was and now are the job when the pivot was taken and as it is.
func (s *Scene) Readout(was, now *job.Job, p edit.Pivot, much Much) []string {
	at, ok := edit.At(now, p)
	if !ok {
		return nil
	}
	place := ""
	for a := edit.X; a <= edit.Z; a++ {
		v := coord(at, a)
		datum, from, counted := edit.DatumOf(now, p, a)
		if counted {
			v -= from
		}
		if a > edit.X {
			place += "  "
		}
		place += a.String() + " " + s.exact(v)
		if counted {
			place = words.F("%s from %s", place, datum)
		}
	}
	var out []string
	if much != Least {
		out = append(out, words.F("%s %s", place, s.unit()))
	}
	if a, b, ok := edit.Ends(now, p); ok {
		l := r3.Norm(r3.Sub(b, a))
		line := words.F("length %s", s.exact(l))
		if a0, b0, ok := edit.Ends(was, p); ok {
			switch by := l - r3.Norm(r3.Sub(b0, a0)); {
			case by >= changed:
				line = words.F("%s, %s longer", line, s.exact(by))
			case by <= -changed:
				line = words.F("%s, %s shorter", line, s.exact(-by))
			}
		}
		out = append(out, line)
		if how := s.lies(a, b); how != "" && much == All {
			out = append(out, how)
		}
	}
	if w := s.wayOf(func(c *clearance.Part) bool { return partOf(c, p) }); w != "" {
		out = append(out, w)
	}
	return out
}

func (s *Scene) unit() string { return lengthUnit(s.in.Inch) }

// exact writes a length in the unit shown, without it.
func (s *Scene) exact(mm float64) string { return exactLength(mm, s.in.Inch) }

// lies tells how a member from its frame end to its axle end lies in the view: deg from level, in plan from straight ahead; "" where it is seen end on.
func (s *Scene) lies(a, b r3.Vec) string {
	x0, y0 := s.plane.Project(a)
	x1, y1 := s.plane.Project(b)
	dx, dy := math.Abs(x1-x0), math.Abs(y1-y0)
	if math.Hypot(dx, dy) < 1 {
		return ""
	}
	deg := math.Atan2(dy, dx) * 180 / math.Pi
	if s.plane == Plan {
		return words.F("%.1f deg from straight ahead", deg)
	}
	return words.F("%.1f deg from level", deg)
}

// partOf reports whether a part of the gaps is the member a pivot of the file belongs to: both twins of a pair are.
func partOf(c *clearance.Part, p edit.Pivot) bool {
	if c.Ref.Index != p.Index {
		return false
	}
	switch p.List {
	case edit.Links:
		return c.Kind == clearance.LinkPart
	case edit.Arms:
		return c.Kind == clearance.ArmPart
	case edit.Rockers:
		return c.Kind == clearance.RodPart && (p.End == edit.Centre || c.Rod == p.Sub)
	case edit.Struts:
		return c.Kind == clearance.StrutPart
	case edit.Lines:
		return c.Kind == clearance.LinePart
	case edit.Output, edit.Pinion, edit.Bearing:
		return c.Kind == clearance.ShaftPart
	}
	return false
}

// WayOfPart says what is nearest, against the gap wanted, to a part in the way where the axle stands; "" where nothing is known of it.
func (s *Scene) WayOfPart(part edit.Part) string {
	return s.wayOf(func(c *clearance.Part) bool {
		return part.List == edit.Envelopes && c.Kind == clearance.EnvelopePart && c.Ref.Index == part.Index
	})
}

// wayOf says what is in the way of the parts a function picks where the axle stands; "" where nothing is known of it.
func (s *Scene) wayOf(of func(*clearance.Part) bool) string {
	if s.in.At == nil || s.in.Now.Gaps == nil || s.in.At.Err != "" {
		return ""
	}
	m := s.in.Now.Gaps
	best, least := -1, math.Inf(1)
	var other *clearance.Part
	for i := range s.in.At.Gaps {
		if i >= len(m.Pairs) {
			break
		}
		q := m.Pairs[i]
		a, b := &m.Parts[q.A], &m.Parts[q.B]
		switch {
		case of(a):
		case of(b):
			a, b = b, a
		default:
			continue
		}
		if left := s.in.At.Gaps[i].Gap - q.Required; left < least {
			best, least, other = i, left, b
		}
	}
	if best < 0 {
		return ""
	}
	g, want := s.in.At.Gaps[best].Gap, m.Pairs[best].Required
	switch {
	case g < 0:
		return words.F("hits %s, %s in", other.Name, s.length(-g))
	case g < want:
		return words.F("tight: %s to %s, %s wanted", s.length(g), other.Name, s.length(want))
	}
	return words.F("gap %s to %s", s.length(g), other.Name)
}

package view

import (
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/limits"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"gonum.org/v1/gonum/spatial/r3"
)

// nearEnd is how far from where the links end the travel a position still counts as standing there, mm of wheel travel.
const nearEnd = 2.0

// AtLinksEnd reports whether a position lies on the edge of a range where the links end the travel.
func AtLinksEnd(r *limits.Range, left, right float64) bool {
	if r == nil {
		return false
	}
	n := len(r.Edge)
	for i := range r.Edge {
		p, q := &r.Edge[i], &r.Edge[(i+1)%n]
		if p.Cause != limits.NoAssembly || q.Cause != limits.NoAssembly {
			continue
		}
		dl, dr := q.Left-p.Left, q.Right-p.Right
		t := 0.0
		if d := dl*dl + dr*dr; d > 0 {
			t = math.Max(0, math.Min(1, ((left-p.Left)*dl+(right-p.Right)*dr)/d))
		}
		if math.Hypot(left-p.Left-t*dl, right-p.Right-t*dr) <= nearEnd {
			return true
		}
	}
	return false
}

// addHolding finds how the axle is held where it stands: poorly, or by the links that end its way.
func (s *Scene) addHolding() {
	if !s.there {
		return
	}
	if s.in.LinksEnd {
		s.holders = s.mech.Holders(&s.pose)
	}
	if w := s.mech.PoorlyHeldAt(&s.pose); w != "" {
		_, s.loose = s.mech.WeakestAt(&s.pose)
		_, after, ok := strings.Cut(w, ": ")
		if !ok {
			after = w
		}
		s.poorly = strings.TrimSuffix(after, ".")
	}
}

// holds reports whether a member is one of those that end the axle's way where it stands.
func (s *Scene) holds(name string) bool {
	return slices.Contains(s.holders, name)
}

// markHolders says of the first of them that they hold the axle.
func (s *Scene) markHolders(name string, line []point) {
	if len(s.holders) == 0 || s.holders[0] != name {
		return
	}
	phrase := words.T("holds the axle here")
	if len(s.holders) > 1 {
		phrase = words.T("these hold the axle here")
	}
	a, b := line[0], line[1]
	s.marks = append(s.marks, worded{words: phrase, area: []point{{(a.X + b.X) / 2, (a.Y + b.Y) / 2}}, name: name})
}

// The arrows of a motion the axle is poorly held in, units.
const (
	arrowHalf  = 26.0
	arrowTip   = 7.0
	arrowShown = 0.4 // of the largest motion: less is not drawn
)

// drawHolding draws the motion the axle is poorly held in as arrows both ways at the axle, with what it is in words.
func (s *Scene) drawHolding(d *drafter) {
	if s.poorly == "" {
		return
	}
	f := s.loose
	v, w := r3.Vec{X: f[0], Y: f[1], Z: f[2]}, r3.Scale(1/perMetre, r3.Vec{X: f[3], Y: f[4], Z: f[5]})
	half := 0.0
	if s.job.Vehicle != nil {
		half = 0.4 * s.job.Vehicle.Track
	}
	speed := func(o r3.Vec) r3.Vec { return r3.Add(v, r3.Cross(w, s.pose.Offset(o))) }
	places := []r3.Vec{{}, {Y: half}, {Y: -half}, {X: half / 2}}
	most := 0.0
	for _, o := range places {
		most = math.Max(most, r3.Norm(speed(o)))
	}
	if !(most > 0) {
		return
	}
	if r3.Norm(w)*half < arrowShown*most { // all of it goes the same way
		places = places[:1]
	}
	tagged := false
	for _, o := range places {
		a, b := s.plane.Project(r3.Scale(1/most, speed(o)))
		seen := math.Hypot(a, b)
		if seen < arrowShown {
			continue
		}
		x, y := d.t.Place(s.pose.Point(o))
		if !d.room.holds(box{x, y, x, y}) {
			continue
		}
		ux, uy := a/seen, -b/seen
		long := arrowHalf * seen
		d.line(drawing.Trouble, heavy, ink.Trouble, point{x - ux*long, y - uy*long}, point{x + ux*long, y + uy*long})
		d.ink = append(d.ink, trace{point{x - ux*long, y - uy*long}, point{x + ux*long, y + uy*long}, arrowTip, onMark, drawing.Trouble, ""})
		for _, sign := range []float64{1, -1} {
			end := point{x + sign*ux*long, y + sign*uy*long}
			back := point{end.X - sign*ux*arrowTip, end.Y - sign*uy*arrowTip}
			d.line(drawing.Trouble, heavy, ink.Trouble, point{back.X - uy*arrowTip, back.Y + ux*arrowTip}, end, point{back.X + uy*arrowTip, back.Y - ux*arrowTip})
		}
		if !tagged {
			tagged = true
			d.tags = append(d.tags, tag{words: s.poorly, area: mark([]point{{x, y}}), name: words.T("poorly held"), dotted: true})
		}
	}
}

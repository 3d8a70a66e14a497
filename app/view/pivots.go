package view

import (
	"cmp"
	"math"
	"slices"

	"axleloft/app/edit"
	"axleloft/geometry/job"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"gonum.org/v1/gonum/spatial/r3"
)

// guessFrom is the +- of a pivot that nobody has marked measured from which it is drawn as a guess, mm.
const guessFrom = 10.0

// pivot is a pivot of the scene.
type pivot struct {
	id        edit.Pivot
	at, ride  r3.Vec // body axes: where it stands, where it is at ride height
	measured  bool
	guess     bool
	plusMinus float64 // mm, 0 where not known
	bracket   float64 // own-bracket reach, mm; 0: none
	bolt      r3.Vec  // unit, body axes, as it stands; zero where there is none
	moved     bool    // it stands away from its ride place
}

// addPivots collects every pivot, twins apart.
func (s *Scene) addPivots() {
	j, parts := s.job, s.in.Now.Parts
	both := func(l edit.List, ref job.Ref, frame, axle job.Point, g job.Given, measured []string) {
		s.pivot(edit.Pivot{List: l, Index: ref.Index, End: edit.FrameEnd, Side: ref.Side}, frame, "frame", g, measured)
		s.pivot(edit.Pivot{List: l, Index: ref.Index, End: edit.AxleEnd, Side: ref.Side}, axle, "axle", g, measured)
	}
	for i := range j.Links {
		l := &j.Links[i]
		both(edit.Links, parts.Links[i], l.Frame, l.Axle, l.Given, l.Measured)
		n := len(s.pivots)
		s.hold(&s.pivots[n-2], i, l.FrameEnd, false)
		s.hold(&s.pivots[n-1], i, l.AxleEnd, true)
	}
	for i := range j.Struts {
		l := &j.Struts[i]
		both(edit.Struts, parts.Struts[i], l.Frame, l.Axle, l.Given, l.Measured)
		n := len(s.pivots)
		s.pivots[n-2].bracket, s.pivots[n-1].bracket = l.Reach(), l.Reach()
	}
	for i := range j.Stops {
		l := &j.Stops[i]
		both(edit.Stops, parts.Stops[i], l.Frame, l.Axle, l.Given, l.Measured)
	}
	for i := range j.Straps {
		l := &j.Straps[i]
		both(edit.Straps, parts.Straps[i], l.Frame, l.Axle, l.Given, l.Measured)
	}
	for i := range j.Lines {
		l := &j.Lines[i]
		both(edit.Lines, parts.Lines[i], l.Frame, l.Axle, l.Given, l.Measured)
	}
	if d := j.Driveline; d != nil && d.Output != nil {
		s.pivot(edit.Pivot{List: edit.Output}, d.Output.Joint, "joint", d.Output.Given, d.Output.Measured)
	}
	if j.Axle != nil && j.Axle.Pinion != nil {
		s.pivot(edit.Pivot{List: edit.Pinion, End: edit.AxleEnd}, j.Axle.Pinion.Joint, "joint", j.Axle.Pinion.Given, j.Axle.Pinion.Measured)
	}
}

func (s *Scene) pivot(id edit.Pivot, at job.Point, key string, given job.Given, measured []string) {
	p := pivot{id: id, at: at.Vec(), ride: at.Vec(), measured: slices.Contains(measured, key)}
	if id.End == edit.AxleEnd {
		p.at = s.carry(p.ride)
		p.moved = r3.Norm(r3.Sub(p.at, p.ride)) > differs
	}
	known := 0
	for _, a := range []string{".x", ".y", ".z"} {
		g, ok := given[key+a]
		if !ok {
			continue
		}
		known++
		if g.PlusMinus != nil {
			p.plusMinus = math.Max(p.plusMinus, *g.PlusMinus)
		}
	}
	p.guess = !p.measured && (known == 0 || p.plusMinus >= guessFrom)
	s.pivots = append(s.pivots, p)
}

// hold fills in how a link's end is held.
func (s *Scene) hold(p *pivot, link int, end *job.End, axle bool) {
	p.bracket = end.Reach()
	m := s.in.Now.Mech
	if m == nil || link >= len(m.Links) {
		if end != nil && end.Bolt != nil {
			p.bolt = r3.Unit(end.Bolt.Vec())
		}
		return
	}
	if axle {
		p.bolt = s.pose.Offset(m.Links[link].AxleEnd.Bolt)
		return
	}
	p.bolt = m.Links[link].FrameEnd.Bolt
}

// isHeld reports whether the pivot is the one the hand holds, or (twin) its twin.
func (s *Scene) isHeld(p *pivot) (held, twin bool) {
	h := s.in.Held
	if h == nil || h.List != p.id.List || h.Index != p.id.Index || h.End != p.id.End {
		return false, false
	}
	side := h.Side
	if side == job.Single && p.id.Side != job.Single {
		side = job.Left
	}
	return side == p.id.Side, side != p.id.Side
}

// Handles lists what a hand can take in the view: every pivot where it stands, the ride places of those that stand away from them, and
// in the rear view the tyres.
func (s *Scene) Handles(t Transform) []Handle {
	var out []Handle
	add := func(h Handle) {
		h.X, h.Y = t.Place(h.At)
		h.box = [4]float64{h.X, h.Y, h.X, h.Y}
		out = append(out, h)
	}
	for i := range s.pivots {
		p := &s.pivots[i]
		add(Handle{Pivot: p.id, At: p.at})
		if p.moved {
			add(Handle{Pivot: p.id, At: p.ride, Ride: true})
		}
	}
	if s.plane == Rear && s.job != nil {
		for _, side := range []job.Side{job.Left, job.Right} {
			if h, ok := s.wheel(t, side); ok {
				out = append(out, h)
			}
		}
	}
	return out
}

// wheel is the handle of a tyre in the rear view: the tyre, or where it lies mostly outside a grip at the view's edge.
func (s *Scene) wheel(t Transform, side job.Side) (Handle, bool) {
	p, ok := s.tyre(side)
	if !ok {
		return Handle{}, false
	}
	b := bounds(s.screen(t, silhouette(Rear, &p)))
	h := Handle{Wheel: side, At: p.A}
	h.X, h.Y = t.Place(p.A)
	h.Y = math.Max(gripHalf, math.Min(t.Size.H-gripHalf, h.Y))
	shown := math.Min(b.x1, t.Size.W) - math.Max(b.x0, 0)
	if shown < 2*gripIn { // mostly outside: the grip stands at the edge
		switch {
		case b.x1 <= t.Size.W/2:
			h.X = gripIn
		case b.x0 >= t.Size.W/2:
			h.X = t.Size.W - gripIn
		default:
			return h, false
		}
		h.box = [4]float64{h.X, h.Y, h.X, h.Y}
		return h, true
	}
	h.X = math.Max(gripIn, math.Min(t.Size.W-gripIn, h.X))
	h.box = [4]float64{b.x0, b.y0, b.x1, b.y1}
	return h, true
}

const (
	gripIn   = 13.0 // from the view's edge to the grip
	gripHalf = 14.0 // half its length
)

// apart is how far a place lies from a handle, units; 0 on a tyre.
func (h *Handle) apart(x, y float64) float64 {
	dx := math.Max(0, math.Max(h.box[0]-x, x-h.box[2]))
	dy := math.Max(0, math.Max(h.box[1]-y, y-h.box[3]))
	return math.Hypot(dx, dy)
}

// Near returns the handles that a press takes, nearest first: pivots and grips before whole tyres, where they stand before where they are at
// ride, and of two in the same place the one nearer the eye.
func Near(p Plane, handles []Handle, x, y float64) []Handle {
	var out []Handle
	for _, h := range handles {
		if h.apart(x, y) <= Reach {
			out = append(out, h)
		}
	}
	rank := func(h *Handle) int {
		if h.Wheel != job.Single && h.box[0] < h.box[2] { // under a whole tyre no pivot is lost
			return 1
		}
		return 0
	}
	ride := func(h *Handle) int {
		if h.Ride {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(out, func(a, b Handle) int {
		da, db := a.apart(x, y), b.apart(x, y)
		if math.Abs(da-db) < 0.5 {
			da, db = 0, 0
		}
		return cmp.Or(cmp.Compare(rank(&a), rank(&b)), cmp.Compare(da, db), cmp.Compare(ride(&a), ride(&b)), cmp.Compare(p.Depth(b.At), p.Depth(a.At)))
	})
	return out
}

// guessLeast is the least side of the box round a guess, units.
const guessLeast = 18.0

// drawPivots draws the pivots and what is held.
func (s *Scene) drawPivots(d *drafter) {
	held := -1
	for i := range s.pivots {
		p := &s.pivots[i]
		if p.moved {
			x, y := d.t.Place(p.ride)
			d.circle(drawing.Pivots, x, y, 4, light, ink.Pencil, ink.None)
		}
	}
	for i := range s.pivots {
		p := &s.pivots[i]
		x, y := d.t.Place(p.at)
		if h, twin := s.isHeld(p); h {
			held = i
		} else if twin {
			d.circle(drawing.Pivots, x, y, 9, light, ink.Press, ink.None)
		}
		s.drawPivot(d, p, drawing.Pivots, x, y)
	}
	if held < 0 {
		return
	}
	p := &s.pivots[held]
	x, y := d.t.Place(p.at)
	if p.bracket > 0 {
		if r := p.bracket * d.t.Scale; r > 12 && r < 4*math.Max(d.t.Size.W, d.t.Size.H) {
			d.ring(drawing.Held, x, y, r, thin, ink.Press)
		}
	}
	d.circle(drawing.Held, x, y, 12, light+0.5, ink.Press, ink.None)
	if p.bolt != (r3.Vec{}) {
		s.drawBolt(d, p, x, y)
	}
	s.drawPivot(d, p, drawing.Held, x, y)
}

func (s *Scene) drawPivot(d *drafter, p *pivot, layer drawing.Layer, x, y float64) {
	switch {
	case p.measured:
		d.circle(layer, x, y, 5.5, 0, ink.None, ink.Text)
	default:
		if p.guess {
			half := math.Max(guessLeast/2, math.Min(p.plusMinus*d.t.Scale, 200))
			stroke := ink.Text
			d.box(layer, box{x - half, y - half, x + half, y + half}, 0, light, stroke, ink.None)
			w, h := d.measure("?", 15, true)
			d.asides = append(d.asides, aside{words: "?", at: point{x, y}, half: half, w: w, h: h})
		}
		d.circle(layer, x, y, 5, heavy-0.5, ink.Press, ink.Ground)
	}
}

// drawBolt draws which way a bolt lies: a line with ends, a dot where it is seen end on.
func (s *Scene) drawBolt(d *drafter, p *pivot, x, y float64) {
	const half, tick, endOn = 24.0, 4.0, 0.2
	a, b := s.plane.Project(p.bolt)
	l := math.Hypot(a, b)
	if l < endOn {
		d.circle(drawing.Held, x, y, 2, 0, ink.None, ink.Press)
		return
	}
	u, v := a/l, -b/l
	for _, sign := range []float64{1, -1} {
		ex, ey := x+sign*u*half*l, y+sign*v*half*l
		d.line(drawing.Held, light, ink.Press, point{x + sign*u*12, y + sign*v*12}, point{ex, ey})
		d.line(drawing.Held, light, ink.Press, point{ex - v*tick, ey + u*tick}, point{ex + v*tick, ey - u*tick})
	}
}

package view

import (
	"cmp"
	"math"
	"slices"

	"axleloft/app/edit"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/shape"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"gonum.org/v1/gonum/spatial/r3"
)

// pivot is a pivot of the scene.
type pivot struct {
	id        edit.Pivot
	mount     motion.Carrier
	at, ride  r3.Vec // body axes: where it stands, where it is at ride height
	measured  bool
	known     [3]bool       // somebody gave the coordinate
	plusMinus [3]float64    // of each coordinate, mm: what a guess may be off where nobody says, 0 where not known
	bracket   float64       // own-bracket reach, mm; 0: none
	bolt      r3.Vec        // unit, body axes, as it stands; zero where there is none
	out       []shape.Piece // the room its bolt needs to be drawn out, each way it may go
	moved     bool          // it stands away from its ride place
	apart     bool          // it is of an unlinked pair
}

// guess reports whether a coordinate that the view shows is a guess: not measured, and nobody gave it.
func (p *pivot) guess(plane Plane) bool {
	for _, a := range plane.coordinates() {
		if !p.measured && !p.known[a] {
			return true
		}
	}
	return false
}

// coordinates are the two a view shows, to the right and up.
func (p Plane) coordinates() [2]edit.Axis {
	switch p {
	case Side:
		return [2]edit.Axis{edit.X, edit.Z}
	case Rear:
		return [2]edit.Axis{edit.Y, edit.Z}
	default:
		return [2]edit.Axis{edit.X, edit.Y}
	}
}

// addPivots collects every pivot, twins apart.
func (s *Scene) addPivots() {
	part, apart := edit.Part{Index: -1}, false
	for _, x := range edit.Pivots(s.job) {
		p := s.pivot(x, s.fileOf(x))
		if q := edit.PartOf(p.id); q != part { // pivots come by part
			part = q
			_, apart = edit.Unlinked(s.in.Now.Job, q)
		}
		p.apart = apart
		s.pivots = append(s.pivots, p)
	}
}

// fileOf is the entry of the file a pivot of the job with its twins apart comes from.
func (s *Scene) fileOf(x edit.Pivot) edit.Pivot {
	parts := s.in.Now.Parts
	var refs []job.Ref
	switch x.List {
	case edit.Links:
		refs = parts.Links
	case edit.Arms:
		refs = parts.Arms
	case edit.Rockers:
		refs = parts.Rockers
	case edit.Struts:
		refs = parts.Struts
	case edit.Stops:
		refs = parts.Stops
	case edit.Straps:
		refs = parts.Straps
	case edit.Lines:
		refs = parts.Lines
	case edit.Sensors:
		refs = parts.Sensors
	}
	if x.Index < len(refs) {
		x.Index, x.Side = refs[x.Index].Index, refs[x.Index].Side
	}
	return x
}

// pivot is the pivot x of the job with its twins apart; id is what the file calls it.
func (s *Scene) pivot(x, id edit.Pivot) pivot {
	p := pivot{id: id, mount: s.mount(x), measured: edit.IsMeasured(s.job, x)}
	p.ride, _ = edit.At(s.job, x)
	if p.at = p.ride; p.mount.On != motion.OnFrame {
		p.at = s.stand(p.mount, p.ride)
		p.moved = r3.Norm(r3.Sub(p.at, p.ride)) > differs
	}
	for a := edit.X; a <= edit.Z; a++ {
		_, p.known[a] = edit.GivenOf(s.job, x, a)
		p.plusMinus[a] = edit.PlusMinus(s.job, x, a)
	}
	if end, ok := edit.EndAt(s.job, x); ok {
		p.bracket = end.Reach()
		if dir, ok := edit.Bolt(s.job, x); ok {
			p.bolt = s.turn(p.mount, dir)
			for _, d := range [2]r3.Vec{dir, r3.Scale(-1, dir)} {
				if bar, ok := clearance.DrawnOut(end.BoltOut, d); ok && (x.List != edit.Rockers || x.End == edit.FarEnd) {
					bar.A, bar.B = r3.Add(p.at, s.turn(p.mount, bar.A)), r3.Add(p.at, s.turn(p.mount, bar.B))
					p.out = append(p.out, bar)
				}
			}
		}
	}
	if x.List == edit.Struts {
		p.bracket = s.job.Struts[x.Index].Reach()
	}
	return p
}

// isHeld reports whether the pivot is the one the hand holds, or (twin) its twin.
func (s *Scene) isHeld(p *pivot) (held, twin bool) {
	h := s.in.Held
	if h == nil || !h.Same(p.id) {
		return false, false
	}
	side := h.Side
	if side == job.Single && p.id.Side != job.Single {
		side = job.Left
	}
	return side == p.id.Side, side != p.id.Side
}

// Handles lists what a hand can take in the view: every pivot where it stands, the ride places of those that stand away from them, the grips at both
// ends of the held one's bolt, and in the rear view the tyres.
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
		if held, _ := s.isHeld(p); held {
			for _, g := range s.boltGrips(t, p) {
				g.box = [4]float64{g.X, g.Y, g.X, g.Y}
				out = append(out, g)
			}
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
		if held, _ := s.isHeld(&s.pivots[i]); !held {
			s.drawBolt(d, &s.pivots[i])
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
	s.drawHoles(d, p)
	for i := range p.out {
		s.drawWayOut(d, &p.out[i])
	}
	d.circle(drawing.Held, x, y, 12, light+0.5, ink.Press, ink.None)
	s.drawHeldBolt(d, p)
	s.drawPivot(d, p, drawing.Held, x, y)
}

func (s *Scene) drawPivot(d *drafter, p *pivot, layer drawing.Layer, x, y float64) {
	if p.apart {
		s.drawApart(d, p, layer, x, y)
	}
	switch {
	case p.measured:
		d.circle(layer, x, y, 5.5, 0, ink.None, ink.Text)
	default:
		if p.guess(s.plane) {
			half := func(a edit.Axis) float64 { return math.Max(guessLeast/2, math.Min(p.plusMinus[a]*d.t.Scale, 200)) }
			c := s.plane.coordinates()
			w2, h2 := half(c[0]), half(c[1])
			d.box(layer, box{x - w2, y - h2, x + w2, y + h2}, 0, light, ink.Text, ink.None)
			w, h := d.measure("?", 15, true)
			d.asides = append(d.asides, aside{words: "?", at: point{x, y}, halfX: w2, halfY: h2, w: w, h: h})
		}
		d.circle(layer, x, y, 5, heavy-0.5, ink.Press, ink.Ground)
	}
}

package view

import (
	"math"

	"axleloft/app/edit"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"gonum.org/v1/gonum/spatial/r3"
)

// addBars draws struts, stops, straps, links, arms, rockers, and hoses.
func (s *Scene) addBars() {
	parts := s.in.Now.Parts
	for i := range s.job.Struts {
		s.addStrut(&s.job.Struts[i], s.chosen(edit.Struts, parts.Struts[i]))
	}
	for i := range s.job.Stops {
		s.addStop(&s.job.Stops[i], s.chosen(edit.Stops, parts.Stops[i]))
	}
	for i := range s.job.Straps {
		p := &s.job.Straps[i]
		s.thread(p.Name, p.Frame, p.Axle, 0, drawing.Struts, s.chosen(edit.Straps, parts.Straps[i]))
	}
	for i := range s.job.Links {
		s.addLink(i, s.chosen(edit.Links, parts.Links[i]))
	}
	for i := range s.job.Arms {
		s.addArm(&s.job.Arms[i])
	}
	for i := range s.job.Rockers {
		s.addRocker(&s.job.Rockers[i])
	}
	for i := range s.job.Lines {
		p := &s.job.Lines[i]
		r := 0.0
		if p.Diameter != nil {
			r = *p.Diameter / 2
		}
		s.thread(p.Name, p.Frame, p.Axle, r, drawing.Hoses, s.chosen(edit.Lines, parts.Lines[i]))
	}
}

func inkOf(chosen bool) ink.Role {
	if chosen {
		return ink.Press
	}
	return ink.Text
}

// knots is the centre line of link i, body axes, frame end first.
func (s *Scene) knots(i int) []r3.Vec {
	l := &s.job.Links[i]
	if len(l.Bends) > 0 && s.gaps != nil { // a bent link turns about itself as its ends let it
		for k := range s.in.Now.Gaps.Parts {
			p := &s.in.Now.Gaps.Parts[k]
			if p.Kind != clearance.LinkPart || p.Name != l.Name {
				continue
			}
			pieces := s.gaps.Solid(k).Pieces
			a, b := pieces[0].A, pieces[len(pieces)-1].B
			out := []r3.Vec{}
			if r3.Norm(r3.Sub(a, l.Frame.Vec())) <= r3.Norm(r3.Sub(b, l.Frame.Vec())) {
				for n := range pieces {
					out = append(out, pieces[n].A)
				}
				return append(out, b)
			}
			for n := len(pieces) - 1; n >= 0; n-- {
				out = append(out, pieces[n].B)
			}
			return append(out, a)
		}
	}
	out := []r3.Vec{l.Frame.Vec()}
	for _, b := range l.Bends {
		out = append(out, b.Vec())
	}
	return append(out, s.carry(l.Axle.Vec()))
}

func (s *Scene) addLink(i int, chosen bool) {
	l := &s.job.Links[i]
	f := figure{kind: drawing.Bar, layer: drawing.Links, stroke: inkOf(chosen), fill: ink.Ground, width: heavy, pts: s.flats(s.knots(i)...), name: l.Name}
	if l.Tube != nil {
		f.radius = l.Tube.Outside / 2
	}
	s.add(f)
	w := word{words: short(l.Name), role: ink.Second, area: f.pts, radius: f.radius, bar: true, ground: ink.Ground, layer: drawing.Links, weight: 2}
	if chosen {
		w.weight = 10
	}
	s.words = append(s.words, w)
}

func (s *Scene) addArm(a *job.Arm) {
	r := 0.0
	if a.Tube != nil {
		r = a.Tube.Outside / 2
	}
	for _, f := range a.Frame {
		for _, x := range a.Axle {
			s.add(figure{kind: drawing.Bar, layer: drawing.Links, stroke: ink.Text, fill: ink.Ground, width: heavy, radius: r, pts: s.flats(f.Vec(), s.carry(x.Vec())), name: a.Name})
		}
	}
}

func (s *Scene) addRocker(k *job.Rocker) {
	near, far := s.carry, func(v r3.Vec) r3.Vec { return v }
	if k.On == "frame" {
		near, far = far, near
	}
	for i := range k.Rods {
		rod := &k.Rods[i]
		r := 0.0
		if rod.Tube != nil {
			r = rod.Tube.Outside / 2
		}
		s.add(figure{kind: drawing.Line, layer: drawing.Links, stroke: ink.Text, width: heavy, pts: s.flats(near(k.Pivot.Vec()), near(rod.Rocker.Vec())), name: k.Name})
		s.add(figure{kind: drawing.Bar, layer: drawing.Links, stroke: ink.Text, fill: ink.Ground, width: heavy, radius: r, pts: s.flats(near(rod.Rocker.Vec()), far(rod.Far.Vec())), name: rod.Name})
	}
}

// addStrut draws a strut: its bar with a cross line where the body ends, the rod from there to the axle.
func (s *Scene) addStrut(p *job.Strut, chosen bool) {
	a, b := p.Frame.Vec(), s.carry(p.Axle.Vec())
	f := figure{kind: drawing.Bar, layer: drawing.Struts, stroke: inkOf(chosen), fill: ink.Ground, width: light, pts: s.flats(a, b), name: p.Name}
	if p.Diameter == nil {
		s.add(f)
		return
	}
	f.radius = *p.Diameter / 2
	s.add(f)
	length := r3.Norm(r3.Sub(b, a))
	body := s.bodyLength(p)
	if length <= body {
		return
	}
	end := r3.Add(a, r3.Scale(body/length, r3.Sub(b, a)))
	s.add(figure{kind: drawing.Line, layer: drawing.Struts, stroke: inkOf(chosen), width: heavy, pts: s.flats(end, b), name: p.Name})
	// The cross line lies across the strut as the view shows it.
	u, v := s.flat(a), s.flat(b)
	if l := math.Hypot(v.X-u.X, v.Y-u.Y); l > 1 {
		e := s.flat(end)
		nx, ny := -(v.Y-u.Y)/l*f.radius, (v.X-u.X)/l*f.radius
		s.add(figure{kind: drawing.Line, layer: drawing.Struts, stroke: inkOf(chosen), width: light, pts: []point{{e.X - nx, e.Y - ny}, {e.X + nx, e.Y + ny}}, name: p.Name})
	}
}

// bodyLength is where a strut's body is drawn to end, from its frame pivot, mm. A symbol: the file does not say. The body holds the whole
// stroke and is shorter than the closed strut, so it is drawn half way between.
func (s *Scene) bodyLength(p *job.Strut) float64 {
	if p.Closed == nil {
		return 0.5 * r3.Norm(r3.Sub(p.Axle.Vec(), p.Frame.Vec()))
	}
	if p.Open == nil {
		return 0.75 * *p.Closed
	}
	return math.Min((*p.Closed+(*p.Open-*p.Closed))/2, 0.9**p.Closed)
}

// addStop draws a bump stop: its length along its axis from the frame, and the pad it meets on the axle.
func (s *Scene) addStop(p *job.Stop, chosen bool) {
	axis := p.Direction().Vec()
	if r3.Norm(axis) == 0 {
		return
	}
	axis = r3.Unit(axis)
	long := p.Closed
	if p.Touch != nil {
		long = *p.Touch
	}
	a := p.Frame.Vec()
	face := 20.0 // drawn; the file may not say
	if p.Face != nil {
		face = *p.Face
	}
	s.add(figure{kind: drawing.Bar, layer: drawing.Struts, stroke: inkOf(chosen), fill: ink.Ground, width: light, radius: 18, pts: s.flats(a, r3.Add(a, r3.Scale(long, axis))), name: p.Name})
	pad := s.carry(p.Axle.Vec())
	across := s.pose.Ey
	if s.plane == Side {
		across = s.pose.Ex
	}
	s.add(figure{kind: drawing.Line, layer: drawing.Struts, stroke: inkOf(chosen), width: heavy, pts: s.flats(r3.Sub(pad, r3.Scale(face, across)), r3.Add(pad, r3.Scale(face, across))), name: p.Name})
}

// thread draws a hose, loom or strap between its two clips.
func (s *Scene) thread(name string, frame, axle job.Point, radius float64, layer drawing.Layer, chosen bool) {
	s.add(figure{kind: drawing.Bar, layer: layer, stroke: inkOf(chosen), fill: ink.Ground, width: light, radius: radius, pts: s.flats(frame.Vec(), s.carry(axle.Vec())), name: name})
}

// differs is how far two places must lie apart for a pencil line to be drawn, mm.
const differs = 0.5

// addPencil draws what a kept trial has in another place.
func (s *Scene) addPencil() {
	if s.in.Pencil == nil || s.in.Pencil.Parts == nil {
		return
	}
	other := s.in.Pencil.Parts.Job
	radius := rollingRadius(other)
	pose := ridePose(radius)
	if s.there && s.in.PencilAt != nil && s.in.PencilAt.Err == "" && s.in.Pencil.Mech != nil {
		pose = s.in.PencilAt.Pose
	}
	carry := func(p job.Point) r3.Vec { return carried(&pose, radius, p.Vec()) }
	dash := func(name string, pts ...r3.Vec) {
		s.add(figure{kind: drawing.Dashed, layer: drawing.Pencil, stroke: ink.Pencil, width: light, pts: s.flats(pts...), name: name})
	}
	now := map[string][2]r3.Vec{}
	for i := range s.job.Links {
		l := &s.job.Links[i]
		now[l.Name] = [2]r3.Vec{l.Frame.Vec(), s.carry(l.Axle.Vec())}
	}
	for i := range s.job.Struts {
		l := &s.job.Struts[i]
		now[l.Name] = [2]r3.Vec{l.Frame.Vec(), s.carry(l.Axle.Vec())}
	}
	moved := func(name string, a, b r3.Vec) bool {
		n, ok := now[name]
		return !ok || r3.Norm(r3.Sub(n[0], a)) > differs || r3.Norm(r3.Sub(n[1], b)) > differs
	}
	for i := range other.Links {
		l := &other.Links[i]
		a, b := l.Frame.Vec(), carry(l.Axle)
		if moved(l.Name, a, b) {
			if len(l.Bends) == 0 || !onRide(&pose, radius) {
				dash(l.Name, a, b)
				continue
			}
			pts := []r3.Vec{a}
			for _, k := range l.Bends {
				pts = append(pts, k.Vec())
			}
			dash(l.Name, append(pts, b)...)
		}
	}
	for i := range other.Struts {
		l := &other.Struts[i]
		if a, b := l.Frame.Vec(), carry(l.Axle); moved(l.Name, a, b) {
			dash(l.Name, a, b)
		}
	}
	s.pencilParts(other)
}

func onRide(p *motion.Pose, radius float64) bool {
	return math.Abs(p.C.Z-radius)+math.Abs(p.Alpha)*1000 < differs
}

// pencilParts draws the parts in the way that a kept trial has in another place.
func (s *Scene) pencilParts(other *job.Job) {
	outlines := func(j *job.Job) map[string][]point {
		m := map[string][]point{}
		for i := range j.Envelopes {
			e := &j.Envelopes[i]
			solid, err := clearance.EnvelopeSolid(e)
			if err != nil {
				continue
			}
			pts, ok := outlineOf(s.plane, e, &solid)
			switch {
			case ok:
				pts = append(pts, pts[0])
			case e.Kind == "tube":
				for _, p := range e.Path {
					pts = append(pts, s.flat(p.Vec()))
				}
			default:
				c := silhouette(s.plane, &solid.Pieces[0])
				pts = append(c, c[0])
			}
			m[e.Name] = pts
		}
		return m
	}
	now := outlines(s.job)
	was := outlines(other)
	for i := range other.Envelopes {
		name := other.Envelopes[i].Name
		pts := was[name]
		if len(pts) == 0 || alike(now[name], pts) {
			continue
		}
		s.add(figure{kind: drawing.Dashed, layer: drawing.Pencil, stroke: ink.Pencil, width: light, pts: pts, name: name})
	}
}

func alike(a, b []point) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.Hypot(a[i].X-b[i].X, a[i].Y-b[i].Y) > differs {
			return false
		}
	}
	return true
}

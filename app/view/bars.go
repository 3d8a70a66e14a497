package view

import (
	"math"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"gonum.org/v1/gonum/spatial/r3"
)

// addBars draws struts, stops, straps, links, arms, rockers, hoses and sensors.
func (s *Scene) addBars() {
	parts := s.in.Now.Parts
	for i := range s.job.Struts {
		s.addStrut(i, s.chosen(edit.Struts, parts.Struts[i]))
	}
	for i := range s.job.Stops {
		s.addStop(&s.job.Stops[i], s.chosen(edit.Stops, parts.Stops[i]))
	}
	for i := range s.job.Straps {
		p := &s.job.Straps[i]
		s.thread(p.Name, p.Frame, p.Axle, 0, drawing.Struts, s.chosen(edit.Straps, parts.Straps[i]))
	}
	for i := range s.job.Links {
		l := &s.job.Links[i]
		s.addBar(l.Name, l.Tube, s.chosen(edit.Links, parts.Links[i]), false, s.knots(i)...)
	}
	for i := range s.job.Arms {
		a := &s.job.Arms[i]
		s.addBar(a.Name, a.Tube, s.chosen(edit.Arms, parts.Arms[i]), true, s.armLine(i)...)
	}
	for i := range s.job.Rockers {
		s.addRocker(i, s.chosen(edit.Rockers, parts.Rockers[i]))
	}
	for i := range s.job.Lines {
		p := &s.job.Lines[i]
		r := 0.0
		if p.Diameter != nil {
			r = *p.Diameter / 2
		}
		s.thread(p.Name, p.Frame, p.Axle, r, drawing.Hoses, s.chosen(edit.Lines, parts.Lines[i]))
	}
	for i := range s.job.Sensors {
		s.addSensor(i, s.chosen(edit.Sensors, parts.Sensors[i]))
	}
}

func inkOf(chosen bool) ink.Role {
	if chosen {
		return ink.Press
	}
	return ink.Text
}

// addBar draws a link, an arm (of two bars) or a rod along its centre line, with its name.
func (s *Scene) addBar(name string, tube *job.Tube, chosen, arm bool, line ...r3.Vec) {
	f := figure{kind: drawing.Bar, layer: drawing.Links, stroke: inkOf(chosen), fill: ink.Ground, width: heavy, pts: s.flats(line...), name: name}
	if tube != nil {
		f.radius = tube.Outside / 2
	}
	if s.holds(name) {
		f.stroke = ink.Trouble
		s.markHolders(name, f.pts)
	}
	s.add(f)
	w := word{words: PlainName(name), name: name, beside: arm, role: ink.Second, area: f.pts, radius: f.radius, bar: true, ground: ink.Ground, layer: drawing.Links, weight: 2}
	if chosen {
		w.weight = 10
	}
	s.words = append(s.words, w)
}

// rockerEdge is how far a rocker's plate is drawn beyond its pivots, mm. A symbol: the file does not say.
const rockerEdge = 20.0

// addRocker draws the rods of a rocker, and over them its plate round its three pivots.
func (s *Scene) addRocker(i int, chosen bool) {
	k := &s.job.Rockers[i]
	pts := s.flats(s.place(edit.Pivot{List: edit.Rockers, Index: i, End: edit.Centre}))
	for n := range k.Rods {
		near, far := s.rod(i, n)
		s.addBar(k.Rods[n].Name, k.Rods[n].Tube, chosen, false, near, far)
		pts = append(pts, s.flat(near))
	}
	plate := figure{kind: drawing.Line, layer: drawing.Links, stroke: inkOf(chosen), fill: ink.Ground, width: heavy, pts: grow(pts, rockerEdge), closed: true, name: k.Name}
	s.add(plate)
	w := word{words: PlainName(k.Name), role: ink.Second, area: plate.pts, ground: ink.Ground, layer: drawing.Links, weight: 1.5}
	if chosen {
		w.weight = 10
	}
	s.words = append(s.words, w)
}

// addSensor draws a height sensor: its shaft, its lever and the rod to what it is on; in trouble's colour where the rod cannot reach.
func (s *Scene) addSensor(i int, chosen bool) {
	const shaft, nearStraight = 9.0, 20 * math.Pi / 180 // mm; rad
	p := &s.job.Sensors[i]
	pts := s.flats(s.sensor(i)...)
	rod := inkOf(chosen)
	if u := s.lever(i); u != nil {
		switch {
		case !u.Reached:
			rod = ink.Trouble
			s.marks = append(s.marks, worded{words: words.F("%s cannot reach", PlainName(p.Name)), area: pts[1:], name: p.Name})
		case u.RodAngle < nearStraight || u.RodAngle > math.Pi-nearStraight:
			s.marks = append(s.marks, worded{words: words.F("%s may flip over", PlainName(p.Name)), area: pts[:2], name: p.Name})
		}
	}
	line := func(role ink.Role, width float64, pts ...point) {
		s.add(figure{kind: drawing.Line, layer: drawing.Hoses, stroke: role, width: width, pts: pts, name: p.Name})
	}
	s.add(figure{kind: drawing.Circle, layer: drawing.Hoses, stroke: inkOf(chosen), fill: ink.Ground, width: light, radius: shaft, pts: pts[:1], name: p.Name})
	line(inkOf(chosen), heavy, pts[0], pts[1])
	line(rod, light, pts[1], pts[2])
	w := word{words: PlainName(p.Name), role: ink.Second, area: pts[:2], bar: true, ground: ink.Ground, layer: drawing.Hoses, weight: 1}
	if chosen {
		w.weight = 10
	}
	s.words = append(s.words, w)
}

// addStrut draws a strut: its bar with a cross line where the body ends, the rod from there to the axle.
func (s *Scene) addStrut(i int, chosen bool) {
	p := &s.job.Struts[i]
	a, b := p.Frame.Vec(), s.foot(i)
	if len(p.Diameters) > 0 {
		s.addBag(p, a, b, chosen)
		return
	}
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

// addBag draws an air bag: as thick as it is at the length it has, flat at both ends.
func (s *Scene) addBag(p *job.Strut, a, b r3.Vec, chosen bool) {
	length := r3.Norm(r3.Sub(b, a))
	d, _ := p.DiameterAt(length)
	if length < 1e-6 {
		return
	}
	along := r3.Scale(1/length, r3.Sub(b, a))
	u := r3.Cross(along, r3.Vec{X: 1})
	if r3.Norm(u) < 0.5 {
		u = r3.Cross(along, r3.Vec{Y: 1})
	}
	u = r3.Scale(d/2, r3.Unit(u))
	v := r3.Cross(along, u)
	var pts []point
	for k := range corners {
		sn, cs := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / corners)
		off := r3.Add(r3.Scale(cs, u), r3.Scale(sn, v))
		pts = append(pts, s.flat(r3.Add(a, off)), s.flat(r3.Add(b, off)))
	}
	s.add(figure{kind: drawing.Line, layer: drawing.Struts, stroke: inkOf(chosen), fill: ink.Ground, width: light, pts: hull(pts), closed: true, name: p.Name})
	w := word{words: PlainName(p.Name), role: ink.Second, area: hull(pts), ground: ink.Ground, layer: drawing.Struts, weight: 1}
	if chosen {
		w.weight = 10
	}
	s.words = append(s.words, w)
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

package motion

import (
	"fmt"
	"math"

	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// compileMembers compiles what holds the axle: links, arms, rockers.
func (m *Mechanism) compileMembers(x *job.Expanded) error {
	for i := range x.Job.Links {
		k, err := m.compileLink(&x.Job.Links[i])
		if err != nil {
			return err
		}
		k.Ref = x.Links[i]
		m.Links = append(m.Links, k)
	}
	for i := range x.Job.Arms {
		a, err := m.compileArm(&x.Job.Arms[i])
		if err != nil {
			return err
		}
		a.Ref = x.Arms[i]
		m.Arms = append(m.Arms, a)
	}
	for i := range x.Job.Rockers {
		if err := m.compileRocker(&x.Job.Rockers[i], x.Rockers[i]); err != nil {
			return err
		}
	}
	return nil
}

// list lists every joint and every distance.
func (m *Mechanism) list() {
	joint := func(name string, of On, member, sub int, end *End) {
		m.Joints = append(m.Joints, Joint{Name: name, Of: of, Member: member, Sub: sub, End: end})
	}
	for i := range m.Links {
		l := &m.Links[i]
		joint(l.Name+", frame end", OnLink, i, 0, &l.FrameEnd)
		joint(l.Name+", axle end", OnLink, i, 1, &l.AxleEnd)
		m.Distances = append(m.Distances, Distance{Name: l.Name, Of: OnLink, Member: i})
	}
	for i := range m.Arms {
		a := &m.Arms[i]
		for k := range a.FrameEnds {
			joint(a.Name+", "+ordinal(k, len(a.FrameEnds))+"frame end", OnArm, i, k, &a.FrameEnds[k])
		}
		for k := range a.AxleEnds {
			joint(a.Name+", "+ordinal(k, len(a.AxleEnds))+"axle end", OnArm, i, len(a.FrameEnds)+k, &a.AxleEnds[k])
		}
		if !a.Radius {
			for k := range a.Lengths {
				m.Distances = append(m.Distances, Distance{Name: a.Name + ", " + ordinal(k, 2) + "bar", Of: OnArm, Member: i, Sub: k})
			}
		}
	}
	for i := range m.Rockers {
		for k := range m.Rockers[i].Rods {
			r := &m.Rockers[i].Rods[k]
			joint(r.Name+", rocker end", OnRocker, i, 2*k, &r.RockerEnd)
			joint(r.Name+", far end", OnRocker, i, 2*k+1, &r.FarEnd)
			m.Distances = append(m.Distances, Distance{Name: r.Name, Of: OnRocker, Member: i, Sub: k})
		}
	}
}

// ordinal is "first " or "second ", "" for the only one.
func ordinal(k, of int) string {
	switch {
	case of == 1:
		return ""
	case k == 0:
		return "first "
	}
	return "second "
}

// span is the distance between the two pivots of a member and its direction there; it refuses pivots in one place.
func span(from, to r3.Vec, name string) (length float64, u r3.Vec, err error) {
	d := r3.Sub(to, from)
	length = norm(d)
	if !(length >= shortest) || math.IsInf(length, 0) {
		return 0, u, &Error{Kind: NotLocated, Words: fmt.Sprintf("%s: its two pivots lie in one place. Move one of them. No figures till then.", name)}
	}
	return length, r3.Scale(1/length, d), nil
}

// give is how far a tube of that length gives under 1 N, mm; none for no tube.
func give(t *job.Tube, length float64) float64 {
	if t == nil {
		return 0
	}
	inside := 0.0
	if t.Wall != nil {
		inside = math.Max(0, t.Outside-2**t.Wall)
	}
	area := math.Pi / 4 * (t.Outside*t.Outside - inside*inside)
	return length / (steelE * area)
}

func (m *Mechanism) compileLink(l *job.Link) (Link, error) {
	length, u, err := span(l.Frame.Vec(), l.Axle.Vec(), l.Name)
	if err != nil {
		return Link{}, err
	}
	k := Link{Name: l.Name, Frame: l.Frame.Vec(), Axle: m.offset(l.Axle), Length: length, Along: u}
	if k.FrameEnd, err = compileBarEnd(l.FrameEnd, u, l.Name+", frame end"); err != nil {
		return k, err
	}
	if k.AxleEnd, err = compileBarEnd(l.AxleEnd, u, l.Name+", axle end"); err != nil {
		return k, err
	}
	if l.Clock != nil {
		s, c := math.Sincos(*l.Clock * degree)
		k.AxleEnd.Bore = spun(u, c, s, k.AxleEnd.Bore)
	}
	k.K = 1 / (1/k.FrameEnd.Stiffness + 1/k.AxleEnd.Stiffness + give(l.Tube, length))
	return k, nil
}

// compileArm compiles an A-arm or a radius arm. Every bore lies on its bolt at ride.
func (m *Mechanism) compileArm(a *job.Arm) (Arm, error) {
	k := Arm{Name: a.Name, Radius: len(a.Frame) == 1}
	if n := len(a.Frame) + len(a.Axle); n != 3 || len(a.Frame) == 0 || len(a.Axle) == 0 {
		return k, &Error{Kind: NotLocated, Words: fmt.Sprintf("%s: two pivots on one side and one on the other are expected. Correct the list. No figures till then.", a.Name)}
	}
	for _, p := range a.Frame {
		k.Frame = append(k.Frame, p.Vec())
	}
	for _, p := range a.Axle {
		k.Axle = append(k.Axle, m.offset(p))
	}
	pair, single := a.Frame, a.Axle[0].Vec()
	if k.Radius {
		pair, single = a.Axle, a.Frame[0].Vec()
	}
	_, line, err := span(pair[0].Vec(), pair[1].Vec(), a.Name)
	if err != nil {
		return k, err
	}
	var first r3.Vec // direction of the first bar
	for i := range k.Lengths {
		var u r3.Vec
		if k.Lengths[i], u, err = span(pair[i].Vec(), single, a.Name); err != nil {
			return k, err
		}
		if i == 0 {
			first = u
		}
	}
	frameBolt, axleBolt := r3.Vec{Y: 1}, r3.Vec{Y: 1}
	if !k.Radius {
		off := r3.Sub(first, r3.Scale(r3.Dot(first, line), line))
		if norm(off) < flatArm {
			return k, &Error{Kind: NotLocated, Words: fmt.Sprintf("%s: its three pivots lie in one line, so it is no arm. Move one of them, or make it a link. No figures till then.", a.Name)}
		}
		k.line, k.out = line, r3.Unit(off)
		frameBolt = line
		middle := r3.Scale(0.5, r3.Add(pair[0].Vec(), pair[1].Vec()))
		axleBolt = levelBolt(r3.Unit(r3.Sub(middle, single)))
	}
	for i := range k.Frame {
		k.FrameEnds = append(k.FrameEnds, compileEnd(endOf(a.FrameEnds, i), frameBolt))
	}
	for i := range k.Axle {
		k.AxleEnds = append(k.AxleEnds, compileEnd(endOf(a.AxleEnds, i), axleBolt))
	}
	if k.Radius {
		k.mounts[0] = springOf(Place{At: k.Frame[0]}, r3.Vec{}, &k.FrameEnds[0])
		for i := range k.Axle {
			at := r3.Sub(a.Axle[i].Vec(), k.Frame[0])
			k.mounts[1+i] = springOf(Place{Carrier: Carrier{On: OnAxle}, At: k.Axle[i]}, at, &k.AxleEnds[i])
		}
	} else {
		for i := range k.k {
			// The point of the arm is shared by both bars: half its stiffness counts in each.
			k.k[i] = 1 / (1/k.FrameEnds[i].Stiffness + 2/k.AxleEnds[0].Stiffness + give(a.Tube, k.Lengths[i]))
		}
	}
	return k, nil
}

// springOf is a radius arm's pivot: at is the arm's point less its frame pivot.
func springOf(mount Place, at r3.Vec, e *End) spring {
	return spring{at: at, mount: mount, bolt: e.Bolt, radial: e.Stiffness, axial: e.Axial}
}

func endOf(ends []job.End, i int) *job.End {
	if i < len(ends) {
		return &ends[i]
	}
	return nil
}

// compileRocker adds a rocker. Its rods' far ends are on the body it does not turn on.
func (m *Mechanism) compileRocker(r *job.Rocker, ref job.Ref) error {
	if len(r.Rods) != 2 {
		return &Error{Kind: NotLocated, Words: fmt.Sprintf("%s: a Watt's linkage has two rods. Give both. No figures till then.", r.Name)}
	}
	on, other := Carrier{On: OnAxle}, Carrier{On: OnFrame}
	if r.On == "frame" {
		on, other = other, on
	}
	axis := r.Axis.Vec()
	if !(norm(axis) > 0) {
		return &Error{Kind: NotLocated, Words: fmt.Sprintf("%s: its bolt has no direction. Give it one, such as [1, 0, 0] for along the vehicle. No figures till then.", r.Name)}
	}
	m.Rockers = append(m.Rockers, Rocker{Name: r.Name, Ref: ref, Pivot: m.place(on, r.Pivot), Axis: r3.Unit(axis)})
	own := Carrier{On: OnRocker, Index: len(m.Rockers) - 1}
	k := &m.Rockers[own.Index]
	for i := range k.Rods {
		from, rod := &r.Rods[i], &k.Rods[i]
		length, u, err := span(from.Rocker.Vec(), from.Far.Vec(), from.Name)
		if err != nil {
			return err
		}
		rod.Name, rod.Length = from.Name, length
		rod.Rocker, rod.Far = m.place(own, from.Rocker), m.place(other, from.Far)
		k.reach = math.Max(k.reach, norm(r3.Cross(k.Axis, rod.Rocker.At)))
		if rod.RockerEnd, err = compileBarEnd(from.RockerEnd, u, from.Name+", rocker end"); err != nil {
			return err
		}
		if rod.FarEnd, err = compileBarEnd(from.FarEnd, u, from.Name+", far end"); err != nil {
			return err
		}
		rod.K = 1 / (1/rod.RockerEnd.Stiffness + 1/rod.FarEnd.Stiffness + give(from.Tube, length))
	}
	return nil
}

// compileBarEnd settles an end on a bar whose direction at ride, first end to second, is u. No bolt given: the horizontal square to the bar,
// body Y for a bar within 10 deg of vertical. A bush's eye is set to its bolt; a ball's or stud's lies square to its bar.
func compileBarEnd(e *job.End, u r3.Vec, name string) (End, error) {
	k := compileEnd(e, levelBolt(u))
	along := r3.Dot(k.Bolt, u)
	if math.Abs(along) > math.Cos(boltAlongLink) {
		return k, &Error{Kind: NotLocated, Words: fmt.Sprintf("%s: the bolt lies within 10 deg of the link itself. Give it a direction across the link.", name)}
	}
	square := k.Kind != Bush
	if e != nil && e.Square != nil {
		square = *e.Square
	}
	if square {
		k.Bore = r3.Unit(r3.Sub(k.Bolt, r3.Scale(along, u)))
	}
	return k, nil
}

// levelBolt is the bolt of an end that gives none: u x e_z, the horizontal square to u; body Y within 10 deg of vertical.
func levelBolt(u r3.Vec) r3.Vec {
	if math.Hypot(u.X, u.Y) < math.Sin(nearVertical) {
		return r3.Vec{Y: 1}
	}
	return r3.Unit(r3.Vec{X: u.Y, Y: -u.X})
}

// compileEnd settles an end whose bore lies on its bolt; bolt is its direction unless the file gives one.
func compileEnd(e *job.End, bolt r3.Vec) End {
	k := End{Kind: Ball, Bolt: bolt, MisLimit: math.NaN(), TorLimit: math.NaN(), Bracket: e.Reach()}
	k.Stiffness, k.StiffnessAssumed = e.Stiff()
	k.Axial = k.Stiffness / 4
	if e != nil {
		k.Known = e.Kind != ""
		switch e.Kind {
		case "bush":
			k.Kind = Bush
			k.TorLimit = orNaN(e.Torsion) * degree
		case "stud":
			k.Kind = Stud
		}
		k.MisLimit = orNaN(e.Misalignment) * degree
		if e.Clevis != nil { // the head may touch the cheeks before the ball runs out
			if most := e.Clevis.Limit() * degree; !(k.MisLimit <= most) {
				k.MisLimit = most
			}
		}
		if e.AxialStiffness != nil {
			k.Axial = *e.AxialStiffness
		}
		if e.Bolt != nil {
			k.Bolt = r3.Unit(e.Bolt.Vec())
		}
	}
	k.Bore = k.Bolt
	return k
}

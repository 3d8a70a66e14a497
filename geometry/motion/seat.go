package motion

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Seat is how a bar sits between its two ends at a pose: a link (frame end, axle end) or a rocker's rod (rocker end, far end).
type Seat struct {
	Length       float64    // pivot to pivot, mm
	Spin         float64    // rad, its turn about its own axis since ride, after the least turn of its direction
	Misalignment [2]float64 // rad, between bolt and bore at each end, taken as lines
	// Torsion of each end that is a bush, else NaN: angle about the bolt from the bar's direction at ride to its direction now, both seen from
	// the part that holds the bolt and projected square to it, right-hand about the bolt; rad.
	Torsion [2]float64
}

// LinkSeat works out how link i sits at the pose. No allocation.
func (m *Mechanism) LinkSeat(p *Pose, i int, dst *Seat) {
	l := &m.Links[i]
	b := m.linkBar(p, l)
	t := b.settle(dst)
	dst.Spin = math.Atan2(t.s, t.c)
	b.torsion(b.u, p.Unturn(b.u), dst)
}

// LinkSpins are the spins of link i at which its frame end and its axle end, each for itself, would be misaligned least at the pose, rad, counted
// as Seat.Spin is; a bolt and a bore are lines, so that a half turn more is the same.
func (m *Mechanism) LinkSpins(p *Pose, i int) (frame, axle float64) {
	b := m.linkBar(p, &m.Links[i])
	var c [2]float64
	for k := range c {
		e := seatOf(b.ends[k], b.bolts[k], b.u0, b.u)
		t := e.best()
		c[k] = math.Atan2(t.s, t.c)
	}
	return c[0], c[1]
}

// RodSeat works out how a rod of rocker i sits at the pose. No allocation.
func (m *Mechanism) RodSeat(p *Pose, i, rod int, dst *Seat) {
	r := &m.Rockers[i].Rods[rod]
	from, to := m.At(p, &r.Rocker), m.At(p, &r.Far)
	d := r3.Sub(to, from)
	ride := r3.Sub(r3.Add(m.own(r.Far.Carrier), r.Far.At), r3.Add(m.own(r.Rocker.Carrier), r.Rocker.At))
	b := bar{
		ends:  [2]*End{&r.RockerEnd, &r.FarEnd},
		bolts: [2]r3.Vec{m.Carry(p, r.Rocker.Carrier, r.RockerEnd.Bolt), m.Carry(p, r.Far.Carrier, r.FarEnd.Bolt)},
		u0:    r3.Scale(1/r.Length, ride), length: norm(d),
	}
	b.u = r3.Scale(1/b.length, d)
	t := b.settle(dst)
	dst.Spin = math.Atan2(t.s, t.c)
	b.torsion(m.Seen(p, r.Rocker.Carrier, b.u), m.Seen(p, r.Far.Carrier, b.u), dst)
}

// bar is a member of two ends at a pose.
type bar struct {
	ends   [2]*End
	bolts  [2]r3.Vec // as their holders carry them now
	u0, u  r3.Vec    // its direction, first end to second, at ride and now
	length float64
}

func (m *Mechanism) linkBar(p *Pose, l *Link) bar {
	d := r3.Sub(p.Point(l.Axle), l.Frame)
	b := bar{
		ends:  [2]*End{&l.FrameEnd, &l.AxleEnd},
		bolts: [2]r3.Vec{l.FrameEnd.Bolt, p.Offset(l.AxleEnd.Bolt)}, length: norm(d),
	}
	b.u, b.u0 = r3.Scale(1/b.length, d), l.Along
	return b
}

// settle finds the bar's spin and fills length and misalignments.
func (b *bar) settle(dst *Seat) spin {
	first, second := seatOf(b.ends[0], b.bolts[0], b.u0, b.u), seatOf(b.ends[1], b.bolts[1], b.u0, b.u)
	t := settle(&first, &second)
	dst.Length = b.length
	dst.Misalignment = [2]float64{first.mis(t), second.mis(t)}
	return t
}

// torsion fills the torsions; first and second are the bar's direction as the two holders see it.
func (b *bar) torsion(first, second r3.Vec, dst *Seat) {
	for i, seen := range [2]r3.Vec{first, second} {
		dst.Torsion[i] = math.NaN()
		if b.ends[i].Kind == Bush {
			dst.Torsion[i] = torsion(b.ends[i].Bolt, b.u0, seen)
		}
	}
}

// seatOf places an end whose bolt now points along b. The bore is carried from ride by the least turn of the link's direction, u0 to u; its
// products with b are taken with b turned back: b - s (u + u0) + 2 (b.u) u0, s = b.(u + u0)/(1 + u.u0).
func seatOf(e *End, b, u0, u r3.Vec) seat {
	bolt, bore := r3.Dot(b, u), r3.Dot(e.Bore, u0)
	flat := r3.Sub(e.Bore, r3.Scale(bore, u0))
	square := r3.Cross(u0, flat)
	s := (bolt + r3.Dot(b, u0)) / (1 + r3.Dot(u, u0))
	return seat{
		a: bolt * bore, p: r3.Dot(flat, b) - s*r3.Dot(flat, u), q: r3.Dot(square, b) - s*r3.Dot(square, u),
		bolt: bolt, bore: bore, flat: norm(flat), bush: e.Kind == Bush, limit: e.MisLimit,
	}
}

// torsion is the angle about the bolt b from the link's direction at ride, u0, to u, both seen from the part that holds the bolt and
// projected square to it, right-hand about b.
func torsion(b, u0, u r3.Vec) float64 {
	return math.Atan2(r3.Dot(b, r3.Cross(u0, u)), r3.Dot(u0, u)-r3.Dot(b, u0)*r3.Dot(b, u))
}

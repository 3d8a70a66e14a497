package motion

import (
	"fmt"
	"math"

	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	degree         = math.Pi / 180
	steelE         = 210_000.0 // N/mm2
	exactDistances = 4         // a live axle with both wheel travels imposed has four freedoms left
	nearVertical   = 10 * degree
	boltAlongLink  = 10 * degree
	flatArm        = 1e-6  // sine of the angle below which the point of an A-arm lies on its frame line
	notLocated     = 0.001 // smallest singular value below which the axle is loose
	poorlyHeld     = 0.10
	shortest       = 1e-3   // mm: a shorter link has no direction
	angleScale     = 1000.0 // mm: angles are compared with lengths at an arm of one metre
)

// mostFolded is how many rockers, and how many radius arms, a pose has room for.
const mostFolded = 4

// Compile compiles a job (with its trial already chosen). Errors are *Error: NotLocated with the free motion named, CannotMove.
func Compile(j *job.Job) (*Mechanism, error) {
	if j.Vehicle == nil || j.Vehicle.Tyre == nil {
		return nil, &Error{Kind: NotLocated, Words: "The job has no vehicle yet: it needs wheelbase, track and loaded tyre radius. No figures till then."}
	}
	x := job.Expand(j)
	if err := cannotMove(x.Job); err != nil {
		return nil, err
	}
	v := x.Job.Vehicle
	m := &Mechanism{
		Wheelbase: v.Wheelbase, Track: v.Track, Radius: v.Tyre.LoadedRadius,
		FrontStill: v.FrontTravel == "still",
		DriveShare: v.Drive(), BrakeShare: v.Brake(),
	}
	if err := m.compileMembers(x); err != nil {
		return nil, err
	}
	m.list()
	if err := m.compileParts(x); err != nil {
		return nil, err
	}
	m.compileDrive(x.Job)
	m.TravelBump, m.TravelDroop, m.TravelArticulation = math.NaN(), math.NaN(), math.NaN()
	if t := x.Job.Travel; t != nil {
		m.TravelBump, m.TravelDroop = orNaN(t.Bump), orNaN(t.Droop)
		m.TravelArticulation = orNaN(t.Articulation) * degree
	}
	m.distances()
	if err := m.hold(); err != nil {
		return nil, err
	}
	return m, nil
}

// distances makes the rows of the inner loop and counts what locates the axle.
func (m *Mechanism) distances() {
	for i := range m.Links {
		l := &m.Links[i]
		m.rows = append(m.rows, rowOf(l.Frame, l.Axle, l.Length, l.K))
	}
	for i := range m.Arms {
		a := &m.Arms[i]
		if a.Radius {
			m.radius = append(m.radius, i)
			continue
		}
		for k := range a.Lengths {
			m.rows = append(m.rows, rowOf(a.Frame[k], a.Axle[0], a.Lengths[k], a.k[k]))
		}
	}
	copy(m.four[:], m.rows)
	m.folded = len(m.Rockers)+len(m.radius) > 0
	m.OverLocated = len(m.Distances)-len(m.Rockers) > exactDistances || len(m.radius) > 0
	m.ride = m.atRide()
}

func rowOf(f, p r3.Vec, l, k float64) row {
	return row{f: f, p: p, l: l, inv: 1 / l, l2: l * l, half: 1 / (2 * l), k: k}
}

// exactly reports whether as many distances locate the axle as it has freedoms left.
func (m *Mechanism) exactly() bool {
	return !m.OverLocated && len(m.Distances)-len(m.Rockers) == exactDistances
}

// cannotMove refuses more rockers or radius arms than a pose has room for.
func cannotMove(j *job.Job) error {
	radius := 0
	for i := range j.Arms {
		if len(j.Arms[i].Frame) == 1 {
			radius++
		}
	}
	refuse := func(what string, n int) error {
		return &Error{Kind: CannotMove, Words: fmt.Sprintf("The job has %d %s; at most %d can be moved. It can be opened, checked and saved, but there are no figures for it.", n, what, mostFolded)}
	}
	switch {
	case radius > mostFolded:
		return refuse("radius arms", radius)
	case len(j.Rockers) > mostFolded:
		return refuse("Watt's linkages", len(j.Rockers))
	}
	return nil
}

// offset is a place at ride height as offset from the axle centre there.
func (m *Mechanism) offset(p job.Point) r3.Vec { return r3.Sub(p.Vec(), r3.Vec{Z: m.Radius}) }

// own is the point of a carrier from which its places are offsets, body axes at ride.
func (m *Mechanism) own(c Carrier) r3.Vec {
	switch c.On {
	case OnAxle:
		return r3.Vec{Z: m.Radius}
	case OnLink:
		return m.Links[c.Index].Frame
	case OnArm:
		return m.Arms[c.Index].Frame[0]
	case OnRocker:
		pivot := &m.Rockers[c.Index].Pivot
		return r3.Add(m.own(pivot.Carrier), pivot.At)
	}
	return r3.Vec{}
}

// place makes a carried point of where it is at ride, body axes.
func (m *Mechanism) place(c Carrier, at job.Point) Place {
	return Place{Carrier: c, At: r3.Sub(at.Vec(), m.own(c))}
}

// AtRide returns where a carried point stands at ride height, body axes, mm.
func (m *Mechanism) AtRide(pl *Place) r3.Vec { return r3.Add(m.own(pl.Carrier), pl.At) }

// carrier finds what a part stands on: the axle, or the link or arm of that name.
func (m *Mechanism) carrier(on, part string) (Carrier, error) {
	if on == "" || on == "axle" {
		return Carrier{On: OnAxle}, nil
	}
	for i := range m.Links {
		if m.Links[i].Name == on {
			return Carrier{On: OnLink, Index: i}, nil
		}
	}
	for i := range m.Arms {
		if m.Arms[i].Name == on {
			return Carrier{On: OnArm, Index: i}, nil
		}
	}
	return Carrier{}, &Error{Kind: NotLocated, Words: fmt.Sprintf("%s stands on %q, and there is no link or arm of that name. Name one, or leave it out for the axle. No figures till then.", part, on)}
}

func orNaN(p *float64) float64 {
	if p == nil {
		return math.NaN()
	}
	return *p
}

package motion

import (
	"fmt"
	"math"

	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	steelE         = 210_000.0 // N/mm2
	exactDistances = 4         // a live axle with both wheel travels imposed has four freedoms left
	nearVertical   = 10 * math.Pi / 180
	boltAlongLink  = 10 * math.Pi / 180
	notLocated     = 0.001 // smallest singular value below which the axle is loose
	poorlyHeld     = 0.10
	shortest       = 1e-3   // mm: a shorter link has no direction
	angleScale     = 1000.0 // mm: angles are compared with lengths at an arm of one metre
)

// Compile compiles a job (with its trial already chosen). Errors are *Error: NotLocated with the free motion named, CannotMove.
func Compile(j *job.Job) (*Mechanism, error) {
	if j.Vehicle == nil || j.Vehicle.Tyre == nil {
		return nil, &Error{Kind: NotLocated, Words: "The job has no vehicle yet: it needs wheelbase, track and loaded tyre radius. No figures till then."}
	}
	if err := cannotMove(j); err != nil {
		return nil, err
	}
	x := job.Expand(j)
	e := x.Job
	v := e.Vehicle
	m := &Mechanism{
		Wheelbase: v.Wheelbase, Track: v.Track, Radius: v.Tyre.LoadedRadius,
		FrontStill: v.FrontTravel == "still",
		DriveShare: v.Drive(), BrakeShare: v.Brake(),
	}
	centre := r3.Vec{Z: m.Radius}
	offset := func(p job.Point) r3.Vec { return r3.Sub(p.Vec(), centre) }
	for i := range e.Links {
		l := &e.Links[i]
		k, err := compileLink(l)
		if err != nil {
			return nil, err
		}
		k.Ref, k.Axle = x.Links[i], offset(l.Axle)
		m.Links = append(m.Links, k)
	}
	for i := range e.Struts {
		s := &e.Struts[i]
		m.Struts = append(m.Struts, Strut{
			Name: s.Name, Ref: x.Struts[i], Frame: s.Frame.Vec(), Axle: offset(s.Axle),
			Foot:   Place{Carrier: Carrier{On: OnAxle}, At: offset(s.Axle)},
			Closed: orNaN(s.Closed), Open: orNaN(s.Open), Tilt: orNaN(s.Tilt) * math.Pi / 180,
			Bracket: s.Reach(), Length: norm(r3.Sub(s.Axle.Vec(), s.Frame.Vec())),
		})
	}
	for i := range e.Stops {
		s := &e.Stops[i]
		axis := r3.Vec{Z: -1}
		if s.Axis != nil {
			axis = r3.Unit(s.Axis.Vec())
		}
		m.Stops = append(m.Stops, Stop{
			Name: s.Name, Ref: x.Stops[i], Frame: s.Frame.Vec(), Axle: offset(s.Axle), Axis: axis,
			Touch: orNaN(s.Touch), Closed: s.Closed, Face: orNaN(s.Face),
		})
	}
	for i := range e.Straps {
		s := &e.Straps[i]
		m.Straps = append(m.Straps, Strap{Name: s.Name, Ref: x.Straps[i], Frame: s.Frame.Vec(), Axle: offset(s.Axle), Open: s.Open})
	}
	for i := range e.Lines {
		s := &e.Lines[i]
		m.Lines = append(m.Lines, Line{Name: s.Name, Ref: x.Lines[i], Frame: s.Frame.Vec(), Axle: offset(s.Axle), Length: orNaN(s.Length)})
	}
	compileDrive(m, e, offset)
	m.TravelBump, m.TravelDroop, m.TravelArticulation = math.NaN(), math.NaN(), math.NaN()
	if t := e.Travel; t != nil {
		m.TravelBump, m.TravelDroop = orNaN(t.Bump), orNaN(t.Droop)
		m.TravelArticulation = orNaN(t.Articulation) * math.Pi / 180
	}
	m.rows = make([]row, len(m.Links))
	for i := range m.Links {
		l := &m.Links[i]
		m.rows[i] = row{f: l.Frame, p: l.Axle, l: l.Length, inv: 1 / l.Length, k: l.K}
	}
	m.list()
	m.OverLocated = len(m.rows) > exactDistances
	if err := m.hold(); err != nil {
		return nil, err
	}
	return m, nil
}

// list lists every joint and every distance.
func (m *Mechanism) list() {
	for i := range m.Links {
		l := &m.Links[i]
		m.Joints = append(m.Joints,
			Joint{Name: l.Name + ", frame end", Of: OnLink, Member: i, Sub: 0, End: &l.FrameEnd},
			Joint{Name: l.Name + ", axle end", Of: OnLink, Member: i, Sub: 1, End: &l.AxleEnd})
		m.Distances = append(m.Distances, Distance{Name: l.Name, Of: OnLink, Member: i})
	}
}

// cannotMove names the members this version reads but cannot move.
func cannotMove(j *job.Job) error {
	what, name := "", ""
	switch {
	case len(j.Arms) > 0:
		what, name = "arms", j.Arms[0].Name
	case len(j.Rockers) > 0:
		what, name = "Watt's rockers", j.Rockers[0].Name
	case len(j.Sensors) > 0:
		what, name = "height sensors", j.Sensors[0].Name
	default:
		for i := range j.Struts {
			if on := j.Struts[i].On; on != "" && on != "axle" {
				return &Error{Kind: CannotMove, Words: fmt.Sprintf("%s stands on %s: this version can only move struts that stand on the axle. No figures for this job till then.", j.Struts[i].Name, on)}
			}
		}
		return nil
	}
	return &Error{Kind: CannotMove, Words: fmt.Sprintf("This version cannot move a job that has %s (%s). It can be opened, checked and saved, but there are no figures for it.", what, name)}
}

func orNaN(p *float64) float64 {
	if p == nil {
		return math.NaN()
	}
	return *p
}

func compileLink(l *job.Link) (Link, error) {
	d := r3.Sub(l.Axle.Vec(), l.Frame.Vec())
	length := norm(d)
	if !(length >= shortest) || math.IsInf(length, 0) {
		return Link{}, &Error{Kind: NotLocated, Words: fmt.Sprintf("%s: its two pivots lie in one place. Move one of them. No figures till then.", l.Name)}
	}
	u := r3.Scale(1/length, d)
	k := Link{Name: l.Name, Frame: l.Frame.Vec(), Length: length}
	var err error
	if k.FrameEnd, err = compileEnd(l.FrameEnd, u, l.Name+", frame end"); err != nil {
		return k, err
	}
	if k.AxleEnd, err = compileEnd(l.AxleEnd, u, l.Name+", axle end"); err != nil {
		return k, err
	}
	give := 1/k.FrameEnd.Stiffness + 1/k.AxleEnd.Stiffness
	if t := l.Tube; t != nil {
		inside := 0.0
		if t.Wall != nil {
			inside = math.Max(0, t.Outside-2**t.Wall)
		}
		area := math.Pi / 4 * (t.Outside*t.Outside - inside*inside)
		give += length / (steelE * area)
	}
	k.K = 1 / give
	return k, nil
}

// compileEnd settles an end on a link whose direction at ride, frame to axle, is u.
func compileEnd(e *job.End, u r3.Vec, name string) (End, error) {
	k := End{Kind: Ball, MisLimit: math.NaN(), TorLimit: math.NaN(), Bracket: e.Reach()}
	var bolt *job.Point
	var square *bool
	if e != nil {
		bolt, square = e.Bolt, e.Square
		k.Known = e.Kind != ""
		switch e.Kind {
		case "bush":
			k.Kind = Bush
		case "stud":
			k.Kind = Stud
		}
		k.MisLimit = orNaN(e.Misalignment) * math.Pi / 180
		if k.Kind == Bush {
			k.TorLimit = orNaN(e.Torsion) * math.Pi / 180
		}
	}
	k.Stiffness, k.StiffnessAssumed = e.Stiff()
	k.Axial = k.Stiffness / 4
	if e != nil && e.AxialStiffness != nil {
		k.Axial = *e.AxialStiffness
	}
	switch {
	case bolt != nil:
		k.Bolt = r3.Unit(bolt.Vec())
	case math.Hypot(u.X, u.Y) < math.Sin(nearVertical):
		k.Bolt = r3.Vec{Y: 1}
	default:
		k.Bolt = r3.Unit(r3.Vec{X: u.Y, Y: -u.X}) // u x e_z: the horizontal square to the link
	}
	along := r3.Dot(k.Bolt, u)
	if math.Abs(along) > math.Cos(boltAlongLink) {
		return k, &Error{Kind: NotLocated, Words: fmt.Sprintf("%s: the bolt lies within 10 deg of the link itself. Give it a direction across the link.", name)}
	}
	k.Bore = k.Bolt
	if (square == nil && k.Kind != Bush) || (square != nil && *square) {
		k.Bore = r3.Unit(r3.Sub(k.Bolt, r3.Scale(along, u)))
	}
	return k, nil
}

func compileDrive(m *Mechanism, e *job.Job, offset func(job.Point) r3.Vec) {
	d := &m.Drive
	d.JointLimit, d.SlipIn, d.SlipOut = math.NaN(), math.NaN(), math.NaN()
	if e.Axle != nil && e.Axle.Pinion != nil {
		d.HasPinion = true
		d.Pinion = offset(e.Axle.Pinion.Joint)
		d.PinionAxis = r3.Unit(e.Axle.Pinion.Axis.Vec())
	}
	l := e.Driveline
	if l == nil || l.Output == nil || !d.HasPinion {
		return
	}
	d.Has = true
	d.Output, d.OutputAxis = l.Output.Joint.Vec(), r3.Unit(l.Output.Axis.Vec())
	d.YokePhase = l.YokePhase * math.Pi / 180
	d.JointLimit = orNaN(l.JointLimit) * math.Pi / 180
	if l.Slip != nil {
		d.SlipIn, d.SlipOut = l.Slip.In, l.Slip.Out
	}
	d.Length = norm(r3.Sub(r3.Add(d.Pinion, r3.Vec{Z: m.Radius}), d.Output))
}

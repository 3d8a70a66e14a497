package motion

import (
	"math"

	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// compileParts compiles what bounds the travel or goes along with the axle: struts, stops, straps, lines, sensors.
func (m *Mechanism) compileParts(x *job.Expanded) error {
	e := x.Job
	for i := range e.Struts {
		s := &e.Struts[i]
		on, err := m.carrier(s.On, s.Name)
		if err != nil {
			return err
		}
		m.Struts = append(m.Struts, Strut{
			Name: s.Name, Ref: x.Struts[i], Frame: s.Frame.Vec(), Axle: m.offset(s.Axle), Foot: m.place(on, s.Axle),
			Closed: orNaN(s.Closed), Open: orNaN(s.Open), Tilt: orNaN(s.Tilt) * degree,
			Bracket: s.Reach(), Length: norm(r3.Sub(s.Axle.Vec(), s.Frame.Vec())),
		})
	}
	for i := range e.Stops {
		s := &e.Stops[i]
		m.Stops = append(m.Stops, Stop{
			Name: s.Name, Ref: x.Stops[i], Frame: s.Frame.Vec(), Axle: m.offset(s.Axle), Axis: r3.Unit(s.Direction().Vec()),
			Touch: orNaN(s.Touch), Closed: s.Closed, Face: orNaN(s.Face),
		})
	}
	for i := range e.Straps {
		s := &e.Straps[i]
		m.Straps = append(m.Straps, Strap{Name: s.Name, Ref: x.Straps[i], Frame: s.Frame.Vec(), Axle: m.offset(s.Axle), Open: s.Open})
	}
	for i := range e.Lines {
		s := &e.Lines[i]
		m.Lines = append(m.Lines, Line{Name: s.Name, Ref: x.Lines[i], Frame: s.Frame.Vec(), Axle: m.offset(s.Axle), Length: orNaN(s.Length)})
	}
	for i := range e.Sensors {
		s := &e.Sensors[i]
		on, err := m.carrier(s.On, s.Name)
		if err != nil {
			return err
		}
		k := Sensor{
			Name: s.Name, Ref: x.Sensors[i], Shaft: s.Shaft.Vec(), Axis: r3.Unit(s.Axis.Vec()), Lever: s.Lever.Vec(),
			Far: m.place(on, s.Far), Rod: norm(r3.Sub(s.Far.Vec(), s.Lever.Vec())), SwingLo: math.NaN(), SwingHi: math.NaN(),
		}
		if s.Swing != nil {
			k.SwingLo, k.SwingHi = s.Swing[0]*degree, s.Swing[1]*degree
		}
		m.Sensors = append(m.Sensors, k)
	}
	return nil
}

func (m *Mechanism) compileDrive(e *job.Job) {
	d := &m.Drive
	d.JointLimit, d.SlipIn, d.SlipOut, d.Speed = math.NaN(), math.NaN(), math.NaN(), math.NaN()
	if e.Axle != nil && e.Axle.Pinion != nil {
		d.HasPinion = true
		d.Pinion = m.offset(e.Axle.Pinion.Joint)
		d.PinionAxis = r3.Unit(e.Axle.Pinion.Axis.Vec())
	}
	l := e.Driveline
	if l == nil || l.Output == nil || !d.HasPinion {
		return
	}
	d.Has = true
	d.Output, d.OutputAxis = l.Output.Joint.Vec(), r3.Unit(l.Output.Axis.Vec())
	d.YokePhase = l.YokePhase * degree
	d.JointLimit = orNaN(l.JointLimit) * degree
	if l.Slip != nil {
		d.SlipIn, d.SlipOut = l.Slip.In, l.Slip.Out
	}
	d.Speed = orNaN(l.Speed) * 2 * math.Pi / 60
	from := d.Output
	if l.Bearing != nil {
		d.TwoPiece = true
		d.Bearing, d.FrontYokePhase = l.Bearing.Joint.Vec(), l.Bearing.YokePhase*degree
		from = d.Bearing
	}
	d.Length = norm(r3.Sub(e.Axle.Pinion.Joint.Vec(), from))
}

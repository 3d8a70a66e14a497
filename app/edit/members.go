package edit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// The forms of arms, rockers and sensors.

// pivotForm are a pivot's numbers and how it is held, under its own heading.
func (f *form) pivotForm(p Pivot) {
	s := find(f.j, p)
	f.group = strings.ToUpper(s.what[:1]) + s.what[1:]
	f.coordinates(p)
	if endOf(f.j, p) != nil {
		f.end(p)
	}
	f.group = ""
}

func (f *form) arm(a *job.Arm) {
	f.head()
	i := f.part.Index
	for k := range a.Frame {
		for n := range a.Axle {
			v := distance(a.Frame[k], a.Axle[n])
			label := words.T("Pivot to pivot")
			if len(a.Frame)+len(a.Axle) > 2 {
				label = words.F("Pivot to pivot, %sbar", words.T(ordinals[min(k+n, 1)]))
			}
			f.readOnly(fmt.Sprintf("pivots[%d]", k+n), label, shownLength(f.j), showWorkedOut(f.j, v), v)
		}
	}
	f.tube(&a.Tube)
	f.clearance(&a.Clearance, job.GapMover)
	for k := range a.Frame {
		f.pivotForm(Pivot{List: Arms, Index: i, End: FrameEnd, Sub: k})
	}
	for k := range a.Axle {
		f.pivotForm(Pivot{List: Arms, Index: i, End: AxleEnd, Sub: k})
	}
}

func (f *form) rocker(r *job.Rocker) {
	i := f.part.Index
	f.name()
	f.choice("on", words.T("Turns on"), r.On, false, "", []string{words.Mark("axle"), words.Mark("frame")}, func(w string) error { r.On = w; return nil })
	f.group = words.T("Bolt of the rocker")
	f.coordinates(Pivot{List: Rockers, Index: i, End: Centre})
	f.axis("axis", &r.Axis)
	f.axisMeasured(&r.Measured)
	for k := range r.Rods {
		d := &r.Rods[k]
		key := fmt.Sprintf("rods[%d].", k)
		f.group = d.Name
		f.add(Field{Key: key + "name", Label: words.T("Name"), Unit: Text, Text: d.Name, Value: math.NaN(), set: func(t string) error { return renameRod(f.j, i, k, t) }})
		v := distance(d.Rocker, d.Far)
		f.readOnly(key+"pivots", words.T("Pivot to pivot"), shownLength(f.j), showWorkedOut(f.j, v), v)
		from := len(f.list)
		f.tube(&d.Tube)
		f.clearance(&d.Clearance, job.GapMover)
		for n := from; n < len(f.list); n++ {
			f.list[n].Key = key + f.list[n].Key
		}
		for _, e := range []End{RockerEnd, FarEnd} {
			p := Pivot{List: Rockers, Index: i, End: e, Sub: k}
			f.group = d.Name + ", " + find(f.j, p).what
			f.coordinates(p)
			f.end(p)
		}
	}
	f.group = ""
}

func (f *form) sensor(s *job.Sensor) {
	f.head()
	v := distance(s.Lever, s.Far)
	f.readOnly("rod", words.T("Rod, end to end"), shownLength(f.j), showWorkedOut(f.j, v), v)
	f.standsOn(&s.On, words.T("Rod's far end is on"))
	f.swing(s)
	for _, e := range sensorEnds {
		f.pivotForm(Pivot{List: Sensors, Index: f.part.Index, End: e.end})
		if e.end == Shaft {
			f.group = words.T("Shaft")
			f.axis("axis", &s.Axis)
			f.axisMeasured(&s.Measured)
			f.group = ""
		}
	}
}

// swing are the two ends of a sensor lever's way; giving one makes the other its opposite till it is typed, taking one out takes out both.
func (f *form) swing(s *job.Sensor) {
	for k, label := range []string{words.T("Lever swings from"), words.T("Lever swings to")} {
		var v *float64
		if s.Swing != nil {
			w := s.Swing[k]
			v = &w
		}
		x := f.optional(fmt.Sprintf("swing[%d]", k), label, Angle, &v, bounds{-180, 180, false}, words.T("not known"))
		set := x.set
		x.set = func(t string) error {
			if err := set(t); err != nil {
				return err
			}
			switch {
			case v == nil:
				s.Swing = nil
			case s.Swing == nil:
				s.Swing = &[2]float64{-math.Abs(*v), math.Abs(*v)}
			default:
				next := *s.Swing
				next[k] = *v
				s.Swing = &next
			}
			return nil
		}
	}
}

// axis is a direction that the file must give.
func (f *form) axis(key string, axis *job.Point) {
	h := &held{square: BoltAcross}
	f.lies(h, key, words.T("Direction"), h.direction(axis), func(change func(*lie)) error {
		l := h.direction(axis)
		change(&l)
		v, err := h.bolt(l)
		if v == nil { // across, not turned
			v = &job.Point{0, 1, 0}
		}
		if err == nil {
			*axis = *v
		}
		return err
	})
}

func (f *form) axisMeasured(list *[]string) {
	f.yesNo("axis.measured", words.T("Direction measured"), slices.Contains(*list, "axis"), func(m bool) error {
		setListed(list, "axis", m)
		return nil
	})
}

// Ends are the two pivots of a member that reaches from one place to another, as the hand took it (a right twin's mirrored), body axes, mm: the
// frame end first, of a rod the rocker's. ok is false for a pivot whose part has no two such ends.
func Ends(j *job.Job, p Pivot) (from, to r3.Vec, ok bool) {
	a, b := p, p
	switch p.List {
	case Links, Struts, Stops, Straps, Lines:
		a.End, b.End = FrameEnd, AxleEnd
	case Rockers:
		if p.End == Centre {
			return from, to, false
		}
		a.End, b.End = RockerEnd, FarEnd
	case Sensors:
		if p.End == Shaft {
			return from, to, false
		}
		a.End, b.End = LeverEnd, FarEnd
	default:
		return from, to, false
	}
	from, ok = At(j, a)
	if !ok {
		return from, to, false
	}
	to, ok = At(j, b)
	return from, to, ok
}

package headless

import (
	"fmt"
	"io"
	"math"

	"axleloft/app/study"
	"axleloft/geometry/motion"
)

// figure is a figure over the range, and the travels it is at; NaN where it has none.
type figure struct {
	what        string
	left, right float64
	value       float64
	unit        string
}

// limitFigures are the figures beside the ring: the range, the get-home cases, slip, lines and sensors.
func limitFigures(s *study.Study) []figure {
	if !s.Bounded() {
		return nil
	}
	r, nan := s.Range, math.NaN()
	out := []figure{{"range bump", r.Bump, r.Bump, r.Bump, "mm"}, {"range droop", -r.Droop, -r.Droop, r.Droop, "mm"}}
	if c := r.LeftUp; c != nil {
		out = append(out, figure{"range left up", c.Left, c.Right, nan, ""})
	}
	if c := r.RightUp; c != nil {
		out = append(out, figure{"range right up", c.Left, c.Right, nan, ""})
	}
	for _, h := range s.GetHome() {
		if h.Position == nil {
			continue
		}
		v := &h.Position.Values[s.Laden()]
		add := func(what string, value float64, unit string) {
			if !math.IsNaN(value) {
				out = append(out, figure{"get home, " + h.Name + ": " + what, h.Left, h.Right, value, unit})
			}
		}
		add("lean", h.Lean, "deg")
		add("pinion", v.PinionDeg, "deg")
		add("driveshaft front", v.ShaftFrontDeg, "deg")
		if s.Mech.Drive.TwoPiece {
			add("driveshaft centre bearing", v.ShaftBearingDeg, "deg")
		}
		add("driveshaft rear", v.ShaftRearDeg, "deg")
		add("worst joint use", v.WorstBind, "")
		if h.Tightest >= 0 {
			a, b := s.PairNames(h.Tightest)
			add("gap "+a+" + "+b, h.Position.Gaps[h.Tightest].Gap, "mm")
		}
	}
	both := func(what, unit string, e *study.Extent, per float64) {
		if e.Known() {
			out = append(out, figure{what + " least", e.MinLeft, e.MinRight, e.Min * per, unit}, figure{what + " most", e.MaxLeft, e.MaxRight, e.Max * per, unit})
		}
	}
	x := &s.Extents
	both("slip", "mm", &x.Slip, 1)
	if d := &s.Mech.Drive; x.Slip.Known() {
		if v := d.SlipIn + x.Slip.Min; !math.IsNaN(v) {
			out = append(out, figure{"slip left in", x.Slip.MinLeft, x.Slip.MinRight, v, "mm"})
		}
		if v := d.SlipOut - x.Slip.Max; !math.IsNaN(v) {
			out = append(out, figure{"slip left out", x.Slip.MaxLeft, x.Slip.MaxRight, v, "mm"})
		}
	}
	for i := range x.Lines {
		both("line "+s.Mech.Lines[i].Name, "mm", &x.Lines[i], 1)
	}
	for i := range x.Sensors {
		e, name := &x.Sensors[i], "sensor "+s.Mech.Sensors[i].Name
		both(name+" turn", "deg", &e.Turn, degrees(1))
		both(name+" rod angle", "deg", &e.Angle, degrees(1))
		if e.Lost {
			out = append(out, figure{name + " cannot reach", e.LostLeft, e.LostRight, nan, ""})
		}
	}
	return out
}

// homeJSON writes the key "getHome".
func homeJSON(t *jsonText, s *study.Study) {
	t.key("getHome")
	t.open('[')
	for _, h := range s.GetHome() {
		t.line()
		t.open('{')
		t.keyStr("case", h.Name)
		t.keyStr("note", plain(h.Note))
		if h.Position == nil {
			t.keyNull("left")
			t.keyNull("right")
			t.close('}')
			continue
		}
		v := &h.Position.Values[s.Laden()]
		t.keyNum("left", h.Left)
		t.keyNum("right", h.Right)
		metJSON(t, "on", h.On)
		t.keyStr("atRide", h.AtRide)
		t.keyNum("lean", h.Lean)
		t.keyNum("pinion_deg", v.PinionDeg)
		t.keyNum("shaft_front_deg", v.ShaftFrontDeg)
		t.keyNum("shaft_bearing_deg", bearing(s, v.ShaftBearingDeg))
		t.keyNum("shaft_rear_deg", v.ShaftRearDeg)
		t.keyNum("worst_bind", v.WorstBind)
		t.keyStr("worst_bind_at", worstName(s, v))
		t.key("tightest")
		if h.Tightest < 0 {
			t.raw("null")
		} else {
			a, b := s.PairNames(h.Tightest)
			t.open('{')
			t.keyStr("a", a)
			t.keyStr("b", b)
			t.keyNum("gap", h.Position.Gaps[h.Tightest].Gap)
			t.close('}')
		}
		t.close('}')
	}
	t.close(']')
}

func bearing(s *study.Study, deg float64) float64 {
	if !s.Mech.Drive.TwoPiece {
		return math.NaN()
	}
	return deg
}

// overRangeJSON writes the keys "slip", "lines" and "sensors": extremes over the range with where they are.
func overRangeJSON(t *jsonText, s *study.Study) {
	x := &s.Extents
	end := func(key string, v, left, right float64) {
		t.key(key)
		t.open('{')
		t.keyNum("value", v)
		t.keyNum("left", left)
		t.keyNum("right", right)
		t.close('}')
	}
	both := func(lo, hi string, e *study.Extent, per float64) {
		if !e.Known() || !s.Bounded() {
			t.keyNull(lo)
			t.keyNull(hi)
			return
		}
		end(lo, e.Min*per, e.MinLeft, e.MinRight)
		end(hi, e.Max*per, e.MaxLeft, e.MaxRight)
	}
	t.key("slip")
	t.open('{')
	both("shortest", "longest", &x.Slip, 1)
	in, out := math.NaN(), math.NaN()
	if s.Bounded() {
		in, out = s.Mech.Drive.SlipIn+x.Slip.Min, s.Mech.Drive.SlipOut-x.Slip.Max
	}
	t.keyNum("leftIn", in)
	t.keyNum("leftOut", out)
	t.close('}')
	t.line()
	t.key("lines")
	t.open('[')
	for i := range x.Lines {
		l := &s.Mech.Lines[i]
		t.line()
		t.open('{')
		t.keyStr("name", l.Name)
		t.keyNum("length", l.Length)
		both("shortest", "longest", &x.Lines[i], 1)
		t.close('}')
	}
	t.close(']')
	t.line()
	t.key("sensors")
	t.open('[')
	for i := range x.Sensors {
		e := &x.Sensors[i]
		t.line()
		t.open('{')
		t.keyStr("name", s.Mech.Sensors[i].Name)
		both("turnLeast", "turnMost", &e.Turn, degrees(1))
		both("rodAngleLeast", "rodAngleMost", &e.Angle, degrees(1))
		t.key("cannotReach")
		if e.Lost {
			t.open('{')
			t.keyNum("left", e.LostLeft)
			t.keyNum("right", e.LostRight)
			t.close('}')
		} else {
			t.raw("null")
		}
		t.close('}')
	}
	t.close(']')
}

// overRangeTable writes the same for a person.
func overRangeTable(w io.Writer, s *study.Study, unit string) error {
	if !s.Bounded() {
		return nil
	}
	if homes := s.GetHome(); len(homes) > 0 {
		fmt.Fprintln(w, "\nGetting home:")
		for i := range homes {
			fmt.Fprintf(w, "  %s\n", homes[i].Words)
		}
	}
	t := table{heads: [][]string{{"over the whole range", "least", "left", "right", "most", "left", "right", "", ""}},
		left: []bool{true, false, false, false, false, false, false, true, true}}
	row := func(what string, e *study.Extent, show func(float64) string, of, note string) {
		if e.Known() {
			t.rows = append(t.rows, []string{what, show(e.Min), shown(e.MinLeft, unit), shown(e.MinRight, unit), show(e.Max), shown(e.MaxLeft, unit), shown(e.MaxRight, unit), of, note})
		}
	}
	length := func(v float64) string { return shown(v, unit) }
	angle := func(v float64) string { return fixed(degrees(v), 1) }
	x, m := &s.Extents, s.Mech
	note := ""
	if in, out := m.Drive.SlipIn+x.Slip.Min, m.Drive.SlipOut-x.Slip.Max; !math.IsNaN(in) && !math.IsNaN(out) && x.Slip.Known() {
		note = fmt.Sprintf("left in %s, out %s", length(in), length(out))
	}
	row("slip, + longer", &x.Slip, length, unit, note)
	for i := range x.Lines {
		note := ""
		if l := &m.Lines[i]; !math.IsNaN(l.Length) {
			note = "has " + length(l.Length)
		}
		row(m.Lines[i].Name+", span", &x.Lines[i], length, unit, note)
	}
	for i := range x.Sensors {
		e, k := &x.Sensors[i], &m.Sensors[i]
		note := ""
		if e.Lost {
			note = "cannot reach at " + s.Travels(e.LostLeft, e.LostRight)
		}
		row(k.Name+", turn of the lever", &e.Turn, angle, "deg", swingWords(k))
		row(k.Name+", rod to lever", &e.Angle, angle, "deg", note)
	}
	if len(t.rows) == 0 {
		return nil
	}
	fmt.Fprintln(w)
	return t.write(w)
}

// swingWords is what a sensor's shaft lets its lever turn.
func swingWords(k *motion.Sensor) string {
	if math.IsNaN(k.SwingLo) || math.IsNaN(k.SwingHi) {
		return ""
	}
	return fmt.Sprintf("has %s to %s", fixed(degrees(k.SwingLo), 0), fixed(degrees(k.SwingHi), 0))
}

package study

import (
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/measure"
	"axleloft/plotting/chart"
)

const mmPerInch = 25.4

// Against is what a chart can be drawn against: the key and its words.
var Against = [...][2]string{{"both", words.Mark("both wheels")}, {"crossed", words.Mark("crossed up")}, {"left", words.Mark("left wheel alone")}, {"right", words.Mark("right wheel alone")}}

// ChartOf is a chart by its key; ok is false where there is no such one.
func ChartOf(key string) (c Chart, ok bool) {
	for _, c := range Charts() {
		if c.Key == key {
			return c, true
		}
	}
	return Chart{}, false
}

// Spec is a chart ready to draw, without a cursor, job, trial or date: lengths in the unit "mm" or "in", forces in the job's, the load given by its
// index drawn as the present one. Where there is nothing to draw it has no curve and says why. Safe for concurrent use.
func (s *Study) Spec(c Chart, against string, load int, unit string) chart.Spec {
	present := ""
	if c.PerLoad && load < len(s.Loads) {
		present = s.Loads[load].Name
	}
	return s.spec(c, against, load, unit, s.Curves(c.Key, against), func(i int, name string) bool {
		return !c.PerLoad && i == 0 || c.PerLoad && slices.Contains(strings.Split(name, ", "), present)
	})
}

// SpecByHeight is Spec with a line through every height the driver can choose instead of one for every load (see CurvesByHeight); the height that is
// nearest ride height is drawn as the present one. Where the chart has no such form it is Spec. Safe for concurrent use.
func (s *Study) SpecByHeight(c Chart, against string, load int, unit string) chart.Spec {
	curves := s.CurvesByHeight(c.Key, against, load)
	if len(curves) == 0 {
		return s.Spec(c, against, load, unit)
	}
	home := s.heightSpots()[s.home0()].name
	out := s.spec(c, against, load, unit, curves, func(_ int, name string) bool { return name == home || strings.HasPrefix(name, home+", ") })
	if name := s.Loads[load].Name; name != "" && c.PerLoad {
		out.Title += ", " + Lower(name)
	}
	return out
}

func (s *Study) spec(c Chart, against string, load int, unit string, curves []Curve, isPresent func(i int, name string) bool) chart.Spec {
	per, travel := 1.0, 1.0
	out := chart.Spec{Title: c.Title, Unit: c.Unit, Up: c.Up, Down: c.Down, Cursor: math.NaN()}
	if unit == "in" {
		travel = 1 / mmPerInch
		if c.Unit == "mm" {
			out.Unit, per = unit, travel
		}
	}
	if c.Unit == "N" && s.Job.Shown != nil && s.Job.Shown.Force == "lbf" {
		out.Unit, per = "lbf", 1/measure.PoundForce
	}
	out.XTitle = xTitle(against, unit)
	for i, k := range curves {
		name := k.Name
		if len(curves) == 1 && !c.PerLoad && !c.several() {
			name = ""
		}
		out.Curves = append(out.Curves, chart.Curve{Name: name, X: scaled(k.X, travel), Y: scaled(k.Y, per), Present: isPresent(i, k.Name)})
	}
	if len(curves) == 0 {
		out.Why = s.whyNot(c)
	}
	if lo, hi := c.BandLo, c.BandHi; !math.IsNaN(lo) || !math.IsNaN(hi) {
		b := chart.Band{Lo: lo * per, Hi: hi * per, Words: c.BandWords}
		if math.IsNaN(lo) {
			b.Lo = math.Inf(-1)
		}
		if math.IsNaN(hi) {
			b.Hi = math.Inf(1)
		}
		out.Bands = append(out.Bands, b)
	}
	if c.Key == "antisquat" && len(s.Loads) > 1 {
		out.Bands = append(out.Bands, chart.Band{Lo: math.Inf(-1), Hi: antiSquatEmpty, Words: words.T("common practice, empty, under 120")})
	}
	if against == "both" && s.Job.Vehicle != nil && load < len(s.Loads) {
		for _, h := range s.Job.Vehicle.Heights {
			out.Ticks = append(out.Ticks, chart.Tick{X: (h.Heave + s.Loads[load].Heave) * travel, Name: h.Name})
		}
	}
	return out
}

// several reports whether the chart is of lines that need a name each even where there is but one.
func (c *Chart) several() bool { return c.of == nil }

// whyNot says why a chart has no line.
func (s *Study) whyNot(c Chart) string {
	switch {
	case s.Refusal != "":
		return s.Refusal
	case s.RangeNote != "":
		return s.RangeNote
	case !s.Bounded():
		return words.T("Working out.")
	case c.Key == "shaftacc" && s.Mech.Drive.Has:
		return words.T("No shaft speed is chosen. Enter one with the driveshaft.")
	case (c.Key == "stretch" || c.Key == "force") && !s.Mech.OverLocated:
		return words.T("These links do not fight each other: nothing is forced.")
	}
	return words.T("The job gives nothing to draw here: this chart needs a part that is not there yet.")
}

// home0 is which height lies nearest ride height.
func (s *Study) home0() int {
	list := s.heightSpots()
	best := 0
	for i := range list {
		if math.Abs(list[i].travel) < math.Abs(list[best].travel) {
			best = i
		}
	}
	return best
}

func xTitle(against, unit string) string {
	switch against {
	case "crossed":
		return words.F("crossed up, %s: − right wheel up, + left wheel up", unit)
	case "left", "right":
		return words.F("%s wheel alone, %s: − droop, + bump", against, unit)
	}
	return words.F("both wheels, %s: − droop, + bump", unit)
}

func scaled(v []float64, k float64) []float64 {
	if k == 1 {
		return v
	}
	out := make([]float64, len(v))
	for i := range v {
		out[i] = v[i] * k
	}
	return out
}

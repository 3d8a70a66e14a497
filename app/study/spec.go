package study

import (
	"math"
	"slices"
	"strings"

	"axleloft/plotting/chart"
)

const mmPerInch = 25.4

// Against is what a chart can be drawn against: the key and its words.
var Against = [...][2]string{{"both", "both wheels"}, {"crossed", "crossed up"}, {"left", "left wheel alone"}, {"right", "right wheel alone"}}

// ChartOf is a chart by its key; ok is false where there is no such one.
func ChartOf(key string) (c Chart, ok bool) {
	for _, c := range Charts() {
		if c.Key == key {
			return c, true
		}
	}
	return Chart{}, false
}

// Spec is a chart ready to draw, without a cursor, job, trial or date: lengths in the unit "mm" or "in", the load given by its index drawn as the
// present one. Where there is nothing to draw it has no curve and says why. Safe for concurrent use.
func (s *Study) Spec(c Chart, against string, load int, unit string) chart.Spec {
	per, travel := 1.0, 1.0
	out := chart.Spec{Title: c.Title, Unit: c.Unit, Up: c.Up, Down: c.Down, Cursor: math.NaN()}
	if unit == "in" {
		travel = 1 / mmPerInch
		if c.Unit == "mm" {
			out.Unit, per = unit, travel
		}
	}
	out.XTitle = xTitle(against, unit)
	present := ""
	if c.PerLoad && load < len(s.Loads) {
		present = s.Loads[load].Name
	}
	curves := s.Curves(c.Key, against)
	for i, k := range curves {
		name := k.Name
		if len(curves) == 1 && !c.PerLoad {
			name = ""
		}
		isPresent := !c.PerLoad && i == 0 || c.PerLoad && slices.Contains(strings.Split(k.Name, ", "), present)
		out.Curves = append(out.Curves, chart.Curve{Name: name, X: scaled(k.X, travel), Y: scaled(k.Y, per), Present: isPresent})
	}
	if len(curves) == 0 {
		switch {
		case s.Refusal != "":
			out.Why = s.Refusal
		case s.RangeNote != "":
			out.Why = s.RangeNote
		case !s.Bounded():
			out.Why = "Working out."
		default:
			out.Why = "The job gives nothing to draw here: " + Lower(c.Title) + " needs a part that is not there yet."
		}
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
		out.Bands = append(out.Bands, chart.Band{Lo: math.Inf(-1), Hi: antiSquatEmpty, Words: "common practice, empty, under 120"})
	}
	if against == "both" && s.Job.Vehicle != nil && load < len(s.Loads) {
		for _, h := range s.Job.Vehicle.Heights {
			out.Ticks = append(out.Ticks, chart.Tick{X: (h.Heave + s.Loads[load].Heave) * travel, Name: h.Name})
		}
	}
	return out
}

func xTitle(against, unit string) string {
	switch against {
	case "crossed":
		return "crossed up, " + unit + ": − right wheel up, + left wheel up"
	case "left", "right":
		return against + " wheel alone, " + unit + ": − droop, + bump"
	}
	return "both wheels, " + unit + ": − droop, + bump"
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

package panel

import (
	"math"
	"strings"
	"time"

	"axleloft/app/document"
	"axleloft/app/study"
	"axleloft/plotting/chart"
)

// againsts are what a chart can run over, and the words for it.
var againsts = [][2]string{{"both", "both wheels"}, {"crossed", "crossed up"}, {"left", "left wheel"}, {"right", "right wheel"}}

func againstWords(key string) string {
	for _, a := range againsts {
		if a[0] == key {
			return a[1]
		}
	}
	return key
}

// chartOf is a chart by its key; the first where there is no such one.
func chartOf(key string) study.Chart {
	all := study.Charts()
	for _, c := range all {
		if c.Key == key {
			return c
		}
	}
	return all[0]
}

// chartAsk is all a chart is drawn from; it may be read from any goroutine.
type chartAsk struct {
	s, pencil    *study.Study
	pencilName   string
	key, against string
	load         int
	unit         string
	demo         bool
	title, trial string
}

// askChart gathers it from a document.
func askChart(d *document.Document, key, against string) chartAsk {
	a := chartAsk{key: key, against: against, load: d.Load(), unit: d.Unit(), demo: d.IsDemo(), title: d.Current().Title, trial: d.Trial()}
	a.s, _ = d.Study()
	if name, s, _, ok := d.Pencil(); ok {
		a.pencil, a.pencilName = s, name
		if name == "" {
			a.pencilName = "as drawn"
		}
	}
	return a
}

// spec is the chart ready to draw. It may take a while: call it off the window's goroutine.
func (a *chartAsk) spec() chart.Spec {
	c := chartOf(a.key)
	unit, per := c.Unit, 1.0
	if unit == "mm" && a.unit == "in" {
		unit, per = "in", 1/mmPerInch
	}
	travel := 1.0
	if a.unit == "in" {
		travel = 1 / mmPerInch
	}
	s := chart.Spec{Title: c.Title, Unit: unit, XTitle: a.xTitle(), Up: c.Up, Down: c.Down, Cursor: math.NaN()}
	present := ""
	if c.PerLoad && a.load < len(a.s.Loads) {
		present = a.s.Loads[a.load].Name
	}
	curves := a.s.Curves(a.key, a.against)
	for i, k := range curves {
		name := k.Name
		if len(curves) == 1 && !c.PerLoad {
			name = ""
		}
		s.Curves = append(s.Curves, chart.Curve{Name: name, X: scaled(k.X, travel), Y: scaled(k.Y, per), Present: c.PerLoad && names(k.Name, present) || !c.PerLoad && i == 0})
	}
	if a.pencil != nil {
		for _, k := range a.pencil.Curves(a.key, a.against) {
			if c.PerLoad && !names(k.Name, present) {
				continue
			}
			name := "pencil: " + a.pencilName
			if len(curves) > 1 && !c.PerLoad {
				name = "pencil: " + k.Name
			}
			s.Curves = append(s.Curves, chart.Curve{Name: name, X: scaled(k.X, travel), Y: scaled(k.Y, per), Pencil: true})
		}
	}
	if len(s.Curves) == 0 {
		switch {
		case a.s.Refusal != "":
			s.Why = a.s.Refusal
		case a.s.RangeNote != "":
			s.Why = a.s.RangeNote
		case !a.s.Bounded():
			s.Why = "Working out."
		default:
			s.Why = "The job gives nothing to draw here: " + strings.ToLower(c.Title[:1]) + c.Title[1:] + " needs a part that is not there yet."
		}
	}
	if !math.IsNaN(c.BandLo) || !math.IsNaN(c.BandHi) {
		b := chart.Band{Lo: c.BandLo * per, Hi: c.BandHi * per, Words: c.BandWords}
		if math.IsNaN(b.Lo) {
			b.Lo = math.Inf(-1)
		}
		if math.IsNaN(b.Hi) {
			b.Hi = math.Inf(1)
		}
		s.Bands = append(s.Bands, b)
	}
	if a.key == "antisquat" && len(a.s.Loads) > 1 {
		s.Bands = append(s.Bands, chart.Band{Lo: math.Inf(-1), Hi: 120, Words: "common practice, empty, under 120"})
	}
	if a.against == "both" && a.s.Job != nil && a.s.Job.Vehicle != nil && a.load < len(a.s.Loads) {
		for _, h := range a.s.Job.Vehicle.Heights {
			s.Ticks = append(s.Ticks, chart.Tick{X: (h.Heave + a.s.Loads[a.load].Heave) * travel, Name: h.Name})
		}
	}
	s.Job, s.Trial, s.Date = a.title, a.trial, time.Now().Format("2006-01-02")
	if a.demo {
		s.Job += " (DEMO, not your vehicle)"
	}
	return s
}

// names reports whether a curve's name is a load's, or holds it among others drawn as one.
func names(curve, load string) bool {
	for _, n := range strings.Split(curve, ", ") {
		if n == load {
			return true
		}
	}
	return false
}

func (a *chartAsk) xTitle() string {
	switch a.against {
	case "crossed":
		return "crossed up, " + a.unit + ": " + minus + " right wheel up, + left wheel up"
	case "left", "right":
		return a.against + " wheel alone, " + a.unit + ": " + minus + " droop, + bump"
	}
	return "both wheels, " + a.unit + ": " + minus + " droop, + bump"
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

// ChartSpec is one of the charts shown, ready to be written to a file.
func ChartSpec(h *Host, i int) chart.Spec {
	keys := h.Doc.Charts()
	a := askChart(h.Doc, keys[i%len(keys)], h.Against[i%2])
	return a.spec()
}

// ChartTitle is what one of the charts shown is called.
func ChartTitle(h *Host, i int) string {
	keys := h.Doc.Charts()
	return chartOf(keys[i%len(keys)]).Title
}

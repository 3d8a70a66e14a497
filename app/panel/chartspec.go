package panel

import (
	"time"

	"axleloft/app/document"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/chart"
)

func againstWords(key string) string {
	for _, a := range study.Against {
		if a[0] == key {
			return words.T(a[1])
		}
	}
	return key
}

// chartOf is a chart by its key; the first where there is no such one.
func chartOf(key string) study.Chart {
	if c, ok := study.ChartOf(key); ok {
		return c
	}
	return study.Charts()[0]
}

// chartPencil is a pencil line as a chart shows it.
type chartPencil struct {
	s     *study.Study
	name  string
	place int
}

// chartAsk is all a chart is drawn from; it may be read from any goroutine.
type chartAsk struct {
	s            *study.Study
	pencils      [document.MostPencils]chartPencil
	key, against string
	byHeight     bool
	load         int
	unit         string
	demo         bool
	title, trial string
}

// byHeight reports whether one of the two charts draws a line for each height.
func byHeight(h *Host, key string, i int) bool {
	return h.ByHeight[i] && h.Against[i] != "both" && chartOf(key).ByHeight && len(h.Doc.Current().Vehicle.Heights) > 0
}

// frontStill says that the front stays where it is, where that is so and the figure depends on the ground; "" otherwise.
func frontStill(s *study.Study, key string) string {
	switch key {
	case "antisquat", "antilift", "rollcentre", "rollsteer":
		if s.Mech != nil && s.Mech.FrontStill {
			return words.T("front still")
		}
	}
	return ""
}

// askChart gathers it for the first or the second chart.
func askChart(h *Host, key string, i int) chartAsk {
	d := h.Doc
	a := chartAsk{key: key, against: h.Against[i], byHeight: byHeight(h, key, i), load: d.Load(), unit: d.Unit(), demo: d.IsDemo(), title: d.Current().Title, trial: d.Trial()}
	a.s, _ = d.Study()
	for i, p := range d.Pencils() {
		a.pencils[i] = chartPencil{p.Study, p.Words(), p.Place}
	}
	return a
}

// spec is the chart ready to draw, the pencil lines' curves among the rest. It may take a while: call it off the window's goroutine.
func (a *chartAsk) spec() chart.Spec {
	c := chartOf(a.key)
	draw := (*study.Study).Spec
	if a.byHeight {
		draw = (*study.Study).SpecByHeight
	}
	out := draw(a.s, c, a.against, a.load, a.unit)
	for _, p := range a.pencils {
		if p.s == nil {
			continue
		}
		pencil := draw(p.s, c, a.against, a.load, a.unit)
		for _, k := range pencil.Curves {
			if c.PerLoad && !k.Present {
				continue
			}
			if len(pencil.Curves) > 1 && !c.PerLoad {
				k.Name = words.F("%s: %s", p.name, k.Name)
			} else {
				k.Name = words.F("pencil: %s", p.name)
			}
			k.Pencil, k.Place, k.Present = true, p.place, false
			out.Curves = append(out.Curves, k)
			out.Why = ""
		}
	}
	if still := frontStill(a.s, a.key); still != "" {
		out.Title += ", " + still
	}
	out.Job, out.Trial, out.Date = a.title, a.trial, time.Now().Format("2006-01-02")
	if a.demo {
		out.Job += words.T(" (DEMO, not your vehicle)")
	}
	return out
}

// ChartSpec is one of the charts shown, ready to be written to a file.
func ChartSpec(h *Host, i int) chart.Spec {
	keys := h.Doc.Charts()
	a := askChart(h, keys[i%len(keys)], i%2)
	return a.spec()
}

// ChartTitle is what one of the charts shown is called.
func ChartTitle(h *Host, i int) string {
	keys := h.Doc.Charts()
	return chartOf(keys[i%len(keys)]).Title
}

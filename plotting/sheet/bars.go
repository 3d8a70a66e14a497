package sheet

import (
	"math"

	"axleloft/plotting/ink"
	"axleloft/plotting/paper"
)

// Bar is one figure before and after, drawn from nothing.
type Bar struct {
	Name        string
	Before, Now float64 // not finite: not known
	BeforeWords string  // as written at the bar: "29 mm in"
	NowWords    string
	Good        string // what is better: "less is better"; "" says nothing
}

// Bars are figures before and after: an open bar for before, a full one for now, each figure to a scale of its own.
type Bars struct {
	Before, Now string // what they are called
	List        []Bar
}

func (b Bars) flow(f *flow) {
	const (
		tall   = 12.0
		row    = 44.0
		words  = 110.0 // room for a bar's own figure
		legend = 20.0
	)
	if len(b.List) == 0 {
		return
	}
	name := 0.0
	for _, x := range b.List {
		w, _ := paper.Measure(x.Name, bodySize, true)
		g, _ := paper.Measure(x.Good, smallSize, false)
		name = max(name, w, g)
	}
	name = min(name+14, f.w*0.4)
	text, second := ink.Color(ink.Text, false), ink.Color(ink.Second, false)
	some := false // anything known of before
	for _, x := range b.List {
		some = some || finite(x.Before)
	}
	if some {
		f.need(legend + row)
		f.put(legend, func(p *paper.Pen, x, y float64) {
			box(p, x+name, y+4, 22, tall-3, false)
			p.Words(text, b.Before, x+name+28, y, smallSize, false)
			w, _ := paper.Measure(b.Before, smallSize, false)
			box(p, x+name+w+50, y+4, 22, tall-3, true)
			p.Words(text, b.Now, x+name+w+78, y, smallSize, false)
		})
	}
	for _, x := range b.List {
		h := row
		if !finite(x.Before) {
			h = row - tall - 2
		}
		f.need(h)
		f.put(h, func(p *paper.Pen, px, y float64) {
			p.Words(text, fit(x.Name, bodySize, true, name-8), px, y+3, bodySize, true)
			p.Words(second, fit(x.Good, smallSize, false, name-8), px, y+19, smallSize, false)
			most := 0.0
			for _, v := range []float64{x.Before, x.Now} {
				if finite(v) {
					most = max(most, math.Abs(v))
				}
			}
			room := f.w - name - words
			at := y + 4
			one := func(v float64, words string, full bool) {
				if !finite(v) {
					return
				}
				w := 0.0
				if most > 0 {
					w = room * math.Abs(v) / most
				}
				box(p, px+name, at, max(w, 1), tall, full)
				p.Words(text, words, px+name+w+6, at-2, smallSize, full)
				at += tall + 3
			}
			one(x.Before, x.BeforeWords, false)
			one(x.Now, x.NowWords, true)
			p.Line(ink.Color(ink.Rule, false), Hair, nil, [2]float64{px, y + h - 3}, [2]float64{px + f.w, y + h - 3})
		})
	}
	f.y += 6
}

func box(p *paper.Pen, x, y, w, h float64, full bool) {
	pts := [][2]float64{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
	if full {
		p.Fill(ink.Color(ink.Text, false), pts)
	}
	p.Outline(ink.Color(ink.Text, false), Thin, pts...)
}

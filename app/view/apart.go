package view

import (
	"axleloft/app/words"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
)

// The mark of an unlinked pair: two strokes crossed by a slant one, under the pivot. Units.
const (
	apartDown  = 12.0 // from the pivot to its middle
	apartHalf  = 5.0
	apartGap   = 2.0 // of a stroke from its middle
	apartSlant = 4.5
)

// drawApart marks a pivot of an unlinked pair; the held one and its other side say so in words.
func (s *Scene) drawApart(d *drafter, p *pivot, layer drawing.Layer, x, y float64) {
	y += apartDown
	for _, g := range []float64{-apartGap, apartGap} {
		d.line(layer, light, ink.Text, point{x - apartHalf, y + g}, point{x + apartHalf, y + g})
	}
	d.line(layer, light, ink.Text, point{x - apartSlant/2, y + apartSlant}, point{x + apartSlant/2, y - apartSlant})
	if held, _ := s.isHeld(p); held {
		text := words.T("unlinked")
		w, h := d.measure(text, 15, true)
		d.asides = append(d.asides, aside{words: text, at: point{x, y}, halfX: 12, halfY: 12, w: w, h: h})
	}
}

package view

import (
	"math"
	"strconv"

	"axleloft/app/edit"
	"axleloft/geometry/motion"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
)

const (
	holeRound = 4.0  // of a hole as drawn, units
	holeApart = 22.0 // holes that stand closer have no numbers but the first's and the last's
	holeWord  = 15.0
)

// drawHoles draws the holes of the held pivot as small open circles with their numbers, where they stand with the axle.
func (s *Scene) drawHoles(d *drafter, p *pivot) {
	list := edit.Holes(s.in.Now.Job, p.id)
	if len(list) == 0 {
		return
	}
	at := make([]point, len(list))
	for i, h := range list {
		if p.mount.On != motion.OnFrame {
			h = s.stand(p.mount, h)
		}
		x, y := d.t.Place(h)
		at[i] = point{x, y}
	}
	step := math.Hypot(at[1].X-at[0].X, at[1].Y-at[0].Y)
	for i, c := range at {
		d.circle(drawing.Held, c.X, c.Y, holeRound, thin, ink.Press, ink.Ground)
		if step < 1 || step < holeApart && i > 0 && i < len(at)-1 { // one behind the other, or too close
			continue
		}
		words := strconv.Itoa(i + 1)
		w, h := d.measure(words, holeWord, false)
		d.asides = append(d.asides, aside{words: words, at: c, halfX: holeRound + 2, halfY: holeRound + 2, w: w, h: h})
	}
}

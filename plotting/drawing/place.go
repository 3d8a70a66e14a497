package drawing

import "math"

// Area is an upright box.
type Area struct{ X0, Y0, X1, Y1 float64 }

// Overlaps reports whether two share any area.
func (a Area) Overlaps(b Area) bool {
	return a.X0 < b.X1 && b.X0 < a.X1 && a.Y0 < b.Y1 && b.Y0 < a.Y1
}

// NoRoom is the cost of a place that cannot be had.
const NoRoom = 1e6

// Placer finds places for words where few lines run through them, none on another.
type Placer struct {
	Within Area    // where words may stand
	Apart  float64 // from words to the next on their line, at least
	Clear  float64 // from words to a line, for it not to count
	Taken  []Area  // where words stand already
	lines  []inked
}

// inked is a drawn line as words see it.
type inked struct{ ax, ay, bx, by, half, weight float64 }

// Ink notes a line of half a width; weight is how much it counts against words it runs through.
func (p *Placer) Ink(ax, ay, bx, by, half, weight float64) {
	p.lines = append(p.lines, inked{ax, ay, bx, by, half, weight})
}

// Cost is how much runs through a box; NoRoom where words stand there or may not stand.
func (p *Placer) Cost(b Area) float64 {
	if b.X0 < p.Within.X0 || b.X1 > p.Within.X1 || b.Y0 < p.Within.Y0 || b.Y1 > p.Within.Y1 {
		return NoRoom
	}
	for _, t := range p.Taken {
		if t.Overlaps(Area{b.X0 - p.Apart, b.Y0, b.X1 + p.Apart, b.Y1}) {
			return NoRoom
		}
	}
	n := 0.0
	for _, l := range p.lines {
		g := l.half + p.Clear
		if _, _, _, _, ok := ClipLine(b.X0-g, b.Y0-g, b.X1+g, b.Y1+g, l.ax, l.ay, l.bx, l.by); ok {
			n += l.weight
		}
	}
	return n
}

// Spot is the best of the places tried for some words.
type Spot struct {
	At   Area
	p    *Placer
	cost float64
}

// Spot begins to look for one.
func (p *Placer) Spot() *Spot { return &Spot{p: p, cost: math.Inf(1)} }

// Try looks at a place; extra is what it costs besides.
func (s *Spot) Try(at Area, extra float64) {
	if c := s.p.Cost(at) + extra; c < s.cost {
		s.At, s.cost = at, c
	}
}

// Take takes the place of least cost, if that is not over a limit.
func (s *Spot) Take(limit float64) (Area, bool) {
	if s.cost > limit {
		return Area{}, false
	}
	s.p.Taken = append(s.p.Taken, s.At)
	return s.At, true
}

package chart

import (
	"math"

	"axleloft/plotting/drawing"
	"axleloft/plotting/paper"
)

type box struct{ x0, y0, x1, y1 float64 }

func (b box) overlaps(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }

// segment is a drawn line as words see it.
type segment struct{ ax, ay, bx, by, half, weight float64 }

// placer finds places for words where no line runs through them.
type placer struct {
	room  paper.Room
	inner box // of the curves
	lines []segment
	taken []box
}

func (p *placer) trace(ax, ay, bx, by, half float64) {
	p.lines = append(p.lines, segment{ax, ay, bx, by, half, 1})
}

// rule is a line that words keep off where they can.
func (p *placer) rule(y float64) {
	p.lines = append(p.lines, segment{p.inner.x0, y, p.inner.x1, y, 0, 0.45})
}

const (
	never = 1e6
	apart = 3 // at least, from words to the next on their line
)

// cost is how many lines run through a box; never where words stand there or it is out of the picture.
func (p *placer) cost(b box) float64 {
	if b.x0 < p.inner.x0+2 || b.x1 > p.inner.x1 || b.y0 < p.inner.y0-4 || b.y1 > p.inner.y1-1 {
		return never
	}
	for _, t := range p.taken {
		if t.overlaps(box{b.x0 - apart, b.y0, b.x1 + apart, b.y1}) {
			return never
		}
	}
	n := 0.0
	for _, l := range p.lines {
		g := l.half + 1.5
		if _, _, _, _, ok := drawing.ClipLine(b.x0-g, b.y0-g, b.x1+g, b.y1+g, l.ax, l.ay, l.bx, l.by); ok {
			n += l.weight
		}
	}
	return n
}

// best takes the place of least cost; words run through by more than a few lines are left out.
type best struct {
	p    *placer
	at   box
	cost float64
}

func (b *best) try(at box, extra float64) {
	if c := b.p.cost(at) + extra; c < b.cost {
		b.at, b.cost = at, c
	}
}

func (b *best) take(limit float64) (box, bool) {
	if b.cost > limit {
		return box{}, false
	}
	b.p.taken = append(b.p.taken, b.at)
	return b.at, true
}

func (p *placer) search() *best { return &best{p: p, cost: math.Inf(1)} }

// beside is the place of a value beside its dot.
func (p *placer) beside(x, y, w, h float64) (box, bool) {
	const off = dotRadius + 5
	s := p.search()
	for k, c := range [][2]float64{{x + off, y + 5}, {x - off - w, y + 5}, {x + off, y - h - 5}, {x - off - w, y - h - 5}, {x + off, y - h/2}, {x - off - w, y - h/2}} {
		s.try(box{c[0], c[1], c[0] + w, c[1] + h}, 0.1*float64(k))
	}
	for k := 1.0; k <= 3; k++ { // further off
		s.try(box{x + off, y + 5 + k*h/2, x + off + w, y + 5 + h + k*h/2}, k)
		s.try(box{x + off, y - h - 5 - k*h/2, x + off + w, y - 5 - k*h/2}, k)
	}
	return s.take(30)
}

// atCurve is the place of a name at its curve: over or under it, toward an end rather than the middle.
func (p *placer) atCurve(a Axes, c *Curve, w, h float64) (box, bool) {
	s := p.search()
	n := min(len(c.X), len(c.Y))
	if n == 0 {
		return box{}, false
	}
	x0, x1 := c.X[0], c.X[n-1]
	for k, f := range []float64{0.8, 0.2, 0.7, 0.3, 0.9, 0.1, 0.6, 0.4, 0.97, 0.03, 0.5} {
		x := x0 + f*(x1-x0)
		y, ok := c.At(x)
		if !ok {
			continue
		}
		px, py := a.At(x, y)
		for m, off := range []float64{3, 8, 14, 22} {
			for side, top := range []float64{py - h - off, py + off} {
				for j, from := range []float64{px - w/2, px + 4, px - w - 4} {
					s.try(box{from, top, from + w, top + h}, 0.05*float64(k)+0.12*float64(m)+0.02*float64(side)+0.03*float64(j))
				}
			}
		}
	}
	return s.take(never / 2)
}

// corner is a place in a corner of the curves' box, high or low.
func (p *placer) corner(w, h float64, high bool) (box, bool) {
	s := p.search()
	in := p.inner
	for k := range int((in.y1 - in.y0) / 2 / 10) { // down to, or up to, the middle
		y := in.y0 + 6 + float64(k)*10
		if !high {
			y = in.y1 - h - 8 - float64(k)*10
		}
		right, left := box{in.x1 - w - 4, y, in.x1 - 4, y + h}, box{in.x0 + 8, y, in.x0 + 8 + w, y + h}
		if high {
			s.try(right, 0.05*float64(k))
			s.try(left, 0.02+0.05*float64(k))
			continue
		}
		s.try(left, 0.05*float64(k))
		s.try(right, 0.02+0.05*float64(k))
	}
	return s.take(0.95)
}

// inBand is a place between two heights, at the left or the right.
func (p *placer) inBand(top, bottom, w, h float64) (at box, alignRight, ok bool) {
	s := p.search()
	in := p.inner
	if bottom-top < h+2 {
		// A narrow strip: its words stand over or under it.
		top, bottom = top-h-3, bottom+h+3
	}
	rightAt := map[box]bool{}
	for k, f := range []float64{0, 1, 0.5} {
		y := top + 2 + f*(bottom-top-h-4)
		left, right := box{in.x0 + 7, y, in.x0 + 7 + w, y + h}, box{in.x1 - w - 6, y, in.x1 - 6, y + h}
		rightAt[right] = true
		s.try(left, 0.1*float64(k))
		s.try(right, 0.05+0.1*float64(k))
	}
	at, ok = s.take(0.95)
	return at, rightAt[at], ok
}

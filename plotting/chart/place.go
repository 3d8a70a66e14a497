package chart

import (
	"math"

	"axleloft/plotting/drawing"
	"axleloft/plotting/paper"
)

type box = drawing.Area

// placer finds places for words in a chart.
type placer struct {
	drawing.Placer
	room  paper.Room
	inner box // of the curves
}

// apart is how far words keep at least from the next on their line.
const apart = 3

func newPlacer(room paper.Room, inner box) *placer {
	return &placer{Placer: drawing.Placer{Within: box{X0: inner.X0 + 2, Y0: inner.Y0 - 4, X1: inner.X1, Y1: inner.Y1 - 1}, Apart: apart, Clear: 1.5}, room: room, inner: inner}
}

func (p *placer) trace(ax, ay, bx, by, half float64) { p.Ink(ax, ay, bx, by, half, 1) }

// rule is a line that words keep off where they can.
func (p *placer) rule(y float64) { p.Ink(p.inner.X0, y, p.inner.X1, y, 0, 0.45) }

// beside is the place of a value beside its dot.
func (p *placer) beside(x, y, w, h float64) (box, bool) {
	const off = dotRadius + 5
	s := p.Spot()
	for k, c := range [][2]float64{{x + off, y + 5}, {x - off - w, y + 5}, {x + off, y - h - 5}, {x - off - w, y - h - 5}, {x + off, y - h/2}, {x - off - w, y - h/2}} {
		s.Try(box{X0: c[0], Y0: c[1], X1: c[0] + w, Y1: c[1] + h}, 0.1*float64(k))
	}
	for k := 1.0; k <= 3; k++ { // further off
		s.Try(box{X0: x + off, Y0: y + 5 + k*h/2, X1: x + off + w, Y1: y + 5 + h + k*h/2}, k)
		s.Try(box{X0: x + off, Y0: y - h - 5 - k*h/2, X1: x + off + w, Y1: y - 5 - k*h/2}, k)
	}
	return s.Take(30)
}

// clear is the cost under which no curve runs through words.
const clear = 0.99

// atCurve is the place of a name at its curve: over or under it, toward an end rather than the middle.
func (p *placer) atCurve(a Axes, c *Curve, w, h, limit float64) (box, bool) {
	s := p.Spot()
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
					s.Try(box{X0: from, Y0: top, X1: from + w, Y1: top + h}, 0.05*float64(k)+0.12*float64(m)+0.02*float64(side)+0.03*float64(j))
				}
			}
		}
	}
	return s.Take(limit)
}

// led is the place of a name that finds none at its curve: anywhere in the picture, near it rather than far, with a line to the curve from from to to.
func (p *placer) led(a Axes, c *Curve, w, h, limit float64) (at box, from, to [2]float64, ok bool) {
	const along, across, steps = 12, 14, 48
	var curve [][2]float64
	n := min(len(c.X), len(c.Y))
	for i := range steps + 1 {
		if n == 0 {
			break
		}
		x := c.X[0] + (c.X[n-1]-c.X[0])*float64(i)/steps
		if y, ok := c.At(x); ok {
			px, py := a.At(x, y)
			curve = append(curve, [2]float64{px, py})
		}
	}
	if len(curve) == 0 {
		return
	}
	// reach is the shortest way from a box to the curve.
	reach := func(b box) (from, to [2]float64, long float64) {
		long = math.Inf(1)
		for _, q := range curve {
			f := [2]float64{math.Max(b.X0, math.Min(b.X1, q[0])), math.Max(b.Y0, math.Min(b.Y1, q[1]))}
			if l := math.Hypot(q[0]-f[0], q[1]-f[1]); l < long {
				from, to, long = f, q, l
			}
		}
		return from, to, long
	}
	s := p.Spot()
	in := p.inner
	for i := range along + 1 {
		for k := range across + 1 {
			x, y := in.X0+4+(in.X1-in.X0-w-8)*float64(i)/along, in.Y0+(in.Y1-in.Y0-h-2)*float64(k)/across
			b := box{X0: x, Y0: y, X1: x + w, Y1: y + h}
			_, _, long := reach(b)
			s.Try(b, 0.004*long)
		}
	}
	if at, ok = s.Take(limit); ok {
		from, to, _ = reach(at)
	}
	return at, from, to, ok
}

// corner is a place in a corner of the curves' box, high or low.
func (p *placer) corner(w, h float64, high bool) (box, bool) {
	s := p.Spot()
	in := p.inner
	for k := range int((in.Y1 - in.Y0) / 2 / 10) { // down to, or up to, the middle
		y := in.Y0 + 6 + float64(k)*10
		if !high {
			y = in.Y1 - h - 8 - float64(k)*10
		}
		right, left := box{X0: in.X1 - w - 4, Y0: y, X1: in.X1 - 4, Y1: y + h}, box{X0: in.X0 + 8, Y0: y, X1: in.X0 + 8 + w, Y1: y + h}
		if high {
			s.Try(right, 0.05*float64(k))
			s.Try(left, 0.02+0.05*float64(k))
			continue
		}
		s.Try(left, 0.05*float64(k))
		s.Try(right, 0.02+0.05*float64(k))
	}
	return s.Take(0.95)
}

// inBand is a place between two heights, at the left or the right.
func (p *placer) inBand(top, bottom, w, h float64) (at box, alignRight, ok bool) {
	s := p.Spot()
	in := p.inner
	if bottom-top < h+2 {
		// A narrow strip: its words stand over or under it.
		top, bottom = top-h-3, bottom+h+3
	}
	rightAt := map[box]bool{}
	for k, f := range []float64{0, 1, 0.5} {
		y := top + 2 + f*(bottom-top-h-4)
		left, right := box{X0: in.X0 + 7, Y0: y, X1: in.X0 + 7 + w, Y1: y + h}, box{X0: in.X1 - w - 6, Y0: y, X1: in.X1 - 6, Y1: y + h}
		rightAt[right] = true
		s.Try(left, 0.1*float64(k))
		s.Try(right, 0.05+0.1*float64(k))
	}
	at, ok = s.Take(0.95)
	return at, rightAt[at], ok
}

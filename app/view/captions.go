package view

import (
	"math"

	"axleloft/app/words"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
)

// sides says in the rear view which side is which: low in the view, a little higher where a pivot or a grip would be covered; where there is
// no such place, on the line of the view's name.
func (s *Scene) sides(d *drafter) {
	const size, in, step = 15.0, 14.0, 10.0
	type side struct {
		words string
		x, w  float64
	}
	wl, h := d.measure(words.T("LEFT"), size, true)
	wr, _ := d.measure(words.T("RIGHT"), size, true)
	both := [2]side{{words.T("LEFT"), in, wl}, {words.T("RIGHT"), d.room.x1 - in - wr, wr}}
	low := d.room.y1 - 2*h - 9
	best, at := math.Inf(1), low
	for y := low; y > max(h+8, 0.6*d.room.y1); y -= step {
		cost := (d.room.y1 - y) / 100
		for _, s := range both {
			cost += math.Min(onMark, d.cost(box{s.x, y, s.x + s.w, y + h}.grown(2), drawing.Pivots))
		}
		if cost < best {
			best, at = cost, y
		}
	}
	if d.onTop = best >= onPivot; d.onTop {
		return
	}
	for _, s := range both {
		d.plate(box{s.x, at, s.x + s.w, at + h}, ink.Ground)
		d.text(s.words, s.x, at, size, true, ink.Text, "")
	}
}

// captions are the words every view has: which it is, where the nose or the left is, and what is a demo.
func (s *Scene) captions(d *drafter) {
	const size, in = 15.0, 8.0
	put := func(phrase string, x, y float64, bold bool, role ink.Role) box {
		w, h := d.measure(phrase, size, bold)
		d.plate(box{x, y, x + w, y + h}, ink.Ground)
		return d.text(phrase, x, y, size, bold, role, "")
	}
	_, h := d.measure(words.T("NOSE"), size, true)
	const top = 3.0
	arrow := func(x, y, dx, dy float64) { // from x, y
		const long, tip = 18.0, 4.5
		end := point{x + dx*long, y + dy*long}
		d.line(drawing.Names, light, ink.Text, point{x, y}, end)
		d.line(drawing.Names, light, ink.Text, point{end.X - dx*tip + dy*tip, end.Y - dy*tip - dx*tip}, end, point{end.X - dx*tip - dy*tip, end.Y - dy*tip + dx*tip})
	}
	nose := func() {
		w, _ := d.measure(words.T("NOSE"), size, true)
		x := d.room.x1 - in - 18 - 5 - w
		d.plate(box{x, top, d.room.x1 - in, top + h}, ink.Ground)
		d.text(words.T("NOSE"), x, top, size, true, ink.Text, "")
		arrow(x+w+5, top+h/2, 1, 0)
		d.taken = append(d.taken, box{x, top, d.room.x1, top + h})
	}
	bottom := d.room.y1 - h - 3
	demo := func() {
		if s.in.Demo {
			put(words.T("DEMO, not your vehicle"), in, bottom, false, ink.Second)
		}
	}
	switch s.plane {
	case Side:
		put(words.T("SIDE"), in, top, true, ink.Text)
		nose()
		demo()
	case Rear:
		x, end := in, d.room.x1-in
		if d.onTop {
			w, _ := d.measure(words.T("LEFT"), size, true)
			d.plate(box{x, top, x + w + 14, top + h}, ink.Ground) // first: it would cut the last letter
			put(words.T("LEFT"), x, top, true, ink.Text)
			x += w + 14
			w, _ = d.measure(words.T("RIGHT"), size, true)
			end -= w
			put(words.T("RIGHT"), end, top, true, ink.Text)
			end -= 14
		}
		b := put(words.T("REAR"), x, top, true, ink.Text)
		if w, _ := d.measure(words.T("from behind"), size, false); b.x1+8+w <= end {
			put(words.T("from behind"), b.x1+8, top, false, ink.Second)
		}
		demo()
	default:
		b := put(words.T("PLAN"), in, top, true, ink.Text)
		w, _ := d.measure(words.T("LEFT"), size, true)
		x := b.x1 + 24
		d.plate(box{x, top, x + w + 14, top + h}, ink.Ground)
		d.text(words.T("LEFT"), x, top, size, true, ink.Text, "")
		arrow(x+w+10, top+h/2+9, 0, -1)
		d.taken = append(d.taken, box{x, top, x + w + 18, top + h})
		nose()
		demo()
	}
}

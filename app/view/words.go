package view

import (
	"cmp"
	"math"
	"slices"

	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
)

// Memory keeps where the words of a view stood, so that they do not jump about while things move. The zero value is ready; one view each.
type Memory struct {
	places map[string]int
}

const (
	wordSize = 15.0
	stay     = 12.0 // how much better another place must be for a word to leave its own
	never    = 1e6
	refuse   = 20.0 // a name of no weight stands nowhere rather than so badly
)

// cost tells how badly words would stand in a box on top of a layer: what lies under it is hidden.
func (d *drafter) cost(b box, on drawing.Layer) float64 {
	if !d.room.grown(-2).holds(b) {
		return never
	}
	for _, t := range d.taken {
		if t.overlaps(b) {
			return never
		}
	}
	sum := 0.0
	for i := range d.ink {
		s := &d.ink[i]
		over := s.layer >= on || d.own != "" && s.bar != "" && s.bar != d.own && s.layer == on-1
		if over && b.grown(s.half).crossed(s.a, s.b) {
			sum += s.weight
		}
	}
	mid := point{(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2}
	for i := range d.full {
		if f := &d.full[i]; f.role == ink.AxleFill && f.layer >= on && inside(f.area, mid) {
			sum += onMover
		}
	}
	return sum
}

// groundAt is the fill that lies under all of a box, the ground of the view where there is none or more than one.
func (d *drafter) groundAt(b box) ink.Role {
	under := func(p point) (role ink.Role, layer drawing.Layer) {
		role = ink.Ground
		for i := range d.full {
			if f := &d.full[i]; f.layer >= layer && inside(f.area, p) {
				role, layer = f.role, f.layer
			}
		}
		return role, layer
	}
	role, _ := under(point{(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2})
	for _, p := range []point{{b.x0, b.y0}, {b.x1, b.y0}, {b.x1, b.y1}, {b.x0, b.y1}} {
		if r, _ := under(p); r != role {
			return ink.Ground
		}
	}
	return role
}

// placeWords gives asides, tags and names their places, in this order; each keeps clear of what stands already.
func (s *Scene) placeWords(d *drafter, memory *Memory) {
	if memory == nil {
		memory = &Memory{}
	}
	if memory.places == nil {
		memory.places = map[string]int{}
	}
	d.placeAsides()
	for i := range d.tags {
		area := d.tags[i].area
		for k := range area {
			d.ink = append(d.ink, trace{area[k], area[(k+1)%len(area)], 2, onMark, drawing.Trouble, ""})
		}
	}
	for i := range d.tags {
		d.placeTag(&d.tags[i], memory)
	}
	phrase := slices.Clone(s.words)
	slices.SortStableFunc(phrase, func(a, b word) int { return cmp.Compare(b.weight, a.weight) })
	done := map[string]bool{}
	for i := range phrase {
		w := &phrase[i]
		if !done[w.words] && d.placeName(s, w, memory) {
			done[w.words] = true
		}
	}
	s.tagPencils(d, done, memory)
}

// placeAsides puts the "?" of a guess beside its box; of guesses in one place one.
func (d *drafter) placeAsides() {
	var stood []point
	for _, a := range d.asides {
		if !d.room.holds(box{a.at.X, a.at.Y, a.at.X, a.at.Y}) || slices.ContainsFunc(stood, func(p point) bool { return math.Hypot(p.X-a.at.X, p.Y-a.at.Y) < 20 }) {
			continue
		}
		best, at := never, box{}
		for k, o := range []point{{1, 0}, {-1, 0}, {0, -1}, {0, 1}, {1, -1}, {-1, -1}, {1, 1}, {-1, 1}} {
			cx, cy := a.at.X+o.X*(a.halfX+4+a.w/2), a.at.Y+o.Y*(a.halfY+1+a.h/2)
			b := box{cx - a.w/2, cy - a.h/2, cx + a.w/2, cy + a.h/2}
			if c := d.cost(b, 0) + float64(k); c < best {
				best, at = c, b
			}
		}
		if best >= onPivot { // no room: the box says it
			continue
		}
		stood = append(stood, a.at)
		d.box(drawing.Names, box{at.x0 - 1, at.y0 + 1, at.x1 + 1, at.y1 - 1}, 0, 0, ink.None, ink.Ground)
		d.text(a.words, at.x0, at.y0, wordSize, true, ink.Text, "")
	}
}

// placeTag puts a worded tag on clear ground near its place, with a leader.
func (d *drafter) placeTag(t *tag, memory *Memory) {
	const padX, padY = 6.0, 1.0
	w, h := d.measure(t.words, wordSize, true)
	w, h = w+2*padX, h+2*padY
	area := bounds(clipArea(d.room, t.area))
	if !(area.x0 <= area.x1) {
		return
	}
	c := point{(area.x0 + area.x1) / 2, (area.y0 + area.y1) / 2}
	best, at, which := math.Inf(1), box{}, 0
	was, had := memory.places["tag "+t.name]
	n := 0
	for _, far := range []float64{30, 55, 85, 120, 160} {
		for k := range 16 {
			sn, cs := math.Sincos(math.Pi/8*float64(k) + math.Pi)
			x, y := c.X+cs*(far+(area.x1-area.x0)/2+w/2), c.Y+sn*(far+(area.y1-area.y0)/2+h/2)
			b := box{x - w/2, y - h/2, x + w/2, y + h/2}
			cost := d.cost(b.grown(4), 0) + far/10
			if cost < never && k%8 != 0 {
				cost++ // level with its place rather than not
			}
			if had && was == n {
				cost -= stay
			}
			if cost < best {
				best, at, which = cost, b, n
			}
			n++
		}
	}
	if best >= never/2 { // no room: over its place, within the view
		x := math.Max(2, math.Min(d.room.x1-w-2, c.X-w/2))
		y := math.Max(2, math.Min(d.room.y1-h-2, c.Y+14))
		at = box{x, y, x + w, y + h}
	}
	memory.places["tag "+t.name] = which
	// The leader runs from the tag's edge to a dot in the place; to the edge of a place that is dotted itself.
	from := point{math.Max(at.x0, math.Min(at.x1, c.X)), math.Max(at.y0, math.Min(at.y1, c.Y))}
	to := c
	for k := 0.0; t.dotted && k <= 1 && inside(t.area, to); k += 0.02 {
		to = point{c.X + k*(from.X-c.X), c.Y + k*(from.Y-c.Y)}
	}
	edge := ink.Trouble
	switch {
	case t.pencil:
		edge = ink.Pencil
	case t.laid:
		edge = ink.Press
	}
	for _, run := range clipLines(d.room, []point{from, to}, false) {
		d.item(drawing.Item{Kind: drawing.Line, Layer: drawing.Names, Stroke: edge, Fill: ink.None, Width: light, Points: run, Name: t.name})
	}
	d.ink = append(d.ink, trace{from, to, 1, onMover, drawing.Names, ""})
	if !t.dotted {
		d.item(drawing.Item{Kind: drawing.Circle, Layer: drawing.Names, Stroke: ink.None, Fill: edge, Radius: 2.5, Points: []point{c}, Name: t.name})
	}
	d.box(drawing.Names, at, 3, light, edge, ink.Ground)
	d.text(t.words, at.x0+padX, at.y0+padY, wordSize, true, ink.Text, t.name)
	d.taken = append(d.taken, at)
}

// placeName puts a name in or beside what it names; it reports whether there was a place.
func (d *drafter) placeName(s *Scene, w *word, memory *Memory) bool {
	width, h := d.measure(w.words, wordSize, false)
	area := s.screen(d.t, w.area)
	key := "name " + w.words
	was, had := memory.places[key]
	best, which := math.Inf(1), -1
	var at box
	ground, clear := ink.Ground, false
	n := 0
	try := func(b box, extra float64, g ink.Role, on drawing.Layer) {
		raw := d.cost(b.grown(2), on)
		cost := raw + extra
		if had && was == n {
			cost -= stay
		}
		if cost < best {
			best, at, which, ground, clear = cost, b, n, g, raw == 0
		}
		n++
	}
	if w.bar {
		d.besideBar(area, w, width, h, try)
	} else {
		d.inArea(area, w, width, h, try)
	}
	limit := refuse
	switch {
	case w.weight < 1:
		limit = onFar
	case w.weight < 2:
		limit = onPart + 2
	}
	if w.weight >= 10 {
		limit = never / 2
	}
	if which < 0 || best >= limit {
		return false
	}
	memory.places[key] = which
	if !clear {
		if !w.bar || ground == ink.Ground {
			ground = d.groundAt(at)
		}
		d.plate(at, ground)
	}
	d.text(w.words, at.x0, at.y0, wordSize, false, w.role, w.words)
	return true
}

// besideBar tries a bar's own inside where it is wide enough, then both sides of it.
func (d *drafter) besideBar(pts []point, w *word, width, h float64, try func(box, float64, ink.Role, drawing.Layer)) {
	r := math.Max(w.radius*d.t.Scale, 1.5)
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		long := math.Hypot(b.X-a.X, b.Y-a.Y)
		if long < width/2 {
			continue
		}
		u, v := (b.X-a.X)/long, (b.Y-a.Y)/long
		for _, f := range []float64{0.5, 0.3, 0.7, 0.85, 0.15} {
			c := point{a.X + f*(b.X-a.X), a.Y + f*(b.Y-a.Y)}
			if !w.beside && math.Abs(v)*width+math.Abs(u)*(h-6) <= 2*r-3 && math.Min(f, 1-f)*long > width/2+10 {
				d.own = w.name
				try(box{c.X - width/2, c.Y - h/2, c.X + width/2, c.Y + h/2}, 4*math.Abs(f-0.5), w.ground, w.layer+1)
				d.own = ""
			}
		}
		for _, side := range []float64{1, -1} {
			for _, f := range []float64{0.5, 0.3, 0.7} {
				nx, ny := -v*side, u*side
				off := r + 4 + math.Abs(nx)*width/2 + math.Abs(ny)*h/2
				c := point{a.X + f*(b.X-a.X) + nx*off, a.Y + f*(b.Y-a.Y) + ny*off}
				try(box{c.X - width/2, c.Y - h/2, c.X + width/2, c.Y + h/2}, 6+4*math.Abs(f-0.5), ink.Ground, 0)
			}
		}
	}
}

// inArea tries places within a part as far as the view shows it, then beside it.
func (d *drafter) inArea(pts []point, w *word, width, h float64, try func(box, float64, ink.Role, drawing.Layer)) {
	if all := bounds(pts); w.weight < 10 && all.x1-all.x0 > d.room.x1/2 && all.y1-all.y0 > d.room.y1/2 {
		return // it reaches past the view: its name would stand among other things
	}
	b := bounds(clipArea(d.room, pts))
	if !(b.x0 < b.x1) || b.x1-b.x0 < 8 && b.y1-b.y0 < 8 {
		return
	}
	cx := func(f float64) float64 { return b.x0 + width/2 + 7 + f*(b.x1-b.x0-width-14) }
	cy := func(f float64) float64 { return b.y0 + h/2 + 2 + f*(b.y1-b.y0-h-4) }
	if b.x1-b.x0 >= width+14 && b.y1-b.y0 >= h+4 {
		for _, fy := range []float64{0.5, 0.15, 0.85} {
			for _, fx := range []float64{0.5, 0.25, 0.75, 0.08, 0.92} {
				c := box{cx(fx) - width/2, cy(fy) - h/2, cx(fx) + width/2, cy(fy) + h/2}
				in := true
				for _, p := range []point{{c.x0, c.y0}, {c.x1, c.y0}, {c.x0, c.y1}, {c.x1, c.y1}} {
					in = in && inside(pts, p)
				}
				if in {
					try(c, math.Abs(fx-0.5)+math.Abs(fy-0.5), w.ground, 0)
					continue
				}
				try(box{-1, -1, -2, -2}, never, w.ground, 0) // keeps the numbers of the places
			}
		}
	} else {
		for range 15 {
			try(box{-1, -1, -2, -2}, never, w.ground, 0)
		}
	}
	for _, f := range []float64{0.5, 0.15, 0.85} {
		x := b.x0 + f*(b.x1-b.x0)
		x = math.Max(width/2+4, math.Min(d.room.x1-width/2-4, x))
		try(box{x - width/2, b.y0 - h - 3, x + width/2, b.y0 - 3}, 4+f, ink.Ground, 0)
		try(box{x - width/2, b.y1 + 3, x + width/2, b.y1 + h + 3}, 4.5+f, ink.Ground, 0)
	}
	y := (b.y0 + b.y1) / 2
	try(box{b.x0 - width - 7, y - h/2, b.x0 - 7, y + h/2}, 6, ink.Ground, 0)
	try(box{b.x1 + 7, y - h/2, b.x1 + width + 7, y + h/2}, 6, ink.Ground, 0)
}

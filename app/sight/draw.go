package sight

import (
	"image/color"
	"math"

	"axleloft/app/brush"
	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
)

// measure tells the scene the room words take in the window's letters.
func measure(phrase string, size float64, bold bool) (w, h float64) {
	m := brush.Measure(phrase, brush.Type{Size: float32(size), Bold: bold})
	return float64(m.Width), float64(m.Height)
}

// draw makes the whole picture again.
func (v *View) draw() {
	size := v.Size()
	if size.Width < 1 || size.Height < 1 {
		return
	}
	v.redraw.Drop()
	v.frames++
	v.drawn, v.drawnAt = size, v.pixels()
	v.eye.swings()
	v.renew()
	v.picture = v.scene.Picture(v.transform(), measure, &v.memory)
	g := &v.pool
	g.Begin()
	v.drawPhoto(size)
	s := v.pixels()
	patches, shaded := 0, false
	for i := range v.picture.Items {
		it := &v.picture.Items[i]
		if !shaded && above(it) {
			v.drawPlaces()
			shaded = true
		}
		if again(v.picture.Items[i+1:], it) {
			continue
		}
		switch it.Kind {
		case drawing.Fill:
			if upright(it.Points) {
				p, q := it.Points[0], it.Points[2]
				x0, y0, x1, y1 := math.Min(p.X, q.X), math.Min(p.Y, q.Y), math.Max(p.X, q.X), math.Max(p.Y, q.Y)
				g.Rect(float32(x0), float32(y0), float32(x1-x0), float32(y1-y0), 0, 0, nil, colorOf(it.Fill))
				continue
			}
		case drawing.Stripes, drawing.Dots:
		default:
			v.itemTo(&v.pool, it, s)
			continue
		}
		if patches == len(v.patches) {
			v.patches = append(v.patches, newFills())
		}
		f := v.patches[patches]
		patches++
		if f.set(v.picture.Items[i:i+1], size); !f.empty() {
			g.Put(f.raster)
		}
	}
	v.drawPlaceWords()
	v.drawOver()
	v.drawPoints(size)
	v.drawLands(size)
	v.drawReadout(size)
	v.drawNote(size)
	v.drawChoice(size)
	v.drawDraft(size)
	if v.focused {
		g.Rect(0, 0, size.Width, size.Height, 0, 2*look.Weight(), look.Color(ink.Press), nil)
	}
	v.drawSwing()
}

// again reports whether an item comes once more among those that lie over it: twins seen from the side. Then the last is enough.
func again(over []drawing.Item, it *drawing.Item) bool {
	for i := range over {
		if o := &over[i]; o.Kind == it.Kind && o.Layer == it.Layer && o.Width == it.Width && o.Radius == it.Radius && o.Words == it.Words && equal(o, it) {
			return true
		}
	}
	return false
}

// upright reports whether an area is a rectangle along the view's own axes: it is painted as such, which costs half of what a raster does.
func upright(p []drawing.Point) bool {
	return len(p) == 4 && (p[0].X == p[1].X && p[1].Y == p[2].Y && p[2].X == p[3].X && p[3].Y == p[0].Y ||
		p[0].Y == p[1].Y && p[1].X == p[2].X && p[2].Y == p[3].Y && p[3].X == p[0].X)
}

// pixels is how many device pixels a unit has.
func (v *View) pixels() float32 {
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c != nil && c.Scale() > 0 {
		return c.Scale()
	}
	return 1
}

// itemTo copies one item to canvas objects of a pool. s is device pixels a unit: ends of bars and circles are put on whole pixels, since the toolkit's
// painter does so with each object by itself and would set the two sides of a bar apart.
func (v *View) itemTo(g *brush.Pool, it *drawing.Item, s float32) {
	if k := float64(look.Weight()); k != 1 {
		heavier := *it
		heavier.Width *= k
		it = &heavier
	}
	stroke, fill := colorOf(it.Stroke), colorOf(it.Fill)
	box := brush.Box{X0: -4, Y0: -4, X1: float64(v.Size().Width) + 4, Y1: float64(v.Size().Height) + 4}
	p := it.Points
	switch it.Kind {
	case drawing.Line:
		for i := 1; i < len(p); i++ {
			g.ClipLine(box, p[i-1].X, p[i-1].Y, p[i].X, p[i].Y, float32(it.Width), stroke)
		}
		if it.Width >= 2 {
			corners(g, box, p, float32(it.Width), stroke, s)
		}
	case drawing.Dashed:
		at := it.Shift
		for i := 1; i < len(p); i++ {
			at = g.Dashed(box, p[i-1].X, p[i-1].Y, p[i].X, p[i].Y, at, float32(it.Width), stroke)
		}
	case drawing.Circle:
		if r := it.Radius + it.Width; p[0].X < box.X0-r || p[0].X > box.X1+r || p[0].Y < box.Y0-r || p[0].Y > box.Y1+r {
			return
		}
		circle(g, p[0], it.Radius+it.Width/2, float32(it.Width), it.Stroke, it.Fill, s)
	case drawing.Box:
		h := float32(it.Width) / 2
		x0, y0 := float32(math.Min(p[0].X, p[1].X)), float32(math.Min(p[0].Y, p[1].Y))
		x1, y1 := float32(math.Max(p[0].X, p[1].X)), float32(math.Max(p[0].Y, p[1].Y))
		g.Rect(x0-h, y0-h, x1-x0+2*h, y1-y0+2*h, float32(it.Radius)+h, float32(it.Width), stroke, fill)
	case drawing.Bar:
		bar(g, it, box, s)
	case drawing.Text:
		g.Text(it.Words, float32(p[0].X), float32(p[0].Y), brush.Type{Size: float32(it.Size), Bold: it.Bold}, stroke)
	}
}

// corners fills the notches that straight lines with blunt ends leave where they meet.
func corners(g *brush.Pool, box brush.Box, p []drawing.Point, width float32, c color.Color, s float32) {
	n := len(p)
	closed := n > 3 && p[0] == p[n-1]
	for i := range n - 1 {
		before := i - 1
		if i == 0 {
			if !closed {
				continue
			}
			before = n - 2
		}
		if p[i].X < box.X0 || p[i].X > box.X1 || p[i].Y < box.Y0 || p[i].Y > box.Y1 {
			continue
		}
		ux, uy := p[i].X-p[before].X, p[i].Y-p[before].Y
		wx, wy := p[i+1].X-p[i].X, p[i+1].Y-p[i].Y
		cross, dot := ux*wy-uy*wx, ux*wx+uy*wy
		if math.Abs(cross) < 0.35*math.Abs(dot) && dot > 0 {
			continue
		}
		x, y := snap(p[i].X, s), snap(p[i].Y, s)
		if (ux == 0 || uy == 0) && (wx == 0 || wy == 0) {
			h := width / 2
			g.Rect(x-h, y-h, width, width, 0, 0, nil, c)
		} else {
			g.Circle(x, y, width/2, 0, nil, c)
		}
	}
}

// circle draws a circle with its middle on a pixel corner and its width an even number of pixels.
func circle(g *brush.Pool, at drawing.Point, r float64, width float32, stroke, fill ink.Role, s float32) {
	g.Circle(snap(at.X, s), snap(at.Y, s), even(r, s), width, colorOf(stroke), colorOf(fill))
}

// bar draws a round bar: a disc with its edge at each point, then thick lines, the inner over the outer. The lines cover a disc just where the
// bar goes on from it, so no second disc is needed; a test compares the two.
func bar(g *brush.Pool, it *drawing.Item, box brush.Box, s float32) {
	r := even(it.Radius, s)
	w := float32(math.Max(1, math.Round(it.Width*float64(s)))) / s
	stroke, fill := colorOf(it.Stroke), colorOf(it.Fill)
	wide := brush.Box{X0: box.X0 - float64(r), Y0: box.Y0 - float64(r), X1: box.X1 + float64(r), Y1: box.Y1 + float64(r)}
	for _, p := range it.Points {
		x, y := snap(p.X, s), snap(p.Y, s)
		if float64(x) <= wide.X0 || float64(x) >= wide.X1 || float64(y) <= wide.Y0 || float64(y) >= wide.Y1 {
			continue
		}
		switch {
		case stroke == nil && fill != nil && r > w:
			g.Circle(x, y, r-w, 0, nil, fill)
		case stroke != nil && (fill == nil || r <= w):
			g.Circle(x, y, r, 0, nil, stroke)
		case stroke != nil:
			g.Circle(x, y, r, w, stroke, fill)
		}
	}
	lines := func(r float32, c color.Color) {
		if c == nil || r <= 0 {
			return
		}
		for i := 1; i < len(it.Points); i++ {
			p, q := it.Points[i], it.Points[i-1]
			g.ClipLine(wide, float64(snap(q.X, s)), float64(snap(q.Y, s)), float64(snap(p.X, s)), float64(snap(p.Y, s)), 2*r, c)
		}
	}
	lines(r, stroke)
	lines(r-w, fill)
}

// snap puts a place on a whole device pixel.
func snap(x float64, s float32) float32 { return float32(math.Round(x*float64(s))) / s }

// even makes a radius a whole number of device pixels, at least one.
func even(r float64, s float32) float32 {
	return float32(math.Max(1, math.Round(r*float64(s)))) / s
}

// drawOver marks what the pointer is over, or carries.
func (v *View) drawOver() {
	h := &v.hand
	if h.grip == nothing && h.over.kind != onPivot {
		return
	}
	p := h.over.pivot
	switch h.grip {
	case onPivot, carrying:
		return // the held pivot has its rings
	case nothing:
	default:
		return
	}
	if held, ok := v.doc.Held(); ok && held == p {
		return
	}
	for _, t := range v.handles() {
		if t.Wheel == job.Single && t.Pivot == p && !t.Ride && t.Bolt == 0 {
			v.pool.Circle(float32(t.X), float32(t.Y), 12, 1.5, look.Color(ink.Press), nil)
		}
	}
}

// drawNote writes what the view has to say at its foot.
func (v *View) drawNote(size fyne.Size) {
	phrase := v.note
	if phrase == v.hand.refused && v.readsOut() { // it stands at the pivot
		phrase = ""
	}
	if phrase == "" && v.hand.grip == carrying && v.hand.moved {
		phrase = words.T("Press to put it down, Escape puts it back.")
	}
	v.patchNote = v.placeNote()
	if phrase == "" {
		phrase = v.patchNote
	}
	if phrase == "" {
		return
	}
	t := brush.Type{Size: look.Small, Bold: true}
	lines := look.Wrap(phrase, look.Small, true, size.Width-32)
	h := float32(len(lines)) * look.Lead
	y := size.Height - h - 32
	if v.noteAbove(size) {
		y = 32
	}
	widest := float32(0)
	for _, l := range lines {
		widest = max(widest, brush.Measure(l, t).Width)
	}
	x := (size.Width - widest) / 2
	v.pool.Rect(x-8, y-4, widest+16, h+8, look.Radius, 1, look.Color(ink.Edge), look.Color(ink.Panel))
	for i, l := range lines {
		v.pool.Text(l, x, y+float32(i)*look.Lead-1, t, look.Color(ink.Text))
	}
}

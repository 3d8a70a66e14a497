package view

import (
	"cmp"
	"math"
	"slices"

	"axleloft/geometry/job"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
)

// tag is a worded tag that waits for a place.
type tag struct {
	words  string
	area   []point // units
	name   string
	dotted bool
	laid   bool // of what is laid over the view: no trouble
	pencil bool // of a pencil line: no trouble either
}

// aside is a word that stands beside a mark.
type aside struct {
	words string
	at    point
	halfX float64 // of the mark's box
	halfY float64
	w, h  float64
}

// drafter draws a scene into a picture.
type drafter struct {
	onTop   bool // LEFT and RIGHT stand on the line of the view's name
	t       Transform
	room    box
	measure drawing.Measure
	items   []drawing.Item
	tags    []tag
	asides  []aside
	ink     []trace  // what words keep clear of
	own     string   // the bar a word is tried inside of: other bars of its layer may lie over it
	taken   []box    // words and marks that stand
	full    []filled // what is filled, back to front within a layer
}

// filled is an area that is filled.
type filled struct {
	area  []point
	layer drawing.Layer
	role  ink.Role
}

// trace is a drawn line as words see it.
type trace struct {
	a, b   point
	half   float64 // of its width, units
	weight float64 // how bad it is to stand on it
	layer  drawing.Layer
	bar    string // what bar it is of, "" for any other line
}

// How bad it is for a word to stand on a line: of a fixed part, of what moves, of a far part; a word stands on none if it can.
const (
	onPart  = 8.0
	onMover = 14.0
	onFar   = 6.0
	onPivot = 30.0
	onMark  = 40.0 // stripes
)

// Picture draws the scene for a transform. The words stand where no line runs through them as far as there is such a place; memory (may be
// nil) keeps them from jumping about while things move.
func (s *Scene) Picture(t Transform, m drawing.Measure, memory *Memory) drawing.Picture {
	d := &drafter{t: t, room: box{0, 0, t.Size.W, t.Size.H}, measure: m}
	if s.plane != Rear {
		s.captions(d)
	}
	for i := range s.figures {
		s.drawFigure(d, &s.figures[i])
	}
	s.drawLaid(d)
	s.drawPivots(d)
	s.drawGrips(d)
	if s.plane == Rear {
		s.sides(d)
		s.captions(d)
	}
	s.drawTrouble(d)
	s.placeWords(d, memory)
	slices.SortStableFunc(d.items, func(a, b drawing.Item) int { return cmp.Compare(a.Layer, b.Layer) })
	return drawing.Picture{Width: t.Size.W, Height: t.Size.H, Items: d.items}
}

// screen takes points of the view's axes to the picture.
func (s *Scene) screen(t Transform, pts []point) []point {
	out := make([]point, len(pts))
	for i, p := range pts {
		out[i].X, out[i].Y = t.ToScreen(p.X, p.Y)
	}
	return out
}

func (d *drafter) item(i drawing.Item) { d.items = append(d.items, i) }

func (d *drafter) line(l drawing.Layer, width float64, role ink.Role, pts ...point) {
	for _, run := range clipLines(d.room, pts, false) {
		d.item(drawing.Item{Kind: drawing.Line, Layer: l, Stroke: role, Fill: ink.None, Width: width, Points: run})
	}
}

// circle draws a circle near the view; its ink keeps words away.
func (d *drafter) circle(l drawing.Layer, x, y, r, width float64, stroke, fill ink.Role) {
	if !d.room.grown(r + 4).holds(box{x, y, x, y}) {
		return
	}
	d.item(drawing.Item{Kind: drawing.Circle, Layer: l, Stroke: stroke, Fill: fill, Width: width, Radius: r, Points: []point{{x, y}}})
	if l == drawing.Pivots || l == drawing.Held {
		d.ink = append(d.ink, trace{point{x, y}, point{x, y}, r + 2, onPivot, l, ""})
	}
}

// ring draws a circle that words may stand in.
func (d *drafter) ring(l drawing.Layer, x, y, r, width float64, role ink.Role) {
	if d.room.grown(r + 4).holds(box{x, y, x, y}) {
		d.item(drawing.Item{Kind: drawing.Circle, Layer: l, Stroke: role, Fill: ink.None, Width: width, Radius: r, Points: []point{{x, y}}})
	}
}

func (d *drafter) box(l drawing.Layer, b box, corner, width float64, stroke, fill ink.Role) {
	if !b.grown(4).overlaps(d.room) {
		return
	}
	d.item(drawing.Item{Kind: drawing.Box, Layer: l, Stroke: stroke, Fill: fill, Width: width, Radius: corner, Points: []point{{b.x0, b.y0}, {b.x1, b.y1}}})
}

// text draws words with their upper left corner at x, y.
func (d *drafter) text(words string, x, y, size float64, bold bool, role ink.Role, name string) box {
	w, h := d.measure(words, size, bold)
	d.item(drawing.Item{Kind: drawing.Text, Layer: drawing.Names, Stroke: role, Fill: ink.None, Size: size, Bold: bold, Words: words, Points: []point{{x, y}, {w, h}}, Name: name})
	b := box{x, y, x + w, y + h}
	d.taken = append(d.taken, b)
	return b
}

// plate clears the ground for words, 4 wider than they are.
func (d *drafter) plate(b box, ground ink.Role) {
	if ground == ink.None {
		ground = ink.Ground
	}
	d.box(drawing.Names, box{b.x0 - 4, b.y0, b.x1 + 4, b.y1}, 0, 0, ink.None, ground)
}

// slim is the least thickness of a part that is drawn with heavy lines, units.
const slim = 3 * heavy

// bigCircle is the radius, units, from which a circle is drawn as lines cut to the view: no painter needs to hold all of it.
const bigCircle = 1500.0

func (s *Scene) drawFigure(d *drafter, f *figure) {
	pts := s.screen(d.t, f.pts)
	width, fill := f.width, f.fill
	b := bounds(pts)
	r := f.radius * d.t.Scale
	if f.part && (b.x1-b.x0+2*r) > d.room.x1/2 && (b.y1-b.y0+2*r) > d.room.y1/2 {
		width, fill = light, ink.None
	}
	if f.part && f.closed && width == heavy && math.Min(b.x1-b.x0, b.y1-b.y0) < slim {
		width = light // its two sides would run together
	}
	if !b.grown(r + width).overlaps(d.room) {
		return
	}
	weight := onMover
	if f.layer == drawing.PartLines {
		weight = onPart
		if width < heavy {
			weight = onFar
		}
	} else if f.layer == drawing.GroundTyres && width < heavy {
		weight = onFar
	}
	it := drawing.Item{Layer: f.layer, Stroke: f.stroke, Fill: fill, Width: width, Name: f.name}
	switch f.kind {
	case drawing.Bar:
		s.drawBar(d, it, pts, r, weight)
		return
	case drawing.Circle:
		if r < bigCircle {
			it.Kind, it.Points, it.Radius = drawing.Circle, pts, r
			d.item(it)
			d.inkRing(pts[0], r, width, weight, f.layer)
			if fill != ink.None {
				d.full = append(d.full, filled{arc(pts[0], r), f.layer, fill})
			}
			return
		}
		pts = arc(pts[0], r)
		f.closed = true
	case drawing.Dashed:
		for _, run := range clipLines(d.room.grown(2), pts, false) {
			it.Kind, it.Points, it.Shift = drawing.Dashed, run, f.shift
			d.item(it)
			d.inkLine(run, width, onFar, f.layer)
		}
		return
	}
	if f.closed && fill != ink.None {
		d.full = append(d.full, filled{pts, f.layer, fill})
	}
	if f.closed && fill != ink.None {
		if area := clipArea(d.room.grown(4), pts); len(area) > 2 {
			layer := f.layer
			if f.part {
				layer = drawing.PartFills
			}
			d.item(drawing.Item{Kind: drawing.Fill, Layer: layer, Stroke: ink.None, Fill: fill, Points: area, Name: f.name})
		}
	}
	for _, run := range clipLines(d.room.grown(2), pts, f.closed) {
		line := it
		line.Kind, line.Points, line.Fill = drawing.Line, run, ink.None
		d.item(line)
		d.inkLine(run, width, weight, f.layer)
	}
}

// leastBar is the least diameter at which a bar is drawn with ground inside, units.
const leastBar = 4.0

func (s *Scene) drawBar(d *drafter, it drawing.Item, pts []point, r, weight float64) {
	switch {
	case 2*r < leastBar:
		for _, run := range clipLines(d.room.grown(2), pts, false) {
			it.Kind, it.Points, it.Fill = drawing.Line, run, ink.None
			d.item(it)
		}
	default:
		it.Kind, it.Radius = drawing.Bar, r
		it.Width = math.Min(it.Width, r)
		// The knots that lie far outside are brought in, so that no painter draws more than it shows.
		room := d.room.grown(2*r + 8)
		for _, run := range clipLines(room, pts, false) {
			part := it
			part.Points = run
			d.item(part)
		}
	}
	for i := 1; i < len(pts); i++ {
		d.ink = append(d.ink, trace{a: pts[i-1], b: pts[i], half: math.Max(r, it.Width/2), weight: weight, layer: it.Layer, bar: it.Name})
	}
}

func (d *drafter) inkLine(run []point, width, weight float64, l drawing.Layer) {
	for i := 1; i < len(run); i++ {
		d.ink = append(d.ink, trace{run[i-1], run[i], width / 2, weight, l, ""})
	}
}

func (d *drafter) inkRing(c point, r, width, weight float64, l drawing.Layer) {
	const n = 24
	for i := range n {
		s0, c0 := math.Sincos(2 * math.Pi * float64(i) / n)
		s1, c1 := math.Sincos(2 * math.Pi * float64(i+1) / n)
		d.ink = append(d.ink, trace{point{c.X + r*c0, c.Y + r*s0}, point{c.X + r*c1, c.Y + r*s1}, width / 2, weight, l, ""})
	}
}

func arc(c point, r float64) []point {
	const n = 360
	out := make([]point, n)
	for i := range out {
		sn, cs := math.Sincos(2 * math.Pi * float64(i) / n)
		out[i] = point{c.X + r*cs, c.Y + r*sn}
	}
	return out
}

// drawGrips draws what a hand takes of the tyres in the rear view.
func (s *Scene) drawGrips(d *drafter) {
	if s.plane != Rear || s.job == nil {
		return
	}
	for _, side := range []job.Side{job.Left, job.Right} {
		h, ok := s.wheel(d.t, side)
		if !ok {
			continue
		}
		const tip = 4.0
		up, down := point{h.X, h.Y - gripHalf}, point{h.X, h.Y + gripHalf}
		d.line(drawing.Pivots, light, ink.Press, up, down)
		d.line(drawing.Pivots, light, ink.Press, point{h.X - tip, up.Y + tip}, up, point{h.X + tip, up.Y + tip})
		d.line(drawing.Pivots, light, ink.Press, point{h.X - tip, down.Y - tip}, down, point{h.X + tip, down.Y - tip})
		d.taken = append(d.taken, box{h.X - tip - 2, up.Y - 2, h.X + tip + 2, down.Y + 2})
	}
}

// dimension draws a gap between two points: the line, slant ends, the number bold on clear ground.
func (d *drafter) dimension(a, b point, words, name string) {
	const slant, size = 5.0, 16.0
	long := math.Hypot(b.X-a.X, b.Y-a.Y)
	w, h := d.measure(words, size, true)
	u, v := 1.0, 0.0
	if long > 1e-9 {
		u, v = (b.X-a.X)/long, (b.Y-a.Y)/long
	}
	d.line(drawing.Trouble, light, ink.Measure, a, b)
	for _, p := range []point{a, b} {
		sx, sy := (u-v)*slant/math.Sqrt2, (u+v)*slant/math.Sqrt2
		d.line(drawing.Trouble, heavy, ink.Measure, point{p.X - sx, p.Y - sy}, point{p.X + sx, p.Y + sy})
	}
	mid := point{(a.X + b.X) / 2, (a.Y + b.Y) / 2}
	// Beside the line, on the side with room; in the line where that is long enough.
	at := box{mid.X - w/2, mid.Y - h/2, mid.X + w/2, mid.Y + h/2}
	if math.Abs(u)*long < w+28 && math.Abs(v)*long < h+28 {
		best := math.Inf(1)
		for _, k := range []float64{1, -1} {
			nx, ny := -v*k, u*k
			off := 8 + math.Abs(nx)*w/2 + math.Abs(ny)*h/2
			c := box{mid.X + nx*off - w/2, mid.Y + ny*off - h/2, mid.X + nx*off + w/2, mid.Y + ny*off + h/2}
			if cost := d.cost(c.grown(2), 0); cost < best {
				best, at = cost, c
			}
		}
	}
	d.plate(at, ink.Ground)
	d.text(words, at.x0, at.y0, size, true, ink.Text, name)
}

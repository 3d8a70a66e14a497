package pad

import (
	"image"
	"image/draw"
	"math"

	"axleloft/app/brush"
	"axleloft/app/look"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
)

// patchImage draws the range's ground and marks at device pixels, again only when something of it has changed.
type patchImage struct {
	edge   []place
	geom   geometry
	marks  *region
	laid   *laid
	faint  bool // what is laid is of an older geometry
	dark   bool
	weight float32 // what widths of lines are multiplied by
	img    *image.NRGBA
	over   *image.NRGBA // lines that go over it
	stale  bool
	raster drawing.Raster
	area   []drawing.Point
}

// unseen is a change of the outline that nobody sees, units.
const unseen = 0.25

// set takes in what to paint, and tells whether it looks other than what was painted.
func (m *patchImage) set(edge []place, g geometry, marks *region, laid *laid, faint bool) bool {
	same := len(edge) == len(m.edge) && marks == m.marks && laid == m.laid && faint == m.faint && look.Dark() == m.dark && look.Weight() == m.weight && g.ok == m.geom.ok && g.corner() == m.geom.corner()
	for i := 0; same && i < len(edge); i++ {
		x1, y1 := g.at(edge[i].left, edge[i].right)
		x2, y2 := m.geom.at(m.edge[i].left, m.edge[i].right)
		same = max(x1-x2, x2-x1, y1-y2, y2-y1) < unseen
	}
	if same {
		return false
	}
	m.edge, m.geom, m.marks, m.laid, m.faint, m.stale = edge, g, marks, laid, faint, true
	m.dark, m.weight = look.Dark(), look.Weight()
	return true
}

// corner is where the raster begins and how large it is, whole units.
func (g *geometry) corner() [4]float64 {
	b := g.box
	return [4]float64{math.Floor(b.X0), math.Floor(b.Y0), math.Ceil(b.X1) - math.Floor(b.X0), math.Ceil(b.Y1) - math.Floor(b.Y0)}
}

func (m *patchImage) draw(w, h int) image.Image {
	if m.img == nil || m.img.Rect.Dx() != w || m.img.Rect.Dy() != h {
		m.img, m.stale = image.NewNRGBA(image.Rect(0, 0, w, h)), true
	}
	if !m.stale || !m.geom.ok {
		return m.img
	}
	m.stale = false
	c := m.geom.corner()
	m.area = m.area[:0]
	for _, e := range m.edge {
		x, y := m.geom.at(e.left, e.right)
		m.area = append(m.area, drawing.Point{X: float64(x) - c[0], Y: float64(y) - c[1]})
	}
	p := drawing.Picture{Width: c[2], Height: c[3], Items: []drawing.Item{{Kind: drawing.Fill, Fill: ink.RangeGround, Points: m.area}}}
	m.raster.Paint(m.img, &p, float64(w)/c[2], m.dark)
	m.mark(w, h, c)
	if p.Items = m.strokes(nil, c); len(p.Items) > 0 { // over the marks
		if m.over == nil || m.over.Rect != m.img.Rect {
			m.over = image.NewNRGBA(m.img.Rect)
		}
		m.raster.Paint(m.over, &p, float64(w)/c[2], m.dark)
		draw.Draw(m.img, m.img.Rect, m.over, image.Point{}, draw.Over)
	}
	return m.img
}

// mark stripes and dots what is marked.
func (m *patchImage) mark(w, h int, c [4]float64) {
	unit := c[2] / float64(w) // units a device pixel
	trouble := ink.Color(ink.Trouble, m.dark)
	mark := m.marking()
	if mark == nil {
		return
	}
	for j := range h {
		for i := range w {
			if m.img.Pix[m.img.PixOffset(i, j)+3] == 0 {
				continue
			}
			x, y := c[0]+(float64(i)+0.5)*unit, c[1]+(float64(j)+0.5)*unit
			u, v := (x-m.geom.cx)/m.geom.k, (m.geom.cy-y)/m.geom.k
			switch hits, tight := mark(v-u, v+u); {
			case hits:
				brush.Blend(m.img, i, j, trouble, brush.Ink(brush.Hits, x, y, unit))
			case tight:
				brush.Blend(m.img, i, j, trouble, brush.Ink(brush.Tight, x, y, unit))
			}
		}
	}
}

// marking tells of a position whether it is to be striped or dotted: parts that touch or come tight, or, where joint use is laid in the patch, a
// joint that binds or is close to its limit; dotted too where the axle is poorly held. nil where nothing is.
func (m *patchImage) marking() func(left, right float64) (hits, tight bool) {
	if k := m.laid; k != nil && k.which.key == "use" {
		if m.faint || k.words == "" {
			return nil
		}
		return func(left, right float64) (bool, bool) {
			use, ok := k.field.at(left, right)
			return ok && use >= bindUse, ok && use >= closeUse
		}
	}
	if k := m.laid; k != nil && k.pair != nil {
		if m.faint || k.none {
			return nil
		}
		return k.marked
	}
	if m.marks == nil {
		return nil
	}
	return m.marks.marked
}

// How wide a line of a reading is drawn, and one at which something begins, units.
const (
	lineWidth = 1.5
	heavyLine = 3.0
)

// strokes adds the lines of the reading laid in the patch and those where parts first touch, each piece a thin area, since a raster has areas only.
func (m *patchImage) strokes(items []drawing.Item, c [4]float64) []drawing.Item {
	if m.marks != nil && (m.laid == nil || m.laid.pair == nil && m.laid.which.key != "use") {
		for _, path := range m.marks.begins {
			items = m.stroke(items, c, path, ink.Trouble, heavyLine)
		}
	}
	if m.laid == nil {
		return items
	}
	role := ink.Second
	if m.faint {
		role = ink.Rule
	}
	for i := range m.laid.lines {
		l := &m.laid.lines[i]
		if k := m.laid.pair; k != nil && k.isWanted(l.value, m.laid.inch) {
			continue
		}
		items = m.stroke(items, c, l.path, role, lineWidth)
	}
	if k := m.laid.pair; k != nil {
		wanted, touch := ink.Measure, ink.Trouble
		if m.faint {
			wanted, touch = ink.Rule, ink.Rule
		}
		for i := range m.laid.lines {
			if l := &m.laid.lines[i]; k.isWanted(l.value, m.laid.inch) {
				items = m.stroke(items, c, l.path, wanted, heavyLine)
			}
		}
		for _, path := range k.begins {
			items = m.stroke(items, c, path, touch, heavyLine)
		}
	}
	return items
}

// stroke adds a line through some positions.
func (m *patchImage) stroke(items []drawing.Item, c [4]float64, path []place, role ink.Role, width float64) []drawing.Item {
	width *= float64(m.weight)
	for k := 1; k < len(path); k++ {
		ax, ay := m.geom.at(path[k-1].left, path[k-1].right)
		bx, by := m.geom.at(path[k].left, path[k].right)
		dx, dy := float64(bx-ax), float64(by-ay)
		far := math.Hypot(dx, dy)
		if far < 1e-6 {
			continue
		}
		nx, ny := -dy/far*width/2, dx/far*width/2
		tx, ty := dx/far*0.2, dy/far*0.2 // a hair further, so that pieces meet
		x0, y0, x1, y1 := float64(ax)-c[0]-tx, float64(ay)-c[1]-ty, float64(bx)-c[0]+tx, float64(by)-c[1]+ty
		items = append(items, drawing.Item{Kind: drawing.Fill, Fill: role,
			Points: []drawing.Point{{X: x0 + nx, Y: y0 + ny}, {X: x1 + nx, Y: y1 + ny}, {X: x1 - nx, Y: y1 - ny}, {X: x0 - nx, Y: y0 - ny}}})
	}
	return items
}

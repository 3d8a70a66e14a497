package pad

import (
	"image"
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
	dark   bool
	img    *image.NRGBA
	stale  bool
	raster drawing.Raster
	area   []drawing.Point
}

// unseen is a change of the outline that nobody sees, units.
const unseen = 0.25

// set takes in what to paint, and tells whether it looks other than what was painted.
func (m *patchImage) set(edge []place, g geometry, marks *region) bool {
	same := len(edge) == len(m.edge) && marks == m.marks && look.Dark() == m.dark && g.ok == m.geom.ok && g.corner() == m.geom.corner()
	for i := 0; same && i < len(edge); i++ {
		x1, y1 := g.at(edge[i].left, edge[i].right)
		x2, y2 := m.geom.at(m.edge[i].left, m.edge[i].right)
		same = max(x1-x2, x2-x1, y1-y2, y2-y1) < unseen
	}
	if same {
		return false
	}
	m.edge, m.geom, m.marks, m.dark, m.stale = edge, g, marks, look.Dark(), true
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
	if m.marks == nil {
		return m.img
	}
	unit := c[2] / float64(w) // units a device pixel
	trouble := ink.Color(ink.Trouble, m.dark)
	for j := range h {
		for i := range w {
			if m.img.Pix[m.img.PixOffset(i, j)+3] == 0 {
				continue
			}
			x, y := c[0]+(float64(i)+0.5)*unit, c[1]+(float64(j)+0.5)*unit
			u, v := (x-m.geom.cx)/m.geom.k, (m.geom.cy-y)/m.geom.k
			gap, slack, ok := m.marks.at(v-u, v+u)
			switch {
			case !ok || math.IsNaN(gap):
			case gap < 0:
				brush.Blend(m.img, i, j, trouble, brush.Ink(brush.Hits, x, y, unit))
			case slack < 0:
				brush.Blend(m.img, i, j, trouble, brush.Ink(brush.Tight, x, y, unit))
			}
		}
	}
	return m.img
}

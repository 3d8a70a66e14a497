package pad

import (
	"math"
	"slices"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
)

// edgesDiffer is how far two outlines must lie apart for the one of a pencil line to be drawn, mm.
const edgesDiffer = 0.5

// pencilEdge is the outline of a pencil line's range, and where it lies furthest from the live one.
type pencilEdge struct {
	of   *study.Study
	edge []place
	live *study.Study // that the distances are from
	off  []int        // its points by how far they lie from the live outline, furthest first
	most float64
}

// beyond is how far a position lies from an outline along its ray, mm.
func beyond(edge []place, at place) float64 {
	far := math.Hypot(at.left, at.right)
	_, _, t, _, ok := locate(edge, at.left, at.right)
	if !ok || t == 0 {
		return 0
	}
	return far * math.Abs(1-1/t)
}

// pencilEdges are the outlines of the pencil lines, by their order.
func (p *Pad) pencilEdges(list []document.Pencil) []*pencilEdge {
	out := make([]*pencilEdge, len(list))
	for i := range list {
		s := list[i].Study
		for _, k := range p.pencils {
			if k.of == s {
				out[i] = k
			}
		}
		if out[i] == nil {
			out[i] = &pencilEdge{of: s, edge: outline(s)}
		}
		k := out[i]
		if k.live == p.edgeOf {
			continue
		}
		k.live, k.most = p.edgeOf, 0
		far := make([]float64, len(k.edge))
		k.off = make([]int, len(k.edge))
		for n, e := range k.edge {
			k.off[n], far[n] = n, beyond(p.edge, e)
			k.most = math.Max(k.most, far[n])
		}
		slices.SortStableFunc(k.off, func(a, b int) int {
			switch {
			case far[a] > far[b]:
				return -1
			case far[a] < far[b]:
				return 1
			}
			return 0
		})
	}
	p.pencils = out
	return out
}

// drawPencils draws the outlines of pencil lines that have another range.
func (p *Pad) drawPencils(list []document.Pencil, size fyne.Size) {
	room := brush.Box{X0: 2, Y0: 2, X1: float64(size.Width) - 2, Y1: float64(size.Height) - 2}
	for i, k := range p.pencilEdges(list) {
		if len(k.edge) < 3 || k.most < edgesDiffer {
			continue
		}
		at := drawing.PencilShift(list[i].Place)
		line := p.geom.line(k.edge)
		for n, a := range line {
			b := line[(n+1)%len(line)]
			at = p.pool.Dashed(room, float64(a.X), float64(a.Y), float64(b.X), float64(b.Y), at, 1.5*look.Weight(), look.Color(ink.Pencil))
		}
	}
}

// namePencils writes each pencil line's name at its outline, inside the patch where there is clear room; it tells the room they take.
func (p *Pad) namePencils(list []document.Pencil, taken []brush.Box) []brush.Box {
	for i, k := range p.pencils {
		if i >= len(list) || len(k.edge) < 3 || k.most < edgesDiffer {
			continue
		}
		text := list[i].Words()
		m := brush.Measure(text, plain)
		for _, n := range k.off {
			x, y := p.geom.at(k.edge[n].left, k.edge[n].right)
			dx, dy := p.geom.cx-float64(x), p.geom.cy-float64(y)
			far := math.Hypot(dx, dy)
			if far < 1 {
				continue
			}
			in := 10 + float64(m.Height)/2 + math.Abs(dx/far)*float64(m.Width)/2 // toward ride, clear of both outlines
			cx, cy := float64(x)+dx/far*in, float64(y)+dy/far*in
			b := brush.Box{X0: cx - float64(m.Width)/2 - 4, Y0: cy - float64(m.Height)/2, X1: cx + float64(m.Width)/2 + 4, Y1: cy + float64(m.Height)/2}
			if p.clear(b, taken) {
				p.pool.Plate(text, float32(b.X0)+4, float32(b.Y0), plain, look.Color(ink.Second), look.Color(ink.RangeGround))
				taken = append(taken, b)
				break
			}
		}
	}
	return taken
}

// drawOther marks the second position that is drawn in the views.
func (p *Pad) drawOther() {
	if _, at, ok := p.doc.Other(); ok {
		x, y := p.geom.at(at.Pose.Left, at.Pose.Right)
		p.pool.Circle(x, y, dotRadius-2, 1.5*look.Weight(), look.Color(ink.Pencil), look.Color(ink.Ground))
		p.pool.Circle(x, y, 2.5, 0, nil, look.Color(ink.Pencil))
	}
}

// sayOther says how far what is held moves between the two positions drawn; ok is false where only one is.
func (p *Pad) sayOther() (head, rest string, ok bool) {
	c, chosen := p.doc.OtherChosen()
	if !chosen {
		return "", "", false
	}
	_, at, ok := p.doc.Other()
	if !ok {
		return words.F("Against %s.", c.Words()), words.T("The axle stands there already, or the links do not let it go there: move it, or choose another second position."), true
	}
	var held *edit.Pivot
	if h, ok := p.doc.Held(); ok {
		held = &h
	}
	var part *edit.Part
	if k, ok := p.doc.Selected(); ok {
		part = &k
	}
	here := words.T("here")
	if at, ok := p.doc.CornerAt(); ok {
		here = at.Words()
	}
	return study.Upper(words.F("%s against %s.", here, c.Words())), view.MovedWords(p.doc.Now(), p.doc.Position(), at, held, part), true
}

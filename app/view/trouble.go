package view

import (
	"cmp"
	"math"
	"slices"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/measure"
	"axleloft/geometry/shape"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
)

// How many places are marked in a view, and how many of them have a tag.
const (
	mostHits  = 8
	mostTight = 8
	hitTags   = 3
)

// trouble is a place where two parts hit or come too close.
type trouble struct {
	pair int
	gap  float64 // mm
	area []point // mm, convex
	name string
}

// addTrouble collects the places where parts hit or are tight at the position shown.
func (s *Scene) addTrouble() {
	if s.gaps == nil || s.in.At == nil {
		return
	}
	pairs := s.in.Now.Gaps.Pairs
	for i := range s.in.At.Gaps {
		if i >= len(pairs) {
			break
		}
		g := &s.in.At.Gaps[i]
		t := trouble{pair: i, gap: g.Gap, name: s.pairName(i)}
		switch {
		case g.Gap < 0:
			t.area = s.sharedArea(i, g)
			s.hits = append(s.hits, t)
		case g.Gap < pairs[i].Required:
			t.area = hull(s.flats(g.PointA, g.PointB))
			s.close = append(s.close, t)
		}
	}
	worst := func(a, b trouble) int { return cmp.Compare(a.gap, b.gap) }
	slices.SortStableFunc(s.hits, worst)
	slices.SortStableFunc(s.close, worst)
	s.hits = s.hits[:min(len(s.hits), mostHits)]
	s.close = s.close[:min(len(s.close), mostTight)]
}

func (s *Scene) pairName(i int) string {
	g := s.in.Now.Gaps
	return g.Parts[g.Pairs[i].A].Name + " / " + g.Parts[g.Pairs[i].B].Name
}

// sharedArea is where a view shows the space two parts share: what their outlines have in common, within the box that holds it.
func (s *Scene) sharedArea(i int, g *clearance.Gap) []point {
	points := s.flats(g.PointA, g.PointB)
	var o clearance.Overlap
	if !s.gaps.Overlap(i, &o) {
		return hull(points)
	}
	a, b := s.gaps.Sides(i)
	area := common(silhouette(s.plane, piece(a, g.PieceA)), silhouette(s.plane, piece(b, g.PieceB)))
	lo, hi := s.flat(o.Min), s.flat(o.Max)
	room := box{math.Min(lo.X, hi.X), math.Min(lo.Y, hi.Y), math.Max(lo.X, hi.X), math.Max(lo.Y, hi.Y)}
	area = clipArea(room, area)
	if len(area) < 3 {
		return hull(points)
	}
	return hull(area)
}

func piece(s *shape.Solid, i int) *shape.Piece { return &s.Pieces[min(max(i, 0), len(s.Pieces)-1)] }

// length writes a length in the unit shown.
func (s *Scene) length(mm float64) string { return Length(mm, s.in.Inch) }

// Length writes a length as the views do: whole mm, tenths below 10; or inches to the nearest 1/16.
func Length(mm float64, inch bool) string {
	if inch {
		in, _ := measure.Fraction(mm, measure.DefaultDenominator)
		return in
	}
	return measure.MM(mm)
}

// drawTrouble draws stripes and dots and asks for the tags' places.
func (s *Scene) drawTrouble(d *drafter) {
	for i := range s.close {
		t := &s.close[i]
		area := clipArea(d.room.grown(20), mark(grow(s.screen(d.t, t.area), 3)))
		if len(area) < 3 || !bounds(area).overlaps(d.room) {
			continue
		}
		d.item(drawing.Item{Kind: drawing.Dots, Layer: drawing.Trouble, Stroke: ink.Trouble, Points: area, Name: t.name})
		if len(s.hits) == 0 && i == 0 && !s.in.ShowGap {
			d.tags = append(d.tags, tag{words: words.F("tight %s", s.length(t.gap)), area: area, name: t.name, dotted: true})
		}
	}
	for i := range s.hits {
		t := &s.hits[i]
		area := clipArea(d.room.grown(20), mark(s.screen(d.t, t.area)))
		if len(area) < 3 || !bounds(area).overlaps(d.room) {
			continue
		}
		d.item(drawing.Item{Kind: drawing.Stripes, Layer: drawing.Trouble, Stroke: ink.Trouble, Points: area, Name: t.name})
		for _, run := range clipLines(d.room, area, true) {
			d.item(drawing.Item{Kind: drawing.Line, Layer: drawing.Trouble, Stroke: ink.Trouble, Width: light, Points: run, Name: t.name})
		}
		if len(d.tags) < hitTags {
			d.tags = append(d.tags, tag{words: words.F("hits %s", s.length(-t.gap)), area: area, name: t.name})
		}
	}
	for i := range s.marks {
		w := &s.marks[i]
		area := clipArea(d.room.grown(20), mark(s.screen(d.t, w.area)))
		if len(area) > 2 && bounds(area).overlaps(d.room) {
			d.tags = append(d.tags, tag{words: w.words, area: area, name: w.name})
		}
	}
	s.drawHolding(d)
	s.drawGap(d)
}

// drawGap draws the gap of the pair asked for as a dimension between its two points.
func (s *Scene) drawGap(d *drafter) {
	if !s.in.ShowGap || s.in.At == nil || s.in.Pair < 0 || s.in.Pair >= len(s.in.At.Gaps) {
		return
	}
	g := &s.in.At.Gaps[s.in.Pair]
	if g.Gap < 0 {
		return // the stripes and their tag say it
	}
	ax, ay := d.t.Place(g.PointA)
	bx, by := d.t.Place(g.PointB)
	d.dimension(point{ax, ay}, point{bx, by}, s.length(g.Gap), s.pairName(s.in.Pair))
}

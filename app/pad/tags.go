package pad

import (
	"strings"

	"axleloft/app/brush"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/ink"
)

// note is a place in the patch and what is said of it.
type note struct {
	words []string // the whole, then shorter and shorter
	at    place
}

// guessed says that it rests on a guess: in words where there is room, by the mark of a guess where not.
func (n *note) guessed(on bool) {
	if !on {
		return
	}
	list := []string{words.F("%s, rests on a guess", n.words[0])}
	for _, w := range n.words {
		list = append(list, w+" ?")
	}
	n.words = list
}

// trouble draws the line where parts first touch and says in words what the marks are. It tells the room its words take.
func (p *Pad) trouble(s *study.Study) (taken []brush.Box) {
	if l := p.laid; l != nil && l.which.key == "use" { // the joints' own marks stand in place of the parts'
		if l.words == "" || !p.laidCurrent() {
			return nil
		}
		name, _, _ := strings.Cut(l.words, ",")
		kind, _, _ := strings.Cut(l.words, ":")
		return []brush.Box{p.tag(note{[]string{l.words, name, kind}, l.worst})}
	}
	if p.onPair() {
		return p.pairTag()
	}
	marks := p.shownMarks()
	if marks == nil {
		return nil
	}
	c := look.Color(ink.Trouble)
	for _, l := range marks.touchLine() {
		x1, y1 := p.geom.at(l[0].left, l[0].right)
		x2, y2 := p.geom.at(l[1].left, l[1].right)
		p.pool.Line(x1, y1, x2, y2, 3*look.Weight(), c)
	}
	low := false
	if pair, hit, at, ok := marks.worst(); ok && s.Gaps != nil && pair < len(s.Gaps.Pairs) {
		a, b := s.Gaps.Parts[s.Gaps.Pairs[pair].A].Name, s.Gaps.Parts[s.Gaps.Pairs[pair].B].Name
		n := note{[]string{words.F("tight: %s", both(a, b)), words.T("tight")}, at}
		if hit {
			n = note{[]string{words.F("%s hits %s", short(a), short(b)), words.T("hits")}, at}
		}
		n.guessed(len(s.RestsOn(pair)) > 0)
		taken = append(taken, p.tag(n))
		low = taken[0].Y0 > p.geom.cy
	}
	if at, ok := marks.loose(); ok {
		n := note{[]string{words.T("poorly held here"), words.T("poorly held")}, at}
		if len(taken) == 0 {
			_, y := p.geom.at(at.left, at.right)
			low = float64(y) > p.geom.cy+14
		}
		taken = append(taken, p.tagAt(n, !low))
	}
	return taken
}

// tag writes a note across the middle from its place.
func (p *Pad) tag(n note) brush.Box {
	_, y := p.geom.at(n.at.left, n.at.right)
	return p.tagAt(n, float64(y) <= p.geom.cy+14)
}

// tagAt writes a note in the lower half of the patch, or the upper one, with a line to its place.
func (p *Pad) tagAt(n note, lower bool) brush.Box {
	said := ""
	for _, said = range n.words { // a small pad has room for the kind only
		if m := brush.TagSize(said, 15); float64(m.Width) <= 0.75*(p.geom.box.X1-p.geom.box.X0) {
			break
		}
	}
	c := look.Color(ink.Trouble)
	m := brush.TagSize(said, 15)
	x, y := p.geom.at(n.at.left, n.at.right)
	ty := float32(p.geom.cy) + 20
	if !lower {
		ty = float32(p.geom.cy) - 20 - m.Height - 6
	}
	tx := float32(p.geom.cx) - m.Width/2
	ly := ty
	if ty < y {
		ly = ty + m.Height
	}
	if y < ty || y > ty+m.Height {
		p.pool.Line(x, y, tx+m.Width/2+clamp((x-tx-m.Width/2)*0.2, m.Width/2-6), ly, 1.5*look.Weight(), c)
	}
	p.pool.Circle(x, y, 2.5, 0, nil, c)
	return p.pool.Tag(said, tx, ty, 15, look.Color(ink.Text), c, look.Color(ink.Ground))
}

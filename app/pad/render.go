package pad

import (
	"math"
	"sort"
	"strings"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/limits"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
)

type renderer struct{ p *Pad }

// CreateRenderer makes the pad's renderer; Fyne calls it.
func (p *Pad) CreateRenderer() fyne.WidgetRenderer {
	p.ExtendBaseWidget(p)
	return &renderer{p}
}

func (r *renderer) Destroy()                     {}
func (r *renderer) MinSize() fyne.Size           { return r.p.MinSize() }
func (r *renderer) Objects() []fyne.CanvasObject { return r.p.pool.Objects() }

// Layout draws for another size. The toolkit also calls it in every frame in which a word has got longer: then there is nothing to do.
func (r *renderer) Layout(s fyne.Size) {
	if s != r.p.drawn {
		r.p.draw()
	}
}

// Refresh draws before the next frame.
func (r *renderer) Refresh() { r.p.redraw.Ask() }

var (
	bold  = brush.Type{Size: 15, Bold: true}
	plain = brush.Type{Size: 15}
	title = brush.Type{Size: 16, Bold: true}
)

// draw makes the whole picture again.
func (p *Pad) draw() {
	size := p.Size()
	p.redraw.Drop()
	p.drawn = size
	g := &p.pool
	g.Begin()
	p.zones = p.zones[:0]
	p.buttons(size)
	s, _ := p.doc.Study()
	fresh := p.doc.Freshness()
	p.geom = fit(p.edge, size)
	pos := p.doc.Position()
	if p.geom.ok {
		p.drawPatch()
		p.axes()
		p.outline(fresh.Live)
		pencils := p.doc.Pencils()
		p.drawPencils(pencils, size)
		p.sideWords(size)
		p.figures(p.namePencils(pencils, append(p.trouble(s), p.rideWord())))
		p.drawOther()
		p.drawDot(pos.Pose.Left, pos.Pose.Right)
	}
	at := p.travels()
	head, rest := say(s, fresh.Full, p.doc.Unit(), at.left, at.right)
	if p.geom.ok {
		if h, r, ok := p.sayOther(); ok {
			head, rest = h, r
		} else {
			head, rest = p.sayMore(head, rest, pos)
		}
	}
	if phrase := p.doc.StopWords(); phrase != "" && rest == "" {
		rest = phrase
	}
	p.sentence(size, head, rest)
	if p.focused {
		g.Rect(0, 0, size.Width, size.Height, 0, 2*look.Weight(), look.Color(ink.Press), nil)
	}
}

// buttons writes the heading and puts the two buttons at its right.
func (p *Pad) buttons(size fyne.Size) {
	if p.onPair() {
		p.pairTitle(p.pairButtons(size))
		if len(p.edge) > 0 {
			p.secondRow(size)
		}
		return
	}
	p.pool.Text(words.T("Travel pad"), 8, 8, title, look.Color(ink.Text))
	phrase := words.T("Walk the edge")
	if size.Width < 300 {
		phrase = words.T("Walk")
	}
	p.walkButton.SetText(phrase)
	w := p.walkButton.MinSize()
	p.walkButton.Resize(w)
	p.walkButton.Move(fyne.NewPos(size.Width-8-w.Width, 0))
	r := p.rideButton.MinSize()
	p.rideButton.Resize(r)
	p.rideButton.Move(fyne.NewPos(size.Width-16-w.Width-r.Width, 0))
	if len(p.edge) == 0 {
		return
	}
	p.pool.Put(p.rideButton)
	p.pool.Put(p.walkButton)
	p.secondRow(size)
}

// The row under the heading, beside the word of full bump: what lines are laid in the patch, and the get-home positions.
const (
	rowTop    = 40
	rowBottom = 70
)

func (p *Pad) secondRow(size fyne.Size) {
	room := size.Width/2 - brush.Measure(words.T("full bump"), bold).Width/2 - 8 - 10
	phrase := words.T("Lines")
	if p.laying.key != "" {
		phrase = study.Upper(words.T(p.laying.name))
	}
	fitIn := func(b *look.Button, phrase ...string) {
		for _, w := range phrase {
			b.SetText(w)
			if b.Padding(8).MinSize().Width <= room || b.Padding(4).MinSize().Width <= room {
				return
			}
		}
	}
	fitIn(p.layButton, phrase, words.T("Lines"))
	p.layButton.SetLit(p.laying.key != "")
	fitIn(p.homeButton, words.T("Get home"), words.T("Down"))
	m := p.layButton.MinSize()
	p.layButton.Resize(m)
	p.layButton.Move(fyne.NewPos(8, rowTop))
	p.pool.Put(p.layButton)
	m = p.homeButton.MinSize()
	p.homeButton.Resize(m)
	p.homeButton.Move(fyne.NewPos(size.Width-8-m.Width, rowTop))
	p.pool.Put(p.homeButton)
}

// drawPatch fills the range and marks what touches and what is tight in it.
func (p *Pad) drawPatch() {
	changed := p.paint.set(p.edge, p.geom, p.shownMarks(), p.laid, !p.laidCurrent())
	c := p.geom.corner()
	p.patch.Move(fyne.NewPos(float32(c[0]), float32(c[1])))
	p.patch.Resize(fyne.NewSize(float32(c[2]), float32(c[3])))
	if changed {
		p.patch.Refresh()
	}
	p.pool.Put(p.patch)
}

// axes draws the lines through ride, cut to the outline, and the ticks of the heights.
func (p *Pad) axes() {
	g := &p.geom
	second := look.Color(ink.Second)
	for _, d := range [2]place{{1, -1}, {1, 1}} {
		from, to := edgeOn(p.edge, place{-d.left, -d.right}), edgeOn(p.edge, d)
		x1, y1 := g.at(from.left, from.right)
		x2, y2 := g.at(to.left, to.right)
		p.pool.Line(x1, y1, x2, y2, look.Weight(), second)
	}
	heave := 0.0
	s, _ := p.doc.Study()
	if i := p.doc.Load(); i >= 0 && i < len(s.Loads) {
		heave = s.Loads[i].Heave
	}
	text := look.Color(ink.Text)
	if v := p.doc.Current().Vehicle; v != nil {
		for _, h := range v.Heights {
			at := h.Heave + heave
			if _, _, t, _, ok := locate(p.edge, at, at); ok && t > 1 {
				continue
			}
			x, y := g.at(at, at)
			if math.Abs(at) < 1e-9 {
				continue
			}
			p.pool.Line(x-7, y, x+7, y, 2*look.Weight(), text)
		}
	}
	x, y := g.at(0, 0)
	p.pool.Line(x-7, y, x+7, y, 3*look.Weight(), text)
	p.pool.Text(words.T("ride"), x+14, y-22, plain, text)
}

// rideWord is the room the word at ride and the dot beside it take.
func (p *Pad) rideWord() brush.Box {
	x, y := p.geom.at(0, 0)
	m := brush.Measure(words.T("ride"), plain)
	return brush.Box{X0: float64(x) - dotRing, Y0: float64(y) - 22, X1: float64(x+m.Width) + 16, Y1: float64(y) + dotRing}
}

func (p *Pad) outline(live bool) {
	c := look.Color(ink.Text)
	if !live {
		c = look.Color(ink.Pencil)
	}
	line := p.geom.line(p.edge)
	for i, a := range line {
		b := line[(i+1)%len(line)]
		p.pool.Line(a.X, a.Y, b.X, b.Y, 3*look.Weight(), c)
		p.pool.Circle(a.X, a.Y, 1.5*look.Weight(), 0, nil, c)
	}
	if s, _ := p.doc.Study(); live && s.Bounded() { // where the links end the travel
		trouble := look.Color(ink.Trouble)
		for i := range s.Range.Edge {
			a, b := &s.Range.Edge[i], &s.Range.Edge[(i+1)%len(s.Range.Edge)]
			if a.Cause == limits.NoAssembly && b.Cause == limits.NoAssembly {
				x1, y1 := p.geom.at(a.Left, a.Right)
				x2, y2 := p.geom.at(b.Left, b.Right)
				p.pool.Line(x1, y1, x2, y2, 3*look.Weight(), trouble)
			}
		}
	}
}

// word draws a blue word to press; where the axle stands there it is a filled plate.
func (p *Pad) word(phrase string, x, y float32, do action, corner document.Corner) {
	m := brush.Measure(phrase, bold)
	if p.stands(corner) {
		p.pool.Rect(x-8, y-1, m.Width+16, m.Height+2, 3, 0, nil, look.Color(ink.Press))
		p.pool.Text(phrase, x, y, bold, look.Color(ink.OnPress))
	} else {
		p.pool.Plate(phrase, x, y, bold, look.Color(ink.Press), look.Color(ink.Ground))
		if p.hover == do {
			p.pool.Line(x, y+m.Height-2, x+m.Width, y+m.Height-2, 1.5, look.Color(ink.Press))
		}
	}
	p.zones = append(p.zones, zone{do, phrase, brush.Box{X0: float64(x), Y0: float64(y), X1: float64(x + m.Width), Y1: float64(y + m.Height)}})
}

// near is how near to a corner the axle stands at it, mm: less than the figures show. Where the worst place was searched for, it need not be
// the corner to the last digit.
const near = 0.5

// corner is where a corner of the range is.
func (p *Pad) corner(c document.Corner) (at place, ok bool) {
	s, _ := p.doc.Study()
	if !s.Bounded() {
		return place{}, false
	}
	switch r := s.Range; {
	case c == document.Ride:
		return place{}, true
	case c == document.FullBump:
		return place{r.Bump, r.Bump}, true
	case c == document.FullDroop:
		return place{-r.Droop, -r.Droop}, true
	case c == document.LeftUp && r.LeftUp != nil:
		return place{r.LeftUp.Left, r.LeftUp.Right}, true
	case c == document.RightUp && r.RightUp != nil:
		return place{r.RightUp.Left, r.RightUp.Right}, true
	}
	return place{}, false
}

// stands reports whether the axle stands at a corner.
func (p *Pad) stands(c document.Corner) bool {
	if at, ok := p.doc.CornerAt(); ok {
		return at == c
	}
	at, ok := p.corner(c)
	pose := p.doc.Position().Pose
	return ok && math.Abs(pose.Left-at.left) < near && math.Abs(pose.Right-at.right) < near
}

// travels is where the axle stands in figures: the corner's, where it stands at one.
func (p *Pad) travels() place {
	for c := document.Ride; c <= document.RightUp; c++ {
		if p.stands(c) {
			if at, ok := p.corner(c); ok {
				return at
			}
		}
	}
	pose := p.doc.Position().Pose
	return place{pose.Left, pose.Right}
}

// sideWords puts the corners' words at the corners and, round the outline, what stops the axle there.
func (p *Pad) sideWords(size fyne.Size) {
	g := &p.geom
	center := func(phrase string, y float32, do action, c document.Corner) {
		m := brush.Measure(phrase, bold)
		x := float32(g.cx) - m.Width/2
		p.word(phrase, min(max(x, 8), size.Width-8-m.Width), y, do, c)
	}
	center(words.T("full bump"), float32(g.box.Y0)-36, goBump, document.FullBump)
	center(words.T("full droop"), float32(g.box.Y1)+3, goDroop, document.FullDroop)

	var quarters [4][]edgeLabel // upper left, upper right, lower left, lower right
	for _, l := range p.labels {
		x, y := g.at(l.middle.left, l.middle.right)
		q := 0
		if float64(x) > g.cx {
			q++
		}
		if float64(y) > (g.box.Y0+g.box.Y1)/2 {
			q += 2
		}
		quarters[q] = append(quarters[q], l)
	}
	s, _ := p.doc.Study()
	// the height of a corner: the middle of what lies furthest out, which is a point or, where a limit runs across, a side
	cornerY := func(left bool) float64 {
		most := 0.0
		for _, e := range p.edge {
			ex, _ := g.at(e.left, e.right)
			if d := float64(ex) - g.cx; (d < 0) == left {
				most = math.Max(most, math.Abs(d))
			}
		}
		top, bottom := math.Inf(1), math.Inf(-1)
		for _, e := range p.edge {
			ex, ey := g.at(e.left, e.right)
			if d := float64(ex) - g.cx; (d < 0) == left && math.Abs(d) > most-1 {
				top, bottom = math.Min(top, float64(ey)), math.Max(bottom, float64(ey))
			}
		}
		if top > bottom {
			return g.cy
		}
		return (top + bottom) / 2
	}
	for side := range 2 {
		left := side == 0
		corner := cornerY(left)
		upper, lower := p.ordered(quarters[side]), p.ordered(quarters[2+side])
		y, rest := p.flow(upper, size, left, math.Max(g.box.Y0-11, rowBottom), corner-24, true)
		top := math.Min(corner+42, g.box.Y1-lineStep*float64(2*len(lower)))
		if len(rest) > 0 { // what found no room above its corner stands under it
			top = corner + 6
		}
		lower = append(rest, lower...)
		top = math.Max(top, corner+6)
		from, least := top, math.MaxInt
		for _, down := range [...]float64{0, 6, 12, 18, -9, -18, -27} { // where the most of them find room
			at := math.Max(top+down, corner+6)
			if _, _, out := p.lay(lower, size, left, at, g.box.Y1+22, false); len(out) < least {
				from, least = at, len(out)
			}
		}
		p.flow(lower, size, left, from, g.box.Y1+22, false)
		if s.Range == nil || !s.Range.Bounded {
			continue
		}
		do, at, phrase, x := goLeftUp, document.LeftUp, words.T("left up"), float32(8)
		if !left {
			do, at, phrase = goRightUp, document.RightUp, words.T("right up")
			x = size.Width - 8 - brush.Measure(phrase, bold).Width
		}
		at0 := math.Min(math.Max(y+2, corner-43), corner-24)
		for up := at0; up >= y+2; up -= 2 { // clear of the outline, if there is such a place under the labels
			if g.room(p.edge, size, left, up, up+lineStep) >= float64(brush.Measure(phrase, bold).Width) {
				at0 = up
				break
			}
		}
		p.word(phrase, x, float32(at0), do, at)
	}
}

// ordered sorts labels from the top down.
func (p *Pad) ordered(list []edgeLabel) []edgeLabel {
	sort.SliceStable(list, func(i, k int) bool { return p.height(list[i]) > p.height(list[k]) })
	return list
}

func (p *Pad) height(l edgeLabel) float64 { return l.middle.left + l.middle.right }

// flow writes labels beside the outline, as lay lays them. It tells where it ended and the labels that found no room.
func (p *Pad) flow(list []edgeLabel, size fyne.Size, left bool, y, last float64, narrows bool) (end float64, rest []edgeLabel) {
	lines, end, rest := p.lay(list, size, left, y, last, narrows)
	for _, ln := range lines {
		x := float32(8)
		if !left {
			x = size.Width - 8 - brush.Measure(ln.words, plain).Width
		}
		p.pool.Text(ln.words, x, float32(ln.y), plain, look.Color(ink.Second))
	}
	return end, rest
}

// lineAt is a line of a label and its height.
type lineAt struct {
	words string
	y     float64
}

// lay lays labels beside the outline, line after line as wide as there is room, between two heights; narrows says that the room only gets
// narrower on the way down.
func (p *Pad) lay(list []edgeLabel, size fyne.Size, left bool, y, last float64, narrows bool) (all []lineAt, end float64, rest []edgeLabel) {
	for _, l := range list {
		phrase := strings.Fields(l.words)
		var lines []lineAt
		at := y
		for len(phrase) > 0 && at+lineStep <= last {
			room := p.geom.room(p.edge, size, left, at, at+lineStep)
			if at+lineStep > p.geom.box.Y1+2 { // beside the word below the patch
				room = math.Min(room, p.geom.cx-float64(brush.Measure(words.T("full droop"), bold).Width)/2-16)
			}
			n := 0
			for n < len(phrase) && float64(brush.Measure(strings.Join(phrase[:n+1], " "), plain).Width) <= room {
				n++
			}
			if n > 0 {
				lines = append(lines, lineAt{strings.Join(phrase[:n], " "), at})
				phrase = phrase[n:]
			} else if narrows || len(lines) > 0 {
				break
			}
			at += lineStep
		}
		if len(phrase) > 0 || (narrows && len(rest) > 0) { // those after one that found no room keep below it
			rest = append(rest, l)
			continue
		}
		all = append(all, lines...)
		y = at
	}
	return all, y, rest
}

func clamp(v, most float32) float32 { return max(-most, min(most, v)) }

func (p *Pad) drawDot(left, right float64) {
	x, y := p.geom.at(left, right)
	press := look.Color(ink.Press)
	p.pool.Circle(x, y, dotRing, 3, press, look.Color(ink.Ground))
	p.pool.Circle(x, y, dotRadius-1, 0, nil, press)
	if p.hover == onDot || p.dragging {
		p.pool.Circle(x, y, dotRing+3, 1.5*look.Weight(), press, nil)
	}
}

// sentence writes three lines at the foot: the bold heading, then the rest.
func (p *Pad) sentence(size fyne.Size, head, rest string) {
	width := size.Width - 16
	if first, second, ok := strings.Cut(head, ". "); ok && brush.Measure(head, bold).Width > width {
		head = first + "."
		if marginsOf(size).lines > 2 { // a small pad has no room to say that it is what is met
			rest = second + " " + rest
		}
	}
	y := size.Height - 2 - lineStep*float32(marginsOf(size).lines)
	if !p.geom.ok {
		y = 48
	}
	if head != "" {
		p.pool.Text(head, 8, y, bold, look.Color(ink.Text))
		y += lineStep
	}
	lines := look.Wrap(rest, look.Small, false, width)
	for i, line := range lines {
		if y+lineStep > size.Height {
			break
		}
		if i+1 < len(lines) && y+2*lineStep > size.Height { // no room for what follows
			line = cutOff(line, width)
		}
		p.pool.Text(line, 8, y, plain, look.Color(ink.Text))
		y += lineStep
	}
}

// cutOff ends a line that goes on in a line there is no room for: after the last thing it says whole, as far as the dots have room.
func cutOff(line string, width float32) string {
	const dots = ", ..."
	whole := strings.TrimRight(line, ",; ")
	if whole == strings.TrimRight(line, " ") { // it ends within a thing
		if k := max(strings.LastIndex(whole, ", "), strings.LastIndex(whole, "; ")); k > 0 {
			whole = whole[:k]
		}
	}
	for brush.Measure(whole+dots, plain).Width > width {
		k := max(strings.LastIndex(whole, ", "), strings.LastIndex(whole, "; "))
		if k <= 0 {
			break
		}
		whole = whole[:k]
	}
	return strings.TrimRight(whole, ".") + dots
}

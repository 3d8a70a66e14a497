package pad

import (
	"context"
	"fmt"
	"image/color"
	"math"
	"sort"
	"strings"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/measure"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
)

// laying is a reading whose lines can be laid in the patch.
type laying struct {
	key   string  // of study.Readings, "" none
	name  string  // on the pad
	least float64 // smallest step between two lines, in its unit
	a, b  string  // the parts, where it is the gap of one pair
}

// layings are what the chooser offers, in its order.
var layings = []laying{
	{key: "", name: words.Mark("none"), least: 0},
	{key: "use", name: words.Mark("joint use"), least: 5},
	{key: "gap", name: words.Mark("tightest gap"), least: 1},
	{key: "pinion", name: words.Mark("pinion"), least: 0.1},
	{key: "squareness", name: words.Mark("squareness"), least: 0.5},
	{key: "rollsteer", name: words.Mark("roll steer"), least: 1},
	{key: "sideshift", name: words.Mark("side shift"), least: 1},
	{key: "slip", name: words.Mark("slip"), least: 0.5},
	{key: "antisquat", name: words.Mark("anti-squat"), least: 1},
	{key: "rollcentre", name: words.Mark("roll centre"), least: 1},
	{key: "shaftfront", name: words.Mark("shaft, front"), least: 0.5},
	{key: "shaftbearing", name: words.Mark("shaft, bearing"), least: 0.5},
	{key: "shaftrear", name: words.Mark("shaft, rear"), least: 0.5},
}

// The use of a joint from which it is close to its limit, and at which it binds, %.
const (
	closeUse = 90.0
	bindUse  = 100.0
)

const mmPerInch = 25.4

// fieldSize is how many positions a reading is worked out at along each side of the range's box.
const fieldSize = 41

// laid is a reading laid in the patch of one study: its values, its lines, and, for joint use, which joint is worst and where.
type laid struct {
	of    *study.Study
	load  int
	inch  bool
	which laying
	unit  string
	field *grid
	lines []line
	step  float64
	none  bool // there is no figure anywhere

	worst place
	words string // of the worst place, "" where nothing is close

	pair *pairLaid // nil: not of one pair
}

// lay works a reading out over the study's range, off the window's goroutine. A cancelled context gives nil.
func lay(ctx context.Context, s *study.Study, which laying, load int, inch bool, edge []place) *laid {
	out := &laid{of: s, load: load, inch: inch, which: which}
	var f *study.Field
	if which.key == pairKey {
		if out.pair, f = layPair(ctx, s, which, edge); out.pair == nil {
			return nil
		}
		if out.none = f == nil; out.none {
			return out
		}
	} else {
		f = s.FieldOf(ctx, which.key, load, fieldSize)
	}
	if f == nil || ctx.Err() != nil {
		return nil
	}
	n := f.N
	out.unit = f.Unit
	g := &grid{n: n, l0: f.Left[0], r0: f.Right[0], dl: (f.Left[n-1] - f.Left[0]) / float64(n-1), dr: (f.Right[n-1] - f.Right[0]) / float64(n-1)}
	g.v = append(g.v, f.Beyond...)
	least := which.least
	if f.Unit == "mm" && inch {
		out.unit = "in"
		for i := range g.v {
			g.v[i] /= mmPerInch
		}
		least = 0.01
	}
	out.unit, _, _ = strings.Cut(out.unit, " ")
	g.spread()
	out.field = g
	inside := grid{n: n, v: f.Values}
	lo, hi := inside.extent()
	if out.unit == "in" {
		lo, hi = lo/mmPerInch, hi/mmPerInch
	}
	var at []float64
	at, out.step = levels(lo, hi, least)
	if out.pair != nil {
		at = out.pair.levels(at, out.step, out.unit == "in")
	}
	out.lines = g.lines(edge, at)
	if out.pair != nil { // that of the gap wanted gets its figure first
		sort.SliceStable(out.lines, func(i, k int) bool {
			return out.pair.isWanted(out.lines[i].value, out.unit == "in") && !out.pair.isWanted(out.lines[k].value, out.unit == "in")
		})
	}
	out.none = lo > hi
	if which.key == "use" {
		out.closest(s)
	}
	return out
}

// closest finds the position of the largest joint use and says which joint it is, where it is close to its limit.
func (l *laid) closest(s *study.Study) {
	e := &s.Extents.Use
	if !e.Known() || 100*e.Max < closeUse {
		return
	}
	l.worst = place{e.MaxLeft, e.MaxRight}
	p := s.At(e.MaxLeft, e.MaxRight)
	if p.Err != "" || p.Values[0].WorstJoint < 0 {
		return
	}
	head := words.T("close: ")
	if 100*e.Max >= bindUse {
		head = words.T("binds: ")
	}
	l.words = head + joint(s.Mech, p.Values[0].WorstJoint)
}

// figure writes a line's value: no more digits than the step needs.
func (l *laid) figure(v float64) string {
	digits := 0
	for s := l.step; digits < 3 && math.Abs(s-math.Round(s)) > 1e-6; digits++ {
		s *= 10
	}
	text := fmt.Sprintf("%.*f", digits, math.Abs(v))
	if v < 0 && strings.Trim(text, "0.") != "" {
		text = measure.Minus + text
	}
	return text
}

// caption says what the lines are: "Lines: roll steer, %, each 2 more. The front stays where it is."
func (l *laid) caption(still bool) string {
	phrase := words.F("Lines: %s in %s, %s apart.", words.T(l.which.name), l.unit, l.figure(l.step))
	switch {
	case l.none && l.which.key == "use":
		phrase = words.T("Lines: joint use is not known, no limit is given.")
	case l.none:
		phrase = words.F("Lines: there are no figures of %s.", words.T(l.which.name))
	case len(l.lines) == 0:
		phrase = words.F("Lines: %s hardly changes.", words.T(l.which.name))
	}
	if l.words != "" {
		phrase = words.F("%s, at the worst. Lines: joint use in %s.", study.Upper(l.words), l.unit)
	}
	if still && onGround(l.which.key) {
		phrase += words.T(" The front stays still.")
	}
	return phrase
}

// onGround reports whether a reading depends on where the ground lies.
func onGround(key string) bool {
	switch key {
	case "antisquat", "antilift", "rollcentre", "rollsteer":
		return true
	}
	return false
}

// --- on the pad ---

// layingOf is a laying by its key; none where there is no such one.
func layingOf(key string) laying {
	for _, l := range layings {
		if l.key == key {
			return l
		}
	}
	return layings[0]
}

// offered are the readings the chooser shows: those the present job can have.
func (p *Pad) offered() []laying {
	m := p.doc.Now().Mech
	var out []laying
	for _, l := range layings {
		switch l.key {
		case "shaftfront", "shaftrear", "slip":
			if m != nil && !m.Drive.Has {
				continue
			}
		case "shaftbearing":
			if m == nil || !m.Drive.Has || !m.Drive.TwoPiece {
				continue
			}
		case "antisquat":
			if s := p.doc.Now(); p.doc.Load() >= len(s.Loads) || !s.Loads[p.doc.Load()].Has {
				continue
			}
		}
		out = append(out, l)
	}
	return out
}

// Lay chooses the reading whose lines are laid in the patch by its key; "" takes them away.
func (p *Pad) Lay(key string) { p.layThis(layingOf(key)) }

func (p *Pad) layThis(which laying) {
	if p.laying.key != pairKey && which.key == pairKey {
		p.before = p.laying
	}
	p.laying = which
	if p.laying.key == "" {
		p.laid = nil
	}
	p.layNow()
	p.Refresh()
}

// nextLaying goes on to the next reading of the chooser, or back.
func (p *Pad) nextLaying(by int) {
	list := p.offered()
	at := 0
	for i := range list {
		if list[i].key == p.laying.key {
			at = i
		}
	}
	p.Lay(list[(at+by+len(list))%len(list)].key)
}

// layNow has the chosen reading worked out where what is laid is not of the present figures; the newest wish wins.
func (p *Pad) layNow() {
	s, _ := p.doc.Study()
	load, inch := p.doc.Load(), p.doc.Unit() == "in"
	want := p.laying
	if want.key == "" || !p.doc.Freshness().Full {
		return
	}
	if k := p.laid; k != nil && k.of == s && k.which == want && k.inch == inch && k.load == load {
		return
	}
	if a := p.laidAsk; a.of == s && a.which == want && a.inch == inch && a.load == load {
		return
	}
	p.laidAsk = laid{of: s, which: want, inch: inch, load: load}
	if p.stopLay != nil {
		p.stopLay()
	}
	ctx, stop := context.WithCancel(context.Background())
	p.stopLay = stop
	edge := p.edge
	p.start(func() {
		done := lay(ctx, s, want, load, inch, edge)
		if ctx.Err() != nil {
			return
		}
		p.post(func() {
			if a := p.laidAsk; a.of == s && a.which == want && p.laying == want {
				p.laid, p.laidAsk = done, laid{}
				p.Refresh()
			}
		})
	})
}

// laidCurrent reports whether what is laid is of the geometry, load and unit as they stand.
func (p *Pad) laidCurrent() bool {
	s, _ := p.doc.Study()
	l := p.laid
	return l != nil && l.of == s && p.doc.Freshness().Live && l.which == p.laying && l.load == p.doc.Load() && l.inch == (p.doc.Unit() == "in")
}

// layMenu is the chooser.
func (p *Pad) layMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	if l := p.laying; l.key == pairKey {
		item := fyne.NewMenuItem(words.F("Gap of %s / %s", l.a, study.Lower(l.b)), nil)
		item.Checked, item.Disabled = true, true
		m.Items = append(m.Items, item)
	}
	for _, l := range p.offered() {
		phrase := study.Upper(words.T(l.name))
		if l.key == "" {
			phrase = words.T("No lines")
		}
		item := fyne.NewMenuItem(phrase, func() { p.Lay(l.key) })
		item.Checked = l.key == p.laying.key
		m.Items = append(m.Items, item)
	}
	return m
}

// figures writes each line's value on it, where there is clear room inside the outline.
func (p *Pad) figures(taken []brush.Box) {
	l := p.laid
	if l == nil || l.none {
		return
	}
	role := ink.Text
	if !p.laidCurrent() {
		role = ink.Edge
	}
	said := map[float64]int{}
	for i := range l.lines {
		k := &l.lines[i]
		if said[k.value] > 0 { // one figure a value
			continue
		}
		candidates := []string{l.figure(k.value)}
		switch {
		case l.pair != nil && l.pair.isWanted(k.value, l.unit == "in"):
			candidates = []string{words.F("%s wanted", candidates[0]), candidates[0]}
		case len(said) == 0 || len(said) == 1 && l.pair != nil && l.pair.isWanted(l.lines[0].value, l.unit == "in"):
			candidates[0] += " " + l.unit
		}
		for _, phrase := range candidates {
			if b, ok := p.onLine(k, phrase, look.Color(role), taken); ok {
				taken = append(taken, b)
				said[k.value]++
				break
			}
		}
	}
	if len(said) > 0 {
		return
	}
	for i := len(l.lines) - 1; i >= 0; i-- { // no line has room on itself: one figure beside the highest that has
		if p.beside(&l.lines[i], l.figure(l.lines[i].value)+" "+l.unit, look.Color(role), taken) {
			return
		}
	}
}

// onLine writes words on a line, where there is clear room inside the outline; it tells the room they take.
func (p *Pad) onLine(l *line, phrase string, c color.Color, taken []brush.Box) (b brush.Box, ok bool) {
	m := brush.Measure(phrase, plain)
	for _, part := range [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88} {
		at := l.along(part)
		x, y := p.geom.at(at.left, at.right)
		b = brush.Box{X0: float64(x - m.Width/2 - 4), Y0: float64(y - m.Height/2), X1: float64(x + m.Width/2 + 4), Y1: float64(y + m.Height/2)}
		if p.clear(b, taken) {
			p.pool.Plate(phrase, x-m.Width/2, y-m.Height/2, plain, c, look.Color(ink.RangeGround))
			return b, true
		}
	}
	return b, false
}

// beside writes words beside a line, towards ride, where there is clear room; it tells whether there was.
func (p *Pad) beside(l *line, phrase string, c color.Color, taken []brush.Box) bool {
	m := brush.Measure(phrase, plain)
	for _, part := range [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		at := l.along(part)
		x, y := p.geom.at(at.left, at.right)
		dx, dy := p.geom.cx-float64(x), p.geom.cy-float64(y)
		far := math.Hypot(dx, dy)
		if far < 1 {
			continue
		}
		off := float64(m.Height)/2 + 2 + math.Abs(dx/far)*float64(m.Width-m.Height)/2
		x, y = x+float32(dx/far*off), y+float32(dy/far*off)
		b := brush.Box{X0: float64(x - m.Width/2), Y0: float64(y - m.Height/2), X1: float64(x + m.Width/2), Y1: float64(y + m.Height/2)}
		if p.clear(b, taken) {
			p.pool.Text(phrase, x-m.Width/2, y-m.Height/2, plain, c)
			return true
		}
	}
	return false
}

// clear reports whether a box lies in the outline and off other words.
func (p *Pad) clear(b brush.Box, taken []brush.Box) bool {
	for _, t := range taken {
		if b.Overlaps(t) {
			return false
		}
	}
	for _, c := range [4][2]float64{{b.X0 - 2, b.Y0}, {b.X1 + 2, b.Y0}, {b.X0 - 2, b.Y1}, {b.X1 + 2, b.Y1}} {
		if !p.geom.inside(p.edge, fyne.NewPos(float32(c[0]), float32(c[1]))) {
			return false
		}
	}
	return true
}

// still reports whether the front wheels stay where they are.
func still(d *document.Document) bool {
	m := d.Now().Mech
	return m != nil && m.FrontStill
}

package panel

import (
	"context"
	"fmt"
	"math"
	"strings"
	"sync/atomic"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/measure"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"gonum.org/v1/gonum/spatial/r3"
)

// tyreFound is what another tyre changes.
type tyreFound struct {
	s *study.Study
	t *study.TyreTrial
}

// readySize is a size one press fills in.
type readySize struct {
	name string
	size study.TyreSize
}

// readySizes are usual ones (common practice, no source): one inch more across on the same rim, and a chain's links with what they lay beside the tread.
var readySizes = [...]readySize{{words.Mark("Next size up"), study.TyreSize{Radius: 13, Width: 10}}, {words.Mark("Chains"), study.TyreSize{Radius: 20, Width: 40}}, {words.Mark("Present tyre"), study.TyreSize{}}}

// readyWords stand under the ready sizes.
const readyWords = "Next size up: 13 mm larger in radius, 10 mm wider. Chains: 20 and 40 mm. Common practice, no source; your own figures go first. Nothing of the job changes."

// tyres is another tyre tried on this axle: what it would touch and what it changes. Nothing of the job does.
type tyres struct {
	h     *Host
	size  study.TyreSize
	found behind[tyreFound]
	nth   numbered
	gone  *view.Laid // the gap gone to

	way     *underWay[tyreFound]
	entry   [2]*Entry
	unit    [2]*look.Label
	ready   [len(readySizes)]*look.Button
	refused *look.Para
	left    *fyne.Container
	right   *fyne.Container
	text    *container.Scroll
	box     *fyne.Container
	said    string
	drawn   string // what is laid over the views
}

func newTyres(h *Host) *tyres {
	b := &tyres{h: h, size: readySizes[0].size, refused: look.NewPara("", "", ink.Text)}
	b.found = behind[tyreFound]{post: h.Post, changed: b.refresh}
	b.way = newUnderWay(&b.found)
	b.refused.Hide()
	b.left = container.New(&look.Stack{Gap: 6, Inset: 4, Below: 6})
	b.right = container.New(&look.Stack{Below: 8})
	var lines []fyne.CanvasObject
	for i, name := range [2]string{words.T("Larger in radius"), words.T("Wider in all")} {
		e := NewEntry("", nil, nil).Wide(86)
		e.OnSubmitted = func(string) { b.take(i) }
		e.OnLeave = func() { b.take(i) }
		e.escape = func() { b.write() }
		b.entry[i], b.unit[i] = e, look.NewLabel("", look.Small, ink.Second, false)
		lines = append(lines, container.New(&fieldLine{}, look.NewLabel(name, look.Small, ink.Text, false).Shrinks(40), look.Calm(e), b.unit[i]))
	}
	row := container.New(layout.NewCustomPaddedHBoxLayout(look.Gap))
	for i, r := range readySizes {
		b.ready[i] = look.NewButton(words.T(r.name), look.Outline, func() {
			b.size = r.size
			b.write()
			b.refresh()
		}).Tall(30, look.Row).Padding(9)
		row.Add(b.ready[i])
	}
	fields := container.New(&look.Stack{Gap: 2, Inset: 4}, append(lines, row, b.refused)...)
	b.text = container.NewVScroll(container.New(&beside{left: container.New(&look.Stack{}, fields, b.left), right: b.right}))
	in := b.text.Content.(*fyne.Container)
	in.Objects = []fyne.CanvasObject{in.Layout.(*beside).left, b.right}
	b.box = container.New(&sides{look.Inset - 4, look.Gap}, look.Calm(b.text))
	return b
}

func (b *tyres) object() fyne.CanvasObject { return b.box }
func (b *tyres) head() fyne.CanvasObject   { return b.way.line }
func (b *tyres) bare() bool                { return false }
func (b *tyres) closed() {
	b.found.drop()
	b.gone, b.drawn = nil, ""
	b.h.Lay("tyres", nil)
}

// write puts the size tried into its fields.
func (b *tyres) write() {
	unit := b.h.Doc.Unit()
	for i, v := range [2]float64{b.size.Radius, b.size.Width} {
		text := plainNumber(v)
		if unit == "in" {
			text = num(v/mmPerInch, 2)
		}
		b.unit[i].SetText(unit)
		if !b.entry[i].focused || b.entry[i].was != text {
			b.entry[i].SetText(text)
			b.entry[i].was = text
		}
	}
	b.refuse("")
}

func (b *tyres) refuse(phrase string) {
	b.refused.Set("", phrase, ink.Text)
	if b.refused.Visible() != (phrase != "") {
		look.Show(b.refused, phrase != "")
		b.text.Content.Refresh()
	}
}

// take reads a size that was typed.
func (b *tyres) take(i int) {
	unit := measure.Millimetres
	if b.h.Doc.Unit() == "in" {
		unit = measure.Inches
	}
	v, err := measure.Parse(b.entry[i].Text, unit)
	limits := [2][2]float64{{study.TyreRadiusLeast, study.TyreRadiusMost}, {study.TyreWidthLeast, study.TyreWidthMost}}[i]
	if err == nil && !(v >= limits[0] && v <= limits[1]) {
		err = words.Errorf("Give from %s to %s.", lengthUnit(limits[0], b.h.Doc.Unit()), lengthUnit(limits[1], b.h.Doc.Unit()))
	}
	if err != nil {
		b.refuse(document.Words(err))
		return
	}
	b.refuse("")
	b.entry[i].was = b.entry[i].Text
	if i == 0 {
		b.size.Radius = v
	} else {
		b.size.Width = v
	}
	b.refresh()
}

func (b *tyres) update(c document.Change) {
	if c&document.ShownChanged != 0 {
		b.write()
	}
	if c&^(document.PositionChanged|document.SelectionChanged) != 0 {
		b.refresh()
	}
}

// fresh reports whether what is worked out is of the geometry and the size as they stand, and asks for it where it is not.
func (b *tyres) fresh() bool {
	s, _ := b.h.Doc.Study()
	if !b.h.Doc.Freshness().Full {
		b.found.drop() // a hand moves something: the processors are the views'
		return false
	}
	key, size := fmt.Sprint(b.nth.of(s), b.size), b.size
	b.found.ask(key, func(ctx context.Context, _ *atomic.Int64) (tyreFound, error) {
		t, err := s.Tyres(ctx, size)
		return tyreFound{s, t}, err
	})
	return b.found.fresh(key)
}

func (b *tyres) refresh() {
	if b.h.Opened() != TyresDrawer {
		return
	}
	fresh := b.fresh()
	b.way.say(fresh, "", words.T("working out; the figures are of the size or the geometry before"))
	for i, r := range readySizes {
		b.ready[i].SetLit(b.size == r.size)
	}
	b.tell(fresh)
	b.lay(fresh)
}

// lay draws the other tyre round the present one, and the gap gone to.
func (b *tyres) lay(fresh bool) {
	var out []view.Laid
	if b.size != (study.TyreSize{}) {
		size := b.size
		out = append(out, view.Laid{Name: words.T("another tyre"), Look: view.AnyOther, Tyre: &size})
	}
	if !fresh {
		b.gone = nil
	}
	key := fmt.Sprint(b.size)
	if b.gone != nil {
		out = append(out, *b.gone)
		key += fmt.Sprint(*b.gone.Span)
	}
	if key != b.drawn {
		b.drawn = key
		b.h.Lay("tyres", out)
	}
}

// tell writes what it changes.
func (b *tyres) tell(fresh bool) {
	f := &b.found.got
	key := fmt.Sprint(fresh, b.found.gotKey, b.found.has, b.found.err, b.found.left)
	if key == b.said {
		return
	}
	b.said = key
	role := ink.Text
	if !fresh {
		role = ink.Second
	}
	b.left.Objects, b.right.Objects = []fyne.CanvasObject{look.NewPara("", words.T(readyWords), ink.Second)}, nil
	switch {
	case b.found.err != nil && !fresh && !b.found.busy:
		b.left.Add(look.NewPara("", study.Upper(b.found.err.Error()), ink.Text))
	case !b.found.has:
	default:
		b.left.Add(look.NewPara("", f.s.TyreWords(f.t), role))
		b.left.Add(look.NewPara("", f.s.TyreRoomWords(f.t), role))
		for i := range f.t.Loads {
			if phrase := tyreLoadWords(f.s, &f.t.Loads[i]); phrase != "" {
				b.left.Add(look.NewPara(study.Upper(f.t.Loads[i].Name)+":", phrase, role))
			}
		}
		b.pairs(f, fresh, role)
	}
	b.left.Add(look.NewPara("", words.T(onlyDrawn), ink.Second))
	for _, o := range []fyne.CanvasObject{b.left, b.right, b.text.Content, b.text} {
		o.Refresh()
	}
}

// pairs lists the tyres' gaps; a press goes to where one is smallest with the other tyre.
func (b *tyres) pairs(f *tyreFound, fresh bool, role ink.Role) {
	head := words.T("Gaps with it over the whole travel, tightest first. A press goes there:")
	if len(f.t.Pairs) == 0 {
		head = words.T("Nothing is drawn that a tyre could touch.")
	}
	b.right.Add(newHeadRow(head, false))
	far := 0
	for i := range f.t.Pairs {
		p := &f.t.Pairs[i]
		if p.Far() {
			far++
			continue
		}
		kind := study.Outside
		switch {
		case p.Hits():
			kind = study.Hits
		case p.Tight():
			kind = study.Tight
		}
		press := func() { b.goTo(p) }
		if !fresh {
			press = nil
		}
		l := newPressLine(p.A+" / "+study.Lower(p.B)+":", tyrePairWords(f.s, p), role, press).troubled(kind)
		l.seen = func() { revealIn(b.text, l) }
		b.right.Add(l)
	}
	if far > 0 {
		b.right.Add(newHeadRow(words.F("Not listed: %s that stay more than %s apart.", count(far, words.Mark("pair"), words.Mark("pairs")), f.s.Length(study.FarApart)), false))
	}
}

// goTo sets the axle where a gap is smallest, and draws it there.
func (b *tyres) goTo(p *study.TyrePair) {
	g := &p.With.Gap
	const around = 260.0 // mm
	m := r3.Vec{X: around, Y: around, Z: around}
	at := r3.Scale(0.5, r3.Add(g.PointA, g.PointB))
	b.h.GoPlace(p.With.Left, p.With.Right, -1)
	b.h.Frame(r3.Sub(at, m), r3.Add(at, m))
	b.gone = nil
	if g.Gap > 0 {
		b.gone = &view.Laid{Name: words.T("gap with another tyre"), Look: view.AnyOther, Span: &[2]r3.Vec{g.PointA, g.PointB}, Words: b.found.got.s.Length(g.Gap)}
	}
	b.lay(true)
}

// tyrePairWords are a gap with the other tyre and without.
func tyrePairWords(s *study.Study, p *study.TyrePair) string {
	gap := func(mm float64) string {
		if mm < 0 {
			return words.F("%s in", s.Length(-mm))
		}
		return s.Length(mm)
	}
	phrase := words.F("%s with it", gap(p.With.Gap.Gap))
	if p.Hits() {
		phrase = words.F("hits, %s", phrase)
	}
	if p.Was.Gap.Gap != p.With.Gap.Gap {
		phrase += words.F(", %s now", gap(p.Was.Gap.Gap))
	}
	phrase += words.F("; %s wanted; at %s", s.Length(p.Required), s.Travels(p.With.Left, p.With.Right))
	if p.With.Why != "" {
		phrase += words.T(", at the positions tried")
	}
	return phrase + "."
}

// tyreLoadWords are the figures the ground changes, of one load; "" where there are none.
func tyreLoadWords(s *study.Study, l *study.TyreLoad) string {
	var out []string
	put := func(name string, was, with float64, text func(float64) string) {
		switch {
		case math.IsNaN(was) || math.IsNaN(with):
		case text(was) == text(with):
			out = append(out, words.F("%s stays %s", name, text(with)))
		default:
			out = append(out, words.F("%s %s with it, %s now", name, text(with), text(was)))
		}
	}
	share := func(v float64) string { return num(v, 0) + " %" }
	put(words.T("anti-squat"), l.Was.AntiSquat, l.With.AntiSquat, share)
	put(words.T("anti-lift"), l.Was.AntiLift, l.With.AntiLift, share)
	put(words.T("roll centre above ground"), l.Was.RollCentre, l.With.RollCentre, s.Length)
	put(words.T("centre of gravity above ground"), l.Was.CGHeight, l.With.CGHeight, s.Length)
	if len(out) == 0 {
		return ""
	}
	return strings.Join(out, "; ") + "."
}

func (b *tyres) lines() []string {
	out := []string{b.way.note.Text(), b.refused.Text()}
	out = append(out, wordsOf(b.left.Objects)...)
	return append(out, wordsOf(b.right.Objects)...)
}

func (b *tyres) named(name string) fyne.CanvasObject {
	switch name {
	case "Larger in radius":
		return b.entry[0]
	case "Wider in all":
		return b.entry[1]
	}
	for i, r := range readySizes {
		if r.name == name {
			return b.ready[i]
		}
	}
	return lineNamed(b.right.Objects, name)
}

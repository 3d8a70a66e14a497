package panel

import (
	"fmt"
	"math"
	"strings"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/geometry/measure"
	"axleloft/geometry/vessel"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// tankHead is which tank, how its figures stand, and what can be done with them.
type tankHead struct {
	k     *tank
	which *look.Segments
	pick  *look.Button // where the names have no room
	note  *look.Label
	stop  *look.Button
	keep  *look.Button // what is drawn stays in the views when the panel is closed
	large *look.Button
	save  *look.Button
	names []string
	box   *fyne.Container
}

func newTankHead(k *tank) *tankHead {
	t := &tankHead{k: k, note: look.NewLabel("", look.Small, ink.Second, false).Shrinks(20)}
	t.which = look.NewSegments(nil, -1, func(i int) { k.choose(t.names[i]) }).Compact(8, look.Row, look.Small)
	t.pick = look.NewButton("", look.Outline, func() { look.PopUp(t.menu(), t.pick) }).Tall(30, look.Row).Caret(look.CaretDown)
	t.stop = look.NewButton("Give up", look.Outline, func() {
		if k.found.busy {
			k.found.giveUp()
		} else {
			k.found.again()
		}
		k.refresh()
	}).Tall(30, look.Row)
	t.keep = look.NewButton("Keep drawn", look.Outline, func() {
		k.kept = !k.kept
		t.keep.SetLit(k.kept)
	}).Tall(30, look.Row).Padding(9)
	t.large = look.NewButton("Show large", look.Outline, k.frame).Tall(30, look.Row).Padding(9)
	t.save = look.NewButton("Save", look.Outline, func() { look.PopUp(k.saveMenu(), t.save) }).Tall(30, look.Row).Padding(9).Caret(look.CaretDown)
	t.box = container.New(&tankHeadLayout{t}, t.which, t.pick, t.note, t.stop, t.keep, t.large, t.save)
	return t
}

func (t *tankHead) menu() *fyne.Menu {
	m := fyne.NewMenu("")
	for _, n := range t.names {
		i := fyne.NewMenuItem(n, func() { t.k.choose(n) })
		i.Checked = n == t.k.name
		m.Items = append(m.Items, i)
	}
	return m
}

// update says how the figures stand.
func (t *tankHead) update(fresh bool) {
	k := t.k
	s, _ := k.h.Doc.Study()
	all, at := k.tanks(s)
	t.names = t.names[:0]
	for _, e := range all {
		t.names = append(t.names, e.Name)
	}
	t.which.Set(append([]string(nil), t.names...), at)
	t.pick.SetText(look.Shorten(k.name, look.Body, false, 150))
	note := k.found.words("places looked at")
	switch {
	case k.found.err != nil || at < 0:
		note = ""
	case !fresh && note == "":
		note = "working out"
	}
	if !fresh && k.found.has && note == "working out" {
		note = "working out; the figures are of the geometry before"
	}
	t.note.SetText(note)
	t.stop.SetText("Give up")
	if k.found.left {
		t.stop.SetText("Work out")
	}
	show(t.stop, k.found.left || k.found.busy && note != "working out" && note != "")
	t.large.SetDisabled(at < 0)
	t.save.SetDisabled(!fresh)
	t.box.Refresh()
}

// tankHeadLayout puts the tank's name left, the buttons right, the note between.
type tankHeadLayout struct{ t *tankHead }

func (l *tankHeadLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(280, look.Row) }
func (l *tankHeadLayout) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	t := l.t
	end := s.Width - 8
	put := func(o fyne.CanvasObject, w float32) {
		o.Move(fyne.NewPos(end-w, 0))
		o.Resize(fyne.NewSize(w, s.Height))
		end -= w + 8
	}
	for _, b := range []*look.Button{t.save, t.large, t.keep, t.stop} {
		if b.Visible() {
			put(b, b.MinSize().Width)
		}
	}
	fits := t.which.MinSize().Width+8 < end
	show(t.which, fits && len(t.names) > 0)
	show(t.pick, !fits)
	x := float32(0)
	switch {
	case t.which.Visible():
		x = t.which.MinSize().Width
		t.which.Resize(fyne.NewSize(x, s.Height))
	case t.pick.Visible():
		x = min(t.pick.MinSize().Width, end)
		t.pick.Resize(fyne.NewSize(x, s.Height))
	}
	x += 12
	t.note.Move(fyne.NewPos(x, 0))
	t.note.Resize(fyne.NewSize(max(0, end-x), s.Height))
}

// frame brings the views to the tank.
func (k *tank) frame() {
	s, _ := k.h.Doc.Study()
	all, at := k.tanks(s)
	if at < 0 {
		return
	}
	if v, err := vessel.New(all[at]); err == nil {
		k.h.Frame(v.Bounds())
	}
}

// saveMenu offers what can be written.
func (k *tank) saveMenu() *fyne.Menu {
	f, fresh := k.current()
	m := fyne.NewMenu("")
	if !fresh {
		return m
	}
	name := "tank " + k.name
	m.Items = append(m.Items, fyne.NewMenuItem("Dip table as shown, CSV...", func() { k.h.SaveDip(name+" dip", k.dips.got.levels) }))
	args := []string{"tank", "--vessel", f.t.Vessel.Name, "--tilt-x=" + fmt.Sprint(k.table.tilt[0]), "--tilt-y=" + fmt.Sprint(k.table.tilt[1])}
	m.Items = append(m.Items,
		fyne.NewMenuItem("All cuts, CSV...", func() { k.h.SaveNumbers(name+" cuts", "csv", append(args, "--cuts")...) }),
		fyne.NewMenuItem("All numbers, JSON...", func() { k.h.SaveNumbers(name, "json", args...) }))
	return m
}

// tankLayout puts the words left and the dip table right.
type tankLayout struct{ k *tank }

// dipWidth is what the dip table takes.
const dipWidth = 226

func (l *tankLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(500, 120) }
func (l *tankLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Move(fyne.NewPos(look.Inset-4, 0))
	o[0].Resize(fyne.NewSize(s.Width-dipWidth-look.Inset-look.Gap, s.Height-4))
	o[1].Move(fyne.NewPos(s.Width-dipWidth-4, 0))
	o[1].Resize(fyne.NewSize(dipWidth, s.Height-4))
}

// beside puts two boxes beside each other where there is room, else under each other.
type beside struct {
	left, right *fyne.Container
	width       float32
}

const besideFrom = 560

func (b *beside) split(w float32) (left, right float32) {
	if w < besideFrom {
		return w, w
	}
	left = (w - look.Gap) * 0.48
	return left, w - look.Gap - left
}

func (b *beside) heights(w float32) (l, r float32) {
	wl, wr := b.split(w)
	return b.left.Layout.(*look.Stack).HeightFor(b.left.Objects, wl), b.right.Layout.(*look.Stack).HeightFor(b.right.Objects, wr)
}

func (b *beside) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	b.width = s.Width
	wl, wr := b.split(s.Width)
	hl, hr := b.heights(s.Width)
	b.left.Resize(fyne.NewSize(wl, hl))
	b.left.Move(fyne.NewPos(0, 0))
	b.right.Resize(fyne.NewSize(wr, hr))
	if s.Width < besideFrom {
		b.right.Move(fyne.NewPos(0, hl))
		return
	}
	b.right.Move(fyne.NewPos(wl+look.Gap, 0))
}

func (b *beside) MinSize([]fyne.CanvasObject) fyne.Size {
	w := b.width
	if w == 0 {
		w = 600
	}
	l, r := b.heights(w)
	if w < besideFrom {
		return fyne.NewSize(200, l+r)
	}
	return fyne.NewSize(200, max(l, r))
}

// revealIn scrolls till an object anywhere within a scroll's content can be seen.
func revealIn(s *container.Scroll, o fyne.CanvasObject) {
	d := fyne.CurrentApp().Driver()
	y := d.AbsolutePositionForObject(o).Y - d.AbsolutePositionForObject(s).Y
	at := s.Offset
	switch h := o.Size().Height; {
	case y < 0:
		at.Y += y
	case y+h > s.Size().Height:
		at.Y += min(y, y+h-s.Size().Height)
	default:
		return
	}
	s.ScrollToOffset(at)
}

// wordsOf are the words of a box's paragraphs and lines, for whoever looks from outside.
func wordsOf(list []fyne.CanvasObject) []string {
	var out []string
	for _, o := range list {
		switch o := o.(type) {
		case *look.Para:
			out = append(out, o.Text())
		case *pressLine:
			out = append(out, o.para.Text())
		case *headRow:
			out = append(out, o.para.Text())
		}
	}
	return out
}

// dipTable is the tank's tilt and what it holds up to each depth.
type dipTable struct {
	k       *tank
	tilt    [2]float64 // deg: left side up, nose down
	entry   [2]*Entry
	label   [2]*look.Label
	refused *look.Para
	head    *figureRow
	list    *widget.List
	box     *fyne.Container
}

func newDipTable(k *tank) *dipTable {
	t := &dipTable{k: k, head: newFigureRow(true), refused: look.NewPara("", "", ink.Text)}
	t.refused.Hide()
	var rows []fyne.CanvasObject
	for i, name := range [2]string{"Tilt, left side up", "Tilt, nose down"} {
		t.label[i] = look.NewLabel(name, look.Small, ink.Text, false).Shrinks(40)
		e := NewEntry("0", nil, nil).Wide(54)
		e.OnSubmitted = func(string) { t.take(i) }
		e.OnLeave = func() { t.take(i) }
		e.escape = func() { e.SetText(plainNumber(t.tilt[i])) }
		t.entry[i] = e
		rows = append(rows, container.New(&fieldLine{}, t.label[i], look.Calm(e), look.NewLabel("deg", look.Small, ink.Second, false)))
	}
	rows = append(rows, t.refused, t.head)
	t.list = widget.NewList(func() int { return len(k.dips.got.levels) }, func() fyne.CanvasObject { return newFigureRow(false) }, func(i int, o fyne.CanvasObject) {
		if i < len(k.dips.got.levels) {
			o.(*figureRow).set(t.row(&k.dips.got.levels[i]), t.role())
		}
	})
	t.list.HideSeparators = true
	t.list.OnSelected = func(int) { t.list.UnselectAll() }
	t.box = container.NewBorder(container.New(&look.Stack{}, rows...), nil, nil, nil, look.Calm(t.list))
	return t
}

// row is a line of the table.
func (t *dipTable) row(l *vessel.Level) []string {
	depth := num(l.Depth, 0)
	if l.Depth != math.Round(l.Depth) {
		depth = num(l.Depth, 1)
	}
	if t.k.h.Doc.Unit() == "in" {
		depth = num(l.Depth/mmPerInch, 2)
	}
	return []string{depth, study.Litres(l.Before), study.Litres(l.After)}
}

func (t *dipTable) role() ink.Role {
	if _, fresh := t.k.current(); !fresh {
		return ink.Second
	}
	return ink.Text
}

// take reads a tilt that was typed.
func (t *dipTable) take(i int) {
	v, err := measure.ParseAngle(t.entry[i].Text)
	if err == nil && !(math.Abs(v) <= study.MostTilt) {
		err = fmt.Errorf("Give a tilt from %s to %s deg: beyond, a depth on a dip stick means nothing.", num(-study.MostTilt, 0), num(study.MostTilt, 0))
	}
	words := ""
	if err != nil {
		words = document.Words(err)
	} else {
		t.tilt[i] = v
		t.entry[i].was = t.entry[i].Text
	}
	t.refused.Set("", words, ink.Text)
	show(t.refused, words != "")
	t.box.Refresh()
	t.k.refresh()
}

func (t *dipTable) update(f *tankFound, fresh bool) {
	show(t.box, f != nil && f.t.Vessel.Why == "")
	unit := t.k.h.Doc.Unit()
	t.head.set([]string{"Dip " + unit, "Before L", "After L"}, ink.Text)
	t.list.Refresh()
}

// lineNamed finds a line by how its words begin; nil where there is none.
func lineNamed(list []fyne.CanvasObject, begin string) fyne.CanvasObject {
	for _, o := range list {
		if l, ok := o.(*pressLine); ok && strings.HasPrefix(l.para.Text(), begin) {
			return l
		}
	}
	return nil
}

func (k *tank) named(name string) fyne.CanvasObject {
	switch name {
	case "Left side up":
		return k.table.entry[0]
	case "Nose down":
		return k.table.entry[1]
	case "Save":
		return k.top.save
	case "Keep drawn":
		return k.top.keep
	case "Show large":
		return k.top.large
	case "Give up", "Work out":
		return k.top.stop
	}
	if o := lineNamed(k.cuts.Objects, name); o != nil {
		return o
	}
	return lineNamed(k.words.Objects, name)
}

// stopLine is a layout of words and, at the right end, a button where it is shown.
type stopLine struct {
	note *look.Label
	stop *look.Button
}

func (*stopLine) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(160, look.Row) }
func (l *stopLine) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	end := s.Width - 8
	if l.stop.Visible() {
		w := l.stop.MinSize().Width
		end -= w
		l.stop.Move(fyne.NewPos(end, 0))
		l.stop.Resize(fyne.NewSize(w, s.Height))
		end -= 8
	}
	l.note.Resize(fyne.NewSize(max(0, end), s.Height))
}

// sides is a layout of one object with room left and right of it.
type sides struct{ left, right float32 }

func (l *sides) MinSize(o []fyne.CanvasObject) fyne.Size { return fyne.NewSize(300, 120) }
func (l *sides) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Move(fyne.NewPos(l.left, 0))
	o[0].Resize(fyne.NewSize(s.Width-l.left-l.right, s.Height-4))
}

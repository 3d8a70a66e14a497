package panel

import (
	"image/color"

	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// How high the lines of the list of gaps are.
const (
	gapLine  = 32
	leftLine = 26
	noteLine = 46
	// narrowLine is a pair's where the list is narrow: place and what is proved stand in a second line.
	narrowLine = 46
)

// columns is one line of the list of gaps, or its heading.
type columns struct {
	widget.BaseWidget
	row gapRow
	pad *wordPress // shows the pair's map
}

func newColumns(kind gapRowKind, h *Host) *columns {
	c := &columns{row: gapRow{kind: kind, trouble: study.Outside}}
	if kind == columnRow {
		c.row = gapRow{kind: kind, name: words.T("Between"), now: words.T("Now"), least: words.T("Least"), bound: words.T("Not less than"), where: words.T("where"), wanted: words.T("Gap wanted"), trouble: study.Outside}
	}
	c.pad = newWordPress(words.T("map"), func() {
		if c.row.kind == pairRow {
			h.ShowPair(c.row.a, c.row.b)
		}
	})
	c.ExtendBaseWidget(c)
	return c
}

func (c *columns) set(r *gapRow) {
	if c.row == *r {
		return
	}
	c.row = *r
	c.Refresh()
}

func (c *columns) CreateRenderer() fyne.WidgetRenderer {
	c.ExtendBaseWidget(c)
	r := &columnsRenderer{c: c, mark: newMark(study.Outside, 1), rule: &canvas.Rectangle{}}
	for i := range r.text {
		r.text[i] = look.Text("", look.Small, ink.Text, false)
	}
	return look.Made(c, r)
}

type columnsRenderer struct {
	c    *columns
	mark *mark
	text [7]*canvas.Text
	rule *canvas.Rectangle
}

const (
	gapsNarrow = 900 // units: below this a pair takes two lines
	mapRoom    = 52  // for the word at the right
)

func (x *columnsRenderer) Layout(s fyne.Size) {
	r := &x.c.row
	for _, t := range x.text {
		t.Hidden = true
	}
	x.mark.Hidden, x.rule.Hidden = true, r.kind != pairRow && r.kind != columnRow && r.kind != ruledRow
	look.Show(x.c.pad, r.kind == pairRow)
	x.rule.FillColor = look.Color(ink.Rule)
	x.rule.Move(fyne.NewPos(look.Inset, s.Height-1))
	x.rule.Resize(fyne.NewSize(s.Width-2*look.Inset, 1))
	switch r.kind {
	case pairRow, columnRow:
		x.pair(s)
	case leftRow:
		w := s.Width - 24 - look.Inset
		at := float32(24) + w*0.36
		x.put(0, r.name, 24, w*0.34, s.Height/2+5, ink.Text, false)
		x.put(1, r.where, at, s.Width-look.Inset-at, s.Height/2+5, ink.Second, false)
	case ruledRow:
		x.put(0, r.name, 24, s.Width-24-look.Inset, s.Height/2+6, ink.Text, true)
		x.rule.FillColor = look.Color(ink.Edge)
		x.rule.Move(fyne.NewPos(look.Inset, 2))
		x.rule.Resize(fyne.NewSize(s.Width-2*look.Inset, 1.5))
	case noteRow:
		for i, line := range look.Wrap(r.name, look.Small, false, s.Width-24-look.Inset) {
			if i < len(x.text) {
				x.put(i, line, 24, s.Width-24-look.Inset, 20+float32(i)*look.Lead, ink.Second, false)
			}
		}
	}
}

// put writes a text, shortened to its room, from x to the right.
func (x *columnsRenderer) put(i int, s string, x0, room, base float32, role ink.Role, bold bool) {
	t := x.text[i]
	t.Hidden, t.TextStyle.Bold = false, bold
	look.Paint(t, look.Shorten(s, look.Small, bold, room), look.Color(role))
	look.PlaceLeft(t, x0, base)
}

// pair writes a pair's figures into their columns.
func (x *columnsRenderer) pair(s fyne.Size) {
	r := &x.c.row
	head := r.kind == columnRow
	low := s.Height // of the last line
	if r.rests != "" {
		s.Height -= look.Lead
		x.put(6, r.rests, 24, s.Width-24-look.Inset-mapRoom, low-9, ink.Second, false)
	}
	base := s.Height/2 + 5
	w := s.Width - 24 - look.Inset - mapRoom
	type column struct{ at, room float32 } // of those to the right, at is where they end
	col := [6]column{{0, 0.28}, {0.365, 0.085}, {0.485, 0.12}, {0.635, 0.25}, {1, 0.105}, {0.615, 0.125}}
	narrow := s.Width < gapsNarrow
	if narrow {
		col = [6]column{{0, 0.5}, {0.65, 0.14}, {0.83, 0.17}, {}, {1, 0.15}, {}}
		if !head {
			base = 19
		}
	}
	role := ink.Text
	if r.stale {
		role = ink.Second
	}
	var c color.Color = look.Color(role)
	put := func(i int, phrase string) {
		k := col[i]
		if k.room == 0 {
			return
		}
		t := x.text[i]
		t.Hidden, t.TextStyle.Bold = false, head || i == 2
		look.Paint(t, look.Shorten(phrase, look.Small, t.TextStyle.Bold, k.room*w), c)
		if i == 0 || i == 3 {
			look.PlaceLeft(t, 24+k.at*w, base)
		} else {
			look.PlaceRight(t, 24+k.at*w, base)
		}
	}
	wanted := r.wanted
	if head && narrow {
		wanted = words.T("Wanted")
	}
	for i, phrase := range [6]string{r.name, r.now, r.least, r.where, wanted, r.bound} {
		put(i, phrase)
	}
	if narrow && !head {
		phrase := r.where
		switch {
		case r.bound == words.T(onlyTried):
			phrase += "; " + r.bound
		case r.bound != "" && r.trouble == study.Hits:
			phrase += words.F("; at most %s", r.bound)
		case r.bound != "":
			phrase += words.F("; not less than %s", r.bound)
		}
		x.put(3, phrase, 24, w, base+look.Lead, ink.Second, false)
	}
	x.mark.Hidden = r.trouble == study.Outside
	x.mark.set(r.trouble)
	x.mark.Move(fyne.NewPos(8, 4))
	x.mark.Resize(fyne.NewSize(8, s.Height-8))
	x.c.pad.Move(fyne.NewPos(s.Width-look.Inset-mapRoom+8, 0))
	x.c.pad.Resize(fyne.NewSize(mapRoom-8, s.Height-1))
}

func (x *columnsRenderer) MinSize() fyne.Size {
	if x.c.row.kind == columnRow {
		return fyne.NewSize(200, 24)
	}
	return fyne.NewSize(200, leftLine)
}
func (x *columnsRenderer) Refresh() { x.Layout(x.c.Size()); canvas.Refresh(x.c) }
func (x *columnsRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{x.mark, x.rule}
	for _, t := range x.text {
		out = append(out, t)
	}
	return append(out, x.c.pad)
}
func (x *columnsRenderer) Destroy() {}

// wordPress is a blue word within a line, pressed by hand only: the line itself has the keys.
type wordPress struct {
	widget.BaseWidget
	text    string
	pressed func()
	hovered bool
}

var (
	_ fyne.Tappable      = (*wordPress)(nil)
	_ desktop.Hoverable  = (*wordPress)(nil)
	_ desktop.Cursorable = (*wordPress)(nil)
)

func newWordPress(text string, pressed func()) *wordPress {
	w := &wordPress{text: text, pressed: pressed}
	w.ExtendBaseWidget(w)
	return w
}

func (w *wordPress) Tapped(*fyne.PointEvent)        { w.pressed() }
func (w *wordPress) MouseIn(*desktop.MouseEvent)    { w.hovered = true; w.Refresh() }
func (w *wordPress) MouseMoved(*desktop.MouseEvent) {}
func (w *wordPress) MouseOut()                      { w.hovered = false; w.Refresh() }
func (w *wordPress) Cursor() desktop.Cursor         { return desktop.PointerCursor }

func (w *wordPress) CreateRenderer() fyne.WidgetRenderer {
	w.ExtendBaseWidget(w)
	return look.Made(w, &wordPressRenderer{w, look.Text(w.text, look.Small, ink.Press, true), &canvas.Rectangle{}})
}

type wordPressRenderer struct {
	w    *wordPress
	text *canvas.Text
	line *canvas.Rectangle
}

func (x *wordPressRenderer) Layout(s fyne.Size) {
	look.Paint(x.text, x.w.text, look.Color(ink.Press))
	look.PlaceRight(x.text, s.Width, s.Height/2+5)
	x.line.FillColor, x.line.Hidden = look.Color(ink.Press), !x.w.hovered
	m := x.text.MinSize()
	x.line.Move(fyne.NewPos(s.Width-m.Width, s.Height/2+8))
	x.line.Resize(fyne.NewSize(m.Width, 1.5))
}
func (x *wordPressRenderer) MinSize() fyne.Size { return fyne.NewSize(40, 20) }
func (x *wordPressRenderer) Refresh()           { x.Layout(x.w.Size()); canvas.Refresh(x.w) }
func (x *wordPressRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{x.text, x.line}
}
func (x *wordPressRenderer) Destroy() {}

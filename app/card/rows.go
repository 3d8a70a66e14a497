package card

import (
	"strings"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// A coordinate's line from left to right: its axis; the number; what that is counted from and how it was come by, over what it comes to in both
// units; and how far off it may be.
const (
	fieldX, fieldW = 32, 84
	textX          = 124
	fieldH         = line - 6
	offW           = 50 // the field of how far off
	offEdge        = 8  // from its right edge to the card's, as above it
	sentenceLead   = 18
)

// figure is a field for a number with letters of a size that may change.
type figure struct {
	*entry
	box  *container.ThemeOverride
	size float32
}

func newFigure(size float32, commit func(string) bool, done func()) figure {
	f := figure{entry: newEntry(commit, done), size: size}
	f.box = container.NewThemeOverride(f.entry, bareOf(size))
	return f
}

// letters sets the size of the letters.
func (f *figure) letters(size float32) {
	if size == f.size {
		return
	}
	f.size = size
	f.box.Theme = bareOf(size)
	f.box.Refresh()
}

// bareOf is the theme of a field as high as fieldH.
func bareOf(size float32) bare {
	return bare{look.Theme{}, size, max(0, (fieldH-look.Measure("0", size, false).Height)/2)}
}

// put draws the field's box and places it.
func (f *figure) put(g *brush.Pool, x, y, width, inset float32) {
	edge, stroke := look.Color(ink.Edge), float32(1)
	if f.focused {
		edge, stroke = look.Color(ink.Press), 2
	}
	g.Rect(x, y+3, width, fieldH, look.Radius, stroke, edge, look.Color(ink.Ground))
	pad := bareOf(f.size).pad
	f.box.Move(fyne.NewPos(x+inset-pad, y+3))
	f.box.Resize(fyne.NewSize(width-2*inset+2*pad, fieldH))
	g.Put(f.box)
}

// rowLine is a coordinate's line.
type rowLine struct {
	value, off figure
	from       *look.Button // what it is counted from
	source     *look.Button // how it was come by
	refused    string       // why what was typed or chosen was not taken
	offRefused bool         // it was the +- that was typed
}

func (c *Card) newRow(a edit.Axis) rowLine {
	press := func(menu func() *fyne.Menu) *look.Button {
		var b *look.Button
		b = look.NewButton("", look.Plain, func() { look.PopUp(menu(), b) }).Type(look.Small, false).Padding(3).Tall(20, 24).Caret(look.CaretDown)
		return b
	}
	r := rowLine{
		value:  newFigure(look.Value, func(text string) bool { return c.typed(a, text) }, c.finish),
		off:    newFigure(look.Small, func(text string) bool { return c.typedOff(a, text) }, c.finish),
		from:   press(func() *fyne.Menu { return c.datums(a) }),
		source: press(func() *fyne.Menu { return c.sources(a) }),
	}
	for _, f := range []figure{r.value, r.off} {
		f.marked, f.back = c.Refresh, func() { c.took(a, nil) }
	}
	return r
}

// forget drops what was half typed and what was refused: the row is another pivot's now.
func (r *rowLine) forget() {
	r.refused, r.offRefused = "", false
	for _, f := range []figure{r.value, r.off} {
		f.shown, f.bad = f.Text, false
	}
}

// typed takes a coordinate as typed, and tells whether it did.
func (c *Card) typed(a edit.Axis, text string) bool {
	return !c.held || c.took(a, c.doc.TypePivot(c.of, a, text))
}

// typedOff takes how far off a coordinate may be as typed, and tells whether it did.
func (c *Card) typedOff(a edit.Axis, text string) bool {
	if !c.held {
		return true
	}
	err := c.doc.SetPlusMinus(c.of, a, text)
	c.rows[a].offRefused = err != nil
	return c.took(a, err)
}

// took shows why something was not taken, and tells whether it was.
func (c *Card) took(a edit.Axis, err error) bool {
	r := &c.rows[a]
	r.refused = ""
	if err != nil {
		// the card has the pivot's name over it and the axis beside it
		r.refused = document.Words(err)
		for _, over := range []string{edit.Name(c.doc.Current(), c.of) + ", " + a.String(), edit.Name(c.doc.Current(), c.of)} {
			for _, end := range []string{", ±: ", ": "} {
				r.refused = strings.TrimPrefix(r.refused, over+end)
			}
		}
	} else {
		r.offRefused = false
	}
	c.Refresh()
	return err == nil
}

// refused are the rows a sentence of refusal covers, and the row whose it is; first is -1 where none was refused.
func (c *Card) refusal(width func(row int) float32) (of, first, rows int, lines []string) {
	for i := range c.rows {
		r := &c.rows[i]
		if r.refused == "" {
			continue
		}
		lines = look.Wrap(r.refused, look.Small, false, width(i))
		rows = min(len(c.rows), (len(lines)*sentenceLead+line-3)/line)
		return i, min(i, len(c.rows)-rows), rows, lines
	}
	return -1, -1, 0, nil
}

// drawRows draws the three coordinates. A sentence of refusal stands whole, over the rows it takes: right of the numbers, or left of the +- that was
// typed, so that what was typed can be mended.
func (c *Card) drawRows(size fyne.Size) {
	g := &c.pool
	j, unit := c.doc.Current(), c.doc.Unit()
	at, _ := edit.At(j, c.of)
	mm := [3]float64{at.X, at.Y, at.Z}
	offX := func(i int) float32 { // wider where much is being typed
		return size.Width - offEdge - min(max(offW, look.Width(c.rows[i].off.Text, look.Small, false)+14), 150)
	}
	of, first, rows, lines := c.refusal(func(i int) float32 {
		if c.rows[i].offRefused {
			return offX(i) - 8 - fieldX - 9
		}
		return size.Width - look.Inset - textX - 9
	})
	for i := range c.rows {
		y := float32(head0 + i*line)
		g.Line(look.Inset, y, size.Width-look.Inset, y, 1, look.Color(ink.Rule))
		r := rowOf(j, unit, c.denominator, c.of, edit.Axis(i), mm[i])
		if r.guess && c.doc.Placed(c.of, edit.Axis(i)) {
			r.source = words.T("by hand")
		}
		covered := of >= 0 && i >= first && i < first+rows
		c.drawRow(i, y, r, [2]float32{offX(i), size.Width - offEdge}, covered && !(of == i && c.rows[of].offRefused), covered && c.rows[of].offRefused, covered)
	}
	if of < 0 {
		return
	}
	x, y := float32(textX), float32(head0+first*line)
	if c.rows[of].offRefused {
		x = fieldX
	}
	g.Rect(x, y+3, 3, float32(rows*line)-6, 0, 0, nil, look.Color(ink.Trouble))
	for k, l := range lines {
		g.Text(l, x+9, y+1+float32(k)*sentenceLead, small, look.Color(ink.Text))
	}
}

// drawRow draws one coordinate, its +- from off[0] to off[1]; without its +-, its number or the words between where a sentence stands over them.
func (c *Card) drawRow(i int, y float32, r row, off [2]float32, noOff, noValue, noWords bool) {
	g := &c.pool
	text, second := look.Color(ink.Text), look.Color(ink.Second)
	axis := edit.Axis(i).String()
	m := brush.Measure(axis, strong)
	g.Text(axis, look.Inset, y+(line-m.Height)/2, strong, text)
	l := &c.rows[i]
	if l.refused == "" || l.offRefused {
		l.value.show(r.value)
	}
	if !l.offRefused {
		l.off.show(r.off)
	}
	if l.off.PlaceHolder != r.offHint {
		l.off.SetPlaceHolder(r.offHint)
	}
	want := float32(look.Value)
	if look.Width(l.value.Text, look.Value, false) > fieldW-16 {
		want = look.Small
	}
	width := float32(fieldW)
	if w := look.Width(l.value.Text, want, false) + 20; w > width {
		width = min(w, 150)
	}
	if !noValue {
		l.value.letters(want)
		l.value.put(g, fieldX, y, width, 7)
	}
	offX := off[0]
	if !noOff {
		l.off.put(g, offX, y, off[1]-offX, 4)
	}
	if noWords {
		return
	}
	x := float32(textX) + width - fieldW
	room := offX - 4 - (x - 3) // of both presses
	l.from.SetText(r.from)
	l.source.SetText(r.source)
	const beside = 3 + 3 + 15 // of a press's words: its rims and its arrow
	if over := l.from.MinSize().Width + l.source.MinSize().Width - room; over > 0 {
		source := min(l.source.MinSize().Width, max(room*0.45, room-l.from.MinSize().Width))
		l.source.SetText(look.Shorten(r.source, look.Small, false, source-beside))
		l.from.SetText(look.Shorten(r.from, look.Small, false, room-l.source.MinSize().Width-beside))
	}
	b := l.from.MinSize()
	l.from.Resize(b)
	l.from.Move(fyne.NewPos(x-3, y-2))
	g.Put(l.from)
	s := l.source.MinSize()
	l.source.Resize(s)
	l.source.Move(fyne.NewPos(max(x-3+b.Width, min(offX-4-s.Width, x+sourceX)), y-2))
	g.Put(l.source)
	for _, say := range r.comes {
		if look.Width(say, look.Small, false) <= offX-8-x {
			g.Text(say, x, y+19, small, second)
			return
		}
	}
	g.Text(look.Shorten(r.comes[len(r.comes)-1], look.Small, false, offX-8-x), x, y+19, small, second)
}

// sourceX is where the sources stand under one another where there is room, from where the words begin.
const sourceX = 118

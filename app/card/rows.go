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
	wide float32
}

func newFigure(size float32, commit func(string) bool, done func()) figure {
	f := figure{entry: newEntry(commit, done), size: size, wide: fieldW}
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
func (f *figure) put(g *brush.Pool, x, y, inset float32) {
	edge, stroke := look.Color(ink.Edge), float32(1)
	if f.focused {
		edge, stroke = look.Color(ink.Press), 2
	}
	g.Rect(x, y+3, f.wide, fieldH, look.Radius, stroke, edge, look.Color(ink.Ground))
	pad := bareOf(f.size).pad
	f.box.Move(fyne.NewPos(x+inset-pad, y+3))
	f.box.Resize(fyne.NewSize(f.wide-2*inset+2*pad, fieldH))
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

// Edit shows the numbers of the held pivot and tells the field of a coordinate's, to give it the keys.
func (c *Card) Edit(a edit.Axis) fyne.Focusable {
	c.joint = false
	c.Refresh()
	return c.rows[a].value.entry
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

// refusal is a sentence of why something typed or chosen was not taken, and where it stands: over as many rows as it takes, right of the number, or left
// of the +-, that was typed and can be mended.
type refusal struct {
	of, first, end int // the row whose it is, and the rows it covers
	x              float32
	lines          []string
}

// refusal is the one that stands; ok is false where none does.
func (c *Card) refusal(size fyne.Size) (f refusal, ok bool) {
	for i := range c.rows {
		r := &c.rows[i]
		if r.refused == "" {
			continue
		}
		x, end := fieldX+r.value.wide+8, size.Width-look.Inset
		if r.offRefused {
			x, end = fieldX, size.Width-offEdge-r.off.wide-8
		}
		lines := look.Wrap(r.refused, look.Small, false, end-x-9)
		rows := min(len(c.rows), (len(lines)*sentenceLead+line-3)/line)
		first := min(i, len(c.rows)-rows)
		return refusal{i, first, first + rows, x, lines}, true
	}
	return refusal{}, false
}

// covers reports whether it stands over a row.
func (f *refusal) covers(i int) bool { return i >= f.first && i < f.end }

// draw draws the sentence.
func (f *refusal) draw(g *brush.Pool) {
	y := float32(head0 + f.first*line)
	g.Rect(f.x, y+3, 3, float32((f.end-f.first)*line)-6, 0, 0, nil, look.Color(ink.Trouble))
	for k, l := range f.lines {
		g.Text(l, f.x+9, y+1+float32(k)*sentenceLead, small, look.Color(ink.Text))
	}
}

// drawRows draws the three coordinates.
func (c *Card) drawRows(size fyne.Size) {
	g := &c.pool
	j, unit := c.doc.Current(), c.doc.Unit()
	at, _ := edit.At(j, c.of)
	mm := [3]float64{at.X, at.Y, at.Z}
	var rows [3]row
	for i := range rows {
		a := edit.Axis(i)
		rows[i] = rowOf(j, unit, c.denominator, c.of, a, mm[i])
		if rows[i].guess && c.doc.Placed(c.of, a) {
			rows[i].source = words.T("by hand")
		}
		c.rows[i].fill(&rows[i])
	}
	no, refused := c.refusal(size)
	for i := range c.rows {
		l := &c.rows[i]
		y := float32(head0 + i*line)
		covered := refused && no.covers(i)
		ruled := size.Width - look.Inset
		if covered && i > no.first {
			ruled = no.x - 4
		}
		g.Line(look.Inset, y, ruled, y, 1, look.Color(ink.Rule))
		axis := edit.Axis(i).String()
		m := brush.Measure(axis, strong)
		g.Text(axis, look.Inset, y+(line-m.Height)/2, strong, look.Color(ink.Text))
		if wide := l.value.wide; !covered || fieldX+wide < no.x {
			l.value.put(g, fieldX, y, 7)
		}
		if x := size.Width - offEdge - l.off.wide; !covered || i == no.of && l.offRefused {
			l.off.put(g, x, y, 4)
		}
		if !covered {
			c.drawWords(l, &rows[i], y, fieldX+l.value.wide+8, size.Width-offEdge-l.off.wide)
		}
	}
	if refused {
		no.draw(g)
	}
}

const mostWide = 150 // of a field

// fill puts what a row shows into its fields, but where a hand is typing or mending there, and sizes them.
func (l *rowLine) fill(r *row) {
	if l.refused == "" || l.offRefused {
		l.value.show(r.value)
	}
	if !l.offRefused {
		l.off.show(r.off)
	}
	if l.off.PlaceHolder != r.offHint {
		l.off.SetPlaceHolder(r.offHint)
	}
	l.value.wide = fieldW
	if look.Width(l.value.Text, look.Value, false) <= fieldW-16 {
		l.value.letters(look.Value)
	} else {
		l.value.letters(look.Small)
		l.value.wide = min(max(fieldW, look.Width(l.value.Text, look.Small, false)+20), mostWide)
	}
	l.off.wide = min(max(offW, look.Width(l.off.Text, look.Small, false)+14), mostWide)
}

// drawWords draws what stands between a row's number and its +-, from x to end.
func (c *Card) drawWords(l *rowLine, r *row, y, x, end float32) {
	g := &c.pool
	room := end - 4 - (x - 3) // of both presses
	l.from.SetText(r.from)
	l.source.SetText(r.source)
	const beside = 3 + 3 + 15 // of a press's words: its rims and its arrow
	if l.from.MinSize().Width+l.source.MinSize().Width > room {
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
	l.source.Move(fyne.NewPos(max(x-3+b.Width, min(end-4-s.Width, x+sourceX)), y-2))
	g.Put(l.source)
	room = end - 8 - x
	for _, say := range r.comes {
		if look.Width(say, look.Small, false) <= room {
			g.Text(say, x, y+19, small, look.Color(ink.Second))
			return
		}
	}
	g.Text(look.Shorten(r.comes[len(r.comes)-1], look.Small, false, room), x, y+19, small, look.Color(ink.Second))
}

// sourceX is where the sources stand under one another where there is room, from where the words begin.
const sourceX = 118

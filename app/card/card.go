// Package card is the pivot card: one pivot and its twin, measured or planned, its three numbers with what they were taken from, whether its
// link keeps its length, and how its bolt lies. It shows something only while a pivot is held.
package card

import (
	"context"
	"fmt"
	"strings"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Size is the room the card is drawn for.
var Size = fyne.NewSize(410, 208)

const (
	head0          = 44 // height of the heading and of the foot
	line           = 40 // height of a coordinate's line
	fieldX, fieldW = 32, 84
	textX          = 124
)

// Card is the pivot card of a document: a Fyne widget. Near and OnNext connect it to whatever knows which pivots lie close together.
type Card struct {
	widget.BaseWidget
	// Near tells which of how many pivots that lie close together is held; nil: there are no others.
	Near func() (index, count int)
	// OnNext takes the next of them.
	OnNext func()
	// OnDone is called after the pivot was let go of by Done or Escape.
	OnDone func()
	// OnTapes places the pivot by tapes; OnDatums shows the list of datums.
	OnTapes, OnDatums func()
	// AskMany asks for several lines of text; a refusal is shown and the question stays.
	AskMany func(title string, labels, now []string, f func([]string) error)

	doc    *document.Document
	cancel func()
	pool   brush.Pool

	kind    *look.Segments
	keep    *look.Button
	done    *look.Button
	next    *look.Button
	twin    *look.Button // unlinks the pair, or links it again
	entries [3]*entry
	fields  [3]*container.ThemeOverride
	sizes   [3]float32
	refused [3]string
	from    [3]*look.Button // what a coordinate is counted from
	tapes   *look.Button
	of      document.Pivot
	held    bool

	joint     bool // the joint's page stands instead of the numbers
	turn      *look.Button
	clevis    *look.Button
	clock     *look.Segments
	clocked   *clocking // newest worked out
	clockAsk  clocking  // asked for last
	stopClock context.CancelFunc
	post      func(func()) // runs a function on the window's goroutine
	start     func(func()) // starts background work
}

// New returns the pivot card of a document.
func New(d *document.Document) *Card {
	c := &Card{doc: d, post: fyne.Do, start: func(f func()) { go f() }}
	c.kind = look.NewSegments([]string{"Measured", "Planned"}, 1, c.setMeasured).Compact(8, look.Row, look.Body)
	c.keep = look.NewButton("Keep length", look.Outline, c.toggleKeep).Tall(32, look.Row)
	c.done = look.NewButton("Done", look.Link, c.finish).Tall(32, look.Row)
	c.next = look.NewButton("", look.Link, func() {
		if c.OnNext != nil {
			c.OnNext()
		}
	}).Tall(20, 24)
	c.twin = c.newTwin()
	c.turn = look.NewButton("", look.Link, func() { c.joint = !c.joint; c.Refresh() }).Type(look.Small, true).Padding(2).Tall(32, look.Row)
	c.clevis = look.NewButton("Cheeks...", look.Outline, c.askClevis).Tall(30, look.Row)
	c.clock = look.NewSegments([]string{"At ride", "Midway"}, -1, c.setClock).Compact(10, look.Row, look.Small)
	c.tapes = look.NewButton("By tapes", look.Link, func() {
		if c.OnTapes != nil {
			c.OnTapes()
		}
	}).Tall(32, look.Row)
	for i := range c.entries {
		c.from[i] = look.NewButton("", look.Plain, func() { look.PopUp(c.datums(edit.Axis(i)), c.from[i]) }).Type(look.Small, false).Padding(3).Tall(20, 24).Caret(look.CaretDown)
		c.entries[i] = newEntry(func(text string) { c.typed(edit.Axis(i), text) }, c.finish)
		c.entries[i].marked = c.Refresh
		c.sizes[i] = look.Value
		c.fields[i] = container.NewThemeOverride(c.entries[i], bare{look.Theme{}, look.Value})
	}
	c.ExtendBaseWidget(c)
	c.take()
	c.cancel = d.Subscribe(func(ch document.Change) {
		if ch&(document.SelectionChanged|document.JobChanged|document.ShownChanged) != 0 || c.joint && ch&document.StudyChanged != 0 {
			c.Refresh()
		}
	})
	return c
}

// Close ends the card's part in its document.
func (c *Card) Close() {
	c.cancel()
	if c.stopClock != nil {
		c.stopClock()
	}
}

// MinSize is the card's room.
func (c *Card) MinSize() fyne.Size { return fyne.NewSize(340, Size.Height) }

// Where tells where a named thing of the card is: "X", "Y", "Z", "X from", "By tapes", "Keep length", "Done", "Measured", "Planned", "Joint",
// "Cheeks", "At ride", "Midway".
func (c *Card) Where(name string) (fyne.Position, bool) {
	middle := func(o fyne.CanvasObject) fyne.Position {
		return o.Position().AddXY(o.Size().Width/2, o.Size().Height/2)
	}
	switch name {
	case "X", "Y", "Z":
		return middle(c.fields[name[0]-'X']), c.held
	case "X from", "Y from", "Z from":
		return middle(c.from[name[0]-'X']), c.held && !c.joint
	case "By tapes":
		return middle(c.tapes), c.held
	case "Twin":
		_, can := c.twinText()
		return middle(c.twin), c.held && can
	case "Keep length":
		return middle(c.keep), c.held && c.of.List == document.Links
	case "Done":
		return middle(c.done), c.held
	case "Joint":
		return middle(c.turn), c.held && c.hasJoint()
	case "Cheeks":
		return middle(c.clevis), c.held && c.joint
	case "At ride", "Midway":
		i := 0
		if name == "Midway" {
			i = 1
		}
		return c.clock.Position().Add(c.clock.Centre(i)), c.held && c.joint
	case "Measured", "Planned":
		i := 0
		if name == "Planned" {
			i = 1
		}
		return c.kind.Position().Add(c.kind.Centre(i)), c.held
	}
	return fyne.Position{}, false
}

// Texts are the words on the card, for whoever drives the window from outside.
func (c *Card) Texts() []string {
	var out []string
	c.pool.Texts(func(s string, _ fyne.Position, _ fyne.Size) { out = append(out, s) })
	if _, can := c.twinText(); c.held && can {
		out = append(out, c.twin.Text())
	}
	for i, b := range c.from {
		if c.held && !c.joint && c.refused[i] == "" {
			out = append(out, b.Text())
		}
	}
	return out
}

// take follows the held pivot.
func (c *Card) take() {
	p, ok := c.doc.Held()
	was := c.held
	if ok != c.held || p != c.of {
		c.of, c.held = p, ok
		c.refused = [3]string{}
		for _, e := range c.entries {
			e.shown = e.Text // what was half typed for another pivot is not for this one
		}
	}
	if !c.held {
		return
	}
	if !was {
		c.dress()
	}
	j := c.doc.Current()
	lit := 1
	if edit.IsMeasured(j, c.of) {
		lit = 0
	}
	second := "Planned"
	if lit == 0 {
		second = "Free"
	}
	c.kind.Set([]string{"Measured", second}, lit)
	if c.of.List == document.Links {
		c.keep.SetLit(edit.KeepsLength(j, c.of.Index))
	}
}

// dress gives the fields their theme once their insides exist: the toolkit hands a theme down to what is there at the time, and throws away
// the insides of what was long out of sight.
func (c *Card) dress() {
	for i, f := range c.fields {
		f.MinSize()
		c.entries[i].MinSize()
		f.Refresh()
	}
}

func (c *Card) setMeasured(i int) {
	if !c.held {
		return
	}
	if err := c.doc.SetMeasured(c.of, i == 0); err != nil {
		c.refused[0] = document.Words(err)
	} else {
		c.refused = [3]string{}
	}
	c.Refresh()
}

func (c *Card) toggleKeep() {
	if !c.held || c.of.List != document.Links {
		return
	}
	i := c.of.Index
	keep := !edit.KeepsLength(c.doc.Current(), i)
	if err := c.doc.SetKeepLength(i, keep); err != nil {
		c.refused[0] = document.Words(err)
	}
	c.Refresh()
}

// typed takes a coordinate as typed.
func (c *Card) typed(a edit.Axis, text string) {
	if !c.held {
		return
	}
	c.refused[a] = ""
	if err := c.doc.TypePivot(c.of, a, text); err != nil {
		// the card has the pivot's name over it and the axis beside it
		words := strings.TrimPrefix(document.Words(err), fmt.Sprintf("%s, %s: ", edit.Name(c.doc.Current(), c.of), a))
		c.refused[a] = words
	}
	c.Refresh()
}

func (c *Card) finish() {
	c.doc.LetGo()
	if c.OnDone != nil {
		c.OnDone()
	}
}

type renderer struct{ c *Card }

// CreateRenderer makes the card's renderer; Fyne calls it.
func (c *Card) CreateRenderer() fyne.WidgetRenderer {
	c.ExtendBaseWidget(c)
	return &renderer{c}
}

func (r *renderer) Destroy()                     {}
func (r *renderer) MinSize() fyne.Size           { return r.c.MinSize() }
func (r *renderer) Objects() []fyne.CanvasObject { return r.c.pool.Objects() }
func (r *renderer) Layout(fyne.Size)             { r.c.draw() }
func (r *renderer) Refresh() {
	r.c.take()
	r.c.draw()
	canvas.Refresh(r.c)
}

var (
	small  = brush.Type{Size: look.Small}
	strong = brush.Type{Size: look.Body, Bold: true}
)

// draw makes the card again.
func (c *Card) draw() {
	g := &c.pool
	g.Begin()
	if !c.held {
		return
	}
	size := c.Size()
	j, unit := c.doc.Current(), c.doc.Unit()
	g.Rect(0, 0, size.Width, size.Height, 0, 2, look.Color(ink.Press), look.Color(ink.Panel))
	c.drawHead(size)
	if c.joint && c.hasJoint() {
		c.drawJoint(size)
		c.drawLower(size)
		return
	}
	at, _ := edit.At(j, c.of)
	mm := [3]float64{at.X, at.Y, at.Z}
	for i := range c.entries {
		y := float32(head0 + i*line)
		g.Line(look.Inset, y, size.Width-look.Inset, y, 1, look.Color(ink.Rule))
		r := rowOf(j, unit, c.of, edit.Axis(i), mm[i])
		if r.second == aGuess && c.doc.Placed(c.of, edit.Axis(i)) {
			r.second = "placed by hand"
		}
		c.drawRow(i, y, size, r)
	}
	c.drawLower(size)
}

// drawLower draws the foot and the rule over it.
func (c *Card) drawLower(size fyne.Size) {
	y := float32(head0 + 3*line)
	c.pool.Line(look.Inset, y, size.Width-look.Inset, y, 1, look.Color(ink.Rule))
	c.drawFoot(y, size)
}

func (c *Card) drawHead(size fyne.Size) {
	g := &c.pool
	g.Circle(20, 22, 6.5, 3, look.Color(ink.Press), nil)
	k := c.kind.MinSize()
	kx := size.Width - 8 - k.Width
	c.kind.Resize(k)
	c.kind.Move(fyne.NewPos(kx, (head0-k.Height)/2))
	g.Put(c.kind)
	j := c.doc.Current()
	name := edit.Name(j, c.of)
	second := ""
	if part, end, ok := strings.Cut(name, ", "); ok && look.Width(name, look.Body, true) > kx-34-6 { // the end goes to the second line
		name, second = part, end
	}
	name = look.Shorten(name, look.Body, true, kx-34-6)
	m := g.Text(name, 34, 1, strong, look.Color(ink.Text))
	count := 1
	if c.Near != nil {
		_, count = c.Near()
	}
	room := kx - 34 - 6
	if count > 1 {
		c.next.SetText(fmt.Sprintf("next of %d", count))
		room -= c.next.MinSize().Width + 10
	}
	n := c.drawTwin(second, 1+m.Height-2, room)
	if count > 1 {
		w := c.next.MinSize()
		c.next.Resize(w)
		c.next.Move(fyne.NewPos(34+n+10, m.Height-3))
		g.Put(c.next)
	}
}

func (c *Card) drawRow(i int, y float32, size fyne.Size, r row) {
	g := &c.pool
	text, second := look.Color(ink.Text), look.Color(ink.Second)
	axis := string(rune('X' + i))
	m := brush.Measure(axis, strong)
	g.Text(axis, look.Inset, y+(line-m.Height)/2, strong, text)
	e := c.entries[i]
	if c.refused[i] == "" {
		e.show(r.value)
	}
	want := float32(look.Value)
	if look.Width(e.Text, look.Value, false) > fieldW-16 {
		want = look.Small
	}
	width := float32(fieldW)
	if w := look.Width(e.Text, want, false) + 20; w > width {
		width = min(w, 150)
	}
	if want != c.sizes[i] {
		c.sizes[i] = want
		c.fields[i].Theme = bare{look.Theme{}, want}
		c.fields[i].Refresh()
	}
	edge, stroke := look.Color(ink.Edge), float32(1)
	if e.focused {
		edge, stroke = look.Color(ink.Press), 2
	}
	g.Rect(fieldX, y+3, width, line-6, look.Radius, stroke, edge, look.Color(ink.Ground))
	h := look.Measure("0", want, false).Height
	c.fields[i].Move(fyne.NewPos(fieldX+7, y+(line-h)/2))
	c.fields[i].Resize(fyne.NewSize(width-14, h))
	g.Put(c.fields[i])
	x := float32(textX) + width - fieldW
	right := size.Width - look.Inset
	if words := c.refused[i]; words != "" {
		g.Rect(x, y+3, 3, line-6, 0, 0, nil, look.Color(ink.Trouble))
		for k, l := range look.Wrap(words, look.Small, false, right-x-9) {
			if k == 2 {
				break
			}
			g.Text(l, x+9, y+1+float32(k)*18, small, text)
		}
		return
	}
	echo := brush.Measure(r.echo, small)
	rest := brush.Measure(r.rest, small)
	g.Text(r.echo, right-echo.Width, y+1, small, second)
	g.Text(r.rest, right-rest.Width, y+19, small, second)
	room := right - echo.Width - 8 - x
	c.from[i].SetText(look.Shorten(r.first, look.Small, false, room-24))
	b := c.from[i].MinSize()
	c.from[i].Resize(b)
	c.from[i].Move(fyne.NewPos(x-3, y-2))
	g.Put(c.from[i])
	g.Text(look.Shorten(r.second, look.Small, false, right-rest.Width-8-x), x, y+19, small, second)
}

func (c *Card) drawFoot(y float32, size fyne.Size) {
	g := &c.pool
	x := float32(look.Inset)
	mid := func(h float32) float32 { return y + (size.Height-y-h)/2 }
	put := func(words string, color ink.Role) {
		m := brush.Measure(words, small)
		g.Text(words, x, mid(m.Height), small, look.Color(color))
		x += m.Width + 10
	}
	d := c.done.MinSize()
	c.done.Resize(d)
	c.done.Move(fyne.NewPos(size.Width-look.Inset-d.Width, mid(d.Height)))
	g.Put(c.done)
	if t := c.tapes.MinSize(); c.OnTapes != nil && size.Width >= 380 {
		c.tapes.Resize(t)
		c.tapes.Move(fyne.NewPos(size.Width-look.Inset-d.Width-10-t.Width, mid(t.Height)))
		g.Put(c.tapes)
		d.Width += 10 + t.Width
	}
	j := c.doc.Current()
	switch {
	case c.of.List == document.Links:
		if edit.KeepsLength(j, c.of.Index) {
			put("links kept", ink.Text)
		} else {
			put("links re-set", ink.Text)
		}
		k := c.keep.MinSize()
		c.keep.Resize(k)
		c.keep.Move(fyne.NewPos(x, mid(k.Height)))
		g.Put(c.keep)
		x += k.Width + 10
	case c.hasJoint():
		put("links re-set", ink.Text)
	default:
		return
	}
	if !c.hasJoint() {
		return
	}
	room := size.Width - look.Inset - d.Width - 8 - x
	bolt := edit.BoltWords(j, c.of)
	for _, words := range []string{"Joint: bolt " + bolt, "Joint: " + bolt, "bolt " + bolt, bolt, "Joint"} {
		if c.joint {
			words = "Back to X, Y, Z"
		}
		c.turn.SetText(words)
		if c.turn.MinSize().Width <= room {
			break
		}
	}
	t := c.turn.MinSize()
	c.turn.Resize(t)
	c.turn.Move(fyne.NewPos(x, mid(t.Height)))
	g.Put(c.turn)
}

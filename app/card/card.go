// Package card is the pivot card: one pivot and its twin, measured or planned, its three numbers with what they were taken from, whether its
// link keeps its length, and how its bolt lies. It shows something only while a pivot is held.
package card

import (
	"context"
	"strings"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/geometry/measure"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Size is the room the card is drawn for.
var Size = fyne.NewSize(410, 208)

const (
	head0 = 44 // height of the heading and of the foot
	line  = 40 // height of a coordinate's line
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
	// OnTapes places the pivot by tapes; OnDatums shows the list of datums; OnStood is for pivots measured on an axle or a body that stands otherwise.
	OnTapes, OnDatums, OnStood func()
	// OnPart opens the form of a part: of the pivot's bracket.
	OnPart func(edit.Part)
	// AskMany asks for several lines of text; a refusal is shown and the question stays.
	AskMany func(title string, labels, now []string, f func([]string) error)

	doc    *document.Document
	cancel func()
	pool   brush.Pool

	kind  *look.Segments
	keep  *look.Button
	done  *look.Button
	next  *look.Button
	twin  *look.Button // opens what can be done with the pivot: unlink the pair, its holes
	rows  [3]rowLine
	tapes *look.Button
	of    document.Pivot
	held  bool
	// inches are shown to this fraction of one
	denominator int

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
	c := &Card{doc: d, denominator: measure.DefaultDenominator, post: fyne.Do, start: func(f func()) { go f() }}
	c.kind = look.NewSegments([]string{words.T("Measured"), words.T("Planned")}, 1, c.setMeasured).Compact(8, look.Row, look.Body)
	c.keep = look.NewButton("", look.Outline, func() { look.PopUp(c.keepMenu(), c.keep) }).Tall(32, look.Row).Padding(8).Caret(look.CaretDown)
	c.done = look.NewButton(words.T("Done"), look.Link, c.finish).Tall(32, look.Row)
	c.next = look.NewButton("", look.Link, func() {
		if c.OnNext != nil {
			c.OnNext()
		}
	}).Tall(20, 24)
	c.twin = c.newTwin()
	c.turn = look.NewButton("", look.Link, func() { c.joint = !c.joint; c.Refresh() }).Type(look.Small, true).Padding(2).Tall(32, look.Row)
	c.clevis = look.NewButton(words.T("Cheeks..."), look.Outline, c.askClevis).Tall(30, look.Row)
	c.clock = look.NewSegments([]string{words.T("At ride"), words.T("Midway")}, -1, c.setClock).Compact(10, look.Row, look.Small)
	c.tapes = look.NewButton(words.T("By tapes"), look.Link, func() {
		if c.OnTapes != nil {
			c.OnTapes()
		}
	}).Tall(32, look.Row)
	for i := range c.rows {
		c.rows[i] = c.newRow(edit.Axis(i))
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

// SetDenominator chooses the fraction of an inch lengths are shown to.
func (c *Card) SetDenominator(n int) {
	c.denominator = n
	c.Refresh()
}

// MinSize is the card's room.
func (c *Card) MinSize() fyne.Size { return fyne.NewSize(340, Size.Height) }

// Where tells where a named thing of the card is: "X", "Y", "Z", "X off", "X from", "X source", "By tapes", "Keep", "Done", "Measured", "Planned", "Joint",
// "Cheeks", "At ride", "Midway".
func (c *Card) Where(name string) (fyne.Position, bool) {
	middle := func(o fyne.CanvasObject) fyne.Position {
		return o.Position().AddXY(o.Size().Width/2, o.Size().Height/2)
	}
	switch name {
	case "X", "Y", "Z":
		return middle(c.rows[name[0]-'X'].value.box), c.held
	case "X off", "Y off", "Z off":
		return middle(c.rows[name[0]-'X'].off.box), c.held && !c.joint
	case "X from", "Y from", "Z from":
		return middle(c.rows[name[0]-'X'].from), c.held && !c.joint
	case "X source", "Y source", "Z source":
		return middle(c.rows[name[0]-'X'].source), c.held && !c.joint
	case "By tapes":
		return middle(c.tapes), c.held
	case "Twin":
		return middle(c.twin), c.held
	case "Keep":
		return middle(c.keep), c.held
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
	if c.held {
		out = append(out, c.twin.Text())
	}
	for i := range c.rows {
		if r := &c.rows[i]; c.held && !c.joint && r.refused == "" {
			out = append(out, r.from.Text(), r.source.Text(), r.off.Text)
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
		for i := range c.rows {
			c.rows[i].forget()
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
	second := words.T("Planned")
	if lit == 0 {
		second = words.T("Free")
	}
	c.kind.Set([]string{words.T("Measured"), second}, lit)
	c.keep.SetLit(len(edit.KeepWords(j, c.of)) > 0)
}

// dress gives the fields their theme once their insides exist: the toolkit hands a theme down to what is there at the time, and throws away
// the insides of what was long out of sight.
func (c *Card) dress() {
	for i := range c.rows {
		for _, f := range []*figure{&c.rows[i].value, &c.rows[i].off} {
			f.box.MinSize()
			f.MinSize()
			f.box.Refresh()
		}
	}
}

func (c *Card) setMeasured(i int) {
	if !c.held {
		return
	}
	c.refuse(c.doc.SetMeasured(c.of, i == 0))
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
	g.Rect(0, 0, size.Width, size.Height, 0, 2, look.Color(ink.Press), look.Color(ink.Panel))
	c.drawHead(size)
	if c.joint && c.hasJoint() {
		c.drawJoint(size)
		c.drawLower(size)
		return
	}
	c.drawRows(size)
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
		c.next.SetText(words.F("next of %d", count))
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

func (c *Card) drawFoot(y float32, size fyne.Size) {
	g := &c.pool
	x := float32(look.Inset)
	mid := func(h float32) float32 { return y + (size.Height-y-h)/2 }
	put := func(text string, color ink.Role) {
		m := brush.Measure(text, small)
		g.Text(text, x, mid(m.Height), small, look.Color(color))
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
	joint := float32(0)
	if c.hasJoint() {
		joint = 62
	}
	switch {
	case len(edit.KeepWords(j, c.of)) > 0: // the button says it
	case c.of.List == document.Links || c.hasJoint():
		put(words.T("links re-set"), ink.Text)
	}
	for _, text := range c.keepTexts() {
		c.keep.SetText(text)
		if c.keep.MinSize().Width <= size.Width-look.Inset-d.Width-8-x-joint {
			break
		}
	}
	k := c.keep.MinSize()
	c.keep.Resize(k)
	c.keep.Move(fyne.NewPos(x, mid(k.Height)))
	g.Put(c.keep)
	x += k.Width + 10
	if !c.hasJoint() {
		return
	}
	room := size.Width - look.Inset - d.Width - 8 - x
	bolt := edit.BoltWords(j, c.of)
	for _, text := range []string{words.F("Joint: bolt %s", bolt), words.F("Joint: %s", bolt), words.F("bolt %s", bolt), bolt, words.T("Joint")} {
		if c.joint {
			text = words.T("Back to X, Y, Z")
		}
		c.turn.SetText(text)
		if c.turn.MinSize().Width <= room {
			break
		}
	}
	t := c.turn.MinSize()
	c.turn.Resize(t)
	c.turn.Move(fyne.NewPos(x, mid(t.Height)))
	g.Put(c.turn)
}

package look

import (
	"image/color"

	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Style is how a button is drawn.
type Style uint8

// The styles.
const (
	Outline Style = iota // edge of a control
	Filled               // blue: the one thing to press
	Bold                 // heavy edge in ink: Start my job
	Plain                // words only, no edge
	Link                 // blue bold words
)

// Caret is the small arrow behind a button's words.
type Caret uint8

// The carets.
const (
	NoCaret Caret = iota
	CaretDown
	CaretUp
)

// Button is a flat button: drawn 32 to 36 high (48 in the tight line) in the middle of a taller hit area.
// Space and Enter press it while it has the focus, which is drawn round it.
type Button struct {
	widget.BaseWidget
	OnTapped func()

	text     string
	size     float32
	bold     bool
	style    Style
	caret    Caret
	drawn    float32
	hit      float32
	pad      float32
	disabled bool
	lit      bool
	under    bool
	focused  bool
	hovered  bool
}

var (
	_ fyne.Tappable     = (*Button)(nil)
	_ fyne.Focusable    = (*Button)(nil)
	_ desktop.Hoverable = (*Button)(nil)
)

// NewButton makes a button.
func NewButton(text string, style Style, tapped func()) *Button {
	b := &Button{OnTapped: tapped, text: text, size: Body, style: style, drawn: Drawn, hit: Row, pad: 11}
	switch style {
	case Filled:
		b.bold = true
	case Bold:
		b.bold, b.size = true, Large
	case Link:
		b.bold, b.pad, b.size = true, 2, Small
	case Outline, Plain:
	}
	b.ExtendBaseWidget(b)
	return b
}

// Tall sets the height it is drawn at and its hit area; returns the button.
func (b *Button) Tall(drawn, hit float32) *Button { b.drawn, b.hit = drawn, hit; return b }

// Caret sets the small arrow behind the words; returns the button.
func (b *Button) Caret(c Caret) *Button { b.caret = c; return b }

// Type sets the letters; returns the button.
func (b *Button) Type(size float32, bold bool) *Button { b.size, b.bold = size, bold; return b }

// Padding sets the room left and right of the words; returns the button.
func (b *Button) Padding(p float32) *Button { b.pad = p; return b }

// Text is the words on it.
func (b *Button) Text() string { return b.text }

// SetText changes the words; equal words cost nothing.
func (b *Button) SetText(s string) {
	if b.text != s {
		b.text = s
		b.Refresh()
	}
}

// SetStyle changes how it is drawn.
func (b *Button) SetStyle(s Style) {
	if b.style != s {
		b.style = s
		b.Refresh()
	}
}

// SetLit draws it blue while what it opens is open.
func (b *Button) SetLit(on bool) {
	if b.lit != on {
		b.lit = on
		b.Refresh()
	}
}

// Lit reports whether it is drawn blue.
func (b *Button) Lit() bool { return b.lit }

// SetUnderlined draws a blue bar under the words: the one of several that stands.
func (b *Button) SetUnderlined(on bool) {
	if b.under != on {
		b.under = on
		b.Refresh()
	}
}

// SetDisabled greys the button; presses then do nothing.
func (b *Button) SetDisabled(on bool) {
	if b.disabled != on {
		b.disabled = on
		b.Refresh()
	}
}

// Disabled reports whether it is grey.
func (b *Button) Disabled() bool { return b.disabled }

// Tapped presses it.
func (b *Button) Tapped(*fyne.PointEvent) {
	if !b.disabled && b.OnTapped != nil {
		b.OnTapped()
	}
}

// FocusGained is the toolkit's.
func (b *Button) FocusGained() { b.focused = true; b.Refresh() }

// FocusLost is the toolkit's.
func (b *Button) FocusLost() { b.focused = false; b.Refresh() }

// TypedRune does nothing.
func (b *Button) TypedRune(rune) {}

// TypedKey presses it by Space or Enter; every other key is the window's.
func (b *Button) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		b.Tapped(nil)
	default:
		HandOn(b, e)
	}
}

// HandOn gives a key that means nothing to the thing with the focus to the window.
func HandOn(o fyne.CanvasObject, e *fyne.KeyEvent) {
	c := fyne.CurrentApp().Driver().CanvasForObject(o)
	if c == nil {
		return
	}
	if f := c.OnTypedKey(); f != nil {
		f(e)
	}
}

// MouseIn is the toolkit's.
func (b *Button) MouseIn(*desktop.MouseEvent) { b.hovered = true; b.Refresh() }

// MouseMoved is the toolkit's.
func (b *Button) MouseMoved(*desktop.MouseEvent) {}

// MouseOut is the toolkit's.
func (b *Button) MouseOut() { b.hovered = false; b.Refresh() }

// CreateRenderer is the toolkit's.
func (b *Button) CreateRenderer() fyne.WidgetRenderer {
	b.ExtendBaseWidget(b)
	r := &buttonRenderer{b: b, t: Text(b.text, b.size, ink.Text, b.bold), box: &canvas.Rectangle{}, ring: &canvas.Rectangle{}, bar: &canvas.Rectangle{}, c1: &canvas.Line{StrokeWidth: 1.8}, c2: &canvas.Line{StrokeWidth: 1.8}}
	r.ring.FillColor, r.ring.StrokeWidth, r.ring.CornerRadius = Clear, 2, Radius+2
	r.box.CornerRadius = Radius
	r.paint()
	return Made(b, r)
}

type buttonRenderer struct {
	b              *Button
	t              *canvas.Text
	box, ring, bar *canvas.Rectangle
	c1, c2         *canvas.Line
}

func (r *buttonRenderer) caretWidth() float32 {
	if r.b.caret == NoCaret {
		return 0
	}
	return 15
}

func (r *buttonRenderer) MinSize() fyne.Size {
	m := Measure(r.b.text, r.b.size, r.b.bold)
	return fyne.NewSize(m.Width+2*r.b.pad+r.caretWidth(), r.b.hit)
}

func (r *buttonRenderer) Layout(s fyne.Size) {
	h := min(r.b.drawn, s.Height)
	y := (s.Height - h) / 2
	r.box.Move(fyne.NewPos(0, y))
	r.box.Resize(fyne.NewSize(s.Width, h))
	r.ring.Move(fyne.NewPos(-2, y-2))
	r.ring.Resize(fyne.NewSize(s.Width+4, h+4))
	m := r.t.MinSize()
	w := m.Width + r.caretWidth()
	x := (s.Width - w) / 2
	r.t.Move(fyne.NewPos(x, (s.Height-m.Height)/2))
	r.t.Resize(m)
	cx, cy := x+m.Width+10, s.Height/2+1
	d := float32(2)
	if r.b.caret == CaretUp {
		d = -2
	}
	r.c1.Position1, r.c1.Position2 = fyne.NewPos(cx-4, cy-d), fyne.NewPos(cx, cy+d)
	r.c2.Position1, r.c2.Position2 = fyne.NewPos(cx, cy+d), fyne.NewPos(cx+4, cy-d)
	r.bar.Move(fyne.NewPos(x, y+h-3))
	r.bar.Resize(fyne.NewSize(w, 3))
}

func (r *buttonRenderer) paint() {
	b := r.b
	var fill, edge color.Color = Color(ink.Ground), Color(ink.Edge)
	text, width := Color(ink.Text), float32(1)
	switch b.style {
	case Filled:
		fill, edge, text = Color(ink.Press), Color(ink.Press), Color(ink.OnPress)
	case Bold:
		edge, width = Color(ink.Text), 2
	case Plain:
		fill, edge, width = Clear, Clear, 0
	case Link:
		fill, edge, width, text = Clear, Clear, 0, Color(ink.Press)
	case Outline:
	}
	if b.lit {
		fill, edge, text = Color(ink.Press), Color(ink.Press), Color(ink.OnPress)
	}
	if b.disabled {
		text = Color(ink.Second)
		if b.style != Plain && b.style != Link {
			fill, edge, width = Clear, Color(ink.Rule), 1
		}
	} else if b.hovered && fill != Color(ink.Press) {
		edge, width = Color(ink.Press), max(width, 1.5)
		if b.style == Plain || b.style == Link {
			fill, edge, width = Veil(ink.Press, 0x18), Clear, 0
		}
	}
	r.box.FillColor, r.box.StrokeColor, r.box.StrokeWidth = fill, edge, width*Weight()
	Paint(r.t, b.text, text)
	r.t.TextSize, r.t.TextStyle.Bold = b.size, b.bold
	r.c1.StrokeColor, r.c2.StrokeColor = text, text
	r.c1.Hidden, r.c2.Hidden = b.caret == NoCaret, b.caret == NoCaret
	r.bar.FillColor, r.bar.Hidden = Color(ink.Press), !b.under
	r.ring.StrokeColor, r.ring.StrokeWidth, r.ring.Hidden = Color(ink.Text), 2*Weight(), !b.focused
}

func (r *buttonRenderer) Refresh() {
	r.paint()
	r.Layout(r.b.Size())
	canvas.Refresh(r.b)
}

func (r *buttonRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.box, r.t, r.c1, r.c2, r.bar, r.ring}
}
func (r *buttonRenderer) Destroy() {}

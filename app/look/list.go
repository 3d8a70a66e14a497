package look

import (
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// List is the toolkit's list with a frame round it while it has the keys. Up and down go through the rows, Space and Enter press one; every other
// key is asked of OnKey first, which tells whether it took it, else it is the window's; likewise OnShortcut of keys held with Ctrl. Where there is an
// OnKey, a pressed row gives the list the keys. A press with the other button chooses a row and opens what OnMenu gives.
type List struct {
	widget.List
	OnKey      func(fyne.KeyName) bool
	OnShortcut func(fyne.Shortcut) bool
	OnMenu     func() *fyne.Menu
	Follow     bool // the arrows choose the row they come to
	at         int  // the row the arrows are on
	ring       canvas.Rectangle
}

var (
	_ fyne.Focusable         = (*List)(nil)
	_ fyne.Shortcutable      = (*List)(nil)
	_ fyne.Tappable          = (*listRow)(nil)
	_ fyne.SecondaryTappable = (*listRow)(nil)
)

// NewList makes a list of rows: how many there are, a new one, and what the one at a place shows.
func NewList(length func() int, create func() fyne.CanvasObject, update func(i int, o fyne.CanvasObject)) *List {
	l := &List{}
	l.Length = length
	l.CreateItem = func() fyne.CanvasObject {
		r := &listRow{l: l, in: create()}
		r.ExtendBaseWidget(r)
		return r
	}
	l.UpdateItem = func(i int, o fyne.CanvasObject) {
		r := o.(*listRow)
		r.i = i
		update(i, r.in)
	}
	l.ExtendBaseWidget(l)
	return l
}

// listRow is what a row shows; it takes the presses, of which the toolkit's row knows only one button and not whose list it is in.
type listRow struct {
	widget.BaseWidget
	l  *List
	i  int
	in fyne.CanvasObject
}

// CreateRenderer is the toolkit's.
func (r *listRow) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.in) }

// Tapped is the toolkit's.
func (r *listRow) Tapped(*fyne.PointEvent) { r.press() }

// TappedSecondary is the toolkit's.
func (r *listRow) TappedSecondary(e *fyne.PointEvent) {
	l := r.l
	if l.OnMenu == nil {
		return
	}
	r.press()
	if m := l.OnMenu(); m != nil {
		widget.ShowPopUpMenuAtPosition(m, fyne.CurrentApp().Driver().CanvasForObject(l), e.AbsolutePosition)
	}
}

func (r *listRow) press() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(r.l); c != nil && r.l.OnKey != nil {
		c.Focus(r.l)
	}
	r.l.Select(r.i)
}

// Select chooses a row; the arrows go on from it.
func (l *List) Select(i int) {
	l.walk(i)
	l.List.Select(i)
}

// walk puts the arrows on a row; the toolkit has only steps for that.
func (l *List) walk(to int) {
	to = max(0, min(to, l.Length()-1))
	for l.at > to {
		l.at--
		l.List.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	}
	for l.at < to {
		l.at++
		l.List.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	}
}

// FocusGained is the toolkit's.
func (l *List) FocusGained() { l.List.FocusGained(); l.frame(true) }

// FocusLost is the toolkit's.
func (l *List) FocusLost() { l.List.FocusLost(); l.frame(false) }

func (l *List) frame(on bool) {
	l.ring.Hidden = !on
	l.ring.FillColor, l.ring.StrokeColor, l.ring.StrokeWidth = Clear, Color(ink.Press), 2*Weight()
	l.ring.Refresh()
}

// TypedKey is the toolkit's.
func (l *List) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		l.List.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	case fyne.KeySpace:
		l.List.TypedKey(e)
	case fyne.KeyUp:
		l.step(-1)
	case fyne.KeyDown:
		l.step(1)
	default:
		if l.OnKey == nil || !l.OnKey(e.Name) {
			HandOn(l, e)
		}
	}
}

func (l *List) step(by int) {
	l.walk(l.at + by)
	if l.Follow && l.at < l.Length() {
		l.List.Select(l.at)
	}
}

// TypedShortcut is the toolkit's.
func (l *List) TypedShortcut(s fyne.Shortcut) {
	if l.OnShortcut != nil && l.OnShortcut(s) {
		return
	}
	if c, ok := fyne.CurrentApp().Driver().CanvasForObject(l).(fyne.Shortcutable); ok {
		c.TypedShortcut(s)
	}
}

// CreateRenderer is the toolkit's.
func (l *List) CreateRenderer() fyne.WidgetRenderer {
	r := &listRenderer{l.List.CreateRenderer(), l}
	l.frame(false)
	return r
}

type listRenderer struct {
	fyne.WidgetRenderer
	l *List
}

func (r *listRenderer) Layout(s fyne.Size) {
	r.WidgetRenderer.Layout(s)
	r.l.ring.Resize(s)
}

func (r *listRenderer) Refresh() {
	r.WidgetRenderer.Refresh()
	r.l.frame(!r.l.ring.Hidden)
}

func (r *listRenderer) Objects() []fyne.CanvasObject {
	return append(r.WidgetRenderer.Objects()[:1:1], &r.l.ring)
}

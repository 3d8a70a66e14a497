package look

import (
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// List is the toolkit's list with a frame round it while it has the keys. Up and down go through the rows, Space and Enter press one; every other
// key is asked of OnKey first, which tells whether it took it, else it is the window's; likewise OnShortcut of keys held with Ctrl. A press with the
// other button chooses a row and opens what OnMenu gives.
type List struct {
	widget.List
	OnKey      func(fyne.KeyName) bool
	OnShortcut func(fyne.Shortcut) bool
	OnMenu     func() *fyne.Menu
	ring       canvas.Rectangle
}

var (
	_ fyne.Focusable         = (*List)(nil)
	_ fyne.Shortcutable      = (*List)(nil)
	_ fyne.SecondaryTappable = (*List)(nil)
)

// NewList makes a list of rows: how many there are, a new one, and what the one at a place shows.
func NewList(length func() int, create func() fyne.CanvasObject, update func(i int, o fyne.CanvasObject)) *List {
	l := &List{}
	l.Length, l.CreateItem, l.UpdateItem = length, create, update
	l.ExtendBaseWidget(l)
	return l
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
	case fyne.KeyUp, fyne.KeyDown, fyne.KeySpace:
		l.List.TypedKey(e)
	default:
		if l.OnKey == nil || !l.OnKey(e.Name) {
			HandOn(l, e)
		}
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

// TappedSecondary is the toolkit's.
func (l *List) TappedSecondary(e *fyne.PointEvent) {
	if l.OnMenu == nil {
		return
	}
	row := l.CreateItem().MinSize().Height + l.Theme().Size(theme.SizeNamePadding) // the toolkit's rows stand so far apart
	if i := int((l.GetScrollOffset() + e.Position.Y) / row); row > 0 && i < l.Length() {
		l.Select(i)
	} else {
		return
	}
	if m := l.OnMenu(); m != nil {
		widget.ShowPopUpMenuAtPosition(m, fyne.CurrentApp().Driver().CanvasForObject(l), e.AbsolutePosition)
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

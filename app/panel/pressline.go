package panel

import (
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// pressLine is words that can be pressed, as many lines as they take. A bar at its left says that it is the one shown; a mark there, that it is trouble.
type pressLine struct {
	widget.BaseWidget
	para    *look.Para
	mark    *mark
	pressed func() // nil: words only
	seen    func() // brings it into view
	lit     bool
	focused bool
	hovered bool
}

var (
	_ fyne.Tappable     = (*pressLine)(nil)
	_ fyne.Focusable    = (*pressLine)(nil)
	_ desktop.Hoverable = (*pressLine)(nil)
)

func newPressLine(lead, words string, role ink.Role, pressed func()) *pressLine {
	l := &pressLine{para: look.NewPara(lead, words, role), mark: newMark(study.Outside, 1), pressed: pressed}
	l.mark.Hide()
	l.ExtendBaseWidget(l)
	return l
}

// troubled puts a kind of trouble's mark at its left; Outside is none. Returns the line.
func (l *pressLine) troubled(k study.Kind) *pressLine {
	l.mark.set(k)
	look.Show(l.mark, k != study.Outside)
	return l
}

// HeightFor is the height at a width.
func (l *pressLine) HeightFor(w float32) float32 { return l.para.HeightFor(w-lineInset-6) + 8 }

// lineInset is where the words of a line begin.
const lineInset = 14

func (l *pressLine) Tapped(*fyne.PointEvent) {
	if l.pressed != nil {
		l.pressed()
	}
}
func (l *pressLine) FocusGained() {
	l.focused = true
	if l.seen != nil {
		l.seen()
	}
	l.Refresh()
}
func (l *pressLine) FocusLost()                     { l.focused = false; l.Refresh() }
func (l *pressLine) TypedRune(rune)                 {}
func (l *pressLine) MouseIn(*desktop.MouseEvent)    { l.hovered = true; l.Refresh() }
func (l *pressLine) MouseMoved(*desktop.MouseEvent) {}
func (l *pressLine) MouseOut()                      { l.hovered = false; l.Refresh() }
func (l *pressLine) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		l.Tapped(nil)
	default:
		look.HandOn(l, e)
	}
}

func (l *pressLine) CreateRenderer() fyne.WidgetRenderer {
	l.ExtendBaseWidget(l)
	return look.Made(l, &pressLineRenderer{l, &canvas.Rectangle{}, &canvas.Rectangle{}})
}

type pressLineRenderer struct {
	l         *pressLine
	back, bar *canvas.Rectangle
}

func (x *pressLineRenderer) Layout(s fyne.Size) {
	l := x.l
	x.back.FillColor, x.back.StrokeWidth = look.Clear, 0
	switch {
	case l.lit:
		x.back.FillColor = look.Veil(ink.Press, 0x24)
	case l.hovered && l.pressed != nil:
		x.back.FillColor = look.Veil(ink.Press, 0x14)
	}
	if l.focused {
		x.back.StrokeColor, x.back.StrokeWidth = look.Color(ink.Press), 2
	}
	x.back.Resize(s)
	x.bar.FillColor, x.bar.Hidden = look.Color(ink.Press), !l.lit
	x.bar.Resize(fyne.NewSize(4, s.Height))
	l.mark.Move(fyne.NewPos(3, 4))
	l.mark.Resize(fyne.NewSize(8, s.Height-8))
	w := s.Width - lineInset - 6
	l.para.Move(fyne.NewPos(lineInset, 4))
	l.para.Resize(fyne.NewSize(w, l.para.HeightFor(w)))
}
func (x *pressLineRenderer) MinSize() fyne.Size { return fyne.NewSize(100, 28) }
func (x *pressLineRenderer) Refresh()           { x.Layout(x.l.Size()); canvas.Refresh(x.l) }
func (x *pressLineRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{x.back, x.bar, x.l.mark, x.l.para}
}
func (x *pressLineRenderer) Destroy() {}

package bench

import (
	"image/color"

	"axleloft/app/card"
	"axleloft/app/look"
	"axleloft/app/panel"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// arrangement is the layout of the bench: views left, column right, 8 between. Three dividers move: views to right column, side to
// plan, side to rear.
type arrangement struct {
	b         *Bench
	prefs     fyne.Preferences
	right     float32 // width of the right column
	column    float32 // share of the views' width the side view takes
	row       float32 // share of the views' height the side view takes
	dividers  [3]*divider
	seams     [6]*look.Plate // what shows between the panels: the dividers' strips, then those of the right column
	rightEdge float32        // where the right column begins
	size      fyne.Size
}

// The bench at 1366 by 688.
const (
	usualRight  = 410
	usualColumn = 624.0 / (624 + 316)
	usualRow    = 224.0 / (224 + 316)
	leastRight  = 340
	mostRight   = 560
	leastDrawer = 300
)

func newArrangement(p fyne.Preferences) *arrangement {
	a := &arrangement{prefs: p, right: float32(p.FloatWithFallback(keyRight, usualRight)), column: float32(p.FloatWithFallback(keyColumn, usualColumn)),
		row: float32(p.FloatWithFallback(keyRow, usualRow))}
	a.dividers[0] = newDivider(false, func(d float32) { a.right -= d })
	a.dividers[1] = newDivider(true, func(d float32) { a.row += d / max(1, a.height()) })
	a.dividers[2] = newDivider(false, func(d float32) { a.column += d / max(1, a.width()) })
	for _, d := range a.dividers {
		d.moved = func() {
			a.clamp()
			a.b.arrange()
		}
		d.left = func() {
			p.SetFloat(keyRight, float64(a.right))
			p.SetFloat(keyColumn, float64(a.column))
			p.SetFloat(keyRow, float64(a.row))
		}
	}
	for i := range a.seams {
		a.seams[i] = look.NewPlate(ink.Between)
	}
	a.clamp()
	return a
}

func (a *arrangement) clamp() {
	a.right = min(max(a.right, leastRight), mostRight)
	a.column = min(max(a.column, 0.3), 0.8)
	a.row = min(max(a.row, 0.2), 0.7)
}

func (a *arrangement) width() float32 { return a.size.Width - a.right - 2*look.Gap }
func (a *arrangement) height() float32 {
	return a.size.Height - look.TopBar - look.TightBar - a.triesHeight() - look.FootBar - look.Gap
}

// leastTries is the least height of a window that has the things to try.
const leastTries = 640

// triesHeight is the room the things to try take under the tight line: none where they are closed, a drawer is open, or the window is low.
func (a *arrangement) triesHeight() float32 {
	if a.size.Height < leastTries || a.b.open != panel.NoDrawer || !a.b.tries.Stands() || a.prefs.Bool(keyTries) {
		return 0
	}
	return look.FootBar
}

// MinSize is the least the bench works in: with the card open one row of readings and four lines of findings.
func (a *arrangement) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(960, 488) }

// Layout is the toolkit's.
func (a *arrangement) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	a.size = s
	b := a.b
	put := func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(max(0, w), max(0, h)))
	}
	a.rightEdge = s.Width - a.right
	put(b.top, 0, 0, s.Width, look.TopBar)
	put(b.tight, 0, look.TopBar, s.Width, look.TightBar)
	put(b.foot, 0, s.Height-look.FootBar, s.Width, look.FootBar)

	tries := a.triesHeight()
	if tries > 0 {
		b.tries.Show()
	} else {
		b.tries.Hide()
	}
	put(b.tries, 0, look.TopBar+look.TightBar, s.Width, tries)
	y0, y1 := look.TopBar+look.TightBar+tries, s.Height-look.FootBar
	w, h := a.width(), a.height()
	padLeast := b.pad.MinSize()
	rear := max((1-a.column)*w, padLeast.Width)
	side := w - rear
	lower := max((1-a.row)*h, padLeast.Height)
	upper := h - lower
	if b.drawers[b.open] != nil { // the drawer hides nothing of the views above it
		upper = min(upper, y1-y0-a.drawerHeight(y0, y1, lower)-look.Gap)
	}
	put(b.views[0], 0, y0, side, upper)
	put(b.views[1], side+look.Gap, y0, rear, upper)
	put(b.views[2], 0, y0+upper+look.Gap, side, lower)
	put(b.pad, side+look.Gap, y0+upper+look.Gap, rear, lower)
	_, held := b.doc.Held()
	m := b.sit.MinSize()
	b.eye.LandBeside(m.Width) // known before a pivot is first held
	if held {
		b.sit.SetLit(b.places.IsOn())
		b.sit.Show()
		put(b.sit, side-m.Width-6, y0+upper-m.Height-2, m.Width, m.Height) // where there is least to take hold of
	} else {
		b.sit.Hide()
	}
	put(a.dividers[0], a.rightEdge-look.Gap, y0, look.Gap, y1-y0)
	put(a.dividers[1], 0, y0+upper, a.rightEdge-look.Gap, look.Gap)
	down := y1 - y0
	if b.drawers[b.open] != nil { // over a drawer it would take presses
		down = upper
	}
	put(a.dividers[2], side, y0, look.Gap, down)
	put(a.seams[0], a.rightEdge-look.Gap, y0, look.Gap+under, y1-y0)
	put(a.seams[1], 0, y0+upper, a.rightEdge-look.Gap, look.Gap)
	put(a.seams[2], side, y0, look.Gap, y1-y0)
	a.column1(y0, y1, put)
	a.drawer(y0, y1, lower, put)
}

// under is how far a seam reaches under the panels of the right column, so that no rounding to pixels opens a crack.
const under = 2

// column1 lays out the right column: the card while a pivot is held, readings, findings.
func (a *arrangement) column1(y0, y1 float32, put func(fyne.CanvasObject, float32, float32, float32, float32)) {
	b := a.b
	x, y := a.rightEdge, y0
	taping := b.tapes.IsOpen() // it takes the column for itself
	look.Show(b.tapes.Object, taping)
	if taping {
		look.Show(b.readings.Object, false)
		look.Show(b.findings, false)
		b.card.Hide()
		b.places.Object.Hide()
		put(b.tapes.Object, x, y0, a.right, y1-y0)
		for _, s := range a.seams[3:] {
			put(s, x, y, 0, 0)
		}
		return
	}
	_, held := b.doc.Held()
	least := float32(150)
	if held {
		b.card.Show()
		put(b.card, x, y, a.right, card.Size.Height)
		y += card.Size.Height
		put(a.seams[3], x, y-under, a.right, look.Gap+2*under)
		y += look.Gap
		least = 84
	} else {
		b.card.Hide()
		put(a.seams[3], x, y, 0, 0)
	}
	sitting := b.places.IsOn() && held
	look.Show(b.places.Object, sitting)
	put(a.seams[5], x, y, 0, 0)
	if sitting {
		y = a.placesBelow(y, y1, put)
	}
	readings, findings := y1-y >= leastReadings || !sitting, y1-y >= leastFindings || !sitting
	look.Show(b.readings.Object, readings)
	look.Show(b.findings, findings)
	if !readings {
		put(a.seams[4], x, y, 0, 0)
		put(b.findings, x, y, a.right, y1-y)
		return
	}
	if y1-y0 > 800 {
		least = 290
	}
	rows := int((y1 - y - look.Gap - least) / look.Row)
	most := panel.Standing
	if y1-y0 > 800 {
		most = panel.Standing + 4
	}
	rows = min(max(rows, 1), most)
	put(b.readings.Object, x, y, a.right, float32(rows)*look.Row)
	y += float32(rows) * look.Row
	put(a.seams[4], x, y-under, a.right, look.Gap+2*under)
	y += look.Gap
	put(b.findings, x, y, a.right, y1-y)
}

// The least heights under where the held pivot could sit that hold readings and findings, and findings alone. The tight line stands in any case.
const (
	leastReadings = 132
	leastFindings = 84
)

// sitTall is the height the press that shows where the held pivot could sit is taken in.
const sitTall = 32

// placesBelow lays out where the held pivot could sit under the card, and tells where it ends.
func (a *arrangement) placesBelow(y, y1 float32, put func(fyne.CanvasObject, float32, float32, float32, float32)) float32 {
	b := a.b
	h := b.places.Height(a.right)
	if y+h+look.Gap+leastFindings > y1 { // nothing else has room
		h = y1 - y
	}
	put(b.places.Object, a.rightEdge, y, a.right, h)
	put(a.seams[5], a.rightEdge, y+h-under, a.right, look.Gap+2*under)
	return y + h + look.Gap
}

// drawer lays out the open drawer over plan and pad.
func (a *arrangement) drawer(y0, y1, lower float32, put func(fyne.CanvasObject, float32, float32, float32, float32)) {
	b := a.b
	open := b.drawers[b.open]
	for k, d := range b.drawers {
		if k != b.open {
			d.Hide()
		}
	}
	covers := open != nil
	for _, o := range []fyne.CanvasObject{b.views[2], b.pad} {
		if covers {
			o.Hide()
		} else {
			o.Show()
		}
	}
	if !covers {
		return
	}
	h := a.drawerHeight(y0, y1, lower)
	open.Show()
	put(open, 0, y1-h, a.rightEdge-look.Gap, h)
}

// drawerHeight is what a drawer takes of the height: plan and pad, and more where they are low.
func (a *arrangement) drawerHeight(y0, y1, lower float32) float32 {
	return max(lower, min(leastDrawer, (y1-y0)*0.7))
}

// divider is a strip between panels that can be dragged; arrows move it while it has the focus.
type divider struct {
	widget.BaseWidget
	flat    bool // moves up and down
	by      func(float32)
	moved   func()
	left    func()
	focused bool
	hovered bool
}

var (
	_ fyne.Draggable     = (*divider)(nil)
	_ fyne.Focusable     = (*divider)(nil)
	_ desktop.Cursorable = (*divider)(nil)
	_ desktop.Hoverable  = (*divider)(nil)
)

func newDivider(flat bool, by func(float32)) *divider {
	d := &divider{flat: flat, by: by}
	d.ExtendBaseWidget(d)
	return d
}

func (d *divider) Dragged(e *fyne.DragEvent) {
	if d.flat {
		d.by(e.Dragged.DY)
	} else {
		d.by(e.Dragged.DX)
	}
	d.moved()
}
func (d *divider) DragEnd()                       { d.left() }
func (d *divider) FocusGained()                   { d.focused = true; d.Refresh() }
func (d *divider) FocusLost()                     { d.focused = false; d.Refresh() }
func (d *divider) TypedRune(rune)                 {}
func (d *divider) MouseIn(*desktop.MouseEvent)    { d.hovered = true; d.Refresh() }
func (d *divider) MouseMoved(*desktop.MouseEvent) {}
func (d *divider) MouseOut()                      { d.hovered = false; d.Refresh() }
func (d *divider) Cursor() desktop.Cursor {
	if d.flat {
		return desktop.VResizeCursor
	}
	return desktop.HResizeCursor
}

func (d *divider) TypedKey(e *fyne.KeyEvent) {
	less, more := fyne.KeyLeft, fyne.KeyRight
	if d.flat {
		less, more = fyne.KeyUp, fyne.KeyDown
	}
	switch e.Name {
	case less:
		d.by(-16)
	case more:
		d.by(16)
	default:
		look.HandOn(d, e)
		return
	}
	d.moved()
	d.left()
}

func (d *divider) CreateRenderer() fyne.WidgetRenderer {
	d.ExtendBaseWidget(d)
	r := canvas.NewRectangle(color.Transparent)
	return &dividerRenderer{d, r}
}

type dividerRenderer struct {
	d *divider
	r *canvas.Rectangle
}

func (x *dividerRenderer) Layout(s fyne.Size) { x.r.Resize(s) }
func (x *dividerRenderer) MinSize() fyne.Size { return fyne.NewSize(look.Gap, look.Gap) }
func (x *dividerRenderer) Refresh() {
	x.r.FillColor = look.Clear
	if x.d.focused {
		x.r.FillColor = look.Color(ink.Press)
	} else if x.d.hovered {
		x.r.FillColor = look.Veil(ink.Press, 0x60)
	}
	x.r.Refresh()
}
func (x *dividerRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{x.r} }
func (x *dividerRenderer) Destroy()                     {}

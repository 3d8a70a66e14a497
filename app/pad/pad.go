// Package pad is the travel pad: the patch of left against right wheel travel, standing on its corner, in which one drags the axle about.
// Up is both wheels up, left is the left wheel up. Its outline is the range, named by what stops the axle there; where parts touch or come
// tight is marked inside. The dot is the axle.
package pad

import (
	"context"
	"math"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

var (
	_ fyne.Widget        = (*Pad)(nil)
	_ fyne.Draggable     = (*Pad)(nil)
	_ fyne.Focusable     = (*Pad)(nil)
	_ fyne.Shortcutable  = (*Pad)(nil)
	_ desktop.Mouseable  = (*Pad)(nil)
	_ desktop.Hoverable  = (*Pad)(nil)
	_ desktop.Cursorable = (*Pad)(nil)
)

// What the arrow keys move the axle by, mm: alone, with Shift, with Ctrl.
const (
	nudge      = 1.0
	nudgeShift = 10.0
	nudgeCtrl  = 0.1
)

// grab is how near the dot a press takes it without moving it, units.
const grab = 24

// Pad is the travel pad of a document. It is a Fyne widget of about 316 by 316.
type Pad struct {
	widget.BaseWidget
	doc    *document.Document
	cancel func()

	Leave func() // what Escape does where the pad has nothing to stop or go back from; nil: nothing

	pool                   brush.Pool
	redraw                 *brush.Once
	drawn                  fyne.Size // what it was drawn for
	patch                  *canvas.Raster
	rideButton, walkButton *look.Button
	layButton, homeButton  *look.Button
	backButton             *look.Button // from the gap of one pair
	paint                  patchImage
	geom                   geometry
	zones                  []zone

	edge      []place
	edgeOf    *study.Study
	labels    []edgeLabel
	marks     *region // of marksOf
	marksOf   *study.Study
	stopLook  context.CancelFunc
	laying    laying // chosen
	before    laying // before the gap of one pair was
	pencils   []*pencilEdge
	laid      *laid // newest worked out; nil: none
	laidAsk   laid  // being worked out
	stopLay   context.CancelFunc
	home      string       // the get-home position gone to, while the axle stands there
	post      func(func()) // runs a function on the window's goroutine
	start     func(func()) // starts background work
	modifiers func() fyne.KeyModifier

	focused  bool
	dragging bool
	offset   fyne.Position // of the press from the dot
	pressed  action
	hover    action
	walk     *fyne.Animation
}

// New returns the travel pad of a document.
func New(d *document.Document) *Pad {
	p := &Pad{doc: d, post: fyne.Do, start: func(f func()) { go f() }, modifiers: modifiers}
	p.rideButton = look.NewButton(words.T("Ride"), look.Outline, func() { p.do(goRide) }).Tall(32, look.Row)
	p.walkButton = look.NewButton(words.T("Walk the edge"), look.Outline, func() { p.do(walkEdge) }).Tall(32, look.Row)
	p.backButton = look.NewButton(words.T("Back"), look.Outline, p.back).Tall(32, look.Row)
	p.layButton = look.NewButton(words.T("Lines"), look.Outline, func() { look.PopUp(p.layMenu(), p.layButton) }).Type(look.Small, false).Tall(26, 34).Padding(8).Caret(look.CaretDown)
	p.homeButton = look.NewButton(words.T("Get home"), look.Outline, func() { look.PopUp(p.homeMenu(), p.homeButton) }).Type(look.Small, false).Tall(26, 34).Padding(8).Caret(look.CaretDown)
	p.patch = canvas.NewRaster(p.paint.draw)
	p.redraw = brush.NewOnce(func() {
		p.draw()
		brush.Repaint(p)
	})
	p.ExtendBaseWidget(p)
	p.cancel = d.Subscribe(p.changed)
	p.look()
	return p
}

// Close ends the pad's part in its document.
func (p *Pad) Close() {
	p.cancel()
	if p.stopLook != nil {
		p.stopLook()
	}
	if p.stopLay != nil {
		p.stopLay()
	}
	p.StopWalk()
}

// modifiers are the keys held with a press, as far as the driver knows them.
func modifiers() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

func (p *Pad) changed(c document.Change) {
	if c&(document.StudyChanged|document.JobChanged) != 0 {
		p.look()
	}
	if c&(document.StudyChanged|document.JobChanged|document.ShownChanged) != 0 {
		p.layNow()
	}
	if c&document.PositionChanged != 0 {
		p.leftHome()
	}
	if _, both := p.doc.OtherChosen(); c&^(document.FileChanged|document.SelectionChanged) != 0 || both && c&document.SelectionChanged != 0 { // what is held is told of
		p.Refresh()
	}
}

// look takes in the newest study: its outline at once, its marks when a look over the range is done.
func (p *Pad) look() {
	s, _ := p.doc.Study()
	if s != p.edgeOf {
		p.edgeOf, p.edge, p.labels = s, outline(s), edgeLabels(s)
	}
	fresh := p.doc.Freshness()
	if !fresh.Full || s == p.marksOf {
		return
	}
	if p.stopLook != nil {
		p.stopLook()
	}
	ctx, stop := context.WithCancel(context.Background())
	p.stopLook = stop
	p.marksOf, p.marks = s, nil
	edge := p.edge
	p.start(func() {
		marks := lookOver(ctx, s, edge)
		s.GetHome() // so that a press has it at once
		if ctx.Err() != nil {
			return
		}
		p.post(func() {
			if p.marksOf == s {
				p.marks = marks
				p.Refresh()
			}
		})
	})
}

// shownMarks are the marks, where they are of the geometry as it stands.
func (p *Pad) shownMarks() *region {
	if s, _ := p.doc.Study(); p.marksOf != s || !p.doc.Freshness().Live {
		return nil
	}
	return p.marks
}

// MinSize is what the pad can do with at least.
func (p *Pad) MinSize() fyne.Size { return fyne.NewSize(248, 236) }

// dot is where the axle stands, on the pad.
func (p *Pad) dot() fyne.Position {
	pos := p.doc.Position()
	x, y := p.geom.at(pos.Pose.Left, pos.Pose.Right)
	return fyne.NewPos(x, y)
}

// Where tells where on the pad a named thing is: "dot", or a corner or button by its words ("full bump", "Ride").
func (p *Pad) Where(name string) (fyne.Position, bool) {
	if name == "dot" {
		return p.dot(), p.geom.ok
	}
	for _, b := range []*look.Button{p.rideButton, p.walkButton, p.layButton, p.homeButton, p.backButton} {
		if b == p.backButton && !p.onPair() || b == p.walkButton && p.onPair() {
			continue
		}
		if b.Text() == name || b == p.layButton && name == "Lines" {
			return b.Position().AddXY(b.Size().Width/2, b.Size().Height/2), len(p.edge) > 0
		}
	}
	for _, z := range p.zones {
		if z.words == name {
			return fyne.NewPos(float32(z.box.X0+z.box.X1)/2, float32(z.box.Y0+z.box.Y1)/2), true
		}
	}
	return fyne.Position{}, false
}

// Texts are the words on the pad, for whoever drives the window from outside.
func (p *Pad) Texts() []string {
	var out []string
	p.pool.Texts(func(s string, _ fyne.Position, _ fyne.Size) { out = append(out, s) })
	return out
}

// --- the hand ---

// MouseDown takes the dot, or presses a word.
func (p *Pad) MouseDown(e *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(p); c != nil {
		c.Focus(p)
	}
	if e.Button != desktop.MouseButtonPrimary {
		return
	}
	p.StopWalk()
	dot := p.dot()
	near := p.geom.ok && math.Hypot(float64(e.Position.X-dot.X), float64(e.Position.Y-dot.Y)) <= grab
	onDot := p.geom.ok && math.Hypot(float64(e.Position.X-dot.X), float64(e.Position.Y-dot.Y)) <= dotRing
	if p.pressed = p.zoneAt(e.Position); p.pressed != none && !onDot {
		return
	}
	p.pressed = none
	switch {
	case near:
		p.dragging, p.offset = true, e.Position.Subtract(dot)
	case p.geom.ok && p.geom.inside(p.edge, e.Position):
		p.dragging, p.offset = true, fyne.Position{}
		p.moveTo(e.Position)
	}
}

// MouseUp lets go of the dot, or does what was pressed.
func (p *Pad) MouseUp(e *desktop.MouseEvent) {
	p.dragging = false
	if a := p.pressed; a != none {
		p.pressed = none
		if p.zoneAt(e.Position) == a {
			p.do(a)
		}
	}
}

// Dragged moves the axle with the hand.
func (p *Pad) Dragged(e *fyne.DragEvent) {
	if p.dragging {
		p.moveTo(e.Position.Subtract(p.offset))
	}
}

// DragEnd lets go of the dot.
func (p *Pad) DragEnd() { p.dragging = false }

func (p *Pad) moveTo(at fyne.Position) {
	left, right := p.geom.travels(at)
	p.doc.MoveAxle(left, right)
}

// MouseIn follows the hand.
func (p *Pad) MouseIn(e *desktop.MouseEvent) { p.MouseMoved(e) }

// MouseMoved follows the hand.
func (p *Pad) MouseMoved(e *desktop.MouseEvent) {
	h := p.zoneAt(e.Position)
	if dot := p.dot(); h == none && p.geom.ok && math.Hypot(float64(e.Position.X-dot.X), float64(e.Position.Y-dot.Y)) <= grab {
		h = onDot
	}
	if h != p.hover {
		p.hover = h
		p.Refresh()
	}
}

// MouseOut forgets the hand.
func (p *Pad) MouseOut() {
	if p.hover != none {
		p.hover = none
		p.Refresh()
	}
}

// Cursor is a hand over what can be pressed.
func (p *Pad) Cursor() desktop.Cursor {
	if p.hover != none {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// do is what a press or a key asks for.
func (p *Pad) do(a action) {
	p.StopWalk()
	switch a {
	case goRide:
		p.doc.GoCorner(document.Ride)
	case goBump:
		p.doc.GoCorner(document.FullBump)
	case goDroop:
		p.doc.GoCorner(document.FullDroop)
	case goLeftUp:
		p.doc.GoCorner(document.LeftUp)
	case goRightUp:
		p.doc.GoCorner(document.RightUp)
	case walkEdge:
		p.Walk()
	}
}

// FocusGained shows that the arrows are the pad's.
func (p *Pad) FocusGained() { p.focused = true; p.Refresh() }

// FocusLost takes that away.
func (p *Pad) FocusLost() { p.focused = false; p.Refresh() }

// Keys are what the keys do on the pad.
var Keys = []look.Key{
	{Keys: []fyne.KeyName{fyne.KeyUp, fyne.KeyDown}, Does: words.Mark("Both wheels up or down by 1 mm; Shift 10, Ctrl 0.1.")},
	{Keys: []fyne.KeyName{fyne.KeyLeft, fyne.KeyRight}, Does: words.Mark("Left wheel up and right down, or the other way; Shift and Ctrl as above.")},
	{Keys: []fyne.KeyName{fyne.KeyHome}, Does: words.Mark("Ride height.")},
	{Keys: []fyne.KeyName{fyne.KeyPageUp}, Does: words.Mark("Full bump.")},
	{Keys: []fyne.KeyName{fyne.KeyPageDown}, Does: words.Mark("Full droop.")},
	{Runes: "l", Does: words.Mark("Lay the next reading's lines in the range; with Shift the one before.")},
	{Runes: "h", Does: words.Mark("The next position with one strut down on its stop.")},
	{Keys: []fyne.KeyName{fyne.KeyEscape}, Does: words.Mark("End the walk round the edge, or the map of a pair.")},
}

// TypedRune lays the next reading's lines in the patch by L (Shift: the one before), and goes on to the next get-home position by H.
func (p *Pad) TypedRune(r rune) {
	switch r {
	case 'l':
		p.nextLaying(1)
	case 'L':
		p.nextLaying(-1)
	case 'h', 'H':
		p.nextHome()
	}
}

// TypedKey moves the axle by the arrows: up and down both wheels, left and right crossed; Home is ride, Page up full bump, Page down full droop.
func (p *Pad) TypedKey(e *fyne.KeyEvent) {
	step := nudge
	if p.modifiers()&fyne.KeyModifierShift != 0 {
		step = nudgeShift
	}
	if p.arrow(e.Name, step) {
		return
	}
	switch e.Name {
	case fyne.KeyHome:
		p.do(goRide)
	case fyne.KeyPageUp:
		p.do(goBump)
	case fyne.KeyPageDown:
		p.do(goDroop)
	case fyne.KeyEscape:
		switch {
		case p.onPair():
			p.StopWalk()
			p.back()
		case p.walk != nil:
			p.StopWalk()
		case p.Leave != nil:
			p.Leave()
		}
	default:
		look.HandOn(p, e)
	}
}

func (p *Pad) arrow(key fyne.KeyName, step float64) bool {
	pos := p.doc.Position()
	left, right := pos.Pose.Left, pos.Pose.Right
	switch key {
	case fyne.KeyUp:
		left, right = left+step, right+step
	case fyne.KeyDown:
		left, right = left-step, right-step
	case fyne.KeyLeft:
		left, right = left+step, right-step
	case fyne.KeyRight:
		left, right = left-step, right+step
	default:
		return false
	}
	p.StopWalk()
	p.doc.MoveAxle(left, right)
	return true
}

// TypedShortcut moves the axle finely by Ctrl and an arrow; every other shortcut is the window's.
func (p *Pad) TypedShortcut(s fyne.Shortcut) {
	if c, ok := s.(*desktop.CustomShortcut); ok && c.Modifier == fyne.KeyModifierControl && p.arrow(c.KeyName, nudgeCtrl) {
		return
	}
	if c, ok := fyne.CurrentApp().Driver().CanvasForObject(p).(fyne.Shortcutable); ok {
		c.TypedShortcut(s)
	}
}

// Marked reports whether what touches and what is tight has been looked for in the geometry as it stands.
func (p *Pad) Marked() bool { return p.shownMarks() != nil }

package sight

import (
	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/words"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"gonum.org/v1/gonum/spatial/r3"
)

// Keys are what the keys do in a view.
var Keys = []look.Key{
	{Keys: []fyne.KeyName{fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight}, Does: words.T("Move the held pivot, part or point of a part by 1 mm along the view; nothing held: move the picture.")},
	{Keys: []fyne.KeyName{fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight}, With: words.Mark("Shift"), Does: words.Mark("The same by 10 mm.")},
	{Keys: []fyne.KeyName{fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight}, With: words.Mark("Ctrl"), Does: words.Mark("The same by 0.1 mm.")},
	{Keys: []fyne.KeyName{fyne.KeyPageDown, fyne.KeyPageUp}, Does: words.Mark("Hold the next pivot, the one before.")},
	{Keys: []fyne.KeyName{fyne.KeyTab}, Does: words.T("The next of several pivots that lie close together; the next point of the chosen part, with Shift the one before.")},
	{Keys: []fyne.KeyName{fyne.KeyInsert, fyne.KeyDelete}, Does: words.T("Add a point to the chosen outline or pipe after the point that has the arrows; take that point out.")},
	{Keys: []fyne.KeyName{fyne.KeyBackspace}, Does: words.T("While a part is drawn: take the last point back. The arrows move a cross there, Enter sets a point.")},
	{Runes: "b", Does: words.Mark("The arrows turn the held pivot's bolt by degrees, till B is pressed again.")},
	{Runes: "l", Does: words.Mark("What a dragged pivot lands on; Ctrl while dragging leaves it out.")},
	{Runes: "+=-", Does: words.Mark("Zoom in and out.")},
	{Keys: []fyne.KeyName{fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace}, Does: words.Mark("Put down what a press has picked up.")},
	{Keys: []fyne.KeyName{fyne.KeyEscape}, Does: words.Mark("Put back, then let go.")},
	{Keys: []fyne.KeyName{fyne.KeyHome}, Does: words.Mark("The view before.")},
}

// What the arrow keys move a pivot by, mm: alone, with Shift, with Ctrl.
const (
	nudge      = 1.0
	nudgeShift = 10.0
	nudgeCtrl  = 0.1
)

func (v *View) focus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c != nil {
		c.Focus(v)
	}
}

// FocusGained shows that the arrows are this view's.
func (v *View) FocusGained() { v.focused = true; v.Refresh() }

// FocusLost takes that away.
func (v *View) FocusLost() { v.focused, v.hasLit = false, false; v.Refresh() }

// AcceptsTab reports whether Tab goes to the next of several pivots that lie close together.
func (v *View) AcceptsTab() bool {
	_, n := v.eye.Near()
	return v.hand.grip != carrying && v.eye.draft == nil && (n > 1 || v.tabsPoints())
}

// TypedRune zooms in and out about the middle by + and -; B gives the arrows to the held pivot's bolt, and takes them away.
func (v *View) TypedRune(r rune) {
	if v.eye.draft != nil && r != '+' && r != '=' && r != '-' {
		v.draftRune(r)
		return
	}
	switch r {
	case '+', '=':
		v.eye.zoom(v, float64(v.Size().Width)/2, float64(v.Size().Height)/2, perNotch)
	case '-':
		v.eye.zoom(v, float64(v.Size().Width)/2, float64(v.Size().Height)/2, 1/perNotch)
	case 'l', 'L':
		v.showLands()
	case 'b', 'B':
		if v.eye.choice == nil {
			v.toggleTurning()
		}
	}
}

// TypedKey moves the held pivot along the view's axes by the arrows, or turns its bolt (up and left anticlockwise, the step in deg), or pans where
// none is held. Escape puts back, then lets go; Page up
// and Page down take one pivot after the other; Home goes back to the view before.
func (v *View) TypedKey(e *fyne.KeyEvent) {
	v.hand.lead.Now()
	if v.choiceKey(e.Name) {
		return
	}
	step := nudge
	if v.modifiers()&fyne.KeyModifierShift != 0 {
		step = nudgeShift
	}
	if v.arrow(e.Name, step) || v.draftKey(e.Name) {
		return
	}
	switch e.Name {
	case fyne.KeyEscape:
		switch {
		case v.turning && v.hand.grip == nothing:
			v.setTurning(false)
		case v.hasLit && v.hand.grip == nothing:
			v.unlight()
		case v.hand.grip != nothing && (v.hand.begun || v.hand.grip == onTyre):
			v.letFall()
		case v.hand.grip == carrying:
			v.letFall()
			v.doc.LetGo()
		default:
			_, held := v.doc.Held()
			_, chosen := v.doc.Selected()
			if !held && !chosen && v.eye.Leave != nil {
				v.eye.Leave()
				return
			}
			v.doc.LetGo()
			v.doc.Deselect()
		}
		v.say("")
	case fyne.KeyTab:
		if !v.tabPoint() {
			v.eye.Next()
		}
	case fyne.KeyBackspace:
		v.draftBack()
	case fyne.KeyInsert:
		v.insertPoint()
	case fyne.KeyDelete:
		v.removePoint()
	case fyne.KeyPageDown:
		v.cycle(1)
	case fyne.KeyPageUp:
		v.cycle(-1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		if v.hand.grip == carrying {
			v.putDown()
		}
	case fyne.KeyHome:
		v.eye.Home()
	default:
		look.HandOn(v, e)
	}
}

// cycle holds the next pivot of the job.
func (v *View) cycle(by int) {
	list := edit.Pivots(v.doc.Current())
	if len(list) == 0 {
		return
	}
	at := -1
	if held, ok := v.doc.Held(); ok {
		for i, p := range list {
			if p.Same(held) {
				at = i
			}
		}
	}
	if at < 0 && by < 0 {
		at = 0
	}
	v.eye.near, v.eye.nearAt = nil, 0
	v.doc.Hold(list[(at+by+len(list))%len(list)])
}

// arrow moves the held pivot, or the picture.
func (v *View) arrow(key fyne.KeyName, step float64) bool {
	var right, up float64
	switch key {
	case fyne.KeyUp:
		up = 1
	case fyne.KeyDown:
		up = -1
	case fyne.KeyLeft:
		right = -1
	case fyne.KeyRight:
		right = 1
	default:
		return false
	}
	if v.eye.draft != nil {
		v.draftArrow(right*step, up*step)
		return true
	}
	if v.hand.grip == carrying && !v.hand.begun { // picked up by a press, but the keys move it
		v.hand.grip = nothing
	}
	if v.hand.grip != nothing {
		return true
	}
	held, ok := v.doc.Held()
	if !ok {
		if v.movePoint(right*step, up*step, step) {
			return true
		}
		if part, is := v.doc.Selected(); is && part.List == edit.Envelopes {
			v.nudged(v.doc.NudgePart(part, v.hand.side, v.plane.Shift(r3.Vec{}, right*step, up*step)), step)
			return true
		}
		v.eye.pan(v.plane, -right*reach, up*reach)
		return true
	}
	if v.turning {
		v.turnBy((up - right) * step)
		return true
	}
	if edit.IsMeasured(v.doc.Current(), held) {
		v.say(words.T("measured: press Free to move it"))
		return true
	}
	err := v.doc.NudgePivot(held, v.plane.Shift(r3.Vec{}, right*step, up*step))
	v.nudged(err, step)
	if err == nil {
		v.sayWhereOn(held)
	}
	return true
}

// nudged says what an arrow did.
func (v *View) nudged(err error, step float64) {
	if err != nil {
		v.say(document.Words(err))
		return
	}
	v.say(words.F("%g mm a press", step))
}

// TypedShortcut moves the held pivot finely by Ctrl and an arrow; every other shortcut is the window's.
func (v *View) TypedShortcut(s fyne.Shortcut) {
	if c, ok := s.(*desktop.CustomShortcut); ok && c.Modifier == fyne.KeyModifierControl && v.arrow(c.KeyName, nudgeCtrl) {
		return
	}
	if c, ok := fyne.CurrentApp().Driver().CanvasForObject(v).(fyne.Shortcutable); ok {
		c.TypedShortcut(s)
	}
}

// modifiers are the keys held with a press, as far as the driver knows them.
func modifiers() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

package sight

import (
	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"gonum.org/v1/gonum/spatial/r3"
)

// What a drag turns a bolt by, deg: alone, and with Ctrl.
const (
	turnStep = 1.0
	turnFine = 0.1
)

// resting reports whether nothing hangs on the pointer but a bolt: then the held pivot's bolt has grips.
func (e *Eye) resting() bool {
	for _, v := range e.views {
		switch v.hand.grip {
		case onPivot, carrying, onPart:
			return false
		}
	}
	return true
}

// grasp takes a grip of the held pivot's bolt.
func (v *View) grasp(g view.Handle) {
	h := &v.hand
	turn, ok := v.scene.NewTurn(v.transform(), g, float64(h.press.X), float64(h.press.Y))
	if !ok {
		return
	}
	h.grip, h.pivot, h.turn = onBolt, g.Pivot, turn
	h.to = turn.By(0)
	h.measure = edit.IsMeasured(v.doc.Current(), g.Pivot)
}

// followBolt turns the bolt in hand to the pointer, and says how it lies.
func (v *View) followBolt(at fyne.Position) {
	h := &v.hand
	if h.measure {
		v.say(words.T("measured: press Free to move it"))
		return
	}
	h.moved = true
	step := turnStep
	if v.modifiers()&fyne.KeyModifierControl != 0 {
		step = turnFine
	}
	to := h.turn.To(float64(at.X), float64(at.Y), step)
	if to == h.to {
		return
	}
	h.to = to
	if !h.begun {
		v.doc.BeginDrag(turnLabel(v.doc.Current(), h.pivot))
		h.begun = true
	}
	if err := v.doc.Preview(func(j *job.Job) error { return edit.TurnBolt(j, h.pivot, to) }); err != nil {
		v.say(document.Words(err))
		return
	}
	v.say(edit.BoltWords(v.doc.Current(), h.pivot))
}

// turnLabel is what Undo calls the step.
func turnLabel(j *job.Job, p document.Pivot) string {
	return words.F("turn bolt of %s", edit.Name(j, p))
}

// setTurning gives the arrows to the held pivot's bolt, or takes them away.
func (v *View) setTurning(on bool) {
	if v.turning != on {
		v.turning, v.stale = on, true
		v.Refresh()
	}
}

// toggleTurning is that by the key B, where the view shows the held pivot's bolt.
func (v *View) toggleTurning() {
	if v.turning {
		v.setTurning(false)
		v.say("")
		return
	}
	for _, g := range v.handles() {
		if g.Bolt != 0 {
			v.setTurning(true)
			v.say(words.F("Arrows turn the bolt: %s", edit.BoltWords(v.doc.Current(), g.Pivot)))
			return
		}
	}
	if held, ok := v.doc.Held(); ok {
		if edit.BoltWords(v.doc.Current(), held) == "" {
			v.say(words.T("There is no bolt here to turn."))
		} else {
			v.say(words.T("This view looks along the bolt. Turn it in another view."))
		}
	}
}

// turnBy turns the held pivot's bolt by deg, anticlockwise in this view, as an undoable step; a run of presses is one step.
func (v *View) turnBy(deg float64) {
	held, _ := v.doc.Held()
	j := v.doc.Current()
	if edit.IsMeasured(j, held) {
		v.say(words.T("measured: press Free to move it"))
		return
	}
	var to r3.Vec
	found := false
	for _, g := range v.handles() {
		if g.Bolt == 0 {
			continue
		}
		if turn, ok := v.scene.NewTurn(v.transform(), g, g.X, g.Y); ok {
			to, found = turn.By(deg), true
			break
		}
	}
	if !found {
		v.say(words.T("This view looks along the bolt. Turn it in another view."))
		return
	}
	label := turnLabel(j, held)
	if err := v.doc.Edit(label, label, func(j *job.Job) error { return edit.TurnBolt(j, held, to) }); err != nil {
		v.say(document.Words(err))
		return
	}
	v.say(edit.BoltWords(v.doc.Current(), held))
}

package sight

import (
	"math"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"gonum.org/v1/gonum/spatial/r3"
)

// What the hand meets, units.
const (
	reach     = 24 // of a pivot's or tyre's hit area, half of 48
	carryFrom = 6  // a pivot picked up by a press follows only from here
	notch     = 25 // what one notch of the wheel scrolls
	perNotch  = 1.2
)

// grip is what the hand has taken.
type grip uint8

const (
	nothing  grip = iota
	ground        // nothing to move: a drag pans, a press takes the part under it
	onPivot       // the button is down on a pivot
	carrying      // a pivot picked up by a press, put down by the next
	onTyre
	onPart  // a part in the way that was selected before the press
	onBolt  // a grip of the held pivot's bolt
	onPoint // a point of the chosen part in the way
	onEdge  // an edge of it, where a press adds a point
	onDraft // the button is down while a part is drawn
	panning // the middle button
)

// hand is the gesture under way.
type hand struct {
	grip    grip
	lead    *brush.Once   // what it has follows the pointer, once a frame
	press   fyne.Position // where it began
	last    fyne.Position
	moved   bool // it has gone far enough to count
	begun   bool // the document's drag has begun
	pivot   document.Pivot
	drag    view.Drag
	turn    view.Turn
	point   view.PointHandle
	to      r3.Vec // where it has been led, at ride height; of a bolt, which way it lies
	tyre    job.Side
	travel  float64 // of that wheel when the gesture began
	at      fyne.Position
	inside  bool      // the pointer is over the view
	over    spot      // what it is over
	part    edit.Part // taken, or the last that was: arrows move that twin
	side    job.Side
	by      r3.Vec         // how far the part has been led
	measure bool           // what was taken is measured and stays
	was     *job.Job       // the job when the pivot was taken
	lands   []edit.Landing // what it may land on
	landed  view.Landed
	refused string // why it does not go where the pointer is
}

// spot is a thing under the pointer.
type spot struct {
	kind  grip // onPivot, onTyre, onBolt, ground (a part) or nothing
	pivot document.Pivot
	tyre  job.Side
	part  edit.Part
	point edit.PartPoint
	side  job.Side       // of that
	edge  view.PointEdge // where a press adds a point
}

// handles are what can be taken in the view, as it is drawn.
func (v *View) handles() []view.Handle {
	v.renew()
	return v.scene.Handles(v.transform())
}

// pivotsAt lists the handles of pivots within reach of a place, nearest first, each twin pair once; one that is held counts as a little nearer, so
// that it stays in hand. near tells how far each lies.
func (v *View) pivotsAt(at fyne.Position) (list []view.Handle, near []float64) {
	held, isHeld := v.doc.Held()
	for _, h := range view.Near(v.plane, v.handles(), float64(at.X), float64(at.Y)) {
		if h.Wheel != job.Single || h.Bolt != 0 || seen(list, h.Pivot) {
			continue
		}
		d := math.Hypot(h.X-float64(at.X), h.Y-float64(at.Y))
		if isHeld && h.Pivot == held {
			d -= 3
		}
		k := len(list)
		list, near = append(list, h), append(near, d)
		for ; k > 0 && near[k] < near[k-1]; k-- {
			list[k], list[k-1] = list[k-1], list[k]
			near[k], near[k-1] = near[k-1], near[k]
		}
	}
	return list, near
}

// seen reports whether a pivot or its twin is in the list.
func seen(list []view.Handle, p document.Pivot) bool {
	for _, h := range list {
		if h.Pivot.Same(p) {
			return true
		}
	}
	return false
}

func distance(a, b fyne.Position) float64 {
	return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y))
}

// closeBy is how much farther than the nearest a pivot may lie to be one the hand may have meant, units.
const closeBy = 12

// spotAt is what lies under a place: pivots before tyres, tyres before parts.
func (v *View) spotAt(at fyne.Position) spot {
	if h, ok := v.gripAt(at); ok {
		return spot{kind: onBolt, pivot: h.Pivot}
	}
	if list, _ := v.pivotsAt(at); len(list) > 0 {
		return spot{kind: onPivot, pivot: list[0].Pivot}
	}
	if p, ok := v.pointAt(at); ok {
		return spot{kind: onPoint, point: p.PartPoint, side: p.Side}
	}
	if side, ok := v.tyreAt(at); ok {
		return spot{kind: onTyre, tyre: side}
	}
	if e, ok := v.edgeAt(at); ok {
		return spot{kind: onEdge, edge: e}
	}
	if part, _, ok := v.partAt(at); ok {
		return spot{kind: ground, part: part}
	}
	return spot{}
}

// gripAt is the grip of the held pivot's bolt that a press takes: one that lies nearer than any pivot.
func (v *View) gripAt(at fyne.Position) (view.Handle, bool) {
	for _, h := range view.Near(v.plane, v.handles(), float64(at.X), float64(at.Y)) {
		if h.Wheel == job.Single {
			return h, h.Bolt != 0
		}
	}
	return view.Handle{}, false
}

// tyreAt tells which tyre a press takes; only the rear view has them to take.
func (v *View) tyreAt(at fyne.Position) (job.Side, bool) {
	for _, h := range view.Near(v.plane, v.handles(), float64(at.X), float64(at.Y)) {
		if h.Wheel != job.Single {
			return h.Wheel, true
		}
	}
	return job.Single, false
}

// --- presses and drags ---

// MouseDown takes what is under the pointer.
func (v *View) MouseDown(e *desktop.MouseEvent) {
	h := &v.hand
	h.lead.Now()
	v.focus()
	v.say("")
	h.at = e.Position
	if v.chooses(e) || v.drafts(e) {
		return
	}
	if h.grip == carrying { // the second press puts the pivot down
		if e.Button == desktop.MouseButtonPrimary {
			v.follow(e.Position)
			v.putDown()
		} else {
			v.letFall()
		}
		return
	}
	h.press, h.last, h.moved, h.begun, h.measure = e.Position, e.Position, false, false, false
	if e.Button == desktop.MouseButtonTertiary {
		h.grip = panning
		return
	}
	if e.Button != desktop.MouseButtonPrimary {
		h.grip = nothing
		return
	}
	if grip, ok := v.gripAt(e.Position); ok {
		v.grasp(grip)
		return
	}
	v.setTurning(false)
	if list, near := v.pivotsAt(e.Position); len(list) > 0 {
		v.pick(list, near)
		return
	}
	if v.graspPoint(e.Position) {
		return
	}
	v.unlight()
	if side, ok := v.tyreAt(e.Position); ok {
		pose := v.doc.Position().Pose
		h.grip, h.tyre, h.travel = onTyre, side, pose.Left
		if side == job.Right {
			h.travel = pose.Right
		}
		return
	}
	h.grip = ground
	if edge, ok := v.edgeAt(e.Position); ok {
		h.grip, h.side, h.by, h.measure = onPart, edge.Side, r3.Vec{}, false
		h.part, _ = v.doc.Selected()
		return
	}
	if part, side, ok := v.partAt(e.Position); ok && part.List == edit.Envelopes {
		if sel, is := v.doc.Selected(); is && sel == part {
			h.grip, h.part, h.side, h.by = onPart, part, side, r3.Vec{}
			h.measure = edit.IsPartMeasured(v.doc.Current(), part)
		}
	}
}

// pick takes the nearest of the pivots under the press; those nearly as near are the next ones.
func (v *View) pick(list []view.Handle, near []float64) {
	v.eye.near = v.eye.near[:0]
	for i := range list {
		if near[i] <= near[0]+closeBy {
			v.eye.near = append(v.eye.near, list[i].Pivot)
		}
	}
	v.eye.nearAt = 0
	h := &v.hand
	j := v.doc.Current()
	h.grip, h.pivot = onPivot, list[0].Pivot
	h.to, _ = edit.At(j, h.pivot)
	h.drag = v.scene.NewDrag(list[0], float64(h.press.X), float64(h.press.Y))
	h.measure = edit.IsMeasured(j, h.pivot)
	v.beginLanding()
	if held, ok := v.doc.Held(); !ok || held != h.pivot {
		v.doc.Hold(h.pivot)
	}
}

// Dragged moves what the hand has.
func (v *View) Dragged(e *fyne.DragEvent) {
	v.hand.at = e.Position
	v.hand.lead.Ask()
}

// follows moves what the hand has to where the pointer now is.
func (v *View) follows() {
	h := &v.hand
	if v.eye.draft != nil && (h.grip == nothing || h.grip == onDraft) {
		v.draftFollow()
		return
	}
	switch h.grip {
	case onPivot, carrying:
		v.follow(h.at)
	case onPart:
		v.followPart(h.at)
	case onBolt:
		v.followBolt(h.at)
	case onPoint:
		v.followPoint(h.at)
	case onTyre:
		up := float64(h.press.Y-h.at.Y) / v.eye.Scale()
		v.doc.MoveWheel(h.tyre, h.travel+up)
	case ground, panning:
		h.moved = true
		dx, dy := float64(h.at.X-h.last.X), float64(h.at.Y-h.last.Y)
		h.last = h.at
		v.eye.pan(v.plane, dx, dy)
	}
}

// DragEnd keeps what was dragged; the release itself comes first, through MouseUp.
func (v *View) DragEnd() { v.release() }

// MouseUp lets go: of a drag for good, of a press on a pivot so that it is carried till the next press.
func (v *View) MouseUp(e *desktop.MouseEvent) {
	h := &v.hand
	h.lead.Now()
	switch {
	case h.grip == onDraft:
		v.draftRelease(e.Position)
		return
	case h.grip == onPivot && !h.moved && !h.measure:
		h.grip = carrying
		h.last = e.Position
		return
	case h.grip == onBolt && !h.moved && !h.measure:
		v.setTurning(true)
		v.say(words.F("Arrows turn the bolt: %s", edit.BoltWords(v.doc.Current(), h.pivot)))
	case h.grip == onPart && !h.moved:
		if edge, ok := v.edgeAt(e.Position); ok {
			v.addPoint(edge, v.eye.Step())
		} else {
			v.pressGround(e.Position)
		}
	case h.grip == ground && !h.moved:
		v.pressGround(e.Position)
	}
	if h.grip != carrying {
		v.release()
	}
}

// pressGround is a press on a part or on nothing.
func (v *View) pressGround(at fyne.Position) {
	v.doc.LetGo()
	part, side, ok := v.partAt(at)
	if !ok {
		v.doc.Deselect()
		return
	}
	v.hand.side = side
	v.doc.Select(part)
	v.say(v.shapeHint())
	if v.OnPart != nil {
		v.OnPart(part)
	}
}

func (v *View) release() {
	h := &v.hand
	if h.grip == carrying || h.grip == nothing {
		return
	}
	v.putDown()
}

// putDown ends the gesture and keeps it.
func (v *View) putDown() {
	h := &v.hand
	h.lead.Now()
	if h.begun {
		v.doc.Commit()
	}
	h.grip, h.begun, h.moved = nothing, false, false
	for _, o := range v.eye.views { // the held pivot's bolt has its grips again
		o.Refresh()
	}
}

// letFall ends the gesture and puts everything back.
func (v *View) letFall() {
	h := &v.hand
	h.lead.Drop()
	if h.begun {
		v.doc.Cancel()
	}
	if h.grip == onTyre {
		v.doc.MoveWheel(h.tyre, h.travel)
	}
	h.grip, h.begun, h.moved = nothing, false, false
	for _, o := range v.eye.views { // the held pivot's bolt has its grips again
		o.Refresh()
	}
}

// follow leads the pivot in hand to the pointer, by drag steps in the view's own two axes.
func (v *View) follow(at fyne.Position) {
	h := &v.hand
	if h.measure {
		v.say(words.T("measured: press Free to move it"))
		return
	}
	if !h.moved && h.grip == carrying && distance(at, h.press) < carryFrom {
		return
	}
	h.moved = true
	landed := v.land(at)
	if landed.To == h.to {
		h.landed = landed
		v.Refresh() // its words go with the pointer
		return
	}
	h.to, h.landed = landed.To, landed
	if !h.begun {
		v.doc.BeginDrag(moveLabel(v.doc.Current(), h.pivot))
		h.begun = true
	}
	h.refused = ""
	if err := v.doc.DragPivot(h.pivot, h.to); err != nil {
		h.refused = document.Words(err)
	}
	v.say(h.refused)
}

// followPart leads the selected part in the way with the pointer, by drag steps.
func (v *View) followPart(at fyne.Position) {
	h := &v.hand
	h.moved = true
	if h.measure {
		v.say(words.T("measured: press Free to move it"))
		return
	}
	step := v.eye.Step()
	whole := func(d float32) float64 { return math.Round(float64(d)/v.eye.Scale()/step) * step }
	by := v.plane.Shift(r3.Vec{}, whole(at.X-h.press.X), whole(h.press.Y-at.Y))
	if by == h.by {
		return
	}
	h.by = by
	if !h.begun {
		v.doc.BeginDrag(words.F("move %s", edit.PartName(v.doc.Current(), h.part)))
		h.begun = true
	}
	if err := v.doc.DragPart(h.part, h.side, by); err != nil {
		v.say(document.Words(err))
	} else {
		v.say("")
	}
}

// moveLabel is what Undo calls the step.
func moveLabel(j *job.Job, p document.Pivot) string { return words.F("move %s", edit.Name(j, p)) }

// --- the pointer without a button ---

// MouseIn follows the pointer.
func (v *View) MouseIn(e *desktop.MouseEvent) {
	v.hand.inside = true
	v.MouseMoved(e)
}

// MouseMoved follows the pointer: a carried pivot goes with it, else what lies under it is shown.
func (v *View) MouseMoved(e *desktop.MouseEvent) {
	h := &v.hand
	h.at = e.Position
	if h.grip == carrying || v.eye.draft != nil && h.grip == nothing {
		h.lead.Ask()
		return
	}
	if h.grip != nothing || v.eye.choice != nil {
		return
	}
	v.placesFollow()
	if s := v.spotAt(e.Position); s != h.over {
		h.over = s
		v.Refresh()
	}
}

// MouseOut drops a carried pivot back where it was.
func (v *View) MouseOut() {
	h := &v.hand
	h.inside = false
	if v.eye.draft != nil {
		v.eye.draft.Leave()
		v.eye.redraft()
	}
	if h.grip == carrying {
		v.letFall()
	}
	v.placesFollow()
	if h.over.kind != nothing {
		h.over = spot{}
		v.Refresh()
	}
}

// Cursor shows what a press would take.
func (v *View) Cursor() desktop.Cursor {
	h := &v.hand
	if v.eye.draft != nil {
		return desktop.CrosshairCursor
	}
	kind := h.over.kind
	if h.grip != nothing {
		kind = h.grip
	}
	switch kind {
	case onPivot, onPart, onBolt, onPoint, onEdge, carrying:
		return desktop.CrosshairCursor
	case onTyre:
		return desktop.VResizeCursor
	case ground:
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// Scrolled zooms at the pointer.
func (v *View) Scrolled(e *fyne.ScrollEvent) {
	n := math.Max(-8, math.Min(8, float64(e.Scrolled.DY)/notch))
	if n == 0 {
		return
	}
	v.eye.zoom(v, float64(e.Position.X), float64(e.Position.Y), math.Pow(perNotch, n))
}

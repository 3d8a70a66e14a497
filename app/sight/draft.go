package sight

import (
	"math"

	"axleloft/app/brush"
	"axleloft/app/look"
	"axleloft/app/view"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"gonum.org/v1/gonum/spatial/r3"
)

// drafting is a part in the way being drawn by hand.
type drafting struct {
	*view.Draft
	done  func(view.DraftStep) // it stands, or its figures are to be typed
	leave func()               // Escape
	loop  []r3.Vec
	marks []r3.Vec
}

// Draw lets the hand draw a part in the views: till that ends nothing else can be taken there. done is called when the part stands (view.DraftDone)
// or its figures are to be typed (view.DraftType), leave for Escape; both are to end it by EndDraft.
func (e *Eye) Draw(d *view.Draft, done func(view.DraftStep), leave func()) {
	if e.choice != nil && e.choice.Leave != nil {
		e.choice.Leave()
	}
	e.draft = &drafting{Draft: d, done: done, leave: leave}
	for _, v := range e.views {
		if v.hand.grip != nothing {
			v.letFall()
		}
		v.hand.over = spot{}
		v.say("")
	}
	e.redraft()
	for _, v := range e.views {
		if v.focused {
			return
		}
	}
	if len(e.views) > 0 {
		e.views[0].focus()
	}
}

// Draft is what is being drawn, nil for nothing.
func (e *Eye) Draft() *view.Draft {
	if e.draft == nil {
		return nil
	}
	return e.draft.Draft
}

// EndDraft ends the drawing.
func (e *Eye) EndDraft() {
	e.draft = nil
	for _, v := range e.views {
		if v.hand.grip == onDraft {
			v.hand.grip = nothing
		}
	}
	e.redraft()
}

// BackDraft takes the last point of a drawing back; false where nothing is being drawn.
func (e *Eye) BackDraft() bool {
	if e.draft == nil {
		return false
	}
	if e.draft.Back() {
		e.redraft()
	}
	return true
}

// LeaveDraft leaves what is being drawn as by Escape; false where nothing is.
func (e *Eye) LeaveDraft() bool {
	if e.draft == nil {
		return false
	}
	e.draft.leave()
	return true
}

// redraft shows in every view how the drawing stands.
func (e *Eye) redraft() {
	for _, v := range e.views {
		v.Refresh()
	}
}

// drafted goes on from what came of a press or a key.
func (e *Eye) drafted(step view.DraftStep) {
	e.redraft()
	if step != view.DraftGoesOn {
		for _, v := range e.views {
			if v.hand.grip == onDraft {
				v.hand.grip = nothing
			}
		}
		e.draft.done(step)
	}
}

// middle is where along the axis a view does not show the eye looks, mm: a part is drawn there at first.
func (v *View) middle() float64 {
	at := v.eye.at.At
	switch v.plane {
	case view.Side:
		return at.Y
	case view.Rear:
		return at.X
	default:
		return at.Z
	}
}

// under is the place of the view under the pointer.
func (v *View) under(at fyne.Position) r3.Vec {
	return v.transform().Lift(r3.Vec{}, float64(at.X), float64(at.Y))
}

// closing is how near to an outline's first point a press closes it, mm.
func (v *View) closing() float64 { return pointNear / v.eye.Scale() }

// draftPress sets a point under the pointer.
func (v *View) draftPress(at fyne.Position) {
	e := v.eye
	e.drafted(e.draft.Press(v.plane, v.under(at), e.Step(), v.closing(), v.middle()))
}

// drafts hands a press to what is being drawn; false where nothing is, or where the button moves the view.
func (v *View) drafts(m *desktop.MouseEvent) bool {
	if v.eye.draft == nil || m.Button == desktop.MouseButtonTertiary {
		return false
	}
	v.hand.grip = nothing
	if m.Button == desktop.MouseButtonPrimary {
		v.hand.grip, v.hand.press, v.hand.moved = onDraft, m.Position, false
		v.draftPress(m.Position)
	}
	return true
}

// draftFollow brings what is being drawn to the pointer.
func (v *View) draftFollow() {
	h := &v.hand
	if h.grip == onDraft && distance(h.at, h.press) >= carryFrom {
		h.moved = true
	}
	v.eye.draft.Hover(v.plane, v.under(h.at), v.eye.Step())
	v.eye.redraft()
}

// draftRelease sets another point where a drag ended.
func (v *View) draftRelease(at fyne.Position) {
	h := &v.hand
	moved := h.moved
	h.grip, h.moved = nothing, false
	if moved && v.eye.draft != nil {
		v.draftPress(at)
	}
}

// draftArrow moves the cross by mm along the view.
func (v *View) draftArrow(right, up float64) {
	right0, up0 := v.transform().Right, v.transform().Up
	v.eye.draft.Nudge(v.plane, v.plane.Whole(v.plane.Shift(r3.Vec{}, right0, up0), nudgeShift), right, up)
	v.eye.redraft()
}

// draftKey hands a key to what is being drawn; false where nothing is, or the key is for going round in the window.
func (v *View) draftKey(k fyne.KeyName) bool {
	d := v.eye.draft
	if d == nil || k == fyne.KeyTab || k == fyne.KeyHome || k == fyne.KeyBackspace || k == fyne.KeyF1 {
		return false
	}
	switch k {
	case fyne.KeyEscape:
		d.leave()
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		if !d.Begun() && !d.PointedAny() { // a cross to begin from
			v.draftArrow(0, 0)
			break
		}
		v.eye.drafted(d.Enter(v.plane, v.closing(), v.middle()))
	}
	return true
}

// draftBack takes the last point back.
func (v *View) draftBack() {
	v.eye.BackDraft()
}

// draftRune chooses another shape by a letter while nothing is drawn yet, and asks for figures by T when the points stand.
func (v *View) draftRune(r rune) {
	d := v.eye.draft
	shapes := map[rune]view.DraftShape{'x': view.DraftBox, 'o': view.DraftOutline, 'p': view.DraftPipe, 'r': view.DraftBall}
	if s, ok := shapes[r|0x20]; ok && !d.Begun() {
		d.Shape, d.Said = s, ""
	}
	if r|0x20 == 't' && d.Deep() {
		v.eye.drafted(view.DraftType)
		return
	}
	v.eye.redraft()
}

// bannerLines are the words across a view, and how tall they stand.
func bannerLines(text string, size fyne.Size) (lines []string, top float32) {
	lines = look.Wrap(text, look.Small, true, size.Width-2*look.Inset)
	return lines, float32(len(lines))*look.Lead + 12
}

// takenOver writes across a view what to press, while the pointer is taken over: at its head, at its foot where the hand is at its head.
func (v *View) takenOver(lines []string, tall float32, size fyne.Size, foot bool) {
	g := &v.pool
	y := float32(0)
	if foot {
		y = size.Height - tall
	}
	g.Rect(0, y, size.Width, tall, 0, 0, nil, look.Color(ink.Press))
	for i, l := range lines {
		g.Text(l, look.Inset, y+5+float32(i)*look.Lead, brush.Type{Size: look.Small, Bold: true}, look.Color(ink.OnPress))
	}
	g.Rect(0, 0, size.Width, size.Height, 0, 2, look.Color(ink.Press), nil)
}

// drawDraft draws what is being drawn, in every view, and across each what to press next.
func (v *View) drawDraft(size fyne.Size) {
	d := v.eye.draft
	if d == nil {
		return
	}
	g, t, s := &v.pool, v.transform(), v.pixels()
	press, ground := look.Color(ink.Press), look.Color(ink.Ground)
	box := brush.Box{X0: -4, Y0: -4, X1: float64(size.Width) + 4, Y1: float64(size.Height) + 4}
	wide := float32(2.5) * look.Weight()
	var closed bool
	d.loop, closed = d.Loop(d.loop[:0], v.plane)
	for i := range d.loop {
		k := i + 1
		if k == len(d.loop) {
			if !closed {
				break
			}
			k = 0
		}
		ax, ay := t.Place(d.loop[i])
		bx, by := t.Place(d.loop[k])
		g.ClipLine(box, ax, ay, bx, by, wide, press)
	}
	if c, r, ok := d.Round(); ok && r > 0 {
		x, y := t.Place(c)
		v.rim(box, x, y, r*t.Scale, wide)
	}
	v.clear = v.clear[:0]
	in, begun := d.In()
	if begun && (in == v.plane || d.Shape == view.DraftPipe || d.Shape == view.DraftBall) {
		d.marks = d.Points(d.marks[:0])
		for i, p := range d.marks {
			x, y := t.Place(p)
			v.clear = append(v.clear, fyne.NewPos(float32(x), float32(y)))
			half := float32(pointHalf)
			if i == 0 && d.Shape == view.DraftOutline && len(d.marks) >= 3 && !d.Deep() {
				half = pointNear - 2 // a press there closes it
			}
			if d.Shape == view.DraftBall && i > 0 {
				continue
			}
			g.Rect(snap(x, s)-half, snap(y, s)-half, 2*half, 2*half, 1, 2*look.Weight(), press, ground)
		}
	}
	if at, ok := d.Pointed(v.plane); ok {
		x, y := t.Place(at)
		for _, k := range [4][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} { // open in the middle
			g.ClipLine(box, x+5*k[0], y+5*k[1], x+14*k[0], y+14*k[1], 1.5*look.Weight(), press)
		}
	}
	at, pointed := d.Pointed(v.plane)
	lines, tall := bannerLines(d.Words(v.plane, !pointed && !(v.focused && !d.PointedAny())), size)
	x, y := t.Place(at)
	v.takenOver(lines, tall, size, pointed && y < float64(tall)+pointNear && y < float64(size.Height)/2)
	var rows plateRows
	room := min(readoutWide, size.Width-2*readoutIn-20)
	if pointed || v.focused {
		rows.add(d.Said, true, true, room)
	}
	for _, l := range d.Readout(v.plane) {
		rows.add(l, false, false, room)
	}
	p := fyne.NewPos(size.Width/2, size.Height/2)
	if pointed {
		p = fyne.NewPos(float32(x), float32(y))
	}
	v.plate(rows, beside(p, size, rows.size(), v.clear))
}

// rim draws a circle as a row of straight lines: a large one costs the painter much less so.
func (v *View) rim(box brush.Box, x, y, r float64, wide float32) {
	const n = 48
	c := look.Color(ink.Press)
	ax, ay := x+r, y
	for i := 1; i <= n; i++ {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		bx, by := x+r*cos, y+r*sin
		v.pool.ClipLine(box, ax, ay, bx, by, wide, c)
		ax, ay = bx, by
	}
}

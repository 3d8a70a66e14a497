package sight

import (
	"fmt"
	"math"
	"strings"

	"axleloft/app/brush"
	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"gonum.org/v1/gonum/spatial/r3"
)

// What the points of a chosen part are drawn with and reached by, units.
const (
	pointHalf = 5  // of a handle's square
	pointNear = 12 // how near a press takes one inside the part itself, so that a small part can still be taken whole
)

// shaping is the chosen part whose points the view shows: a planned part in the way, while no pivot is held.
func (v *View) shaping() (edit.Part, bool) {
	part, ok := v.doc.Selected()
	if !ok || part.List != edit.Envelopes || v.eye.choice != nil || v.eye.draft != nil {
		return part, false
	}
	if _, held := v.doc.Held(); held {
		return part, false
	}
	return part, !edit.IsPartMeasured(v.doc.Current(), part)
}

// pointHandles are the points of the chosen part as the view shows them now. The list is good till the next call.
func (v *View) pointHandles() []view.PointHandle {
	v.points = v.points[:0]
	if part, ok := v.shaping(); ok {
		v.points = view.AppendPointHandles(v.points, v.doc.Current(), part, v.transform())
	}
	return v.points
}

// pointAt is the point of the chosen part that a press takes.
func (v *View) pointAt(at fyne.Position) (view.PointHandle, bool) {
	list := v.pointHandles()
	i, off := view.NearestPoint(list, float64(at.X), float64(at.Y))
	if i < 0 || off > reach {
		return view.PointHandle{}, false
	}
	if off > pointNear {
		if part, _, ok := v.partAt(at); ok {
			if sel, _ := v.doc.Selected(); part == sel {
				return view.PointHandle{}, false
			}
		}
	}
	return list[i], true
}

// edgeAt is the place on an edge of the chosen part where a press adds a point.
func (v *View) edgeAt(at fyne.Position) (view.PointEdge, bool) {
	part, ok := v.shaping()
	if !ok {
		return view.PointEdge{}, false
	}
	return view.EdgeAt(v.doc.Current(), part, v.transform(), float64(at.X), float64(at.Y), edgeReach)
}

// lit is the point that the arrows move, as the view shows it now.
func (v *View) lit() (view.PointHandle, bool) {
	if !v.hasLit {
		return view.PointHandle{}, false
	}
	for _, h := range v.pointHandles() {
		if h.PartPoint == v.litPoint.PartPoint && h.Side == v.litPoint.Side {
			return h, true
		}
	}
	return view.PointHandle{}, false
}

// light gives the arrows to a point; of every view only one has one.
func (v *View) light(h view.PointHandle) {
	for _, o := range v.eye.views {
		o.unlight()
	}
	v.litPoint, v.hasLit = h, true
	v.Refresh()
}

func (v *View) unlight() {
	if v.hasLit {
		v.hasLit = false
		v.Refresh()
	}
}

// graspPoint takes the point of the chosen part under the press.
func (v *View) graspPoint(at fyne.Position) bool {
	p, ok := v.pointAt(at)
	if !ok {
		return false
	}
	h := &v.hand
	h.grip, h.point, h.to, h.refused = onPoint, p, p.At, ""
	h.part, _ = v.doc.Selected()
	h.side = p.Side
	v.light(p)
	return true
}

// pointLabel is what Undo calls a step that leads a point.
func pointLabel(j *job.Job, part edit.Part, p edit.PartPoint) string {
	return words.F("move %s", edit.PointName(j, part, p))
}

// followPoint leads the point in hand to the pointer, by drag steps in the view's two axes.
func (v *View) followPoint(at fyne.Position) {
	h := &v.hand
	scale, step := v.eye.Scale(), v.eye.Step()
	to := v.plane.Shift(h.point.At, float64(at.X-h.press.X)/scale, float64(h.press.Y-at.Y)/scale)
	if h.point.Kind == edit.Rim {
		to = v.rimTo(h.part, h.point, to, step)
	} else {
		to = view.Stepped(h.point.At, to, step)
	}
	h.moved = true
	if to == h.to {
		v.Refresh() // its words go with the pointer
		return
	}
	h.to = to
	if !h.begun {
		v.doc.BeginDrag(pointLabel(v.doc.Current(), h.part, h.point.PartPoint))
		h.begun = true
	}
	h.refused = ""
	if err := v.doc.Preview(func(j *job.Job) error { return edit.MovePoint(j, h.part, h.point.PartPoint, h.point.InFile(to)) }); err != nil {
		h.refused = document.Words(err)
	}
	v.Refresh()
}

// rimTo is the place of a ball's rim, straight to the right of its middle, whose radius is that of a place in whole steps.
func (v *View) rimTo(part edit.Part, p view.PointHandle, to r3.Vec, step float64) r3.Vec {
	c, _ := edit.PointAt(&v.doc.Current().Envelopes[part.Index], edit.PartPoint{Kind: edit.Middle})
	c = p.InFile(c)
	return v.plane.Shift(c, math.Round(r3.Norm(r3.Sub(to, c))/step)*step, 0)
}

// movePoint moves the lit point by mm along the view, a run of presses as one step; false where none is lit.
func (v *View) movePoint(right, up, step float64) bool {
	p, ok := v.lit()
	if !ok {
		return false
	}
	part, _ := v.doc.Selected()
	to := v.plane.Shift(p.At, right, up)
	if p.Kind == edit.Rim { // up is larger too
		to = v.plane.Shift(p.At, right+up, 0)
	}
	to = view.Tidy(to)
	j := v.doc.Current()
	err := v.doc.Edit(pointLabel(j, part, p.PartPoint), fmt.Sprint("nudge point ", part, p.PartPoint), func(j *job.Job) error {
		return edit.MovePoint(j, part, p.PartPoint, p.InFile(to))
	})
	v.nudged(err, step)
	if err == nil {
		v.say(words.F("%s; %s", v.note, strings.Join(view.PointWords(v.plane, v.doc.Current(), part, p, v.doc.Unit() == "in"), ", ")))
	}
	return true
}

// addPoint adds a point of the chosen part on an edge and gives it the arrows.
func (v *View) addPoint(edge view.PointEdge, step float64) {
	part, ok := v.shaping()
	if !ok {
		return
	}
	h := view.PointHandle{Side: edge.Side}
	at := h.InFile(edge.At)
	if step > 0 {
		at = v.plane.Whole(at, step)
	}
	add := func(at r3.Vec) error {
		return v.doc.Edit(words.F("add point to %s", edit.PartName(v.doc.Current(), part)), "", func(j *job.Job) error {
			var err error
			h.PartPoint, err = edit.AddPoint(j, part, edge.Edge, at)
			return err
		})
	}
	err := add(at)
	if err != nil && step > 0 { // brought to whole steps it left the edge too far
		err = add(h.InFile(edge.At))
	}
	if err != nil {
		v.say(document.Words(err))
		return
	}
	v.light(h)
	v.say(words.T("Point added. Drag it, or move it by the arrows; Delete takes it out."))
}

// insertPoint is that by a key: in the middle of the edge after the lit point, of a pipe's last point the run before it.
func (v *View) insertPoint() {
	part, ok := v.shaping()
	if !ok {
		v.sayNoPoints()
		return
	}
	p, ok := v.lit()
	if !ok {
		v.say(words.T("Tab goes to a point of the part; Insert then adds one after it."))
		return
	}
	e := &v.doc.Current().Envelopes[part.Index]
	edge, next := p.Index, p.PartPoint
	if p.Kind == edit.PathPoint && p.Index == len(e.Path)-1 {
		edge--
		next.Index--
	} else {
		next.Index++
	}
	if p.Kind == edit.OutlinePoint {
		next.Index %= len(e.Outline)
	}
	a, _ := edit.PointAt(e, p.PartPoint)
	b, _ := edit.PointAt(e, next)
	v.addPoint(view.PointEdge{Edge: edge, Side: p.Side, At: p.InFile(view.Tidy(r3.Scale(0.5, r3.Add(a, b))))}, 0)
}

// removePoint takes the lit point out.
func (v *View) removePoint() {
	part, ok := v.shaping()
	if !ok {
		v.sayNoPoints()
		return
	}
	p, ok := v.lit()
	if !ok {
		v.say(words.T("Tab goes to a point of the part; Delete then takes it out."))
		return
	}
	j := v.doc.Current()
	err := v.doc.Edit(words.F("take out %s", edit.PointName(j, part, p.PartPoint)), "", func(j *job.Job) error { return edit.RemovePoint(j, part, p.PartPoint) })
	if err != nil {
		v.say(document.Words(err))
		return
	}
	v.unlight()
	v.say(words.T("Point taken out."))
}

// sayNoPoints says why there is no point to take: of a measured part, that it stays.
func (v *View) sayNoPoints() {
	if part, ok := v.doc.Selected(); ok && part.List == edit.Envelopes && edit.IsPartMeasured(v.doc.Current(), part) {
		v.say(words.T("measured: press Free to move it"))
	}
}

// tabsPoints reports whether Tab goes to another point of the chosen part: past the last it leaves the view, with Shift before the first.
func (v *View) tabsPoints() bool {
	if _, n := v.eye.Near(); n > 1 {
		return false
	}
	at, n := v.litIndex()
	if v.modifiers()&fyne.KeyModifierShift != 0 {
		return at > 0
	}
	return at+1 < n
}

// litIndex is which of how many points is lit, -1 none.
func (v *View) litIndex() (at, n int) {
	list := v.pointHandles()
	for i, h := range list {
		if v.hasLit && h.PartPoint == v.litPoint.PartPoint && h.Side == v.litPoint.Side {
			return i, len(list)
		}
	}
	return -1, len(list)
}

// tabPoint gives the arrows to the next point, with Shift the one before; false where there is none.
func (v *View) tabPoint() bool {
	if !v.tabsPoints() {
		return false
	}
	at, _ := v.litIndex()
	if v.modifiers()&fyne.KeyModifierShift != 0 {
		at--
	} else {
		at++
	}
	v.light(v.pointHandles()[at])
	part, _ := v.doc.Selected()
	j := v.doc.Current()
	v.say(words.F("Arrows move the %s.", edit.PointName(j, part, v.litPoint.PartPoint)))
	return true
}

// shapeHint is said when a press chose a part that has points to drag.
func (v *View) shapeHint() string {
	part, ok := v.shaping()
	if !ok {
		return ""
	}
	switch v.doc.Current().Envelopes[part.Index].Kind {
	case "box", "ball":
		return words.T("Drag its handles to change its size, an edge to move it.")
	case "prism":
		return words.T("Drag a handle, or an edge to move it whole. A press on an edge adds a corner, Delete takes one out.")
	case "tube":
		return words.T("Drag a handle, or the pipe to move it whole. A press on it adds a point, Delete takes one out.")
	}
	return ""
}

// drawPoints draws the points of the chosen part as squares, the lit one filled, and where a press on an edge would add one.
func (v *View) drawPoints(size fyne.Size) {
	list := v.pointHandles()
	if v.hand.grip == onPart && v.hand.moved && !v.hand.measure {
		var rows plateRows
		rows.add(v.scene.WayOfPart(v.hand.part), false, false, min(readoutWide, size.Width-2*readoutIn-20))
		v.plate(rows, beside(v.hand.at, size, rows.size(), nil))
	}
	if len(list) == 0 {
		return
	}
	g, press, ground := &v.pool, look.Color(ink.Press), look.Color(ink.Ground)
	if e := v.hand.over.edge; v.hand.over.kind == onEdge && v.hand.grip == nothing {
		g.Circle(float32(e.X), float32(e.Y), pointHalf+1, 1.5, press, ground)
		g.Rect(float32(e.X)-3, float32(e.Y)-0.75, 6, 1.5, 0, 0, nil, press)
		g.Rect(float32(e.X)-0.75, float32(e.Y)-3, 1.5, 6, 0, 0, nil, press)
	}
	s := v.pixels()
	for _, h := range list {
		x, y := snap(h.X, s), snap(h.Y, s)
		if x < -pointHalf || y < -pointHalf || x > size.Width+pointHalf || y > size.Height+pointHalf {
			continue
		}
		lit := v.hasLit && h.PartPoint == v.litPoint.PartPoint && h.Side == v.litPoint.Side
		half, fill := float32(pointHalf), ground
		if lit {
			half, fill = pointHalf+2, press
		} else if v.hand.over.kind == onPoint && v.hand.over.point == h.PartPoint && v.hand.over.side == h.Side {
			half = pointHalf + 2
		}
		g.Rect(x-half-2, y-half-2, 2*half+4, 2*half+4, 2, 0, nil, ground) // so that it stands out from the part's own line
		g.Rect(x-half, y-half, 2*half, 2*half, 1, 2*look.Weight(), press, fill)
	}
	if v.hand.grip != onPoint || !v.hand.moved {
		return
	}
	part, _ := v.doc.Selected()
	var rows plateRows
	room := min(readoutWide, size.Width-2*readoutIn-20)
	rows.add(v.hand.refused, true, true, room)
	for _, l := range view.PointWords(v.plane, v.doc.Current(), part, v.hand.point, v.doc.Unit() == "in") {
		rows.add(l, false, false, room)
	}
	rows.add(v.scene.WayOfPart(part), false, false, room)
	v.clear = v.clear[:0]
	for _, h := range list {
		v.clear = append(v.clear, fyne.NewPos(float32(h.X), float32(h.Y)))
	}
	v.plate(rows, beside(v.hand.at, size, rows.size(), v.clear))
}

// plateRow is a line of words at the pointer.
type plateRow struct {
	words string
	kind  brush.Type
	mark  bool // a refusal
}

type plateRows []plateRow

// add breaks words into rows no wider than room.
func (r *plateRows) add(text string, bold, mark bool, room float32) {
	if text == "" {
		return
	}
	kind := brush.Type{Size: look.Small, Bold: bold}
	for _, l := range look.Wrap(text, kind.Size, kind.Bold, room) {
		*r = append(*r, plateRow{l, kind, mark})
	}
}

// size is the room the rows take with their plate.
func (r plateRows) size() fyne.Size {
	w := float32(0)
	for _, x := range r {
		w = max(w, brush.Measure(x.words, x.kind).Width)
	}
	return fyne.NewSize(w+16, float32(len(r))*look.Lead+8)
}

// plate draws rows of words on a ground of their own.
func (v *View) plate(rows plateRows, p fyne.Position) {
	if len(rows) == 0 {
		return
	}
	g, box := &v.pool, rows.size()
	g.Rect(p.X, p.Y, box.Width, box.Height, look.Radius, 1, look.Color(ink.Edge), look.Color(ink.Panel))
	for i, r := range rows {
		y := p.Y + 4 + float32(i)*look.Lead
		if r.mark {
			g.Rect(p.X, y, 3, look.Lead, 0, 0, nil, look.Color(ink.Trouble))
		}
		g.Text(r.words, p.X+8, y-1, r.kind, look.Color(ink.Text))
	}
}

// beside is where a box of words stands beside a place inside a view: in the quarter round it that has the room and hides the fewest of some places.
func beside(at fyne.Position, size, box fyne.Size, clear []fyne.Position) fyne.Position {
	best, cost := fyne.Position{}, float32(math.Inf(1))
	for _, q := range [4][2]float32{{1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
		p := at.AddXY(q[0]*readoutOff, q[1]*readoutOff)
		if q[0] < 0 {
			p.X -= box.Width
		}
		if q[1] < 0 {
			p.Y -= box.Height
		}
		in := fyne.NewPos(max(readoutIn, min(p.X, size.Width-box.Width-readoutIn)), max(readoutIn, min(p.Y, size.Height-box.Height-readoutIn)))
		hides := func(o fyne.Position, by float32) bool {
			return o.X > in.X-by && o.X < in.X+box.Width+by && o.Y > in.Y-by && o.Y < in.Y+box.Height+by
		}
		c := abs(in.X-p.X) + abs(in.Y-p.Y)
		if hides(at, readoutClear) {
			c += 1000
		}
		for _, o := range clear {
			if hides(o, pointHalf) {
				c += 300
			}
		}
		if c < cost {
			best, cost = in, c
		}
	}
	return best
}

func abs(x float32) float32 { return max(x, -x) }

package sight

import (
	"math"
	"strings"

	"axleloft/app/brush"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Landing is what dragged pivots land on, as the hand has chosen.
type Landing struct {
	On  edit.Lands
	Off float64 // how far a pivot stands off a face, mm; NaN: half its member's tube
}

// landing is the eye's part in it.
type landing struct {
	Landing
	kept func(Landing)                      // keeps a choice; nil: nobody does
	ask  func(now float64, f func(float64)) // asks how far off a face, mm; nil: nobody can
	in   *View                              // where the button stands
	left float32                            // of something else in the side view's corner, how wide it is
}

// Land sets what dragged pivots land on. kept is called when the hand chooses; ask asks how far a pivot stands off a face (NaN: half its tube).
func (e *Eye) Land(l Landing, kept func(Landing), ask func(now float64, f func(float64))) {
	e.landing.Landing, e.landing.kept, e.landing.ask = l, kept, ask
}

// LandBeside says how wide something is that stands in the lower right corner of the side view; the button of the landings stands left of it.
func (e *Eye) LandBeside(width float32) { e.landing.left = width }

// Landing is what dragged pivots land on now.
func (e *Eye) Landing() Landing { return e.landing.Landing }

func (e *Eye) setLanding(l Landing) {
	e.landing.Landing = l
	if e.landing.kept != nil {
		e.landing.kept(l)
	}
	for _, v := range e.views {
		v.Refresh()
	}
}

// landKinds are the kinds of landings in the order of their menu.
func landKinds() []struct {
	kind  edit.Lands
	words string
} {
	return []struct {
		kind  edit.Lands
		words string
	}{
		{edit.LandLevel, words.T("Level with another pivot")},
		{edit.LandFace, words.T("The face of a part in the way")},
		{edit.LandOther, words.T("The other side's place, where the pair is unlinked")},
		{edit.LandLength, words.T("As long as another link")},
		{edit.LandHole, words.T("A hole of its row")},
	}
}

// landMenu is the choice of what dragged pivots land on.
func (e *Eye) landMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	now := e.landing.Landing
	add := func(label string, checked bool, f func()) {
		i := fyne.NewMenuItem(label, f)
		i.Checked = checked
		m.Items = append(m.Items, i)
	}
	with := func(on edit.Lands) func() {
		return func() { e.setLanding(Landing{On: on, Off: now.Off}) }
	}
	for _, k := range landKinds() {
		add(k.words, now.On&k.kind != 0, with(now.On^k.kind))
	}
	m.Items = append(m.Items, fyne.NewMenuItemSeparator())
	add(words.T("All of these"), false, with(edit.LandAll))
	add(words.T("Nothing: whole steps only"), now.On == 0, with(0))
	if e.landing.ask != nil {
		m.Items = append(m.Items, fyne.NewMenuItemSeparator())
		off := words.T("Off a face: half the tube...")
		if !math.IsNaN(now.Off) {
			off = words.F("Off a face: %s...", e.length(now.Off))
		}
		add(off, false, func() {
			e.landing.ask(now.Off, func(off float64) { e.setLanding(Landing{On: e.landing.On, Off: off}) })
		})
	}
	return m
}

// landText is what the button says.
func (e *Eye) landText() string {
	n := 0
	for _, k := range landKinds() {
		if e.landing.On&k.kind != 0 {
			n++
		}
	}
	switch {
	case n == 0:
		return words.T("Lands on: nothing")
	case n == len(landKinds()):
		return words.T("Lands on: all")
	}
	return words.F("Lands on: %d kinds", n)
}

// drawLands puts the button of the landings in the corner of the view a pivot was last taken in, while one is held.
func (v *View) drawLands(size fyne.Size) {
	if !v.landsHere() || v.readsOut() {
		return
	}
	v.lands.SetText(v.eye.landText())
	m := v.lands.MinSize()
	v.lands.Resize(m)
	x, y := size.Width-m.Width-6, size.Height-m.Height-4
	if v.plane == view.Side && v.eye.landing.left > 0 {
		x -= v.eye.landing.left + look.Gap
	}
	v.lands.Move(fyne.NewPos(x, y))
	v.pool.Rect(x, y, m.Width, m.Height, look.Radius, 1, look.Color(ink.Edge), look.Color(ink.Panel))
	v.pool.Put(v.lands)
}

// landsHere reports whether the button of the landings stands in this view.
func (v *View) landsHere() bool {
	e := v.eye
	_, held := v.doc.Held()
	return held && e.choice == nil && (e.landing.in == v || e.landing.in == nil && v.plane == view.Side)
}

// beginLanding finds what the pivot just taken may land on.
func (v *View) beginLanding() {
	h := &v.hand
	h.was = v.doc.Current()
	h.lands = edit.Landings(h.was, h.pivot, v.eye.landing.On, v.eye.landing.Off)
	h.landed, h.refused = view.Landed{}, ""
	if v.eye.landing.in != v {
		v.eye.landing.in = v
		for _, o := range v.eye.views {
			o.Refresh()
		}
	}
}

// land is where the pointer puts the pivot in hand: Ctrl leaves landing out.
func (v *View) land(at fyne.Position) view.Landed {
	h := &v.hand
	list := h.lands
	if v.modifiers()&fyne.KeyModifierControl != 0 {
		list = nil
	}
	return h.drag.Land(list, v.transform(), float64(at.X), float64(at.Y), v.eye.Step())
}

// standsOn are the landings of a list that hold at a place, in words; those of a wide list name at most two.
func (v *View) standsOn(list []edit.Landing, at r3.Vec) string {
	var out []string
	for i := range list {
		if v.plane.Holds(&list[i], at) && len(out) < 2 {
			out = append(out, list[i].Words)
		}
	}
	return strings.Join(out, ", ")
}

// showLands opens the menu of the landings at their button, while a pivot is held.
func (v *View) showLands() {
	v.eye.landing.in = v
	v.Refresh()
	if _, held := v.doc.Held(); held && v.eye.choice == nil {
		v.redraw.Now() // the button stands
		look.PopUp(v.eye.landMenu(), v.lands)
	}
}

// sayWhereOn adds to what an arrow did what the pivot stands on now. Arrows land on nothing: they go by their steps.
func (v *View) sayWhereOn(p edit.Pivot) {
	j := v.doc.Current()
	at, ok := edit.At(j, p)
	if !ok {
		return
	}
	if on := v.standsOn(edit.Landings(j, p, v.eye.landing.On, v.eye.landing.Off), at); on != "" {
		v.say(words.F("%s; %s", v.note, on))
	}
}

// What the words at the pivot in hand keep from it and from the view's edges, units.
const (
	readoutOff   = 20
	readoutIn    = 4
	readoutWide  = 330
	readoutAll   = 400 // a view narrower than this says less
	readoutLow   = 170 // and one lower than this the least
	readoutClear = 12  // round the pointer itself
)

// readsOut reports whether the words at the pivot in hand stand.
func (v *View) readsOut() bool {
	h := &v.hand
	return (h.grip == onPivot || h.grip == carrying) && h.moved && !h.measure
}

// drawReadout draws what the pivot in hand landed on as thin lines, and beside it in words where it is, how long its member is now and what is in the way.
func (v *View) drawReadout(size fyne.Size) {
	if !v.readsOut() || v.scene == nil {
		return
	}
	h := &v.hand
	j := v.doc.Current()
	at, ok := edit.At(j, h.pivot)
	if !ok {
		return
	}
	t, g := v.transform(), &v.pool
	box := brush.Box{X0: -4, Y0: -4, X1: float64(size.Width) + 4, Y1: float64(size.Height) + 4}
	on := ""
	for i := range h.landed.N {
		l := &h.lands[h.landed.On[i]]
		if !v.plane.Holds(l, at) {
			continue
		}
		for _, line := range v.plane.Lines(l, at) {
			ax, ay := t.Place(line[0])
			bx, by := t.Place(line[1])
			g.ClipLine(box, ax, ay, bx, by, 1.5, look.Color(ink.Measure))
		}
		if on != "" {
			on += ", "
		}
		on += l.Words
	}
	much := view.All
	switch {
	case size.Height < readoutLow:
		much = view.Least
	case size.Width < readoutAll:
		much = view.Short
	}
	lines := v.scene.Readout(h.was, j, h.pivot, much)
	var rows plateRows
	room := min(readoutWide, size.Width-2*readoutIn-20)
	rows.add(h.refused, true, true, room)
	rows.add(on, true, false, room)
	for _, l := range lines {
		rows.add(l, false, false, room)
	}
	v.plate(rows, v.besidePivot(size, rows.size()))
}

// besidePivot is where a box of words stands: in the quarter round the pointer that lies farthest from the member's other end and has the room.
func (v *View) besidePivot(size, box fyne.Size) fyne.Position {
	h := &v.hand
	var ux, uy float64
	if a, b, ok := edit.Ends(v.doc.Current(), h.pivot); ok {
		at, _ := edit.At(v.doc.Current(), h.pivot)
		ax, ay := v.transform().Place(at)
		bx, by := v.transform().Place(r3.Sub(r3.Add(a, b), at))
		if n := math.Hypot(bx-ax, by-ay); n > 0 {
			ux, uy = (bx-ax)/n, (by-ay)/n
		}
	}
	best, cost := fyne.Position{}, math.Inf(1)
	for _, q := range [4][2]float32{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
		p := h.at.AddXY(q[0]*readoutOff, q[1]*readoutOff)
		if q[0] < 0 {
			p.X -= box.Width
		}
		if q[1] < 0 {
			p.Y -= box.Height
		}
		in := fyne.NewPos(min(max(p.X, readoutIn), size.Width-box.Width-readoutIn), min(max(p.Y, readoutIn), size.Height-box.Height-readoutIn))
		c := ux*float64(q[0]) + uy*float64(q[1]) + math.Hypot(float64(in.X-p.X), float64(in.Y-p.Y))/100
		if h.at.X > in.X-readoutClear && h.at.X < in.X+box.Width+readoutClear && h.at.Y > in.Y-readoutClear && h.at.Y < in.Y+box.Height+readoutClear {
			c += 10 // it would lie over the pivot
		}
		if c < cost {
			best, cost = in, c
		}
	}
	return best
}

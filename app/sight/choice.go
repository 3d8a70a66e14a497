package sight

import (
	"axleloft/app/brush"
	"axleloft/app/look"
	"axleloft/app/view"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// Choose lets the hand choose among places in the views: till it ends nothing else can be taken there. nil ends it.
func (e *Eye) Choose(c *view.Choice) {
	if c == nil && e.choice == nil {
		return
	}
	if c != nil {
		e.LeaveDraft()
	}
	e.choice = c
	for _, v := range e.views {
		if c != nil && v.hand.grip != nothing {
			v.letFall()
		}
		v.say("")
		v.Refresh()
	}
}

// chooses hands a press to the choice that stands; false where none does, or where the button moves the view.
func (v *View) chooses(e *desktop.MouseEvent) bool {
	c := v.eye.choice
	if c == nil || e.Button == desktop.MouseButtonTertiary {
		return false
	}
	v.hand.grip = nothing
	if c.Only && v.plane != c.In {
		return true
	}
	if c.Point != nil {
		if e.Button == desktop.MouseButtonPrimary {
			right, up := v.transform().ToWorld(float64(e.Position.X), float64(e.Position.Y))
			c.Point(v.plane, right, up)
		}
		return true
	}
	if e.Button == desktop.MouseButtonPrimary {
		if i := c.Nearest(v.transform(), float64(e.Position.X), float64(e.Position.Y)); i >= 0 {
			c.Pick(i)
		}
	}
	return true
}

// choiceKey hands a key to the choice that stands; false where none does or the key is for going round in the window.
func (v *View) choiceKey(k fyne.KeyName) bool {
	c := v.eye.choice
	if c == nil || k == fyne.KeyTab {
		return false
	}
	n := len(c.Places)
	if c.Point != nil {
		n = 0
	}
	if by, ok := arrows[k]; ok && c.Nudge != nil && (!c.Only || v.plane == c.In) {
		step := nudge
		if v.modifiers()&fyne.KeyModifierShift != 0 {
			step = nudgeShift
		}
		c.Nudge(step*by[0], step*by[1])
		return true
	}
	switch {
	case k == fyne.KeyEscape:
		c.Leave()
	case n > 0 && (k == fyne.KeySpace || k == fyne.KeyRight || k == fyne.KeyDown):
		c.Pick((c.Lit + 1) % n)
	case n > 0 && (k == fyne.KeyLeft || k == fyne.KeyUp):
		c.Pick((max(c.Lit, 0) + n - 1) % n)
	}
	return true
}

// arrows are which way the arrow keys go, right and up.
var arrows = map[fyne.KeyName][2]float64{fyne.KeyRight: {1, 0}, fyne.KeyLeft: {-1, 0}, fyne.KeyUp: {0, 1}, fyne.KeyDown: {0, -1}}

// What a choice is drawn with, units.
const (
	choiceRing = 11
	choiceFrom = 4
)

// drawChoice draws the places to choose among, the lines to the lit one, and across the view what to press.
func (v *View) drawChoice(size fyne.Size) {
	c := v.eye.choice
	if c == nil {
		return
	}
	g, t := &v.pool, v.transform()
	box := brush.Box{X1: float64(size.Width), Y1: float64(size.Height)}
	line, ground := look.Color(ink.Measure), look.Color(ink.Panel)
	small := brush.Type{Size: look.Small}
	strong := brush.Type{Size: look.Small, Bold: true}
	lines, top := bannerLines(c.Words, size)
	var taken []fyne.Position // corners of the labels that stand, two by two
	label := func(words string, x, y float64, kind brush.Type, must bool) {
		m := brush.Measure(words, kind)
		cx, cy := float32(x), float32(y)
		spots := [4]fyne.Position{{X: cx + choiceRing + 5, Y: cy - m.Height/2}, {X: cx - choiceRing - 5 - m.Width, Y: cy - m.Height/2}, {X: cx - m.Width/2, Y: cy + choiceRing + 3}, {X: cx - m.Width/2, Y: cy - choiceRing - 3 - m.Height}}
		for k, p := range spots {
			free := p.X >= 4 && p.Y >= top && p.X+m.Width <= size.Width-4 && p.Y+m.Height <= size.Height-4
			for i := 0; free && i < len(taken); i += 2 {
				free = p.X-3 > taken[i+1].X || p.X+m.Width+3 < taken[i].X || p.Y > taken[i+1].Y || p.Y+m.Height < taken[i].Y
			}
			if must && k == len(spots)-1 {
				free = true
			}
			if !free {
				continue
			}
			taken = append(taken, p.SubtractXY(3, 0), p.AddXY(m.Width+3, m.Height))
			g.Rect(p.X-3, p.Y, m.Width+6, m.Height, look.Radius, 0, nil, ground)
			g.Text(words, p.X, p.Y, kind, look.Color(ink.Text))
			return
		}
	}
	inside := func(x, y float64) bool { return x > 0 && y > 0 && x < box.X1 && y < box.Y1 }
	if c.Lit >= 0 && c.Lit < len(c.Places) {
		bx, by := t.Place(c.Places[c.Lit])
		for _, from := range c.From {
			ax, ay := t.Place(from)
			g.Dashed(box, ax, ay, bx, by, 0, 1.5, line)
		}
	}
	for i, at := range c.Places {
		x, y := t.Place(at)
		if !inside(x, y) || c.Only && v.plane != c.In {
			continue
		}
		g.Circle(float32(x), float32(y), choiceRing, 2.5, look.Color(ink.Press), nil)
		if i == c.Lit {
			g.Circle(float32(x), float32(y), choiceRing-5, 0, nil, look.Color(ink.Press))
		}
		label(c.Names[i], x, y, strong, true)
	}
	for i, from := range c.From {
		if x, y := t.Place(from); inside(x, y) {
			g.Circle(float32(x), float32(y), choiceFrom, 1.5, line, ground)
			label(c.Labels[i], x, y, small, false)
		}
	}
	v.takenOver(lines, top, size, false)
}

package look

import (
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Segments is a row of choices in one frame, at most one of them lit. Left and right choose while it has the focus.
type Segments struct {
	widget.BaseWidget
	OnChosen func(i int) // a press on one, also on the lit one

	names   []string
	lit     int
	aim     int // which the keys stand at
	pad     float32
	hit     float32
	size    float32
	focused bool
}

var (
	_ fyne.Tappable  = (*Segments)(nil)
	_ fyne.Focusable = (*Segments)(nil)
)

// NewSegments makes a group; lit -1 lights none.
func NewSegments(names []string, lit int, chosen func(int)) *Segments {
	s := &Segments{names: names, lit: lit, OnChosen: chosen, pad: 12, hit: Row, size: Body}
	s.ExtendBaseWidget(s)
	return s
}

// Compact sets the room beside the words and the hit height; returns the group.
func (s *Segments) Compact(pad, hit, size float32) *Segments {
	s.pad, s.hit, s.size = pad, hit, size
	return s
}

// Set changes names and which is lit; equal ones cost nothing.
func (s *Segments) Set(names []string, lit int) {
	same := len(names) == len(s.names) && lit == s.lit
	if same {
		for i := range names {
			same = same && names[i] == s.names[i]
		}
	}
	if same {
		return
	}
	s.names, s.lit = names, lit
	s.Refresh()
}

// Lit is which one is lit, -1 none.
func (s *Segments) Lit() int { return s.lit }

// Names are the words.
func (s *Segments) Names() []string { return s.names }

func (s *Segments) width(i int) float32 { return Width(s.names[i], s.size, false) + 2*s.pad }

// Centre is the middle of one choice, in the group's own units.
func (s *Segments) Centre(i int) fyne.Position {
	var x float32
	for k := range i {
		x += s.width(k)
	}
	return fyne.NewPos(x+s.width(i)/2, s.Size().Height/2)
}

// Tapped chooses what lies under the pointer.
func (s *Segments) Tapped(e *fyne.PointEvent) {
	var x float32
	for i := range s.names {
		x += s.width(i)
		if e.Position.X < x || i == len(s.names)-1 {
			s.choose(i)
			return
		}
	}
}

func (s *Segments) choose(i int) {
	s.aim = i
	if s.OnChosen != nil {
		s.OnChosen(i)
	}
	s.Refresh()
}

// FocusGained is the toolkit's.
func (s *Segments) FocusGained() { s.focused = true; s.aim = max(s.lit, 0); s.Refresh() }

// FocusLost is the toolkit's.
func (s *Segments) FocusLost() { s.focused = false; s.Refresh() }

// TypedRune does nothing.
func (s *Segments) TypedRune(rune) {}

// TypedKey moves by left and right and chooses by Space or Enter.
func (s *Segments) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyLeft:
		s.aim = max(s.aim-1, 0)
	case fyne.KeyRight:
		s.aim = min(s.aim+1, len(s.names)-1)
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		if s.aim < len(s.names) {
			s.choose(s.aim)
		}
	default:
		HandOn(s, e)
		return
	}
	s.Refresh()
}

// CreateRenderer is the toolkit's.
func (s *Segments) CreateRenderer() fyne.WidgetRenderer {
	s.ExtendBaseWidget(s)
	r := &segRenderer{s: s, frame: &canvas.Rectangle{StrokeWidth: 1, CornerRadius: Radius}, ring: &canvas.Rectangle{StrokeWidth: 2, CornerRadius: Radius}, fill: &canvas.Rectangle{CornerRadius: Radius}}
	r.paint()
	return Made(s, r)
}

type segRenderer struct {
	s                 *Segments
	frame, ring, fill *canvas.Rectangle
	text              []*canvas.Text
	rule              []*canvas.Line
}

func (r *segRenderer) MinSize() fyne.Size {
	var w float32
	for i := range r.s.names {
		w += r.s.width(i)
	}
	return fyne.NewSize(w, r.s.hit)
}

func (r *segRenderer) Layout(size fyne.Size) {
	h := min(float32(Drawn), size.Height)
	y := (size.Height - h) / 2
	total := r.MinSize().Width
	r.frame.Move(fyne.NewPos(0, y))
	r.frame.Resize(fyne.NewSize(total, h))
	r.fill.Hidden, r.ring.Hidden = true, true
	var x float32
	for i, t := range r.text {
		if i >= len(r.s.names) {
			break
		}
		w := r.s.width(i)
		m := t.MinSize()
		t.Resize(m)
		t.Move(fyne.NewPos(x+(w-m.Width)/2, (size.Height-m.Height)/2))
		if i == r.s.lit {
			r.fill.Hidden = false
			r.fill.Move(fyne.NewPos(x, y))
			r.fill.Resize(fyne.NewSize(w, h))
		}
		if r.s.focused && i == r.s.aim {
			r.ring.Hidden = false
			r.ring.Move(fyne.NewPos(x-2, y-2))
			r.ring.Resize(fyne.NewSize(w+4, h+4))
		}
		x += w
		r.rule[i].Hidden = i == len(r.s.names)-1 || i == r.s.lit || i+1 == r.s.lit
		r.rule[i].Position1, r.rule[i].Position2 = fyne.NewPos(x, y+6), fyne.NewPos(x, y+h-6)
	}
}

func (r *segRenderer) paint() {
	for len(r.text) < len(r.s.names) {
		r.text = append(r.text, Text("", r.s.size, ink.Text, false))
		r.rule = append(r.rule, &canvas.Line{StrokeWidth: 1})
	}
	r.frame.FillColor, r.frame.StrokeColor, r.frame.StrokeWidth = Color(ink.Ground), Color(ink.Edge), Weight()
	r.fill.FillColor = Color(ink.Press)
	r.ring.FillColor, r.ring.StrokeColor, r.ring.StrokeWidth = Clear, Color(ink.Text), 2*Weight()
	for i, t := range r.text {
		t.Hidden = i >= len(r.s.names)
		if t.Hidden {
			r.rule[i].Hidden = true
			continue
		}
		c := Color(ink.Text)
		if i == r.s.lit {
			c = Color(ink.OnPress)
		}
		t.TextSize = r.s.size
		Paint(t, r.s.names[i], c)
		r.rule[i].StrokeColor = Color(ink.Rule)
	}
}

func (r *segRenderer) Refresh() {
	r.paint()
	r.Layout(r.s.Size())
	canvas.Refresh(r.s)
}

func (r *segRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.frame, r.fill}
	for i, t := range r.text {
		out = append(out, r.rule[i], t)
	}
	return append(out, r.ring)
}
func (r *segRenderer) Destroy() {}

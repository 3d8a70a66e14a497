package look

import "fyne.io/fyne/v2"

// Tall is an object whose height follows from its width: wrapped text.
type Tall interface {
	fyne.CanvasObject
	HeightFor(width float32) float32
}

// Stack is a layout from top to bottom over the whole width; objects that are Tall get the height their width asks for.
type Stack struct {
	Gap   float32
	Inset float32 // left and right
	Above float32 // before the first
	Below float32 // after the last
	width float32
}

// Layout is the toolkit's.
func (s *Stack) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	s.width = size.Width
	y := s.Above
	w := size.Width - 2*s.Inset
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		h := height(o, w)
		o.Move(fyne.NewPos(s.Inset, y))
		o.Resize(fyne.NewSize(w, h))
		y += h + s.Gap
	}
}

func height(o fyne.CanvasObject, w float32) float32 {
	if t, ok := o.(Tall); ok {
		return t.HeightFor(w)
	}
	if c, ok := o.(*fyne.Container); ok {
		if s, ok := c.Layout.(*Stack); ok {
			return s.HeightFor(c.Objects, w)
		}
	}
	return o.MinSize().Height
}

// HeightFor is the height of all objects at a width.
func (s *Stack) HeightFor(objects []fyne.CanvasObject, width float32) float32 {
	y := s.Above + s.Below
	n := 0
	for _, o := range objects {
		if o.Visible() {
			y += height(o, width-2*s.Inset)
			n++
		}
	}
	if n > 1 {
		y += float32(n-1) * s.Gap
	}
	return y
}

// MinSize is the toolkit's: the height is that at the width of the last layout.
func (s *Stack) MinSize(objects []fyne.CanvasObject) fyne.Size {
	w := s.width
	if w == 0 {
		w = 380
	}
	least := float32(0)
	for _, o := range objects {
		if _, tall := o.(Tall); !tall && o.Visible() {
			least = max(least, o.MinSize().Width+2*s.Inset)
		}
	}
	return fyne.NewSize(least, s.HeightFor(objects, w))
}

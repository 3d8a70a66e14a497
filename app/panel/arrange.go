package panel

import (
	"strings"

	"axleloft/app/look"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// beside puts two boxes beside each other where there is room, else under each other.
type beside struct {
	left, right *fyne.Container
	width       float32
}

const besideFrom = 560

func (b *beside) split(w float32) (left, right float32) {
	if w < besideFrom {
		return w, w
	}
	left = (w - look.Gap) * 0.48
	return left, w - look.Gap - left
}

func (b *beside) heights(w float32) (l, r float32) {
	wl, wr := b.split(w)
	return b.left.Layout.(*look.Stack).HeightFor(b.left.Objects, wl), b.right.Layout.(*look.Stack).HeightFor(b.right.Objects, wr)
}

func (b *beside) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	b.width = s.Width
	wl, wr := b.split(s.Width)
	hl, hr := b.heights(s.Width)
	b.left.Resize(fyne.NewSize(wl, hl))
	b.left.Move(fyne.NewPos(0, 0))
	b.right.Resize(fyne.NewSize(wr, hr))
	if s.Width < besideFrom {
		b.right.Move(fyne.NewPos(0, hl))
		return
	}
	b.right.Move(fyne.NewPos(wl+look.Gap, 0))
}

func (b *beside) MinSize([]fyne.CanvasObject) fyne.Size {
	w := b.width
	if w == 0 {
		w = 600
	}
	l, r := b.heights(w)
	if w < besideFrom {
		return fyne.NewSize(200, l+r)
	}
	return fyne.NewSize(200, max(l, r))
}

// revealIn scrolls till an object anywhere within a scroll's content can be seen.
func revealIn(s *container.Scroll, o fyne.CanvasObject) {
	d := fyne.CurrentApp().Driver()
	y := d.AbsolutePositionForObject(o).Y - d.AbsolutePositionForObject(s).Y
	at := s.Offset
	switch h := o.Size().Height; {
	case y < 0:
		at.Y += y
	case y+h > s.Size().Height:
		at.Y += min(y, y+h-s.Size().Height)
	default:
		return
	}
	s.ScrollToOffset(at)
}

// wordsOf are the words of a box's paragraphs and lines, for whoever looks from outside.
func wordsOf(list []fyne.CanvasObject) []string {
	var out []string
	for _, o := range list {
		switch o := o.(type) {
		case *look.Para:
			out = append(out, o.Text())
		case *pressLine:
			out = append(out, o.para.Text())
		case *headRow:
			out = append(out, o.para.Text())
		}
	}
	return out
}

// lineNamed finds a line by how its words begin; nil where there is none.
func lineNamed(list []fyne.CanvasObject, begin string) fyne.CanvasObject {
	for _, o := range list {
		if l, ok := o.(*pressLine); ok && strings.HasPrefix(l.para.Text(), begin) {
			return l
		}
	}
	return nil
}

// stopLine is a layout of words and, at the right end, a button where it is shown.
type stopLine struct {
	note *look.Label
	stop *look.Button
}

func (*stopLine) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(160, look.Row) }
func (l *stopLine) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	end := s.Width - 8
	if l.stop.Visible() {
		w := l.stop.MinSize().Width
		end -= w
		l.stop.Move(fyne.NewPos(end, 0))
		l.stop.Resize(fyne.NewSize(w, s.Height))
		end -= 8
	}
	l.note.Resize(fyne.NewSize(max(0, end), s.Height))
}

// sides is a layout of one object with room left and right of it.
type sides struct{ left, right float32 }

func (l *sides) MinSize(o []fyne.CanvasObject) fyne.Size { return fyne.NewSize(300, 120) }
func (l *sides) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Move(fyne.NewPos(l.left, 0))
	o[0].Resize(fyne.NewSize(s.Width-l.left-l.right, s.Height-4))
}

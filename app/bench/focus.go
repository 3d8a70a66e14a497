package bench

import "fyne.io/fyne/v2"

// unfocusCovered takes the focus from what lies where a drawer does, before another is shown there or it closes: keys would go where nobody sees them, and the
// window's shortcuts would not be heard. What was typed is taken first.
func (b *Bench) unfocusCovered() {
	c := b.win.Canvas()
	o, ok := c.Focused().(fyne.CanvasObject)
	if !ok {
		return
	}
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject
	covered := []fyne.CanvasObject{b.views[2], b.pad}
	if f := b.drawers[b.open]; f != nil {
		covered = []fyne.CanvasObject{f}
	}
	for _, x := range covered {
		if d := at(o).Subtract(at(x)); d.X >= 0 && d.Y >= 0 && d.X < x.Size().Width && d.Y < x.Size().Height {
			c.Unfocus()
			return
		}
	}
}

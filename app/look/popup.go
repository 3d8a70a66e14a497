package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// PopUp shows a menu under a button.
func PopUp(m *fyne.Menu, under fyne.CanvasObject) {
	if m == nil {
		return
	}
	c := fyne.CurrentApp().Driver().CanvasForObject(under)
	if c == nil {
		return
	}
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(under)
	pop := widget.NewPopUpMenu(m, c)
	size := pop.MinSize()
	at.Y += under.Size().Height - 4
	if at.Y+size.Height > c.Size().Height {
		at.Y = max(0, at.Y-under.Size().Height+8-size.Height)
	}
	at.X = max(0, min(at.X, c.Size().Width-size.Width-4))
	pop.ShowAtPosition(at)
	c.Focus(pop)
}

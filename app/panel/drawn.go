package panel

import (
	"axleloft/app/view"
	"axleloft/app/words"

	"fyne.io/fyne/v2"
)

// drawMenu offers to draw a part in the way by hand in a view; nil where the window cannot.
func drawMenu(h *Host) *fyne.MenuItem {
	if h.Draw == nil {
		return nil
	}
	m := fyne.NewMenuItem(words.T("Draw in a view"), nil)
	m.ChildMenu = fyne.NewMenu("")
	for _, x := range []struct {
		shape view.DraftShape
		label string
	}{
		{view.DraftBox, words.T("Box, by two corners")},
		{view.DraftOutline, words.T("Outline, corner by corner")},
		{view.DraftPipe, words.T("Pipe, by points along it")},
		{view.DraftBall, words.T("Ball, by its middle and rim")},
	} {
		m.ChildMenu.Items = append(m.ChildMenu.Items, fyne.NewMenuItem(x.label, func() { h.Draw(x.shape) }))
	}
	return m
}

package panel

import (
	"axleloft/app/document"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

type charts struct {
	h   *Host
	box *fyne.Container
}

func newCharts(h *Host) *charts             { return &charts{h, container.NewStack()} }
func (c *charts) object() fyne.CanvasObject { return c.box }
func (c *charts) head() fyne.CanvasObject   { return nil }
func (c *charts) bare() bool                { return true }
func (c *charts) update(document.Change)    {}

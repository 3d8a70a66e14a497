package sight

import (
	"strings"

	"axleloft/app/brush"
	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
)

// Where tells where in the view a named thing is, as it is called on screen: a pivot where it stands ("Panhard rod, frame end", "Lower left, axle end"),
// its ride place ("ride place of Panhard rod, axle end"), a point of the chosen part ("point 1"), a grip of its bolt while it is held ("bolt of Panhard rod, frame end"), "Lands" for what dragged pivots land on, "Tyre left" and "Tyre right" in the rear view, or any word that is drawn.
func (v *View) Where(name string) (fyne.Position, bool) {
	bare, ride := strings.CutPrefix(name, "ride place of ")
	bolted, bolt := strings.CutPrefix(name, "bolt of ")
	j := v.doc.Current()
	for _, h := range v.handles() {
		at := fyne.NewPos(float32(h.X), float32(h.Y))
		switch {
		case h.Wheel == job.Left && name == job.TyreLeftName, h.Wheel == job.Right && name == job.TyreRightName:
			return at, true
		case h.Bolt != 0:
			if bolt && edit.Name(j, h.Pivot) == bolted {
				return at, true
			}
		case h.Wheel == job.Single && h.Ride == ride && edit.Name(j, h.Pivot) == bare:
			return at, true
		}
	}
	for i, h := range v.pointHandles() {
		if name == words.F("point %d", i+1) {
			return fyne.NewPos(float32(h.X), float32(h.Y)), true
		}
	}
	if name == "Lands" {
		return v.lands.Position().AddXY(v.lands.Size().Width/2, v.lands.Size().Height/2), v.landsHere()
	}
	var at fyne.Position
	found := false
	for _, g := range []*brush.Pool{&v.pool, &v.over} {
		g.Texts(func(s string, p fyne.Position, size fyne.Size) {
			if !found && s == name {
				at, found = p.AddXY(size.Width/2, size.Height/2), true
			}
		})
	}
	return at, found
}

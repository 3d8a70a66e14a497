package sight

import (
	"image"
	"math"

	"axleloft/app/brush"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// sameDepth is how far a pivot may move out of a map's plane before that is no more of it, mm.
const sameDepth = 0.05

// SetPlaces shades in every view where a pivot could sit; nil takes it away.
func (e *Eye) SetPlaces(p *study.Places) {
	if e.places == p {
		return
	}
	e.places = p
	for _, v := range e.views {
		v.patch.sheet = nil
		if p != nil {
			v.patch.sheet = view.NewPlaceSheet(v.plane, &p.Maps[v.plane])
		}
		v.patch.stale = true
		v.Refresh()
	}
}

// patch is the shaded part of a view: one raster, painted again only where map, eye or colours have changed.
type patch struct {
	sheet  *view.PlaceSheet
	raster *canvas.Raster
	img    *image.NRGBA
	marks  view.PlaceMarks
	stale  bool
	at     view.Transform // it was painted for
	scheme ink.Scheme
	words  []view.PlaceWord
	box    brush.Box
}

// stands reports whether the map is of the held pivot in the plane it now is in: a pivot moves within its own map, out of the others.
func (v *View) stands() bool {
	if v.patch.sheet == nil || v.eye.places == nil {
		return false
	}
	held, ok := v.doc.Held()
	if !ok || !held.Same(v.eye.places.Pivot) {
		return false
	}
	at, ok := edit.At(v.doc.Current(), v.eye.places.Pivot)
	was := v.patch.sheet.Map.At
	return ok && math.Abs(v.plane.Depth(at)-v.plane.Depth(was)) < sameDepth
}

// drawPlaces shades where the held pivot could sit.
func (v *View) drawPlaces() {
	p := &v.patch
	if !v.stands() {
		return
	}
	if p.raster == nil {
		p.raster = canvas.NewRaster(v.paintPlaces)
	}
	if t := v.transform(); t != p.at || p.stale || p.scheme != look.Scheme() {
		p.at, p.scheme, p.stale = t, look.Scheme(), false
		x0, y0, x1, y1 := p.sheet.Room(t)
		p.box = brush.Box{X0: x0, Y0: y0, X1: x1, Y1: y1}
		p.words = p.sheet.PlaceWords(t, measure)
		p.img = nil
		if x1 > x0 && y1 > y0 {
			p.raster.Resize(fyne.NewSize(float32(x1-x0), float32(y1-y0)))
			p.raster.Move(fyne.NewPos(float32(x0), float32(y0)))
			p.raster.Refresh()
		}
	}
	if p.box.X1 > p.box.X0 && p.box.Y1 > p.box.Y0 {
		v.pool.Put(p.raster)
	}
}

// paintPlaces is the raster's picture at device pixels.
func (v *View) paintPlaces(w, h int) image.Image {
	p := &v.patch
	if p.img == nil || p.img.Rect.Dx() != w || p.img.Rect.Dy() != h {
		p.img = image.NewNRGBA(image.Rect(0, 0, w, h))
		if p.sheet != nil && p.box.X1 > p.box.X0 {
			p.sheet.Paint(p.img, p.at, p.box.X0, p.box.Y0, float64(w)/(p.box.X1-p.box.X0), p.scheme, &p.marks)
		}
	}
	return p.img
}

// drawPlaceWords names the states in the map.
func (v *View) drawPlaceWords() {
	if !v.stands() {
		return
	}
	t := brush.Type{Size: look.Small, Bold: true}
	held := v.heldAt()
	for _, w := range v.patch.words {
		x, y, wide, high := float32(w.Box[0]), float32(w.Box[1]), float32(w.Box[2]), float32(w.Box[3])
		if held.X > x-wordClear && held.X < x+wide+wordClear && held.Y > y-wordClear && held.Y < y+high+wordClear {
			continue // a hand has brought the pivot there
		}
		v.pool.Rect(x, y, wide, high, look.Radius, 0, nil, look.Color(ink.Ground))
		v.pool.Text(w.Words, x+5, y+1, t, look.Color(ink.Text))
	}
}

// wordClear is how far a word stays from the held pivot, units.
const wordClear = 16

// heldAt is where the map's pivot is drawn, at ride height.
func (v *View) heldAt() fyne.Position {
	at, _ := edit.At(v.doc.Current(), v.eye.places.Pivot)
	x, y := v.transform().Place(at)
	return fyne.NewPos(float32(x), float32(y))
}

// noteAbove reports whether the note about the map stands at the top of the view: where it would lie over what it tells of.
func (v *View) noteAbove(size fyne.Size) bool {
	if v.note != "" || v.patchNote == "" {
		return false
	}
	at := v.hand.at
	if v.hand.grip != nothing {
		at = v.heldAt()
	}
	return at.Y > size.Height/2
}

// placeNote is what would come of the held pivot where the pointer is on the map, or where a hand has it; "" off the map.
func (v *View) placeNote() string {
	if !v.stands() || v.eye.choice != nil {
		return ""
	}
	h := &v.hand
	right, up := 0.0, 0.0
	switch {
	case h.grip == onPivot || h.grip == carrying:
		at, _ := edit.At(v.doc.Current(), v.eye.places.Pivot)
		right, up = v.plane.Project(at)
	case h.grip == nothing && h.inside:
		right, up = v.transform().ToWorld(float64(h.at.X), float64(h.at.Y))
	default:
		return ""
	}
	c := v.patch.sheet.At(right, up)
	if c == nil {
		return ""
	}
	return v.eye.places.Study.PlaceWords(&c.Place)
}

// placesFollow draws again where the pointer has come over another square.
func (v *View) placesFollow() {
	if words := v.placeNote(); words != v.patchNote {
		v.patchNote = words
		v.Refresh()
	}
}

// above reports whether an item lies over the map: struts, links and all that is held do, the axle and what is in the way do not.
func above(it *drawing.Item) bool { return it.Layer > drawing.Axle }

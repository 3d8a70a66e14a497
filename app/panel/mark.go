package panel

import (
	"image"
	"image/color"

	"axleloft/app/brush"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// mark is how a kind of finding is marked beside its words: hits striped, tight dotted, runs out a bar, a guess "?".
type mark struct {
	widget.BaseWidget
	kind  study.Kind
	scale float64 // of stripes and dots
}

func newMark(k study.Kind, scale float64) *mark {
	m := &mark{kind: k, scale: scale}
	m.ExtendBaseWidget(m)
	return m
}

func (m *mark) set(k study.Kind) {
	if m.kind != k {
		m.kind = k
		m.Refresh()
	}
}

func (m *mark) CreateRenderer() fyne.WidgetRenderer {
	m.ExtendBaseWidget(m)
	r := &markRenderer{m: m, bar: &canvas.Rectangle{}, box: &canvas.Rectangle{StrokeWidth: 1.5}, text: look.Text("?", 13, ink.Text, true)}
	r.raster = canvas.NewRaster(r.draw)
	r.paint()
	return look.Made(m, r)
}

type markRenderer struct {
	m        *mark
	raster   *canvas.Raster
	bar, box *canvas.Rectangle
	text     *canvas.Text
	img      *image.NRGBA
	of       markKey
}

type markKey struct {
	w, h int
	kind study.Kind
	c    color.NRGBA
}

func (r *markRenderer) draw(w, h int) image.Image {
	key := markKey{w, h, r.m.kind, look.Color(ink.Trouble)}
	if r.img != nil && r.of == key {
		return r.img
	}
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	kind := brush.Plain
	switch r.m.kind {
	case study.Hits:
		kind = brush.Hits
	case study.Tight:
		kind = brush.Tight
	}
	if kind != brush.Plain && r.m.Size().Width > 0 {
		k := float64(r.m.Size().Width) / float64(w) / r.m.scale
		for y := range h {
			for x := range w {
				brush.Blend(img, x, y, key.c, brush.Ink(kind, (float64(x)+0.5)*k, (float64(y)+0.5)*k, k))
			}
		}
	}
	r.img, r.of = img, key
	return img
}

func (r *markRenderer) paint() {
	k := r.m.kind
	r.raster.Hidden = k != study.Hits && k != study.Tight
	r.bar.Hidden = k != study.RunsOut
	r.box.Hidden, r.text.Hidden = k != study.NotKnown, k != study.NotKnown
	r.bar.FillColor = look.Color(ink.Text)
	r.box.FillColor, r.box.StrokeColor = look.Color(ink.Ground), look.Color(ink.Text)
	r.text.Color = look.Color(ink.Text)
}

func (r *markRenderer) Layout(s fyne.Size) {
	r.raster.Resize(s)
	w := min(s.Width/2, 8)
	r.bar.Resize(fyne.NewSize(max(w, 3), s.Height))
	r.bar.Move(fyne.NewPos((s.Width-max(w, 3))/2, 0))
	d := min(s.Width*1.6, 17)
	if s.Width > 16 { // the tight line's
		d = s.Width - 2
		r.text.TextSize = look.Large
		r.box.Move(fyne.NewPos(4, (s.Height-d)/2))
		look.PlaceMid(r.text, 4+d/2, s.Height/2+7)
	} else {
		r.box.Move(fyne.NewPos((s.Width-d)/2, 1))
		look.PlaceMid(r.text, s.Width/2, 14)
	}
	r.box.Resize(fyne.NewSize(d, d))
}

func (r *markRenderer) MinSize() fyne.Size { return fyne.NewSize(8, 17) }
func (r *markRenderer) Refresh() {
	r.paint()
	r.Layout(r.m.Size())
	r.raster.Refresh()
	canvas.Refresh(r.m)
}
func (r *markRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.raster, r.bar, r.box, r.text}
}
func (r *markRenderer) Destroy() {}

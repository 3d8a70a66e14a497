package sight

import (
	"image"
	"image/color"

	"axleloft/app/brush"
	"axleloft/app/look"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"golang.org/x/image/vector"
)

// colorOf is a role's colour, nil for none.
func colorOf(r ink.Role) color.Color {
	if r == ink.None {
		return nil
	}
	return look.Color(r)
}

// fills is one raster of areas, painted again only when they have changed.
type fills struct {
	raster *canvas.Raster
	items  []drawing.Item
	size   fyne.Size
	dark   bool
	stale  bool
	img    *image.NRGBA
}

func newFills() *fills {
	f := &fills{}
	f.raster = canvas.NewRaster(f.paint)
	return f
}

// empty reports whether there is nothing to paint.
func (f *fills) empty() bool { return len(f.items) == 0 }

// set takes in the items of some kinds of a picture.
func (f *fills) set(p *drawing.Picture, size fyne.Size, kinds ...drawing.Kind) {
	n, same := 0, true
	for i := range p.Items {
		it := &p.Items[i]
		if !isOne(it.Kind, kinds) {
			continue
		}
		if n == len(f.items) {
			f.items, same = append(f.items, drawing.Item{}), false
		}
		if same && !equal(&f.items[n], it) {
			same = false
		}
		if !same {
			f.items[n] = *it
		}
		n++
	}
	if n != len(f.items) {
		f.items, same = f.items[:n], false
	}
	if same && f.size == size && f.dark == look.Dark() {
		return
	}
	f.size, f.dark, f.stale = size, look.Dark(), true
	f.raster.Resize(size)
	f.raster.Move(fyne.NewPos(0, 0))
	if n > 0 {
		f.raster.Refresh()
	}
}

func isOne(k drawing.Kind, kinds []drawing.Kind) bool {
	for _, o := range kinds {
		if k == o {
			return true
		}
	}
	return false
}

func equal(a, b *drawing.Item) bool {
	if a.Kind != b.Kind || a.Fill != b.Fill || a.Stroke != b.Stroke || len(a.Points) != len(b.Points) {
		return false
	}
	for i := range a.Points {
		if a.Points[i] != b.Points[i] {
			return false
		}
	}
	return true
}

// paint is the raster's picture at device pixels.
func (f *fills) paint(w, h int) image.Image {
	if f.img == nil || f.img.Rect.Dx() != w || f.img.Rect.Dy() != h {
		f.img, f.stale = image.NewNRGBA(image.Rect(0, 0, w, h)), true
	}
	if f.stale && f.size.Width > 0 {
		f.stale = false
		clear(f.img.Pix)
		scale := float64(w) / float64(f.size.Width)
		for i := range f.items {
			paintArea(f.img, &f.items[i], scale, f.dark)
		}
	}
	return f.img
}

// paintArea paints one area, scale device pixels a unit.
func paintArea(img *image.NRGBA, it *drawing.Item, scale float64, dark bool) {
	if len(it.Points) < 3 {
		return
	}
	w, h := img.Rect.Dx(), img.Rect.Dy()
	lo, hi := it.Points[0], it.Points[0]
	for _, p := range it.Points {
		lo.X, lo.Y = min(lo.X, p.X), min(lo.Y, p.Y)
		hi.X, hi.Y = max(hi.X, p.X), max(hi.Y, p.Y)
	}
	box := image.Rect(int(lo.X*scale)-1, int(lo.Y*scale)-1, int(hi.X*scale)+2, int(hi.Y*scale)+2).Intersect(image.Rect(0, 0, w, h))
	if box.Empty() {
		return
	}
	z := vector.NewRasterizer(box.Dx(), box.Dy())
	for i, p := range it.Points {
		x, y := float32(p.X*scale-float64(box.Min.X)), float32(p.Y*scale-float64(box.Min.Y))
		if i == 0 {
			z.MoveTo(x, y)
		} else {
			z.LineTo(x, y)
		}
	}
	z.ClosePath()
	mask := image.NewAlpha(image.Rect(0, 0, box.Dx(), box.Dy()))
	z.Draw(mask, mask.Rect, image.Opaque, image.Point{})
	role, mark := it.Fill, brush.Plain
	switch it.Kind {
	case drawing.Stripes:
		role, mark = it.Stroke, brush.Hits
	case drawing.Dots:
		role, mark = it.Stroke, brush.Tight
	}
	if role == ink.None {
		return
	}
	c, ground := ink.Color(role, dark), ink.Color(ink.Ground, dark)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		row := mask.Pix[(y-box.Min.Y)*mask.Stride:]
		for x := box.Min.X; x < box.Max.X; x++ {
			a := float64(row[x-box.Min.X]) / 255
			if a == 0 {
				continue
			}
			if mark == brush.Hits { // between the stripes the ground shows, not what they lie over
				brush.Blend(img, x, y, ground, a)
			}
			if mark != brush.Plain {
				a *= brush.Ink(mark, (float64(x)+0.5)/scale, (float64(y)+0.5)/scale, 1/scale)
			}
			brush.Blend(img, x, y, c, a)
		}
	}
}

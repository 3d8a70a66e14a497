package sight

import (
	"image"
	"image/color"

	"axleloft/app/look"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
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
	all    []drawing.Item // what is painted
	brush  drawing.Raster
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

// paint is the raster's picture at device pixels. Between stripes the ground shows, not what they lie over.
func (f *fills) paint(w, h int) image.Image {
	if f.img == nil || f.img.Rect.Dx() != w || f.img.Rect.Dy() != h {
		f.img, f.stale = image.NewNRGBA(image.Rect(0, 0, w, h)), true
	}
	if f.stale && f.size.Width > 0 {
		f.stale = false
		f.all = f.all[:0]
		for _, it := range f.items {
			if it.Kind == drawing.Stripes {
				f.all = append(f.all, drawing.Item{Kind: drawing.Fill, Fill: ink.Ground, Points: it.Points})
			}
			f.all = append(f.all, it)
		}
		p := drawing.Picture{Width: float64(f.size.Width), Height: float64(f.size.Height), Items: f.all}
		f.brush.Paint(f.img, &p, float64(w)/float64(f.size.Width), f.dark)
	}
	return f.img
}

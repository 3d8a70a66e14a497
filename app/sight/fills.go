package sight

import (
	"image"
	"image/color"
	"math"

	"axleloft/app/brush"
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

// fills is a raster of areas, no larger than they are, painted again only when they have changed: a large one costs its upload each time.
type fills struct {
	raster *canvas.Raster
	items  []drawing.Item
	all    []drawing.Item // what is painted, from the raster's own corner
	brush  drawing.Raster
	box    brush.Box // that the raster covers, in the view
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
func (f *fills) empty() bool {
	return len(f.items) == 0 || f.box.X1 <= f.box.X0 || f.box.Y1 <= f.box.Y0
}

// set takes in areas for a view of a size.
func (f *fills) set(items []drawing.Item, size fyne.Size) {
	same := len(items) == len(f.items) && f.dark == look.Dark()
	for i := 0; same && i < len(items); i++ {
		same = equal(&f.items[i], &items[i])
	}
	b := brush.Box{X0: math.Inf(1), Y0: math.Inf(1), X1: math.Inf(-1), Y1: math.Inf(-1)}
	for i := range items {
		for _, p := range items[i].Points {
			b = brush.Box{X0: math.Min(b.X0, p.X), Y0: math.Min(b.Y0, p.Y), X1: math.Max(b.X1, p.X), Y1: math.Max(b.Y1, p.Y)}
		}
	}
	b = brush.Box{
		X0: math.Max(0, math.Floor(b.X0)-1), Y0: math.Max(0, math.Floor(b.Y0)-1),
		X1: math.Min(float64(size.Width), math.Ceil(b.X1)+1), Y1: math.Min(float64(size.Height), math.Ceil(b.Y1)+1),
	}
	if same && b == f.box {
		return
	}
	f.items = append(f.items[:0], items...)
	f.box, f.dark, f.stale = b, look.Dark(), true
	if f.empty() {
		return
	}
	f.raster.Resize(fyne.NewSize(float32(b.X1-b.X0), float32(b.Y1-b.Y0)))
	f.raster.Move(fyne.NewPos(float32(b.X0), float32(b.Y0)))
	f.raster.Refresh()
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
	if !f.stale || f.empty() {
		return f.img
	}
	f.stale = false
	f.all = f.all[:0]
	for _, it := range f.items {
		pts := make([]drawing.Point, len(it.Points))
		for i, p := range it.Points {
			pts[i] = drawing.Point{X: p.X - f.box.X0, Y: p.Y - f.box.Y0}
		}
		it.Points = pts
		if it.Kind == drawing.Stripes {
			f.all = append(f.all, drawing.Item{Kind: drawing.Fill, Fill: ink.Ground, Points: pts})
		}
		f.all = append(f.all, it)
	}
	p := drawing.Picture{Width: f.box.X1 - f.box.X0, Height: f.box.Y1 - f.box.Y0, Items: f.all}
	f.brush.Paint(f.img, &p, float64(w)/p.Width, f.dark)
	return f.img
}

package drawing

import (
	"image"
	"image/color"
	"math"

	"axleloft/plotting/ink"

	"golang.org/x/image/vector"
)

// Raster paints what of a picture belongs to a window's one raster: its fills and, over them, stripes and dots, of the kinds asked for (none
// named: all three). scale is device pixels a unit. The image is cleared first; it and its painter can be used again and again.
type Raster struct {
	v     vector.Rasterizer
	alpha *image.Alpha
}

// Paint paints into img.
func (r *Raster) Paint(img *image.NRGBA, p *Picture, scale float64, dark bool, kinds ...Kind) {
	clear(img.Pix)
	wanted := func(k Kind) bool {
		if len(kinds) == 0 {
			return k == Fill || k == Stripes || k == Dots
		}
		for _, w := range kinds {
			if w == k {
				return true
			}
		}
		return false
	}
	for i := range p.Items {
		it := &p.Items[i]
		if !wanted(it.Kind) {
			continue
		}
		switch it.Kind {
		case Fill:
			r.polygons(img, [][]Point{it.Points}, scale, ink.Color(it.Fill, dark))
		case Stripes:
			r.polygons(img, Bands(it.Points), scale, ink.Color(it.Stroke, dark))
		case Dots:
			var dots [][]Point
			for _, c := range Specks(it.Points) {
				dots = append(dots, Round(c.X, c.Y, SpeckRadius))
			}
			r.polygons(img, dots, scale, ink.Color(it.Stroke, dark))
		}
	}
}

// polygons fills areas with soft edges. Only the box they cover is touched.
func (r *Raster) polygons(img *image.NRGBA, areas [][]Point, scale float64, c color.NRGBA) {
	b := img.Bounds()
	w, h := float64(b.Dx()), float64(b.Dy())
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	cut := make([][]Point, 0, len(areas))
	for _, a := range areas {
		a = ClipArea(0, 0, w/scale, h/scale, a)
		if len(a) < 3 {
			continue
		}
		cut = append(cut, a)
		ax, ay, bx, by := extent(a)
		x0, y0, x1, y1 = math.Min(x0, ax), math.Min(y0, ay), math.Max(x1, bx), math.Max(y1, by)
	}
	if len(cut) == 0 {
		return
	}
	left, top := int(math.Floor(x0*scale)), int(math.Floor(y0*scale))
	wide, high := min(int(math.Ceil(x1*scale)), b.Dx())-left, min(int(math.Ceil(y1*scale)), b.Dy())-top
	if wide <= 0 || high <= 0 {
		return
	}
	r.v.Reset(wide, high)
	for _, a := range cut {
		for i, p := range a {
			x, y := float32(p.X*scale-float64(left)), float32(p.Y*scale-float64(top))
			if i == 0 {
				r.v.MoveTo(x, y)
			} else {
				r.v.LineTo(x, y)
			}
		}
		r.v.ClosePath()
	}
	if r.alpha == nil || len(r.alpha.Pix) < wide*high {
		r.alpha = image.NewAlpha(image.Rect(0, 0, max(wide, b.Dx()), max(high, b.Dy())))
	}
	// rows follow each other without a gap: the rasterizer writes a mask of its own size as one run, whatever its stride
	mask := &image.Alpha{Pix: r.alpha.Pix[:wide*high], Stride: wide, Rect: image.Rect(0, 0, wide, high)}
	clear(mask.Pix)
	r.v.Draw(mask, mask.Rect, image.Opaque, image.Point{})
	for y := range high {
		for x := range wide {
			if a := mask.Pix[y*mask.Stride+x]; a > 0 {
				blend(img, b.Min.X+left+x, b.Min.Y+top+y, c, a)
			}
		}
	}
}

// blend lays a colour over a pixel.
func blend(img *image.NRGBA, x, y int, c color.NRGBA, a uint8) {
	px := img.Pix[img.PixOffset(x, y):][:4:4]
	sa := uint32(c.A) * uint32(a) / 255
	if sa == 255 || px[3] == 0 {
		px[0], px[1], px[2], px[3] = c.R, c.G, c.B, uint8(sa)
		return
	}
	da := uint32(px[3]) * (255 - sa) / 255
	oa := sa + da
	mix := func(s, d uint8) uint8 { return uint8((uint32(s)*sa + uint32(d)*da + oa/2) / oa) }
	px[0], px[1], px[2], px[3] = mix(c.R, px[0]), mix(c.G, px[1]), mix(c.B, px[2]), uint8(oa)
}

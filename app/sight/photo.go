package sight

import (
	"image"
	"math"
	"os"

	"axleloft/app/brush"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/photo"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// loaded is a picture read from its file, or why it could not be.
type loaded struct {
	stamp   int64 // of the file when it was read
	picture *photo.Picture
	err     error
	reading bool
}

// photoOf is the picture of a file, read off the window's goroutine: nil till it is there. A file that has changed is read again.
func (e *Eye) photoOf(path string) (*photo.Picture, error) {
	if e.photos == nil {
		e.photos = map[string]*loaded{}
	}
	l := e.photos[path]
	if l == nil {
		l = &loaded{}
		e.photos[path] = l
	}
	info, err := os.Stat(path)
	if err != nil {
		l.picture, l.stamp = nil, 0
		return nil, words.Error("The photo is not beside the job: put it there, or choose it again.")
	}
	if stamp := info.ModTime().UnixNano() + info.Size(); l.stamp != stamp && !l.reading {
		l.stamp, l.reading = stamp, true
		e.apart(func() {
			p, err := photo.ReadFile(path)
			e.post(func() {
				l.picture, l.err, l.reading = p, err, false
				for _, v := range e.views {
					v.Refresh()
				}
			})
		})
	}
	return l.picture, l.err
}

// behindView is what a view's photo is painted for: when it changes it is painted again.
type behindView struct {
	picture        *photo.Picture
	x, y           float64 // its middle in the view, units
	scale          float64 // units a pixel of it
	turn, strength float64
	box            brush.Box // that the raster covers, in the view
}

// back is the raster of the photo behind a view, no larger than what can be seen of it.
type back struct {
	raster *canvas.Raster
	of     behindView
	stale  bool
	img    *image.NRGBA
}

// behind finds what to paint behind a view of a size; ok is false for nothing. said is why a photo that should be there is not.
func (v *View) behind(size fyne.Size) (b behindView, said string, ok bool) {
	path, p := v.doc.PhotoPath(view.PhotoName(v.plane))
	if p == nil || p.Hidden || !edit.IsPlaced(p) {
		return b, "", false
	}
	picture, err := v.eye.photoOf(path)
	if err != nil {
		return b, err.Error(), false
	}
	if picture == nil {
		return b, "", false
	}
	t := v.transform()
	b = behindView{picture: picture, scale: *p.MmPerPixel * t.Scale, strength: edit.Opacity(p)}
	if p.Turn != nil {
		b.turn = *p.Turn
	}
	b.x, b.y = t.ToScreen(p.At[0], p.At[1])
	sin, cos := math.Sincos(b.turn * math.Pi / 180)
	w, h := float64(picture.Width)*b.scale/2, float64(picture.Height)*b.scale/2
	rx, ry := math.Abs(cos)*w+math.Abs(sin)*h, math.Abs(sin)*w+math.Abs(cos)*h
	b.box = brush.Box{X0: math.Max(0, math.Floor(b.x-rx)), Y0: math.Max(0, math.Floor(b.y-ry)), X1: math.Min(float64(size.Width), math.Ceil(b.x+rx)), Y1: math.Min(float64(size.Height), math.Ceil(b.y+ry))}
	return b, "", b.box.X1 > b.box.X0 && b.box.Y1 > b.box.Y0
}

// drawPhoto puts the photo under everything else, or says why it is not there.
func (v *View) drawPhoto(size fyne.Size) {
	b, said, ok := v.behind(size)
	if said != "" {
		v.pool.Text(look.Shorten(said, look.Small, false, size.Width-2*look.Inset), look.Inset, 26, brush.Type{Size: look.Small}, look.Color(ink.Second))
	}
	if !ok {
		return
	}
	if v.back == nil {
		v.back = &back{}
		v.back.raster = canvas.NewRaster(v.back.paint)
	}
	if k := v.back; k.of != b {
		k.of, k.stale = b, true
		k.raster.Resize(fyne.NewSize(float32(b.box.X1-b.box.X0), float32(b.box.Y1-b.box.Y0)))
		k.raster.Move(fyne.NewPos(float32(b.box.X0), float32(b.box.Y0)))
		k.raster.Refresh()
	}
	v.pool.Put(v.back.raster)
}

// PhotoBehind is the photo behind the view as it is seen, so many pixels a unit, and the box it lies in, units; nil where there is none.
func (v *View) PhotoBehind(pixels float64) *drawing.Photo {
	b, _, ok := v.behind(v.Size())
	if !ok {
		return nil
	}
	k := back{of: b}
	img := k.paint(int(math.Round((b.box.X1-b.box.X0)*pixels)), int(math.Round((b.box.Y1-b.box.Y0)*pixels)))
	return &drawing.Photo{Image: img, X0: b.box.X0, Y0: b.box.Y0, X1: b.box.X1, Y1: b.box.Y1}
}

// paint is the raster's picture at device pixels.
func (k *back) paint(w, h int) image.Image {
	if k.img == nil || k.img.Rect.Dx() != w || k.img.Rect.Dy() != h {
		k.img, k.stale = image.NewNRGBA(image.Rect(0, 0, w, h)), true
	} else if k.stale {
		clear(k.img.Pix)
	}
	if !k.stale || k.of.picture == nil {
		return k.img
	}
	k.stale = false
	s := float64(w) / (k.of.box.X1 - k.of.box.X0)
	k.of.picture.Paint(k.img, (k.of.x-k.of.box.X0)*s, (k.of.y-k.of.box.Y0)*s, k.of.scale*s, k.of.turn, k.of.strength)
	return k.img
}

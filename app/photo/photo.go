// Package photo reads pictures from files, and draws them behind a view: where the middle of a picture lies, how large one of its pixels is, how it is
// turned. No widgets, no Fyne.
package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/draw"
	_ "image/jpeg" // a camera's pictures
	_ "image/png"  // drawings, screens
	"math"
	"os"

	"axleloft/app/words"

	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/math/f64"
)

// MostPixels is how many pixels a picture may have: what a good camera makes, and what decoding takes of memory stays under half a gigabyte.
const MostPixels = 80_000_000

// kept is how many pixels of a picture are kept at most: more cannot be seen behind a view.
const kept = 6_000_000

// Endings of the files that can be read.
var Endings = []string{".jpg", ".jpeg", ".png"}

// Picture is a picture upright, and smaller copies of it, each half the one before.
type Picture struct {
	Width, Height int // of the file's picture, upright, pixels
	levels        []level
}

type level struct {
	img *image.NRGBA
	per float64 // pixels of the file's picture that one of its own is
}

// ReadFile reads a picture. The error is a plain sentence.
func ReadFile(name string) (*Picture, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, words.Error("The picture cannot be opened. Choose it again.")
	}
	return Read(data)
}

// Check looks at a picture's size only, and says in a sentence why it cannot be taken.
func Check(data []byte) error {
	c, _, err := image.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil:
		return words.Error("It is no picture that can be read: a JPEG or PNG is. Save it as one of these and choose it again.")
	case c.Width < 1 || c.Height < 1:
		return words.Error("The picture is empty. Choose another.")
	case c.Width > MostPixels/c.Height:
		return words.Errorf("The picture has %d by %d pixels, more than the %d million that are taken. Make it smaller and choose it again.", c.Width, c.Height, MostPixels/1_000_000)
	}
	return nil
}

// Read reads a JPEG or PNG picture and puts it upright by what its camera noted (Exif 2.3, tag 0x0112).
func Read(data []byte) (*Picture, error) {
	if err := Check(data); err != nil {
		return nil, err
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, words.Error("The picture's file is damaged: it ends too soon or makes no sense. Copy it again from the camera.")
	}
	return upright(img, orientation(data)), nil
}

// upright makes the levels of a picture that a camera held some way.
func upright(img image.Image, held int) *Picture {
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	if held >= 5 {
		w, h = h, w
	}
	p := &Picture{Width: w, Height: h}
	per := math.Max(1, math.Sqrt(float64(w)*float64(h)/kept))
	at := image.NewNRGBA(image.Rect(0, 0, max(1, int(math.Round(float64(w)/per))), max(1, int(math.Round(float64(h)/per)))))
	sx, sy := float64(at.Rect.Dx())/float64(w), float64(at.Rect.Dy())/float64(h)
	t := turned(held, float64(b.Dx()), float64(b.Dy()))
	t = f64.Aff3{t[0] * sx, t[1] * sx, t[2] * sx, t[3] * sy, t[4] * sy, t[5] * sy}
	t[2] -= t[0]*float64(b.Min.X) + t[1]*float64(b.Min.Y)
	t[5] -= t[3]*float64(b.Min.X) + t[4]*float64(b.Min.Y)
	var how xdraw.Transformer = xdraw.NearestNeighbor
	if per > 1 {
		how = xdraw.BiLinear
	}
	how.Transform(at, t, img, b, draw.Src, nil)
	p.levels = append(p.levels, level{at, float64(w) / float64(at.Rect.Dx())})
	for at.Rect.Dx() > 64 && at.Rect.Dy() > 64 {
		half := image.NewNRGBA(image.Rect(0, 0, (at.Rect.Dx()+1)/2, (at.Rect.Dy()+1)/2))
		xdraw.BiLinear.Scale(half, half.Rect, at, at.Rect, draw.Src, nil)
		p.levels = append(p.levels, level{half, float64(w) / float64(half.Rect.Dx())})
		at = half
	}
	return p
}

// turned takes pixels as they are stored to where they belong, for each of the eight ways a camera is held; w and h as stored.
func turned(held int, w, h float64) f64.Aff3 {
	switch held {
	case 2:
		return f64.Aff3{-1, 0, w, 0, 1, 0}
	case 3:
		return f64.Aff3{-1, 0, w, 0, -1, h}
	case 4:
		return f64.Aff3{1, 0, 0, 0, -1, h}
	case 5:
		return f64.Aff3{0, 1, 0, 1, 0, 0}
	case 6:
		return f64.Aff3{0, -1, h, 1, 0, 0}
	case 7:
		return f64.Aff3{0, -1, h, -1, 0, w}
	case 8:
		return f64.Aff3{0, 1, 0, -1, 0, w}
	}
	return f64.Aff3{1, 0, 0, 0, 1, 0}
}

// orientation reads how the camera was held from a JPEG's Exif part: 1 to 8, 1 where it does not say.
func orientation(data []byte) int {
	if len(data) < 4 || data[0] != 0xFF || data[1] != 0xD8 {
		return 1
	}
	for i := 2; i+4 <= len(data) && data[i] == 0xFF; {
		kind, size := data[i+1], int(binary.BigEndian.Uint16(data[i+2:]))
		if kind == 0xDA || size < 2 || i+2+size > len(data) { // the picture itself begins
			return 1
		}
		part := data[i+4 : i+2+size]
		if kind == 0xE1 && len(part) > 6 && string(part[:6]) == "Exif\x00\x00" {
			return tiffOrientation(part[6:])
		}
		i += 2 + size
	}
	return 1
}

// tiffOrientation reads the tag from the first directory of a TIFF header.
func tiffOrientation(t []byte) int {
	if len(t) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.LittleEndian
	switch string(t[:2]) {
	case "II":
	case "MM":
		order = binary.BigEndian
	default:
		return 1
	}
	at := int(order.Uint32(t[4:]))
	if at < 8 || at+2 > len(t) {
		return 1
	}
	n := int(order.Uint16(t[at:]))
	for k := range n {
		e := at + 2 + 12*k
		if e+12 > len(t) {
			return 1
		}
		if order.Uint16(t[e:]) == 0x0112 {
			if v := int(order.Uint16(t[e+8:])); v >= 1 && v <= 8 {
				return v
			}
			return 1
		}
	}
	return 1
}

// Paint draws the picture into dst, in place of what is there: its middle at (x, y) of dst, one of its pixels scale pixels of dst, turned by deg against
// the clock, so strongly (0 to 1). Between its pixels colours run straight.
func (p *Picture) Paint(dst *image.NRGBA, x, y, scale, deg, opacity float64) {
	if !(scale > 0) || math.IsInf(scale, 0) || math.IsNaN(x+y+deg) {
		return
	}
	l := p.levels[0]
	for _, next := range p.levels[1:] {
		if scale*next.per > 1 { // fewer pixels than dst has there
			break
		}
		l = next
	}
	src := l.img
	w, h := src.Rect.Dx(), src.Rect.Dy()
	// from a pixel of dst to a place of the level, of which both sides may be rounded: u = ux dx + uy dy + u0
	kx, ky := float64(w)/(scale*float64(p.Width)), float64(h)/(scale*float64(p.Height))
	sin, cos := math.Sincos(deg * math.Pi / 180)
	ux, uy, vx, vy := cos*kx, -sin*kx, sin*ky, cos*ky
	a := uint8(math.Round(255 * math.Max(0, math.Min(1, opacity))))
	b := dst.Bounds()
	for j := b.Min.Y; j < b.Max.Y; j++ {
		dy := float64(j) + 0.5 - y
		line := dst.Pix[dst.PixOffset(b.Min.X, j):]
		for i := b.Min.X; i < b.Max.X; i++ {
			dx := float64(i) + 0.5 - x
			u, v := ux*dx+uy*dy+float64(w)/2, vx*dx+vy*dy+float64(h)/2
			if u < 0 || v < 0 || u >= float64(w) || v >= float64(h) {
				continue
			}
			u, v = math.Max(0, math.Min(u-0.5, float64(w-1))), math.Max(0, math.Min(v-0.5, float64(h-1)))
			iu, iv := int(u), int(v)
			fu, fv := uint32((u-float64(iu))*256), uint32((v-float64(iv))*256)
			right, down := 4, src.Stride
			if iu+1 >= w {
				right = 0
			}
			if iv+1 >= h {
				down = 0
			}
			q := src.Pix[iv*src.Stride+4*iu:]
			out := line[4*(i-b.Min.X):]
			for c := range 3 {
				top := uint32(q[c])*(256-fu) + uint32(q[right+c])*fu
				low := uint32(q[down+c])*(256-fu) + uint32(q[down+right+c])*fu
				out[c] = uint8((top*(256-fv) + low*fv) >> 16)
			}
			out[3] = a
		}
	}
}

package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// quarters is a picture of w by h whose four quarters are red, green, blue and white: upper left, upper right, lower left, lower right.
func quarters(w, h int) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.NRGBA{255, 0, 0, 255}
			switch {
			case x >= w/2 && y < h/2:
				c = color.NRGBA{0, 255, 0, 255}
			case x < w/2 && y >= h/2:
				c = color.NRGBA{0, 0, 255, 255}
			case x >= w/2:
				c = color.NRGBA{255, 255, 255, 255}
			}
			img.SetNRGBA(x, y, c)
		}
	}
	return img
}

func asPNG(t *testing.T, img image.Image) []byte {
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, img))
	return b.Bytes()
}

// name of the colour at a place of a picture's level 0.
func name(img image.Image, x, y int) string {
	r, g, b, a := img.At(x, y).RGBA()
	hi := func(v uint32) bool { return v > 0x9000 }
	switch {
	case a < 0x4000:
		return "clear"
	case hi(r) && hi(g) && hi(b):
		return "white"
	case hi(r) && !hi(g) && !hi(b):
		return "red"
	case hi(g) && !hi(r) && !hi(b):
		return "green"
	case hi(b) && !hi(r) && !hi(g):
		return "blue"
	}
	return "?"
}

// corners are the colours at the four corners, upper left, upper right, lower left, lower right.
func corners(img image.Image) [4]string {
	b := img.Bounds()
	return [4]string{name(img, 1, 1), name(img, b.Max.X-2, 1), name(img, 1, b.Max.Y-2), name(img, b.Max.X-2, b.Max.Y-2)}
}

type byteOrder interface {
	binary.ByteOrder
	binary.AppendByteOrder
}

// held puts an Exif part that says how the camera was held in front of a JPEG's picture.
func held(t *testing.T, img image.Image, how uint16, order byteOrder) []byte {
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}))
	plain := b.Bytes()
	tiff := []byte("II*\x00")
	if order == byteOrder(binary.BigEndian) {
		tiff = []byte("MM\x00*")
	}
	put16 := func(v uint16) { tiff = order.AppendUint16(tiff, v) }
	put32 := func(v uint32) { tiff = order.AppendUint32(tiff, v) }
	put32(8)
	put16(2)
	put16(0x010F) // the maker, to be gone past
	put16(2)
	put32(1)
	put32(0)
	put16(0x0112)
	put16(3)
	put32(1)
	put16(how)
	put16(0)
	put32(0)
	part := append([]byte("Exif\x00\x00"), tiff...)
	out := append([]byte{}, plain[:2]...)
	out = append(out, 0xFF, 0xE1)
	out = binary.BigEndian.AppendUint16(out, uint16(len(part)+2))
	out = append(out, part...)
	return append(out, plain[2:]...)
}

// The eight ways of Exif 2.3, tag 0x0112, which says where row 0 and column 0 of what is stored are seen: 1 top, left; 2 top, right; 3 bottom, right;
// 4 bottom, left; 5 left, top; 6 right, top; 7 right, bottom; 8 left, bottom.
func TestUprightWhateverWayItWasHeld(t *testing.T) {
	const r, g, b, w = "red", "green", "blue", "white"
	want := [9][4]string{
		{}, {r, g, b, w}, {g, r, w, b}, {w, b, g, r}, {b, w, r, g},
		{r, b, g, w}, {b, r, w, g}, {w, g, b, r}, {g, w, r, b},
	}
	for _, order := range []byteOrder{binary.LittleEndian, binary.BigEndian} {
		for how := 1; how <= 8; how++ {
			p, err := Read(held(t, quarters(96, 64), uint16(how), order))
			require.NoError(t, err)
			wide, tall := 96, 64
			if how >= 5 {
				wide, tall = 64, 96
			}
			assert.Equal(t, [2]int{wide, tall}, [2]int{p.Width, p.Height}, "held %d", how)
			assert.Equal(t, want[how], corners(p.levels[0].img), "held %d", how)
		}
	}
}

func TestWhatIsNoPictureIsRefused(t *testing.T) {
	whole := asPNG(t, quarters(40, 30))
	for _, data := range [][]byte{nil, []byte("STL"), whole[:10]} {
		_, err := Read(data)
		assert.ErrorContains(t, err, "no picture that can be read")
	}
	_, err := Read(whole[:len(whole)/2])
	assert.ErrorContains(t, err, "damaged")
	huge := append([]byte{}, whole...)
	binary.BigEndian.PutUint32(huge[16:], 60000) // the width in the header, whose checksum is now wrong
	binary.BigEndian.PutUint32(huge[20:], 60000)
	_, err = Read(huge)
	assert.Error(t, err)
	_, err = Read(held(t, quarters(40, 30), 77, binary.LittleEndian))
	assert.NoError(t, err, "a way there is not counts as upright")
}

func TestTooLargeIsRefusedBeforeItIsRead(t *testing.T) {
	big := image.NewPaletted(image.Rect(0, 0, 20000, 4001), color.Palette{color.Black, color.White})
	_, err := Read(asPNG(t, big))
	assert.EqualError(t, err, "The picture has 20000 by 4001 pixels, more than the 80 million that are taken. Make it smaller and choose it again.")
}

func TestALargePictureIsKeptSmaller(t *testing.T) {
	p, err := Read(asPNG(t, quarters(4000, 3000)))
	require.NoError(t, err)
	assert.Equal(t, [2]int{4000, 3000}, [2]int{p.Width, p.Height})
	b := p.levels[0].img.Bounds()
	assert.LessOrEqual(t, b.Dx()*b.Dy(), kept+4000)
	assert.Equal(t, [4]string{"red", "green", "blue", "white"}, corners(p.levels[0].img))
}

func TestPaint(t *testing.T) {
	p, err := Read(asPNG(t, quarters(400, 200)))
	require.NoError(t, err)
	at := func(scale, deg float64) *image.NRGBA {
		dst := image.NewNRGBA(image.Rect(0, 0, 300, 300))
		p.Paint(dst, 150, 150, scale, deg, 1)
		return dst
	}
	for _, scale := range []float64{0.5, 0.13} { // 200 x 100 and 52 x 26 about the middle, from different levels
		w, h := 200*scale, 100*scale
		img := at(scale, 0)
		in := func(x, y float64) string { return name(img, 150+int(x), 150+int(y)) }
		assert.Equal(t, "red", in(-w/2, -h/2))
		assert.Equal(t, "green", in(w/2, -h/2))
		assert.Equal(t, "blue", in(-w/2, h/2))
		assert.Equal(t, "white", in(w/2, h/2))
		assert.Equal(t, "clear", in(w+3, 0))
		assert.Equal(t, "clear", in(0, h+3))
		assert.Equal(t, "red", in(-w+3, 0-2))
		img = at(scale, 90) // a quarter against the clock: what was right is up
		assert.Equal(t, "green", in(-h/2, -w/2))
		assert.Equal(t, "white", in(h/2, -w/2))
		assert.Equal(t, "red", in(-h/2, w/2))
	}
	dst := image.NewNRGBA(image.Rect(0, 0, 300, 300))
	p.Paint(dst, 150, 150, 0.5, 0, 0.25)
	_, _, _, a := dst.At(120, 130).RGBA()
	assert.InDelta(t, 0.25*0xffff, float64(a), 0x300)
	p.Paint(dst, 150, 150, 0, 0, 1) // no size: nothing
}

// Painting behind a view of 624 by 224, once a change of the eye.
func BenchmarkPaint(b *testing.B) {
	p := upright(quarters(4000, 3000), 1)
	dst := image.NewNRGBA(image.Rect(0, 0, 624, 224))
	for b.Loop() {
		p.Paint(dst, 312, 112, 0.21, 3, 0.5)
	}
}

package brush

import (
	"image"
	"image/color"
	"math"
)

// Mark is how a spot is marked.
type Mark uint8

// The marks.
const (
	Plain Mark = iota
	Tight      // dots of 2.6, on the slant
	Hits       // stripes 3 on 3 at 45 deg, down to the right
)

const (
	stripePeriod = 6.0 // across the stripes: 3 on 3
	stripeWidth  = 3.0
	dotPitch     = 4.2 // rows and columns; every second row is set over by half
	dotRadius    = 1.3
)

// Ink tells how much of a mark's ink lies on a spot, 0..1, for a spot in units (not device pixels). soft is the width over which an edge fades,
// one device pixel.
func Ink(m Mark, x, y, soft float64) float64 {
	switch m {
	case Hits:
		d := math.Mod((x-y)/math.Sqrt2, stripePeriod)
		if d < 0 {
			d += stripePeriod
		}
		return ramp(stripeWidth/2-math.Abs(d-stripeWidth), soft)
	case Tight:
		row := math.Round(y / dotPitch)
		shift := 0.0
		if int(row)&1 != 0 {
			shift = dotPitch / 2
		}
		col := math.Round((x - shift) / dotPitch)
		d := math.Hypot(x-shift-col*dotPitch, y-row*dotPitch)
		return ramp(dotRadius-d, soft)
	default:
		return 0
	}
}

func ramp(d, soft float64) float64 {
	return math.Max(0, math.Min(1, d/soft+0.5))
}

// Blend lays a colour over a pixel, a 0..1.
func Blend(img *image.NRGBA, x, y int, c color.NRGBA, a float64) {
	if a <= 0 {
		return
	}
	i := img.PixOffset(x, y)
	px := img.Pix[i : i+4 : i+4]
	if a >= 1 && c.A == 255 {
		px[0], px[1], px[2], px[3] = c.R, c.G, c.B, 255
		return
	}
	sa := a * float64(c.A) / 255
	da := float64(px[3]) / 255
	oa := sa + da*(1-sa)
	mix := func(s, d uint8) uint8 {
		return uint8((float64(s)*sa+float64(d)*da*(1-sa))/oa + 0.5)
	}
	px[0], px[1], px[2] = mix(c.R, px[0]), mix(c.G, px[1]), mix(c.B, px[2])
	px[3] = uint8(oa*255 + 0.5)
}

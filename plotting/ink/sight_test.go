package ink

import (
	"fmt"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

type vec [3]float64

// machado are the matrices for full severity (1.0), on linear red, green and blue, of Machado, Oliveira and Fernandes, "A Physiologically-based
// Model for Simulation of Color Vision Deficiency" (IEEE Trans. Vis. Comput. Graph. 15(6), 2009), as published with the paper; from memory.
var machado = map[string][3]vec{
	"no red cones":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"no green cones": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"no blue cones":  {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	"all cones":      {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
}

// linear is a colour's linear red, green and blue, 0..1 (IEC 61966-2-1).
func linear(c color.NRGBA) vec {
	part := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return vec{part(c.R), part(c.G), part(c.B)}
}

func apply(m [3]vec, v vec) vec {
	var out vec
	for i := range m {
		for j := range v {
			out[i] += m[i][j] * v[j]
		}
		out[i] = math.Max(0, math.Min(1, out[i]))
	}
	return out
}

// lab is CIELAB of linear sRGB about the white D65.
func lab(v vec) vec {
	x := (0.4124564*v[0] + 0.3575761*v[1] + 0.1804375*v[2]) / 0.95047
	y := 0.2126729*v[0] + 0.7151522*v[1] + 0.0721750*v[2]
	z := (0.0193339*v[0] + 0.1191920*v[1] + 0.9503041*v[2]) / 1.08883
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	return vec{116*f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))}
}

// ciede2000 is the difference of two colours in CIELAB (Sharma, Wu and Dalal, "The CIEDE2000 Color-Difference Formula", Color Res. Appl.
// 30(1), 2005, equations 2 to 22).
func ciede2000(p, q vec) float64 {
	const rad = math.Pi / 180
	c := (math.Hypot(p[1], p[2]) + math.Hypot(q[1], q[2])) / 2
	c7 := math.Pow(c, 7)
	g := 0.5 * (1 - math.Sqrt(c7/(c7+math.Pow(25, 7))))
	a1, a2 := (1+g)*p[1], (1+g)*q[1]
	c1, c2 := math.Hypot(a1, p[2]), math.Hypot(a2, q[2])
	hue := func(a, b float64) float64 {
		if a == 0 && b == 0 {
			return 0
		}
		h := math.Atan2(b, a) / rad
		if h < 0 {
			h += 360
		}
		return h
	}
	h1, h2 := hue(a1, p[2]), hue(a2, q[2])
	dl, dc, dh := q[0]-p[0], c2-c1, 0.0
	if c1*c2 != 0 {
		dh = h2 - h1
		if dh > 180 {
			dh -= 360
		} else if dh < -180 {
			dh += 360
		}
	}
	bigH := 2 * math.Sqrt(c1*c2) * math.Sin(dh/2*rad)
	l, cm, h := (p[0]+q[0])/2, (c1+c2)/2, h1+h2
	if c1*c2 != 0 {
		switch {
		case math.Abs(h1-h2) <= 180:
			h /= 2
		case h < 360:
			h = (h + 360) / 2
		default:
			h = (h - 360) / 2
		}
	}
	t := 1 - 0.17*math.Cos((h-30)*rad) + 0.24*math.Cos(2*h*rad) + 0.32*math.Cos((3*h+6)*rad) - 0.20*math.Cos((4*h-63)*rad)
	turn := 30 * math.Exp(-((h-275)/25)*((h-275)/25))
	cm7 := math.Pow(cm, 7)
	rc := 2 * math.Sqrt(cm7/(cm7+math.Pow(25, 7)))
	l50 := (l - 50) * (l - 50)
	sl, sc, sh := 1+0.015*l50/math.Sqrt(20+l50), 1+0.045*cm, 1+0.015*cm*t
	rt := -math.Sin(2*turn*rad) * rc
	return math.Sqrt(dl/sl*dl/sl + dc/sc*dc/sc + bigH/sh*bigH/sh + rt*dc/sc*bigH/sh)
}

// The paper's table 1, some of its pairs.
func TestColourDifferenceAgainstItsPaper(t *testing.T) {
	for _, x := range []struct {
		p, q vec
		want float64
	}{
		{vec{50, 2.6772, -79.7751}, vec{50, 0, -82.7485}, 2.0425},
		{vec{50, 3.1571, -77.2803}, vec{50, 0, -82.7485}, 2.8615},
		{vec{50, -1.3802, -84.2814}, vec{50, 0, -82.7485}, 1.0000},
		{vec{50, 0, 0}, vec{50, -1, 2}, 2.3669},
		{vec{50, 2.5, 0}, vec{50, 0, -2.5}, 4.3065},
		{vec{50, 2.5, 0}, vec{73, 25, -18}, 27.1492},
		{vec{50, 2.5, 0}, vec{61, -5, 29}, 22.8977},
		{vec{50, 2.5, 0}, vec{56, -27, -3}, 31.9030},
		{vec{50, 2.5, 0}, vec{58, 24, 15}, 19.4535},
		{vec{60.2574, -34.0099, 36.2677}, vec{60.4626, -34.1751, 39.4387}, 1.2644},
		{vec{2.0776, 0.0795, -1.1350}, vec{0.9033, -0.0636, -0.5514}, 0.9082},
	} {
		assert.InDelta(t, x.want, ciede2000(x.p, x.q), 1e-4)
		assert.InDelta(t, x.want, ciede2000(x.q, x.p), 1e-4, "either way")
	}
}

func TestGreysStayGreyToEveryEye(t *testing.T) {
	for eye, m := range machado {
		for i, row := range m {
			assert.InDelta(t, 1, row[0]+row[1]+row[2], 2e-6, "%s, row %d", eye, i)
		}
	}
}

// apart is how far two colours that mean different things stay apart at the least, CIEDE2000, to an eye without one kind of cones. A difference of
// 1 is just seen side by side; 10 is seen at a glance (common practice, no source).
const apart = 10.0

func TestRolesStayApartToEveryEye(t *testing.T) {
	pairs := [][2]Role{
		{Trouble, Press}, {Trouble, Measure}, {Trouble, Text}, {Trouble, PartLine}, {Trouble, Pencil}, {Trouble, Second},
		{Press, Measure}, {Press, Text}, {Press, PartLine}, {Press, OnPress},
		{Measure, Text}, {Text, PartLine}, {Text, Pencil}, {PartLine, PartFill}, {PartLine, AxleFill}, {TroubleGround, Trouble},
	}
	least := map[Scheme]float64{}
	which := map[Scheme]string{}
	for s := Light; s < Schemes; s++ {
		least[s] = math.Inf(1)
		for eye, m := range machado {
			for _, p := range pairs {
				d := ciede2000(lab(apply(m, linear(In(p[0], s)))), lab(apply(m, linear(In(p[1], s)))))
				assert.GreaterOrEqualf(t, d, apart, "scheme %d, %s: %s and %s", s, eye, names[p[0]], names[p[1]])
				if d < least[s] {
					least[s], which[s] = d, fmt.Sprintf("%s and %s, %s", names[p[0]], names[p[1]], eye)
				}
			}
		}
	}
	t.Log(least, which)
}

// What is chosen differs from what is not by how light it is, not by hue alone: 3:1 (WCAG 2.2, 1.4.11).
func TestWhatIsLitIsSeenWithoutHue(t *testing.T) {
	for s := Light; s < Schemes; s++ {
		assert.GreaterOrEqual(t, contrast(In(Press, s), In(Ground, s)), 3.0)
		assert.GreaterOrEqual(t, contrast(In(Press, s), In(Panel, s)), 3.0)
		assert.GreaterOrEqual(t, contrast(In(Text, s), In(Panel, s)), 3.0, "the frame that comes on the panel round what has the keys")
	}
}

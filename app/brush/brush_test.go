package brush

import (
	"image"
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestClipStaysInBoxAndOnLine(t *testing.T) {
	box := Box{0, 0, 100, 60}
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(-300, 300)
		x1, y1, x2, y2 := c.Draw(t, "x1"), c.Draw(t, "y1"), c.Draw(t, "x2"), c.Draw(t, "y2")
		a, b, p, q, ok := Clip(box, x1, y1, x2, y2)
		if !ok { // then no point of it lies inside
			for i := range 101 {
				f := float64(i) / 100
				x, y := x1+f*(x2-x1), y1+f*(y2-y1)
				if x > 1e-6 && x < 100-1e-6 && y > 1e-6 && y < 60-1e-6 {
					t.Fatalf("cut away, but (%v, %v) lies inside", x, y)
				}
			}
			return
		}
		for _, e := range [][2]float64{{a, b}, {p, q}} {
			if e[0] < -1e-6 || e[0] > 100+1e-6 || e[1] < -1e-6 || e[1] > 60+1e-6 {
				t.Fatalf("end (%v, %v) outside", e[0], e[1])
			}
			if off := math.Abs((e[0]-x1)*(y2-y1) - (e[1]-y1)*(x2-x1)); off > 1e-6*(1+math.Hypot(x2-x1, y2-y1)) {
				t.Fatalf("end (%v, %v) off the line by %v", e[0], e[1], off)
			}
		}
	})
}

func TestPoolKeepsOrderAndObjects(t *testing.T) {
	test.NewTempApp(t)
	var p Pool
	draw := func() {
		p.Begin()
		p.Line(0, 0, 1, 1, 1, color.Black)
		p.Circle(5, 5, 2, 1, color.Black, nil)
		p.Line(2, 2, 3, 3, 1, color.Black)
		p.Text("word", 1, 1, Type{Size: 15}, color.Black)
	}
	draw()
	first := append([]fyne.CanvasObject(nil), p.Objects()...)
	require.Len(t, first, 4)
	assert.IsType(t, &canvas.Line{}, first[0])
	assert.IsType(t, &canvas.Circle{}, first[1])
	assert.IsType(t, &canvas.Line{}, first[2])
	draw()
	for i, o := range p.Objects() {
		assert.Same(t, first[i], o)
	}
	seen := ""
	p.Texts(func(s string, _ fyne.Position, _ fyne.Size) { seen += s })
	assert.Equal(t, "word", seen)
}

func TestLinesAgainAllocateNothing(t *testing.T) {
	test.NewTempApp(t)
	var p Pool
	draw := func() {
		p.Begin()
		for i := range 200 {
			p.Line(float32(i), 0, 10, 10, 1.5, color.Black)
		}
	}
	draw()
	assert.Zero(t, testing.AllocsPerRun(10, draw))
}

func TestDashedRunsOnAcrossJoints(t *testing.T) {
	box := Box{0, 0, 1000, 1000}
	inked := func(cuts ...float64) float64 {
		var p Pool
		p.Begin()
		at, x := 0.0, 0.0
		for _, c := range cuts {
			at = p.Dashed(box, x, 5, c, 5, at, 1.5, color.Black)
			x = c
		}
		sum := 0.0
		for _, o := range p.Objects() {
			l := o.(*canvas.Line)
			sum += float64(l.Position2.X - l.Position1.X)
		}
		return sum
	}
	const period = 33 // 24 of it inked
	assert.InDelta(t, 240, inked(10*period), 1e-3)
	assert.InDelta(t, 240, inked(17, 95.5, 10*period), 1e-3)
}

func TestMarksCoverWhatTheySay(t *testing.T) {
	share := func(m Mark) float64 {
		sum, n := 0.0, 0
		for y := 0.25; y < 84; y += 0.5 {
			for x := 0.25; x < 84; x += 0.5 {
				sum += Ink(m, x, y, 0.5)
				n++
			}
		}
		return sum / float64(n)
	}
	assert.InDelta(t, 0.5, share(Hits), 0.02) // stripes 3 on 3
	dots := math.Pi * dotRadius * dotRadius / (dotPitch * dotPitch)
	assert.InDelta(t, dots, share(Tight), 0.03)
	assert.Zero(t, share(Plain))
}

func TestBlend(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 1, 1))
	Blend(img, 0, 0, color.NRGBA{100, 150, 200, 255}, 1)
	assert.Equal(t, color.NRGBA{100, 150, 200, 255}, img.NRGBAAt(0, 0))
	Blend(img, 0, 0, color.NRGBA{200, 50, 0, 255}, 0.5)
	assert.Equal(t, color.NRGBA{150, 100, 100, 255}, img.NRGBAAt(0, 0))
}

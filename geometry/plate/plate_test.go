package plate

import (
	"math"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func num(v float64) *float64 { return &v }

// A tab as wide as its round end is a rectangle with a half circle on it.
func TestTab(t *testing.T) {
	b := &job.Bracket{Kind: "tab", Thickness: 8, Hole: 16.5, Edge: 28, Base: 60}
	list, err := Of(b)
	require.NoError(t, err)
	require.Len(t, list, 1)
	p := list[0]
	assert.Equal(t, 1, p.Count)
	assert.False(t, p.Handed)
	assert.InDelta(t, 56*60+math.Pi*28*28/2-math.Pi*16.5*16.5/4, p.Area(), 1e-9)
	x0, y0, x1, y1 := p.Bounds()
	assert.InDeltaSlice(t, []float64{-28, -60, 28, 28}, []float64{x0, y0, x1, y1}, 1e-9)
	assert.Equal(t, &Line{-28, -60, 28, -60}, p.Face)
}

func TestPairAndBoltedTab(t *testing.T) {
	b := &job.Bracket{Kind: "pair", Thickness: 8, Hole: 16.5, Edge: 28, Base: 60, Width: num(90), Offset: num(12), Gap: num(52),
		Pattern: &job.Pattern{Count: 2, Pitch: num(50), Hole: 12.5, In: 30, Edge: num(20)}}
	list, err := Of(b)
	require.NoError(t, err)
	p := list[0]
	assert.Equal(t, 2, p.Count)
	assert.True(t, p.Handed, "an offset plate is not its own mirror image")
	_, y0, _, _ := p.Bounds()
	assert.InDelta(t, -110, y0, 1e-9)
	require.Len(t, p.Holes, 3)
	assert.Equal(t, Hole{X: 12 - 25, Y: -90, Diameter: 12.5}, p.Holes[1])
	assert.Equal(t, Hole{X: 12 + 25, Y: -90, Diameter: 12.5}, p.Holes[2])
}

// The saddle's flat is as long as its straight parts and its folds; the figures of a worked fold: radius 9, plate 6: k = 0.65 + 0.5 log10(1.5) = 0.738,
// arc = pi/2 (9 + 0.738 x 3) = 17.615 (by hand from DIN 6935's formula).
func TestSaddle(t *testing.T) {
	assert.InDelta(t, 0.738, Neutral(9, 6), 5e-4)
	assert.InDelta(t, 17.615, Arc(9, 6), 5e-4)
	assert.Equal(t, 1.0, Neutral(50, 6), "from about five times the thickness on the middle keeps its length")
	b := &job.Bracket{Kind: "saddle", Thickness: 8, Hole: 16.5, Edge: 28, Base: 60, Gap: num(52),
		Rail: &job.Over{Width: 70, Leg: 60, Along: num(120), Thickness: num(6), Bend: num(9)}, Pattern: &job.Pattern{Count: 2, Pitch: num(80), Hole: 12, In: 25}}
	list, err := Of(b)
	require.NoError(t, err)
	require.Len(t, list, 2)
	s := list[1]
	_, y0, _, y1 := s.Bounds()
	assert.InDelta(t, 2*(60-9)+70-18+2*17.615, y1-y0, 2e-3)
	require.Len(t, s.Holes, 4)
	assert.InDelta(t, y1-25, s.Holes[0].Y, 1e-9)
	require.Len(t, s.Folds, 2)
	assert.InDelta(t, (70-18)/2.0+17.615/2, s.Folds[0].Y1, 2e-3)
	assert.Len(t, list[0].Holes, 1, "the legs are bolted, not the plates on the web")
	b.Rail.Bend = num(40)
	_, err = Of(b)
	assert.ErrorContains(t, err, "leave nothing straight")
}

// Whatever the sizes, the outline runs anticlockwise, keeps the edge from the hole everywhere but toward the mounting face, and meets its round end without a corner.
func TestPlateKeepsItsEdge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		b := &job.Bracket{Kind: "tab", Thickness: 8, Hole: f("hole", 6, 30), Base: f("base", 20, 200), Width: num(f("width", 10, 300)), Offset: num(f("offset", -80, 80))}
		b.Edge = b.Hole/2 + f("more", 1, 40)
		list, err := Of(b)
		half := *b.Width / 2
		near := math.Min(math.Hypot(*b.Offset-half, b.Base), math.Hypot(*b.Offset+half, b.Base))
		if near <= b.Edge {
			if err == nil {
				t.Fatal("a corner inside the round end was taken")
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		p := list[0]
		pts := p.Path(200)
		if p.Area() <= 0 {
			t.Fatal("not anticlockwise")
		}
		for i, a := range pts {
			q := pts[(i+1)%len(pts)]
			if a.Y == -b.Base && q.Y == -b.Base {
				continue // the mounting face
			}
			if d := fromOrigin(a, q); d < b.Edge*(1-1e-4) {
				t.Fatalf("%g from the hole, not %g", d, b.Edge)
			}
		}
		tr := p.Outline[2]
		right := p.Outline[1]
		if dot := tr.X*(tr.X-right.X) + tr.Y*(tr.Y-right.Y); math.Abs(dot) > 1e-6*b.Edge*200 {
			t.Fatal("the side is no tangent")
		}
	})
}

// fromOrigin is how far the origin is from the line between two points.
func fromOrigin(a, b Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	l := dx*dx + dy*dy
	t := 0.0
	if l > 0 {
		t = math.Max(0, math.Min(1, -(a.X*dx+a.Y*dy)/l))
	}
	return math.Hypot(a.X+t*dx, a.Y+t*dy)
}

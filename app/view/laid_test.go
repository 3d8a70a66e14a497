package view

import (
	"math"
	"testing"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A cut laid over a view is outlined where it is and hatched within, and its tag says its words; a thing laid over one view alone is in no other.
func TestWhatIsLaidOverTheViews(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	var body []r3.Vec
	lo, hi := r3.Vec{X: -262, Y: -340, Z: 600}, r3.Vec{X: -200, Y: 300, Z: 655}
	for i := range 8 {
		p := lo
		if i&1 == 1 {
			p.X = hi.X
		}
		if i&2 == 2 {
			p.Y = hi.Y
		}
		if i&4 == 4 {
			p.Z = hi.Z
		}
		body = append(body, p)
	}
	loop := []r3.Vec{{X: -230, Y: 0, Z: 600}, {X: -230, Y: 50, Z: 600}, {X: -230, Y: 50, Z: 640}}
	in := Input{Now: s, At: at(t, s, 0, 0), Laid: []Laid{{Name: "cut", Look: CutOff, Bodies: [][]r3.Vec{body}, Words: "loses 2.2 L"},
		{Name: "kept out", Look: KeptOut, Only: true, In: Rear, Loops: [][]r3.Vec{loop}},
		{Name: "taken", Look: Taken, Only: true, In: Side, Loops: [][]r3.Vec{loop}}}}
	e := GoTo(r3.Scale(0.5, r3.Add(lo, hi)))
	for p := Side; p <= Plan; p++ {
		in.Plane = p
		tr := e.Transform(p, Size{W: 900, H: 500})
		pic := New(in).Picture(tr, paper.Measure, nil)
		assert.Contains(t, wordsIn(pic), "loses 2.2 L")
		x0, y0 := tr.Place(lo)
		x1, y1 := tr.Place(hi)
		room := box{math.Min(x0, x1), math.Min(y0, y1), math.Max(x0, x1), math.Max(y0, y1)}
		lines, dashed, taken := 0, 0, 0
		for _, it := range pic.Items {
			switch {
			case it.Name == "cut" && it.Kind == drawing.Line && it.Layer == drawing.Hoses:
				lines++
				assert.Equal(t, ink.Press, it.Stroke)
				for _, q := range it.Points {
					assert.True(t, room.grown(1e-6).holds(box{q.X, q.Y, q.X, q.Y}), "%v outside %v", q, room)
				}
			case it.Name == "kept out":
				dashed++
				assert.Equal(t, drawing.Dashed, it.Kind)
			case it.Name == "taken":
				taken++
				assert.Equal(t, drawing.Dashed, it.Kind)
				assert.Greater(t, it.Layer, drawing.Links, "above what it goes through")
			}
		}
		assert.Equal(t, p == Side, taken > 0)
		assert.Greater(t, lines, 4)
		assert.Equal(t, p == Rear, dashed > 0)
	}
}

// Another tyre stands round the present one wherever the axle stands, larger by what was asked; of no width nothing is drawn.
func TestAnotherTyreLaidOverTheViews(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	size := study.TyreSize{Radius: 30, Width: 40}
	in := Input{Plane: Rear, Now: s, At: at(t, s, 100, -100), Laid: []Laid{{Name: "other tyre", Look: AnyOther, Tyre: &size}}}
	sc := New(in)
	require.Len(t, sc.laid, 1)
	require.Len(t, sc.laid[0].runs, 2)
	for i, side := range []job.Side{job.Left, job.Right} {
		p, ok := sc.tyre(side)
		require.True(t, ok)
		now, with := bounds(silhouette(Rear, &p)), bounds(sc.laid[0].runs[i])
		slope := math.Hypot(p.Axis.X, p.Axis.Z)
		assert.InDelta(t, 60, (with.y1-with.y0)-(now.y1-now.y0), 1+40*slope)
		assert.InDelta(t, 40, (with.x1-with.x0)-(now.x1-now.x0), 1+60*slope)
	}
	ground := 0
	for _, f := range sc.figures {
		if f.name == "other tyre" {
			ground++
			assert.InDelta(t, sc.groundAt(sc.pose.C.X)-30, f.pts[0].Y, 1e-9)
		}
	}
	assert.Equal(t, 1, ground, "the ground with it")
	_, ok := sc.tyreOf(job.Left, study.TyreSize{Width: -1000})
	assert.False(t, ok)
}

func TestHatchCoversAnArea(t *testing.T) {
	area := []point{{0, 0}, {100, 0}, {100, 40}, {0, 40}}
	lines := hatch(area)
	require.NotEmpty(t, lines)
	for _, l := range lines {
		assert.InDelta(t, math.Abs(l[1].X-l[0].X), math.Abs(l[1].Y-l[0].Y), 1e-9)
	}
	assert.InDelta(t, 140/(hatching*math.Sqrt2), float64(len(lines)), 1)
	assert.Nil(t, hatch(nil))
}

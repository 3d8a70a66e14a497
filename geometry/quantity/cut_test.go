package quantity

import (
	"math"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
)

func mm(v float64) *float64 { return &v }

func TestCutOf(t *testing.T) {
	l := job.Link{Frame: job.Point{900, 500, 400}, Axle: job.Point{0, 500, 400}}
	c := CutOf(&l)
	assert.InDelta(t, 900, c.Length, 1e-12)
	assert.True(t, math.IsNaN(c.Tube), "nobody says what the ends take")
	assert.True(t, math.IsNaN(c.Mass))
	assert.Zero(t, c.In)

	l.Tube = &job.Tube{Outside: 50, Wall: mm(5)}
	l.FrameEnd = &job.End{Takes: mm(40)}
	l.AxleEnd = &job.End{Takes: mm(60), Adjust: mm(12), Thread: mm(1.5)}
	c = CutOf(&l)
	assert.InDelta(t, 800, c.Tube, 1e-12)
	// A round tube of 50 x 5: 5.55 kg a metre (EN 10220 lists 51 x 5 at 5.67; the difference is a mm of outside: 0.123 kg a metre)
	assert.InDelta(t, 5.549*0.8, c.Mass, 0.002)
	assert.Equal(t, 12.0, c.In)
	assert.Equal(t, 12.0, c.Out)
	assert.True(t, math.IsNaN(c.Turn), "one end screws: it is taken off and turned")

	l.FrameEnd.Adjust, l.FrameEnd.Thread, l.FrameEnd.Hand = mm(10), mm(2), "left"
	c = CutOf(&l)
	assert.InDelta(t, 3.5, c.Turn, 1e-12)
	assert.Equal(t, 22.0, c.Out)
	l.FrameEnd.Hand = ""
	assert.True(t, math.IsNaN(CutOf(&l).Turn), "both of one hand: the tube only wanders")

	l.Bends = []job.Point{{450, 500, 800}}
	c = CutOf(&l)
	assert.InDelta(t, 900, c.Length, 1e-12)
	assert.InDelta(t, 2*math.Hypot(450, 400)-100, c.Tube, 1e-9)

	l.FrameEnd.Takes = mm(5000)
	assert.True(t, math.IsNaN(CutOf(&l).Tube), "nothing is left")
}

// EN 10220 and ISO 4200 tables, from memory: 48.3 x 3.2 has 3.56 kg/m, 60.3 x 5.0 has 6.82, 33.7 x 2.6 has 1.99.
func TestTubeMassAgainstTables(t *testing.T) {
	for _, c := range []struct{ outside, wall, kg float64 }{{48.3, 3.2, 3.56}, {60.3, 5, 6.82}, {33.7, 2.6, 1.99}} {
		assert.InDelta(t, c.kg, TubeMass(&job.Tube{Outside: c.outside, Wall: &c.wall}, 1000), 0.005)
	}
	assert.InDelta(t, 0.785*math.Pi*2.5, TubeMass(&job.Tube{Outside: 100}, 1000)/10, 1e-9)
}

package quantity_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
)

// triangle is an A-arm whose frame pivots are twins.
func triangle(frame, point job.Point) job.Arm {
	return job.Arm{Name: "A-arm", Frame: []job.Point{frame, frame.Mirror()}, Axle: []job.Point{point}}
}

// bellcrank is a Watt's linkage across with level rods of 430 mm on a rocker of 140 mm, its bolt at (x, 0, z).
func bellcrank(on string, x, z float64) job.Rocker {
	return job.Rocker{Name: "Watt's linkage", On: on, Pivot: job.Point{x, 0, z}, Axis: job.Point{1, 0, 0}, Rods: []job.Rod{
		{Name: "Rod left", Rocker: job.Point{x, 0, z + 70}, Far: job.Point{x, 430, z + 70}},
		{Name: "Rod right", Rocker: job.Point{x, 0, z - 70}, Far: job.Point{x, -430, z - 70}},
	}}
}

// An A-arm whose bars lie along the lines of two upper links moves, from ride height, as they do: the closed form of the four-link (derived two
// independent ways: a 3-D velocity solution, and the graphical construction of Gillespie, Fundamentals of Vehicle Dynamics (SAE 1992), chapter 7)
// holds for it. The uppers (0, +-120, 650) to (700, +-420, 620) meet at (-280, 0, 662).
func TestArmOfTheFourLinkClosedForm(t *testing.T) {
	j := layout(2800, 800, pair("Lower", job.Point{900, 520, 430}, job.Point{0, 520, 380}))
	j.Arms = []job.Arm{triangle(job.Point{700, 420, 620}, job.Point{-280, 0, 662})}
	v, r, _ := at(t, j, 0, 0)
	assert.InDelta(t, 677.556, v.RollCentre, 0.0005)
	assert.InDelta(t, 5.5556, v.RollSteerPct, 0.00005)
	assert.InDelta(t, 2743.548, v.ICX, 0.0005)
	assert.InDelta(t, 532.419, v.ICZ, 0.0005)
	assert.InDelta(t, 67.922, v.AntiSquatPct, 0.0005)
	assert.InDelta(t, 0.0208838, r.Heave.W.Y*deg, 5e-8)
}

// Rules of construction, read: the points where what holds the axle sideways acts, joined to where the lowers converge in plan view, give the
// roll axis; with the lowers parallel in plan it is parallel to them. An A-arm acts at its point, a Watt's linkage at its centre bolt. With the
// lowers level the roll centre is as high as that point.
func TestRollAxisOfArmsAndWatts(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	for n := range 60 {
		lower := pair("Lower", job.Point{in(800, 1100), in(300, 450), in(400, 460)}, job.Point{in(-30, 60), in(480, 560), in(300, 400)})
		if n%3 > 0 {
			lower.Frame[1] = lower.Axle[1] // parallel in plan
		}
		if n%3 == 2 {
			lower.Frame[2] = lower.Axle[2] // and level
		}
		slope := (lower.Frame[2] - lower.Axle[2]) / (lower.Frame[0] - lower.Axle[0])
		x, z := in(-250, 100), in(400, 700)
		along := func() (slopeOfAxis float64) { // of the line from (x, z) to where the lowers meet the centre plane, or parallel to them
			if n%3 > 0 {
				return slope
			}
			far := lower.Axle[1] / (lower.Axle[1] - lower.Frame[1])
			mx := lower.Axle[0] + far*(lower.Frame[0]-lower.Axle[0])
			mz := lower.Axle[2] + far*(lower.Frame[2]-lower.Axle[2])
			return (mz - z) / (mx - x)
		}()
		arm := layout(2800, 800, lower)
		arm.Arms = []job.Arm{triangle(job.Point{600, 350, in(560, 640)}, job.Point{x, 0, z})}
		onAxle := layout(2800, 800, lower, bar("Upper", job.Point{650, 0, in(560, 640)}, job.Point{0, 0, 640}))
		onAxle.Rockers = []job.Rocker{bellcrank("axle", x, z)}
		onFrame := layout(2800, 800, lower, onAxle.Links[1])
		onFrame.Rockers = []job.Rocker{bellcrank("frame", x, z)}
		for what, j := range map[string]*job.Job{"A-arm": arm, "on the axle": onAxle, "on the frame": onFrame} {
			v, _, _ := at(t, j, 0, 0)
			assert.InDelta(t, z-x*along, v.RollCentre, 1e-6, what)
			assert.InDelta(t, 100*along, v.RollSteerPct, 1e-7, what)
			if n%3 == 2 {
				assert.InDelta(t, z, v.RollCentre, 1e-6, what)
			}
		}
	}
}

// A torque arm's instant centre lies where the line of its link crosses that of the lowers, and the anti-squat is that of the texts,
// 100 e/d L/h (Gillespie, Fundamentals of Vehicle Dynamics (SAE 1992), chapter 7, inputs read second-hand).
func TestTorqueArmInstantCentre(t *testing.T) {
	for _, lean := range []float64{-60, 0, 45} {
		lower := pair("Lower", job.Point{1000, 500, 430}, job.Point{0, 500, 350})
		j := layout(2800, 800, lower, bar("Torque arm link", job.Point{1200 + lean, 60, 640}, job.Point{1200, 60, 460}),
			bar("Panhard rod", job.Point{-100, -450, 500}, job.Point{-100, 450, 500}))
		v, _, _ := at(t, j, 0, 0)
		// z = 350 + 0.08 x meets x = 1200 + lean (z - 460)/180.
		k := lean / 180
		x := (1200 + k*(350-460)) / (1 - 0.08*k)
		z := 350 + 0.08*x
		assert.InDelta(t, x, v.ICX, 1e-6)
		assert.InDelta(t, z, v.ICZ, 1e-6)
		assert.InDelta(t, 100*z/x*2800/800, v.AntiSquatPct, 1e-6)
	}
}

// Two radius arms alike turn the axle about the line of their frame pivots: that is the instant centre, at every height. The rod across is long, so
// that nothing is forced.
func TestRadiusArmInstantCentre(t *testing.T) {
	j := layout(2800, 800, bar("Rod across", job.Point{0, 1e7, 400}, job.Point{0, 0, 400}))
	j.Arms = []job.Arm{{Name: "Radius arm", Pair: true, Frame: []job.Point{{900, 430, 460}}, Axle: []job.Point{{40, 480, 490}, {10, 480, 310}},
		FrameEnds: []job.End{{Kind: "bush"}}, AxleEnds: []job.End{{Kind: "bush"}, {Kind: "bush"}}}}
	for _, h := range []float64{-100, 0, 80} {
		v, _, p := at(t, j, h, h)
		assert.InDelta(t, 900, v.ICX, 1e-2) // the rod across swings by h^2/2e7 and draws the arms' bushes by some of it
		assert.InDelta(t, 460, v.ICZ, 1e-2)
		e, d := 460-h, 900-p.X
		assert.InDelta(t, 100*e/d*(2800-p.X)/(800-h), v.AntiSquatPct, 1e-2)
	}
}

// An upright strut on a level link moves by the part of the link's length its foot is from the frame pivot, whatever is above it.
func TestRatioOfAStrutOnALink(t *testing.T) {
	for _, part := range []float64{0.3, 0.7, 0.9} {
		lower := pair("Lower", job.Point{1000, 500, 360}, job.Point{0, 500, 360})
		j := layout(2800, 800, lower, bar("Upper", job.Point{700, 0, 600}, job.Point{0, 0, 620}),
			bar("Rod across", job.Point{0, 1e7, 400}, job.Point{0, 0, 400}))
		j.Struts = []job.Strut{
			{Name: "Strut", Pair: true, On: "Lower", Frame: job.Point{1000 - 1000*part, 500, 800}, Axle: job.Point{1000 - 1000*part, 500, 360}},
			{Name: "Bag", Pair: true, On: "Lower", Frame: job.Point{1000 - 1000*part, 500, 800}, Axle: job.Point{1000 - 1000*part, 500, 430}},
		}
		v, _, _ := at(t, j, 0, 0)
		for i := range v.Struts {
			assert.InDelta(t, part, v.Struts[i].RatioHeave, 1e-9)
			assert.InDelta(t, 0, v.Struts[i].AxleTilt, 1e-12)
		}
		up, _, _ := at(t, j, 60, 60)
		// The bag's seat turns with the link, the foot goes round the frame pivot.
		turn := math.Asin(60.0 / 1000)
		assert.InDelta(t, turn, up.Struts[0].AxleTilt-up.Struts[0].FrameTilt, 1e-5) // the axle pitches: its pivot rises by 60.002
		r, a := math.Hypot(1000*part, 70), math.Atan2(70, 1000*part)
		foot := [2]float64{1000 - r*math.Cos(a+turn), 360 + r*math.Sin(a+turn)}
		assert.InDelta(t, math.Hypot(1000-1000*part-foot[0], 800-foot[1]), up.Struts[2].Length, 0.01)
	}
}

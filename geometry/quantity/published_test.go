package quantity_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

const inch = 25.4

// layout is a job for tests with one load; CG above the rear axle's ground by height.
func layout(wheelbase, height float64, links ...job.Link) *job.Job {
	return &job.Job{
		Format: job.Format, Version: job.Version, Title: "test",
		Vehicle: &job.Vehicle{
			Wheelbase: wheelbase, Track: 1700, Tyre: &job.Tyre{LoadedRadius: 400},
			Loads: []job.Load{{Name: "load", Mass: 3000, CG: job.Point{wheelbase / 2, 0, height}}},
		},
		Links: links,
	}
}

func bar(name string, frame, axle job.Point) job.Link {
	return job.Link{Name: name, Frame: frame, Axle: axle}
}

func pair(name string, frame, axle job.Point) job.Link {
	return job.Link{Name: name, Pair: true, Frame: frame, Axle: axle}
}

// at evaluates a job at two travels for its first load.
func at(t testing.TB, j *job.Job, left, right float64) (*quantity.Values, motion.Rates, motion.Pose) {
	t.Helper()
	m, err := motion.Compile(j)
	require.NoError(t, err)
	var p motion.Pose
	var r motion.Rates
	s := m.NewSolver()
	require.NoError(t, s.Solve(left, right, &p))
	require.NoError(t, s.Rates(&p, &r))
	v := quantity.NewValues(m)
	quantity.Eval(m, &p, &r, &quantity.Loads(j)[0], v)
	return v, r, p
}

// Derived two independent ways: a 3-D velocity solution, and the graphical construction of Gillespie, Fundamentals of Vehicle Dynamics
// (SAE 1992), chapter 7.
func TestFourLinkClosedForm(t *testing.T) {
	lower := pair("Lower", job.Point{900, 520, 430}, job.Point{0, 520, 380})
	v, r, _ := at(t, layout(2800, 800, lower, pair("Upper", job.Point{700, 420, 620}, job.Point{0, 120, 650})), 0, 0)
	assert.InDelta(t, 677.556, v.RollCentre, 0.0005)
	assert.InDelta(t, 0.055556, math.Tan(v.RollAxisDeg/deg), 0.0000005)
	assert.InDelta(t, 5.5556, v.RollSteerPct, 0.00005)
	assert.InDelta(t, 2743.548, v.ICX, 0.0005)
	assert.InDelta(t, 532.419, v.ICZ, 0.0005)
	assert.InDelta(t, 67.922, v.AntiSquatPct, 0.0005)
	assert.InDelta(t, 0.0208838, r.Heave.W.Y*deg, 5e-8)

	// Offset three-link, by the same derivation, for a roll motion without heave of the axle centre.
	v, _, _ = at(t, layout(2800, 800, lower, bar("Upper", job.Point{700, 100, 620}, job.Point{0, 100, 650}),
		bar("Panhard rod", job.Point{-100, -400, 560}, job.Point{-100, 500, 520})), 0, 0)
	assert.InDelta(t, 547.940, v.RollCentre, 0.0005)
}

// aimed is an axle whose side-view instant centre lies d ahead of the contact and e above the ground: every link points at it.
func aimed(wheelbase, height, d, e float64) *job.Job {
	to := func(x, y, z, part float64) job.Link {
		return job.Link{Frame: job.Point{x + part*(d-x), y, z + part*(e-z)}, Axle: job.Point{x, y, z}}
	}
	lower, upper := to(0, 500, 300, 0.3), to(-20, 0, 620, 0.2)
	lower.Name, lower.Pair, upper.Name = "Lower", true, "Upper"
	return layout(wheelbase, height, lower, upper, bar("Panhard rod", job.Point{-100, -450, 500}, job.Point{-100, 450, 500}))
}

// Barton & Fieldhouse, Automotive Chassis Engineering (Springer 2018; authors and year from memory), 3.11, eqs 3.63-3.69, read in part: with the
// instant centre e above and d ahead of the contact, rear kr dr = m a (h/l - e/d), so nothing squats at e/d = h/l; full anti-pitch at
// e/d = (h/l)(1 + kr/kf), which is 100 (1 + kr/kf) % of anti-squat. Numbers of Gillespie, Fundamentals of Vehicle Dynamics (SAE 1992) chapter 7:
// inputs read second-hand, answers derived, agreeing with memory of the book.
func TestAntiSquatOfTheTexts(t *testing.T) {
	for _, tc := range []struct{ l, h, kf, kr, squat, pitch float64 }{
		{108.5, 20.5, 285, 169, 0.18894, 0.30098},
		{120, 30, 150, 100, 0.25, 0.41667},
	} {
		const d = 60 * inch
		for slope, want := range map[float64]float64{tc.squat: 100, tc.pitch: 100 * (1 + tc.kr/tc.kf), 0.1: 10 * tc.l / tc.h} {
			v, _, _ := at(t, aimed(tc.l*inch, tc.h*inch, d, slope*d), 0, 0)
			assert.InDelta(t, d, v.ICX, 1e-6)
			assert.InDelta(t, slope*d, v.ICZ, 1e-6)
			assert.InDelta(t, want, v.AntiSquatPct, 0.005, "e/d %v", slope) // the slopes are printed to five digits
		}
	}
}

// From memory of Milliken & Milliken, Race Car Vehicle Dynamics, chapter 17: a driven axle 100 p tan L/h, a braked one 100 b tan L/h, with the
// shares of the axle.
func TestShares(t *testing.T) {
	j := aimed(2800, 800, 2000, 500)
	drive, brake := 0.6, 0.35
	j.Vehicle.DriveShare, j.Vehicle.BrakeShare = &drive, &brake
	v, _, _ := at(t, j, 0, 0)
	assert.InDelta(t, 100*0.6*500/2000*2800/800, v.AntiSquatPct, 1e-9)
	assert.InDelta(t, 100*0.35*500/2000*2800/800, v.AntiLiftPct, 1e-9)
	j.Vehicle.DriveShare, j.Vehicle.BrakeShare = nil, nil
	v, _, _ = at(t, j, 0, 0)
	assert.InDelta(t, 0.4, v.AntiLiftPct/v.AntiSquatPct, 1e-12)
}

// Rules of construction, read: the points where the two pairs converge in plan view, joined, give the roll axis; with the lowers parallel in
// plan, the axis is parallel to them through the upper convergence.
func TestRollAxisConstruction(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	// meet is where a pair's links cross the centre plane.
	meet := func(l job.Link) r3.Vec {
		a, d := l.Axle.Vec(), r3.Sub(l.Frame.Vec(), l.Axle.Vec())
		return r3.Add(a, r3.Scale(-a.Y/d.Y, d))
	}
	for range 50 {
		in := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
		lower := pair("Lower", job.Point{in(800, 1100), in(300, 450), in(400, 460)}, job.Point{in(-30, 60), in(480, 560), in(300, 400)})
		upper := pair("Upper", job.Point{in(500, 700), in(400, 480), in(560, 640)}, job.Point{in(-40, 40), in(80, 200), in(560, 660)})
		v, _, _ := at(t, layout(2800, 800, lower, upper), 0, 0)
		a, b := meet(lower), meet(upper)
		slope := (a.Z - b.Z) / (a.X - b.X)
		assert.InDelta(t, slope, math.Tan(v.RollAxisDeg/deg), 1e-9)
		assert.InDelta(t, 100*slope, v.RollSteerPct, 1e-7)
		assert.InDelta(t, b.Z-b.X*slope, v.RollCentre, 1e-6)

		lower.Frame[1] = lower.Axle[1] // parallel in plan
		v, _, _ = at(t, layout(2800, 800, lower, upper), 0, 0)
		slope = (lower.Frame[2] - lower.Axle[2]) / (lower.Frame[0] - lower.Axle[0])
		assert.InDelta(t, slope, math.Tan(v.RollAxisDeg/deg), 1e-9)
		assert.InDelta(t, b.Z-b.X*slope, v.RollCentre, 1e-6)
	}
}

// Read: a Panhard rod's roll centre is where its line crosses the centre plane (here with every other link parallel in plan and level).
func TestPanhardRollCentre(t *testing.T) {
	const rise = 40.0
	v, _, _ := at(t, layout(2800, 800, pair("Lower", job.Point{900, 500, 330}, job.Point{0, 500, 330}),
		bar("Upper", job.Point{700, 0, 600}, job.Point{0, 0, 600}),
		bar("Panhard rod", job.Point{0, -400, 520 + rise}, job.Point{0, 500, 520})), 0, 0)
	assert.InDelta(t, 520+rise*500/900, v.RollCentre, 1e-9)
	assert.InDelta(t, 0, v.RollSteerPct, 1e-9)
}

// Olley, in Milliken & Milliken, Chassis Design: roll steer is the slope of the roll axis; slope 0.349 (a tangent) at 0.0333 rad of roll steers
// the axle 0.0116 rad (the source prints 0.0115).
func TestRollSteerOfOlley(t *testing.T) {
	const slope, roll = 0.349, 0.0333
	upper := pair("Upper", job.Point{700, 480, 700}, job.Point{0, 120, 650})
	lower := pair("Lower", job.Point{900, 520, 300 + slope*900}, job.Point{0, 520, 300})
	j := layout(2800, 800, lower, upper)
	v, _, _ := at(t, j, 0, 0)
	assert.InDelta(t, slope, v.RollSteerPct/100, 1e-9)
	d := j.Vehicle.Track / 2 * math.Sin(roll)
	left, _, _ := at(t, j, d, -d)
	right, _, _ := at(t, j, -d, d)
	assert.InDelta(t, 0.0116, left.SteerDeg/deg, 0.00015)
	assert.InDelta(t, -0.0116, right.SteerDeg/deg, 0.00015)
	assert.Positive(t, left.RollDeg)
}

// The ground with the front still, worked out on paper: the axle 100 mm down of a 3000 mm wheelbase tilts the ground by 1.909 deg; the instant
// centre stays in body axes, everything else turns with the ground.
func TestFrontStill(t *testing.T) {
	j := aimed(3000, 800, 2000, 500)
	j.Axle = &job.Axle{Pinion: &job.Joint{Joint: job.Point{300, 0, 420}, Axis: job.Point{1, 0, 0.05}}}
	with, r, p := at(t, j, -100, -100)
	j.Vehicle.FrontTravel = "still"
	still, _, _ := at(t, j, -100, -100)
	tilt := math.Atan2(100, 3000-p.X)
	assert.Equal(t, with.ICX, still.ICX)
	assert.Equal(t, with.PinionDeg, still.PinionDeg)
	assert.Equal(t, with.PinionDeg, with.PinionGroundDeg)
	assert.InDelta(t, with.PinionDeg-tilt*deg, still.PinionGroundDeg, 1e-10)
	assert.InDelta(t, math.Atan(math.Tan(with.RollAxisDeg/deg))*deg-tilt*deg, still.RollAxisDeg, 1e-9)
	// The line from the contact to the instant centre rises by the tilt less above the ground.
	contact := r3.Vec{X: p.C.X, Z: p.C.Z - 400}
	line := math.Atan2(with.ICZ-contact.Z, with.ICX-contact.X) - tilt
	base := math.Hypot(3000-p.X, 100)
	cg := r3.Sub(r3.Vec{X: 1500, Z: 800}, contact)
	height := cg.Z*math.Cos(tilt) - cg.X*math.Sin(tilt)
	assert.InDelta(t, 100*math.Tan(line)*base/height, still.AntiSquatPct, 1e-8)
	assert.NotZero(t, r.Heave.W.Y)
}

// A load's own tyre moves the ground, never the axle: contact and roll centre with its radius, CG height by the difference.
func TestLoadedRadius(t *testing.T) {
	j := aimed(2800, 800, 2000, 500)
	radius := 380.0
	j.Vehicle.Loads = append(j.Vehicle.Loads, job.Load{Name: "soft", Mass: 1, CG: job.Point{1000, 0, 800}, LoadedRadius: &radius})
	m, err := motion.Compile(j)
	require.NoError(t, err)
	var p motion.Pose
	var r motion.Rates
	s := m.NewSolver()
	require.NoError(t, s.Solve(30, 30, &p))
	require.NoError(t, s.Rates(&p, &r))
	loads := quantity.Loads(j)
	a, b := quantity.NewValues(m), quantity.NewValues(m)
	quantity.Eval(m, &p, &r, &loads[0], a)
	quantity.Eval(m, &p, &r, &loads[0], b)
	quantity.ForLoad(m, &p, &r, &loads[1], b)
	assert.InDelta(t, a.RollCentre-20, b.RollCentre, 1e-9)
	assert.Equal(t, a.X, b.X)
	v := r.Heave.At(r3.Vec{Z: -380})
	assert.InDelta(t, 100*-v.X/v.Z*(2800-p.X)/(800-20-30), b.AntiSquatPct, 1e-9)
	full := quantity.NewValues(m)
	quantity.Eval(m, &p, &r, &loads[1], full)
	assert.Equal(t, full.AntiSquatPct, b.AntiSquatPct)
	assert.Equal(t, full.RollCentre, b.RollCentre)
}

func TestNoLoad(t *testing.T) {
	j := aimed(2800, 800, 2000, 500)
	j.Vehicle.Loads = nil
	v, _, _ := at(t, j, 10, 10)
	assert.True(t, math.IsNaN(v.AntiSquatPct))
	assert.True(t, math.IsNaN(v.AntiLiftPct))
	assert.False(t, math.IsNaN(v.RollCentre))
	assert.True(t, math.IsNaN(v.ShaftFrontDeg))
	assert.True(t, math.IsNaN(v.PinionDeg))
}

// Links level and parallel: the instant centre is at infinity and is not made up.
func TestParallelHasNoInstantCentre(t *testing.T) {
	v, _, _ := at(t, layout(2800, 800, pair("Lower", job.Point{900, 500, 330}, job.Point{0, 500, 330}),
		bar("Upper", job.Point{900, 0, 600}, job.Point{0, 0, 600}), bar("Panhard rod", job.Point{0, -400, 520}, job.Point{0, 500, 520})), 0, 0)
	assert.True(t, math.IsNaN(v.ICX))
	assert.True(t, math.IsNaN(v.ICZ))
	assert.InDelta(t, 0, v.AntiSquatPct, 1e-9)
}

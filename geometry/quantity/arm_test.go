package quantity_test

import (
	"fmt"
	"math"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// levelArm is an A-arm over two lowers, everything 900 mm forward and level: in heave the axle goes up without turning and the arm turns by
// asin(z/900): its line from axle to frame drops as the axle goes up, right-hand about +Y. Its own bolts, none being given, point to the right.
func levelArm(frame, axle string) *job.Job {
	mis, tor := 10.0, 25.0
	end := func(kind string) job.End {
		e := job.End{Kind: kind, Misalignment: &mis}
		if kind == "bush" {
			e.Torsion = &tor
		}
		return e
	}
	j := layout(2800, 800, pair("Lower", job.Point{900, 500, 330}, job.Point{0, 500, 330}))
	j.Arms = []job.Arm{{
		Name: "A-arm", Frame: []job.Point{{900, 300, 600}, {900, -300, 600}}, Axle: []job.Point{{0, 0, 600}},
		FrameEnds: []job.End{end(frame), end(frame)}, AxleEnds: []job.End{end(axle)},
	}}
	return j
}

func TestArmEnds(t *testing.T) {
	j := levelArm("bush", "bush")
	for _, z := range []float64{-80, 0, 60} {
		v, _, _ := at(t, j, z, z)
		u := v.Arms[0]
		turn := math.Asin(z / 900)
		require.Len(t, u.Ends, 3)
		for i, e := range u.Ends {
			assert.InDelta(t, -turn, e.Torsion, 1e-9, "end %d at %v", i, z)
			assert.InDelta(t, math.Abs(turn)*deg/25, e.Use, 1e-7)
			assert.Equal(t, z != 0, e.ByTorsion)
		}
		assert.InDelta(t, 0, u.Ends[0].Misalignment, 1e-9)
		assert.InDelta(t, 0, u.Ends[2].Misalignment, 1e-9, "the axle has not turned")
		for k := range u.Lengths {
			assert.InDelta(t, math.Hypot(900, 300), u.Lengths[k], 1e-9)
			assert.InDelta(t, 0, u.Stretches[k], 1e-9)
			assert.Zero(t, u.Forces[k], "exactly located")
		}
		assert.Nil(t, u.Gives)
		if z != 0 {
			assert.Equal(t, "A-arm, first frame end, torsion", nameOf(t, j, v), "all alike, the first named stands")
		}
	}
	// A bolt written the other way round twists the other way.
	j.Arms[0].FrameEnds[0].Bolt = &job.Point{0, 1, 0}
	j.Arms[0].FrameEnds[1].Bolt = &job.Point{0, -1, 0}
	v, _, _ := at(t, j, 60, 60)
	assert.InDelta(t, math.Asin(60./900), v.Arms[0].Ends[0].Torsion, 1e-9, "the axle end up: the line from axle to frame drops, right-hand about +Y")
	assert.InDelta(t, -math.Asin(60./900), v.Arms[0].Ends[1].Torsion, 1e-9)
}

func nameOf(t *testing.T, j *job.Job, v *quantity.Values) string {
	m, err := motion.Compile(j)
	require.NoError(t, err)
	return quantity.WorstName(m, v)
}

// Crossed up the frame bolts hold the arm square; the ball at its point takes the axle's roll: the angle between the axle's own Y and the body's.
func TestArmPointTakesTheRoll(t *testing.T) {
	j := levelArm("bush", "ball")
	for _, d := range []float64{90, -60} {
		v, _, p := at(t, j, d, -d)
		u := v.Arms[0]
		assert.InDelta(t, math.Acos(p.Ey.Y), u.Ends[2].Misalignment, 1e-7)
		assert.True(t, math.IsNaN(u.Ends[2].Torsion), "none for a ball")
		assert.InDelta(t, 0, u.Ends[0].Misalignment, 1e-9)
		assert.InDelta(t, 0, u.Ends[1].Misalignment, 1e-9)
		assert.Equal(t, "A-arm, axle end, misalignment", nameOf(t, j, v))
	}
}

// A Watt's linkage across, on an axle that goes straight up: the rods' far ends twist by the rods' own turn, the rocker's ends by that less the
// rocker's, and they tilt by as much as the axle has come forward.
func TestRockerEnds(t *testing.T) {
	const half, arm = 450.0, 90.0
	bush := func() *job.End { return &job.End{Kind: "bush", Bolt: &job.Point{1, 0, 0}} }
	j := level()
	j.Links = append(j.Links[:1], pair("Upper", job.Point{900, 300, 600}, job.Point{0, 300, 600}))
	j.Rockers = []job.Rocker{{
		Name: "Rocker", On: "axle", Pivot: job.Point{0, 0, 450}, Axis: job.Point{1, 0, 0}, Rods: []job.Rod{
			{Name: "Upper rod", Rocker: job.Point{0, 0, 450 + arm}, Far: job.Point{0, half, 450 + arm}, RockerEnd: bush(), FarEnd: bush()},
			{Name: "Lower rod", Rocker: job.Point{0, 0, 450 - arm}, Far: job.Point{0, -half, 450 - arm}, RockerEnd: bush(), FarEnd: bush()},
		},
	}}
	for _, z := range []float64{-70, 50} {
		v, _, p := at(t, j, z, z)
		u := v.Rockers[0]
		pivot := p.Point(r3.Vec{Z: 50}) // the axle's centre stands 400 high
		s, c := math.Sincos(u.Turn)
		for k, side := range []float64{1, -1} {
			// Right-hand about +X turns the upper arm to the right.
			end := r3.Add(pivot, r3.Vec{Y: -side * arm * s, Z: side * arm * c})
			far := r3.Vec{Y: side * half, Z: 450 + side*arm}
			rod := r3.Sub(far, end)
			at := &u.Rods[k]
			assert.InDelta(t, r3.Norm(rod), at.Length, 1e-9)
			assert.InDelta(t, 0, at.Stretch, 0.05, "over-located, but hardly forced")
			own := math.Atan2(side*rod.Z, side*rod.Y) // right-hand about +X
			assert.InDelta(t, own, at.AxleEnd.Torsion, 1e-6, "far end")
			assert.InDelta(t, own-u.Turn, at.FrameEnd.Torsion, 1e-6, "rocker end")
			lean := math.Atan2(p.X, math.Hypot(rod.Y, rod.Z)) // out of the plane square to all four bolts
			assert.InDelta(t, lean, at.FrameEnd.Misalignment, 1e-6)
			assert.InDelta(t, lean, at.AxleEnd.Misalignment, 1e-6)
		}
		// Up or down, a rod spans z^2/(2 L) less and draws the upper arm to its side, the left: left-hand about +X.
		assert.InDelta(t, -z*z/(2*half*arm), u.Turn, 0.001)
	}
}

// An arm's forces balance: three sizes of which none is more than the other two together; nothing at ride.
func TestRadiusArmForces(t *testing.T) {
	j := layouts(t)["radius-arms-panhard"]
	v, _, _ := at(t, j, 0, 0)
	for i := range v.Arms {
		for k := range v.Arms[i].Gives {
			assert.InDelta(t, 0, v.Arms[i].Gives[k], 1e-6)
			assert.InDelta(t, 0, v.Arms[i].GiveForces[k], 0.1)
		}
	}
	v, _, _ = at(t, j, 60, -60)
	m, err := motion.Compile(j)
	require.NoError(t, err)
	for i := range v.Arms {
		f := v.Arms[i].GiveForces
		require.Len(t, f, 3)
		assert.Greater(t, f[0]+f[1]+f[2], 100.0, "crossed up, an arm is forced")
		for k := range f {
			assert.LessOrEqual(t, f[k], f[(k+1)%3]+f[(k+2)%3]+1e-6)
			end := &m.Arms[i].FrameEnds[0]
			if k > 0 {
				end = &m.Arms[i].AxleEnds[k-1]
			}
			give := v.Arms[i].Gives[k]
			assert.LessOrEqual(t, f[k], math.Max(end.Stiffness, end.Axial)*give*(1+1e-9)+1e-9)
			assert.GreaterOrEqual(t, f[k], math.Min(end.Stiffness, end.Axial)*give*(1-1e-9)-1e-9)
		}
		assert.Nil(t, v.Arms[i].Lengths)
	}
}

// Whatever a job has, its quantities are worked out without allocation, and twice the same.
func TestEvalOfEveryLayout(t *testing.T) {
	for name, j := range layouts(t) {
		m, err := motion.Compile(j)
		require.NoError(t, err, name)
		var p motion.Pose
		var r motion.Rates
		s := m.NewSolver()
		require.NoError(t, s.Solve(40, -20, &p), name)
		require.NoError(t, s.Rates(&p, &r), name)
		v, load := quantity.NewValues(m), quantity.Loads(j)[0]
		assert.Zero(t, testing.AllocsPerRun(50, func() { quantity.Eval(m, &p, &r, &load, v) }), name)
		again := quantity.NewValues(m)
		quantity.Eval(m, &p, &r, &load, again)
		assert.Equal(t, bits(v), bits(again), name)
		for i := range m.Joints {
			assert.False(t, math.IsNaN(v.Joint(&m.Joints[i]).Misalignment), "%s: %s", name, m.Joints[i].Name)
		}
		for i := range m.Distances {
			d := &m.Distances[i]
			stretch, force := m.Stretch(&p, i)
			assert.Equal(t, stretch, v.Stretch(d), "%s: %s", name, d.Name)
			assert.Equal(t, force, v.Pull(d), "%s: %s", name, d.Name)
		}
	}
}

// bits are values as text in their shortest exact form, so that a NaN is like a NaN.
func bits(v *quantity.Values) string {
	return fmt.Sprintf("%v", *v)
}

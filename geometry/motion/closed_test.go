package motion_test

import (
	"math"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// straight is an axle on trailing links so long that it goes straight up and down; what holds it sideways is still to come.
func straight() *job.Job {
	const far = 1e7
	return layout(
		pair("Lower", job.Point{far, 450, 350}, job.Point{0, 450, 350}),
		bar("Upper", job.Point{far, 0, 550}, job.Point{0, 0, 550}))
}

// across is a Watt's linkage across the vehicle in the plane of the axle, level at ride height: rods of length rod, on a rocker of half length c.
func across(on string, rod, c float64) job.Rocker {
	const z = 400
	return job.Rocker{Name: "Watt's linkage", On: on, Pivot: job.Point{0, 0, z}, Axis: job.Point{1, 0, 0}, Rods: []job.Rod{
		{Name: "Rod left", Rocker: job.Point{0, 0, z + c}, Far: job.Point{0, rod, z + c}},
		{Name: "Rod right", Rocker: job.Point{0, 0, z - c}, Far: job.Point{0, -rod, z - c}},
	}}
}

// wattsAt is where the rocker's bolt stands when the rocker has turned by phi (right-hand about X, from upright), derived: with e the rocker's
// half and a the rod's fixed end, w = a - c e, the two rods ask |P - w| = |P + w| = L of the bolt P, so P lies square to w and
//
//	|P|^2 = L^2 - |w|^2 = -2 L c sin(phi) - 2 c^2 (1 - cos(phi))
func wattsAt(rod, c, phi float64) (y, z float64) {
	sin, cos := math.Sincos(phi)
	wy, wz := rod+c*sin, c*(1-cos)
	p := math.Sqrt(-2*rod*c*sin - 2*c*c*(1-cos))
	n := math.Hypot(wy, wz)
	return -p * wz / n, p * wy / n
}

// Derived, exact: the whole path of a Watt's bolt, its rocker on the axle and on the frame (there the axle takes the opposite path), and the
// figures of it at 50, 100 and 150 mm.
func TestWattsPath(t *testing.T) {
	for _, on := range []string{"axle", "frame"} {
		for _, tc := range []struct {
			rod, c float64
			shift  map[float64]float64 // mm at mm of travel, to 0.0001
		}{
			{450, 100, map[float64]float64{50: 0.0043, 100: 0.1447, 150: 1.1924}},
			{400, 75, map[float64]float64{50: 0.0083, 100: 0.2798, 150: 2.4020}},
		} {
			j := straight()
			j.Rockers = []job.Rocker{across(on, tc.rod, tc.c)}
			m, err := motion.Compile(j)
			require.NoError(t, err)
			require.False(t, m.OverLocated)
			s := m.NewSolver()
			var p motion.Pose
			for z, want := range tc.shift {
				require.NoError(t, s.Solve(z, z, &p))
				assert.InDelta(t, want, math.Abs(p.Y), 6e-5, "rods %v, on the %s, at %v", tc.rod, on, z)
				up := p.Y
				require.NoError(t, s.Solve(-z, -z, &p))
				assert.InDelta(t, -up, p.Y, 1e-6, "it bends the other way below")
			}
			for phi := -0.02; phi > -0.3; phi -= 0.02 {
				y, z := wattsAt(tc.rod, tc.c, phi)
				if on == "frame" { // seen from the axle the bolt takes the path
					y, z = -y, -z
				}
				require.NoError(t, s.Solve(z, z, &p))
				// The long links swing by z^2/2e7, the rods lean along the vehicle by that: to the second order nothing.
				assert.InDelta(t, y, p.Y, 1e-6, "rods %v, on the %s, at %v", tc.rod, on, z)
				assert.InDelta(t, phi, m.RockerTurn(&p, 0), 1e-7)
			}
		}
	}
}

// Derived: near ride height a Watt's bolt strays by z^5/(8 L^3 c); the next term is of the order z^7/(L^5 c).
func TestWattsNearRide(t *testing.T) {
	for _, tc := range []struct{ rod, c float64 }{{450, 100}, {400, 75}, {600, 60}} {
		j := straight()
		j.Rockers = []job.Rocker{across("axle", tc.rod, tc.c)}
		m, err := motion.Compile(j)
		require.NoError(t, err)
		s := m.NewSolver()
		var p motion.Pose
		for _, z := range []float64{-60, -40, 40, 60} {
			require.NoError(t, s.Solve(z, z, &p))
			want := math.Abs(math.Pow(z, 5) / (8 * math.Pow(tc.rod, 3) * tc.c))
			assert.InEpsilon(t, want, math.Abs(p.Y), 0.05, "rods %v at %v", tc.rod, z)
		}
	}
}

// A Watt's rocker that lies flat, its bolt upright, looks the same after half a turn about its bolt: on a straight path the axle does not stray at
// all. It turns, derived, by 2 L c sin(phi) = z^2 + 2 c^2 (1 - cos(phi)).
func TestWattsFlat(t *testing.T) {
	const rod, c = 450.0, 70.0
	j := straight()
	j.Rockers = []job.Rocker{{Name: "Watt's linkage", On: "frame", Pivot: job.Point{0, 0, 400}, Axis: job.Point{0, 0, 1}, Rods: []job.Rod{
		{Name: "Rod left", Rocker: job.Point{c, 0, 400}, Far: job.Point{c, rod, 400}},
		{Name: "Rod right", Rocker: job.Point{-c, 0, 400}, Far: job.Point{-c, -rod, 400}},
	}}}
	m, err := motion.Compile(j)
	require.NoError(t, err)
	s := m.NewSolver()
	for _, z := range []float64{-140, -80, -10, 30, 100, 150} {
		var p motion.Pose
		require.NoError(t, s.Solve(z, z, &p))
		assert.InDelta(t, 0, p.Y, 1e-4) // the long links draw it 1e-3 mm ahead at the ends
		phi := m.RockerTurn(&p, 0)
		assert.Positive(t, phi, "either way the rods draw the rocker round the same way")
		assert.InDelta(t, z*z, 2*rod*c*math.Sin(phi)-2*c*c*(1-math.Cos(phi)), 0.01)
	}
}

// The point of an A-arm goes round its frame line in a circle about where it is nearest to it, wherever the axle goes.
func TestArmPointGoesRound(t *testing.T) {
	j := layout(lowers)
	j.Arms = []job.Arm{{Name: "Arm", Frame: []job.Point{{640, 330, 610}, {560, -350, 640}}, Axle: []job.Point{{-20, 30, 650}}}}
	m, err := motion.Compile(j)
	require.NoError(t, err)
	require.False(t, m.OverLocated)
	a, b, at := j.Arms[0].Frame[0].Vec(), j.Arms[0].Frame[1].Vec(), j.Arms[0].Axle[0].Vec()
	line := r3.Unit(r3.Sub(b, a))
	along := r3.Dot(line, r3.Sub(at, a))
	foot := r3.Add(a, r3.Scale(along, line))
	radius := r3.Norm(r3.Sub(at, foot))
	s := m.NewSolver()
	for _, w := range [][2]float64{{0, 0}, {120, 120}, {-130, -130}, {150, -150}, {-150, 150}, {90, 0}, {0, -110}} {
		var p motion.Pose
		require.NoError(t, s.Solve(w[0], w[1], &p))
		now := p.Point(m.Arms[0].Axle[0])
		assert.InDelta(t, along, r3.Dot(line, r3.Sub(now, a)), 1e-9)
		assert.InDelta(t, radius, r3.Norm(r3.Sub(now, foot)), 1e-9)
	}
}

// With its frame line across the vehicle an A-arm keeps its point on the centre plane at every travel; a Panhard rod or angled links do not.
func TestArmPointStaysInTheMiddle(t *testing.T) {
	j := layout(lowers)
	j.Arms = []job.Arm{{Name: "Arm", Frame: []job.Point{{640, 330, 610}, {640, -330, 610}}, Axle: []job.Point{{-20, 0, 650}}}}
	m, err := motion.Compile(j)
	require.NoError(t, err)
	s := m.NewSolver()
	var p motion.Pose
	for a := 0; a < 360; a += 15 {
		sin, cos := math.Sincos(float64(a) * math.Pi / 180)
		require.NoError(t, s.Solve(140*cos, 140*sin, &p))
		assert.InDelta(t, 0, p.Point(m.Arms[0].Axle[0]).Y, 1e-9)
	}
}

// plane solves the side view of an axle whose centre is h above its ride height: it hangs on two bars, axle pivots a and b from its centre at ride
// (x, z), frame pivots f and g. For a turn theta (nose down) the first bar gives the centre's x, the second is then off its length by what is
// returned; bisection finds the turn between -0.15 and 0.15.
func plane(h float64, centre, a, f, b, g [2]float64) (x, theta float64) {
	turned := func(p [2]float64, t float64) (float64, float64) {
		sin, cos := math.Sincos(t)
		return p[0]*cos + p[1]*sin, -p[0]*sin + p[1]*cos
	}
	length := func(p, q [2]float64) float64 { return math.Hypot(q[0]-centre[0]-p[0], q[1]-centre[1]-p[1]) }
	l, m := length(a, f), length(b, g)
	off := func(t float64) (x, d float64) {
		ax, az := turned(a, t)
		dz := f[1] - (centre[1] + h + az)
		side := math.Copysign(1, f[0]-centre[0]-a[0]) // the frame pivot stays ahead (behind)
		x = f[0] - side*math.Sqrt(l*l-dz*dz) - ax - centre[0]
		bx, bz := turned(b, t)
		return x, math.Hypot(g[0]-centre[0]-x-bx, g[1]-centre[1]-h-bz) - m
	}
	lo, hi := -0.15, 0.15
	_, dlo := off(lo)
	for range 200 {
		mid := (lo + hi) / 2
		if _, d := off(mid); (d < 0) == (dlo < 0) {
			lo = mid
		} else {
			hi = mid
		}
	}
	x, _ = off(lo)
	return x, lo
}

// A torque arm in the side view: two lowers alike and the arm's upright link make a plane linkage while both wheels go together. A rod across of
// 1e7 mm holds the axle sideways and asks for nothing else.
func TestTorqueArmInTheSideView(t *testing.T) {
	for _, tc := range []struct {
		name        string
		axle, frame job.Point // of the torque arm's link
	}{
		{"hanging link", job.Point{1100, 80, 460}, job.Point{1120, 80, 640}},
		{"standing link", job.Point{900, -60, 520}, job.Point{905, -60, 330}},
		{"link ahead, as of a long upper", job.Point{60, 0, 640}, job.Point{700, 0, 610}},
	} {
		lower := pair("Lower", job.Point{950, 450, 430}, job.Point{20, 450, 340})
		m := compile(t, lower, bar("Torque arm link", tc.frame, tc.axle), bar("Rod across", job.Point{0, 1e7, 400}, job.Point{0, 0, 400}))
		s := m.NewSolver()
		for _, h := range []float64{-120, -70, -5, 40, 110} {
			x, theta := plane(h, [2]float64{0, 400}, [2]float64{20, -60}, [2]float64{950, 430},
				[2]float64{tc.axle[0], tc.axle[2] - 400}, [2]float64{tc.frame[0], tc.frame[2]})
			var p motion.Pose
			require.NoError(t, s.Solve(h, h, &p))
			assert.InDelta(t, x, p.X, 1e-5, "%s at %v", tc.name, h) // the rod across swings by h^2/2e7
			assert.InDelta(t, theta, p.Theta, 1e-8, "%s at %v", tc.name, h)
			assert.InDelta(t, 0, p.Psi, 1e-8)
		}
	}
}

// Two radius arms alike and a long rod across: with both wheels together nothing is forced, and the axle turns with its arms about the line of
// their frame pivots, as one body.
func TestRadiusArmsInTheSideView(t *testing.T) {
	j := layout(bar("Rod across", job.Point{0, 1e7, 400}, job.Point{0, 0, 400}))
	j.Arms = []job.Arm{{Name: "Radius arm", Pair: true, Frame: []job.Point{{900, 430, 440}}, Axle: []job.Point{{40, 480, 490}, {10, 480, 310}},
		FrameEnds: []job.End{{Kind: "bush"}}, AxleEnds: []job.End{{Kind: "bush"}, {Kind: "bush"}}}}
	m, err := motion.Compile(j)
	require.NoError(t, err)
	require.True(t, m.OverLocated)
	s := m.NewSolver()
	radius := math.Hypot(900, 40)
	up := func(h float64) float64 { return math.Asin((h - 40) / radius) } // of the line from the pivots back to the axle centre
	for _, h := range []float64{-130, -60, 25, 120} {
		var p motion.Pose
		require.NoError(t, s.Solve(h, h, &p))
		assert.InDelta(t, 900-radius*math.Cos(up(h)), p.X, 1e-5)
		assert.InDelta(t, up(h)-up(0), p.Theta, 1e-7, "the back of the line goes up, the nose down")
		for i := range m.Arms {
			mm, _ := m.ArmGive(&p, i)
			for _, g := range mm {
				assert.InDelta(t, 0, g, 1e-5)
			}
		}
	}
}

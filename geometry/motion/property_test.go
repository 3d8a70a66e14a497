package motion_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// random is a located axle at random: one of the usual layouts with every pivot up to 60 mm off in each direction.
func random(rng *rand.Rand) (*job.Job, *motion.Mechanism) {
	for {
		off := func(p job.Point) job.Point {
			for i := range p {
				p[i] += 120*rng.Float64() - 60
			}
			return p
		}
		var links []job.Link
		for _, l := range [][]job.Link{{lowers, angled}, {lowers, single, panhard}, {lowers, uppers, panhard}}[rng.IntN(3)] {
			l.Frame, l.Axle = off(l.Frame), off(l.Axle)
			l.FrameEnd, l.AxleEnd = &job.End{Kind: "bush"}, &job.End{Kind: "ball"}
			links = append(links, l)
		}
		j := job.Expand(layout(links...)).Job
		for i := range j.Links { // twins need not be twins
			for a := range 3 {
				j.Links[i].Frame[a] += 20 * rng.Float64()
				j.Links[i].Axle[a] += 20 * rng.Float64()
			}
		}
		if m, err := motion.Compile(j); err == nil && m.PoorlyHeld == "" {
			return j, m
		}
	}
}

// each runs a check over random axles at random positions within reach; the seed is fixed.
func each(t *testing.T, n int, check func(rng *rand.Rand, j *job.Job, m *motion.Mechanism, s *motion.Solver, p *motion.Pose)) {
	t.Helper()
	rng := rand.New(rand.NewPCG(1, 1))
	done := 0
	for range 4 * n {
		j, m := random(rng)
		s := m.NewSolver()
		var p motion.Pose
		if s.Solve(260*rng.Float64()-130, 260*rng.Float64()-130, &p) != nil || p.Held < 0.05 {
			continue
		}
		check(rng, j, m, s, &p)
		if done++; done == n {
			return
		}
	}
	require.Equal(t, n, done, "too many positions out of reach")
}

func TestLinksKeepTheirLength(t *testing.T) {
	each(t, 400, func(_ *rand.Rand, j *job.Job, m *motion.Mechanism, _ *motion.Solver, p *motion.Pose) {
		if m.OverLocated {
			return
		}
		for i := range m.Links {
			l := &m.Links[i]
			require.InDelta(t, l.Length, r3.Norm(r3.Sub(p.Point(l.Axle), l.Frame)), 1e-9)
		}
		require.Less(t, p.Residual, 1e-9)
	})
}

// energy of the links with the axle at given unknowns, worked out from the definition.
func energy(m *motion.Mechanism, p *motion.Pose, x, y, psi, theta float64) float64 {
	turn := func(t, alpha, psi float64, v r3.Vec) r3.Vec {
		v = r3.NewRotation(t, r3.Vec{Y: 1}).Rotate(v)
		v = r3.NewRotation(alpha, r3.Vec{X: 1}).Rotate(v)
		return r3.NewRotation(psi, r3.Vec{Z: 1}).Rotate(v)
	}
	sum := 0.0
	for i := range m.Links {
		l := &m.Links[i]
		at := r3.Add(r3.Vec{X: x, Y: y, Z: m.Radius + p.Heave}, turn(theta, p.Alpha, psi, l.Axle))
		s := r3.Norm(r3.Sub(at, l.Frame)) - l.Length
		sum += l.K * s * s / 2
	}
	return sum
}

// The position of an over-located axle is the one of least energy among its neighbours.
func TestEnergyIsLeast(t *testing.T) {
	over := 0
	each(t, 300, func(rng *rand.Rand, j *job.Job, m *motion.Mechanism, _ *motion.Solver, p *motion.Pose) {
		if !m.OverLocated {
			return
		}
		over++
		least := energy(m, p, p.X, p.Y, p.Psi, p.Theta)
		for range 20 {
			size := math.Pow(10, -4*rng.Float64()) // 1 mm to 0.1 um, turns at one metre
			d := func() float64 { return size * rng.NormFloat64() }
			other := energy(m, p, p.X+d(), p.Y+d(), p.Psi+d()/1000, p.Theta+d()/1000)
			require.GreaterOrEqual(t, other, least*(1-1e-12))
		}
	})
	assert.Greater(t, over, 50)
}

// The mirror image of a layout stands as the mirror image at swapped travels.
func TestMirror(t *testing.T) {
	flip := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} }
	each(t, 200, func(_ *rand.Rand, j *job.Job, m *motion.Mechanism, s *motion.Solver, p *motion.Pose) {
		x := j.Clone()
		for i := range x.Links {
			x.Links[i].Frame, x.Links[i].Axle = x.Links[i].Frame.Mirror(), x.Links[i].Axle.Mirror()
		}
		w, err := motion.Compile(x)
		require.NoError(t, err)
		sw := w.NewSolver()
		var q motion.Pose
		require.NoError(t, sw.Solve(p.Right, p.Left, &q))
		near := func(a, b r3.Vec, tol float64) {
			t.Helper()
			require.Less(t, r3.Norm(r3.Sub(a, flip(b))), tol)
		}
		near(p.C, q.C, 1e-9)
		near(p.Ex, q.Ex, 1e-12)
		near(p.Ez, q.Ez, 1e-12)
		var r, v motion.Rates
		require.NoError(t, s.Rates(p, &r))
		require.NoError(t, sw.Rates(&q, &v))
		near(r.Heave.V, v.Heave.V, 1e-9)
		// Its roll motion is the other way about, and turns mirror like bent arrows: X and Z change sign, Y stays.
		require.Less(t, r3.Norm(r3.Add(r.Roll.V, flip(v.Roll.V))), 1e-9)
		require.Less(t, r3.Norm(r3.Sub(r.Roll.W, flip(v.Roll.W))), 1e-12)
		require.Less(t, r3.Norm(r3.Add(r.Heave.W, flip(v.Heave.W))), 1e-12)
	})
}

// Twice the size stands and turns alike at twice the travel.
func TestScale(t *testing.T) {
	each(t, 100, func(_ *rand.Rand, j *job.Job, m *motion.Mechanism, _ *motion.Solver, p *motion.Pose) {
		k := j.Clone()
		k.Vehicle.Track *= 2
		k.Vehicle.Tyre.LoadedRadius *= 2
		for i := range k.Links {
			for a := range 3 {
				k.Links[i].Frame[a] *= 2
				k.Links[i].Axle[a] *= 2
			}
		}
		w, err := motion.Compile(k)
		require.NoError(t, err)
		var q motion.Pose
		require.NoError(t, w.NewSolver().Solve(2*p.Left, 2*p.Right, &q))
		require.InDelta(t, p.Psi, q.Psi, 1e-12)
		require.InDelta(t, p.Theta, q.Theta, 1e-12)
		require.InDelta(t, 2*p.X, q.X, 1e-9)
		require.InDelta(t, 2*p.Y, q.Y, 1e-9)
	})
}

// With all pivots moved sideways alike the axle turns as before while both wheels go together.
func TestSideways(t *testing.T) {
	each(t, 100, func(_ *rand.Rand, j *job.Job, m *motion.Mechanism, s *motion.Solver, p *motion.Pose) {
		k := j.Clone()
		for i := range k.Links {
			k.Links[i].Frame[1] += 70
			k.Links[i].Axle[1] += 70
		}
		w, err := motion.Compile(k)
		require.NoError(t, err)
		var a, b motion.Pose
		if s.Solve(p.Left, p.Left, &a) != nil {
			return
		}
		require.NoError(t, w.NewSolver().Solve(p.Left, p.Left, &b))
		require.InDelta(t, a.Psi, b.Psi, 1e-12)
		require.InDelta(t, a.Theta, b.Theta, 1e-12)
		// The axle centre now moves as the point 70 mm to the right of it did.
		to := r3.Sub(a.Point(r3.Vec{Y: -70}), r3.Vec{Y: -70})
		require.Less(t, r3.Norm(r3.Sub(to, b.C)), 1e-9)
	})
}

// Rates against central differences of positions 1e-3 mm either side: third derivatives of 1e-6/mm2 leave 1e-12, round-off of the positions
// (1e-13 mm, for least energy 1e-12) 1e-10 to 1e-9.
func TestRatesAgainstDifferences(t *testing.T) {
	const h = 1e-3
	each(t, 300, func(_ *rand.Rand, j *job.Job, m *motion.Mechanism, s *motion.Solver, p *motion.Pose) {
		var r motion.Rates
		require.NoError(t, s.Rates(p, &r))
		for _, way := range []struct {
			rate motion.Rate
			l, r float64
		}{{r.Heave, h, h}, {r.Roll, h, -h}} {
			var a, b motion.Pose
			require.NoError(t, s.SolveFrom(p, p.Left-way.l, p.Right-way.r, &a))
			require.NoError(t, s.SolveFrom(p, p.Left+way.l, p.Right+way.r, &b))
			for _, o := range []r3.Vec{{}, {X: 300, Y: 0, Z: 30}, {X: 0, Y: 500, Z: -80}} {
				want := r3.Scale(1/(2*h), r3.Sub(b.Point(o), a.Point(o)))
				got := way.rate.At(p.Offset(o))
				require.Less(t, r3.Norm(r3.Sub(want, got)), 2e-9, "over-located: %v", m.OverLocated)
			}
		}
	})
}

// The pose's bracket holds the smallest singular value of its own distances and travels, worked out by brute force on unit vectors.
func TestHeldBracket(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	each(t, 60, func(_ *rand.Rand, j *job.Job, m *motion.Mechanism, _ *motion.Solver, p *motion.Pose) {
		value := func(v [6]float64) float64 {
			sum := 0.0
			row := func(u, at r3.Vec) {
				c := r3.Scale(1e-3, r3.Cross(at, u))
				d := u.X*v[0] + u.Y*v[1] + u.Z*v[2] + c.X*v[3] + c.Y*v[4] + c.Z*v[5]
				sum += d * d
			}
			for i := range m.Links {
				o := p.Offset(m.Links[i].Axle)
				row(r3.Unit(r3.Sub(r3.Add(p.C, o), m.Links[i].Frame)), o)
			}
			row(r3.Vec{Z: 1}, r3.Scale(m.Track/2, p.Ey))
			row(r3.Vec{Z: 1}, r3.Scale(-m.Track/2, p.Ey))
			return math.Sqrt(sum)
		}
		unit := func(v [6]float64) [6]float64 {
			n := 0.0
			for _, x := range v {
				n += x * x
			}
			for i := range v {
				v[i] /= math.Sqrt(n)
			}
			return v
		}
		var best [6]float64
		least := math.Inf(1)
		size := 1.0
		for range 6000 {
			v := best
			for i := range v {
				v[i] += size * rng.NormFloat64()
			}
			v = unit(v)
			if x := value(v); x < least {
				least, best = x, v
			} else {
				size = max(1e-5, size*0.998)
			}
		}
		require.LessOrEqual(t, p.Held, least*1.05) // the bracket is that of the four unknowns, within some percent of this one
		require.GreaterOrEqual(t, 2.1*p.Held, least)
	})
}

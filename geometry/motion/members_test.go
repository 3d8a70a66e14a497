package motion_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// The members that are no links, about the layout of build_test.go.
func aArm() job.Arm {
	return job.Arm{
		Name: "Upper arm", Frame: []job.Point{{650, 350, 620}, {650, -350, 620}}, Axle: []job.Point{{-20, 0, 640}},
		FrameEnds: []job.End{{Kind: "bush"}, {Kind: "bush"}}, AxleEnds: []job.End{{Kind: "ball"}},
	}
}

func radiusArms() job.Arm {
	return job.Arm{
		Name: "Radius arm", Pair: true, Frame: []job.Point{{900, 420, 440}}, Axle: []job.Point{{110, 470, 410}, {-110, 470, 400}},
		FrameEnds: []job.End{{Kind: "bush"}}, AxleEnds: []job.End{{Kind: "bush"}, {Kind: "bush"}},
	}
}

// watts is a Watt's linkage across, behind the axle.
func watts(on string) job.Rocker {
	rod := func(name string, y, z float64) job.Rod {
		r := job.Rod{Name: name, Rocker: job.Point{-150, 0, z}, Far: job.Point{-150, y, z}, RockerEnd: &job.End{Kind: "bush"}, FarEnd: &job.End{Kind: "ball"}}
		return r
	}
	return job.Rocker{
		Name: "Watt's linkage", On: on, Pivot: job.Point{-150, 0, 450}, Axis: job.Point{1, 0, 0},
		Rods: []job.Rod{rod("Left rod", 450, 520), rod("Right rod", -450, 380)},
	}
}

// mixed is a located axle at random with arms and rockers: one of several layouts with every pivot up to 40 mm off in each direction.
func mixed(rng *rand.Rand) (*job.Job, *motion.Mechanism) {
	for {
		j := layout(lowers)
		switch rng.IntN(8) {
		case 0: // exactly located
			j.Arms = []job.Arm{aArm()}
		case 1: // exactly located
			j.Links = append(j.Links, single)
			j.Rockers = []job.Rocker{watts([]string{"axle", "frame"}[rng.IntN(2)])}
		case 2:
			j.Links = append(j.Links, uppers)
			j.Rockers = []job.Rocker{watts([]string{"axle", "frame"}[rng.IntN(2)])}
		case 3:
			j.Arms, j.Links = []job.Arm{radiusArms()}, []job.Link{panhard}
		case 4:
			j.Arms, j.Links = []job.Arm{radiusArms()}, nil
			j.Rockers = []job.Rocker{watts([]string{"axle", "frame"}[rng.IntN(2)])}
		case 5:
			j.Arms = []job.Arm{aArm()}
			j.Links = append(j.Links, panhard)
		case 6:
			j.Arms = []job.Arm{aArm(), radiusArms()}
			j.Links = nil
		case 7: // exactly located, two rockers
			j.Links = append(j.Links, single)
			j.Rockers = []job.Rocker{watts("axle")}
			j.Links[0].Pair = false
			lever := job.Rocker{Name: "Lever", On: "frame", Pivot: job.Point{950, -480, 440}, Axis: job.Point{0, 1, 0}}
			lever.Rods = []job.Rod{
				{Name: "Lever rod", Rocker: job.Point{950, -480, 350}, Far: job.Point{30, -500, 330}},
				{Name: "Stay", Rocker: job.Point{950, -480, 540}, Far: job.Point{0, -480, 520}},
			}
			j.Rockers = append(j.Rockers, lever)
		}
		off := func(p *job.Point) {
			for i := range p {
				p[i] += 80*rng.Float64() - 40
			}
		}
		j = job.Expand(j).Job
		for i := range j.Links {
			off(&j.Links[i].Frame)
			off(&j.Links[i].Axle)
			j.Links[i].FrameEnd = &job.End{Kind: "bush"}
		}
		for i := range j.Arms {
			for k := range j.Arms[i].Frame {
				off(&j.Arms[i].Frame[k])
			}
			for k := range j.Arms[i].Axle {
				off(&j.Arms[i].Axle[k])
			}
		}
		for i := range j.Rockers {
			r := &j.Rockers[i]
			off(&r.Pivot)
			for k := range r.Axis {
				r.Axis[k] += 0.2*rng.Float64() - 0.1
			}
			for k := range r.Rods {
				off(&r.Rods[k].Far)
				off(&r.Rods[k].Rocker)
			}
		}
		if m, err := motion.Compile(j); err == nil && m.PoorlyHeld == "" {
			return j, m
		}
	}
}

// eachMixed runs a check over such axles at random positions within reach; the seed is fixed.
func eachMixed(t *testing.T, n int, check func(rng *rand.Rand, j *job.Job, m *motion.Mechanism, s *motion.Solver, p *motion.Pose)) {
	t.Helper()
	rng := rand.New(rand.NewPCG(3, 3))
	done := 0
	for range 4 * n {
		j, m := mixed(rng)
		s := m.NewSolver()
		var p motion.Pose
		if s.Solve(200*rng.Float64()-100, 200*rng.Float64()-100, &p) != nil || p.Held < 0.05 {
			continue
		}
		check(rng, j, m, s, &p)
		if done++; done == n {
			return
		}
	}
	require.Equal(t, n, done, "too many positions out of reach")
}

// An A-arm moves the axle as two links that meet do.
func TestArmIsTwoLinks(t *testing.T) {
	a := aArm()
	j := layout(lowers)
	j.Arms = []job.Arm{a}
	m, err := motion.Compile(j)
	require.NoError(t, err)
	require.False(t, m.OverLocated)
	l := compile(t, lowers, bar("One", a.Frame[0], a.Axle[0]), bar("Other", a.Frame[1], a.Axle[0]))
	assert.Equal(t, l.Singular, m.Singular)
	sm, sl := m.NewSolver(), l.NewSolver()
	for _, at := range [][2]float64{{60, 60}, {-80, -80}, {90, -70}} {
		var p, q motion.Pose
		require.NoError(t, sm.Solve(at[0], at[1], &p))
		require.NoError(t, sl.Solve(at[0], at[1], &q))
		require.Equal(t, q.C, p.C)
		require.Equal(t, q.Ex, p.Ex)
	}
	// With one more link it is over-located: each bar has its own frame end, half of the shared axle end, no tube.
	j.Links = append(j.Links, panhard)
	m, err = motion.Compile(j)
	require.NoError(t, err)
	require.True(t, m.OverLocated)
	var p motion.Pose
	require.NoError(t, m.NewSolver().Solve(80, -60, &p))
	mm, n := m.Stretch(&p, 3)
	assert.Equal(t, "Upper arm, first bar", m.Distances[3].Name)
	assert.InEpsilon(t, 1/(1/10_000.+2/100_000.), n/mm, 1e-9)
}

// turnOf is the axle's R = Rz(psi) Rx(alpha) Ry(theta).
func turnOf(psi, alpha, theta float64, v r3.Vec) r3.Vec {
	v = r3.NewRotation(theta, r3.Vec{Y: 1}).Rotate(v)
	v = r3.NewRotation(alpha, r3.Vec{X: 1}).Rotate(v)
	return r3.NewRotation(psi, r3.Vec{Z: 1}).Rotate(v)
}

// about turns v about an axis.
func about(axis r3.Vec, angle float64, v r3.Vec) r3.Vec {
	if angle == 0 {
		return v
	}
	return r3.NewRotation(angle, axis).Rotate(v)
}

// strain is the energy of a mechanism near a pose, from the definition: the axle's four unknowns off by d, the rockers' turns by turns, the
// radius arms' bodies by moves and small turns.
func strain(m *motion.Mechanism, p *motion.Pose, d [4]float64, turns []float64, moves, tilts []r3.Vec) float64 {
	c := r3.Vec{X: p.X + d[0], Y: p.Y + d[1], Z: m.Radius + p.Heave}
	psi, theta := p.Psi+d[2], p.Theta+d[3]
	offset := func(v r3.Vec) r3.Vec { return turnOf(psi, p.Alpha, theta, v) }
	point := func(v r3.Vec) r3.Vec { return r3.Add(c, offset(v)) }
	sum := 0.0
	bar := func(k, length float64, a, b r3.Vec) {
		s := r3.Norm(r3.Sub(a, b)) - length
		sum += k * s * s / 2
	}
	for i := range m.Links {
		l := &m.Links[i]
		bar(l.K, l.Length, point(l.Axle), l.Frame)
	}
	for i := range m.Rockers {
		r := &m.Rockers[i]
		for k := range r.Rods {
			rod := &r.Rods[k]
			at := r3.Add(r.Pivot.At, about(r.Axis, m.RockerTurn(p, i)+turns[i], rod.Rocker.At))
			if r.Pivot.On == motion.OnAxle {
				bar(rod.K, rod.Length, point(at), rod.Far.At)
			} else {
				bar(rod.K, rod.Length, at, point(rod.Far.At))
			}
		}
	}
	n := 0
	for i := range m.Arms {
		a := &m.Arms[i]
		if !a.Radius {
			for k := range a.Frame {
				kk := 1 / (1/a.FrameEnds[k].Stiffness + 2/a.AxleEnds[0].Stiffness)
				bar(kk, a.Lengths[k], point(a.Axle[0]), a.Frame[k])
			}
			continue
		}
		carrier := motion.Carrier{On: motion.OnArm, Index: i}
		own := r3.Add(m.At(p, &motion.Place{Carrier: carrier}), moves[n])
		spring := func(e *motion.End, bolt, give r3.Vec) {
			along := r3.Dot(bolt, give)
			sum += (e.Stiffness*(r3.Norm2(give)-along*along) + e.Axial*along*along) / 2
		}
		spring(&a.FrameEnds[0], a.FrameEnds[0].Bolt, r3.Sub(own, a.Frame[0]))
		for k := range a.Axle {
			ride := r3.Sub(r3.Add(a.Axle[k], r3.Vec{Z: m.Radius}), a.Frame[0])
			rho := m.Carry(p, carrier, ride)
			if t := r3.Norm(tilts[n]); t > 0 {
				rho = about(tilts[n], t, rho)
			}
			spring(&a.AxleEnds[k], offset(a.AxleEnds[k].Bolt), r3.Sub(r3.Add(own, rho), point(a.Axle[k])))
		}
		n++
	}
	return sum
}

// Every position of an over-located axle is the one of least energy among its neighbours, the members' own freedoms included; in an exactly
// located one every distance is kept.
func TestMembersLeastEnergy(t *testing.T) {
	over, exact := 0, 0
	eachMixed(t, 300, func(rng *rand.Rand, _ *job.Job, m *motion.Mechanism, _ *motion.Solver, p *motion.Pose) {
		if !m.OverLocated {
			exact++
			require.Less(t, p.Residual, 1e-9)
			for i := range m.Distances {
				mm, _ := m.Stretch(p, i)
				require.InDelta(t, 0, mm, 1e-9)
			}
			return
		}
		over++
		none := make([]r3.Vec, len(m.Arms))
		least := strain(m, p, [4]float64{}, make([]float64, len(m.Rockers)), none, none)
		require.Greater(t, least, 0.0)
		for range 100 {
			size := math.Pow(10, -4*rng.Float64()) // 1 mm to 0.1 um, turns at one metre
			d := func() float64 { return size * rng.NormFloat64() }
			vec := func(k float64) []r3.Vec {
				out := make([]r3.Vec, len(m.Arms))
				for i := range out {
					out[i] = r3.Scale(k, r3.Vec{X: d(), Y: d(), Z: d()})
				}
				return out
			}
			turns := make([]float64, len(m.Rockers))
			for i := range turns {
				turns[i] = d() / 100
			}
			other := strain(m, p, [4]float64{d(), d(), d() / 1000, d() / 1000}, turns, vec(1), vec(1e-3))
			require.GreaterOrEqual(t, other, least*(1-1e-11))
		}
	})
	assert.Greater(t, over, 100)
	assert.Greater(t, exact, 50)
}

// Rates of the axle, and of points on rockers, arms and links, against central differences of positions 1e-3 mm either side.
func TestMemberRatesAgainstDifferences(t *testing.T) {
	const h = 1e-3
	eachMixed(t, 300, func(rng *rand.Rand, _ *job.Job, m *motion.Mechanism, s *motion.Solver, p *motion.Pose) {
		var r motion.Rates
		require.NoError(t, s.Rates(p, &r))
		places := []motion.Place{{Carrier: motion.Carrier{On: motion.OnAxle}, At: r3.Vec{X: 300, Y: 100, Z: 30}}}
		for i := range m.Links {
			at := r3.Scale(0.4, r3.Sub(r3.Add(m.Links[i].Axle, r3.Vec{Z: m.Radius}), m.Links[i].Frame))
			places = append(places, motion.Place{Carrier: motion.Carrier{On: motion.OnLink, Index: i}, At: at},
				motion.Place{Carrier: motion.Carrier{On: motion.OnLink, Index: i}, At: r3.Add(at, r3.Vec{X: 10, Y: 30, Z: 60})})
		}
		for i := range m.Arms {
			places = append(places, motion.Place{Carrier: motion.Carrier{On: motion.OnArm, Index: i}, At: r3.Vec{X: -300, Y: 40, Z: 60}})
		}
		for i := range m.Rockers {
			places = append(places, m.Rockers[i].Rods[0].Rocker)
		}
		for k, way := range [2][2]float64{{h, h}, {h, -h}} {
			var a, b motion.Pose
			require.NoError(t, s.SolveFrom(p, p.Left-way[0], p.Right-way[1], &a))
			require.NoError(t, s.SolveFrom(p, p.Left+way[0], p.Right+way[1], &b))
			for i := range places {
				want := r3.Scale(1/(2*h), r3.Sub(m.At(&b, &places[i]), m.At(&a, &places[i])))
				heave, roll := m.Speed(p, &r, &places[i])
				tol := 2e-9
				if places[i].On != motion.OnAxle {
					tol = 5e-8
				}
				require.Less(t, r3.Norm(r3.Sub(want, [2]r3.Vec{heave, roll}[k])), tol, "%v, over-located: %v", places[i].Carrier, m.OverLocated)
			}
		}
	})
}

// Seen undoes Carry, and both keep lengths.
func TestCarryAndSeen(t *testing.T) {
	eachMixed(t, 100, func(rng *rand.Rand, _ *job.Job, m *motion.Mechanism, _ *motion.Solver, p *motion.Pose) {
		v := r3.Vec{X: 0.3, Y: -0.5, Z: 0.8}
		for _, c := range []struct {
			on motion.On
			n  int
		}{{motion.OnFrame, 1}, {motion.OnAxle, 1}, {motion.OnLink, len(m.Links)}, {motion.OnArm, len(m.Arms)}, {motion.OnRocker, len(m.Rockers)}} {
			for i := range c.n {
				there := m.Carry(p, motion.Carrier{On: c.on, Index: i}, v)
				require.InDelta(t, r3.Norm(v), r3.Norm(there), 1e-12)
				back := m.Seen(p, motion.Carrier{On: c.on, Index: i}, there)
				require.Less(t, r3.Norm(r3.Sub(back, v)), 1e-12)
			}
		}
		// A carried pivot is where its mount is: an A-arm's point on the axle, a link's end.
		for i := range m.Arms {
			if a := &m.Arms[i]; !a.Radius && !m.OverLocated {
				at := m.At(p, &motion.Place{Carrier: motion.Carrier{On: motion.OnArm, Index: i}, At: r3.Sub(r3.Add(a.Axle[0], r3.Vec{Z: m.Radius}), a.Frame[0])})
				require.Less(t, r3.Norm(r3.Sub(at, p.Point(a.Axle[0]))), 1e-9)
			}
		}
	})
}

// The mirror image of a layout stands as the mirror image at swapped travels.
func TestMembersMirror(t *testing.T) {
	flip := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} }
	eachMixed(t, 100, func(_ *rand.Rand, j *job.Job, m *motion.Mechanism, s *motion.Solver, p *motion.Pose) {
		x := j.Clone()
		mirror := func(p ...*job.Point) {
			for _, p := range p {
				*p = p.Mirror()
			}
		}
		for i := range x.Links {
			mirror(&x.Links[i].Frame, &x.Links[i].Axle)
		}
		for i := range x.Arms {
			for k := range x.Arms[i].Frame {
				mirror(&x.Arms[i].Frame[k])
			}
			for k := range x.Arms[i].Axle {
				mirror(&x.Arms[i].Axle[k])
			}
		}
		for i := range x.Rockers {
			r := &x.Rockers[i]
			mirror(&r.Pivot, &r.Axis)
			for k := range r.Rods {
				mirror(&r.Rods[k].Rocker, &r.Rods[k].Far)
			}
		}
		w, err := motion.Compile(x)
		require.NoError(t, err)
		require.InDelta(t, m.Singular, w.Singular, 1e-12)
		var q motion.Pose
		require.NoError(t, w.NewSolver().Solve(p.Right, p.Left, &q))
		require.Less(t, r3.Norm(r3.Sub(p.C, flip(q.C))), 1e-8)
		require.Less(t, r3.Norm(r3.Sub(p.Ex, flip(q.Ex))), 1e-11)
		for i := range m.Rockers {
			require.InDelta(t, m.RockerTurn(p, i), -m.RockerTurn(&q, i), 1e-10)
		}
		for i := range m.Arms {
			a, fa := m.ArmGive(p, i)
			b, fb := w.ArmGive(&q, i)
			for k := range a {
				require.InDelta(t, a[k], b[k], 1e-8)
				require.InDelta(t, fa[k], fb[k], 1e-3)
			}
		}
	})
}

// A radius arm bolted (nearly) solid to the axle: its axle pivots give nothing, and the arm turns as the axle does.
func TestRadiusArmBoltedSolid(t *testing.T) {
	j := layout(panhard)
	a := radiusArms()
	hard := 1e7
	for i := range a.AxleEnds {
		a.AxleEnds[i] = job.End{Kind: "bush", RadialStiffness: &hard, AxialStiffness: &hard}
	}
	a.Axle[0][2] += 60 // three pivots of a triangle hold the turn about the line of two as well
	j.Arms = []job.Arm{a}
	m, err := motion.Compile(j)
	require.NoError(t, err)
	var p motion.Pose
	require.NoError(t, m.NewSolver().Solve(25, 21, &p))
	for i := range m.Arms {
		mm, n := m.ArmGive(&p, i)
		require.Greater(t, n[0], 100.0) // the bind of such arms
		require.Less(t, mm[1], 0.02)
		require.Less(t, mm[2], 0.02)
		v := r3.Vec{X: 1, Y: 2, Z: 0.5}
		require.Less(t, r3.Norm(r3.Sub(m.Carry(&p, motion.Carrier{On: motion.OnArm, Index: i}, v), p.Offset(v))), 2e-2)
	}
	// The forces on each arm balance: no weight, no friction.
	ride := m.Ride()
	for i := range m.Arms {
		mm, n := m.ArmGive(&ride, i)
		require.Equal(t, [3]float64{}, mm)
		require.Equal(t, [3]float64{}, n)
	}
}

// The spin of a radius arm whose pivots lie in one line meets no resistance; it must not hurt.
func TestRadiusArmInOneLine(t *testing.T) {
	j := layout(panhard)
	a := radiusArms()
	a.Pair = false
	a.Frame[0], a.Axle[0], a.Axle[1] = job.Point{900, 470, 405}, job.Point{110, 470, 405}, job.Point{-110, 470, 405}
	j.Arms = []job.Arm{a}
	j.Links = append(j.Links, bar("Lower right", job.Point{1000, -450, 420}, job.Point{30, -500, 330}), bar("Upper right", job.Point{600, -380, 560}, job.Point{0, -360, 540}))
	m, err := motion.Compile(j)
	require.NoError(t, err)
	s := m.NewSolver()
	for _, at := range [][2]float64{{80, 80}, {-90, -70}, {60, -60}} {
		var p motion.Pose
		require.NoError(t, s.Solve(at[0], at[1], &p))
		var r motion.Rates
		require.NoError(t, s.Rates(&p, &r))
		require.Less(t, math.Abs(r.Heave.V.X), 1.0)
	}
}

// One whole solution allocates nothing.
func TestMembersAllocateNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for range 20 {
		_, m := mixed(rng)
		s := m.NewSolver()
		var p motion.Pose
		var r motion.Rates
		pl := motion.Place{Carrier: motion.Carrier{On: motion.OnAxle}}
		if len(m.Arms) > 0 {
			pl.On = motion.OnArm
		}
		if s.Solve(30, -20, &p) != nil {
			continue // an error is made
		}
		require.Zero(t, testing.AllocsPerRun(5, func() {
			if s.Solve(30, -20, &p) == nil && s.Rates(&p, &r) == nil {
				m.Speed(&p, &r, &pl)
				m.At(&p, &pl)
			}
		}))
	}
}

// Two equal rods side by side and a rocker 6 deg off their direction: with every bar 600 mm long the rods come to point at its bolt where they have
// swung by those 6 deg. From there the rocker could turn either way, so the march ends there and says why.
func TestRockerDeadCentre(t *testing.T) {
	const swing = 6 * math.Pi / 180
	for _, over := range []bool{false, true} {
		lever := job.Rocker{Name: "Lever", On: "frame", Pivot: job.Point{600, 0, 500}, Axis: job.Point{0, 1, 0}}
		for k, name := range []string{"Fore rod", "Aft rod"} {
			c, s := 80*math.Cos(swing), 80*math.Sin(swing)
			if k == 1 {
				c, s = -c, -s
			}
			lever.Rods = append(lever.Rods, job.Rod{Name: name, Rocker: job.Point{600 + c, 0, 500 + s}, Far: job.Point{c, 0, 500 + s}})
		}
		j := layout(pair("Lower", job.Point{600, 450, 330}, job.Point{0, 450, 330}), bar("Panhard rod", job.Point{-150, 1e5, 430}, job.Point{-150, -450, 430}))
		j.Rockers = []job.Rocker{lever}
		if over {
			j.Links = append(j.Links, bar("Upper", job.Point{600, 60, 700}, job.Point{0, 60, 700}))
		}
		m, err := motion.Compile(j)
		require.NoError(t, err)
		require.Equal(t, over, m.OverLocated)
		s := m.NewSolver()
		var p motion.Pose
		require.NoError(t, s.Solve(100, 100, &p)) // the rods swing away from the rocker
		var e *motion.Error
		err = s.Solve(-100, -100, &p)
		require.True(t, errors.As(err, &e), "%v %v %v", over, p.Heave, m.RockerTurn(&p, 0))
		assert.Equal(t, motion.DeadCentre, e.Kind)
		assert.InDelta(t, -600*math.Sin(swing), e.Left, 0.2)
		assert.Contains(t, e.Words, "both rods of Lever point at its bolt")
	}
	// Both rods pointing at the bolt at ride height is refused.
	j := layout(lowers, single)
	w := watts("axle")
	w.Rods[0].Far, w.Rods[1].Far = job.Point{-150, 0, 900}, job.Point{-150, 0, -100}
	w.Rods[0].Rocker, w.Rods[1].Rocker = job.Point{-150, 0, 520}, job.Point{-150, 0, 380}
	j.Rockers = []job.Rocker{w}
	e := refusal(t, j)
	assert.Equal(t, motion.NotLocated, e.Kind)
	assert.Contains(t, e.Words, "Nothing stops Watt's linkage turning on its bolt")
}

// A rod across that grows steep in droop holds the axle less and less sideways; the place is found and named, and just short of it nothing is said.
func TestPoorlyHeldBeyond(t *testing.T) {
	m := compile(t, lowers, single, bar("Panhard rod", job.Point{-150, 120, 520}, job.Point{-150, -120, 430}))
	require.Empty(t, m.PoorlyHeld)
	words, left, right, ok := m.PoorlyHeldBeyond(-1, -1, 400)
	require.True(t, ok)
	assert.InDelta(t, left, right, 1e-9)
	assert.Regexp(t, `^The axle is poorly held beyond \d+ mm of droop: little stops it moving sideways\.$`, words)
	s := m.NewSolver()
	var p motion.Pose
	require.NoError(t, s.Solve(left, right, &p))
	assert.Empty(t, m.PoorlyHeldAt(&p))
	require.NoError(t, s.Solve(left-0.1, right-0.1, &p))
	assert.NotEmpty(t, m.PoorlyHeldAt(&p))
	_, _, _, ok = m.PoorlyHeldBeyond(1, 1, 60)
	assert.False(t, ok, "towards bump the rod lies flatter")
	_, _, _, ok = m.PoorlyHeldBeyond(-1, -1, -left-1)
	assert.False(t, ok)
	_, _, _, ok = m.PoorlyHeldBeyond(0, 0, 60)
	assert.False(t, ok)
	// Poorly held at ride height already.
	m = compile(t, lowers, single, bar("Panhard rod", job.Point{-150, 3, 620}, job.Point{-150, -3, 430}))
	require.NotEmpty(t, m.PoorlyHeld)
	words, left, right, ok = m.PoorlyHeldBeyond(1, 1, 60)
	assert.Equal(t, m.PoorlyHeld, words)
	assert.Equal(t, [3]any{0.0, 0.0, true}, [3]any{left, right, ok})
}

// What nothing stops is told as motions too.
func TestFreeMotions(t *testing.T) {
	along := func(name string, z float64) job.Link { return pair(name, job.Point{900, 450, z}, job.Point{0, 450, z}) }
	j := layout(along("Lower", 330), along("Upper", 560)) // nothing across
	e := refusal(t, j)
	require.Len(t, e.Free, 1)
	assert.InDelta(t, 1, math.Abs(e.Free[0][1]), 0.2)
	j = layout(along("Lower", 400))
	e = refusal(t, j)
	require.Len(t, e.Free, 2)
	for _, f := range e.Free {
		n := 0.0
		for _, v := range f {
			n += v * v
		}
		assert.InDelta(t, 1, n, 1e-12)
	}
	m := compile(t, lowers, angled)
	assert.NotZero(t, m.Weakest)
	// A rocker alone holds nothing that its two rods would.
	j = layout(along("Lower", 400))
	j.Rockers = []job.Rocker{watts("axle")}
	e = refusal(t, j)
	require.Len(t, e.Free, 1)
	assert.Contains(t, e.Words, "turning nose up and down")
}

// An axle at the end of its members' reach is named with those that hold it: an A-arm once, a rod by its own name.
func TestMembersHoldItThere(t *testing.T) {
	j := layout(lowers)
	a := aArm()
	a.Frame = []job.Point{{110, 350, 620}, {110, -350, 620}}
	j.Arms = []job.Arm{a}
	m, err := motion.Compile(j)
	require.NoError(t, err)
	var p motion.Pose
	var e *motion.Error
	require.True(t, errors.As(m.NewSolver().Solve(400, 400, &p), &e), "%v", p.Heave)
	assert.Equal(t, motion.OutOfReach, e.Kind, e.Words)
	assert.Contains(t, e.Words, "Upper arm")
	assert.Equal(t, 1, strings.Count(e.Words, "Upper arm"), e.Words)

	j = layout(pair("Lower", job.Point{1500, 450, 400}, job.Point{0, 450, 400}), bar("Upper", job.Point{1500, 0, 600}, job.Point{0, 0, 600}))
	w := watts("axle")
	w.Rods[0].Far[1], w.Rods[1].Far[1] = 100, -100
	j.Rockers = []job.Rocker{w}
	m, err = motion.Compile(j)
	require.NoError(t, err)
	require.True(t, errors.As(m.NewSolver().Solve(400, 400, &p), &e), "%v", p.Heave)
	assert.Contains(t, e.Words, "Left rod")
}

// A radius arm whose pivots lie nearly in one line snaps over about its own length when its bushes are pushed; the march ends there and says so.
func TestRadiusArmTurnsOver(t *testing.T) {
	j := layout(panhard)
	a := radiusArms()
	a.Frame[0], a.Axle[0], a.Axle[1] = job.Point{900, 470, 440}, job.Point{110, 470, 400}, job.Point{-110, 470, 400}
	j.Arms = []job.Arm{a}
	m, err := motion.Compile(j)
	require.NoError(t, err)
	s := m.NewSolver()
	var p motion.Pose
	var e *motion.Error
	require.True(t, errors.As(s.Solve(320, 320, &p), &e), "%v", p.Heave)
	assert.Equal(t, motion.OtherSide, e.Kind, e.Words)
	assert.Regexp(t, `mm of bump Radius arm (left|right) turns over about its own length`, e.Words)
	// One above the other it does not.
	a.Axle[0], a.Axle[1] = job.Point{40, 470, 490}, job.Point{10, 470, 310}
	j.Arms = []job.Arm{a}
	m, err = motion.Compile(j)
	require.NoError(t, err)
	require.NoError(t, m.NewSolver().Solve(200, 200, &p))
}

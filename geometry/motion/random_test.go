package motion_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// How many random axles of each sort.
const (
	exactAxles  = 10_000 // four distances, rockers' turns taken off
	overAxles   = 3000   // more of them, on bushes
	radiusAxles = 1000   // on radius arms
)

// anyAxle puts a layout together from what holds an axle fore and aft, in pitch and sideways, with every pivot up to 80 mm off in each direction
// and nothing the same left and right. extra adds a fifth distance, arms puts radius arms in the place of what holds it lengthways.
func anyAxle(rng *rand.Rand, extra, arms bool) *job.Job {
	j := layout()
	off := func(x, y, z float64) job.Point {
		p := job.Point{x, y, z}
		for i := range p {
			p[i] += 160*rng.Float64() - 80
		}
		return p
	}
	end := func() *job.End {
		k := math.Exp(math.Log(3000) + rng.Float64()*math.Log(20)) // 3 to 60 kN/mm
		axial := k * (0.1 + 0.9*rng.Float64())
		return &job.End{Kind: "bush", Bolt: &job.Point{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}, RadialStiffness: &k, AxialStiffness: &axial}
	}
	link := func(name string, frame, axle job.Point) {
		l := bar(name, frame, axle)
		l.FrameEnd, l.AxleEnd = &job.End{Kind: "bush", RadialStiffness: end().RadialStiffness}, &job.End{Kind: "ball"}
		j.Links = append(j.Links, l)
	}
	rocker := func(name, on string, axis job.Point, pivot, first, firstFar, second, secondFar job.Point) {
		for i := range axis {
			axis[i] += 0.3*rng.Float64() - 0.15
		}
		rod := func(n string, near, far job.Point) job.Rod {
			return job.Rod{Name: name + n, Rocker: near, Far: far, RockerEnd: &job.End{Kind: "ball"}, FarEnd: &job.End{Kind: "bush", RadialStiffness: end().RadialStiffness}}
		}
		j.Rockers = append(j.Rockers, job.Rocker{Name: name, On: on, Pivot: pivot, Axis: axis,
			Rods: []job.Rod{rod(", first rod", first, firstFar), rod(", second rod", second, secondFar)}})
	}
	on := func() string { return []string{"axle", "frame"}[rng.IntN(2)] }

	pitch := true // still to be held
	switch {
	case arms:
		for _, s := range []float64{1, -1} {
			a := job.Arm{Name: map[float64]string{1: "Left arm", -1: "Right arm"}[s], Frame: []job.Point{off(900, 430*s, 430)}}
			for _, z := range []float64{480, 320} {
				a.Axle = append(a.Axle, off(0, 500*s, z))
			}
			a.FrameEnds, a.AxleEnds = []job.End{*end()}, []job.End{*end(), *end()}
			j.Arms = append(j.Arms, a)
		}
		pitch = false
	case rng.IntN(3) == 0: // a Watt's linkage along each side
		for _, s := range []float64{1, -1} {
			rocker(map[float64]string{1: "Left side", -1: "Right side"}[s], "axle", job.Point{0, 1, 0}, off(0, 500*s, 400),
				off(0, 500*s, 520), off(600, 500*s, 520), off(0, 500*s, 280), off(-600, 500*s, 280))
		}
	default:
		for _, s := range []float64{1, -1} {
			link(map[float64]string{1: "Lower left", -1: "Lower right"}[s], off(1000, 450*s, 420), off(30, 500*s, 330))
		}
	}
	switch n := rng.IntN(6); {
	case n == 0 && pitch:
		link("Upper left", off(700, 430, 620), off(0, 110, 650))
		link("Upper right", off(700, -430, 620), off(0, -110, 650))
		pitch = false
	case n == 1 && pitch:
		a := job.Arm{Name: "Arm", Frame: []job.Point{off(650, 350, 620), off(650, -350, 620)}, Axle: []job.Point{off(-20, 0, 640)},
			FrameEnds: []job.End{*end(), *end()}, AxleEnds: []job.End{{Kind: "ball"}}}
		j.Arms = append(j.Arms, a)
		pitch = false
	case n == 2:
		rocker("Across", on(), job.Point{1, 0, 0}, off(-200, 0, 430), off(-200, 0, 540), off(-200, 450, 540), off(-200, 0, 320), off(-200, -450, 320))
	case n == 3:
		rocker("Flat", on(), job.Point{0, 0, 1}, off(-200, 0, 500), off(-90, 0, 500), off(-90, 450, 500), off(-310, 0, 500), off(-310, -450, 500))
	default:
		link("Panhard rod", off(-200, 450, 470), off(-200, -450, 430))
	}
	if pitch {
		if rng.IntN(2) == 0 {
			link("Centre upper", off(650, 0, 600), off(0, 0, 640))
		} else {
			link("Torque arm link", off(1000, 100, 700), off(1000, 100, 450))
		}
	}
	if extra {
		switch rng.IntN(3) {
		case 0:
			link("Another rod across", off(250, -430, 480), off(250, 430, 470))
		case 1:
			link("Another upper", off(500, 360, 600), off(0, 340, 600))
		case 2:
			rocker("Another", on(), job.Point{1, 0, 0}, off(200, 0, 430), off(200, 0, 540), off(200, 450, 540), off(200, 0, 320), off(200, -450, 320))
		}
	}
	return j
}

// body is where everything that moves stands: enough to work out every distance and spring from the job alone.
type body struct {
	c          r3.Vec // axle centre
	psi, theta float64
	alpha      float64
	turns      []float64
	at         []r3.Vec              // a radius arm's frame point, nothing for an A-arm
	turned     []func(r3.Vec) r3.Vec // a radius arm's directions
}

// stand reads it from a pose, through exported functions only.
func stand(m *motion.Mechanism, p *motion.Pose, j *job.Job) body {
	b := body{c: p.C, psi: p.Psi, theta: p.Theta, alpha: p.Alpha}
	for i := range j.Rockers {
		b.turns = append(b.turns, m.RockerTurn(p, i))
	}
	for i := range j.Arms {
		on := motion.Carrier{On: motion.OnArm, Index: i}
		b.at = append(b.at, m.At(p, &motion.Place{Carrier: on}))
		b.turned = append(b.turned, func(v r3.Vec) r3.Vec { return m.Carry(p, on, v) })
	}
	return b
}

func (b *body) offset(v r3.Vec) r3.Vec { return turnOf(b.psi, b.alpha, b.theta, v) }

func (b *body) axle(j *job.Job, p job.Point) r3.Vec {
	return r3.Add(b.c, b.offset(r3.Sub(p.Vec(), r3.Vec{Z: j.Vehicle.Tyre.LoadedRadius})))
}

// each goes through every distance (its stiffness and stretch) and every spring of a radius arm's pivot along three directions square to each
// other. The definitions: 1/k of a bar is the sum over its two ends, the end two bars share counting half in each; a pivot gives its radial
// stiffness square to its bolt and its axial one along it, the bolt carried by what it is mounted on.
func (b *body) each(j *job.Job, bar, spring func(k, mm float64)) {
	stiff := func(e *job.End) float64 {
		if e.RadialStiffness != nil {
			return *e.RadialStiffness
		}
		return map[string]float64{"bush": 10_000, "ball": 100_000}[e.Kind]
	}
	between := func(one, other float64, a, z job.Point, near, far r3.Vec) {
		bar(1/(1/one+1/other), r3.Norm(r3.Sub(far, near))-r3.Norm(r3.Sub(z.Vec(), a.Vec())))
	}
	for i := range j.Links {
		l := &j.Links[i]
		between(stiff(l.FrameEnd), stiff(l.AxleEnd), l.Frame, l.Axle, l.Frame.Vec(), b.axle(j, l.Axle))
	}
	for i := range j.Arms {
		a := &j.Arms[i]
		if len(a.Frame) == 2 {
			for k := range a.Frame {
				between(stiff(&a.FrameEnds[k]), stiff(&a.AxleEnds[0])/2, a.Frame[k], a.Axle[0], a.Frame[k].Vec(), b.axle(j, a.Axle[0]))
			}
			continue
		}
		pivot := func(e *job.End, p job.Point, mount r3.Vec, turn func(r3.Vec) r3.Vec) {
			give := r3.Sub(r3.Add(b.at[i], b.turned[i](r3.Sub(p.Vec(), a.Frame[0].Vec()))), mount)
			bolt := r3.Unit(turn(e.Bolt.Vec()))
			along := r3.Dot(give, bolt)
			spring(*e.AxialStiffness, along)
			spring(*e.RadialStiffness, r3.Norm(r3.Sub(give, r3.Scale(along, bolt))))
		}
		pivot(&a.FrameEnds[0], a.Frame[0], a.Frame[0].Vec(), func(v r3.Vec) r3.Vec { return v })
		for k := range a.Axle {
			pivot(&a.AxleEnds[k], a.Axle[k], b.axle(j, a.Axle[k]), b.offset)
		}
	}
	for i := range j.Rockers {
		r := &j.Rockers[i]
		for k := range r.Rods {
			rod := &r.Rods[k]
			near := r3.Add(r.Pivot.Vec(), about(r.Axis.Vec(), b.turns[i], r3.Sub(rod.Rocker.Vec(), r.Pivot.Vec())))
			far := rod.Far.Vec()
			if r.On == "axle" {
				near = b.axle(j, job.Point{near.X, near.Y, near.Z})
			} else {
				far = b.axle(j, rod.Far)
			}
			between(stiff(rod.RockerEnd), stiff(rod.FarEnd), rod.Rocker, rod.Far, near, far)
		}
	}
}

func (b *body) energy(j *job.Job) float64 {
	sum := 0.0
	add := func(k, mm float64) { sum += k * mm * mm / 2 }
	b.each(j, add, add)
	return sum
}

// moved is a neighbour: everything off at random by about size mm, turns at one metre.
func (b *body) moved(rng *rand.Rand, size float64) body {
	d := func() float64 { return size * rng.NormFloat64() }
	vec := func() r3.Vec { return r3.Vec{X: d(), Y: d(), Z: d()} }
	n := *b
	n.c.X, n.c.Y = b.c.X+d(), b.c.Y+d()
	n.psi, n.theta = b.psi+d()/1000, b.theta+d()/1000
	n.turns = append([]float64(nil), b.turns...)
	for i := range n.turns {
		n.turns[i] += d() / 100 // of an arm of 100 mm
	}
	n.at, n.turned = append([]r3.Vec(nil), b.at...), append([]func(r3.Vec) r3.Vec(nil), b.turned...)
	for i := range n.at {
		t, was := r3.Scale(1e-3, vec()), b.turned[i]
		n.at[i] = r3.Add(n.at[i], vec())
		n.turned[i] = func(v r3.Vec) r3.Vec { return about(t, r3.Norm(t), was(v)) }
	}
	return n
}

// mirrorJob is the mirror image of a job in the centre plane.
func mirrorJob(j *job.Job) *job.Job {
	x := j.Clone()
	flip := func(p ...*job.Point) {
		for _, p := range p {
			*p = p.Mirror()
		}
	}
	ends := func(e []job.End) {
		for i := range e {
			if e[i].Bolt != nil {
				flip(e[i].Bolt)
			}
		}
	}
	for i := range x.Links {
		flip(&x.Links[i].Frame, &x.Links[i].Axle)
	}
	for i := range x.Arms {
		a := &x.Arms[i]
		for k := range a.Frame {
			flip(&a.Frame[k])
		}
		for k := range a.Axle {
			flip(&a.Axle[k])
		}
		ends(a.FrameEnds)
		ends(a.AxleEnds)
	}
	for i := range x.Rockers {
		r := &x.Rockers[i]
		flip(&r.Pivot, &r.Axis)
		for k := range r.Rods {
			flip(&r.Rods[k].Rocker, &r.Rods[k].Far)
		}
	}
	return x
}

// Random axles at random positions, the seed fixed. Exactly located: every distance keeps its length. Over-located: no neighbour
// has less energy, worked out from the job by the definitions, and what the mechanism says of stretches and gives agrees with it. All: rates are
// those of central differences, the mirror image stands as the mirror image.
func TestRandomAxles(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, sort := range []struct {
		name        string
		n           int
		extra, arms bool
		rate        float64 // round-off of positions, 1e-13 to 1e-12 mm over how well it is held, in differences of 0.001 mm
	}{
		{"exact", exactAxles, false, false, 5e-9},
		{"over-located", overAxles, true, false, 2e-8},
		{"radius arms", radiusAxles, false, true, 2e-8},
	} {
		t.Run(sort.name, func(t *testing.T) {
			n := sort.n
			if testing.Short() {
				n /= 10
			}
			done, refused, held, ended := 0, 0, 0, 0
			members := map[string]int{}
			for done < n {
				j := anyAxle(rng, sort.extra, sort.arms)
				m, err := motion.Compile(j)
				if err != nil {
					var e *motion.Error
					require.True(t, errors.As(err, &e), "%v", err)
					refused++
					continue
				}
				require.Equal(t, sort.extra || sort.arms, m.OverLocated)
				s := m.NewSolver()
				var p motion.Pose
				if err := s.Solve(320*rng.Float64()-160, 320*rng.Float64()-160, &p); err != nil {
					var e *motion.Error
					require.True(t, errors.As(err, &e), "%v", err)
					require.NotEmpty(t, e.Words)
					ended++
					continue
				}
				if p.Held < 0.03 {
					held++
					continue
				}
				done++
				members["links"] += len(m.Links)
				members["arms"] += len(m.Arms)
				members["rockers"] += len(m.Rockers)
				if b := stand(m, &p, j); m.OverLocated {
					leastEnergy(t, rng, j, m, &p, &b)
				} else {
					i := 0
					b.each(j, func(_, mm float64) {
						require.InDelta(t, 0, mm, 1e-9, "%s", m.Distances[i].Name)
						i++
					}, nil)
					require.Less(t, p.Residual, 1e-9)
				}
				ratesAreDifferences(t, m, s, &p, sort.rate)
				mirrorStandsMirrored(t, j, m, s, &p)
				if t.Failed() {
					return
				}
			}
			t.Logf("%d axles (links %d, arms %d, rockers %d); %d not located, %d poorly held there, %d ended before", done,
				members["links"], members["arms"], members["rockers"], refused, held, ended)
			assert.Less(t, refused+held+ended, 2*n, "most should move")
		})
	}
}

func leastEnergy(t *testing.T, rng *rand.Rand, j *job.Job, m *motion.Mechanism, p *motion.Pose, b *body) {
	i := 0
	b.each(j, func(k, mm float64) {
		got, newton := m.Stretch(p, i)
		require.InDelta(t, mm, got, 1e-9, "%s", m.Distances[i].Name)
		require.InDelta(t, k*mm, newton, 1e-9*k, "%s", m.Distances[i].Name)
		i++
	}, func(_, _ float64) {})
	require.Len(t, m.Distances, i)
	var gives []float64 // along the bolt and square to it, pivot by pivot
	var pull []float64
	b.each(j, func(_, _ float64) {}, func(k, mm float64) { gives, pull = append(gives, mm), append(pull, k*mm) })
	for a := range j.Arms {
		if !m.Arms[a].Radius {
			continue
		}
		mm, newton := m.ArmGive(p, a)
		for e := range mm {
			require.InDelta(t, math.Hypot(gives[0], gives[1]), mm[e], 1e-9)
			require.InDelta(t, math.Hypot(pull[0], pull[1]), newton[e], 1e-4)
			gives, pull = gives[2:], pull[2:]
		}
	}
	require.Empty(t, gives)
	least := b.energy(j)
	for range 100 {
		near := b.moved(rng, math.Pow(10, -4*rng.Float64())) // 1 mm to 0.1 um
		// Round-off of a stretch, 1e-12 mm, times its force.
		require.GreaterOrEqual(t, near.energy(j)-least, -1e-12*math.Sqrt(2*least*1e5)-1e-12*least)
	}
}

// Differences of the fourth order, (8(f(h) - f(-h)) - (f(2h) - f(-2h)))/(12 h): near a dead centre those of the second are not good enough.
func ratesAreDifferences(t *testing.T, m *motion.Mechanism, s *motion.Solver, p *motion.Pose, tol float64) {
	const h = 1e-3
	var r motion.Rates
	require.NoError(t, s.Rates(p, &r))
	for _, way := range []struct {
		rate motion.Rate
		l, r float64
	}{{r.Heave, h, h}, {r.Roll, h, -h}} {
		var at [5]motion.Pose
		for i := range at {
			if k := float64(i - 2); k != 0 {
				require.NoError(t, s.SolveFrom(p, p.Left+k*way.l, p.Right+k*way.r, &at[i]))
			}
		}
		for _, o := range []r3.Vec{{}, {X: 300, Z: 30}, {Y: 500, Z: -80}} {
			near, far := r3.Sub(at[3].Point(o), at[1].Point(o)), r3.Sub(at[4].Point(o), at[0].Point(o))
			want := r3.Scale(1/(12*h), r3.Sub(r3.Scale(8, near), far))
			require.Less(t, r3.Norm(r3.Sub(want, way.rate.At(p.Offset(o)))), tol, "held by %v", p.Held)
		}
	}
}

func mirrorStandsMirrored(t *testing.T, j *job.Job, m *motion.Mechanism, s *motion.Solver, p *motion.Pose) {
	w, err := motion.Compile(mirrorJob(j))
	require.NoError(t, err)
	require.InDelta(t, m.Singular, w.Singular, 1e-12)
	sw := w.NewSolver()
	var q motion.Pose
	require.NoError(t, sw.Solve(p.Right, p.Left, &q))
	near := func(a, b r3.Vec, tol float64) {
		t.Helper()
		require.Less(t, r3.Norm(r3.Sub(a, r3.Vec{X: b.X, Y: -b.Y, Z: b.Z})), tol)
	}
	near(p.C, q.C, 1e-9)
	near(p.Ex, q.Ex, 1e-11)
	near(p.Ez, q.Ez, 1e-11)
	for i := range m.Rockers { // a turn about the mirrored bolt is the opposite one
		require.InDelta(t, m.RockerTurn(p, i), -w.RockerTurn(&q, i), 1e-10)
	}
	for i := range m.Distances {
		a, _ := m.Stretch(p, i)
		b, _ := w.Stretch(&q, i)
		require.InDelta(t, a, b, 1e-9)
	}
	for i := range m.Arms {
		if m.Arms[i].Radius {
			a, _ := m.ArmGive(p, i)
			b, _ := w.ArmGive(&q, i)
			require.InDeltaSlice(t, a[:], b[:], 1e-9)
		}
	}
	var r, v motion.Rates
	require.NoError(t, s.Rates(p, &r))
	require.NoError(t, sw.Rates(&q, &v))
	near(r.Heave.V, v.Heave.V, 1e-8)
	near(r.Roll.V, r3.Scale(-1, v.Roll.V), 1e-8) // its roll motion is the other way about
	near(r.Heave.W, r3.Scale(-1, v.Heave.W), 1e-11)
	near(r.Roll.W, v.Roll.W, 1e-11)
}

package quantity_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// linkAt is a mechanism of one link, and a pose that has moved and turned its axle end.
func linkAt(frame, axle motion.End, from, to r3.Vec, turned r3.Rotation) (*motion.Mechanism, *motion.Pose) {
	m := compiled
	l := motion.Link{Name: "Link", Frame: r3.Vec{}, Axle: from, Length: r3.Norm(from), Along: r3.Unit(from), K: 1, FrameEnd: frame, AxleEnd: axle}
	m.Links = []motion.Link{l}
	m.Radius = 0
	p := &motion.Pose{Ex: turned.Rotate(r3.Vec{X: 1}), Ey: turned.Rotate(r3.Vec{Y: 1}), Ez: turned.Rotate(r3.Vec{Z: 1})}
	p.C = r3.Sub(to, p.Offset(from))
	return &m, p
}

// compiled is any mechanism; its links are replaced.
var compiled = func() motion.Mechanism {
	m, err := motion.Compile(layout(2800, 800, pair("Lower", job.Point{900, 520, 430}, job.Point{0, 520, 380}),
		pair("Upper", job.Point{700, 420, 620}, job.Point{0, 120, 650})))
	if err != nil {
		panic(err)
	}
	return *m
}()

func end(kind motion.EndKind, bolt, u r3.Vec, mis, tor float64) motion.End {
	e := motion.End{Kind: kind, Known: true, Bolt: r3.Unit(bolt), MisLimit: mis / deg, TorLimit: math.NaN()}
	e.Bore = e.Bolt
	if kind != motion.Bush {
		e.Bore = r3.Unit(r3.Sub(e.Bolt, r3.Scale(r3.Dot(e.Bolt, u), u)))
	} else {
		e.TorLimit = tor / deg
	}
	return e
}

// byHand works the two misalignments out for a spin, from the definition: the bore goes with the least turn of the link's direction, then with
// the spin about it.
func byHand(m *motion.Mechanism, p *motion.Pose, spin float64) (frame, axle float64) {
	l := &m.Links[0]
	u0, u := r3.Unit(l.Axle), r3.Unit(p.Point(l.Axle))
	about := r3.Cross(u0, u)
	turn := r3.NewRotation(math.Atan2(r3.Norm(about), r3.Dot(u0, u)), about)
	roll := r3.NewRotation(spin, u)
	mis := func(bolt, bore r3.Vec) float64 {
		n := bore
		if r3.Norm(about) > 0 {
			n = turn.Rotate(bore)
		}
		n = roll.Rotate(n)
		return math.Atan2(r3.Norm(r3.Cross(bolt, n)), math.Abs(r3.Dot(bolt, n)))
	}
	return mis(l.FrameEnd.Bolt, l.FrameEnd.Bore), mis(p.Offset(l.AxleEnd.Bolt), l.AxleEnd.Bore)
}

// least finds the least of a function of the spin within a quarter turn of ride by looking everywhere, then closer.
func least(f func(float64) float64) (at, value float64) {
	lo, hi := -math.Pi/2, math.Pi/2
	for range 14 {
		value = math.Inf(1)
		step := (hi - lo) / 200
		for i := 0; i <= 200; i++ {
			if v := f(lo + float64(i)*step); v < value {
				at, value = lo+float64(i)*step, v
			}
		}
		lo, hi = at-2*step, at+2*step
	}
	return at, value
}

// Where a link sits, against the definition followed by brute force: two bushes, one bush with a free end, two free ends, with wide and tight
// limits, some not given.
func TestWhereALinkSits(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	norm := func() r3.Vec { return r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()} }
	kinds := []motion.EndKind{motion.Bush, motion.Ball, motion.Stud}
	seen := map[string]int{}
	for range 600 {
		from := r3.Add(r3.Vec{X: -700}, r3.Scale(60, norm()))
		u := r3.Unit(from)
		limit := func() float64 {
			return []float64{math.NaN(), 1 + 4*rng.Float64(), 5 + 20*rng.Float64()}[rng.IntN(3)]
		}
		bolt := func() r3.Vec { return r3.Add(r3.Vec{Y: 1}, r3.Scale(0.15, norm())) }
		frame := end(kinds[rng.IntN(3)], bolt(), u, limit(), limit())
		axle := end(kinds[rng.IntN(3)], bolt(), u, limit(), limit())
		to := r3.Add(from, r3.Scale(70, norm()))
		m, p := linkAt(frame, axle, from, to, r3.NewRotation(0.15*rng.NormFloat64(), norm()))
		out := make([]quantity.LinkUse, 1)
		quantity.Links(m, p, out)
		got := out[0]
		f, a := byHand(m, p, got.Spin)
		require.InDelta(t, f, got.FrameEnd.Misalignment, 1e-12)
		require.InDelta(t, a, got.AxleEnd.Misalignment, 1e-12)

		both := func(g func(f, a float64) float64) (float64, float64) {
			return least(func(c float64) float64 { return g(byHand(m, p, c)) })
		}
		bushes := 0
		for _, e := range []motion.End{frame, axle} {
			if e.Kind == motion.Bush {
				bushes++
			}
		}
		larger := func(f, a float64) float64 {
			switch lf, la := frame.MisLimit, axle.MisLimit; {
			case lf != lf && la != la:
				return math.Max(f, a)
			case lf != lf:
				return a / la
			case la != la:
				return f / lf
			default:
				return math.Max(f/lf, a/la)
			}
		}
		switch bushes {
		case 2:
			seen["two bushes"]++
			_, want := both(func(f, a float64) float64 { return f*f + a*a })
			require.InDelta(t, want, f*f+a*a, 1e-12)
		case 1:
			pick := func(f, a float64) (bush, free, limit float64) {
				if frame.Kind == motion.Bush {
					return f, a, axle.MisLimit
				}
				return a, f, frame.MisLimit
			}
			over := func(f, a float64) float64 { // of the free end over its limit
				_, free, limit := pick(f, a)
				if limit != limit {
					return 0
				}
				return math.Max(0, free-limit)
			}
			if _, o := both(over); o > 0 {
				seen["free end past its limit"]++
				_, want := both(larger)
				require.InDelta(t, want, larger(f, a), 1e-8)
				break
			}
			seen["bush and free end"]++
			require.LessOrEqual(t, over(f, a), 1e-9)
			_, want := both(func(f, a float64) float64 {
				bush, _, _ := pick(f, a)
				return bush + 1e4*over(f, a)
			})
			bush, _, _ := pick(f, a)
			require.InDelta(t, want, bush, 1e-6)
			if over(byHand(m, p, got.Spin+1e-6)) > 0 || over(byHand(m, p, got.Spin-1e-6)) > 0 {
				seen["held by the free end"]++
			}
		default:
			seen["two free ends"]++
			_, want := both(larger)
			require.InDelta(t, want, larger(f, a), 1e-8)
		}
	}
	for _, what := range []string{"two bushes", "free end past its limit", "bush and free end", "held by the free end", "two free ends"} {
		assert.Greater(t, seen[what], 5, what)
	}
}

// Bushes turned far apart: the least sum of squares is still found, wherever round the link it lies.
func TestBushesFarApart(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for range 200 {
		from := r3.Vec{X: -700, Z: 30}
		frame := end(motion.Bush, r3.Vec{Y: 1}, r3.Unit(from), 8, 18)
		axle := end(motion.Bush, r3.Vec{Y: 1}, r3.Unit(from), 8, 18)
		m, p := linkAt(frame, axle, from, r3.Add(from, r3.Vec{Y: 300 * rng.NormFloat64(), Z: 300 * rng.NormFloat64()}),
			r3.NewRotation(1.3*rng.NormFloat64(), r3.Vec{X: 1, Z: 0.3 * rng.NormFloat64()}))
		out := make([]quantity.LinkUse, 1)
		quantity.Links(m, p, out)
		sum := func(f, a float64) float64 { return f*f + a*a }
		_, want := least(func(c float64) float64 { return sum(byHand(m, p, c)) })
		got := sum(byHand(m, p, out[0].Spin))
		require.LessOrEqual(t, got, want+1e-9)
	}
}

// A trailing link swung by a known angle about its bush's bolt twists both bushes by it and misaligns neither; a spin of the axle about the link
// is shared by two bushes and taken by a rod end alone.
func TestTorsionAndSpinByHand(t *testing.T) {
	from, y := r3.Vec{X: -700}, r3.Vec{Y: 1}
	bush, ball := end(motion.Bush, y, r3.Unit(from), 8, 20), end(motion.Ball, y, r3.Unit(from), 14, 0)
	const swing = 0.2
	out := make([]quantity.LinkUse, 1)
	// About +Y the rear end of a link that points backward goes up (X -> -Z turned round).
	m, p := linkAt(bush, bush, from, r3.Vec{X: -700 * math.Cos(swing), Z: 700 * math.Sin(swing)}, r3.NewRotation(0, y))
	quantity.Links(m, p, out)
	assert.InDelta(t, swing, out[0].FrameEnd.Torsion, 1e-14)
	assert.InDelta(t, swing, out[0].AxleEnd.Torsion, 1e-14)
	assert.InDelta(t, 0, out[0].FrameEnd.Misalignment, 1e-15)
	assert.InDelta(t, swing/(20/deg), out[0].FrameEnd.Use, 1e-14)
	assert.True(t, out[0].FrameEnd.ByTorsion)
	// Bolt written the other way: the same twist with the other sign.
	other := bush
	other.Bolt, other.Bore = r3.Scale(-1, y), r3.Scale(-1, y)
	m, p = linkAt(other, bush, from, r3.Vec{X: -700 * math.Cos(swing), Z: 700 * math.Sin(swing)}, r3.NewRotation(0, y))
	quantity.Links(m, p, out)
	assert.InDelta(t, -swing, out[0].FrameEnd.Torsion, 1e-14)

	const roll = 0.1
	m, p = linkAt(bush, bush, from, from, r3.NewRotation(roll, r3.Vec{X: 1}))
	quantity.Links(m, p, out)
	assert.InDelta(t, roll/2, out[0].FrameEnd.Misalignment, 1e-12)
	assert.InDelta(t, roll/2, out[0].AxleEnd.Misalignment, 1e-12)
	assert.InDelta(t, roll/2, math.Abs(out[0].Spin), 1e-12)
	m, p = linkAt(bush, ball, from, from, r3.NewRotation(roll, r3.Vec{X: 1}))
	quantity.Links(m, p, out)
	assert.InDelta(t, 0, out[0].FrameEnd.Misalignment, 1e-15)
	assert.InDelta(t, roll, out[0].AxleEnd.Misalignment, 1e-12)
	assert.True(t, math.IsNaN(out[0].AxleEnd.Torsion))
	assert.InDelta(t, roll/(14/deg), out[0].AxleEnd.Use, 1e-12)
	// No limit given: not known, not 0.
	ball.MisLimit = math.NaN()
	m, p = linkAt(ball, ball, from, from, r3.NewRotation(roll, r3.Vec{X: 1}))
	quantity.Links(m, p, out)
	assert.True(t, math.IsNaN(out[0].FrameEnd.Use))
	assert.InDelta(t, roll/2, out[0].FrameEnd.Misalignment, 1e-9)
}

func TestWorstName(t *testing.T) {
	j := layout(2800, 800, pair("Lower", job.Point{900, 520, 430}, job.Point{0, 520, 380}), pair("Upper", job.Point{700, 420, 620}, job.Point{0, 120, 650}))
	m, err := motion.Compile(j)
	require.NoError(t, err)
	v, _, _ := at(t, j, 40, -20)
	assert.Equal(t, "", quantity.WorstName(m, v))
	assert.True(t, math.IsNaN(v.WorstBind))
	assert.Equal(t, "Upper right, axle end, torsion", quantity.WorstName(m, &quantity.Values{WorstJoint: 7, WorstTorsion: true}))
	assert.Equal(t, "Lower left, frame end, misalignment", quantity.WorstName(m, &quantity.Values{WorstJoint: 0}))
}

// Eval, ForLoad and Links do not allocate, and give the same bits again.
func TestNoAllocation(t *testing.T) {
	for _, name := range assets.Demos() {
		j, _ := demo(t, name)
		m, err := motion.Compile(j)
		require.NoError(t, err)
		s := m.NewSolver()
		var p motion.Pose
		var r motion.Rates
		require.NoError(t, s.Solve(70, -60, &p))
		require.NoError(t, s.Rates(&p, &r))
		loads := quantity.Loads(j)
		v := quantity.NewValues(m)
		assert.Zero(t, testing.AllocsPerRun(100, func() {
			quantity.Eval(m, &p, &r, &loads[0], v)
			quantity.ForLoad(m, &p, &r, &loads[1], v)
			quantity.Links(m, &p, v.Links)
		}))
		a, b := quantity.NewValues(m), quantity.NewValues(m)
		b.WorstBind, b.WorstJoint = 99, 99
		for i := range b.Links {
			b.Links[i] = quantity.LinkUse{Spin: math.NaN(), Length: math.NaN()}
		}
		quantity.Eval(m, &p, &r, &loads[0], a)
		quantity.Eval(m, &p, &r, &loads[0], b)
		assert.Equal(t, a.WorstBind, b.WorstBind)
		assert.Equal(t, a.Struts, b.Struts)
		for i := range a.Links {
			assert.Equal(t, a.Links[i].Spin, b.Links[i].Spin)
			assert.Equal(t, a.Links[i].Length, b.Links[i].Length)
		}
	}
}

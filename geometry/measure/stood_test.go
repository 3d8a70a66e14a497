package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/testdata/scipy"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

const rad = math.Pi / 180

// By hand: a pinion that points level at ride and lay 90 - 60 = 30 deg nose up. 100 along the pinion from the tube lay 86.6 ahead and 50 up.
func TestOnStandsByHand(t *testing.T) {
	s, err := OnStands(r3.Vec{X: 1}, 30*rad, 0)
	require.NoError(t, err)
	s.Ride = r3.Vec{Z: 400}
	nearTo(t, r3.Vec{X: 100, Y: 20, Z: 400}, s.ToRide(r3.Vec{X: 100 * math.Cos(30*rad), Y: 20, Z: 50}), 1e-9)
	nearTo(t, r3.Vec{X: 0, Y: -300, Z: 450}, s.ToRide(r3.Vec{X: -25, Y: -300, Z: 50 * math.Cos(30*rad)}), 1e-9)

	// the tube tilted 10 deg left end up: what lay 500 along it is 500 to the left
	s, err = OnStands(r3.Vec{X: 1}, 0, 10*rad)
	require.NoError(t, err)
	nearTo(t, r3.Vec{Y: 500}, s.ToRide(r3.Vec{Y: 500 * math.Cos(10*rad), Z: 500 * math.Sin(10*rad)}), 1e-9)
}

// By hand: a rail 3-4-5 nose up; 500 along it are 400 ahead and 300 up.
func TestOnFloorByHand(t *testing.T) {
	s, err := OnFloor(math.Atan2(300, 400), 0)
	require.NoError(t, err)
	nearTo(t, r3.Vec{X: 500}, s.ToRide(r3.Vec{X: 400, Z: 300}), 1e-9)

	f, err := FloorOf(5./500, 0) // falls 5 in 500 ahead
	require.NoError(t, err)
	p := f.Over(1000, 0, 800)
	assert.InDelta(t, 800-1000*0.01/math.Hypot(1, 0.01), p.Z, 1e-9)
	// a level rail over it stands higher over its mark the farther ahead
	assert.InDelta(t, 0, Rise(f.Fore, 1000, 1000*0.01/math.Hypot(1, 0.01)), 1e-12)
	assert.InDelta(t, math.Atan(0.01), -Rise(f.Fore, 1000, 0), 1e-12)
}

func draw3(t *rapid.T, name string, most float64) r3.Vec {
	in := func(axis string) float64 { return rapid.Float64Range(-most, most).Draw(t, name+axis) }
	return r3.Vec{X: in(" x"), Y: in(" y"), Z: in(" z")}
}

// Whatever the angles: the body is rigid, its tube lies as the level says, the gauge along its pinion reads what was read, and there and back is where it
// was.
func TestStoodAsTheNumbersSay(t *testing.T) {
	const tol = 1e-9 // mm at 1 m and of sines: some thousand times round-off
	rapid.Check(t, func(t *rapid.T) {
		angle := func(name string, most float64) float64 { return rapid.Float64Range(-most, most).Draw(t, name) * rad }
		axis := r3.Vec{X: 1, Y: rapid.Float64Range(-0.05, 0.05).Draw(t, "aside"), Z: rapid.Float64Range(-0.3, 0.3).Draw(t, "nose")}
		pinion, tilt := angle("pinion", 60), angle("tilt", 20)
		up := r3.Vec{Z: 1}
		var s Stood
		var err error
		switch rapid.IntRange(0, 2).Draw(t, "how") {
		case 0:
			s, err = OnStands(axis, pinion, tilt)
			require.NoError(t, err)
			assert.InDelta(t, math.Sin(tilt), s.Ey.Z, tol)
			assert.InDelta(t, 0, s.Ey.X, tol)
		case 1:
			b, err := OnFloor(angle("rake", 10), angle("lean", 10))
			require.NoError(t, err)
			up = b.Up()
			left := r3.Vec{X: rapid.Float64Range(-100, 100).Draw(t, "left x"), Y: rapid.Float64Range(500, 800).Draw(t, "left y"), Z: 300}
			right := r3.Vec{X: 10, Y: -600, Z: rapid.Float64Range(150, 450).Draw(t, "right z")}
			s, err = ByEnds(left, right, axis, pinion, up)
			require.NoError(t, err)
			half := r3.Norm(r3.Sub(left, right)) / 2
			nearTo2(t, r3.Vec{Y: half}, s.ToRide(left), 1e-8)
			nearTo2(t, r3.Vec{Y: -half}, s.ToRide(right), 1e-8)
		default:
			rake, lean := angle("rake", 20), angle("lean", 20)
			s, err = OnFloor(rake, lean)
			require.NoError(t, err)
			assert.InDelta(t, math.Sin(rake), s.Ex.Z, tol)
			assert.InDelta(t, math.Sin(lean), s.Ey.Z, tol)
			assert.InDelta(t, 0, s.Ex.Y, tol)
			axis, pinion = r3.Vec{X: 1}, rake
		}
		n := r3.Unit(axis)
		nose := r3.Add(r3.Scale(n.X, s.Ex), r3.Add(r3.Scale(n.Y, s.Ey), r3.Scale(n.Z, s.Ez)))
		assert.InDelta(t, math.Sin(pinion), r3.Dot(nose, up), tol)
		for i, v := range []r3.Vec{s.Ex, s.Ey, s.Ez} {
			w := []r3.Vec{s.Ey, s.Ez, s.Ex}[i]
			assert.InDelta(t, 1, r3.Norm(v), tol)
			assert.InDelta(t, 0, r3.Dot(v, w), tol)
		}
		nearTo2(t, s.Ez, r3.Cross(s.Ex, s.Ey), tol)
		s.Ride = draw3(t, "ride", 500)
		p := draw3(t, "p", 1000)
		nearTo2(t, p, s.FromRide(s.ToRide(p)), tol)
	})
}

func nearTo2(t *rapid.T, want, got r3.Vec, tol float64) {
	t.Helper()
	assert.LessOrEqual(t, r3.Norm(r3.Sub(want, got)), tol, "%v, want %v", got, want)
}

// A pinion gauge off by 0.2 deg moves a place 300 from the tube by 300 * 0.2 deg, square to its arm; the tape's own is added as independent.
func TestPlusMinusOfTheGauge(t *testing.T) {
	s, err := OnStands(r3.Vec{X: 1}, 12*rad, 0)
	require.NoError(t, err)
	other, err := OnStands(r3.Vec{X: 1}, (12+GaugeOff)*rad, 0)
	require.NoError(t, err)
	p := s.FromRide(r3.Vec{X: 300})
	off := s.PlusMinus(p, r3.Vec{X: 1.5, Y: 1.5, Z: 1.5}, []Stood{other})
	assert.InDelta(t, 1.5, off.X, 1e-3)
	assert.InDelta(t, 1.5, off.Y, 1e-9)
	assert.InDelta(t, math.Hypot(1.5, 300*GaugeOff*rad), off.Z, 1e-4)
}

func TestStoodRefuses(t *testing.T) {
	for _, err := range []error{
		second(OnStands(r3.Vec{}, 0, 0)), second(OnStands(r3.Vec{X: 1}, 90*rad, 0)), second(OnStands(r3.Vec{X: 1}, 0, 50*rad)), second(OnStands(r3.Vec{X: 1}, math.NaN(), 0)),
		second(OnStands(r3.Vec{X: 1}, 80*rad, 40*rad)), second(OnStands(r3.Vec{Y: 1}, 0, 0)), second(ByEnds(r3.Vec{}, r3.Vec{}, r3.Vec{X: 1}, 0, r3.Vec{Z: 1})),
		second(ByEnds(r3.Vec{Y: -600}, r3.Vec{Y: 600}, r3.Vec{X: 1}, 0, r3.Vec{Z: 1})), second(ByEnds(r3.Vec{Y: 600}, r3.Vec{Y: -600}, r3.Vec{X: 1}, 0, r3.Vec{})),
		second(OnFloor(50*rad, 0)), second(OnFloor(0, math.NaN())), second(FloorOf(2, 0)), second(FloorOf(math.NaN(), 0)),
	} {
		var e *Error
		require.ErrorAs(t, err, &e)
		assert.Regexp(t, `\.$`, e.Words)
	}
}

func second[T any](_ T, err error) error { return err }

// Random stands, ends of tubes, floors and bodies against SciPy's Rotation with the angles found by Brent's method.
func TestStoodAgainstSciPy(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	vec := func(p [3]float64) r3.Vec { return r3.Vec{X: p[0], Y: p[1], Z: p[2]} }
	var cases []scipy.Stood
	var got []r3.Vec
	for i := range 120 {
		c := scipy.Stood{Point: [3]float64{in(-800, 800), in(-700, 700), in(-300, 700)}, Ride: [3]float64{in(-5, 5), in(-5, 5), in(350, 500)},
			Pinion: in(-70, 70), Rake: in(-8, 8), Lean: in(-8, 8), Fall: [2]float64{in(-0.03, 0.03), in(-0.03, 0.03)}, High: in(300, 900)}
		axis := [3]float64{1, in(-0.05, 0.05), in(-0.2, 0.2)}
		at := vec(c.Point)
		body, err := OnFloor(c.Rake*rad, c.Lean*rad)
		require.NoError(t, err)
		var s Stood
		switch i % 3 {
		case 0:
			tilt := in(-15, 15)
			c.Axis, c.Tilt = &axis, &tilt
			s, err = OnStands(vec(axis), c.Pinion*rad, tilt*rad)
		case 1:
			left, right := [3]float64{in(-80, 80), in(500, 700), in(150, 500)}, [3]float64{in(-80, 80), in(-700, -500), in(150, 500)}
			c.Axis, c.Left, c.Right = &axis, &left, &right
			s, err = ByEnds(vec(left), vec(right), vec(axis), c.Pinion*rad, body.Up())
		default:
			f, err := FloorOf(c.Fall[0], c.Fall[1])
			require.NoError(t, err)
			s = body
			s.At = f.Over(0, 0, c.High)
			at = f.Over(at.X, at.Y, at.Z)
		}
		require.NoError(t, err)
		s.Ride = vec(c.Ride)
		cases, got = append(cases, c), append(got, s.ToRide(at))
	}
	for i, want := range scipy.Rides(t, cases) {
		nearTo(t, vec(want), got[i], 1e-8) // mm: Brent's method to 1e-15 rad, twice round-off at 1 m
	}
}

package quantity

import (
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r3"
)

func cosDeg(d float64) float64 { return math.Cos(d / deg) }

// Any machine design text: tan(out) = tan(in) cos(beta), so one joint's ratio runs from cos(beta) to 1/cos(beta).
func TestOneCardanJoint(t *testing.T) {
	for beta, want := range map[float64]float64{5: 1.003820, 10: 1.015427, 15: 1.035276, 20: 1.064178, 30: 1.154701} {
		assert.InDelta(t, want, 1+fluctuation(cosDeg(beta), 1, 0), 5e-7)
		assert.InDelta(t, want, 1+fluctuation(1, cosDeg(beta), 0.7), 5e-7)
	}
}

// SDP/SI, Technical library, T62 (read).
func TestCardanOfT62(t *testing.T) {
	// 20 deg at 500 rpm: 469.85 to 532.1 rpm.
	one := 1 + fluctuation(cosDeg(20), 1, 0)
	assert.InDelta(t, 532.1, 500*one, 0.05)
	assert.InDelta(t, 469.85, 500/one, 0.005)
	// The wrongly phased pair: 441.5 to 566.25 rpm (computed 566.237).
	two := 1 + fluctuation(cosDeg(20), cosDeg(20), math.Pi/2)
	assert.InDelta(t, 566.237, 500*two, 0.0005)
	assert.InDelta(t, 441.5, 500/two, 0.05)
	// 1200 rpm in, 1251 to 1151 out: 16.42 deg (the page misprints 16.2).
	beta := 16.42
	assert.InDelta(t, 1251, 1200*(1+fluctuation(cosDeg(beta), 1, 0)), 0.2)
	assert.InDelta(t, 1151, 1200/(1+fluctuation(cosDeg(beta), 1, 0)), 0.2)
}

// Equal bends in one plane with yokes in line even out; in planes a quarter turn apart they add up.
func TestTwoCardanJoints(t *testing.T) {
	assert.Zero(t, fluctuation(cosDeg(7), cosDeg(7), 0))
	assert.InDelta(t, 0, fluctuation(cosDeg(7), cosDeg(7), math.Pi), 1e-15)
	c := cosDeg(7)
	assert.InDelta(t, 1/(c*c)-1, fluctuation(c, c, math.Pi/2), 1e-14)
	assert.True(t, math.IsNaN(fluctuation(0, 1, 0)))
	assert.True(t, math.IsNaN(fluctuation(cosDeg(20), cosDeg(100), 0)))
}

// The closed form against the shaft turned through its two joints a step at a time.
func TestFluctuationTurned(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for range 200 {
		c1, c2, phase := cosDeg(30*rng.Float64()), cosDeg(30*rng.Float64()), 7*rng.Float64()-3.5
		most := 0.0
		const n = 2000
		for i := range n {
			a := math.Pi * float64(i) / n
			out := math.Atan2(math.Sin(a)*c1, math.Cos(a))
			r1 := c1 / (1 - (1-c1*c1)*math.Sin(a)*math.Sin(a))
			b := out + math.Pi/2 + phase
			r2 := c2 / (1 - (1-c2*c2)*math.Sin(b)*math.Sin(b))
			most = math.Max(most, r1*r2)
		}
		assert.InDelta(t, most-1, fluctuation(c1, c2, phase), 1e-6)
		assert.GreaterOrEqual(t, fluctuation(c1, c2, phase), most-1-1e-12)
	}
}

// shaft evaluates a driveline whose shaft runs from the origin along -X, with the given axes at its ends.
func shaft(output, pinion r3.Vec, phase float64) *Values {
	m := &motion.Mechanism{Drive: motion.Driveline{
		Has: true, HasPinion: true, OutputAxis: r3.Unit(output), PinionAxis: r3.Unit(pinion), Pinion: r3.Vec{X: -900}, YokePhase: phase, Length: 900}}
	p := &motion.Pose{Ex: r3.Vec{X: 1}, Ey: r3.Vec{Y: 1}, Ez: r3.Vec{Z: 1}}
	var v Values
	driveline(m, p, &v)
	return &v
}

// onePiece are the values of a shaft of one piece with joints of the given angles, deg, and that phase error.
func onePiece(front, rear, phase float64) *Values {
	return &Values{ShaftFrontDeg: front, ShaftRearDeg: rear, ShaftPhase: phase, ShaftBearingDeg: math.NaN(), ShaftFrontPhase: math.NaN()}
}

// tilted is a direction along -X turned by deg in side and in plan view.
func tilted(side, plan float64) r3.Vec {
	return r3.Vec{X: -1, Y: math.Tan(plan / deg), Z: math.Tan(side / deg)}
}

// A joint maker's guide (read): 2.15 deg in one view and 2.50 deg in the other are together sqrt(2.15^2 + 2.50^2) = 3.3 deg.
func TestCompoundAngle(t *testing.T) {
	v := shaft(tilted(2.15, 2.50), r3.Vec{X: 1}, 0)
	assert.InDelta(t, 3.3, v.ShaftFrontDeg, 0.05)
	assert.InDelta(t, math.Hypot(2.15, 2.50), v.ShaftFrontDeg, 0.003)
	assert.Zero(t, v.ShaftRearDeg)
	assert.Zero(t, v.Slip)
}

// The true shaft directions set the phase: a Z and a U arrangement with equal angles even out, planes square to each other do not, and a yoke
// turned by the angle between the planes makes it good again.
func TestPhaseOfTrueDirections(t *testing.T) {
	out := tilted(8, 0)
	flat := func(v r3.Vec) r3.Vec { return r3.Scale(-1, v) }
	for _, rear := range []r3.Vec{out, tilted(-8, 0)} { // Z: both ends point the same way; U: mirrored
		v := shaft(out, flat(rear), 0)
		assert.InDelta(t, 8, v.ShaftRearDeg, 1e-12)
		assert.InDelta(t, 0, v.FluctuationPct, 1e-12)
		torsional, front, _ := Accelerations(v, 300)
		assert.InDelta(t, 0, torsional, 1e-9)
		assert.InDelta(t, 300*300*math.Pow(8/deg, 2), front, 1e-9)
	}
	square := shaft(out, flat(tilted(0, 8)), 0)
	assert.InDelta(t, math.Pi/2, math.Abs(square.ShaftPhase), 1e-12)
	c := cosDeg(8)
	assert.InDelta(t, 100*(1/(c*c)-1), square.FluctuationPct, 1e-12)
	made := shaft(out, flat(tilted(0, 8)), square.ShaftPhase)
	assert.InDelta(t, 0, made.FluctuationPct, 1e-12)
}

// Torsional w^2 |t1^2 - t2^2|, inertia w^2 t1^2 and w^2 t2^2, from memory of SAE AE-7. Its chart for 1500 rpm (read) gives, for joint 1 at 0 to
// 9 deg, the angle of joint 2 at which the torsional acceleration is 400 rad/s2 (derived; within 0.1 deg of the chart).
func TestAccelerationsOfAE7(t *testing.T) {
	const w = 1500 * 2 * math.Pi / 60
	for t1, t2 := range []float64{7.3, 7.4, 7.6, 7.9, 8.3, 8.9, 9.5, 10.1, 10.8, 11.6} {
		torsional := func(t2 float64) float64 {
			v := onePiece(float64(t1), t2, 0)
			a, front, rear := Accelerations(v, w)
			assert.InDelta(t, w*w*math.Pow(float64(t1)/deg, 2), front, 1e-9)
			assert.InDelta(t, w*w*math.Pow(t2/deg, 2), rear, 1e-9)
			return a
		}
		exact := math.Sqrt(float64(t1*t1) + 400/(w*w)*deg*deg)
		assert.InDelta(t, 400, torsional(exact), 1e-9)
		assert.InDelta(t, exact, t2, 0.1)
		assert.Less(t, torsional(t2-0.1), 400.0)
		assert.Greater(t, torsional(t2+0.1), 400.0)
	}
}

// A joint maker's angles by shaft speed for a single shaft (read down to 3500 rpm, below from memory): they come to 850 to 1030 rad/s2 of
// inertia.
func TestAccelerationsOfAJointMaker(t *testing.T) {
	for rpm, angle := range map[float64]float64{5000: 3.2, 4500: 3.7, 4000: 4.2, 3500: 5.0, 3000: 5.8, 2500: 7.0, 2000: 8.7, 1500: 11.5} {
		_, front, rear := Accelerations(onePiece(angle, angle, 0), rpm*2*math.Pi/60)
		assert.InDelta(t, 940, front, 91, "%v rpm", rpm)
		assert.Equal(t, front, rear)
	}
}

// With joints in planes apart the torsional acceleration is the difference of two arrows of length f^2 and r^2, twice the phase error apart.
func TestTorsionalOutOfPlane(t *testing.T) {
	v := onePiece(5, 3, 0.4)
	f, r := math.Pow(5/deg, 2), math.Pow(3/deg, 2)
	want := math.Hypot(f-r*math.Cos(0.8), r*math.Sin(0.8))
	got, _, _ := Accelerations(v, 100)
	assert.InDelta(t, 1e4*want, got, 1e-9)
}

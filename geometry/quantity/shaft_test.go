package quantity

import (
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r3"
)

// yokes is a driveshaft as its cross arms see it: the rearward directions of its shafts, and the turn of each shaft's rear yoke from its front one.
type yokes struct {
	dirs  []r3.Vec // output, the pieces, pinion
	turns []float64
}

// out is the angle of the last driven arm for an angle of the first driving arm, each about its own shaft; built of nothing but the cross arms: the
// two arms of a cross are square to each other, each square to its own shaft.
func (y *yokes) out(in float64) float64 {
	arm := r3.Rotate(across(y.dirs[0]), in, y.dirs[0])
	for i := 1; i < len(y.dirs); i++ {
		arm = r3.Unit(r3.Cross(y.dirs[i], arm))
		if i-1 < len(y.turns) {
			arm = r3.Rotate(arm, y.turns[i-1], y.dirs[i])
		}
	}
	last := y.dirs[len(y.dirs)-1]
	e := across(last)
	return math.Atan2(r3.Dot(arm, r3.Cross(last, e)), r3.Dot(arm, e))
}

// across is a direction square to d.
func across(d r3.Vec) r3.Vec { return r3.Unit(r3.Cross(d, r3.Vec{X: 0.1, Y: 0.3, Z: 1})) }

// most are the largest ratio of output to input speed, less one, and the largest acceleration for an input speed of 1 rad/s, by differences over
// half a turn.
func (y *yokes) most() (ratio, acceleration float64) {
	const n, h = 4000, 1e-4
	for i := range n {
		a := math.Pi * float64(i) / n
		turn := func(from, to float64) float64 { return math.Remainder(y.out(to)-y.out(from), 2*math.Pi) }
		up, down := turn(a, a+h), turn(a-h, a)
		ratio = math.Max(ratio, (up+down)/(2*h)-1)
		acceleration = math.Max(acceleration, math.Abs(up-down)/(h*h))
	}
	return ratio, acceleration
}

// twoPiece evaluates a driveline with a centre bearing whose pieces have the given rearward directions.
func twoPiece(output, front, rear, pinion r3.Vec, frontYokes, rearYokes, speed float64) *Values {
	bearing := r3.Scale(900, r3.Unit(front))
	m := &motion.Mechanism{Drive: motion.Driveline{
		Has: true, HasPinion: true, TwoPiece: true, Speed: speed,
		OutputAxis: r3.Unit(output), Bearing: bearing, Pinion: r3.Add(bearing, r3.Scale(1100, r3.Unit(rear))), PinionAxis: r3.Scale(-1, r3.Unit(pinion)),
		FrontYokePhase: frontYokes, YokePhase: rearYokes, Length: 1090,
	}}
	p := &motion.Pose{Ex: r3.Vec{X: 1}, Ey: r3.Vec{Y: 1}, Ez: r3.Vec{Z: 1}}
	var v Values
	driveline(m, p, &v)
	return &v
}

// Two and three joints in any planes with any yokes, against the cross arms turned a step at a time.
func TestFluctuationOfCrossArms(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	dir := func(most float64) r3.Vec { return r3.Unit(tilted(most*(2*rng.Float64()-1), most*(2*rng.Float64()-1))) }
	turn := func() float64 { return 7*rng.Float64() - 3.5 }
	for range 40 {
		out, front, rear, pinion := dir(15), dir(15), dir(15), dir(15)
		f, r := turn(), turn()
		v := twoPiece(out, front, rear, pinion, f, r, math.NaN())
		ratio, _ := (&yokes{[]r3.Vec{out, front, rear, pinion}, []float64{f, r}}).most()
		assert.InDelta(t, 100*ratio, v.FluctuationPct, 1e-4*(1+v.FluctuationPct))

		one := shaft(out, r3.Scale(-1, pinion), f)
		ratio, _ = (&yokes{[]r3.Vec{out, {X: -1}, pinion}, []float64{f}}).most()
		assert.InDelta(t, 100*ratio, one.FluctuationPct, 1e-4*(1+one.FluctuationPct))
	}
}

// The accelerations are of first order in the squares of the angles: for joints up to 6 deg within 3 %.
func TestAccelerationsOfCrossArms(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	dir := func() r3.Vec { return r3.Unit(tilted(6*rng.Float64()-3, 6*rng.Float64()-3)) }
	turn := func() float64 { return 7*rng.Float64() - 3.5 }
	const w = 300.0
	for range 40 {
		out, front, rear, pinion := dir(), dir(), dir(), dir()
		f, r := turn(), turn()
		v := twoPiece(out, front, rear, pinion, f, r, w)
		_, want := (&yokes{[]r3.Vec{out, front, rear, pinion}, []float64{f, r}}).most()
		biggest := w * w * (v.ShaftFrontDeg*v.ShaftFrontDeg + v.ShaftBearingDeg*v.ShaftBearingDeg + v.ShaftRearDeg*v.ShaftRearDeg) / (deg * deg)
		assert.InDelta(t, w*w*want, v.Torsional, 0.03*biggest)
		assert.InDelta(t, w*w*math.Pow(v.ShaftFrontDeg/deg, 2), v.InertiaFront, 1e-9)
		assert.InDelta(t, w*w*math.Pow(v.ShaftRearDeg/deg, 2), v.InertiaRear, 1e-9)
	}
}

// In the side view alone: the angles are differences of slopes, the rear piece slips, the front one does not count.
func TestTwoPieceShaftInOnePlane(t *testing.T) {
	v := twoPiece(tilted(2, 0), tilted(5, 0), tilted(-1, 0), tilted(3, 0), 0, 0, math.NaN())
	assert.InDelta(t, 3, v.ShaftFrontDeg, 1e-12)
	assert.InDelta(t, 6, v.ShaftBearingDeg, 1e-12)
	assert.InDelta(t, 4, v.ShaftRearDeg, 1e-12)
	assert.InDelta(t, 1100, v.ShaftLength, 1e-9)
	assert.InDelta(t, 10, v.Slip, 1e-9)
	assert.True(t, math.IsNaN(v.Torsional), "no speed chosen")
	// In one plane with yokes in line the joints' squares count against each other in turn: 9 - 36 + 16.
	torsional, front, rear := Accelerations(v, 100)
	assert.InDelta(t, 1e4*11/(deg*deg), torsional, 1e-9)
	assert.InDelta(t, 1e4*9/(deg*deg), front, 1e-9)
	assert.InDelta(t, 1e4*16/(deg*deg), rear, 1e-9)
	// With the front piece's yokes a quarter turn apart: 9 + 36 - 16.
	v = twoPiece(tilted(2, 0), tilted(5, 0), tilted(-1, 0), tilted(3, 0), math.Pi/2, 0, 100)
	assert.InDelta(t, 1e4*29/(deg*deg), v.Torsional, 1e-9)
}

// A piece in line with its neighbour adds no joint: the other two are a shaft of one piece.
func TestTwoPieceShaftWithAStraightJoint(t *testing.T) {
	a, b, c := tilted(3, 5), tilted(-4, 1), tilted(2, -6)
	same := func(what string, v *Values, first, second, phase float64) {
		assert.InDelta(t, 100*fluctuation(cosDeg(first), cosDeg(second), phase), v.FluctuationPct, 1e-10, what)
		want, _, _ := Accelerations(onePiece(first, second, phase), 200)
		got, _, _ := Accelerations(v, 200)
		assert.InDelta(t, want, got, 1e-7, what)
	}
	one := func(out, piece, pinion r3.Vec) float64 { // the phase of the two joints, by planes
		n1, n2 := r3.Cross(out, piece), r3.Cross(piece, pinion)
		return math.Atan2(r3.Dot(r3.Unit(piece), r3.Cross(n1, n2)), r3.Dot(n1, n2))
	}
	v := twoPiece(a, a, b, c, 0.3, 0.2, math.NaN())
	same("front", v, v.ShaftBearingDeg, v.ShaftRearDeg, one(a, b, c)-0.2)
	v = twoPiece(a, b, b, c, 0.3, 0.2, math.NaN())
	same("bearing", v, v.ShaftFrontDeg, v.ShaftRearDeg, one(a, b, c)-0.5-math.Pi/2)
	v = twoPiece(a, b, c, c, 0.3, 0.2, math.NaN())
	same("pinion", v, v.ShaftFrontDeg, v.ShaftBearingDeg, one(a, b, c)-0.3)
	v = twoPiece(a, a, a, a, 0.3, 0.2, math.NaN())
	assert.InDelta(t, 0, v.FluctuationPct, 1e-12)
}

// The joint maker's figures stand as they are printed, straight between, and nothing is said beyond them.
func TestPracticeJointAngle(t *testing.T) {
	for rpm, want := range map[float64]float64{1500: 11.5, 2000: 8.7, 2500: 7.0, 3000: 5.8, 3250: 5.4, 3500: 5.0, 4000: 4.2, 4500: 3.7, 4750: 3.45, 5000: 3.2} {
		got, ok := PracticeJointAngle(rpm)
		assert.True(t, ok, "%v rpm", rpm)
		assert.InDelta(t, want, got, 1e-12, "%v rpm", rpm)
	}
	for _, rpm := range []float64{1499, 5001, 0, -1, math.NaN(), math.Inf(1)} {
		_, ok := PracticeJointAngle(rpm)
		assert.False(t, ok, "%v rpm", rpm)
	}
	// What they come to (derived): 850 to 1030 rad/s2 of inertia.
	for _, row := range practiceAngles {
		w := row.rpm * 2 * math.Pi / 60
		assert.InDelta(t, 940, w*w*math.Pow(row.deg/deg, 2), 91, "%v rpm", row.rpm)
	}
}

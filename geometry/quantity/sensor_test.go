package quantity_test

import (
	"math"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// level is an axle on links that all run 900 mm forward, level at ride, the uppers converging: it goes up and down without turning or shifting
// sideways, and forward by 900 - sqrt(900^2 - z^2).
func level() *job.Job {
	return layout(2800, 800, pair("Lower", job.Point{900, 500, 330}, job.Point{0, 500, 330}),
		pair("Upper", job.Point{900, 480, 600}, job.Point{0, 120, 600}))
}

// forward is how far such an axle has come forward with both wheels up by z.
func forward(z float64) float64 { return 900 - math.Sqrt(900*900-z*z) }

func sensorOn(on string, lever, far job.Point) *job.Job {
	j := level()
	j.Sensors = []job.Sensor{{Name: "Height sensor", Shaft: job.Point{-300, 0, 640}, Axis: job.Point{0, 2, 0}, Lever: lever, Far: far, On: on}}
	return j
}

// The rod keeps its length, its end stays on its circle, and the lever is the turned one: in the plane of the shaft, by hand.
func TestSensorInOnePlane(t *testing.T) {
	j := sensorOn("", job.Point{-200, 0, 640}, job.Point{-200, 0, 480})
	for _, z := range []float64{-70, -40, 0, 25, 80} {
		v, _, _ := at(t, j, z, z)
		u := v.Sensors[0]
		require.True(t, u.Reached)
		far := r3.Vec{X: -200 + forward(z), Z: 480 + z}
		// Right-hand about +Y turns +X down: the lever's end is at 100 (cos t, -sin t) from the shaft.
		end := r3.Vec{X: -300 + 100*math.Cos(u.Turn), Z: 640 - 100*math.Sin(u.Turn)}
		rod := r3.Sub(far, end)
		assert.InDelta(t, 160, r3.Norm(rod), 1e-9, "at %v", z)
		back := r3.Sub(r3.Vec{X: -300, Z: 640}, end)
		assert.InDelta(t, math.Acos(r3.Dot(rod, back)/16000), u.RodAngle, 1e-9)
		assert.Less(t, u.Turn*z, 1e-9, "the rod up turns the lever's end up, which is left-hand about +Y")
		if z == 0 {
			assert.InDelta(t, 0, u.Turn, 1e-12)
			assert.InDelta(t, math.Pi/2, u.RodAngle, 1e-12)
		}
	}
}

// A parallelogram: the far end on a link of its own length and direction turns the lever with the link.
func TestSensorOnALink(t *testing.T) {
	j := sensorOn("Lower left", job.Point{-400, 0, 640}, job.Point{800, 500, 330})
	// The lever's end and the far end lie 100 behind shaft and link pivot; the shaft stands above and inboard of that pivot.
	j.Sensors[0].Shaft = job.Point{900, 400, 500}
	j.Sensors[0].Lever = job.Point{800, 400, 500}
	for _, z := range []float64{-80, 0, 60} {
		v, _, _ := at(t, j, z, z)
		assert.InDelta(t, math.Asin(z/900), v.Sensors[0].Turn, 1e-9, "the link's own angle")
		// The same on the pair's name, by a pair of sensors.
		k := j
		k.Sensors[0].Pair, k.Sensors[0].On = true, "Lower"
		both, _, _ := at(t, k, z, z)
		require.Len(t, both.Sensors, 2)
		assert.InDelta(t, math.Asin(z/900), both.Sensors[0].Turn, 1e-9)
		assert.InDelta(t, -math.Asin(z/900), both.Sensors[1].Turn, 1e-9, "about the mirrored axis")
		k.Sensors[0].Pair, k.Sensors[0].On = false, "Lower left"
	}
}

// Near straight the rod may flip the lever over, and beyond straight it cannot reach; the lever stays on its side all the way.
func TestSensorOverCentreAndOutOfReach(t *testing.T) {
	j := sensorOn("axle", job.Point{-200, 0, 640}, job.Point{-200, 0, 480})
	m, err := motion.Compile(j)
	require.NoError(t, err)
	s, v := m.NewSolver(), quantity.NewValues(m)
	load := quantity.Loads(j)[0]
	var p motion.Pose
	var r motion.Rates
	last, over, lost := 0.0, math.NaN(), math.NaN()
	for z := 0.0; z > -220; z-- {
		require.NoError(t, s.Solve(z, z, &p))
		require.NoError(t, s.Rates(&p, &r))
		quantity.Eval(m, &p, &r, &load, v)
		u := v.Sensors[0]
		if !u.Reached {
			assert.True(t, math.IsNaN(u.Turn) && math.IsNaN(u.RodAngle))
			assert.False(t, u.OverCentre())
			if math.IsNaN(lost) {
				lost = z
			}
			continue
		}
		require.True(t, math.IsNaN(lost), "once out of reach it stays so as the axle goes down")
		assert.GreaterOrEqual(t, u.Turn, last, "lever down")
		last = u.Turn
		if u.OverCentre() && math.IsNaN(over) {
			over = z
		}
	}
	// Out of reach where the far end is more than 100 + 160 mm from the shaft, at 100 ahead and 160 + 76 below about.
	away := func(z float64) float64 { return math.Hypot(100+forward(z), 160-z) }
	assert.Greater(t, away(lost), 260.0)
	assert.LessOrEqual(t, away(lost+1), 260.0)
	// Over-centre where the angle between lever and rod passes 160 deg: law of cosines.
	straight := math.Sqrt(100*100 + 160*160 - 2*100*160*math.Cos(160*math.Pi/180))
	assert.Greater(t, away(over), straight)
	assert.LessOrEqual(t, away(over+1), straight)
}

// A strut on a link: its foot moves with the link, its tilt is seen from there, and its ratio is the strut's own.
func TestStrutOnALink(t *testing.T) {
	j := level()
	j.Struts = []job.Strut{{Name: "Strut", Pair: true, Frame: job.Point{450, 500, 800}, Axle: job.Point{450, 500, 330}, On: "Lower"}}
	const z, h = 60.0, 1e-3
	v, _, _ := at(t, j, z, z)
	s, c := math.Sincos(math.Asin(z / 900))
	foot := r3.Vec{X: 900 - 450*c, Y: 500, Z: 330 + 450*s}
	up := r3.Sub(r3.Vec{X: 450, Y: 500, Z: 800}, foot)
	u := v.Struts[0]
	assert.InDelta(t, r3.Norm(up), u.Length, 1e-9)
	assert.InDelta(t, math.Atan2(math.Abs(up.X), up.Z), u.Lean, 1e-9)
	assert.InDelta(t, u.Lean, u.FrameTilt, 1e-9)
	// Seen from the link, which has turned by asin(z/900), bump turning its axle end up.
	assert.InDelta(t, math.Abs(math.Asin(z/900)-math.Atan2(up.X, up.Z)), u.AxleTilt, 1e-9)
	a, _, _ := at(t, j, z+h, z+h)
	b, _, _ := at(t, j, z-h, z-h)
	assert.InDelta(t, -(a.Struts[0].Length-b.Struts[0].Length)/(2*h), u.RatioHeave, 1e-7)
	assert.InDelta(t, 0.5, u.RatioHeave, 0.02, "half way along the link it does half the travel")
	v, _, _ = at(t, j, z, -z)
	a, _, _ = at(t, j, z+h, -z-h)
	b, _, _ = at(t, j, z-h, -z+h)
	for i, side := range []float64{1, -1} {
		assert.InDelta(t, -side*(a.Struts[i].Length-b.Struts[i].Length)/(2*h), v.Struts[i].RatioRoll, 1e-7)
	}
}

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

func number(v float64) *float64 { return &v }

func TestFreeMotionsAreNamed(t *testing.T) {
	for _, tc := range []struct {
		name  string
		links []job.Link
		want  string
	}{
		{"no Panhard rod", []job.Link{
			pair("Lower", job.Point{1000, 450, 420}, job.Point{30, 450, 330}), pair("Upper", job.Point{600, 380, 560}, job.Point{-10, 380, 540})},
			"Nothing stops the axle moving sideways. Add a Panhard rod, a Watt's linkage, or angle one pair of links. No figures till then."},
		{"only a torque arm missing", []job.Link{lowers, panhard},
			"Nothing stops the axle turning nose up and down. Add an upper link or a torque arm. No figures till then."},
		{"one lower link alone in front", []job.Link{
			bar("Lower", job.Point{1000, 0, 420}, job.Point{30, 0, 330}), bar("Upper", job.Point{600, 0, 560}, job.Point{-10, 0, 540}), panhard},
			"Nothing stops the axle steering. Add a link that runs along the vehicle on the other side, or spread the links. No figures till then."},
		{"rods across only", []job.Link{
			panhard, bar("Rear rod", job.Point{-400, 450, 300}, job.Point{-400, -450, 300})},
			"Nothing stops the axle moving fore and aft"},
		{"nothing at all", nil, "Nothing stops the axle moving sideways, moving fore and aft, turning nose up and down or steering."},
	} {
		t.Run(tc.name, func(t *testing.T) {
			e := refusal(t, layout(tc.links...))
			assert.Equal(t, motion.NotLocated, e.Kind)
			assert.Contains(t, e.Words, tc.want)
		})
	}
}

// Four links in place, but all through one line: counting them does not locate the axle.
func TestFourDependentLinks(t *testing.T) {
	e := refusal(t, layout(
		pair("Lower", job.Point{1000, 450, 420}, job.Point{0, 450, 420}),
		pair("Upper", job.Point{1000, 450, 520}, job.Point{0, 450, 520})))
	assert.Equal(t, motion.NotLocated, e.Kind)
	assert.Contains(t, e.Words, "moving sideways")
}

func TestPoorlyHeld(t *testing.T) {
	nearly := pair("Upper", job.Point{700, 380, 620}, job.Point{0, 345, 650})
	m := compile(t, pair("Lower", job.Point{1000, 500, 420}, job.Point{30, 500, 330}), nearly)
	assert.Less(t, m.Singular, 0.10)
	assert.Greater(t, m.Singular, 0.001)
	assert.Equal(t, "The axle is poorly held: little stops it moving sideways.", m.PoorlyHeld)
	p := m.Ride()
	assert.Equal(t, m.PoorlyHeld, m.PoorlyHeldAt(&p))

	m = compile(t, lowers, angled)
	assert.Greater(t, m.Singular, 0.10)
	assert.Empty(t, m.PoorlyHeld)
	p = m.Ride()
	assert.Empty(t, m.PoorlyHeldAt(&p))
	assert.LessOrEqual(t, p.Held, m.Singular*1.01)
	assert.GreaterOrEqual(t, 2*p.Held, m.Singular)
}

func TestLinksThatAreNone(t *testing.T) {
	e := refusal(t, layout(lowers, angled, bar("Stub", job.Point{100, 0, 500}, job.Point{100, 0, 500})))
	assert.Contains(t, e.Words, "Stub")
	e = refusal(t, &job.Job{})
	assert.Contains(t, e.Words, "no vehicle")
}

func TestOverLocated(t *testing.T) {
	assert.False(t, compile(t, lowers, angled).OverLocated)
	assert.False(t, compile(t, lowers, single, panhard).OverLocated)
	assert.True(t, compile(t, lowers, uppers, panhard).OverLocated)
}

func near(t *testing.T, want, got r3.Vec) {
	t.Helper()
	assert.InDelta(t, 0, r3.Norm(r3.Sub(want, got)), 1e-15, "want %v, got %v", want, got)
}

func TestBoltsAndBores(t *testing.T) {
	along := bar("Along", job.Point{1000, 300, 420}, job.Point{0, 500, 330})
	along.FrameEnd = &job.End{Kind: "bush", Bolt: &job.Point{0, 2, 0}}
	along.AxleEnd = &job.End{Kind: "ball", Bolt: &job.Point{0, 1, 0}}
	upright := bar("Upright", job.Point{0, 300, 900}, job.Point{0, 300, 400})
	plain := bar("Plain", job.Point{700, 0, 650}, job.Point{0, 0, 650})
	square, askew := true, false
	plain.FrameEnd = &job.End{Kind: "bush", Bolt: &job.Point{0.3, 1, 0}, Square: &square}
	plain.AxleEnd = &job.End{Kind: "stud", Bolt: &job.Point{0.3, 1, 0}, Square: &askew}
	twin := pair("Twin", job.Point{1000, 300, 420}, job.Point{0, 500, 330})
	twin.FrameEnd = &job.End{Kind: "bush", Bolt: &job.Point{0.2, 1, 0.1}}
	m := compile(t, along, upright, plain, twin, panhard)

	y := r3.Vec{Y: 1}
	u := r3.Unit(r3.Vec{X: -1000, Y: 200, Z: -90})
	near(t, y, m.Links[0].FrameEnd.Bolt) // made a unit vector
	near(t, y, m.Links[0].FrameEnd.Bore) // a bush's eye is set to its bolt
	near(t, r3.Unit(r3.Sub(y, r3.Scale(r3.Dot(y, u), u))), m.Links[0].AxleEnd.Bore)
	near(t, y, m.Links[1].FrameEnd.Bolt) // no bolt given, link upright: body Y
	near(t, r3.Vec{Y: 1}, m.Links[2].FrameEnd.Bore)
	near(t, m.Links[2].AxleEnd.Bolt, m.Links[2].AxleEnd.Bore)
	near(t, r3.Unit(r3.Vec{X: 0.2, Y: 1, Z: 0.1}), m.Links[3].FrameEnd.Bolt)
	near(t, r3.Unit(r3.Vec{X: 0.2, Y: -1, Z: 0.1}), m.Links[4].FrameEnd.Bolt) // the mirror, as written
	// No bolt given: the horizontal square to the link, u x e_z, worked out on each twin.
	near(t, r3.Unit(r3.Vec{X: 200, Y: 1000}), m.Links[3].AxleEnd.Bolt)
	near(t, r3.Unit(r3.Vec{X: -200, Y: 1000}), m.Links[4].AxleEnd.Bolt)

	bad := bar("Bad", job.Point{700, 0, 650}, job.Point{0, 0, 650})
	bad.FrameEnd = &job.End{Bolt: &job.Point{1, 0.1, 0}}
	e := refusal(t, layout(lowers, angled, bad))
	assert.Contains(t, e.Words, "Bad, frame end")
	assert.Contains(t, e.Words, "within 10 deg")
}

func TestStiffness(t *testing.T) {
	ends := func(frame, axle *job.End, tube *job.Tube) float64 {
		l := bar("Link", job.Point{1000, 0, 400}, job.Point{0, 0, 400})
		l.FrameEnd, l.AxleEnd, l.Tube = frame, axle, tube
		m := compile(t, lowers, angled, l)
		return 1 / m.Links[len(m.Links)-1].K
	}
	bush, ball := &job.End{Kind: "bush"}, &job.End{Kind: "ball"}
	given := &job.End{Kind: "bush", RadialStiffness: number(16000)}
	assert.InEpsilon(t, 1/10_000.+1/100_000., ends(bush, ball, nil), 1e-14)
	assert.InEpsilon(t, 1/16_000.+1/100_000., ends(given, nil, nil), 1e-14) // an end without a kind counts as a ball
	area := math.Pi / 4 * (50*50 - 40*40)
	assert.InEpsilon(t, 1/10_000.+1/10_000.+1000/(210_000*area), ends(bush, bush, &job.Tube{Outside: 50, Wall: number(5)}), 1e-14)
	solid := math.Pi / 4 * 30 * 30
	assert.InEpsilon(t, 2/100_000.+1000/(210_000*solid), ends(ball, ball, &job.Tube{Outside: 30}), 1e-14)

	m := compile(t, lowers, angled)
	require.True(t, m.Links[0].FrameEnd.StiffnessAssumed)
}

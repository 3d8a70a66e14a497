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

const deg = math.Pi / 180

// whole is a job with one of everything that stands on, or holds, something else.
func whole() *job.Job {
	clock := 12.0
	l := lowers
	l.FrameEnd, l.AxleEnd, l.Clock = &job.End{Kind: "bush"}, &job.End{Kind: "ball", Bolt: &job.Point{0, 1, 0}, Misalignment: number(20)}, &clock
	j := layout(l)
	a := aArm()
	a.AxleEnds[0].Misalignment = number(14)
	j.Arms = []job.Arm{a, radiusArms()}
	j.Rockers = []job.Rocker{watts("frame")}
	j.Struts = []job.Strut{
		{Name: "Strut", Pair: true, On: "Lower", Frame: job.Point{100, 480, 800}, Axle: job.Point{150, 490, 370}},
		{Name: "Bag", On: "Upper arm", Frame: job.Point{300, 0, 900}, Axle: job.Point{300, 0, 660}},
		{Name: "Damper", On: "Radius arm right", Frame: job.Point{300, -400, 900}, Axle: job.Point{300, -450, 440}},
		{Name: "Plain", Frame: job.Point{0, 300, 900}, Axle: job.Point{0, 300, 440}},
	}
	j.Sensors = []job.Sensor{{Name: "Sensor", Shaft: job.Point{-300, 380, 640}, Axis: job.Point{0, 2, 0}, Lever: job.Point{-200, 380, 640},
		Far: job.Point{-200, 420, 480}, On: "axle", Swing: &[2]float64{-45, 30}}}
	return j
}

func TestJointsAndDistancesAreListed(t *testing.T) {
	m, err := motion.Compile(whole())
	require.NoError(t, err)
	var joints, distances []string
	for i := range m.Joints {
		require.NotNil(t, m.Joints[i].End)
		joints = append(joints, m.Joints[i].Name)
	}
	for i := range m.Distances {
		distances = append(distances, m.Distances[i].Name)
	}
	assert.Equal(t, []string{
		"Lower left, frame end", "Lower left, axle end", "Lower right, frame end", "Lower right, axle end",
		"Upper arm, first frame end", "Upper arm, second frame end", "Upper arm, axle end",
		"Radius arm left, frame end", "Radius arm left, first axle end", "Radius arm left, second axle end",
		"Radius arm right, frame end", "Radius arm right, first axle end", "Radius arm right, second axle end",
		"Left rod, rocker end", "Left rod, far end", "Right rod, rocker end", "Right rod, far end",
	}, joints)
	assert.Equal(t, []string{"Lower left", "Lower right", "Upper arm, first bar", "Upper arm, second bar", "Left rod", "Right rod"}, distances)
	assert.Same(t, &m.Arms[0].AxleEnds[0], m.Joints[6].End)
	assert.Same(t, &m.Rockers[0].Rods[1].FarEnd, m.Joints[16].End)
	assert.InDelta(t, 14*deg, m.Joints[6].End.MisLimit, 1e-15)
}

// At ride everything is where the file says, whatever carries it.
func TestPlacesAtRide(t *testing.T) {
	j := whole()
	m, err := motion.Compile(j)
	require.NoError(t, err)
	p := m.Ride()
	want := []r3.Vec{{X: 150, Y: 490, Z: 370}, {X: 150, Y: -490, Z: 370}, {X: 300, Z: 660}, {X: 300, Y: -450, Z: 440}, {Y: 300, Z: 440}}
	on := []motion.On{motion.OnLink, motion.OnLink, motion.OnArm, motion.OnArm, motion.OnAxle}
	for i := range m.Struts {
		s := &m.Struts[i]
		assert.Equal(t, on[i], s.Foot.On, s.Name)
		assert.Less(t, r3.Norm(r3.Sub(want[i], m.At(&p, &s.Foot))), 1e-12, s.Name)
		assert.InDelta(t, s.Length, m.StrutLength(&p, i), 1e-12)
	}
	assert.Equal(t, 1, m.Struts[1].Foot.Index, "the right strut stands on the right link")
	assert.Equal(t, 2, m.Struts[3].Foot.Index)
	for i := range m.Rockers {
		for k := range m.Rockers[i].Rods {
			rod := &m.Rockers[i].Rods[k]
			assert.Less(t, r3.Norm(r3.Sub(j.Rockers[i].Rods[k].Rocker.Vec(), m.At(&p, &rod.Rocker))), 1e-12)
			assert.Less(t, r3.Norm(r3.Sub(j.Rockers[i].Rods[k].Far.Vec(), m.At(&p, &rod.Far))), 1e-12)
		}
		assert.Zero(t, m.RockerTurn(&p, i))
	}
	s := &m.Sensors[0]
	assert.Equal(t, r3.Vec{Y: 1}, s.Axis)
	assert.InDelta(t, math.Hypot(40, 160), s.Rod, 1e-12)
	assert.InDelta(t, -45*deg, s.SwingLo, 1e-15)
	assert.InDelta(t, 30*deg, s.SwingHi, 1e-15)
	assert.Less(t, r3.Norm(r3.Sub(r3.Vec{X: -200, Y: 420, Z: 480}, m.At(&p, &s.Far))), 1e-12)

	j.Struts[0].On = "Nothing"
	e := refusal(t, j)
	assert.Contains(t, e.Words, `Strut left stands on "Nothing"`)
}

// A turned axle end stands off its bolt by that turn already at ride, the other way on the twin.
func TestClock(t *testing.T) {
	m, err := motion.Compile(whole())
	require.NoError(t, err)
	p := m.Ride()
	var seat motion.Seat
	for i, way := range []float64{1, -1} {
		l := &m.Links[i]
		u := r3.Unit(r3.Sub(r3.Add(l.Axle, r3.Vec{Z: m.Radius}), l.Frame))
		b := l.AxleEnd.Bolt
		square := r3.Unit(r3.Sub(b, r3.Scale(r3.Dot(b, u), u)))
		turned := r3.NewRotation(way*12*deg, u).Rotate(square)
		assert.Less(t, r3.Norm(r3.Sub(turned, l.AxleEnd.Bore)), 1e-14)
		// A bush at the frame end has its way while the ball stays within its limit: the turn is all at the ball.
		m.LinkSeat(&p, i, &seat)
		assert.InDelta(t, 0, seat.Misalignment[0], 1e-9)
		assert.InDelta(t, 0, seat.Spin, 1e-9)
		assert.Greater(t, seat.Misalignment[1], 12*deg)
	}
}

// The bolts of an arm's ends unless given: an A-arm's on the line of its frame pivots and, at its point, level and square to the arm; a radius arm's straight
// across. Every bore lies on its bolt.
func TestArmBolts(t *testing.T) {
	j := whole()
	j.Arms[0].Frame = []job.Point{{650, 350, 600}, {600, -350, 640}}
	j.Arms[1].AxleEnds[1].Bolt = &job.Point{1, 1, 0}
	m, err := motion.Compile(j)
	require.NoError(t, err)
	line := r3.Unit(r3.Vec{X: -50, Y: -700, Z: 40})
	near(t, line, m.Arms[0].FrameEnds[0].Bolt)
	near(t, line, m.Arms[0].FrameEnds[1].Bolt)
	near(t, r3.Vec{Y: -1}, m.Arms[0].AxleEnds[0].Bolt)
	near(t, r3.Vec{Y: 1}, m.Arms[2].FrameEnds[0].Bolt)
	near(t, r3.Unit(r3.Vec{X: 1, Y: -1}), m.Arms[2].AxleEnds[1].Bolt)
	for i := range m.Joints {
		if m.Joints[i].Of == motion.OnArm {
			assert.Equal(t, m.Joints[i].End.Bolt, m.Joints[i].End.Bore)
		}
	}
}

func TestClevisLowersTheLimit(t *testing.T) {
	l := single
	c := &job.Clevis{Head: 30, HeadWidth: 12, BallWidth: 16}
	l.FrameEnd = &job.End{Kind: "ball", Misalignment: number(13), Clevis: c}
	l.AxleEnd = &job.End{Kind: "ball", Misalignment: number(3), Clevis: c}
	m := compile(t, lowers, l, panhard)
	assert.InDelta(t, c.Limit()*deg, m.Links[2].FrameEnd.MisLimit, 1e-15)
	assert.InDelta(t, 3*deg, m.Links[2].AxleEnd.MisLimit, 1e-15)
	l.FrameEnd.Misalignment = nil
	m = compile(t, lowers, l, panhard)
	assert.InDelta(t, c.Limit()*deg, m.Links[2].FrameEnd.MisLimit, 1e-15)
}

func TestTwoPieceShaft(t *testing.T) {
	j := layout(lowers, angled)
	j.Axle = &job.Axle{Pinion: &job.Joint{Joint: job.Point{300, 0, 430}, Axis: job.Point{1, 0, 0}}}
	j.Driveline = &job.Driveline{Output: &job.Joint{Joint: job.Point{2400, 0, 560}, Axis: job.Point{-1, 0, 0}}, YokePhase: 5}
	m, err := motion.Compile(j)
	require.NoError(t, err)
	assert.False(t, m.Drive.TwoPiece)
	assert.True(t, math.IsNaN(m.Drive.Speed))
	assert.InDelta(t, math.Hypot(2100, 130), m.Drive.Length, 1e-9)
	j.Driveline.Bearing = &job.Bearing{Joint: job.Point{1300, 0, 500}, YokePhase: 90}
	j.Driveline.Speed = number(3000)
	m, err = motion.Compile(j)
	require.NoError(t, err)
	assert.True(t, m.Drive.TwoPiece)
	assert.InDelta(t, math.Hypot(1000, 70), m.Drive.Length, 1e-9) // the rear piece slips
	assert.InDelta(t, 90*deg, m.Drive.FrontYokePhase, 1e-15)
	assert.InDelta(t, 100*math.Pi, m.Drive.Speed, 1e-12)
}

// Members that are none, and more than can be moved, are refused in words.
func TestMembersRefused(t *testing.T) {
	say := func(j *job.Job, kind motion.Kind, words string) {
		t.Helper()
		e := refusal(t, j)
		assert.Equal(t, kind, e.Kind)
		assert.Contains(t, e.Words, words)
	}
	j := layout(lowers)
	j.Arms = []job.Arm{{Name: "Odd", Frame: []job.Point{{0, 0, 0}}, Axle: []job.Point{{1, 1, 1}}}}
	say(j, motion.NotLocated, "Odd: two pivots on one side")
	a := aArm()
	a.Axle[0] = job.Point{650, 0, 620}
	j.Arms = []job.Arm{a}
	say(j, motion.NotLocated, "Upper arm: its three pivots lie in one line")
	a.Axle[0] = a.Frame[0]
	say(j, motion.NotLocated, "Upper arm: its two pivots lie in one place")
	j = layout(lowers, single)
	w := watts("axle")
	w.Rods = w.Rods[:1]
	j.Rockers = []job.Rocker{w}
	say(j, motion.NotLocated, "Watt's linkage: a Watt's linkage has two rods")
	w = watts("axle")
	w.Axis = job.Point{}
	j.Rockers = []job.Rocker{w}
	say(j, motion.NotLocated, "its bolt has no direction")
	j.Rockers = []job.Rocker{watts("axle"), watts("axle"), watts("axle"), watts("axle"), watts("axle")}
	say(j, motion.CannotMove, "5 Watt's linkages; at most 4")
	j = layout(panhard)
	j.Arms = []job.Arm{radiusArms(), radiusArms(), radiusArms()}
	say(j, motion.CannotMove, "6 radius arms; at most 4")
}

package study_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"axleloft/app/study"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// find is the first finding whose key starts so; nil where there is none.
func find(s *study.Study, key string) *study.Finding {
	for i := range s.Findings {
		if strings.HasPrefix(s.Findings[i].Key, key) {
			return &s.Findings[i]
		}
	}
	return nil
}

func live(t *testing.T, j *job.Job) *study.Study {
	t.Helper()
	require.Empty(t, job.Check(j))
	s := study.New(context.Background(), j, study.Live)
	require.Empty(t, s.Refusal)
	require.Empty(t, s.RangeNote)
	return s
}

// A height sensor whose lever is square to its rod at ride, both long beside the travel, has nothing to be said of it; a short lever may flip over, a
// shorter one cannot reach.
func TestSensorFindings(t *testing.T) {
	with := func(lever float64, swing *[2]float64) *study.Study {
		j := demo(t, "rescue-tender", "")
		// the far end below the lever's end, the rod upright, the lever level
		j.Sensors = []job.Sensor{{Name: "Height sensor", Shaft: job.Point{-300, 0, 700}, Axis: job.Point{0, 1, 0}, Lever: job.Point{-300 + lever, 0, 700},
			Far: job.Point{-300 + lever, 0, 460}, Swing: swing}}
		return live(t, j)
	}
	long := with(260, nil)
	assert.Nil(t, find(long, "sensor"))
	assert.False(t, long.Extents.Sensors[0].Lost)
	assert.Positive(t, long.Extents.Sensors[0].Straight.Min)

	f := find(with(260, &[2]float64{-10, 40}), "sensor swing/Height sensor")
	require.NotNil(t, f)
	assert.Equal(t, study.RunsOut, f.Kind)
	assert.Regexp(t, `^Height sensor: its lever turns \d+ deg, both wheels up; its shaft has 10 that way\.$`, f.Sentence)

	close := with(185, nil)
	f = find(close, "sensor angle/Height sensor")
	require.NotNil(t, f)
	assert.Equal(t, study.Outside, f.Kind)
	assert.Contains(t, f.Sentence, "common practice 40 to 140.")

	flips := with(125, nil)
	f = find(flips, "sensor/Height sensor")
	require.NotNil(t, f)
	assert.Equal(t, study.RunsOut, f.Kind)
	assert.Regexp(t, `^Height sensor: its rod comes within \d+ deg of straight with its lever, .*\. It may flip over\.$`, f.Sentence)
	u := &flips.At(f.Left, f.Right).Values[0].Sensors[0]
	assert.Less(t, math.Min(u.RodAngle, math.Pi-u.RodAngle), 20*math.Pi/180)

	short := with(60, nil)
	f = find(short, "sensor reach/Height sensor")
	require.NotNil(t, f)
	assert.Contains(t, f.Sentence, "Height sensor: its rod cannot reach, ")
	assert.False(t, short.At(f.Left, f.Right).Values[0].Sensors[0].Reached)
	assert.True(t, short.Extents.Sensors[0].Lost)
}

// Radius arms fight the axle when it crosses up, and it is told how far their bushes give and with what force.
func TestRadiusArmsFight(t *testing.T) {
	j := layouts(t)["radius-arms-panhard"]
	s := study.New(context.Background(), j, study.Live)
	f := find(s, "forced")
	require.NotNil(t, f)
	assert.Equal(t, study.RunsOut, f.Kind)
	assert.Equal(t, "These links and arms fight each other", f.What)
	assert.Regexp(t, `^These links and arms fight each other when crossed up, .* wheel up: radius arms at the axle give [\d.]+ mm, radius arms at the frame [\d.]+, .*; the largest force is [\d.]+ kN\. Only the bushes take it; with rod ends it would not move\.$`, f.Sentence)
	most, newton := 0.0, 0.0
	v := &s.At(f.Left, f.Right).Values[0]
	for i := range v.Arms {
		for k := range v.Arms[i].Gives {
			if v.Arms[i].Gives[k] > most {
				most, newton = v.Arms[i].Gives[k], v.Arms[i].GiveForces[k]
			}
		}
	}
	assert.InDelta(t, f.Value, most, 1e-9)
	assert.Positive(t, newton)
	j.Shown = &job.Shown{Length: "in", Force: "lbf"}
	assert.Regexp(t, `the largest force is \d+ lbf\.`, find(study.New(context.Background(), j, study.Live), "forced").Sentence)
	assert.Nil(t, find(study.New(context.Background(), demo(t, "orchard-sprayer", ""), study.Live), "forced"))
}

// An A-arm's ends and a Watt's rods bind like links: with tight limits they are named.
func TestEndsOfArmsAndRodsBind(t *testing.T) {
	one := 1.0
	j := layouts(t)["a-arm-lowers"]
	j.Arms[0].AxleEnds[0].Misalignment = &one
	f := find(study.New(context.Background(), j, study.Live), "joint/"+j.Arms[0].Name)
	require.NotNil(t, f)
	assert.Equal(t, study.RunsOut, f.Kind)
	assert.Regexp(t, `^A-arm, axle .*: tilts [\d.]+ of 1\.0 deg, .*\. It binds there\.$`, f.Sentence)
	j = layouts(t)["watts-on-axle"]
	rod := &j.Rockers[0].Rods[1]
	rod.FarEnd.Misalignment = &one
	f = find(study.New(context.Background(), j, study.Live), "joint/"+rod.Name)
	require.NotNil(t, f)
	assert.Contains(t, f.Sentence, rod.Name+", far ")
	assert.Contains(t, f.Sentence, "It binds there.")
}

// An upper link close to the lowers' level holds the nose ever less as the axle rises: where that becomes poor is said, with the motion.
func TestPoorlyHeldBeyond(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	upper := &j.Links[1]
	require.Equal(t, "Centre upper", upper.Name)
	upper.Frame[2] -= 248
	upper.Axle[2] -= 208
	s := study.New(context.Background(), j, study.Live)
	f := find(s, "held beyond")
	require.NotNil(t, f)
	assert.Equal(t, "The axle is poorly held beyond 83 mm of bump: little stops it turning nose up and down.", f.Sentence)
	assert.Equal(t, "both wheels up", f.Where)
	assert.True(t, f.Place)
	assert.Nil(t, find(s, "held/"))
	assert.Nil(t, find(study.New(context.Background(), demo(t, "orchard-sprayer", ""), study.Live), "held"))
}

// At a shaft speed the joint maker's figures are told, with whose they are; without one nothing is said.
func TestShaftAtSpeed(t *testing.T) {
	j := demo(t, "survey-wagon", "")
	assert.Nil(t, find(live(t, j), "shaft"))
	rpm := 4800.0
	j.Driveline.Speed = &rpm
	s := live(t, j)
	f := find(s, "shaft angle")
	require.NotNil(t, f)
	assert.Equal(t, study.Outside, f.Kind)
	assert.Equal(t, "Driveshaft: 5.1 deg at a joint, raised, at 4800 rev/min; joint maker's figures: at most 3.4.", f.Sentence) // 3.7 - 0.6 (3.7 - 3.2)
	f = find(s, "shaft inertia")
	require.NotNil(t, f)
	w, b := rpm*math.Pi/30, 5.10640*math.Pi/180
	assert.InDelta(t, w*w*b*b, f.Value, 1)
	assert.Contains(t, f.Sentence, "a joint maker's advice is at most 1000.")
	require.NotNil(t, find(s, "shaft torsional"))
	assert.Contains(t, find(s, "shaft torsional").Sentence, "a joint maker's advice is at most 300 (a chart in the manner of SAE AE-7: 400).")
	assert.NotEmpty(t, s.Curves("shaftacc", "both"))
	assert.Greater(t, s.Extents.InertiaFront.Max, f.Value) // further down than the lowest height
}

// The joint behind a centre bearing counts like the others.
func TestJointAtTheCentreBearing(t *testing.T) {
	j := layouts(t)["two-piece-shaft"]
	s := study.New(context.Background(), j, study.Live)
	require.True(t, s.Extents.ShaftBearing.Known())
	limit := s.Extents.ShaftBearing.Max - 0.05
	j.Driveline.JointLimit = &limit
	s = study.New(context.Background(), j, study.Live)
	f := find(s, "shaft joint/centre bearing")
	require.NotNil(t, f)
	assert.Contains(t, f.Sentence, "Driveshaft, centre bearing joint: bends ")
	assert.Len(t, s.Curves("joints", "both"), 3)
}

// A hose's shortest span is told beside its longest.
func TestLineAtItsShortest(t *testing.T) {
	j := demo(t, "survey-wagon", "")
	length := 330.0
	j.Lines[0].Length = &length
	f := find(live(t, j), "line/Brake hose")
	require.NotNil(t, f)
	assert.Contains(t, f.Sentence, "Brake hose: longest reach 307 mm, both wheels down. Common practice is 10 % more: 338. You have 330. Check with wheels on.")
	assert.Contains(t, f.Sentence, " At its shortest, both wheels up, it spans 151: see that it does not kink.")
}

// Roll steer that goes the other way at another height is said with both figures.
func TestRollSteerTurnsOver(t *testing.T) {
	f := find(live(t, demo(t, "rescue-tender", "")), "rollsteer turns/lowered")
	require.NotNil(t, f)
	assert.Equal(t, study.Outside, f.Kind)
	assert.Equal(t, "Roll steer turns toward understeer lowered, 2.8 %; at ride it is 1.2 % toward oversteer.", f.Sentence)
	assert.Equal(t, 40.0, f.Left)
	assert.Nil(t, find(live(t, demo(t, "survey-wagon", "")), "rollsteer turns"))
}

// A strut's tilt limit counts, and one without it has common practice said of it only.
func TestStrutTilt(t *testing.T) {
	j := demo(t, "rescue-tender", "")
	limit := 2.0
	j.Struts[0].Tilt = &limit
	f := find(live(t, j), "tilt/Strut")
	require.NotNil(t, f)
	assert.Equal(t, study.RunsOut, f.Kind)
	assert.Regexp(t, `: its ends turn [\d.]+ of 2\.0 deg, `, f.Sentence)
}

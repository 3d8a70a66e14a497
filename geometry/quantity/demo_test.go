package quantity_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type demoPose struct {
	Left, Right, X, Y, Steer, Squareness, Pinion, AntiSquatFull, AntiSquatEmpty, AntiLift float64
	RollCentre, RollSteer, JointFront, JointRear, Slip, Fluctuation, WorstBind            float64
	WorstAt                                                                               string
}

type demoRange struct {
	Bump, Droop     float64
	LeftUp, RightUp [2]float64
}

func demo(t testing.TB, name string) (*job.Job, []demoPose) {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	b, err := os.ReadFile("../../testdata/demos/figures.json")
	require.NoError(t, err)
	var all map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(b, &all))
	var f struct {
		Poses []demoPose
		Range demoRange
	}
	require.NoError(t, json.Unmarshal(all[name], &f))
	require.NotEmpty(t, f.Poses)
	for i := range f.Poses {
		f.Range.sharpen(&f.Poses[i])
	}
	return j, f.Poses
}

// sharpen gives a pose at an end or a corner of the range, printed there to 0.1 mm, the travels the range is printed with, to 0.001 mm.
func (r *demoRange) sharpen(p *demoPose) {
	for _, w := range [][2]float64{{r.Bump, r.Bump}, {-r.Droop, -r.Droop}, r.LeftUp, r.RightUp} {
		if math.Abs(w[0]-p.Left) < 0.051 && math.Abs(w[1]-p.Right) < 0.051 {
			p.Left, p.Right = w[0], w[1]
		}
	}
}

// Figures of an independent calculation out of the definitions: half a unit of the last printed digit, and a little for the 0.0005 mm to which
// the travels at the ends and corners of the range are known.
func TestDemoQuantities(t *testing.T) {
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			j, poses := demo(t, name)
			m, err := motion.Compile(j)
			require.NoError(t, err)
			s := m.NewSolver()
			loads := quantity.Loads(j)
			v := quantity.NewValues(m)
			for _, w := range poses {
				var p motion.Pose
				var r motion.Rates
				require.NoError(t, s.Solve(w.Left, w.Right, &p))
				require.NoError(t, s.Rates(&p, &r))
				near := func(what string, want, got, digit float64) {
					assert.InDelta(t, want, got, digit*0.55+5e-5, "%s at %v, %v", what, w.Left, w.Right)
				}
				quantity.Eval(m, &p, &r, &loads[0], v)
				near("anti-squat empty", w.AntiSquatEmpty, v.AntiSquatPct, 0.01)
				quantity.Eval(m, &p, &r, &loads[1], v)
				near("x", w.X, v.X, 0.001)
				near("y", w.Y, v.Y, 0.001)
				near("steer", w.Steer, v.SteerDeg, 0.0001)
				near("squareness", w.Squareness, v.Squareness, 0.01)
				near("pinion", w.Pinion, v.PinionDeg, 0.0001)
				near("anti-squat full", w.AntiSquatFull, v.AntiSquatPct, 0.01)
				near("anti-lift", w.AntiLift, v.AntiLiftPct, 0.01)
				near("roll centre", w.RollCentre, v.RollCentre, 0.01)
				near("roll steer", w.RollSteer, v.RollSteerPct, 0.001)
				near("front joint", w.JointFront, v.ShaftFrontDeg, 0.001)
				near("rear joint", w.JointRear, v.ShaftRearDeg, 0.001)
				near("slip", w.Slip, v.Slip, 0.001)
				near("fluctuation", w.Fluctuation, v.FluctuationPct, 0.0001)
				near("worst bind", w.WorstBind, v.WorstBind, 0.001)
				assert.Equal(t, w.WorstAt, quantity.WorstName(m, v), "worst joint at %v, %v", w.Left, w.Right)
			}
		})
	}
}

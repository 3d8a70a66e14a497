package quantity_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"strings"
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

func demo(t testing.TB, name string) (*job.Job, []demoPose) {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	b, err := os.ReadFile("../../testdata/demos/figures.json")
	require.NoError(t, err)
	var all map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(b, &all))
	var f struct{ Poses []demoPose }
	require.NoError(t, json.Unmarshal(all[name], &f))
	require.NotEmpty(t, f.Poses)
	return j, f.Poses
}

// Figures of an independent calculation: half a unit of the last printed digit, and where the travels themselves are printed to 0.1 mm
// (the range's corners and ends), what 0.05 mm of travel makes.
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
				loose := 1.0
				if math.Mod(w.Left, 5) != 0 || math.Mod(w.Right, 5) != 0 {
					loose = 40
				}
				near := func(what string, want, got, digit float64) {
					assert.InDelta(t, want, got, digit*0.52*loose, "%s at %v, %v", what, w.Left, w.Right)
				}
				quantity.Eval(m, &p, &r, &loads[0], v)
				near("anti-squat empty", w.AntiSquatEmpty, v.AntiSquatPct, 0.01)
				quantity.Eval(m, &p, &r, &loads[1], v)
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
				// Twins share their use in straight travel: which of the two is named is then round-off's choice.
				side := strings.NewReplacer(" left", "", " right", "")
				assert.Equal(t, side.Replace(w.WorstAt), side.Replace(quantity.WorstName(m, v)), "worst joint at %v, %v", w.Left, w.Right)
			}
		})
	}
}

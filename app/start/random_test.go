package start

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Six numbers at random. Of those a vehicle may have, nearly all give a job, and one whose figures make sense; of any the dialog takes, each
// gives a job that works or a refusal in words.
func TestSixNumbersAtRandom(t *testing.T) {
	plausible := func(r *rand.Rand) Six {
		u := func(lo, hi float64) float64 { return math.Round(lo + (hi-lo)*r.Float64()) }
		s := Six{Track: u(1150, 2150)}
		s.Tyre.LoadedRadius = u(0.19*s.Track, 0.29*s.Track)
		s.Wheelbase = u(math.Max(1800, 1.5*s.Track), 3*s.Track)
		s.Bump = u(math.Max(20, 0.12*s.Tyre.LoadedRadius), 0.4*s.Tyre.LoadedRadius)
		s.Droop = u(math.Max(20, 0.12*s.Tyre.LoadedRadius), 0.45*s.Tyre.LoadedRadius)
		return s
	}
	any := func(r *rand.Rand) Six {
		u := func(lo, hi float64) float64 { return math.Round(lo + (hi-lo)*r.Float64()) }
		return Six{Wheelbase: u(1800, 8000), Track: u(1000, 2600), Tyre: Tyre{LoadedRadius: u(200, 800)}, Bump: u(20, 300), Droop: u(20, 300)}
	}
	many := 100
	if testing.Short() {
		many = 10
	}
	for l, words := range Layouts() {
		t.Run(words, func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(1, uint64(l)))
			for _, draw := range []struct {
				name string
				six  func(*rand.Rand) Six
				most int // refused, of a hundred
			}{{"plausible", plausible, 1}, {"any", any, 50}} {
				refused := 0
				for range many {
					s := draw.six(r)
					s.Layout = Layout(l)
					j, err := Make(s)
					if err != nil {
						refused++
						assert.Regexp(t, `^[A-Z].*\.$`, err.Error())
						continue
					}
					assert.Empty(t, trouble(t, j, s), "%v", s)
					if draw.name == "plausible" {
						assert.Empty(t, sense(t, j, s), "%v", s)
					}
				}
				t.Logf("%s: %d of %d refused", draw.name, refused, many)
				if !testing.Short() { // few draws say nothing of a share
					assert.LessOrEqual(t, refused*100, draw.most*many, draw.name)
				}
			}
		})
	}
}

// sense tells what of a job's figures at ride height is out of the ordinary.
func sense(t *testing.T, j *job.Job, s Six) (list []string) {
	m, err := motion.Compile(j)
	require.NoError(t, err)
	ride := m.Ride()
	var rates motion.Rates
	require.NoError(t, m.NewSolver().Rates(&ride, &rates))
	v := quantity.NewValues(m)
	loads := quantity.Loads(j)
	for i, most := range []float64{120, 100} { // empty, full load
		quantity.Eval(m, &ride, &rates, &loads[i], v)
		if !(v.AntiSquatPct >= 50 && v.AntiSquatPct <= most) {
			list = append(list, fmt.Sprintf("anti-squat %.0f, %s", v.AntiSquatPct, loads[i].Name))
		}
	}
	if !(v.RollSteerPct >= -5 && v.RollSteerPct <= 5.5) {
		list = append(list, fmt.Sprintf("roll steer %.1f", v.RollSteerPct))
	}
	if !(math.Abs(v.ShaftFrontDeg-v.ShaftRearDeg) < 0.1 && v.ShaftFrontDeg < 3) {
		list = append(list, "driveshaft joints unlike")
	}
	return list
}

// trouble tells what does not work in a job over its range.
func trouble(t *testing.T, j *job.Job, s Six) (list []string) {
	require.Empty(t, job.Check(j))
	m, err := motion.Compile(j)
	require.NoError(t, err)
	if m.PoorlyHeld != "" || m.Singular < 0.15 || m.OverLocated != s.Layout.overLocated() {
		list = append(list, fmt.Sprintf("held by %.3f, %v", m.Singular, m.OverLocated))
	}
	rg, err := limits.Find(m, 16)
	require.NoError(t, err)
	require.True(t, rg.Bounded)
	if !(math.Abs(rg.Bump-s.Bump-1) <= 1 && math.Abs(rg.Droop-s.Droop-1) <= 1) { // what was asked, and a little more
		list = append(list, fmt.Sprintf("range %.1f up, %.1f down", rg.Bump, rg.Droop))
	}
	for i := range rg.Edge {
		switch rg.Edge[i].Cause {
		case limits.StrutClosed, limits.StrutOpen, limits.NoAssembly:
			return append(list, rg.Edge[i].Cause.String())
		}
	}
	c, err := clearance.Compile(j, m)
	require.NoError(t, err)
	scratch := c.NewScratch()
	solver := m.NewSolver()
	v := quantity.NewValues(m)
	loads := quantity.Loads(j)
	var pose motion.Pose
	var rates motion.Rates
	var gap clearance.Gap
	for i := -3; i <= 3; i++ {
		apart := s.Track / 2 * math.Sin(float64(i)/3**j.Travel.Articulation*math.Pi/180)
		for k := 0; k <= 8; k++ {
			h := -s.Droop + (s.Bump+s.Droop)*float64(k)/8
			if i != 0 && !rg.Contains(h+apart, h-apart) {
				continue
			}
			at := fmt.Sprintf(" at %.0f, %.0f", h+apart, h-apart)
			if err := solver.Solve(h+apart, h-apart, &pose); err != nil {
				return append(list, err.Error()+at)
			}
			if words := m.PoorlyHeldAt(&pose); words != "" {
				return append(list, words+at)
			}
			require.NoError(t, solver.Rates(&pose, &rates))
			quantity.Eval(m, &pose, &rates, &loads[0], v)
			switch d := j.Driveline; {
			case !(v.WorstBind < 1):
				return append(list, quantity.WorstName(m, v)+at)
			case !(math.Max(v.ShaftFrontDeg, v.ShaftRearDeg) < *d.JointLimit && v.Slip > -d.Slip.In && v.Slip < d.Slip.Out):
				return append(list, "driveshaft"+at)
			case !(v.Lines[0] < *j.Lines[0].Length):
				return append(list, "hose"+at)
			}
			scratch.Place(&pose, v.Links)
			for n, pair := range c.Pairs {
				if scratch.AtLeast(n) >= pair.Required {
					continue
				}
				if scratch.Gap(n, &gap); gap.Gap < pair.Required {
					return append(list, c.Parts[pair.A].Name+" / "+c.Parts[pair.B].Name+at)
				}
			}
		}
	}
	return list
}

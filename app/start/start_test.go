package start

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestUsualNumbersMakeAJobOfGuesses(t *testing.T) {
	for l := range Layouts() {
		s := Usual()
		s.Layout = Layout(l)
		j, err := Make(s)
		require.NoError(t, err)
		c := edit.Measured(j)
		assert.Zero(t, c.Known, "every value is a guess")
		assert.Positive(t, c.Total)
		var b bytes.Buffer
		require.NoError(t, job.Write(&b, j))
		_, err = job.Read(&b)
		require.NoError(t, err)
		again, err := Make(s)
		require.NoError(t, err)
		assert.Equal(t, j, again, "the same numbers give the same job")
	}
}

// A sweep of plausible vehicles: each must move through what was asked, be well held, have sane anti-squat and touch nothing.
func TestEveryPlausibleVehicleWorks(t *testing.T) {
	n := 0
	for _, layout := range []Layout{FourLink, ThreeLink, FiveLink} {
		for _, wheelbase := range []float64{2200, 3300, 5000} {
			for _, track := range []float64{1300, 1600, 2100} {
				for _, radius := range []float64{300, 400, 560} {
					for _, travel := range [][2]float64{{50, 50}, {180, 50}, {50, 180}, {110, 120}, {180, 180}} {
						s := Six{Wheelbase: wheelbase, Track: track, Tyre: Tyre{LoadedRadius: radius}, Bump: travel[0], Droop: travel[1], Layout: layout}
						if n++; testing.Short() && n%7 != 0 {
							continue
						}
						t.Run(fmt.Sprintf("%d %.0f %.0f %.0f %v", layout, wheelbase, track, radius, travel), func(t *testing.T) { works(t, s) })
					}
				}
			}
		}
	}
}

func works(t *testing.T, s Six) {
	j, err := Make(s)
	require.NoError(t, err)
	m, err := motion.Compile(j)
	require.NoError(t, err)
	assert.Empty(t, m.PoorlyHeld)
	assert.Equal(t, s.Layout == FiveLink, m.OverLocated)
	solver := m.NewSolver()
	var pose motion.Pose
	var rates motion.Rates
	v := quantity.NewValues(m)
	c, err := clearance.Compile(j, m)
	require.NoError(t, err)
	scratch := c.NewScratch()
	loads := quantity.Loads(j)
	require.NoError(t, solver.Solve(0, 0, &pose))
	require.NoError(t, solver.Rates(&pose, &rates))
	for i := range loads {
		quantity.Eval(m, &pose, &rates, &loads[i], v)
		assert.GreaterOrEqual(t, v.AntiSquatPct, 50.0, loads[i].Name)
		assert.LessOrEqual(t, v.AntiSquatPct, 100.0, loads[i].Name)
		assert.InDelta(t, 0.5, v.RollSteerPct, 5, "near neutral at ride height")
	}
	limit := 90.0
	if j.Travel != nil {
		limit = *j.Travel.Articulation
	}
	rg, err := limits.Find(m, 16)
	require.NoError(t, err)
	require.True(t, rg.Bounded)
	assert.InDelta(t, s.Bump+1, rg.Bump, 1, "what was asked, and a little more")
	assert.InDelta(t, s.Droop+1, rg.Droop, 1)
	var gap clearance.Gap
	for i := -4; i <= 4; i++ {
		for k := 0; k <= 8; k++ {
			apart := s.Track / 2 * math.Sin(float64(i)/4*mostCrossed*math.Pi/180)
			h := -s.Droop + (s.Bump+s.Droop)*float64(k)/8
			err := solver.Solve(h+apart, h-apart, &pose)
			if i == 0 {
				require.NoError(t, err, "both wheels at %v", h)
				require.True(t, within(m, &pose), "both wheels at %v", h)
			}
			if err != nil || !within(m, &pose) || math.Abs(pose.Alpha)*180/math.Pi > limit {
				continue
			}
			require.NoError(t, solver.Rates(&pose, &rates))
			quantity.Eval(m, &pose, &rates, &loads[0], v)
			assert.Less(t, v.WorstBind, 1.0, "%s at %v, %v", quantity.WorstName(m, v), pose.Left, pose.Right)
			assert.Less(t, math.Max(v.ShaftFrontDeg, v.ShaftRearDeg), *j.Driveline.JointLimit)
			assert.Greater(t, v.Slip, -j.Driveline.Slip.In)
			assert.Less(t, v.Slip, j.Driveline.Slip.Out)
			assert.Less(t, v.Lines[0], *j.Lines[0].Length)
			scratch.Place(&pose, v.Links)
			for n, pair := range c.Pairs {
				scratch.Gap(n, &gap)
				require.GreaterOrEqual(t, gap.Gap, pair.Required, "%s / %s at %.0f, %.0f", c.Parts[pair.A].Name, c.Parts[pair.B].Name, pose.Left, pose.Right)
			}
		}
	}
}

func TestNonsenseIsRefusedInWords(t *testing.T) {
	for name, change := range map[string]func(*Six){
		"wheelbase":   func(s *Six) { s.Wheelbase = 330 },
		"track":       func(s *Six) { s.Track = math.NaN() },
		"tyre":        func(s *Six) { s.Tyre.LoadedRadius = 0 },
		"bump":        func(s *Six) { s.Bump = -100 },
		"droop":       func(s *Six) { s.Droop = math.Inf(1) },
		"radius":      func(s *Six) { s.Tyre.LoadedRadius = 750; s.Track = 1300 },
		"layout":      func(s *Six) { s.Layout = 9 },
		"wide":        func(s *Six) { s.Tyre.Width = 700; s.Track = 1300 },
		"bump of 290": func(s *Six) { s.Bump = 290 },
	} {
		s := Usual()
		change(&s)
		_, err := Make(s)
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), name)
		assert.Regexp(t, `\.$`, err.Error())
	}
}

func TestTyresAsTyped(t *testing.T) {
	// 215/65R15: free radius 15*25.4/2 + 215*0.65 = 330.25 mm
	for text, want := range map[string]Tyre{
		"420":           {LoadedRadius: 420},
		"16 1/2 in":     {LoadedRadius: 419.1},
		"215/65R15":     {LoadedRadius: 317, FreeRadius: 330, Width: 215},
		" 265/75 r16 ":  {LoadedRadius: 386, FreeRadius: 402, Width: 265},
		"LT265/75R16":   {LoadedRadius: 386, FreeRadius: 402, Width: 265},
		"215/75R17,5":   {LoadedRadius: 368, FreeRadius: 384, Width: 215},
		"33x12.50R15":   {LoadedRadius: 402, FreeRadius: 419, Width: 318},
		"33X12,5-15 LT": {LoadedRadius: 402, FreeRadius: 419, Width: 318},
	} {
		got, err := ParseTyre(text, "mm")
		require.NoError(t, err, text)
		assert.InDelta(t, want.LoadedRadius, got.LoadedRadius, 0.51, text)
		assert.InDelta(t, want.FreeRadius, got.FreeRadius, 0.51, text)
		assert.InDelta(t, want.Width, got.Width, 0.51, text)
	}
	got, err := ParseTyre("16.5", "in")
	require.NoError(t, err)
	assert.InDelta(t, 419.1, got.LoadedRadius, 1e-9)
	for _, bad := range []string{"", "round", "20", "5000", "15x10R16", "265/75", "999/99R99"} {
		_, err := ParseTyre(bad, "mm")
		assert.Error(t, err, bad)
	}
}

// The study of a job just started: nothing hits, nothing runs out, nothing is out of reach.
func TestAJobJustStartedHasNothingToRepair(t *testing.T) {
	for l := range Layouts() {
		for _, change := range []func(*Six){
			func(*Six) {},
			func(s *Six) { s.Wheelbase, s.Track, s.Tyre = 2200, 1300, Tyre{LoadedRadius: 300} },
			func(s *Six) {
				s.Wheelbase, s.Track, s.Tyre, s.Bump, s.Droop = 5000, 2100, Tyre{LoadedRadius: 560}, 180, 180
			},
		} {
			s := Usual()
			s.Layout = Layout(l)
			change(&s)
			j, err := Make(s)
			require.NoError(t, err)
			st := study.New(context.Background(), j, study.Full)
			require.Empty(t, st.Refusal)
			require.True(t, st.Bounded(), st.RangeNote)
			assert.Empty(t, st.Both.Note)
			for i := range st.Findings {
				f := &st.Findings[i]
				if s.Layout == FiveLink && strings.Contains(f.Sentence, "fight each other") {
					continue // what this layout is
				}
				assert.NotContains(t, []study.Kind{study.Hits, study.RunsOut, study.Tight}, f.Kind, f.Sentence)
			}
		}
	}
}

package study_test

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"axleloft/app/study"
	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// layouts are the invented jobs of every layout.
func layouts(t testing.TB) map[string]*job.Job {
	t.Helper()
	files, err := filepath.Glob("../../testdata/layouts/*.axleloft")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	out := map[string]*job.Job{}
	for _, f := range files {
		r, err := os.Open(f)
		require.NoError(t, err)
		j, err := job.Read(r)
		r.Close()
		require.NoError(t, err, f)
		j, err = j.WithTrial("")
		require.NoError(t, err)
		out[strings.TrimSuffix(filepath.Base(f), ".axleloft")] = j
	}
	return out
}

// neverOnScreen are words the screen does not use.
var neverOnScreen = regexp.MustCompile(`(?i)\b(safe|legal|approved|compliant|guaranteed|pass|pose|envelope|utilisation|heave|misalignment|verdict|variant|underlay|ghost|NaN|Inf)\b`)

// Every layout is worked out; what is said of it is said in words, and its extremes hold: no position of the range drawn at random goes beyond them.
func TestEveryLayout(t *testing.T) {
	positions := 150
	if testing.Short() {
		positions = 25
	}
	const (
		slack  = 0.02 // mm: the search for an extreme ends in steps of 0.1 mm of travel, and edges lie between the rays of the outline
		angle  = 2e-3 // rad
		useful = 2e-3 // of a limit
	)
	for name, j := range layouts(t) {
		t.Run(name, func(t *testing.T) {
			s := study.New(context.Background(), j, study.Full)
			require.Empty(t, s.Refusal)
			require.Empty(t, s.RangeNote)
			require.Len(t, s.Ring, 24)
			require.NotEmpty(t, s.Findings)
			said := []string{}
			for _, f := range s.Findings {
				said = append(said, f.What, f.Number, f.Where, f.Sentence)
				require.NotEmpty(t, f.Key)
			}
			for _, h := range s.GetHome() {
				require.NotNil(t, h.Position, h.Words)
				said = append(said, h.Words)
			}
			said = append(said, s.HeightTable().Captions...)
			said = append(said, s.RangeWords(), s.CheckedWords())
			for _, text := range said {
				assert.NotRegexp(t, neverOnScreen, text)
			}
			for _, c := range study.Charts() {
				for _, against := range study.Against {
					spec := s.Spec(c, against[0], 0, "mm")
					assert.True(t, len(spec.Curves) > 0 || spec.Why != "", c.Key)
				}
			}
			x := &s.Extents
			lo, hi := s.Range.Box()
			rng := rand.New(rand.NewPCG(1, 1))
			in := func(e *study.Extent, v, tol float64, what string, p *motion.Pose) {
				if math.IsNaN(v) {
					return
				}
				assert.True(t, v >= e.Min-tol && v <= e.Max+tol, "%s is %v at (%v, %v), outside %v to %v", what, v, p.Left, p.Right, e.Min, e.Max)
			}
			for n := 0; n < positions; {
				l, r := lo.Left+rng.Float64()*(hi.Left-lo.Left), lo.Right+rng.Float64()*(hi.Right-lo.Right)
				if !s.Range.Contains(l, r) {
					continue
				}
				n++
				p := s.At(l, r)
				require.Empty(t, p.Err)
				v := &p.Values[0]
				in(&x.Slip, v.Slip, slack, "slip", &p.Pose)
				in(&x.SideShift, v.Y, slack, "side shift", &p.Pose)
				in(&x.Use, v.WorstBind, useful, "joint use", &p.Pose)
				for i := range v.Lines {
					in(&x.Lines[i], v.Lines[i], slack, "line", &p.Pose)
				}
				for i := range v.Sensors {
					if v.Sensors[i].Reached {
						in(&x.Sensors[i].Turn, v.Sensors[i].Turn, angle, "lever", &p.Pose)
					} else {
						assert.True(t, x.Sensors[i].Lost)
					}
				}
			}
		})
	}
}

// The figures do not depend on the number of goroutines, to the last bit.
func TestAnyNumberOfGoroutines(t *testing.T) {
	list := layouts(t)
	for _, j := range []*job.Job{demo(t, "survey-wagon", ""), list["watts-on-axle"]} {
		one := study.NewWith(context.Background(), j, study.Full, 1)
		many := study.NewWith(context.Background(), j, study.Full, 5)
		assert.Equal(t, one.Extents, many.Extents)
		assert.Equal(t, one.Findings, many.Findings)
		assert.Equal(t, one.Ring, many.Ring)
		assert.Equal(t, one.Range.Edge, many.Range.Edge)
		a, b := one.Field(context.Background(), "use", 15), many.Field(context.Background(), "use", 15)
		for i := range a.Values {
			assert.Equal(t, math.Float64bits(a.Beyond[i]), math.Float64bits(b.Beyond[i]))
		}
	}
}

// A field holds what a position shows, is kept, knows the outside, and is not made where there is none to make.
func TestField(t *testing.T) {
	s := study.New(context.Background(), demo(t, "rescue-tender", ""), study.Live)
	const n = 21
	for _, r := range study.Readings() {
		f := s.Field(context.Background(), r.Key, n)
		require.NotNil(t, f, r.Key)
		assert.Same(t, f, s.Field(context.Background(), r.Key, n))
	}
	pinion, gap := s.Field(context.Background(), "pinion", n), s.Field(context.Background(), "gap", n)
	spare := s.Field(context.Background(), "spare", n)
	in, out := 0, 0
	for i := range n {
		for k := range n {
			l, r := pinion.Left[i], pinion.Right[k]
			v := pinion.Values[i*n+k]
			if !s.Range.Contains(l, r) {
				assert.True(t, math.IsNaN(v))
				out++
				continue
			}
			in++
			p := s.At(l, r)
			assert.InDelta(t, p.Values[0].PinionDeg, v, 1e-9)
			assert.InDelta(t, v, pinion.At(l, r), 1e-9)
			least, left := math.Inf(1), math.Inf(1)
			for q := range p.Gaps {
				least = math.Min(least, p.Gaps[q].Gap)
				left = math.Min(left, p.Gaps[q].Gap-s.Gaps.Pairs[q].Required)
			}
			assert.InDelta(t, least, gap.Values[i*n+k], 1e-6)
			assert.InDelta(t, left, spare.Values[i*n+k], 1e-6)
			assert.GreaterOrEqual(t, v, pinion.Min)
			assert.LessOrEqual(t, v, pinion.Max)
		}
	}
	assert.Greater(t, in, n*n/3)
	assert.Greater(t, out, n)
	stopped, stop := context.WithCancel(context.Background())
	stop()
	assert.Nil(t, s.Field(stopped, "slip", 17))
	assert.NotNil(t, s.Field(context.Background(), "slip", 17))
	assert.Nil(t, s.Field(context.Background(), "colour", n))
	assert.Nil(t, s.Field(context.Background(), "slip", 2))
	empty := demo(t, "rescue-tender", "")
	empty.Struts, empty.Stops, empty.Straps, empty.Travel = nil, nil, nil, nil
	assert.Nil(t, study.New(context.Background(), empty, study.Live).Field(context.Background(), "slip", n))
}

// Midway is half of what the two ends ask of the spin: each end's wish is what the link does when the other end is a rod end without a limit and
// this one a bush. What each clocking gives is what a job clocked so gives.
func TestClock(t *testing.T) {
	j := demo(t, "survey-wagon", "")
	s := study.New(context.Background(), j, study.Live)
	const link = 0
	require.Equal(t, "Lower left", s.Mech.Links[link].Name)
	c, ok := s.Clock(context.Background(), link)
	require.True(t, ok)
	wish := func(axle bool, left, right float64, link int) float64 {
		k := j.Clone()
		frame, end := k.Links[0].FrameEnd, k.Links[0].AxleEnd
		if axle {
			frame.Kind, frame.Misalignment, frame.Torsion = "ball", nil, nil
		} else {
			end.Kind, end.Misalignment, end.Torsion = "ball", nil, nil
		}
		p := study.Compile(k).At(left, right)
		require.Empty(t, p.Err)
		return p.Values[0].Links[link].Spin
	}
	most := 0.0
	for _, at := range []struct{ l, r float64 }{{s.Range.LeftUp.Left, s.Range.LeftUp.Right}, {s.Range.RightUp.Left, s.Range.RightUp.Right}} {
		for link, sign := range []float64{1, -1} { // the right one is the mirror
			d := sign * (wish(true, at.l, at.r, link) - wish(false, at.l, at.r, link))
			if math.Abs(d) > math.Abs(most) {
				most = d
			}
		}
	}
	assert.InDelta(t, most/2*180/math.Pi, c.Midway.Deg, 1e-6)
	assert.Greater(t, math.Abs(c.Midway.Deg), 1.0)
	assert.Zero(t, c.Ride.Deg)
	assert.Equal(t, c.Ride, c.Now)
	worst := func(clock float64) float64 {
		k := j.Clone()
		k.Links[0].Clock = &clock
		st := study.New(context.Background(), k, study.Full)
		use := 0.0
		for i := range st.Mech.Joints {
			if strings.HasPrefix(st.Mech.Joints[i].Name, "Lower") {
				use = math.Max(use, st.Extents.Joints[i].Max)
			}
		}
		return use
	}
	assert.InDelta(t, worst(0), c.Ride.Use, 0.01) // positions of two grids
	assert.InDelta(t, worst(c.Midway.Deg), c.Midway.Use, 0.01)
	set := 4.0
	k := j.Clone()
	k.Links[0].Clock = &set
	now, ok := study.New(context.Background(), k, study.Live).Clock(context.Background(), link)
	require.True(t, ok)
	assert.Equal(t, set, now.Now.Deg)
	assert.Equal(t, c.Midway, now.Midway)
	assert.NotEqual(t, now.Now.Use, now.Ride.Use)
	_, ok = s.Clock(context.Background(), 99)
	assert.False(t, ok)
}

// The table holds what the positions show; its captions say where the roll steer turns over and what lies outside the travel.
func TestHeightTable(t *testing.T) {
	j := demo(t, "rescue-tender", "")
	j.Vehicle.Heights = append(j.Vehicle.Heights, job.Height{Name: "stilts", Heave: -140})
	j.Vehicle.Loads[1].Heave = 20
	s := study.New(context.Background(), j, study.Live)
	h := s.HeightTable()
	require.Equal(t, []string{"raised", "ride", "lowered", "stilts"}, h.Heights)
	require.Equal(t, []string{"empty", "full load"}, h.Loads)
	assert.Equal(t, -30.0, h.Travel[0][1])
	seen := map[string]bool{}
	for _, r := range h.Rows {
		seen[r.Key] = true
		for a := range h.Heights {
			for l := range h.Loads {
				v := &s.At(h.Travel[a][l], h.Travel[a][l]).Values[l]
				switch r.Key {
				case "antisquat":
					assert.Equal(t, v.AntiSquatPct, r.Cells[a][l].Value)
				case "rollsteer":
					assert.Equal(t, v.RollSteerPct, r.Cells[a][l].Value)
					assert.Equal(t, v.RollSteerPct > 2 || v.RollSteerPct < -5, r.Cells[a][l].Out)
				case "use":
					assert.Equal(t, 100*v.WorstBind, r.Cells[a][l].Value)
					assert.NotEmpty(t, r.Cells[a][l].At)
				}
			}
		}
	}
	assert.True(t, seen["gap"] && seen["pinion"] && seen["shaftrear"])
	assert.False(t, seen["shaftbearing"] || seen["pinionground"])
	text := strings.Join(h.Captions, "\n")
	assert.Contains(t, text, "Lowered, empty: roll steer turns toward understeer, 2.8 % (ride: 1.2 % toward oversteer).")
	assert.Contains(t, text, "Raised, full load: roll steer turns toward oversteer, 4 % (ride: 0.8 % toward understeer).")
	assert.Contains(t, text, "Stilts, empty: outside the travel: 140 mm of droop, and the axle goes 109 up and 119 mm down.")
	assert.Same(t, h, s.HeightTable())

	j = demo(t, "rescue-tender", "")
	j.Vehicle.Heights, j.Vehicle.Loads, j.Vehicle.FrontTravel = nil, nil, "still"
	h = study.New(context.Background(), j, study.Live).HeightTable()
	assert.Equal(t, []string{"ride"}, h.Heights)
	require.Len(t, h.Loads, 1)
	for _, r := range h.Rows {
		assert.NotEqual(t, "antisquat", r.Key)
		seen[r.Key] = true
	}
	assert.True(t, seen["pinionground"])
}

// A line through a height is at that height's travel in its middle, and its ends lie on the range's edge.
func TestChartsByHeight(t *testing.T) {
	s := study.New(context.Background(), demo(t, "orchard-sprayer", ""), study.Live)
	for _, against := range []string{"crossed", "left", "right"} {
		curves := s.CurvesByHeight("rollcentre", against, 1)
		require.Len(t, curves, 3)
		for i, h := range s.Job.Vehicle.Heights {
			c := curves[i]
			assert.Equal(t, h.Name, c.Name)
			at := h.Heave // where both wheels are at the height
			if against == "crossed" {
				at = 0
			}
			want := s.At(h.Heave, h.Heave).Values[1].RollCentre
			for k := 1; k < len(c.X); k++ {
				if c.X[k-1] <= at && c.X[k] >= at {
					f := (at - c.X[k-1]) / (c.X[k] - c.X[k-1])
					assert.InDelta(t, want, c.Y[k-1]*(1-f)+c.Y[k]*f, 0.05) // between positions 6 mm apart
				}
			}
			for _, end := range []float64{c.X[0], c.X[len(c.X)-1]} {
				l, r := h.Heave+end, h.Heave-end
				switch against {
				case "left":
					l, r = end, h.Heave
				case "right":
					l, r = h.Heave, end
				}
				assert.True(t, s.Range.Contains(l, r))
				assert.True(t, s.OnHeightLine(against, 1, &motion.Pose{Left: l, Right: r}))
				assert.False(t, s.OnHeightLine(against, 1, &motion.Pose{Left: l + 8, Right: r + 8}))
				out := 1.001
				assert.False(t, s.Range.Contains(h.Heave+out*(l-h.Heave), h.Heave+out*(r-h.Heave)))
			}
		}
		joints := s.CurvesByHeight("joints", against, 0)
		require.Len(t, joints, 6)
		assert.Equal(t, "raised, front joint", joints[0].Name)
	}
	assert.Nil(t, s.CurvesByHeight("rollcentre", "both", 0))
	assert.Nil(t, s.CurvesByHeight("struts", "left", 0))
	c, _ := study.ChartOf("antisquat")
	spec := s.SpecByHeight(c, "crossed", 1, "mm")
	require.Len(t, spec.Curves, 3)
	assert.Equal(t, "Anti-squat, full load", spec.Title)
	present := 0
	for _, k := range spec.Curves {
		if k.Present {
			present++
			assert.Equal(t, "ride", k.Name)
		}
	}
	assert.Equal(t, 1, present)
	assert.Len(t, s.SpecByHeight(c, "both", 1, "mm").Curves, len(s.Spec(c, "both", 1, "mm").Curves))
}

// What nothing stops is kept beside the sentence, for the views.
func TestFreeMotionsAreKept(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	j.Links = j.Links[:len(j.Links)-1] // without the Panhard rod
	s := study.New(context.Background(), j, study.Live)
	assert.Contains(t, s.Refusal, "Nothing stops the axle moving sideways.")
	require.Len(t, s.Free, 1)
	assert.Greater(t, math.Abs(s.Free[0][1]), 0.5)
	assert.Nil(t, s.HeightTable())
	assert.Nil(t, s.GetHome())
	for _, name := range assets.Demos() {
		assert.Empty(t, study.Compile(demo(t, name, "")).Free)
	}
}

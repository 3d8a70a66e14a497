package study_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/app/study"
	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func lowPart(t *testing.T, l *study.Lowest, name string) *study.LowPart {
	t.Helper()
	for i := range l.Parts {
		if l.Parts[i].Name == name {
			return &l.Parts[i]
		}
	}
	require.Fail(t, "no such part", name)
	return nil
}

// lowestOf is the least of a part's heights.
func lowestOf(p *study.LowPart) float64 {
	least := math.Inf(1)
	for _, row := range append(p.Cells, p.Least) {
		for i := range row {
			least = math.Min(least, row[i].Height)
		}
	}
	return least
}

// By hand: the housing is a ball of 175 mm about the axle's centre, 445 mm above the ground at every height; the tank's underside is drawn at 500 and goes with the frame.
func TestLowestByHand(t *testing.T) {
	s := study.WithRange(demo(t, "orchard-sprayer", ""))
	l := s.Lowest(context.Background())
	require.Equal(t, []string{"raised", "ride", "lowered"}, l.Heights)
	housing, tank := lowPart(t, l, "Housing"), lowPart(t, l, "Rear tank")
	for h, want := range []float64{550, 500, 460} {
		for load := range s.Loads {
			assert.InDelta(t, 270, housing.Cells[h][load].Height, 1e-9)
			assert.InDelta(t, want, tank.Cells[h][load].Height, 1e-9)
			assert.True(t, math.IsNaN(l.Departure[h][load].Deg), "no overhang is given")
			assert.True(t, math.IsNaN(l.Approach[h][load].Deg))
		}
	}
	assert.InDelta(t, 270, housing.Least[0].Height, 1e-9)
	assert.InDelta(t, 500-s.Range.Bump, tank.Least[0].Height, 0.2, "where the axle's middle comes highest, hardly off both wheels up")
	assert.LessOrEqual(t, tank.Least[0].Height, 500-s.Range.Bump)
	for i := 1; i < len(l.Parts); i++ {
		assert.LessOrEqual(t, lowestOf(&l.Parts[i-1]), lowestOf(&l.Parts[i]), "lowest first")
	}
	row := s.HeightTable().Rows[len(s.HeightTable().Rows)-1]
	assert.Equal(t, "lowest", row.Key)
	assert.InDelta(t, 270, row.Cells[1][0].Value, 1e-9)
	assert.Equal(t, "Housing", row.Cells[1][0].At)
}

// A load's own tyre radius brings the ground up; the overhangs' angles satisfy the tangent of the wheel: u sin d - w cos d = R.
func TestLowestOverhangs(t *testing.T) {
	num := func(v float64) *float64 { return &v }
	j := demo(t, "orchard-sprayer", "")
	j.Vehicle.Overhang = &job.Overhang{Rear: num(1300), RearHeight: num(430), Middle: num(1400), MiddleHeight: num(300), Front: num(900), FrontHeight: num(380)}
	drawn := j.Vehicle.Tyre.LoadedRadius
	j.Vehicle.Loads[1].LoadedRadius = num(drawn - 8)
	require.Empty(t, job.Check(j))
	s := study.WithRange(j)
	l := s.Lowest(context.Background())
	for h, travel := range []float64{-50, 0, 40} {
		for load, radius := range []float64{drawn, drawn - 8} {
			up := -travel - (drawn - radius) // how much further the frame is from the ground than drawn
			assert.InDelta(t, 430+up, lowPart(t, l, "Rear overhang").Cells[h][load].Height, 1e-9)
			x := s.At(travel, travel).Pose.C.X // the wheels' centre moves along with the links
			d := l.Departure[h][load].Deg * math.Pi / 180
			assert.Equal(t, "Rear overhang", l.Departure[h][load].Of)
			assert.InDelta(t, radius, (1300+x)*math.Sin(d)-(430+up-radius)*math.Cos(d), 1e-6)
			a := l.Approach[h][load].Deg * math.Pi / 180
			assert.InDelta(t, radius, 900*math.Sin(a)-(380+up-radius)*math.Cos(a), 1e-6)
			assert.Equal(t, "Lowest between the axles, as given", l.Ramp[h][load].Of)
		}
	}
	bare := demo(t, "orchard-sprayer", "")
	assert.Less(t, l.Ramp[1][0].Deg, study.WithRange(bare).Lowest(context.Background()).Ramp[1][0].Deg)
}

// With the front wheels still the ground runs from under them to under this axle's: a place's height is its distance from that line.
func TestLowestFrontStill(t *testing.T) {
	num := func(v float64) *float64 { return &v }
	j := demo(t, "orchard-sprayer", "")
	j.Vehicle.FrontTravel = "still"
	j.Vehicle.Overhang = &job.Overhang{Middle: num(1400), MiddleHeight: num(300)}
	s := study.WithRange(j)
	l := s.Lowest(context.Background())
	c := s.At(-50, -50).Pose.C
	w := j.Vehicle.Wheelbase
	x, z := c.X, c.Z-j.Vehicle.Tyre.LoadedRadius // the contact
	want := ((w-x)*(300-z) - (0-z)*(1400-x)) / math.Hypot(w-x, z)
	assert.InDelta(t, want, lowPart(t, l, "Lowest between the axles, as given").Cells[0][0].Height, 1e-9)
	assert.Greater(t, want, 300.0)
	assert.Less(t, want, 350.0)
}

// No random position of the range has anything noticeably lower than the least told.
func TestLowestOverTheRange(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for _, name := range assets.Demos() {
		s := study.WithRange(demo(t, name, ""))
		l := s.Lowest(context.Background())
		sc, uses := s.Gaps.NewScratch(), make([]quantity.LinkUse, len(s.Mech.Links))
		looked := 0
		for range 400 {
			p := s.At(rng.Float64()*400-200, rng.Float64()*400-200)
			if p.Err != "" || !s.Range.Within(&p.Pose) {
				continue
			}
			looked++
			quantity.Links(s.Mech, &p.Pose, uses)
			sc.Place(&p.Pose, uses)
			g := quantity.GroundOf(s.Mech, &p.Pose, &s.Loads[0])
			for i := range s.Gaps.Parts {
				if part := &s.Gaps.Parts[i]; part.Stands() {
					h, _ := sc.Lowest(i, &g)
					assert.GreaterOrEqual(t, h, lowPart(t, l, part.Name).Least[0].Height-0.2, part.Name)
				}
			}
		}
		assert.Greater(t, looked, 40)
		for i := range l.Parts {
			m := &l.Parts[i].Least[0]
			p := s.At(m.Left, m.Right)
			require.Empty(t, p.Err)
			g := quantity.GroundOf(s.Mech, &p.Pose, &s.Loads[0])
			assert.InDelta(t, m.Height, g.Height(m.At), 1e-6, "found where it is said to be")
		}
	}
}

func TestLowestStops(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	assert.Nil(t, study.WithRange(demo(t, "survey-wagon", "")).Lowest(ctx))
	j := demo(t, "survey-wagon", "")
	j.Links = j.Links[:1]
	assert.Nil(t, study.WithRange(j).Lowest(context.Background()))
}

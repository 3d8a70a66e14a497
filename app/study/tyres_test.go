package study_test

import (
	"context"
	"math"
	"testing"

	"axleloft/app/study"
	"axleloft/assets"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What another tyre does to gaps and figures against a job that is drawn with that tyre: larger free radius and width, and the loads' own radius under load.
func TestTyresAgainstADrawnOne(t *testing.T) {
	for _, name := range assets.Demos() {
		j := demo(t, name, "")
		got, err := study.WithRange(j).Tyres(context.Background(), study.TyreSize{Radius: 18, Width: 20})
		require.NoError(t, err)
		other := j.Clone()
		free, width := j.Vehicle.Tyre.Free()+18, *j.Vehicle.Tyre.Width+20
		other.Vehicle.Tyre.FreeRadius, other.Vehicle.Tyre.Width = &free, &width
		for i := range other.Vehicle.Loads {
			r := j.Vehicle.Loads[i].Radius(j.Vehicle.Tyre) + 18
			other.Vehicle.Loads[i].LoadedRadius = &r
		}
		want, was := study.New(context.Background(), other, study.Full), study.New(context.Background(), j, study.Full)
		assert.Equal(t, free, got.Free)
		assert.Equal(t, width, got.Width)
		require.NotEmpty(t, got.Pairs)
		for i := range got.Pairs {
			p := &got.Pairs[i]
			for k := range want.Gaps.Pairs {
				a, b := want.PairNames(k)
				if a != p.A || b != p.B {
					continue
				}
				assert.Equal(t, want.Smallest[k].Gap.Gap, p.With.Gap.Gap, "%s / %s", a, b)
				assert.Equal(t, want.Smallest[k].NotLess, p.With.NotLess)
				assert.Equal(t, was.Smallest[k].Gap.Gap, p.Was.Gap.Gap)
				assert.Equal(t, want.Gaps.Pairs[k].Required, p.Required)
			}
			if i > 0 {
				q := &got.Pairs[i-1]
				assert.LessOrEqual(t, q.With.Gap.Gap-q.Required, p.With.Gap.Gap-p.Required, "tightest first")
			}
		}
		for i := range got.Loads {
			l := &got.Loads[i]
			heave := j.Vehicle.Loads[i].Heave
			v, w := want.At(heave, heave).Values[i], was.At(heave, heave).Values[i]
			assert.Equal(t, v.AntiSquatPct, l.With.AntiSquat)
			assert.Equal(t, v.RollCentre, l.With.RollCentre)
			assert.Equal(t, w.AntiSquatPct, l.Was.AntiSquat)
			assert.InDelta(t, 18, l.With.CGHeight-l.Was.CGHeight, 1e-9)
			assert.InDelta(t, j.Vehicle.Loads[i].CG[2]-heave, l.Was.CGHeight, 1e-9)
		}
	}
}

// The largest radius that keeps every gap wanted: a little less keeps them, a little more does not.
func TestTyreRoom(t *testing.T) {
	for name, sign := range map[string]float64{"orchard-sprayer": 1, "rescue-tender": -1} {
		s := study.WithRange(demo(t, name, ""))
		got, err := s.Tyres(context.Background(), study.TyreSize{})
		require.NoError(t, err)
		r := got.Room.Radius
		assert.Positive(t, r*sign, "%s has room %v", name, r)
		assert.InDelta(t, 40, got.Room.NotLess, 0.6)
		for _, c := range []struct {
			more float64
			kept bool
		}{{-0.2, true}, {0.2, false}} {
			there, err := s.Tyres(context.Background(), study.TyreSize{Radius: r + c.more})
			require.NoError(t, err)
			p := &there.Pairs[0]
			assert.Equal(t, c.kept, !p.Hits() && !p.Tight(), "%s at %v", name, r+c.more)
		}
	}
	s := study.WithRange(demo(t, "survey-wagon", "")) // a strut beside the tyre: its gap is a matter of width alone
	got, err := s.Tyres(context.Background(), study.TyreSize{})
	require.NoError(t, err)
	assert.True(t, math.IsNaN(got.Room.Radius))
	assert.Equal(t, []string{"Strut left", "Tyre left"}, []string{got.Room.A, got.Room.B})
}

// A link beside the tyre loses half of what the width gains; a tyre that is much larger hits.
func TestTyresByHand(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	s := study.WithRange(j)
	was, err := s.Tyres(context.Background(), study.TyreSize{})
	require.NoError(t, err)
	with, err := s.Tyres(context.Background(), study.TyreSize{Width: 24})
	require.NoError(t, err)
	find := func(x *study.TyreTrial) *study.TyrePair {
		for i := range x.Pairs {
			if x.Pairs[i].A == "Lower left" && x.Pairs[i].B == "Tyre left" {
				return &x.Pairs[i]
			}
		}
		return nil
	}
	require.NotNil(t, find(was))
	assert.InDelta(t, 12, find(was).With.Gap.Gap-find(with).With.Gap.Gap, 0.01, "a link beside the tyre loses half of what the width gains")
	hit, err := s.Tyres(context.Background(), study.TyreSize{Radius: 120})
	require.NoError(t, err)
	assert.True(t, hit.Pairs[0].Hits())
}

func TestTyresRefuses(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	_, err := study.WithRange(j).Tyres(context.Background(), study.TyreSize{Width: 2000})
	assert.ErrorContains(t, err, "does not fit a track")
	_, err = study.WithRange(j).Tyres(context.Background(), study.TyreSize{Width: -2000})
	assert.ErrorContains(t, err, "has no size left")
	j.Vehicle.Tyre.Width = nil
	_, err = study.WithRange(j).Tyres(context.Background(), study.TyreSize{Radius: 10})
	assert.ErrorContains(t, err, "has no width")
	ctx, stop := context.WithCancel(context.Background())
	stop()
	_, err = study.WithRange(demo(t, "orchard-sprayer", "")).Tyres(ctx, study.TyreSize{Radius: 10})
	assert.ErrorIs(t, err, context.Canceled)
}

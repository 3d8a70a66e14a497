package study_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"axleloft/app/study"
	"axleloft/geometry/clearance"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is said of a touch while a hand moves something and when all is worked out names the same first place; the other ways come with the latter.
func TestTouchWords(t *testing.T) {
	for name, want := range map[string]struct{ live, full string }{
		"orchard-sprayer": {"Panhard rod hits the tank shelf at 78 mm of bump (109 till the struts are home). At full bump it is 29 mm in; 54 mm short of the 25 mm you asked for.",
			" Left wheel alone at 105; crossed up, left wheel up, at 166; right wheel alone never."},
		"rescue-tender": {"Driveshaft touches the side tank only when crossed up, left wheel up, at left 175 up, right 175 down. Straight up and down it clears by 40. You will not see this on the hoist.", ""},
	} {
		full := study.New(context.Background(), demo(t, name, ""), study.Full)
		f := find(full, "gap/")
		require.NotNil(t, f)
		assert.Equal(t, want.live+want.full, f.Sentence)
		live := study.New(context.Background(), demo(t, name, ""), study.Live)
		if f = find(live, "gap/"); f != nil && f.Kind == study.Hits { // a small overlap may not be found yet
			first, _, _ := strings.Cut(want.live, "At full bump") // how deep is closer to come
			assert.Contains(t, f.Sentence, first)
		}
		assert.Nil(t, live.TouchOf(context.Background(), 0, 0), "not while a hand moves something")
	}
}

// A pair's field and region tell the same: what the region has for certain below a level is below it on the grid, and what it has not is not.
func TestPairFieldAgainstRegion(t *testing.T) {
	s := study.New(context.Background(), demo(t, "orchard-sprayer", ""), study.Full)
	pair := s.PairNamed("Tank shelf", "Panhard rod")
	require.GreaterOrEqual(t, pair, 0)
	f := s.PairField(context.Background(), pair, 41)
	require.NotNil(t, f)
	assert.Same(t, f, s.PairField(context.Background(), pair, 41), "kept")
	assert.InDelta(t, s.Smallest[pair].Gap.Gap, f.Min, 4)
	wanted := s.Gaps.Pairs[pair].Required
	for _, level := range []float64{0, wanted} {
		r := s.RegionOf(context.Background(), pair, level)
		require.NotNil(t, r)
		assert.Same(t, r, s.RegionOf(context.Background(), pair, level), "kept")
		for i, l := range f.Left {
			for k, rt := range f.Right {
				v := f.Values[i*f.N+k]
				if math.IsNaN(v) {
					continue
				}
				switch r.At(l, rt) {
				case clearance.Under:
					assert.Less(t, v, level)
				case clearance.Over:
					assert.GreaterOrEqual(t, v, level)
				case clearance.Outside:
					assert.Fail(t, "a position of the range outside the region's squares", "%v %v", l, rt)
				}
			}
		}
	}
	assert.Equal(t, "9 %", study.ShareWords(s.RegionOf(context.Background(), pair, 0))) // of random positions 0.092 touch
	cancelled, stop := context.WithCancel(context.Background())
	stop()
	assert.Nil(t, s.RegionOf(cancelled, pair, 12))
	assert.Nil(t, s.PairField(context.Background(), -1, 41))
	assert.Nil(t, s.PairField(context.Background(), len(s.Smallest), 41))
	assert.Equal(t, -1, s.PairNamed("Panhard rod", "no such part"))
}

package study

import (
	"context"
	"strings"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func bolted(t *testing.T, plate string) *Study {
	t.Helper()
	j, err := job.Read(strings.NewReader(`{"format": "axleloft-job", "version": 1, "title": "Bolts",
 "vehicle": {"wheelbase": 2800, "track": 1500, "tyre": {"loadedRadius": 350}},
 "links": [
  {"name": "Lower", "pair": true, "frame": [900, 500, 400], "axle": [0, 500, 400], "tube": {"outside": 50, "wall": 5},
   "axleEnd": {"kind": "bush", "bolt": [0, 1, 0], "boltOut": {"length": 120, "across": 30, "grip": 80}}},
  {"name": "Upper", "pair": true, "frame": [700, 420, 620], "axle": [0, 120, 650]}],
 "envelopes": [` + plate + `],
 "travel": {"bump": 80, "droop": 90, "articulation": 6}}`))
	require.NoError(t, err)
	s := New(context.Background(), j, Full)
	require.NotNil(t, s)
	require.True(t, s.Bounded())
	return s
}

func boltFindings(s *Study) (out []Finding) {
	for _, f := range s.Findings {
		if strings.HasPrefix(f.Key, "bolt out/") {
			out = append(out, f)
		}
	}
	return out
}

// A bolt that comes out where the axle hangs is no finding; one that comes out nowhere is one, for each side, with what is in its way.
func TestBoltsThatComeOut(t *testing.T) {
	const inner = `{"name": "Inner", "kind": "box", "pair": true, "min": [-100, 330, 200], "max": [100, 350, 600]}`
	s := bolted(t, inner)
	list := s.BoltsOut()
	require.Len(t, list, 2)
	assert.Equal(t, "Lower left, axle end", list[0].Name)
	require.Len(t, list[0].Ways, 2)
	assert.True(t, list[0].Ways[0].Free(), "to the left")
	assert.False(t, list[0].Ways[1].Free(), "to the right the plate is in the way everywhere")
	assert.Empty(t, boltFindings(s), "one way is enough")
	for i, want := range []float64{0, s.Range.Bump, -s.Range.Droop} {
		assert.Equal(t, want, list[0].Ways[0].At[i].Travel)
	}

	// a plate outside that is in the way at ride and bump only
	s = bolted(t, inner+`, {"name": "Outer", "kind": "box", "pair": true, "min": [-100, 640, 340], "max": [100, 650, 600]}`)
	w := s.BoltsOut()[0].Ways[0]
	assert.Less(t, w.At[0].Gap, 0.0)
	assert.Less(t, w.At[1].Gap, 0.0)
	assert.True(t, w.At[2].Free(), "at full droop the bolt passes under it: %v", w.At)
	assert.Empty(t, boltFindings(s))

	s = bolted(t, inner+`, {"name": "Outer", "kind": "box", "pair": true, "min": [-100, 640, 200], "max": [100, 650, 600]}`)
	found := boltFindings(s)
	require.Len(t, found, 2)
	f := found[0]
	assert.Equal(t, Tight, f.Kind)
	assert.Equal(t, "bolt out/Lower left/axle", f.Key)
	assert.Equal(t, "Lower left, axle end: its bolt cannot be drawn out, at ride height, full bump or full droop: to the left the outer left is 35 mm in the way (at ride height); to the right the inner left is 25 mm in the way (at ride height). It shows when it is built, or when it has to come out on the road.", f.Sentence)
	assert.True(t, f.Serious())
	assert.True(t, f.Place)
	for i := range s.Gaps.Pairs {
		assert.NotContains(t, s.Gaps.Parts[s.Gaps.Pairs[i].A].Name, "bolt", "it is no part of the driving axle's gaps")
	}
}

package study_test

import (
	"context"
	"math"
	"testing"

	"axleloft/app/study"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sideBySide lays jobs beside each other for their heaviest load.
func sideBySide(t *testing.T, jobs ...*job.Job) (*study.Comparison, []*study.Study) {
	t.Helper()
	var list []study.Compared
	var all []*study.Study
	for i, j := range jobs {
		s := study.NewFrom(context.Background(), j, study.Full, study.From{Before: all})
		all = append(all, s)
		list = append(list, study.Compared{Name: string(rune('a' + i)), Study: s})
	}
	load := 0
	for i, l := range jobs[0].Vehicle.Loads {
		if l.Mass > jobs[0].Vehicle.Loads[load].Mass {
			load = i
		}
	}
	c, err := study.Compare(context.Background(), list, load, nil)
	require.NoError(t, err)
	return c, all
}

func rowOf(t *testing.T, c *study.Comparison, key string) *study.ComparedRow {
	t.Helper()
	for i := range c.Rows {
		if c.Rows[i].Key == key {
			return &c.Rows[i]
		}
	}
	t.Fatalf("no row %s", key)
	return nil
}

// Every figure side by side is the one the study itself gives.
func TestFiguresSideBySideAreTheStudies(t *testing.T) {
	c, all := sideBySide(t, demo(t, "rescue-tender", ""), demo(t, "rescue-tender", "Uppers raised 24"))
	assert.Equal(t, []string{"a", "b"}, c.Names)
	assert.Equal(t, "full load", c.Load)
	for i, s := range all {
		load := 1
		require.Equal(t, "full load", s.Loads[load].Name)
		at := s.At(s.Loads[load].Heave, s.Loads[load].Heave)
		v := &at.Values[load]
		assert.Equal(t, v.AntiSquatPct, rowOf(t, c, "antisquat").Cells[i].Value)
		assert.Equal(t, v.RollCentre, rowOf(t, c, "rollcentre").Cells[i].Value)
		assert.Equal(t, v.PinionDeg, rowOf(t, c, "pinion").Cells[i].Value)
		assert.Equal(t, v.RollSteerPct, rowOf(t, c, "rollsteer").Cells[i].Value)
		assert.Equal(t, s.Range.Bump, rowOf(t, c, "bump").Cells[i].Value)
		assert.Equal(t, s.Range.Droop, rowOf(t, c, "droop").Cells[i].Value)
		assert.Equal(t, s.Smallest[s.Order()[0]].Gap.Gap, rowOf(t, c, "gap").Cells[i].Value)
		assert.Equal(t, s.Extents.Pinion.Max-s.Extents.Pinion.Min, rowOf(t, c, "pinionchange").Cells[i].Value)
		use := 0.0
		for k := range s.Extents.Joints {
			use = math.Max(use, s.Extents.Joints[k].Max)
		}
		assert.Equal(t, 100*use, rowOf(t, c, "use").Cells[i].Value)
		assert.Empty(t, rowOf(t, c, "gap").Cells[0].Change, "the first is compared with nothing")
	}
	gap := rowOf(t, c, "gap").Cells[1]
	assert.Equal(t, study.Better, gap.Way)
	assert.Equal(t, "2.1 mm more, better", gap.Change)
	squat := rowOf(t, c, "antisquat").Cells[1]
	assert.Equal(t, study.Neither, squat.Way, "nobody says whether more is better")
	assert.Equal(t, "15 % less", squat.Change)
	assert.Equal(t, study.Better, rowOf(t, c, "worst").Cells[1].Way)
	assert.Empty(t, c.Differences[0])
	assert.NotEmpty(t, c.Differences[1])
}

func TestAJobBesideItselfDiffersInNothing(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	c, _ := sideBySide(t, j, j.Clone())
	for _, r := range c.Rows {
		assert.Empty(t, r.Cells[1].Change, r.Key)
		assert.Equal(t, study.Neither, r.Cells[1].Way, r.Key)
		assert.Equal(t, r.Cells[0], r.Cells[1], r.Key)
	}
	assert.Empty(t, c.Differences[1])
	assert.Equal(t, 0.0, rowOf(t, c, "litres/Rear tank").Cells[0].Value)
	assert.Greater(t, rowOf(t, c, "litres/Tank shelf").Cells[0].Value, 0.0)
}

// A trial that cannot move stands beside the others all the same: what is not known of it is said, and nothing is called better or worse.
func TestATrialThatCannotMove(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	k := j.Clone()
	k.Links = k.Links[:1]
	c, all := sideBySide(t, j, k)
	require.NotEmpty(t, all[1].Refusal)
	assert.Equal(t, all[1].Refusal, rowOf(t, c, "worst").Cells[1].Words)
	for _, r := range c.Rows {
		if r.Key != "guesses" {
			assert.True(t, math.IsNaN(r.Cells[1].Value), r.Key)
			assert.Equal(t, study.Neither, r.Cells[1].Way, r.Key)
		}
	}
	c, _ = sideBySide(t, k, j)
	assert.Equal(t, study.Neither, rowOf(t, c, "gap").Cells[1].Way)
}

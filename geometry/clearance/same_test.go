package clearance

import (
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Pairs of parts that have not changed are found again, also where others were added, taken away, renamed or moved, and no other pair is.
func TestMatches(t *testing.T) {
	for _, name := range assets.Demos() {
		base := demo(t, name)
		_, old := build(t, base)
		lost := func(edit func(*job.Job)) map[string]int {
			j := base.Clone()
			edit(j)
			_, c := build(t, j)
			by := map[string]int{}
			for i, k := range c.Matches(old) {
				if k < 0 {
					by[c.Parts[c.Pairs[i].A].Name]++
					by[c.Parts[c.Pairs[i].B].Name]++
					continue
				}
				require.Equal(t, c.Parts[c.Pairs[i].A].Kind, old.Parts[old.Pairs[k].A].Kind)
				require.Equal(t, c.Parts[c.Pairs[i].B].Kind, old.Parts[old.Pairs[k].B].Kind)
			}
			return by
		}
		assert.Empty(t, lost(func(*job.Job) {}), name)
		assert.Empty(t, lost(func(j *job.Job) { j.Envelopes[0].Clearance = new(float64) }), name)
		assert.Empty(t, lost(func(j *job.Job) { j.Envelopes = j.Envelopes[:len(j.Envelopes)-1] }), name)
		assert.Empty(t, lost(func(j *job.Job) { j.Vehicle.Tyre.Clearance = new(float64) }), name)
		last := len(base.Envelopes) - 1
		moved := base.Envelopes[last].Name
		by := lost(func(j *job.Job) {
			e := j.Envelopes[0]
			e.Name, e.Carries = "A new one", nil
			e.Kind, e.Centre, e.Radius, e.Pair = "ball", &job.Point{0, 0, 900}, new(float64), false
			*e.Radius = 20
			j.Envelopes = append([]job.Envelope{e}, j.Envelopes...)
		})
		assert.NotZero(t, by["A new one"])
		for i := range old.Parts {
			assert.LessOrEqual(t, by[old.Parts[i].Name], 1, old.Parts[i].Name)
		}
		by = lost(func(j *job.Job) {
			e := &j.Envelopes[last]
			for _, p := range []*job.Point{e.Min, e.Max, e.Centre} {
				if p != nil {
					p[0]++
				}
			}
			for i := range e.Path {
				e.Path[i][0]++
			}
			for i := range e.Outline {
				e.Outline[i][0]++
			}
		})
		require.NotEmpty(t, by, moved)
		for part, n := range by {
			if part != moved && part != moved+" left" && part != moved+" right" {
				assert.LessOrEqual(t, n, 2, part)
			}
		}
	}
}

package study_test

import (
	"context"
	"strings"
	"testing"

	"axleloft/app/study"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Where nothing given ends the travel the links do, far out; what to give is said, and the struts are not blamed for it.
func TestWhatToGiveWhereTheLinksEndTheTravel(t *testing.T) {
	eighty := 80.0
	for _, tc := range []struct {
		name      string
		edit      func(*job.Job)
		says, not string
	}{
		{"no open length", func(j *job.Job) { j.Struts[0].Open = nil },
			"Nothing given ends the droop before the links do: give the struts an open length, or a strap, or enter the droop.", "ends the bump"},
		{"no closed length", func(j *job.Job) { j.Struts[0].Closed = nil },
			"Nothing given ends the bump before the links do: give the struts a closed length, or a bump stop, or enter the bump.", "ends the droop"},
		{"heave alone", func(j *job.Job) {
			j.Struts[0].Closed, j.Struts[0].Open = nil, nil
			j.Travel = &job.Travel{Bump: &eighty, Droop: &eighty}
		}, "Nothing given ends the articulation before the links do", "ends the bump"},
		{"all given", func(*job.Job) {}, "The struts stop the axle, at 109 up and 120 down", "Nothing given"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			j := demo(t, "orchard-sprayer", "")
			tc.edit(j)
			s := study.New(context.Background(), j, study.Live)
			require.True(t, s.Bounded())
			var all []string
			for i := range s.Findings {
				all = append(all, s.Findings[i].Sentence)
			}
			text := strings.Join(all, "\n")
			assert.Contains(t, text, tc.says)
			assert.NotContains(t, text, tc.not)
			if tc.name == "no open length" {
				assert.Contains(t, text, "The struts stop the axle, at 109 up: ")
			}
		})
	}
}

package limits_test

import (
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/require"
)

// BenchmarkRangeLinksEnd finds the range by 96 rays where much of its outline is where the links end the travel: no open length and no strap; and,
// with nothing but bump and droop entered, the crossed-up ends.
func BenchmarkRangeLinksEnd(b *testing.B) {
	for _, name := range assets.Demos() {
		for _, tc := range []struct {
			name string
			edit func(*job.Job)
		}{
			{"no open length", func(j *job.Job) { j.Struts[0].Open, j.Straps = nil, nil }},
			{"heave alone", func(j *job.Job) {
				j.Struts[0].Open, j.Struts[0].Closed, j.Straps, j.Stops = nil, nil, nil, nil
				j.Travel = &job.Travel{Bump: ptr(100), Droop: ptr(100)}
			}},
		} {
			j := demoJob(b, name)
			tc.edit(j)
			m, err := motion.Compile(j)
			require.NoError(b, err)
			b.Run(name+"/"+tc.name, func(b *testing.B) {
				for b.Loop() {
					_, err := limits.FindWith(m, 96, 1)
					require.NoError(b, err)
				}
			})
		}
	}
}

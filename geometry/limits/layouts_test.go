package limits_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every layout: on each ray of the ring the first of what bounds the range is met where the range ends, everything is met in order, and a joint that is met
// is one of the mechanism's.
func TestRingOfEveryLayout(t *testing.T) {
	files, err := filepath.Glob("../../testdata/layouts/*.axleloft")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	joints := 0
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".axleloft"), func(t *testing.T) {
			f, err := os.Open(file)
			require.NoError(t, err)
			defer f.Close()
			j, err := job.Read(f)
			require.NoError(t, err)
			m, err := motion.Compile(j)
			require.NoError(t, err)
			c, err := clearance.Compile(j, m)
			require.NoError(t, err)
			r, err := limits.FindWith(m, 96, 2)
			require.NoError(t, err)
			ring, err := limits.Ring(context.Background(), m, c, r, 2)
			require.NoError(t, err)
			require.Len(t, ring, 24)
			for _, ray := range ring {
				require.NotEmpty(t, ray.By, "%v deg", ray.Angle)
				l, rr, by := r.Clamp(2000*ray.Left, 2000*ray.Right)
				if d := math.Abs(ray.Left - ray.Right); d > 0 {
					k := 0.97 * m.Track / d
					l, rr, by = r.Clamp(k*ray.Left, k*ray.Right)
				}
				ends, before := false, 0.0
				for _, b := range ray.By {
					far := math.Hypot(b.Left, b.Right)
					assert.GreaterOrEqual(t, far, before-1e-5)
					before = far
					if bounds := b.Cause.Metal() || b.Cause == limits.EnteredLimit || b.Cause == limits.NoAssembly; bounds && !ends && by != nil {
						ends = true
						tol := 2e-5 // mm: found to 1e-6 along the ray
						if b.Cause == limits.NoAssembly {
							tol = 0.6
						}
						assert.InDelta(t, math.Hypot(l, rr), far, tol, "%v deg: %s", ray.Angle, b.What)
					}
					if b.Cause == limits.JointLimit {
						joints++
						assert.Contains(t, b.What, m.Joints[b.Index].Name)
					}
				}
			}
		})
	}
	assert.Positive(t, joints)
}

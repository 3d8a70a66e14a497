package swept

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/require"
)

// scene is a job with how everything moves over its range.
type scene struct {
	m *motion.Mechanism
	c *clearance.Model
	r *limits.Range
	o *Motion
}

func sceneOf(t testing.TB, j *job.Job) *scene {
	t.Helper()
	m, err := motion.Compile(j)
	require.NoError(t, err)
	c, err := clearance.Compile(j, m)
	require.NoError(t, err)
	r, err := limits.Find(m, 48)
	require.NoError(t, err)
	s := &scene{m: m, c: c, r: r}
	over, why, err := limits.Cover(context.Background(), m, r)
	require.NoError(t, err)
	require.Empty(t, why)
	s.o = Over(c, over, r.Holds, s.grid)
	return s
}

// grid is positions of the range.
func (s *scene) grid() []motion.Pose {
	lo, hi := s.r.Box()
	solver := s.m.NewSolver()
	var list []motion.Pose
	const n = 21
	for i := range n {
		for k := range n {
			var p motion.Pose
			if solver.Solve(lo.Left+(hi.Left-lo.Left)*float64(i)/(n-1), lo.Right+(hi.Right-lo.Right)*float64(k)/(n-1), &p) == nil && s.r.Within(&p) {
				list = append(list, p)
			}
		}
	}
	return append(list, s.m.Ride())
}

// demo is a demo by its name, or one of the other layouts.
func demo(t testing.TB, name string) *job.Job {
	t.Helper()
	if file := filepath.Join("..", "..", "testdata", "layouts", name+".axleloft"); exists(file) {
		j, err := job.ReadFile(file)
		require.NoError(t, err)
		return j
	}
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	return j
}

func exists(file string) bool {
	_, err := os.Stat(file)
	return err == nil
}

func (s *scene) part(t testing.TB, name string) int {
	t.Helper()
	for i := range s.c.Parts {
		if s.c.Parts[i].Name == name {
			return i
		}
	}
	require.Fail(t, "no part "+name)
	return -1
}

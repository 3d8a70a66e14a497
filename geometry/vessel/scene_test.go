package vessel

import (
	"bytes"
	"context"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/cell"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/require"
)

// scene is a job with one of its vessels.
type scene struct {
	m    *motion.Mechanism
	c    *clearance.Model
	r    *limits.Range
	over *cell.Cover
	v    *Vessel
	part int
}

func demo(t testing.TB, name string) *job.Job {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	return j
}

func sceneOf(t testing.TB, j *job.Job, name string) *scene {
	t.Helper()
	m, err := motion.Compile(j)
	require.NoError(t, err)
	c, err := clearance.Compile(j, m)
	require.NoError(t, err)
	r, err := limits.Find(m, 48)
	require.NoError(t, err)
	over, why, err := limits.Cover(context.Background(), m, r)
	require.NoError(t, err)
	require.Empty(t, why)
	s := &scene{m: m, c: c, r: r, over: over, part: -1}
	for i := range c.Parts {
		if c.Parts[i].Name == name {
			s.part = i
		}
	}
	require.GreaterOrEqual(t, s.part, 0)
	x := job.Expand(j)
	for i := range x.Job.Envelopes {
		if e := &x.Job.Envelopes[i]; e.Name == name {
			at := j.Envelope(e)
			s.v, err = New(&at)
			require.NoError(t, err)
		}
	}
	return s
}

func (s *scene) sweep() *clearance.Sweep {
	return s.c.NewSweep(s.part, s.over.Clone(), s.r.Holds(), nil)
}

package motion_test

import (
	"errors"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/require"
)

// layout is a job for tests: wheelbase 3000, track 1700, loaded radius 400.
func layout(links ...job.Link) *job.Job {
	return &job.Job{
		Format: job.Format, Version: job.Version, Title: "test",
		Vehicle: &job.Vehicle{Wheelbase: 3000, Track: 1700, Tyre: &job.Tyre{LoadedRadius: 400}},
		Links:   links,
	}
}

func bar(name string, frame, axle job.Point) job.Link {
	return job.Link{Name: name, Frame: frame, Axle: axle}
}

func pair(name string, frame, axle job.Point) job.Link {
	l := bar(name, frame, axle)
	l.Pair = true
	return l
}

// The usual parts of a layout.
var (
	lowers  = pair("Lower", job.Point{1000, 450, 420}, job.Point{30, 500, 330})
	uppers  = pair("Upper", job.Point{600, 380, 560}, job.Point{-10, 360, 540})
	angled  = pair("Upper", job.Point{700, 420, 620}, job.Point{0, 120, 650})
	single  = bar("Upper", job.Point{700, 60, 600}, job.Point{0, 60, 620})
	panhard = bar("Panhard rod", job.Point{-150, 450, 470}, job.Point{-150, -450, 430})
)

func compile(t testing.TB, links ...job.Link) *motion.Mechanism {
	t.Helper()
	m, err := motion.Compile(layout(links...))
	require.NoError(t, err)
	return m
}

// refusal is the error of a job that cannot be compiled.
func refusal(t testing.TB, j *job.Job) *motion.Error {
	t.Helper()
	m, err := motion.Compile(j)
	require.Nil(t, m)
	var e *motion.Error
	require.True(t, errors.As(err, &e), "%v", err)
	return e
}

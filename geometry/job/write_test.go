package job_test

import (
	"bytes"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func written(t testing.TB, j *job.Job) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, job.Write(&b, j))
	return b.String()
}

// The demo jobs are kept in the house layout, so writing one gives its own bytes.
func TestWriteDemosToTheByte(t *testing.T) {
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			want := bytes.ReplaceAll(assets.Demo(name), []byte(`"driveShare": 1.0`), []byte(`"driveShare": 1`))
			assert.Equal(t, string(want), written(t, demo(t, name)))
		})
	}
}

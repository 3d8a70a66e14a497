// Package scipy runs the independent calculation beside it (pose.py and what it uses) for tests of the rooms of geometry.
package scipy

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/require"
)

const (
	python = "/usr/bin/python3"
	dir    = "../../testdata/scipy/" // from a room of geometry
)

// Run works out a job at the travels (left and right wheel, mm) and puts what the reference prints into dst; more are its further arguments. Where
// SciPy is missing the test is skipped, unless AXLELOFT_REQUIRE_REFERENCES=1 says it must be there: then it fails.
func Run(t testing.TB, j *job.Job, travels [][2]float64, dst any, more ...string) {
	t.Helper()
	if err := exec.Command(python, "-c", "import scipy, numpy").Run(); err != nil {
		if os.Getenv("AXLELOFT_REQUIRE_REFERENCES") == "1" {
			require.NoError(t, err, "SciPy is required here: apt-get install python3-scipy")
		}
		t.Skip("SciPy is not installed (Debian: python3-scipy)")
	}
	for _, f := range []string{"pose", "axle", "job", "joint", "shaft"} { // also tells the test cache what the result hangs on
		_, err := os.Stat(dir + f + ".py")
		require.NoError(t, err)
	}
	file := filepath.Join(t.TempDir(), "reference.axleloft")
	require.NoError(t, job.WriteFile(file, j))
	var in strings.Builder
	in.WriteString("left_mm,right_mm\n")
	for _, w := range travels {
		fmt.Fprintf(&in, "%v,%v\n", w[0], w[1])
	}
	cmd := exec.Command(python, append([]string{dir + "pose.py", file}, more...)...)
	cmd.Stdin = strings.NewReader(in.String())
	cmd.Env = append(os.Environ(), "OMP_NUM_THREADS=1", "OPENBLAS_NUM_THREADS=1")
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	b, err := cmd.Output()
	require.NoError(t, err, complaint.String())
	require.NoError(t, json.Unmarshal(b, dst))
}

// Layouts are the jobs of testdata/layouts by their names, one a way of locating the axle.
func Layouts(t testing.TB) map[string]*job.Job {
	t.Helper()
	files, err := filepath.Glob(dir + "../layouts/*.axleloft")
	require.NoError(t, err)
	all := map[string]*job.Job{}
	for _, f := range files {
		b, err := os.ReadFile(f)
		require.NoError(t, err)
		j, err := job.Read(bytes.NewReader(b))
		require.NoError(t, err, f)
		all[strings.TrimSuffix(filepath.Base(f), ".axleloft")] = j
	}
	require.Len(t, all, 16)
	return all
}

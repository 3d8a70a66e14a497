package scipy

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"
)

// HullVolumes are the volumes of the convex hulls of lists of points, by SciPy's ConvexHull. Where SciPy is missing the test is skipped as Run skips it.
func HullVolumes(t testing.TB, points [][][3]float64) []float64 {
	t.Helper()
	var volumes []float64
	ask(t, "hull.py", points, &volumes)
	return volumes
}

// Depths are how deep pairs of convex bodies, given by their corners, overlap: by SciPy's ConvexHull of their corners' differences. Negative where they are apart. Where SciPy is missing the test is
// skipped as Run skips it.
func Depths(t testing.TB, pairs [][2][][3]float64) []float64 {
	t.Helper()
	var depths []float64
	ask(t, "depth.py", pairs, &depths)
	return depths
}

// ask hands a program beside this file a value as JSON and reads its answer; args are its arguments.
func ask(t testing.TB, program string, in, dst any, args ...string) {
	t.Helper()
	if err := exec.Command(python, "-c", "import scipy, numpy").Run(); err != nil {
		if os.Getenv("AXLELOFT_REQUIRE_REFERENCES") == "1" {
			require.NoError(t, err, "SciPy is required here: apt-get install python3-scipy")
		}
		t.Skip("SciPy is not installed (Debian: python3-scipy)")
	}
	for _, f := range []string{program, "axle.py", "job.py"} { // also tells the test cache what the result hangs on
		_, err := os.Stat(dir + f)
		require.NoError(t, err)
	}
	b, err := json.Marshal(in)
	require.NoError(t, err)
	cmd := exec.Command(python, append([]string{dir + program}, args...)...)
	cmd.Stdin = bytes.NewReader(b)
	cmd.Env = append(os.Environ(), "OMP_NUM_THREADS=1", "OPENBLAS_NUM_THREADS=1")
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	require.NoError(t, err, complaint.String())
	require.NoError(t, json.Unmarshal(out, dst))
}

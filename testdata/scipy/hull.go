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
	if err := exec.Command(python, "-c", "import scipy, numpy").Run(); err != nil {
		if os.Getenv("AXLELOFT_REQUIRE_REFERENCES") == "1" {
			require.NoError(t, err, "SciPy is required here: apt-get install python3-scipy")
		}
		t.Skip("SciPy is not installed (Debian: python3-scipy)")
	}
	in, err := json.Marshal(points)
	require.NoError(t, err)
	cmd := exec.Command(python, dir+"hull.py")
	cmd.Stdin = bytes.NewReader(in)
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	require.NoError(t, err, complaint.String())
	var volumes []float64
	require.NoError(t, json.Unmarshal(out, &volumes))
	return volumes
}

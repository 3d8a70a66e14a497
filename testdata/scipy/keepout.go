package scipy

import (
	"path/filepath"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/require"
)

// KeepOut is what moving bars take of a tank by keepout.py, litres; errors are standard errors.
type KeepOut struct {
	Low, High, Error float64 // at the positions tried; with those between, to second order; of either
	Gross            float64
	GrossError       float64 `json:"gross_error"`
	Cut              float64 // of the tank, by all cuts
	CutError         float64 `json:"cut_error"`
	Left             float64 // of the keep-out outside every cut
	Positions        int
	Corners          int // of the range
}

// KeepOutOf counts what a job's links, struts and driveshaft take of a vessel by counting random places, and what cuts take: of each the planes n.x <= d within which it lies, as n and d, mm. Where
// SciPy is missing the test is skipped as Run skips it.
func KeepOutOf(t testing.TB, j *job.Job, vessel string, cuts [][][4]float64) KeepOut {
	t.Helper()
	file := filepath.Join(t.TempDir(), "reference.axleloft")
	require.NoError(t, job.WriteFile(file, j))
	var k KeepOut
	ask(t, "keepout.py", cuts, &k, file, vessel)
	return k
}

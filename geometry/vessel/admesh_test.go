package vessel

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Litres of a tank from a file, whole and cut by planes, against ADMesh (Debian's admesh; A. D. Martin), which reckons in single precision.
func TestLitresAgainstADMesh(t *testing.T) {
	program, err := exec.LookPath("admesh")
	if err != nil {
		require.NotEqual(t, "1", os.Getenv("AXLELOFT_REQUIRE_REFERENCES"), "the references are required: install admesh")
		t.Skip("admesh is not installed")
	}
	volume := regexp.MustCompile(`Volume\s*[:=]\s*(-?[0-9.]+)`)
	e := meshOf(t, bumpy(r3.Vec{X: 20, Y: -30, Z: 40}, 160, 0.25, 30))
	v := newVessel(t, e)
	for name, planes := range map[string][]plane{
		"whole": nil, "level": {{r3.Vec{Z: 1}, 70}}, "step": {{r3.Vec{Z: -1}, -10}, {r3.Vec{X: 1}, 50}}, "slope": {planeOf(r3.Vec{X: 1, Y: 0.4, Z: -0.7}, 15)},
	} {
		s := v.skin
		for _, p := range planes {
			s = s.cut(p)
		}
		var corners []r3.Vec
		for _, f := range s {
			corners = append(corners, f[:]...)
		}
		part := meshOf(t, corners)
		out, err := exec.Command(program, "--exact", "--normal-values", filepath.Join(part.Beside.Folder, part.File)).CombinedOutput()
		require.NoError(t, err, string(out))
		m := volume.FindSubmatch(out)
		require.NotNil(t, m, "%s", out)
		mm3s, err := strconv.ParseFloat(string(m[1]), 64)
		require.NoError(t, err)
		assert.InEpsilon(t, mm3*mm3s, v.within(planes...), 1e-4, name)
	}
}

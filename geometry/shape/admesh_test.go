package shape

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Files as ADMesh (Debian's admesh; A. D. Martin), an independent reader, reads them: triangles, triangles that lack a neighbour, connected parts, volume, box.
func TestReadSTLAgainstADMesh(t *testing.T) {
	program, err := exec.LookPath("admesh")
	if err != nil {
		require.NotEqual(t, "1", os.Getenv("AXLELOFT_REQUIRE_REFERENCES"), "the references are required: install admesh")
		t.Skip("admesh is not installed")
	}
	ball := ballMesh(12, 140, r3.Vec{X: 700, Y: -300, Z: 900})
	box := hullMesh(boxHull(t, r3.Vec{X: -50, Y: -20, Z: 300}, r3.Vec{X: 250, Y: 420, Z: 410}))
	for name, corners := range map[string][]r3.Vec{
		"ball": ball, "box": box, "open ball": ball[9:], "two parts": append(append([]r3.Vec(nil), ball...), box...), "open box": box[6:],
	} {
		for kind, data := range map[string][]byte{"binary": binaryOf(corners), "text": []byte(strings.ReplaceAll(textOf(corners), "nan nan nan", "0 0 0"))} {
			t.Run(name+" "+kind, func(t *testing.T) {
				file := filepath.Join(t.TempDir(), "part.stl")
				require.NoError(t, os.WriteFile(file, data, 0o600))
				out, err := exec.Command(program, "--exact", "--normal-directions", "--normal-values", file).CombinedOutput()
				require.NoError(t, err, string(out))
				figure := func(label string) float64 {
					m := regexp.MustCompile(regexp.QuoteMeta(label) + `\s*[:=]\s*(-?[0-9.]+)`).FindSubmatch(out)
					require.NotNil(t, m, "%s\n%s", label, out)
					v, err := strconv.ParseFloat(string(m[1]), 64)
					require.NoError(t, err)
					return v
				}
				m, err := ReadSTL(bytes.NewReader(data))
				require.NoError(t, err)
				assert.EqualValues(t, figure("Number of facets"), len(m.T))
				assert.EqualValues(t, figure("Number of parts"), len(m.shells))
				assert.Equal(t, figure("Total disconnected facets") == 0, m.Closed)
				lo, hi := m.Bounds()
				assert.InDelta(t, figure("Min X"), lo.X, 1e-4)
				assert.InDelta(t, figure("Max Z"), hi.Z, 1e-4)
				if v, ok := m.Volume(); ok {
					assert.InEpsilon(t, figure("Volume"), v, 1e-4) // it reckons in single precision
				}
			})
		}
	}
}

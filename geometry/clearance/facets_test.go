package clearance

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/shape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The surface of every kind of part is closed, faces outwards and holds what the part holds, by our own count and by ADMesh's (Debian's admesh; A. D.
// Martin); the file written does not begin as a text file does.
func TestEnvelopeMeshes(t *testing.T) {
	program, err := exec.LookPath("admesh")
	if err != nil {
		require.NotEqual(t, "1", os.Getenv("AXLELOFT_REQUIRE_REFERENCES"), "the references are required: install admesh")
	}
	num := func(v float64) *float64 { return &v }
	figure := func(out []byte, label string) float64 {
		k := regexp.MustCompile(regexp.QuoteMeta(label) + `\s*[:=]\s*(-?[0-9.]+)`).FindSubmatch(out)
		require.NotNil(t, k, "%s\n%s", label, out)
		v, err := strconv.ParseFloat(string(k[1]), 64)
		require.NoError(t, err)
		return v
	}
	for _, e := range []job.Envelope{
		{Name: "box", Kind: "box", Min: &job.Point{-100, 20, 300}, Max: &job.Point{150, 60, 420}, Turn: &job.Point{10, -20, 35}},
		{Name: "side", Kind: "prism", Plane: "side", Outline: []job.Point2{{0, 300}, {400, 300}, {400, 380}, {150, 380}, {150, 520}, {0, 520}}, From: num(-200), To: num(90)},
		{Name: "plan", Kind: "prism", Plane: "plan", Outline: []job.Point2{{0, 0}, {0, 200}, {300, 200}, {150, 100}, {300, 0}}, From: num(300), To: num(350)},
		{Name: "rear", Kind: "prism", Plane: "rear", Outline: []job.Point2{{0, 300}, {200, 300}, {200, 420}}, From: num(60), To: num(-60)},
		{Name: "ball", Kind: "ball", Centre: &job.Point{0, 100, 400}, Radius: num(150)},
		{Name: "pipe", Kind: "tube", Outside: num(63.5), Path: []job.Point{{1400, -300, 400}, {500, -300, 640}, {-100, -320, 640}, {-900, 0, 600}}},
	} {
		t.Run(e.Name, func(t *testing.T) {
			m, err := EnvelopeMesh(&e, 0.05)
			require.NoError(t, err)
			assert.True(t, m.Closed)
			v, ok := m.Volume()
			require.True(t, ok)
			litres, ok := Volume(&e)
			require.True(t, ok)
			assert.InEpsilon(t, litres*1e6, v, 2.5e-3)
			assert.LessOrEqual(t, v, litres*1e6*(1+1e-9), "flats lie inside")
			var file bytes.Buffer
			require.NoError(t, shape.WriteSTL(&file, "Axleloft, mm: "+e.Name, m.V, m.T))
			assert.False(t, bytes.HasPrefix(file.Bytes(), []byte("solid")))
			if program == "" {
				return
			}
			name := filepath.Join(t.TempDir(), "part.stl")
			require.NoError(t, os.WriteFile(name, file.Bytes(), 0o600))
			out, err := exec.Command(program, "--exact", "--normal-directions", "--normal-values", name).CombinedOutput()
			require.NoError(t, err, string(out))
			assert.InEpsilon(t, v, figure(out, "Volume"), 1e-4)
			assert.Equal(t, 1.0, figure(out, "Number of parts"))
			for _, label := range []string{"Degenerate facets", "Facets reversed", "Normals fixed", "Facets removed", "Total disconnected facets"} {
				assert.Zero(t, figure(out, label), label)
			}
		})
	}
	_, err = EnvelopeMesh(&job.Envelope{Kind: "ball"}, 0.05)
	assert.ErrorContains(t, err, "a ball needs")
}

package view

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/plotting/drawing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ring is the surface of a round plate of n corners standing on Z = low, as text.
func ring(n int, x, y, low, high, radius float64) string {
	var b strings.Builder
	b.WriteString("solid plate\n")
	at := func(i int, z float64) string {
		s, c := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
		return fmt.Sprintf("vertex %.9g %.9g %.9g ", x+radius*c, y+radius*s, z)
	}
	facet := func(p ...string) {
		b.WriteString("facet normal 0 0 0 outer loop " + strings.Join(p, "") + "endloop endfacet\n")
	}
	for i := range n {
		facet(at(i, low), at(i+1, low), at(i+1, high))
		facet(at(i, low), at(i+1, high), at(i, high))
		if i > 0 && i+1 < n {
			facet(at(0, high), at(i, high), at(i+1, high))
			facet(at(0, low), at(i+1, low), at(i, low))
		}
	}
	b.WriteString("endsolid plate\n")
	return b.String()
}

// A part from a file is drawn as its outline in every view, the housing's too; a missing file draws nothing.
func TestShapesFromFiles(t *testing.T) {
	j := demo(t, "orchard-sprayer").Job
	j.Folder = t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(j.Folder, "plate.stl"), []byte(ring(60, 700, 100, 900, 950, 80)), 0o600))
	j.Envelopes = []job.Envelope{{Name: "Plate", Kind: "mesh", File: "plate.stl"}, {Name: "Gone", Kind: "mesh", File: "gone.stl"}}
	j.Axle.Housing = []job.Envelope{{Kind: "mesh", File: "plate.stl"}}
	s := study.Compile(j)
	now := at(t, s, 0, 0)
	for _, p := range []Plane{Side, Plan, Rear} {
		sc := New(Input{Plane: p, Now: s, At: now})
		of := map[string][]figure{}
		for _, f := range sc.figures {
			of[f.name] = append(of[f.name], f)
		}
		require.Len(t, of["Plate"], 1)
		require.Len(t, of[job.HousingName], 1)
		assert.Empty(t, of["Gone"])
		f := of["Plate"][0]
		assert.Equal(t, drawing.Line, f.kind)
		assert.True(t, f.closed)
		b := bounds(f.pts)
		assert.InDelta(t, 160, b.x1-b.x0, 2)
		if p == Plan {
			assert.Greater(t, len(f.pts), 12)
			assert.InDelta(t, 160, b.y1-b.y0, 2)
		} else {
			assert.InDelta(t, 50, b.y1-b.y0, 1e-6)
			assert.LessOrEqual(t, len(f.pts), 8)
		}
	}
}

func TestCoarserKeepsWithinTheBound(t *testing.T) {
	var pts []point
	for i := range 400 {
		x := float64(i)
		pts = append(pts, point{X: x, Y: 30 * math.Sin(x/40)})
	}
	out := coarser(pts, 1)
	assert.Less(t, len(out), 60)
	for _, p := range pts {
		near := math.Inf(1)
		for i := 1; i < len(out); i++ {
			near = math.Min(near, offLine(p, out[i-1], out[i]))
		}
		require.LessOrEqual(t, near, 1.0)
	}
}

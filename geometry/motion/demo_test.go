package motion_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/require"
)

type figures struct {
	Singular float64
	Range    struct {
		Bump, Droop     float64
		LeftUp, RightUp [2]float64
	}
	Poses  []struct{ Left, Right, X, Y, Steer, Squareness, Pinion float64 }
	Forced *struct {
		Left, Right float64
		Links       []struct {
			Name       string
			MM, Newton float64
		}
	}
}

func demo(t testing.TB, name string) (*job.Job, figures) {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	b, err := os.ReadFile("../../testdata/demos/figures.json")
	require.NoError(t, err)
	var all map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(b, &all))
	var f figures
	require.NoError(t, json.Unmarshal(all[name], &f))
	return j, f
}

// sharpen gives an end or a corner of the range, printed with the positions to 0.1 mm, the travels it is printed with as the range, to 0.001 mm.
func (f *figures) sharpen(left, right float64) (float64, float64) {
	r := &f.Range
	for _, w := range [][2]float64{{r.Bump, r.Bump}, {-r.Droop, -r.Droop}, r.LeftUp, r.RightUp} {
		if math.Abs(w[0]-left) < 0.051 && math.Abs(w[1]-right) < 0.051 {
			return w[0], w[1]
		}
	}
	return left, right
}

// The figures are those of an independent calculation out of the definitions, printed to three decimals.
func TestDemoPoses(t *testing.T) {
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			j, f := demo(t, name)
			m, err := motion.Compile(j)
			require.NoError(t, err)
			require.InDelta(t, f.Singular, m.Singular, 0.5e-4)
			s := m.NewSolver()
			for _, w := range f.Poses {
				const tol = 0.0006
				l, r := f.sharpen(w.Left, w.Right)
				var p motion.Pose
				require.NoError(t, s.Solve(l, r, &p))
				require.InDelta(t, w.X, p.X, tol, "x at %v, %v", l, r)
				require.InDelta(t, w.Y, p.Y, tol, "y at %v, %v", l, r)
				steer := math.Atan2(-p.Ey.X, p.Ey.Y) * 180 / math.Pi
				require.InDelta(t, w.Steer, steer, 0.00006, "steer at %v, %v", l, r)
			}
			if f.Forced != nil {
				var p motion.Pose
				l, r := f.sharpen(f.Forced.Left, f.Forced.Right)
				require.NoError(t, s.Solve(l, r, &p))
				for i, w := range f.Forced.Links {
					require.Equal(t, w.Name, m.Links[i].Name)
					mm, n := m.Stretch(&p, i)
					require.InDelta(t, w.MM, mm, 0.0006)
					require.InDelta(t, w.Newton, n, 1)
				}
			}
		})
	}
}

package vessel

import (
	"os"
	"testing"

	"axleloft/testdata/scipy"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Litres taken, gross litres and those of the cuts against an independent count: the axle's positions by SciPy's solver from the definitions, the range from the struts' lengths, round bars and
// tanks from the job's own keys, random places in small cubes. Its own error is the standard error of four counts, and how much positions between those tried may add.
func TestKeepOutAgainstSciPy(t *testing.T) {
	for _, c := range [][2]string{{"orchard-sprayer", "Tank shelf"}, {"rescue-tender", "Side tank"}} {
		t.Run(c[1], func(t *testing.T) {
			if os.Getenv("AXLELOFT_LONG") == "" && c[1] != "Tank shelf" {
				t.Skip("the larger tank takes half a minute: only where AXLELOFT_LONG is set")
			}
			j := demo(t, c[0])
			s := sceneOf(t, j, c[1])
			k := s.keepOut(t, 8)
			require.True(t, k.Proved)
			plan := s.v.Plan(k)
			require.NotEmpty(t, plan)
			cuts := make([][][4]float64, len(plan))
			for i := range plan {
				for _, p := range plan[i].planes {
					cuts[i] = append(cuts[i], [4]float64{p.n.X, p.n.Y, p.n.Z, p.at})
				}
			}
			w := scipy.KeepOutOf(t, j, c[1], cuts)
			off := 4 * w.Error
			assert.LessOrEqual(t, k.Least, w.High+off)
			assert.GreaterOrEqual(t, k.Most, w.Low-off)
			assert.InDelta(t, (w.Low+w.High)/2, (k.Least+k.Most)/2, 0.04*k.Most+off)
			assert.Less(t, w.High-w.Low+off, 0.05*k.Most, "its own error is small enough to tell")
			assert.InDelta(t, w.Gross, s.v.Litres, 4*w.GrossError+1e-9)
			assert.InDelta(t, w.Cut, s.v.Lost(plan), 4*w.CutError)
			assert.Zero(t, w.Left, "all that is taken lies within the cuts")
			assert.GreaterOrEqual(t, w.Corners, 4)
			t.Logf("ours %.4f to %.4f L, counted %.4f to %.4f +- %.4f; cuts %.3f, counted %.3f +- %.3f", k.Least, k.Most, w.Low, w.High, w.Error, s.v.Lost(plan), w.Cut, w.CutError)
		})
	}
}

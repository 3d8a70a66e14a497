package shape

import (
	"math/rand/v2"
	"testing"

	"axleloft/testdata/scipy"

	"github.com/stretchr/testify/assert"
)

// Depths of overlapping cores with flat faces against the hull of all differences of their corners by Qhull (SciPy's ConvexHull; C. B. Barber, D. P. Dobkin, H. Huhdanpaa, "The Quickhull
// algorithm for convex hulls", ACM Transactions on Mathematical Software 22(4), 1996): the least way out is square to the hull's face nearest to the origin. Any pairs, far from the origin and
// with planes and lines in common as well.
func TestDepthAgainstQhull(t *testing.T) {
	const tol = 2e-7 // mm: largest seen 2e-8 (1e4 mm from the origin)
	each := 600
	if testing.Short() {
		each = 60
	}
	r := rand.New(rand.NewPCG(31, 31))
	shapes := map[string][]*known{}
	for _, kind := range []string{"bar", "box", "prism"} {
		for i := range variety {
			shapes[kind] = append(shapes[kind], someShape(t, r, kind, i >= variety/2))
		}
	}
	var s Scratch
	var a, b Solid
	var ask [][2][][3]float64
	var ours []float64
	list := func(p *Piece) (v [][3]float64) {
		for _, c := range corners(p) {
			v = append(v, [3]float64{c.X, c.Y, c.Z})
		}
		return v
	}
	for _, kinds := range [][2]string{{"bar", "box"}, {"bar", "prism"}, {"box", "box"}, {"box", "prism"}, {"prism", "prism"}} {
		for n := 0; n < each; {
			var k trial
			k.make(r, shapes[kinds[0]], shapes[kinds[1]], &s, &a, &b)
			p, q := &a.Pieces[0], &b.Pieces[0]
			core := k.gap + p.Radius + q.Radius
			if core > -1e-3 {
				continue // a hair's breadth is settled with the rest
			}
			ask, ours = append(ask, [2][][3]float64{list(p), list(q)}), append(ours, -core)
			n++
		}
	}
	for i, d := range scipy.Depths(t, ask) {
		assert.InDelta(t, d, ours[i], tol)
	}
}

package cell

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"sort"
	"testing"

	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Random positions of the range, solved by the solver alone: each lies in the proved box of every cell over it, from the largest down to what was cut finer. 6e3 positions of every layout, a
// million where AXLELOFT_LONG is set, a tenth of that where the axle stands on radius arms, slow to solve.
func TestNoPositionIsOutOfItsBox(t *testing.T) {
	positions := 6_000
	if os.Getenv("AXLELOFT_LONG") != "" {
		positions = 1_000_000
	}
	for name, m := range proved(t) {
		t.Run(name, func(t *testing.T) {
			n := positions
			for i := range m.Arms {
				if m.Arms[i].Radius {
					n = positions / 10
				}
			}
			tree, err := Build(context.Background(), m)
			require.NoError(t, err)
			r := rand.New(rand.NewPCG(42, 42))
			var tiles []int32 // as first laid
			var upTo []float64
			area := 0.0
			for i := range tree.Cells {
				if c := &tree.Cells[i]; c.Proved && c.N > 0 {
					area += c.RH * c.RA
					tiles, upTo = append(tiles, int32(i)), append(upTo, area)
				}
			}
			for range 2000 { // some are cut finer, some of these again
				tree.Split(int32(r.IntN(len(tree.Cells))))
			}
			solver, last := m.NewSolver(), m.Ride()
			var p motion.Pose
			var used float64 // of a box, at most
			out, boxes, found := 0, 0, 0
			for found < n {
				c := &tree.Cells[tiles[sort.SearchFloat64s(upTo, area*r.Float64())]]
				left, right := tree.Travels(c, [2]float64{2*r.Float64() - 1, 2*r.Float64() - 1})
				if !solver.Near(&last, left, right, 60, &p) || !inside(tree, m, &p) {
					continue
				}
				last = p
				found++
				q := vec{p.X, p.Y, p.Psi, p.Theta}
				known := own + len(m.Rockers) // what the arms' own six are is not told by a pose
				for i := range m.Rockers {
					q[own+i] = m.RockerTurn(&p, i)
				}
				var visit func(list []int32)
				visit = func(list []int32) {
					for _, k := range list {
						if k < 0 {
							continue
						}
						c := &tree.Cells[k]
						u := [2]float64{(p.Heave - c.H) / c.RH, (p.Alpha - c.A) / c.RA}
						if math.Abs(u[0]) > 1 || math.Abs(u[1]) > 1 {
							continue
						}
						boxes++
						at := c.predicted(u)
						for i := range known {
							d := math.Abs(q[i] - at[i])
							used = math.Max(used, d/(c.E[i]+1e-11))
							if d > c.E[i]+1e-11 {
								out++
							}
						}
						if c.split {
							visit(c.Parts[:])
						}
					}
				}
				visit(tree.Roots)
			}
			assert.Zero(t, out)
			assert.Greater(t, boxes, 3*n)
			t.Logf("%d positions in %d boxes, %d out; of a box used %.3f at most", found, boxes, out, used)
		})
	}
}

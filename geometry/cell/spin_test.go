package cell

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// sharedSpins are the demos with each kind of ends at their links, with narrow limits and wide ones, bolts straight and askew.
func sharedSpins(t testing.TB) map[string]*motion.Mechanism {
	t.Helper()
	all := map[string]*motion.Mechanism{}
	for _, name := range []string{"orchard-sprayer", "rescue-tender", "survey-wagon"} {
		for _, ends := range []struct {
			frame, axle     string
			toFrame, toAxle float64 // deg, 0 for none
			askew           float64
		}{
			{frame: "bush", axle: "bush"},
			{frame: "bush", axle: "bush", askew: 0.3},
			{frame: "bush", axle: "ball", toAxle: 3},
			{frame: "ball", axle: "bush", toFrame: 4, askew: 0.2},
			{frame: "ball", axle: "bush", toFrame: 3, toAxle: 8},
			{frame: "ball", axle: "ball", toFrame: 12, toAxle: 20},
			{frame: "stud", axle: "ball", toFrame: 25, toAxle: 15, askew: 0.3},
			{frame: "ball", axle: "ball"},
		} {
			j, err := job.Read(bytes.NewReader(assets.Demo(name)))
			require.NoError(t, err)
			set := func(e *job.End, kind string, limit, askew float64) {
				e.Kind, e.Misalignment = kind, nil
				e.Torsion = nil
				if limit > 0 {
					e.Misalignment = &limit
				}
				if askew != 0 {
					e.Bolt = &job.Point{askew, 1, -askew / 2}
				}
			}
			for i := range j.Links {
				set(j.Links[i].FrameEnd, ends.frame, ends.toFrame, ends.askew)
				set(j.Links[i].AxleEnd, ends.axle, ends.toAxle, 0)
			}
			m, err := motion.Compile(j)
			if err != nil {
				continue // a bolt along its link
			}
			all[fmt.Sprintf("%s %s-%s %v %v %v", name, ends.frame, ends.axle, ends.toFrame, ends.toAxle, ends.askew)] = m
		}
	}
	return all
}

// A point beside a link's line is where it is said to be, whatever kind the link's ends are, and smaller cells know its spin the better.
func TestPointsBesideLinks(t *testing.T) {
	list := sharedSpins(t)
	require.Greater(t, len(list), 15)
	for name, m := range list {
		t.Run(name, func(t *testing.T) {
			tree, err := Build(context.Background(), m)
			require.NoError(t, err)
			r := rand.New(rand.NewPCG(3, 3))
			solver := m.NewSolver()
			checked, circles, small, loose := 0, 0, 0, 0
			used := 0.0
			for range 1500 {
				k := int32(r.IntN(len(tree.Cells)))
				deep := r.IntN(5)
				for range deep {
					for _, p := range tree.Split(k) {
						if p >= 0 {
							k = p
							break
						}
					}
				}
				c := &tree.Cells[k]
				if !c.Proved {
					continue
				}
				for i := range m.Links {
					pl := motion.Place{Carrier: motion.Carrier{On: motion.OnLink, Index: i}, At: r3.Vec{X: -300 * r.Float64(), Y: 200*r.Float64() - 100, Z: 200*r.Float64() - 100}}
					at, ok := tree.Point(c, &pl)
					if !ok {
						continue
					}
					if !tree.turnedLink(c, i).ok {
						circles++
					}
					if c.RH <= 1.1 {
						if small++; at.S > 0.3 {
							loose++
						}
					}
					for range 3 {
						u := [2]float64{2*r.Float64() - 1, 2*r.Float64() - 1}
						left, right := tree.Travels(c, u)
						var p motion.Pose
						if solver.Solve(left, right, &p) != nil {
							continue
						}
						n := r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()})
						off, dev := math.Abs(r3.Dot(n, r3.Sub(m.At(&p, &pl), line(&at, u)))), at.Dev(n, 1)
						require.LessOrEqual(t, off, dev)
						used = math.Max(used, off/dev)
						checked++
					}
				}
			}
			t.Logf("%d checked, %d on a circle, %d of %d small cells loose, used up to %.2f", checked, circles, loose, small, used)
			assert.Greater(t, checked, 5000)
			assert.Greater(t, used, 0.1, "not idle")
			assert.Less(t, loose, small/4)
		})
	}
}

package cell

import (
	"bytes"
	"context"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func proved(t testing.TB) map[string]*motion.Mechanism {
	t.Helper()
	jobs := map[string]*job.Job{}
	for _, name := range []string{"orchard-sprayer", "rescue-tender", "survey-wagon"} {
		j, err := job.Read(bytes.NewReader(assets.Demo(name)))
		require.NoError(t, err)
		jobs[name] = j
	}
	for _, name := range []string{"a-arm-lowers", "torque-arm", "lopsided", "four-trailing-panhard", "watts-on-axle", "watts-upright-on-frame", "watts-pair", "watts-four-trailing", "a-arm-bushes-panhard", "radius-arms-panhard", "radius-arms-watts-on-frame", "four-link-struts-on-lowers", "bent-lowers"} {
		b, err := os.ReadFile("../../testdata/layouts/" + name + ".axleloft")
		require.NoError(t, err)
		j, err := job.Read(bytes.NewReader(b))
		require.NoError(t, err)
		jobs[name] = j
	}
	all := map[string]*motion.Mechanism{}
	for name, j := range jobs {
		m, err := motion.Compile(j)
		require.NoError(t, err)
		all[name] = m
	}
	return all
}

// Every pose of the range lies in the box of each cell that holds its place, tiles and larger and smaller cells alike, and so do the points carried.
func TestPosesLieInTheirBoxes(t *testing.T) {
	for name, m := range proved(t) {
		t.Run(name, func(t *testing.T) {
			tree, err := Build(context.Background(), m)
			require.NoError(t, err)
			r := rand.New(rand.NewPCG(7, 7))
			for range 300 { // split some
				tree.Split(int32(r.IntN(len(tree.Cells))))
			}
			solver := m.NewSolver()
			checked, proved, missed, stood := 0, 0, 0, 0
			var worst vec
			used := 0.0
			for range 2500 {
				k := r.IntN(len(tree.Cells))
				c := &tree.Cells[k]
				u := [2]float64{2*r.Float64() - 1, 2*r.Float64() - 1}
				left, right := tree.Travels(c, u)
				var p motion.Pose
				if solver.Solve(left, right, &p) != nil {
					continue
				}
				if !c.Proved && (!tiled(tree, tree.Roots, p.Heave, p.Alpha) || !inside(tree, m, &p)) {
					continue
				}
				checked++
				q := vec{p.X, p.Y, p.Psi, p.Theta}
				for i := range m.Rockers {
					q[own+i] = m.RockerTurn(&p, i)
				}
				known := own + len(m.Rockers)
				pr := c.predicted(u)
				for i := range known {
					require.LessOrEqual(t, math.Abs(q[i]-pr[i]), c.E[i]+1e-11)
				}
				for i := range known {
					worst[i] = math.Max(worst[i], math.Abs(q[i]-pr[i])/c.E[i])
				}
				if c.Proved {
					proved++
					var st Standing
					require.True(t, tree.Stand(c, u, &st))
					assert.InDelta(t, 0, r3.Norm(r3.Sub(st.Pose.C, p.C)), 1e-7)
					for i := range m.Arms {
						pl := motion.Place{Carrier: motion.Carrier{On: motion.OnArm, Index: i}, At: r3.Vec{X: -900, Y: 40, Z: -120}}
						assert.InDelta(t, 0, r3.Norm(r3.Sub(st.At(&pl), m.At(&p, &pl))), 1e-6)
					}
					for i := range m.Rockers {
						pl := &m.Rockers[i].Rods[0].Rocker
						assert.InDelta(t, 0, r3.Norm(r3.Sub(st.At(pl), m.At(&p, pl))), 1e-7)
					}
				}
				o := r3.Vec{X: 800*r.Float64() - 400, Y: 1600*r.Float64() - 800, Z: 600*r.Float64() - 300}
				n := r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()})
				at := c.Carried(o)
				off := r3.Dot(n, r3.Sub(p.Point(o), line(&at, u)))
				dev := at.Dev(n, 1)
				require.LessOrEqual(t, math.Abs(off), dev)
				used = math.Max(used, math.Abs(off)/dev)
				f := r3.Vec{X: 1200 * r.Float64(), Y: 1600*r.Float64() - 800, Z: 900 * r.Float64()}
				on := Fixed(f)
				at = c.Seen(&on)
				off = r3.Dot(n, r3.Sub(p.Unturn(r3.Sub(f, p.C)), line(&at, u)))
				require.LessOrEqual(t, math.Abs(off), at.Dev(n, 1))
				var places []motion.Place // what stands on an arm or rocker
				for i := range m.Struts {
					places = append(places, m.Struts[i].Foot)
				}
				for i := range m.Arms {
					if m.Arms[i].Radius {
						arm := motion.Carrier{On: motion.OnArm, Index: i}
						places = append(places, motion.Place{Carrier: arm}, motion.Place{Carrier: arm, At: r3.Vec{X: -900, Y: 40, Z: -120}})
					}
				}
				for i := range m.Links {
					places = append(places, motion.Place{Carrier: motion.Carrier{On: motion.OnLink, Index: i}, At: r3.Vec{X: -300, Y: 70, Z: -60}})
				}
				for i := range m.Rockers {
					places = append(places, m.Rockers[i].Rods[0].Rocker, m.Rockers[i].Rods[1].Rocker)
				}
				for i := range places {
					foot, ok := tree.Point(c, &places[i])
					if !ok {
						missed++
						continue
					}
					stood++
					x := m.At(&p, &places[i])
					require.LessOrEqual(t, math.Abs(r3.Dot(n, r3.Sub(x, line(&foot, u)))), foot.Dev(n, 1))
					at := c.Seen(&foot)
					require.LessOrEqual(t, math.Abs(r3.Dot(n, r3.Sub(p.Unturn(r3.Sub(x, p.C)), line(&at, u)))), at.Dev(n, 1))
				}
				// A point some way along a bar between the two.
				fixed, end := Fixed(f), c.Carried(o)
				if b, ok := Along(&end, &fixed, 80); ok {
					x := p.Point(o)
					x = r3.Add(x, r3.Scale(80, r3.Unit(r3.Sub(f, x))))
					require.LessOrEqual(t, math.Abs(r3.Dot(n, r3.Sub(x, line(&b, u)))), b.Dev(n, 1))
				}
			}
			t.Logf("%d checked of %d cells; the boxes are used up to %.2f, a point's bound up to %.2f", checked, len(tree.Cells), worst[:own+len(m.Rockers)], used)
			for i := range own + len(m.Rockers) {
				assert.Greater(t, worst[i], 0.1, "the boxes are not idle")
			}
			assert.Greater(t, checked, 1000)
			assert.Less(t, missed, stood/4)
			assert.Greater(t, proved, 700)
		})
	}
}

func line(p *Point, u [2]float64) r3.Vec {
	return r3.Add(p.X, r3.Add(r3.Scale(u[0], p.V[0]), r3.Scale(u[1], p.V[1])))
}

func inside(t *Tree, m *motion.Mechanism, p *motion.Pose) bool {
	for i := range m.Struts {
		l := m.StrutLength(p, i)
		if l < m.Struts[i].Closed || l > m.Struts[i].Open {
			return false
		}
	}
	for i := range m.Stops {
		if l, _ := m.StopLength(p, i); l < m.Stops[i].Closed {
			return false
		}
	}
	for i := range m.Straps {
		if m.StrapLength(p, i) > m.Straps[i].Open {
			return false
		}
	}
	return !(p.Heave > m.TravelBump || p.Heave < -m.TravelDroop || math.Abs(p.Alpha) > m.TravelArticulation)
}

// tiled reports whether a tile holds the place.
func tiled(t *Tree, list []int32, h, a float64) bool {
	for _, i := range list {
		if i < 0 {
			continue
		}
		c := &t.Cells[i]
		if math.Abs(h-c.H) <= c.RH && math.Abs(a-c.A) <= c.RA && (c.Proved || tiled(t, c.Parts[:], h, a)) {
			return true
		}
	}
	return false
}

// covered reports whether the limits leave the pose of a tile, and of every larger cell round it.
func covered(t *Tree, list []int32, p *motion.Pose) bool {
	for _, i := range list {
		if i < 0 {
			continue
		}
		c := &t.Cells[i]
		u := [2]float64{(p.Heave - c.H) / c.RH, (p.Alpha - c.A) / c.RA}
		if leaves(c, u) && (c.Proved || covered(t, c.Parts[:], p)) {
			return true
		}
	}
	return false
}

// No position of the range is left out: whatever lies within the limits on the way from ride height lies in what the limits leave of a tile, and of a root.
func TestTheWholeRangeIsCovered(t *testing.T) {
	for name, m := range proved(t) {
		if name == "radius-arms-panhard" {
			continue // one with radius arms will do: they take many cells
		}
		t.Run(name, func(t *testing.T) {
			tree, err := Build(context.Background(), m)
			require.NoError(t, err)
			solver := m.NewSolver()
			r := rand.New(rand.NewPCG(8, 8))
			n := 0
			for range min(200, 200_000/len(tree.Cells)) {
				a := 2 * math.Pi * r.Float64()
				for s := 0.0; s < 400; s += 1 + 3*r.Float64() { // as far as the limits allow without a break
					var p motion.Pose
					if solver.Solve(s*math.Cos(a), s*math.Sin(a), &p) != nil || !inside(tree, m, &p) {
						break
					}
					n++
					require.True(t, covered(tree, tree.Roots, &p), "%v %v", p.Left, p.Right)
				}
			}
			assert.Greater(t, n, 150)
		})
	}
}

// leaves reports whether the limits leave the place u of the cell.
func leaves(c *Cell, u [2]float64) bool {
	if c.N < 3 || math.Abs(u[0]) > 1+1e-9 || math.Abs(u[1]) > 1+1e-9 {
		return false
	}
	for i := range c.N {
		p, q := c.Poly[i], c.Poly[(i+1)%c.N]
		if (q[0]-p[0])*(u[1]-p[1])-(q[1]-p[1])*(u[0]-p[0]) < -1e-9 {
			return false
		}
	}
	return true
}

func TestSaysWhyNot(t *testing.T) {
	read := func(b []byte) *job.Job {
		j, err := job.Read(bytes.NewReader(b))
		require.NoError(t, err)
		return j
	}
	compile := func(j *job.Job) *motion.Mechanism {
		m, err := motion.Compile(j)
		require.NoError(t, err)
		return m
	}
	j := read(assets.Demo("orchard-sprayer"))
	j.Struts, j.Stops, j.Straps, j.Travel = nil, nil, nil, nil
	_, err := Build(context.Background(), compile(j))
	require.ErrorIs(t, err, ErrUnbounded)

	much := 2000.0
	j.Travel = &job.Travel{Bump: &much, Droop: &much}
	_, err = Build(context.Background(), compile(j))
	require.ErrorIs(t, err, ErrProof, "the links end the travel")

	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = Build(ctx, compile(read(assets.Demo("orchard-sprayer"))))
	require.ErrorIs(t, err, context.Canceled)
}

// A copy is split on its own, and both give the same cells.
func TestClone(t *testing.T) {
	m := proved(t)["rescue-tender"]
	a, err := Build(context.Background(), m)
	require.NoError(t, err)
	b := a.Clone()
	again, err := Build(context.Background(), m)
	require.NoError(t, err)
	assert.True(t, slices.Equal(a.Cells, again.Cells), "the same job gives the same cells")
	n := len(a.Cells)
	k := a.Ride
	parts := b.Split(k)
	assert.Len(t, a.Cells, n)
	assert.Greater(t, len(b.Cells), n)
	assert.Equal(t, parts, a.Split(k))
	assert.True(t, slices.Equal(a.Cells, b.Cells))
	assert.Equal(t, parts, b.Split(k), "once is enough")
}

func BenchmarkBuild(b *testing.B) {
	for name, m := range proved(b) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				_, err := Build(context.Background(), m)
				require.NoError(b, err)
			}
		})
	}
}

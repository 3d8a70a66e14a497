package clearance

import (
	"context"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/cell"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// provable are jobs whose positions can be proved.
func provable(t testing.TB) map[string]*job.Job {
	t.Helper()
	all := map[string]*job.Job{}
	for _, name := range []string{"orchard-sprayer", "rescue-tender", "survey-wagon"} {
		all[name] = demo(t, name)
	}
	for _, name := range []string{"a-arm-lowers", "lopsided", "torque-arm", "two-piece-shaft", "four-trailing-panhard", "watts-on-axle", "watts-upright-on-frame", "watts-pair", "watts-four-trailing", "a-arm-bushes-panhard", "radius-arms-watts-on-frame", "bent-lowers", "four-link-struts-on-lowers"} {
		all[name] = layout(t, name)
	}
	bag := demo(t, "orchard-sprayer")
	bag.Struts[0].Diameters = []job.Point2{{380, 130}, {450, 110}, {600, 85}}
	bag.Struts[0].Diameter = nil
	all["air bags"] = bag
	bent := demo(t, "rescue-tender")
	bent.Links[1].Bends = []job.Point{{400, 300, 700}}
	all["bent uppers"] = bent
	shared := demo(t, "rescue-tender")
	shared.Links[1].Bends = []job.Point{{400, 300, 700}}
	shared.Links[1].AxleEnd.Kind = "bush"
	all["bent between bushes"] = shared
	free := demo(t, "rescue-tender")
	free.Links[0].Bends = []job.Point{{300, 500, 480}, {700, 450, 500}}
	free.Links[1].Bends = []job.Point{{400, 300, 700}}
	for i, limit := range []float64{12, 20} {
		free.Links[i].FrameEnd.Kind, free.Links[i].AxleEnd.Kind = "ball", "ball"
		free.Links[i].FrameEnd.Misalignment, free.Links[i].AxleEnd.Misalignment = &limit, &limit
	}
	all["bent between balls"] = free
	stopped := demo(t, "rescue-tender")
	stopped.Links[1].Bends = []job.Point{{400, 300, 700}}
	three := 3.0
	stopped.Links[1].AxleEnd.Misalignment = &three
	all["bent, stopped by its free end"] = stopped
	foot := demo(t, "survey-wagon")
	foot.Struts[0].On = "Lower"
	all["struts beside lowers between bushes"] = foot
	all["every kind of mover"] = everyMover(t)
	if !testing.Short() {
		all["radius arms that carry struts"] = armStruts(t)
	}
	return all
}

// everyMover has an A-arm, bent links, a rocker's rods, struts on a link and on the arm, and a hose: each against each.
func everyMover(t testing.TB) *job.Job {
	t.Helper()
	j := layout(t, "a-arm-bushes-panhard")
	j.Rockers = layout(t, "watts-upright-on-frame").Rockers
	j.Links[0].Bends = []job.Point{{300, 530, 340}, {600, 480, 330}}
	j.Links[1].Bends = []job.Point{{-250, 0, 560}}
	j.Struts[0].On = "Lower"
	helper := layout(t, "a-arm-lowers").Struts[1]
	j.Struts = append(j.Struts, helper)
	return j
}

// armStruts has radius arms on which the struts stand, a bent Panhard rod between bushes and a hose.
func armStruts(t testing.TB) *job.Job {
	t.Helper()
	j := layout(t, "radius-arms-panhard")
	j.Struts[0].On = j.Arms[0].Name
	for i := range j.Links {
		l := &j.Links[i]
		l.Bends = []job.Point{{(l.Frame[0] + l.Axle[0]) / 2, (l.Frame[1] + l.Axle[1]) / 2, l.Axle[2] - 60}}
	}
	wide := 20.0
	j.Lines[0].Diameter = &wide
	return j
}

// within tells whether a pose is inside every limit of a mechanism, for one goroutine. Where radius arms and rockers stand is known of a solver's pose alone.
func within(m *motion.Mechanism) func(*motion.Pose) bool {
	var solver *motion.Solver
	if len(m.Rockers) > 0 || slices.ContainsFunc(m.Arms, func(a motion.Arm) bool { return a.Radius }) {
		solver = m.NewSolver()
	}
	var whole motion.Pose
	return func(p *motion.Pose) bool {
		if solver != nil {
			if solver.Solve(p.Left, p.Right, &whole) != nil {
				return false
			}
			p = &whole
		}
		for i := range m.Struts {
			if l := m.StrutLength(p, i); l < m.Struts[i].Closed || l > m.Struts[i].Open {
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
}

// Nowhere in the range is a gap below what is proved of it, what is found is one, and the two are as close as asked.
func TestProve(t *testing.T) {
	how := Closeness{Width: 0.5, Far: math.Inf(1), Most: 20_000}
	for name, j := range provable(t) {
		t.Run(name, func(t *testing.T) {
			m, c := build(t, j)
			tree, err := cell.Build(context.Background(), m)
			require.NoError(t, err)
			w := c.NewProver(tree, within(m))
			proofs := make([]Proof, len(c.Pairs))
			s, solver, uses := c.NewScratch(), m.NewSolver(), make([]quantity.LinkUse, len(m.Links))
			var g Gap
			var p motion.Pose
			names := func(i int) string { return c.Parts[c.Pairs[i].A].Name + " / " + c.Parts[c.Pairs[i].B].Name }
			proved, looked := 0, 0
			for i := range c.Pairs {
				proofs[i], err = w.Prove(context.Background(), i, how)
				require.NoError(t, err)
				looked += w.looked
				proved++
				k := &proofs[i]
				require.LessOrEqual(t, k.Found-k.NotLess, how.Width, names(i))
				require.GreaterOrEqual(t, k.Found, k.NotLess)
				require.NoError(t, solver.Solve(k.Left, k.Right, &p))
				assert.True(t, within(m)(&p))
				quantity.Links(m, &p, uses)
				s.Place(&p, uses)
				s.Gap(i, &g)
				require.InDelta(t, k.Found, g.Gap, 1e-6, "%s", names(i))
			}
			t.Logf("%d of %d pairs, %d cells looked at, %d in all", proved, len(c.Pairs), looked, len(w.tree.Cells))

			n, near := noneBelow(t, m, c, proofs, 1200)
			assert.Greater(t, n, 200)
			assert.Greater(t, near, 100, "the bounds are near")
		})
	}
}

// noneBelow throws tries at random at the range: no gap at a position is below what is proved. How many positions lay within, and how often a gap came within 1 mm of what is proved, is returned.
func noneBelow(t *testing.T, m *motion.Mechanism, c *Model, proofs []Proof, tries int) (n, near int) {
	t.Helper()
	r := rand.New(rand.NewPCG(5, 5))
	s, solver, uses := c.NewScratch(), m.NewSolver(), make([]quantity.LinkUse, len(m.Links))
	in, last := within(m), m.Ride()
	var g Gap
	var p motion.Pose
	for range tries {
		if solver.SolveFrom(&last, 400*r.Float64()-200, 400*r.Float64()-200, &p) != nil || !in(&p) {
			continue
		}
		last = p
		n++
		quantity.Links(m, &p, uses)
		s.Place(&p, uses)
		for i := range c.Pairs {
			if s.AtLeast(i) >= proofs[i].NotLess+1 {
				continue
			}
			s.Gap(i, &g)
			require.GreaterOrEqual(t, g.Gap, proofs[i].NotLess, "%s / %s", c.Parts[c.Pairs[i].A].Name, c.Parts[c.Pairs[i].B].Name)
			if g.Gap < proofs[i].NotLess+1 {
				near++
			}
		}
	}
	return n, near
}

// The same with many positions, five times as many where AXLELOFT_LONG is set, for layouts of every sort of mover.
func TestProveAgainstManyPositions(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a while")
	}
	how := Closeness{Width: 0.5, Far: 150, Most: 20_000}
	for name, j := range provable(t) {
		switch name {
		case "rescue-tender", "survey-wagon", "bent between bushes", "bent between balls", "bent, stopped by its free end", "struts beside lowers between bushes", "every kind of mover", "radius arms that carry struts":
		default:
			continue
		}
		t.Run(name, func(t *testing.T) {
			m, c := build(t, j)
			tree, err := cell.Build(context.Background(), m)
			require.NoError(t, err)
			w := c.NewProver(tree, within(m))
			proofs := make([]Proof, len(c.Pairs))
			for i := range c.Pairs {
				proofs[i], err = w.Prove(context.Background(), i, how)
				require.NoError(t, err)
			}
			tries := 12_000
			if os.Getenv("AXLELOFT_LONG") != "" {
				tries = 60_000
			}
			n, _ := noneBelow(t, m, c, proofs, tries)
			assert.Greater(t, n, tries/6)
		})
	}
}

// Bounds of a cell, and positions for them, are had without allocation.
func TestBoundAllocatesNothing(t *testing.T) {
	m, c := build(t, everyMover(t))
	tree, err := cell.Build(context.Background(), m)
	require.NoError(t, err)
	w := c.NewProver(tree, within(m))
	var tiles []int32
	for k := range w.tree.Cells {
		if w.tree.Cells[k].Proved && w.tree.Cells[k].N > 0 {
			tiles = append(tiles, int32(k))
		}
	}
	bound1 := func(k int32) {
		x := &w.tree.Cells[k]
		var g Gap
		for i := range c.Pairs {
			a, b := &w.pieces[c.sides[i][0]][0], &w.pieces[c.sides[i][1]][0]
			onAxle := c.Parts[c.Pairs[i].A].Body == OnAxle || c.Parts[c.Pairs[i].B].Body == OnAxle
			if a.over(w.tree, x, onAxle, &w.a) && b.over(w.tree, x, onAxle, &w.b) {
				w.shape.Gap(&w.a.at, &w.b.at, &g)
				bound(&w.a, &w.b, x, &g)
			}
		}
		w.tree.Stand(x, [2]float64{}, &w.at)
	}
	n := 0
	next := func() { bound1(tiles[n%len(tiles)]); n++ }
	for range tiles {
		next() // room is made once
	}
	assert.Zero(t, testing.AllocsPerRun(50, next))
}

// Against the figures of an independent calculation: dense search and refinement, within 0.005 mm.
func TestProofsOfDemos(t *testing.T) {
	b, err := os.ReadFile("../../testdata/demos/figures.json")
	require.NoError(t, err)
	var all map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(b, &all))
	for _, name := range assets.Demos() {
		var figures struct {
			Pairs []struct {
				A, B string
				Gap  float64
			}
		}
		require.NoError(t, json.Unmarshal(all[name], &figures))
		m, c := build(t, demo(t, name))
		tree, err := cell.Build(context.Background(), m)
		require.NoError(t, err)
		w := c.NewProver(tree, within(m))
		for _, f := range figures.Pairs {
			p, err := w.Prove(context.Background(), c.find(f.A, f.B), Closeness{Width: 0.05, Far: math.Inf(1), Most: 20_000})
			require.NoError(t, err)
			assert.LessOrEqual(t, p.NotLess, f.Gap+0.0101, "%s / %s", f.A, f.B) // printed to 0.01
			assert.GreaterOrEqual(t, p.Found, f.Gap-0.0101, "%s / %s", f.A, f.B)
			assert.LessOrEqual(t, p.Found-p.NotLess, 0.05, "%s / %s", f.A, f.B)
		}
	}
}

// Of single cells: no place of a cell has a gap below the cell's bound, whatever the cell's size; and small cells are close: a quarter of the size, a sixteenth of the slack.
func TestBoundOfACell(t *testing.T) {
	for name, j := range provable(t) {
		t.Run(name, func(t *testing.T) {
			m, c := build(t, j)
			tree, err := cell.Build(context.Background(), m)
			require.NoError(t, err)
			all := c.pieces()
			r := rand.New(rand.NewPCG(6, 6))
			var a, b moving
			var g Gap
			w := c.NewProver(tree, within(m))
			checked := 0
			for range 1500 {
				k := int32(r.IntN(len(tree.Cells)))
				for range r.IntN(4) {
					if parts := tree.Split(k); parts[0] >= 0 {
						k = parts[r.IntN(4)]
						if k < 0 {
							k = parts[0]
						}
					}
				}
				x := &tree.Cells[k]
				i := r.IntN(len(c.Pairs))
				pa, pb := all[c.sides[i][0]], all[c.sides[i][1]]
				na, nb := &pa[r.IntN(len(pa))], &pb[r.IntN(len(pb))]
				if !na.bounded() || !nb.bounded() || !x.Proved {
					continue
				}
				onAxle := c.Parts[c.Pairs[i].A].Body == OnAxle || c.Parts[c.Pairs[i].B].Body == OnAxle
				if !na.over(tree, x, onAxle, &a) || !nb.over(tree, x, onAxle, &b) {
					continue
				}
				w.shape.Gap(&a.at, &b.at, &g)
				least, _ := bound(&a, &b, x, &g)
				for n := range 6 {
					var u [2]float64 // a place of the clipped cell, corners among them
					if n < 2 {
						u = x.Poly[r.IntN(x.N)]
					} else {
						sum := 0.0
						for q := range x.N {
							f := r.ExpFloat64()
							sum += f
							u[0] += f * x.Poly[q][0]
							u[1] += f * x.Poly[q][1]
						}
						u[0] /= sum
						u[1] /= sum
					}
					var pose cell.Standing
					if !tree.Stand(x, u, &pose) {
						continue
					}
					na.place(&pose, &a.at)
					nb.place(&pose, &b.at)
					var at Gap
					w.shape.Gap(&a.at, &b.at, &at)
					require.GreaterOrEqual(t, at.Gap, least)
					checked++
				}
			}
			assert.Greater(t, checked, 1000)
		})
	}
}

// Where it is known by hand: the housing's ball below a ball on the frame is nearest where the axle stands highest.
func TestProveByHand(t *testing.T) {
	j := demo(t, "rescue-tender")
	centre, radius := job.Point{0, 0, 1300}, 50.0
	j.Envelopes = append(j.Envelopes, job.Envelope{Name: "Lamp", Kind: "ball", Centre: &centre, Radius: &radius})
	hub, round := job.Point{0, 0, 445}, 190.0
	j.Axle.Housing = []job.Envelope{{Kind: "ball", Centre: &hub, Radius: &round}}
	m, c := build(t, j)
	tree, err := cell.Build(context.Background(), m)
	require.NoError(t, err)
	w := c.NewProver(tree, within(m))
	p, err := w.Prove(context.Background(), c.find("Housing", "Lamp"), Closeness{Width: 1e-3, Far: math.Inf(1), Most: 20_000})
	require.NoError(t, err)
	// The housing's ball is nearest where the axle is highest: the largest heave of the range, least shift.
	best := math.Inf(1)
	solver, in := m.NewSolver(), within(m)
	var pose motion.Pose
	for h := 90.0; h < 125; h += 0.02 {
		if solver.Solve(h, h, &pose) == nil && in(&pose) {
			best = math.Min(best, r3.Norm(r3.Sub(r3.Vec{Z: 1300}, pose.C))-240)
		}
	}
	assert.InDelta(t, best, p.Found, 0.03)
	assert.LessOrEqual(t, p.NotLess, best)
	assert.LessOrEqual(t, p.Found-p.NotLess, 1e-3)
}

package vessel

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
	"axleloft/geometry/shape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// long is a number of tries: the larger one where AXLELOFT_LONG is set.
func long(usual, all int) int {
	if os.Getenv("AXLELOFT_LONG") != "" {
		return all
	}
	return usual
}

// gauge measures places against movers at a pose, by no way of the keep-out's own.
type gauge struct {
	s     *scene
	at    *clearance.Scratch
	uses  []quantity.LinkUse
	solve *motion.Solver
	shape shape.Scratch
}

func (s *scene) gauge() *gauge {
	return &gauge{s: s, at: s.c.NewScratch(), uses: make([]quantity.LinkUse, len(s.m.Links)), solve: s.m.NewSolver()}
}

// place moves to a position; false outside the range.
func (g *gauge) place(left, right float64) bool {
	var p motion.Pose
	if g.solve.Solve(left, right, &p) != nil || !g.s.r.Within(&p) {
		return false
	}
	quantity.Links(g.s.m, &p, g.uses)
	g.at.Place(&p, g.uses)
	return true
}

// nearest is how much nearer than the wanted gap the nearest mover is to x.
func (g *gauge) nearest(x r3.Vec) float64 {
	point := shape.Solid{Pieces: []shape.Piece{{Kind: shape.Point, A: x}}}
	least := math.Inf(1)
	for i := range g.s.c.Pairs {
		p := &g.s.c.Pairs[i]
		if p.A != g.s.part && p.B != g.s.part {
			continue
		}
		mover, other := g.at.Sides(i)
		if p.A == g.s.part {
			mover = other
		}
		var r shape.Result
		g.shape.SolidGap(&point, mover, &r)
		least = math.Min(least, r.Gap-p.Required)
	}
	return least
}

// sceneNames are vessels of all kinds with movers in them.
var sceneNames = []string{"shelf", "side", "turned", "bottle", "on axle", "outline", "ball", "mesh"}

func sceneNamed(t testing.TB, name string) *scene {
	t.Helper()
	if name == "side" {
		return sceneOf(t, demo(t, "rescue-tender"), "Side tank")
	}
	const shelf = 6
	j := demo(t, "orchard-sprayer")
	require.Equal(t, "Tank shelf", j.Envelopes[shelf].Name)
	switch name {
	case "turned":
		j.Envelopes[shelf].Turn = &job.Point{4, -6, 12}
	case "bottle":
		j.Envelopes[shelf] = job.Envelope{Name: "Tank shelf", Kind: "tube", Path: []job.Point{{-230, -300, 660}, {-230, 250, 650}}, Outside: of(150.0), Vessel: true}
	case "outline": // of several pieces, the rod through its slanted edge
		j.Envelopes[shelf] = job.Envelope{Name: "Tank shelf", Kind: "prism", Plane: "side", From: of(-390.0), To: of(300.0), Vessel: true,
			Outline: []job.Point2{{-420, 600}, {-330, 650}, {-240, 590}, {-190, 700}, {-300, 790}, {-420, 790}}}
	case "ball":
		j.Envelopes[shelf] = job.Envelope{Name: "Tank shelf", Kind: "ball", Centre: &job.Point{-260, 100, 690}, Radius: of(130.0), Vessel: true}
	case "mesh":
		e := meshOf(t, bumpy(r3.Vec{X: -300, Y: 50, Z: 700}, 150, 0.2, 16))
		j.Folder, j.Envelopes[shelf] = e.Beside.Folder, e
		j.Envelopes[shelf].Name, j.Envelopes[shelf].Beside = "Tank shelf", job.Beside{}
	case "on axle": // what comes near is fixed to the axle
		j.Envelopes[shelf] = job.Envelope{Name: "Tank shelf", Kind: "box", Min: &job.Point{-500, 690, 950}, Max: &job.Point{500, 900, 1300}, Vessel: true}
	}
	return sceneOf(t, j, "Tank shelf")
}

func scenes(t testing.TB) map[string]*scene {
	t.Helper()
	all := map[string]*scene{}
	for _, name := range sceneNames {
		all[name] = sceneNamed(t, name)
	}
	return all
}

func of[T any](v T) *T { return &v }

func (s *scene) keepOut(t testing.TB, side float64) *KeepOut {
	t.Helper()
	k, err := s.v.KeepOut(context.Background(), s.sweep(), Fine{Side: side, Most: 300_000}, nil)
	require.NoError(t, err)
	return k
}

// inside draws a place of the vessel, near what is taken of it every other time.
func (s *scene) inside(rng *rand.Rand, k *KeepOut) r3.Vec {
	for {
		var own [3]float64
		for i := range own {
			own[i] = s.v.lo[i] + (s.v.hi[i]-s.v.lo[i])*rng.Float64()
		}
		if len(k.boxes) > 0 && rng.IntN(4) > 0 {
			b := &k.boxes[rng.IntN(len(k.boxes))]
			for tries := 0; b.taken && tries < 20; tries++ { // where it ends
				b = &k.boxes[rng.IntN(len(k.boxes))]
			}
			for i := range own {
				w := b.hi[i] - b.lo[i]
				own[i] = b.lo[i] - w + 3*w*rng.Float64()
			}
		}
		var x r3.Vec
		for i, a := range s.v.axes {
			x = r3.Add(x, r3.Scale(own[i], a))
		}
		if s.holds(x) {
			return x
		}
	}
}

func (s *scene) holds(x r3.Vec) bool {
	if m := s.v.solid.Pieces[0].Mesh; m != nil {
		return m.Holds(x)
	}
	point := shape.Solid{Pieces: []shape.Piece{{Kind: shape.Point, A: x}}}
	var sc shape.Scratch
	var r shape.Result
	sc.SolidGap(&point, &s.v.solid, &r)
	return r.Gap < 0
}

// Random places at random positions, 2e4 for two of the vessels, 1e5 where AXLELOFT_LONG is set: none is nearer than the keep-out says, and every cut holds what is too near.
func TestKeepOutAgainstRandomPlaces(t *testing.T) {
	for name, s := range scenes(t) {
		t.Run(name, func(t *testing.T) {
			k := s.keepOut(t, 16)
			require.True(t, k.Proved)
			require.Greater(t, k.Least, 0.0)
			rng := rand.New(rand.NewPCG(1, 1))
			lo, hi := s.r.Box()
			g := s.gauge()
			cuts, plan := s.v.Cuts(k), s.v.Plan(k)
			near, bad := 0, 0
			tries := long(20_000, 100_000)
			if name != "shelf" && name != "side" {
				tries = long(5_000, 15_000)
			}
			for n := 0; n < tries; {
				l, r := lo.Left+(hi.Left-lo.Left)*rng.Float64(), lo.Right+(hi.Right-lo.Right)*rng.Float64()
				if rng.IntN(4) > 0 { // the edge, where most is taken
					i := rng.IntN(len(s.r.Edge))
					e, o, t := s.r.Edge[i], s.r.Edge[(i+1)%len(s.r.Edge)], rng.Float64()
					if rng.IntN(2) == 0 {
						t = 0
					}
					f := 1 - 1e-5
					l, r = f*(e.Left+t*(o.Left-e.Left)), f*(e.Right+t*(o.Right-e.Right))
				}
				if !g.place(l, r) {
					continue
				}
				for range 100 {
					n++
					x := s.inside(rng, k)
					d := g.nearest(x)
					low, _ := k.At(s.v, x)
					if d < low-1e-6 {
						bad++
					}
					if d >= -1e-3 {
						continue
					}
					near++
					for i := range cuts {
						assert.True(t, cuts[i].Lies(x), "%s does not hold %v", cuts[i].Words, x)
					}
					in := len(plan) == 0
					for i := range plan {
						in = in || plan[i].Lies(x)
					}
					assert.True(t, in, "the chosen cuts do not hold %v", x)
				}
			}
			assert.Zero(t, bad)
			assert.Greater(t, near, 30)
		})
	}
}

// The litres taken, by counting random places that come too near at some of many positions: a little fewer than there are, with the count's own error.
func TestKeepOutLitres(t *testing.T) {
	places := long(1000, 2500)
	for name, s := range scenes(t) {
		if name == "turned" { // counted among the random places
			continue
		}
		t.Run(name, func(t *testing.T) {
			coarse, k := s.keepOut(t, 24), s.keepOut(t, 8)
			assert.LessOrEqual(t, coarse.Least, k.Most)
			assert.LessOrEqual(t, k.Least, coarse.Most)
			assert.Less(t, k.Most-k.Least, coarse.Most-coarse.Least)
			rng := rand.New(rand.NewPCG(2, 2))
			// from a box round all that may be taken
			lo, hi := s.v.hi, s.v.lo
			for i := range k.boxes {
				for a := range lo {
					lo[a], hi[a] = math.Min(lo[a], k.boxes[i].lo[a]), math.Max(hi[a], k.boxes[i].hi[a])
				}
			}
			whole := mm3
			for a := range lo {
				whole *= hi[a] - lo[a]
			}
			xs := make([]r3.Vec, places)
			in := make([]bool, places)
			for i := range xs {
				for a := range lo {
					xs[i] = r3.Add(xs[i], r3.Scale(lo[a]+(hi[a]-lo[a])*rng.Float64(), s.v.axes[a]))
				}
			}
			g := s.gauge()
			try := func(l, r float64) {
				if !g.place(l, r) {
					return
				}
				for i, x := range xs {
					in[i] = in[i] || g.nearest(x) < 0
				}
			}
			box0, box1 := s.r.Box()
			const across = 13
			for i := range across {
				for j := range across {
					try(box0.Left+(box1.Left-box0.Left)*float64(i)/(across-1), box0.Right+(box1.Right-box0.Right)*float64(j)/(across-1))
				}
			}
			for _, e := range s.r.Edge {
				try(0.9999*e.Left, 0.9999*e.Right)
			}
			count := 0
			for i := range in {
				if in[i] && s.holds(xs[i]) {
					count++
				}
			}
			p := float64(count) / float64(places)
			litres, off := whole*p, 4*whole*math.Sqrt(p*(1-p)/float64(places))
			assert.Greater(t, litres, k.Least-off-0.03*k.Most, "found %v", litres)
			assert.Less(t, litres, k.Most+off)
		})
	}
}

func TestDemoVolumes(t *testing.T) {
	for _, c := range []struct {
		job, tank string
		litres    float64
	}{{"rescue-tender", "Side tank", 164.0}, {"orchard-sprayer", "Rear tank", 149.9}, {"orchard-sprayer", "Tank shelf", 28.8}, {"survey-wagon", "Tank", 126.7}} {
		s := sceneOf(t, demo(t, c.job), c.tank)
		assert.InDelta(t, c.litres, s.v.Litres, 0.05, c.tank)
		assert.InDelta(t, s.v.Litres, mm3*within(s.v.polys), 1e-9, c.tank)
	}
	// Nothing comes near the sprayer's rear tank itself, nor the wagon's.
	for _, c := range [][2]string{{"orchard-sprayer", "Rear tank"}, {"survey-wagon", "Tank"}} {
		s := sceneOf(t, demo(t, c[0]), c[1])
		k := s.keepOut(t, 8)
		assert.True(t, k.Proved)
		assert.Zero(t, k.Most)
		assert.Empty(t, s.v.Cuts(k))
		assert.Empty(t, s.v.Plan(k))
	}
}

// What moves on no known way is only known at the positions tried, and that is said.
func TestPositionsTried(t *testing.T) {
	s := sceneOf(t, demo(t, "orchard-sprayer"), "Tank shelf")
	var poses []motion.Pose
	solver := s.m.NewSolver()
	for h := -110.0; h <= 109; h += 10 {
		var p motion.Pose
		require.NoError(t, solver.Solve(h, h, &p))
		poses = append(poses, p)
	}
	k, err := s.v.KeepOut(context.Background(), s.c.NewSweep(s.part, nil, s.r.Within, poses), Fine{Side: 12, Most: 100_000}, nil)
	require.NoError(t, err)
	assert.False(t, k.Proved)
	assert.Greater(t, k.Least, 0.1)
	assert.Less(t, k.Most, s.keepOut(t, 8).Most, "fewer positions take less")
}

func TestCancelled(t *testing.T) {
	s := sceneOf(t, demo(t, "orchard-sprayer"), "Tank shelf")
	ctx, stop := context.WithCancel(context.Background())
	stop()
	_, err := s.v.KeepOut(ctx, s.sweep(), Fine{Side: 4, Most: 300_000}, nil)
	assert.ErrorIs(t, err, context.Canceled)
	_, err = s.v.Section(ctx, s.sweep(), 2, 620, 5)
	assert.ErrorIs(t, err, context.Canceled)
}

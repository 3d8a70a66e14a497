package clearance

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
	"axleloft/geometry/shape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func demo(t testing.TB, name string) *job.Job {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	return j
}

func build(t testing.TB, j *job.Job) (*motion.Mechanism, *Model) {
	t.Helper()
	m, err := motion.Compile(j)
	require.NoError(t, err)
	c, err := Compile(j, m)
	require.NoError(t, err)
	return m, c
}

// find returns the index of a pair by the names of its parts; -1 where it is not tested.
func (c *Model) find(a, b string) int {
	for i, p := range c.Pairs {
		x, y := c.Parts[p.A].Name, c.Parts[p.B].Name
		if x == a && y == b || x == b && y == a {
			return i
		}
	}
	return -1
}

func (c *Model) why(a, b string) string {
	for _, l := range c.LeftOut {
		if l.A == a && l.B == b {
			return l.Why
		}
	}
	return ""
}

func at(t testing.TB, m *motion.Mechanism, left, right float64) motion.Pose {
	t.Helper()
	var p motion.Pose
	require.NoError(t, m.NewSolver().Solve(left, right, &p))
	return p
}

// Against the figures of an independent calculation: gaps at ride height, and the smallest over the range at the position it names. Positions are printed to
// 0.1 mm, so the gap must lie between the smallest and the largest found within 0.05 mm of the position.
func TestDemoGaps(t *testing.T) {
	b, err := os.ReadFile("../../testdata/demos/figures.json")
	require.NoError(t, err)
	var all map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(b, &all))
	pairs := map[string]int{"orchard-sprayer": 181, "rescue-tender": 170, "survey-wagon": 180}
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			var figures struct {
				Pairs []struct {
					A, B                             string
					Gap, Left, Right, Ride, Required float64
				}
			}
			require.NoError(t, json.Unmarshal(all[name], &figures))
			require.NotEmpty(t, figures.Pairs)
			m, c := build(t, demo(t, name))
			assert.Len(t, c.Pairs, pairs[name])
			s, solver := c.NewScratch(), m.NewSolver()
			ride := m.Ride()
			var g Gap
			for _, f := range figures.Pairs {
				i := c.find(f.A, f.B)
				require.GreaterOrEqual(t, i, 0, "%s / %s", f.A, f.B)
				assert.Equal(t, f.Required, c.Pairs[i].Required)
				s.Place(&ride, nil)
				s.Gap(i, &g)
				assert.InDelta(t, f.Ride, g.Gap, 0.0501, "%s / %s at ride", f.A, f.B)
				lo, hi := math.Inf(1), math.Inf(-1)
				for k := range 25 {
					var p motion.Pose
					if solver.Solve(f.Left+0.025*float64(k%5-2), f.Right+0.025*float64(k/5-2), &p) != nil {
						continue
					}
					s.Place(&p, nil)
					s.Gap(i, &g)
					lo, hi = math.Min(lo, g.Gap), math.Max(hi, g.Gap)
				}
				assert.GreaterOrEqual(t, f.Gap, lo-0.006, "%s / %s", f.A, f.B)
				assert.LessOrEqual(t, f.Gap, hi+0.006, "%s / %s", f.A, f.B)
			}
		})
	}
}

func TestPartsAndPairs(t *testing.T) {
	_, c := build(t, demo(t, "orchard-sprayer"))
	var names []string
	for _, p := range c.Parts {
		names = append(names, p.Name)
	}
	assert.Equal(t, []string{"Lower left", "Lower right", "Centre upper", "Panhard rod", "Strut left", "Strut right", "Driveshaft",
		"Axle tube", "Housing", "Tyre left", "Tyre right",
		"Rail ahead left", "Rail ahead right", "Rail kick-up left", "Rail kick-up right", "Rail behind left", "Rail behind right",
		"Deck floor", "Wheel arch left", "Wheel arch right", "Rear tank", "Tank shelf", "Crossmember"}, names)
	assert.Equal(t, "no diameter given", c.why("Brake hose", ""))
	for _, pair := range [][2]string{{"Axle tube", "Housing"}, {"Tyre left", "Tyre right"}, {"Housing", "Tyre left"}, {"Rear tank", "Tank shelf"}} {
		assert.Equal(t, -1, c.find(pair[0], pair[1]), "one body: %v", pair)
	}
	for _, p := range c.Pairs {
		a, b := c.Parts[p.A], c.Parts[p.B]
		assert.Equal(t, math.Max(a.Required, b.Required), p.Required)
		assert.False(t, a.Body == b.Body && a.Body != Between)
	}
	want := map[string]float64{"Lower left": 12, "Strut right": 12, "Driveshaft": 25, "Axle tube": 12, "Housing": 12, "Tyre left": 40, "Rail ahead left": 10, "Rear tank": 25}
	for _, p := range c.Parts {
		if w, ok := want[p.Name]; ok {
			assert.Equal(t, w, p.Required, p.Name)
		}
	}
	assert.Equal(t, job.Ref{Index: 0, Side: job.Right}, c.Parts[1].Ref)
	assert.Equal(t, job.Right, c.Parts[10].Ref.Side)
}

// Twins of a symmetrical job have equal gaps at ride height.
func TestMirrorTwins(t *testing.T) {
	m, c := build(t, demo(t, "rescue-tender"))
	s := c.NewScratch()
	var g, h Gap
	for _, lr := range [][2]float64{{0, 0}, {60, 60}, {-90, -90}, {70, -50}} {
		p, q := at(t, m, lr[0], lr[1]), at(t, m, lr[1], lr[0])
		for _, pair := range [][4]string{
			{"Lower left", "Rail ahead left", "Lower right", "Rail ahead right"},
			{"Strut left", "Tyre left", "Strut right", "Tyre right"},
			{"Upper left", "Housing", "Upper right", "Housing"},
			{"Tyre left", "Wheel arch left", "Tyre right", "Wheel arch right"},
			{"Upper left", "Lower right", "Upper right", "Lower left"},
		} {
			s.Place(&p, nil)
			s.Gap(c.find(pair[0], pair[1]), &g)
			s.Place(&q, nil)
			s.Gap(c.find(pair[2], pair[3]), &h)
			assert.InDelta(t, g.Gap, h.Gap, 1e-7, "%v", pair)
		}
	}
}

func TestOwnBracket(t *testing.T) {
	j := demo(t, "orchard-sprayer")
	zero, thirty, whole := 0.0, 30.0, 2000.0
	j.Links[2].FrameEnd.Bracket = &thirty // Panhard rod
	j.Links[2].AxleEnd.Bracket = &zero
	j.Links[1].AxleEnd.Bracket = &whole // Centre upper
	m, c := build(t, j)
	s := c.NewScratch()
	p := at(t, m, 40, -20)
	s.Place(&p, nil)

	ends := func(a, b string) (from, to r3.Vec) {
		i := c.find(a, b)
		require.GreaterOrEqual(t, i, 0, "%s / %s", a, b)
		x, _ := s.Sides(i)
		return x.Pieces[0].A, x.Pieces[0].B
	}
	frameOf := func(k int) r3.Vec { return m.Links[k].Frame }
	axleOf := func(k int) r3.Vec { return p.Point(m.Links[k].Axle) }

	// Lower left (link 0): 80 mm off its axle end against tube and housing, off its frame end against the rail that carries it, whole against the tyre and other rails.
	from, to := ends("Lower left", "Axle tube")
	assert.InDelta(t, 0, r3.Norm(r3.Sub(from, frameOf(0))), 1e-12)
	assert.InDelta(t, 80, r3.Norm(r3.Sub(to, axleOf(0))), 1e-9)
	u := r3.Unit(r3.Sub(axleOf(0), frameOf(0)))
	assert.InDelta(t, 0, r3.Norm(r3.Cross(u, r3.Sub(to, axleOf(0)))), 1e-9, "along the centre line")
	from, to = ends("Lower left", "Rail ahead left")
	assert.InDelta(t, 80, r3.Norm(r3.Sub(from, frameOf(0))), 1e-9)
	assert.InDelta(t, 0, r3.Norm(r3.Sub(to, axleOf(0))), 1e-12)
	for _, b := range []string{"Tyre left", "Rail kick-up left", "Rear tank", "Strut left"} {
		from, to = ends("Lower left", b)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(from, frameOf(0)))+r3.Norm(r3.Sub(to, axleOf(0))), 1e-12, b)
		assert.Empty(t, c.why("Lower left", b))
	}
	assert.Equal(t, "only beyond 80 mm from its own bracket", c.why("Lower left", "Axle tube"))

	// The ends' own reach.
	from, _ = ends("Panhard rod", "Rail behind right")
	assert.InDelta(t, 30, r3.Norm(r3.Sub(from, frameOf(3))), 1e-9)
	assert.Equal(t, "only beyond 30 mm from its own bracket", c.why("Panhard rod", "Rail behind right"))
	_, to = ends("Panhard rod", "Axle tube")
	assert.InDelta(t, 0, r3.Norm(r3.Sub(to, axleOf(3))), 1e-12)
	assert.Empty(t, c.why("Panhard rod", "Axle tube"))

	// Nothing left of the bar.
	assert.Equal(t, -1, c.find("Centre upper", "Housing"))
	assert.Equal(t, "all of it lies within 2000 mm of its own bracket", c.why("Centre upper", "Housing"))

	// Struts and driveshaft.
	_, to = ends("Strut left", "Axle tube")
	assert.InDelta(t, 80, r3.Norm(r3.Sub(to, p.Point(m.Struts[0].Axle))), 1e-9)
	_, to = ends("Driveshaft", "Housing")
	assert.InDelta(t, 80, r3.Norm(r3.Sub(to, p.Point(m.Drive.Pinion))), 1e-9)
	_, to = ends("Driveshaft", "Axle tube")
	assert.InDelta(t, 0, r3.Norm(r3.Sub(to, p.Point(m.Drive.Pinion))), 1e-12)
}

func TestLeftOut(t *testing.T) {
	j := demo(t, "orchard-sprayer")
	j.Links[1].Tube = nil
	j.Struts[0].Diameter = nil
	j.Driveline.ShaftDiameter = nil
	j.Vehicle.Tyre.Width = nil
	j.Envelopes = append(j.Envelopes, job.Envelope{Name: "Winch", Kind: "mesh", File: "winch.stl"})
	_, c := build(t, j)
	assert.Equal(t, "no tube diameter given", c.why("Centre upper", ""))
	assert.Equal(t, "no diameter given", c.why("Strut left", ""))
	assert.Equal(t, "no diameter given", c.why("Strut right", ""))
	assert.Equal(t, "no shaft diameter given", c.why("Driveshaft", ""))
	assert.Equal(t, "no tyre width given", c.why("Tyre left", ""))
	assert.Equal(t, `its file "winch.stl" is looked for beside the job, and the job is in no file yet: save it there`, c.why("Winch", ""))
	movers := 0
	for _, p := range c.Parts {
		if p.Body != OnFrame {
			movers++
		}
		assert.NotContains(t, []string{"Centre upper", "Strut left", "Driveshaft", "Tyre left", "Winch"}, p.Name)
	}
	assert.Equal(t, 5, movers) // two lowers, Panhard rod, axle tube, housing

	j.Axle.Housing = append(j.Axle.Housing, job.Envelope{Kind: "mesh", File: "cover.stl"})
	_, c = build(t, j)
	assert.GreaterOrEqual(t, c.find("Panhard rod", "Housing"), 0)
	assert.Contains(t, c.why("Housing", "Rear tank"), `of the housing only the other shapes: its file "cover.stl"`)
	j.Axle.Housing = j.Axle.Housing[1:]
	_, c = build(t, j)
	assert.Equal(t, -1, c.find("Panhard rod", "Housing"))
	assert.Contains(t, c.why("Housing", ""), `its file "cover.stl"`)
}

// A bent link keeps its form, is held at its frame pivot and points at its axle pivot; its spin turns the bends about that line.
func TestBentLink(t *testing.T) {
	j := demo(t, "rescue-tender")
	j.Links[1].Bends = []job.Point{{400, 300, 700}, {150, 200, 710}}
	m, c := build(t, j)
	part := 2
	require.Equal(t, "Upper left", c.Parts[part].Name)
	assert.False(t, c.Parts[part].Convex)
	s := c.NewScratch()
	knots := func() []r3.Vec {
		var k []r3.Vec
		for _, p := range s.Solid(part).Pieces {
			if k == nil {
				k = append(k, p.A)
			} else {
				require.Equal(t, k[len(k)-1], p.A)
			}
			k = append(k, p.B)
		}
		return k
	}
	ride := m.Ride()
	s.Place(&ride, nil)
	home := knots()
	for i, want := range []r3.Vec{{X: 640, Y: 345, Z: 610}, {X: 400, Y: 300, Z: 700}, {X: 150, Y: 200, Z: 710}, {X: -30, Y: 120, Z: 650}} {
		assert.InDelta(t, 0, r3.Norm(r3.Sub(home[i], want)), 1e-9)
	}
	p := at(t, m, 90, -60)
	uses := make([]quantity.LinkUse, len(m.Links))
	for _, spin := range []float64{0, 0.3} {
		uses[2].Spin = spin
		s.Place(&p, uses)
		k := knots()
		for a := range k {
			for b := range a {
				assert.InDelta(t, r3.Norm(r3.Sub(home[a], home[b])), r3.Norm(r3.Sub(k[a], k[b])), 1e-9, "rigid")
			}
		}
		assert.InDelta(t, 0, r3.Norm(r3.Sub(k[0], home[0])), 1e-12)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(k[3], p.Point(m.Links[2].Axle))), 1e-8)
		// Against the definition: the turn of least angle, then the spin about the link's own axis, right-hand.
		u0, u := r3.Unit(r3.Sub(home[3], home[0])), r3.Unit(r3.Sub(k[3], k[0]))
		least := r3.NewRotation(math.Acos(r3.Dot(u0, u)), r3.Cross(u0, u))
		for i := 1; i < 3; i++ {
			want := r3.NewRotation(spin, u).Rotate(least.Rotate(r3.Sub(home[i], home[0])))
			assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Sub(k[i], k[0]), want)), 1e-6)
		}
	}

	// The reach of its own bracket runs along the centre line, round a bend too.
	reach := 250.0
	j.Links[1].AxleEnd.Bracket = &reach
	_, c = build(t, j)
	s = c.NewScratch()
	s.Place(&ride, nil)
	a, _ := s.Sides(c.find("Upper left", "Housing"))
	sum := 0.0
	for _, q := range a.Pieces {
		sum += r3.Norm(r3.Sub(q.B, q.A))
	}
	whole := 0.0
	for i := 1; i < len(home); i++ {
		whole += r3.Norm(r3.Sub(home[i], home[i-1]))
	}
	assert.InDelta(t, whole-250, sum, 1e-9)
	last := a.Pieces[len(a.Pieces)-1]
	assert.InDelta(t, 0, r3.Norm(r3.Sub(last.B, last.A)), 1e-12, "the last stretch is shorter than the reach")
	b, _ := s.Sides(c.find("Upper left", "Rail ahead left"))
	assert.Len(t, b.Pieces, 3)
}

func TestSameBitsWhateverCameBefore(t *testing.T) {
	for _, name := range assets.Demos() {
		m, c := build(t, demo(t, name))
		used, fresh := c.NewScratch(), c.NewScratch()
		a, b := make([]Gap, len(c.Pairs)), make([]Gap, len(c.Pairs))
		for _, lr := range [][2]float64{{-100, -90}, {100, -110}, {0, 0}, {30, 60}} {
			p := at(t, m, lr[0], lr[1])
			used.Place(&p, nil)
			used.Gaps(a)
		}
		p := at(t, m, 30, 60)
		fresh.Place(&p, nil)
		for i := len(b) - 1; i >= 0; i-- {
			fresh.Gap(i, &b[i])
		}
		assert.Equal(t, b, a)
	}
}

// The bound from the boxes never exceeds the gap, and is worth having: it settles most pairs that are far apart.
func TestAtLeast(t *testing.T) {
	for _, name := range assets.Demos() {
		m, c := build(t, demo(t, name))
		s := c.NewScratch()
		var g Gap
		far, settled := 0, 0
		for _, lr := range [][2]float64{{0, 0}, {80, 80}, {-90, -90}, {100, -110}, {-110, 100}} {
			p := at(t, m, lr[0], lr[1])
			s.Place(&p, nil)
			for i := range c.Pairs {
				s.Gap(i, &g)
				b := s.AtLeast(i)
				require.LessOrEqual(t, b, g.Gap)
				if g.Gap > 300 {
					far++
					if b > 150 {
						settled++
					}
				}
			}
		}
		assert.Greater(t, settled, far/2)
	}
}

func TestPlaceAndGapDoNotAllocate(t *testing.T) {
	j := demo(t, "rescue-tender")
	j.Links[1].Bends = []job.Point{{400, 300, 700}}
	m, c := build(t, j)
	s := c.NewScratch()
	p := at(t, m, 50, -40)
	uses := make([]quantity.LinkUse, len(m.Links))
	g := make([]Gap, len(c.Pairs))
	var o Overlap
	assert.Zero(t, testing.AllocsPerRun(20, func() {
		s.Place(&p, uses)
		s.Gaps(g)
		s.AtLeast(0)
		s.Overlap(0, &o)
	}))
}

// Every place that both parts fill lies in the box that Overlap gives.
func TestOverlapHoldsTheSharedSpace(t *testing.T) {
	m, c := build(t, demo(t, "orchard-sprayer"))
	s := c.NewScratch()
	i := c.find("Panhard rod", "Tank shelf")
	var o Overlap
	ride := m.Ride()
	s.Place(&ride, nil)
	assert.False(t, s.Overlap(i, &o))
	p := at(t, m, 109.3, 109.3)
	s.Place(&p, nil)
	require.True(t, s.Overlap(i, &o))
	a, _ := s.Sides(i)
	bar := a.Pieces[0]
	shared := 0
	var g Gap
	var scratch shape.Scratch
	for x := -420.0; x <= -200; x += 4 {
		for y := -390.0; y <= 300; y += 10 {
			for z := 600.0; z <= 790; z += 4 {
				q := shape.Piece{Kind: shape.Point, A: r3.Vec{X: x, Y: y, Z: z}}
				if scratch.Gap(&q, &bar, &g); g.Gap > 0 {
					continue
				}
				shared++
				in := x >= o.Min.X && x <= o.Max.X && y >= o.Min.Y && y <= o.Max.Y && z >= o.Min.Z && z <= o.Max.Z
				require.True(t, in, "%v", q.A)
			}
		}
	}
	assert.Greater(t, shared, 50)
	assert.Less(t, o.Max.Z-o.Min.Z, 60.0, "and is not much larger than the rod's dip into the shelf")
}

func BenchmarkAllGapsAtPose(b *testing.B) {
	for _, name := range assets.Demos() {
		b.Run(name, func(b *testing.B) {
			m, c := build(b, demo(b, name))
			s := c.NewScratch()
			var poses []motion.Pose
			for _, lr := range [][2]float64{{0, 0}, {80, 80}, {-90, -90}, {100, -110}, {-110, 100}} {
				poses = append(poses, at(b, m, lr[0], lr[1]))
			}
			g := make([]Gap, len(c.Pairs))
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				s.Place(&poses[i%len(poses)], nil)
				s.Gaps(g)
			}
		})
	}
}

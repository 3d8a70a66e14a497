package clearance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
	"axleloft/geometry/shape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func layout(t testing.TB, name string) *job.Job {
	t.Helper()
	f, err := os.Open("../../testdata/layouts/" + name + ".axleloft")
	require.NoError(t, err)
	defer f.Close()
	j, err := job.Read(f)
	require.NoError(t, err)
	return j
}

func layouts(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../../testdata/layouts/*.axleloft")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for i := range files {
		files[i] = strings.TrimSuffix(filepath.Base(files[i]), ".axleloft")
	}
	return files
}

// placed is a model with its parts at a pose.
type placed struct {
	*Model
	t *testing.T
	m *motion.Mechanism
	s *Scratch
	p motion.Pose
}

func place(t *testing.T, j *job.Job, left, right float64) *placed {
	t.Helper()
	m, c := build(t, j)
	k := &placed{Model: c, t: t, m: m, s: c.NewScratch(), p: at(t, m, left, right)}
	uses := make([]quantity.LinkUse, len(m.Links))
	quantity.Links(m, &k.p, uses)
	k.s.Place(&k.p, uses)
	return k
}

func (k *placed) part(name string) int {
	k.t.Helper()
	for i := range k.Parts {
		if k.Parts[i].Name == name {
			return i
		}
	}
	require.Fail(k.t, "no part "+name)
	return -1
}

// side is what counts of part a against part b.
func (k *placed) side(a, b string) *shape.Solid {
	k.t.Helper()
	i := k.find(a, b)
	require.GreaterOrEqual(k.t, i, 0, "%s / %s", a, b)
	x, y := k.s.Sides(i)
	if k.Parts[k.Pairs[i].A].Name == a {
		return x
	}
	return y
}

// bar asserts where a bar runs.
func (k *placed) bar(p *shape.Piece, from, to r3.Vec, what string) {
	k.t.Helper()
	assert.Equal(k.t, shape.Segment, p.Kind, what)
	assert.InDelta(k.t, 0, r3.Norm(r3.Sub(p.A, from)), 1e-9, "%s from", what)
	assert.InDelta(k.t, 0, r3.Norm(r3.Sub(p.B, to)), 1e-9, "%s to", what)
}

// towards is the point so many mm from a on the way to b.
func towards(a, b r3.Vec, mm float64) r3.Vec { return r3.Add(a, r3.Scale(mm, r3.Unit(r3.Sub(b, a)))) }

func TestAArm(t *testing.T) {
	j := layout(t, "a-arm-lowers")
	ten, thirty := 10.0, 30.0
	j.Arms[0].FrameEnds[1].Bracket = &ten
	j.Arms[0].AxleEnds[0].Bracket = &thirty
	k := place(t, j, 70, -40)
	arm := k.part("A-arm")
	assert.Equal(t, ArmPart, k.Parts[arm].Kind)
	assert.Equal(t, Between, k.Parts[arm].Body)
	assert.False(t, k.Parts[arm].Convex)
	a := &k.m.Arms[0]
	apex := k.p.Point(a.Axle[0])
	whole := k.s.Solid(arm)
	require.Len(t, whole.Pieces, 2)
	for i := range whole.Pieces {
		k.bar(&whole.Pieces[i], a.Frame[i], apex, "as they stand")
		assert.Equal(t, 25.0, whole.Pieces[i].Radius)
		assert.InDelta(t, a.Lengths[i], r3.Norm(r3.Sub(whole.Pieces[i].B, whole.Pieces[i].A)), 1e-8, "exactly located")
	}
	for _, b := range []string{"Axle tube", "Housing"} {
		s := k.side("A-arm", b)
		for i := range s.Pieces {
			k.bar(&s.Pieces[i], a.Frame[i], towards(apex, a.Frame[i], 30), b)
		}
		assert.Equal(t, "only beyond 30 mm from its own bracket", k.why("A-arm", b))
	}
	s := k.side("A-arm", "Crossmember")
	k.bar(&s.Pieces[0], towards(a.Frame[0], apex, 80), apex, "each end its own reach")
	k.bar(&s.Pieces[1], towards(a.Frame[1], apex, 10), apex, "each end its own reach")
	assert.Equal(t, "only beyond 80 and 10 mm from its own brackets", k.why("A-arm", "Crossmember"))
	for _, b := range []string{"Lower left", "Tyre right", "Rail kick-up left", "Strut left", "Driveshaft"} {
		assert.Same(t, whole, k.side("A-arm", b), "whole against "+b)
	}
	// The gap of a union is the smallest over its bars: by hand, bar against bar.
	var g Gap
	k.s.Gap(k.find("A-arm", "Driveshaft"), &g)
	shaft := k.s.Solid(k.part("Driveshaft")).Pieces[0]
	least := math.Inf(1)
	for i := range 2 {
		least = math.Min(least, apart(a.Frame[i], apex, shaft.A, shaft.B)-25-50)
	}
	assert.InDelta(t, least, g.Gap, 1e-6)
}

// apart is the distance of two stretches, by a search of nested thirds along both: plain and slow.
func apart(a, b, c, d r3.Vec) float64 {
	point := func(p, q r3.Vec, t float64) r3.Vec { return r3.Add(p, r3.Scale(t, r3.Sub(q, p))) }
	least := func(f func(float64) float64) float64 {
		lo, hi := 0.0, 1.0
		for range 100 {
			x, y := lo+(hi-lo)/3, hi-(hi-lo)/3
			if f(x) < f(y) {
				hi = y
			} else {
				lo = x
			}
		}
		return f((lo + hi) / 2)
	}
	return least(func(s float64) float64 {
		p := point(a, b, s)
		return least(func(t float64) float64 { return r3.Norm(r3.Sub(p, point(c, d, t))) })
	})
}

// The bars of a radius arm keep their form, its points stand off their mounts by what the bushes give.
func TestRadiusArm(t *testing.T) {
	k := place(t, layout(t, "radius-arms-panhard"), 70, -60)
	for i, name := range []string{"Radius arm left", "Radius arm right"} {
		a := &k.m.Arms[i]
		s := k.s.Solid(k.part(name))
		require.Len(t, s.Pieces, 2)
		assert.Equal(t, s.Pieces[0].A, s.Pieces[1].A, "both from its single pivot")
		for n := range s.Pieces {
			assert.InDelta(t, a.Lengths[n], r3.Norm(r3.Sub(s.Pieces[n].B, s.Pieces[n].A)), 1e-9, "rigid")
		}
		ride := r3.Norm(r3.Sub(a.Axle[0], a.Axle[1]))
		assert.InDelta(t, ride, r3.Norm(r3.Sub(s.Pieces[0].B, s.Pieces[1].B)), 1e-9, "rigid")
		give, _ := k.m.ArmGive(&k.p, i)
		stands := [3]r3.Vec{s.Pieces[0].A, s.Pieces[0].B, s.Pieces[1].B}
		mounts := [3]r3.Vec{a.Frame[0], k.p.Point(a.Axle[0]), k.p.Point(a.Axle[1])}
		for n := range stands {
			assert.InDelta(t, give[n], r3.Norm(r3.Sub(stands[n], mounts[n])), 1e-9, "pivot %d", n)
			assert.Greater(t, give[n], 1e-3, "crossed up its bushes give")
		}
		tube := k.side(name, "Axle tube")
		for n := range tube.Pieces {
			k.bar(&tube.Pieces[n], stands[0], towards(stands[n+1], stands[0], 80), "beyond both axle brackets")
		}
		rail := k.side(name, strings.Replace(name, "Radius arm", "Rail ahead", 1))
		for n := range rail.Pieces {
			k.bar(&rail.Pieces[n], towards(stands[0], stands[n+1], 80), stands[n+1], "beyond its frame bracket")
		}
	}
	assert.GreaterOrEqual(t, k.find("Radius arm left", "Panhard rod"), 0)
	assert.GreaterOrEqual(t, k.find("Radius arm left", "Radius arm right"), 0)
	assert.Equal(t, -1, k.find("Radius arm left", "Radius arm left"))
}

func TestWattsRods(t *testing.T) {
	t.Run("rocker on the axle", func(t *testing.T) {
		j := layout(t, "watts-on-axle")
		forty := 40.0
		j.Rockers[0].Rods[1].FarEnd.Bracket = &forty
		k := place(t, j, 80, -50)
		r := &k.m.Rockers[0]
		for n, name := range []string{"Watt's rod left", "Watt's rod right"} {
			p := &k.Parts[k.part(name)]
			assert.Equal(t, RodPart, p.Kind)
			assert.Equal(t, job.Ref{}, p.Ref)
			assert.Equal(t, n, p.Rod)
			near, far := k.m.At(&k.p, &r.Rods[n].Rocker), r.Rods[n].Far.At
			assert.InDelta(t, r.Rods[n].Length, r3.Norm(r3.Sub(far, near)), 1e-8)
			k.bar(&k.s.Solid(k.part(name)).Pieces[0], near, far, name)
			for _, b := range []string{"Axle tube", "Housing", "Watt's rod left", "Rear tank", "Lower left"} {
				if b != name && k.find(name, b) >= 0 {
					k.bar(&k.side(name, b).Pieces[0], near, far, "whole against "+b)
				}
			}
			for _, b := range []string{"Rail behind left", "Rail behind right"} {
				k.bar(&k.side(name, b).Pieces[0], near, towards(far, near, []float64{80, 40}[n]), "beyond its bracket on the rail")
			}
		}
	})
	t.Run("rocker on the frame", func(t *testing.T) {
		j := layout(t, "watts-upright-on-frame")
		k := place(t, j, 80, -50)
		r := &k.m.Rockers[0]
		for n := range r.Rods {
			name := r.Rods[n].Name
			near, far := k.m.At(&k.p, &r.Rods[n].Rocker), k.p.Point(r.Rods[n].Far.At)
			k.bar(&k.s.Solid(k.part(name)).Pieces[0], near, far, name)
			for _, b := range []string{"Axle tube", "Housing"} {
				k.bar(&k.side(name, b).Pieces[0], near, towards(far, near, 80), "beyond its bracket on the axle")
			}
			// What carries the rocker does not carry a rod: at the rocker its bracket is the rocker itself.
			k.bar(&k.side(name, "Hanger").Pieces[0], near, far, "whole against the hanger")
		}
	})
	t.Run("no tube", func(t *testing.T) {
		j := layout(t, "watts-on-axle")
		j.Rockers[0].Rods[0].Tube = nil
		_, c := build(t, j)
		assert.Equal(t, noTube, c.why("Watt's rod left", ""))
		for _, p := range c.Parts {
			assert.NotEqual(t, "Watt's rod left", p.Name)
		}
	})
	t.Run("carried by its rocker's name", func(t *testing.T) {
		j := layout(t, "watts-on-axle")
		for i := range j.Envelopes {
			if j.Envelopes[i].Name == "Rail behind" {
				j.Envelopes[i].Carries = []string{"Watt's rocker"}
			}
		}
		_, c := build(t, j)
		assert.Equal(t, "only beyond 80 mm from its own bracket", c.why("Watt's rod left", "Rail behind left"))
	})
}

func TestStrutsOnLinksAndArms(t *testing.T) {
	k := place(t, layout(t, "four-link-struts-on-lowers"), 60, -70)
	for i := range k.m.Struts {
		s := &k.m.Struts[i]
		own, other := "Lower left", "Lower right"
		if strings.HasSuffix(s.Name, "right") {
			own, other = other, own
		}
		foot := k.m.At(&k.p, &s.Foot)
		assert.Greater(t, r3.Norm(r3.Sub(foot, k.p.Point(s.Axle))), 5.0, "the axle does not carry it")
		k.bar(&k.s.Solid(k.part(s.Name)).Pieces[0], s.Frame, foot, s.Name)
		k.bar(&k.side(s.Name, own).Pieces[0], s.Frame, towards(foot, s.Frame, s.Bracket), "beyond its bracket on the link")
		assert.Equal(t, fmt.Sprintf("only beyond %g mm from its own bracket", s.Bracket), k.why(s.Name, own))
		for _, b := range []string{other, "Axle tube", "Housing", "Tyre left"} {
			k.bar(&k.side(s.Name, b).Pieces[0], s.Frame, foot, "whole against "+b)
		}
		// The link itself counts whole against what stands on it.
		l := k.s.Solid(k.part(own)).Pieces[0]
		k.bar(&k.side(own, s.Name).Pieces[0], l.A, l.B, own)
	}
	k = place(t, layout(t, "a-arm-lowers"), 60, -70)
	foot := k.m.At(&k.p, &k.m.Struts[2].Foot)
	k.bar(&k.side("Helper", "A-arm").Pieces[0], k.m.Struts[2].Frame, towards(foot, k.m.Struts[2].Frame, 80), "beyond its bracket on the arm")
}

// An air bag is as wide as its length makes it.
func TestAirBag(t *testing.T) {
	j := demo(t, "orchard-sprayer")
	j.Struts[0].Diameter = nil
	m0, err := motion.Compile(j)
	require.NoError(t, err)
	ride := m0.Struts[0].Length
	j.Struts[0].Diameters = []job.Point2{{ride - 60, 160}, {ride - 20, 130}, {ride + 30, 110}}
	by := func(length float64) float64 { // by hand
		switch {
		case length < ride-60:
			return 160
		case length < ride-20:
			return 160 - 30*(length-(ride-60))/40
		case length < ride+30:
			return 130 - 20*(length-(ride-20))/50
		}
		return 110
	}
	seen := map[float64]bool{}
	for _, lr := range [][2]float64{{0, 0}, {-45, -45}, {30, 30}, {50, 20}, {100, 100}, {-90, -90}} {
		k := place(t, j, lr[0], lr[1])
		for _, name := range []string{"Strut left", "Strut right"} {
			p := &k.s.Solid(k.part(name)).Pieces[0]
			length := r3.Norm(r3.Sub(p.B, p.A))
			assert.InDelta(t, by(length)/2, p.Radius, 1e-9, "%v", lr)
			assert.Equal(t, p.Radius, k.side(name, "Axle tube").Pieces[0].Radius)
			seen[math.Round(p.Radius)] = true
		}
	}
	assert.True(t, seen[80] && seen[55], "both ends held beyond")
}

func TestTwoPieceShaft(t *testing.T) {
	j := layout(t, "two-piece-shaft")
	lo, hi := job.Point{1400, -150, 600}, job.Point{1500, 150, 640}
	j.Envelopes = append(j.Envelopes, job.Envelope{Name: "Bearing carrier", Kind: "box", Min: &lo, Max: &hi, Carries: []string{job.DriveshaftName}})
	k := place(t, j, 60, -30)
	d := &k.m.Drive
	pinion := k.p.Point(d.Pinion)
	s := k.s.Solid(k.part(job.DriveshaftName))
	require.Len(t, s.Pieces, 2)
	k.bar(&s.Pieces[0], d.Output, d.Bearing, "front")
	k.bar(&s.Pieces[1], d.Bearing, pinion, "rear")
	for _, b := range []string{"Lower left", "Centre upper", "Tyre left", "Axle tube"} {
		assert.Same(t, s, k.side(job.DriveshaftName, b), "both pieces against "+b)
	}
	h := k.side(job.DriveshaftName, "Housing")
	require.Len(t, h.Pieces, 2)
	k.bar(&h.Pieces[0], d.Output, d.Bearing, "front")
	k.bar(&h.Pieces[1], d.Bearing, towards(pinion, d.Bearing, 80), "beyond its pinion joint")
	c := k.side(job.DriveshaftName, "Crossmember")
	require.Len(t, c.Pieces, 1)
	k.bar(&c.Pieces[0], d.Bearing, pinion, "only the rear")
	assert.Equal(t, "only its rear piece, since the front one stands still", k.why(job.DriveshaftName, "Crossmember"))
	c = k.side(job.DriveshaftName, "Bearing carrier")
	require.Len(t, c.Pieces, 1)
	k.bar(&c.Pieces[0], towards(d.Bearing, pinion, 80), pinion, "beyond the bearing")
	assert.Equal(t, "only its rear piece, since the front one stands still, and of that only beyond 80 mm from its own bracket", k.why(job.DriveshaftName, "Bearing carrier"))
}

// Whatever a job is made of, measuring does not allocate, and gives the same bits whatever was measured before.
func TestEveryLayout(t *testing.T) {
	for _, name := range layouts(t) {
		t.Run(name, func(t *testing.T) {
			m, c := build(t, layout(t, name))
			solver, used, fresh := m.NewSolver(), c.NewScratch(), c.NewScratch()
			uses := make([]quantity.LinkUse, len(m.Links))
			a, b := make([]Gap, len(c.Pairs)), make([]Gap, len(c.Pairs))
			r := rand.New(rand.NewPCG(4, 4))
			var p motion.Pose
			solved := 0
			for range 12 {
				if solver.Solve(160*r.Float64()-80, 160*r.Float64()-80, &p) != nil {
					continue
				}
				solved++
				quantity.Links(m, &p, uses)
				used.Place(&p, uses)
				used.Gaps(a)
				for i := range a {
					require.False(t, math.IsNaN(a[i].Gap), "%d", i)
					require.LessOrEqual(t, used.AtLeast(i), a[i].Gap)
				}
			}
			require.Greater(t, solved, 6)
			quantity.Links(m, &p, uses)
			fresh.Place(&p, uses)
			fresh.Gaps(b)
			used.Place(&p, uses)
			used.Gaps(a)
			assert.Equal(t, b, a)
			assert.Zero(t, testing.AllocsPerRun(3, func() {
				used.Place(&p, uses)
				used.Gaps(a)
			}))
		})
	}
}

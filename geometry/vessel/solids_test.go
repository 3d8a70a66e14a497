package vessel

import (
	"bytes"
	"encoding/binary"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/shape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// meshOf is a part whose surface lies in a file of its own.
func meshOf(t testing.TB, corners []r3.Vec) job.Envelope {
	t.Helper()
	var b bytes.Buffer
	b.Write(make([]byte, 80))
	require.NoError(t, binary.Write(&b, binary.LittleEndian, uint32(len(corners)/3)))
	for i := 0; i < len(corners); i += 3 {
		b.Write(make([]byte, 12))
		for _, p := range corners[i : i+3] {
			require.NoError(t, binary.Write(&b, binary.LittleEndian, [3]float32{float32(p.X), float32(p.Y), float32(p.Z)}))
		}
		b.Write(make([]byte, 2))
	}
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "tank.stl"), b.Bytes(), 0o600))
	return job.Envelope{Name: "Tank", Kind: "mesh", File: "tank.stl", Vessel: true, Beside: job.Beside{Folder: dir}}
}

// trianglesOf fans the faces of polytopes.
func trianglesOf(list []poly) (out []r3.Vec) {
	for _, q := range list {
		for _, f := range q.faces {
			for i := 1; i+1 < len(f); i++ {
				out = append(out, f[0], f[i], f[i+1])
			}
		}
	}
	return out
}

// bumpy is a closed surface round a place that bulges in and out.
func bumpy(at r3.Vec, radius, bulge float64, n int) []r3.Vec {
	place := func(i, j int) r3.Vec {
		a, b := math.Pi*float64(i)/float64(n), math.Pi*float64(j%(2*n))/float64(n)
		d := r3.Vec{X: math.Sin(a) * math.Cos(b), Y: math.Sin(a) * math.Sin(b), Z: math.Cos(a)}
		if i == 0 || i == n {
			d = r3.Vec{Z: math.Copysign(1, math.Cos(a))}
		}
		return r3.Add(at, r3.Scale(radius*(1+bulge*math.Sin(5*d.X)*math.Sin(7*d.Y+d.Z)), d))
	}
	var out []r3.Vec
	for i := range n {
		for j := range 2 * n {
			p, q, r, s := place(i, j), place(i+1, j), place(i+1, j+1), place(i, j+1)
			if i+1 < n {
				out = append(out, p, q, r)
			}
			if i > 0 {
				out = append(out, p, r, s)
			}
		}
	}
	return out
}

func newVessel(t testing.TB, e job.Envelope) *Vessel {
	t.Helper()
	v, err := New(&e)
	require.NoError(t, err)
	require.Empty(t, v.Why)
	return v
}

// aslant are planes through a vessel.
func (v *Vessel) aslant(rng *rand.Rand, n int) []plane {
	var list []plane
	for range n {
		d := r3.Unit(r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()})
		lo, hi := v.reach(d)
		list = append(list, plane{d, lo + (hi-lo)*(0.2+0.6*rng.Float64())})
	}
	return list
}

// The same tank as a prism of several pieces and as a mesh of its faces, those between the pieces left out by themselves being there twice: the same litres under any planes.
func TestMeshAsPrism(t *testing.T) {
	prism := newVessel(t, job.Envelope{Name: "Tank", Kind: "prism", Plane: "side", Vessel: true, From: of(-200.0), To: of(260.0),
		Outline: []job.Point2{{-600, 500}, {200, 500}, {200, 640}, {-150, 640}, {-150, 800}, {-420, 860}, {-600, 800}}})
	require.Greater(t, len(prism.polys), 1)
	mesh := newVessel(t, meshOf(t, trianglesOf(prism.polys)))
	assert.InEpsilon(t, prism.Litres, mesh.Litres, 1e-9)
	rng := rand.New(rand.NewPCG(1, 1))
	for range 400 {
		planes := prism.aslant(rng, 1+rng.IntN(4))
		assert.InDelta(t, prism.within(planes...), mesh.within(planes...), 1e-8)
	}
	// Planes in its faces, and through its corners.
	for _, p := range []plane{{r3.Vec{X: 1}, -150}, {r3.Vec{Z: 1}, 640}, {r3.Vec{Z: -1}, -640}, {r3.Vec{Y: 1}, 260}, {r3.Vec{Z: 1}, 500}, planeOf(r3.Vec{X: 1, Z: 1}, 490)} {
		assert.InDelta(t, prism.within(p), mesh.within(p), 1e-8)
		assert.InDelta(t, prism.within(p, plane{r3.Vec{X: -1}, 300}), mesh.within(p, plane{r3.Vec{X: -1}, 300}), 1e-8)
	}
}

// A surface that bulges: what lies on both sides of a plane is all of it, and what lies within several is what a count of cubes finds, with the count's own error.
func TestMeshCut(t *testing.T) {
	v := newVessel(t, meshOf(t, bumpy(r3.Vec{X: 900, Y: -300, Z: 700}, 160, 0.25, 24)))
	m := v.solid.Pieces[0].Mesh
	rng := rand.New(rand.NewPCG(2, 2))
	for range 100 {
		p := v.aslant(rng, 3)
		both := v.within(p[0], p[1], p[2]) + v.within(p[0], p[1], p[2].reversed())
		assert.InDelta(t, v.within(p[0], p[1]), both, 1e-9)
		assert.InDelta(t, v.Litres, v.within(p[0])+v.within(p[0].reversed()), 1e-9)
	}
	const n = 40_000
	for range 6 {
		p := v.aslant(rng, 2)
		lo, hi := m.Bounds()
		room := r3.Sub(hi, lo)
		in := 0
		for range n {
			x := r3.Vec{X: lo.X + room.X*rng.Float64(), Y: lo.Y + room.Y*rng.Float64(), Z: lo.Z + room.Z*rng.Float64()}
			if r3.Dot(p[0].n, x) <= p[0].at && r3.Dot(p[1].n, x) <= p[1].at && m.Holds(x) {
				in++
			}
		}
		all, share := mm3*room.X*room.Y*room.Z, float64(in)/n
		assert.InDelta(t, all*share, v.within(p...), 5*all*math.Sqrt(share*(1-share)/n)+1e-6)
	}
}

// A ball: caps, slices and quarters in closed form. h r^2 pi - pi h^3/3 is the cap of height h.
func TestBallCut(t *testing.T) {
	const r = 150.0
	at := job.Point{-300, 200, 700}
	v := newVessel(t, job.Envelope{Name: "Tank", Kind: "ball", Centre: &at, Radius: of(r), Vessel: true})
	rng := rand.New(rand.NewPCG(3, 3))
	for range 50 {
		n := r3.Unit(r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()})
		h := 2 * r * rng.Float64()
		cap := plane{n, r3.Dot(n, at.Vec()) - r + h}
		assert.InDelta(t, mm3*math.Pi*h*h*(r-h/3), v.within(cap), 1e-6)
		other := r3.Unit(r3.Cross(n, r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}))
		turn := math.Pi * rng.Float64()
		turned := r3.Add(r3.Scale(math.Cos(turn), n), r3.Scale(math.Sin(turn), other))
		half := func(n r3.Vec) plane { return plane{n, r3.Dot(n, at.Vec())} }
		assert.InDelta(t, v.Litres*(math.Pi-turn)/(2*math.Pi), v.within(half(n), half(turned)), 1e-6, "a slice")
		third := r3.Cross(n, other)
		assert.InDelta(t, v.Litres/8, v.within(half(n), half(other), half(third)), 1e-6, "an eighth")
	}
	assert.Zero(t, v.within(plane{r3.Vec{X: 1}, -451}))
	assert.InDelta(t, v.Litres, v.within(plane{r3.Vec{X: 1}, -149}), 1e-6)
}

// A pipe lying down: below a level its straight run holds a slice of its circle times its length, its two ends a cap of a ball.
func TestPipeFilled(t *testing.T) {
	const r, long = 120.0, 700.0
	v := newVessel(t, job.Envelope{Name: "Tank", Kind: "tube", Path: []job.Point{{0, 0, 600}, {long * 0.6, long * 0.8, 600}}, Outside: of(2 * r), Vessel: true})
	list := v.Dip(Tilt{}, nil, 5)
	require.Len(t, list, 49)
	for _, l := range list {
		h := l.Depth
		slice := r*r*math.Acos((r-h)/r) - (r-h)*math.Sqrt(math.Max(0, 2*r*h-h*h))
		assert.InDelta(t, mm3*(slice*long+math.Pi*h*h*(r-h/3)), l.Before, 2e-6, "%v", h)
	}
	assert.InDelta(t, v.Litres, list[48].Before, 2e-6)
	// Tilted about its middle, half of it lies below the middle still.
	along := newVessel(t, job.Envelope{Name: "Tank", Kind: "tube", Path: []job.Point{{-350, 0, 600}, {350, 0, 600}}, Outside: of(2 * r), Vessel: true})
	assert.InDelta(t, along.Litres/2, along.Dip(Tilt{Y: 0.2}, nil, r)[1].Before, 2e-6)
}

// A pipe with bends: its pieces add up to the closed form, planes part it into what adds up, and what lies within planes is what a count finds.
func TestBentPipeCut(t *testing.T) {
	path := []job.Point{{-600, 100, 500}, {-100, 100, 520}, {60, 220, 640}, {60, 500, 700}, {-200, 560, 900}}
	v := newVessel(t, job.Envelope{Name: "Tank", Kind: "tube", Path: path, Outside: of(150.0), Vessel: true})
	assert.InDelta(t, v.Litres, v.within(), 1e-6)
	rng := rand.New(rand.NewPCG(4, 4))
	for range 30 {
		p := v.aslant(rng, 2)
		assert.InDelta(t, v.Litres, v.within(p[0])+v.within(p[0].reversed()), 3e-6)
		assert.InDelta(t, v.within(p[0]), v.within(p[0], p[1])+v.within(p[0], p[1].reversed()), 3e-6)
	}
	s := &scene{v: v}
	const n = 60_000
	lo, hi := v.Bounds()
	room := r3.Sub(hi, lo)
	for range 4 {
		p := v.aslant(rng, 2)
		in, whole := 0, 0
		for range n {
			x := r3.Vec{X: lo.X + room.X*rng.Float64(), Y: lo.Y + room.Y*rng.Float64(), Z: lo.Z + room.Z*rng.Float64()}
			if !s.holds(x) {
				continue
			}
			whole++
			if r3.Dot(p[0].n, x) <= p[0].at && r3.Dot(p[1].n, x) <= p[1].at {
				in++
			}
		}
		all := mm3 * room.X * room.Y * room.Z
		for _, c := range [][2]float64{{float64(in) / n, v.within(p...)}, {float64(whole) / n, v.Litres}} {
			assert.InDelta(t, all*c[0], c[1], 5*all*math.Sqrt(c[0]*(1-c[0])/n)+1e-6)
		}
	}
}

// What holds nothing for certain has no litres, and says why; the rest of the tank's page stands.
func TestNoLitres(t *testing.T) {
	faces := trianglesOf([]poly{cube(t, r3.Vec{X: -400, Y: -300, Z: 500}, r3.Vec{X: 100, Y: 300, Z: 800})})
	open := meshOf(t, faces[3:])
	turned := meshOf(t, append([]r3.Vec{faces[0], faces[2], faces[1]}, faces[3:]...))
	for name, c := range map[string]struct {
		e    job.Envelope
		want string
	}{
		"open":    {open, "its surface has holes (3 open edges), so that it holds nothing for certain: close it in the program that drew it"},
		"turned":  {turned, "its triangles do not all face outwards (3 edges), so that it holds nothing for certain: turn them in the program that drew it"},
		"twice":   {meshOf(t, append(slices.Clone(faces), trianglesOf([]poly{cube(t, r3.Vec{X: 50, Y: -30, Z: 700}, r3.Vec{X: 150, Y: 30, Z: 760})})...)), "its file holds bodies that lie in each other"},
		"sharp":   {job.Envelope{Kind: "tube", Path: []job.Point{{0, 0, 0}, {30, 0, 0}, {30, 300, 0}}, Outside: of(100.0)}, "its pipe is bent so sharply"},
		"u-turn":  {job.Envelope{Kind: "tube", Path: []job.Point{{0, 0, 0}, {300, 0, 0}, {300, 60, 0}, {0, 60, 0}}, Outside: of(100.0)}, "so near to itself"},
		"crosses": {job.Envelope{Kind: "tube", Path: []job.Point{{0, 0, 0}, {500, 0, 0}, {500, 300, 0}, {250, 300, 0}, {250, -300, 0}}, Outside: of(80.0)}, "so near to itself"},
	} {
		v, err := New(&c.e)
		require.NoError(t, err, name)
		assert.True(t, math.IsNaN(v.Litres), name)
		assert.Contains(t, v.Why, c.want, name)
		assert.Empty(t, v.Dip(Tilt{}, nil, 5))
		assert.Empty(t, v.Cuts(&KeepOut{boxes: []box{{hi: [3]float64{1, 1, 1}, taken: true}}}))
		_, ok := v.Usable(Tilt{}, nil)
		assert.False(t, ok)
		lo, hi := v.Bounds()
		assert.Greater(t, hi.X, lo.X)
	}
	// A pipe that comes round wide is none of these, and one bent in many small steps neither.
	var round []job.Point
	for i := range 19 {
		s, c := math.Sincos(float64(i) * math.Pi / 18)
		round = append(round, job.Point{400 * c, 400 * s, 600})
	}
	v := newVessel(t, job.Envelope{Kind: "tube", Path: round, Outside: of(300.0)})
	assert.InDelta(t, v.Litres, v.within(), 1e-5)
	assert.InEpsilon(t, math.Pi*150*150*400*math.Pi*mm3+4.0/3*math.Pi*150*150*150*mm3, v.Litres, 0.005, "Pappus: nearly a half ring and two half balls")
	_, err := New(&job.Envelope{Name: "Tank", Kind: "mesh", File: "tank.stl", Vessel: true, Beside: job.Beside{Folder: t.TempDir()}})
	assert.ErrorContains(t, err, `its file "tank.stl" is not beside the job`)
}

// Cover of a round vessel: all, part and none of a box.
func TestRoundCover(t *testing.T) {
	v := newVessel(t, job.Envelope{Name: "Air tank", Kind: "tube", Path: []job.Point{{0, 0, 600}, {500, 0, 600}}, Outside: of(200.0), Vessel: true})
	assert.False(t, v.Flat)
	assert.Equal(t, shape.Segment, v.solid.Pieces[0].Kind)
	for _, c := range []struct {
		z    float64
		want cover
	}{{600, wholly}, {700, partly}, {720, nothing}} {
		b := v.block([3]float64{245, -5, c.z - 5}, [3]float64{255, 5, c.z + 5})
		assert.Equal(t, c.want, v.cover(&b, &room{}))
	}
}

package clearance

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleloft/geometry/cell"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/shape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// writeSTL writes triangles as text.
func writeSTL(t testing.TB, name string, corners []r3.Vec) {
	t.Helper()
	var b strings.Builder
	b.WriteString("solid part\n")
	for i := 0; i < len(corners); i += 3 {
		b.WriteString("facet normal 0 0 0\nouter loop\n")
		for _, p := range corners[i : i+3] {
			fmt.Fprintf(&b, "vertex %.17g %.17g %.17g\n", p.X, p.Y, p.Z)
		}
		b.WriteString("endloop\nendfacet\n")
	}
	b.WriteString("endsolid part\n")
	require.NoError(t, os.WriteFile(name, []byte(b.String()), 0o600))
}

// skinOf is the surface of a box or a prism as triangles; pieces of a prism that is not convex touch at faces of no thickness.
func skinOf(t testing.TB, e *job.Envelope) []r3.Vec {
	t.Helper()
	var out []r3.Vec
	s, err := EnvelopeSolid(e)
	require.NoError(t, err)
	for _, p := range s.Pieces {
		require.NotNil(t, p.Hull)
		for _, f := range p.Hull.Faces {
			for i := 1; i+1 < len(f); i++ {
				out = append(out, p.Hull.V[f[0]], p.Hull.V[f[i]], p.Hull.V[f[i+1]])
			}
		}
	}
	return out
}

// intoMeshes turns the boxes and prisms of a job into meshes beside it: the same parts from files.
func intoMeshes(t testing.TB, j *job.Job) *job.Job {
	t.Helper()
	c := j.Clone()
	c.Folder = t.TempDir()
	turn := func(e *job.Envelope, file string) {
		if e.Kind != "box" && e.Kind != "prism" {
			return
		}
		writeSTL(t, filepath.Join(c.Folder, file), skinOf(t, e))
		*e = job.Envelope{Name: e.Name, Pair: e.Pair, Kind: "mesh", File: file, Clearance: e.Clearance, Vessel: e.Vessel, Carries: e.Carries}
	}
	for i := range c.Envelopes {
		turn(&c.Envelopes[i], fmt.Sprintf("part%d.stl", i))
	}
	if c.Axle != nil {
		for i := range c.Axle.Housing {
			turn(&c.Axle.Housing[i], fmt.Sprintf("housing%d.stl", i))
		}
	}
	return c
}

// The demos with every box and prism read from a file: the same pairs, apart the same gaps, and overlaps at most as deep (a mesh's is "at least").
func TestMeshesAsTheShapes(t *testing.T) {
	for _, name := range []string{"orchard-sprayer", "rescue-tender", "survey-wagon"} {
		t.Run(name, func(t *testing.T) {
			j := demo(t, name)
			m, c := build(t, j)
			_, k := build(t, intoMeshes(t, j))
			require.Empty(t, k.Unread)
			require.Equal(t, len(c.Pairs), len(k.Pairs))
			s, w := m.NewSolver(), c.NewScratch()
			x := k.NewScratch()
			want, got := make([]Gap, len(c.Pairs)), make([]Gap, len(k.Pairs))
			apart := 0
			for _, at := range [][2]float64{{0, 0}, {40, 40}, {-40, -40}, {50, -50}, {-50, 50}} {
				var p motion.Pose
				require.NoError(t, s.Solve(at[0], at[1], &p))
				w.Place(&p, nil)
				x.Place(&p, nil)
				w.Gaps(want)
				x.Gaps(got)
				for i := range want {
					require.Equal(t, c.Parts[c.Pairs[i].A].Name, k.Parts[k.Pairs[i].A].Name)
					require.Equal(t, c.Parts[c.Pairs[i].B].Name, k.Parts[k.Pairs[i].B].Name)
					if want[i].Gap > 0 {
						apart++
						require.InDelta(t, want[i].Gap, got[i].Gap, 1e-6, "%s, %s", c.Parts[c.Pairs[i].A].Name, c.Parts[c.Pairs[i].B].Name)
						require.LessOrEqual(t, x.AtLeast(i), got[i].Gap)
					} else {
						require.GreaterOrEqual(t, got[i].Gap, want[i].Gap-1e-4)
						require.LessOrEqual(t, got[i].Gap, 1e-6)
						var o Overlap
						require.Equal(t, got[i].Gap < 0, x.Overlap(i, &o))
					}
				}
			}
			assert.Greater(t, apart, 300)
		})
	}
}

func TestMeshVolume(t *testing.T) {
	j := demo(t, "orchard-sprayer")
	k := intoMeshes(t, j)
	compared := 0
	for i := range j.Envelopes {
		want, ok := Volume(&j.Envelopes[i])
		if !ok || k.Envelopes[i].Kind != "mesh" {
			continue
		}
		e := k.Envelope(&k.Envelopes[i])
		got, ok := Volume(&e)
		require.True(t, ok)
		assert.InEpsilon(t, want, got, 1e-9)
		compared++
	}
	assert.Positive(t, compared)
}

// A file that is missing or spoilt takes its own part out and nothing else; a surface with holes is told.
func TestMeshesLeftOut(t *testing.T) {
	j := demo(t, "orchard-sprayer")
	_, whole := build(t, j)
	j.Folder = t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(j.Folder, "bad.stl"), []byte("solid x\nfacet"), 0o600))
	box := skinOf(t, &job.Envelope{Kind: "box", Min: &job.Point{3000, 100, 400}, Max: &job.Point{3100, 200, 500}})
	writeSTL(t, filepath.Join(j.Folder, "open.stl"), box[3:])
	writeSTL(t, filepath.Join(j.Folder, "across.stl"), append(box, r3.Vec{X: 3000, Y: -50}, r3.Vec{X: 3000, Y: 50}, r3.Vec{X: 3050}))
	turned := append([]r3.Vec(nil), box...)
	turned[0], turned[1] = turned[1], turned[0]
	writeSTL(t, filepath.Join(j.Folder, "turned.stl"), turned)
	for _, n := range []string{"gone", "bad", "open", "turned"} {
		j.Envelopes = append(j.Envelopes, job.Envelope{Name: n, Kind: "mesh", File: n + ".stl"})
	}
	j.Envelopes = append(j.Envelopes, job.Envelope{Name: "across", Pair: true, Kind: "mesh", File: "across.stl"})
	j.Envelopes = append(j.Envelopes, job.Envelope{Name: "outside", Kind: "mesh", File: "../bad.stl"})
	_, c := build(t, j)
	assert.Equal(t, `its file "gone.stl" is not beside the job: put it there`, c.why("gone", ""))
	assert.Equal(t, `its file "bad.stl" is not read. It ends in line 2 where "normal" was expected: it was cut short. Use a whole copy of it.`, c.why("bad", ""))
	assert.Equal(t, "its surface has holes (3 open edges): only touching it is noticed, not lying inside it", c.why("open", ""))
	assert.Contains(t, c.why("turned", ""), "do not all face outwards")
	assert.Contains(t, c.why("across left", ""), "reaches across the centre plane")
	assert.Contains(t, c.why("outside", ""), "no bare name")
	assert.Len(t, c.Unread, 5)
	assert.Len(t, c.Parts, len(whole.Parts)+2)

	// A file written anew is read anew.
	writeSTL(t, filepath.Join(j.Folder, "bad.stl"), box)
	_, c = build(t, j)
	assert.Empty(t, c.why("bad", ""))
	assert.Len(t, c.Unread, 4)
}

// The right one of a pair is the left one's file mirrored.
func TestMeshPair(t *testing.T) {
	j := demo(t, "orchard-sprayer")
	j.Envelopes = append(j.Envelopes, job.Envelope{Name: "Locker", Pair: true, Kind: "box", Min: &job.Point{300, 600, 300}, Max: &job.Point{500, 800, 450}, Turn: &job.Point{10, 20, 30}})
	m, c := build(t, j)
	_, k := build(t, intoMeshes(t, j))
	w, x := c.NewScratch(), k.NewScratch()
	p := m.Ride()
	w.Place(&p, nil)
	x.Place(&p, nil)
	compared := 0
	var a, b Gap
	for i, pair := range c.Pairs {
		if n := c.Parts[pair.B].Name; n == "Locker right" || n == "Locker left" {
			w.Gap(i, &a)
			x.Gap(i, &b)
			if a.Gap > 0 {
				require.InDelta(t, a.Gap, b.Gap, 1e-6)
				compared++
			}
		}
	}
	assert.Greater(t, compared, 8)
}

// What is proved of a mesh is what is proved of the shape itself.
func TestProveMeshes(t *testing.T) {
	j := demo(t, "orchard-sprayer")
	m, c := build(t, j)
	_, k := build(t, intoMeshes(t, j))
	tree, err := cell.Build(context.Background(), m)
	require.NoError(t, err)
	a, b := c.NewProver(tree, within(m)), k.NewProver(tree, within(m))
	how := Closeness{Width: 0.5, Far: 60, Most: 200_000}
	proved, deep := 0, 0
	for i := range c.Pairs {
		p, err := a.Prove(context.Background(), i, how)
		require.NoError(t, err)
		q, err := b.Prove(context.Background(), i, how)
		require.NoError(t, err)
		if k.fixedMesh(i) == nil {
			continue
		}
		if p.NotLess <= 0.5 {
			require.LessOrEqual(t, q.NotLess, q.Found)
			require.LessOrEqual(t, q.Found-q.NotLess, how.Width+1e-6)
			require.GreaterOrEqual(t, q.Found, p.NotLess-1e-4, "an overlap of a mesh is at most as deep")
			deep++
			continue
		}
		require.LessOrEqual(t, q.NotLess, p.Found+1e-6)
		if p.NotLess < how.Far {
			require.LessOrEqual(t, q.Found-q.NotLess, how.Width+1e-6, "%+v", q)
			require.InDelta(t, p.NotLess, q.NotLess, how.Width+1e-6)
		}
		proved++
	}
	assert.Greater(t, proved, 40)
	assert.Positive(t, deep)
}

// Parts deep in closed meshes, meshes of the frame and one the axle carries: what is proved is nowhere above what is measured, and comes as close as asked.
func TestProveInMeshes(t *testing.T) {
	j := demo(t, "survey-wagon")
	j.Folder = t.TempDir()
	j.Envelopes = nil
	box := func(name string, lo, hi job.Point) *job.Envelope {
		e := job.Envelope{Name: name, Kind: "box", Min: &lo, Max: &hi}
		file := strings.ReplaceAll(name, " ", "") + ".stl"
		writeSTL(t, filepath.Join(j.Folder, file), skinOf(t, &e))
		return &job.Envelope{Name: name, Kind: "mesh", File: file}
	}
	j.Envelopes = append(j.Envelopes,
		*box("Round the shaft", job.Point{500, -150, 350}, job.Point{1000, 160, 750}),
		*box("At the axle", job.Point{-140, -420, 250}, job.Point{150, 130, 640}),
		*box("At a tyre", job.Point{-200, 700, 500}, job.Point{250, 800, 1200}),
		*box("At a lower", job.Point{600, 380, 300}, job.Point{800, 700, 480}))
	at, r := job.Point{900, 500, 700}, 90.0
	writeSTL(t, filepath.Join(j.Folder, "bottle.stl"), roundSkin(8, r, at.Vec()))
	j.Envelopes = append(j.Envelopes, job.Envelope{Name: "Bottle", Kind: "mesh", File: "bottle.stl"})
	writeSTL(t, filepath.Join(j.Folder, "cover.stl"), roundSkin(6, 150, r3.Vec{Z: j.Vehicle.Tyre.LoadedRadius}))
	j.Axle.Housing = append(j.Axle.Housing, job.Envelope{Kind: "mesh", File: "cover.stl"})
	m, c := build(t, j)
	require.Empty(t, c.Unread)
	tree, err := cell.Build(context.Background(), m)
	require.NoError(t, err)
	w := c.NewProver(tree, within(m))
	how := Closeness{Width: 0.5, Far: 60, Most: 200_000}
	proofs := make([]Proof, len(c.Pairs))
	deep := 0
	for i := range c.Pairs {
		proofs[i], err = w.Prove(context.Background(), i, how)
		require.NoError(t, err)
		k := &proofs[i]
		what := fmt.Sprintf("%s, %s: %+v", c.Parts[c.Pairs[i].A].Name, c.Parts[c.Pairs[i].B].Name, *k)
		require.LessOrEqual(t, k.NotLess, k.Found, what)
		if k.NotLess < how.Far {
			require.LessOrEqual(t, k.Found-k.NotLess, how.Width+1e-6, what)
		}
		if k.Found < -30 && c.fixedMesh(i) != nil {
			deep++
		}
	}
	assert.Greater(t, deep, 5)
	_, near := noneBelow(t, m, c, proofs, 1500)
	assert.Greater(t, near, 20)
}

// fixedMesh is the mesh of a pair that has one.
func (c *Model) fixedMesh(pair int) *shape.Mesh {
	for _, n := range []int{c.Pairs[pair].A, c.Pairs[pair].B} {
		for i := range c.fixed[n].Pieces {
			if m := c.fixed[n].Pieces[i].Mesh; m != nil {
				return m
			}
		}
	}
	return nil
}

// A ball as a mesh of 20 000 triangles: proved against the ball itself within the chord.
func TestProveFineMesh(t *testing.T) {
	j := demo(t, "orchard-sprayer")
	at, r := job.Point{700, 150, 950}, 120.0
	j.Envelopes = []job.Envelope{{Name: "Bottle", Kind: "ball", Centre: &at, Radius: &r}}
	m, c := build(t, j)
	j.Folder = t.TempDir()
	j.Envelopes = []job.Envelope{{Name: "Bottle", Kind: "mesh", File: "bottle.stl"}}
	const n = 71
	writeSTL(t, filepath.Join(j.Folder, "bottle.stl"), roundSkin(n, r, at.Vec()))
	_, k := build(t, j)
	tree, err := cell.Build(context.Background(), m)
	require.NoError(t, err)
	chord := 2 * r * (1 - math.Cos(math.Pi/n/2))
	a, b := c.NewProver(tree, within(m)), k.NewProver(tree, within(m))
	how := Closeness{Width: 0.5, Far: 400, Most: 400_000}
	compared := 0
	for i := range c.Pairs {
		if k.fixedMesh(i) == nil {
			continue
		}
		p, err := a.Prove(context.Background(), i, how)
		require.NoError(t, err)
		if p.NotLess < 1 || p.NotLess > 300 {
			continue
		}
		q, err := b.Prove(context.Background(), i, how)
		require.NoError(t, err)
		require.LessOrEqual(t, q.NotLess, p.Found+chord)
		require.GreaterOrEqual(t, q.Found, p.NotLess)
		require.LessOrEqual(t, q.Found-q.NotLess, how.Width+1e-6)
		compared++
	}
	assert.GreaterOrEqual(t, compared, 2)
}

// roundSkin is a ball of 2n meridians and n parallels.
func roundSkin(n int, r float64, c r3.Vec) []r3.Vec {
	at := func(i, k int) r3.Vec {
		p, q := math.Pi*float64(i)/float64(n), math.Pi*float64(k%(2*n))/float64(n)
		s := math.Sin(p)
		if i == 0 || i == n {
			s = 0
		}
		return r3.Add(c, r3.Vec{X: r * s * math.Cos(q), Y: r * s * math.Sin(q), Z: r * math.Cos(p)})
	}
	var out []r3.Vec
	for i := range n {
		for k := range 2 * n {
			a, b, d, e := at(i, k), at(i+1, k), at(i+1, k+1), at(i, k+1)
			if i < n-1 {
				out = append(out, a, b, d)
			}
			if i > 0 {
				out = append(out, a, d, e)
			}
		}
	}
	return out
}

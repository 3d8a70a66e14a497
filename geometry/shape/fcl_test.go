package shape

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// fclShape writes a piece for the reference program and returns how much of its radius the program does not know.
func fclShape(w *bytes.Buffer, p *Piece) (radius float64) {
	switch p.Kind {
	case Point:
		fmt.Fprintln(w, "ball", p.A.X, p.A.Y, p.A.Z, p.Radius)
		return 0
	case Segment:
		fmt.Fprintln(w, "bar", p.A.X, p.A.Y, p.A.Z, p.B.X, p.B.Y, p.B.Z, p.Radius)
		return 0
	case Drum:
		fmt.Fprintln(w, "drum", p.A.X, p.A.Y, p.A.Z, p.Axis.X, p.Axis.Y, p.Axis.Z, p.Half, p.Rho)
		return p.Radius
	}
	v := corners(p)
	fmt.Fprint(w, "hull ", len(v))
	for _, c := range v {
		fmt.Fprint(w, " ", c.X, " ", c.Y, " ", c.Z)
	}
	fmt.Fprint(w, " ", len(p.Hull.Faces))
	for _, f := range p.Hull.Faces {
		fmt.Fprint(w, " ", len(f))
		for _, k := range f {
			fmt.Fprint(w, " ", k)
		}
	}
	fmt.Fprintln(w)
	return p.Radius
}

// fclProgram builds the reference program; the test is skipped where that cannot be done and is not asked for.
func fclProgram(t *testing.T) string {
	needed := os.Getenv("AXLELOFT_REQUIRE_REFERENCES") == "1"
	_, noHeaders := os.Stat("/usr/include/fcl/narrowphase/distance.h")
	compiler, noCompiler := exec.LookPath("g++")
	if noHeaders != nil || noCompiler != nil {
		require.False(t, needed, "the references are required: install g++ and libfcl-dev")
		t.Skip("g++ and libfcl-dev are not installed")
	}
	program := filepath.Join(t.TempDir(), "fcl_gap")
	out, err := exec.Command(compiler, "-O1", "-I/usr/include/eigen3", "testdata/reference/fcl_gap.cpp", "-o", program, "-lfcl", "-lccd", "-loctomap", "-loctomath").CombinedOutput()
	require.NoError(t, err, string(out))
	return program
}

func TestAgainstFCL(t *testing.T) {
	program := fclProgram(t)
	t.Run("pieces", func(t *testing.T) { gapAgainstFCL(t, program) })
	t.Run("meshes", func(t *testing.T) { meshGapAgainstFCL(t, program) })
}

// Distances of random pairs against the Flexible Collision Library (Debian's libfcl-dev; J. Pan, S. Chitta, D. Manocha, "FCL: a general purpose library for
// collision and proximity queries", ICRA 2012), an independent program. Its own iteration was asked for 1e-9.
func gapAgainstFCL(t *testing.T, program string) {
	r := rand.New(rand.NewPCG(21, 21))
	var in bytes.Buffer
	type pair struct{ want, radii float64 }
	var pairs []pair
	var names []string
	var s Scratch
	var g Result
	const each = 400
	fmt.Fprintln(&in, each*len(kinds)*len(kinds))
	for _, ka := range kinds {
		for _, kb := range kinds {
			for range each {
				a, b := anyPiece(r, ka, 1000), anyPiece(r, kb, 1000)
				s.Gap(&a, &b, &g)
				radii := fclShape(&in, &a)
				radii += fclShape(&in, &b)
				pairs = append(pairs, pair{g.Gap, radii})
				names = append(names, kindName(ka)+"-"+kindName(kb))
			}
		}
	}
	cmd := exec.Command(program)
	cmd.Stdin = &in
	got, err := cmd.Output()
	require.NoError(t, err)
	lines := bufio.NewScanner(bytes.NewReader(got))
	compared, worst := map[string]int{}, map[string]float64{}
	for i, p := range pairs {
		require.True(t, lines.Scan())
		d, err := strconv.ParseFloat(lines.Text(), 64)
		require.NoError(t, err)
		// The program knows the cores of drums and hulls: apart it must say our gap and the radii.
		if want := p.want + p.radii; want > 0.01 {
			compared[names[i]]++
			worst[names[i]] = math.Max(worst[names[i]], math.Abs(d-want))
		} else if want < -0.01 {
			assert.LessOrEqual(t, d, 0.0, names[i])
		}
	}
	const tol = 2e-6 // mm: seen 4e-7
	for _, ka := range kinds {
		for _, kb := range kinds {
			name := kindName(ka) + "-" + kindName(kb)
			assert.Greater(t, compared[name], each/2, name)
			assert.Less(t, worst[name], tol, name)
			t.Logf("%s: %d pairs apart, largest difference %.2g mm", name, compared[name], worst[name])
		}
	}
}

// The same of meshes: every kind of piece, and another mesh, against a surface with thin and thick triangles, as a tree of boxes there.
func meshGapAgainstFCL(t *testing.T, program string) {
	r := rand.New(rand.NewPCG(21, 22))
	var in bytes.Buffer
	type pair struct {
		want, radii float64
		name        string
	}
	var pairs []pair
	var s Scratch
	var g Result
	const each = 250
	write := func(m *Mesh) {
		fmt.Fprint(&in, "mesh ", len(m.V))
		for _, v := range m.V {
			fmt.Fprint(&in, " ", v.X, " ", v.Y, " ", v.Z)
		}
		fmt.Fprint(&in, " ", len(m.T))
		for _, k := range m.T {
			fmt.Fprint(&in, " ", k[0], " ", k[1], " ", k[2])
		}
		fmt.Fprintln(&in)
	}
	fmt.Fprintln(&in, each*(len(kinds)+1))
	for k := range each * (len(kinds) + 1) {
		m := mesh(t, ballMesh(5, 60+200*r.Float64(), r3.Vec{X: 1200 * (r.Float64() - 0.5), Y: 1200 * (r.Float64() - 0.5), Z: 1200 * (r.Float64() - 0.5)}))
		a := m.Piece()
		write(m)
		if k%(len(kinds)+1) == len(kinds) {
			n := mesh(t, ballMesh(4, 40+100*r.Float64(), r3.Vec{X: 1200 * (r.Float64() - 0.5), Y: 1200 * (r.Float64() - 0.5), Z: 1200 * (r.Float64() - 0.5)}))
			b := n.Piece()
			s.Gap(&a, &b, &g)
			write(n)
			pairs = append(pairs, pair{g.Gap, 0, "mesh"})
			continue
		}
		b := anyPiece(r, kinds[k%(len(kinds)+1)], 1000)
		s.Gap(&a, &b, &g)
		pairs = append(pairs, pair{g.Gap, fclShape(&in, &b), kindName(b.Kind)})
	}
	cmd := exec.Command(program)
	cmd.Stdin = &in
	got, err := cmd.Output()
	require.NoError(t, err)
	lines := bufio.NewScanner(bytes.NewReader(got))
	compared, worst := map[string]int{}, map[string]float64{}
	for _, p := range pairs {
		require.True(t, lines.Scan())
		d, err := strconv.ParseFloat(lines.Text(), 64)
		require.NoError(t, err)
		if want := p.want + p.radii; want > 0.01 {
			compared[p.name]++
			worst[p.name] = math.Max(worst[p.name], math.Abs(d-want))
		}
	}
	for name, n := range compared {
		t.Logf("mesh-%s: %d pairs apart, largest difference %.2g mm", name, n, worst[name])
		assert.Greater(t, n, each/3, name)
		assert.Less(t, worst[name], 2e-6, name)
	}
	assert.Len(t, compared, len(kinds)+1)
}

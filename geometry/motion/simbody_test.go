package motion_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/motion"
	"axleloft/testdata/scipy"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Simbody's Assembler holds the same axle by the same rods, and Watt's rockers as bodies on pins: independent code, in other coordinates. Skipped where Simbody is missing, unless
// AXLELOFT_REQUIRE_REFERENCES=1 says it must be there.
func TestSimbody(t *testing.T) {
	required := os.Getenv("AXLELOFT_REQUIRE_REFERENCES") == "1"
	if testing.Short() && !required {
		t.Skip("building with Simbody takes half a minute")
	}
	if _, err := os.Stat("/usr/include/simbody/Simbody.h"); err != nil {
		require.False(t, required, "Simbody is required here: apt-get install g++ libsimbody-dev")
		t.Skip("Simbody is not installed (Debian: libsimbody-dev)")
	}
	const dir = "../../testdata/reference/"
	for _, f := range []string{"assemble.cpp", "common.h"} { // also tells the test cache what the result hangs on
		_, err := os.Stat(dir + f)
		require.NoError(t, err)
	}
	program := filepath.Join(t.TempDir(), "assemble")
	out, err := exec.Command("g++", "-std=c++17", "-O1", "-isystem", "/usr/include/simbody", dir+"assemble.cpp", "-o", program,
		"-lSimTKsimbody", "-lSimTKmath", "-lSimTKcommon").CombinedOutput()
	require.NoError(t, err, string(out))

	jobs := scipy.Layouts(t)
	for _, name := range assets.Demos() {
		jobs[name], _ = demo(t, name)
	}
	compared := 0
	for name, j := range jobs {
		m, err := motion.Compile(j)
		require.NoError(t, err)
		if m.OverLocated {
			continue
		}
		compared++
		rows := filepath.Join(t.TempDir(), "rows")
		require.NoError(t, os.WriteFile(rows, plain(m), 0o600))
		b, err := exec.Command(program, rows, "poses").Output()
		require.NoError(t, err)
		s := m.NewSolver()
		in := bytes.NewReader(b)
		n := 0
		for {
			var left, right, x, y, psi, theta float64
			if k, _ := fmt.Fscan(in, &left, &right, &x, &y, &psi, &theta); k != 6 {
				break
			}
			n++
			var p motion.Pose
			require.NoError(t, s.Solve(left, right, &p))
			// 1e-12 m is asked of the assembler; held by no worse than a singular value of a tenth that is 1e-8 mm.
			assert.InDelta(t, x, p.X, 1e-8, "%s, x at %v, %v", name, left, right)
			assert.InDelta(t, y, p.Y, 1e-8, "%s, y at %v, %v", name, left, right)
			assert.InDelta(t, psi, p.Psi, 1e-11, "%s, psi at %v, %v", name, left, right)
			assert.InDelta(t, theta, p.Theta, 1e-11, "%s, theta at %v, %v", name, left, right)
			for i := range m.Rockers {
				var turn float64
				_, err := fmt.Fscan(in, &turn)
				require.NoError(t, err)
				assert.InDelta(t, turn, m.RockerTurn(&p, i), 1e-10, "%s, turn of %s at %v, %v", name, m.Rockers[i].Name, left, right)
			}
		}
		require.Equal(t, len(path()), n, name)
	}
	require.Equal(t, 13, compared, "exactly located layouts and demo jobs")
}

// plain is a mechanism as the C++ references read it.
func plain(m *motion.Mechanism) []byte {
	var b bytes.Buffer
	fmt.Fprintln(&b, m.Track, m.Radius, len(m.Distances)-2*len(m.Rockers))
	row := func(f, a r3.Vec, length, k float64) {
		fmt.Fprintln(&b, f.X, f.Y, f.Z, a.X, a.Y, a.Z, length, k)
	}
	for _, l := range m.Links {
		row(l.Frame, l.Axle, l.Length, l.K)
	}
	for _, a := range m.Arms {
		for i, length := range a.Lengths {
			row(a.Frame[i], a.Axle[0], length, 1) // stiffness is nothing to an exactly located axle
		}
	}
	fmt.Fprintln(&b, len(m.Rockers))
	for _, r := range m.Rockers {
		on := 0
		if r.Pivot.On == motion.OnAxle {
			on = 1
		}
		fmt.Fprintln(&b, on, r.Pivot.At.X, r.Pivot.At.Y, r.Pivot.At.Z, r.Axis.X, r.Axis.Y, r.Axis.Z)
		for i := range r.Rods {
			near, far := r3.Add(r.Pivot.At, r.Rods[i].Rocker.At), r.Rods[i].Far.At
			fmt.Fprintln(&b, near.X, near.Y, near.Z, far.X, far.Y, far.Z)
		}
	}
	return b.Bytes()
}

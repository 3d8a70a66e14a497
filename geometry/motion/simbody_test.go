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

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Simbody's Assembler holds the same axle by the same rods: independent code, in other coordinates. Skipped where Simbody is missing, unless
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

	for _, name := range assets.Demos() {
		j, _ := demo(t, name)
		m, err := motion.Compile(j)
		require.NoError(t, err)
		if m.OverLocated {
			continue
		}
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
			// 1e-12 m is asked of the assembler; held by no worse than a singular value of a quarter that is 1e-8 mm.
			assert.InDelta(t, x, p.X, 1e-8, "%s, x at %v, %v", name, left, right)
			assert.InDelta(t, y, p.Y, 1e-8, "%s, y at %v, %v", name, left, right)
			assert.InDelta(t, psi, p.Psi, 1e-11, "%s, psi at %v, %v", name, left, right)
			assert.InDelta(t, theta, p.Theta, 1e-11, "%s, theta at %v, %v", name, left, right)
		}
		require.Equal(t, len(path()), n)
	}
}

// plain is a mechanism as the C++ references read it.
func plain(m *motion.Mechanism) []byte {
	var b bytes.Buffer
	fmt.Fprintln(&b, m.Track, m.Radius, len(m.Links))
	for _, l := range m.Links {
		f, a := l.Frame, l.Axle
		fmt.Fprintln(&b, f.X, f.Y, f.Z, a.X, a.Y, a.Z, l.Length, l.K)
	}
	return b.Bytes()
}

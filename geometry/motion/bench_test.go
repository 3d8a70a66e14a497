package motion_test

import (
	"bytes"
	"math"
	"os"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/require"
)

// path is a closed path of 256 positions about 3 mm apart, from ride height: both wheels +-60 mm, crossed up +-80 mm. testdata/reference times
// the C++ references on the same one.
func path() [256][2]float64 {
	var t [256][2]float64
	for i := range t {
		a := 2 * math.Pi * float64(i) / float64(len(t))
		h, d := 60*math.Sin(2*a), 80*math.Sin(a)
		t[i] = [2]float64{h + d, h - d}
	}
	return t
}

// BenchmarkPose is one position from its neighbour, with both rates: exactly located (the first two demo jobs) and least energy (the third).
func BenchmarkPose(b *testing.B) {
	for _, name := range assets.Demos() {
		j, _ := demo(b, name)
		b.Run(name, func(b *testing.B) { follow(b, j) })
	}
}

// BenchmarkLayout is the same with arms and rockers: an A-arm and a Watt's linkage exactly located, a Watt's linkage and radius arms by least energy.
func BenchmarkLayout(b *testing.B) {
	for _, name := range []string{"a-arm-lowers", "watts-on-axle", "watts-four-trailing", "radius-arms-panhard"} {
		text, err := os.ReadFile("../../testdata/layouts/" + name + ".axleloft")
		require.NoError(b, err)
		j, err := job.Read(bytes.NewReader(text))
		require.NoError(b, err)
		b.Run(name, func(b *testing.B) { follow(b, j) })
	}
}

// follow times positions along the path.
func follow(b *testing.B, j *job.Job) {
	m, err := motion.Compile(j)
	require.NoError(b, err)
	s, t := m.NewSolver(), path()
	p := m.Ride()
	var r motion.Rates
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		if s.SolveFrom(&p, t[i][0], t[i][1], &p) != nil || s.Rates(&p, &r) != nil {
			b.Fatal("not solved")
		}
		i = (i + 1) % len(t)
	}
}

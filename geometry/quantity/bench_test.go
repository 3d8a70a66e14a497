package quantity_test

import (
	"math"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/require"
)

// BenchmarkPoseAll is one position from its neighbour with its rates and every quantity: of the demo jobs, and of one layout each with an A-arm, a
// Watt's linkage, and radius arms.
func BenchmarkPoseAll(b *testing.B) {
	names := append(assets.Demos(), "a-arm-lowers", "watts-on-axle", "radius-arms-panhard", "radius-arms-watts-on-frame")
	kept := layouts(b)
	for _, name := range names {
		j := kept[name]
		if j == nil {
			j, _ = demo(b, name)
		}
		m, err := motion.Compile(j)
		require.NoError(b, err)
		b.Run(name, func(b *testing.B) {
			s, v, load := m.NewSolver(), quantity.NewValues(m), quantity.Loads(j)[0]
			p := m.Ride()
			var r motion.Rates
			b.ReportAllocs()
			i := 0.0
			for b.Loop() {
				h, d := 60*math.Sin(i/20), 80*math.Sin(i/40)
				if s.SolveFrom(&p, h+d, h-d, &p) != nil || s.Rates(&p, &r) != nil {
					b.Fatal("not solved")
				}
				quantity.Eval(m, &p, &r, &load, v)
				i++
			}
		})
	}
}

// BenchmarkSweep61 is a sweep of both wheels together over 61 positions with every quantity, the job compiled already.
func BenchmarkSweep61(b *testing.B) {
	for _, name := range assets.Demos() {
		j, _ := demo(b, name)
		m, err := motion.Compile(j)
		require.NoError(b, err)
		b.Run(name, func(b *testing.B) {
			s, load := m.NewSolver(), quantity.Loads(j)[0]
			v := make([]*quantity.Values, 61)
			for i := range v {
				v[i] = quantity.NewValues(m)
			}
			var p motion.Pose
			var r motion.Rates
			b.ReportAllocs()
			for b.Loop() {
				if s.Solve(-90, -90, &p) != nil {
					b.Fatal("not solved")
				}
				for i := range v {
					h := -90 + 3*float64(i)
					if h > 87 {
						h = 87
					}
					if s.SolveFrom(&p, h, h, &p) != nil || s.Rates(&p, &r) != nil {
						b.Fatal("not solved")
					}
					quantity.Eval(m, &p, &r, &load, v[i])
				}
			}
		})
	}
}

package limits_test

import (
	"bytes"
	"os"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
)

func BenchmarkFail(b *testing.B) {
	for _, n := range []string{"noopen", "single", "heaveonly"} {
		bb, _ := os.ReadFile("/tmp/limcli/" + n + ".axleloft")
		j, _ := job.Read(bytes.NewReader(bb))
		m, _ := motion.Compile(j)
		s := m.NewSolver()
		var p motion.Pose
		b.Run(n+"/down", func(b *testing.B) {
			for b.Loop() {
				if s.Solve(-800, -800, &p) == nil {
					b.Fatal()
				}
			}
		})
		b.Run(n+"/one", func(b *testing.B) {
			for b.Loop() {
				if s.Solve(300, -800, &p) == nil {
					b.Fatal()
				}
			}
		})
		b.Run(n+"/find", func(b *testing.B) {
			for b.Loop() {
				limits.Find(m, 96)
			}
		})
	}
}

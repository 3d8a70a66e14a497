package study_test

import (
	"context"
	"testing"

	"axleloft/app/study"
	"axleloft/assets"
)

// BenchmarkLive is what follows a hand: one whole refresh after a drag's move (range by 96 rays, two sweeps of 61 positions with every quantity of every
// load, extents, every pair's gap on the coarse grid, findings), on one core.
func BenchmarkLive(b *testing.B) { study1(b, study.Live) }

// BenchmarkFull is what settles after it: fine grid, search on from the best positions, ring.
func BenchmarkFull(b *testing.B) { study1(b, study.Full) }

func study1(b *testing.B, d study.Depth) {
	for _, name := range assets.Demos() {
		j := demo(b, name, "")
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				study.NewWith(context.Background(), j, d, 1)
			}
		})
	}
}

// BenchmarkAt is everything the window shows of one position, gaps included.
func BenchmarkAt(b *testing.B) {
	for _, name := range assets.Demos() {
		s := study.Compile(demo(b, name, ""))
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s.At(40, -30)
			}
		})
	}
}

package limits_test

import (
	"context"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/limits"

	"github.com/stretchr/testify/require"
)

// BenchmarkRange finds the range by 96 rays.
func BenchmarkRange(b *testing.B) {
	for _, name := range assets.Demos() {
		m, _, _ := demo(b, name)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				_, err := limits.Find(m, 96)
				require.NoError(b, err)
			}
		})
	}
}

// BenchmarkSmallest measures every pair on the coarse grid (what follows a hand) and on the fine one with the search on from its best (what settles), one core.
func BenchmarkSmallest(b *testing.B) {
	for _, name := range assets.Demos() {
		m, c, _ := demo(b, name)
		r, err := limits.Find(m, 96)
		require.NoError(b, err)
		for _, how := range []struct {
			name string
			s    limits.Search
		}{{"coarse", limits.Search{Grid: 15, Workers: 1}}, {"fine", limits.Search{Grid: 41, Refine: true, Workers: 1}}} {
			b.Run(name+"/"+how.name, func(b *testing.B) {
				for b.Loop() {
					_, err := limits.Smallest(context.Background(), m, c, r, how.s)
					require.NoError(b, err)
				}
			})
		}
	}
}

// BenchmarkRing marches the 24 directions with every pair.
func BenchmarkRing(b *testing.B) {
	for _, name := range assets.Demos() {
		m, c, _ := demo(b, name)
		r, err := limits.Find(m, 96)
		require.NoError(b, err)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				_, err := limits.Ring(context.Background(), m, c, r, 2)
				require.NoError(b, err)
			}
		})
	}
}

package shape

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// NewBox returns the polytope piece of a box between two corners, turned by the rotation whose columns are ex, ey, ez about its centre. mm.
// A box without room along an axis is refused.
func NewBox(lo, hi r3.Vec, ex, ey, ez r3.Vec) (Piece, error) {
	h := scale(0.5, sub(hi, lo))
	if !(h.X > 0 && h.Y > 0 && h.Z > 0) || math.IsInf(h.X+h.Y+h.Z, 0) {
		return Piece{}, errors.New("shape: a box needs its second corner beyond its first in X, Y and Z")
	}
	c := scale(0.5, add(lo, hi))
	rect := [][2]float64{{-h.X, -h.Y}, {h.X, -h.Y}, {h.X, h.Y}, {-h.X, h.Y}}
	return Piece{Kind: Polytope, Hull: prismHull(rect, -h.Z, h.Z, func(u, v, w float64) r3.Vec {
		return carry(c, ex, ey, ez, r3.Vec{X: u, Y: v, Z: w})
	})}, nil
}

// NewPrism returns the convex pieces of a simple polygon extruded from lo to hi. to3 maps (u, v, w), with u, v in the plane and w along it, by a rigid motion or a mirroring. mm.
// An outline that crosses itself or has no area, or hi not beyond lo, is refused.
func NewPrism(outline [][2]float64, lo, hi float64, to3 func(u, v, w float64) r3.Vec) (Solid, error) {
	if !(lo < hi) || math.IsInf(hi-lo, 0) {
		return Solid{}, errors.New("shape: a prism needs its end beyond its start")
	}
	loops, err := Convexes(outline)
	if err != nil {
		return Solid{}, err
	}
	var s Solid
	for _, l := range loops {
		s.Pieces = append(s.Pieces, Piece{Kind: Polytope, Hull: prismHull(l, lo, hi, to3)})
	}
	return s, nil
}

// prismHull extrudes an anticlockwise convex loop.
func prismHull(loop [][2]float64, lo, hi float64, to3 func(u, v, w float64) r3.Vec) *Hull {
	n := len(loop)
	v := make([]r3.Vec, 2*n)
	bottom, top := make([]int32, n), make([]int32, n)
	for i, p := range loop {
		v[i] = to3(p[0], p[1], lo)
		v[n+i] = to3(p[0], p[1], hi)
		bottom[n-1-i] = int32(i)
		top[i] = int32(n + i)
	}
	faces := [][]int32{bottom, top}
	for i := 0; i < n; i++ {
		j := (i + 1) % n
		faces = append(faces, []int32{int32(i), int32(j), int32(n + j), int32(n + i)})
	}
	if dot(loopNormal(v, top), sub(v[n], v[0])) < 0 { // mirrored: every loop runs the other way
		for _, f := range faces {
			for a, b := 0, len(f)-1; a < b; a, b = a+1, b-1 {
				f[a], f[b] = f[b], f[a]
			}
		}
	}
	return hullOf(v, faces)
}

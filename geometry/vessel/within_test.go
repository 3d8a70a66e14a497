package vessel

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// At bounds, of a place in the vessel, how much nearer than the wanted gap a mover comes to it over the range: at least low, at one position no more than high, mm; negative: nearer. Of a place clear of
// all it is zero and infinite.
func (k *KeepOut) At(v *Vessel, x r3.Vec) (low, high float64) {
	var own [3]float64
	for i, a := range v.axes {
		own[i] = r3.Dot(a, x)
	}
	low, high = 0, math.Inf(1)
	for i := range k.boxes {
		b := &k.boxes[i]
		if own[0] < b.lo[0] || own[0] > b.hi[0] || own[1] < b.lo[1] || own[1] > b.hi[1] || own[2] < b.lo[2] || own[2] > b.hi[2] {
			continue
		}
		if b.taken {
			return math.Inf(-1), 0
		}
		low, high = math.Min(low, b.between(&b.low, own)), math.Min(high, b.between(&b.high, own))
	}
	return low, high
}

// between is what lies straight between the corners' values within the tetrahedron a place is in.
func (x *box) between(at *[8]float64, p [3]float64) float64 {
	var t [3]float64
	order := [3]int{0, 1, 2}
	for k := range t {
		t[k] = (p[k] - x.lo[k]) / (x.hi[k] - x.lo[k])
	}
	slices.SortFunc(order[:], func(a, b int) int { return cmp.Compare(t[b], t[a]) })
	i := 0
	sum, before := 0.0, 1.0
	for _, k := range order {
		if before > t[k] {
			sum += (before - t[k]) * at[i]
		}
		before = t[k]
		i |= 1 << k
	}
	if before > 0 {
		sum += before * at[7]
	}
	return sum
}

package scipy

import "testing"

// Stood is a place measured on something that stood otherwise than at ride height, for SciPy: on stands (Tilt), by the ends of the tube (Left, Right,
// Rake, Lean) or on the floor (Rake, Lean, Fall, High). Angles in degrees.
type Stood struct {
	Point  [3]float64  `json:"point"`
	Ride   [3]float64  `json:"ride"`
	Axis   *[3]float64 `json:"axis,omitempty"`
	Pinion float64     `json:"pinion"`
	Tilt   *float64    `json:"tilt,omitempty"`
	Left   *[3]float64 `json:"left,omitempty"`
	Right  *[3]float64 `json:"right,omitempty"`
	Rake   float64     `json:"rake"`
	Lean   float64     `json:"lean"`
	Fall   [2]float64  `json:"fall"`
	High   float64     `json:"high"`
}

// Rides asks SciPy's Rotation where such places are at ride height.
func Rides(t testing.TB, cases []Stood) [][3]float64 {
	t.Helper()
	var out [][3]float64
	ask(t, "stood.py", cases, &out)
	return out
}

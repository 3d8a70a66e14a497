package scipy

import "testing"

// Taped is tapes to a point, for SciPy: from where, how long and how far off each, and where its search starts. Draws is how often it lets all of them be
// off at random.
type Taped struct {
	From   [][3]float64 `json:"from"`
	Length []float64    `json:"length"`
	Off    []float64    `json:"off"`
	Start  [3]float64   `json:"start"`
	Draws  int          `json:"draws"`
}

// Met is where it finds that they meet, and by how much the point spreads per axis, mm.
type Met struct {
	At     [3]float64 `json:"at"`
	Spread []float64  `json:"spread"`
}

// Tapes asks SciPy's least squares where tapes meet.
func Tapes(t testing.TB, cases []Taped) []Met {
	t.Helper()
	var out []Met
	ask(t, "tapes.py", cases, &out)
	return out
}

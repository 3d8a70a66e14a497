package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/testdata/scipy"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func tapesTo(at r3.Vec, off float64, from ...r3.Vec) []Tape {
	var out []Tape
	for _, f := range from {
		out = append(out, Tape{From: f, Length: r3.Norm(r3.Sub(at, f)), PlusMinus: off})
	}
	return out
}

func nearTo(t *testing.T, want, got r3.Vec, tol float64) {
	t.Helper()
	assert.InDelta(t, 0, r3.Norm(r3.Sub(want, got)), tol, "got %v, want %v", got, want)
}

// Places on the axes of a right corner, 3-4-5 triangles: the point (400, 300, 1200) lies 1300 from the corner.
func TestThreeTapesGiveTheTwoMirrorAnswers(t *testing.T) {
	at := r3.Vec{X: 400, Y: 300, Z: 1200}
	got, err := Tapes([]Tape{
		{From: r3.Vec{}, Length: 1300},
		{From: r3.Vec{X: 400}, Length: math.Hypot(300, 1200)},
		{From: r3.Vec{Y: 300}, Length: math.Hypot(400, 1200)},
	})
	require.NoError(t, err)
	require.Len(t, got, 2)
	const tol = 1e-6 // mm of 1300: the search stops at 1e-10 of the distance, squared convergence before it
	nearTo(t, at, got[0].At, tol)
	nearTo(t, r3.Vec{X: 400, Y: 300, Z: -1200}, got[1].At, tol)
	for _, g := range got {
		assert.Less(t, g.Worst, 1e-6)
		assert.Len(t, g.Misfit, 3)
	}
}

// Tapes square to each other: each coordinate is as far off as its own tape. Turned places turn the plus-minus with them.
func TestPlusMinusOfSquareTapesIsTheTapesOwn(t *testing.T) {
	at := r3.Vec{X: 10, Y: 20, Z: 30}
	got, err := Tapes([]Tape{
		{From: r3.Vec{X: -490, Y: 20, Z: 30}, Length: 500, PlusMinus: 1},
		{From: r3.Vec{X: 10, Y: -480, Z: 30}, Length: 500, PlusMinus: 2},
		{From: r3.Vec{X: 10, Y: 20, Z: -470}, Length: 500, PlusMinus: 3},
	})
	require.NoError(t, err)
	g := got[0]
	nearTo(t, at, g.At, 1e-6)
	assert.InDelta(t, 1, g.PlusMinus.X, 1e-3) // the bend of the spheres
	assert.InDelta(t, 2, g.PlusMinus.Y, 1e-3)
	assert.InDelta(t, 3, g.PlusMinus.Z, 1e-3)
	assert.Equal(t, -1, g.Poor)
}

func TestFourthTapeOffThePlaneLeavesOneAnswerThatFits(t *testing.T) {
	at := r3.Vec{X: -700, Y: 430, Z: 520}
	got, err := Tapes(tapesTo(at, 1.5, r3.Vec{X: 0, Y: 400, Z: 600}, r3.Vec{X: -1200, Y: 400, Z: 620}, r3.Vec{X: -300, Y: -400, Z: 600}, r3.Vec{X: -600, Y: 100, Z: 0}))
	require.NoError(t, err)
	nearTo(t, at, got[0].At, 1e-6)
	assert.Less(t, got[0].Worst, 1e-6)
	for _, g := range got[1:] {
		assert.Greater(t, g.Worst, 10., "the mirror image does not fit the fourth")
	}
}

// Three places 20 mm off one line hold the way round it badly.
func TestPoorSpreadNamesItsAxis(t *testing.T) {
	got, err := Tapes(tapesTo(r3.Vec{X: 500, Z: 600}, 1.5, r3.Vec{}, r3.Vec{X: 500, Y: 20}, r3.Vec{X: 1000}))
	require.NoError(t, err)
	assert.Equal(t, 1, got[0].Poor)
	assert.Greater(t, got[0].PlusMinus.Y, PoorSpread*1.5)
	assert.Less(t, got[0].PlusMinus.Z, PoorSpread*1.5)
}

// In the plane of the places a tape off by e lets the point out of it by sqrt(2 l e) at the least: no endless plus-minus.
func TestPointInThePlaneOfThePlaces(t *testing.T) {
	at := r3.Vec{X: 400, Y: 300}
	from := []r3.Vec{{}, {X: 800}, {X: 400, Y: 800}}
	got, err := Tapes(tapesTo(at, 1, from...))
	require.NoError(t, err)
	nearTo(t, at, got[0].At, 0.5) // flat: a misfit of 1e-10 lets it out by some hundredths
	assert.Equal(t, 2, got[0].Poor)
	// (s^2 / 2 l)^2 summed over three tapes of 500 is 1 at s^2 = 1000 / sqrt(3)
	assert.InDelta(t, math.Sqrt(1000/math.Sqrt(3)), got[0].PlusMinus.Z, 0.5)

	short := tapesTo(at, 1, from...)
	for i := range short {
		short[i].Length -= 2
	}
	got, err = Tapes(short)
	require.NoError(t, err)
	require.Len(t, got, 1)
	assert.InDelta(t, 2, got[0].Worst, 0.5) // all three are 2 short, shared out by how they lie
	for i := range short {
		short[i].Length -= 20
	}
	_, err = Tapes(short)
	require.ErrorContains(t, err, "do not reach one point")
}

func TestTapesRefused(t *testing.T) {
	ok := tapesTo(r3.Vec{X: 400, Y: 300, Z: 500}, 1, r3.Vec{}, r3.Vec{X: 800}, r3.Vec{Y: 800})
	for _, tc := range []struct {
		name, want string
		f          func([]Tape) []Tape
	}{
		{"two", "there are 2", func(l []Tape) []Tape { return l[:2] }},
		{"in line", "in one line", func(l []Tape) []Tape { l[2].From = r3.Vec{X: 300}; return l }},
		{"one place", "in one line", func(l []Tape) []Tape { l[1].From, l[2].From = r3.Vec{}, r3.Vec{}; return l }},
		{"not a number", "Tape 2 is not a number", func(l []Tape) []Tape { l[1].Length = math.NaN(); return l }},
		{"endless", "Tape 1 is not a number", func(l []Tape) []Tape { l[0].From.X = math.Inf(1); return l }},
		{"no length", "Tape 3 has no length", func(l []Tape) []Tape { l[2].Length = 0; return l }},
		{"below 0", "± of tape 1", func(l []Tape) []Tape { l[0].PlusMinus = -1; return l }},
		{"far", "100 m", func(l []Tape) []Tape { l[0].Length = 1e9; return l }},
		{"apart", "Tapes 1, 2 and 3 do not reach", func(l []Tape) []Tape { l[0].Length = 3000; return l }},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := Tapes(tc.f(append([]Tape(nil), ok...)))
			var e *Error
			require.ErrorAs(t, err, &e)
			assert.Contains(t, e.Words, tc.want)
		})
	}
}

func TestTapesNearFollowsAPlaceThatMoved(t *testing.T) {
	at := r3.Vec{X: 400, Y: 300, Z: -500}
	tapes := tapesTo(at, 1, r3.Vec{}, r3.Vec{X: 800}, r3.Vec{Y: 800})
	for i := range tapes {
		tapes[i].From.X += 12
	}
	got, err := TapesNear(tapes, at)
	require.NoError(t, err)
	nearTo(t, r3.Vec{X: 412, Y: 300, Z: -500}, got.At, 1e-6)
}

// Random tapes with errors: the place against SciPy's least_squares from the same start, the plus-minus against what 1500 random draws give it.
func TestTapesAgainstSciPy(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	var tapes [][]Tape
	var cases []scipy.Taped
	for len(cases) < 60 {
		at := r3.Vec{X: in(-1500, 1500), Y: in(-600, 600), Z: in(200, 1100)}
		n := 3 + rng.IntN(4)
		var l []Tape
		c := scipy.Taped{Start: [3]float64{at.X, at.Y, at.Z}}
		if len(cases) < 4 {
			c.Draws = 1500
		}
		for range n {
			f := r3.Vec{X: in(-1500, 1500), Y: in(-600, 600), Z: in(0, 1000)}
			off := in(0.5, 3)
			tape := Tape{From: f, Length: r3.Norm(r3.Sub(at, f)) + off*(2*rng.Float64()-1), PlusMinus: off}
			l = append(l, tape)
			c.From = append(c.From, [3]float64{f.X, f.Y, f.Z})
			c.Length, c.Off = append(c.Length, tape.Length), append(c.Off, off)
		}
		got, err := TapesNear(l, at)
		if err != nil || got.Poor >= 0 { // badly held places answer by more than their slopes
			continue
		}
		tapes, cases = append(tapes, l), append(cases, c)
	}
	for i, want := range scipy.Tapes(t, cases) {
		got, err := TapesNear(tapes[i], r3.Vec{X: cases[i].Start[0], Y: cases[i].Start[1], Z: cases[i].Start[2]})
		require.NoError(t, err)
		nearTo(t, r3.Vec{X: want.At[0], Y: want.At[1], Z: want.At[2]}, got.At, 1e-3) // mm; SciPy's slopes are differences
		if cases[i].Draws == 0 {
			continue
		}
		for a, v := range []float64{got.PlusMinus.X, got.PlusMinus.Y, got.PlusMinus.Z} {
			assert.InEpsilon(t, want.Spread[a], v, 0.08, "case %d, axis %d", i, a) // 1500 draws tell a spread to 1.8 %, three times that and the bend of the spheres
		}
	}
}

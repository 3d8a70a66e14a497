package measure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Tape is one length taken from a known place to the point that is looked for, mm in body axes.
type Tape struct {
	From      r3.Vec
	Length    float64
	PlusMinus float64 // how far off the length may be; 0 counts as TapeOff
}

// TapeOff is how far off a hooked tape is, mm (common practice, no source).
const TapeOff = 1.5

// PoorSpread is how many times the loosest tape's own plus-minus a coordinate may be off before the tapes count as badly spread (our choice).
const PoorSpread = 3.0

// Bounds of the search.
const (
	mostTapes  = 20
	tapeRounds = 200   // of the search
	tapeStill  = 1e-10 // of the distance: a smaller step is none
	oneAnswer  = 1e-6  // of the distance: answers that lie nearer are one
	inLine     = 1e-3  // sine of the angle under which three places count as lying in one line
	fallShort  = 3.0   // how many times their plus-minus tapes may fall short of each other before they are refused
)

// Taped is one answer to where a point is.
type Taped struct {
	At        r3.Vec
	PlusMinus r3.Vec    // mm, per axis: what the tapes' own plus-minus make of it, added as independent
	Misfit    []float64 // mm, tape by tape: its length less the one to At
	Worst     float64   // mm, the largest misfit
	Poor      int       // the axis that is badly held, 0 X, 1 Y, 2 Z; -1 where none is
}

// Tapes finds the point that three or more tapes meet in: the least sum of the squares of the misfits, each in its tape's own plus-minus. There are at
// most two answers: mirror images in the plane of the places where there are three, or where all lie in one plane; where a fourth place lies well off
// that plane the worse answer may be off by much, or is not there at all. The better comes first; of equal ones the higher.
//
// It fails with *Error: fewer than three tapes or more than 20, what is no number or below nothing, places in one line, three tapes that do not reach
// one point.
//
// The search is Gauss and Newton's with Levenberg and Marquardt's damping, from the two places where the three most widely spread tapes meet.
func Tapes(tapes []Tape) ([]Taped, error) {
	if err := tapesIn(tapes); err != nil {
		return nil, err
	}
	starts, err := meet(tapes)
	if err != nil {
		return nil, err
	}
	var out []Taped
	for _, at := range starts {
		t := told(tapes, settle(tapes, at))
		same := slices.ContainsFunc(out, func(o Taped) bool { return r3.Norm(r3.Sub(o.At, t.At)) < oneAnswer*(1+reach(tapes)) })
		if !same {
			out = append(out, t)
		}
	}
	slices.SortStableFunc(out, func(a, b Taped) int {
		if math.Abs(a.Worst-b.Worst) > oneAnswer*(1+reach(tapes)) {
			return cmp.Compare(a.Worst, b.Worst)
		}
		return cmp.Compare(b.At.Z, a.At.Z)
	})
	return out, nil
}

// TapesNear is the answer next to a place: what Tapes gives, by the search from there alone.
func TapesNear(tapes []Tape, at r3.Vec) (Taped, error) {
	if err := tapesIn(tapes); err != nil {
		return Taped{}, err
	}
	if _, err := meet(tapes); err != nil {
		return Taped{}, err
	}
	return told(tapes, settle(tapes, at)), nil
}

func tapesIn(tapes []Tape) error {
	if len(tapes) < 3 {
		return &Error{Words: fmt.Sprintf("Three tapes or more fix a point; there are %d.", len(tapes))}
	}
	if len(tapes) > mostTapes {
		return &Error{Words: fmt.Sprintf("There are %d tapes; %d are the most that are taken. Leave some out.", len(tapes), mostTapes)}
	}
	for i, t := range tapes {
		switch {
		case !finite(t.From.X + t.From.Y + t.From.Z + t.Length + t.PlusMinus):
			return &Error{Words: fmt.Sprintf("Tape %d is not a number. Type its length.", i+1)}
		case t.Length <= 0:
			return &Error{Words: fmt.Sprintf("Tape %d has no length. Type it, more than 0.", i+1)}
		case t.PlusMinus < 0:
			return &Error{Words: fmt.Sprintf("The ± of tape %d is below 0. Type 0 or more.", i+1)}
		case math.Max(t.Length, math.Max(r3.Norm(t.From), t.PlusMinus)) > maxLength:
			return &Error{Words: fmt.Sprintf("Tape %d reaches farther than 100 m. Type its length again.", i+1)}
		}
	}
	return nil
}

// reach is the longest tape.
func reach(tapes []Tape) float64 {
	most := 0.0
	for i := range tapes {
		most = math.Max(most, tapes[i].Length)
	}
	return most
}

func (t *Tape) off() float64 {
	if t.PlusMinus == 0 {
		return TapeOff
	}
	return t.PlusMinus
}

// meet is where the search starts from: the two places at which the three most widely spread tapes meet, on either side of their plane. In axes of
// the first place, x along the second, y in the plane of the third, three spheres meet at (trilateration; elementary, from memory)
//
//	x = (r1^2 - r2^2 + d^2) / 2d
//	y = (r1^2 - r3^2 + i^2 + j^2) / 2j - x i/j
//	z = +-sqrt(r1^2 - x^2 - y^2)
//
// with the second place at (d, 0, 0) and the third at (i, j, 0). Tapes that fall short of each other by no more than they may be off meet in the plane.
func meet(tapes []Tape) ([2]r3.Vec, error) {
	best, area := [3]int{}, 0.0
	for i := range tapes {
		for k := i + 1; k < len(tapes); k++ {
			for l := k + 1; l < len(tapes); l++ {
				n := r3.Norm(r3.Cross(r3.Sub(tapes[k].From, tapes[i].From), r3.Sub(tapes[l].From, tapes[i].From)))
				if n > area {
					best, area = [3]int{i, k, l}, n
				}
			}
		}
	}
	a, b, c := &tapes[best[0]], &tapes[best[1]], &tapes[best[2]]
	ab, ac := r3.Sub(b.From, a.From), r3.Sub(c.From, a.From)
	d := r3.Norm(ab)
	if !(area > inLine*d*r3.Norm(ac)) {
		return [2]r3.Vec{}, &Error{Words: "The places the tapes start from lie in one line, so the point could be anywhere round it. Take one tape from a place off that line."}
	}
	ex := r3.Scale(1/d, ab)
	i := r3.Dot(ex, ac)
	ey := r3.Unit(r3.Sub(ac, r3.Scale(i, ex)))
	j := r3.Dot(ey, ac)
	ez := r3.Cross(ex, ey)
	x := (a.Length*a.Length - b.Length*b.Length + d*d) / (2 * d)
	y := (a.Length*a.Length-c.Length*c.Length+i*i+j*j)/(2*j) - x*i/j
	foot := r3.Add(a.From, r3.Add(r3.Scale(x, ex), r3.Scale(y, ey)))
	z2 := a.Length*a.Length - x*x - y*y
	z := math.Sqrt(math.Max(z2, 0))
	if z2 < 0 {
		for _, t := range []*Tape{a, b, c} {
			if math.Abs(r3.Norm(r3.Sub(foot, t.From))-t.Length) > fallShort*t.off() {
				return [2]r3.Vec{}, &Error{Words: fmt.Sprintf("Tapes %d, %d and %d do not reach one point. Measure again the one you trust least.", best[0]+1, best[1]+1, best[2]+1)}
			}
		}
	}
	z = math.Max(z, a.off()) // off the plane, so that the search has a way to go
	return [2]r3.Vec{r3.Add(foot, r3.Scale(z, ez)), r3.Sub(foot, r3.Scale(z, ez))}, nil
}

// normal is A'WA and A'W times the misfits at a place, and the sum of their squares: A the unit directions of the tapes, W one over the square of what
// each may be off.
func normal(tapes []Tape, at r3.Vec) (h *mat.SymDense, g *mat.VecDense, sum float64) {
	h, g = mat.NewSymDense(3, nil), mat.NewVecDense(3, nil)
	row := mat.NewVecDense(3, nil)
	for i := range tapes {
		d := r3.Sub(at, tapes[i].From)
		l := r3.Norm(d)
		if l == 0 {
			d, l = r3.Vec{Z: tapeStill}, tapeStill
		}
		w := tapes[i].off()
		miss := (tapes[i].Length - l) / w
		row.SetVec(0, d.X/l/w)
		row.SetVec(1, d.Y/l/w)
		row.SetVec(2, d.Z/l/w)
		h.SymRankOne(h, 1, row)
		g.AddScaledVec(g, miss, row)
		sum += miss * miss
	}
	return h, g, sum
}

// settle is the place of the least sum of squares next to a place.
func settle(tapes []Tape, at r3.Vec) r3.Vec {
	h, g, sum := normal(tapes, at)
	damp := 1e-6 * mat.Trace(h)
	for range tapeRounds {
		held := mat.NewSymDense(3, nil)
		held.CopySym(h)
		for k := range 3 {
			held.SetSym(k, k, h.At(k, k)+damp)
		}
		var ch mat.Cholesky
		var step mat.VecDense
		if !ch.Factorize(held) || ch.SolveVecTo(&step, g) != nil {
			damp *= 10
			continue
		}
		s := r3.Vec{X: step.AtVec(0), Y: step.AtVec(1), Z: step.AtVec(2)}
		to := r3.Add(at, s)
		hn, gn, now := normal(tapes, to)
		if now <= sum {
			at, h, g, sum = to, hn, gn, now
			damp /= 10
		} else {
			damp *= 10
		}
		if r3.Norm(s) < tapeStill*reach(tapes) {
			break
		}
	}
	return at
}

// told is what there is to say of an answer. Its plus-minus are the square roots of the diagonal of (A'WA)^-1. Where the point lies near the plane of the
// places that says far too much, or nothing: along the direction held worst no more is taken than the way it takes the tapes to be off by one plus-minus.
func told(tapes []Tape, at r3.Vec) Taped {
	t := Taped{At: at, Poor: -1}
	loosest := 0.0
	for i := range tapes {
		miss := tapes[i].Length - r3.Norm(r3.Sub(at, tapes[i].From))
		t.Misfit = append(t.Misfit, miss)
		t.Worst = math.Max(t.Worst, math.Abs(miss))
		loosest = math.Max(loosest, tapes[i].off())
	}
	h, _, sum := normal(tapes, at)
	var eig mat.EigenSym
	if !eig.Factorize(h, true) {
		return t
	}
	var axes mat.Dense
	eig.VectorsTo(&axes)
	var spread [3]float64
	for k, v := range eig.Values(nil) {
		dir := r3.Vec{X: axes.At(0, k), Y: axes.At(1, k), Z: axes.At(2, k)}
		far := math.Max(away(tapes, at, dir, sum), away(tapes, at, r3.Scale(-1, dir), sum))
		if v > 0 {
			far = math.Min(far, 1/math.Sqrt(v))
		}
		for a := range spread {
			spread[a] += far * far * axes.At(a, k) * axes.At(a, k)
		}
	}
	worst := PoorSpread * loosest
	for a := range spread {
		spread[a] = math.Sqrt(spread[a])
		if spread[a] > worst {
			worst, t.Poor = spread[a], a
		}
	}
	t.PlusMinus = r3.Vec{X: spread[0], Y: spread[1], Z: spread[2]}
	return t
}

// away is how far one can go from an answer in a direction till the sum of squares has grown by one, mm.
func away(tapes []Tape, at, dir r3.Vec, sum float64) float64 {
	more := func(s float64) float64 {
		_, _, now := normal(tapes, r3.Add(at, r3.Scale(s, dir)))
		return now - sum - 1
	}
	hi := TapeOff
	for hi < 4*reach(tapes) && more(hi) < 0 {
		hi *= 2
	}
	lo := 0.0
	for range 60 {
		if mid := (lo + hi) / 2; more(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

package swept

import (
	"context"
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Section is a cut through the room a mover takes, at a station of one of the body axes.
type Section struct {
	Axis   int     // 0 X, 1 Y, 2 Z
	At     float64 // mm
	Step   float64 // of the grid, mm
	Loops  [][]r3.Vec
	Area   float64 // mm2, holes taken off
	Larger float64 // mm: nowhere in it further than this from where the part comes, its margin taken off; infinite where that is not known
	Proved bool    // the part comes nowhere outside the loops; else at none of the positions tried
	Last   float64 // as the mover's
}

// errOpen would be the fault of a box that does not hold the mover.
var errOpen = errors.New("the outline did not close; give another step")

// Cut is the section of a mover at a station. Its loops run anticlockwise, seen from the axis' far end, round what is taken, clockwise round holes in it, the largest first, simplified by moving them outwards by at most
// tolerance, mm, which Larger includes. Where the mover does not come there are no loops. The error is the context's, or a sentence.
func (m *Mover) Cut(ctx context.Context, axis int, at, tolerance float64, how Fine) (*Section, error) {
	s := &Section{Axis: axis, At: at, Step: how.Step, Proved: m.Proved, Last: m.Last}
	lo, hi := m.Box()
	if from, to := xyz(lo), xyz(hi); !(at > from[axis] && at < to[axis]) {
		return s, nil
	}
	f, err := newField(m, lo, hi, axis, at, &how)
	if err != nil {
		return nil, err
	}
	if err := f.fill(ctx, &how); err != nil {
		return nil, err
	}
	loops, larger, err := f.outline(axis)
	if err != nil {
		return nil, err
	}
	moved := simplify(loops, tolerance)
	s.Larger = larger + moved
	slices.SortStableFunc(loops, func(a, b [][2]float64) int {
		switch x, y := math.Abs(area(a)), math.Abs(area(b)); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	u, v := (axis+1)%3, (axis+2)%3
	for _, l := range loops {
		s.Area += area(l)
		loop := make([]r3.Vec, len(l))
		for i, p := range l {
			var c [3]float64
			c[axis], c[u], c[v] = at, p[0], p[1]
			loop[i] = r3.Vec{X: c[0], Y: c[1], Z: c[2]}
		}
		s.Loops = append(s.Loops, loop)
	}
	return s, nil
}

func xyz(p r3.Vec) [3]float64 { return [3]float64{p.X, p.Y, p.Z} }

// area within a loop, mm2; negative where it runs clockwise.
func area(l [][2]float64) float64 {
	sum := 0.0
	for i, p := range l {
		q := l[(i+1)%len(l)]
		sum += (p[0]-l[0][0])*(q[1]-l[0][1]) - (q[0]-l[0][0])*(p[1]-l[0][1])
	}
	return sum / 2
}

// outline chains where the values change their sign over a flat grid, what is taken on its left, and tells how much larger that is.
func (f *field) outline(axis int) (loops [][][2]float64, larger float64, err error) {
	u, v := (axis+1)%3, (axis+2)%3
	bu, bv := 1<<u, 1<<v
	type link struct {
		to int64
		at [2]float64
	}
	next := map[int64]link{}
	var order []int64
	for k := range max(1, f.n[2]-1) {
		for j := range max(1, f.n[1]-1) {
			for i := range max(1, f.n[0]-1) {
				at := [3]int32{int32(i), int32(j), int32(k)}
				if in, out := f.signs(at); !in || !out {
					continue
				}
				l := &f.leaves[f.of[f.index(i, j, k)]]
				for _, t := range [2][3]int{{0, bu, bu | bv}, {0, bu | bv, bv}} {
					var in [3]bool
					count := 0
					for n, c := range t {
						if in[n] = f.value[f.node(at, c)] < 0; in[n] {
							count++
						}
					}
					if count == 0 || count == 3 {
						continue
					}
					one := 0 // the corner that is alone on its side
					for in[one] != (count == 1) {
						one++
					}
					a, b, c := t[one], t[(one+1)%3], t[(one+2)%3]
					if count == 2 { // it is without
						b, c = c, b
					}
					tb, tc := f.along(at, a, b), f.along(at, a, c)
					larger = math.Max(larger, l.further([][2]int{{a, b}, {a, c}}, []float64{tb, tc}))
					p := xyz(f.spot(at, a, b, tb))
					from := f.edgeKey(at, a, b)
					next[from] = link{f.edgeKey(at, a, c), [2]float64{p[u], p[v]}}
					order = append(order, from)
				}
			}
		}
	}
	for _, e := range order {
		var loop [][2]float64
		at, start := e, e
		for {
			to, ok := next[at]
			if !ok {
				break
			}
			delete(next, at)
			loop = append(loop, to.at)
			if at = to.to; at == start {
				break
			}
		}
		switch {
		case loop == nil:
		case at != start:
			return nil, 0, errOpen
		default:
			loops = append(loops, loop)
		}
	}
	return loops, larger, nil
}

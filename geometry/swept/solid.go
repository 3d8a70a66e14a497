package swept

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"

	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// Solid is the room a mover takes, within a closed surface of triangles that run anticlockwise seen from outside.
type Solid struct {
	V      []r3.Vec // mm
	T      [][3]int32
	Volume float64 // mm3
	Step   float64 // of the grid, mm
	Larger float64 // mm: nowhere further than this from where the part comes, its margin taken off; infinite where that is not known
	Proved bool    // the part comes nowhere outside; else at none of the positions tried
	Last   float64 // as the mover's
}

// simplices of a cell, by its corners: from corner 0 to corner 7 in every order of the axes.
var simplices = [6][4]int{{0, 1, 3, 7}, {0, 1, 5, 7}, {0, 2, 3, 7}, {0, 2, 6, 7}, {0, 4, 5, 7}, {0, 4, 6, 7}}

// rightHanded tells of each simplex whether its corners 1, 2, 3 run anticlockwise seen from corner 0's far side.
var rightHanded = [6]bool{true, false, false, true, true, false}

// Solid marches over the whole of the mover. The error is the context's, or a sentence.
func (m *Mover) Solid(ctx context.Context, how Fine) (*Solid, error) {
	lo, hi := m.Box()
	f, err := newField(m, lo, hi, -1, 0, &how)
	if err != nil {
		return nil, err
	}
	if err := f.fill(ctx, &how); err != nil {
		return nil, err
	}
	s := &Solid{Step: how.Step, Proved: m.Proved, Last: m.Last}
	f.surface(s)
	if err := s.Check(); err != nil {
		return nil, err
	}
	o := f.lo
	for _, t := range s.T {
		s.Volume += r3.Dot(r3.Sub(s.V[t[0]], o), r3.Cross(r3.Sub(s.V[t[1]], o), r3.Sub(s.V[t[2]], o))) / 6
	}
	return s, nil
}

// surface fills the triangles where the values change their sign.
func (f *field) surface(s *Solid) {
	corner := map[int64]int32{}
	var at [3]int32
	var l *leaf
	vertex := func(in, out int) int32 {
		key := f.edgeKey(at, in, out)
		n, ok := corner[key]
		if !ok {
			n = int32(len(s.V))
			corner[key] = n
			s.V = append(s.V, f.spot(at, in, out, f.along(at, in, out)))
		}
		return n
	}
	put := func(right bool, e ...[2]int) { // from within to without, anticlockwise where right
		var t [3]int32
		var along [3]float64
		for i, k := range e {
			t[i] = vertex(k[0], k[1])
			along[i] = f.along(at, k[0], k[1])
		}
		if !right {
			t[1], t[2] = t[2], t[1]
		}
		s.T = append(s.T, t)
		s.Larger = math.Max(s.Larger, l.further(e, along[:]))
	}
	for k := range f.n[2] - 1 {
		for j := range f.n[1] - 1 {
			for i := range f.n[0] - 1 {
				at = [3]int32{int32(i), int32(j), int32(k)}
				if in, out := f.signs(at); !in || !out {
					continue
				}
				l = &f.leaves[f.of[f.index(i, j, k)]]
				for n, c := range simplices {
					f.simplex(at, c, rightHanded[n], put)
				}
			}
		}
	}
}

// simplex hands out the triangles of one: in order, corners within first, keeping count of its hand.
func (f *field) simplex(at [3]int32, c [4]int, right bool, put func(bool, ...[2]int)) {
	within := func(n int) bool { return f.value[f.node(at, n)] < 0 }
	count := 0
	for i := range c {
		if !within(c[i]) {
			continue
		}
		for k := i; k > count; k-- { // to the front, past those without
			c[k], c[k-1] = c[k-1], c[k]
			right = !right
		}
		count++
	}
	switch count {
	case 1:
		put(right, [2]int{c[0], c[1]}, [2]int{c[0], c[2]}, [2]int{c[0], c[3]})
	case 2:
		put(right, [2]int{c[0], c[2]}, [2]int{c[0], c[3]}, [2]int{c[1], c[3]})
		put(right, [2]int{c[0], c[2]}, [2]int{c[1], c[3]}, [2]int{c[1], c[2]})
	case 3:
		put(right, [2]int{c[0], c[3]}, [2]int{c[1], c[3]}, [2]int{c[2], c[3]})
	}
}

// Check reports whether the surface is closed and plain: every side of a triangle is run once each way, and round every corner the triangles make one ring.
func (s *Solid) Check() error {
	if len(s.T) == 0 {
		return errors.New("there is no surface")
	}
	next := make(map[[2]int32]int32, 3*len(s.T)) // corner and the one after it: the third
	count := make([]int32, len(s.V))
	start := make([]int32, len(s.V))
	for _, t := range s.T {
		for k := range 3 {
			a, b, c := t[k], t[(k+1)%3], t[(k+2)%3]
			if a == b {
				return fmt.Errorf("corner %d stands twice in a triangle", a)
			}
			if _, twice := next[[2]int32{a, b}]; twice {
				return fmt.Errorf("the side from corner %d to corner %d is run twice", a, b)
			}
			next[[2]int32{a, b}] = c
			count[a]++
			start[a] = b
		}
	}
	for a := range s.V {
		n, b := int32(0), start[a]
		for {
			c, ok := next[[2]int32{int32(a), b}]
			if !ok {
				return fmt.Errorf("the surface is open at corner %d", a)
			}
			n++
			if b = c; b == start[a] || n > count[a] {
				break
			}
		}
		if n != count[a] {
			return fmt.Errorf("corner %d has %d triangles, and %d in a ring", a, count[a], n)
		}
	}
	return nil
}

// WriteSTL writes it as a binary STL file, mm, body axes; head as for shape.WriteSTL.
func (s *Solid) WriteSTL(w io.Writer, head string) error { return shape.WriteSTL(w, head, s.V, s.T) }

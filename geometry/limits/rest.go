package limits

import (
	"context"
	"errors"
	"math"

	"axleloft/geometry/cell"
	"axleloft/geometry/motion"
)

const (
	restStep = 1.0  // mm between positions tried where nothing is proved
	restMost = 10.0 // mm from the edge of the range: beyond it the proof counts as not had
	restNear = 60   // steps of a march from one such position to the next
)

// Cover covers the range with cells; why says in half a sentence why nothing can be proved, then there is no cover. An error is the context's.
func Cover(ctx context.Context, m *motion.Mechanism, r *Range) (c *cell.Cover, why string, err error) {
	tree, err := cell.BuildMost(ctx, m, r.beyond())
	switch {
	case ctx.Err() != nil:
		return nil, "", ctx.Err()
	case errors.Is(err, cell.ErrLayout), errors.Is(err, cell.ErrProof), errors.Is(err, cell.ErrUnbounded):
		return nil, err.Error(), nil
	case err != nil:
		return nil, "", err
	}
	c = &cell.Cover{Tree: tree}
	if len(tree.Rest) == 0 {
		return c, "", nil
	}
	if err := fringe(ctx, c, m, r); err != nil {
		return nil, "", err
	}
	if c.Last > restMost {
		return nil, cell.ErrProof.Error(), nil
	}
	return c, "", nil
}

// fringe tries positions where the cells leave off, outwards to the edge of the range, and tells how far from that edge they lie. Whatever of the range no cell holds lies further out than one of the squares where they
// leave off, since it hangs together with ride height along a ray.
func fringe(ctx context.Context, c *cell.Cover, m *motion.Mechanism, r *Range) error {
	solver := m.NewSolver()
	seen := map[[2]int]bool{}
	last := m.Ride()
	var p motion.Pose
	far, size := -1.0, 0.0
	for i := range c.Rest {
		if i%64 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		k := &c.Rest[i]
		left, right := c.Travels(k, [2]float64{})
		at := math.Hypot(left, right)
		if at == 0 {
			c.Last = math.Inf(1) // ride height itself
			return nil
		}
		half := c.HalfDiagonal(k)
		size = math.Max(size, half)
		dl, dr := left/at, right/at
		edge, _ := r.outline(left, right)
		reached, lost := false, false
		for x := at - half; x <= edge+restStep; x += restStep {
			l, rr := x*dl, x*dr
			far = math.Max(far, r.fromEdge(l, rr))
			key := [2]int{int(math.Floor(l / restStep)), int(math.Floor(rr / restStep))}
			if lost || seen[key] {
				continue
			}
			seen[key] = true
			if !solver.Near(&last, l, rr, restNear, &p) && (reached || solver.Solve(l, rr, &p) != nil) {
				lost = true // nothing beyond it is reached either
				continue
			}
			last, reached = p, true
			if r.inside(&p) {
				c.Tried = append(c.Tried, p)
			}
		}
	}
	if far < 0 { // all of them outside the range
		return nil
	}
	c.Last = far + size + restStep/2 + linksBack
	return nil
}

// beyond tells of squares that lie past where the links end the travel, by more than the outline can be wrong; nil where they end it nowhere.
func (r *Range) beyond() func(left, right, half float64) bool {
	for i := range r.Edge {
		if r.Edge[i].Cause != NoAssembly {
			continue
		}
		return func(left, right, half float64) bool {
			radius, links := r.outline(left, right)
			return links && math.Hypot(left, right) > radius && r.fromEdge(left, right) > half+restStep
		}
	}
	return nil
}

// fromEdge is the distance of a position from the outline, mm.
func (r *Range) fromEdge(left, right float64) float64 {
	least := math.Inf(1)
	for i := range r.Edge {
		p, q := &r.Edge[i], &r.Edge[(i+1)%len(r.Edge)]
		dl, dr := q.Left-p.Left, q.Right-p.Right
		t := 0.0
		if l2 := dl*dl + dr*dr; l2 > 0 {
			t = math.Max(0, math.Min(1, ((left-p.Left)*dl+(right-p.Right)*dr)/l2))
		}
		least = math.Min(least, math.Hypot(p.Left+t*dl-left, p.Right+t*dr-right))
	}
	return least
}

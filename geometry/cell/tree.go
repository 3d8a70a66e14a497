package cell

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"axleloft/geometry/motion"
)

const (
	levels     = 5   // of larger cells over the tiles
	steepest   = 1.5 // rad of articulation
	touchSides = 1e-9
)

var (
	// ErrUnbounded is returned where nothing bounds the travel.
	ErrUnbounded = errors.New("nothing bounds the travel")
	// ErrProof is returned where the proof does not go through somewhere within the range: near the end of what the links let the axle do, or where they hold it poorly.
	ErrProof = errors.New("the links hold the axle poorly somewhere in the travel, or come near the end of their reach")
)

// Build covers the whole range of a mechanism, from ride height outwards, with tiles that have a proved box each and agree where they meet: so all hold the assembly of ride height. Larger cells are
// laid over them. The errors are ErrLayout, ErrUnbounded, ErrProof and the context's.
func Build(ctx context.Context, m *motion.Mechanism) (*Tree, error) {
	return build(ctx, m, true, nil)
}

// BuildMost is Build that leaves out what it cannot prove: from ride height one comes to that only through the tree's Rest. beyond, unless nil, tells of a square of left against right travel, by its centre
// and half its diagonal, mm, that all of it lies outside the range.
func BuildMost(ctx context.Context, m *motion.Mechanism, beyond func(left, right, half float64) bool) (*Tree, error) {
	return build(ctx, m, false, beyond)
}

func build(ctx context.Context, m *motion.Mechanism, whole bool, beyond func(left, right, half float64) bool) (*Tree, error) {
	members, err := membersOf(m)
	if err != nil {
		return nil, err
	}
	limits := limitsOf(m)
	if len(limits) == 0 {
		return nil, ErrUnbounded
	}
	for half := firstHalf; half > lastHalf; half /= 2 {
		t := &Tree{mech: m, members: members, work: make([]swayed, len(members)), turned: make([]turned, len(m.Links)), over: m.OverLocated, radius: m.Radius, track: m.Track, limits: limits}
		t.springs, t.arms = springsOf(m, own+len(m.Rockers))
		t.gives = make([]given, len(t.springs))
		t.n = own + len(m.Rockers) + armOwn*len(t.arms)
		k := &tiling{Tree: t, half: half, whole: whole, beyond: beyond, is: map[patch]int32{}, met: map[[2]int32]bool{}}
		switch ok, err := k.lay(ctx); {
		case err != nil:
			return nil, err
		case ok:
			return t, nil
		}
	}
	return nil, ErrProof
}

// fill solves, proves and clips a cell; q is near its centre's pose.
func (t *Tree) fill(c *Cell, q vec) bool {
	var y mat
	c.Parts = [4]int32{-1, -1, -1, -1}
	if !t.solve(c.H, c.A, q, &c.at, &y) {
		return false
	}
	t.rates(c, &y)
	c.predict()
	if !t.prove(c, &y) {
		return false
	}
	c.Proved = true
	t.clip(c)
	return true
}

// raise lays larger cells over the tiles, four under each.
func (t *Tree) raise(level map[[2]int]int32) {
	for range levels {
		if len(level) < 4 {
			break
		}
		up := map[[2]int][4]int32{}
		var order [][2]int // so that the same job gives the same tree
		for _, key := range sortedKeys(level) {
			over := [2]int{key[0] >> 1, key[1] >> 1}
			parts, ok := up[over]
			if !ok {
				parts = [4]int32{-1, -1, -1, -1}
				order = append(order, over)
			}
			parts[key[0]&1+2*(key[1]&1)] = level[key]
			up[over] = parts
		}
		next := map[[2]int]int32{}
		for _, over := range order {
			next[over] = int32(len(t.Cells))
			t.Cells = append(t.Cells, t.hold(up[over]))
		}
		level = next
	}
	for _, key := range sortedKeys(level) {
		t.Roots = append(t.Roots, level[key])
	}
}

// hold makes a cell over its parts: its prediction is their mean, its box holds theirs.
func (t *Tree) hold(parts [4]int32) Cell {
	c := Cell{Parts: parts, split: true}
	n := 0.0
	var q vec
	for i, k := range parts {
		if k < 0 {
			continue
		}
		p := &t.Cells[k]
		// Towards the middle of the four.
		side := [2]float64{1 - 2*float64(i&1), 1 - 2*float64(i>>1)}
		c.RH, c.RA = 2*p.RH, 2*p.RA
		c.H, c.A = p.H+side[0]*p.RH, p.A+side[1]*p.RA
		at := p.predicted(side)
		for m := range q {
			q[m] += at[m]
			c.s[m][0] += 2 * p.s[m][0]
			c.s[m][1] += 2 * p.s[m][1]
		}
		n++
	}
	for m := range q {
		q[m] /= n
		c.s[m][0] /= n
		c.s[m][1] /= n
	}
	t.stand(c.H, c.A, &q, &c.at)
	for _, k := range parts {
		if k >= 0 {
			c.widen(&t.Cells[k])
		}
	}
	c.predict()
	c.sway.turn = c.sway.w + c.E[2] + c.E[3]
	t.clip(&c)
	return c
}

// widen makes the cell's box hold another's wherever the two share a place: the two predictions differ by a straight-line function, which is largest at the corners.
func (c *Cell) widen(p *Cell) {
	for _, u := range [4][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
		h, a := p.H+u[0]*p.RH, p.A+u[1]*p.RA
		mine := c.predicted([2]float64{(h - c.H) / c.RH, (a - c.A) / c.RA})
		its := p.predicted(u)
		for i := range c.E {
			c.E[i] = math.Max(c.E[i], math.Abs(its[i]-mine[i])+p.E[i]+1e-13)
		}
	}
}

// HalfDiagonal is half the diagonal of a cell in the plane of left against right travel, mm.
func (t *Tree) HalfDiagonal(c *Cell) float64 {
	return math.Sqrt2 * math.Hypot(c.RH, c.RA*t.track/2)
}

// Split cuts the cell in four, unless it has been, and returns its parts' indices (-1 where the limits leave nothing). Pointers to cells are not good after it.
func (t *Tree) Split(k int32) [4]int32 {
	if t.Cells[k].split {
		return t.Cells[k].Parts
	}
	parts := [4]int32{-1, -1, -1, -1}
	for i := range parts {
		p := &t.Cells[k]
		u := [2]float64{float64(i&1) - 0.5, float64(i>>1) - 0.5}
		c := Cell{H: p.H + u[0]*p.RH, A: p.A + u[1]*p.RA, RH: p.RH / 2, RA: p.RA / 2}
		if !t.fill(&c, p.predicted(u)) || !p.holds(u, &c.at.q) {
			t.inherit(&c, p, u)
		}
		if c.N == 0 {
			continue
		}
		parts[i] = int32(len(t.Cells))
		t.Cells = append(t.Cells, c)
	}
	t.Cells[k].Parts, t.Cells[k].split = parts, true
	return parts
}

// inherit gives a part the box of the cell it is cut from.
func (t *Tree) inherit(c, from *Cell, u [2]float64) {
	c.Parts = [4]int32{-1, -1, -1, -1}
	c.Proved = from.Proved
	for i := range c.s {
		c.s[i] = [2]float64{from.s[i][0] / 2, from.s[i][1] / 2}
	}
	q := from.predicted(u)
	t.stand(c.H, c.A, &q, &c.at)
	c.E = from.E
	c.predict()
	c.sway.turn = c.sway.w + c.E[2] + c.E[3]
	t.clip(c)
}

func sortedKeys(m map[[2]int]int32) [][2]int {
	keys := make([][2]int, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b [2]int) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	return keys
}

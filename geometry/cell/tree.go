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
	firstHalf  = 8.0    // mm: half width of the tiles tried first, in heave and in wheel travel by articulation
	halvings   = 3      // of the tiles, where the proof does not go through
	mostTiles  = 40_000 // of one job
	levels     = 5      // of larger cells over the tiles
	steepest   = 1.2    // rad of articulation
	touchSides = 1e-9
)

var (
	// ErrUnbounded is returned where nothing bounds the travel.
	ErrUnbounded = errors.New("nothing bounds the travel")
	// ErrProof is returned where the proof does not go through somewhere within the range: near the end of what the links let the axle do.
	ErrProof = errors.New("the links come near the end of their reach within the travel")
)

// Build covers the range of a mechanism, from ride height outwards, with tiles that have a proved box each and agree where they meet: so all hold the assembly of ride height. Larger cells are
// laid over them. The errors are ErrLayout, ErrUnbounded, ErrProof and the context's.
func Build(ctx context.Context, m *motion.Mechanism) (*Tree, error) {
	members, err := membersOf(m)
	if err != nil {
		return nil, err
	}
	limits := limitsOf(m)
	if len(limits) == 0 {
		return nil, ErrUnbounded
	}
	for i := range limits {
		if !Follows(m, &limits[i].foot) {
			return nil, ErrLayout
		}
	}
	half := firstHalf
	for range halvings + 1 {
		t := &Tree{mech: m, members: members, work: make([]swayed, len(members)), over: m.OverLocated, radius: m.Radius, track: m.Track, limits: limits}
		t.springs, t.arms = springsOf(m, own+len(m.Rockers))
		t.gives = make([]given, len(t.springs))
		t.n = own + len(m.Rockers) + armOwn*len(t.arms)
		var tiles map[[2]int]int32
		if tiles, err = t.tile(ctx, half); err == nil {
			t.raise(tiles)
			return t, nil
		}
		if !errors.Is(err, ErrProof) {
			return nil, err
		}
		half /= 2
	}
	return nil, err
}

// tile lays tiles of one size.
func (t *Tree) tile(ctx context.Context, half float64) (map[[2]int]int32, error) {
	rh, ra := half, 2*half/t.track
	at := map[[2]int]int32{}
	out := map[[2]int]bool{} // tiles the limits leave nothing of
	first := Cell{RH: rh, RA: ra}
	if !t.fill(&first, vec{}) {
		return nil, ErrProof
	}
	t.Cells = append(t.Cells, first)
	at[[2]int{}] = 0
	queue := [][2]int{{}}
	sides := [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}}
	for len(queue) > 0 {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		key := queue[0]
		queue = queue[1:]
		from := at[key]
		for _, d := range sides {
			if !t.Cells[from].reaches(d) {
				continue
			}
			next := [2]int{key[0] + d[0], key[1] + d[1]}
			if out[next] {
				continue
			}
			k, known := at[next]
			if !known {
				c := Cell{H: 2 * rh * float64(next[0]), A: 2 * ra * float64(next[1]), RH: rh, RA: ra}
				if math.Abs(c.A)+ra > steepest || len(t.Cells) > mostTiles {
					return nil, ErrProof
				}
				if !t.fill(&c, t.Cells[from].predicted([2]float64{2 * float64(d[0]), 2 * float64(d[1])})) {
					return nil, ErrProof
				}
				if c.N == 0 {
					out[next] = true
					continue
				}
				k = int32(len(t.Cells))
				t.Cells = append(t.Cells, c)
				at[next] = k
				queue = append(queue, next)
			}
			if !t.agree(&t.Cells[from], &t.Cells[k], d) {
				return nil, ErrProof
			}
		}
	}
	return at, nil
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

// reaches reports whether what is left of the cell touches the side d.
func (c *Cell) reaches(d [2]int) bool {
	for i := range c.N {
		if c.Poly[i][0]*float64(d[0])+c.Poly[i][1]*float64(d[1]) >= 1-touchSides {
			return true
		}
	}
	return false
}

// agree reports whether two tiles of one size that meet at a's side d hold the same pose in the middle of that side. Each holds one only at every place, and both change without a
// jump, so then they hold the same all along the side.
func (t *Tree) agree(a, b *Cell, d [2]int) bool {
	u := [2]float64{float64(d[0]), float64(d[1])}
	var p place
	var y mat
	if !t.solve(a.H+u[0]*a.RH, a.A+u[1]*a.RA, a.predicted(u), &p, &y) {
		return false
	}
	return a.holds(u, &p.q) && b.holds([2]float64{-u[0], -u[1]}, &p.q)
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

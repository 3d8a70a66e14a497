package cell

import (
	"context"
	"math"
)

const (
	firstHalf = 8.0    // mm: half width of the tiles tried first, in heave and in wheel travel by articulation
	lastHalf  = 0.2    // mm: of the smallest is more than this
	mostTiles = 30_000 // of one job
)

// patch is a square where a tile may lie: square (h, a) of those of its level, each level's half as wide as those of the one before. Ride height is in the middle of (0, 0) of level 0.
type patch struct{ level, h, a int }

// above is the square of a level above that holds it.
func (s patch) above(level int) patch {
	d := s.level - level
	return patch{level, s.h >> d, s.a >> d}
}

func (s patch) part(i int) patch { return patch{s.level + 1, 2*s.h + i&1, 2*s.a + i>>1} }

// What is known of a square that has no tile.
const (
	halved int32 = -1 - iota // its four parts tell
	out                      // the limits leave nothing of it
	open                     // it could not be proved
)

// tiling lays tiles outwards from ride height, as large as the proof goes through.
type tiling struct {
	*Tree
	half   float64 // mm: of level 0
	whole  bool    // nothing may be left open
	beyond func(left, right, half float64) bool
	is     map[patch]int32
	queue  []patch
	met    map[[2]int32]bool // tiles known to agree
}

// lay covers the range and lays larger cells over the tiles. false where ride height's own tile has to be smaller.
func (k *tiling) lay(ctx context.Context) (bool, error) {
	first := k.cell(patch{})
	if !k.fill(&first, vec{}) || first.N == 0 {
		return false, nil
	}
	k.keep(patch{}, first)
	for n := 0; n < len(k.queue); n++ {
		if ctx.Err() != nil {
			return false, ctx.Err()
		}
		for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			if err := k.leave(k.queue[n], d); err != nil {
				return false, err
			}
		}
	}
	level := map[[2]int]int32{}
	for s := range k.is {
		if s.level == 0 {
			level[[2]int{s.h, s.a}] = 0
		}
	}
	for _, key := range sortedKeys(level) {
		if i := k.cover(patch{0, key[0], key[1]}); i >= 0 {
			level[key] = i
		} else {
			delete(level, key)
		}
	}
	k.raise(level)
	return true, nil
}

// cell is an empty cell in the place of a square.
func (k *tiling) cell(s patch) Cell {
	by := math.Exp2(-float64(s.level))
	rh := k.half * by
	ra := 2 * rh / k.track
	at := func(i int) float64 { return (2*float64(i) + 1) - 1/by } // in half widths
	return Cell{H: rh * at(s.h), A: ra * at(s.a), RH: rh, RA: ra}
}

func (k *tiling) keep(s patch, c Cell) {
	k.is[s] = int32(len(k.Cells))
	k.Cells = append(k.Cells, c)
	k.queue = append(k.queue, s)
}

// cover is the cell over all of a square: its tile, or one over its parts; -1 where there is none.
func (k *tiling) cover(s patch) int32 {
	i := k.is[s]
	if i != halved {
		return max(i, -1)
	}
	parts := [4]int32{-1, -1, -1, -1}
	any := false
	for n := range parts {
		p := s.part(n)
		if _, known := k.is[p]; known {
			parts[n] = k.cover(p)
			any = any || parts[n] >= 0
		}
	}
	if !any {
		return -1
	}
	i = int32(len(k.Cells))
	k.Cells = append(k.Cells, k.hold(parts))
	return i
}

// leave goes through side d of the tile of a square, if what the limits leave of it touches that.
func (k *tiling) leave(s patch, d [2]int) error {
	c := &k.Cells[k.is[s]]
	lo, hi := c.touches(d)
	if lo > hi {
		return nil
	}
	next := patch{s.level, s.h + d[0], s.a + d[1]}
	level := 0
	for level < s.level && k.isHalved(next.above(level)) {
		level++
	}
	return k.enter(next.above(level), s, d, lo, hi)
}

func (k *tiling) isHalved(s patch) bool {
	i, known := k.is[s]
	return known && i == halved
}

// touches tells over which stretch of its side d, from -1 to 1 along it, what is left of the cell touches that; lo > hi: it does not.
func (c *Cell) touches(d [2]int) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range c.N {
		p := c.Poly[i]
		if p[0]*float64(d[0])+p[1]*float64(d[1]) >= 1-touchSides {
			x := p[0]*math.Abs(float64(d[1])) + p[1]*math.Abs(float64(d[0]))
			lo, hi = math.Min(lo, x), math.Max(hi, x)
		}
	}
	return lo, hi
}

// enter goes into square s over the stretch from lo to hi of side d of the tile of square from, which s touches or whose neighbour it holds.
func (k *tiling) enter(s, from patch, d [2]int, lo, hi float64) error {
	next := patch{from.level, from.h + d[0], from.a + d[1]}
	if s.level > from.level {
		along, at := s.a, next.a
		if d[1] != 0 {
			along, at = s.h, next.h
		}
		w := math.Exp2(float64(from.level - s.level))
		start := 2*(float64(along)*w-float64(at)) - 1
		if start > hi+touchSides || start+2*w < lo-touchSides {
			return nil
		}
	} else if next.above(s.level) != s {
		return nil
	}
	i, known := k.is[s]
	if !known {
		var err error
		if i, err = k.try(s, from, d); err != nil {
			return err
		}
		if i >= 0 {
			return nil
		}
	}
	switch {
	case i >= 0 && !k.agree(s, from, d):
		return ErrProof
	case i == halved:
		for n := range 4 {
			p := s.part(n)
			if p.level > from.level { // the parts on the near side
				if d[0] > 0 && n&1 == 1 || d[0] < 0 && n&1 == 0 || d[1] > 0 && n>>1 == 1 || d[1] < 0 && n>>1 == 0 {
					continue
				}
			}
			if err := k.enter(p, from, d, lo, hi); err != nil {
				return err
			}
		}
	}
	return nil
}

// try lays a tile in a square next to that of square from, no more than twice as wide; what comes of it is returned.
func (k *tiling) try(s, from patch, d [2]int) (int32, error) {
	i := halved
	if s.level >= from.level-1 {
		c := k.cell(s)
		if k.beyond != nil {
			if l, r := k.Travels(&c, [2]float64{}); k.beyond(l, r, k.HalfDiagonal(&c)) {
				k.is[s] = out
				return out, nil
			}
		}
		if math.Abs(c.A)+c.RA > steepest || len(k.Cells) > mostTiles {
			return 0, ErrProof
		}
		f := &k.Cells[k.is[from]]
		switch ok := k.fill(&c, f.predicted([2]float64{(c.H - f.H) / f.RH, (c.A - f.A) / f.RA})); {
		case ok && c.N == 0:
			i = out
		case ok && k.meet(&c, f, d):
			k.keep(s, c)
			k.met[k.both(s, from)] = true
			return k.is[s], nil
		case c.RH/2 <= lastHalf && k.whole:
			return 0, ErrProof
		case c.RH/2 <= lastHalf:
			i = open
			k.Rest = append(k.Rest, c)
		}
	}
	k.is[s] = i
	return i, nil
}

func (k *tiling) agree(s, from patch, d [2]int) bool {
	both := k.both(s, from)
	if !k.met[both] {
		k.met[both] = k.meet(&k.Cells[k.is[s]], &k.Cells[k.is[from]], d)
	}
	return k.met[both]
}

// both names the tiles of two squares.
func (k *tiling) both(a, b patch) [2]int32 {
	i, j := k.is[a], k.is[b]
	return [2]int32{min(i, j), max(i, j)}
}

// meet reports whether two tiles that touch at from's side d hold the same pose in the middle of the shorter of the two sides. Each holds one only at every place, and both change without a
// jump, so then they hold the same all along it.
func (k *tiling) meet(c, from *Cell, d [2]int) bool {
	small := from
	if c.RH < from.RH {
		small = c
	}
	h, a := small.H, small.A
	if d[0] != 0 {
		h = from.H + float64(d[0])*from.RH
	} else {
		a = from.A + float64(d[1])*from.RA
	}
	in := func(c *Cell) [2]float64 { return [2]float64{(h - c.H) / c.RH, (a - c.A) / c.RA} }
	var p place
	var y mat
	if !k.settle(h, a, from.predicted(in(from)), &p, &y) {
		return false
	}
	return from.holds(in(from), &p.q) && c.holds(in(c), &p.q)
}

package clearance

import (
	"cmp"
	"context"
	"math"
	"slices"

	"axleloft/geometry/cell"
)

const (
	lineCell  = 2.0     // mm: a cell no wider than this is not cut before its stretch of a line is
	lineLeast = 0.1     // mm: nor is one no wider than this cut for what is left open
	lineStep  = 0.05    // mm along a line: a stretch no longer than this is not parted
	lineMost  = 200_000 // stretches looked at
	lineClose = 1e-6    // mm: how close the place of a touch is found
	lineSlack = 1e-9    // of a cell's half width or mm: round-off of where a line runs
)

// Way is what is proved of a pair along a straight line of wheel travels from ride height, mm along it in the plane of left against right travel: nowhere before NotBefore is its gap below the level, and at By it is. By is
// infinite where no position of the line was found where it is, NotBefore the end of the line where it is nowhere.
type Way struct {
	NotBefore, By float64
}

// march goes along a line.
type march struct {
	*closing
	ctx     context.Context
	h, sin  float64 // heave and sine of articulation a mm
	far     float64
	reached float64 // all up to here is settled
	open    float64 // from here on it is not proved that the gap is not below the level; infinite: proved so far
	by      float64
	looked  int
	thin    cell.Cell // the cell looked at, less what is not the line
	live    []duo     // one list after the other
}

// First goes from ride height along the unit direction (dl, dr) of left and right travel to far, mm, all of which must lie in the range. The line cannot step over a thin overlap. An error is the context's.
func (w *Prover) First(ctx context.Context, pair int, level, dl, dr, far float64) (Way, error) {
	k := w.close(pair, level)
	ride := &w.tree.Cells[w.tree.Ride]
	if gap, ok := k.at(ride, [2]float64{}); ok && gap < level {
		return Way{}, nil
	}
	m := &march{closing: k, ctx: ctx, h: (dl + dr) / 2, sin: (dl - dr) / w.c.mech.Track, far: far, open: math.Inf(1), by: math.Inf(1)}
	m.live = k.all()
	err := m.through(w.tree.Roots, 0, far, 0, len(m.live))
	if err != nil {
		return Way{}, err
	}
	if m.reached < far-lineStep && math.IsInf(m.by, 1) { // what is left has no cells
		m.open = math.Min(m.open, m.reached)
	}
	return Way{NotBefore: math.Min(m.open, far), By: m.by}, nil
}

// stretch is the part of a line in a cell.
type stretch struct {
	cell int32
	from float64
	to   float64
}

// through goes through those of some cells that lie on the line between two places of it, in order; live[lo:hi] are the pieces that count.
func (m *march) through(cells []int32, from, to float64, lo, hi int) error {
	var list []stretch
	for _, k := range cells {
		if k < 0 {
			continue
		}
		s := stretch{cell: k}
		s.from, s.to = m.in(&m.w.tree.Cells[k])
		s.from, s.to = math.Max(s.from, from), math.Min(s.to, to)
		if s.from < s.to {
			list = append(list, s)
		}
	}
	slices.SortFunc(list, func(a, b stretch) int { return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.cell, b.cell)) })
	for _, s := range list {
		if s.to <= m.reached {
			continue // along a side two cells share
		}
		if s.from > m.reached+lineClose { // no cell is here
			m.open = math.Min(m.open, m.reached)
		}
		if err := m.look(s.cell, math.Max(s.from, m.reached), s.to, lo, hi); err != nil || !math.IsInf(m.by, 1) {
			return err
		}
		m.reached = math.Max(m.reached, s.to)
	}
	return nil
}

// in is where a line lies in a cell.
func (m *march) in(c *cell.Cell) (from, to float64) {
	from, to = 0, m.far
	within := func(rate, lo, hi float64) {
		if rate == 0 {
			if lo > 0 || hi < 0 {
				to = -1
			}
			return
		}
		a, b := lo/rate, hi/rate
		from, to = math.Max(from, math.Min(a, b)), math.Min(to, math.Max(a, b))
	}
	within(m.h, c.H-c.RH, c.H+c.RH)
	within(m.sin, math.Sin(c.A-c.RA), math.Sin(c.A+c.RA))
	return from, to
}

// place is where the line is in a cell, in its own coordinates.
func (m *march) place(c *cell.Cell, s float64) [2]float64 {
	return [2]float64{(m.h*s - c.H) / c.RH, (math.Asin(m.sin*s) - c.A) / c.RA}
}

// strip leaves of a cell a strip that holds the line between two places of it. The line bends in the cell's coordinates, articulation being the arc of a sine: it strays from the straight way by no more than an eighth of
// its length squared times the largest second derivative.
func (m *march) strip(c *cell.Cell, from, to float64) {
	x := math.Abs(m.sin) * to
	bend := (to - from) * (to - from) / 8 * m.sin * m.sin * x / math.Pow(1-x*x, 1.5)
	e, d := lineSlack/c.RH, bend/c.RA+lineSlack
	c.N = 0
	for _, s := range [2]float64{from, to} {
		p := m.place(c, s)
		for _, by := range [4][2]float64{{-e, -d}, {e, -d}, {e, d}, {-e, d}} {
			c.Poly[c.N] = [2]float64{p[0] + by[0], p[1] + by[1]}
			c.N++
		}
	}
}

// look settles the stretch of the line in a cell.
func (m *march) look(k int32, from, to float64, lo, hi int) error {
	if m.looked++; m.looked > lineMost {
		m.open = math.Min(m.open, from)
		return nil
	}
	if m.looked%256 == 0 && m.ctx.Err() != nil {
		return m.ctx.Err()
	}
	w := m.w
	m.thin = w.tree.Cells[k]
	m.strip(&m.thin, from, to)
	mark := len(m.live)
	defer func() { m.live = m.live[:mark] }()
	m.live, _ = m.closing.look(&m.thin, m.live[lo:hi], false, m.live)
	if len(m.live) == mark {
		return nil
	}
	lo, hi = mark, len(m.live)
	c := &w.tree.Cells[k]
	if w.width(c) > lineCell || !c.Proved && w.width(c) > lineLeast {
		return m.cut(k, from, to, lo, hi)
	}
	if to-from > lineStep {
		mid := (from + to) / 2
		if err := m.look(k, from, mid, lo, hi); err != nil || !math.IsInf(m.by, 1) {
			return err
		}
		m.reached = mid
		return m.look(k, mid, to, lo, hi)
	}
	if m.below(k, to) {
		m.by = to
		m.narrow(k, from)
		m.open = math.Min(m.open, from)
		return nil
	}
	if w.width(c) > lineLeast {
		return m.cut(k, from, to, lo, hi)
	}
	m.open = math.Min(m.open, from)
	return nil
}

// cut settles a stretch in the parts of a cell.
func (m *march) cut(k int32, from, to float64, lo, hi int) error {
	parts := m.w.tree.Split(k)
	return m.through(parts[:], from, to, lo, hi)
}

// below reports whether the gap is below the level at a place of the line.
func (m *march) below(k int32, s float64) bool {
	c := &m.w.tree.Cells[k]
	gap, ok := m.at(c, m.place(c, s))
	return ok && gap < m.level
}

// narrow brings the place of a touch, by, as near to where it begins as it is found, from a place where it is not or not yet known.
func (m *march) narrow(k int32, from float64) {
	if m.below(k, from) {
		m.by = from
		return
	}
	for m.by-from > lineClose {
		mid := (from + m.by) / 2
		if m.below(k, mid) {
			m.by = mid
		} else {
			from = mid
		}
	}
}

package clearance

import (
	"context"
	"math"

	"axleloft/geometry/cell"
)

// Zone tells on which side of a level a pair's gap lies.
type Zone uint8

// The zones. Of a square in which the level may be met, NearOver and NearUnder say on which side of it the middle lies.
const (
	Outside   Zone = iota // no position of the range
	Over                  // nowhere below the level
	NearOver              // not known everywhere
	NearUnder             // the same
	Under                 // everywhere below the level
)

// Region is where over the range a pair's gap lies below a level, proved square by square, each a rectangle of heave and of the sine of articulation.
type Region struct {
	Level float64 // mm
	Width float64 // mm of wheel travel: how wide the squares are in which it is not known
	// Area is how much of the range, in mm2 of left against right travel, has the gap below the level for certain; with what is not known; and all of it.
	Surely, Perhaps, Whole float64
	Why                    string // of a region of which nothing is proved: why, as half a sentence

	track  float64
	h0, a0 float64 // where the squares begin, mm and rad
	dh, da float64 // their sides
	nh, na int
	zone   []Zone // na after na
}

// At is the zone of a position of the range.
func (r *Region) At(left, right float64) Zone {
	i, k := r.square(left, right)
	if i < 0 || i >= r.nh || k < 0 || k >= r.na {
		return Outside
	}
	return r.zone[i*r.na+k]
}

func (r *Region) square(left, right float64) (i, k int) {
	a := math.Asin(math.Max(-1, math.Min(1, (left-right)/r.track)))
	return int(math.Floor(((left+right)/2 - r.h0) / r.dh)), int(math.Floor((a - r.a0) / r.da))
}

// Size is how many squares there are along heave and articulation.
func (r *Region) Size() (heave, articulation int) { return r.nh, r.na }

// Square is the zone of a square; Outside beyond the ends.
func (r *Region) Square(i, k int) Zone {
	if i < 0 || i >= r.nh || k < 0 || k >= r.na {
		return Outside
	}
	return r.zone[i*r.na+k]
}

// Travels are the wheel travels at a place counted in squares: whole numbers are the squares' lower corners, halves their middles.
func (r *Region) Travels(i, k float64) (left, right float64) {
	h, half := r.h0+i*r.dh, math.Sin(r.a0+k*r.da)*r.track/2
	return h + half, h - half
}

// leaf is a cell that is not cut further.
type leaf struct {
	h, a, rh, ra float64
	zone         Zone
}

// waiting is a cell to be looked at, and which pieces count in it: live[lo:hi].
type waiting struct {
	cell   int32
	lo, hi int
}

// edgeCell and underEdge are how wide a cell across the edge of the range may be at most, mm: in larger ones the edge is not known closely. The loops round what lies below the level run along the edge too.
const edgeCell, underEdge = 16.0, 4.0

// Below finds where over the range the gap of a pair is below a level: cells are cut where that is not the same everywhere, until they are no wider than fine, mm of wheel travel, or most of them have been looked at. An error
// is the context's.
func (w *Prover) Below(ctx context.Context, pair int, level, fine float64, most int) (*Region, error) {
	r := &Region{Level: level, track: w.c.mech.Track}
	k := w.close(pair, level)
	live := k.all()
	var queue []waiting
	for _, n := range w.tree.Roots {
		queue = append(queue, waiting{n, 0, len(live)})
	}
	var leaves []leaf
	for n := 0; n < len(queue); n++ { // the larger first, so that what is not known is equally wide everywhere if there are too many
		if n%256 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		q := queue[n]
		c := &w.tree.Cells[q.cell]
		if c.N == 0 {
			continue
		}
		area, whole := clipped(c)
		zone := NearOver
		lo := len(live)
		var above float64
		live, above = k.look(c, live[q.lo:q.hi], true, live)
		switch {
		case len(live) == lo:
			zone = Over
			if k.closed { // it touches no skin here, so it is inside everywhere or nowhere
				if gap, ok := k.at(c, middle(c)); ok && gap < level {
					zone = Under
				}
			}
		case above < level:
			zone = Under
		}
		wide, edge := w.width(c), edgeCell
		if zone == Under {
			edge = math.Max(fine, underEdge)
		}
		if (zone == NearOver && wide > fine || !whole && wide > edge) && n < most {
			if zone != NearOver { // which pieces count is known as far as it matters
				live = append(live[:lo], live[q.lo:q.hi]...)
			}
			hi := len(live)
			for _, p := range w.tree.Split(q.cell) {
				if p >= 0 {
					queue = append(queue, waiting{p, lo, hi})
				}
			}
			continue
		}
		live = live[:lo]
		if zone == NearOver {
			if gap, ok := k.at(c, middle(c)); ok && gap < level {
				zone = NearUnder
			}
			r.Width = math.Max(r.Width, wide)
			r.Perhaps += area * r.track * math.Cos(c.A)
		}
		if zone == Under {
			r.Surely += area * r.track * math.Cos(c.A)
		}
		r.Whole += area * r.track * math.Cos(c.A)
		leaves = append(leaves, leaf{c.H, c.A, c.RH, c.RA, zone})
	}
	r.Perhaps += r.Surely
	r.fill(leaves)
	return r, nil
}

// clipped is the area of what the limits leave of a cell, mm rad, and whether that is all of it.
func clipped(c *cell.Cell) (area float64, whole bool) {
	for i := range c.N {
		p, q := c.Poly[i], c.Poly[(i+1)%c.N]
		area += (p[0]*q[1] - p[1]*q[0]) / 2
	}
	return area * c.RH * c.RA, area > 4-1e-9
}

// fill puts the leaves into squares of the smallest one's size.
func (r *Region) fill(leaves []leaf) {
	if len(leaves) == 0 {
		return
	}
	h1, a1 := math.Inf(-1), math.Inf(-1)
	r.h0, r.a0, r.dh, r.da = math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1)
	for i := range leaves {
		l := &leaves[i]
		r.h0, r.a0 = math.Min(r.h0, l.h-l.rh), math.Min(r.a0, l.a-l.ra)
		h1, a1 = math.Max(h1, l.h+l.rh), math.Max(a1, l.a+l.ra)
		r.dh, r.da = math.Min(r.dh, 2*l.rh), math.Min(r.da, 2*l.ra)
	}
	r.nh, r.na = int(math.Round((h1-r.h0)/r.dh)), int(math.Round((a1-r.a0)/r.da))
	r.zone = make([]Zone, r.nh*r.na)
	for i := range leaves {
		l := &leaves[i]
		from, to := int(math.Round((l.h-l.rh-r.h0)/r.dh)), int(math.Round((l.h+l.rh-r.h0)/r.dh))
		lo, hi := int(math.Round((l.a-l.ra-r.a0)/r.da)), int(math.Round((l.a+l.ra-r.a0)/r.da))
		for i := from; i < to; i++ {
			for k := lo; k < hi; k++ {
				r.zone[i*r.na+k] = l.zone
			}
		}
	}
}

// Nearest is how near to ride height, mm in the plane of left against right travel, a pair's gap falls below a level: nowhere nearer than NotNearer, and at Left, Right it has.
type Nearest struct {
	NotNearer   float64 // infinite: nowhere in the range
	Found       bool
	Left, Right float64
}

// Nearest finds how near to ride height the gap of a pair falls below a level, in any direction of left against right travel, to so many mm. An error is the context's.
func (w *Prover) Nearest(ctx context.Context, pair int, level, within float64, most int) (Nearest, error) {
	k := w.close(pair, level)
	out := Nearest{NotNearer: math.Inf(1)}
	found, open := math.Inf(1), math.Inf(1) // open: what is too small to be cut further, at the edge of the range or of what is below the level
	live := k.all()
	var lists []waiting
	w.heap = w.heap[:0]
	add := func(n int32, lo, hi int) {
		c := &w.tree.Cells[n]
		if c.N == 0 {
			return
		}
		h, s := math.Max(0, math.Abs(c.H)-c.RH), math.Sin(math.Max(0, math.Abs(c.A)-c.RA))*w.c.mech.Track/2
		lists = append(lists, waiting{n, lo, hi})
		w.push(entry{bound: math.Sqrt2 * math.Hypot(h, s), cell: n, seq: int32(len(lists) - 1)})
	}
	for _, n := range w.tree.Roots {
		add(n, 0, len(live))
	}
	for round := 1; len(w.heap) > 0 && w.heap[0].bound < found-within; round++ {
		if round%256 == 0 && ctx.Err() != nil {
			return out, ctx.Err()
		}
		if round > most {
			break
		}
		top := w.heap[0]
		w.pop()
		q := lists[top.seq]
		c := &w.tree.Cells[q.cell]
		lo := len(live)
		live, _ = k.look(c, live[q.lo:q.hi], false, live)
		touched := len(live) > lo
		if !touched && k.closed {
			live = append(live, live[q.lo:q.hi]...)
		}
		try := middle(c)
		gap, in := k.at(c, try)
		if in && gap < level {
			if l, r := w.tree.Travels(c, try); math.Hypot(l, r) < found {
				found = math.Hypot(l, r)
				out.Found, out.Left, out.Right = true, l, r
			}
			touched = true
		}
		if !touched {
			live = live[:lo]
			continue
		}
		hi := len(live)
		if w.width(c) <= within/2 {
			open = math.Min(open, top.bound)
			continue
		}
		for _, p := range w.tree.Split(q.cell) {
			if p >= 0 {
				add(p, lo, hi)
			}
		}
	}
	out.NotNearer = math.Min(found, open)
	if len(w.heap) > 0 {
		out.NotNearer = math.Min(out.NotNearer, w.heap[0].bound)
	}
	return out, nil
}

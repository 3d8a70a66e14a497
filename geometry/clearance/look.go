package clearance

import (
	"math"
	"slices"
)

// State is what is known of a block.
type State uint8

// The states: nothing comes nearer to any of it than the margin and what was asked beyond; something may; at one position all of it is within the margin.
const (
	Free State = iota
	Open
	Taken
)

const (
	// MoreSlack of a bound, in the radius of the block it is for, is worth cutting the positions finer.
	MoreSlack = 0.4
	// finest is how small a patch of positions gets, mm of heave.
	finest = 0.02
	// settleTries is how many patches of positions are looked at to settle a block.
	settleTries = 200
)

// Sift looks at a block; what of the list is left to look at there goes into keep: what may come nearer than its margin and beyond, mm. slack is how loose a bound may stay, mm.
func (w *Sweep) Sift(b *Block, list, keep []Moment, beyond, slack float64) (State, []Moment) {
	stack := append([]Moment(nil), list...)
	state := Free
	for len(stack) > 0 {
		m := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		n := w.Near(m, b)
		if n.Takes {
			return Taken, append(keep[:0], m)
		}
		margin := w.Swept[m.Piece].Margin
		if n.Least >= margin+beyond {
			continue
		}
		if w.loose(m, b, &n, slack) {
			var ok bool
			if stack, ok = w.Split(m, stack); ok {
				continue
			}
		}
		keep = append(keep, m)
		state = Open
	}
	return state, keep
}

// poseless is how small a patch of positions is cut of which no position within the range is known, mm of heave: it lies just beyond the limits.
const poseless = 1.0

// loose reports whether the bound of a moment on a block is worth cutting it finer.
func (w *Sweep) loose(m Moment, b *Block, n *Nearness, slack float64) bool {
	switch {
	case w.Width(m) <= finest:
		return false
	case !w.tree.Cells[m.Cell].Proved || n.Corner < 0:
		return true
	case n.Least+2*b.radius() < w.Swept[m.Piece].Margin && n.Slack > slack:
		return true // at one of its positions the whole block may be taken
	}
	if w.own(m, b.At, n); math.IsInf(n.Own, 1) {
		return w.Width(m) > poseless
	}
	return n.Own-n.Reach-n.Least > slack
}

// Settled is a moment and how near it comes to a place.
type Settled struct {
	Moment
	Least float64 // mm, less the margin: nowhere nearer to the place
	Found float64 // mm, less the margin: from the place at one position; infinite where none is known
	block float64 // Least of the whole block
}

// Settle cuts the moments of a block finer as long as one may come nearer to its middle than what is found by more than width. It returns those that come nearer to a place of the block than their margin and beyond,
// mm, and than what is found lets any.
func (w *Sweep) Settle(b *Block, list []Moment, beyond, width float64) []Moment {
	all := w.settle(b, list, beyond, width, false)
	out := make([]Moment, len(all))
	for i := range all {
		out[i] = all[i].Moment
	}
	return out
}

// SettleAll is Settle, which cuts all the finer whose own bounds are looser than width and might count anywhere in the block, and tells how near they come to the middle.
func (w *Sweep) SettleAll(b *Block, list []Moment, beyond, width float64) []Settled {
	return w.settle(b, list, beyond, width, true)
}

func (w *Sweep) settle(b *Block, list []Moment, beyond, width float64, all bool) []Settled {
	middle := Block{At: b.At, Axes: b.Axes}
	var open []Settled
	best := math.Inf(1)
	tries := 0
	see := func(m Moment) {
		tries++
		margin := w.Swept[m.Piece].Margin
		block := w.Near(m, b).Least - margin
		if block >= beyond {
			return
		}
		n := w.Near(m, &middle)
		if n.Least-margin < best || all {
			w.own(m, b.At, &n)
		}
		open = append(open, Settled{m, n.Least - margin, math.Min(n.Found, n.Own) - margin, block})
		best = math.Min(best, open[len(open)-1].Found)
	}
	for _, m := range list {
		see(m)
	}
	var parts []Moment
	for tries < settleTries {
		at := -1
		for i := range open {
			k := &open[i]
			if (k.Least < best-width || all && k.Found-k.Least > width && k.block < best+b.radius()) && (at < 0 || k.Least < open[at].Least) && w.worth(k.Moment) {
				at = i
			}
		}
		if at < 0 {
			break
		}
		m := open[at].Moment
		open = slices.Delete(open, at, at+1)
		parts, _ = w.Split(m, parts[:0])
		for _, p := range parts {
			see(p)
		}
	}
	furthest := best + b.radius() // of any place of the block, at one position
	return slices.DeleteFunc(open, func(s Settled) bool { return s.block > furthest })
}

// worth reports whether a moment may be cut finer.
func (w *Sweep) worth(m Moment) bool {
	wide := w.Width(m)
	if wide > poseless || wide <= finest {
		return wide > finest
	}
	if s := w.stand(m.Cell); s.ok {
		return true
	}
	for i := range w.tree.Cells[m.Cell].N {
		if w.standBy(m.Cell, i).ok {
			return true
		}
	}
	return false
}

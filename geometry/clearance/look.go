package clearance

import (
	"math"
	"slices"
)

// State is what is known of a block.
type State uint8

// The states: nothing comes nearer to it than the margin and what was asked beyond; something may come within that but not within the margin; something may come within the margin; at one position all of it is within
// the margin.
const (
	Free State = iota
	Beside
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
		if n.Slack > slack && w.Width(m) > finest {
			var ok bool
			if stack, ok = w.Split(m, stack); ok {
				continue
			}
		}
		keep = append(keep, m)
		if n.Least < margin {
			state = Open
		} else {
			state = max(state, Beside)
		}
	}
	return state, keep
}

// Settle cuts the moments of a block finer as long as one may come nearer to its middle than what is found by more than width. It returns those that come nearer to a place of the block than their margin and beyond,
// mm.
func (w *Sweep) Settle(b *Block, list []Moment, beyond, width float64) []Moment {
	type look struct {
		m     Moment
		least float64 // less the margin, at the middle
	}
	middle := Block{At: b.At, Axes: b.Axes}
	var open []look
	best := math.Inf(1)
	tries := 0
	see := func(m Moment) {
		tries++
		margin := w.Swept[m.Piece].Margin
		if w.Near(m, b).Least >= margin+beyond {
			return
		}
		n := w.Near(m, &middle)
		open = append(open, look{m, n.Least - margin})
		best = math.Min(best, n.Found-margin)
	}
	for _, m := range list {
		see(m)
	}
	var parts []Moment
	for tries < settleTries {
		at := -1
		for i := range open {
			if open[i].least < best-width && (at < 0 || open[i].least < open[at].least) && w.Width(open[i].m) > finest {
				at = i
			}
		}
		if at < 0 {
			break
		}
		m := open[at].m
		open = slices.Delete(open, at, at+1)
		var ok bool
		if parts, ok = w.Split(m, parts[:0]); !ok {
			open = append(open, look{m, math.Inf(1)})
			continue
		}
		for _, p := range parts {
			see(p)
		}
	}
	kept := make([]Moment, 0, len(open))
	for _, k := range open {
		kept = append(kept, k.m)
	}
	return kept
}

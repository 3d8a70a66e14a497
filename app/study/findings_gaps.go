package study

import (
	"context"
	"math"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/limits"
)

// gaps words the pairs that touch or come too near.
func (f *finder) gaps(ctx context.Context) {
	s := f.s
	if s.Smallest == nil {
		f.gapsAtRide()
		return
	}
	for _, i := range s.Order() {
		if ctx.Err() != nil {
			return
		}
		g := &s.Smallest[i]
		required := s.Gaps.Pairs[i].Required
		switch {
		case g.AtRide < 0:
			f.gap(f.overlapAtRide(i, g))
		case g.Gap.Gap < 0:
			f.gap(f.hit(ctx, i, g))
		case g.Gap.Gap < required:
			f.gap(f.tight(i, g))
		default:
			return
		}
	}
}

// gap adds a finding of a pair, and says on which guesses it rests.
func (f *finder) gap(x Finding) {
	if rests := f.s.RestsWords(x.Pair); rests != "" {
		x.Sentence += " " + Upper(rests) + "."
	}
	f.add(x)
}

// gapsAtRide is what can be said of gaps where there is no range: ride height only.
func (f *finder) gapsAtRide() {
	s := f.s
	if s.Gaps == nil {
		return
	}
	p := s.At(0, 0)
	for i := range p.Gaps {
		if g := &p.Gaps[i]; g.Gap < 0 {
			f.gap(f.overlapAtRide(i, &limits.Proved{Smallest: clearance.Smallest{Gap: *g, AtRide: g.Gap}}))
		}
	}
}

func (f *finder) base(i int, g *limits.Proved) Finding {
	a, b := f.s.PairNames(i)
	return Finding{
		Key: "gap/" + a + "/" + b, What: a + " / " + Lower(b), Pair: i,
		Value: g.Gap.Gap, weight: f.s.Gaps.Pairs[i].Required - g.Gap.Gap,
	}.at(g.Left, g.Right)
}

// deep is the depth of an overlap; a shape made of several pieces overlaps by at least that.
func (f *finder) deep(i int, g float64) string {
	text := f.w.length(-g)
	p := &f.s.Gaps.Pairs[i]
	if !f.s.Gaps.Parts[p.A].Convex || !f.s.Gaps.Parts[p.B].Convex {
		return words.F("at least %s", text)
	}
	return text
}

func (f *finder) overlapAtRide(i int, g *limits.Proved) Finding {
	x := f.base(i, g)
	a, b := f.s.PairNames(i)
	x.Kind = Hits
	x.Number = f.deep(i, g.Gap.Gap)
	x.Where = words.T("at ride height already")
	if g.Gap.Gap < g.AtRide-0.5 {
		x.Where = words.F("at ride height already, %s\nworst %s", f.w.length(-g.AtRide), place(g.Left, g.Right))
	}
	x.Sentence = words.F("%s and %s overlap at ride height already, by %s.", Upper(a), Lower(b), f.deep(i, g.AtRide))
	if g.Gap.Gap < g.AtRide-0.05 {
		x.Sentence += words.F(" Worst %s: %s%s.", place(g.Left, g.Right), f.deep(i, g.Gap.Gap), f.w.in())
	}
	return x
}

// first is where a pair first touches on the way to its worst place, or along the straight way that lies in the same words; way is that one's number, -1 for none. all tells of the other ways, nil while a hand moves something.
func (f *finder) first(ctx context.Context, i int, g *limits.Proved) (at limits.Corner, way int, touched bool, all *limits.Touch) {
	s := f.s
	way = wayTo(g.Left, g.Right)
	if all = s.TouchOf(ctx, i, 0); all != nil {
		if way >= 0 && all.Ways[way].Touches {
			return all.Ways[way].At, way, true, all
		}
		return all.Worst.At, -1, all.Worst.Touches, all
	}
	if way >= 0 {
		dl, dr := limits.WayDirection(way)
		l, r, _ := s.edgeOn(dl, dr)
		if fraction, ok := limits.FirstTried(s.Mech, s.Gaps, i, 0, l, r); ok {
			return limits.Corner{Left: fraction * l, Right: fraction * r}, way, true, nil
		}
	}
	fraction, touched := limits.FirstTried(s.Mech, s.Gaps, i, 0, g.Left, g.Right)
	return limits.Corner{Left: fraction * g.Left, Right: fraction * g.Right}, -1, touched, nil
}

// hit words a pair that touches somewhere in the range.
func (f *finder) hit(ctx context.Context, i int, g *limits.Proved) Finding {
	s := f.s
	x := f.base(i, g)
	a, b := s.PairNames(i)
	x.Kind = Hits
	x.Number = f.deep(i, g.Gap.Gap)
	short := f.w.length(s.Gaps.Pairs[i].Required - g.Gap.Gap)
	wanted := f.w.length(s.Gaps.Pairs[i].Required)
	where := place(g.Left, g.Right)
	at, way, touched, all := f.first(ctx, i, g)
	both := way == limits.WayBothUp || way == limits.WayBothDown
	el, er, by := s.edgeOn(g.Left, g.Right)
	if both {
		el, er, by = s.edgeOn(at.Left, at.Right)
	}
	others := ""
	if all != nil {
		if others = f.w.waysWords(all, way); others != "" {
			others = " " + Upper(others) + "."
		}
	}
	switch {
	case both && touched:
		way, far := words.T("bump"), words.T("full bump")
		if at.Left < 0 {
			way, far = words.T("droop"), words.T("full droop")
		}
		begins, end := wayAt(at), math.Abs(el)
		x.Where = words.F("%s\nfirst at %s of %s", where, f.w.number(begins), f.w.length(end))
		x.Sentence = words.F("%s hits the %s at %s of %s (%s %s). At %s it is %s%s; %s short of the %s you asked for.",
			a, Lower(b), f.w.length(begins), way, f.w.number(end), tillWords(by), far, f.deep(i, g.Gap.Gap), f.w.in(), short, wanted)
	case touched:
		x.Where = words.F("%s\nfirst at %s", where, f.w.travels(at.Left, at.Right))
		x.Sentence = words.F("%s touches the %s %s, at %s; worst at %s, %s%s.", a, Lower(b), where,
			f.w.travels(at.Left, at.Right), f.w.travels(g.Left, g.Right), f.deep(i, g.Gap.Gap), f.w.in())
		if clear := f.smallestStraight(i); clear > 0 && (all == nil || onlyCrossed(all)) && g.Left*g.Right < 0 {
			x.Sentence = words.F("%s touches the %s only when %s, at %s. Straight up and down it clears by %s. You will not see this on the hoist.",
				a, Lower(b), where, f.w.travels(at.Left, at.Right), f.w.number(clear))
		}
	default:
		x.Where = where + "\n" + f.w.travels(el, er)
		x.Sentence = words.F("%s hits the %s %s, at %s: %s%s; %s short of the %s you asked for.",
			a, Lower(b), where, f.w.travels(g.Left, g.Right), f.deep(i, g.Gap.Gap), f.w.in(), short, wanted)
	}
	x.Sentence += others
	return x
}

// smallestStraight is a pair's smallest gap with both wheels together, at the positions of the sweep.
func (f *finder) smallestStraight(i int) float64 {
	s := f.s
	least := math.Inf(1)
	sc := s.Gaps.NewScratch()
	var g clearance.Gap
	for k := range s.Both.Poses {
		sc.Place(&s.Both.Poses[k], s.Both.Values[0][k].Links)
		sc.Gap(i, &g)
		least = math.Min(least, g.Gap)
	}
	return least
}

// closeGap is the gap under which rubber and frame may take it up, mm (common practice, no source).
const closeGap = 12

func (f *finder) tight(i int, g *limits.Proved) Finding {
	x := f.base(i, g)
	a, b := f.s.PairNames(i)
	x.Kind = Tight
	required := f.s.Gaps.Pairs[i].Required
	x.Number = f.w.under(g.Gap.Gap, required)
	where := place(g.Left, g.Right)
	x.Where = words.F("%s\n%s wanted", where, f.w.length(required))
	near, more := f.comes(g, Lower(b), required)
	x.Sentence = words.F("%s comes within %s, %s (%s); %s short of the %s you asked for.%s",
		a, near, where, f.w.travels(g.Left, g.Right), f.w.length(required-g.Gap.Gap), f.w.length(required), more)
	if g.Gap.Gap < closeGap {
		x.Sentence += words.T(" Rubber and frame move more than that.")
	}
	return x
}

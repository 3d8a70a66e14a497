package vessel

import (
	"context"
	"math"
	"slices"

	"axleloft/geometry/clearance"
)

// box is one along the vessel's own axes, mm.
type box struct {
	lo, hi [3]float64
	taken  bool // all of it; else low and high tell
	// Of the smallest boxes: how much nearer than the wanted gap a mover may come to each corner, and comes at one position; negative: nearer. mm.
	low, high [8]float64
	edge      bool         // the vessel ends within it
	pts       [][3]float64 // of one at an edge: their hull holds what may be taken of the vessel in it, in the vessel's own axes
}

// KeepOut is what the movers take of a vessel.
type KeepOut struct {
	Least, Most float64 // litres: surely taken; taken at most
	Fineness    float64 // mm: boxes were halved until no side was longer
	Proved      bool    // what is not taken at most is clear between positions too; else at the positions tried
	Last        float64 // mm of travel before the links end it in which, though it is proved, only positions were tried; 0: none
	Parts       []int   // whose nearness takes something, or may, by index into the model's parts

	boxes []box
	cuts  []Cut   // of all of it, once worked out
	apart [][]Cut // of each separate place
	known bool
}

// Fine is how fine and how far a keep-out is worked out.
type Fine struct {
	Side float64 // mm: sides of the smallest boxes, within which what is taken ends as between their corners
	Most int     // boxes looked at; where more are needed the rest stays undecided

	Margin *float64 // mm, instead of the gap wanted of each pair; nil: that
}

// Usual is fine enough for a hundred-litre tank.
var Usual = Fine{Side: 8, Most: 200_000}

// leafWidth is how near, mm, what is proved of the middle of a smallest box comes to what is found.
const leafWidth = 0.25

// KeepOut halves boxes over the vessel: a box proved clear of every mover over every patch of positions is kept, one found wholly within the wanted gap at a position is taken, the rest is halved
// until it is fine enough. looked tells now and then how many boxes have been looked at; it may be nil. An error is the context's. Only for a vessel whose litres are known.
func (v *Vessel) KeepOut(ctx context.Context, w *clearance.Sweep, how Fine, looked func(int)) (*KeepOut, error) {
	k := &KeepOut{Fineness: how.Side, Proved: w.Proved()}
	if k.Proved {
		k.Last = w.Last
	}
	parts := map[int]bool{}
	count := 0
	var dig func(lo, hi [3]float64, list []clearance.Moment, r room, in bool) error
	dig = func(lo, hi [3]float64, list []clearance.Moment, r room, in bool) error {
		if count++; count%512 == 0 {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			if looked != nil {
				looked(count)
			}
		}
		b := v.block(lo, hi)
		if !in {
			switch v.cover(&b, &r) {
			case nothing:
				return nil
			case wholly:
				in, r = true, room{}
			}
		}
		long := 0
		for i := range lo {
			if b.Half[i] > b.Half[long] {
				long = i
			}
		}
		end := 2*b.Half[long] <= how.Side || count > how.Most
		radius := math.Sqrt(b.Half[0]*b.Half[0] + b.Half[1]*b.Half[1] + b.Half[2]*b.Half[2])
		s, keep := w.Sift(&b, list, nil, 0, clearance.MoreSlack*radius)
		if s == clearance.Free {
			return nil
		}
		if s == clearance.Taken || end {
			x := box{lo: lo, hi: hi, taken: s == clearance.Taken, edge: !in}
			if !x.taken {
				if keep = w.Settle(&b, keep, 0, leafWidth); len(keep) == 0 {
					return nil
				}
				x.corners(w, &b, keep)
			}
			k.put(v, x, &r)
			for _, m := range keep {
				parts[w.Swept[m.Piece].Part] = true
			}
			return nil
		}
		mid := (lo[long] + hi[long]) / 2
		left, right := hi, lo
		left[long], right[long] = mid, mid
		here, there := r, r
		if !in && v.Flat {
			at := plane{v.axes[long], mid}
			here, there = r.cut(at), r.cut(at.reversed())
		}
		if err := dig(lo, left, keep, here, in); err != nil {
			return err
		}
		return dig(right, hi, keep, there, in)
	}
	if err := dig(v.lo, v.hi, w.Start(), room{v.polys, v.skin}, false); err != nil {
		return nil, err
	}
	for p := range parts {
		k.Parts = append(k.Parts, p)
	}
	slices.Sort(k.Parts)
	return k, nil
}

// corners fills low and high from what is left of a smallest box's moments.
func (x *box) corners(w *clearance.Sweep, b *clearance.Block, list []clearance.Moment) {
	var least, found [8]float64
	for i := range 8 {
		x.low[i], x.high[i] = math.Inf(1), math.Inf(1)
	}
	best := 0.0
	for _, m := range list {
		w.Corners(m, b, &least, &found)
		margin := w.Swept[m.Piece].Margin
		for i := range 8 {
			x.low[i] = math.Min(x.low[i], least[i]-margin)
			found[i] -= margin
		}
		if s := below(&found); s > best {
			best, x.high = s, found
		}
	}
}

// kuhn are the six tetrahedra of a box, by its corners: its edges in every order from one corner to the opposite.
var kuhn = [6][4]int{{0, 1, 3, 7}, {0, 1, 5, 7}, {0, 2, 3, 7}, {0, 2, 6, 7}, {0, 4, 5, 7}, {0, 4, 6, 7}}

// below is the share of a box where the values at its corners, taken straight between them within each tetrahedron, are negative.
func below(at *[8]float64) float64 {
	sum := 0.0
	for _, k := range kuhn {
		sum += negative([4]float64{at[k[0]], at[k[1]], at[k[2]], at[k[3]]})
	}
	return sum / 6
}

// negative is the share of a tetrahedron where what lies straight between the values at its corners is negative.
func negative(f [4]float64) float64 {
	slices.Sort(f[:])
	a, b, c, d := f[0], f[1], f[2], f[3]
	switch {
	case a >= 0 || math.IsInf(a, 1):
		return 0
	case d < 0:
		return 1
	case math.IsInf(a, -1):
		return 1 // nothing is known: all of it may be
	case b >= 0:
		return ratio(a, b) * ratio(a, c) * ratio(a, d)
	case c >= 0:
		if math.IsInf(d, 1) {
			return 0 // nothing is known
		}
		return (a*a*b*b - (c+d)*a*b*(a+b) + c*d*(a*a+a*b+b*b)) / ((a - c) * (a - d) * (b - c) * (b - d))
	}
	return 1 - ratio(d, a)*ratio(d, b)*ratio(d, c)
}

// ratio is how far towards b, from a, a value between them changes its sign.
func ratio(a, b float64) float64 {
	if math.IsInf(b, 0) {
		return 0
	}
	return a / (a - b)
}

// put adds a box; r is what of a flat vessel lies in it.
func (k *KeepOut) put(v *Vessel, b box, r *room) {
	whole := 1.0
	for i := range b.lo {
		whole *= b.hi[i] - b.lo[i]
	}
	var least, most float64
	switch {
	case !b.edge && b.taken:
		least, most = whole, whole
	case !b.edge:
		least, most = whole*below(&b.high), whole*below(&b.low)
	case v.Flat:
		most, b.pts = v.takenOf(r, &b, true)
		least, _ = v.takenOf(r, &b, false)
		least = math.Min(least, most)
	default:
		share := 0.0
		for i := range v.rounds {
			share += v.rounds[i].within(v.sides(b.lo, b.hi))
		}
		least, most = share, share
		if !b.taken {
			least = math.Max(0, whole*below(&b.high)+share-whole)
			most = math.Min(whole*below(&b.low), share)
		}
		b.pts = v.roundPoints(&b)
	}
	if most <= sliver*whole {
		return
	}
	k.Least += mm3 * least
	k.Most += mm3 * most
	k.boxes = append(k.boxes, b)
}

// sides are the six planes of a box along the vessel's own axes.
func (v *Vessel) sides(lo, hi [3]float64) []plane {
	var list []plane
	for k, a := range v.axes {
		list = append(list, plane{a, hi[k]}, plane{a, lo[k]}.reversed())
	}
	return list
}

// nearer are points whose hull holds what may be taken of the box, in the vessel's own axes.
func (x *box) nearer(dst [][3]float64) [][3]float64 {
	if x.edge && x.pts != nil {
		return append(dst, x.pts...)
	}
	for i := range 8 {
		if x.taken || x.low[i] < 0 {
			dst = append(dst, x.corner(i))
		}
		for j := i + 1; j < 8 && !x.taken; j++ {
			if i&^j != 0 || (x.low[i] < 0) == (x.low[j] < 0) {
				continue // no edge of a tetrahedron, or nothing changes along it
			}
			a, b := i, j
			if x.low[b] < 0 {
				a, b = j, i
			}
			p, q, t := x.corner(a), x.corner(b), ratio(x.low[a], x.low[b])
			if math.IsInf(x.low[a], -1) {
				t = 1
			}
			for k := range p {
				p[k] += t * (q[k] - p[k])
			}
			dst = append(dst, p)
		}
	}
	return dst
}

func (x *box) corner(i int) (p [3]float64) {
	for k := range p {
		p[k] = x.lo[k]
		if i>>k&1 == 1 {
			p[k] = x.hi[k]
		}
	}
	return p
}

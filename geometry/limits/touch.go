package limits

import (
	"context"
	"math"

	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
)

// Ways is how many straight ways from ride height a touch is looked for along: every 45 deg of the ring.
const Ways = 8

// The ways, by what moves.
const (
	WayLeftUp       = iota // the left wheel alone
	WayBothUp              // both wheels
	WayRightUp             // the right wheel alone
	WayCrossedRight        // crossed up, the right wheel up
	WayLeftDown            // the left wheel alone
	WayBothDown            // both wheels
	WayRightDown           // the right wheel alone
	WayCrossedLeft         // crossed up, the left wheel up
)

// WayDirection is the unit direction of a way in left and right travel.
func WayDirection(way int) (left, right float64) { return direction(float64(way) * math.Pi / 4) }

// Way is where along a straight way from ride height a pair's gap first falls below a level.
type Way struct {
	End       Corner // where the range ends
	Touches   bool
	At        Corner // where it is found to have fallen below, if Touches
	NotBefore Corner // on the way up to here it is proved not to; End where it nowhere does. Without proof it is At, or End
}

// Touch is where over the range a pair's gap falls below a level.
type Touch struct {
	Level    float64 // mm: 0 tells where the two touch
	Ways     [Ways]Way
	Worst    Way     // towards the place of the smallest gap
	Anywhere bool    // in whatever direction
	Nearest  Corner  // of what was found below the level the place nearest ride height in left against right travel
	NotIn    float64 // mm from ride height in left against right travel: nearer than this it is proved not to fall below; infinite: nowhere in the range
	Why      string  // why nothing is proved and only positions were tried, as half a sentence: then Anywhere, Nearest and NotIn have no meaning; "" where it is
}

const (
	nearestTo   = 0.1     // mm: how closely the nearest place is found
	nearestMost = 100_000 // cells looked at for it
)

// touching is the work space for where one pair's gap is below a level.
type touching struct {
	m      *motion.Mechanism
	c      *clearance.Model
	r      *Range
	prover *clearance.Prover // nil: no proof
	rest   float64           // mm from ride height: the nearest place of which nothing is proved, near the end of what the links let the axle do; infinite: none
	why    string
}

// touching prepares the proof of where gaps fall below levels.
func (w *GapWork) touching(ctx context.Context) (*touching, error) {
	tree, why, err := w.Cover(ctx)
	if err != nil {
		return nil, err
	}
	t := &touching{m: w.m, c: w.c, r: w.r, why: why, rest: math.Inf(1)}
	if tree != nil {
		t.prover = w.c.NewProver(tree.Tree, w.r.Holds())
		for i := range tree.Rest {
			k := &tree.Rest[i]
			left, right := tree.Travels(k, [2]float64{})
			t.rest = math.Min(t.rest, math.Hypot(left, right)-math.Sqrt2*math.Hypot(k.RH, k.RA*w.m.Track/2))
		}
	}
	return t, nil
}

// Touch finds where a pair's gap falls below a level, mm, so that no thin overlap is stepped over. Where no proof can be had it is looked for at positions along the ways. A cancelled context gives its error.
func (w *GapWork) Touch(ctx context.Context, pair int, level float64) (*Touch, error) {
	t, err := w.touching(ctx)
	if err != nil {
		return nil, err
	}
	out := &Touch{Level: level, Why: t.why}
	if t.prover != nil {
		near, err := t.prover.Nearest(ctx, pair, level, nearestTo, nearestMost)
		if err != nil {
			return nil, err
		}
		out.Anywhere, out.Nearest, out.NotIn = near.Found, Corner{near.Left, near.Right}, math.Min(near.NotNearer, t.rest)
	}
	for i := range out.Ways {
		dl, dr := WayDirection(i)
		if out.Ways[i], err = t.way(ctx, pair, out, dl, dr); err != nil {
			return nil, err
		}
	}
	worst := &w.Pairs[pair]
	if far := math.Hypot(worst.Left, worst.Right); far > 0 {
		out.Worst, err = t.way(ctx, pair, out, worst.Left/far, worst.Right/far)
	}
	return out, err
}

// way looks along one way, by proof unless the touch has none.
func (t *touching) way(ctx context.Context, pair int, of *Touch, dl, dr float64) (Way, error) {
	var way Way
	big := 0.49 * t.m.Track
	way.End.Left, way.End.Right, _ = t.r.Clamp(big*dl, big*dr)
	far := math.Hypot(way.End.Left, way.End.Right)
	at := func(s float64) Corner { return Corner{s * dl, s * dr} }
	if of.Why != "" {
		s, ok := FirstTried(t.m, t.c, pair, of.Level, way.End.Left, way.End.Right)
		way.Touches, way.At, way.NotBefore = ok, at(s*far), at(s*far)
		if !ok {
			way.NotBefore = way.End
		}
		return way, ctx.Err()
	}
	first, err := t.prover.First(ctx, pair, of.Level, dl, dr, far)
	if err != nil {
		return way, err
	}
	way.NotBefore = at(first.NotBefore)
	switch {
	case !math.IsInf(first.By, 1):
		way.Touches, way.At = true, at(first.By)
	case !way.Never(): // the last of it is only tried
		s, ok := FirstTried(t.m, t.c, pair, of.Level, way.End.Left, way.End.Right)
		way.Touches, way.At = ok, at(s*far)
	}
	return way, nil
}

// Never reports whether it is proved that the gap falls below the level nowhere on the way.
func (w *Way) Never() bool {
	return !w.Touches && math.Hypot(w.End.Left-w.NotBefore.Left, w.End.Right-w.NotBefore.Right) < edgeTol
}

// FirstTried is the fraction of the way from ride height to (left, right) at which the pair's gap first falls below a level, at the positions tried; ok is false where it does not up to there or the way cannot be gone.
func FirstTried(m *motion.Mechanism, c *clearance.Model, pair int, level, left, right float64) (fraction float64, ok bool) {
	far := math.Hypot(left, right)
	if far == 0 {
		return 0, false
	}
	s, sc := m.NewSolver(), c.NewScratch()
	var p motion.Pose
	measure := func(from *motion.Pose, at float64) (spare float64, ok bool) {
		if s.SolveFrom(from, at*left/far, at*right/far, &p) != nil {
			return 0, false
		}
		sc.PlacePair(pair, &p)
		var g clearance.Gap
		sc.Gap(pair, &g)
		return g.Gap - level, true
	}
	last := m.Ride()
	spare, ok := measure(&last, 0)
	if !ok || spare < 0 {
		return 0, ok
	}
	for at := 0.0; at < far; {
		step := closeStep
		if spare >= nearGap {
			step = math.Max(ringStep, closeFar(spare))
		}
		next := math.Min(at+step, far)
		if spare, ok = measure(&last, next); !ok {
			return 0, false
		}
		if spare >= 0 {
			at, last = next, p
			continue
		}
		for next-at > edgeTol/2 {
			mid := (at + next) / 2
			if spare, ok = measure(&last, mid); ok && spare >= 0 {
				at = mid
			} else {
				next = mid
			}
		}
		return next / far, true
	}
	return 0, false
}

// Region is where over the range a pair's gap is below a level.
type Region struct {
	*clearance.Region
	Loops       [][]Corner // round it, itself to the left, as found; what is proved lies within the squares' width of them
	Left, Right [2]float64 // mm: from and to, of the wheels' travels in it; nothing where there are no loops
}

const (
	regionFine = 1.0    // mm of wheel travel: the squares in which it is not known
	regionMost = 60_000 // cells looked at
)

// Region finds where over the range a pair's gap is below a level, mm. Where no proof can be had it has only Why. A cancelled context gives its error.
func (w *GapWork) Region(ctx context.Context, pair int, level float64) (*Region, error) {
	t, err := w.touching(ctx)
	if err != nil {
		return nil, err
	}
	if t.prover == nil {
		return &Region{Region: &clearance.Region{Level: level, Why: t.why}}, nil
	}
	found, err := t.prover.Below(ctx, pair, level, regionFine, regionMost)
	if err != nil {
		return nil, err
	}
	out := &Region{Region: found}
	return out, t.loops(ctx, pair, out)
}

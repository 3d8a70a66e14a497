package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/limits"
)

// touchKey is what was asked of a pair.
type touchKey struct {
	pair  int
	level float64
}

// TouchOf is where a pair's gap falls below a level, mm, along the straight ways from ride height: 0 tells where the two touch. nil where there is no range or no such pair, while a hand moves something, and where the context is
// cancelled. It is kept: asked again it costs nothing. Safe for concurrent use.
func (s *Study) TouchOf(ctx context.Context, pair int, level float64) *limits.Touch {
	if !s.hasTouch(pair) {
		return nil
	}
	s.touchMu.Lock()
	defer s.touchMu.Unlock()
	id := touchKey{pair, level}
	if t, ok := s.touches[id]; ok {
		return t
	}
	t, err := s.gapWork.Touch(ctx, pair, level)
	if err != nil {
		return nil
	}
	if s.touches == nil {
		s.touches = map[touchKey]*limits.Touch{}
	}
	s.touches[id] = t
	return t
}

// RegionOf is where over the range a pair's gap is below a level, mm, as TouchOf.
func (s *Study) RegionOf(ctx context.Context, pair int, level float64) *limits.Region {
	if !s.hasTouch(pair) {
		return nil
	}
	s.touchMu.Lock()
	defer s.touchMu.Unlock()
	id := touchKey{pair, level}
	if r, ok := s.regions[id]; ok {
		return r
	}
	r, err := s.gapWork.Region(ctx, pair, level)
	if err != nil {
		return nil
	}
	if s.regions == nil {
		s.regions = map[touchKey]*limits.Region{}
	}
	s.regions[id] = r
	return r
}

func (s *Study) hasTouch(pair int) bool {
	return s.Depth == Full && s.Bounded() && s.gapWork != nil && pair >= 0 && pair < len(s.Smallest)
}

// PairNamed is the pair of two parts by their names, in either order; -1 where there is none.
func (s *Study) PairNamed(a, b string) int {
	if s.Gaps == nil {
		return -1
	}
	for i := range s.Gaps.Pairs {
		x, y := s.PairNames(i)
		if x == a && y == b || x == b && y == a {
			return i
		}
	}
	return -1
}

// twins are the ways that are each other's mirror images, and what they are called together.
var twins = [...]struct {
	left, right      int
	lone, other, all string
}{
	{limits.WayLeftUp, limits.WayRightUp, words.Mark("left wheel alone"), words.Mark("right wheel alone"), words.Mark("either wheel alone")},
	{limits.WayLeftDown, limits.WayRightDown, words.Mark("left wheel down alone"), words.Mark("right wheel down alone"), words.Mark("either wheel down alone")},
	{limits.WayCrossedLeft, limits.WayCrossedRight, words.Mark("crossed up, left wheel up,"), words.Mark("crossed up, right wheel up,"), words.Mark("crossed up either way")},
}

// asOne is how near two ways' first touches are to be said as one, mm.
const asOne = 1.0

// wayAt is the number a place on a way goes by: the larger wheel travel, mm.
func wayAt(c limits.Corner) float64 { return math.Max(math.Abs(c.Left), math.Abs(c.Right)) }

// waysWords says where a pair first touches along other ways than those said already: "left wheel alone at 105, crossed up, left wheel up, at 166; right wheel alone never". "" where it touches along none of them.
func (w *wording) waysWords(t *limits.Touch, said ...int) string {
	var at, never []string
	for i, way := range [...]string{limits.WayBothUp: words.T("both wheels up"), limits.WayBothDown: words.T("both wheels down")} {
		if way != "" && t.Ways[i].Touches && !slices.Contains(said, i) {
			at = append(at, words.F("%s at %s", way, w.number(wayAt(t.Ways[i].At))))
		}
	}
	for _, k := range twins {
		if slices.Contains(said, k.left) || slices.Contains(said, k.right) {
			continue
		}
		l, r := &t.Ways[k.left], &t.Ways[k.right]
		one := func(name, other string, a, b *limits.Way) {
			at = append(at, words.F("%s at %s", words.T(name), w.number(wayAt(a.At))))
			if b.Never() && !strings.Contains(other, ",") {
				never = append(never, words.F("%s never", words.T(other)))
			}
		}
		switch {
		case l.Touches && r.Touches && math.Abs(wayAt(l.At)-wayAt(r.At)) < asOne:
			at = append(at, words.F("%s at %s", words.T(k.all), w.number(math.Min(wayAt(l.At), wayAt(r.At)))))
		case l.Touches && r.Touches:
			at = append(at, words.F("%s at %s", words.T(k.lone), w.number(wayAt(l.At))), words.F("%s at %s", words.T(k.other), w.number(wayAt(r.At))))
		case l.Touches:
			one(k.lone, k.other, l, r)
		case r.Touches:
			one(k.other, k.lone, r, l)
		}
	}
	if len(at) == 0 {
		return ""
	}
	return strings.Join(append(at, never...), "; ")
}

// onlyCrossed reports whether it is proved that the two touch along none of the ways but those crossed up.
func onlyCrossed(t *limits.Touch) bool {
	for i := range t.Ways {
		if i != limits.WayCrossedLeft && i != limits.WayCrossedRight && !t.Ways[i].Never() {
			return false
		}
	}
	return t.Why == ""
}

var wayWords = [limits.Ways]string{limits.WayLeftUp: words.Mark("left wheel up alone"), limits.WayBothUp: words.Mark("both wheels up"), limits.WayRightUp: words.Mark("right wheel up alone"), limits.WayCrossedRight: words.Mark("crossed up, right wheel up"),
	limits.WayLeftDown: words.Mark("left wheel down alone"), limits.WayBothDown: words.Mark("both wheels down"), limits.WayRightDown: words.Mark("right wheel down alone"), limits.WayCrossedLeft: words.Mark("crossed up, left wheel up")}

// WayWords says what moves on a straight way from ride height: "both wheels up".
func WayWords(way int) string { return words.T(wayWords[way]) }

// wayTo is the straight way that a place lies along in words, -1 where none is near.
func wayTo(left, right float64) int {
	for i, phrase := range wayWords {
		if placeKey(left, right) == phrase {
			return i
		}
	}
	return -1
}

// ShareWords says how much of the range a region takes: "9 %", "under 1 %", "all"; half of what is not known for certain counted in.
func ShareWords(r *limits.Region) string {
	switch share := 50 * (r.Surely + r.Perhaps) / r.Whole; {
	case r.Surely >= r.Whole*(1-1e-9):
		return words.T("all")
	case share < 1:
		return words.T("under 1 %")
	default:
		return fmt.Sprintf("%.0f %%", share)
	}
}

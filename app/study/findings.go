package study

import (
	"context"
	"math"
	"sort"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
)

// findings puts everything worth knowing into trade words, worst first.
func (s *Study) findings(ctx context.Context) []Finding {
	f := &finder{s: s, w: s.wording()}
	if s.Mech == nil {
		f.add(Finding{Kind: RunsOut, Key: "layout", What: words.T("No figures"), Where: words.T("the links do not settle it"), Sentence: s.Refusal, Pair: -1})
		return f.list
	}
	f.gaps(ctx)
	if ctx.Err() != nil {
		return nil
	}
	f.runsOut()
	f.joints()
	f.boltsOut()
	f.driveline()
	f.lines()
	f.notKnown()
	f.unread()
	f.practice()
	sort.SliceStable(f.list, func(a, b int) bool {
		x, y := &f.list[a], &f.list[b]
		if x.Kind != y.Kind {
			return x.Kind < y.Kind
		}
		return x.weight > y.weight
	})
	for i := range f.list {
		f.list[i].SetAside = setAside(s.Job, &f.list[i])
	}
	return f.list
}

// Worst is the finding one line should show: the first that is not set aside and is more than common practice; nil where there is none. A gap that
// rubber and frame can take up comes before a remark that has no place in the travel, such as a missing bump stop.
func (s *Study) Worst() *Finding {
	var worst *Finding
	for i := range s.Findings {
		f := &s.Findings[i]
		if f.Kind >= Outside || f.SetAside != nil {
			continue
		}
		if worst == nil {
			worst = f
		}
		if worst.Kind == RunsOut && !worst.Place && s.Refusal == "" && f.Kind == Tight && f.Pair >= 0 && f.Value < closeGap {
			return f
		}
	}
	return worst
}

// finder collects findings.
type finder struct {
	s    *Study
	w    *wording
	list []Finding
}

func (f *finder) add(x Finding) { f.list = append(f.list, x) }

// at makes a finding one can go to.
func (x Finding) at(left, right float64) Finding {
	x.Place, x.Left, x.Right = true, left, right
	return x
}

// setAside is the reason a finding was put aside with, unless its number has become worse since.
func setAside(j *job.Job, f *Finding) *job.SetAside {
	for i := range j.SetAside {
		a := &j.SetAside[i]
		if a.Finding != f.Key {
			continue
		}
		was, ok := a.Numbers["value"]
		worse := ok && (f.Value-was)*f.sense() > f.slack()
		if !worse {
			return a
		}
	}
	return nil
}

// sense is +1 where a larger number is worse, -1 where a smaller is.
func (x *Finding) sense() float64 {
	if x.Pair >= 0 {
		return -1
	}
	return 1
}

// slack is by how much a number must get worse to count: half a millimetre of a gap, a hundredth of anything else's size.
func (x *Finding) slack() float64 {
	if x.Pair >= 0 {
		return 0.5
	}
	return math.Max(0.01*math.Abs(x.Value), 1e-6)
}

// tillWords says what ends the travel at an edge of the range: "till the struts are home".
func tillWords(b *limits.By) string {
	if b == nil {
		return words.T("of travel")
	}
	switch b.Cause {
	case limits.StrutClosed:
		return words.T("till the struts are home")
	case limits.StrutOpen:
		return words.T("till the struts are fully out")
	case limits.StopSolid:
		return words.T("till the bump stops are home")
	case limits.StrapTaut:
		return words.T("till the straps are taut")
	case limits.EnteredLimit:
		return words.T("of the travel entered")
	}
	return words.T("till the links let it go no further")
}

// edgeOn is what ends the range on the way to a position and beyond.
func (s *Study) edgeOn(left, right float64) (l, r float64, by *limits.By) {
	far := math.Hypot(left, right)
	if far == 0 {
		return 0, 0, nil
	}
	k := 0.98 * s.Mech.Track / far
	if d := math.Abs(left - right); d > 0 {
		k = math.Min(k, 0.97*s.Mech.Track/d)
	}
	return s.Range.Clamp(left*k, right*k)
}

// Order lists the pairs tightest first: by gap less the gap wanted.
func (s *Study) Order() []int {
	order := make([]int, len(s.Smallest))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool {
		x, y := order[a], order[b]
		return s.Smallest[x].Gap.Gap-s.Gaps.Pairs[x].Required < s.Smallest[y].Gap.Gap-s.Gaps.Pairs[y].Required
	})
	return order
}

// PairNames are the two parts of a pair as a finding names them: the one that moves first.
func (s *Study) PairNames(i int) (a, b string) {
	p := &s.Gaps.Pairs[i]
	return s.Gaps.Parts[p.A].Name, s.Gaps.Parts[p.B].Name
}

// JointName is a joint as the bench calls it: "Lower left, frame bush", "Panhard rod, axle rod end".
func JointName(j *motion.Joint) string {
	kind := "end"
	switch {
	case !j.End.Known:
	case j.End.Kind == motion.Bush:
		kind = "bush"
	case j.End.Kind == motion.Ball:
		kind = "rod end"
	case j.End.Kind == motion.Stud:
		kind = "stud"
	}
	member, end, _ := strings.Cut(j.Name, ", ")
	return member + ", " + words.T(strings.TrimSuffix(end, "end")+kind)
}

// endWords is what a mechanism calls an end of a member, in the language in use.
func endWords(end string) string { return words.T(end) }

// _ is every end a mechanism knows, by itself and by what is in it.
var _ = [...]string{
	words.Mark("frame end"), words.Mark("frame bush"), words.Mark("frame rod end"), words.Mark("frame stud"),
	words.Mark("axle end"), words.Mark("axle bush"), words.Mark("axle rod end"), words.Mark("axle stud"),
	words.Mark("rocker end"), words.Mark("rocker bush"), words.Mark("rocker rod end"), words.Mark("rocker stud"),
	words.Mark("far end"), words.Mark("far bush"), words.Mark("far rod end"), words.Mark("far stud"),
	words.Mark("first frame end"), words.Mark("first frame bush"), words.Mark("first frame rod end"), words.Mark("first frame stud"),
	words.Mark("second frame end"), words.Mark("second frame bush"), words.Mark("second frame rod end"), words.Mark("second frame stud"),
	words.Mark("first axle end"), words.Mark("first axle bush"), words.Mark("first axle rod end"), words.Mark("first axle stud"),
	words.Mark("second axle end"), words.Mark("second axle bush"), words.Mark("second axle rod end"), words.Mark("second axle stud"),
}

// jointKey is a joint in the key of a finding: "Lower left/frame".
func jointKey(j *motion.Joint) string {
	return strings.Replace(strings.TrimSuffix(j.Name, " end"), ", ", "/", 1)
}

// plural joins twins of one name: "Upper left", "Upper right" -> "uppers".
func plural(name string) string {
	base := strings.TrimSuffix(strings.TrimSuffix(name, " left"), " right")
	if strings.HasSuffix(base, "s") {
		return Lower(base)
	}
	return Lower(base) + "s"
}

package pad

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
)

// grammar reports whether names can be taken apart and put together as the trade says them: that is English grammar, other languages have names whole.
func grammar() bool { return words.Language() == words.English }

// sided splits a part's name into its own name in small letters and the word of its side: "Strut left" gives "strut" and "left".
func sided(name string, side job.Side) (base, word string) {
	base = study.Lower(name)
	if !grammar() {
		return base, ""
	}
	switch side {
	case job.Left:
		return strings.TrimSuffix(base, " left"), "left"
	case job.Right:
		return strings.TrimSuffix(base, " right"), "right"
	}
	return base, ""
}

// short is the last word of a part's name, with its side: "Panhard rod" is the rod, "Lower left" the left lower.
func short(name string) string {
	base, word := study.Lower(name), ""
	if !grammar() {
		return base
	}
	for _, side := range []string{"left", "right"} {
		if s, ok := strings.CutSuffix(base, " "+side); ok {
			base, word = s, side
		}
	}
	if i := strings.LastIndexByte(base, ' '); i >= 0 {
		switch last := base[i+1:]; last {
		case "ahead", "behind", "above", "below", "front", "rear", "upper", "lower": // says which, not what
		default:
			base = last
		}
	}
	if word != "" {
		return word + " " + base
	}
	return base
}

// What is said of a stop's rubber, and of two stops': "bump stop's rubber", "bump stops' rubber".
const (
	ofRubber     = "'s rubber"
	ofMoreRubber = "' rubber"
)

// cause says in trade words what stops the axle: "left strut closed".
func cause(s *study.Study, by *limits.By) string {
	m := s.Mech
	put := func(name string, side job.Side, what string) string {
		base, word := sided(name, side)
		if word != "" {
			return word + " " + base + " " + what
		}
		return base + " " + what
	}
	switch by.Cause {
	case limits.StrutClosed, limits.StrutOpen:
		if by.Index < len(m.Struts) {
			what := words.T("closed")
			if by.Cause == limits.StrutOpen {
				what = words.T("open")
			}
			return put(m.Struts[by.Index].Name, m.Struts[by.Index].Ref.Side, what)
		}
	case limits.StopSolid:
		if by.Index < len(m.Stops) {
			return put(m.Stops[by.Index].Name, m.Stops[by.Index].Ref.Side, words.T("home"))
		}
	case limits.RubberTouch:
		if by.Index < len(m.Stops) {
			base, word := sided(m.Stops[by.Index].Name, m.Stops[by.Index].Ref.Side)
			if word != "" {
				base = word + " " + base
			}
			if !grammar() {
				return words.F("rubber of %s", base)
			}
			return base + ofRubber
		}
	case limits.StrapTaut:
		if by.Index < len(m.Straps) {
			return put(m.Straps[by.Index].Name, m.Straps[by.Index].Ref.Side, words.T("taut"))
		}
	case limits.JointLimit:
		if by.Index < len(m.Joints) {
			return words.F("%s at limit", joint(m, by.Index))
		}
	case limits.ShaftLimit:
		return words.T("driveshaft joint at limit")
	case limits.SlipUsed:
		return words.T("slip used up")
	case limits.Contact:
		if s.Gaps != nil && by.Index < len(s.Gaps.Pairs) {
			p := s.Gaps.Pairs[by.Index]
			return words.F("%s hits %s", short(s.Gaps.Parts[p.A].Name), short(s.Gaps.Parts[p.B].Name))
		}
	case limits.EnteredLimit:
		return words.T("your travel limit")
	case limits.NoAssembly:
		return words.T("links let it no further")
	}
	return by.What
}

// joint names a joint in trade words: "left lower, frame bush".
func joint(m *motion.Mechanism, i int) string {
	k := &m.Joints[i]
	if !grammar() {
		return study.JointName(k)
	}
	name, side := "", job.Single
	switch k.Of {
	case motion.OnLink:
		name, side = m.Links[k.Member].Name, m.Links[k.Member].Ref.Side
	case motion.OnArm:
		name, side = m.Arms[k.Member].Name, m.Arms[k.Member].Ref.Side
	default:
		r := &m.Rockers[k.Member]
		name, side = r.Rods[k.Sub/2].Name, r.Ref.Side
	}
	base, word := sided(name, side)
	if word != "" {
		base = word + " " + base
	}
	_, end, _ := strings.Cut(k.Name, ", ") // "frame end"
	return base + ", " + strings.TrimSuffix(end, " end") + " " + [...]string{"ball", "bush", "stud"}[k.End.Kind]
}

// both says two parts' names in short: "left strut, tyre", "driveshaft, tank".
func both(a, b string) string {
	a, b = short(a), short(b)
	for _, side := range []string{"left ", "right "} {
		if strings.HasPrefix(a, side) {
			b = strings.TrimPrefix(b, side)
		}
	}
	return a + ", " + b
}

// merge makes one of two that differ in their side only and are met together: "left strut closed", "right strut closed" -> "struts closed".
func merge(a, b string) (string, bool) {
	if !grammar() {
		return "", false
	}
	for _, w := range [][2]string{{"left ", "right "}, {"right ", "left "}} {
		x, ok := strings.CutPrefix(a, w[0])
		y, ok2 := strings.CutPrefix(b, w[1])
		if !ok || !ok2 || x != y {
			continue
		}
		if stop, ok := strings.CutSuffix(x, ofRubber); ok {
			return stop + "s" + ofMoreRubber, true
		}
		i := strings.LastIndexByte(x, ' ')
		if i < 0 || strings.Contains(x, ",") || strings.Contains(x, " hits ") {
			return words.F("both %s", x), true
		}
		return x[:i] + "s" + x[i:], true
	}
	return "", false
}

// edgeLabel is what stops the axle along a stretch of the outline.
type edgeLabel struct {
	words  string
	middle place
	count  int
}

// edgeLabels names the stretches of the outline, at most six: neighbours with the same words are one, the longest are kept.
func edgeLabels(s *study.Study) []edgeLabel {
	if !s.Bounded() {
		return nil
	}
	edge := s.Range.Edge
	n := len(edge)
	phrase := make([]string, n)
	for i := range edge {
		phrase[i] = cause(s, &edge[i])
	}
	start := -1
	for i := range n {
		if phrase[i] != phrase[(i+n-1)%n] {
			start = i
			break
		}
	}
	if start < 0 {
		if n == 0 {
			return nil
		}
		return []edgeLabel{{phrase[0], place{edge[n/8].Left, edge[n/8].Right}, n}}
	}
	var out []edgeLabel
	for i := 0; i < n; {
		k := i
		for k < n && phrase[(start+k)%n] == phrase[(start+i)%n] {
			k++
		}
		m := &edge[(start+(i+k)/2)%n]
		out = append(out, edgeLabel{phrase[(start+i)%n], place{m.Left, m.Right}, k - i})
		i = k
	}
	for len(out) > 6 {
		least := 0
		for i := range out {
			if out[i].count < out[least].count {
				least = i
			}
		}
		out = append(out[:least], out[least+1:]...)
	}
	return out
}

// together is how near to each other two things are met to be met together, mm: less than the figure shows.
const together = 0.5

// met is one thing met on the way from ride, at a wheel travel in mm.
type met struct {
	at    float64
	words string
}

// travel is the number a position goes by: the larger wheel travel.
func travel(left, right float64) float64 { return math.Max(math.Abs(left), math.Abs(right)) }

// ahead lists what is met from ride through a position and beyond, in order: at most three things that stop the axle, and the rubber of stops met
// before the last of them; twins met together are one. It is read off the ring of directions; between two of them, off the straight line between
// the places where the same thing is met on both. Known is false where the ring has not been worked out.
func ahead(s *study.Study, left, right float64) (list []met, known bool) {
	n := len(s.Ring)
	far := math.Hypot(left, right)
	if n == 0 || far < 1 {
		return nil, false
	}
	const on = 0.5 // deg from a direction of the ring to be on it
	a := math.Mod(math.Atan2(right, left)*180/math.Pi+360, 360)
	best, off := 0, math.Inf(1)
	for i := range s.Ring {
		if d := math.Remainder(a-s.Ring[i].Angle, 360); math.Abs(d) < math.Abs(off) {
			best, off = i, d
		}
	}
	ray := &s.Ring[best]
	other := ray
	switch {
	case off > on:
		other = &s.Ring[(best+1)%n]
	case off < -on:
		other = &s.Ring[(best+n-1)%n]
	}
	ul, ur := left/far, right/far
	all := func(of func(*limits.Ray) []limits.By) []met {
		var list []met
		here, there := of(ray), of(other)
		for i := range here {
			by := &here[i]
			m := met{travel(by.Left, by.Right), cause(s, by)}
			if other != ray {
				d := math.Hypot(by.Left, by.Right)
				if o := same(there, by); o != nil {
					if x, ok := meet(ul, ur, by, o); ok {
						d = x
					}
				}
				m.at = travel(ul*d, ur*d)
			}
			list = append(list, m)
		}
		return joined(list)
	}
	list = all(func(r *limits.Ray) []limits.By { return r.By })
	if len(list) > 3 {
		list = list[:3]
	}
	last := math.Inf(1)
	if len(list) == 3 {
		last = list[2].at
	}
	for _, m := range all(func(r *limits.Ray) []limits.By { return r.Rubber }) {
		if m.at <= last {
			list = append(list, m)
		}
	}
	sort.SliceStable(list, func(i, k int) bool { return list[i].at < list[k].at })
	return list, true
}

// joined sorts what is met and makes one of twins met together.
func joined(list []met) []met {
	sort.SliceStable(list, func(i, k int) bool { return list[i].at < list[k].at })
	out := list[:0]
	for _, m := range list {
		if k := len(out); k > 0 && math.Abs(out[k-1].at-m.at) < together {
			if out[k-1].words == m.words {
				continue
			}
			if phrase, ok := merge(out[k-1].words, m.words); ok {
				out[k-1].words = phrase
				continue
			}
		}
		out = append(out, m)
	}
	return out
}

// same finds the same thing on another ray.
func same(ray []limits.By, by *limits.By) *limits.By {
	for i := range ray {
		o := &ray[i]
		if o.Cause == by.Cause && o.Index == by.Index && o.Torsion == by.Torsion {
			return o
		}
	}
	return nil
}

// meet is how far from ride the direction (ul, ur) meets the straight line through two places.
func meet(ul, ur float64, a, b *limits.By) (float64, bool) {
	dl, dr := b.Left-a.Left, b.Right-a.Right
	det := dl*ur - dr*ul
	if math.Abs(det) < 1e-9 {
		return 0, false
	}
	d := (dl*a.Right - dr*a.Left) / det
	return d, d > 0
}

// wheels says where the wheels stand: "Left up 109, right up 109".
func wheels(left, right float64, length func(mm float64) string) string {
	return words.F("Left %s, right %s", wheel(left, length), wheel(right, length))
}

// wheel is how one of them stands: "up 40".
func wheel(v float64, length func(mm float64) string) string {
	switch r := math.Round(v); {
	case r > 0:
		return words.F("up %s", length(v))
	case r < 0:
		return words.F("down %s", length(-v))
	}
	return words.T("at ride")
}

// lengthWords writes a travel in the shown unit, without the unit's name: whole millimetres, or inches to a tenth.
func lengthWords(unit string) func(float64) string {
	if unit == "in" {
		return func(mm float64) string { return fmt.Sprintf("%.1f", mm/25.4) }
	}
	return func(mm float64) string { return fmt.Sprintf("%.0f", mm) }
}

// say is the sentence under the pad: first its heading, then what is met.
func say(s *study.Study, full bool, unit string, left, right float64) (head, rest string) {
	length := lengthWords(unit)
	if s.Refusal != "" {
		return "", s.Refusal
	}
	if !s.Bounded() {
		return "", s.RangeNote
	}
	if math.Round(left) == 0 && math.Round(right) == 0 {
		return words.T("At ride height."), words.T("Drag the dot, press a blue word.")
	}
	head = wheels(left, right, length) + "."
	if !full {
		return head, words.T("What is met next: working out.")
	}
	list, known := ahead(s, left, right)
	if !known {
		return head, ""
	}
	if len(list) == 0 {
		return head, words.T("Nothing met this way.")
	}
	if onEdge(s, left, right) {
		head += words.T(" First met:")
	} else {
		head += words.T(" This way:")
	}
	parts := make([]string, len(list))
	for i, m := range list {
		phrase := m.words
		if i > 0 { // the rubber's own stop: its home needs no name
			stop := strings.TrimSuffix(strings.TrimSuffix(list[i-1].words, ofRubber), ofMoreRubber)
			if stop != list[i-1].words && phrase == stop+" home" {
				phrase = "home"
			}
		}
		parts[i] = length(m.at) + " " + phrase
	}
	return head, strings.Join(parts, ", ")
}

// onEdge reports whether a position is at the end of the range: 1 mm further on the way from ride is not in it.
func onEdge(s *study.Study, left, right float64) bool {
	d := math.Hypot(left, right)
	if d < 1 || !s.Bounded() {
		return false
	}
	f := 1 + 1/d
	return !s.Range.Contains(left*f, right*f)
}

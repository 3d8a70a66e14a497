package headless

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"axleloft/app/study"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
)

// mapSize is how many positions of a pair's gap are written along each side of the box round the range.
const mapSize = 101

// closer is where the two of a pair touch, and where they come nearer than wanted.
type closer struct {
	level  float64
	touch  *limits.Touch
	region *limits.Region
}

// only finds the pairs that are to be written: all, those of one part, or one.
func (c *clearanceCmd) only(s *study.Study) (order []int, err error) {
	order = s.Order()
	if c.Pair != "" {
		i, err := pairOf(s, c.Pair)
		return []int{i}, err
	}
	if c.Part == "" {
		return order, nil
	}
	part := -1
	var names []string
	for i := range s.Gaps.Parts {
		if names = append(names, s.Gaps.Parts[i].Name); strings.EqualFold(s.Gaps.Parts[i].Name, c.Part) {
			part = i
		}
	}
	if part < 0 {
		return nil, fail(wrong, "There is no part called %q.%s", c.Part, hint(c.Part, names))
	}
	kept := order[:0]
	for _, i := range order {
		if p := &s.Gaps.Pairs[i]; p.A == part || p.B == part {
			kept = append(kept, i)
		}
	}
	return kept, nil
}

// leftOut are the pairs left out that what is asked for touches: all, those of a part, or that of a pair.
func (c *clearanceCmd) leftOut(s *study.Study, order []int) []clearance.LeftOut {
	var out []clearance.LeftOut
	for _, o := range s.Gaps.LeftOut {
		switch {
		case c.Pair != "":
			a, b := s.PairNames(order[0])
			if !(o.A == a && (o.B == b || o.B == "") || o.A == b && (o.B == a || o.B == "")) {
				continue
			}
		case c.Part != "" && !strings.EqualFold(o.A, c.Part) && !strings.EqualFold(o.B, c.Part):
			continue
		}
		out = append(out, o)
	}
	return out
}

// pairOf is the pair named "A / B", in either order, small or large letters.
func pairOf(s *study.Study, name string) (int, error) {
	a, b, ok := strings.Cut(name, "/")
	a, b = strings.TrimSpace(a), strings.TrimSpace(b)
	if !ok || a == "" || b == "" {
		return 0, fail(wrong, "--pair %q: give two parts, with a / between them, as in \"Panhard rod / Tank shelf\".", name)
	}
	var names []string
	known := map[string]string{}
	for i := range s.Gaps.Parts {
		n := s.Gaps.Parts[i].Name
		names = append(names, n)
		known[strings.ToLower(n)] = n
	}
	for _, n := range []*string{&a, &b} {
		full, have := known[strings.ToLower(*n)]
		if !have {
			return 0, fail(wrong, "There is no part called %q.%s", *n, hint(*n, names))
		}
		*n = full
	}
	i := s.PairNamed(a, b)
	if i < 0 {
		return 0, fail(wrong, "%s and %s are not compared: one body carries both, or one is mounted on the other. The list of what is left out tells.", a, study.Lower(b))
	}
	return i, nil
}

// closers works out where a pair touches and where it comes nearer than wanted.
func (e *env) closers(s *study.Study, pair int) ([]closer, error) {
	levels := []float64{0}
	if wanted := s.Gaps.Pairs[pair].Required; wanted > 0 {
		levels = append(levels, wanted)
	}
	p := e.progress(-1, "working out")
	defer p.end()
	var list []closer
	for _, level := range levels {
		k := closer{level, s.TouchOf(e.ctx, pair, level), s.RegionOf(e.ctx, pair, level)}
		if e.ctx.Err() != nil || k.touch == nil || k.region == nil {
			return nil, fail(couldNot, "")
		}
		list = append(list, k)
	}
	return list, nil
}

// never words a way along which the gap does not fall below the level.
func never(way *limits.Way, proved bool) string {
	if proved && way.Never() {
		return "never"
	}
	return "not found"
}

// touchTable writes for a person where a pair touches.
func touchTable(w io.Writer, j *job.Job, s *study.Study, list []closer) error {
	unit := unitOf(j)
	t := table{heads: [][]string{{"on the way", "ends at", "touches at"}}, left: []bool{true, true, true}}
	if len(list) > 1 {
		t.heads[0], t.left = append(t.heads[0], "under "+shown(list[1].level, unit)+" "+unit+" at"), append(t.left, true)
	}
	for i := range limits.Ways {
		row := []string{study.WayWords(i), s.Travels(list[0].touch.Ways[i].End.Left, list[0].touch.Ways[i].End.Right)}
		for k := range list {
			way := &list[k].touch.Ways[i]
			words := never(way, list[k].touch.Why == "")
			if way.Touches {
				words = fineTravels(way.At, unit)
				if way.At == (limits.Corner{}) {
					words = "ride height"
				}
			}
			row = append(row, words)
		}
		t.rows = append(t.rows, row)
	}
	fmt.Fprintf(w, "\nFrom ride height, with wheel travels in %s, bump +:\n", strings.Replace(unit, "in", "inches", 1))
	if err := t.write(w); err != nil {
		return err
	}
	for k := range list {
		for _, line := range closerLines(&list[k], unit) {
			if _, err := fmt.Fprintln(w, line); err != nil {
				return err
			}
		}
	}
	return nil
}

// fineTravels are two wheel travels to a tenth of a mm or a hundredth of an inch: "105.4, 0.0".
func fineTravels(c limits.Corner, unit string) string {
	return "left " + shown(c.Left, unit) + ", right " + shown(c.Right, unit)
}

// closerLines say how large a part of the range it is, how near to ride height it comes, and what of that is proved.
func closerLines(k *closer, unit string) []string {
	what := "They touch"
	if k.level > 0 {
		what = "They are under " + shown(k.level, unit) + " " + unit + " apart"
	}
	if k.touch.Why != "" {
		return []string{fmt.Sprintf("%s where it is said above, at the positions tried: %s.", what, k.touch.Why)}
	}
	r := k.region
	if !k.touch.Anywhere {
		if math.IsInf(k.touch.NotIn, 1) {
			return []string{what + " nowhere in the range."}
		}
		return []string{fmt.Sprintf("%s nowhere within %s %s of ride height (root of left squared and right squared).", what, shownDown(k.touch.NotIn, unit), unit)}
	}
	lines := []string{what + " at ride height already."}
	if n := k.touch.Nearest; math.Hypot(n.Left, n.Right) > 0 {
		lines[0] = fmt.Sprintf("%s nearest to ride height at %s; nowhere within %s %s of it (root of left squared and right squared).",
			what, fineTravels(k.touch.Nearest, unit), shownDown(k.touch.NotIn, unit), unit)
	}
	if r.Why == "" && r.Whole > 0 {
		all := r.Surely >= r.Whole*(1-1e-9)
		size := fmt.Sprintf("%s in %.2f to %.2f %% of the range", what, 100*r.Surely/r.Whole, 100*r.Perhaps/r.Whole)
		if all {
			size = what + " everywhere in the range"
		}
		if len(r.Loops) > 0 && !all {
			size += fmt.Sprintf(", the left wheel at %s to %s, the right at %s to %s", shown(r.Left[0], unit), shown(r.Left[1], unit), shown(r.Right[0], unit), shown(r.Right[1], unit))
		}
		lines = append(lines, size+".")
	}
	return lines
}

// closersJSON adds "touches" and, where a gap is wanted, "belowWanted".
func closersJSON(t *jsonText, list []closer) {
	for k := range list {
		c := &list[k]
		t.line()
		t.key([2]string{"touches", "belowWanted"}[k])
		t.open('{')
		t.keyNum("level", c.level)
		t.keyBool("proved", c.touch.Why == "")
		if c.touch.Why != "" {
			t.keyStr("why", plain(c.touch.Why))
		} else {
			t.keyBool("anywhere", c.touch.Anywhere)
			if c.touch.Anywhere {
				t.key("nearest")
				corner(t, c.touch.Nearest)
			} else {
				t.keyNull("nearest")
			}
			t.keyNum("notNearerThan", c.touch.NotIn)
		}
		t.line()
		t.key("ways")
		t.open('[')
		for i := range c.touch.Ways {
			way := &c.touch.Ways[i]
			t.line()
			t.open('{')
			t.keyStr("way", study.WayWords(i))
			t.key("end")
			corner(t, way.End)
			if way.Touches {
				t.key("at")
				corner(t, way.At)
			} else {
				t.keyNull("at")
			}
			if c.touch.Why == "" {
				t.key("notBefore")
				corner(t, way.NotBefore)
				t.keyBool("never", way.Never())
			}
			t.close('}')
		}
		t.close(']')
		if r := c.region; r.Why == "" && r.Whole > 0 {
			t.line()
			t.key("region")
			t.open('{')
			t.keyNum("shareAtLeast", r.Surely/r.Whole)
			t.keyNum("shareAtMost", r.Perhaps/r.Whole)
			t.keyNum("unknownWidth", r.Width)
			t.key("loops")
			t.open('[')
			for _, loop := range r.Loops {
				t.line()
				t.open('[')
				for _, p := range loop {
					corner(t, p)
				}
				t.close(']')
			}
			t.close(']')
			t.close('}')
		}
		t.close('}')
	}
}

func corner(t *jsonText, c limits.Corner) {
	t.open('[')
	t.num(c.Left)
	t.num(c.Right)
	t.close(']')
}

// writeMap writes the gap of a pair on a grid over the range as CSV: where it is, the gap, and what is proved of the square about it.
func (e *env) writeMap(file string, s *study.Study, pair int, list []closer) error {
	f := s.PairField(e.ctx, pair, mapSize)
	if f == nil {
		return fail(couldNot, "")
	}
	head := []string{"left_mm", "right_mm", "gap_mm", "touches"}
	if len(list) > 1 {
		head = append(head, "below_"+strconv.FormatFloat(list[1].level, 'f', -1, 64)+"_mm")
	}
	var rows [][]string
	for i, l := range f.Left {
		for k, r := range f.Right {
			v := f.Values[i*f.N+k]
			if math.IsNaN(v) {
				continue
			}
			row := []string{number(l), number(r), number(v)}
			for n := range list {
				row = append(row, zoneWord(list[n].region, l, r))
			}
			rows = append(rows, row)
		}
	}
	return e.output(file, func(w io.Writer) error { return writeCSV(w, head, rows) })
}

// zoneWord is what is proved of the gap about a position against a level: "yes" below it everywhere in the square about it, "no" nowhere, "" not known.
func zoneWord(r *limits.Region, left, right float64) string {
	if r.Why != "" {
		return ""
	}
	switch r.At(left, right) {
	case clearance.Under:
		return "yes"
	case clearance.Over:
		return "no"
	}
	return ""
}

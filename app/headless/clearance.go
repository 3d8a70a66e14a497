package headless

import (
	"fmt"
	"io"
	"math"
	"strconv"

	"axleloft/app/study"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/plotting/paper"

	"gonum.org/v1/gonum/spatial/r3"
)

type clearanceCmd struct {
	common
	Within float64 `placeholder:"MM" default:"0.5" help:"At most so many mm between the smallest gap found and the one proved, 0.01 to 50; 0.5 where left out."`
	Part   string  `placeholder:"NAME" xor:"which" help:"Only the pairs of this part."`
	Pair   string  `placeholder:"'A / B'" xor:"which" help:"Only this pair, and where over the range it touches and comes nearer than wanted."`
	Map    string  `placeholder:"FILE.csv" help:"With --pair: write the gap on a grid of positions over the range to FILE.csv too."`
}

const leastWithin, mostWithin = 0.01, 50.0 // mm

// Help is what --help adds.
func (*clearanceCmd) Help() string {
	return "Every pair of parts that can touch, tightest first (gap less the gap wanted), with the smallest gap found over the whole range and where, and what is proved: nowhere in the range, between positions too, " +
		"is the gap less than \"notLessThan\". Pairs proved to be over 150 mm apart are not looked at more closely. Where no proof can be had \"proved\" is false, \"notLessThan\" is null, \"why\" says why, " +
		"and the gap is found at the positions tried. A negative gap is an overlap. A job without a range is refused.\n\n" +
		"With --pair: for eight straight ways from ride height where the two first touch, so that no thin overlap is stepped over (\"at\", and \"notBefore\" up to where they are proved not to, 0.1 mm at most before it; \"never\": proved not to " +
		"all the way); the place nearest ride height where they do (\"notNearerThan\" in the plane of left against right travel); and the region of the range where they do: at least and at most so much of it, and loops round it. The same for the gap wanted."
}

// Run writes the gaps.
func (c *clearanceCmd) Run(e *env) error {
	if !(c.Within >= leastWithin && c.Within <= mostWithin) {
		return fail(wrong, "--within %v: give mm from %v to %v.", c.Within, leastWithin, mostWithin)
	}
	if c.Map != "" && c.Pair == "" {
		return fail(wrong, "--map writes the gap of one pair: say which, as in --pair \"Panhard rod / Tank shelf\".")
	}
	j, err := e.loadMovable(&c.common)
	if err != nil {
		return err
	}
	s, err := e.study(j, c.Within)
	if err != nil {
		return err
	}
	switch {
	case !s.Bounded() || s.Gaps == nil:
		return fail(wrong, "%s", s.RangeNote)
	case s.Smallest == nil && len(s.Gaps.Pairs) > 0:
		return fail(couldNot, "The gaps could not be found. %s", s.RangeNote)
	}
	order, err := c.only(s)
	if err != nil {
		return err
	}
	var near []closer
	if c.Pair != "" {
		if near, err = e.closers(s, order[0]); err != nil {
			return err
		}
	}
	err = e.output(c.Out, func(w io.Writer) error {
		switch c.Format {
		case "csv":
			return gapsCSV(w, s, order)
		case "json":
			return gapsJSON(w, s, order, near, c.leftOut(s, order))
		}
		return gapsTable(w, j, c.Trial, s, order, near, c.leftOut(s, order))
	})
	if err == nil && c.Map != "" {
		err = e.writeMap(c.Map, s, order[0], near)
	}
	if err != nil {
		return err
	}
	return e.strict(&c.common, j, s)
}

// verdict is how a pair stands in files.
func verdict(s *study.Study, pair int) string {
	switch gap := s.Smallest[pair].Gap.Gap; {
	case gap < 0:
		return "overlap"
	case gap < s.Gaps.Pairs[pair].Required:
		return "tight"
	}
	return "clear"
}

// notLess is what a pair is proved not to go below, mm; NaN where nothing is.
func notLess(g *limits.Proved) float64 {
	if g.Why != "" {
		return math.NaN()
	}
	return g.NotLess
}

// whyNot is why a pair is not proved, or not up to the edge of the range, as half a sentence; "" where it is.
func whyNot(g *limits.Proved) string {
	if g.Why == "" && g.Rest > 0 {
		return fmt.Sprintf("the last %.1f mm of travel before the links end it are only tried at positions", g.Rest)
	}
	return g.Why
}

func gapsCSV(w io.Writer, s *study.Study, order []int) error {
	var rows [][]string
	for _, i := range order {
		a, b := s.PairNames(i)
		g := &s.Smallest[i]
		row := []string{a, b, number(g.AtRide), number(notLess(g)), number(g.Gap.Gap), number(g.Left), number(g.Right)}
		for _, p := range []r3.Vec{g.Gap.PointA, g.Gap.PointB} {
			row = append(row, number(p.X), number(p.Y), number(p.Z))
		}
		rows = append(rows, append(row, number(s.Gaps.Pairs[i].Required), verdict(s, i), strconv.FormatBool(g.Why == ""), whyNot(g)))
	}
	return writeCSV(w, []string{"a", "b", "at_ride_mm", "not_less_than_mm", "found_mm", "left_mm", "right_mm",
		"a_x_mm", "a_y_mm", "a_z_mm", "b_x_mm", "b_y_mm", "b_z_mm", "required_mm", "verdict", "proved", "why"}, rows)
}

func gapsJSON(w io.Writer, s *study.Study, order []int, near []closer, left []clearance.LeftOut) error {
	var t jsonText
	t.open('{')
	t.key("pairs")
	t.open('[')
	for _, i := range order {
		gapJSON(&t, s, i, &s.Smallest[i])
	}
	t.close(']')
	closersJSON(&t, near)
	t.line()
	t.key("leftOut")
	t.open('[')
	for _, o := range left {
		t.line()
		t.open('{')
		t.keyStr("a", o.A)
		if o.B == "" {
			t.keyNull("b") // against everything
		} else {
			t.keyStr("b", o.B)
		}
		t.keyStr("why", plain(o.Why))
		t.close('}')
	}
	t.close(']')
	t.close('}')
	_, err := w.Write(append(t.b, '\n'))
	return err
}

func gapJSON(t *jsonText, s *study.Study, i int, g *limits.Proved) {
	a, b := s.PairNames(i)
	t.line()
	t.open('{')
	t.keyStr("a", a)
	t.keyStr("b", b)
	t.keyNum("atRide", g.AtRide)
	t.keyNum("notLessThan", notLess(g))
	t.keyNum("found", g.Gap.Gap)
	t.keyNum("left", g.Left)
	t.keyNum("right", g.Right)
	for k, p := range []r3.Vec{g.Gap.PointA, g.Gap.PointB} {
		t.key([2]string{"pointA", "pointB"}[k])
		t.open('[')
		t.num(p.X)
		t.num(p.Y)
		t.num(p.Z)
		t.close(']')
	}
	t.keyNum("required", s.Gaps.Pairs[i].Required)
	t.keyStr("verdict", verdict(s, i))
	t.keyBool("proved", g.Why == "")
	if g.Why == "" && g.Rest > 0 {
		t.keyNum("butLast", g.Rest) // mm of travel before the links end it: only tried at positions
	}
	if g.Why != "" {
		t.keyStr("why", plain(g.Why))
	}
	t.close('}')
}

func gapsTable(w io.Writer, j *job.Job, trial string, s *study.Study, order []int, near []closer, left []clearance.LeftOut) error {
	unit := unitOf(j)
	t := table{heads: [][]string{{"between", "", "smallest gap", "not less than", "wanted", "at ride", "", "where"}, {"", "", unit, unit, unit, unit, "", ""}},
		left: []bool{true, true, false, false, false, false, true, true}}
	words := map[string]string{"overlap": "hits", "tight": "tight", "clear": ""}
	for _, i := range order {
		a, b := s.PairNames(i)
		g := &s.Smallest[i]
		least, bound, where := shown(g.Gap.Gap, unit), "", s.Travels(g.Left, g.Right)
		switch {
		case s.GapFar(i):
			least, bound, where = "", shownDown(g.NotLess, unit), "not looked at more closely"
		case g.Why == "":
			bound = shownDown(g.NotLess, unit)
		default:
			where += ", at the positions tried"
		}
		t.rows = append(t.rows, []string{a, b, least, bound, shown(s.Gaps.Pairs[i].Required, unit), shown(g.AtRide, unit), words[verdict(s, i)], where})
	}
	fmt.Fprintf(w, "%s\nSmallest gaps over the whole range, tightest first; %s is an overlap. %s\n\n", heading(j, trial), "−", s.ProvedWords())
	if err := t.write(w); err != nil {
		return err
	}
	if len(near) > 0 {
		if err := touchTable(w, j, s, near); err != nil {
			return err
		}
	}
	if len(left) > 0 {
		fmt.Fprintln(w, "\nLeft out:")
		for _, o := range left {
			name := o.A
			if o.B != "" {
				name += " / " + o.B
			}
			fmt.Fprintf(w, "  %s: %s\n", name, o.Why)
		}
	}
	_, err := fmt.Fprintf(w, "\n%s.\n%s\n%s\n", s.CheckedWords(), onlyDrawn, paper.Caution)
	return err
}

package headless

import (
	"fmt"
	"io"
	"math"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/plotting/paper"
)

type tyresCmd struct {
	common
	Radius float64 `placeholder:"MM" default:"0" help:"How much larger in radius, mm: half of what the diameter grows, or how far a chain stands off; less with a minus sign."`
	Width  float64 `placeholder:"MM" default:"0" help:"How much wider, mm, both sides together; less with a minus sign."`
}

// Help is what --help adds.
func (*tyresCmd) Help() string {
	return "What another tyre on this axle changes, the next size up or chains: the smallest gaps of the tyres over the whole range with it and without, what hits or becomes tight, and what the ground, which it moves, does to anti-squat, " +
		"anti-lift and roll centre. The axle and its pivots stay. Then how much larger in radius the tyre may be at the present width with every gap wanted kept, found at the positions tried. Without --radius and --width: the present tyre. " +
		"Exit status 1 with --strict: a tyre of that size hits or is tight."
}

// Run writes what the tyre changes.
func (c *tyresCmd) Run(e *env) error {
	for _, k := range []struct {
		flag      string
		v, lo, hi float64
	}{{"radius", c.Radius, study.TyreRadiusLeast, study.TyreRadiusMost}, {"width", c.Width, study.TyreWidthLeast, study.TyreWidthMost}} {
		if !(k.v >= k.lo && k.v <= k.hi) {
			return fail(wrong, "--%s %v: give mm from %v to %v.", k.flag, k.v, k.lo, k.hi)
		}
	}
	j, err := e.loadMovable(&c.common)
	if err != nil {
		return err
	}
	s := study.WithRange(j)
	p := e.progress(-1, "trying sizes")
	t, err := s.Tyres(e.ctx, study.TyreSize{Radius: c.Radius, Width: c.Width})
	p.end()
	if err != nil {
		return fail(wrong, "%v", err)
	}
	err = e.output(c.Out, func(w io.Writer) error {
		switch c.Format {
		case "csv":
			return tyresCSV(w, t)
		case "json":
			return tyresJSON(w, t)
		}
		return tyresTable(w, j, c.Trial, s, t)
	})
	if err != nil || !c.Strict {
		return err
	}
	hit, tight := 0, 0
	for i := range t.Pairs {
		switch {
		case t.Pairs[i].Hits():
			hit++
		case t.Pairs[i].Tight():
			tight++
		}
	}
	if hit+tight > 0 {
		return fail(found, "With this tyre %d hit and %d are tight.", hit, tight)
	}
	return nil
}

// tyreVerdict is how a pair stands in files.
func tyreVerdict(p *study.TyrePair) string {
	switch {
	case p.Hits():
		return "overlap"
	case p.Tight():
		return "tight"
	}
	return "clear"
}

func tyresCSV(w io.Writer, t *study.TyreTrial) error {
	var rows [][]string
	for i := range t.Pairs {
		p := &t.Pairs[i]
		proved := "true"
		if p.With.Why != "" {
			proved = "false"
		}
		rows = append(rows, []string{p.A, p.B, number(p.Was.Gap.Gap), number(notLess(&p.With)), number(p.With.Gap.Gap), number(p.With.Left), number(p.With.Right),
			number(p.Required), tyreVerdict(p), proved, p.With.Why})
	}
	return writeCSV(w, []string{"a", "b", "was_mm", "not_less_than_mm", "found_mm", "left_mm", "right_mm", "required_mm", "verdict", "proved", "why"}, rows)
}

// tyreFigures are the figures that the ground changes, by their names in files.
func tyreFigures(f *study.TyreFigures) []struct {
	name, title, unit string
	v                 float64
} {
	return []struct {
		name, title, unit string
		v                 float64
	}{{"cg_height_mm", "Centre of gravity above ground", "mm", f.CGHeight}, {"anti_squat_pct", "Anti-squat", "%", f.AntiSquat},
		{"anti_lift_pct", "Anti-lift, braking", "%", f.AntiLift}, {"roll_centre_mm", "Roll centre above ground", "mm", f.RollCentre}}
}

func tyresJSON(w io.Writer, t *study.TyreTrial) error {
	var out jsonText
	out.open('{')
	out.keyNum("radius", t.Size.Radius)
	out.keyNum("width", t.Size.Width)
	out.keyNum("freeRadius", t.Free)
	out.keyNum("tyreWidth", t.Width)
	out.line()
	out.key("pairs")
	out.open('[')
	for i := range t.Pairs {
		p := &t.Pairs[i]
		out.line()
		out.open('{')
		out.keyStr("a", p.A)
		out.keyStr("b", p.B)
		out.keyNum("was", p.Was.Gap.Gap)
		out.keyNum("notLessThan", notLess(&p.With))
		out.keyNum("found", p.With.Gap.Gap)
		out.keyNum("left", p.With.Left)
		out.keyNum("right", p.With.Right)
		pointJSON(&out, "pointA", p.With.Gap.PointA.X, p.With.Gap.PointA.Y, p.With.Gap.PointA.Z)
		pointJSON(&out, "pointB", p.With.Gap.PointB.X, p.With.Gap.PointB.Y, p.With.Gap.PointB.Z)
		out.keyNum("required", p.Required)
		out.keyStr("verdict", tyreVerdict(p))
		out.keyBool("proved", p.With.Why == "")
		if p.With.Why != "" {
			out.keyStr("why", plain(p.With.Why))
		}
		out.close('}')
	}
	out.close(']')
	out.line()
	out.key("loads")
	out.open('[')
	for i := range t.Loads {
		l := &t.Loads[i]
		out.line()
		out.open('{')
		out.keyStr("load", l.Name)
		for _, k := range []struct {
			key string
			f   *study.TyreFigures
		}{{"was", &l.Was}, {"with", &l.With}} {
			out.key(k.key)
			out.open('{')
			for _, f := range tyreFigures(k.f) {
				out.keyNum(f.name, f.v)
			}
			out.close('}')
		}
		out.close('}')
	}
	out.close(']')
	out.line()
	out.key("room")
	out.open('{')
	r := &t.Room
	out.keyNum("radius", r.Radius)
	out.keyBool("more", r.More)
	out.keyStr("a", r.A)
	out.keyStr("b", r.B)
	out.keyNum("notLessThan", r.NotLess)
	out.close('}')
	out.close('}')
	_, err := w.Write(append(out.b, '\n'))
	return err
}

func tyresTable(w io.Writer, j *job.Job, trial string, s *study.Study, t *study.TyreTrial) error {
	unit := unitOf(j)
	fmt.Fprintf(w, "%s\n%s\n\n", heading(j, trial), s.TyreWords(t))
	gaps := table{heads: [][]string{{"between", "", "with it", "not less than", "wanted", "now", "", "where with it"}, {"", "", unit, unit, unit, unit, "", ""}},
		left: []bool{true, true, false, false, false, false, true, true}}
	words := map[string]string{"overlap": "hits", "tight": "tight", "clear": ""}
	far := 0
	for i := range t.Pairs {
		p := &t.Pairs[i]
		if p.Far() {
			far++
			continue
		}
		least, bound, where := shown(p.With.Gap.Gap, unit), "", s.Travels(p.With.Left, p.With.Right)
		if p.With.Why == "" {
			bound = shownDown(p.With.NotLess, unit)
		} else {
			where += ", at the positions tried"
		}
		gaps.rows = append(gaps.rows, []string{p.A, p.B, least, bound, shown(p.Required, unit), shown(p.Was.Gap.Gap, unit), words[tyreVerdict(p)], where})
	}
	if err := gaps.write(w); err != nil {
		return err
	}
	if len(t.Pairs) == 0 {
		fmt.Fprintln(w, "Nothing is drawn that a tyre could touch.")
	}
	if far > 0 {
		fmt.Fprintf(w, "Not listed: pairs that stay more than %s apart, %d of %d.\n", s.Length(study.FarApart), far, len(t.Pairs))
	}
	fmt.Fprintln(w)
	figures := table{heads: [][]string{{"", "", "load", "now", "with it"}}, left: []bool{true, true, true, false, false}}
	for i := range t.Loads {
		l := &t.Loads[i]
		was, with := tyreFigures(&l.Was), tyreFigures(&l.With)
		for k := range was {
			if math.IsNaN(was[k].v) && math.IsNaN(with[k].v) {
				continue
			}
			u, text := was[k].unit, func(v float64) string { return fixed(v, 1) }
			if u == "mm" {
				u, text = unit, func(v float64) string { return shown(v, unit) }
			}
			figures.rows = append(figures.rows, []string{was[k].title, u, l.Name, text(was[k].v), text(with[k].v)})
		}
	}
	if len(figures.rows) > 0 {
		if err := figures.write(w); err != nil {
			return err
		}
		fmt.Fprintln(w)
	}
	_, err := fmt.Fprintf(w, "%s\n%s\n%s\n", s.TyreRoomWords(t), onlyDrawn, paper.Caution)
	return err
}

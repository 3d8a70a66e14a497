package headless

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/plotting/paper"
)

type holesCmd struct {
	common
	Kept bool   `help:"The links keep the length they have and the axle moves; left out: they are re-set to reach and the axle stays."`
	Sort string `placeholder:"KEY" help:"Sort by antisquat, rollsteer, pinion, spare, use or length, what is best first; by the holes where left out."`
}

// Help is what --help adds.
func (*holesCmd) Help() string {
	return "Every combination of the holes the job gives its pivots (\"holes\"), each over the whole range: anti-squat and roll steer of the heaviest load at ride height, how far the pinion turns, the gap with least to spare (proved to 5 mm), the closest joint, the links' lengths. At most " +
		fmt.Sprint(study.MostChoices) + " combinations."
}

// holeSorts are the keys rows can be sorted by: what is best has the least value.
func holeSorts() map[string]func(*study.HoleChoice) float64 {
	return map[string]func(*study.HoleChoice) float64{
		"antisquat": func(r *study.HoleChoice) float64 { return math.Abs(r.AntiSquat - 75) }, // the middle of common practice, laden
		"rollsteer": func(r *study.HoleChoice) float64 { return math.Abs(r.RollSteer) },
		"pinion":    func(r *study.HoleChoice) float64 { return r.Pinion },
		"spare":     func(r *study.HoleChoice) float64 { return -r.Spare },
		"use":       func(r *study.HoleChoice) float64 { return r.Use },
		"length": func(r *study.HoleChoice) float64 {
			sum := 0.0
			for _, l := range r.Lengths {
				sum += l
			}
			return sum
		},
	}
}

// Run writes the table of holes.
func (c *holesCmd) Run(e *env) error {
	var by func(*study.HoleChoice) float64
	if c.Sort != "" {
		if by = holeSorts()[c.Sort]; by == nil {
			keys := []string{"antisquat", "rollsteer", "pinion", "spare", "use", "length"}
			return fail(wrong, "Rows cannot be sorted by %q.%s", c.Sort, hint(c.Sort, keys))
		}
	}
	j, err := e.loadMovable(&c.common)
	if err != nil {
		return err
	}
	s := study.Compile(j)
	p := e.progress(-1, "holes")
	t, err := s.Holes(e.ctx, c.Kept, func(_, _ int) { p.add(1) })
	p.end()
	switch {
	case e.ctx.Err() != nil:
		return fail(couldNot, "")
	case err != nil:
		return fail(wrong, "%v", err)
	}
	rows := make([]int, len(t.Rows))
	for i := range rows {
		rows[i] = i
	}
	if by != nil {
		slices.SortStableFunc(rows, func(a, b int) int {
			x, y := by(&t.Rows[a]), by(&t.Rows[b])
			switch { // what has no figure comes last
			case math.IsNaN(x) && math.IsNaN(y), x == y:
				return 0
			case math.IsNaN(y), x < y:
				return -1
			}
			return 1
		})
	}
	if err := e.output(c.Out, func(w io.Writer) error {
		switch c.Format {
		case "csv":
			return holesCSV(w, t, rows)
		case "json":
			return holesJSON(w, t, rows)
		}
		return holesTable(w, j, c.Trial, t, rows)
	}); err != nil {
		return err
	}
	return e.strict(&c.common, j, nil)
}

// holesCSV writes rows of a table of holes in the order given: the hole of each pivot, then the figures.
func holesCSV(w io.Writer, t *study.HoleTable, rows []int) error {
	var head []string
	for _, n := range t.Names {
		head = append(head, plain(n))
	}
	head = append(head, "now", "anti_squat_pct", "roll_steer_pct", "pinion_extent_deg", "gap_mm", "spare_mm", "pair", "proved", "joint_use_pct", "joint", "bump_mm", "droop_mm", "pinion_ride_deg", "side_shift_mm", "squareness_mm")
	for _, n := range t.Links {
		head = append(head, plain(n)+" length_mm")
	}
	head = append(head, "why")
	var out [][]string
	for _, i := range rows {
		r := &t.Rows[i]
		var row []string
		for _, h := range r.Holes {
			row = append(row, fmt.Sprint(h))
		}
		row = append(row, fmt.Sprint(i == t.Now), number(r.AntiSquat), number(r.RollSteer), number(r.Pinion), number(r.Gap), number(r.Spare), plain(r.Pair), fmt.Sprint(r.Proved), number(100*r.Use), plain(r.Joint), number(r.Bump), number(r.Droop),
			number(r.PinionRide), number(r.SideShift), number(r.Squareness))
		for _, l := range r.Lengths {
			row = append(row, number(l))
		}
		out = append(out, append(row, plain(r.Why)))
	}
	return writeCSV(w, head, out)
}

func holesJSON(w io.Writer, t *study.HoleTable, rows []int) error {
	var b jsonText
	b.open('{')
	b.key("pivots")
	b.open('[')
	for _, n := range t.Names {
		b.str(n)
	}
	b.close(']')
	b.keyStr("load", t.Load)
	b.keyBool("kept", t.Kept)
	b.keyNum("within", t.Within)
	b.key("choices")
	b.open('[')
	for _, i := range rows {
		r := &t.Rows[i]
		b.line()
		b.open('{')
		b.key("holes")
		b.open('[')
		for _, h := range r.Holes {
			b.num(float64(h))
		}
		b.close(']')
		b.keyBool("now", i == t.Now)
		b.keyNum("antiSquat", r.AntiSquat)
		b.keyNum("rollSteer", r.RollSteer)
		b.keyNum("pinionExtent", r.Pinion)
		b.keyNum("gap", r.Gap)
		b.keyNum("spare", r.Spare)
		b.keyStr("pair", r.Pair)
		b.keyBool("proved", r.Proved)
		b.keyNum("jointUse", r.Use)
		b.keyStr("joint", r.Joint)
		b.keyNum("bump", r.Bump)
		b.keyNum("droop", r.Droop)
		b.keyNum("pinionRide", r.PinionRide)
		b.keyNum("sideShift", r.SideShift)
		b.keyNum("squareness", r.Squareness)
		b.key("lengths")
		b.open('{')
		for k, l := range r.Lengths {
			b.keyNum(t.Links[k], l)
		}
		b.close('}')
		if r.Why != "" {
			b.keyStr("why", r.Why)
		}
		b.close('}')
	}
	b.close(']')
	b.close('}')
	_, err := w.Write(append(b.b, '\n'))
	return err
}

func holesTable(w io.Writer, j *job.Job, trial string, t *study.HoleTable, rows []int) error {
	unit := unitOf(j)
	x := table{heads: [][]string{{}, {}}}
	add := func(head, under string, left bool) {
		x.heads[0], x.heads[1], x.left = append(x.heads[0], head), append(x.heads[1], under), append(x.left, left)
	}
	for i := range t.Pivots {
		add(string(rune('A'+i%26)), "hole", false)
	}
	add("", "", true)
	add("anti-squat", "%", false)
	add("roll steer", "%", false)
	add("pinion turns", "deg", false)
	add("gap", unit, false)
	add("to spare", unit, false)
	add("between", "", true)
	add("joint use", "%", false)
	if t.Kept {
		add("pinion, ride", "deg", false)
		add("side shift", unit, false)
		add("squareness", unit, false)
	}
	for _, n := range t.Links {
		add(n, unit, false)
	}
	for _, i := range rows {
		r := &t.Rows[i]
		var row []string
		for _, h := range r.Holes {
			row = append(row, fmt.Sprint(h))
		}
		now := ""
		if i == t.Now {
			now = "now"
		}
		if r.Why != "" {
			now = strings.TrimSpace(now + " " + r.Why)
		}
		row = append(row, now, fixed(r.AntiSquat, 0), fixed(r.RollSteer, 1), fixed(r.Pinion, 1), shown(r.Gap, unit), shown(r.Spare, unit), r.Pair, fixed(100*r.Use, 0))
		if t.Kept {
			row = append(row, fixed(r.PinionRide, 1), shown(r.SideShift, unit), shown(r.Squareness, unit))
		}
		for _, l := range r.Lengths {
			row = append(row, shown(l, unit))
		}
		x.rows = append(x.rows, row)
	}
	fmt.Fprintln(w, heading(j, trial))
	for i, n := range t.Names {
		fmt.Fprintf(w, "%c: %s\n", rune('A'+i%26), n)
	}
	how := "Links re-set to reach; the axle stays."
	if t.Kept {
		how = "Links as long as they are; the axle moves."
	}
	load := ""
	if t.Load != "" {
		load = " Anti-squat and roll steer: " + t.Load + ", at ride height."
	}
	fmt.Fprintf(w, "%s%s\n\n", how, load)
	if err := x.write(w); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "\nGaps over the whole range, proved to %g mm where they can be; axlesheet clearance proves them closer. %s\n%s\n", t.Within, onlyDrawn, paper.Caution)
	return err
}

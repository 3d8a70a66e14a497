package headless

import (
	"fmt"
	"io"
	"math"

	"axleloft/app/study"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/plotting/paper"
)

type lowestCmd struct{ common }

// Help is what --help adds.
func (*lowestCmd) Help() string {
	return "Height above the ground of the lowest point of everything carried or drawn but the tyres, at each height and load and, least, over the whole range, crossed up included (found at the positions tried). " +
		"The ground lies one loaded radius below the axle's centre, level across; with \"frontTravel\" \"still\" it runs to the front wheels where they stand. " +
		"Ramp angle: between the planes that touch the wheels of both axles and meet in the lowest part between, of what is drawn and \"overhang.middle\". Departure angle: where \"overhang.rear\" is given; approach angle: where \"overhang.front\" is. " +
		"Lengths of the table are in the job's unit."
}

// Run writes the heights above the ground.
func (c *lowestCmd) Run(e *env) error {
	j, err := e.loadMovable(&c.common)
	if err != nil {
		return err
	}
	s := study.WithRange(j)
	if s.Gaps == nil {
		return fail(wrong, "%s", s.RangeNote)
	}
	p := e.progress(-1, "looking for the lowest points")
	t := s.Lowest(e.ctx)
	p.end()
	if t == nil {
		return fail(couldNot, "")
	}
	err = e.output(c.Out, func(w io.Writer) error {
		switch c.Format {
		case "csv":
			return lowestCSV(w, t)
		case "json":
			return lowestJSON(w, s, t)
		}
		return lowestTable(w, j, c.Trial, s, t)
	})
	if err != nil {
		return err
	}
	return e.strict(&c.common, j, nil)
}

// lowestCSV writes a row for each part, height and load, rows for the range, and rows for the angles.
func lowestCSV(w io.Writer, t *study.Lowest) error {
	var rows [][]string
	add := func(what, height string, load int, l *study.Low) {
		rows = append(rows, []string{what, height, t.Loads[load], number(l.Left), number(l.Right), number(l.Height), "", number(l.At.X), number(l.At.Y), number(l.At.Z), ""})
	}
	for i := range t.Parts {
		p := &t.Parts[i]
		for h := range t.Heights {
			for l := range t.Loads {
				if c := &p.Cells[h][l]; !math.IsNaN(c.Height) {
					add(p.Name, t.Heights[h], l, c)
				}
			}
		}
		for l := range t.Loads {
			if c := &p.Least[l]; !math.IsNaN(c.Height) {
				add(p.Name, "range", l, c)
			}
		}
	}
	for _, a := range t.Angles() {
		for h := range t.Heights {
			for l := range t.Loads {
				if k := &a.Of[h][l]; !math.IsNaN(k.Deg) {
					travel := number(t.Travel[h][l])
					rows = append(rows, []string{a.Title, t.Heights[h], t.Loads[l], travel, travel, "", number(k.Deg), number(k.At.X), number(k.At.Y), number(k.At.Z), k.Of})
				}
			}
		}
	}
	return writeCSV(w, []string{"what", "height", "load", "left_mm", "right_mm", "above_ground_mm", "angle_deg", "x_mm", "y_mm", "z_mm", "of"}, rows)
}

func lowestJSON(w io.Writer, s *study.Study, t *study.Lowest) error {
	var out jsonText
	out.open('{')
	low := func(load int, l *study.Low) {
		out.keyStr("load", t.Loads[load])
		out.keyNum("left", l.Left)
		out.keyNum("right", l.Right)
		out.keyNum("above_ground_mm", l.Height)
		pointJSON(&out, "point", l.At.X, l.At.Y, l.At.Z)
	}
	out.key("heights")
	out.open('[')
	for h := range t.Heights {
		for l := range t.Loads {
			out.line()
			out.open('{')
			out.keyStr("height", t.Heights[h])
			out.keyStr("load", t.Loads[l])
			out.keyNum("left", t.Travel[h][l])
			out.keyNum("right", t.Travel[h][l])
			out.keyBool("reached", t.Notes[h][l] == "")
			for _, a := range t.Angles() {
				k := &a.Of[h][l]
				out.keyNum(a.Name, k.Deg)
				if !math.IsNaN(k.Deg) {
					out.keyStr(a.Name[:len(a.Name)-len("deg")]+"at", k.Of)
				}
			}
			out.close('}')
		}
	}
	out.close(']')
	out.line()
	out.key("parts")
	out.open('[')
	for i := range t.Parts {
		p := &t.Parts[i]
		out.line()
		out.open('{')
		out.keyStr("name", p.Name)
		out.key("heights")
		out.open('[')
		for h := range t.Heights {
			for l := range t.Loads {
				c := &p.Cells[h][l]
				if math.IsNaN(c.Height) {
					continue
				}
				out.open('{')
				out.keyStr("height", t.Heights[h])
				low(l, c)
				out.close('}')
			}
		}
		out.close(']')
		out.key("range")
		out.open('[')
		for l := range t.Loads {
			if c := &p.Least[l]; !math.IsNaN(c.Height) {
				out.open('{')
				low(l, c)
				out.close('}')
			}
		}
		out.close(']')
		out.close('}')
	}
	out.close(']')
	out.line()
	leftOutJSON(&out, s)
	out.close('}')
	_, err := w.Write(append(out.b, '\n'))
	return err
}

// pointJSON writes a point under a key.
func pointJSON(t *jsonText, key string, x, y, z float64) {
	t.key(key)
	t.open('[')
	t.num(x)
	t.num(y)
	t.num(z)
	t.close(']')
}

// lacksShape reports whether a part whose height would be told has none; tyres are not such parts.
func lacksShape(o *clearance.LeftOut) bool {
	return o.B == "" && o.A != job.TyreLeftName && o.A != job.TyreRightName
}

// leftOutJSON writes the parts that have no shape.
func leftOutJSON(t *jsonText, s *study.Study) {
	t.key("leftOut")
	t.open('[')
	for _, o := range s.Gaps.LeftOut {
		if !lacksShape(&o) {
			continue
		}
		t.line()
		t.open('{')
		t.keyStr("name", o.A)
		t.keyStr("why", plain(o.Why))
		t.close('}')
	}
	t.close(']')
}

func lowestTable(w io.Writer, j *job.Job, trial string, s *study.Study, t *study.Lowest) error {
	unit := unitOf(j)
	out := table{heads: [][]string{{"lowest point above ground"}, {unit}}, left: []bool{true}}
	for h := range t.Heights {
		for l := range t.Loads {
			out.heads[0], out.heads[1] = append(out.heads[0], t.Heights[h]), append(out.heads[1], t.Loads[l])
			out.left = append(out.left, false)
		}
	}
	if s.Bounded() {
		for l := range t.Loads {
			out.heads[0], out.heads[1] = append(out.heads[0], "whole range"), append(out.heads[1], t.Loads[l])
			out.left = append(out.left, false)
		}
		out.heads[0], out.heads[1] = append(out.heads[0], "where"), append(out.heads[1], "")
		out.left = append(out.left, true)
	}
	for i := range t.Parts {
		p := &t.Parts[i]
		row := []string{p.Name}
		for h := range t.Heights {
			for l := range t.Loads {
				row = append(row, shown(p.Cells[h][l].Height, unit))
			}
		}
		if s.Bounded() {
			worst := 0
			for l := range t.Loads {
				row = append(row, shown(p.Least[l].Height, unit))
				if p.Least[l].Height < p.Least[worst].Height {
					worst = l
				}
			}
			if !math.IsNaN(p.Least[worst].Height) {
				row = append(row, s.Travels(p.Least[worst].Left, p.Least[worst].Right))
			}
		}
		out.rows = append(out.rows, row)
	}
	fmt.Fprintf(w, "%s\n%s\n\n", heading(j, trial), s.GroundWords())
	if err := out.write(w); err != nil {
		return err
	}
	fmt.Fprintln(w)
	angles := table{heads: [][]string{{"angle, deg", "height", "load", "", "set by"}}, left: []bool{true, true, true, false, true}}
	for _, a := range t.Angles() {
		for h := range t.Heights {
			for l := range t.Loads {
				if k := &a.Of[h][l]; !math.IsNaN(k.Deg) {
					angles.rows = append(angles.rows, []string{a.Title, t.Heights[h], t.Loads[l], fixed(k.Deg, 1), k.Of})
				}
			}
		}
	}
	if len(angles.rows) > 0 {
		if err := angles.write(w); err != nil {
			return err
		}
		fmt.Fprintln(w)
	}
	for h := range t.Heights {
		for l := range t.Loads {
			if note := t.Notes[h][l]; note != "" {
				fmt.Fprintf(w, "%s: %s\n", study.Upper(t.Heights[h]), note)
			}
		}
	}
	if o := j.Vehicle.Overhang; o == nil || o.Rear == nil {
		fmt.Fprintln(w, "No departure angle is told: how far the vehicle goes on behind the axle is not given (overhang).")
	}
	for _, o := range s.Gaps.LeftOut {
		if lacksShape(&o) {
			fmt.Fprintf(w, "Left out: %s, %s.\n", o.A, o.Why)
		}
	}
	if s.RangeNote != "" {
		fmt.Fprintln(w, s.RangeNote)
	}
	_, err := fmt.Fprintf(w, "%s\n%s\n", onlyDrawn, paper.Caution)
	return err
}

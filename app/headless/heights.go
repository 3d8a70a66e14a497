package headless

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/geometry/quantity"
	"axleloft/plotting/paper"
)

type heightsCmd struct{ common }

// Help is what --help adds.
func (*heightsCmd) Help() string {
	return "Each quantity with both wheels at the travel of each height the driver can choose and of each load, and in words what changes between them. " +
		"Pinion in deg, + nose up; anti-squat and anti-lift in %, + resists; roll centre in mm above the ground; roll steer in % of axle steer per axle roll, + toward oversteer; side shift in mm, + to the left; " +
		"squareness in mm, left wheelbase less right; driveshaft joint angles in deg; slip in mm, + longer; joint use as a part of its limit (in % in the table); the tightest gap in mm, - where parts overlap; the lowest point in mm above the ground. " +
		"Lengths of the table are in the job's unit."
}

// heightNames are the readings of the table by their names in files.
var heightNames = map[string]string{
	"pinion": "pinion_deg", "pinionground": "pinion_ground_deg", "antisquat": "anti_squat_pct", "antilift": "anti_lift_pct", "rollcentre": "roll_centre_mm",
	"rollsteer": "roll_steer_pct", "sideshift": "y_mm", "squareness": "squareness_mm", "shaftfront": "shaft_front_deg", "shaftbearing": "shaft_bearing_deg",
	"shaftrear": "shaft_rear_deg", "slip": "slip_mm", "use": "worst_bind", "gap": "tightest_gap_mm", "lowest": "lowest_mm",
}

// Run writes the table.
func (c *heightsCmd) Run(e *env) error {
	j, err := e.loadMovable(&c.common)
	if err != nil {
		return err
	}
	s := study.WithRange(j)
	t := s.HeightTable()
	err = e.output(c.Out, func(w io.Writer) error {
		switch c.Format {
		case "csv":
			return heightsCSV(w, t)
		case "json":
			return heightsJSON(w, t)
		}
		return heightsTable(w, j, c.Trial, t)
	})
	if err != nil {
		return err
	}
	return e.strict(&c.common, j, nil)
}

// inFile is a cell's value as files carry it: joint use as a part of one.
func inFile(r *study.HeightRow, v float64) float64 {
	if r.Key == "use" {
		return v / 100
	}
	return v
}

// named reports whether the cells of a reading say what they are of.
func named(r *study.HeightRow) bool { return r.Key == "use" || r.Key == "gap" || r.Key == "lowest" }

func heightsCSV(w io.Writer, t *study.HeightTable) error {
	head := []string{"height", "load", "left_mm", "right_mm"}
	for i := range t.Rows {
		name := heightNames[t.Rows[i].Key]
		head = append(head, name)
		if named(&t.Rows[i]) {
			head = append(head, strings.TrimSuffix(name, "_mm")+"_at")
		}
	}
	var rows [][]string
	for h := range t.Heights {
		for l := range t.Loads {
			row := []string{t.Heights[h], t.Loads[l], number(t.Travel[h][l]), number(t.Travel[h][l])}
			for i := range t.Rows {
				r := &t.Rows[i]
				row = append(row, number(inFile(r, r.Cells[h][l].Value)))
				if named(r) {
					row = append(row, r.Cells[h][l].At)
				}
			}
			rows = append(rows, row)
		}
	}
	return writeCSV(w, head, rows)
}

func heightsJSON(w io.Writer, t *study.HeightTable) error {
	var out jsonText
	out.open('{')
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
			for i := range t.Rows {
				r := &t.Rows[i]
				name := heightNames[r.Key]
				out.keyNum(name, inFile(r, r.Cells[h][l].Value))
				if named(r) {
					out.keyStr(strings.TrimSuffix(name, "_mm")+"_at", r.Cells[h][l].At)
				}
			}
			out.close('}')
		}
	}
	out.close(']')
	out.line()
	out.key("captions")
	out.open('[')
	for _, c := range t.Captions {
		out.line()
		out.str(plain(c))
	}
	out.close(']')
	out.close('}')
	_, err := w.Write(append(out.b, '\n'))
	return err
}

func heightsTable(w io.Writer, j *job.Job, trial string, t *study.HeightTable) error {
	unit := unitOf(j)
	out := table{heads: [][]string{{"", ""}, {"", ""}, {"both wheels, bump +", unit}}, left: []bool{true, true}}
	for h := range t.Heights {
		for l := range t.Loads {
			out.heads[0] = append(out.heads[0], t.Heights[h])
			out.heads[1] = append(out.heads[1], t.Loads[l])
			out.heads[2] = append(out.heads[2], shown(t.Travel[h][l], unit))
			out.left = append(out.left, false)
		}
	}
	for i := range t.Rows {
		r := &t.Rows[i]
		title, u := r.Title, r.Unit
		if r.Up != "" && r.Key != "gap" {
			title += ", + " + r.Up
		}
		if u == "mm" {
			u = unit
		}
		row := []string{title, u}
		for h := range t.Heights {
			for l := range t.Loads {
				c := &r.Cells[h][l]
				text := fixed(c.Value, 1)
				switch {
				case u == "in":
					text = shown(c.Value, unit)
				case r.Unit == "%" && r.Key != "rollsteer", r.Key == "use":
					text = fixed(c.Value, 0)
				}
				if c.Out {
					text += "*"
				}
				row = append(row, text)
			}
		}
		out.rows = append(out.rows, row)
	}
	fmt.Fprintln(w, heading(j, trial))
	fmt.Fprint(w, "Both wheels at each height and load; * outside common practice (no rule, your call).\n\n")
	if err := out.write(w); err != nil {
		return err
	}
	fmt.Fprintln(w)
	for i := range t.Rows {
		if r := &t.Rows[i]; named(r) {
			fmt.Fprintf(w, "%s: %s.\n", r.Title, ofWhat(t, r))
		}
	}
	for _, c := range t.Captions {
		fmt.Fprintln(w, c)
	}
	_, err := fmt.Fprintf(w, "\nChecked at these heights only. %s\n%s\n", onlyDrawn, paper.Caution)
	return err
}

// ofWhat tells what the cells of a row are of: "Lower left, axle rod end (raised, ride)", once each.
func ofWhat(t *study.HeightTable, r *study.HeightRow) string {
	var order []string
	at := map[string][]string{}
	for h := range t.Heights {
		for l := range t.Loads {
			name := r.Cells[h][l].At
			if name == "" {
				continue
			}
			if _, ok := at[name]; !ok {
				order = append(order, name)
			}
			if !slices.Contains(at[name], t.Heights[h]) {
				at[name] = append(at[name], t.Heights[h])
			}
		}
	}
	for i, name := range order {
		if len(order) > 1 {
			order[i] = name + " (" + strings.Join(at[name], ", ") + ")"
		}
	}
	if len(order) == 0 {
		return "none known"
	}
	return strings.Join(order, "; ")
}

// worstName is the joint closest to its limit as the column worst_bind_at names it.
func worstName(s *study.Study, v *quantity.Values) string { return quantity.WorstName(s.Mech, v) }

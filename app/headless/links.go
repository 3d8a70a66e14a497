package headless

import (
	"fmt"
	"io"

	"axleloft/app/sheets"
	"axleloft/geometry/job"
	"axleloft/plotting/paper"
)

type linksCmd struct{ common }

// Help is what --help adds.
func (*linksCmd) Help() string {
	return "Lengths are centre to centre at design ride height; the tube is what the ends leave of it (\"takes\" of both ends), between square ends; its mass is of steel at 7850 kg/m3. How far a link can be made shorter and longer is what its ends screw (\"adjust\")."
}

// Run writes the list of links.
func (c *linksCmd) Run(e *env) error {
	j, err := e.load(&c.common)
	if err != nil {
		return err
	}
	list := sheets.Links(j)
	if err := e.output(c.Out, func(w io.Writer) error {
		switch c.Format {
		case "csv":
			return linksCSV(w, list)
		case "json":
			return linksJSON(w, list)
		}
		return linksTable(w, j, c.Trial, list)
	}); err != nil {
		return err
	}
	return e.strict(&c.common, j, nil)
}

func linksCSV(w io.Writer, list []sheets.Linked) error {
	var rows [][]string
	for i := range list {
		l := &list[i]
		outside, wall, steel := "", "", ""
		if t := l.Section; t != nil {
			outside, steel = number(t.Outside), plain(t.Steel)
			if t.Wall != nil {
				wall = number(*t.Wall)
			}
		}
		rows = append(rows, []string{plain(l.Name), fmt.Sprint(l.Count), number(l.Length), number(l.Tube), outside, wall, steel, number(l.Mass), number(l.In), number(l.Out), number(l.Turn)})
	}
	return writeCSV(w, []string{"link", "count", "length_mm", "tube_mm", "outside_mm", "wall_mm", "steel", "mass_kg", "shorter_mm", "longer_mm", "turn_mm"}, rows)
}

func linksJSON(w io.Writer, list []sheets.Linked) error {
	var t jsonText
	t.open('{')
	t.key("links")
	t.open('[')
	for i := range list {
		l := &list[i]
		t.line()
		t.open('{')
		t.keyStr("name", l.Name)
		t.keyNum("count", float64(l.Count))
		t.keyNum("length", l.Length)
		t.keyNum("tube", l.Tube)
		t.keyNum("mass", l.Mass)
		t.keyNum("shorter", l.In)
		t.keyNum("longer", l.Out)
		t.keyNum("turn", l.Turn)
		t.close('}')
	}
	t.close(']')
	t.close('}')
	_, err := w.Write(append(t.b, '\n'))
	return err
}

func linksTable(w io.Writer, j *job.Job, trial string, list []sheets.Linked) error {
	unit := unitOf(j)
	t := table{heads: [][]string{{"link", "how many", "centre to centre", "tube to cut", "mass", "screws in, out", "a turn"}, {"", "", unit, unit, "kg", unit, unit}}, left: []bool{true, false, false, false, false, false, false}}
	for i := range list {
		l := &list[i]
		screws := ""
		if l.In > 0 {
			screws = shown(l.In, unit) + ", " + shown(l.Out, unit)
		}
		t.rows = append(t.rows, []string{l.Name, fmt.Sprint(l.Count), shown(l.Length, unit), shown(l.Tube, unit), fixed(l.Mass, 2), screws, shown(l.Turn, unit)})
	}
	fmt.Fprintln(w, heading(j, trial))
	if err := t.write(w); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "\nA tube without a figure: say what both its ends take of the link (\"takes\").\n%s\n", paper.Caution)
	return err
}

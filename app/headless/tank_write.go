package headless

import (
	"fmt"
	"io"
	"math"
	"strings"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/geometry/vessel"
	"axleloft/plotting/paper"
)

func tankWriter(c *tankCmd, j *job.Job, list []*tankWork) func(io.Writer) error {
	return func(w io.Writer) error {
		switch c.Format {
		case "json":
			var t jsonText
			if c.All {
				t.open('{')
				t.key("tanks")
				t.open('[')
			}
			for _, k := range list {
				k.json(&t, c, j)
			}
			if c.All {
				t.close(']')
				t.close('}')
			}
			_, err := w.Write(append(t.b, '\n'))
			return err
		case "csv":
			return tankCSV(w, c, list)
		}
		for i, k := range list {
			if i > 0 {
				if _, err := io.WriteString(w, "\n"); err != nil {
					return err
				}
			}
			if err := k.table(w, c, j, i == 0, i == len(list)-1); err != nil {
				return err
			}
		}
		return nil
	}
}

// tankCSV has the sections, the cuts or the dip table; of all tanks, and of a dip table always, with the tank's name first.
func tankCSV(w io.Writer, c *tankCmd, list []*tankWork) error {
	head, rowsOf, named := dipHead, (*tankWork).dipRows, true
	switch {
	case len(c.Section) > 0:
		head, rowsOf, named = []string{"axis", "station_mm", "loop", "x_mm", "y_mm", "z_mm"}, (*tankWork).sectionRows, c.All
	case c.Cuts:
		head, rowsOf, named = []string{"of", "kind", "cut", "lost_l", "faces"}, (*tankWork).cutRows, c.All
	}
	if named {
		head = append([]string{"vessel"}, head...)
	}
	var rows [][]string
	for _, k := range list {
		for _, row := range rowsOf(k) {
			if named {
				row = append([]string{plain(k.Vessel.Name)}, row...)
			}
			rows = append(rows, row)
		}
	}
	return writeCSV(w, head, rows)
}

var dipHead = []string{"depth_mm", "before_l", "after_l"}

// WriteDip writes a tank's dip table as CSV: the tank's name, depth, litres before the cut, litres after it.
func WriteDip(w io.Writer, tank string, levels []vessel.Level) error {
	rows := (&tankWork{dip: levels}).dipRows()
	for i := range rows {
		rows[i] = append([]string{plain(tank)}, rows[i]...)
	}
	return writeCSV(w, append([]string{"vessel"}, dipHead...), rows)
}

func (k *tankWork) dipRows() (rows [][]string) {
	for _, l := range k.dip {
		rows = append(rows, []string{number(l.Depth), number(l.Before), number(l.After)})
	}
	return rows
}

func (k *tankWork) cutRows() (rows [][]string) {
	put := func(place string, list []vessel.Cut) {
		for i := range list {
			rows = append(rows, []string{place, list[i].Kind, plain(list[i].Words), number(list[i].Litres), fmt.Sprint(list[i].Folds)})
		}
	}
	put("chosen", k.Plan)
	put("all", k.Cuts)
	for i, list := range k.Apart {
		put(fmt.Sprint("place ", i+1), list)
	}
	return rows
}

func (k *tankWork) sectionRows() (rows [][]string) {
	for _, s := range k.sections {
		for n, loop := range s.Loops {
			for _, p := range loop {
				rows = append(rows, []string{"xyz"[s.Axis : s.Axis+1], number(s.At), fmt.Sprint(n + 1), number(p.X), number(p.Y), number(p.Z)})
			}
		}
	}
	return rows
}

func (k *tankWork) json(t *jsonText, c *tankCmd, j *job.Job) {
	t.open('{')
	t.keyStr("job", j.Title)
	t.keyStr("trial", c.Trial)
	t.keyStr("vessel", k.Vessel.Name)
	t.keyNum("litres", k.Vessel.Litres)
	t.keyNum("usGallons", k.Vessel.Litres/vessel.USGallon)
	t.keyNum("imperialGallons", k.Vessel.Litres/vessel.ImperialGallon)
	if k.Vessel.Why != "" {
		t.keyStr("why", k.Vessel.Why)
	}
	if c.Margin != nil {
		t.keyNum("margin", *c.Margin)
	}
	t.line()
	t.key("keepOut")
	t.open('{')
	least, most := k.Keep.Least, k.Keep.Most
	if k.Vessel.Why != "" {
		least, most = math.NaN(), math.NaN()
	}
	t.keyNum("atLeast", least)
	t.keyNum("atMost", most)
	t.keyBool("proved", k.Keep.Proved)
	if k.Keep.Last > 0 {
		t.keyNum("butLast", k.Keep.Last) // mm of travel before the links end it: only tried at positions
	}
	t.key("by")
	t.open('[')
	for _, p := range k.Keep.Parts {
		t.str(k.s.Gaps.Parts[p].Name)
	}
	t.close(']')
	t.close('}')
	t.line()
	t.key("pairs")
	t.open('[')
	for _, i := range k.Pairs {
		gapJSON(t, k.s, i, &k.s.Smallest[i])
	}
	t.close(']')
	t.line()
	t.key("chosen")
	t.open('{')
	t.keyNum("lost", k.Vessel.Lost(k.Plan))
	t.keyNum("left", k.Vessel.Litres-k.Vessel.Lost(k.Plan))
	t.key("cuts")
	cutsJSON(t, k.Plan)
	t.close('}')
	t.line()
	t.key("cuts")
	cutsJSON(t, k.Cuts)
	t.line()
	t.key("apart")
	t.open('[')
	for _, list := range k.Apart {
		cutsJSON(t, list)
	}
	t.close(']')
	t.line()
	k.useJSON(t)
	t.line()
	t.keyNum("tiltX", c.TiltX)
	t.keyNum("tiltY", c.TiltY)
	t.key("dip")
	t.open('[')
	for _, l := range k.dip {
		t.open('{')
		t.keyNum("depth", l.Depth)
		t.keyNum("before", l.Before)
		t.keyNum("after", l.After)
		t.close('}')
	}
	t.close(']')
	t.line()
	t.key("sections")
	t.open('[')
	for _, s := range k.sections {
		t.line()
		t.open('{')
		t.keyStr("axis", "xyz"[s.Axis:s.Axis+1])
		t.keyNum("station", s.At)
		t.key("loops")
		loopsJSON(t, s.Loops)
		t.close('}')
	}
	t.close(']')
	t.line()
	t.keyStr("caution", study.TankCaution)
	t.close('}')
}

func (k *tankWork) useJSON(t *jsonText) {
	t.key("usable")
	if !k.useKnown {
		t.raw("null")
		return
	}
	t.open('{')
	t.keyNum("before", k.use.Before)
	t.keyNum("after", k.use.After)
	for _, list := range []struct {
		key string
		of  []string
	}{{"given", k.use.Given}, {"inCut", k.use.Cut}} {
		t.key(list.key)
		t.open('[')
		for _, s := range list.of {
			t.str(s)
		}
		t.close(']')
	}
	t.close('}')
}

func cutsJSON(t *jsonText, list []vessel.Cut) {
	t.open('[')
	for i := range list {
		c := &list[i]
		t.line()
		t.open('{')
		t.keyStr("kind", c.Kind)
		t.keyStr("words", c.Words)
		t.keyNum("lost", c.Litres)
		t.keyNum("faces", float64(c.Folds))
		t.key("sizes")
		t.open('[')
		for _, s := range c.Sizes {
			t.open('{')
			t.keyStr("face", s.Face)
			t.keyNum("from", s.From)
			t.keyNum("to", s.To)
			if s.At != "" {
				t.keyStr("where", s.At)
			}
			t.close('}')
		}
		t.close(']')
		t.close('}')
	}
	t.close(']')
}

func (k *tankWork) table(w io.Writer, c *tankCmd, j *job.Job, first, last bool) error {
	var b strings.Builder
	unit := unitOf(j)
	if first {
		fmt.Fprintln(&b, heading(j, c.Trial))
	}
	fmt.Fprintln(&b, k.GrossWords())
	for _, i := range k.Nearest() {
		fmt.Fprintln(&b, k.NearWords(i, func(mm float64) string { return shown(mm, unit) + " " + unit }))
	}
	for _, words := range k.TakenWords() {
		fmt.Fprintln(&b, words)
	}
	if len(k.Plan) > 0 {
		lost := k.Vessel.Lost(k.Plan)
		head := "The simplest cut that loses nearly least"
		if len(k.Plan) > 1 {
			head = "Places apart, a simple cut for each"
		}
		fmt.Fprintf(&b, "\n%s (whole mm in from the tank's outermost faces; all that may be taken lies within; of cuts within %g L or %g %% of the one that loses least the one with fewest faces):\n",
			head, vessel.NearLitres, 100*vessel.NearShare)
		for i := range k.Plan {
			fmt.Fprintf(&b, "  %s. Loses %s L.\n", k.Plan[i].Words, fixed(k.Plan[i].Litres, 1))
		}
		fmt.Fprintf(&b, "  Loses %s in all, leaves %s.\n", study.Volume(lost), study.Volume(k.Vessel.Litres-lost))
		k.others(&b)
	}
	if k.Keep.Most > 0 && len(k.Plan) == 0 {
		fmt.Fprintln(&b, "\nNo simple cut clears it and leaves anything: move the tank, or what comes near it.")
	}
	if k.useKnown {
		fmt.Fprintf(&b, "\nUsable by %s: %s before, %s after the cut.\n", strings.Join(k.use.Given, ", "), study.Volume(k.use.Before), study.Volume(k.use.After))
		for _, name := range k.use.Cut {
			fmt.Fprintf(&b, "The %s lies in the cut: it must go elsewhere.\n", name)
		}
	}
	for _, s := range k.sections {
		fmt.Fprintf(&b, "\nSection of the keep-out at %c = %s mm, within the tank: ", "XYZ"[s.Axis], fixed(s.At, 1))
		if len(s.Loops) == 0 {
			fmt.Fprintln(&b, "nothing.")
			continue
		}
		fmt.Fprintf(&b, "%s; --format csv has its corners.\n", outlines(len(s.Loops)))
	}
	if k.Vessel.Why == "" {
		fmt.Fprintf(&b, "\nDip table, tilted %s deg about X (left side up), %s deg about Y (nose down):\n", fixed(c.TiltX, 1), fixed(c.TiltY, 1))
		t := table{heads: [][]string{{"depth", "before", "after"}, {unit, "L", "L"}}, left: make([]bool, 3)}
		for _, l := range k.dip {
			t.rows = append(t.rows, []string{shown(l.Depth, unit), fixed(l.Before, 1), fixed(l.After, 1)})
		}
		if err := t.write(&b); err != nil {
			return err
		}
	}
	fmt.Fprintf(&b, "\n%s\n", study.OnlyMoving)
	if last {
		fmt.Fprintf(&b, "%s\n%s\n%s\n", study.TankCaution, onlyDrawn, paper.Caution)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// mostTold is how many other cuts a table lists, faces cut back whole aside.
const mostTold = 5

// others are the cuts not chosen, those of the whole keep-out in one.
func (k *tankWork) others(b *strings.Builder) {
	fmt.Fprintln(b, "Others, each for the whole keep-out:")
	told := 0
	for i := range k.Cuts {
		if len(k.Plan) == 1 && k.Cuts[i].Words == k.Plan[0].Words {
			continue
		}
		if told++; told > mostTold && k.Cuts[i].Kind != "face" {
			continue // csv and json have them all
		}
		fmt.Fprintf(b, "  %s. Loses %s L.\n", k.Cuts[i].Words, fixed(k.Cuts[i].Litres, 1))
	}
}

func outlines(n int) string {
	if n == 1 {
		return "one outline"
	}
	return fmt.Sprint(n, " outlines")
}

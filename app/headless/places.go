package headless

import (
	"fmt"
	"io"
	"strings"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/plotting/paper"

	"gonum.org/v1/gonum/spatial/r3"
)

type placesCmd struct {
	common
	Pivot string  `placeholder:"NAME" help:"The pivot: \"Upper left, frame end\"."`
	View  string  `enum:"side,rear,plan,all" default:"all" help:"side (X and Z), rear (Y and Z), plan (X and Y), or all of them."`
	Fine  float64 `placeholder:"MM" default:"10" help:"Width of the squares along borders: 5, 10, 20 or 40 mm; 10 where left out."`
}

// Help is what --help adds.
func (*placesCmd) Help() string {
	return fmt.Sprintf("Where a pivot could sit: within %.0f mm of where it is, in planes through it, its twin with it and its third coordinate as it is, over the whole range. A place is free where every gap wanted is kept; tight; runs out (a joint, the "+
		"driveshaft, a line past its limit, or travel lost); hits; or it cannot be. Pairs the pivot's member takes no part in count where they get worse. Only middles of squares are looked at: what is narrower than a square can be missed.", study.PlaceReach)
}

// placeViews are the maps by the view they are seen in.
var placeViews = []string{"side", "rear", "plan"}

// Run writes where a pivot could sit.
func (c *placesCmd) Run(e *env) error {
	if c.Fine != 5 && c.Fine != 10 && c.Fine != 20 && c.Fine != 40 {
		return fail(wrong, "--fine %v: give 5, 10, 20 or 40 mm.", c.Fine)
	}
	j, err := e.loadMovable(&c.common)
	if err != nil {
		return err
	}
	pivot, err := pivotNamed(j, c.Pivot)
	if err != nil {
		return err
	}
	s, err := e.study(j, closeEnough)
	if err != nil {
		return err
	}
	bar := e.progress(-1, "places")
	looked := 0
	q, err := s.Places(e.ctx, pivot, c.Fine, func(q *study.Places) {
		bar.add(q.Looked - looked)
		looked = q.Looked
	})
	bar.end()
	switch {
	case e.ctx.Err() != nil:
		return fail(couldNot, "")
	case err != nil:
		return fail(wrong, "%v", err)
	}
	if err := e.output(c.Out, func(w io.Writer) error {
		switch c.Format {
		case "csv":
			return c.csv(w, q)
		case "json":
			return c.json(w, j, q)
		}
		return c.table(w, j, q)
	}); err != nil {
		return err
	}
	return e.strict(&c.common, j, s)
}

// maps are the maps asked for.
func (c *placesCmd) maps() (list []int) {
	for m, view := range placeViews {
		if c.View == "all" || c.View == view {
			list = append(list, m)
		}
	}
	return list
}

// middle is where the middle of a square lies, body axes.
func middle(m *study.PlaceMap, p *study.PlaceCell) r3.Vec {
	at := [3]float64{m.At.X, m.At.Y, m.At.Z}
	at[m.U], at[m.V] = p.U, p.V
	return r3.Vec{X: at[0], Y: at[1], Z: at[2]}
}

func (c *placesCmd) table(w io.Writer, j *job.Job, q *study.Places) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\nWhere %s could sit: at X %s, Y %s, Z %s %s now.\n%s\n%s\n\n", heading(j, c.Trial), c.Pivot, shown(q.At.X, unitOf(j)), shown(q.At.Y, unitOf(j)), shown(q.At.Z, unitOf(j)), unitOf(j), q.HereWords(), q.HowWords())
	t := table{heads: [][]string{{"view", "squares", "free", "tight", "runs out", "hits", "cannot be", "of the area free"}}, left: []bool{true, false, false, false, false, false, false, false}}
	for _, m := range c.maps() {
		var n [study.PlaceStates]int
		free, all := 0.0, 0.0
		for i := range q.Maps[m].Cells {
			p := &q.Maps[m].Cells[i]
			n[p.State]++
			all += p.Size * p.Size
			if p.State == study.PlaceFree {
				free += p.Size * p.Size
			}
		}
		row := []string{placeViews[m], fmt.Sprint(len(q.Maps[m].Cells))}
		for _, k := range n {
			row = append(row, fmt.Sprint(k))
		}
		t.rows = append(t.rows, append(row, fmt.Sprintf("%.0f %%", 100*free/all)))
	}
	if err := t.write(&b); err != nil {
		return err
	}
	fmt.Fprintf(&b, "\nEvery square is in --format csv and json. %s\n%s\n", onlyDrawn, paper.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

func (c *placesCmd) csv(w io.Writer, q *study.Places) error {
	var rows [][]string
	for _, m := range c.maps() {
		for i := range q.Maps[m].Cells {
			p := &q.Maps[m].Cells[i]
			at := middle(&q.Maps[m], p)
			row := []string{placeViews[m], number(at.X), number(at.Y), number(at.Z), number(p.Size), p.State.String(), plain(p.A), plain(p.B), "", "", "", "", plain(p.Why), fmt.Sprint(p.Proved)}
			if p.A != "" {
				row[8], row[9], row[10], row[11] = number(p.Gap), number(p.Wanted), number(p.Left), number(p.Right)
			}
			rows = append(rows, row)
		}
	}
	return writeCSV(w, []string{"view", "x_mm", "y_mm", "z_mm", "square_mm", "state", "part", "other", "gap_mm", "wanted_mm", "left_mm", "right_mm", "why", "proved"}, rows)
}

func (c *placesCmd) json(w io.Writer, j *job.Job, q *study.Places) error {
	var t jsonText
	point := func(v r3.Vec) {
		t.open('[')
		for _, x := range vec(v) {
			t.num(x)
		}
		t.close(']')
	}
	place := func(p *study.Place) {
		t.keyStr("state", p.State.String())
		if p.A != "" {
			t.keyStr("part", p.A)
			t.keyStr("other", p.B)
			t.keyNum("gap", p.Gap)
			t.keyNum("wanted", p.Wanted)
			t.keyNum("left", p.Left)
			t.keyNum("right", p.Right)
		}
		if p.Why != "" {
			t.keyStr("why", p.Why)
		}
		t.keyBool("proved", p.Proved)
	}
	t.open('{')
	t.keyStr("job", j.Title)
	t.keyStr("trial", c.Trial)
	t.keyStr("pivot", c.Pivot)
	t.key("at")
	point(q.At)
	t.key("here")
	t.open('{')
	place(&q.Here)
	t.close('}')
	t.line()
	t.key("ways")
	t.open('[')
	for i := range q.Ways {
		k := &q.Ways[i]
		t.line()
		t.open('{')
		t.keyStr("axis", k.Axis.String())
		t.keyNum("sign", k.Sign)
		t.keyNum("far", k.Far)
		t.keyBool("ends", k.End)
		if k.End {
			t.key("by")
			t.open('{')
			place(&k.By)
			t.close('}')
		}
		t.close('}')
	}
	t.close(']')
	t.line()
	t.key("maps")
	t.open('[')
	for _, m := range c.maps() {
		t.line()
		t.open('{')
		t.keyStr("view", placeViews[m])
		t.key("squares")
		t.open('[')
		for i := range q.Maps[m].Cells {
			p := &q.Maps[m].Cells[i]
			t.line()
			t.open('{')
			t.key("at")
			point(middle(&q.Maps[m], p))
			t.keyNum("size", p.Size)
			place(&p.Place)
			t.close('}')
		}
		t.close(']')
		t.close('}')
	}
	t.close(']')
	t.line()
	t.keyStr("caution", paper.Caution)
	t.close('}')
	_, err := w.Write(append(t.b, '\n'))
	return err
}

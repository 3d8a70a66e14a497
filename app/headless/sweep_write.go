package headless

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"

	"axleloft/geometry/job"
	"axleloft/geometry/quantity"
	"axleloft/plotting/paper"
)

// asked is what is known of a position without solving it: travels, heave, articulation.
func (r *sweepRun) asked(i int) [4]float64 {
	s := r.spots[i]
	return [4]float64{s.left, s.right, s.heave(), s.articulation(r.m.Track)}
}

// csv writes a line for every position.
func (r *sweepRun) csv(e *env, w io.Writer) error {
	rest := append(append([]column{}, more...), members(r.m)...)
	var head []string
	for _, c := range lead {
		head = append(head, c.name)
	}
	head = append(head, worstAt)
	for _, c := range rest {
		head = append(head, c.name)
	}
	if err := writeCSV(w, head, nil); err != nil {
		return err
	}
	return r.chunks(e, func(b []byte, i int, v *quantity.Values) []byte {
		if v == nil {
			for k, x := range r.asked(i) {
				if k > 0 {
					b = append(b, ',')
				}
				b = appendNumber(b, x)
			}
			for range len(head) - 4 {
				b = append(b, ',')
			}
			return append(b, '\n')
		}
		for _, c := range lead {
			b = append(appendNumber(b, c.of(v)), ',')
		}
		b = appendCell(b, quantity.WorstName(r.m, v))
		for _, c := range rest {
			b = appendNumber(append(b, ','), c.of(v))
		}
		return append(b, '\n')
	}, func(b []byte) error {
		_, err := w.Write(b)
		return err
	})
}

// appendCell writes words as a CSV cell.
func appendCell(b []byte, s string) []byte {
	var buf bytes.Buffer
	w := csv.NewWriter(&buf)
	_ = w.Write([]string{s, ""}) // a buffer takes everything
	w.Flush()
	return append(b, bytes.TrimSuffix(buf.Bytes(), []byte(",\n"))...)
}

// json writes the positions, one a line.
func (r *sweepRun) json(e *env, w io.Writer) error {
	if _, err := io.WriteString(w, `{"poses": [`); err != nil {
		return err
	}
	err := r.chunks(e, func(b []byte, i int, v *quantity.Values) []byte {
		if i > 0 {
			b = append(b, ',')
		}
		t := jsonText{b: append(b, '\n')}
		r.pose(&t, i, v)
		return t.b
	}, func(b []byte) error {
		_, err := w.Write(b)
		return err
	})
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, "\n]}\n")
	return err
}

// pose writes one position as JSON; v is nil where it was not reached.
func (r *sweepRun) pose(t *jsonText, i int, v *quantity.Values) {
	t.open('{')
	t.keyNum("left", r.spots[i].left)
	t.keyNum("right", r.spots[i].right)
	t.keyBool("reached", v != nil)
	if v == nil {
		for k, x := range r.asked(i) {
			t.keyNum(lead[k].name, x)
		}
		for _, c := range lead[4:] {
			t.keyNull(c.name)
		}
		t.keyNull(worstAt)
		for _, c := range more {
			t.keyNull(c.name)
		}
		for _, k := range []string{"links", "struts", "stops", "straps", "lines", "sensors"} {
			t.key(k)
			t.raw("[]")
		}
		t.close('}')
		return
	}
	for _, c := range lead {
		t.keyNum(c.name, c.of(v))
	}
	if name := quantity.WorstName(r.m, v); name != "" {
		t.keyStr(worstAt, name)
	} else {
		t.keyNull(worstAt)
	}
	for _, c := range more {
		t.keyNum(c.name, c.of(v))
	}
	r.members(t, v)
	t.close('}')
}

func (r *sweepRun) members(t *jsonText, v *quantity.Values) {
	list := func(key string, n int, one func(i int)) {
		t.key(key)
		t.open('[')
		for i := range n {
			t.open('{')
			one(i)
			t.close('}')
		}
		t.close(']')
	}
	list("links", len(r.m.Links), func(i int) {
		u := &v.Links[i]
		t.keyStr("name", r.m.Links[i].Name)
		t.keyNum("length", u.Length)
		t.keyNum("stretch", u.Stretch)
		t.keyNum("force", u.Force)
		for _, end := range []struct {
			key string
			use *quantity.EndUse
		}{{"frameEnd", &u.FrameEnd}, {"axleEnd", &u.AxleEnd}} {
			t.key(end.key)
			t.open('{')
			t.keyNum("misalignment", degrees(end.use.Misalignment))
			t.keyNum("torsion", degrees(end.use.Torsion))
			t.keyNum("utilisation", end.use.Use)
			t.close('}')
		}
	})
	list("struts", len(r.m.Struts), func(i int) {
		u := &v.Struts[i]
		t.keyStr("name", r.m.Struts[i].Name)
		t.keyNum("length", u.Length)
		t.keyNum("lean", degrees(u.Lean))
		t.keyNum("ratioHeave", u.RatioHeave)
		t.keyNum("ratioRoll", u.RatioRoll)
		t.keyNum("frameTilt", degrees(u.FrameTilt))
		t.keyNum("axleTilt", degrees(u.AxleTilt))
	})
	list("stops", len(r.m.Stops), func(i int) {
		t.keyStr("name", r.m.Stops[i].Name)
		t.keyNum("length", v.Stops[i].Length)
		t.keyNum("off", v.Stops[i].Off)
	})
	list("straps", len(r.m.Straps), func(i int) {
		t.keyStr("name", r.m.Straps[i].Name)
		t.keyNum("length", v.Straps[i])
	})
	list("lines", len(r.m.Lines), func(i int) {
		t.keyStr("name", r.m.Lines[i].Name)
		t.keyNum("span", v.Lines[i])
	})
	list("sensors", 0, nil) // a job with sensors is refused before
}

// table writes the quantities one looks at first.
func (r *sweepRun) table(e *env, w io.Writer, j *job.Job, c *common) error {
	unit := unitOf(j)
	length := func(of func(*quantity.Values) float64) func(*quantity.Values) string {
		return func(v *quantity.Values) string { return shown(of(v), unit) }
	}
	digits := func(n int, of func(*quantity.Values) float64) func(*quantity.Values) string {
		return func(v *quantity.Values) string { return fixed(of(v), n) }
	}
	cols := []struct {
		name, unit string
		text       func(*quantity.Values) string
	}{
		{"left", unit, length(func(v *quantity.Values) float64 { return v.Left })},
		{"right", unit, length(func(v *quantity.Values) float64 { return v.Right })},
		{"pinion", "deg", digits(1, func(v *quantity.Values) float64 { return v.PinionDeg })},
		{"anti-squat", "%", digits(0, func(v *quantity.Values) float64 { return v.AntiSquatPct })},
		{"anti-lift", "%", digits(0, func(v *quantity.Values) float64 { return v.AntiLiftPct })},
		{"roll centre", unit, length(func(v *quantity.Values) float64 { return v.RollCentre })},
		{"roll steer", "%", digits(1, func(v *quantity.Values) float64 { return v.RollSteerPct })},
		{"steer", "deg", digits(2, func(v *quantity.Values) float64 { return v.SteerDeg })},
		{"side shift", unit, length(func(v *quantity.Values) float64 { return v.Y })},
		{"square", unit, length(func(v *quantity.Values) float64 { return v.Squareness })},
		{"joint front", "deg", digits(1, func(v *quantity.Values) float64 { return v.ShaftFrontDeg })},
		{"joint rear", "deg", digits(1, func(v *quantity.Values) float64 { return v.ShaftRearDeg })},
		{"slip", unit, length(func(v *quantity.Values) float64 { return v.Slip })},
		{"joint use", "%", digits(0, func(v *quantity.Values) float64 { return 100 * v.WorstBind })},
		{"closest joint", "", func(v *quantity.Values) string { return quantity.WorstName(r.m, v) }},
	}
	t := table{heads: make([][]string, 2), left: make([]bool, len(cols)), rows: make([][]string, len(r.spots))}
	for _, c := range cols {
		t.heads[0] = append(t.heads[0], c.name)
		t.heads[1] = append(t.heads[1], c.unit)
	}
	t.left[len(cols)-1] = true
	err := r.chunks(e, func(b []byte, i int, v *quantity.Values) []byte {
		row := make([]string, len(cols))
		t.rows[i] = row
		if v == nil {
			row[0], row[1], row[len(cols)-1] = shown(r.spots[i].left, unit), shown(r.spots[i].right, unit), "cannot be reached"
			return b
		}
		for k := range cols {
			row[k] = cols[k].text(v)
		}
		return b
	}, func([]byte) error { return nil })
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "%s\n%s\n\n", heading(j, c.Trial), r.basis())
	if err := t.write(w); err != nil {
		return err
	}
	_, err = fmt.Fprintf(w, "\n%s\n%s\n", signs, paper.Caution)
	return err
}

const signs = "Travel: bump +. Pinion: nose up +. Roll steer: toward oversteer +. Steer and side shift: to the left +. Square: left side longer +. Slip: longer +. Roll centre above ground."

// basis says which load and which ground the figures are for.
func (r *sweepRun) basis() string {
	ground := "the ground stays level with the axle's wheels"
	if r.m.FrontStill {
		ground = "the front stays, the ground runs from its wheels to the axle's"
	}
	if !r.load.Has {
		return "No load given: no anti-squat, no anti-lift; " + ground + "."
	}
	text := "Load: " + r.load.Name
	if r.load.Heave != 0 && !math.IsNaN(r.load.Heave) {
		text += fmt.Sprintf(" (stands at %s mm)", fixed(r.load.Heave, 0))
	}
	return text + "; " + ground + "."
}

package headless

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
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
		r.members(t, nil)
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

// table writes the quantities one looks at first.
func (r *sweepRun) table(e *env, w io.Writer, j *job.Job, c *common) error {
	unit := unitOf(j)
	length := func(of func(*quantity.Values) float64) func(*quantity.Values) string {
		return func(v *quantity.Values) string { return shown(of(v), unit) }
	}
	digits := func(n int, of func(*quantity.Values) float64) func(*quantity.Values) string {
		return func(v *quantity.Values) string { return fixed(of(v), n) }
	}
	type col struct {
		name, unit string
		text       func(*quantity.Values) string
	}
	m := r.m
	cols := []col{
		{"left", unit, length(func(v *quantity.Values) float64 { return v.Left })},
		{"right", unit, length(func(v *quantity.Values) float64 { return v.Right })},
		{"pinion", "deg", digits(1, func(v *quantity.Values) float64 { return v.PinionDeg })},
	}
	if m.FrontStill {
		cols = append(cols, col{"to ground", "deg", digits(1, func(v *quantity.Values) float64 { return v.PinionGroundDeg })})
	}
	cols = append(cols,
		col{"anti-squat", "%", digits(0, func(v *quantity.Values) float64 { return v.AntiSquatPct })},
		col{"anti-lift", "%", digits(0, func(v *quantity.Values) float64 { return v.AntiLiftPct })},
		col{"roll centre", unit, length(func(v *quantity.Values) float64 { return v.RollCentre })},
		col{"roll steer", "%", digits(1, func(v *quantity.Values) float64 { return v.RollSteerPct })},
		col{"steer", "deg", digits(2, func(v *quantity.Values) float64 { return v.SteerDeg })},
		col{"side shift", unit, length(func(v *quantity.Values) float64 { return v.Y })},
		col{"square", unit, length(func(v *quantity.Values) float64 { return v.Squareness })},
		col{"joint front", "deg", digits(1, func(v *quantity.Values) float64 { return v.ShaftFrontDeg })})
	if m.Drive.TwoPiece {
		cols = append(cols, col{"bearing", "deg", digits(1, func(v *quantity.Values) float64 { return v.ShaftBearingDeg })})
	}
	cols = append(cols,
		col{"joint rear", "deg", digits(1, func(v *quantity.Values) float64 { return v.ShaftRearDeg })},
		col{"slip", unit, length(func(v *quantity.Values) float64 { return v.Slip })})
	if !math.IsNaN(m.Drive.Speed) {
		cols = append(cols,
			col{"torsional", "rad/s2", digits(0, func(v *quantity.Values) float64 { return v.Torsional })},
			col{"inertia front", "rad/s2", digits(0, func(v *quantity.Values) float64 { return v.InertiaFront })},
			col{"inertia rear", "rad/s2", digits(0, func(v *quantity.Values) float64 { return v.InertiaRear })})
	}
	if m.OverLocated {
		cols = append(cols, col{"forced", "N", func(v *quantity.Values) string {
			_, force := r.forced(v)
			return fixed(force, 0)
		}}, col{"most at", "", func(v *quantity.Values) string {
			name, _ := r.forced(v)
			return name
		}})
	}
	cols = append(cols,
		col{"joint use", "%", digits(0, func(v *quantity.Values) float64 { return 100 * v.WorstBind })},
		col{"closest joint", "", func(v *quantity.Values) string { return closestJoint(m, v) }})
	t := table{heads: make([][]string, 2), left: make([]bool, len(cols)), rows: make([][]string, len(r.spots))}
	for _, c := range cols {
		t.heads[0] = append(t.heads[0], c.name)
		t.heads[1] = append(t.heads[1], c.unit)
	}
	for k := range cols {
		t.left[k] = cols[k].unit == ""
	}
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

// forced is the member that is stretched or gives with the largest force, N, and where; no name where the force would print as 0.
func (r *sweepRun) forced(v *quantity.Values) (name string, force float64) {
	const nothing = 0.5
	take := func(what string, f float64) {
		if f = math.Abs(f); f > force {
			name, force = what, f
		}
	}
	for i := range r.m.Distances {
		d := &r.m.Distances[i]
		take(d.Name, v.Pull(d))
	}
	for i := range r.m.Joints {
		if k := &r.m.Joints[i]; k.Of == motion.OnArm && r.m.Arms[k.Member].Radius {
			take(k.Name, v.Arms[k.Member].GiveForces[k.Sub])
		}
	}
	if force < nothing {
		return "", force
	}
	return name, force
}

// basis says which load and which ground the figures are for.
func (r *sweepRun) basis() string {
	ground := "the ground stays level with the axle's wheels"
	if r.m.FrontStill {
		ground = "the front stays, the ground runs from its wheels to the axle's"
	}
	text := "Load: " + r.load.Name
	switch {
	case !r.load.Has:
		text = "No load given: no anti-squat, no anti-lift"
	case r.load.Heave != 0 && !math.IsNaN(r.load.Heave):
		text += fmt.Sprintf(" (stands at %s mm)", fixed(r.load.Heave, 0))
	}
	text += "; " + ground + "."
	if w := r.m.Drive.Speed; !math.IsNaN(w) {
		rpm := w * 60 / (2 * math.Pi)
		text += fmt.Sprintf("\nShaft at %s rev/min. Practice (%s, never a limit): torsional up to %s, inertia up to %s rad/s2",
			fixed(rpm, 0), quantity.PracticeFrom, fixed(quantity.TorsionalAdvice, 0), fixed(quantity.InertiaAdvice, 0))
		if angle, ok := quantity.PracticeJointAngle(math.Round(rpm*1e6) / 1e6); ok {
			text += fmt.Sprintf(", joints up to %s deg", fixed(angle, 1))
		}
		text += "."
	}
	return text
}

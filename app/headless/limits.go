package headless

import (
	"fmt"
	"io"
	"math"
	"runtime"
	"strings"

	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/plotting/paper"
)

type limitsCmd struct{ common }

// Help is what --help adds.
func (*limitsCmd) Help() string {
	return "The range of wheel travel and, in 24 directions from ride height, everything met in order; the first is the stop. Directions: 0 deg is the left wheel up alone, 45 both up, 90 the right wheel up alone, " +
		"135 crossed up with the right wheel up, 225 both down. A gap below the one wanted is no stop, nor is the rubber of a bump stop, which is told in its order beside. " +
		"Then the get-home cases (a strut down on its stop or fully closed, the other at its ride length, and both down), and over the whole range: slip, each line's longest and shortest span, each height sensor's lever. " +
		"Travel in mm (or the job's inches in the table), bump +, droop -; slip in mm, + longer; angles in deg, pinion + nose up, lean of the frame + down on the left, a lever's turn right-hand about its shaft's axis."
}

// Run writes what stops the axle.
func (c *limitsCmd) Run(e *env) error {
	j, err := e.loadMovable(&c.common)
	if err != nil {
		return err
	}
	p := e.progress(-1, "marching")
	s := study.Limits(e.ctx, j, runtime.GOMAXPROCS(0))
	p.end()
	if s == nil {
		return fail(couldNot, "")
	}
	if s.RangeNote != "" {
		if _, err := limits.Find(s.Mech, 4); err != nil { // ride height itself lies outside a limit
			return fail(wrong, "%s", s.RangeNote)
		}
		e.say("%s", s.RangeNote)
	}
	err = e.output(c.Out, func(w io.Writer) error {
		switch c.Format {
		case "csv":
			return limitsCSV(w, s)
		case "json":
			return limitsJSON(w, s)
		}
		return limitsTable(w, j, c.Trial, s)
	})
	if err != nil {
		return err
	}
	return e.strict(&c.common, j, nil)
}

// limitsCSV writes the ring, a line each thing met (that of rubber without an order), then a line each figure of the rest: what it is, the travels it
// is at, and its value.
func limitsCSV(w io.Writer, s *study.Study) error {
	var rows [][]string
	for _, r := range s.Ring {
		for i, b := range r.By {
			rows = append(rows, []string{number(r.Angle), number(float64(i + 1)), b.What, number(b.Left), number(b.Right), "", ""})
		}
		for _, b := range r.Rubber {
			rows = append(rows, []string{number(r.Angle), "", b.What, number(b.Left), number(b.Right), "", ""})
		}
		if len(r.By)+len(r.Rubber) == 0 {
			rows = append(rows, []string{number(r.Angle), "", "", "", "", "", ""})
		}
	}
	for _, f := range limitFigures(s) {
		rows = append(rows, []string{"", "", f.what, number(f.left), number(f.right), number(f.value), f.unit})
	}
	return writeCSV(w, []string{"angle_deg", "order", "what", "left_mm", "right_mm", "value", "unit"}, rows)
}

// rangeJSON writes the key "range"; null for what the job does not bound.
func rangeJSON(t *jsonText, s *study.Study) {
	t.key("range")
	t.open('{')
	r := s.Range
	if !s.Bounded() {
		r = &limits.Range{Bump: math.NaN(), Droop: math.NaN()}
	}
	t.keyNum("bump", r.Bump)
	t.keyNum("droop", r.Droop)
	for k, c := range []*limits.Corner{r.LeftUp, r.RightUp} {
		key := [2]string{"leftUp", "rightUp"}[k]
		if c == nil {
			t.keyNull(key)
			continue
		}
		t.key(key)
		t.open('{')
		t.keyNum("left", c.Left)
		t.keyNum("right", c.Right)
		t.close('}')
	}
	t.close('}')
}

func metJSON(t *jsonText, key string, list []limits.By) {
	t.key(key)
	t.open('[')
	for _, b := range list {
		t.open('{')
		t.keyStr("what", b.What)
		t.keyNum("left", b.Left)
		t.keyNum("right", b.Right)
		t.close('}')
	}
	t.close(']')
}

func limitsJSON(w io.Writer, s *study.Study) error {
	var t jsonText
	t.open('{')
	rangeJSON(&t, s)
	t.line()
	t.key("ring")
	t.open('[')
	for _, r := range s.Ring {
		t.line()
		t.open('{')
		t.keyNum("angle", r.Angle)
		if len(r.By) == 0 {
			t.keyNull("left")
			t.keyNull("right")
		} else {
			t.keyNum("left", r.Left)
			t.keyNum("right", r.Right)
		}
		metJSON(&t, "by", r.By)
		metJSON(&t, "rubber", r.Rubber)
		t.close('}')
	}
	t.close(']')
	t.line()
	homeJSON(&t, s)
	t.line()
	overRangeJSON(&t, s)
	t.close('}')
	_, err := w.Write(append(t.b, '\n'))
	return err
}

func limitsTable(w io.Writer, j *job.Job, trial string, s *study.Study) error {
	unit := unitOf(j)
	t := table{heads: [][]string{{"direction", "", "left", "right", "stopped by", "then"}, {"deg", "", unit, unit, "", ""}},
		left: []bool{false, true, false, false, true, true}}
	for _, r := range s.Ring {
		row := []string{fixed(r.Angle, 0), study.DirectionWords(r.Angle), "", "", "nothing met", ""}
		if len(r.By) > 0 {
			row[2], row[3], row[4] = shown(r.Left, unit), shown(r.Right, unit), s.MetWords(&r.By[0])
			var then []string
			for i := 1; i < len(r.By) && i < 3; i++ {
				b := &r.By[i]
				then = append(then, fmt.Sprintf("%s at %s, %s", s.MetWords(b), shown(b.Left, unit), shown(b.Right, unit)))
			}
			if len(r.Rubber) > 0 {
				b := &r.Rubber[0]
				then = append(then, fmt.Sprintf("%s from %s, %s", b.What, shown(b.Left, unit), shown(b.Right, unit)))
			}
			row[5] = strings.Join(then, "; ")
		}
		t.rows = append(t.rows, row)
	}
	fmt.Fprintln(w, heading(j, trial))
	if words := s.RangeWords(); words != "" {
		fmt.Fprintf(w, "Range: %s.\n", words)
	}
	fmt.Fprint(w, "What stops the axle first, going straight from ride height; travel of each wheel, bump +.\n\n")
	if err := t.write(w); err != nil {
		return err
	}
	if err := overRangeTable(w, s, unit); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "\nParts that overlap at ride height already are left out here; axlesheet check tells them. What touches is found at the positions tried along each direction, not proved; axlesheet clearance proves the smallest gaps. %s\n%s\n", onlyDrawn, paper.Caution)
	return err
}

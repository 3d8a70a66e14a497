package headless

import (
	"encoding/csv"
	"errors"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"axleloft/geometry/job"
)

const mostPositions = 100_000 // of a sweep

// spot is one position asked for, mm of wheel travel.
type spot struct{ left, right float64 }

// heave is the mean of the travels, mm.
func (s spot) heave() float64 { return (s.left + s.right) / 2 }

// articulation is asin((left - right)/track), deg; NaN where there is none.
func (s spot) articulation(track float64) float64 {
	return math.Asin((s.left-s.right)/track) * 180 / math.Pi
}

// span reads FROM:TO:STEP and returns its positions, the end included where a step lands on it to within round-off.
func span(flag, text string) ([]float64, error) {
	parts := strings.Split(text, ":")
	if len(parts) != 3 {
		return nil, fail(wrong, "%s takes FROM:TO:STEP, such as -100:100:5; it was given %q.", flag, text)
	}
	var v [3]float64
	for i, p := range parts {
		n, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil || math.IsNaN(n) || math.IsInf(n, 0) {
			return nil, fail(wrong, "%s takes three numbers, FROM:TO:STEP; %q in %q is none. Use a point for decimals.", flag, p, text)
		}
		v[i] = n
	}
	from, to, step := v[0], v[1], v[2]
	if step == 0 {
		return nil, fail(wrong, "%s %s never gets from %s to %s: the step is 0. Give a step.", flag, text, parts[0], parts[1])
	}
	if (to-from)*step < 0 {
		return nil, fail(wrong, "%s %s never gets from %s to %s: the step has the wrong sign. Use %s:%s:%s.", flag, text, parts[0], parts[1], parts[0], parts[1], number(-step))
	}
	const slack = 1e-9 // of a step: round-off of the quotient at 100 000 steps
	steps := (to - from) / step
	if !(steps < mostPositions) {
		return nil, fail(wrong, "%s %s asks for more than 100 000 positions. Use a larger step.", flag, text)
	}
	n := int(math.Floor(steps+slack)) + 1
	out := make([]float64, n)
	for i := range out {
		out[i] = from + float64(i)*step
	}
	if last := &out[n-1]; math.Abs(*last-to) <= slack*math.Abs(step)*float64(n) {
		*last = to
	}
	return out, nil
}

// grid is every combination of heave, mm, and articulation, deg; heave changes slowest.
func grid(heaves, turns []float64, track float64) ([]spot, error) {
	if len(heaves)*len(turns) > mostPositions {
		return nil, fail(wrong, "--heave and --articulation together ask for %d positions, more than 100 000. Use larger steps.", len(heaves)*len(turns))
	}
	out := make([]spot, 0, len(heaves)*len(turns))
	for _, h := range heaves {
		for _, a := range turns {
			if !(math.Abs(a) < 90) {
				return nil, fail(wrong, "--articulation %s cannot be: articulation is less than 90 deg either way.", number(a))
			}
			half := track / 2 * math.Sin(a*math.Pi/180)
			out = append(out, spot{h + half, h - half})
		}
	}
	return out, nil
}

// readPoses reads positions from a CSV file with the columns left_mm and right_mm; other columns are left alone.
func (e *env) readPoses(name string) ([]spot, error) {
	in := e.stdin
	if name != "-" {
		e.read = append(e.read, name)
		f, err := os.Open(name)
		if err != nil {
			return nil, fail(wrong, "%s: %s.", name, job.MachineWords(err))
		}
		defer f.Close()
		in = f
	}
	r := csv.NewReader(in)
	r.FieldsPerRecord = -1
	r.TrimLeadingSpace = true
	r.ReuseRecord = true
	head, err := r.Read()
	if errors.Is(err, io.EOF) {
		return nil, fail(wrong, "%s is empty. Its first line must be left_mm,right_mm.", name)
	}
	if err != nil {
		return nil, csvFailure(name, err)
	}
	head = slices.Clone(head)
	for i := range head {
		head[i] = strings.TrimSpace(strings.TrimPrefix(head[i], "\ufeff"))
	}
	cols := [2]int{slices.Index(head, "left_mm"), slices.Index(head, "right_mm")}
	if cols[0] < 0 || cols[1] < 0 {
		return nil, fail(wrong, "%s: the first line must name the columns left_mm and right_mm; it is %q.", name, strings.Join(head, ","))
	}
	var out []spot
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, csvFailure(name, err)
		}
		line, _ := r.FieldPos(0)
		var v [2]float64
		for i, c := range cols {
			if c >= len(row) {
				return nil, fail(wrong, "%s, line %d: there is no %s.", name, line, head[c])
			}
			n, err := strconv.ParseFloat(strings.TrimSpace(row[c]), 64)
			if err != nil || math.IsNaN(n) || math.IsInf(n, 0) {
				return nil, fail(wrong, "%s, line %d: %s must be a number of mm; it is %q.", name, line, head[c], row[c])
			}
			v[i] = n
		}
		if len(out) == mostPositions {
			return nil, fail(wrong, "%s holds more than 100 000 positions. Split it.", name)
		}
		out = append(out, spot{v[0], v[1]})
	}
	if len(out) == 0 {
		return nil, fail(wrong, "%s holds no position after its first line.", name)
	}
	return out, nil
}

func csvFailure(name string, err error) error {
	var p *csv.ParseError
	if errors.As(err, &p) {
		return fail(wrong, "%s, line %d: this is not CSV: %v.", name, p.Line, p.Err)
	}
	return fail(wrong, "%s: %s.", name, job.MachineWords(err))
}

package card

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
)

// showMM writes a coordinate in mm: whole, or to a tenth where it has one.
func showMM(mm float64) string {
	v := math.Round(mm*10) / 10
	s := strconv.FormatFloat(math.Abs(v), 'f', -1, 64)
	if v < 0 {
		return measure.Minus + s
	}
	return s
}

// row is what one line of the card says.
type row struct {
	value  string // in the field: as typed, or the coordinate in the shown unit
	first  string // beside it: unit and datum, or what the typed text comes to
	second string // under that: the +- and its source, or "a guess"
	echo   string // the same length in the other unit
	rest   string // what the fraction leaves over
}

// aGuess is said of a coordinate nobody has given.
const aGuess = "a guess"

// rowOf makes the line of one coordinate.
func rowOf(j *job.Job, unit string, p document.Pivot, a edit.Axis, mm float64) row {
	g, given := edit.GivenOf(j, p, a)
	datum, from, counted := edit.DatumOf(j, p, a)
	if counted {
		mm -= from
	}
	tapes, taped := edit.IsTaped(g)
	var r row
	frac, left := measure.Fraction(mm, measure.DefaultDenominator)
	shown, other, rest := showMM(mm), frac, left
	if unit == "in" {
		shown, other, rest = strings.TrimSuffix(frac, " in"), showMM(mm)+" mm", left
	}
	r.value, r.first, r.echo, r.rest = shown, unit, other, rest
	if typed := strings.TrimSpace(g.Typed); given && typed != "" && !plainNumber(typed) {
		r.value = typed
		r.first = "= " + shown + " " + unit
	}
	switch {
	case counted:
		r.first += " from " + datum
	case taped:
		r.first += fmt.Sprintf(" by %d tapes", tapes)
	case given && g.From != "":
		r.first += " from " + g.From
	case !strings.HasPrefix(r.first, "= "):
		r.first += " " + axisWords[a]
	}
	switch {
	case given && g.PlusMinus != nil:
		r.second = "±" + strings.TrimPrefix(showMM(*g.PlusMinus), measure.Minus)
		if g.Source != "" && !taped {
			r.second += " " + g.Source
		}
	case given && g.Source != "":
		r.second = g.Source
	case edit.IsMeasured(j, p):
		r.second = "measured"
	case given:
		r.second = "as typed"
	default:
		r.second = aGuess
	}
	return r
}

// axisWords say what a coordinate without a datum is taken from.
var axisWords = [3]string{"from axle, + ahead", "from middle, + left", "above ground"}

// plainNumber reports whether text is one number in the shown unit's plain form.
func plainNumber(s string) bool {
	_, err := strconv.ParseFloat(strings.ReplaceAll(measure.ASCII(s), ",", "."), 64)
	return err == nil
}

// hasTwin reports whether the pivot's entry is a pair.
func hasTwin(j *job.Job, p document.Pivot) bool {
	i := p.Index
	switch p.List {
	case document.Links:
		return i < len(j.Links) && j.Links[i].Pair
	case document.Arms:
		return i < len(j.Arms) && j.Arms[i].Pair
	case document.Sensors:
		return i < len(j.Sensors) && j.Sensors[i].Pair
	case document.Struts:
		return i < len(j.Struts) && j.Struts[i].Pair
	case document.Stops:
		return i < len(j.Stops) && j.Stops[i].Pair
	case document.Straps:
		return i < len(j.Straps) && j.Straps[i].Pair
	case document.Lines:
		return i < len(j.Lines) && j.Lines[i].Pair
	}
	return false
}

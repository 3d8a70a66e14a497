package card

import (
	"math"
	"strconv"
	"strings"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/words"
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
	value   string   // in the field: as typed, or the coordinate in the shown unit
	from    string   // what it is counted from
	source  string   // how it was come by
	off     string   // how far off it may be; "" where nobody knows
	offHint string   // what then counts
	guess   bool     // nobody has given it
	comes   []string // what it comes to in both units, from the whole of it to the least
}

// rowOf makes the line of one coordinate; inches are shown to fractions of a denominator.
func rowOf(j *job.Job, unit string, denominator int, p document.Pivot, a edit.Axis, mm float64) row {
	g, given := edit.GivenOf(j, p, a)
	datum, from, counted := edit.DatumOf(j, p, a)
	if counted {
		mm -= from
	}
	var r row
	frac, left := measure.Fraction(mm, denominator)
	shown, other := showMM(mm), frac
	if unit == "in" {
		shown, other = strings.TrimSuffix(frac, " in"), showMM(mm)+" mm"
	}
	if left == "even" {
		left = words.T("even")
	}
	r.value = shown
	typed := strings.TrimSpace(g.Typed)
	switch {
	case given && typed != "" && !plainNumber(typed):
		r.value = typed
		r.comes = []string{"= " + shown + " " + unit + " = " + other + " " + left, "= " + shown + " " + unit + " = " + other, "= " + shown + " " + unit}
		if unit == "in" {
			r.comes = []string{"= " + shown + " in " + left + " = " + other, words.F("= %s in = %s", shown, other), "= " + other}
		}
	case unit == "in":
		r.comes = []string{"in " + left + " = " + other, words.F("in = %s", other)}
	default:
		r.comes = []string{words.F("mm = %s %s", other, left), words.F("mm = %s", other)}
	}
	tapes, taped := edit.IsTaped(g)
	_, measured, stood := edit.IsStood(g, a)
	switch {
	case stood:
		r.from = words.F("typed %s", strings.ReplaceAll(edit.WithoutUnit(j, measured), "-", measure.Minus))
		if from := g.Taken.From; len(from) > int(a) && from[a] != "" {
			r.from += " " + words.F("from %s", from[a])
		}
	case counted:
		r.from = words.F("from %s", datum)
	case given && g.From != "" && !taped:
		r.from = words.F("from %s", g.From)
	default:
		r.from = axisWords(a)
	}
	if g.PlusMinus != nil {
		r.off = "±" + showOff(*g.PlusMinus, unit)
	}
	r.offHint = "±?"
	switch {
	case taped:
		r.source = words.F("%d tapes", tapes)
	case given && g.Source != "":
		r.source = sourceWords(g.Source)
	case edit.IsMeasured(j, p):
		r.source = words.T("measured")
	case given:
		r.source = words.T("as typed")
	default:
		r.source, r.guess = sourceWords(edit.GuessSource), true
		r.offHint = "±" + showOff(edit.PlusMinus(j, p, a), unit)
	}
	return r
}

// showOff writes how far off a number may be: mm to a tenth; inches as a fraction of the ones on a tape, else to a hundredth.
func showOff(mm float64, unit string) string {
	if unit != "in" {
		return strings.TrimPrefix(showMM(mm), measure.Minus)
	}
	if frac, rest := measure.Fraction(mm, measure.FinestDenominator); rest == "even" && math.Abs(math.Remainder(mm, measure.Inch/measure.FinestDenominator)) < 1e-9 {
		return strings.TrimSuffix(frac, " in")
	}
	return strconv.FormatFloat(math.Round(mm/measure.Inch*100)/100, 'f', -1, 64)
}

// axisWords say what a coordinate without a datum is counted from, and its sign.
func axisWords(a edit.Axis) string {
	return [3]string{words.T("ahead of axle"), words.T("left of middle"), words.T("above ground")}[a]
}

// sourceWords are a source's; a hand's own words stay.
func sourceWords(source string) string {
	switch source {
	case "tape":
		return words.T("tape")
	case "through obstructions":
		return words.T("through obstructions")
	case "plumb bob":
		return words.T("plumb bob")
	case "angle gauge":
		return words.T("angle gauge")
	case "drawing":
		return words.T("drawing")
	case "on stands":
		return words.T("on stands")
	case edit.StoodSource(edit.Hanging):
		return words.T("as it hung")
	case edit.StoodSource(edit.OnFloor):
		return words.T("from the floor")
	case edit.GuessSource:
		return words.T("guess")
	}
	return source
}

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

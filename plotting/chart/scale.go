package chart

import (
	"math"
	"strconv"
	"strings"
)

const (
	minus   = "−"  // U+2212
	padding = 0.06 // of the range, over and under the curves
	flat    = 1e-6 // a curve that changes by less of its size is level
)

// ranges are the ends of both axes; ok is false where there is nothing to draw.
func (s *Spec) ranges() (x0, x1, y0, y1 float64, ok bool) {
	x0, x1, y0, y1 = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for i := range s.Curves {
		s.Curves[i].runs(func(xs, ys []float64) {
			for k := range xs {
				x0, x1, y0, y1 = math.Min(x0, xs[k]), math.Max(x1, xs[k]), math.Min(y0, ys[k]), math.Max(y1, ys[k])
			}
		})
	}
	if x0 > x1 {
		return 0, 0, 0, 0, false
	}
	const widest = 1e300 // keeps differences finite
	x0, x1, y0, y1 = math.Max(x0, -widest), math.Min(x1, widest), math.Max(y0, -widest), math.Min(y1, widest)
	if x1-x0 <= flat*math.Max(1, math.Abs(x0)) {
		d := math.Max(1, 0.05*math.Abs(x0))
		x0, x1 = x0-d, x1+d
	} else {
		d := 0.04 * (x1 - x0)
		x0, x1 = x0-d, x1+d
	}
	if y1-y0 <= flat*math.Max(1, math.Max(math.Abs(y0), math.Abs(y1))) {
		d := math.Max(1, 0.05*math.Abs(y0))
		y0, y1 = y0-d, y1+d
	}
	// A band's edge is shown where that does not squeeze the curves to less than half the height.
	own := y1 - y0
	for _, b := range s.Bands {
		for _, e := range []float64{b.Lo, b.Hi} {
			if finite(e) && math.Max(y1, e)-math.Min(y0, e) <= 2*own {
				y0, y1 = math.Min(y0, e), math.Max(y1, e)
			}
		}
	}
	d := padding * (y1 - y0)
	return x0, x1, y0 - d, y1 + d, true
}

// ticks returns round values in a range, none closer than least (in the axis's own unit), and their step.
func ticks(lo, hi, least float64) (at []float64, step float64) {
	if !(hi > lo) || !(least > 0) {
		return nil, 1
	}
	ten := math.Pow(10, math.Floor(math.Log10(least)))
	for _, k := range []float64{1, 2, 2.5, 5, 10, 20} {
		step = k * ten
		if step >= least*(1-1e-9) && !(k == 2.5 && ten < 10) {
			break
		}
	}
	if n := (hi - lo) / step; !(n < 1000) {
		return nil, step
	}
	for i := math.Ceil(lo/step - 1e-9); i*step <= hi+1e-9*step; i++ {
		at = append(at, i*step+0)
	}
	return at, step
}

// tickWords writes a tick's value with the digits its step needs.
func tickWords(v, step float64) string {
	if a := math.Max(math.Abs(v), math.Abs(step)); a >= 1e6 || step < 1e-4 {
		return signed(powers(v))
	}
	digits := 0
	for s := step; digits < 6 && math.Abs(s-math.Round(s)) > 1e-6*s; digits++ {
		s *= 10
	}
	return signed(strconv.FormatFloat(v, 'f', digits, 64))
}

// Value writes a value as a reading does: percentages and lengths of 10 mm and more whole, angles and short lengths to a tenth.
func Value(v float64, unit string) string {
	if math.Abs(v) >= 1e6 {
		return signed(powers(v))
	}
	digits := 1
	if strings.HasPrefix(unit, "%") || unit == "mm" && math.Abs(v) >= 9.95 {
		digits = 0
	}
	if unit == "in" {
		digits = 2
	}
	return signed(strconv.FormatFloat(v, 'f', digits, 64))
}

// signed writes the minus sign as one, and no minus before nothing.
func signed(s string) string {
	rest, negative := strings.CutPrefix(s, "-")
	if !negative {
		return s
	}
	if strings.Trim(rest, "0.") == "" {
		return rest
	}
	return minus + rest
}

// powers writes a value too large or too small for plain digits: "1.25e9", "2e−5".
func powers(v float64) string {
	s := strconv.FormatFloat(v, 'g', 4, 64)
	mantissa, power, ok := strings.Cut(s, "e")
	if !ok {
		return s
	}
	sign := ""
	if strings.HasPrefix(power, "-") {
		sign = minus
	}
	return mantissa + "e" + sign + strings.TrimLeft(power, "+-0")
}

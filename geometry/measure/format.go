package measure

import (
	"math"
	"strconv"
	"strings"
)

// Minus is the true minus sign (U+2212) of shown text; ASCII turns it back.
const Minus = "\u2212"

// DefaultDenominator is the fraction an inch tape shows.
const DefaultDenominator = 16

// FinestDenominator is the finest fraction of an inch on a steel rule.
const FinestDenominator = 64

// Denominators are the fractions of an inch one may choose to be shown.
func Denominators() []int { return []int{8, 16, 32, FinestDenominator} }

// Format writes a length in a unit the way it is shown: whole mm, tenths below 10 mm; inches as a fraction of the denominator with what
// is left over in mm, "even" where nothing is: "1127 mm", "−9 1/16 in +0.2 mm", "13 3/16 in even".
func Format(mm float64, unit Unit, denominator int) string {
	if unit == Inches {
		inches, rest := Fraction(mm, denominator)
		return inches + " " + rest
	}
	return MM(mm)
}

// Echo is the length in the other unit than the one in force, as Format writes it.
func Echo(mm float64, unit Unit, denominator int) string {
	if unit == Inches {
		return Format(mm, Millimetres, denominator)
	}
	return Format(mm, Inches, denominator)
}

// MM writes a length in mm: whole, or to a tenth where it is under 10 mm (and not a whole number of them): "1127 mm", "9.4 mm", "−0.3 mm".
func MM(mm float64) string { return MMNumber(mm) + " mm" }

// MMNumber is MM without the unit.
func MMNumber(mm float64) string {
	if !finite(mm) {
		return "?"
	}
	digits := 0
	if tenths := math.Round(math.Abs(mm) * 10); tenths < 100 && math.Mod(tenths, 10) != 0 {
		digits = 1
	}
	return Signed(strconv.FormatFloat(mm, 'f', digits, 64))
}

// Fraction writes a length as inches to the nearest 1/denominator, and what is left over in mm to a tenth: "−9 1/16 in" and "+0.2 mm", or
// "even" where that is nothing. A denominator below 1 is taken as the usual one.
func Fraction(mm float64, denominator int) (inches, rest string) {
	if !finite(mm) {
		return "? in", "even"
	}
	if denominator < 1 {
		denominator = DefaultDenominator
	}
	const most = 1 << 20 // of parts that are counted exactly; beyond any tape
	denominator = min(denominator, most)
	d := float64(denominator)
	parts := math.Round(mm / Inch * d)
	rest = "even"
	if left := mm - parts*Inch/d; math.Abs(left) >= 0.05 {
		rest = Signed(strconv.FormatFloat(left, 'f', 1, 64)) + " mm"
		if left > 0 {
			rest = "+" + rest
		}
	}
	whole := math.Floor(math.Abs(parts) / d)
	top := int(math.Abs(parts) - whole*d)
	var b strings.Builder
	if parts < 0 {
		b.WriteString(Minus)
	}
	if whole > 0 || top == 0 {
		b.WriteString(strconv.FormatFloat(whole, 'f', 0, 64))
		if top > 0 {
			b.WriteByte(' ')
		}
	}
	if top > 0 {
		g := gcd(top, denominator)
		b.WriteString(strconv.Itoa(top/g) + "/" + strconv.Itoa(denominator/g))
	}
	b.WriteString(" in")
	return b.String(), rest
}

// InchNumber writes a length as decimal inches to three decimals, without the unit.
func InchNumber(mm float64) string {
	if !finite(mm) {
		return "?"
	}
	s := strconv.FormatFloat(mm/Inch, 'f', 3, 64)
	return Signed(strings.TrimSuffix(strings.TrimRight(s, "0"), "."))
}

// Typed is a length as a hand would type it in the unit, exact enough to read back within 0.0005 mm: "1127.125", "44.375".
func Typed(mm float64, unit Unit) string {
	if !finite(mm) {
		return ""
	}
	v, digits := mm, 3
	if unit == Inches {
		v, digits = mm/Inch, 5
	}
	s := strconv.FormatFloat(v, 'f', digits, 64)
	return ASCII(Signed(strings.TrimSuffix(strings.TrimRight(s, "0"), ".")))
}

// ASCII turns true minus signs into the one a keyboard has.
func ASCII(s string) string { return strings.ReplaceAll(s, Minus, "-") }

// Signed writes a number's text with a true minus sign, and no minus before nothing.
func Signed(s string) string {
	rest, negative := strings.CutPrefix(s, "-")
	if !negative || strings.Trim(rest, "0.") == "" {
		return rest
	}
	return Minus + rest
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// Volume names a volume in litres and in both gallons, each by its kind: "164 L (43.3 US gal, 36.1 imperial gal)".
func Volume(litres float64) string {
	if !finite(litres) {
		return "? L"
	}
	n := func(v float64) string { return Signed(strconv.FormatFloat(v, 'f', 1, 64)) }
	l := Signed(strconv.FormatFloat(litres, 'f', 0, 64))
	if math.Abs(litres) < 10 {
		l = n(litres)
	}
	return l + " L (" + n(litres/USGallon) + " US gal, " + n(litres/ImperialGallon) + " imperial gal)"
}

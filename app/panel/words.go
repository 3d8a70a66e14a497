package panel

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"axleloft/app/words"
)

const (
	mmPerInch = 25.4
	minus     = "−"
)

// num writes a number with a true minus sign and without "-0".
func num(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "?"
	}
	s := fmt.Sprintf("%.*f", decimals, v)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return strings.Replace(s, "-", minus, 1)
}

// length writes a length in the shown unit without its name: whole mm, or hundredths of an inch.
func length(mm float64, unit string) string {
	if unit == "in" {
		return num(mm/mmPerInch, 2)
	}
	return num(mm, 0)
}

// lengthUnit writes a length with its unit.
func lengthUnit(mm float64, unit string) string { return length(mm, unit) + " " + unit }

// where says where the axle is at two travels.
func where(left, right float64, unit string) string {
	side := func(name string, v float64) string {
		switch {
		case math.Abs(v) < 0.5:
			return words.F("%s at ride", name)
		case v > 0:
			return words.F("%s up %s", name, length(v, unit))
		default:
			return words.F("%s down %s", name, length(-v, unit))
		}
	}
	if math.Abs(left-right) < 1 {
		switch {
		case math.Abs(left) < 0.5:
			return words.T("at ride")
		case left > 0:
			return words.F("both wheels up %s", length(left, unit))
		default:
			return words.F("both wheels down %s", length(-left, unit))
		}
	}
	return side(words.T("left"), left) + ", " + side(words.T("right"), right)
}

// count writes "1 height", "3 heights".
func count(n int, one, more string) string {
	if n == 1 {
		return "1 " + words.T(one)
	}
	return strconv.Itoa(n) + " " + words.T(more)
}

// Number writes a length in the shown unit without its name.
func Number(mm float64, unit string) string { return length(mm, unit) }

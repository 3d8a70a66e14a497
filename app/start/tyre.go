package start

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/measure"
)

// Tyre is a tyre's size, mm; FreeRadius and Width 0 where not known.
type Tyre struct{ LoadedRadius, FreeRadius, Width float64 }

// loadedShare is the loaded radius of a tyre as a share of the free one (common practice, no source).
const loadedShare = 0.96

var (
	metricSize = regexp.MustCompile(`^(?:LT|P|ST)?\s*(\d{3})\s*/\s*(\d{2,3})\s*(?:Z?R|B|D|-|\s)\s*(\d{2}(?:[.,]\d)?)\s*(?:C|LT)?$`)
	inchSize   = regexp.MustCompile(`^(\d{2}(?:[.,]\d+)?)\s*[X×]\s*(\d{1,2}(?:[.,]\d+)?)\s*(?:R|-|\s)\s*(\d{2}(?:[.,]\d)?)\s*(?:LT|C)?$`)
)

// ParseTyre reads a tyre as typed: a loaded radius ("420", "16 1/2 in") or a size ("265/75R16", "33x12.50R15").
// unit is "mm" or "in", for a bare number. A size gives the free radius, from which the loaded one is guessed as 0.96 of it.
// (Metric: width in mm, height of the flank in % of it, rim in inches; inch sizes: diameter x width, rim, all inches.)
func ParseTyre(text, unit string) (Tyre, error) {
	t := strings.ToUpper(strings.TrimSpace(text))
	num := func(s string) float64 {
		v, _ := strconv.ParseFloat(strings.ReplaceAll(s, ",", "."), 64) // digits by the pattern
		return v
	}
	var tyre Tyre
	if m := metricSize.FindStringSubmatch(t); m != nil {
		width, flank, rim := num(m[1]), num(m[2]), num(m[3])
		tyre = Tyre{FreeRadius: rim*measure.Inch/2 + width*flank/100, Width: width}
	} else if m := inchSize.FindStringSubmatch(t); m != nil {
		if num(m[1]) <= num(m[3]) {
			return Tyre{}, words.Errorf("A tyre of %s in on a rim of %s in has no flank. Check the size.", m[1], m[3])
		}
		tyre = Tyre{FreeRadius: num(m[1]) * measure.Inch / 2, Width: num(m[2]) * measure.Inch}
	} else {
		mm, err := measure.Parse(text, measure.UnitOf(unit))
		if err != nil {
			return Tyre{}, words.Errorf("%q is no tyre. Type the height of the axle's middle above the ground (420) or a size (265/75R16).", strings.TrimSpace(text))
		}
		return checkTyre(Tyre{LoadedRadius: mm})
	}
	tyre.LoadedRadius = math.Round(loadedShare * tyre.FreeRadius)
	tyre.FreeRadius, tyre.Width = math.Round(tyre.FreeRadius), math.Round(tyre.Width)
	return checkTyre(tyre)
}

// Bounds of what is taken for a tyre: the smallest trailer's and the largest tractor's, mm.
const (
	leastRadius = 200
	mostRadius  = 800
)

func checkTyre(t Tyre) (Tyre, error) {
	if !(t.LoadedRadius >= leastRadius && t.LoadedRadius <= mostRadius) {
		return Tyre{}, words.Errorf("A tyre's radius under load is between %d and %d mm. You gave %.0f: it is the height of the axle's middle above the ground.", leastRadius, mostRadius, t.LoadedRadius)
	}
	if t.Width < 0 || t.Width > 0.9*t.LoadedRadius*2 {
		return Tyre{}, words.Errorf("A tyre of radius %.0f mm is not %.0f mm wide. Check the size.", t.LoadedRadius, t.Width)
	}
	return t, nil
}

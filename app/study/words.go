package study

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"axleloft/app/words"
	"axleloft/geometry/measure"
)

// straight is how far the two travels may differ, as a part of the larger, and still be both wheels together.
const straight = 0.12

// place says in words where the axle is: "at ride height", "both wheels up", "crossed up, left wheel up", "left wheel up alone".
func place(left, right float64) string { return words.T(placeKey(left, right)) }

// placeKey is place in English whatever the language: keys of findings have it.
func placeKey(left, right float64) string {
	l, r := math.Abs(left), math.Abs(right)
	most := math.Max(l, r)
	up := func(v float64, raised, lowered string) string {
		if v > 0 {
			return raised
		}
		return lowered
	}
	switch {
	case most < 0.5:
		return words.Mark("at ride height")
	case left*right > 0 && math.Abs(left-right) <= straight*most:
		return up(left, words.Mark("both wheels up"), words.Mark("both wheels down"))
	case r < straight*most:
		return up(left, words.Mark("left wheel up alone"), words.Mark("left wheel down alone"))
	case l < straight*most:
		return up(right, words.Mark("right wheel up alone"), words.Mark("right wheel down alone"))
	case left*right < 0 && left > 0:
		return words.Mark("crossed up, left wheel up")
	case left*right < 0:
		return words.Mark("crossed up, right wheel up")
	case left > right:
		return up(left, words.Mark("both wheels up, left higher"), words.Mark("both wheels down, left higher"))
	}
	return up(left, words.Mark("both wheels up, right higher"), words.Mark("both wheels down, right higher"))
}

// travels words the two travels: "left 176 up, right 180 down", or "109 mm of bump" where both wheels move together.
func (w *wording) travels(left, right float64) string {
	if math.Abs(left-right) <= straight*math.Max(math.Abs(left), math.Abs(right)) && left*right >= 0 {
		mid := (left + right) / 2
		if mid < 0 {
			return words.F("%s of droop", w.length(-mid))
		}
		return words.F("%s of bump", w.length(mid))
	}
	one := func(side string, v float64) string {
		if math.Abs(v) < 0.5 {
			return words.F("%s at ride", side)
		}
		way := words.T("up")
		if v < 0 {
			way = words.T("down")
		}
		return fmt.Sprintf("%s %s %s", side, w.number(math.Abs(v)), way)
	}
	return one(words.T("left"), left) + ", " + one(words.T("right"), right)
}

// wording shows lengths in the job's unit.
type wording struct{ inch bool }

func (s *Study) wording() *wording {
	return &wording{inch: s.Job.Shown != nil && s.Job.Shown.Length == "in"}
}

// length is a length with its unit: whole mm, tenths under 10; inches to a sixteenth.
func (w *wording) length(mm float64) string {
	if w.inch {
		return w.number(mm) + " in"
	}
	return w.number(mm) + " mm"
}

// smallInch is the length under which inches are written as decimals, mm.
const smallInch = 10

// number is a length without its unit.
func (w *wording) number(mm float64) string {
	if w.inch {
		if math.Abs(mm) < smallInch { // a sixteenth is too coarse for what is nearly nothing
			return measure.Signed(strconv.FormatFloat(mm/25.4, 'f', 2, 64))
		}
		text, _ := measure.Fraction(mm, 16)
		return strings.TrimSuffix(text, " in")
	}
	return measure.MMNumber(mm)
}

// round is a round length of common practice without its unit: whole mm as they are.
func (w *wording) round(mm float64) string {
	if w.inch {
		return w.number(mm)
	}
	return strconv.FormatFloat(mm, 'g', -1, 64)
}

// roundLength is round with the unit.
func (w *wording) roundLength(mm float64) string {
	if w.inch {
		return w.length(mm)
	}
	return w.round(mm) + " mm"
}

// Lower is a name as it stands inside a sentence: "Tank shelf" becomes "tank shelf"; "PTO shaft", "A-arm" and people's names stay.
func Lower(name string) string {
	if words.NounsCapital() {
		return name
	}
	r, n := utf8.DecodeRuneInString(name)
	next, _ := utf8.DecodeRuneInString(name[n:])
	if n == 0 || unicode.IsUpper(next) || unicode.IsDigit(next) || next == '-' {
		return name
	}
	for _, own := range []string{"Panhard", "Watt"} {
		if strings.HasPrefix(name, own) {
			return name
		}
	}
	return string(unicode.ToLower(r)) + name[n:]
}

// List joins words: "a, b and c".
func List(phrase []string) string {
	if len(phrase) < 2 {
		return strings.Join(phrase, "")
	}
	return words.F("%s and %s", strings.Join(phrase[:len(phrase)-1], ", "), phrase[len(phrase)-1])
}

// Upper makes the first letter of a sentence large.
func Upper(s string) string {
	if s == "" {
		return s
	}
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

package study

import (
	"math"

	"axleloft/app/words"
	"axleloft/geometry/quantity"
)

// Reading is one figure of a position, as charts, contours and the table of heights show it.
type Reading struct {
	Key, Title, Unit string // "antisquat", "Anti-squat", "%"
	Up, Down         string // what + and - mean: "resists squat"
	PerLoad          bool
	BandLo, BandHi   float64 // common practice, NaN where there is none
	BandWords        string

	of func(*quantity.Values) float64 // nil: of the gaps
}

// The readings that are not of Values but of the gaps.
const (
	keyGap   = "gap"   // the smallest gap of any pair
	keySpare = "spare" // the least gap to spare: less the gap wanted
)

// Readings lists every reading.
func Readings() []Reading {
	nan := math.NaN()
	plain := func(key, title, unit, up, down string, of func(*quantity.Values) float64) Reading {
		return Reading{Key: key, Title: title, Unit: unit, Up: up, Down: down, BandLo: nan, BandHi: nan, of: of}
	}
	band := func(r Reading, lo, hi float64, phrase string) Reading {
		r.BandLo, r.BandHi, r.BandWords = lo, hi, phrase
		return r
	}
	per := func(r Reading) Reading {
		r.PerLoad = true
		return r
	}
	return []Reading{
		plain("pinion", words.T("Pinion"), "deg", words.T("nose up"), words.T("nose down"), func(v *quantity.Values) float64 { return v.PinionDeg }),
		per(plain("pinionground", words.T("Pinion to the ground"), "deg", words.T("nose up"), words.T("nose down"), func(v *quantity.Values) float64 { return v.PinionGroundDeg })),
		per(band(plain("antisquat", words.T("Anti-squat"), "%", words.T("resists squat"), words.T("adds squat"), func(v *quantity.Values) float64 { return v.AntiSquatPct }),
			antiSquatLo, antiSquatHi, words.T("common practice, full load, 50 to 100"))),
		per(plain("antilift", words.T("Anti-lift, braking"), "%", words.T("resists lift"), words.T("adds lift"), func(v *quantity.Values) float64 { return v.AntiLiftPct })),
		per(plain("rollcentre", words.T("Roll centre above ground"), "mm", "", "", func(v *quantity.Values) float64 { return v.RollCentre })),
		band(plain("rollsteer", words.T("Roll steer"), "%", words.T("toward oversteer"), words.T("toward understeer"), func(v *quantity.Values) float64 { return v.RollSteerPct }),
			-understeerMost, oversteerMost, words.T("common practice at ride, full load")),
		band(plain("sideshift", words.T("Side shift"), "mm", words.T("to the left"), words.T("to the right"), func(v *quantity.Values) float64 { return v.Y }),
			-shiftMost, shiftMost, words.T("common practice within 75 mm of ride")),
		band(plain("squareness", words.T("Squareness"), "mm", words.T("left side longer"), words.T("right side longer"), func(v *quantity.Values) float64 { return v.Squareness }),
			-squareMost, squareMost, words.T("common practice")),
		plain("shaftfront", words.T("Driveshaft, front joint"), "deg", "", "", func(v *quantity.Values) float64 { return v.ShaftFrontDeg }),
		plain("shaftbearing", words.T("Driveshaft, joint at the centre bearing"), "deg", "", "", func(v *quantity.Values) float64 { return v.ShaftBearingDeg }),
		plain("shaftrear", words.T("Driveshaft, rear joint"), "deg", "", "", func(v *quantity.Values) float64 { return v.ShaftRearDeg }),
		plain("slip", words.T("Slip"), "mm", words.T("longer"), words.T("shorter"), func(v *quantity.Values) float64 { return v.Slip }),
		plain("fluctuation", words.T("Driveshaft speed fluctuation"), "%", "", "", func(v *quantity.Values) float64 { return v.FluctuationPct }),
		plain("use", words.T("Joint use"), words.T("% of its limit"), "", "", func(v *quantity.Values) float64 { return 100 * v.WorstBind }),
		plain(keyGap, words.T("Smallest gap"), "mm", "", words.T("overlap"), nil),
		plain(keySpare, words.T("Gap to spare"), "mm", words.T("more than wanted"), words.T("less than wanted"), nil),
	}
}

// ReadingOf is a reading by its key; ok is false where there is no such one.
func ReadingOf(key string) (r Reading, ok bool) {
	for _, r := range Readings() {
		if r.Key == key {
			return r, true
		}
	}
	return Reading{}, false
}

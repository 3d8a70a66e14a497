package study

import (
	"math"

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
	band := func(r Reading, lo, hi float64, words string) Reading {
		r.BandLo, r.BandHi, r.BandWords = lo, hi, words
		return r
	}
	per := func(r Reading) Reading {
		r.PerLoad = true
		return r
	}
	return []Reading{
		plain("pinion", "Pinion", "deg", "nose up", "nose down", func(v *quantity.Values) float64 { return v.PinionDeg }),
		per(plain("pinionground", "Pinion to the ground", "deg", "nose up", "nose down", func(v *quantity.Values) float64 { return v.PinionGroundDeg })),
		per(band(plain("antisquat", "Anti-squat", "%", "resists squat", "adds squat", func(v *quantity.Values) float64 { return v.AntiSquatPct }),
			antiSquatLo, antiSquatHi, "common practice, full load, 50 to 100")),
		per(plain("antilift", "Anti-lift, braking", "%", "resists lift", "adds lift", func(v *quantity.Values) float64 { return v.AntiLiftPct })),
		per(plain("rollcentre", "Roll centre above ground", "mm", "", "", func(v *quantity.Values) float64 { return v.RollCentre })),
		band(plain("rollsteer", "Roll steer", "%", "toward oversteer", "toward understeer", func(v *quantity.Values) float64 { return v.RollSteerPct }),
			-understeerMost, oversteerMost, "common practice at ride, full load"),
		band(plain("sideshift", "Side shift", "mm", "to the left", "to the right", func(v *quantity.Values) float64 { return v.Y }),
			-shiftMost, shiftMost, "common practice within 75 mm of ride"),
		band(plain("squareness", "Squareness", "mm", "left side longer", "right side longer", func(v *quantity.Values) float64 { return v.Squareness }),
			-squareMost, squareMost, "common practice"),
		plain("shaftfront", "Driveshaft, front joint", "deg", "", "", func(v *quantity.Values) float64 { return v.ShaftFrontDeg }),
		plain("shaftbearing", "Driveshaft, joint at the centre bearing", "deg", "", "", func(v *quantity.Values) float64 { return v.ShaftBearingDeg }),
		plain("shaftrear", "Driveshaft, rear joint", "deg", "", "", func(v *quantity.Values) float64 { return v.ShaftRearDeg }),
		plain("slip", "Slip", "mm", "longer", "shorter", func(v *quantity.Values) float64 { return v.Slip }),
		plain("fluctuation", "Driveshaft speed fluctuation", "%", "", "", func(v *quantity.Values) float64 { return v.FluctuationPct }),
		plain("use", "Joint use", "% of its limit", "", "", func(v *quantity.Values) float64 { return 100 * v.WorstBind }),
		plain(keyGap, "Smallest gap", "mm", "", "overlap", nil),
		plain(keySpare, "Gap to spare", "mm", "more than wanted", "less than wanted", nil),
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

// Package measure reads lengths, angles, masses and volumes as hands type them, and writes lengths the way a tape shows them.
// Everything comes out in mm, degrees, kg or litres. It knows numbers and units, nothing of axles.
//
// How a length is read:
//
//	1127           the unit in force (mm or inch)
//	1127,5         decimal comma or point
//	44 3/8         a number with a fraction is inches, whatever unit is in force; so is a fraction alone
//	44 3/8"        also in, inch, inches and the typographic marks; 44⅜ too
//	3' 8 3/8       feet and inches; ft, foot and feet too; the inch mark may be left out
//	12mm 1.2cm 1m  metric
//	1127+6, 44 3/8 - 12mm, 3' 8 + 20 mm   sums and differences, units mixed; each number has its own unit, or the one in force
//	-30            also with the true minus sign
//
// What can be read in two ways is asked back and never guessed: 44-3/8, 3'-8, 1 127, a bare "gal".
package measure

// Exact factors: the inch of 25.4 mm and the pound of 0.45359237 kg (International Yard and Pound Agreement, 1959), the pound-force by
// standard gravity 9.80665 m/s2, the US gallon of 231 cubic inches, the imperial gallon of 4.54609 L (UK Units of Measurement Regulations).
const (
	Inch           = 25.4            // mm
	Foot           = 12 * Inch       // mm
	Pound          = 0.45359237      // kg
	PoundForce     = 4.4482216152605 // N
	USGallon       = 3.785411784     // L
	ImperialGallon = 4.54609         // L
)

// Unit is the unit of length in force: what a bare number counts in and what is shown first.
type Unit uint8

// The units of length.
const (
	Millimetres Unit = iota
	Inches
)

// String is the unit's short name, as a job file writes it: "mm" or "in".
func (u Unit) String() string {
	if u == Inches {
		return "in"
	}
	return "mm"
}

// UnitOf is the unit of that short name; millimetres for any other.
func UnitOf(name string) Unit {
	if name == "in" {
		return Inches
	}
	return Millimetres
}

// MassUnit is the unit of mass in force.
type MassUnit uint8

// The units of mass.
const (
	Kilograms MassUnit = iota
	Pounds
)

// Bounds of what is taken: beyond them a slip of the finger is likelier than a vehicle.
const (
	maxLength = 100_000.0   // mm
	maxAngle  = 360.0       // deg
	maxMass   = 1_000_000.0 // kg
	maxVolume = 100_000.0   // L
	maxText   = 100         // letters
)

// Error says why a text was not understood, in a plain sentence: what, where and what to do.
type Error struct {
	Text  string // as typed
	At    int    // letter (rune) at which the trouble begins, from 0
	Words string
}

// Error is the sentence.
func (e *Error) Error() string { return e.Words }

// Parse reads a length as typed and returns it in mm. unit is the one in force for bare numbers. It fails with *Error.
func Parse(text string, unit Unit) (mm float64, err error) {
	bare := 1.0
	if unit == Inches {
		bare = Inch
	}
	return parse(text, &quantity{
		what: "a length", example: `1127, 44 3/8" or 3' 8`, bare: bare, fractions: true, units: lengths, most: maxLength, unit: "mm",
	})
}

// ParseAngle reads an angle as typed, in degrees: "12.5", "12,5 deg", "-3°", "12 + 0.5".
func ParseAngle(text string) (deg float64, err error) {
	return parse(text, &quantity{what: "an angle", example: "12.5", bare: 1, units: angles, most: maxAngle, unit: "deg"})
}

// ParseMass reads a mass as typed and returns it in kg: "1715", "3780 lb", "1.7 t", "1715 + 80 kg".
func ParseMass(text string, unit MassUnit) (kg float64, err error) {
	bare := 1.0
	if unit == Pounds {
		bare = Pound
	}
	return parse(text, &quantity{what: "a mass", example: "1715 kg or 3780 lb", bare: bare, units: masses, most: maxMass, unit: "kg"})
}

// ParseVolume reads a volume as typed and returns it in litres: "164", "164 L", "43 US gal", "36 imp gal". A gallon of unnamed kind is
// refused with a question.
func ParseVolume(text string) (litres float64, err error) {
	return parse(text, &quantity{what: "a volume", example: "164 L, 43 US gal or 36 imp gal", bare: 1, units: volumes, most: maxVolume, unit: "L"})
}

// WhichGallon is what is asked where a gallon's kind is not said.
const WhichGallon = "Which gallon: US (3.785 L) or imperial (4.546 L)?"

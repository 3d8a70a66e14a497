package measure_test

import (
	"math"
	"strings"
	"testing"

	"axleloft/geometry/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// tol is round-off of sums of a few numbers below 1e5, mm.
const tol = 1e-9

func TestParseLengths(t *testing.T) {
	const in = 25.4
	for _, tc := range []struct {
		text     string
		mm, inch float64 // what it is with mm and with inches in force
	}{
		{"1127", 1127, 1127 * in},
		{" 1127 ", 1127, 1127 * in},
		{"1127.5", 1127.5, 1127.5 * in},
		{"1127,5", 1127.5, 1127.5 * in},
		{".5", 0.5, 0.5 * in},
		{",5", 0.5, 0.5 * in},
		{"5.", 5, 5 * in},
		{"0", 0, 0},
		{"-0", 0, 0},
		{"-30", -30, -30 * in},
		{"- 30", -30, -30 * in},
		{"\u221230", -30, -30 * in},
		{"\u201330", -30, -30 * in},
		{"+30", 30, 30 * in},
		{"1127mm", 1127, 1127},
		{"1127 mm", 1127, 1127},
		{"1127 MM", 1127, 1127},
		{"1127 mm.", 1127, 1127},
		{"112.7cm", 1127, 1127},
		{"1.127 m", 1127, 1127},
		{"1,127 m", 1127, 1127},
		{`44 3/8"`, 44.375 * in, 44.375 * in},
		{`44 3/8`, 44.375 * in, 44.375 * in},
		{`44 3/8 in`, 44.375 * in, 44.375 * in},
		{`44 3/8in.`, 44.375 * in, 44.375 * in},
		{`44  3/8 inches`, 44.375 * in, 44.375 * in},
		{"44\u00a03/8\u2033", 44.375 * in, 44.375 * in},
		{"44 3\u20448\u201d", 44.375 * in, 44.375 * in},
		{"44⅜", 44.375 * in, 44.375 * in},
		{"44 ⅜ in", 44.375 * in, 44.375 * in},
		{"⅜", 0.375 * in, 0.375 * in},
		{"3/8", 0.375 * in, 0.375 * in},
		{"9/8", 1.125 * in, 1.125 * in},
		{"-3/8", -0.375 * in, -0.375 * in},
		{"-44 3/8", -44.375 * in, -44.375 * in},
		{"3/8 mm", 0.375, 0.375},
		{"44.375in", 44.375 * in, 44.375 * in},
		{"44,375 in", 44.375 * in, 44.375 * in},
		{"44.375''", 44.375 * in, 44.375 * in},
		{"44.375 inch", 44.375 * in, 44.375 * in},
		{"3'", 36 * in, 36 * in},
		{"3 ft", 36 * in, 36 * in},
		{"3.5 feet", 42 * in, 42 * in},
		{"3 1/2'", 42 * in, 42 * in},
		{"3' 8 3/8", 44.375 * in, 44.375 * in},
		{`3' 8 3/8"`, 44.375 * in, 44.375 * in},
		{`3'8 3/8"`, 44.375 * in, 44.375 * in},
		{"3' 8", 44 * in, 44 * in},
		{"3'8", 44 * in, 44 * in},
		{"3' 3/8", 36.375 * in, 36.375 * in},
		{"3'8⅜″", 44.375 * in, 44.375 * in},
		{"3\u2032 8\u2033", 44 * in, 44 * in},
		{"3\u2019 8.375\u201d", 44.375 * in, 44.375 * in},
		{"3 ft 8 3/8 in", 44.375 * in, 44.375 * in},
		{"3ft8in", 44 * in, 44 * in},
		{"-3' 8", -44 * in, -44 * in},
		{"1127+6", 1133, 1133 * in},
		{"1127 + 6 - 3", 1130, 1130 * in},
		{"1127-6", 1121, 1121 * in},
		{"1127 + -6", 1121, 1121 * in},
		{"44 3/8 - 12mm", 44.375*in - 12, 44.375*in - 12},
		{`44 3/8" + 1/2`, 44.875 * in, 44.875 * in},
		{"44 - 3/8", 44 - 0.375*in, 43.625 * in},
		{"44 3/8 + 3", 44.375*in + 3, 47.375 * in},
		{"3' 8 + 20 mm", 44*in + 20, 44*in + 20},
		{"3' - 8", 36*in - 8, 28 * in},
		{"3' - 8 in", 28 * in, 28 * in},
		{"1m - 3 ft", 1000 - 36*in, 1000 - 36*in},
		{"-30 + 1/16", -30 + in/16, -30*in + in/16},
		{"1 1/2 + 1 1/2", 3 * in, 3 * in},
		{"100000 mm", 1e5, 1e5},
	} {
		got, err := measure.Parse(tc.text, measure.Millimetres)
		require.NoError(t, err, tc.text)
		assert.InDelta(t, tc.mm, got, tol, "%s, mm in force", tc.text)
		if tc.inch > 1e5 {
			continue
		}
		got, err = measure.Parse(tc.text, measure.Inches)
		require.NoError(t, err, tc.text)
		assert.InDelta(t, tc.inch, got, tol, "%s, inches in force", tc.text)
	}
}

func TestParseRefuses(t *testing.T) {
	for _, tc := range []struct {
		text string
		at   int
		want string
	}{
		{"", 0, "Nothing is typed. Type a length such as 1127"},
		{"  ", 0, "Nothing is typed"},
		{"abc", 0, "A number was expected at “abc”"},
		{"-", 1, "A number is missing at the end"},
		{"mm", 0, "A number was expected at “mm”"},
		{"12 furlongs", 3, "The unit “furlongs” is not known for a length"},
		{"12 kg", 3, "The unit “kg” is not known for a length"},
		{"1e3", 1, "The unit “e” is not known"},
		{"1 127", 2, "Two numbers follow one another in “1 127”. Write + or - between them"},
		{"44 in 3/8", 6, "Two numbers follow one another"},
		{"44-3/8", 2, "can be read in two ways. For a whole number and a fraction write 44 3/8"},
		{"3'-8", 2, "can be read in two ways. For feet and inches write 3' 8"},
		{"3'-8 3/8\"", 2, "can be read in two ways"},
		{"1,127.5", 0, "“1,127.5” has two points or commas"},
		{"1.127,5", 0, "two points or commas"},
		{"1.2.3", 0, "two points or commas"},
		{"44 3/", 3, "The fraction “3/” has nothing under it"},
		{"44 3/0", 3, "The fraction “3/0” has 0 under it"},
		{"3/8/2", 0, "two slashes"},
		{"3.5/8", 0, "decimal point in a fraction"},
		{"3/8.5", 0, "decimal point in a fraction"},
		{"44.5 3/8", 0, "a decimal point and a fraction"},
		{"44 9/8", 3, "is 1 or more"},
		{"/8", 0, "A number was expected"},
		{"1127+", 4, "Nothing stands after the \"+\" at the end"},
		{"1127 - ", 5, "Nothing stands after the \"-\" at the end"},
		{"1127 ++ + 6", 8, "A number was expected at “+ 6”"},
		{"2*3", 1, "\"*\" is not worked out here"},
		{"(2)", 0, "A number was expected"},
		{"3' 20 mm", 3, "After feet come inches, but “20 mm” was typed"},
		{"100001", 0, "at most 100000 is taken"},
		{"4000 ft", 0, "at most 100000 is taken"},
		{"1234567890123456", 0, "too many digits"},
		{"NaN", 0, "A number was expected"},
		{"Inf", 0, "A number was expected"},
		{"12\x00", 2, "not understood"},
		{"12\xff", 2, "not understood"},
		{"12°", 2, "The unit “°” is not known for a length"},
		{strings.Repeat("1+", 100) + "1", 0, "too long"},
	} {
		_, err := measure.Parse(tc.text, measure.Millimetres)
		var e *measure.Error
		require.ErrorAs(t, err, &e, tc.text)
		assert.Contains(t, e.Error(), tc.want, tc.text)
		assert.Equal(t, tc.at, e.At, tc.text)
		assert.Equal(t, tc.text, e.Text)
		assert.True(t, strings.HasSuffix(e.Error(), ".") || strings.HasSuffix(e.Error(), "?"), "a sentence: %s", e)
		assert.NotContains(t, e.Error(), "%!", "a sentence whole: %s", e)
	}
}

func TestParseAnglesMassesVolumes(t *testing.T) {
	for text, want := range map[string]float64{"12.5": 12.5, "-3°": -3, "12,5 deg": 12.5, "12 + 0.5": 12.5, "2 degrees": 2, "3 º": 3} {
		got, err := measure.ParseAngle(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, tol, text)
	}
	for _, text := range []string{"", "12 mm", "3/8", "400", "1°30'"} {
		_, err := measure.ParseAngle(text)
		assert.Error(t, err, text)
	}
	for text, want := range map[string][2]float64{
		"1715": {1715, 1715 * 0.45359237}, "1715 kg": {1715, 1715}, "3780 lb": {1714.5791586, 1714.5791586}, "1.7 t": {1700, 1700}, "1715 + 80kg": {1795, 1715*0.45359237 + 80},
	} {
		got, err := measure.ParseMass(text, measure.Kilograms)
		require.NoError(t, err, text)
		assert.InDelta(t, want[0], got, tol, text)
		got, err = measure.ParseMass(text, measure.Pounds)
		require.NoError(t, err, text)
		assert.InDelta(t, want[1], got, tol, text)
	}
	_, err := measure.ParseMass("12 stone", measure.Kilograms)
	require.ErrorContains(t, err, "The unit “stone” is not known for a mass")

	for text, want := range map[string]float64{
		"164": 164, "164 L": 164, "164 litres": 164, "500 ml": 0.5, "43 US gal": 43 * 3.785411784, "43 US gallons": 43 * 3.785411784, "36 imp gal": 36 * 4.54609,
		"36 Imp. gal.": 36 * 4.54609, "1 imperial gallon": 4.54609, "100 L + 1 us gal": 103.785411784,
	} {
		got, err := measure.ParseVolume(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, tol, text)
	}
	for _, text := range []string{"43 gal", "43 gallons", "43gal", "43 gals."} {
		_, err := measure.ParseVolume(text)
		require.Error(t, err, text)
		assert.Equal(t, "Which gallon: US (3.785 L) or imperial (4.546 L)?", err.Error(), text)
	}
}

func TestExactFactors(t *testing.T) {
	assert.Equal(t, 25.4, measure.Inch)
	assert.Equal(t, 304.8, measure.Foot)
	assert.Equal(t, 0.45359237, measure.Pound)
	assert.InEpsilon(t, measure.Pound*9.80665, measure.PoundForce, 1e-15)
	assert.InEpsilon(t, 231*measure.Inch*measure.Inch*measure.Inch/1e6, measure.USGallon, 1e-15)
	assert.Equal(t, 4.54609, measure.ImperialGallon)
}

func TestFraction(t *testing.T) {
	for _, tc := range []struct {
		mm           float64
		denominator  int
		inches, rest string
	}{
		{-230, 16, "−9 1/16 in", "+0.2 mm"},
		{-30, 16, "−1 3/16 in", "+0.2 mm"},
		{-335, 16, "−13 3/16 in", "even"},
		{0, 16, "0 in", "even"},
		{25.4, 16, "1 in", "even"},
		{12.7, 16, "1/2 in", "even"},
		{-12.7, 16, "−1/2 in", "even"},
		{1127.125, 16, "44 3/8 in", "even"},
		{1127.125, 8, "44 3/8 in", "even"},
		{1127.125, 4, "44 1/2 in", "−3.2 mm"},
		{1127.125, 1, "44 in", "+9.5 mm"},
		{1127, 16, "44 3/8 in", "−0.1 mm"},
		{1127, 64, "44 3/8 in", "−0.1 mm"},
		{0.3, 16, "0 in", "+0.3 mm"},
		{-0.3, 16, "0 in", "−0.3 mm"},
		{25.3, 16, "1 in", "−0.1 mm"},
		{1127.125, 0, "44 3/8 in", "even"},
		{1127.125, -3, "44 3/8 in", "even"},
		{304.8, 10, "12 in", "even"},
		{math.NaN(), 16, "? in", "even"},
		{math.Inf(1), 16, "? in", "even"},
	} {
		inches, rest := measure.Fraction(tc.mm, tc.denominator)
		assert.Equal(t, tc.inches, inches, "%v by %d", tc.mm, tc.denominator)
		assert.Equal(t, tc.rest, rest, "%v by %d", tc.mm, tc.denominator)
	}
}

func TestFormat(t *testing.T) {
	for mm, want := range map[float64]string{
		1127.125: "1127 mm", -230: "−230 mm", 9.44: "9.4 mm", 9.96: "10 mm", 9.94: "9.9 mm", 10.4: "10 mm", 5: "5 mm", 0: "0 mm", -0.04: "0 mm", -0.06: "−0.1 mm", 4.97: "5 mm", 0.5: "0.5 mm",
	} {
		assert.Equal(t, want, measure.Format(mm, measure.Millimetres, 16), "%v", mm)
	}
	assert.Equal(t, "−9 1/16 in +0.2 mm", measure.Format(-230, measure.Inches, 16))
	assert.Equal(t, "44 3/8 in even", measure.Echo(1127.125, measure.Millimetres, 16))
	assert.Equal(t, "1127 mm", measure.Echo(1127.125, measure.Inches, 16))
	assert.Equal(t, "-9 1/16 in +0.2 mm", measure.ASCII(measure.Format(-230, measure.Inches, 16)))
	assert.Equal(t, "44.375", measure.InchNumber(1127.125))
	assert.Equal(t, "−1", measure.InchNumber(-25.4))
	assert.Equal(t, "1127.125", measure.Typed(1127.125, measure.Millimetres))
	assert.Equal(t, "44.375", measure.Typed(1127.125, measure.Inches))
	assert.Equal(t, "-30", measure.Typed(-30, measure.Millimetres))
	assert.Equal(t, "0", measure.Typed(0, measure.Inches))
	assert.Equal(t, "164 L (43.3 US gal, 36.1 imperial gal)", measure.Volume(164))
	assert.Equal(t, "2.5 L (0.7 US gal, 0.5 imperial gal)", measure.Volume(2.5))
	assert.Equal(t, "? mm", measure.MM(math.NaN()))
	assert.Equal(t, measure.Inches, measure.UnitOf(measure.Inches.String()))
	assert.Equal(t, measure.Millimetres, measure.UnitOf(measure.Millimetres.String()))
}

// What is shown as a fraction with its remainder reads back as the length, to the tenth shown.
func TestFractionReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.Float64Range(-90000, 90000).Draw(t, "mm")
		denominator := rapid.SampledFrom([]int{1, 2, 4, 8, 16, 32, 64, 10}).Draw(t, "denominator")
		inches, rest := measure.Fraction(mm, denominator)
		if rest == "even" {
			rest = ""
		}
		got, err := measure.Parse(inches+rest, measure.Millimetres)
		if err != nil || math.Abs(got-mm) > 0.05+tol {
			t.Fatalf("%v shown as %s %s reads %v, %v", mm, inches, rest, got, err)
		}
		for _, unit := range []measure.Unit{measure.Millimetres, measure.Inches} {
			got, err = measure.Parse(measure.Typed(mm, unit), unit)
			if err != nil || math.Abs(got-mm) > 0.0005+tol {
				t.Fatalf("%v typed as %s reads %v, %v", mm, measure.Typed(mm, unit), got, err)
			}
		}
	})
}

// FuzzParse: whatever is typed, the answer is a length within bounds or a sentence.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"1127", `44 3/8"`, "3' 8 3/8", "44.375in", "1127+6", "44 3/8 - 12mm", "-30", "3'-8", "⅜", "12 US gal", "\xff'", "1e999", "44-3/8"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, unit := range []measure.Unit{measure.Millimetres, measure.Inches} {
			mm, err := measure.Parse(text, unit)
			if err != nil {
				e, ok := err.(*measure.Error)
				if !ok || e.Words == "" || e.At < 0 || e.At > len([]rune(text)) || mm != 0 {
					t.Fatalf("%q: %v, %#v", text, mm, err)
				}
				continue
			}
			if !(math.Abs(mm) <= 100_000) {
				t.Fatalf("%q reads %v", text, mm)
			}
		}
		measure.ParseAngle(text)
		measure.ParseMass(text, measure.Pounds)
		measure.ParseVolume(text)
	})
}

package bench

import (
	"strings"
	"testing"

	"axleloft/geometry/measure"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The unit and the fraction of an inch are chosen from one menu; the fraction is kept in the preferences, the card shows it at once and with the next job.
func TestFractionOfAnInchIsChosenAndKept(t *testing.T) {
	b, _ := openQuiet(t)
	assert.Equal(t, measure.DefaultDenominator, b.denominator())
	hold(b)
	said := func() string { return strings.Join(b.card.Texts(), "|") }
	assert.Contains(t, said(), "mm = −9 1/16 in +0.2 mm") // -230 mm
	press := func(label string) {
		for _, x := range b.menu("Unit").Items {
			if x.Label == label {
				x.Action()
				return
			}
		}
		require.Fail(t, "no entry", label)
	}
	press("Inches to 1/64, and what is left over")
	assert.Contains(t, said(), "mm = −9 1/16 in +0.2 mm", "the nearest 64th is a 16th")
	assert.Contains(t, said(), "mm = −16 59/64 in −0.2 mm") // -430 mm
	press("Inches to 1/8, and what is left over")
	assert.Contains(t, said(), "mm = −9 in −1.4 mm")
	press("Inches")
	assert.Equal(t, "in", b.doc.Unit())
	assert.Contains(t, said(), "in −1.4 mm = −230 mm")
	press("Millimetres")
	assert.Equal(t, "mm", b.doc.Unit())

	require.NoError(t, b.openDemo("survey-wagon"))
	b.doc.Settle()
	assert.Equal(t, 8, b.denominator())
	b.app.Preferences().SetInt(keyFraction, 7)
	assert.Equal(t, measure.DefaultDenominator, b.denominator(), "what is no fraction of a tape is not taken")
}

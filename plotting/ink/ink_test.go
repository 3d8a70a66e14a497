package ink

import (
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// luminance is the relative luminance of WCAG 2.2 (W3C Recommendation 2023, "relative luminance"; from memory).
func luminance(c color.NRGBA) float64 {
	v := linear(c)
	return 0.2126*v[0] + 0.7152*v[1] + 0.0722*v[2]
}

func contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

var names = map[Role]string{
	Ground: "ground", Panel: "panel", Between: "between", RangeGround: "range", Text: "text", Second: "second", Edge: "edge", PartLine: "part line",
	PartFill: "part fill", AxleFill: "axle fill", Press: "press", OnPress: "on press", Trouble: "trouble", TroubleGround: "trouble ground",
	Measure: "measure", Pencil: "pencil", Practice: "practice", Rule: "rule",
}

func TestContrastFormulaKnowsItsEnds(t *testing.T) {
	black, white := color.NRGBA{A: 255}, color.NRGBA{R: 255, G: 255, B: 255, A: 255}
	assert.InDelta(t, 21, contrast(black, white), 1e-9)
	assert.InDelta(t, 1, contrast(white, white), 1e-9)
	// #767676 on white is the usual example of just enough for text: 4.54.
	assert.InDelta(t, 4.54, contrast(color.NRGBA{R: 0x76, G: 0x76, B: 0x76, A: 255}, white), 0.01)
}

// use is a role as text or as lines and marks, and the grounds it stands on in the window, the charts and the drawings.
type use struct {
	role    Role
	least   [Schemes]float64 // 0: not used so
	grounds []Role
}

// Text 4.5:1, lines and marks 3:1, on every ground they stand on (WCAG 2.2, 1.4.3 and 1.4.11). In a bright workshop greys 7:1 (1.4.6) and 4.5:1.
func TestEveryRoleStandsOutOnItsGrounds(t *testing.T) {
	const text, line, more = 4.5, 3.0, 7.0
	for _, u := range []use{
		{Text, [Schemes]float64{text, text, more}, []Role{Ground, Panel, RangeGround, PartFill, AxleFill, TroubleGround, Practice}},
		{Text, [Schemes]float64{text, text, text}, []Role{Between}},
		{Second, [Schemes]float64{text, text, more}, []Role{Ground, Panel, RangeGround, PartFill, Practice, TroubleGround}},
		{OnPress, [Schemes]float64{text, text, text}, []Role{Press}},
		{Press, [Schemes]float64{text, text, text}, []Role{Ground, Panel, RangeGround}}, // words to press
		{Press, [Schemes]float64{line, line, line}, []Role{Ground, Panel, RangeGround, PartFill, AxleFill, Practice}},
		{Edge, [Schemes]float64{line, line, text}, []Role{Ground, Panel, RangeGround, Practice}},
		{PartLine, [Schemes]float64{line, line, text}, []Role{Ground, PartFill}},
		{Trouble, [Schemes]float64{line, line, line}, []Role{Ground, Panel, TroubleGround, RangeGround}},
		{Measure, [Schemes]float64{line, line, line}, []Role{Ground}},
		{Pencil, [Schemes]float64{line, line, text}, []Role{Ground, Practice, PartFill}},
		{Between, [Schemes]float64{0, 0, line}, []Role{Ground, Panel}},
		{Rule, [Schemes]float64{0, 0, line}, []Role{Ground, Panel}},
	} {
		for s, want := range u.least {
			if want == 0 {
				continue
			}
			for _, g := range u.grounds {
				got := contrast(In(u.role, Scheme(s)), In(g, Scheme(s)))
				assert.GreaterOrEqualf(t, got, want, "%s on %s, scheme %d: %.2f", names[u.role], names[g], s, got)
			}
		}
	}
}

// A picture painted on light ground stands in a bright workshop among its lines: what it paints with is the same there.
func TestBrightKeepsWhatPicturesArePaintedWith(t *testing.T) {
	for _, r := range []Role{Ground, RangeGround, PartFill, AxleFill, Practice, Trouble, TroubleGround, Press, OnPress, Measure} {
		assert.Equal(t, In(r, Light), In(r, Bright), names[r])
	}
	assert.Equal(t, Color(Text, true), In(Text, Dark))
	assert.Zero(t, In(None, Bright))
}

func TestEveryRoleHasAColourAndNoneHasNot(t *testing.T) {
	for r := Role(0); r < roles; r++ {
		for _, dark := range []bool{false, true} {
			assert.Equal(t, uint8(255), Color(r, dark).A, names[r])
		}
	}
	assert.Zero(t, Color(None, false))
	assert.Zero(t, Color(None, true))
	assert.Len(t, names, int(roles))
}

package ink

import (
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// luminance is the relative luminance of WCAG 2.2 (W3C Recommendation 2023, "relative luminance"; from memory).
func luminance(c color.NRGBA) float64 {
	part := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*part(c.R) + 0.7152*part(c.G) + 0.0722*part(c.B)
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

// Text 4.5:1, lines and marks 3:1, on every ground they stand on.
func TestEveryRoleStandsOutOnItsGrounds(t *testing.T) {
	const text, line = 4.5, 3.0
	cases := []struct {
		role    Role
		light   float64 // 0: not used so
		dark    float64
		grounds []Role
	}{
		{Text, text, text, []Role{Ground, Panel, RangeGround, PartFill, AxleFill, TroubleGround, Practice, Between}},
		{Second, text, text, []Role{Ground, Panel, RangeGround, PartFill, Practice, TroubleGround}},
		{OnPress, text, text, []Role{Press}},
		{Press, text, 0, []Role{Ground, Panel, RangeGround}}, // coloured text is blue on light only
		{Press, line, line, []Role{Ground, Panel, RangeGround, PartFill, AxleFill, Practice}},
		{Edge, line, line, []Role{Ground, Panel, RangeGround, Practice}},
		{PartLine, line, line, []Role{Ground, PartFill}},
		{Trouble, line, line, []Role{Ground, Panel, TroubleGround, RangeGround}},
		{Measure, line, line, []Role{Ground}},
		{Pencil, line, line, []Role{Ground, Practice, PartFill}},
	}
	for _, tc := range cases {
		for _, dark := range []bool{false, true} {
			want := tc.light
			if dark {
				want = tc.dark
			}
			if want == 0 {
				continue
			}
			for _, g := range tc.grounds {
				got := contrast(Color(tc.role, dark), Color(g, dark))
				assert.GreaterOrEqualf(t, got, want, "%s on %s, dark %v: %.2f", names[tc.role], names[g], dark, got)
			}
		}
	}
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

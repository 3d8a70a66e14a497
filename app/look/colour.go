// Package look is how the window looks: the theme, text, buttons and sizes every panel and view shares. Colours come from
// plotting/ink by role. Flat: no shadow, no gradient; blue is what a hand can move or press, vermillion is trouble.
package look

import (
	"image/color"
	"sync/atomic"

	"axleloft/plotting/ink"
)

var scheme atomic.Uint32

// SetScheme chooses the colours. Widgets read them when they refresh: set the theme again, or refresh them, afterwards.
func SetScheme(s ink.Scheme) { scheme.Store(uint32(s)) }

// Scheme is the colours chosen.
func Scheme() ink.Scheme { return ink.Scheme(scheme.Load()) }

// Dark reports whether the ground is dark.
func Dark() bool { return Scheme() == ink.Dark }

// Color is the colour of a role in the scheme chosen.
func Color(r ink.Role) color.NRGBA { return ink.In(r, Scheme()) }

// brightWeight is how much heavier lines are in a bright workshop.
const brightWeight = 1.5

// Weight is what the widths of lines are multiplied by: 1, and more in a bright workshop.
func Weight() float32 {
	if Scheme() == ink.Bright {
		return brightWeight
	}
	return 1
}

// Clear is no colour: what has it is not painted. (Any other colour without alpha is, pixel by pixel.)
var Clear color.Color = color.Transparent

// Veil is a role's colour let through by a part (0 to 255 opaque).
func Veil(r ink.Role, alpha uint8) color.NRGBA {
	c := Color(r)
	c.A = alpha
	return c
}

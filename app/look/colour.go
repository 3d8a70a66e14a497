// Package look is how the window looks: the theme, text, buttons and sizes every panel and view shares. Colours come from
// plotting/ink by role. Flat: no shadow, no gradient; blue is what a hand can move or press, vermillion is trouble.
package look

import (
	"image/color"
	"sync/atomic"

	"axleloft/plotting/ink"
)

var dark atomic.Bool

// SetDark chooses dark or light ground. Widgets read colours when they refresh: set the theme again, or refresh them, afterwards.
func SetDark(on bool) { dark.Store(on) }

// Dark reports whether the ground is dark.
func Dark() bool { return dark.Load() }

// Color is the colour of a role on the present ground.
func Color(r ink.Role) color.NRGBA { return ink.Color(r, dark.Load()) }

// Clear is no colour: what has it is not painted. (Any other colour without alpha is, pixel by pixel.)
var Clear color.Color = color.Transparent

// Veil is a role's colour let through by a part (0 to 255 opaque).
func Veil(r ink.Role, alpha uint8) color.NRGBA {
	c := Color(r)
	c.A = alpha
	return c
}

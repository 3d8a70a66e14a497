// Package ink holds the colours by role, light and dark, that the window, the charts and the drawings share.
// Hues are those of Okabe and Ito, "Color Universal Design" (2008); contrast follows WCAG 2.2 and is measured in a test:
// 3:1 for lines and marks, 4.5:1 for text; in the bright workshop 4.5:1 and 7:1, hues but for the 3:1 and 4.5:1 of light ground.
package ink

import "image/color"

// Role is what a colour is for.
type Role uint8

// The roles.
const (
	Ground        Role = iota // ground of views and fields
	Panel                     // ground of panels
	Between                   // between panels
	RangeGround               // the range on the pad
	Text                      // text, links, moving parts
	Second                    // second text
	Edge                      // edge of a control
	PartLine                  // line of a part in the way
	PartFill                  // fill of a measured part in the way
	AxleFill                  // fill of axle, tyre, driveshaft
	Press                     // yours to move or press
	OnPress                   // text on that
	Trouble                   // marks of trouble, never text
	TroubleGround             // ground of the tight line
	Measure                   // gaps, tapes, datums
	Pencil                    // pencil line, before
	Practice                  // common practice band
	Rule                      // rule between rows
	roles
)

// None is the role of what is not drawn.
const None Role = 255

// Scheme is one of the sets of colours.
type Scheme uint8

// The schemes.
const (
	Light  Scheme = iota
	Dark          // for a dim room
	Bright        // for a bright workshop: light, on white alone, its greys near black
	Schemes
)

var table = [roles][2]color.NRGBA{
	Ground:        {hex(0xFFFFFF), hex(0x14171A)},
	Panel:         {hex(0xF6F7F8), hex(0x1D2125)},
	Between:       {hex(0xDDE0E3), hex(0x07090A)},
	RangeGround:   {hex(0xF1F3F4), hex(0x1D2125)},
	Text:          {hex(0x14171A), hex(0xF1F3F4)},
	Second:        {hex(0x4B5157), hex(0xB3BAC0)},
	Edge:          {hex(0x71787F), hex(0x8B939A)},
	PartLine:      {hex(0x7A8188), hex(0x828A91)},
	PartFill:      {hex(0xE3E6E9), hex(0x262B30)},
	AxleFill:      {hex(0xD2D6DA), hex(0x3A4147)},
	Press:         {hex(0x0072B2), hex(0x56B4E9)},
	OnPress:       {hex(0xFFFFFF), hex(0x07090A)},
	Trouble:       {hex(0xD55E00), hex(0xD55E00)},
	TroubleGround: {hex(0xFCEADF), hex(0x33190A)},
	Measure:       {hex(0x009E73), hex(0x009E73)},
	Pencil:        {hex(0x71787F), hex(0x8B939A)},
	Practice:      {hex(0xDCE0E3), hex(0x3A4147)},
	Rule:          {hex(0xCBD0D4), hex(0x3A4147)},
}

// bright is what differs from light in a bright workshop. Fills and hues do not: pictures painted on light ground stand among these lines.
var bright = map[Role]color.NRGBA{
	Panel:    hex(0xFFFFFF),
	Between:  hex(0x8B939A),
	Text:     hex(0x000000),
	Second:   hex(0x2B3035),
	Edge:     hex(0x2B3035),
	PartLine: hex(0x4B5157),
	Pencil:   hex(0x4B5157),
	Rule:     hex(0x8B939A),
}

func hex(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 0xFF}
}

// Color returns the colour of a role on light or dark ground; nothing at all for None.
func Color(r Role, dark bool) color.NRGBA {
	if r >= roles {
		return color.NRGBA{}
	}
	if dark {
		return table[r][1]
	}
	return table[r][0]
}

// In returns the colour of a role in a scheme; nothing at all for None.
func In(r Role, s Scheme) color.NRGBA {
	if s == Bright {
		if c, ok := bright[r]; ok {
			return c
		}
	}
	return Color(r, s == Dark)
}

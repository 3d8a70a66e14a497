// Package drawing is a view as things to draw: lines, circles, boxes, bars, words, and the fills, stripes and dots of one raster. It writes
// them as PNG, SVG and PDF with the title block every sheet has, and paints the raster of a window. It knows no vehicle and no window.
//
// Places are units from the picture's upper left corner, y down; a window draws one unit as one of its own.
package drawing

import (
	"image"

	"axleloft/plotting/ink"
)

// Kind is how an item is drawn.
type Kind uint8

// The kinds. Those of a raster are Fill, Stripes and Dots; everything else is straight lines, circles, boxes and words.
const (
	Line    Kind = iota // open polyline Points, Width
	Fill                // closed polygon Points in role Fill
	Circle              // about Points[0], Radius; Stroke over Fill, the stroke's middle on the radius
	Box                 // upright box Points[0] to Points[1] with corners of Radius; Stroke over Fill
	Bar                 // round bar: centre line Points, half its diameter Radius, ends round; Fill inside, Stroke of Width within its surface
	Text                // Words with their upper left corner at Points[0], Size, Bold; Points[1] is the room they take
	Dashed              // polyline Points in long dashes with two dots
	Stripes             // closed polygon Points in stripes of role Stroke
	Dots                // closed polygon Points in dots of role Stroke
)

// Layer is where an item lies, back to front.
type Layer uint8

// The layers in the order of drawing.
const (
	PartFills Layer = iota
	PartLines
	GroundTyres
	Shaft
	Axle
	Struts
	Links
	Pencil
	Hoses
	Pivots
	Held
	Trouble
	Names
)

// Point is a place in a picture, units, y down.
type Point = struct{ X, Y float64 }

// Item is one thing to draw. Items come back to front; a role of ink.None is not drawn.
type Item struct {
	Kind   Kind
	Layer  Layer
	Stroke ink.Role // line, edge, words
	Fill   ink.Role
	Width  float64 // of the line, units
	Radius float64
	Points []Point
	Words  string
	Size   float64 // of the words
	Bold   bool
	Shift  float64 // how far along their pattern dashes begin, units
	Name   string  // of the part it shows, "" for captions
}

// Picture is a view ready to draw: everything in it is cut to its box (circles and bars may reach past its edge).
type Picture struct {
	Width, Height float64
	Items         []Item
	Photo         *Photo // under everything; nil for none
}

// Photo is a photo in a picture, cut to its box already.
type Photo struct {
	Image          image.Image // as strong as its alpha
	X0, Y0, X1, Y1 float64     // where it lies
}

// Measure tells the room words take, units.
type Measure func(words string, size float64, bold bool) (w, h float64)

package sight

import (
	"axleloft/app/document"
	"axleloft/app/view"
	"axleloft/app/words"
)

// Pencils are the pencil lines of a document, and its axle at a second position, as the views draw them.
func Pencils(d *document.Document) []view.Pencil {
	var out []view.Pencil
	for _, p := range d.Pencils() {
		out = append(out, view.Pencil{Study: p.Study, At: p.At, Words: words.F("pencil: %s", p.Words()), Place: p.Place})
	}
	if c, at, ok := d.Other(); ok {
		out = append(out, view.Pencil{Study: d.Now(), At: at, Words: words.F("at %s", c.Words()), Place: otherPlace, Axle: true})
	}
	return out
}

// otherPlace is how a second position's dashes lie among those of pencil lines.
const otherPlace = 2

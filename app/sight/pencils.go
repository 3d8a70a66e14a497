package sight

import (
	"axleloft/app/document"
	"axleloft/app/view"
	"axleloft/app/words"
)

// Pencils are the pencil lines of a document as its views draw them.
func Pencils(d *document.Document) []view.Pencil {
	var out []view.Pencil
	for _, p := range d.Pencils() {
		out = append(out, view.Pencil{Study: p.Study, At: p.At, Words: words.F("pencil: %s", p.Words()), Place: p.Place})
	}
	return out
}

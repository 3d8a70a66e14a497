package bench

import (
	"strings"

	"axleloft/app/document"
)

// How a job was left is kept with the recent files: its chosen trial and its pencil lines, which are no part of the job itself.

const (
	stoodMark  = "\x1f" // between the parts of an entry
	stoodNone  = "-"    // no pencil line
	stoodTrial = "+"    // before the name of the trial drawn as one
)

// stood is an entry of the preferences for the open job; "" where it has no file.
func (b *Bench) stood() string {
	if b.doc == nil || b.doc.File() == "" {
		return ""
	}
	parts := []string{b.doc.File(), b.doc.Trial()}
	for _, p := range b.doc.Pencils() {
		if p.Name != document.AsItWas {
			parts = append(parts, stoodTrial+p.Name)
		}
	}
	if len(parts) == 2 {
		parts = append(parts, stoodNone)
	}
	return strings.Join(parts, stoodMark)
}

// keepStood notes how the open job is left.
func (b *Bench) keepStood() {
	now := b.stood()
	if now == "" {
		return
	}
	p := b.app.Preferences()
	list := []string{now}
	for _, e := range p.StringList(keyStood) {
		if name, _, _ := strings.Cut(e, stoodMark); name != b.doc.File() {
			list = append(list, e)
		}
	}
	p.SetStringList(keyStood, list[:min(len(list), len(p.StringList(keyRecent))+1)])
}

// standAgain puts a job just opened as it was left; what is no longer in it is let be.
func (b *Bench) standAgain(d *document.Document) {
	for _, e := range b.app.Preferences().StringList(keyStood) {
		parts := strings.Split(e, stoodMark)
		if len(parts) < 3 || parts[0] != d.File() {
			continue
		}
		_ = d.SetTrial(parts[1])
		for _, p := range parts[2:] {
			if name, ok := strings.CutPrefix(p, stoodTrial); ok {
				_ = d.AddPencil(name)
			}
		}
	}
}

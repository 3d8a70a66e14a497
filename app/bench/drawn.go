package bench

import (
	"strings"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/panel"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/job"
)

// draw lets the hand draw a part in the way in the views. The drawer makes room meanwhile and comes back with the part chosen.
func (b *Bench) draw(shape view.DraftShape) {
	b.eye.LeaveDraft()
	back := b.open
	b.show(panel.NoDrawer)
	end := func() {
		b.eye.EndDraft()
		if back != panel.NoDrawer {
			b.show(back)
		}
	}
	d := view.NewDraft(shape, b.doc.Unit() == "in")
	put := func(typed [2]string) error {
		drawn := d.Drawn()
		var part document.Part
		err := b.doc.Edit(words.F("draw %s", d.Noun()), "", func(j *job.Job) error {
			var err error
			part, err = edit.AddDrawn(j, drawn, typed)
			return err
		})
		if err != nil {
			return err
		}
		end()
		b.doc.LetGo()
		b.doc.Select(part)
		return nil
	}
	b.eye.Draw(d, func(step view.DraftStep) {
		if step == view.DraftDone {
			b.tell(put([2]string{}))
			return
		}
		labels, now := d.Asks()
		b.askMany(d.Name(), labels, now, func(got []string) error {
			var typed [2]string
			for i, text := range got {
				if strings.TrimSpace(text) == "" {
					return words.Errorf("%s: type a number, or leave it.", labels[i])
				}
				if text != now[i] { // else it is as it was drawn, and nobody typed it
					typed[i] = text
				}
			}
			return put(typed)
		})
	}, end)
}

// undo takes the last point of a drawing back, else the last step.
func (b *Bench) undo() {
	if !b.eye.BackDraft() {
		b.doc.Undo()
	}
}

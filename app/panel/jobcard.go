package panel

import (
	"fmt"
	"math"
	"strings"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
)

// jobCard is the job card: complaint, use, weights, tyre, and what was measured before stripping.
type jobCard struct {
	h         *Host
	complaint *look.Button
	load      *look.Button
	top       *fyne.Container
	said      *look.Para
	form      *form
	box       *fyne.Container
}

func newJobCard(h *Host) *jobCard {
	k := &jobCard{h: h, said: look.NewPara("", "", ink.Text)}
	k.complaint = look.NewButton(words.T("Complaint"), look.Outline, func() { look.PopUp(k.complaints(), k.complaint) }).Tall(30, look.Row).Padding(9).Caret(look.CaretDown)
	k.load = look.NewButton(words.T("Weights into a load"), look.Outline, func() { look.PopUp(k.loads(), k.load) }).Tall(30, look.Row).Padding(9).Caret(look.CaretDown)
	k.top = container.New(layout.NewCustomPaddedHBoxLayout(look.Gap), k.complaint, k.load)
	k.form = newForm(h)
	k.box = container.New(&cardLayout{k}, k.said, k.form.calm)
	return k
}

func (k *jobCard) object() fyne.CanvasObject { return k.box }
func (k *jobCard) head() fyne.CanvasObject   { return k.top }
func (k *jobCard) bare() bool                { return false }

// cardLayout is what is said over the fields.
type cardLayout struct{ k *jobCard }

func (l *cardLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(300, 120) }
func (l *cardLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w := s.Width - 2*look.Inset
	h := min(l.k.said.HeightFor(w), s.Height/3)
	o[0].Move(fyne.NewPos(look.Inset, 0))
	o[0].Resize(fyne.NewSize(w, h))
	o[1].Move(fyne.NewPos(4, h+6))
	o[1].Resize(fyne.NewSize(s.Width-8, max(0, s.Height-h-6)))
}

// complaints is the menu of the ready complaints; a press puts one on the card or takes it off.
func (k *jobCard) complaints() *fyne.Menu {
	m := fyne.NewMenu("")
	ready, _ := edit.ComplaintOf(k.words())
	for _, c := range edit.Complaints {
		x := fyne.NewMenuItem(study.Upper(words.T(c)), func() {
			k.h.Tell(k.h.Doc.Edit(words.F("complaint: %s", words.T(c)), "", func(j *job.Job) error { return edit.Complain(j, c) }))
		})
		for _, r := range ready {
			x.Checked = x.Checked || r == c
		}
		m.Items = append(m.Items, x)
	}
	return m
}

func (k *jobCard) words() string {
	if c := k.h.Doc.Current().Card; c != nil {
		return c.Complaint
	}
	return ""
}

// loads is the menu of what the kilograms can be put into.
func (k *jobCard) loads() *fyne.Menu {
	m := fyne.NewMenu("")
	j := k.h.Doc.Current()
	put := func(label string, index int) {
		m.Items = append(m.Items, fyne.NewMenuItem(label, func() {
			k.h.Tell(k.h.Doc.Edit(words.T("load from the job card's weights"), "", func(j *job.Job) error {
				_, err := edit.LoadFromCard(j, index)
				return err
			}))
		}))
	}
	put(words.F("Make a load of them, \"%s\"", edit.FreeLoadName(j, words.T("as it came in"))), -1)
	for i := range edit.Len(j, edit.Loads) {
		put(words.F("Correct \"%s\" by them", edit.PartName(j, edit.Part{List: edit.Loads, Index: i})), i)
	}
	return m
}

func (k *jobCard) update(c document.Change) {
	if c&^(document.SelectionChanged|document.ProgressChanged|document.PositionChanged) == 0 {
		return
	}
	j := k.h.Doc.Current()
	k.form.show(edit.Part{List: edit.JobCard}, j)
	_, _, weighed := edit.WeighedLoad(j)
	k.load.SetDisabled(!weighed)
	if k.said.Set("", k.sentence(), ink.Text) {
		k.box.Refresh()
	}
}

// sentence says what the complaint is, which readings come first for it, and what was measured before stripping beside what is drawn.
func (k *jobCard) sentence() string {
	j := k.h.Doc.Current()
	ready, rest := edit.ComplaintOf(k.words())
	var out []string
	if len(ready) == 0 && rest == "" {
		out = append(out, words.T("No complaint yet: what it touches comes first among the readings."))
	} else {
		var all []string
		for _, c := range ready {
			all = append(all, words.T(c))
		}
		if rest != "" {
			all = append(all, rest)
		}
		out = append(out, words.F("Complaint: %s.", strings.Join(all, "; ")))
	}
	names := map[string]string{}
	for _, r := range Readings(k.h.Doc) {
		names[r.Key] = r.Name
	}
	var first []string
	for _, key := range touchedBy(j) {
		if names[key] != "" && len(first) < 4 {
			first = append(first, names[key])
		}
	}
	if len(first) > 0 {
		out = append(out, words.F("First among the readings: %s.", strings.Join(first, ", ")))
	}
	if w := k.against(j); w != "" {
		out = append(out, w)
	}
	return strings.Join(out, " ")
}

// against is what was measured before stripping beside what is drawn, at ride height: "pinion 4.5, drawn 2.5 deg".
func (k *jobCard) against(j *job.Job) string {
	unit := k.h.Doc.Unit()
	var out []string
	put := func(name string, was, is float64, unit string, show func(float64) string) {
		if !math.IsNaN(is) {
			out = append(out, fmt.Sprintf("%s %s / %s %s", name, show(was), show(is), unit))
		}
	}
	if v, ok := j.Before.Value("track"); ok {
		put(words.T("track"), v, j.Vehicle.Track, unit, func(mm float64) string { return length(mm, unit) })
	}
	if v, ok := measuredBefore("wheelbase", j); ok {
		put(words.T("wheelbase"), v, j.Vehicle.Wheelbase, unit, func(mm float64) string { return length(mm, unit) })
	}
	if p := k.h.Doc.Now().At(0, 0); p != nil && p.Err == "" && len(p.Values) > 0 {
		v := &p.Values[0]
		for _, x := range []struct {
			key, name string
			is        float64
		}{{"pinion", words.T("pinion"), v.PinionDeg}, {"shaftfront", words.T("front joint"), v.ShaftFrontDeg}, {"shaftrear", words.T("rear joint"), v.ShaftRearDeg}} {
			if was, ok := measuredBefore(x.key, j); ok {
				put(x.name, was, x.is, words.T("deg"), tenth)
			}
		}
	}
	if len(out) == 0 {
		return ""
	}
	return words.F("Before / drawn now, at ride: %s.", strings.Join(out, ", "))
}

func (k *jobCard) lines() []string {
	out := []string{k.said.Text()}
	for _, c := range k.form.cells {
		out = append(out, c.field.Label+": "+c.field.Text)
	}
	return out
}

func (k *jobCard) named(name string) fyne.CanvasObject {
	for _, b := range []*look.Button{k.complaint, k.load} {
		if b.Text() == name {
			return b
		}
	}
	return k.form.named(name)
}

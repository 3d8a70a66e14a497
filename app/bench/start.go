package bench

import (
	"errors"
	"fmt"
	"slices"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/panel"
	"axleloft/app/start"
	"axleloft/app/words"
	"axleloft/geometry/measure"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// startMyJob asks the six numbers and draws a working layout from them, every value a guess.
func (b *Bench) startMyJob() {
	six := start.Usual()
	unit := b.doc.Unit()
	show := func(mm float64) string {
		if unit == "in" {
			return fmt.Sprintf("%.4g", mm/measure.Inch)
		}
		return fmt.Sprintf("%.0f", mm)
	}
	refused := look.NewPara("", "", ink.Text)
	refused.Hide()
	var x *box
	var try func() bool
	var fields []*panel.Entry
	body := container.New(&look.Stack{Gap: 2})
	body.Add(look.NewPara("", words.T("Five numbers off the vehicle, as near as you have them, and a layout. Everything drawn from them is a guess till you measure it."), ink.Text))
	field := func(label, text, unit string) *panel.Entry {
		e := panel.NewEntry(text, func() {
			if !try() {
				x.close()
			}
		}, func() { x.escape() }).Wide(150)
		fields = append(fields, e)
		body.Add(container.New(&rowLayout{label: 276}, look.NewLabel(label, look.Body, ink.Text, false), e, look.NewLabel(unit, look.Small, ink.Second, false)))
		return e
	}
	wheelbase := field(words.T("Wheelbase"), show(six.Wheelbase), unit)
	track := field(words.T("Track, wheel centre to wheel centre"), show(six.Track), unit)
	tyre := field(words.T("Tyre: loaded radius, or its size"), show(six.Tyre.LoadedRadius), "420, 265/75R16, 33x12.50R15")
	bump := field(words.T("Bump from ride height"), show(six.Bump), unit)
	droop := field(words.T("Droop from ride height"), show(six.Droop), unit)
	layouts := start.Layouts()
	chosen := int(six.Layout)
	var pick *look.Button
	pick = look.NewButton(layouts[chosen], look.Outline, func() {
		m := fyne.NewMenu("")
		for i, phrase := range layouts {
			item := fyne.NewMenuItem(phrase, func() { chosen = i; pick.SetText(phrase); x.resize() })
			item.Checked = i == chosen
			m.Items = append(m.Items, item)
		}
		look.PopUp(m, pick)
	}).Caret(look.CaretDown)
	body.Add(container.New(&rowLayout{label: 276}, look.NewLabel(words.T("Layout"), look.Body, ink.Text, false), pick, look.NewLabel("", look.Small, ink.Second, false)))
	body.Add(refused)
	try = func() bool {
		err := b.makeJob(wheelbase.Text, track.Text, tyre.Text, bump.Text, droop.Text, start.Layout(chosen), unit)
		if err == nil {
			return false
		}
		refused.Show()
		refused.Set("", document.Words(err), ink.Text)
		x.resize()
		return true
	}
	x = b.box(words.T("Start my job"), 720, body, nil, answer{words.T("Draw it"), look.Filled, try}, answer{words.T("Leave it"), look.Outline, nil})
	x.fields = fields
	b.win.Canvas().Focus(wheelbase)
}

// makeJob makes and opens the job; the measuring list opens with it.
func (b *Bench) makeJob(wheelbase, track, tyre, bump, droop string, l start.Layout, unit string) error {
	six := start.Six{Layout: l}
	var err error
	read := func(dst *float64, label, text string) {
		if err != nil {
			return
		}
		if *dst, err = measure.Parse(text, measure.UnitOf(unit)); err != nil {
			err = fmt.Errorf("%s: %w", label, err)
		}
	}
	read(&six.Wheelbase, words.T("Wheelbase"), wheelbase)
	read(&six.Track, words.T("Track"), track)
	if err == nil {
		six.Tyre, err = start.ParseTyre(tyre, unit)
	}
	read(&six.Bump, words.T("Bump"), bump)
	read(&six.Droop, words.T("Droop"), droop)
	if err != nil {
		return err
	}
	j, err := start.Make(six)
	if err != nil {
		return err
	}
	d := document.New(j, false, b.docOptions())
	b.post(func() {
		b.keepFirst(func() {
			b.use(d)
			d.SetUnit(unit)
			b.show(panel.MeasureDrawer)
		}, d.Close)
	})
	return nil
}

// rowLayout is label, field and what stands behind it.
type rowLayout struct{ label float32 }

func (r *rowLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Resize(fyne.NewSize(r.label, s.Height))
	m := o[1].MinSize()
	o[1].Move(fyne.NewPos(r.label, (s.Height-m.Height)/2))
	o[1].Resize(m)
	o[2].Move(fyne.NewPos(r.label+m.Width+8, 0))
	o[2].Resize(fyne.NewSize(max(0, s.Width-r.label-m.Width-8), s.Height))
}

func (r *rowLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	m := o[1].MinSize()
	return fyne.NewSize(r.label+m.Width, max(m.Height, look.Row))
}

// askMany asks for several lines of text; f's refusal is shown, under the field it is of where it tells, and the question stays.
func (b *Bench) askMany(title string, labels, now []string, f func([]string) error) {
	refused := look.NewPara("", "", ink.Text)
	refused.Hide()
	var x *box
	var fields []*panel.Entry
	var rows []fyne.CanvasObject
	body := container.New(&look.Stack{Gap: 2})
	try := func() bool {
		var text []string
		for _, e := range fields {
			text = append(text, e.Text)
		}
		if err := f(text); err != nil {
			refused.Show()
			refused.Set("", document.Words(err), ink.Text)
			at, of := len(rows), (*edit.FieldError)(nil)
			if errors.As(err, &of) {
				at = min(of.Field+1, len(rows))
				b.win.Canvas().Focus(fields[at-1])
			}
			body.Objects = slices.Insert(slices.Clone(rows), at, fyne.CanvasObject(refused))
			x.resize()
			return true
		}
		return false
	}
	wide := float32(220)
	for _, l := range labels {
		wide = max(wide, look.Width(l, look.Body, false)+12)
	}
	for i, l := range labels {
		e := panel.NewEntry(now[i], func() {
			if !try() {
				x.close()
			}
		}, func() { x.escape() }).Wide(200)
		fields = append(fields, e)
		rows = append(rows, container.New(&rowLayout{label: wide}, look.NewLabel(l, look.Body, ink.Text, false), e, look.NewLabel("", look.Small, ink.Second, false)))
	}
	body.Objects = append(slices.Clone(rows), refused)
	x = b.box(title, max(520, wide+240), body, nil, answer{"OK", look.Filled, try}, answer{words.T("Leave it"), look.Outline, nil})
	x.fields = fields
	b.win.Canvas().Focus(fields[0])
}

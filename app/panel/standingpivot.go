package panel

import (
	"math"
	"strings"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/view"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"gonum.org/v1/gonum/spatial/r3"
)

// menu is the pivots that can be measured so.
func (k *standing) menu() *fyne.Menu {
	m := fyne.NewMenu("")
	j := k.h.Doc.Current()
	for _, p := range edit.Pivots(j) {
		if !edit.CanStand(j, p, k.key()) {
			continue
		}
		sides := []document.Pivot{p}
		if p.Side == job.Left {
			q := p
			q.Side = job.Right
			sides = append(sides, q)
		}
		for _, q := range sides {
			name := edit.Name(j, q)
			if _, _, ok := k.kept(q); ok {
				name += "  " + words.T("(measured so)")
			}
			i := fyne.NewMenuItem(name, func() { k.hold(q) })
			i.Checked = k.has && q == k.of
			m.Items = append(m.Items, i)
		}
	}
	if len(m.Items) == 0 {
		m.Items = append(m.Items, fyne.NewMenuItem(words.T("The job has no such pivot"), func() {}))
	}
	if k.key() != edit.OnFloor {
		return m
	}
	m.Items = append(m.Items, fyne.NewMenuItemSeparator())
	for i := range j.Datums {
		if name := j.Datums[i].Name; j.Datums[i].At == nil || j.Datums[i].Axis == "" {
			x := fyne.NewMenuItem(words.F("Datum: %s", name), func() { k.holdDatum(name) })
			x.Checked = name == k.mark
			m.Items = append(m.Items, x)
		}
	}
	m.Items = append(m.Items, fyne.NewMenuItem(words.T("A new datum..."), func() {
		k.h.AskMany(words.T("A new datum, measured from the floor"), []string{words.T("Name")}, []string{""}, func(t []string) error {
			name := strings.TrimSpace(t[0])
			if name == "" {
				return words.Error("The datum has no name. Give one: what one can put a finger on, for example hanger bolt.")
			}
			k.holdDatum(name)
			return nil
		})
	}))
	return m
}

// holdDatum goes over to a datum in the place of a pivot.
func (k *standing) holdDatum(name string) {
	k.h.Doc.LetGo()
	k.has, k.mark, k.did = false, name, ""
	t, _ := k.typedOf()
	k.fill(t)
	k.write()
	k.h.focus(k.row.fields[0])
}

// hold takes a pivot in hand, so that the views show which it is.
func (k *standing) hold(p document.Pivot) {
	k.follow(p)
	k.h.Doc.Hold(p)
	k.write()
	k.h.focus(k.row.fields[0])
}

// writeRight writes the pivot's side: which, its numbers, what they come to, and those measured so already.
func (k *standing) writeRight() {
	j := k.h.Doc.Current()
	name := words.T("Choose a pivot")
	if k.key() == edit.OnFloor {
		name = words.T("Choose a pivot or a datum")
	}
	if k.has {
		if name = edit.Name(j, k.of); name == "" { // it is gone
			k.has, name = false, words.T("Choose a pivot or a datum")
		}
	}
	if k.mark != "" {
		name = words.F("Datum: %s", k.mark)
	}
	k.pick.SetText(name)
	k.row.dress(k.how)
	objects := []fyne.CanvasObject{k.pick, k.row.box, k.comes, apart(k.take)}
	objects = append(objects, k.heads)
	n := 0
	line := func(name string, t edit.StoodText, lit bool, pressed func()) {
		if n == len(k.list) {
			k.list = append(k.list, newPressLine("", "", ink.Text, nil))
		}
		l := k.list[n]
		n++
		l.pressed, l.lit = pressed, lit
		l.seen = func() { revealIn(k.beside, l) }
		l.para.Set(name+":", strings.Join(k.phrases(t), ", ")+".", ink.Text)
		l.Refresh()
		objects = append(objects, l)
	}
	if k.key() == edit.OnFloor {
		for _, name := range edit.StoodDatums(j) {
			t, _ := edit.StoodDatumOf(j, name)
			k.barely(&t)
			line(words.F("Datum: %s", name), t, name == k.mark, func() { k.holdDatum(name) })
		}
	}
	for _, p := range edit.StoodPivots(j, k.key()) {
		_, t, _ := k.kept(p)
		line(edit.Name(j, p), t, k.has && p == k.of, func() { k.hold(p) })
	}
	k.heads.SetText(words.F("Measured so: %d", n))
	k.right.Objects = objects
	k.preview()
	k.right.Refresh()
	k.beside.Refresh()
}

// phrases are a place's three numbers as typed, in words.
func (k *standing) phrases(t edit.StoodText) []string {
	var out []string
	for a, v := range t.Typed {
		one := standingNames(k.how)[a] + " " + strings.ReplaceAll(v, "-", minus)
		if t.From[a] != "" && k.key() == edit.Hanging {
			one += " " + words.F("from %s", t.From[a])
		}
		out = append(out, one)
	}
	if t.PlusMinus != "" {
		out = append(out, "± "+t.PlusMinus)
	}
	return out
}

// standingTick is how long the mark of a datum is that is not there yet, mm.
const standingTick = 30.0

// preview says what the numbers come to and lays it over the views.
func (k *standing) preview() {
	k.take.SetDisabled(true)
	var lay []view.Laid
	defer func() { k.h.Lay("standing", lay) }()
	say := func(lead, text string) {
		k.comes.Set(lead, text, ink.Text)
	}
	switch {
	case !k.chosen():
		say("", words.T("Choose what you measured here, or take a pivot in a view."))
		return
	case k.row.empty():
		say("", words.T("Type its three numbers."))
		return
	}
	at, off, err := k.h.Doc.StoodAt(k.key(), k.text)
	if err != nil {
		say("", document.Words(err))
		return
	}
	unit := k.h.Doc.Unit()
	v, o := [3]float64{at.X, at.Y, at.Z}, [3]float64{off.X, off.Y, off.Z}
	var out []string
	for a := range v {
		out = append(out, edit.Axis(a).String()+" "+length(v[a], unit)+" ± "+tenths(math.Max(o[a], 0.1), unit))
	}
	text := strings.Join(out, ", ") + " " + unit + "."
	now, stands := edit.At(k.h.Doc.Current(), k.of)
	if k.mark != "" {
		now, stands = edit.DatumPlace(k.h.Doc.Current(), k.mark)
	}
	if d := r3.Norm(r3.Sub(at, now)); !stands {
		lay = []view.Laid{{Name: "measured", Span: &[2]r3.Vec{at, r3.Add(at, r3.Vec{Z: standingTick})}, Words: k.mark}}
	} else if d > 0.5 {
		text += " " + words.F("%s from where it stands.", lengthUnit(d, unit))
		lay = []view.Laid{{Name: "measured", Span: &[2]r3.Vec{now, at}, Words: words.T("measured")}}
	} else {
		text += " " + words.T("There it stands.")
	}
	free := k.mark != "" || !edit.IsMeasured(k.h.Doc.Current(), k.of)
	if !free {
		text += " " + words.T("It is marked measured: press Free on its card first.")
	}
	say(words.T("At ride height:"), text)
	k.take.SetDisabled(!free)
}

// taken puts the pivot there.
func (k *standing) taken() {
	if !k.chosen() || k.take.Disabled() {
		return
	}
	if k.mark != "" {
		said, err := k.h.Doc.TakeStoodDatum(k.mark, k.text)
		if err != nil {
			k.comes.Set("", document.Words(err), ink.Text)
			k.right.Refresh()
			return
		}
		k.tell(said)
		return
	}
	name := edit.Name(k.h.Doc.Current(), k.of)
	if err := k.h.Doc.TakeStood(k.of, k.key(), k.text); err != nil {
		k.comes.Set("", document.Words(err), ink.Text)
		k.right.Refresh()
		return
	}
	k.tell(words.F("%s: taken.", name))
}

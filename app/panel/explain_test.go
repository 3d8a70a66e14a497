package panel

import (
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every reading and row of the table of heights has two sentences, what moves it and a drawing that stays in its box, in light and dark.
func TestEveryReadingExplainsItself(t *testing.T) {
	test.NewTempApp(t)
	for _, name := range []string{"orchard-sprayer", "rescue-tender", "survey-wagon"} {
		h := open(t, name).h
		for _, r := range Readings(h.Doc) {
			def := Define(&r, h.Doc)
			require.NotNil(t, sketches[def.Sketch], r.Key)
			heads := map[string]string{}
			for _, l := range def.Lines {
				heads[l[0]] = l[1]
			}
			assert.NotEmpty(t, heads["What it is"], r.Key)
			assert.NotEmpty(t, heads["What moves it"], r.Key)
			assert.Contains(t, heads["Inputs"], "guesses", r.Key)
		}
		s, _ := h.Doc.Study()
		table := s.HeightTable()
		require.NotNil(t, table)
		for i := range table.Rows {
			def := defineRow(&table.Rows[i], h.Doc)
			assert.NotNil(t, sketches[def.Sketch], table.Rows[i].Key)
			assert.NotEmpty(t, def.Lines)
		}
		for _, c := range study.Charts() {
			def := defineChart(c.Key, h.Doc)
			assert.NotNil(t, sketches[def.Sketch], c.Key)
			require.GreaterOrEqual(t, len(def.Lines), 4, c.Key)
			assert.Equal(t, "What it is", def.Lines[0][0], c.Key)
			assert.NotEmpty(t, def.Lines[0][1], c.Key)
		}
		for i := range s.Findings {
			def := DefineFinding(&s.Findings[i], h.Doc)
			assert.NotNil(t, sketches[def.Sketch], s.Findings[i].Key)
			assert.GreaterOrEqual(t, len(def.Lines), 4, s.Findings[i].Key)
		}
	}
}

func TestSketchesStayInTheirBox(t *testing.T) {
	test.NewTempApp(t)
	for name, make := range sketches {
		s := make()
		require.NotEmpty(t, s.lines, name)
		for _, l := range s.lines {
			for _, x := range []float32{l.x0, l.x1} {
				assert.True(t, x >= 0 && x <= sketchWide, "%s: a line at x %v", name, x)
			}
			for _, y := range []float32{l.y0, l.y1} {
				assert.True(t, y >= 0 && y <= sketchTall, "%s: a line at y %v", name, y)
			}
		}
		for _, w := range s.words {
			assert.LessOrEqual(t, w.x+look.Width(w.text, look.Small, false), float32(sketchWide), "%s: %q", name, w.text)
			assert.True(t, w.y >= look.Small && w.y <= sketchTall-3, "%s: %q at y %v", name, w.text, w.y)
		}
		for _, scheme := range []ink.Scheme{ink.Light, ink.Dark} {
			look.SetScheme(scheme)
			k := newSketch(s)
			r := k.CreateRenderer()
			k.Resize(fyne.NewSize(560, sketchTall))
			r.Layout(k.Size())
			assert.NotEmpty(t, r.Objects(), name)
		}
		look.SetScheme(ink.Light)
	}
}

func TestComplaintsTouchReadings(t *testing.T) {
	test.NewTempApp(t)
	known := map[string]bool{"shaftbearing": true, "forced": true, "torsional": true, "inertia": true} // stand where the job has them
	h := open(t, "orchard-sprayer").h
	for _, r := range Readings(h.Doc) {
		known[r.Key] = true
	}
	require.Len(t, touched, len(edit.Complaints))
	for _, c := range edit.Complaints {
		require.NotEmpty(t, touched[c], c)
		for _, key := range touched[c] {
			assert.True(t, known[key], "%s: %s", c, key)
			assert.NotEmpty(t, definitions[key].what, key)
		}
	}
}

func TestTheCardsReadings(t *testing.T) {
	test.NewTempApp(t)
	h := open(t, "orchard-sprayer").h
	drawn := Readings(h.Doc)
	part := edit.Part{List: edit.JobCard}
	require.NoError(t, h.Doc.Edit("complaint", "", func(j *job.Job) error {
		j.Card, j.Before = nil, nil
		return edit.Complain(j, "vibrates at speed")
	}))
	require.NoError(t, h.Doc.SetField(part, "before.pinion", "4.5"))
	require.NoError(t, h.Doc.SetField(part, "before.wheelbaseLeft", "3000"))
	require.NoError(t, h.Doc.SetField(part, "before.wheelbaseRight", "2990"))
	list := Readings(h.Doc)
	require.Len(t, list, len(drawn))
	assert.Equal(t, []string{"shaftfront", "shaftrear"}, []string{list[0].Key, list[1].Key})
	by := map[string]Reading{}
	for _, r := range list {
		by[r.Key] = r
	}
	assert.Equal(t, 4.5, by["pinion"].Measured)
	assert.Equal(t, "before 4.5", by["pinion"].Under)
	assert.Equal(t, 10.0, by["squareness"].Measured)
	assert.Equal(t, 2995.0, by["wheelbase"].Measured)

	k := newJobCard(h)
	k.update(document.JobChanged)
	assert.Contains(t, k.said.Text(), "vibrates at speed")
	assert.Contains(t, k.said.Text(), "pinion 4.5 / 2.5 deg")
	assert.True(t, k.load.Disabled(), "not weighed yet")
	require.NoError(t, h.Doc.SetField(part, "frontKg", "1500"))
	require.NoError(t, h.Doc.SetField(part, "rearKg", "2250"))
	k.update(document.JobChanged)
	assert.False(t, k.load.Disabled())
	loads := edit.Len(h.Doc.Current(), edit.Loads)
	k.loads().Items[0].Action()
	assert.Equal(t, loads+1, edit.Len(h.Doc.Current(), edit.Loads))
	h.Doc.Undo()
	assert.Equal(t, loads, edit.Len(h.Doc.Current(), edit.Loads), "one step back")
	k.complaints().Items[0].Action()
	assert.Contains(t, h.Doc.Current().Card.Complaint, "squats")
}

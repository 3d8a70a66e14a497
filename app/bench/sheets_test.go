package bench

import (
	"bytes"
	"strings"
	"testing"

	"axleloft/app/look"
	"axleloft/app/panel"
	"axleloft/app/sheets"
	"axleloft/geometry/job"
	"axleloft/plotting/paper"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// shown calls f with everything in the box that stands last.
func shown(b *Bench, f func(fyne.CanvasObject)) {
	o := b.boxes[len(b.boxes)-1].pop.Content
	walk(o, fyne.NewPos(0, 0), box2{}, func(o fyne.CanvasObject, _, _ box2) bool {
		f(o)
		return true
	})
}

// preview is the sheets as they stand in a box: buttons by their words, all that is read.
type preview struct {
	t *testing.T
	b *Bench
}

func (p preview) press(text string) *look.Button {
	p.t.Helper()
	var found *look.Button
	shown(p.b, func(o fyne.CanvasObject) {
		if btn, ok := o.(*look.Button); ok && btn.Text() == text && btn.Visible() {
			found = btn
		}
	})
	require.NotNil(p.t, found, "no button %q", text)
	found.Tapped(nil)
	return found
}

func (p preview) has(text string) (has bool) {
	shown(p.b, func(o fyne.CanvasObject) {
		if btn, ok := o.(*look.Button); ok && btn.Text() == text && btn.Visible() {
			has = true
		}
	})
	return has
}

func (p preview) says() (out string) {
	shown(p.b, func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *look.Label:
			if o.Visible() {
				out += o.Text() + "\n"
			}
		case *look.Para:
			out += o.Text() + "\n"
		}
	})
	return out
}

// The sheets stand over the window: each reader's can be chosen and turned page by page, on either paper, and Escape leaves.
func TestShowSheets(t *testing.T) {
	b := open(t, Options{})
	b.win.Resize(fyne.NewSize(1366, 688))
	b.run("sheets")
	require.Len(t, b.boxes, 1)
	p := preview{t, b}
	for _, r := range sheets.Readers() {
		assert.True(t, p.has(r.Title), r.Title)
	}
	assert.Contains(t, p.says(), "Page 1 of 1", "the owner's is one page")
	assert.False(t, p.has("DXF..."), "a sheet is PDF only")
	assert.NotContains(t, p.says(), "100 mm bars")
	assert.True(t, p.press("For the engineer").Lit())
	assert.Regexp(t, `Page 1 of 1\d`, p.says())
	p.press("Next page")
	assert.Regexp(t, `Page 2 of 1\d`, p.says())
	p.press("Page before")
	p.press("Page before") // nothing before the first
	assert.Regexp(t, `Page 1 of 1\d`, p.says())
	p.press("Letter")
	assert.Equal(t, paper.Letter.Name, b.app.Preferences().String(keyPaper))
	b.escape()
	assert.Empty(t, b.boxes)
}

// Views to scale stand in the preview, the axle where it stands, from the Export menu too.
func TestViewsToScale(t *testing.T) {
	b := open(t, Options{})
	b.win.Resize(fyne.NewSize(1366, 688))
	b.doc.MoveAxle(40, -30)
	views := 0
	for _, m := range b.exportMenu().Items {
		if strings.HasSuffix(m.Label, "view to scale...") {
			views++
			m.Action()
			p := preview{t, b}
			assert.Contains(t, p.says(), "Page 1 of ", m.Label)
			assert.True(t, p.has("DXF...") && p.has("SVG..."))
			b.escape()
		}
	}
	assert.Equal(t, 3, views)
	s, _ := b.doc.Study()
	in, err := b.sheetInput(s)
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, w := range b.paperworks() {
		if !strings.HasSuffix(w.label, "view to scale") {
			continue
		}
		m := w.make(t.Context(), in)
		require.NoError(t, m.err)
		for format, begins := range map[string]string{"dxf": "  0\nSECTION", "svg": "<?xml", "pdf": "%PDF-"} {
			var out bytes.Buffer
			require.NoError(t, m.write(&out, format))
			assert.True(t, strings.HasPrefix(out.String(), begins), format)
			assert.False(t, seen[out.String()])
			seen[out.String()] = true
			if format == "dxf" {
				assert.Contains(t, out.String(), "left 40 up, right 30 down")
			}
		}
	}
	assert.Len(t, seen, 9)
}

// A bracket's template stands in the preview, drawn for the user's printer; a bar of a page fitted to its paper is refused.
func TestTemplateInThePreview(t *testing.T) {
	b, settle := openQuiet(t)
	b.win.Resize(fyne.NewSize(1366, 688))
	require.NoError(t, b.doc.Edit("bracket", "", func(j *job.Job) error {
		j.Brackets = append(j.Brackets, job.Bracket{Of: "Lower", End: "frame", Kind: "tab", Thickness: 8, Hole: 16, Edge: 32, Base: 60})
		return nil
	}))
	b.doc.Settle()
	settle()
	b.showSheet("Lower, frame end")
	settle()
	p := preview{t, b}
	assert.True(t, p.has("Lower, frame end"))
	assert.Contains(t, p.says(), "Page 1 of 2")
	assert.Contains(t, p.says(), "100 mm bars")
	bar := func(i int, text string) {
		var fields []*panel.Entry
		shown(b, func(o fyne.CanvasObject) {
			if e, ok := o.(*panel.Entry); ok {
				fields = append(fields, e)
			}
		})
		require.Len(t, fields, 2)
		fields[i].Text = text
		fields[i].OnSubmitted(text)
		settle()
	}
	made := func() string {
		list := b.paperworks()
		s, _ := b.doc.Study()
		in, err := b.sheetInput(s)
		require.NoError(t, err)
		m := list[len(list)-1].make(t.Context(), in)
		require.NoError(t, m.err)
		var out bytes.Buffer
		require.NoError(t, m.write(&out, "svg"))
		return out.String()
	}
	straight := made()
	bar(0, "99.2")
	assert.Equal(t, sheets.Printer{Across: 99.2}, b.printer())
	assert.NotEqual(t, straight, made())
	bar(1, "80")
	assert.Contains(t, p.says(), "a page fitted to its paper")
	assert.Equal(t, sheets.Printer{Across: 99.2}, b.printer())
	bar(0, "")
	assert.Equal(t, sheets.Printer{}, b.printer())
	assert.Equal(t, straight, made())
	b.escape()
	assert.Empty(t, b.boxes)
}

// While figures are worked out nothing is made of old ones.
func TestNoSheetsOfOldFigures(t *testing.T) {
	b := open(t, Options{})
	p := hold(b)
	require.NoError(t, b.doc.NudgePivot(p, r3.Vec{Z: 1}))
	b.run("sheets")
	require.Len(t, b.boxes, 1)
	assert.Contains(t, b.boxes[0].words, "still being worked out")
}

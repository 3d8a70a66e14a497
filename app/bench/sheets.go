package bench

import (
	"bytes"
	"context"
	"image"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/panel"
	"axleloft/app/sheets"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
)

// previewed is what can be put on paper while it stands over the window: one sheet, view or template, one page of it. What is slow is worked out behind;
// what was asked for last wins.
type previewed struct {
	b       *Bench
	box     *box
	in      *sheets.Input
	works   []paperwork
	at      int // which of them
	page    int
	made    made
	stop    context.CancelFunc
	list    []*look.Button
	papers  []*look.Button
	column  *container.Scroll
	picture *canvas.Image
	scroll  *container.Scroll
	said    *look.Para
	where   *look.Label
	back    *look.Button
	on      *look.Button
	save    *look.Button
	svg     *look.Button
	dxf     *look.Button
	bars    *fyne.Container // what the printer's bars measured
	left    *fyne.Container // the list and what stands under it
	foot    *fyne.Container
}

const (
	previewList = 214 // width of the list of what there is
	previewWide = 1120
)

// showSheets opens the sheets of the job as it stands, the first reader's first page shown.
func (b *Bench) showSheets() { b.showSheet("") }

// showSheet opens the sheets with one of them shown, by what it is called in the list; "" the first.
func (b *Bench) showSheet(label string) {
	s, current := b.doc.Study()
	if !current || s.Depth != study.Full {
		b.say(words.T("No sheet yet"), errWorking.Error())
		return
	}
	in, err := b.sheetInput(s)
	if err != nil {
		b.tell(err)
		return
	}
	v := &previewed{b: b, in: in, works: b.paperworks()}
	v.show()
	v.choose(max(0, slices.IndexFunc(v.works, func(w paperwork) bool { return w.label == label })))
	v.reveal()
}

// sheetInput is what sheets of the job as it stands are made from.
func (b *Bench) sheetInput(s *study.Study) (*sheets.Input, error) {
	var file bytes.Buffer
	if err := job.Write(&file, b.doc.Job()); err != nil {
		return nil, err
	}
	size, err := paper.SizeOf(b.app.Preferences().StringWithFallback(keyPaper, paper.A4.Name))
	if err != nil {
		size = paper.A4
	}
	return &sheets.Input{Study: s, Trial: b.doc.Trial(), Date: time.Now().Format("2006-01-02"), Sum: sheets.Sum(file.Bytes()), Size: size, Demo: b.doc.IsDemo()}, nil
}

// keyPaper is the size of paper chosen last.
const keyPaper = "paper"

func (v *previewed) show() {
	b := v.b
	list := container.New(&look.Stack{Gap: 4})
	group := ""
	for i, w := range v.works {
		if w.group != group {
			group = w.group
			list.Add(look.NewLabel(group, look.Small, ink.Second, true))
		}
		btn := look.NewButton(look.Shorten(w.label, look.Body, false, previewList-36), look.Outline, func() { v.choose(i) }).Type(look.Body, false).Tall(32, 34).Padding(8)
		v.list = append(v.list, btn)
		list.Add(btn)
	}
	for _, p := range []paper.Size{paper.A4, paper.Letter} {
		btn := look.NewButton(map[string]string{"a4": "A4", "letter": words.T("Letter")}[p.Name], look.Outline, func() { v.onPaper(p) }).Type(look.Body, false).Tall(32, 34).Padding(8)
		v.papers = append(v.papers, btn)
	}
	v.said, v.where = look.NewPara("", "", ink.Text), look.NewLabel("", look.Body, ink.Text, false)
	v.picture = &canvas.Image{FillMode: canvas.ImageFillOriginal, ScaleMode: canvas.ImageScaleSmooth}
	v.picture.Hide()
	size := b.win.Canvas().Size()
	width := min(size.Width-40, previewWide)
	height := max(200, size.Height-190)
	v.scroll = container.NewScroll(v.picture)
	v.scroll.SetMinSize(fyne.NewSize(width-40-previewList-look.Gap, height))
	small := func(text string, f func()) *look.Button {
		return look.NewButton(text, look.Outline, f).Type(look.Body, false).Tall(32, 34).Padding(8)
	}
	v.back, v.on = small(words.T("Page before"), func() { v.turn(-1) }), small(words.T("Next page"), func() { v.turn(1) })
	v.svg, v.dxf = small("SVG...", func() { v.saveAs("svg") }), small("DXF...", func() { v.saveAs("dxf") })
	v.bars = v.barFields()
	v.foot = container.New(layout.NewCustomPaddedHBoxLayout(look.Gap), v.back, v.on, v.where, v.svg, v.dxf)
	v.column = container.NewVScroll(container.New(layout.NewCustomPaddedLayout(0, 0, 0, 10), list)) // beside its bar
	v.column.SetMinSize(fyne.NewSize(previewList, 100))
	under := container.New(&look.Stack{Gap: 4, Above: 6}, container.New(layout.NewCustomPaddedHBoxLayout(look.Gap), v.papers[0], v.papers[1]), v.bars, v.said)
	v.left = container.NewBorder(nil, under, nil, nil, look.Calm(v.column))
	body := container.NewBorder(nil, nil, v.left, nil,
		container.NewBorder(nil, v.foot, nil, nil, container.NewStack(look.NewPlate(ink.Between), look.Calm(v.scroll))))
	v.box = b.box(words.T("Sheets"), width, body, v.leave,
		answer{words.T("Save this one as PDF..."), look.Filled, func() bool { v.saveAs("pdf"); return true }},
		answer{words.T("Save all sheets as one PDF..."), look.Outline, func() bool { v.saveAll(); return true }},
		answer{words.T("Close"), look.Outline, func() bool { v.leave(); return false }})
	v.box.page = v.scroll
	v.save = v.box.first()
}

// barFields are where one types what the printer's two bars measured.
func (v *previewed) barFields() *fyne.Container {
	now := v.b.printer()
	row := container.New(layout.NewCustomPaddedHBoxLayout(4), look.NewLabel(words.T("across"), look.Small, ink.Text, false))
	add := func(key string, mm float64) {
		text := ""
		if mm > 0 {
			text = strconv.FormatFloat(mm, 'f', -1, 64)
		}
		var e *panel.Entry
		take := func() { v.measured(key, e) }
		e = panel.NewEntry(text, take, func() { v.box.escape() }).Wide(66)
		e.SetPlaceHolder("100")
		e.OnLeave = take
		row.Add(e)
	}
	add(keyAcross, now.Across)
	row.Add(look.NewLabel(words.T("up"), look.Small, ink.Text, false))
	add(keyUp, now.Up)
	return container.New(&look.Stack{Gap: 2}, look.NewLabel(words.T("100 mm bars, as printed"), look.Small, ink.Text, false), row)
}

// measured takes what a bar measured and draws the template anew; nothing typed is a printer that is true.
func (v *previewed) measured(key string, e *panel.Entry) {
	mm := 0.0
	if text := strings.TrimSpace(e.Text); text != "" {
		var err error
		if mm, err = measure.Parse(text, measure.Millimetres); err == nil {
			err = sheets.CheckBar(mm)
		}
		if err != nil {
			v.say(document.Words(err))
			return
		}
	}
	prefs := v.b.app.Preferences()
	if prefs.Float(key) == mm {
		return
	}
	prefs.SetFloat(key, mm)
	v.work()
}

// leave gives up what is being worked out.
func (v *previewed) leave() {
	if v.stop != nil {
		v.stop()
		v.stop = nil
	}
}

// choose shows one of what there is.
func (v *previewed) choose(at int) {
	v.at, v.page = at, 0
	for i, btn := range v.list {
		btn.SetLit(i == at)
	}
	for i, p := range []paper.Size{paper.A4, paper.Letter} {
		v.papers[i].SetLit(p.Name == v.in.Size.Name)
	}
	v.work()
}

// reveal brings the chosen one into view in the list.
func (v *previewed) reveal() {
	o := v.list[v.at]
	y := o.Position().Y + o.Size().Height
	v.column.ScrollToOffset(fyne.NewPos(0, max(0, y-v.column.Size().Height)))
}

// onPaper changes the size of paper.
func (v *previewed) onPaper(p paper.Size) {
	in := *v.in
	in.Size = p
	v.in = &in
	v.b.app.Preferences().SetString(keyPaper, p.Name)
	v.choose(v.at)
}

// work lays out what is chosen, and its first page, behind the window.
func (v *previewed) work() {
	v.leave()
	ctx, stop := context.WithCancel(context.Background())
	v.stop = stop
	v.made = made{}
	v.refresh(nil)
	v.say(words.T("Working out."))
	w, in, dpi := v.works[v.at], v.in, v.dpi()
	job := v.b.doc.Job()
	v.behind(ctx, func() made {
		if w.against && in.Trial != "" && in.Before == nil {
			next := *in
			next.Before, next.Against = drawnStudy(ctx, job), words.T("as drawn")
			in = &next
		}
		m := w.make(ctx, in)
		m.in = in
		if m.err == nil {
			m.img = m.pages[0].Image(dpi(m.pages[0]))
		}
		return m
	}, func(m made) {
		v.in, v.made = m.in, m
		if m.err != nil {
			v.say(study.Upper(document.Words(m.err)))
			return
		}
		v.say("")
		v.refresh(m.img)
	})
}

// drawnStudy is the job as drawn worked out, nil where it cannot be.
func drawnStudy(ctx context.Context, j *job.Job) *study.Study {
	drawn, err := j.WithTrial("")
	if err != nil {
		return nil
	}
	s := study.New(ctx, drawn, study.Full)
	if s == nil || !s.Bounded() {
		return nil
	}
	return s
}

// behind works f out off the window's goroutine and hands it back where nothing else was asked for since.
func (v *previewed) behind(ctx context.Context, f func() made, then func(made)) {
	run := func(f func()) { go f() }
	if v.b.atOnce {
		run = func(f func()) { f() }
	}
	run(func() {
		m := f()
		v.b.post(func() {
			if ctx.Err() == nil {
				then(m)
			}
		})
	})
}

// turn goes some pages on.
func (v *previewed) turn(by int) {
	at := v.page + by
	if at < 0 || at >= len(v.made.pages) {
		return
	}
	v.page = at
	v.leave()
	ctx, stop := context.WithCancel(context.Background())
	v.stop = stop
	g, dpi := v.made.pages[at], v.dpi()
	v.behind(ctx, func() made { return made{img: g.Image(dpi(g))} }, func(m made) { v.refresh(m.img) })
}

// dpi draws a page as wide as the room for it, at most as large as on paper on a common screen.
func (v *previewed) dpi() func(*sheet.Page) int {
	room, scale := float64(v.scroll.MinSize().Width-24), float64(v.b.win.Canvas().Scale())
	return func(g *sheet.Page) int {
		units := min(room, paper.MM(g.Size.W))
		return max(40, int(units/(g.Size.W/25.4)*scale))
	}
}

func (v *previewed) refresh(img image.Image) {
	v.picture.Hidden = img == nil
	v.picture.Image = img
	if img != nil {
		k := v.b.win.Canvas().Scale()
		v.picture.SetMinSize(fyne.NewSize(float32(img.Bounds().Dx())/k, float32(img.Bounds().Dy())/k))
	}
	v.picture.Refresh()
	v.scroll.ScrollToOffset(fyne.NewPos(0, 0))
	v.scroll.Refresh()
	text, n := "", len(v.made.pages)
	if n > 0 {
		text = words.F("Page %d of %d", v.page+1, n)
	}
	v.where.SetText(text)
	v.back.SetDisabled(v.page == 0)
	v.on.SetDisabled(v.page+1 >= n)
	v.save.SetDisabled(n == 0)
	look.Show(v.svg, slices.Contains(v.made.formats, "svg"))
	look.Show(v.dxf, slices.Contains(v.made.formats, "dxf"))
	look.Show(v.bars, v.works[v.at].bars)
	v.foot.Refresh()
	v.left.Refresh()
}

func (v *previewed) say(text string) {
	v.said.Set("", text, ink.Text)
	v.left.Refresh()
}

// saveAs asks for a place and writes what is shown.
func (v *previewed) saveAs(format string) {
	if len(v.made.pages) == 0 {
		return
	}
	m, name := v.made, v.works[v.at].file
	v.box.escape()
	v.b.export(name, format, func(w io.Writer) error { return m.write(w, format) })
}

// saveAll makes every sheet there is behind the window, asks for a place and writes them as one PDF.
func (v *previewed) saveAll() {
	v.leave()
	ctx, stop := context.WithCancel(context.Background())
	v.stop = stop
	v.say(words.T("Working out all sheets."))
	in, b := v.in, v.b
	var all []sheet.Sheet
	v.behind(ctx, func() (m made) {
		for _, r := range sheets.Readers() {
			if s, err := sheets.Make(ctx, r, in); err == nil { // one this job cannot have is left out: no tank, no driveshaft
				all = append(all, s)
			}
		}
		return m
	}, func(made) {
		v.box.escape()
		b.export(words.T("sheets"), "pdf", func(w io.Writer) error { return sheet.Write(w, in.Size, all...) })
	})
}

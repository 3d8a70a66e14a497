package bench

import (
	"bytes"
	"context"
	"image"
	"io"
	"time"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/sheets"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"
	"axleloft/plotting/sheet"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
)

// previewed is the sheets while they stand over the window: one reader's, one page of it. What is slow is worked out behind; what was asked for last wins.
type previewed struct {
	b       *Bench
	box     *box
	in      *sheets.Input
	reader  int
	page    int
	pages   []*sheet.Page
	sheet   sheet.Sheet
	stop    context.CancelFunc
	readers []*look.Button
	papers  []*look.Button
	picture *canvas.Image
	scroll  *container.Scroll
	said    *look.Para
	where   *look.Label
	back    *look.Button
	on      *look.Button
	save    *look.Button
	height  float32
}

const (
	previewList = 188 // width of the list of readers
	previewWide = 1120
)

// showSheets opens the sheets of the job as it stands, the first reader's first page shown.
func (b *Bench) showSheets() {
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
	v := &previewed{b: b, in: in}
	v.show()
	v.choose(0)
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
	for i, r := range sheets.Readers() {
		btn := look.NewButton(r.Title, look.Outline, func() { v.choose(i) }).Type(look.Body, false).Tall(32, 34).Padding(8)
		v.readers = append(v.readers, btn)
		list.Add(btn)
	}
	for _, p := range []paper.Size{paper.A4, paper.Letter} {
		btn := look.NewButton(map[string]string{"a4": "A4", "letter": "Letter"}[p.Name], look.Outline, func() { v.onPaper(p) }).Type(look.Body, false).Tall(32, 34).Padding(8)
		v.papers = append(v.papers, btn)
	}
	list.Add(container.New(layout.NewCustomPaddedHBoxLayout(look.Gap), v.papers[0], v.papers[1]))
	v.said, v.where = look.NewPara("", "", ink.Text), look.NewLabel("", look.Body, ink.Text, false)
	v.picture = &canvas.Image{FillMode: canvas.ImageFillOriginal, ScaleMode: canvas.ImageScaleSmooth}
	v.picture.Hide()
	size := b.win.Canvas().Size()
	width := min(size.Width-40, previewWide)
	v.height = max(200, size.Height-190)
	v.scroll = container.NewScroll(v.picture)
	v.scroll.SetMinSize(fyne.NewSize(width-40-previewList-look.Gap, v.height))
	v.back = look.NewButton(words.T("Page before"), look.Outline, func() { v.turn(-1) }).Type(look.Body, false).Tall(32, 34).Padding(8)
	v.on = look.NewButton(words.T("Next page"), look.Outline, func() { v.turn(1) }).Type(look.Body, false).Tall(32, 34).Padding(8)
	foot := container.New(layout.NewCustomPaddedHBoxLayout(look.Gap), v.back, v.on, v.where)
	list.Add(v.said)
	body := container.NewBorder(nil, nil, container.New(&fixedWidth{width: previewList}, list), nil,
		container.NewBorder(nil, foot, nil, nil, container.NewStack(look.NewPlate(ink.Between), look.Calm(v.scroll))))
	v.box = b.box(words.T("Sheets"), width, body, v.leave,
		answer{words.T("Save this one as PDF..."), look.Filled, func() bool { v.saveOne(); return true }},
		answer{words.T("Save all as one PDF..."), look.Outline, func() bool { v.saveAll(); return true }},
		answer{words.T("Close"), look.Outline, func() bool { v.leave(); return false }})
	v.box.page = v.scroll
	v.save = v.box.first()
}

// leave gives up what is being worked out.
func (v *previewed) leave() {
	if v.stop != nil {
		v.stop()
		v.stop = nil
	}
}

// choose shows a reader's sheet.
func (v *previewed) choose(reader int) {
	v.reader, v.page = reader, 0
	for i, btn := range v.readers {
		btn.SetLit(i == reader)
	}
	for i, p := range []paper.Size{paper.A4, paper.Letter} {
		v.papers[i].SetLit(p.Name == v.in.Size.Name)
	}
	v.work()
}

// onPaper changes the size of paper.
func (v *previewed) onPaper(p paper.Size) {
	in := *v.in
	in.Size = p
	v.in = &in
	v.b.app.Preferences().SetString(keyPaper, p.Name)
	v.choose(v.reader)
}

// made is a sheet worked out behind.
type made struct {
	in    *sheets.Input
	sheet sheet.Sheet
	pages []*sheet.Page
	img   image.Image
	err   error
}

// work makes the chosen sheet and its first page behind the window.
func (v *previewed) work() {
	v.leave()
	ctx, stop := context.WithCancel(context.Background())
	v.stop = stop
	v.pages = nil
	v.picture.Hide()
	v.say(words.T("Working out."))
	r, in, dpi := sheets.Readers()[v.reader], v.in, v.dpi()
	job := v.b.doc.Job()
	v.behind(ctx, func() made {
		m := made{in: in}
		if in.Trial != "" && in.Before == nil {
			next := *in
			next.Before, next.Against = drawnStudy(ctx, job), "as drawn"
			m.in = &next
		}
		if m.sheet, m.err = sheets.Make(ctx, r, m.in); m.err != nil {
			return m
		}
		m.pages = sheet.Lay(in.Size, m.sheet)
		m.img = m.pages[0].Image(dpi)
		return m
	}, func(m made) {
		v.in, v.sheet, v.pages = m.in, m.sheet, m.pages
		if m.err != nil {
			v.say(document.Words(m.err))
			v.refresh(nil)
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
	if at < 0 || at >= len(v.pages) {
		return
	}
	v.page = at
	v.leave()
	ctx, stop := context.WithCancel(context.Background())
	v.stop = stop
	g, dpi := v.pages[at], v.dpi()
	v.behind(ctx, func() made { return made{img: g.Image(dpi)} }, func(m made) { v.refresh(m.img) })
}

// dpi draws a page as wide as the room for it, at most as large as on paper on a common screen.
func (v *previewed) dpi() int {
	units := min(float64(v.scroll.MinSize().Width-24), paper.MM(v.in.Size.W))
	return max(40, int(units/(v.in.Size.W/25.4)*float64(v.b.win.Canvas().Scale())))
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
	text := ""
	if len(v.pages) > 0 {
		text = words.F("Page %d of %d", v.page+1, len(v.pages))
	}
	v.where.SetText(text)
	v.back.SetDisabled(v.page == 0)
	v.on.SetDisabled(v.page+1 >= len(v.pages))
	v.save.SetDisabled(len(v.pages) == 0)
}

func (v *previewed) say(text string) { v.said.Set("", text, ink.Text) }

// saveOne asks for a place and writes the sheet that is shown.
func (v *previewed) saveOne() {
	if len(v.pages) == 0 {
		return
	}
	s, size := v.sheet, v.in.Size
	name := sheets.Readers()[v.reader].Key
	v.box.escape()
	v.b.export(name, "pdf", func(w io.Writer) error { return sheet.Write(w, size, s) })
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

package panel

import (
	"image"
	"math"

	"axleloft/app/look"
	"axleloft/plotting/chart"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// plotted is a chart drawn into an image off the window's goroutine; the newest wins.
type plotted struct {
	widget.BaseWidget
	h      *Host
	raster *canvas.Raster
	spec   chart.Spec
	stale  bool
	img    *image.RGBA
	pixels [2]int
	busy   bool
	again  bool
}

func newPlotted(h *Host) *plotted {
	p := &plotted{h: h, spec: chart.Spec{Cursor: math.NaN()}}
	p.raster = canvas.NewRaster(p.picture)
	p.ExtendBaseWidget(p)
	return p
}

func (p *plotted) set(s chart.Spec, stale bool) {
	p.spec, p.stale = s, stale
	p.ask()
	p.Refresh()
}

func (p *plotted) ask() {
	if p.pixels[0] < 20 || p.pixels[1] < 20 || p.Size().Width <= 0 {
		return
	}
	if p.busy {
		p.again = true
		return
	}
	p.busy = true
	s, w, h, k, dark := p.spec, p.pixels[0], p.pixels[1], float64(p.pixels[0])/float64(p.Size().Width), look.Dark()
	s.Heavy = float64(look.Weight())
	go func() {
		img := image.NewRGBA(image.Rect(0, 0, w, h))
		chart.Draw(img, s, dark, k)
		p.h.Post(func() {
			p.busy, p.img = false, img
			if p.again {
				p.again = false
				p.ask()
			}
			p.raster.Refresh()
		})
	}()
}

func (p *plotted) picture(w, h int) image.Image {
	if p.pixels != [2]int{w, h} {
		p.pixels = [2]int{w, h}
		p.h.Post(p.ask)
	}
	if p.img == nil {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	return p.img
}

func (p *plotted) CreateRenderer() fyne.WidgetRenderer {
	p.ExtendBaseWidget(p)
	return &plottedRenderer{p, &canvas.Rectangle{}, &canvas.Rectangle{}}
}

type plottedRenderer struct {
	p            *plotted
	ground, veil *canvas.Rectangle
}

func (r *plottedRenderer) Layout(s fyne.Size) {
	r.ground.FillColor = look.Color(ink.Ground)
	r.veil.FillColor, r.veil.Hidden = look.Veil(ink.Ground, 0x90), !r.p.stale
	for _, o := range []fyne.CanvasObject{r.ground, r.p.raster, r.veil} {
		o.Resize(s)
	}
}
func (r *plottedRenderer) MinSize() fyne.Size { return fyne.NewSize(160, 100) }
func (r *plottedRenderer) Refresh()           { r.Layout(r.p.Size()); canvas.Refresh(r.p) }
func (r *plottedRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.p.raster, r.veil}
}
func (r *plottedRenderer) Destroy() {}

package edit

import (
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// PhotoViews are the views a photo can lie behind, by their words in the file, in the order of the views.
var PhotoViews = []string{"side", "rear", "plan"}

// How strongly a photo is drawn at first, and how little and much at the ends.
const (
	photoOpacity = 0.5
	photoFaint   = 0.1
	photoStrong  = 1.0
	photoStep    = 0.15
)

// The least distance of two points a photo is scaled or levelled by, mm as it lies, and what a scale may be.
const (
	photoApart = 1e-3
	photoLeast = 1e-3 // mm a pixel
	photoMost  = 1e3
)

// PhotoAt is the photo behind a view ("side", "rear", "plan"): the first that names it; -1 for none.
func PhotoAt(j *job.Job, view string) int {
	return slices.IndexFunc(j.Photos, func(p job.Photo) bool { return p.View == view })
}

// Place2 is a place in a view's own axes, right and up, mm.
type Place2 = job.Point2

// Opacity is how strongly a photo is drawn, 0 to 1.
func Opacity(p *job.Photo) float64 {
	if p.Opacity == nil {
		return photoOpacity
	}
	return *p.Opacity
}

// IsPlaced reports whether a photo lies anywhere.
func IsPlaced(p *job.Photo) bool { return p.At != nil && p.MmPerPixel != nil }

// SetPhoto puts a picture's file behind a view in the place of the one there, its middle at a place, one of its pixels so many mm.
func SetPhoto(j *job.Job, view, file string, at Place2, mmPerPixel float64) error {
	if !slices.Contains(PhotoViews, view) {
		return words.Errorf("There is no view called %q.", view)
	}
	mmPerPixel = math.Max(photoLeast, math.Min(photoMost, mmPerPixel))
	p := job.Photo{File: file, View: view, At: &at, MmPerPixel: &mmPerPixel}
	if i := PhotoAt(j, view); i >= 0 {
		p.Opacity, p.Note = j.Photos[i].Opacity, j.Photos[i].Note
		j.Photos[i] = p
		return nil
	}
	j.Photos = append(j.Photos, p)
	return nil
}

// RemovePhoto takes the photo of a view out of the job; its file stays where it is.
func RemovePhoto(j *job.Job, view string) error {
	i := PhotoAt(j, view)
	if i < 0 {
		return noPhoto()
	}
	if j.Photos = slices.Delete(j.Photos, i, i+1); len(j.Photos) == 0 {
		j.Photos = nil
	}
	return nil
}

func noPhoto() error { return words.Error("There is no photo behind that view any more.") }

// placedPhoto is the photo behind a view that lies somewhere.
func placedPhoto(j *job.Job, view string) (*job.Photo, error) {
	i := PhotoAt(j, view)
	if i < 0 || !IsPlaced(&j.Photos[i]) {
		return nil, noPhoto()
	}
	return &j.Photos[i], nil
}

func apart(a, b Place2) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }

// ScalePhoto makes the distance of two places of the photo as it lies what was typed; the first stays where it is.
func ScalePhoto(j *job.Job, view string, a, b Place2, typed string) error {
	p, err := placedPhoto(j, view)
	if err != nil {
		return err
	}
	long, err := parseLength(j, typed)
	if err != nil {
		return err
	}
	now := apart(a, b)
	if now < photoApart {
		return words.Error("The two points are one. Press two that lie well apart.")
	}
	if !(long > 0) {
		return words.Error("The distance between the two points must be more than nothing.")
	}
	k := long / now
	scale := *p.MmPerPixel * k
	if !(scale >= photoLeast && scale <= photoMost) {
		return words.Errorf("That would make a pixel of the photo %.3g mm. Press the two points again, or check the length.", scale)
	}
	at := Place2{a[0] + (p.At[0]-a[0])*k, a[1] + (p.At[1]-a[1])*k}
	if math.Abs(at[0]) > farthest || math.Abs(at[1]) > farthest {
		return words.Error("That would put the photo more than 100 m away. Press the two points again, or check the length.")
	}
	p.MmPerPixel, p.At, p.Typed = &scale, &at, strings.TrimSpace(typed)
	return nil
}

// LevelPhoto turns the photo about the first of two places till both lie level, or one over the other, whichever is nearer; it tells by how much, deg
// against the clock, and whether they lie level.
func LevelPhoto(j *job.Job, view string, a, b Place2) (turned float64, level bool, err error) {
	p, err := placedPhoto(j, view)
	if err != nil {
		return 0, false, err
	}
	if apart(a, b) < photoApart {
		return 0, false, words.Error("The two points are one. Press two that lie well apart.")
	}
	lies := math.Atan2(b[1]-a[1], b[0]-a[0]) * 180 / math.Pi
	quarter := math.Round(lies / 90)
	turned = 90*quarter - lies
	sin, cos := math.Sincos(turned * math.Pi / 180)
	dx, dy := p.At[0]-a[0], p.At[1]-a[1]
	at := Place2{a[0] + cos*dx - sin*dy, a[1] + sin*dx + cos*dy}
	turn := turned
	if p.Turn != nil {
		turn += *p.Turn
	}
	turn = math.Remainder(turn, 360)
	p.At, p.Turn = &at, &turn
	if turn == 0 {
		p.Turn = nil
	}
	return turned, math.Mod(math.Abs(quarter), 2) == 0, nil
}

// ShiftPhoto moves the photo by so much, mm.
func ShiftPhoto(j *job.Job, view string, by Place2) error {
	p, err := placedPhoto(j, view)
	if err != nil {
		return err
	}
	at := Place2{p.At[0] + by[0], p.At[1] + by[1]}
	if !(math.Abs(at[0]) <= farthest && math.Abs(at[1]) <= farthest) {
		return words.Error("The photo cannot go there: a place must be within 100 m of the axle.")
	}
	p.At = &at
	return nil
}

// FadePhoto draws the photo more strongly by so many steps, or more faintly; at the ends it stays.
func FadePhoto(j *job.Job, view string, steps int) error {
	i := PhotoAt(j, view)
	if i < 0 {
		return noPhoto()
	}
	v := Opacity(&j.Photos[i]) + float64(steps)*photoStep
	v = math.Round(100*math.Max(photoFaint, math.Min(photoStrong, v))) / 100
	j.Photos[i].Opacity = &v
	return nil
}

// HidePhoto leaves the photo out of the view, or shows it again.
func HidePhoto(j *job.Job, view string, hide bool) error {
	i := PhotoAt(j, view)
	if i < 0 {
		return noPhoto()
	}
	j.Photos[i].Hidden = hide
	return nil
}

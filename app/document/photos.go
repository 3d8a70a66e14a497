package document

import (
	"path/filepath"

	"axleloft/app/edit"
	"axleloft/app/photo"
	"axleloft/app/words"
	"axleloft/geometry/job"
)

// PhotoPath is where the photo behind a view ("side", "rear", "plan") lies, and what it says of itself; nil for none.
func (d *Document) PhotoPath(view string) (path string, p *job.Photo) {
	i := edit.PhotoAt(d.current, view)
	if i < 0 || d.file == "" {
		return "", nil
	}
	p = &d.current.Photos[i]
	return filepath.Join(filepath.Dir(d.file), p.File), p
}

// AddPhoto puts a picture behind a view, so wide (mm) with its middle at a place of the view; its file is copied beside the job where it is not there.
// note, if any, is a plain sentence.
func (d *Document) AddPhoto(path, view string, at edit.Place2, wide float64) (note string, err error) {
	var pixels int
	name, note, err := d.takeBeside(path, photo.Endings, words.T("a photo"), func(data []byte) error {
		p, err := photo.Read(data)
		if err == nil {
			pixels = p.Width
		}
		return err
	})
	if err != nil {
		return "", err
	}
	return note, d.Edit(words.F("photo behind the %s view", view), "", func(j *job.Job) error {
		return edit.SetPhoto(j, view, name, at, wide/float64(pixels))
	})
}

// SetBeforePhoto puts a picture with what was measured before stripping; its file is copied beside the job where it is not there. note, if any, is a
// plain sentence.
func (d *Document) SetBeforePhoto(path string) (note string, err error) {
	name, note, err := d.takeBeside(path, photo.Endings, words.T("a photo"), func(data []byte) error {
		_, err := photo.Read(data)
		return err
	})
	if err != nil {
		return "", err
	}
	return note, d.SetField(edit.Part{List: edit.JobCard}, "before.photo", name)
}

// RemovePhoto takes the photo of a view away; its file stays beside the job.
func (d *Document) RemovePhoto(view string) error {
	return d.Edit(words.T("remove photo"), "", func(j *job.Job) error { return edit.RemovePhoto(j, view) })
}

// ScalePhoto makes two places of a view's photo as far apart as was typed.
func (d *Document) ScalePhoto(view string, a, b edit.Place2, typed string) error {
	return d.Edit(words.T("scale photo"), "", func(j *job.Job) error { return edit.ScalePhoto(j, view, a, b, typed) })
}

// LevelPhoto turns a view's photo till two places of it lie level or upright, and tells by how much in words.
func (d *Document) LevelPhoto(view string, a, b edit.Place2) (said string, err error) {
	err = d.Edit(words.T("level photo"), "", func(j *job.Job) error {
		turned, level, err := edit.LevelPhoto(j, view, a, b)
		if level {
			said = words.F("Turned by %.1f deg: the two points lie level.", turned)
		} else {
			said = words.F("Turned by %.1f deg: one point lies over the other.", turned)
		}
		return err
	})
	return said, err
}

// ShiftPhoto moves a view's photo; moves by keys one after the other are one step.
func (d *Document) ShiftPhoto(view string, by edit.Place2, key string) error {
	return d.Edit(words.T("move photo"), key, func(j *job.Job) error { return edit.ShiftPhoto(j, view, by) })
}

// FadePhoto draws a view's photo more strongly by so many steps.
func (d *Document) FadePhoto(view string, steps int) error {
	return d.Edit(words.T("photo's strength"), words.F("fade %s", view), func(j *job.Job) error { return edit.FadePhoto(j, view, steps) })
}

// HidePhoto leaves a view's photo out, or shows it again.
func (d *Document) HidePhoto(view string, hide bool) error {
	label := words.T("show photo")
	if hide {
		label = words.T("hide photo")
	}
	return d.Edit(label, "", func(j *job.Job) error { return edit.HidePhoto(j, view, hide) })
}

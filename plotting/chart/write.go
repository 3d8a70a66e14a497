package chart

import (
	"encoding/csv"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"axleloft/plotting/ink"
	"axleloft/plotting/paper"
)

// Size is the size of a page, units; zero is 960 by 640.
type Size struct{ W, H float64 }

// Write writes a chart as a page, "png", "svg" or "pdf", with title, units, signs, job, trial, date and the caution. The error is a plain
// sentence or that of the writer.
func Write(w io.Writer, s Spec, format string, size Size) error {
	if size.W <= 0 || size.H <= 0 {
		size = Size{960, 640}
	}
	p, err := paper.New(format, size.W, size.H, ink.Color(ink.Ground, s.Dark))
	if err != nil {
		return err
	}
	notes := s.Signs
	if notes == "" {
		notes = s.signs()
	}
	plain := s
	head := paper.Head{Title: s.titleWords(), Notes: notes, Job: s.Job, Trial: s.Trial, Date: s.Date}
	plain.Title = ""
	room := head.Draw(p.Pen, size.W, size.H, s.Dark)
	room.X0 -= 10
	render(p.Pen, room, &plain, s.Dark)
	_, err = p.WriteTo(w)
	return err
}

func (s *Spec) titleWords() string {
	if s.Unit == "" {
		return s.Title
	}
	return s.Title + ", " + s.Unit
}

// signs is the sentence that tells unit and signs.
func (s *Spec) signs() string {
	var parts []string
	if s.Unit != "" {
		parts = append(parts, "in "+s.Unit)
	}
	if s.Up != "" {
		parts = append(parts, "up is "+s.Up)
	}
	if s.Down != "" {
		parts = append(parts, "down is "+s.Down)
	}
	return strings.Join(parts, "; ")
}

// WriteCSV writes the curves as numbers: a head line, then a line for every place of travel any curve has. A curve without a value there has an
// empty field. Numbers have their shortest exact form and a plain minus.
func WriteCSV(w io.Writer, s Spec) error {
	out := csv.NewWriter(w)
	x := s.XTitle
	if x == "" {
		x = "travel"
	}
	head := []string{strings.ReplaceAll(x, minus, "-")}
	var xs []float64
	for i := range s.Curves {
		c := &s.Curves[i]
		name := strings.TrimSpace(s.Title + " " + c.Name)
		if s.Unit != "" {
			name += " [" + s.Unit + "]"
		}
		head = append(head, strings.ReplaceAll(name, minus, "-"))
		for _, v := range c.X[:min(len(c.X), len(c.Y))] {
			if finite(v) {
				xs = append(xs, v)
			}
		}
	}
	if err := out.Write(head); err != nil {
		return err
	}
	slices.Sort(xs)
	xs = slices.Compact(xs)
	row := make([]string, len(head))
	for _, v := range xs {
		row[0] = number(v)
		for i := range s.Curves {
			row[i+1] = ""
			c := &s.Curves[i]
			if k, ok := slices.BinarySearchFunc(c.X[:min(len(c.X), len(c.Y))], v, cmpFloat); ok && finite(c.Y[k]) {
				row[i+1] = number(c.Y[k])
			}
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b || math.IsNaN(a):
		return 1
	}
	return 0
}

func number(v float64) string { return strconv.FormatFloat(v+0, 'g', -1, 64) }

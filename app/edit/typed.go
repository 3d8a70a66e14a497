package edit

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"axleloft/geometry/job"
)

// Exact factors.
const (
	mmPerInch  = 25.4
	kgPerPound = 0.45359237
)

func inches(j *job.Job) bool { return j.Shown != nil && j.Shown.Length == "in" }

func shownLength(j *job.Job) string {
	if inches(j) {
		return "in"
	}
	return "mm"
}

func shownMass(j *job.Job) string {
	if j.Shown != nil && j.Shown.Mass == "lb" {
		return "lb"
	}
	return "kg"
}

func showLength(j *job.Job, mm float64) string {
	if inches(j) {
		return plain(mm / mmPerInch)
	}
	return plain(mm)
}

func showMass(j *job.Job, kg float64) string {
	if shownMass(j) == "lb" {
		return strconv.FormatFloat(math.Round(kg/kgPerPound*10)/10, 'f', -1, 64)
	}
	return strconv.FormatFloat(math.Round(kg*10)/10, 'f', -1, 64)
}

// parseLength reads a length as typed, mm; a number without a unit is in the job's.
func parseLength(j *job.Job, text string) (float64, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	if s, ok := strings.CutSuffix(t, "mm"); ok {
		return parsePlain(s)
	}
	s, in := strings.CutSuffix(t, "in")
	if !in {
		s, in = strings.CutSuffix(t, "\"")
	}
	v, err := parsePlain(s)
	if err == nil && (in || inches(j)) {
		v *= mmPerInch
	}
	return v, err
}

// parseMass reads a mass as typed, kg; a number without a unit is in the job's.
func parseMass(j *job.Job, text string) (float64, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	factor := 1.0
	if shownMass(j) == "lb" {
		factor = kgPerPound
	}
	if s, ok := strings.CutSuffix(t, "kg"); ok {
		t, factor = s, 1
	} else if s, ok := strings.CutSuffix(t, "lb"); ok {
		t, factor = s, kgPerPound
	}
	v, err := parsePlain(t)
	return v * factor, err
}

// parsePlain reads one number; a decimal comma is taken, and one of the suffixes may stand behind it.
func parsePlain(text string, suffixes ...string) (float64, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	for _, s := range suffixes {
		t = strings.TrimSpace(strings.TrimSuffix(t, s))
	}
	t = strings.ReplaceAll(strings.ReplaceAll(t, "−", "-"), ",", ".")
	if t == "" {
		return 0, fmt.Errorf("a number is missing. Type one, for example 25.")
	}
	v, err := strconv.ParseFloat(t, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is not a number. Type one, for example 25.", strings.TrimSpace(text))
	}
	return v, nil
}

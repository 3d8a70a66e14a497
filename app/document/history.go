package document

import (
	"time"

	"axleloft/geometry/job"
)

// pause ends a run of steps that join: nudges and typing further apart are steps of their own.
const pause = 1500 * time.Millisecond

// step is one undoable step: the whole job before and after, and the trial chosen then. Jobs are small and share their unchanged parts.
type step struct {
	label, key              string
	before, after           *job.Job
	trialBefore, trialAfter string
	when                    time.Time
}

// history is the steps taken; those from index on are undone.
type history struct {
	steps []step
	index int
	clock func() time.Time // nil: time.Now
}

func (h *history) time() time.Time {
	if h.clock != nil {
		return h.clock()
	}
	return time.Now()
}

// add takes a step; undone steps are forgotten. A step with the same key as the last one, with no pause between and not saved in between, joins it.
func (h *history) add(s step, saved *job.Job) {
	s.when = h.time()
	h.steps = h.steps[:h.index]
	if n := h.index; n > 0 && s.key != "" {
		last := &h.steps[n-1]
		if last.key == s.key && last.trialAfter == s.trialBefore && last.after == s.before && s.when.Sub(last.when) < pause && last.after != saved {
			last.after, last.when, last.label = s.after, s.when, s.label
			return
		}
	}
	h.steps = append(h.steps, s)
	h.index++
}

func (h *history) undo() (step, bool) {
	if h.index == 0 {
		return step{}, false
	}
	h.index--
	return h.steps[h.index], true
}

func (h *history) redo() (step, bool) {
	if h.index == len(h.steps) {
		return step{}, false
	}
	h.index++
	return h.steps[h.index-1], true
}

package document

import (
	"context"
	"runtime"
	"sync"

	"axleloft/app/study"
	"axleloft/geometry/job"
)

// task is what the worker is asked for: the job's figures and those of the pencil line.
type task struct {
	gen       uint64
	job       *job.Job
	live      bool // a hand is moving something: Live only
	pencilGen uint64
	pencil    *job.Job // nil: no pencil line
}

// result is one finished study.
type result struct {
	pencil bool
	gen    uint64
	study  *study.Study
}

// worker works out one task after the other on one goroutine. A new task takes the place of the one that waits; the fine figures of an
// older one are given up, its quick ones (Live) are finished, so that something new comes however fast a hand moves.
type worker struct {
	post    func(func())
	deliver func(result)

	mu     sync.Mutex
	next   *task
	stop   context.CancelFunc // gives up what may be given up
	mail   []result           // finished, not delivered
	posted bool
	busy   bool
	ended  bool
	wake   chan struct{} // one waiting token
	idle   *sync.Cond
	quit   context.Context
	end    context.CancelFunc
	done   chan struct{}
}

// spare is how many processors the quick figures may take while a hand moves something: one is the window's, one the system's that paints it.
func spare() int { return max(1, min(4, runtime.NumCPU()-2)) }

func newWorker(post func(func()), deliver func(result)) *worker {
	w := &worker{post: post, deliver: deliver, wake: make(chan struct{}, 1), done: make(chan struct{})}
	w.idle = sync.NewCond(&w.mu)
	w.quit, w.end = context.WithCancel(context.Background())
	go w.run()
	return w
}

// ask hands over a task; it takes the place of one not begun.
func (w *worker) ask(t task) {
	w.mu.Lock()
	w.next = &t
	if w.stop != nil {
		w.stop()
	}
	w.mu.Unlock()
	select {
	case w.wake <- struct{}{}:
	default:
	}
}

func (w *worker) run() {
	defer close(w.done)
	var liveDone, fullDone, pencilDone uint64 // generations finished
	for {
		w.mu.Lock()
		t := w.next
		w.next = nil
		if t == nil {
			w.busy = false
			w.idle.Broadcast()
			w.mu.Unlock()
			select {
			case <-w.wake:
				continue
			case <-w.quit.Done():
				return
			}
		}
		w.busy = true
		ctx, stop := context.WithCancel(w.quit)
		w.stop = stop
		w.mu.Unlock()

		if liveDone != t.gen && fullDone != t.gen {
			if s := study.NewWith(w.quit, t.job, study.Live, spare()); s != nil {
				liveDone = t.gen
				w.finished(result{gen: t.gen, study: s})
			}
		}
		if !t.live && fullDone != t.gen {
			if s := study.New(ctx, t.job, study.Full); s != nil && ctx.Err() == nil {
				fullDone = t.gen
				w.finished(result{gen: t.gen, study: s})
			}
		}
		if !t.live && t.pencil != nil && pencilDone != t.pencilGen && ctx.Err() == nil {
			if s := study.New(ctx, t.pencil, study.Live); s != nil && ctx.Err() == nil {
				pencilDone = t.pencilGen
				w.finished(result{pencil: true, gen: t.pencilGen, study: s})
			}
		}
		stop()
		if w.quit.Err() != nil {
			return
		}
	}
}

// finished puts a study in the mail; one delivery at a time is on its way, so nothing piles up behind a slow window.
func (w *worker) finished(r result) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.ended {
		return
	}
	for i := range w.mail { // an older one nobody fetched
		if w.mail[i].pencil == r.pencil {
			w.mail[i] = r
			return
		}
	}
	w.mail = append(w.mail, r)
	if w.post != nil && !w.posted {
		w.posted = true
		go w.post(w.fetch)
	}
}

// fetch delivers the mail, on the window's goroutine.
func (w *worker) fetch() {
	w.mu.Lock()
	mail := w.mail
	w.mail, w.posted = nil, false
	ended := w.ended
	w.mu.Unlock()
	for _, r := range mail {
		if !ended {
			w.deliver(r)
		}
	}
}

// settle waits till nothing is left to do, delivering on the caller's goroutine.
func (w *worker) settle() {
	for {
		w.mu.Lock()
		for (w.busy || w.next != nil) && !w.ended {
			w.idle.Wait()
		}
		n := len(w.mail)
		w.mu.Unlock()
		if n == 0 {
			return
		}
		w.fetch()
	}
}

func (w *worker) close() {
	w.mu.Lock()
	w.ended = true
	w.mail = nil
	w.mu.Unlock()
	w.end()
	<-w.done
	w.mu.Lock()
	w.idle.Broadcast()
	w.mu.Unlock()
}

// --- the document's side ---

// ask asks the worker for the figures of the geometry as it stands.
func (d *Document) ask() {
	if d.closed {
		return
	}
	t := task{gen: d.gen, job: d.current, live: d.drag != nil}
	if d.pencil != nil {
		t.pencil, t.pencilGen = d.pencil.job, d.pencil.gen
	}
	d.worker.ask(t)
}

// accept takes a finished study in.
func (d *Document) accept(r result) {
	if d.closed {
		return
	}
	if r.pencil {
		if d.pencil != nil && d.pencil.gen == r.gen {
			d.pencil.study = r.study
			d.tell(ShownChanged)
		}
		return
	}
	if d.study != nil && (r.gen < d.studyGen || r.gen == d.studyGen && r.study.Depth < d.study.Depth) {
		return
	}
	d.study, d.studyGen = r.study, r.gen
	changed := StudyChanged
	if r.gen == d.gen && d.stand() {
		changed |= PositionChanged
	}
	d.tell(changed)
}

// Settle works until the figures of the present geometry are Full and delivered (only where Options.Post is nil; else it does nothing);
// for tests and the command line.
func (d *Document) Settle() {
	if d.options.Post == nil && !d.closed {
		d.worker.settle()
	}
}

// Now is the present geometry compiled (Mech, Gaps, Parts, Loads, Refusal): at once, without range, sweeps, findings.
// Draw parts and the axle from this and Position; take range, charts, extents and findings from Study.
func (d *Document) Now() *study.Study { return d.now }

// Study is the newest finished study, and whether it is of the geometry as it now stands. Before the first is finished it is Now, not current.
func (d *Document) Study() (s *study.Study, current bool) {
	if d.study == nil {
		return d.now, false
	}
	return d.study, d.studyGen == d.gen
}

// Freshness is what of the figures is of the geometry as it now stands.
type Freshness struct{ Live, Full bool }

// Freshness tells which figures are of the present geometry: those of depth Live, those of depth Full.
// Show nothing of Study as current when Live is false; the ring and the fine gaps only when Full is true.
func (d *Document) Freshness() Freshness {
	_, current := d.Study()
	return Freshness{Live: current, Full: current && d.study.Depth == study.Full}
}

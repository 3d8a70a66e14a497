package document

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"time"

	"axleloft/app/study"
	"axleloft/geometry/job"
)

// task is what the worker is asked for: the job's figures and those of the pencil lines.
type task struct {
	gen     uint64
	job     *job.Job
	live    bool // a hand is moving something: Live only
	pencils []drawn
}

// drawn is a pencil line to be worked out.
type drawn struct {
	gen uint64
	job *job.Job
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
	told    func() // on the window's goroutine: how far the fine figures are has changed

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
	share  share

	lives, fulls, drawn []*study.Study // the newest first, those of pencil lines by themselves: what has not changed is taken over from them
}

// share is how much of the fine figures is done.
type share struct {
	gen           uint64
	begun, posted time.Time // zero: nothing is worked out, nothing was posted
	done          float64
}

const (
	kept      = 4 // studies of each depth that later ones take over from: a drag's last, and what undo or another trial goes back to
	tellAfter = time.Second
	tellEvery = 250 * time.Millisecond
)

// spare is how many processors the quick figures may take while a hand moves something: one is the window's, one the system's that paints it.
func spare() int { return max(1, min(4, runtime.NumCPU()-2)) }

func newWorker(post func(func()), deliver func(result), told func()) *worker {
	w := &worker{post: post, deliver: deliver, told: told, wake: make(chan struct{}, 1), done: make(chan struct{})}
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
	runtime.LockOSThread() // for good: the thread ends with it
	yield()
	var liveDone, fullDone uint64       // generations finished
	var pencilsDone map[uint64]struct{} // of the pencil lines last asked for
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
			if s := w.work(w.quit, t.job, study.Live, &w.lives, spare(), nil); s != nil {
				liveDone = t.gen
				w.finished(result{gen: t.gen, study: s})
			}
		}
		if !t.live && fullDone != t.gen && ctx.Err() == nil {
			w.begin(t.gen)
			if s := w.work(ctx, t.job, study.Full, &w.fulls, 0, w.tell); s != nil {
				fullDone = t.gen
				w.finished(result{gen: t.gen, study: s})
			}
			w.begin(0)
		}
		standing := map[uint64]struct{}{}
		for _, p := range t.pencils {
			_, done := pencilsDone[p.gen]
			if !done && !t.live && ctx.Err() == nil {
				if s := w.work(ctx, p.job, study.Live, &w.drawn, 0, nil); s != nil {
					done = true
					w.finished(result{pencil: true, gen: p.gen, study: s})
				}
			}
			if done {
				standing[p.gen] = struct{}{}
			}
		}
		pencilsDone = standing
		stop()
		if w.quit.Err() != nil {
			return
		}
	}
}

// work makes a study and keeps it in a list, taking over what it can from those before; nil where it is given up.
func (w *worker) work(ctx context.Context, j *job.Job, d study.Depth, list *[]*study.Study, workers int, tell func(float64)) *study.Study {
	before := slices.Concat(w.lives, w.fulls, w.drawn)
	s := study.NewFrom(ctx, j, d, study.From{Workers: workers, Before: before, Tell: tell})
	if s == nil || ctx.Err() != nil {
		return nil
	}
	*list = append([]*study.Study{s}, *list...)
	if len(*list) > kept {
		*list = append([]*study.Study(nil), (*list)[:kept]...)
	}
	return s
}

// begin notes that the fine figures of a generation are begun, or with 0 that none are worked out.
func (w *worker) begin(gen uint64) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.share = share{gen: gen}
	if gen != 0 {
		w.share.begun = time.Now()
	}
}

// tell takes in how much of the fine figures is done; the window is told now and then, once they have taken a second.
func (w *worker) tell(done float64) {
	w.mu.Lock()
	defer w.mu.Unlock()
	s := &w.share
	if s.begun.IsZero() || done <= s.done {
		return
	}
	s.done = done
	now := time.Now()
	if w.post == nil || w.told == nil || w.ended || now.Sub(s.begun) < tellAfter || now.Sub(s.posted) < tellEvery {
		return
	}
	s.posted = now
	go w.post(w.told)
}

// far is how much of the fine figures of a generation is done; ok is false where they are not worked out or have not taken a second.
func (w *worker) far(gen uint64) (done float64, ok bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	s := &w.share
	return s.done, s.gen == gen && !s.begun.IsZero() && time.Since(s.begun) >= tellAfter
}

// finished puts a study in the mail; one delivery at a time is on its way, so nothing piles up behind a slow window.
func (w *worker) finished(r result) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.ended {
		return
	}
	for i := range w.mail { // an older one nobody fetched
		if w.mail[i].pencil == r.pencil && (!r.pencil || w.mail[i].gen == r.gen) {
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
	for _, p := range d.pencils {
		t.pencils = append(t.pencils, drawn{p.gen, p.job})
	}
	d.worker.ask(t)
}

// accept takes a finished study in.
func (d *Document) accept(r result) {
	if d.closed {
		return
	}
	if r.pencil {
		for _, p := range d.pencils {
			if p.gen == r.gen {
				p.study = r.study
				d.tell(ShownChanged)
			}
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

// Progress is how much of the fine figures of the present geometry is done, 0 to 1; ok is false where they are done, not begun or have not taken a second. Subscribers are told
// ProgressChanged now and then.
func (d *Document) Progress() (done float64, ok bool) { return d.worker.far(d.gen) }

func (d *Document) progressed() {
	if !d.closed {
		d.tell(ProgressChanged)
	}
}

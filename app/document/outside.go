package document

import (
	"crypto/sha256"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"axleloft/app/words"
)

// lookEvery is how often the file is looked at for somebody else's hand in it.
const lookEvery = 2 * time.Second

// outside is what somebody else did to the job's file while it is open here.
type outside struct {
	found *[sha256.Size]byte // what the file holds now, not ours; nil: nothing of the kind
	when  time.Time
	told  bool // whoever sits here knows

	mu    sync.Mutex
	timer *time.Timer // nil: nobody looks
	turn  int         // counts lookings out: one that was ended looks no more
	seen  fs.FileInfo // at the last look
}

// lookOut begins to look at the file; what was found before is forgotten.
func (d *Document) lookOut() {
	o := &d.outside
	o.end()
	o.found, o.told = nil, false
	if d.options.Post == nil || d.file == "" {
		return
	}
	file := d.file
	o.mu.Lock()
	defer o.mu.Unlock()
	o.seen = nil
	o.turn++
	turn := o.turn
	o.timer = time.AfterFunc(lookEvery, func() { o.look(file, turn, func() { d.options.Post(d.LookOutside) }) })
}

// look asks for a nearer look where the file is not what it was; on its own goroutine.
func (o *outside) look(file string, turn int, nearer func()) {
	now, err := os.Stat(file)
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.timer == nil || o.turn != turn {
		return // ended, or another file is looked at
	}
	if err == nil && (o.seen == nil || !os.SameFile(o.seen, now) || !o.seen.ModTime().Equal(now.ModTime()) || o.seen.Size() != now.Size()) {
		o.seen = now
		go nearer()
	}
	o.timer.Reset(lookEvery)
}

func (o *outside) end() {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.timer != nil {
		o.timer.Stop()
		o.timer = nil
	}
}

// LookOutside looks whether the file holds what it held when it was last read or written here, and tells FileChanged where that is news.
func (d *Document) LookOutside() {
	if d.closed || d.file == "" || d.demo {
		return
	}
	o := &d.outside
	now := fileSum(d.file)
	switch {
	case now == nil: // gone, or out of reach for the moment: a save writes it again, or says why not
		return
	case d.sum != nil && *now == *d.sum:
		if o.found == nil {
			return
		}
		o.found, o.told = nil, false
	case o.found != nil && *o.found == *now:
		return
	default:
		o.found, o.told, o.when = now, false, time.Now()
		if info, err := os.Stat(d.file); err == nil {
			o.when = info.ModTime()
		}
	}
	d.tell(FileChanged)
}

// Outside says that somebody else wrote the file while it is open here; "" where nobody did, or once OutsideTold was called.
func (d *Document) Outside() string {
	o := &d.outside
	if o.found == nil || o.told {
		return ""
	}
	phrase := words.F("“%s” was written by somebody else at %s, while it is open here. What you see is from before.", strings.TrimSuffix(filepath.Base(d.file), Ending), o.when.Format("15:04"))
	if d.Dirty() {
		phrase += words.T(" Your own changes are still here, and in no file.")
	}
	return phrase
}

// OutsideTold: whoever sits here knows what Outside says. A later change by somebody else is news again.
func (d *Document) OutsideTold() { d.outside.told = true }

// KeepOurs: what is open here stays, though the file holds somebody else's. It is in no file any more, and counts as changed.
func (d *Document) KeepOurs() {
	d.outside.told = true
	d.saved = nil
	d.touched()
	d.tell(FileChanged)
}

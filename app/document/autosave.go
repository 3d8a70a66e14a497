package document

import (
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// autosaveDelay is how long after a change the autosave is begun. Changes that follow do not put it off, so a kill costs at most this and the
// time of one write: well under five seconds.
var autosaveDelay = 2 * time.Second

// errNowhere: there is no place for an autosave.
var errNowhere = words.Sentence("Not saved: there is no folder for it.")

const (
	autosaveAgain  = 3 // delays after which a write that failed is tried again
	autosaveEnding = ".autosave"
	recordPrefix   = "open-"
	recordEnding   = ".json"
)

// keeper writes the autosave in the background. The autosave of a job with a file lies beside it (".name.axleloft.autosave"); of one without,
// or where that folder cannot be written, or while another window has the job, in the state folder. A record in the state folder, locked while
// this program lives and written before the autosave it is of, says whose it is.
type keeper struct {
	dir  string // state folder, "" for none
	id   string
	tell func(error)

	mu    sync.Mutex // held for moments only: the window takes it with every edit
	next  *job.Job   // to be written, nil: the autosave goes
	waits bool       // something does; a timer that could not be stopped any more finds nothing to do
	timer *time.Timer
	epoch int // counts saves: what was to be written before one no longer is
	ended bool

	disk    sync.Mutex // held while files are written
	place   string     // the autosave; "" till it is needed
	file    string     // the job's file, "" for none
	sum     string     // fingerprint of what the file held when it was last read or written here, "" for none
	guest   bool       // another window has the job: nothing is written beside it
	demo    bool       // it is a demo, changed
	record  *os.File
	written func(*job.Job) // tests: after each autosave
}

// record is what the state folder remembers of an open job.
type record struct {
	Autosave string `json:"autosave"`
	File     string `json:"file,omitempty"`
	Sum      string `json:"sum,omitempty"`
	Demo     bool   `json:"demo,omitempty"`
}

// newKeeper is the keeper of a document whose file is known and held; nil where nothing is to be kept.
func newKeeper(d *Document) *keeper {
	if !d.options.Autosave {
		return nil
	}
	var b [8]byte
	if _, err := rand.Read(b[:]); err != nil {
		return nil
	}
	return &keeper{dir: d.options.StateDir, file: d.file, sum: sumWords(d.sum), guest: d.taken != "", demo: d.demo && d.file == "", id: hex.EncodeToString(b[:]), tell: d.trouble}
}

// beside is the autosave beside a job file.
func beside(file string) string {
	return filepath.Join(filepath.Dir(file), "."+filepath.Base(file)+autosaveEnding)
}

// touched tells the keeper that the job changed. Called on the window's goroutine.
func (d *Document) touched() {
	if d.keeper != nil && !d.closed {
		d.keeper.changed(d.toWrite(), d.Dirty())
	}
}

// trouble says on the window's goroutine that the autosave failed or works again.
func (d *Document) trouble(err error) {
	set := func() {
		phrase := ""
		if err != nil {
			why, _, _ := strings.Cut(strings.TrimPrefix(Words(err), "Not saved: "), ". ")
			phrase = words.F("Not kept against a power cut: %s%s.", strings.ToLower(why[:1]), strings.TrimSuffix(why[1:], "."))
		}
		if phrase != d.keeperWords {
			d.keeperWords = phrase
			d.tell(FileChanged)
		}
	}
	if d.options.Post != nil {
		d.options.Post(set)
	}
}

// AutosaveTrouble says why the work is not kept against a kill, a plain sentence; "" where it is.
func (d *Document) AutosaveTrouble() string { return d.keeperWords }

func (k *keeper) changed(j *job.Job, dirty bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.ended {
		return
	}
	k.next, k.waits = j, true
	if !dirty { // undone to what the file holds
		k.next = nil
	}
	if k.timer == nil {
		k.timer = time.AfterFunc(autosaveDelay, k.flush)
	}
}

// flush writes what waits to be written; on its own goroutine.
func (k *keeper) flush() {
	k.mu.Lock()
	j, epoch, waits := k.next, k.epoch, k.waits
	k.timer, k.waits = nil, false
	k.mu.Unlock()
	if !waits {
		return
	}
	k.disk.Lock()
	defer k.disk.Unlock()
	k.mu.Lock()
	late := k.epoch != epoch
	k.mu.Unlock()
	switch {
	case late:
	case j == nil:
		k.remove()
	default:
		err := k.write(j)
		if k.tell != nil {
			go k.tell(err)
		}
		k.mu.Lock()
		if err != nil && k.epoch == epoch && k.timer == nil && !k.ended { // room may be made, a stick put back
			k.timer, k.waits = time.AfterFunc(autosaveAgain*autosaveDelay, k.flush), true
		}
		k.mu.Unlock()
	}
}

// write writes the autosave whole. k.disk is held.
func (k *keeper) write(j *job.Job) error {
	var places []string
	if k.file != "" && !k.guest {
		places = append(places, beside(k.file))
	}
	if k.dir != "" {
		places = append(places, filepath.Join(k.dir, "job-"+k.id+Ending+autosaveEnding))
	}
	if len(places) == 0 {
		return errNowhere
	}
	var err error
	for _, p := range places {
		if e := k.writeTo(p, j); e == nil {
			if k.written != nil {
				k.written(j)
			}
			return nil
		} else if err == nil && !errors.Is(e, errTaken) {
			err = e
		}
	}
	return err
}

// writeTo writes the autosave to a place; the one there was before, elsewhere, goes when the new one is whole.
func (k *keeper) writeTo(p string, j *job.Job) error {
	if k.place != p && k.file != "" && p == beside(k.file) {
		if _, err := os.Stat(p); err == nil { // lost work nobody has looked at yet: it is not written over
			if k.dir != "" {
				return errTaken
			}
			if err := os.Rename(p, p+".old"); err != nil {
				return err
			}
		}
	}
	if filepath.Dir(p) == k.dir {
		if err := os.MkdirAll(k.dir, 0o700); err != nil {
			return err
		}
	}
	was := k.place
	if was != p {
		k.note(p)
	}
	if err := job.WriteFile(p, j); err != nil {
		if was != "" && was != p {
			k.note(was)
		}
		return err
	}
	k.place = p
	if was != "" && was != p {
		os.Remove(was)
	}
	return nil
}

// note writes the record of what is where. Without a state folder there is none: the autosave beside the job is found by its name.
func (k *keeper) note(place string) {
	if k.dir == "" || os.MkdirAll(k.dir, 0o700) != nil {
		return
	}
	data, err := json.Marshal(record{Autosave: place, File: k.file, Sum: k.sum, Demo: k.demo && k.file == ""})
	if err != nil {
		return
	}
	if k.record == nil {
		if k.record, err = take(filepath.Join(k.dir, recordPrefix+k.id+recordEnding)); err != nil {
			k.record = nil
			return
		}
	}
	// A lost record costs only the list after a kill: the autosave is found by its place. What was longer is cut after, so that a kill between
	// the two leaves the words whole with something behind them.
	if _, err := k.record.WriteAt(data, 0); err == nil {
		_ = k.record.Truncate(int64(len(data)))
	}
}

// remove takes the autosave and its record away. k.disk is held.
func (k *keeper) remove() {
	if k.place != "" {
		os.Remove(k.place)
		k.place = ""
	}
	if k.record != nil {
		letGo(k.record)
		k.record = nil
	}
}

// saving brings an autosave there is up to what is about to be saved: a kill between the save and saved leaves one that says what the file says,
// and not something older.
func (k *keeper) saving(j *job.Job) {
	k.drop(false)
	k.disk.Lock()
	defer k.disk.Unlock()
	if k.place != "" {
		_ = k.write(j) // the save itself says what is wrong with the disk
	}
}

// saved tells that the job is in its file.
func (k *keeper) saved(d *Document) {
	k.drop(false)
	k.disk.Lock()
	defer k.disk.Unlock()
	k.remove()
	k.file, k.sum, k.guest, k.demo = d.file, sumWords(d.sum), d.taken != "", false
}

// drop forgets what waits to be written.
func (k *keeper) drop(end bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.next, k.waits = nil, false
	k.epoch++
	k.ended = k.ended || end
	if k.timer != nil {
		k.timer.Stop()
		k.timer = nil
	}
}

// close ends the keeper: with changes left the autosave is brought up to date and stays, else it goes.
func (k *keeper) close(j *job.Job, dirty bool) {
	k.drop(true)
	k.disk.Lock()
	defer k.disk.Unlock()
	if dirty {
		_ = k.write(j) // the program is closing; an older autosave stays where this one fails
		if k.record != nil {
			k.record.Close() // gives up the lock, the record stays
			k.record = nil
		}
		return
	}
	k.remove()
}

package document

import (
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"axleloft/geometry/job"
)

// autosaveDelay is how long after a change the autosave is begun. Changes that follow do not put it off, so a kill costs at most this and the
// time of one write: well under five seconds.
var autosaveDelay = 2 * time.Second

const (
	autosaveEnding = ".autosave"
	recordPrefix   = "open-"
	recordEnding   = ".json"
)

// keeper writes the autosave in the background. The autosave of a job with a file lies beside it (".name.axleloft.autosave"); of one without,
// or where that folder cannot be written, in the state folder. A record in the state folder, locked while this program lives, says whose it is.
type keeper struct {
	dir  string // state folder, "" for none
	id   string
	tell func(error)

	mu    sync.Mutex // held for moments only: the window takes it with every edit
	next  *job.Job   // to be written, nil: the autosave goes
	timer *time.Timer
	epoch int // counts saves: what was to be written before one no longer is
	ended bool

	disk    sync.Mutex // held while files are written
	place   string     // the autosave; "" till it is needed
	file    string     // the job's file, "" for none
	demo    bool       // it is a demo, changed
	record  *os.File
	written func(*job.Job) // tests: after each autosave
}

// record is what the state folder remembers of an open job.
type record struct {
	Autosave string `json:"autosave"`
	File     string `json:"file,omitempty"`
	Demo     bool   `json:"demo,omitempty"`
}

func newKeeper(o Options, file string, tell func(error)) *keeper {
	if !o.Autosave {
		return nil
	}
	var b [8]byte
	if _, err := rand.Read(b[:]); err != nil {
		return nil
	}
	return &keeper{dir: o.StateDir, file: file, id: hex.EncodeToString(b[:]), tell: tell}
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
		words := ""
		if err != nil {
			words = "Not kept against a power cut: " + strings.TrimPrefix(Words(err), "Not saved: ")
		}
		if words != d.keeperWords {
			d.keeperWords = words
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
	k.next = j
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
	j, epoch := k.next, k.epoch
	k.timer = nil
	k.mu.Unlock()
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
	}
}

// write writes the autosave whole. k.disk is held.
func (k *keeper) write(j *job.Job) error {
	places := []string{}
	if k.file != "" {
		places = append(places, beside(k.file))
	}
	if k.dir != "" {
		places = append(places, filepath.Join(k.dir, "job-"+k.id+Ending+autosaveEnding))
	}
	var err error
	for _, p := range places {
		if k.place != p && p == places[0] && k.file != "" {
			if _, e := os.Stat(p); e == nil { // lost work nobody has looked at yet: it is not written over
				if k.dir != "" {
					continue
				}
				if e := os.Rename(p, p+".old"); e != nil {
					err = e
					continue
				}
			}
		}
		if filepath.Dir(p) == k.dir {
			if e := os.MkdirAll(k.dir, 0o700); e != nil {
				err = e
				continue
			}
		}
		if e := job.WriteFile(p, j); e != nil {
			if err == nil {
				err = e
			}
			continue
		}
		if k.place != p {
			if k.place != "" {
				os.Remove(k.place)
			}
			k.place = p
			k.note()
		}
		if k.written != nil {
			k.written(j)
		}
		return nil
	}
	return err
}

// note writes the record of what is where. Without a state folder there is none: the autosave beside the job is found by its name.
func (k *keeper) note() {
	if k.dir == "" {
		return
	}
	if os.MkdirAll(k.dir, 0o700) != nil {
		return
	}
	data, err := json.Marshal(record{Autosave: k.place, File: k.file, Demo: k.demo && k.file == ""})
	if err != nil {
		return
	}
	if k.record == nil {
		name := filepath.Join(k.dir, recordPrefix+k.id+recordEnding)
		f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
		if err != nil {
			return
		}
		if !lock(f) {
			f.Close()
			return
		}
		k.record = f
	}
	if k.record.Truncate(0) == nil {
		_, _ = k.record.WriteAt(data, 0) // a lost record costs only the list after a kill: the autosave is found by its place
	}
}

// remove takes the autosave and its record away. k.disk is held.
func (k *keeper) remove() {
	if k.place != "" {
		os.Remove(k.place)
		k.place = ""
	}
	if k.record != nil {
		os.Remove(k.record.Name())
		k.record.Close()
		k.record = nil
	}
}

// saved tells that the job is in its file.
func (k *keeper) saved(file string) {
	k.drop(false)
	k.disk.Lock()
	defer k.disk.Unlock()
	k.remove()
	k.file = file
}

// drop forgets what waits to be written.
func (k *keeper) drop(end bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.next = nil
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

package document

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"os/user"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// A job that is open is held: a file beside it (".name.axleloft.open"; in the state folder where that folder cannot be written) is locked while
// the program lives. A second window on the same job is told so, and saves under another name only.

const (
	holdEnding = ".open"
	holdPrefix = "held-"
	takeTries  = 8
	takePause  = 15 * time.Millisecond // another program may look at the file for a moment
)

// errTaken: another living program has the file locked.
var errTaken = words.Sentence("held by another program")

// hold is a job held by this program. Several documents of one program may share it.
type hold struct {
	of    string // the job's file, links resolved
	f     *os.File
	count int
}

var holds = struct {
	sync.Mutex
	of map[string]*hold
}{of: map[string]*hold{}}

// holder is what the locked file says of who holds it.
type holder struct {
	User  string    `json:"user"`
	Host  string    `json:"host"`
	Since time.Time `json:"since"`
}

func self() holder {
	h := holder{Since: time.Now()}
	if u, err := user.Current(); err == nil {
		h.User = u.Username
	}
	h.Host, _ = os.Hostname()
	return h
}

// words is who holds it, in brackets: "(anna on bench-2, since 10:42)".
func (h holder) words() string {
	me := self()
	who := ""
	switch {
	case h.User != me.User && h.User != "" && h.Host != "":
		who = words.F("%s on %s", h.User, h.Host)
	case h.Host != me.Host:
		who = h.Host
	}
	var parts []string
	if who != "" {
		parts = append(parts, who)
	}
	if !h.Since.IsZero() {
		parts = append(parts, words.F("since %s", h.Since.Local().Format("15:04")))
	}
	if len(parts) == 0 {
		return ""
	}
	return " (" + strings.Join(parts, ", ") + ")"
}

// resolved is a file's name with links followed, so that one job has one name.
func resolved(file string) string {
	if real, err := filepath.EvalSymlinks(file); err == nil {
		return real
	}
	if dir, err := filepath.EvalSymlinks(filepath.Dir(file)); err == nil {
		return filepath.Join(dir, filepath.Base(file))
	}
	return file
}

// take opens a file, made where there is none, and locks it. errTaken where another program has it; any other error where it cannot be done there.
func take(name string) (*os.File, error) {
	for range takeTries {
		f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
		if errors.Is(err, fs.ErrPermission) {
			f, err = os.Open(name) // another user's: it can be locked all the same
		}
		if err != nil {
			return nil, err
		}
		switch err = lock(f); {
		case err == nil:
			here, e1 := f.Stat()
			there, e2 := os.Stat(name)
			if e1 == nil && e2 == nil && os.SameFile(here, there) {
				return f, nil
			} // else it was taken away between the two steps: once more
		case !errors.Is(err, errTaken):
			f.Close()
			return nil, err
		}
		f.Close()
		time.Sleep(takePause)
	}
	return nil, errTaken
}

// letGo takes a locked file away and gives up the lock, in this order.
func letGo(f *os.File) {
	os.Remove(f.Name())
	f.Close()
}

// holdJob holds a job. taken is a sentence where another window has it; where files cannot be locked both are empty.
func holdJob(file, stateDir string) (h *hold, taken string) {
	of := resolved(file)
	holds.Lock()
	defer holds.Unlock()
	if h := holds.of[of]; h != nil {
		h.count++
		return h, ""
	}
	places := []string{filepath.Join(filepath.Dir(of), "."+filepath.Base(of)+holdEnding)}
	if stateDir != "" {
		sum := sha256.Sum256([]byte(of))
		places = append(places, filepath.Join(stateDir, holdPrefix+hex.EncodeToString(sum[:8])+holdEnding))
	}
	for _, p := range places {
		f, err := take(p)
		if errors.Is(err, errTaken) {
			var by holder
			if data, err := os.ReadFile(p); err == nil {
				_ = json.Unmarshal(data, &by) // nobody named where it cannot be read
			}
			return nil, words.F("“%s” is open in another window%s.", strings.TrimSuffix(filepath.Base(file), Ending), by.words())
		}
		if err != nil {
			continue
		}
		if data, err := json.Marshal(self()); err == nil && f.Truncate(0) == nil {
			_, _ = f.WriteAt(data, 0) // only says who
		}
		h = &hold{of: of, f: f, count: 1}
		holds.of[of] = h
		sweep(of)
		return h, ""
	}
	return nil, ""
}

// release gives a job up; nil is none.
func (h *hold) release() {
	if h == nil {
		return
	}
	holds.Lock()
	defer holds.Unlock()
	if h.count--; h.count == 0 {
		delete(holds.of, h.of)
		letGo(h.f)
	}
}

// sweep takes away what kills left of writing a job, its backup and its autosave. Only who holds the job calls it: nobody else is writing these.
func sweep(file string) {
	dir := filepath.Dir(file)
	list, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range list {
		for _, of := range []string{file, job.BeforeName(file), beside(file)} {
			if e.Type().IsRegular() && job.IsLeftOver(e.Name(), of) {
				os.Remove(filepath.Join(dir, e.Name()))
			}
		}
	}
}

// Elsewhere says that the job is open in another window, where it is, and what comes of it; "" otherwise.
func (d *Document) Elsewhere() string {
	if d.taken == "" {
		return ""
	}
	return words.F("%s You can look at it and try things here. What you change is saved under another name.", d.taken)
}

// holdFile holds the document's file, and gives up the one held before.
func (d *Document) holdFile() {
	d.hold.release()
	d.hold, d.taken = nil, ""
	if d.file != "" {
		d.hold, d.taken = d.holdNamed(d.file)
	}
}

// holdNamed holds a file the job is about to be saved in.
func (d *Document) holdNamed(name string) (h *hold, taken string) {
	if !d.options.Autosave {
		return nil, ""
	}
	return holdJob(name, d.options.StateDir)
}

package document

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"time"

	"axleloft/geometry/job"
)

// Lost is work found after a program that was killed.
type Lost struct {
	Autosave string    // the file it is in
	File     string    // the job's file, "" where it had none
	Title    string    // the job's title
	When     time.Time // last written
	Demo     bool      // it was a demo, changed
	record   string
}

// FindLost lists work left behind: autosaves in stateDir and beside the given files (the recent list) newer than their job, newest first.
// Work of a program that still runs is not lost. Autosaves that say what their job says are cleared away.
func FindLost(stateDir string, files []string) []Lost {
	found := map[string]Lost{}
	alive := map[string]bool{}
	if stateDir != "" {
		names, _ := filepath.Glob(filepath.Join(stateDir, recordPrefix+"*"+recordEnding))
		for _, n := range names {
			f, err := os.OpenFile(n, os.O_RDWR, 0)
			if err != nil {
				continue
			}
			free := lock(f)
			data, err := os.ReadFile(n)
			f.Close()
			var r record
			if err != nil || json.Unmarshal(data, &r) != nil || r.Autosave == "" {
				if free {
					os.Remove(n)
				}
				continue
			}
			if !free {
				alive[r.Autosave] = true
				continue
			}
			found[r.Autosave] = Lost{Autosave: r.Autosave, File: r.File, Demo: r.Demo, record: n}
		}
		left, _ := filepath.Glob(filepath.Join(stateDir, "*"+autosaveEnding))
		for _, n := range left {
			if _, known := found[n]; !known {
				found[n] = Lost{Autosave: n}
			}
		}
	}
	for _, file := range files {
		if full, err := filepath.Abs(file); err == nil {
			file = full
		}
		if n := beside(file); file != "" {
			if _, known := found[n]; !known {
				found[n] = Lost{Autosave: n, File: file}
			}
		}
	}
	var out []Lost
	for n, l := range found {
		info, err := os.Stat(n)
		if alive[n] || err != nil {
			if err != nil && l.record != "" {
				os.Remove(l.record)
			}
			continue
		}
		l.When = info.ModTime()
		if l.File != "" {
			if of, err := os.Stat(l.File); err == nil && (of.ModTime().After(l.When) || sameAsFile(n, l.File)) {
				if sameAsFile(n, l.File) {
					_ = Forget(l)
				}
				continue
			}
		}
		j, err := job.ReadFile(n)
		if err != nil { // not ours, or spoiled by the disk: nothing to offer, nothing thrown away
			continue
		}
		l.Title = j.Title
		out = append(out, l)
	}
	sort.Slice(out, func(i, k int) bool {
		if !out[i].When.Equal(out[k].When) {
			return out[i].When.After(out[k].When)
		}
		return out[i].Autosave < out[k].Autosave
	})
	return out
}

// Words is what is offered: `"Orchard sprayer", last kept 10:42`.
func (l Lost) Words() string {
	name := strings.TrimSpace(l.Title)
	if l.File != "" {
		name = strings.TrimSuffix(filepath.Base(l.File), Ending)
	}
	if name == "" {
		name = "New job"
	}
	return fmt.Sprintf("%q, last kept %s", name, l.When.Format("2 Jan 15:04"))
}

// Recover opens lost work: the job as autosaved, with its own file, not yet saved. The autosave stays till the job is saved or discarded.
func Recover(l Lost, o Options) (*Document, error) {
	j, err := job.ReadFile(l.Autosave)
	if err != nil {
		return nil, err
	}
	d := open(j, l.File, o)
	d.saved = nil // not in any file
	if l.File != "" {
		d.sum = fileSum(l.File)
	}
	d.demo = l.Demo && l.File == ""
	d.keeper = newKeeper(o, l.File, d.trouble)
	if k := d.keeper; k != nil {
		k.demo = d.demo
		k.disk.Lock()
		k.place = l.Autosave // now this document's: written over, or taken away once the work is kept elsewhere
		if err := k.write(d.toWrite()); err == nil {
			k.note()
		}
		k.disk.Unlock()
		if l.record != "" {
			os.Remove(l.record)
		}
	}
	return d, nil
}

// Forget throws lost work away.
func Forget(l Lost) error {
	if l.record != "" {
		os.Remove(l.record)
	}
	return os.Remove(l.Autosave)
}

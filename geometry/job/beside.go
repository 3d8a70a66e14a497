package job

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// Beside tells how the file of a mesh is found and placed. It is no part of the job file.
type Beside struct {
	Folder   string // where the job's file lies; "": in no file, so that nothing lies beside it
	Mirrored bool   // the right one of a pair
}

// Envelope returns a copy of a part of j that knows where its file is looked for.
func (j *Job) Envelope(e *Envelope) Envelope {
	c := *e
	c.Beside.Folder = j.Folder
	return c
}

// OpenFile opens the file of a mesh. The error is half a sentence: `its file "tank.stl" is not beside the job`.
func (e *Envelope) OpenFile() (*os.File, error) {
	if e.Beside.Folder == "" {
		return nil, fmt.Errorf("its file %q is looked for beside the job, and the job is in no file yet: save it there", e.File)
	}
	if !plainFile(e.File) {
		return nil, fmt.Errorf("its file %q is no bare name of a file beside the job", clip(e.File))
	}
	f, err := os.Open(filepath.Join(e.Beside.Folder, e.File))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("its file %q is not beside the job: put it there", e.File)
	case err != nil:
		return nil, fmt.Errorf("its file %q cannot be opened: %s", e.File, machineWords(err))
	}
	return f, nil
}

// WriteBeside writes a new file into a job's folder, whole or not at all, and never over one that is there. The error is a plain sentence.
func WriteBeside(folder, name string, data []byte) error {
	if !plainFile(name) {
		return fmt.Errorf("%q is no plain name for a file beside the job. Give the file another name.", clip(name))
	}
	full := filepath.Join(folder, name)
	if _, err := os.Lstat(full); err == nil {
		return fmt.Errorf("There is a file %q beside the job already. Give yours another name.", name)
	}
	if err := replace(full, data); err != nil {
		return notSaved(full, err)
	}
	return nil
}

// EachFile calls f for the name of each file a job has beside it, trials included.
func EachFile(j *Job, f func(file *string)) {
	of := func(a *Axle, list []Envelope) {
		if a != nil {
			for i := range a.Housing {
				if a.Housing[i].Kind == "mesh" {
					f(&a.Housing[i].File)
				}
			}
		}
		for i := range list {
			if list[i].Kind == "mesh" {
				f(&list[i].File)
			}
		}
	}
	of(j.Axle, j.Envelopes)
	for i := range j.Trials {
		of(j.Trials[i].Axle, j.Trials[i].Envelopes)
	}
	for i := range j.Photos {
		f(&j.Photos[i].File)
	}
	if j.Before != nil && j.Before.Photo != "" {
		f(&j.Before.Photo)
	}
}

// FilesBeside are the names of the files a job has beside it, trials included, each once.
func FilesBeside(j *Job) (names []string) {
	EachFile(j, func(file *string) {
		if *file != "" && !slices.Contains(names, *file) {
			names = append(names, *file)
		}
	})
	return names
}

package bench

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/storage/repository"
)

// The toolkit's file choosers open (and so empty) the chosen file before they say which it is. Files here are written whole or not at all, by
// the room that writes them, so a file opened by a chooser is left as it is till something is written through it.

// fileRepository is what the toolkit's own way to files can do.
type fileRepository interface {
	repository.WritableRepository
	repository.DeleteAllRepository
	repository.AppendableRepository
	repository.HierarchicalRepository
	repository.ListableRepository
	repository.MovableRepository
	repository.CopyableRepository
}

type lateFiles struct{ fileRepository }

// Writer opens nothing yet.
func (r lateFiles) Writer(u fyne.URI) (fyne.URIWriteCloser, error) {
	return &lateFile{uri: u, open: r.fileRepository.Writer}, nil
}

// lateFile is a file that is opened with its first byte.
type lateFile struct {
	uri  fyne.URI
	open func(fyne.URI) (fyne.URIWriteCloser, error)
	w    fyne.URIWriteCloser
}

func (f *lateFile) URI() fyne.URI { return f.uri }

func (f *lateFile) Write(b []byte) (int, error) {
	if f.w == nil {
		w, err := f.open(f.uri)
		if err != nil {
			return 0, err
		}
		f.w = w
	}
	return f.w.Write(b)
}

func (f *lateFile) Close() error {
	if f.w == nil {
		return nil
	}
	return f.w.Close()
}

// openLate puts lateFiles in place of the toolkit's own way to files.
func openLate() {
	r, err := repository.ForURI(storage.NewFileURI("/"))
	if err != nil {
		return
	}
	if own, ok := r.(fileRepository); ok {
		if _, done := r.(lateFiles); !done {
			repository.Register("file", lateFiles{own})
		}
	}
}

package clearance

import (
	"fmt"
	"path/filepath"
	"sync"
	"time"

	"axleloft/geometry/job"
	"axleloft/geometry/shape"
)

// meshFile is a file as it was when it was read.
type meshFile struct {
	name string
	size int64
	time time.Time
}

// readMesh is what came of a file.
type readMesh struct {
	mesh, mirrored *shape.Mesh
	err            error
}

// meshes keeps what was read, so that a job worked out again and again reads a file once, till the file changes.
var meshes = struct {
	sync.Mutex
	read map[meshFile]*readMesh
}{read: map[meshFile]*readMesh{}}

// keptMeshes is how many files are kept; when there are more all are read anew.
const keptMeshes = 24

// meshOf returns the mesh of an envelope's file, mirrored for the right one of a pair. The error is half a sentence.
func meshOf(e *job.Envelope) (*shape.Mesh, error) {
	f, err := e.OpenFile()
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		return nil, fmt.Errorf("its file %q is no plain file", e.File)
	}
	key := meshFile{filepath.Clean(f.Name()), info.Size(), info.ModTime()}
	meshes.Lock()
	defer meshes.Unlock()
	r := meshes.read[key]
	if r == nil {
		r = &readMesh{}
		if r.mesh, err = shape.ReadSTL(f); err != nil {
			r.err = fmt.Errorf("its file %q is not read. %w", e.File, err)
		}
		if len(meshes.read) >= keptMeshes {
			clear(meshes.read)
		}
		meshes.read[key] = r
	}
	if r.err != nil || !e.Beside.Mirrored {
		return r.mesh, r.err
	}
	if r.mirrored == nil {
		r.mirrored = r.mesh.Mirrored()
	}
	return r.mirrored, nil
}

// meshSolid is an envelope's mesh as a solid.
func meshSolid(e *job.Envelope) (shape.Solid, error) {
	m, err := meshOf(e)
	if err != nil {
		return shape.Solid{}, err
	}
	return shape.Solid{Pieces: []shape.Piece{m.Piece()}}, nil
}

// acrossMesh refuses the left one of a pair that reaches across the centre plane, as any other shape of a pair that does is refused.
func acrossMesh(e *job.Envelope, ref job.Ref, s *shape.Solid) error {
	if e.Kind != "mesh" || ref.Side == job.Single {
		return nil
	}
	lo, hi := s.Pieces[0].Mesh.Bounds()
	if ref.Side == job.Left && lo.Y < -1 || ref.Side == job.Right && hi.Y > 1 {
		return fmt.Errorf("it is one of a pair and its file %q reaches across the centre plane: give the left one, or make it a single", e.File)
	}
	return nil
}

// skinWords says what cannot be told of a mesh with holes; "" of a closed one and of any other shape.
func skinWords(s *shape.Solid) string {
	for i := range s.Pieces {
		m := s.Pieces[i].Mesh
		switch {
		case m == nil || m.Closed:
		case m.Holes > 0:
			return fmt.Sprintf("its surface has holes (%d open edges): only touching it is noticed, not lying inside it", m.Holes)
		default:
			return "its triangles do not all face outwards: only touching it is noticed, not lying inside it"
		}
	}
	return ""
}

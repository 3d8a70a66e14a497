package edit

import "axleloft/geometry/job"

// PivotKey is where within its part the file keeps a pivot: "frame", "axle[1]", "rods[0].far"; "" where there is no such pivot.
func PivotKey(j *job.Job, p Pivot) string {
	if s := find(j, p); s != nil {
		return s.key
	}
	return ""
}

package job

import (
	"strconv"
	"strings"
)

// nearest returns the known word closest to the given one by the number of letters to change, "" where none is close.
// Case counts half, so that "Clearance" finds "clearance".
func nearest(word string, known []string) string {
	if len(word) > 64 {
		return ""
	}
	best, bestAt := "", 1+2*max(2, len(word)/3)
	for _, k := range known {
		if d := distance(word, k); d < bestAt {
			best, bestAt = k, d
		}
	}
	return best
}

// distance is twice the edit distance (insert, delete, replace, swap of neighbours), with a change of case counting one.
func distance(a, b string) int {
	ra, rb := []rune(a), []rune(b)
	rows := make([][]int, len(ra)+1)
	for i := range rows {
		rows[i] = make([]int, len(rb)+1)
		rows[i][0] = 2 * i
	}
	for k := range rb {
		rows[0][k+1] = 2 * (k + 1)
	}
	for i := 1; i <= len(ra); i++ {
		for k := 1; k <= len(rb); k++ {
			change := 2
			switch {
			case ra[i-1] == rb[k-1]:
				change = 0
			case strings.EqualFold(string(ra[i-1]), string(rb[k-1])):
				change = 1
			}
			d := min(rows[i-1][k]+2, rows[i][k-1]+2, rows[i-1][k-1]+change)
			if i > 1 && k > 1 && ra[i-1] == rb[k-2] && ra[i-2] == rb[k-1] {
				d = min(d, rows[i-2][k-2]+2)
			}
			rows[i][k] = d
		}
	}
	return rows[len(ra)][len(rb)]
}

// quoteList writes names as `"a", "b" or "c"`, at most eight of them.
func quoteList(names []string) string {
	const most = 8
	q := make([]string, 0, most)
	for _, n := range names {
		if len(q) == most {
			return strings.Join(q, ", ") + " and others"
		}
		q = append(q, strconv.Quote(n))
	}
	if len(q) < 2 {
		return strings.Join(q, "")
	}
	return strings.Join(q[:len(q)-1], ", ") + " or " + q[len(q)-1]
}

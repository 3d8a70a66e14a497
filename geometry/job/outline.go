package job

// Crossing returns the first two edges of a closed outline that cross or touch where they should not (edge i runs from corner i to
// the next); ok is true where there are none. Neighbouring edges may share their corner only; fewer than three corners are no outline.
func Crossing(outline []Point2) (i, k int, ok bool) {
	n := len(outline)
	if n < 3 {
		return 0, max(0, n-1), false
	}
	at := func(i int) Point2 { return outline[i%n] }
	for i = range n {
		a, b := at(i), at(i+1)
		if a == b {
			return i, (i + 1) % n, false
		}
		c := at(i + 2)
		if turn(a, b, c) == 0 && (b[0]-a[0])*(c[0]-b[0])+(b[1]-a[1])*(c[1]-b[1]) < 0 {
			return i, (i + 1) % n, false // doubles back on itself
		}
		for k = i + 2; k < n; k++ {
			if i == 0 && k == n-1 {
				continue
			}
			if meet(a, b, at(k), at(k+1)) {
				return i, k, false
			}
		}
	}
	return 0, 0, true
}

// CrossingNext reports whether an edge from the last of a row of corners to a further one would meet an edge before it, but for the corner they share.
func CrossingNext(row []Point2, next Point2) bool {
	n := len(row)
	if n == 0 {
		return false
	}
	last := row[n-1]
	if n > 1 {
		b := row[n-2]
		if turn(b, last, next) == 0 && (last[0]-b[0])*(next[0]-last[0])+(last[1]-b[1])*(next[1]-last[1]) < 0 {
			return true // doubles back on itself
		}
	}
	for i := 0; i+2 < n; i++ {
		if meet(row[i], row[i+1], last, next) {
			return true
		}
	}
	return next == last
}

// turn is positive where a, b, c turn left, 0 where they lie in line.
func turn(a, b, c Point2) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// meet reports whether the segments ab and cd have a point in common.
func meet(a, b, c, d Point2) bool {
	if max(a[0], b[0]) < min(c[0], d[0]) || max(c[0], d[0]) < min(a[0], b[0]) ||
		max(a[1], b[1]) < min(c[1], d[1]) || max(c[1], d[1]) < min(a[1], b[1]) {
		return false
	}
	return opposite(turn(a, b, c), turn(a, b, d)) && opposite(turn(c, d, a), turn(c, d, b))
}

// opposite reports whether two turns are not of the same sense.
func opposite(s, t float64) bool { return (s >= 0 && t <= 0) || (s <= 0 && t >= 0) }

// area is the signed area of a closed outline, mm2, positive counter-clockwise.
func area(outline []Point2) float64 {
	var sum float64
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		sum += p[0]*q[1] - q[0]*p[1]
	}
	return sum / 2
}

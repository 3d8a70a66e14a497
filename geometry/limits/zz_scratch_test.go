package limits_test

import (
	"bytes"
	"context"
	"os"
	"testing"
	"time"

	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
)

func TestScratch(t *testing.T) {
	for _, n := range []string{"orchard-sprayer", "noopen", "heaveonly", "articonly", "single"} {
		b, _ := os.ReadFile("/tmp/limcli/" + n + ".axleloft")
		j, err := job.Read(bytes.NewReader(b))
		if err != nil {
			t.Fatal(err)
		}
		m, _ := motion.Compile(j)
		c, _ := clearance.Compile(j, m)
		t0 := time.Now()
		r, err := limits.Find(m, 96)
		t1 := time.Now()
		if err != nil {
			t.Log(n, err)
			continue
		}
		ctx, stop := context.WithTimeout(context.Background(), 20*time.Second)
		limits.Smallest(ctx, m, c, r, limits.Search{Grid: 15, Workers: 1})
		t2 := time.Now()
		limits.Ring(ctx, m, c, r)
		t3 := time.Now()
		limits.Smallest(ctx, m, c, r, limits.Search{Grid: 41, Refine: true, Workers: 1})
		t4 := time.Now()
		stop()
		na := 0
		for _, e := range r.Edge {
			if e.Cause == limits.NoAssembly {
				na++
			}
		}
		t.Log(n, "find", t1.Sub(t0), "coarse", t2.Sub(t1), "ring", t3.Sub(t2), "fine", t4.Sub(t3), "edge", len(r.Edge), "noassembly", na, r.Bump, r.Droop)
	}
}

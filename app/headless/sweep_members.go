package headless

import "axleloft/geometry/quantity"

// members writes a job's own members at a position as lists of groups; v is nil where it was not reached, and the lists are empty. Lists of arms and
// rockers stand only where the job has such.
func (r *sweepRun) members(t *jsonText, v *quantity.Values) {
	m := r.m
	list := func(key string, n int, one func(i int)) {
		t.key(key)
		t.open('[')
		if v != nil {
			for i := range n {
				t.open('{')
				one(i)
				t.close('}')
			}
		}
		t.close(']')
	}
	list("links", len(m.Links), func(i int) {
		t.keyStr("name", m.Links[i].Name)
		t.bar(&v.Links[i], "frameEnd", "axleEnd")
	})
	if len(m.Arms) > 0 {
		list("arms", len(m.Arms), func(i int) {
			a, u := &m.Arms[i], &v.Arms[i]
			t.keyStr("name", a.Name)
			t.ends("frameEnds", u.Ends[:len(a.Frame)])
			t.ends("axleEnds", u.Ends[len(a.Frame):])
			if a.Radius {
				t.nums("gives", u.Gives)
				t.nums("forces", u.GiveForces)
				return
			}
			t.nums("lengths", u.Lengths)
			t.nums("stretches", u.Stretches)
			t.nums("forces", u.Forces)
		})
	}
	if len(m.Rockers) > 0 {
		list("rockers", len(m.Rockers), func(i int) {
			u := &v.Rockers[i]
			t.keyStr("name", m.Rockers[i].Name)
			t.keyNum("turn", degrees(u.Turn))
			t.nums("stretches", []float64{u.Rods[0].Stretch, u.Rods[1].Stretch})
			t.nums("forces", []float64{u.Rods[0].Force, u.Rods[1].Force})
			t.key("rods")
			t.open('[')
			for k := range u.Rods {
				t.open('{')
				t.keyStr("name", m.Rockers[i].Rods[k].Name)
				t.bar(&u.Rods[k], "rockerEnd", "farEnd")
				t.close('}')
			}
			t.close(']')
		})
	}
	list("struts", len(m.Struts), func(i int) {
		u := &v.Struts[i]
		t.keyStr("name", m.Struts[i].Name)
		t.keyNum("length", u.Length)
		t.keyNum("lean", degrees(u.Lean))
		t.keyNum("ratioHeave", u.RatioHeave)
		t.keyNum("ratioRoll", u.RatioRoll)
		t.keyNum("frameTilt", degrees(u.FrameTilt))
		t.keyNum("axleTilt", degrees(u.AxleTilt))
	})
	list("stops", len(m.Stops), func(i int) {
		t.keyStr("name", m.Stops[i].Name)
		t.keyNum("length", v.Stops[i].Length)
		t.keyNum("off", v.Stops[i].Off)
	})
	list("straps", len(m.Straps), func(i int) {
		t.keyStr("name", m.Straps[i].Name)
		t.keyNum("length", v.Straps[i])
	})
	list("lines", len(m.Lines), func(i int) {
		t.keyStr("name", m.Lines[i].Name)
		t.keyNum("span", v.Lines[i])
	})
	list("sensors", len(m.Sensors), func(i int) {
		u := &v.Sensors[i]
		t.keyStr("name", m.Sensors[i].Name)
		t.keyNum("turn", degrees(u.Turn))
		t.keyNum("rodAngle", degrees(u.RodAngle))
		t.keyBool("reached", u.Reached)
	})
}

// bar writes a link or a rod: length, stretch, force and its two ends.
func (t *jsonText) bar(u *quantity.LinkUse, first, second string) {
	t.keyNum("length", u.Length)
	t.keyNum("stretch", u.Stretch)
	t.keyNum("force", u.Force)
	t.key(first)
	t.end(&u.FrameEnd)
	t.key(second)
	t.end(&u.AxleEnd)
}

func (t *jsonText) ends(key string, list []quantity.EndUse) {
	t.key(key)
	t.open('[')
	for i := range list {
		t.end(&list[i])
	}
	t.close(']')
}

func (t *jsonText) end(u *quantity.EndUse) {
	t.open('{')
	t.keyNum("misalignment", degrees(u.Misalignment))
	t.keyNum("torsion", degrees(u.Torsion))
	t.keyNum("utilisation", u.Use)
	t.close('}')
}

func (t *jsonText) nums(key string, list []float64) {
	t.key(key)
	t.open('[')
	for _, v := range list {
		t.num(v)
	}
	t.close(']')
}

package job

// brackets checks what brackets are: that they say whose they are, that a pivot has one, that each kind has the sizes it is made by, and that every
// hole lies in its plate.
func (c *checker) brackets(j *Job) {
	taken := map[[2]string]bool{}
	for i := range j.Brackets {
		b, p := &j.Brackets[i], item("brackets", i)
		if c.whose(p, b.Of, b.End, "this bracket holds") && taken[[2]string{b.Of, b.End}] {
			c.add(p, 0, "%q has two brackets at %q. Take one of them out.", clip(b.Of), clip(b.End))
		}
		taken[[2]string{b.Of, b.End}] = true
		c.bracket(b, p)
	}
}

func (c *checker) bracket(b *Bracket, p string) {
	if b.Edge <= b.Hole/2 {
		c.add(join(p, "edge"), 0, "The edge lies %s mm from the hole's centre and the hole is %s mm across: it would break out. Make the edge larger.", figure(b.Edge), figure(b.Hole))
	}
	if b.Base <= b.Hole/2 {
		c.add(join(p, "base"), 0, "The mounting face lies %s mm from the hole's centre and the hole is %s mm across: it would cut the hole. Move the hole further out.", figure(b.Base), figure(b.Hole))
	}
	half, off := b.WidthOrUsual()/2, b.OffsetOr0()
	for _, x := range [2]float64{off - half, off + half} {
		if x*x+b.Base*b.Base <= b.Edge*b.Edge {
			c.add(join(p, "width"), 0, "The plate is so narrow at the mounting face that the round end round the hole is wider. Make it wider, or the edge smaller.")
			break
		}
	}
	if two := b.Kind != "tab"; two && b.Gap == nil {
		c.add(join(p, "gap"), 0, "It has two plates and does not say how far they stand apart. Give \"gap\", mm clear between them.")
	} else if !two && b.Gap != nil {
		c.add(join(p, "gap"), 0, "A tab is one plate and has no gap. Take it out, or make it a pair.")
	}
	switch {
	case b.Kind == "saddle" && b.Rail == nil:
		c.add(join(p, "rail"), 0, "A saddle needs the rail it goes over: \"rail\" with \"width\" and \"leg\".")
	case b.Kind != "saddle" && b.Rail != nil:
		c.add(join(p, "rail"), 0, "Only a saddle goes over a rail. Take it out, or make it a saddle.")
	}
	if b.Kind == "saddle" && b.Rail != nil && b.Gap != nil {
		s, _ := b.Sheet()
		over, across, along := *b.Gap+2*b.Thickness, b.Rail.Width+2*s, b.Along()
		if wide := b.WidthOrUsual(); !(over <= across && wide <= along) && !(over <= along && wide <= across) {
			c.add(join(p, "gap"), 0, "The two plates take %s by %s mm and the folded plate is %s by %s mm over the rail: they would stand beside it. Make it larger, or the gap or the plates smaller.", figure(over), figure(wide), figure(across), figure(along))
		}
	}
	n := b.Pattern
	if n == nil {
		return
	}
	p = join(p, "pattern")
	switch {
	case n.Count < 1:
		c.add(join(p, "count"), 0, "A row of holes has at least one. Correct it, or take the row out.")
		return
	case n.Count > 1 && n.Pitch == nil:
		c.add(join(p, "pitch"), 0, "It does not say how far one hole is from the next. Give \"pitch\", mm.")
		return
	case n.Count > 1 && *n.Pitch <= n.Hole:
		c.add(join(p, "pitch"), 0, "The holes are %s mm across and %s mm apart: they would run into one another. Make the pitch larger.", figure(n.Hole), figure(*n.Pitch))
	}
	if n.In <= n.Hole/2 {
		c.add(join(p, "in"), 0, "The row lies %s mm in and its holes are %s mm across: they would break out. Move the row further in.", figure(n.In), figure(n.Hole))
	}
	if n.EdgeOrUsual() <= n.Hole/2 {
		c.add(join(p, "edge"), 0, "The edge lies %s mm from the row and its holes are %s mm across: they would break out. Make the edge larger.", figure(*n.Edge), figure(n.Hole))
	}
	wide := b.WidthOrUsual()
	if b.Rail != nil {
		wide = b.Along()
		if n.In+n.Hole/2 >= b.Rail.Leg {
			c.add(join(p, "in"), 0, "The row lies %s mm from the leg's edge and the leg is %s mm long: the holes would lie in the fold. Make the leg longer.", figure(n.In), figure(b.Rail.Leg))
		}
	}
	if n.Span()+n.Hole >= wide {
		c.add(p, 0, "The row of holes takes %s mm and the plate is %s mm wide: they would break out. Make it wider, or the row shorter.", figure(n.Span()+n.Hole), figure(wide))
	}
}

// WidthOrUsual is the width of the plates at the mounting face, mm: twice the edge where the job does not say.
func (b *Bracket) WidthOrUsual() float64 {
	if b.Width != nil {
		return *b.Width
	}
	return 2 * b.Edge
}

// OffsetOr0 is how far the middle of that width lies beside the hole, mm.
func (b *Bracket) OffsetOr0() float64 {
	if b.Offset != nil {
		return *b.Offset
	}
	return 0
}

// Along is how long a saddle is along its rail, mm.
func (b *Bracket) Along() float64 {
	if b.Rail != nil && b.Rail.Along != nil {
		return *b.Rail.Along
	}
	return b.WidthOrUsual()
}

// Span is from the first hole's centre to the last one's, mm.
func (n *Pattern) Span() float64 {
	if n.Count < 2 || n.Pitch == nil {
		return 0
	}
	return float64(n.Count-1) * *n.Pitch
}

// EdgeOrUsual is how far the plate goes past the row, mm: one and a half holes where the job does not say (common practice, no source).
func (n *Pattern) EdgeOrUsual() float64 {
	if n.Edge != nil {
		return *n.Edge
	}
	return 1.5 * n.Hole
}

// Sheet is the thickness of a saddle's folded plate and the inside radius of its folds, mm.
func (b *Bracket) Sheet() (thickness, bend float64) {
	thickness = b.Thickness
	if b.Rail.Thickness != nil {
		thickness = *b.Rail.Thickness
	}
	bend = thickness
	if b.Rail.Bend != nil {
		bend = *b.Rail.Bend
	}
	return thickness, bend
}

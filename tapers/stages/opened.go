package stages

import (
	"math"
	"slices"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/fouling"
)

// A tool whose edge trails comes to the work beside it from that side. Where the bar still stands there a
// blade opens it first: in the bar beside the stations a neck, out of which the first of the tools comes that
// need one, in a cylinder that is shut in on both sides a slot.

// Neck is a groove in the bar beside an end of the stations.
type Neck struct {
	End tapers.End `json:"end"`
	Groove
	Plunged bool `json:"plunged"` // by the parting blade, which reaches so deep; else nothing here does it

	cuts, downs []int // by index, what is cut and what is turned down by a tool that comes out of it
}

// need is which stages are cut and which turned down by a tool out of a neck, by index, and how wide that is
// at the least, in mm.
type need struct {
	cuts, downs []int
	wide        float64
}

// widest is how wide a neck is looked for where it is not known how much bar there is, in mm.
const widest = 100.0

// spare is what a neck or a slot is wider than what a tool needs, in mm.
const spare = 1.0

// opens notes that a cut is made out of a neck, where its tool does not get there with the bar as thick as it was
// beside the stations.
func (c *cutting) opens(i int, down bool, gets func() bool) {
	if c.trial {
		return
	}
	first, last := c.in.Stations[0], c.in.Stations[len(c.in.Stations)-1]
	for _, end := range tapers.Ends {
		dia, room := first.Dia, widest
		if c.in.FromJaws != nil {
			room = max(c.in.FromJaws.MM(), 0)
		}
		if end == tapers.AtTailstock {
			dia, room = last.Dia, 0
			if at := c.in.CentreAt; at != nil && c.in.FromJaws != nil {
				room = max(at.MM()-(last.Z.MM()+c.zero), 0)
			}
		}
		if dia.MM() >= c.bar || room == 0 {
			continue
		}
		with := func(wide float64) bool {
			c.neck, c.wide = end, wide
			defer func() { c.neck = "" }()
			return gets()
		}
		if with(0) {
			continue
		}
		few, many := 0, int(room)
		if c.in.Blade != nil { // no groove is narrower than what cuts it
			few = int(c.in.Blade.Steps(units.Millimetres(1), units.Up)) - 1
		}
		for many-few > 1 {
			if mid := (few + many) / 2; with(float64(mid)) {
				many = mid
			} else {
				few = mid
			}
		}
		n, ok := c.needs[end]
		if !ok {
			n = new(need)
			c.needs[end] = n
		}
		if n.wide = max(n.wide, min(float64(many)+spare, room)); down {
			n.downs = append(n.downs, i)
		} else {
			n.cuts = append(n.cuts, i)
		}
	}
}

// necks returns the necks that the tools come out of.
func (c *cutting) necks() []Neck {
	list := []Neck{}
	for _, end := range tapers.Ends {
		n, ok := c.needs[end]
		if !ok {
			continue
		}
		first, last := c.in.Stations[0], c.in.Stations[len(c.in.Stations)-1]
		wide := units.FromFloat(n.wide)
		k := Neck{End: end, cuts: n.cuts, downs: n.downs}
		k.Groove = c.groove(first.Z.Minus(wide), first.Z, first.Dia)
		left := widest
		if c.in.FromJaws != nil {
			left = c.in.FromJaws.MM() - n.wide
		}
		if end == tapers.AtTailstock {
			k.Groove = c.groove(last.Z, last.Z.Plus(wide), last.Dia)
			left = c.in.CentreAt.MM() - (last.Z.MM() + c.zero) - n.wide
		}
		k.Plunged = c.in.Blade != nil && c.plunges(k.Dia.MM()) && k.Dia.Sign() > 0 &&
			left >= practice.TightClear.Length(units.MM).MM()
		list = append(list, k)
	}
	return list
}

// groove is one from one z to another, where it is known how wide a holder is.
func (c *cutting) groove(from, to, dia units.Length) Groove {
	if c.in.Lathe.ToolPost == nil {
		return Groove{Dia: dia}
	}
	return Groove{From: &from, To: &to, Dia: dia}
}

// stands says from where to where a groove is, where that is known.
func (g Groove) stands() say.Text {
	if g.From == nil {
		return ", wider than the holder"
	}
	return say.Of(", from z ", g.From, " to z ", g.To)
}

// beyond adds to an outline the bar beside an end of the stations, where a neck is looked for.
func (c *cutting) beyond(end tapers.End, add func(z, dia float64)) {
	first, last := c.in.Stations[0], c.in.Stations[len(c.in.Stations)-1]
	if end == tapers.AtTailstock {
		z := last.Z.MM() + c.zero
		add(z, last.Dia.MM())
		add(z+c.wide, last.Dia.MM())
		add(z+c.wide, c.bar)
		add(c.in.CentreAt.MM(), c.bar)
		return
	}
	z, from := first.Z.MM()+c.zero, 0.0
	if c.in.FromJaws == nil {
		from = z - widest
	}
	add(from, c.bar)
	add(z-c.wide, c.bar)
	add(z-c.wide, first.Dia.MM())
	add(z, first.Dia.MM())
}

// plunges reports whether the blade reaches a diameter from the bar: where it is not said how deep it does, one
// as wide as it is.
func (c *cutting) plunges(dia float64) bool {
	deep := (c.bar - dia) / 2
	switch {
	case c.in.BladeReach != nil:
		return deep <= c.in.BladeReach.MM()
	case c.in.Blade != nil:
		return practice.PartingDepth.Number()*deep <= c.in.Blade.MM()
	}
	return true
}

// slotted reports whether a slot can be plunged in a cylinder, out of which a right-hand tool cuts up to the one
// end and then a left-hand one up to the other, and notes it. Where no tools are listed a person has what it takes.
func (c *cutting) slotted(i int) bool {
	right, ok := c.tool(i, fouling.Right)
	left, and := c.tool(i, fouling.Left)
	listed := len(c.in.Lathe.Tools) > 0 || c.in.Blade != nil
	s := c.list[i]
	if !ok || !and || s.Kind != Cylinder || listed && (c.in.Blade == nil || !c.plunges(s.FromDia.MM())) {
		return false
	}
	long := s.To.Minus(s.From).MM()
	gets := func(wide float64) bool {
		from := s.From.MM() + float64(int((long-wide)/2))
		slot := func(from, to float64) fouling.Profile {
			c.slot, c.slotFrom, c.slotTo = i+1, from, to
			defer func() { c.slot = 0 }()
			return c.stands().InJaws(c.jaws)
		}
		a, b := from+c.zero, from+wide+c.zero
		return reaches(slot(from, from+wide), a, a+grain, right) &&
			reaches(slot(s.From.MM(), from+wide), b-grain, b, left)
	}
	for wide := 1.0; wide+spare <= long; wide++ {
		if gets(wide) {
			from := s.From.Plus(units.Millimetres(int64((long - wide - spare) / 2)))
			c.slots[i] = c.groove(from, from.Plus(units.Millimetres(int64(wide+spare))), s.FromDia)
			return gets(wide + spare)
		}
	}
	return false
}

// open says how a neck is plunged, before the first stage that is cut or turned down out of it. It reports
// whether one is.
func (r *Result) open(s *sheet.Sheet, opened map[tapers.End]bool, unlocks say.Text, i int, down bool) (plunged bool) {
	for _, k := range r.Necks {
		of := k.cuts
		if down {
			of = k.downs
		}
		if !k.Plunged || opened[k.End] || !slices.Contains(of, i) {
			continue
		}
		opened[k.End], plunged = true, true
		s.Do(say.Of(unlocks, "plunge ", r.bar(k)).Capital(), "to ", k.Dia, k.stands(), ", ", r.blade(), comesIn, ".")
	}
	return plunged
}

// opened says of the necks that nothing here plunges how thin the bar is there before it is held.
func (r *Result) opened(s *sheet.Sheet) {
	for _, k := range r.Necks {
		if k.Plunged {
			continue
		}
		wide := say.Text(", wider than the holder")
		if k.From != nil {
			wide = say.Of(" for ", k.To.Minus(*k.From).Up(), " at the least")
		}
		s.Do("Before it is held so, turn ", r.bar(k), "down to ", k.Dia, wide, comesIn, ".")
	}
}

// bar names the bar beside an end of the stations, with a space after it.
func (r *Result) bar(k Neck) say.Text {
	z, toward := r.Inputs.Stations[0].Z, "chuck"
	if k.End == tapers.AtTailstock {
		z, toward = r.Inputs.Stations[len(r.Inputs.Stations)-1].Z, "centre"
	}
	return say.Of("the bar beyond z ", z, say.Aside(", toward the ", toward, ","), " ")
}

// comesIn says what a neck is for.
var comesIn = say.Aside(": a tool comes in from there")

// blade says with what a groove is plunged that is wider than the parting blade.
func (r *Result) blade() say.Text {
	if r.Inputs.Blade == nil {
		return "with a grooving tool: straight in, one cut beside the other"
	}
	return say.Of("with the parting blade, ", r.Inputs.Blade, " wide: straight in, one cut beside the other")
}

// edges reports whether the work beside the ends of a stage is not as thick as the stage stands when it is cut, a step
// or a slope that falls off within as much as anything touched stands clear: the headstock's, then the tailstock's.
func (c *cutting) edges(w standing) (step [2]bool) {
	s, dia := c.list[w.of], c.thick(w.of)
	beside := func(z float64) float64 {
		at := 0.0
		for k := 1; k < len(w.stands); k++ {
			a, b := w.stands[k-1], w.stands[k]
			if a.Z <= z && z <= b.Z && a.Z < b.Z {
				at = a.Dia + (b.Dia-a.Dia)*(z-a.Z)/(b.Z-a.Z)
			}
		}
		return at
	}
	for _, out := range []float64{grain, practice.BiteClear.Length().MM()} {
		for i, z := range []float64{s.From.MM() + c.zero - out, s.To.MM() + c.zero + out} {
			step[i] = step[i] || math.Abs(beside(z)-dia) > tells
		}
	}
	return step
}

// tells is what a step is told from a slope by, on the diameter, in mm.
const tells = 0.1

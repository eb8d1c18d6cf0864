package plan

import (
	"slices"
	"strconv"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
)

// cause is a refusal with all that is known of it, and what is offered to mend it.
type cause struct {
	*Refusal
	*job
	found *attempt    // nil where no way was found
	lathe *shop.Lathe // one without anything where the shop has none

	asks trouble // of what is offered now
	as   int     // the answer that it is offered as, by its place in the list
	list []trial
}

// cause returns what is known of a refusal.
func (r *Result) cause(j *job, f *Refusal) *cause {
	c := &cause{Refusal: f, job: j, found: r.found, lathe: j.Shop.Lathe}
	if c.lathe == nil {
		c.lathe = &shop.Lathe{}
	}
	return c
}

// answer is what may mend some refusals: what it asks, what it offers, and the codes that
// it is about.
type answer struct {
	asks  trouble
	offer func(c *cause)
	to    []problem.Code
}

// answers are tried in this order: what asks least of the maker first.
//
// Long: a row for each thing.
func answers() []answer {
	only := func(codes ...problem.Code) []problem.Code { return codes }
	ofHolding := only(
		problem.CannotBeHeld, problem.RulesCollide, problem.GripSurface, problem.GripLength, problem.JawRoom,
		problem.Bruise, problem.Parting,
	)
	ofDevice := only(problem.GripRange, problem.GripSurface, problem.GripLength, problem.JawRoom, problem.Bruise)
	ofSpring := only(problem.Overhang, problem.Support)
	ofReach := only(problem.ToolSide, problem.Fouling)
	ofSize := only(problem.OutOfLimits, problem.Gouge, problem.StartSize)
	ofHole := only(problem.NotReachable, problem.OutOfLimits, problem.Gouge)
	and := func(list []problem.Code, more ...problem.Code) []problem.Code {
		return append(slices.Clip(list), more...)
	}
	return []answer{
		{aWord, largerBar, only(problem.NotReachable)},
		{aWord, anyBar, and(ofHolding, problem.GripRange)},
		{aWord, hexStock, and(ofHolding, problem.GripRange, problem.NotReachable)},
		{aWord, newBar, ofSize},
		{aWord, centresStay, and(ofSpring, problem.Complete)},
		{aWord, mayOpen, only(problem.WallTooThin)},
		{aWord, crossing, only(problem.WallTooThin)},
		{aLimit, wider, and(ofSize, problem.Overhang)},
		{aLimit, coarse, and(ofSize, problem.Overhang)},
		{aLimit, leastWall, only(problem.WallTooThin)},
		{aTool, twistDrill, ofHole},
		{aTool, reamer, ofHole},
		{aTool, boringBar, ofHole},
		{aTool, threadTool, only(problem.NotAvailable)},
		{aTool, turningTool, and(ofReach, ofHolding...)},
		{aTool, sineBar, ofSize},
		{aTool, partingBlade, and(ofHolding, problem.ToolSide)},
		{aTool, softJaws, ofHolding},
		{aFeature, freeThread, only(problem.IntoShoulder)},
		{aFeature, fittingThread, only(problem.Complete)},
		{aFeature, tapRoom, only(problem.TravelShort)},
		{aFeature, otherHole, only(problem.WallTooThin)},
		{aFeature, roomForLead, only(problem.OutOfLimits)},
		{aFeature, otherBore, and(ofHole, problem.WallTooThin)},
		{aFeature, widerGroove, only(problem.ToolSide)},
		{aFeature, spigot, and(ofReach, ofHolding...)},
		{aFeature, longerThread, and(ofReach, ofHolding...)},
		{aFeature, longerGrip, and(ofReach, ofHolding...)},
		{aFeature, shorter, only(problem.Overhang)},
		{anOutfit, deadCentre, and(ofSpring, problem.NotAvailable)},
		{anOutfit, steady, ofSpring},
		{anOutfit, collet, and(ofDevice, problem.CannotBeHeld)},
		{anOutfit, chuck, and(ofDevice, problem.NotAvailable)},
		{anOutfit, fourJaw, ofDevice},
		{anOutfit, vBlocks, only(problem.SupportV)},
		{anOutfit, finerDial, ofSize},
		{aMachine, drillPress, only(problem.NotAvailable)},
		{aMachine, mill, only(problem.NotAvailable, problem.NotReachable, problem.RulesCollide)},
		{aMachine, through, only(problem.JawRoom)},
		{aMachine, largerLathe, only(problem.TravelShort)},
		{aMachine, wholeLathe, only(problem.NotAvailable)},
	}
}

// offers returns what may mend the refusal; where nothing is known to, a thicker bar or a
// larger block.
func (c *cause) offers() []trial {
	list := answers()
	if c.flatsInJaws() {
		list = []answer{
			{aWord, anyBar, []problem.Code{c.Code}}, {anOutfit, fourJaw, []problem.Code{c.Code}},
		}
	}
	for i, a := range list {
		if slices.Contains(a.to, c.Code) {
			c.asks, c.as = a.asks, i
			a.offer(c)
		}
	}
	if len(c.list) == 0 && c.round != nil {
		c.asks = aWord
		thickerBar(c)
	} else if len(c.list) == 0 {
		c.asks = aFeature
		largerBlock(c)
	}
	return c.list
}

// flatsInJaws reports whether the flats of the bar do not fit the jaws that it is held in, which
// nothing mends but other jaws or another bar.
func (c *cause) flatsInJaws() bool {
	return c.Code == problem.GripSurface && c.of != nil && c.of.Setup.On == op.Stock && c.of.Setup.Device == op.Chuck &&
		c.lathe.Chuck != nil && c.sides() > 0 && c.sides()%c.lathe.Chuck.Jaws != 0
}

// figures returns what was found and what is wanted, as numbers, where both are of one
// kind.
func (c *cause) figures() (is, want float64, ok bool) {
	is, known := c.by.Value.Number()
	want, both := c.by.Limit.Number()
	return is, want, known && both
}

// lacks returns by how much what is wanted is more than what was found, less than 0 where
// it is too much; 0 where they are no lengths.
func (c *cause) lacks() units.Length {
	is, want, ok := c.figures()
	if !ok || c.by.Value.Unit() != "mm" {
		return units.Length{}
	}
	return units.FromFloat(want - is)
}

// grain is what a size is rounded to, of a part that is drawn in mm and in inches.
type grain struct{ mm, inch string }

var (
	whole     = grain{"1mm", "1/32in"}
	halves    = grain{"0.5mm", "1/64in"}
	tenth     = grain{"0.1mm", "0.005in"}
	hundredth = grain{"0.01mm", "0.0005in"}
)

func (c *cause) grain(g grain) units.Length {
	if c.Part.Units == units.Inch {
		return units.MustLength(g.inch)
	}
	return units.MustLength(g.mm)
}

func (c *cause) up(l units.Length, g grain) units.Length { return l.RoundTo(c.grain(g), units.Up) }

func (c *cause) down(l units.Length, g grain) units.Length { return l.RoundTo(c.grain(g), units.Down) }

// ofKind reports whether the operation that fails is of one of some kinds.
func (c *cause) ofKind(kinds ...op.Kind) bool {
	return c.of != nil && slices.Contains(kinds, c.of.Kind)
}

// numbered returns the number of the feature that a refusal is about, where it is of a
// kind: 2 of "bore-2". Where the refusal names none, the operation does.
func (c *cause) numbered(kind string) (n int, ok bool) {
	names := []string{c.Key}
	if c.of != nil {
		names = append(append(names, c.of.Makes...), c.of.ID)
	}
	for _, name := range names {
		if rest, is := strings.CutPrefix(name, kind+"-"); is {
			digits, _, _ := strings.Cut(rest, "-")
			if n, err := strconv.Atoi(digits); err == nil {
				return n, true
			}
		}
	}
	return 0, false
}

// nth returns the feature of a kind that a refusal is about, nil where it is about none.
func nth[T any](c *cause, kind string, list func(o *outline.Outline) []T) *T {
	if n, ok := c.numbered(kind); ok && c.shape != nil && n <= len(list(c.shape)) {
		return &list(c.shape)[n-1]
	}
	return nil
}

func (c *cause) bore() *outline.Bore {
	return nth(c, "bore", func(o *outline.Outline) []outline.Bore { return o.Bores })
}

func (c *cause) thread() *outline.Thread {
	return nth(c, "thread", func(o *outline.Outline) []outline.Thread { return o.Threads })
}

// hole returns the cross hole that a refusal is about, the first of a row; where the wall
// of one is refused the one on that line of the file.
func (c *cause) hole() *outline.Hole {
	if c.shape == nil {
		return nil
	}
	n, single := c.numbered("hole")
	row, _ := c.numbered("row")
	line := c.told.At.Line
	i := slices.IndexFunc(c.shape.Holes, func(h outline.Hole) bool {
		return single && h.N == n || row > 0 && h.Row == row ||
			c.Code == problem.WallTooThin && line > 0 && h.At.Line == line
	})
	if i < 0 {
		return nil
	}
	return &c.shape.Holes[i]
}

// blockHole returns the hole of a block that a refusal is about, as it is drilled.
func (c *cause) blockHole() *drilling {
	n, ok := c.numbered("hole")
	if !ok || c.block == nil || n > len(c.block.Holes) {
		return nil
	}
	return &c.drillings(c.block.Holes[n-1], n)[0]
}

// flats returns the facets that a refusal is about, the first where it is about holding
// or milling.
func (c *cause) flats() *outline.Facets {
	f := nth(c, "facets", func(o *outline.Outline) []outline.Facets { return o.Facets })
	all := slices.Contains([]problem.Code{problem.CannotBeHeld, problem.RulesCollide, problem.GripRange}, c.Code) ||
		c.ofKind(op.Mill, op.Grind)
	if f == nil && c.shape != nil && len(c.shape.Facets) > 0 && all {
		return &c.shape.Facets[0]
	}
	return f
}

// held returns the diameter that is held where a step fails, else that of the bar.
func (c *cause) held() units.Length {
	if c.of != nil && c.of.Setup.On.Dia > 0 {
		return c.of.Setup.On.Dia.Length()
	}
	return c.bar
}

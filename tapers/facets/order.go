package facets

import (
	"math"
	"math/big"
	"slices"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Indexing is what a shop turns work from flat to flat with. What it does not have
// is nil or empty.
type Indexing struct {
	Head    *shop.DividingHead `json:"-"`
	Rotary  *shop.RotaryTable  `json:"-"`
	Blocks  []int              `json:"-"` // sides of the collet blocks
	Collets shop.Collets       `json:"-"` // what goes into the blocks
}

// block returns the first collet block that brings up every flat, 0 without one.
func (in Indexing) block(sides int) int {
	for _, b := range in.Blocks {
		if b%sides == 0 {
			return b
		}
	}
	return 0
}

// byBar returns what turns a bar that is held as it is, and says where that leaves
// out a collet block: its collets hold rounds, and no larger than they take.
func (in Indexing) byBar(sides int, bar units.Length, square bool, to *sheet.Remarks) Indexing {
	_, _, ok, known := in.Collets.Takes(bar)
	block := in.block(sides)
	switch {
	case square || known && !ok:
		in.Blocks = nil
	case block > 0 && !known:
		to.NotChecked("lathe: collets", "whether a collet takes the bar, for the collet block of ", block,
			" sides, was not checked")
	}
	return in
}

// takes words what a collet block holds.
func (in Indexing) takes() say.Text {
	from, most, _, known := in.Collets.Takes(units.Length{})
	if !known {
		return ""
	}
	return say.Of(", by a round of ", from, " to ", most)
}

// Flat is one flat in the order they are cut. Angle is its place from flat 1.
// Turns and Spaces take the crank of the dividing head there from the flat before
// (from flat 1's place to the first), Faces the collet block; RotaryTurns and
// Handwheel are the rotary table's place from flat 1. Off is how far the pin's hole
// is past the exact place.
//
// A reading is taken square to the axis over the flat and what stands opposite at
// that time: with the leave still on (Left), and finished; both at the large end
// and at the small end of a taper.
type Flat struct {
	N            int           `json:"n" show:"cut"`
	Flat         int           `json:"flat" show:"flat"`
	Angle        units.Angle   `json:"angle_deg" show:"at"`
	Turns        *int          `json:"turns" show:"turns"`
	Spaces       *int          `json:"spaces" show:"spaces"`
	Off          *units.Angle  `json:"error_deg" show:"is off" as:"4 signed"`
	RotaryTurns  *int          `json:"rotary_turns" show:"handwheel"`
	Handwheel    *string       `json:"rotary_handwheel_dms" show:"and"`
	Faces        *int          `json:"block_faces" show:"faces on"`
	Depth        units.Length  `json:"depth_mm" show:"deep"`
	Left         *units.Length `json:"reading_left_mm" show:"roughed"`
	LeftSmall    *units.Length `json:"reading_left_small_mm" show:"small end"`
	Reading      units.Length  `json:"reading_mm" show:"finished"`
	ReadingSmall *units.Length `json:"reading_small_mm" show:"small end"`
}

// Order is how the flats are cut, one after the other, every second one first. The
// circle, its plate and the holes in the sector are those of the dividing head, nil
// without one; Again is what brings flat 1 up once more after the last.
type Order struct {
	Plate       *int   `json:"index_plate"`
	Circle      *int   `json:"index_circle" show:"index on the circle of"`
	SectorHoles *int   `json:"sector_holes"`
	Block       *int   `json:"block_sides" show:"or in the collet block of"`
	Exact       *bool  `json:"index_exact"`
	AgainTurns  *int   `json:"again_turns"`
	AgainSpaces *int   `json:"again_spaces"`
	Flats       []Flat `json:"flats"`

	sides    int
	leave    units.Length
	ends     []end
	on       Indexing
	vertical float64 // what a depth square to the axis is square to a tilted flat
}

// everySecond returns the flats from 0 in the order they are cut: every second one
// first, so that each is cut into a bare round as long as there is one, then those
// between.
func everySecond(sides int) []int {
	var list []int
	for from := range 2 {
		for k := from; k < sides; k += 2 {
			list = append(list, k)
		}
	}
	return list
}

// end is the work at one end: the section before anything is cut, and how far from
// the axis its flats come to lie.
type end struct {
	bare    section
	apothem units.Length
}

// cutIn is a flat as it is cut: what it reads over what stands opposite at that
// time, and how deep it goes from where the cutter touches.
type cutIn struct{ reading, depth units.Length }

// cuts returns the flats of an end as they are cut in their order, left to go on each.
func (e end) cuts(sides int, order []int, leave units.Length, body section) []cutIn {
	list := make([]cutIn, len(order))
	far := e.apothem.Plus(leave)
	now := section{body.radius, body.square, slices.Clone(body.lines)}
	for i, k := range order {
		dir := units.Degrees(360 * float64(k) / float64(sides)).Rad()
		list[i].depth = now.reach(dir).Minus(far)
		now.lines = append(now.lines, line{dir, far.MM()})
		list[i].reading = far.Plus(now.reach(dir + math.Pi))
	}
	return list
}

// with is the section with every flat of a polygon cut.
func (s section) with(sides int, apothem units.Length) section {
	all := section{s.radius, s.square, slices.Clone(s.lines)}
	for k := range sides {
		all.lines = append(all.lines, line{units.Degrees(360 * float64(k) / float64(sides)).Rad(), apothem.MM()})
	}
	return all
}

// inOrder returns the flats of a polygon in the order they are cut, but those of a
// bar's own that there is nothing to cut of, as the shop indexes them. Ends are one,
// or of a taper the large and the small.
//
// What is left on them is taken off in a second round.
func inOrder(sides int, leave units.Length, tilt units.Angle, on Indexing, ends ...end) Order {
	r := Order{Flats: []Flat{}, sides: sides, leave: leave, ends: ends, on: on, vertical: tilt.Cos()}
	var order []int
	for _, k := range everySecond(sides) {
		dir := units.Degrees(360 * float64(k) / float64(sides))
		if ends[0].apothem.Less(ends[0].bare.reach(dir.Rad()).Minus(units.FromFloat(slack))) {
			order = append(order, k)
			r.Flats = append(r.Flats, Flat{N: len(order), Flat: k + 1, Angle: dir})
		}
	}
	if len(order) > 0 {
		r.count(sides)
	}
	for n, e := range ends {
		first := e.cuts(sides, order, leave, e.bare)
		last := first
		if leave.Sign() > 0 {
			last = e.cuts(sides, order, units.Length{}, e.bare.with(sides, e.apothem.Plus(leave)))
		}
		for i := range r.Flats {
			r.Flats[i].read(n, first[i], last[i], leave.Sign() > 0, r.vertical)
		}
	}
	return r
}

// read fills in what a flat reads at an end, the large one first.
func (f *Flat) read(end int, first, last cutIn, leaves bool, vertical float64) {
	var left *units.Length
	if leaves {
		left = &first.reading
	}
	if end > 0 {
		f.ReadingSmall, f.LeftSmall = &last.reading, left
		return
	}
	f.Reading, f.Left = last.reading, left
	f.Depth = units.FromFloat(first.depth.MM() * vertical)
}

// count fills in the indexing: every place is counted from flat 1, so that nothing
// that is rounded adds up, and the crank is never turned back.
func (r *Order) count(sides int) {
	part := func(k int) *big.Rat { return big.NewRat(int64(k), int64(sides)) }
	places, round := make([]int, len(r.Flats)), 0
	for i, f := range r.Flats {
		if i > 0 && f.Flat < r.Flats[i-1].Flat {
			round = sides
		}
		places[i] = round + f.Flat - 1
	}
	if r.on.Head != nil {
		r.onHead(places, part, sides)
	}
	if r.on.Rotary != nil {
		for i, f := range r.Flats {
			turns, left := r.on.Rotary.Set(part(f.Flat - 1))
			dms := left.DMS(true)
			r.Flats[i].RotaryTurns, r.Flats[i].Handwheel = &turns, &dms
		}
	}
	if block := r.on.block(sides); block > 0 {
		r.Block = &block
		before := 0
		for i, p := range places {
			r.Flats[i].Faces = new((p - before) * block / sides)
			before = p
		}
	}
}

// onHead counts the places on the circle that divides best.
func (r *Order) onHead(places []int, part func(int) *big.Rat, sides int) {
	best, ok := r.on.Head.Set(part(1))
	if !ok {
		return
	}
	r.Plate, r.Circle, r.Exact = &best.Plate, &best.Circle, new(best.Off.Sign() == 0)
	before, widest := 0, 0
	step := func(place int) (turns, spaces int, off units.Angle) {
		c := r.on.Head.Count(part(place), best.Circle)
		n := c.Holes() - before
		before = c.Holes()
		return n / best.Circle, n % best.Circle, c.Error(r.on.Head.Ratio)
	}
	for i, p := range places {
		turns, spaces, off := step(p)
		r.Flats[i].Turns, r.Flats[i].Spaces, r.Flats[i].Off = &turns, &spaces, &off
		if i == 1 || i == 0 && len(places) == 1 {
			widest = spaces
		}
	}
	r.SectorHoles = new(widest + 1)
	round := (places[len(places)-1]/sides + 1) * sides
	turns, spaces, _ := step(round)
	r.AgainTurns, r.AgainSpaces = &turns, &spaces
}

// remark adds what the indexing leaves open.
func (r *Order) remark(to *sheet.Remarks) {
	switch {
	case len(r.Flats) == 0:
	case r.Exact != nil && !*r.Exact:
		to.Warn("no-exact-circle", "no circle here divides ", r.sides, " exactly: a flat is off by up to ",
			say.Num(r.worst().Deg(), 4), " deg, as the table says of each")
	case r.byHand():
		to.NotChecked("dividing_head", "no dividing head, rotary table or collet block here that divides this work by ",
			r.sides, ": the angles stand without turns")
	}
}

// worst returns the most that a flat is off.
func (r *Order) worst() (most units.Angle) {
	for _, f := range r.Flats {
		if off := math.Abs(f.Off.Deg()); off > most.Deg() {
			most = units.Degrees(off)
		}
	}
	return most
}

// explain adds to the sheet of the result that the order is part of how the flats
// are cut, step by step, and the table of them; its other facts stand before. Touch
// says where the cutter is set.
func (r *Order) explain(s *sheet.Sheet, touch ...any) {
	s.Skip(&r.Circle, &r.Block)
	s.Figures()
	if len(r.Flats) == 0 {
		return
	}
	if r.byHand() {
		s.Do("File or grind the flats in the order of the table, every second one first", r.inTwo(),
			". Measure each over what stands opposite: the table has what it must read.")
		r.showIndex(s)
		r.table(s)
		return
	}
	r.showIndex(s)
	touch = append(touch, ", go down ", r.Flats[0].Depth.Down(), r.leaving())
	if most := oneCut(units.MM); most.Less(r.Flats[0].Depth) {
		most := say.Either(say.Of(most).In(units.MM), say.Of(oneCut(units.Inch)).In(units.Inch))
		s.Do(append(touch, ", in several cuts of at most ", most,
			": lock the slide at each, and cut all the flats there.")...)
	} else {
		s.Do(append(touch, ", and lock the slide there for all the flats.")...)
	}
	s.Do("Cut the flats in the order of the table, every second one first", r.oneWay(),
		". Measure each over what stands opposite: the table has what it must read.")
	if r.AgainTurns != nil {
		s.Do("Crank on ", r.onceMore(),
			": the place of flat 1 comes up again, and the cutter must only just touch there.")
	} else {
		s.Do("Bring the place of flat 1 up once more: the cutter must only just touch there.")
	}
	if r.leave.Sign() > 0 {
		s.Do("Grind ", r.leave, " off each flat in the same order, to what it must read when it is finished.")
	}
	r.table(s)
}

// oneCut is how deep a cutter goes in one cut, on a page in a unit.
func oneCut(u units.Unit) units.Length { return practice.MillDepth.Of(practice.PassDepth.Length(u)) }

// byHand reports whether nothing here indexes the flats.
func (r *Order) byHand() bool { return r.Circle == nil && r.on.Rotary == nil && r.Block == nil }

// leaving says what stays on a flat.
func (r *Order) leaving() say.Text {
	if r.leave.Sign() == 0 {
		return ""
	}
	return say.Of(", which leaves ", r.leave, " on each flat")
}

// inTwo says that flats which are roughed and finished by hand are all roughed first.
func (r *Order) inTwo() say.Text {
	if r.leave.Sign() == 0 {
		return ""
	}
	return say.Of(": rough them all, with ", r.leave, " left on each, then finish them")
}

// oneWay says how slack is kept out of the indexing.
func (r *Order) oneWay() say.Text {
	switch {
	case r.Circle != nil:
		return ", the crank always turned the same way (past the hole: back half a turn and up again)"
	case r.on.Rotary != nil:
		return ", the handwheel always turned the same way and the table locked for each cut"
	}
	return ""
}

// showIndex adds what the flats are indexed with.
func (r *Order) showIndex(s *sheet.Sheet) {
	if r.Circle != nil && *r.SectorHoles > 1 {
		s.Show(&r.Circle, "plate ", *r.Plate, ", ", *r.SectorHoles, " holes in the sector; a ", r.on.Head.Ratio, ":1 crank")
	}
	if r.Block != nil {
		s.Show(&r.Block, "sides", r.on.takes())
		if r.Circle == nil && r.on.Rotary == nil {
			s.Note("Faces on: so many of the collet block's faces from the one before.")
		}
		return
	}
	for _, block := range r.on.Blocks {
		if 2*block == r.sides && r.byHand() {
			s.Note("On a mill a collet block of ", block, " sides brings up every second flat; ",
				"for those between, turn the work in it by ", say.Num(180/float64(block), 3), " deg.")
		}
	}
}

// table adds the flats. People see one way to index: the head's, else the table's,
// else the block's.
func (r *Order) table(s *sheet.Sheet) {
	title := say.Text("Flats, in the order they are cut")
	if len(r.ends) > 1 {
		title += ", with what each reads at the large and the small end"
	}
	t := s.Table(r.Flats, title).WithoutEmpty()
	hide := []string{"depth_mm", "rotary_turns", "rotary_handwheel_dms", "block_faces"}
	switch {
	case r.Circle != nil:
		if *r.Exact {
			hide = append(hide, "error_deg")
		}
		s.Note("Turns and spaces are from the flat before, those of the first from flat 1's own place.")
	case r.on.Rotary != nil:
		hide = hide[:1]
		hide = append(hide, "block_faces")
		s.Note("The handwheel's turns, and the angle beyond them, are from flat 1's own place; where they fall, wind on ",
			"through 0, not back.")
	default:
		hide = hide[:1]
	}
	if r.ends[0].bare.square { // a square bar: each flat goes in as deep as its place asks
		hide = hide[1:]
	}
	for i, c := range t.Cols {
		t.Cols[i].Unseen = c.Unseen || slices.Contains(hide, c.Key)
	}
	r.heads(t)
}

// heads names the columns of readings.
func (r *Order) heads(t *sheet.Table) {
	switch {
	case len(r.ends) > 1 && r.leave.Sign() > 0:
		t.Head("reading_left_mm", "roughed, large").Head("reading_left_small_mm", "small")
		t.Head("reading_mm", "finished, large").Head("reading_small_mm", "small")
	case len(r.ends) > 1:
		t.Head("reading_mm", "large end").Head("reading_small_mm", "small end")
	case r.leave.Sign() == 0:
		t.Head("reading_mm", "reads")
	}
}

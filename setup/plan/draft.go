package plan

import (
	"fmt"
	"slices"
	"strings"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/cautions"
	"setover/setup/book/drills"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/predict"
)

// draft is one way to make the part: its operations before they are in order.
type draft struct {
	usual     usual
	in        Input
	done      map[string]bool // operations done before this plan, by name
	part      *part.Part
	round     *part.Round
	block     *part.Block
	material  *materials.Material
	shop      *shop.Shop
	shape     *shape
	way       way
	blank     Blank
	bar       units.Length // its diameter
	ops       []*op.Op
	chuckings []chucking
	walls     []wall // the thinnest of each cross hole, in the order of the file
	stub      bool
	kit       []Kit

	predicted []Predicted
	working   []sheet.Step
	sheet.Remarks
	fails problem.List
}

// chucking is one grip in the lathe. from is how much of the part is cut in it,
// and standoff how far what is cut stays clear of the jaws.
type chucking struct {
	setup     op.Setup
	held      op.Span
	stretches []stretch // from the end that stands out inward
	from      units.Length
	standoff  units.Length
	out       part.End
}

// reach returns how far z, a place on the part, is from the face of the jaws.
func (c chucking) reach(z units.Length) units.Length {
	jaws := c.held.To
	if c.out == part.Left {
		jaws = c.held.From
	}
	return z.Minus(jaws).Abs().Plus(c.standoff)
}

// newDraft makes the operations of one way to hold the part.
func newDraft(in Input, s *shape, w way) (*draft, error) {
	d := &draft{}
	return d, d.fill(in, s, w)
}

// fill makes the operations.
func (d *draft) fill(in Input, s *shape, w way) error {
	d.usual, d.in, d.part, d.round, d.material, d.shop, d.shape, d.way = s.usual, in, in.Part, in.Part.Round, s.material, in.Shop, s, w
	d.chooseBar()
	near, far := s.covered(w)
	first := d.chuckingOf(near, w.first, op.StockSurface, d.farSpan())
	chuckings := []chucking{first}
	if w.grip >= 0 {
		g := s.stretches[w.grip]
		chuckings = append(chuckings, d.chuckingOf(far, other(w.first), g.name(), g.Span))
	}
	d.chuckings = chuckings
	d.chooseLength(chuckings)
	d.saw()
	for i, c := range chuckings {
		d.lathe(c, i == 0)
	}
	if err := d.axial(chuckings); err != nil {
		return err
	}
	if err := d.crossWalls(); err != nil {
		return err
	}
	if err := d.crossHoles(); err != nil {
		return err
	}
	if err := d.slots(); err != nil {
		return err
	}
	if err := d.facets(chuckings); err != nil {
		return err
	}
	d.last(chuckings)
	d.predictLength()
	return nil
}

// chooseBar takes the bar on hand, or the smallest that serves.
func (d *draft) chooseBar() {
	need := d.shape.largest()
	why := fmt.Sprintf("the largest turned diameter is %s", sheet.Inline(need, units.Up))
	for _, f := range d.round.Facets {
		why += fmt.Sprintf("; %d sides need a round through their corners", f.Sides)
	}
	if d.round.Stock != nil {
		d.bar = *d.round.Stock
		d.blank = Blank{Diameter: &d.bar, Because: "the bar on hand (stock); " + why}
		if d.bar.Less(need) {
			d.fails.Add(problem.Problem{
				Code: problem.NotReachable, At: d.round.At, Found: "stock " + size(d.bar),
				Want: fmt.Sprintf("too small for the corners: the least bar is %s", sheet.Inline(need, units.Up)),
			})
		}
		return
	}
	d.bar = need.Plus(d.usual.skim).RoundTo(d.usual.barStep, units.Up)
	d.blank = Blank{Diameter: &d.bar, Because: fmt.Sprintf("%s, and %s to clean up, to the next %s", why, size(d.usual.skim), size(d.usual.barStep))}
}

// farSpan is what the first chucking holds: the bar over the stretches that are
// cut later, or beyond the part where it is parted off.
func (d *draft) farSpan() op.Span {
	_, far := d.shape.covered(d.way)
	if len(far) == 0 {
		l := d.round.Length()
		if d.way.first == part.Left {
			return op.Span{From: l, To: l.Plus(d.bar)}
		}
		return op.Span{From: d.bar.Neg(), To: units.Length{}}
	}
	return op.Span{From: far[0].From, To: far[len(far)-1].To}
}

// chuckingOf returns the grip that cuts a side of the part. The stretches are
// turned round so that they run from the end that stands out.
func (d *draft) chuckingOf(side []stretch, out part.End, on string, held op.Span) chucking {
	c := chucking{setup: op.Setup{Machine: op.Lathe, Hold: op.Chuck, On: on, Out: out}, held: held, out: out}
	for _, x := range side {
		c.from = c.from.Plus(x.Length())
	}
	c.stretches = slices.Clone(side)
	if out == part.Right {
		slices.Reverse(c.stretches)
	}
	switch {
	case on != op.StockSurface: // the band is held by no more than it needs
		c.standoff = held.Length().Minus(units.Max(d.usual.leastGrip, d.gripDia(on)))
	case d.way.grip < 0: // room to part it off
		c.standoff = d.parting().Plus(d.usual.clear)
	default:
		c.standoff = d.usual.clear
	}
	if d.way.grip < 0 && d.shape.slenderNeck(out) || len(side) > 0 && c.from.MM() > practice.Overhang.Number(d.material)*d.gripDia(on).MM() {
		c.setup.Support = "centre"
	}
	return c
}

// gripDia returns the diameter a set-up holds.
func (d *draft) gripDia(on string) units.Length {
	if on == op.StockSurface {
		return d.bar
	}
	return d.shape.stretches[d.way.grip].A
}

// chooseLength adds up the bar: the part, what is faced off, what is held and
// what the saw or the parting blade takes.
func (d *draft) chooseLength(list []chucking) {
	l := d.round.Length().Plus(d.usual.sawnFace)
	why := []string{size(d.round.Length()) + " of part", size(d.usual.sawnFace) + " faced off a sawn end"}
	add := func(x units.Length, what string) {
		l = l.Plus(x)
		why = append(why, size(x)+" "+what)
	}
	grip := units.FromFloat(1.5*d.bar.MM()).RoundTo(units.Millimetres(1), units.Up)
	if d.way.grip < 0 {
		add(grip, "held in the chuck (1.5 diameters)")
		add(d.parting(), "for parting off")
		add(d.usual.clear, "clear of the jaws")
	} else {
		add(d.usual.sawnFace, "faced off the other end")
		var rest units.Length // of the part, held while the first side is cut
		if _, far := d.shape.covered(d.way); len(far) > 0 {
			rest = d.farSpan().Length()
		}
		if rest.Less(grip) {
			add(grip.Minus(rest), "more to hold it by at first, cut off when it is turned end for end")
		}
	}
	for _, c := range list {
		if c.setup.Support != "" && d.shape.endDia(c.out).Less(d.usual.thinEnd) {
			d.stub = true
			add(d.usual.stubLength, fmt.Sprintf("of stub for the centre, since the %s end is thinner than %s", c.out, size(d.usual.thinEnd)))
		}
	}
	d.blank.Length = &l
	d.blank.Because += "; length: " + strings.Join(why, ", ")
	if q := d.part.Quantity; q > 1 {
		d.blank.Because += fmt.Sprintf("; for %d: %s of bar with %s for each saw cut", q, size(l.Plus(d.usual.kerf).Times(int64(q))), size(d.usual.kerf))
	}
}

// parting returns what cutting the part off takes of the bar.
func (d *draft) parting() units.Length {
	if d.shop.PartingBlade != nil {
		return d.shop.PartingBlade.Plus(d.usual.partingExtra)
	}
	return d.usual.kerf.Plus(d.usual.partingExtra)
}

// inBlocks returns what the V-blocks hold while the bar is drilled across: the
// bar as bought over the stretches that are cut later, or all of it where it
// is parted off; where the whole outside is cut in the first grip, the cylinder
// it is held on next; on a shim the taper that is cut by then.
func (d *draft) inBlocks() (on string, held op.Span, dia units.Length) {
	_, far := d.shape.covered(d.way)
	switch {
	case d.way.shim:
		x, _ := d.shape.seat(d.way)
		return "taper " + x.Span.String(), x.Span, x.large()
	case d.way.grip < 0:
		return op.StockSurface, d.whole(), d.bar
	case len(far) == 0:
		g := d.shape.stretches[d.way.grip]
		return g.name(), g.Span, g.A
	}
	return op.StockSurface, d.farSpan(), d.bar
}

func (d *draft) add(o *op.Op) *op.Op {
	d.ops = append(d.ops, o)
	return o
}

// whole is the span of the part.
func (d *draft) whole() op.Span { return op.Span{To: d.round.Length()} }

func (d *draft) saw() {
	o := d.add(&op.Op{
		ID: "saw", Kind: op.Saw, Name: "saw the bar to length", Tool: "saw", Feature: "blank", Cuts: d.whole(),
		Setup: op.Setup{Machine: op.BandSaw, Hold: op.Vice, On: op.StockSurface},
	})
	o.Set("length", size(*d.blank.Length), "at the least")
}

// needs notes a tool of the kit, once.
func (d *draft) needs(name, needed string, have bool) {
	k := Kit{name, needed, have}
	if !slices.Contains(d.kit, k) {
		d.kit = append(d.kit, k)
	}
}

// cut asks how a cut is run and puts the answer on the operation's card. passes
// is how often it is taken.
func (d *draft) cut(o *op.Op, in feeds.Input, passes int) (feeds.Result, error) {
	in.Material = d.material.Name
	in.Tool = feeds.HSS
	if d.material.Has(materials.HSSRefused) {
		in.Tool = feeds.Carbide
	}
	in.Drive = d.shop.Drive(o.Setup.Machine)
	r, err := feeds.Choose(in)
	if err != nil {
		return r, err
	}
	if r.RPM != nil {
		o.Set("speed", r.RPM.String(), fmt.Sprintf("ideal %.0f rpm at %s", r.IdealRPM.RPM(), r.CuttingSpeed))
	} else {
		o.Set("speed", fmt.Sprintf("%.0f rpm", r.IdealRPM.RPM()), "ideal; the machine's speeds are not known")
	}
	if r.Feed != nil {
		o.Set("feed", size(units.FromFloat(r.Feed.MM()))+"/rev", "")
	}
	if r.Time != nil {
		o.Minutes += float64(*r.Time) * float64(passes)
	}
	for _, w := range r.Warnings {
		if w.Code == "deep-hole" { // a setting of the drill's, not a surprise
			o.Set("deep", w.Text, "")
			continue
		}
		o.Warnings = append(o.Warnings, w)
	}
	o.Cautions = append(o.Cautions, r.Cautions...)
	for _, f := range r.Fails() {
		o.Checks = append(o.Checks, op.Check{Code: string(f.Code), Value: f.Found, Limit: f.Want, Remedy: "a machine that can"})
	}
	return r, nil
}

// onDial puts a position on the operation's card: from where it is measured,
// and the nearest line of the dial. It returns what the dial was set to.
func (d *draft) onDial(o *op.Op, what, slide string, dial *shop.Dial, exact units.Length) units.Length {
	line := op.Dial{What: what, Slide: slide, Exact: exact}
	set := exact
	if dial != nil {
		s, t := dial.Set(exact)
		set = s.Set
		line.Set, line.Turns, line.Divisions, line.Mark = &s.Set, &t.Turns, &t.Divisions, s.Mark
	}
	o.Dials = append(o.Dials, line)
	return set
}

// predict notes a size of the part as it will come out.
func (d *draft) predict(feature string, drawn, out units.Length, because string) {
	d.predicted = append(d.predicted, Predicted{feature, drawn, out, out.Minus(drawn), because})
}

// predictLength notes the part's length, which is faced to a measured size.
func (d *draft) predictLength() {
	l := d.round.Length()
	d.predict("length", l, l, "faced to size by measuring")
}

// axial makes the operations on the bar's axis: bores and the threads in them.
func (d *draft) axial(list []chucking) error {
	for i, b := range d.round.Bores {
		c := list[0]
		if len(list) > 1 && b.From != c.out {
			c = list[1]
		}
		setup := c.setup
		setup.Support = ""
		feature := fmt.Sprintf("bore %d", i+1)
		depth := b.Depth
		if b.Through {
			depth = d.round.Length()
		}
		span := d.shape.fromEnd(b.From, depth)
		base := op.Op{Setup: setup, Held: c.held, Feature: feature, Cuts: span, Axial: true, Dia: b.Dia}
		if err := d.bore(base, b, depth); err != nil {
			return err
		}
		for _, t := range d.shape.threads {
			if t.Inside && t.From == b.From {
				if err := d.tap(base, t, b); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// bore spots, drills and, where no drill has the size, bores an axial hole.
func (d *draft) bore(base op.Op, b part.Bore, depth units.Length) error {
	id := strings.ReplaceAll(base.Feature, " ", "-")
	spot := base
	spot.ID, spot.Kind, spot.Name, spot.Tool = id+"-spot", op.Spot, fmt.Sprintf("spot for the %s bore", size(b.Dia)), d.centreDrill(b.Dia)
	o := d.add(&spot)
	if _, err := d.cut(o, feeds.Input{Operation: feeds.Drill, Diameter: units.Min(b.Dia, units.MustLength("3.15mm"))}, 1); err != nil {
		return err
	}
	drill := base
	drill.ID, drill.Kind = id+"-drill", op.Drill
	twist, exact := d.drill(b.Dia)
	drill.Name, drill.Tool = fmt.Sprintf("drill %s", twist.Name), twist.Name+" drill"
	o = d.add(&drill)
	total := holes.DepthOf(twist.Dia, practice.PointAngle.Angle(), depth, b.Through)
	o.Set("depth", sheet.Inline(total.Total, units.Down), fmt.Sprintf("to the point, %s of which is the point", sheet.Inline(total.Point, units.Nearest)))
	if _, err := d.cut(o, feeds.Input{Operation: feeds.Drill, Diameter: twist.Dia, Length: &total.Total}, 1); err != nil {
		return err
	}
	d.boreWall(o, b)
	out := predict.Drilled(twist.Dia)
	why := "drilled " + twist.Name + "; a drill cuts a little over its size"
	if !exact {
		bar := base
		bar.ID, bar.Kind, bar.Name, bar.Tool = id+"-bore", op.Bore, "bore to "+size(b.Dia), "boring bar"
		o = d.add(&bar)
		if _, err := d.cut(o, feeds.Input{Operation: feeds.Bore, Diameter: b.Dia, Length: &depth, Bars: d.shop.BoringBars}, 2); err != nil {
			return err
		}
		travel := b.Dia.Minus(out).Half()
		set := d.onDial(o, fmt.Sprintf("out to %s from the drilled hole", size(b.Dia)), "cross slide", d.shop.Lathe.CrossSlide, travel)
		out, why = out.Plus(set.Times(2)), "bored by the cross slide's dial"
		o.Set("size", sheet.Inline(b.Dia, units.Down), "never larger: measure before the last cut")
	}
	d.predict(fmt.Sprintf("bore from the %s, %s", b.From, size(b.Dia)), b.Dia, out, why)
	return nil
}

// drill returns the drill for a hole: from the drawer, or of every size made
// where the shop has no list. exact is false when it is under size and the
// hole must be bored out.
func (d *draft) drill(dia units.Length) (drills.Drill, bool) {
	from := d.shop.Drills
	if len(from) == 0 {
		from = drills.All()
	}
	best, _, _ := from.Nearest(dia, units.Nearest)
	if off := best.Dia.Minus(dia).Abs(); off.Cmp(units.MustLength("0.05mm")) <= 0 {
		d.needs("drill "+best.Name, "for a hole of "+size(dia), len(d.shop.Drills) > 0)
		return best, true
	}
	under, _, ok := from.Nearest(dia, units.Down)
	if !ok {
		under = best
	}
	d.needs("drill "+under.Name, "before boring to "+size(dia), len(d.shop.Drills) > 0)
	return under, false
}

// centreDrill returns the centre drill for a bar or hole of the diameter:
// pilot by size after ISO 866 form A (common practice, no source).
func (d *draft) centreDrill(dia units.Length) string {
	pilot := "3.15mm"
	for _, row := range [][2]string{{"10mm", "1mm"}, {"18mm", "1.6mm"}, {"30mm", "2.5mm"}} {
		if dia.Cmp(units.MustLength(row[0])) <= 0 {
			pilot = row[1]
			break
		}
	}
	l := units.MustLength(pilot)
	have := slices.ContainsFunc(d.shop.CentreDrills, func(c units.Length) bool { return c.Equal(l) })
	d.needs("centre drill "+l.String(), "to start a hole or a centre", have)
	return "centre drill " + l.String()
}

// overhang checks how far the work stands out of a grip.
func (d *draft) overhang(o *op.Op, c chucking) {
	dia := d.gripDia(c.setup.On)
	limit := practice.Overhang.Number(d.material)
	ratio := c.from.Over(dia)
	check := op.Check{
		Code: string(problem.CannotBeHeld), OK: true,
		Value: fmt.Sprintf("%.1f diameters out of the chuck", ratio), Limit: fmt.Sprintf("%.1f without a centre", limit),
	}
	if c.setup.Support != "" {
		check.Limit = "on a centre"
	} else if ratio > limit {
		check.OK, check.Remedy = false, "hold it on a centre"
	}
	o.Checks = append(o.Checks, check)
	if c.setup.Support != "" {
		o.Cautions = append(o.Cautions, cautions.Overhang)
	}
}

package plan

import (
	"slices"
	"strings"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/certify"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/tapers/fouling"
)

// What could be bought, each under the key that the shop's file has for it.

// dia returns the diameter of the bore or the cross hole that a refusal is about, and
// the limits that it has.
func (c *cause) dia() (dia units.Length, within limits.Dimension) {
	if b := c.bore(); b != nil {
		return b.Dia, c.limits.Bore(*b)
	}
	if h := c.hole(); h != nil {
		return h.Dia, c.limits.Hole(*h)
	}
	if h := c.blockHole(); h != nil {
		return h.Dia, c.limits.BlockHole(h.n)
	}
	return dia, within
}

// reamer is one of its size, where its lead has room.
func reamer(c *cause) {
	if b := c.bore(); b != nil && !c.reamable(*b) {
		return
	}
	if h := c.hole(); h != nil && !c.reamableAcross(*h) {
		return
	}
	if h := c.blockHole(); h != nil && !c.reamableInto(*h) {
		return
	}
	if dia, within := c.dia(); within.Known() && !slices.ContainsFunc(c.Shop.Reamers, dia.Equal) {
		c.buys(func(s *shop.Shop) { s.Reamers = append(s.Reamers, dia) }, "a reamer of ", dia, " (reamers)")
	}
}

// threadTool is the tap or the die that is not on hand.
func threadTool(c *cause) {
	if c.of == nil {
		return
	}
	tool := c.of.Tool.Name.In(units.MM)
	if spec, ok := strings.CutPrefix(tool, "tap "); ok {
		c.buys(func(s *shop.Shop) { s.Taps = append(s.Taps, spec) }, "a ", tool, " (taps)")
	}
	if spec, ok := strings.CutPrefix(tool, "die "); ok {
		c.buys(func(s *shop.Shop) { s.Dies = append(s.Dies, spec) }, "a ", tool, " (dies)")
	}
}

// boringBar is one that enters the hole that is there and reaches to the bottom.
func boringBar(c *cause) {
	b := c.bore()
	if b == nil {
		return
	}
	hole := b.Dia.Half()
	if wide, _, _ := c.figures(); c.ofKind(op.Bore) && wide > 0 {
		hole = units.FromFloat(wide)
	}
	thick, deep := c.down(practice.BoringBarFill.Of(hole), halves), c.up(b.Span.Length(), whole)
	if thick.Sign() > 0 {
		c.buys(func(s *shop.Shop) {
			s.BoringBars = append(s.BoringBars, shop.BoringBar{Diameter: thick, Reach: deep})
		}, "a boring bar of ", thick, " that reaches ", deep, " (boring_bars)")
	}
}

// twistDrill is one whose hole keeps the limits, and one that makes room for the thinnest
// boring bar that reaches.
func twistDrill(c *cause) {
	dia, within := c.dia()
	if !within.Known() {
		return
	}
	buy := func(d drills.Drill, what string) {
		if !slices.ContainsFunc(c.Shop.Drills, func(x drills.Drill) bool { return x.Dia.Equal(d.Dia) }) {
			c.buys(func(s *shop.Shop) {
				s.Drills = append(s.Drills, d)
				slices.SortStableFunc(s.Drills, func(a, b drills.Drill) int { return a.Dia.Cmp(b.Dia) })
			}, "a drill of ", d.Name, what, " (drills)")
		}
	}
	sold := slices.DeleteFunc(append(slices.Clone(drills.All()), drills.Of(c.down(dia, halves)), drills.Of(dia)),
		func(d drills.Drill) bool { return !drilledKeeps(within, d.Dia) })
	if len(sold) > 0 {
		buy(drills.Nearest(sold, dia), "")
	}
	if b := c.bore(); b != nil {
		for _, x := range c.Shop.BoringBars {
			first := c.up(units.FromFloat(x.Diameter.MM()/practice.BoringBarFill.Number()), halves)
			if b.Span.Length().Cmp(x.Reach) <= 0 && first.Less(dia) {
				buy(drills.Of(first), " first")
				break
			}
		}
	}
}

// turningTool is a tool of a hand that is not there, as it is usually ground.
func turningTool(c *cause) {
	tools := fouling.WithUsualTools(*c.lathe).Tools
	for _, hand := range []fouling.Hand{fouling.Right, fouling.Left} {
		if fouling.Owns(tools, hand) {
			continue
		}
		tool := shop.Tool{Hand: string(hand), Trail: practice.UsualTrail.Angle()}
		c.fits(func(l *shop.Lathe) { l.Tools = append(slices.Clip(tools), tool) },
			"a ", hand, "-hand tool whose edge trails by ", tool.Trail, " (lathe: tools)")
	}
}

// collet is a set of collets, or one more of the list, for what is held; where nothing is,
// for the longest cylinder.
func collet(c *cause) {
	if c.shape == nil {
		return
	}
	dia, long := c.held(), units.Length{}
	for _, x := range c.shape.Stretches {
		if c.Code == problem.CannotBeHeld && plain(x) && long.Less(x.Length()) {
			dia, long = x.Left.Turned, x.Length()
		}
	}
	name, known := certify.ColletSet(op.LenOf(dia))
	switch size := c.up(dia, halves); {
	case !known:
	case len(c.lathe.Collets) > 0:
		c.fits(func(l *shop.Lathe) { l.Collets = append(l.Collets, size) }, "a collet of ", size, " (lathe: collets)")
	case !strings.EqualFold(name, c.lathe.ColletName):
		c.fits(func(l *shop.Lathe) { l.ColletName = name }, "a set of ", name, " collets (lathe: collets)")
	}
}

// partingBlade is one that parts what is in the kerf.
func partingBlade(c *cause) {
	own := c.Shop.Parting
	if c.shape == nil || c.Code == problem.CannotBeHeld && own != nil {
		return
	}
	dia := c.up(c.bar, whole)
	reach := dia.Half()
	blade := c.up(units.FromFloat(reach.MM()*practice.PartingDepth.Number()), halves)
	if own != nil {
		blade = units.Max(blade, own.Blade)
	}
	in := cutting(feeds.PartOff, dia)
	in.Blade, in.Material, in.Tool, in.Drive = &blade, c.material.Name, feeds.HSS, c.Shop.Drive(shop.OnLathe)
	r, err := feeds.Choose(in)
	if err == nil && slices.ContainsFunc(r.Warnings, func(w sheet.Warning) bool { return w.Code == "motor" }) {
		return // the lathe does not drive it at a usual feed
	}
	c.buys(func(s *shop.Shop) { s.Parting = &shop.Parting{Blade: blade, Most: &dia, Reach: &reach} },
		"a parting blade ", blade, " wide that parts ", dia, " (lathe: parting)")
}

// steady is one that takes the whole part.
func steady(c *cause) {
	if c.shape == nil {
		return
	}
	takes := shop.Range{From: c.grain(whole).Times(3), To: c.up(c.bar, whole)}
	own, has := c.lathe.Steady, say.Text("")
	if own != nil {
		if own.From.Cmp(takes.From) <= 0 && takes.To.Cmp(own.To) <= 0 {
			return
		}
		has = say.Of(", where the one on hand takes ", own.From, " to ", own.To)
	}
	c.fits(func(l *shop.Lathe) { l.Steady = &takes },
		"a steady that takes ", takes.From, " to ", takes.To, has, " (lathe: steady)")
}

func deadCentre(c *cause) {
	axial := c.bore() != nil || c.thread() != nil
	if c.lathe.Tailstock == nil && (c.Code != problem.NotAvailable || axial) {
		c.fits(func(l *shop.Lathe) { l.Tailstock = &shop.Tailstock{} }, "a tailstock (lathe: tailstock)")
	}
}

func softJaws(c *cause) {
	if c.chucked() && !c.lathe.SoftJaws {
		c.fits(func(l *shop.Lathe) { l.SoftJaws = true }, "soft jaws (lathe: soft_jaws)")
	}
}

const threeJaws = 3

// chuck is a larger one, and where there is none one that holds the bar.
func chuck(c *cause) {
	own := c.lathe.Chuck
	switch {
	case c.shape == nil || own != nil && c.Code == problem.NotAvailable:
	case own == nil:
		body := practice.ChuckBody.Length(c.bar)
		c.fits(func(l *shop.Lathe) { l.Chuck = &shop.Chuck{Diameter: body, Jaws: threeJaws} },
			"a chuck of ", body, " (lathe: chuck)")
	default:
		body := practice.ChuckBody.Length(units.Max(c.held(), own.Diameter.Plus(c.grain(whole))))
		wider := body.Minus(own.Diameter)
		c.fits(func(l *shop.Lathe) {
			l.Chuck.Diameter, l.Chuck.Through = body, nil
			if l.Chuck.JawCircle != nil {
				*l.Chuck.JawCircle = l.Chuck.JawCircle.Plus(wider)
			}
			if l.Chuck.Range != nil {
				l.Chuck.Range.To = l.Chuck.Range.To.Plus(wider)
			}
		}, "a chuck of ", body, " (lathe: chuck)")
	}
}

// fourJaw is one as large as the chuck.
func fourJaw(c *cause) {
	own := c.lathe.Chuck
	if c.shape == nil || c.lathe.FourJaw != nil || own == nil {
		return
	}
	jaws := shop.Chuck{Diameter: own.Diameter, Jaws: fourSides, JawLength: own.JawLength}
	c.fits(func(l *shop.Lathe) { l.FourJaw = &jaws }, "a four-jaw chuck of ", jaws.Diameter, " (lathe: four_jaw)")
}

// through is a chuck and a spindle that the bar goes through.
func through(c *cause) {
	is, _, _ := c.figures()
	if c.lathe.Chuck == nil || c.lacks().Sign() >= 0 {
		return
	}
	wide := c.up(units.FromFloat(is), whole)
	c.fits(func(l *shop.Lathe) { l.Chuck.Through, l.SpindleBore = &wide, &wide },
		"a lathe that ", wide, " goes through (lathe: spindle_bore, chuck: through)")
}

// vBlocks are a pair that takes the bar, and higher than those on hand where the work
// comes down to the table.
func vBlocks(c *cause) {
	wide, right := c.up(c.held().Times(3).Half(), whole), units.Degrees(90)
	bought := &shop.VBlocks{Angle: right, Opening: &wide, Pair: true}
	as := say.Of("a pair of V-blocks of ", right, " that open ", wide)
	own, low := c.Shop.VBlocks, c.lacks().Neg()
	if own != nil && own.Apex != nil && low.Sign() > 0 {
		high := c.up(own.Apex.Plus(low), whole)
		bought.Apex, as = &high, as+say.Of(", the apex of the V ", high, " above their base")
	}
	c.buys(func(s *shop.Shop) { s.VBlocks = bought }, as, " (v_blocks)")
}

// sineBar is a bar or the blocks under it, whichever is not there.
func sineBar(c *cause) {
	bar, blocks := c.Shop.SineBar == nil, c.Shop.GaugeBlocks == nil
	long, set := units.Millimetres(100), shop.GaugeBlocks{Set: "metric-47"}
	switch {
	case !c.ofKind(op.Taper):
	case bar && blocks:
		c.buys(func(s *shop.Shop) { s.SineBar, s.GaugeBlocks = &long, &set },
			"a sine bar of ", long, " on gauge blocks (sine_bar, gauge_blocks)")
	case bar:
		c.buys(func(s *shop.Shop) { s.SineBar = &long }, "a sine bar of ", long, " (sine_bar)")
	case blocks:
		c.buys(func(s *shop.Shop) { s.GaugeBlocks = &set }, "a set of gauge blocks (gauge_blocks)")
	}
}

// finerDial is a cross slide whose dial has the usual divisions, where it has fewer.
func finerDial(c *cause) {
	own, usual := c.lathe.CrossSlide, int(practice.DialDivisions.Number())
	if own != nil && own.Divisions < usual && c.of != nil && c.of.Setup.Machine == op.Lathe {
		c.fits(func(l *shop.Lathe) { l.CrossSlide.Divisions = usual },
			"a dial of ", usual, " divisions on the cross slide (lathe: cross_slide: divisions)")
	}
}

// largerLathe is one whose length and swing take the work.
func largerLathe(c *cause) {
	is, want, ok := c.figures()
	size := c.up(units.FromFloat(is), whole)
	wants := func(key *units.Length) bool { return key != nil && units.FromFloat(want).Equal(*key) }
	switch {
	case !ok || is <= want:
	case wants(c.lathe.SwingOverSlide):
		c.fits(func(l *shop.Lathe) { l.SwingOverSlide = &size },
			"a lathe that swings ", size, " over the slide (lathe: swing_over_slide)")
	case wants(c.lathe.BetweenCentres):
		c.fits(func(l *shop.Lathe) { l.BetweenCentres = &size },
			"a lathe of ", size, " between centres (lathe: between_centres)")
	}
}

// wholeLathe is one with a chuck that holds the bar and a tailstock, of which no more is
// known.
func wholeLathe(c *cause) {
	if c.Shop.Lathe == nil && c.shape != nil {
		body := practice.ChuckBody.Length(c.bar)
		c.buys(func(s *shop.Shop) {
			s.Lathe = &shop.Lathe{Chuck: &shop.Chuck{Diameter: body, Jaws: threeJaws}, Tailstock: &shop.Tailstock{}}
		}, "a lathe with a chuck of ", body, " and a tailstock (lathe)")
	}
}

func drillPress(c *cause) {
	if c.Shop.DrillPress == nil && c.Shop.Mill == nil && c.hole() != nil {
		c.buys(func(s *shop.Shop) { s.DrillPress = &shop.DrillPress{} }, "a drill press (drill_press)")
	}
}

func mill(c *cause) {
	_, slot := c.numbered("slot")
	if c.Shop.Mill == nil && (c.hole() != nil || c.flats() != nil || slot || c.block != nil) {
		c.buys(func(s *shop.Shop) { s.Mill = &shop.Mill{} }, "a mill (mill)")
	}
}

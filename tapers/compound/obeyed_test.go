package compound

// A lathe that does what the result says, slide by slide, on metal that is kept in
// slices: nothing is cut but by a feed or by going deeper, and what comes out is the
// taper that was drawn, to what the lines of the dials leave.

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/fouling"
)

const slice = 0.02 // mm along the axis

// lathe is the work from z 0, the taper's headstock end, to its tailstock end and
// as much before it, and the tip. Radii are of the outside, or of the hole.
type lathe struct {
	t      *testing.T
	name   string
	bore   bool
	free   float64 // nothing stands beyond this z
	radii  []float64
	z, y   float64
	touch  float64 // where the tip touches the stock
	bar    float64 // its back lies so much behind the tip; 0 for none
	behind float64 // its near side lies so much behind the tip; 0 where that is as near as the tip
	most   float64 // that a cut may be deep; 0 for any
	before int     // slices before z 0
}

// to moves the tip straight to a place; cuts says that it may take metal.
func (l *lathe) to(z, y float64, cuts bool, what string) {
	const fine = 1e-6
	steps := int(math.Ceil(math.Abs(z-l.z)/slice*4)) + 1
	for i := range steps + 1 {
		f := float64(i) / float64(steps)
		pz, py := l.z+(z-l.z)*f, l.y+(y-l.y)*f
		n := int(math.Floor(pz/slice)) + l.before
		if n < 0 || n >= len(l.radii) || pz > l.free {
			continue
		}
		// The bar's back clears the far wall from the tip to the mouth.
		if l.bar > 0 && i%8 == 0 {
			for m := n; m < len(l.radii) && float64(m-l.before)*slice < l.free; m += 20 {
				if back := l.bar - py; back > l.radii[m]-0.05 {
					l.t.Fatalf("%s: %s at z %v, tip at %v: the bar's back is at %v in a hole of %v",
						l.name, what, pz, py, back, l.radii[m])
				}
				if near := py - l.behind; l.behind > 0 && near > l.radii[m] {
					l.t.Fatalf("%s: %s at z %v, tip at %v: the bar's side is at %v in a hole of %v",
						l.name, what, pz, py, near, l.radii[m])
				}
			}
		}
		// The slice is cut where the tip is in it: what a slope does within one slice
		// is looked at at its middle.
		deep := l.radii[n] - py
		if l.bore {
			deep = py - l.radii[n]
		}
		if deep <= fine {
			continue
		}
		if !cuts && deep > slice { // more than the side rises within a slice
			l.t.Fatalf("%s: %s takes %v off at z %v", l.name, what, deep, pz)
		}
		if cuts && l.most > 0 && deep > l.most {
			l.t.Fatalf("%s: %s takes %v at once at z %v", l.name, what, deep, pz)
		}
		if cuts {
			l.radii[n] = py
		}
	}
	l.z, l.y = z, y
}

// screw is a slide with its dial, counted the way that it feeds or goes deeper. Of what
// the dial turns back the slide loses the first bit, and as much of what it then turns on.
type screw struct{ dial, slide, lost float64 }

// turn turns the dial to a number; the slide stands behind it by nothing to lost.
func (s *screw) turn(dial float64) {
	s.dial = dial
	s.slide = min(max(s.slide, dial-s.lost), dial)
}

// tool is where the tip stands: of a compound that feeds along (z, y), a cross slide
// that goes deeper along y, and the place that both had at 0 without any slack.
type tool struct {
	compound, cross      screw
	feedZ, feedY, deeper float64
	z, y                 float64
}

func (l *lathe) stand(t *tool) (z, y float64) {
	return t.z + t.compound.slide*t.feedZ, t.y + t.compound.slide*t.feedY + t.cross.slide*t.deeper
}

// wind turns one dial to a number.
func (l *lathe) wind(t *tool, s *screw, dial float64, cuts bool, what string) {
	s.turn(dial)
	z, y := l.stand(t)
	l.to(z, y, cuts, what)
}

// enter brings the bar into the middle of the hole and then to the wall.
func (l *lathe) enter(y float64) {
	l.z, l.y = l.free+5, l.bar/2
	l.to(0, l.bar/2, false, "the bar going in")
	l.to(0, y, false, "the tip going to the wall")
}

// feeds is which way the compound feeds: its handle points along s clockwise from the tailstock.
func feeds(r *Result) (z, y float64) {
	s := r.SetHalfAngle.Rad()
	if r.Inputs.SmallEnd == tapers.AtTailstock {
		s = -s
	}
	if r.Reversed {
		s += math.Pi
	}
	if r.FeedWay == In {
		s += math.Pi
	}
	return math.Cos(s), math.Sin(s)
}

// obey cuts the taper as the result says, on slides of which each loses so much of its
// turns when it is turned the other way.
//
// Long: one step of the sheet after the other.
func obey(t *testing.T, name string, in Input, lostCompound, lostCross float64) {
	r, err := Set(in)
	if err != nil {
		t.Fatal(name, err)
	}
	length, tan := r.Length.MM(), math.Tan(r.SetHalfAngle.Rad())
	stock := in.Stock.MM() / 2
	// The side, drawn.
	side := func(z float64) float64 {
		if in.SmallEnd == tapers.AtTailstock {
			z = length - z
		}
		return r.Small.MM()/2 + z*(r.Large.MM()-r.Small.MM())/2/length
	}
	l := &lathe{t: t, touch: stock, name: name, bore: in.Internal, free: length, before: int(5 / slice)}
	for range l.before + int(math.Ceil(length/slice)) {
		l.radii = append(l.radii, stock)
	}
	feedZ, feedY := feeds(&r)
	toward := -1.0
	if r.FeedsToward == tapers.AtTailstock {
		toward = 1
	}
	if feedZ*toward <= 0 {
		t.Fatalf("%s: wound %s the tip goes %v along z, said to go toward the %s", name, r.FeedWay, feedZ, r.FeedsToward)
	}
	deeper := -1.0 // in y
	if in.Internal {
		deeper = 1
	}
	// Where it starts, and where the collar is 0: there the tip stands at the stock.
	begins, runIn := 0.0, 0.0
	if r.FeedsToward == tapers.AtHeadstock {
		begins = length
		if r.Overrun.MM() >= 3 {
			runIn = 2
		}
	}
	_, end := r.touched()
	touchZ, counts := length, 0.0
	if end == tapers.AtHeadstock {
		touchZ = 0
	}
	if end == r.FeedsToward && r.First != nil {
		touchZ, counts = begins, r.farther().MM()
	}
	if r.fromBottom() { // the passes begin and end there
		begins, runIn = 0, 0
	}
	// Where the tip stands at the beginning of the taper with the collar at 0.
	zero := stock - deeper*counts + (begins-touchZ)*feedY/feedZ
	tip := &tool{feedZ: feedZ, feedY: feedY, deeper: deeper, z: begins, y: zero + deeper*lostCross}
	c, x := &tip.compound, &tip.cross
	c.lost, x.lost = lostCompound, lostCross
	// The dial of the compound where a pass begins and where it has gone nothing yet.
	// It is wound back with the slide where it stands at first; the touch, or the slack
	// that is taken up there, makes the numbers.
	from, counted := -runIn, lostCompound
	c.turn(-runIn)
	switch begun := r.stepStart(); {
	case r.fromBottom():
		c.slide, c.dial = 0, lostCompound
	case strings.Contains(string(begun), "just moves"):
		c.turn(-runIn + lostCompound)
		from = c.dial
	case !strings.Contains(string(r.stepTouch()), "every pass ends there"): // back by so much from the touch
		from = lostCompound - runIn
		c.turn(lostCompound)
		c.turn(from)
	}
	back := func() {
		if strings.Contains(string(r.stepFeed()), "past 0 by its slack") {
			l.wind(tip, c, from-lostCompound, false, "the compound going back")
		}
		l.wind(tip, c, from, false, "the compound going back")
	}
	d := in.Lathe.CrossSlide
	half := d.Lead.MM() / 2
	reach := map[int]float64{} // how far the compound goes in a pass, by the table
	if in.Internal {
		l.behind = r.tipStands()
		l.bar = r.Bar.Diameter.MM() + l.behind
		room := 2*stock - r.Bar.Diameter.MM() - r.beyondBar().MM() - r.drop().MM()
		half = min(half, math.Floor(room/2/d.Division().MM())*d.Division().MM())
		for _, p := range r.Passes {
			reach[p.N] = 0
			if p.Slide != nil {
				reach[p.N] = p.Slide.MM()
			}
		}
	}
	lines := func(turns, divs *int64) float64 {
		return (float64(*turns) + float64(*divs)/float64(d.Divisions)) * d.Lead.MM()
	}
	bites := 1
	if r.Bites != nil {
		bites = *r.Bites
	}
	collar := 0.0 // the cross slide's dial where this bite's collar shows 0
	x.turn(-half - lostCross)
	if r.fromBottom() {
		_, y := l.stand(tip)
		l.enter(y)
	} else {
		l.z, l.y = l.stand(tip)
	}
	for bite := 1; bite <= bites; bite++ {
		last := lines(r.Passes[len(r.Passes)-1].Turns, r.Passes[len(r.Passes)-1].Divisions)
		if skipped := r.fromPass(bite); skipped > 1 { // the one before would have cut nothing here
			p := r.Passes[skipped-2]
			z, y := l.stand(tip)
			bar, deep := l.bar, collar+lines(p.Turns, p.Divisions)-lostCross-x.slide
			l.bar = 0
			const what = "a pass that is left out"
			l.to(z, y+deeper*deep, false, what)
			goes := counted + r.Bite.MM() - lostCompound - c.slide
			l.to(z+feedZ*goes, y+deeper*deep+feedY*goes, false, what)
			l.to(z, y+deeper*deep, false, what)
			l.to(z, y, false, what)
			l.bar = bar
		}
		for n := r.fromPass(bite); n <= len(r.Passes); n++ {
			p := r.Passes[n-1]
			fed := r.Bite.MM()
			switch far := reach[p.N]; {
			case r.fromBottom(): // out by the table, and what is slack
				l.wind(tip, c, -far, false, "the compound coming out")
				fed = 0
			case far > 0 && (p.InBite == nil || *p.InBite == bite):
				fed = far
			case p.InBite != nil && bite > *p.InBite:
				t.Fatalf("%s: pass %d ends in bite %d, and is cut in bite %d", name, p.N, *p.InBite, bite)
			}
			l.wind(tip, x, collar+lines(p.Turns, p.Divisions), true, "going deeper")
			l.wind(tip, c, counted+fed, true, "the feed")
			l.wind(tip, x, x.dial-half-lostCross, false, "the cross slide coming off")
			if !r.fromBottom() {
				back()
			}
		}
		if bite == bites {
			break
		}
		j := r.Joints[bite-1]
		cross := lines(j.CrossTurns, j.CrossDivs)
		cameOff := half + lostCross
		carriage := func(what string) {
			tip.z += toward * j.Carriage.MM()
			z, y := l.stand(tip)
			l.to(z, y, false, what)
		}
		if *r.First == CrossSlideFirst {
			l.wind(tip, x, x.dial-cross, false, "the cross slide, first")
			carriage("the carriage, then")
			x.turn(x.dial + cameOff)
		} else {
			carriage("the carriage, first")
			x.turn(x.dial + cameOff + cross)
		}
		collar = x.dial - last // it is set to what it read at the last pass
		x.turn(x.dial - 5)
		l.z, l.y = l.stand(tip)
	}
	left := 0.0
	if r.Left != nil {
		left = r.Left.Abs().MM() / 2
	}
	for _, j := range r.Joints {
		left = max(left, left+j.Step.Abs().MM()/2)
	}
	for n := l.before + 1; n < len(l.radii)-1; n++ {
		z := (float64(n-l.before) + 0.5) * slice
		off := l.radii[n] - side(z)
		if in.Internal {
			off = -off
		}
		under := slice*tan + 2e-4
		for _, j := range r.Joints {
			under = max(under, slice*tan+2e-4+j.Step.Abs().MM()/2)
		}
		if off < -under || off > left+slice*tan+2e-4 {
			t.Fatalf("%s: at z %v the radius is %v, drawn %v: off by %v, said to leave %v",
				name, z, l.radii[n], side(z), off, left)
		}
	}
}

// Every way to cut one taper in a bite and in several, both ends, outside and
// bore, either hand, the slide either way round.
func TestObeyed(t *testing.T) {
	mm := func(text string) *units.Length {
		l := units.MustLength(text)
		return &l
	}
	for _, travel := range []string{"30mm", "62mm", "62.5mm", "90mm"} {
		for _, internal := range []bool{false, true} {
			for _, end := range tapers.Ends {
				for _, hand := range fouling.Hands {
					for _, handle := range fouling.Handles {
						for _, d := range []*shop.Dial{
							{Lead: *mm("2mm"), Divisions: 100, OnDiameter: true},
							{Lead: *mm("0.1in"), Divisions: 100},
							{Lead: *mm("1mm"), Divisions: 60},
						} {
							large, small, l := mm("34.99mm"), mm("20mm"), mm("60mm")
							in := Input{
								Input: tapers.Input{Large: large, Small: small, Length: l}, SmallEnd: end, Internal: internal,
								Stock: mm("36.1mm"), Depth: mm("1.1mm"),
							}
							if internal {
								in.Stock = mm("18.3mm")
								in.Bars = []shop.BoringBar{
									{Diameter: *mm("4mm"), Reach: *mm("99mm")},
									{Diameter: *mm("8mm"), Reach: *mm("99mm")},
									{Diameter: *mm("14mm"), Reach: *mm("99mm")},
									{Diameter: *mm("17.5mm"), Reach: *mm("99mm")},
								}
							}
							in.ToolHand, in.Handle = hand, handle
							in.Lathe.CrossSlide = d
							in.Lathe.Compound = &shop.Compound{
								Scale:  shop.Scale{Zero: shop.Along, Step: tapers.HalfAngle(*large, *small, *l)},
								Travel: mm(travel),
							}
							if handle == fouling.Reversed { // a mark on 180 less the angle too
								in.Lathe.Compound.Scale.Step = units.Degrees(1e-5)
							}
							name := fmt.Sprint(
								travel, " bore ", internal, " small at ", end, " ", hand, " ", handle, " ", d.Divisions,
							)
							obey(t, name, in, 0, 0)
							obey(t, name+", with slack", in, 0.6, d.Lead.MM()/2)
						}
					}
				}
			}
		}
	}
}

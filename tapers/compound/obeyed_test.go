package compound

// A lathe that does what the result says, slide by slide, on metal that is kept in
// slices: nothing is cut but by a feed or by going deeper, and what comes out is the
// taper that was drawn, to what the lines of the dials leave.

import (
	"fmt"
	"math"
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
		if cuts {
			l.radii[n] = py
		}
	}
	l.z, l.y = z, y
}

// inside cuts a pass from inside: the compound out, the cross slide to its line, the
// compound in to 0, and the tip off the wall.
func (l *lathe) inside(n int, slideZ, slideY, y, half float64) {
	if n == 1 { // the bar goes in, in the middle of the hole
		l.z, l.y = l.free+5, l.bar/2
		l.to(0, l.bar/2, false, "the bar going in")
		l.to(0, l.touch-half, false, "the tip going to the wall")
	}
	l.to(-slideZ, l.y-slideY, false, "the compound coming out")
	l.to(-slideZ, y-slideY, true, "going deeper")
	l.to(0, y, true, "the feed")
	l.to(0, y-half, false, "the tip coming off")
}

// carriage is how far the carriage moves between bites.
func (r *Result) carriage() float64 {
	if r.CarriageSet == nil {
		return 0
	}
	return r.CarriageSet.MM()
}

// obey cuts the taper as the result says.
func obey(t *testing.T, name string, in Input) {
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
	// The compound: its handle points along s clockwise from the tailstock.
	s := r.SetHalfAngle.Rad()
	if in.SmallEnd == tapers.AtTailstock {
		s = -s
	}
	if r.Reversed {
		s += math.Pi
	}
	feedZ, feedY := math.Cos(s), math.Sin(s)
	if r.FeedWay == In {
		feedZ, feedY = -feedZ, -feedY
	}
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
	startZ := begins - toward*runIn
	if r.fromBottom() { // the passes begin and end there
		startZ, runIn = 0, 0
	}
	// y of the tip at the start of a bite when the collar counts c.
	zero := stock - deeper*counts + (startZ-touchZ)*feedY/feedZ
	d := in.Lathe.CrossSlide
	half := d.Lead.MM() / 2
	reach := map[int]float64{} // how far the compound goes in a pass, by the table
	if in.Internal {
		l.bar = r.Bar.Diameter.MM()
		half = min(half, math.Floor((2*stock-l.bar-r.drop().MM())/2/d.Division().MM())*d.Division().MM())
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
	collar := zero // y of the tip at the start of this bite with the collar at 0
	l.z, l.y = startZ, collar-deeper*half
	for bite := 1; bite <= bites; bite++ {
		last := lines(r.Passes[len(r.Passes)-1].Turns, r.Passes[len(r.Passes)-1].Divisions)
		if from := r.fromPass(bite); from > 1 { // the one before would have cut nothing here
			p := r.Passes[from-2]
			y := collar + deeper*lines(p.Turns, p.Divisions)
			back, bar := l.y, l.bar
			l.bar = 0
			l.to(startZ, y, false, "a pass that is left out")
			l.to(startZ+feedZ*(r.Bite.MM()+runIn), y+feedY*(r.Bite.MM()+runIn), false, "a pass that is left out")
			l.to(startZ, y, false, "a pass that is left out")
			l.to(startZ, back, false, "a pass that is left out")
			l.bar = bar
		}
		for n := r.fromPass(bite); n <= len(r.Passes); n++ {
			p := r.Passes[n-1]
			y := collar + deeper*lines(p.Turns, p.Divisions)
			fed := r.Bite.MM() + runIn
			if r.fromBottom() {
				l.inside(p.N, reach[p.N]*feedZ, reach[p.N]*feedY, y, half)
				continue
			}
			if far := reach[p.N]; far > 0 {
				fed = far + runIn
			} else if in.Internal { // it stops where it leaves the wall
				reached := p.Cut.MM() - float64(bite-1)*r.carriage()
				fed = min(fed, runIn+math.Max(0, reached)/math.Abs(feedZ))
				if in.SmallEnd == tapers.AtTailstock {
					fed = r.Bite.MM() + runIn
				}
			}
			l.to(startZ, y, true, "going deeper")
			l.to(startZ+feedZ*fed, y+feedY*fed, true, "the feed")
			l.to(l.z, l.y-deeper*half, false, "the cross slide coming off")
			l.to(startZ, y-deeper*half, false, "the compound going back")
		}
		if bite == bites {
			break
		}
		j := r.Joints[bite-1]
		cross := lines(j.CrossTurns, j.CrossDivs)
		if r.outward() < 0 {
			cross = -cross
		}
		carriage := toward * j.Carriage.MM()
		if *r.First == CrossSlideFirst {
			l.to(l.z, l.y+cross, false, "the cross slide, first")
			l.to(l.z+carriage, l.y, false, "the carriage, then")
		} else {
			l.to(l.z+carriage, l.y, false, "the carriage, first")
			l.to(l.z, l.y+cross, false, "the cross slide, then")
		}
		startZ += carriage
		// With the tip at this y and half a turn further in the collar reads the last pass.
		collar = l.y + deeper*half - deeper*last
		l.to(l.z, l.y-deeper*5, false, "off for the next bite")
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
							obey(t, fmt.Sprint(
								travel, " bore ", internal, " small at ", end, " ", hand, " ", handle, " ", d.Divisions,
							), in)
						}
					}
				}
			}
		}
	}
}

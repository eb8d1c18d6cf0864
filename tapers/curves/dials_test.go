package curves_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/curves"
)

// wound is the travel that a dial's turns and divisions come to.
func wound(t *testing.T, d shop.Dial, text string) float64 {
	t.Helper()
	var turns, divisions int
	words := strings.NewReplacer("turns", "turn").Replace(text)
	if _, err := fmt.Sscanf(words, "%d turn + %d div", &turns, &divisions); err != nil {
		t.Fatal(text, err)
	}
	return d.Lead.MM() * (float64(turns) + float64(divisions)/float64(d.Divisions))
}

// bench is a bar that is cut by the sheet: the radius at places tailward of the
// headstock's end of the arc.
type bench struct {
	step float64
	r    []float64
	nose float64
}

// pass takes off what a tool does that goes from one place to another, its tip at a
// radius.
func (b *bench) pass(from, to, tip float64) {
	low, high := math.Min(from, to), math.Max(from, to)
	for i := range b.r {
		z := float64(i) * b.step
		d := math.Max(0, math.Max(low-z, z-high))
		if d <= b.nose {
			b.r[i] = math.Min(b.r[i], tip+b.nose-math.Sqrt(b.nose*b.nose-d*d))
		}
	}
}

// Arcs cut on a bar as the sheet says, line by line: the dials from their zeros, every
// cut in its order and its direction. Nowhere is the arc cut into, and nowhere does
// more stand than is told. By hand: the middle of each arc, from the first diameter.
func TestCutByTheDials(t *testing.T) {
	dome := curves.Input{Radius: units.MustLength("15mm"), To: units.MustLength("30mm"), Bulge: curves.Out}
	ball := curves.Input{
		Radius: units.MustLength("10mm"), From: units.MustLength("12mm"), To: units.MustLength("12mm"), Bulge: curves.Out,
	}
	fillet := curves.Input{
		Radius: units.MustLength("5mm"), From: units.MustLength("20mm"), To: units.MustLength("28mm"), Bulge: curves.In,
	}
	hollow := curves.Input{
		Radius: units.MustLength("13mm"), From: units.MustLength("40mm"), To: units.MustLength("40mm"),
		Length: length("24mm"), Bulge: curves.In,
	}
	for _, tc := range []struct {
		name string
		in   curves.Input
		z, r float64
	}{{"dome", dome, 15, 0}, {"ball", ball, 8, 0}, {"fillet", fillet, 0, 15}, {"hollow", hollow, 12, 25}} {
		for _, nose := range []string{"0mm", "0.8mm", "3mm"} {
			for _, end := range tapers.Ends {
				for _, along := range []shop.Dial{
					{Lead: units.MustLength("1mm"), Divisions: 50},
					{Lead: units.MustLength("20mm"), Divisions: 100},
					{Lead: units.MustLength("0.1in"), Divisions: 100},
				} {
					in := tc.in
					in.Nose, in.SmallEnd = units.MustLength(nose), end
					in.Step, in.Along = length("0.45mm"), "carriage"
					if nose != "0mm" {
						in.Step, in.Cusp = nil, length("0.01mm")
					}
					in.Carriage, in.Cross = &along, &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100, OnDiameter: true}
					cutByTheDials(t, fmt.Sprint(tc.name, " ", nose, " ", end, " ", along.Lead.Decimal()), in, tc.z, tc.r)
				}
			}
		}
	}
}

// Long: a bar on a simulated lathe, cut by cut, then measured.
func cutByTheDials(t *testing.T, name string, in curves.Input, midZ, midR float64) {
	r, err := curves.Of(in)
	if err != nil {
		t.Fatal(name, err)
	}
	R, nose, long := in.Radius.MM(), in.Nose.MM(), r.Length.MM()
	tailFirst := (in.From.Cmp(in.To) <= 0) == (in.SmallEnd == tapers.AtTailstock)
	if tailFirst { // places are counted from the headstock's end here
		midZ = long - midZ
	}
	out := in.Bulge == curves.Out
	widest := math.Max(in.From.MM(), in.To.MM()) / 2
	if out && midZ > 0 && midZ < long {
		widest = midR + R
	}
	bar := bench{step: long / 20000, nose: nose, r: make([]float64, 20001)}
	for i := range bar.r {
		bar.r[i] = widest
	}
	cuts := make([]curves.Step, 0, len(r.Steps))
	for n := 1; n <= len(r.Steps); n++ {
		for _, s := range r.Steps {
			if s.Cut != nil && *s.Cut == n {
				cuts = append(cuts, s)
			}
		}
	}
	// The zero stands where the tool's side touches the tailstock's end.
	at := func(s curves.Step) float64 { return long + nose - wound(t, *in.Carriage, *s.AtDial) }
	// Whether the work falls toward the tailstock at a cut. A ball does on the
	// tailstock's side of its middle; a hollow on the other, which is cut last, and so
	// where the diameters start again; a fillet by where its middle is.
	rise := len(cuts)
	for i := range cuts[1:] {
		if cuts[i].DiaSet.Less(*cuts[i+1].DiaSet) {
			rise = i + 1
		}
	}
	tailward := func(s curves.Step) bool {
		switch {
		case out:
			return at(s) >= midZ-1e-9
		case rise < len(cuts):
			return *s.Cut > rise
		}
		return midZ > long/2
	}
	same := func(s curves.Step) (last curves.Step) {
		for _, c := range cuts {
			if tailward(c) == tailward(s) {
				last = c
			}
		}
		return last
	}
	before := math.Inf(1)
	for i, s := range cuts {
		if i > 0 && tailward(s) != tailward(cuts[i-1]) {
			before = math.Inf(1)
		}
		if s.DiaSet.MM() > before {
			t.Errorf("%s: cut %d is wider than the one before it", name, *s.Cut)
		}
		before = s.DiaSet.MM()
		tip := widest - wound(t, *in.Cross, *s.Dial)
		if math.Abs(2*tip-s.DiaSet.MM()) > 1e-7 {
			t.Errorf("%s: cut %d: the dial comes to %v, told %v", name, *s.Cut, 2*tip, s.DiaSet.Decimal())
		}
		switch last := same(s); {
		case !tailward(s) && !out && tailward(cuts[len(cuts)-1]):
			bar.pass(at(s), at(last), tip)
		case !tailward(s): // into the neck
			bar.pass(at(s), -10, tip)
		case !out && !tailward(cuts[0]):
			narrow := cuts[0]
			for _, c := range cuts {
				if !tailward(c) {
					narrow = c
				}
			}
			bar.pass(at(narrow), at(s), tip)
		default:
			bar.pass(long+10, at(s), tip)
		}
	}
	most := 0.0
	for i, rad := range bar.r {
		off := math.Hypot(float64(i)*bar.step-midZ, rad-midR) - R
		if !out {
			off = -off
		}
		if off < -1e-9*R-1e-8 {
			t.Errorf("%s: cut %v into the arc at %v", name, -off, float64(i)*bar.step)
			return
		}
		most = math.Max(most, off)
	}
	if told := r.CuspSet.MM(); most > told+1e-6 {
		t.Errorf("%s: %v stands at most, told %v", name, most, told)
	} else if lines := in.Carriage.Division().MM() + in.Cross.Division().MM(); told > 3*most+lines {
		t.Errorf("%s: %v stands at most, told %v", name, most, told)
	}
}

// Which dial says the places: the finer one that reaches, or the one that is asked for.
func TestAlong(t *testing.T) {
	screw, carriage := &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 50}, &shop.Dial{
		Lead: units.MustLength("20mm"), Divisions: 100,
	}
	compound := func(travel string) *shop.Compound {
		c := &shop.Compound{Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(1)}, Screw: screw}
		if travel != "" {
			c.Travel = length(travel)
		}
		return c
	}
	for _, tc := range []struct {
		compound *shop.Compound
		carriage *shop.Dial
		asked    string
		want     string
	}{
		{compound("70mm"), carriage, "", "compound"},
		{compound("10mm"), carriage, "", "carriage"}, // the dome is 15 long
		{compound("15mm"), carriage, "", "carriage"}, // and the tool starts clear of it
		{compound("70mm"), carriage, "carriage", "carriage"},
		{compound("70mm"), nil, "", "compound"},
		{nil, carriage, "", "carriage"},
		{compound(""), carriage, "", "compound, not checked lathe: compound: travel"},
		{compound("10mm"), nil, "", "none, not checked lathe: carriage"},
		{nil, nil, "", "none, not checked lathe: carriage"},
		{
			compound("10mm"), carriage, "compound",
			"carriage, no: along: compound: the compound travels 10 mm and this takes 16 mm",
		},
	} {
		r, err := curves.Of(curves.Input{
			Radius: units.MustLength("15mm"), To: units.MustLength("30mm"), Bulge: curves.Out, Step: length("1mm"),
			Compound: tc.compound, Carriage: tc.carriage, Along: tc.asked, Cross: screw,
		})
		if err != nil {
			t.Fatal(err)
		}
		got := "none"
		if r.Along != nil {
			got = *r.Along
		}
		for _, w := range r.Warnings {
			got += ", not checked " + w.Key
		}
		if no := r.Fails().Err(); no != nil {
			got += ", no: " + no.Error()
		}
		if got != tc.want {
			t.Errorf("got %s, want %s", got, tc.want)
		}
	}
}

// Where each cut starts and ends, by whether the work falls toward the tailstock
// there: a tool that goes toward the headstock comes from free air and stops at the
// place, or is wound in at the place and goes on to where the work is thinner.
func TestHow(t *testing.T) {
	input := func(bulge curves.Bulge, radius, from, to, long string) curves.Input {
		in := curves.Input{
			Radius: units.MustLength(radius), From: units.MustLength(from), To: units.MustLength(to), Bulge: bulge,
			Step: length("1mm"), Cross: &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100},
		}
		if long != "" {
			in.Length = length(long)
		}
		return in
	}
	for _, tc := range []struct {
		name string
		in   curves.Input
		tail string // with the small end at the tailstock
		head string
	}{
		{"dome", input(curves.Out, "15mm", "0mm", "30mm", ""), "clear", "neck"},
		{"fillet", input(curves.In, "5mm", "28mm", "20mm", ""), "clear", "neck"},
		{"ball", input(curves.Out, "10mm", "12mm", "12mm", ""), "clear neck", "clear neck"},
		{
			"hollow", input(curves.In, "13mm", "40mm", "40mm", "24mm"),
			"to-narrowest from-narrowest", "to-narrowest from-narrowest",
		},
	} {
		for _, end := range tapers.Ends {
			in, want := tc.in, tc.tail
			if in.SmallEnd = end; end == tapers.AtHeadstock {
				want = tc.head
			}
			r, err := curves.Of(in)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, step := range r.Sheet().Procedure {
				for _, how := range [][2]string{
					{"each starts clear of the work, on the tailstock's side", "clear"},
					{"into the neck beyond the arc", "neck"},
					{", the narrowest, and draw the tool out", "to-narrowest"},
					{"each starts over the narrowest place", "from-narrowest"},
				} {
					if strings.Contains(step.String(), how[0]) {
						got = append(got, how[1])
					}
				}
			}
			if strings.Join(got, " ") != want {
				t.Errorf("%s, small end at the %s: %s, want %s", tc.name, end, got, want)
			}
		}
	}
}

// A depth a pass, where a cut is deeper. A hollow from 20 mm to 30 mm in a bar of 30 mm: cut 1
// takes (30 - 20)/2 = 5 mm a side, of the rest the first is (20 - 17.493)/2 = 1.25 mm. A hollow of
// 100 mm over 6 mm is 100 - sqrt(100^2 - 3^2) = 0.045 mm deep: one pass is enough.
func TestPassesOfACut(t *testing.T) {
	for _, tc := range []struct {
		long, from, to string
		mm, inch       int
	}{{"90mm", "20mm", "30mm", 2, 2}, {"6mm", "30mm", "30mm", 0, 0}} {
		r, err := curves.Of(curves.Input{
			Radius: units.MustLength("100mm"), From: units.MustLength(tc.from), To: units.MustLength(tc.to),
			Length: length(tc.long), Bulge: curves.In, Step: length("3mm"),
			Cross: &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100},
		})
		if err != nil {
			t.Fatal(err)
		}
		mm, inch := 0, 0
		for _, s := range r.Sheet().Procedure {
			mm += strings.Count(s.In(units.MM), "to its diameter (no more than 0.5 mm a side in one pass), feed")
			inch += strings.Count(s.In(units.Inch), "to its diameter (no more than 0.02 in a side in one pass), feed")
		}
		if mm != tc.mm || inch != tc.inch {
			t.Errorf("%s: %d and %d steps say the depth a pass", tc.long, mm, inch)
		}
	}
}

// The slide is wound out so far that the farthest cut is within it, and no farther than it goes; a
// scale that ends before it stands along the axis is not read; and the swivel is tightened.
func TestCompoundAlong(t *testing.T) {
	limit := units.Degrees(60)
	for _, zero := range []shop.Zero{shop.Along, shop.Across} {
		for _, small := range tapers.Ends {
			travel := units.MustLength("40mm")
			screw := shop.Dial{Lead: units.MustLength("1.5mm"), Divisions: 60}
			r, err := curves.Of(curves.Input{
				Radius: units.MustLength("20mm"), From: units.MustLength("10mm"), To: units.MustLength("30mm"), Bulge: curves.Out,
				Step: length("0.4mm"), SmallEnd: small, Nose: units.MustLength("0.8mm"), Along: shop.CompoundSlide,
				Compound: &shop.Compound{
					Scale: shop.Scale{Zero: zero, Step: units.Degrees(1), Limit: &limit}, Travel: &travel, Screw: &screw,
				},
			})
			if err != nil {
				t.Fatal(err)
			}
			var words []string
			for _, s := range r.Sheet().Procedure {
				words = append(words, s.In(units.MM))
			}
			all := strings.Join(words, "\n")
			_, after, ok := strings.Cut(all, "ompound right in, then out ")
			if !ok {
				t.Fatal(all)
			}
			out, farthest := wound(t, screw, after), 0.0
			for _, s := range r.Steps {
				if s.AtDial != nil {
					farthest = max(farthest, wound(t, screw, *s.AtDial))
				}
			}
			if out < farthest || out > farthest+screw.Division().MM() || out > travel.MM() {
				t.Errorf("%s %s: out %v, the farthest cut at %v", zero, small, out, farthest)
			}
			off := strings.Contains(all, "past the end of its scale at 60 deg") && !strings.Contains(all, "scale at 90")
			if off != (zero == shop.Across) || !strings.Contains(all, "Tighten both bolts") {
				t.Error(zero, all)
			}
		}
	}
}

// No cut is told that takes nothing. By hand: out of a bar turned to the largest diameter, a cut that goes no deeper
// than the collar's 0 takes none, nor does one whose tool touches the end of the work where it stops, when it comes
// from outside there.
func TestNoCutTakesNothing(t *testing.T) {
	dial := func(lead string) *shop.Dial { return &shop.Dial{Lead: units.MustLength(lead), Divisions: 100} }
	left := 0
	for _, bulge := range []curves.Bulge{curves.Out, curves.In} {
		for _, end := range tapers.Ends {
			for _, nose := range []string{"0mm", "0.4mm", "1.5mm"} {
				for from := 0; from <= 30; from += 5 {
					r, err := curves.Of(curves.Input{
						Radius: units.MustLength("15mm"), From: units.Millimetres(int64(from)), To: units.MustLength("30mm"),
						Nose: units.MustLength(nose), Step: new(units.MustLength("1mm")), Bulge: bulge, SmallEnd: end,
						Cross: dial("2mm"), Carriage: dial("1mm"),
					})
					if err != nil {
						continue
					}
					n := 0
					for _, s := range r.Steps {
						if s.Cut == nil {
							left++
							continue
						}
						n++
						if s.DiaSet.MM() >= 30-1e-9 {
							t.Errorf("%v from %d, %v, nose %s: cut %d takes nothing off %v", bulge, from, end, nose, *s.Cut, s.DiaSet.MM())
						}
						fromEnd := s.AtSet.MM()
						if nose == "0mm" && bulge == curves.Out && end == tapers.AtTailstock && fromEnd <= 0 {
							t.Errorf("from %d: cut %d ends where it begins", from, *s.Cut)
						}
					}
					for _, s := range r.Steps {
						if s.Cut != nil && *s.Cut > n {
							t.Errorf("cut %d of %d", *s.Cut, n)
						}
					}
				}
			}
		}
	}
	if left == 0 {
		t.Error("none is left out")
	}
}

package wires_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/page/published"
	"setover/threads"
	"setover/threads/wires"
)

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

// The handbooks' tables of measurements and constants, which leave the lead
// out.
func TestPublished(t *testing.T) {
	y := published.NewTally(t, disagree)
	for _, r := range published.Rows(t, "threads/wires.csv") {
		want := r["value"] + r["unit"]
		key := fmt.Sprintf("%s %s %s %s %s", r["kind"], r["form"], r["D"], r["tpi_or_pitch"], r["wire"])
		half := units.Degrees(30)
		if r["form"] == "Whitworth" {
			half = units.Degrees(27.5)
		}
		compare := func(got units.Length) { y.Compare(r["source"], key, units.AsPrinted(got, want), want) }
		switch r["kind"] {
		case "M_over_wires":
			p := units.MustPitch(r["tpi_or_pitch"] + "tpi")
			e := units.MustLength(r["D"] + "in")
			if r["form"] == "60deg sharp V" {
				e = e.Minus(p.Length(math.Sqrt(3) / 2))
			} else {
				e = e.Minus(p.Length(3 * math.Sqrt(3) / 8))
			}
			compare(wires.Over(e, p, half, units.MustLength(r["wire"]+"in")))
		case "const_0.866025P", "const_0.9605P": // what the pitch takes off
			p := units.MustPitch(r["tpi_or_pitch"] + "tpi")
			compare(wires.Over(units.Length{}, p, half, units.Length{}).Neg())
		case "best_wire":
			compare(wires.Best(units.MustPitch(r["tpi_or_pitch"]+"tpi"), half))
		case "acme_best_wire_1in_pitch", "acme_C+c_1in_pitch":
			compare(acme(t, r))
		default:
			t.Fatal(key)
		}
	}
	y.Report(map[string]published.Count{
		"Jones, Turning and Boring, 1914 (public domain)":       {Agree: 1},
		"Machinery's Handbook 31st ed. 2020 p.2129":             {Agree: 66, Disagree: 6},
		"Machinery's Handbook 31st ed. 2020 p.2130":             {Agree: 76, Disagree: 7},
		"Machinery's Handbook 31st ed. 2020 p.2136":             {Agree: 7, Disagree: 7},
		"US Army OD1645 Lathe Operations, 1988 (public domain)": {Agree: 2},
		"three-wire note of a model engineering society":        {Agree: 2},
	})
}

// acme returns the handbook's figures for a 1 in pitch at the lead angle in
// the D column: the wire that touches at the pitch diameter of the helicoid,
// and what it adds to the pitch diameter. They come from the true contact of
// the tests, which this table proves.
func acme(t *testing.T, r map[string]string) units.Length {
	var angle float64
	fmt.Sscan(r["D"], &angle)
	starts := 1.0
	if r["form"] == "Acme 2-start" {
		starts = 2
	}
	g := groove{lead: starts, pitch: 1, half: 14.5 * math.Pi / 180}
	g.dia = g.lead / (math.Pi * math.Tan(angle*math.Pi/180))
	w := g.bestWire()
	if r["kind"] == "acme_best_wire_1in_pitch" {
		return units.FromFloat(w * 25.4)
	}
	return units.FromFloat((g.over(w) - g.dia) * 25.4)
}

// Why a published figure is not ours.
const (
	shortened = "the table works with 1.5155 for 1.515544: 0.00004 P less comes off"
	rounded   = "the table works with 0.9605 for 0.960491"
	moved     = "a digit moved: 2.28211 is printed for 2.8211"
	lastPlace = "0.00001 to 0.00002 in: the last place of the handbook's approximation; the contact is solved to 1e-7 here"
)

var disagree = map[string]string{
	"M_over_wires 60deg flat (US/Am.Nat.) 0.875 10 0.09": shortened, "M_over_wires 60deg flat (US/Am.Nat.) 0.625 10 " +
		"0.07": shortened,
	"M_over_wires 60deg flat (US/Am.Nat.) 1.625 5.5 0.15": shortened, "M_over_wires 60deg flat (US/Am.Nat.) 0.4375 14 " +
		"0.05": shortened,
	"M_over_wires 60deg flat (US/Am.Nat.) 0.75 10 0.07": shortened, "M_over_wires 60deg flat (US/Am.Nat.) 0.5625 14 " +
		"0.05": shortened,
	"M_over_wires 60deg flat (US/Am.Nat.) 2.75 4 0.15": moved,
	"const_0.9605P Whitworth  20 ":                     rounded, "const_0.9605P Whitworth  5.5 " +
		"": rounded, "const_0.9605P Whitworth  4 ": rounded,
	"const_0.9605P Whitworth  3 ": rounded, "const_0.9605P Whitworth  2.875 ": rounded, "const_0.9605P Whitworth  " +
		"2.25 ": rounded,
	"acme_best_wire_1in_pitch Acme 1-start 5.5 1 ": lastPlace, "acme_best_wire_1in_pitch Acme 1-start 6.0 1 ": lastPlace,
	"acme_best_wire_1in_pitch Acme 2-start 6.5 1 ": lastPlace, "acme_C+c_1in_pitch Acme 1-start 7.0 1 ": lastPlace,
	"acme_C+c_1in_pitch Acme 1-start 6.0 1 ": lastPlace, "acme_C+c_1in_pitch Acme 2-start 6.5 1 ": lastPlace,
	"acme_C+c_1in_pitch Acme 2-start 6.0 1 ": lastPlace,
}

// groove is the space between two flanks that are straight in a plane through
// the axis, as a tool set on centre cuts them: a helicoid.
type groove struct{ dia, pitch, lead, half float64 }

// touch returns how far from the axis a wire of the radius w lies that is
// tilted by tilt and rests on the flank above it, with the radius and the
// angle of the point it touches. By symmetry it touches the other flank alike.
//
// A point of the flank stands at radius r and angle th, at z = lead·th/2π +
// (r - dia/2)·tan a + pitch/4. The wire's axis crosses the x axis square; a
// point at u from the plane of the wire keeps it x + √(w² - u²) off.
func (g groove) touch(w, tilt float64) (dist, r, th float64) {
	k, r0, ta := g.lead/(2*math.Pi), g.dia/2, math.Tan(g.half)
	sin, cos := math.Sincos(tilt)
	f := func(r, th float64) float64 {
		s, c := math.Sincos(th)
		u := (k*th+(r-r0)*ta+g.pitch/4)*cos - r*s*sin
		if q := w*w - u*u; q > 0 {
			return r*c + math.Sqrt(q)
		}
		return math.Inf(-1)
	}
	best := math.Inf(-1)
	for i := -20; i <= 20; i++ {
		for j := -40; j <= 40; j++ {
			x, y := r0+0.03*float64(i)*g.pitch, 0.0125*float64(j)
			if v := f(x, y); v > best {
				best, r, th = v, x, y
			}
		}
	}
	for hr, ht := 0.05*g.pitch, 0.02; hr > 1e-11*g.pitch; {
		moved := false
		x, y := r, th
		for _, dr := range []float64{-hr, 0, hr} {
			for _, dt := range []float64{-ht, 0, ht} {
				if v := f(x+dr, y+dt); v > best {
					best, r, th, moved = v, x+dr, y+dt, true
				}
			}
		}
		if !moved {
			hr, ht = hr/2, ht/2
		}
	}
	return best, r, th
}

// settled returns the tilt a wire comes to rest at under the anvils: the one
// that brings it nearest to the axis.
func (g groove) settled(w float64) float64 {
	a, b := 0.0, 2*math.Atan(g.lead/(math.Pi*g.dia))
	for b-a > 1e-6 {
		c, d := a+(b-a)*0.382, a+(b-a)*0.618
		fc, _, _ := g.touch(w, c)
		fd, _, _ := g.touch(w, d)
		if fc < fd {
			b = d
		} else {
			a = c
		}
	}
	return (a + b) / 2
}

// over returns the measurement over three wires of the diameter wire.
func (g groove) over(wire float64) float64 {
	dist, _, _ := g.touch(wire/2, g.settled(wire/2))
	return 2 * (dist + wire/2)
}

// bestWire returns the wire that touches at the pitch diameter.
func (g groove) bestWire() float64 {
	a, b := 0.4*g.pitch, 0.7*g.pitch
	for b-a > 1e-7*g.pitch {
		w := (a + b) / 2
		_, r, _ := g.touch(w/2, g.settled(w/2))
		if r < g.dia/2 {
			a = w
		} else {
			b = w
		}
	}
	return (a + b) / 2
}

// The lead correction against the true contact of a cylinder with the
// helicoid: within a tenth of the correction up to 7°, which is 0.2 µm on the
// V threads of a small shop and 3.5 µm on a steep two-start trapezoidal one.
func TestCorrectionAgainstContact(t *testing.T) {
	for _, tc := range []struct {
		spec   string
		within float64 // mm, on the whole measurement
	}{
		{"M1.6", 0.0001},
		{"M3", 0.0001},
		{"M8", 0.0001},
		{"M24x3", 0.0001},
		{"M64", 0.0001},
		{"1/4-20UNC", 0.0002},
		{"1-8UNC", 0.0002},
		{"3/8BSW", 0.0002},
		{"2BA", 0.0001},
		{"Tr12x3", 0.0011},
		{"Tr40x14P7", 0.0035},
		{"1/2-10ACME", 0.0005},
		{"1-5ACME", 0.0009},
	} {
		d := threads.MustParse(tc.spec)
		r, err := wires.Measure(wires.Input{Thread: d})
		if err != nil {
			t.Fatal(err)
		}
		g := groove{d.Sizes().PitchDiameter.MM(), d.Pitch.MM(), d.Lead().MM(), d.Form.HalfAngle().Rad()}
		exact := g.over(r.Wire.MM())
		off := r.OverWires.MM() - exact
		if math.Abs(off) > tc.within {
			t.Errorf("%s: %v, by contact %.5f", tc.spec, r.OverWires.Typed(), exact)
		}
		if c := r.Correction.MM(); math.Abs(off) > 0.1*c {
			t.Errorf("%s: the correction %.5f is off by %.5f", tc.spec, c, off)
		}
	}
}

// A reading says what it was made of: over the wires at any pitch diameter,
// back to that pitch diameter, with every wire that fits.
func TestThereAndBack(t *testing.T) {
	for _, spec := range []string{"M8", "M36", "1/4-20", "3/8BSW", "2BA", "G1/4A", "Tr12x3", "1/2-10ACME"} {
		d := threads.MustParse(spec)
		for _, wire := range []func(wires.Result) units.Length{
			func(r wires.Result) units.Length { return r.WireMin },
			func(r wires.Result) units.Length { return r.WireMax },
			func(r wires.Result) units.Length { return r.BestWire },
		} {
			r, err := wires.Measure(wires.Input{Thread: d})
			if err != nil {
				t.Fatal(spec, err)
			}
			w := wire(r)
			r, err = wires.Measure(wires.Input{Thread: d, Wire: &w})
			if err != nil {
				t.Fatal(spec, err)
			}
			back, err := wires.Measure(wires.Input{Thread: d, Wire: &w, Measured: &r.OverWires})
			if err != nil || !back.PitchDiameter.Equal(d.Sizes().PitchDiameter) {
				t.Errorf("%s over %v: back as %v, %v", spec, w.Typed(), back.PitchDiameter.Typed(), err)
			}
			if r.OverWires.Cmp(d.Major) <= 0 {
				t.Errorf("%s over %v: the wire lies below the crests", spec, w.Typed())
			}
		}
	}
}

// No wire in the range rests on the root, of any size there is: the least one
// stands out over the root by more than its own diameter would leave.
func TestWiresClearTheRoot(t *testing.T) {
	for _, d := range threads.All() {
		if d.Form.Tapered() {
			continue
		}
		r, err := wires.Measure(wires.Input{Thread: d})
		if err != nil {
			t.Fatal(d, err)
		}
		least := wires.Over(d.Sizes().PitchDiameter, d.Pitch, d.Form.HalfAngle(), r.WireMin)
		if under := least.Minus(r.WireMin.Times(2)); under.Cmp(d.Sizes().MinorExternal) <= 0 {
			t.Errorf("%v: %v under the wire of %v, the root is %v", d, under.Typed(), r.WireMin.Typed(),
				d.Sizes().MinorExternal.Typed())
		}
	}
}

// The correction is trusted to 7 deg: 14/(pi*36.5) is 6.96 deg, 8/(pi*18) 8.05.
func TestSteep(t *testing.T) {
	for spec, want := range map[string]string{"Tr40x14P7": "no-limits", "Tr20x8P4": "no-limits steep", "1/4-20": ""} {
		r, err := wires.Measure(wires.Input{Thread: threads.MustParse(spec)})
		var codes []string
		for _, w := range r.Warnings {
			codes = append(codes, w.Code)
		}
		if got := strings.Join(codes, " "); err != nil || got != want {
			t.Errorf("%s: %s, want %s, %v", spec, got, want, err)
		}
	}
}

// The class decides: M8 6g has a pitch diameter of 7.042 to 7.160 mm
// (ISO 965-1), so over the best wire 7.042 + 3*0.72169 - 0.866025*1.25 +
// 0.00166 = 8.1262 to 8.2442 mm.
func TestVerdict(t *testing.T) {
	for _, tc := range []struct {
		spec, class, measured, want string
		no                          string
	}{
		{"M8", "", "8.127mm", "inside", ""},
		{"M8", "", "8.244mm", "inside", ""},
		{"M8", "", "8.25mm", "large", "measured: 8.25 mm: the screw is too large for class 6g: 8.127 mm to 8.244 mm over " +
			"these wires"},
		{"M8-6h", "", "8.25mm", "inside", ""},
		{"M8", "6e", "8.2mm", "inside", ""},
		{"M8", "", "8.1mm", "small", "measured: 8.1 mm: the screw is too small for class 6g: 8.127 mm to 8.244 mm over " +
			"these wires"},
		{"1/4-20", "3A", "0.26in", "inside", ""},
		// 2A is 0.2127 to 0.2164 in (ASME B1.1); 3W - 0.866025 P + c = 0.04342
		{"1/4-20", "", "0.26in", "large", "measured: 0.26 in: the screw is too large for class 2A: 0.2562 in to 0.2598 " +
			"in over these wires"},
	} {
		r, err := wires.Measure(wires.Input{
			Thread: threads.MustParse(tc.spec), Class: tc.class,
			Measured: length(tc.measured),
		})
		if err != nil {
			t.Fatal(tc.spec, err)
		}
		no, unit := "", units.MM
		if strings.HasSuffix(tc.measured, "in") {
			unit = units.Inch
		}
		if f := r.Fails(); len(f) > 0 {
			no = f.Worded(problem.Wording{Unit: unit})
		}
		if string(*r.Verdict) != tc.want || no != tc.no {
			t.Errorf("%s %s at %s: %s, %q (%v to %v)", tc.spec, tc.class, tc.measured, *r.Verdict, no, r.OverWiresMin.Typed(),
				r.OverWiresMax.Typed())
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, tc := range []struct {
		in   wires.Input
		want string
	}{
		{
			wires.Input{Thread: threads.MustParse("M8"), Wire: length("0.63mm")},
			"wire: 0.63 mm: does not measure this thread: 0.64 mm to 1.26 mm, best 0.722 mm",
		},
		{
			wires.Input{Thread: threads.MustParse("M8"), Wire: length("1.27mm")},
			"wire: 1.27 mm: does not measure this thread: 0.64 mm to 1.26 mm, best 0.722 mm",
		},
		{
			wires.Input{Thread: threads.MustParse("1/4-20"), Wire: length("1/8in")},
			"wire: 3.175 mm: does not measure this thread: 0.65 mm to 1.28 mm, best 0.733 mm",
		},
		{
			wires.Input{Thread: threads.MustParse("M8"), Measured: length("9.6mm")},
			"measured: 9.6 mm: more than a pitch from what this thread measures, 8.272 mm: another thread, or another wire",
		},
		{wires.Input{Thread: threads.MustParse("M8-6H")}, "class: 6H: a nut's class: wires measure the screw"},
		{wires.Input{Thread: threads.MustParse("M8"), Class: "6H"}, "class: 6H: a nut's class: wires measure the screw"},
		{
			wires.Input{Thread: threads.MustParse("M8-6g"), Class: "6h"},
			"class: 6h: contradicts the designation, which says 6g",
		},
		{
			wires.Input{Thread: threads.MustParse("1/4NPT")},
			"thread: 1/4NPT: a taper thread is gauged with a ring, not over three wires",
		},
	} {
		_, err := wires.Measure(tc.in)
		if err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

func ExampleMeasure() {
	wire := units.MustLength("0.035in")
	r, err := wires.Measure(wires.Input{Thread: threads.MustParse("1/4-20UNC-2A"), Wire: &wire})
	if err != nil {
		panic(err)
	}
	fmt.Println(r.OverWires.Fixed(units.Inch, 4, units.Nearest), "in")
	// Output: 0.2794 in
}

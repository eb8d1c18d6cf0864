package stages_test

import (
	"fmt"
	"testing"

	"setover/setup/base/published"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers/fouling"
	"setover/tapers/stages"
)

// at reads "z=dia" pairs in mm.
func at(pairs ...[2]string) []stages.Station {
	list := make([]stages.Station, len(pairs))
	for i, p := range pairs {
		list[i] = stages.Station{Z: units.MustLength(p[0]), Dia: units.MustLength(p[1])}
	}
	return list
}

func lathe() *shop.Compound {
	travel := units.MustLength("75mm")
	return &shop.Compound{Scale: shop.Scale{Zero: shop.Along, Step: units.MustAngle("1deg")}, Travel: &travel}
}

var tools = []shop.Tool{{Hand: "right", Trail: units.MustAngle("8deg")}, {Hand: "left", Trail: units.MustAngle("8deg")}}

// Which stages an outside has, which tool cuts each, and in what order.
func TestStages(t *testing.T) {
	for _, tc := range []struct {
		name     string
		stations []stages.Station
		tools    []shop.Tool
		want     string
		order    string
	}{
		{
			"a plumb bob: neck, shoulder, body, two tapers", at([2]string{"0", "16"}, [2]string{"14", "16"}, [2]string{"14", "34"}, [2]string{"34", "34"}, [2]string{"96", "20"}, [2]string{"140", "3"}), tools,
			"1 cylinder right, 2 shoulder left, 3 cylinder right, 4 taper right 6.442 counter-clockwise, 5 taper right 10.934 counter-clockwise", "[2 3 1 4 5]",
		},
		{
			"a gentle growing taper: a right-hand tool's trailing edge clears", at([2]string{"0", "1in"}, [2]string{"4in", "1.5in"}), tools,
			"1 taper right 3.576 clockwise", "[1]",
		},
		{
			"trail 8 deg, half angle 6: exactly 2 deg over", at([2]string{"0", "20"}, [2]string{"50", "30.510423526"}), tools,
			"1 taper right 6.000 clockwise", "[1]",
		},
		{
			"a steep growing taper is cut left-handed", at([2]string{"0", "10"}, [2]string{"20", "20"}), tools,
			"1 taper left 14.036 clockwise", "[1]",
		},
		{
			"a double cone: one setting each way, same settings together", at([2]string{"0", "20"}, [2]string{"30", "10"}, [2]string{"60", "20"}, [2]string{"90", "10"}), tools,
			"1 taper right 9.462 counter-clockwise, 2 taper left 9.462 clockwise, 3 taper right 9.462 counter-clockwise", "[1 3 2]",
		},
		{
			"an end may come to a point", at([2]string{"0", "0"}, [2]string{"30", "20"}, [2]string{"40", "0"}), nil,
			"1 taper left 18.435 clockwise, 2 taper right 45.000 counter-clockwise", "[1 2]",
		},
	} {
		r, err := stages.Of(stages.Input{Stations: tc.stations, Compound: lathe(), Tools: tc.tools})
		if err != nil {
			t.Errorf("%s: %v", tc.name, err)
			continue
		}
		got := ""
		for i, s := range r.Stages {
			if i > 0 {
				got += ", "
			}
			got += fmt.Sprintf("%d %s %s", s.N, s.Kind, s.ToolHand)
			if s.HalfAngle != nil {
				got += fmt.Sprintf(" %.3f %s", s.HalfAngle.Deg(), *s.Swing)
			}
		}
		if got != tc.want || fmt.Sprint(r.Order) != tc.order {
			t.Errorf("%s:\ngot  %s, order %v\nwant %s, order %s", tc.name, got, r.Order, tc.want, tc.order)
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, tc := range []struct {
		stations []stages.Station
		want     string
	}{
		{at([2]string{"0", "20"}), "station: needs at least two stations, such as --station 0=20 --station 60=12"},
		{at([2]string{"0", "20"}, [2]string{"10", "0"}, [2]string{"20", "5"}), "station: 10 mm=0 mm: a diameter must be above 0 (an end may come to a point)"},
		{at([2]string{"0", "-1"}, [2]string{"10", "5"}), "station: 0 mm=-1 mm: a diameter must be above 0 (an end may come to a point)"},
		{at([2]string{"10", "20"}, [2]string{"5", "5"}), "station: 5 mm=5 mm: stations run from left to right: this one stands left of 10 mm"},
		{at([2]string{"1in", "20"}, [2]string{"25.4", "20"}), "station: 25.4 mm=20 mm: the same station twice"},
	} {
		if _, err := stages.Of(stages.Input{Stations: tc.stations}); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

// What is not checked without the instruments.
func TestNotChecked(t *testing.T) {
	r, err := stages.Of(stages.Input{Stations: at([2]string{"0", "20"}, [2]string{"50", "10"})})
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, w := range r.Warnings {
		got += w.Text + "\n"
	}
	want := "no compound in this shop: the angles are exact, no marks were looked for (lathe: compound)\n" +
		"whether a tool's trailing edge clears was not checked (lathe: tools)\n"
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// With a place, every taper is checked; the part's own shoulder is in the
// post's way.
func TestFouling(t *testing.T) {
	length := func(text string) *units.Length {
		l := units.MustLength(text)
		return &l
	}
	in := stages.Input{
		Stations: at([2]string{"0", "90"}, [2]string{"20", "90"}, [2]string{"20", "20"}, [2]string{"60", "12"}), Compound: lathe(), Tools: tools,
		Chuck: &shop.Chuck{Diameter: units.MustLength("100mm"), JawLength: length("28mm"), JawCircle: length("110mm")},
		Post:  &shop.ToolPost{Size: units.MustLength("65mm"), HolderWidth: units.MustLength("16mm"), Overhang: units.MustLength("25mm")},
		Place: fouling.Place{FromJaws: length("10mm"), Arrangement: fouling.Arrangement{PostSide: fouling.Front}},
	}
	r, err := stages.Of(in)
	if err != nil {
		t.Fatal(err)
	}
	// On the post's front the post stands (65-16)/2 = 24.5 mm to the left of a
	// right-hand tip and 25 mm behind it. The shoulder's corner is at (30, 45).
	// With the tip t along the slope from (29.0, 10.1), the overlap is
	// 25.5 - 0.995·t along z and 9.9 + 0.0995·t across: the lesser is largest
	// at t = 14.25, 11.32 mm.
	want := "from-jaws: stage 3: the post runs into the work by 11.4 mm; it clears with a right-hand tool on the post's headstock side, post turned with the slide, handle normal"
	got := ""
	for i, p := range r.Fails() {
		if i > 0 {
			got += "\n"
		}
		got += sheet.Spell(p.Error(), units.MM)
	}
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if r.Stages[2].Clearance == nil || r.Stages[0].Clearance != nil {
		t.Error("clearance:", r.Stages[2].Clearance, r.Stages[0].Clearance)
	}
	in.FromJaws = length("-1mm")
	if _, err := stages.Of(in); err == nil || err.Error() != "from-jaws: -1 mm: the taper starts outside the jaws: 0 or more" {
		t.Error(err)
	}
}

// A spindle nose: a cylinder and a steep taper, with the marks of a scale in
// whole degrees.
func ExampleOf() {
	r, err := stages.Of(stages.Input{
		Stations: []stages.Station{
			{Z: units.MustLength("0mm"), Dia: units.MustLength("20mm")},
			{Z: units.MustLength("30mm"), Dia: units.MustLength("20mm")},
			{Z: units.MustLength("50mm"), Dia: units.MustLength("0mm")},
		},
		Compound: &shop.Compound{Scale: shop.Scale{Zero: shop.Along, Step: units.MustAngle("1")}},
	})
	if err != nil {
		panic(err)
	}
	for _, s := range r.Stages {
		fmt.Print(s.Kind)
		if s.Mark != nil {
			fmt.Print(" at ", *s.Mark)
		}
		fmt.Println()
	}
	// Output:
	// cylinder
	// taper at 27 deg
}

// The working, put into a calculator.
func TestWorking(t *testing.T) {
	r, err := stages.Of(stages.Input{Stations: at([2]string{"0", "20"}, [2]string{"50", "10"}, [2]string{"80", "1in"})})
	if err != nil {
		t.Fatal(err)
	}
	published.Works(t, r.Sheet())
}

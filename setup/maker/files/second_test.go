package files_test

import (
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/files"
	"setover/setup/maker/part"
)

func mm(text string) units.Length { return units.MustLength(text) }

// same reports whether a size is known and is that one.
func same(l *units.Length, text string) bool { return l != nil && l.Equal(mm(text)) }

// tolerance words a tolerance: its fit, or its deviations in mm.
func tolerance(t *part.Tolerance) string {
	switch {
	case t == nil:
		return "general"
	case t.Fit != "":
		return t.Fit
	}
	return t.Upper.Decimal().String() + " " + t.Lower.Decimal().String()
}

// What a part file of the second edition says is kept as it is meant.
func TestSecondPart(t *testing.T) {
	p, w, err := files.Part("testdata/format/second-part.yaml")
	if err != nil || len(w) > 0 {
		t.Fatal(err, w)
	}
	r := p.Round
	for name, ok := range map[string]bool{
		"general": p.General == part.Fine,
		"stock":   r.Stock.Shape == part.Tube && r.Stock.Size.Equal(mm("38")) && r.Stock.Bore.Equal(mm("6")),
		"centres": r.Centres == part.RemoveCentres,
		"chamfer": len(r.Chamfers) == 2 && r.Chamfers[1].Z.Equal(mm("20")) && r.Chamfers[1].Size.Equal(mm("0.5")),
		"flats":   r.Facets[0].Sides == 2 && r.Facets[0].Across.Equal(mm("10")) && !r.Facets[0].Corners,
		"at":      same(r.Limits[0].Z, "7") && r.Limits[0].From == nil,
		"length":  same(r.Limits[3].From, "0") && same(r.Limits[3].To, "124") && r.Limits[3].Z == nil,
		"angle":   r.Limits[4].Angle.Deg() == 4.0/60 && r.Limits[4].Tol == nil,
		"places":  r.Limits[0].Tol.At.Line == 30 && r.Bores[1].Tol.At.Line == 21 && r.Limits[3].At.Line == 33,
	} {
		if !ok {
			t.Errorf("%s is not as it was written", name)
		}
	}
	for i, want := range []string{"h6", "0.02 -0.02", "0.02 0", "0.1 -0.1", "general"} {
		if got := tolerance(r.Limits[i].Tol); got != want {
			t.Errorf("limit %d: %s, want %s", i+1, got, want)
		}
	}
	holes := tolerance(r.Holes[0].Tol) + ", " + tolerance(r.Rows[0].Tol)
	bores := tolerance(r.Bores[0].Tol) + ", " + tolerance(r.Bores[1].Tol) + ", " + tolerance(r.Bores[2].Tol)
	if holes != "0.02 0, H8" || bores != "H7, 0.05 -0.05, general" {
		t.Errorf("holes %s; bores %s", holes, bores)
	}
}

// What a shop file of the second edition says is kept, in inches and in other
// spellings.
func TestSecondShop(t *testing.T) {
	s, w, err := files.Shop("testdata/format/second-shop.yaml")
	if err != nil || len(w) > 0 {
		t.Fatal(err, w)
	}
	l := s.Lathe
	for name, ok := range map[string]bool{
		"units: inch":     s.Display == units.Inch,
		"3/4hp":           l.Motor.Watts() == 0.75*745.7,
		"8TPI":            l.Leadscrew.Equal(units.MustPitch("3.175mm")),
		"spindle_bore":    same(l.SpindleBore, "20.32"),
		"between_centers": same(l.BetweenCentres, "609.6"),
		"range":           l.Chuck.Range.From.Equal(mm("1.5875")) && l.Chuck.Range.To.Equal(mm("101.6")),
		"through":         same(l.Chuck.Through, "22.225"),
		"four_jaw": l.FourJaw.Jaws == 4 && l.FourJaw.Diameter.Equal(mm("127")) &&
			l.FourJaw.Range.To.Equal(mm("127")),
		"soft_jaws":   l.SoftJaws,
		"mandrels":    len(l.Mandrels) == 3 && l.Mandrels[2].Equal(mm("12.7")),
		"center_nose": same(l.CentreNose, "12.7"),
		"carriage": l.Carriage.Lead.Equal(mm("20.32")) && l.Carriage.Divisions == 100 &&
			l.Carriage.Unit == units.Inch,
		"parting": s.Parting.Blade.Equal(mm("2.032")) && same(s.Parting.Most, "25.4") &&
			same(s.Parting.Reach, "15.24"),
		"power_feed":    l.PowerFeed && s.Mill.PowerFeed && s.DrillPress.PowerFeed,
		"center_drills": s.CentreDrills[0].Equal(mm("1.016")),
		"round": s.Stock[0].Shape == part.RoundBar && s.Stock[0].Size.Equal(mm("38.1")) &&
			same(s.Stock[0].Length, "508"),
		"hex": s.Stock[1].Shape == part.Hex && s.Stock[1].Material == "low-carbon-steel" &&
			s.Stock[1].Length == nil,
		"square": s.Stock[2].Shape == part.Square && s.Stock[2].Size.Equal(mm("19.05")),
		"tube":   s.Stock[3].Shape == part.Tube && s.Stock[3].Bore.Equal(mm("20.32")),
	} {
		if !ok {
			t.Errorf("%s is not as it was written", name)
		}
	}
	first, _, err := files.ReadShop("f", []byte(shopHead+"parting_blade: 2\n"))
	if err != nil || !first.Parting.Blade.Equal(mm("2")) || first.Parting.Most != nil || first.Lathe != nil {
		t.Errorf("parting_blade: %+v %v", first.Parting, err)
	}
	bare, _, err := files.ReadShop("f", []byte(shopHead+"lathe: {}\n"))
	if err != nil || bare.Parting != nil || bare.Lathe.FourJaw != nil || bare.Lathe.SoftJaws || bare.Stock != nil {
		t.Errorf("a bare shop owns something: %+v %v", bare, err)
	}
}

// In a file in inches tolerances, chamfers and flats are in inches too.
func TestSecondInches(t *testing.T) {
	p, w, err := files.ReadPart("f", []byte("format: 1\npart: P\nunits: inches\nmaterial: brass\nround:\n"+
		"  stock: {tube: [1, 1/4]}\n  profile: [[0, 0.75], [2, 0.75]]\n"+
		"  chamfers: [{at: 2, size: 1/32}]\n  facets: [{sides: 2, from: 0, to: 0.5, across: 5/8}]\n"+
		"  bores: [{from: left, dia: 1/4, through: true, tol: [+0.001, 0]}]\n"+
		"  limits: [{at: 1, tol: 0.001}, {at: 0.25, tol: 0.02mm}]\n"))
	if err != nil || len(w) > 0 {
		t.Fatal(err, w)
	}
	r := p.Round
	if !r.Stock.Size.Equal(mm("25.4")) || !r.Stock.Bore.Equal(mm("6.35")) || !r.Chamfers[0].Size.Equal(mm("0.79375")) ||
		!r.Facets[0].Across.Equal(mm("15.875")) || tolerance(r.Bores[0].Tol) != "0.0254 0" ||
		tolerance(r.Limits[0].Tol) != "0.0254 -0.0254" || tolerance(r.Limits[1].Tol) != "0.02 -0.02" {
		t.Errorf("%+v", r)
	}
}

// One bar in its several spellings, and centres beside round.
func TestBars(t *testing.T) {
	for text, want := range map[string]part.Stock{
		"38":               part.RoundStock(mm("38")),
		"1.5in":            part.RoundStock(mm("38.1")),
		"{round: 38}":      part.RoundStock(mm("38")),
		"{hex: 7/8in}":     {Shape: part.Hex, Size: mm("22.225")},
		"{square: 25}":     {Shape: part.Square, Size: mm("25")},
		"{round: 1-1/2in}": part.RoundStock(mm("38.1")),
	} {
		p, _, err := files.ReadPart("f", []byte(roundHead+"  stock: "+text+"\n"))
		if err != nil || p.Round.Stock.Shape != want.Shape || !p.Round.Stock.Size.Equal(want.Size) ||
			!p.Round.Stock.Bore.Equal(want.Bore) {
			t.Errorf("%s: %+v %v", text, p.Round.Stock, err)
		}
	}
	for _, text := range []string{roundHead + "  centres: remove\n", roundHead + "centers: remove\n"} {
		p, _, err := files.ReadPart("f", []byte(text))
		if err != nil || p.Round.Centres != part.RemoveCentres {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// Every key of the second edition, wrong: of another type, without its unit,
// against another key.
func TestSecondRefusals(t *testing.T) {
	lathe := func(text string) string { return shopHead + "lathe: {" + text + "}\n" }
	round := func(text string) string { return roundHead + "  " + text + "\n" }
	for _, tc := range []struct{ name, text, want string }{
		{"spindle_bore", lathe("spindle_bore: 0"), "spindle_bore: 0: a size must be above 0"},
		{
			"spindle_bore of no length", lathe("spindle_bore: 20W"),
			"spindle_bore: W: not a unit of length in 20W: write mm, cm, um, in or thou",
		},
		{"a range of one", lathe("chuck: {diameter: 9, jaws: 3, range: 2}"), "range: must be [smallest, largest]"},
		{
			"a range of three", lathe("chuck: {diameter: 9, jaws: 3, range: [2, 3, 4]}"),
			"range: 3 values: must be [smallest, largest]",
		},
		{
			"a range turned round", lathe("chuck: {diameter: 9, jaws: 3, range: [100, 2]}"),
			"range: 2 mm: must be larger than the smallest, 100 mm",
		},
		{"through", lathe("chuck: {diameter: 9, jaws: 3, through: -1}"), "through: -1: a size must be above 0"},
		{
			"a four-jaw's jaws", lathe("four_jaw: {diameter: 9, jaws: 4}"),
			"jaws: unknown key: the keys here are diameter, jaw_length, jaw_circle, max_rpm, range, through",
		},
		{"a four-jaw without its size", lathe("four_jaw: {range: [2, 9]}"), "diameter: is needed here: of its body"},
		{"soft_jaws", lathe("soft_jaws: 3"), "soft_jaws: 3: write true or false"},
		{"mandrels", lathe("mandrels: 6"), "mandrels: must be a list, such as [a, b]"},
		{"a mandrel of nothing", lathe("mandrels: [6, 0]"), "mandrels: 0: a size must be above 0"},
		{"centre_nose", lathe("centre_nose: [12]"), "centre_nose: must be a length, not a list or a group of keys"},
		{
			"a key in two spellings", shopHead + "lathe:\n  center_nose: 12\n  centre_nose: 12\n",
			"centre_nose: is another spelling of centre_nose, which stands here too: say it once",
		},
		{"carriage", lathe("carriage: {lead: 20}"), "divisions: is needed here: marks round the dial"},
		{
			"a carriage that counts on the diameter", lathe("carriage: {lead: 20, divisions: 100, reads: diameter}"),
			"reads: unknown key: the keys here are lead, divisions, unit",
		},
		{"parting", lathe("parting: 2"), "parting: must be a group of keys"},
		{"a blade that is not said", lathe("parting: {most: 25}"), "blade: is needed here: width of the blade"},
		{
			"two blades", shopHead + "parting_blade: 2\nlathe: {parting: {blade: 2}}\n",
			"parting_blade: and parting under lathe: write the blade there alone",
		},
		{"power_feed", lathe("power_feed: fast"), "power_feed: fast: write true or false"},
		{"the mill's", shopHead + "mill: {power_feed: 1}\n", "power_feed: 1: write true or false"},
		{"the drill press's", shopHead + "drill_press: {power_feed: 1}\n", "power_feed: 1: write true or false"},
		{
			"a bar without a shape", shopHead + "stock: [{material: brass}]\n",
			"stock: needs its shape and size: one of round, hex, square, tube",
		},
		{
			"a bar of two shapes", shopHead + "stock: [{material: brass, hex: 3, round: 4}]\n",
			"stock: has two shapes: write one of round, hex, square, tube",
		},
		{
			"a bar of nothing", shopHead + "stock: [{round: 38}]\n",
			"material: is needed here: what it is made of, such as free-cutting-brass",
		},
		{"a bar of no material", shopHead + "stock: [{round: 38, material: brasss}]\n", ""},
		{
			"a tube without its hole", shopHead + "stock: [{tube: [38], material: brass}]\n",
			"tube: 1 value: must be [outside, bore]",
		},
		{
			"a tube turned inside out", shopHead + "stock: [{tube: [20, 38], material: brass}]\n",
			"tube: 38 mm: must be smaller than the outside, 20 mm",
		},

		{"general", partHead + "general: middling\n", ""},
		{"centres", round("centres: keep"), "centres: keep: write remove"},
		{"centres of a block", blockHead + "centres: remove\n", "centres: are those of a turned part: a block has none"},
		{
			"centres twice", round("centres: remove") + "centres: remove\n",
			"centres: stands here and under round: say it once",
		},
		{
			"a part's bar of two shapes", round("stock: {hex: 30, square: 30}"),
			"stock: has two shapes: write one of round, hex, square, tube",
		},
		{"a part's bar as a list", round("stock: [38, 20]"), "stock: must be a length, not a list or a group of keys"},
		{
			"a fit of no grade", round("bores: [{from: left, dia: 6, depth: 9, fit: H}]"),
			"fit: H: not a fit: write the letter and the grade of ISO 286, such as H7",
		},
		{
			"a fit of no letter", round("bores: [{from: left, dia: 6, depth: 9, fit: 7}]"),
			"fit: 7: not a fit: write the letter and the grade of ISO 286, such as H7",
		},
		{
			"a letter that there is not", round("limits: [{at: 3, fit: i6}]"),
			"fit: i6: not a fit: write the letter and the grade of ISO 286, such as h6",
		},
		{
			"a grade that there is not", round("limits: [{at: 3, fit: h19}]"),
			"fit: h19: not a fit: write the letter and the grade of ISO 286, such as h6",
		},
		{
			"a hole's and a shaft's", round("limits: [{at: 3, fit: H7/g6}]"),
			"fit: H7/g6: not a fit: write the letter and the grade of ISO 286, such as h6",
		},
		{
			"letters of two kinds", round("limits: [{at: 3, fit: Js6}]"),
			"fit: Js6: not a fit: write the letter and the grade of ISO 286, such as h6",
		},
		{"a fit and a tolerance", round("holes: [{at: 9, dia: 4, fit: H7, tol: 0.1}]"), "tol: and fit: write one of them"},
		{"no tolerance at all", round("holes: [{at: 9, dia: 4, tol: 0}]"), "tol: 0: a size must be above 0"},
		{"less than none", round("holes: [{at: 9, dia: 4, tol: -0.1}]"), "tol: -0.1: a size must be above 0"},
		{
			"one of two", round("rows: [{from: 9, dia: 4, count: 2, pitch: 6, tol: [0.1]}]"),
			"tol: 1 value: must be one length, or [upper, lower]",
		},
		{
			"turned round", round("holes: [{at: 9, dia: 4, tol: [0, +0.02]}]"),
			"tol: the upper deviation comes first and is larger than the lower one: [+0.02, 0]",
		},
		{
			"of a block's hole", blockHead + "  holes: [{at: [9, 9], dia: 4, tol: wide}]\n",
			"tol: wide: not a length: write 12.5mm, 0.5in, 3/8in, 1-3/8in or 10thou",
		},
		{"a limit of nothing", round("limits: [{tol: 0.1}]"), "at: needs at for a diameter, or from and to"},
		{
			"a limit of both", round("limits: [{at: 3, from: 0, to: 50, tol: 0.1}]"),
			"at: and from, to: at is for a diameter, from and to for a length or a taper",
		},
		{"half a length", round("limits: [{from: 3, tol: 0.1}]"), "to: from and to belong together"},
		{"a diameter without", round("limits: [{at: 3}]"), "tol: needs fit or tol"},
		{
			"a length without", round("limits: [{from: 0, to: 50}]"),
			"tol: needs tol for a length, angle or gauge for a taper",
		},
		{
			"two at once", round("limits: [{from: 0, to: 50, tol: 0.1, angle: 4'}]"),
			"angle: and tol: write one of them in a limit",
		},
		{"a fit of a length", round("limits: [{from: 0, to: 50, fit: h7}]"), "fit: is of a diameter: write at"},
		{"an angle of a diameter", round("limits: [{at: 3, angle: 4'}]"), "angle: is of a taper: write from and to"},
		{"a gauge of a diameter", round("limits: [{at: 3, gauge: MT2}]"), "gauge: is of a taper: write from and to"},
		{"no angle at all", round("limits: [{from: 0, to: 50, angle: 0}]"), "angle: must be above 0"},
		{
			"a chamfer without its size", round("chamfers: [{at: 0}]"),
			"size: is needed here: along the bar, and into the radius",
		},
		{"a chamfer of nothing", round("chamfers: [{at: 0, size: 0}]"), "size: 0: a size must be above 0"},
		{
			"flats that are no distance", round("facets: [{sides: 2, from: 0, to: 9, across: 0}]"),
			"across: 0: a size must be above 0",
		},
		{
			"flats across flats", round("facets: [{sides: 2, from: 0, to: 9, across: flats}]"),
			"across: two flats need how far they are apart: across: 8",
		},
		{
			"a distance in watts", round("facets: [{sides: 2, from: 0, to: 9, across: 8W}]"),
			"across: W: not a unit of length in 8W: write mm, cm, um, in or thou",
		},
	} {
		_, err := read(tc.text)
		var list problem.List
		list.Add(err)
		if len(list) != 1 {
			t.Errorf("%s: %v", tc.name, err)
			continue
		}
		got := list[0].At.Key + ": " + list[0].Message()
		if list[0].Code == problem.UnknownKey || list[0].At.Key == "" {
			got = list[0].Message()
		}
		if tc.want != "" && got != tc.want {
			t.Errorf("%s:\ngot  %s\nwant %s", tc.name, got, tc.want)
		}
	}
}

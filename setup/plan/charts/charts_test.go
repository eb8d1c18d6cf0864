package charts_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/published"
	"setover/setup/page/sheet"
	"setover/setup/plan/charts"
)

func angle(text string) *units.Angle {
	a := units.MustAngle(text)
	return &a
}

// bench is a shop with the compound of the worked settings: a mark every half
// degree from a zero along the axis, up to 60.
func bench() *shop.Shop {
	scale := shop.Scale{Zero: shop.Along, Step: units.MustAngle("0.5deg"), Limit: angle("60deg")}
	return &shop.Shop{Name: "bench", From: "test", Lathe: &shop.Lathe{Compound: &shop.Compound{Scale: scale}}}
}

func table(t *testing.T, name string, in charts.Input, n int) sheet.Table {
	t.Helper()
	r, err := charts.Make(name, in)
	if err != nil {
		t.Fatal(err)
	}
	return r.Sheet().Tables[n]
}

// cell returns the value of a column in the row that starts with first.
func cell(t *testing.T, table sheet.Table, first sheet.Value, key string) sheet.Value {
	t.Helper()
	c := slices.IndexFunc(table.Cols, func(c sheet.Column) bool { return c.Key == key })
	for _, row := range table.Rows {
		if say.Of(row[0]) == say.Of(first) && c >= 0 {
			return row[c]
		}
	}
	t.Fatalf("no row %v with %s", first, key)
	return nil
}

func number(t *testing.T, v sheet.Value) float64 {
	t.Helper()
	switch v := v.(type) {
	case sheet.Number:
		return v.V
	case sheet.Angle:
		return v.V.Deg()
	case units.Rounded:
		return v.MM()
	}
	t.Fatalf("%v is no number", v)
	return 0
}

// Every chart is sound whatever the shop has and whatever the unit: it makes a
// table of at least three rows, its JSON has those rows, and no key is there
// twice.
func TestEveryChart(t *testing.T) {
	for _, name := range charts.Names() {
		for _, in := range []charts.Input{{}, {Shop: bench()}, {Shop: bench(), Units: units.Inch}, {Shop: &shop.Shop{}}} {
			r, err := charts.Make(name, in)
			if err != nil {
				t.Fatal(name, err)
			}
			if len(r.Fails()) > 0 {
				t.Error(name, r.Fails())
			}
			s := r.Sheet()
			if s.Title == "" || len(s.Tables) == 0 || len(s.Tables[0].Rows) < 3 {
				t.Errorf("%s: no title or no table: %v", name, s.Title)
			}
			for _, table := range s.Tables {
				seen := map[string]bool{}
				for _, c := range table.Cols {
					if c.Key == "" || c.Head == "" || seen[c.Key] {
						t.Errorf("%s: the column %q is nameless or there twice", name, c.Key)
					}
					seen[c.Key] = true
				}
			}
			text, err := json.Marshal(r)
			if err != nil {
				t.Fatal(name, err)
			}
			var v struct {
				Chart  string
				Tables []struct{ Rows []map[string]any }
			}
			if err := json.Unmarshal(text, &v); err != nil {
				t.Fatal(name, err)
			}
			if v.Chart != name || len(v.Tables) != len(s.Tables) || len(v.Tables[0].Rows) != len(s.Tables[0].Rows) {
				t.Errorf("%s: the JSON has other tables: %.200s", name, text)
			}
		}
	}
}

func TestUnknownChart(t *testing.T) {
	want := "NAME: tappers: no such chart: write " + strings.Join(charts.Names(), ", ") + "\n  did you mean tapers?"
	for _, f := range []func(string) error{
		func(n string) error { _, err := charts.Make(n, charts.Input{}); return err },
		func(n string) error { _, err := charts.NeedsShop(n); return err },
	} {
		if err := f("tappers"); err == nil || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
}

// Factors against the constants of regular polygons. The published columns are
// between the two circles; for an even number of sides the inner one is the
// size across flats, for an odd one the flat-to-corner height is half of both.
func TestPolygonFactors(t *testing.T) {
	factors := table(t, "facets", charts.Input{}, 0)
	for _, row := range published.Rows(t, "polygon_constants.csv") {
		var n int
		var circum, side float64
		fmt.Sscan(row["n"], &n)
		fmt.Sscan(row["circumdia_over_incirdia"], &circum)
		fmt.Sscan(row["side_over_circumdia(chord factor)"], &side)
		if n > 12 {
			continue
		}
		corners := circum
		if n%2 == 1 {
			corners = circum / ((1 + circum) / 2)
		}
		for key, want := range map[string]float64{
			"corners_per_flats": corners, "flats_per_corners": 1 / corners,
			"side_per_corners": side, "side_per_flats": side * corners,
		} {
			// seven decimals are printed: 5e-8 in each of at most three factors
			if got := number(t, cell(t, factors, sheet.Count(n), key)); got-want > 2e-7 || want-got > 2e-7 {
				t.Errorf("%d sides, %s: got %.7f, want %.7f", n, key, got, want)
			}
		}
	}
	if len(factors.Rows) != 10 {
		t.Errorf("%d rows, want 3 to 12 sides", len(factors.Rows))
	}
}

// Blanks: a hexagon of 10 mm sits in 11.547 (ISO 272 prints e = 11.55 as the
// theoretical corner size; 2/sqrt(3) by hand), a square of 1 in in 1.41422,
// never rounded down.
func TestBlanks(t *testing.T) {
	for _, tc := range []struct {
		unit              units.Unit
		flats, key, shown string
	}{
		{units.MM, "10mm", "blank_6_mm", "11.548"},
		{units.MM, "20mm", "blank_8_mm", "21.648"},
		{units.Inch, "1in", "blank_4_mm", "1.4143"},
		{units.Inch, "1/2in", "blank_6_mm", "0.5774"},
	} {
		blanks := table(t, "facets", charts.Input{Units: tc.unit}, 1)
		v := cell(t, blanks, units.MustLength(tc.flats).Nearest(), tc.key).(units.Rounded)
		places := int32(3)
		if tc.unit == units.Inch {
			places = 4
		}
		if got := v.Fixed(tc.unit, places, v.Dir); got != tc.shown {
			t.Errorf("%s %s: %s, want %s", tc.flats, tc.key, got, tc.shown)
		}
	}
}

// Half angles of the chart against a table of tapers and angles. The table was
// worked from rounded angles and is out by up to two seconds: atan(1/96) is
// 0 35 48.5 and atan(1/32) is 1 47 23.7. Ours is the definition.
func TestTapers(t *testing.T) {
	tapers := table(t, "tapers", charts.Input{Shop: bench()}, 0)
	found := 0
	for _, row := range published.Rows(t, "taper_per_foot_angles_table13.csv") {
		for _, tc := range []struct{ name, perFoot, printed, ours string }{
			{"pin, inch, 1:48", "1/4", "0 35 48", "0°35'49\""},
			{"NPT, 1:16", "3/4", "1 47 22", "1°47'24\""},
		} {
			if row["taper_in_per_ft"] != tc.perFoot {
				continue
			}
			found++
			if row["half_dms"] != tc.printed {
				t.Errorf("%s: the table prints %s, not %s", tc.name, row["half_dms"], tc.printed)
			}
			half := number(t, cell(t, tapers, sheet.Text(tc.name), "half_angle_deg"))
			if got := units.Degrees(half).DMS(true); got != tc.ours {
				t.Errorf("%s: half angle %s, want %s (%s)", tc.name, got, tc.ours, row["source"])
			}
		}
	}
	if found != 2 {
		t.Errorf("the table has %d of the 2 tapers", found)
	}
	for _, tc := range []struct {
		name, key string
		want      string
	}{
		{"7/24", "half_angle_deg", "8.2971"},                  // atan(7/48), ISO 7388 shank
		{"Jarno, metric 1:20", "taper_per_foot_in", "0.6000"}, // Lobben (1899) p. 477: Jarno is 0.6 in per foot
		{"7/24", "mark_deg", "8.5000"},                        // by hand: of 8 and 8.5 the nearer to 8.2971
		{"7/24", "diameter_error_mm", "0.7235"},               // by hand: 200*(0.149451 - 0.145833)
		{"MT2", "taper_per_foot_in", "0.5994"},                // tapers.csv, Dimensions of Standard Tapers
		{"MT3", "half_angle_deg", "1.4377"},                   // tapers.csv, Dimensions of Standard Tapers
		{"1:3", "mark_deg", "9.5000"},                         // by hand: of 9 and 9.5 the nearer to 9.4623
		{"pin, metric, 1:50", "mark_deg", "0.5000"},           // by hand: of 0.5 and 1 the nearer to 0.5729
		{"60° included", "reading_deg", "30.0000"},            // half of 60
		{"90° included", "included_angle_deg", "90.0000"},     // as it is called
	} {
		if got := fmt.Sprintf("%.4f", number(t, cell(t, tapers, sheet.Text(tc.name), tc.key))); got != tc.want {
			t.Errorf("%s: %s is %s, want %s", tc.name, tc.key, got, tc.want)
		}
	}
	// Off the scale, too slight for it, or without a compound, there is no mark.
	coarse := bench()
	coarse.Lathe.Compound.Scale.Step = units.MustAngle("2deg")
	short := bench()
	short.Lathe.Compound.Scale.Limit = angle("40deg")
	for _, tc := range []struct {
		name string
		shop *shop.Shop
	}{{"90° included", short}, {"pin, metric, 1:50", coarse}, {"1:10", nil}, {"1:10", &shop.Shop{Lathe: &shop.Lathe{}}}} {
		if v := cell(t, table(t, "tapers", charts.Input{Shop: tc.shop}, 0), sheet.Text(tc.name), "mark_deg"); v != nil {
			t.Errorf("%s has the mark %v", tc.name, v)
		}
	}
	r, err := charts.Make("tapers", charts.Input{})
	if err != nil {
		t.Fatal(err)
	}
	if w := r.Sheet().Warnings; len(w) != 1 || w[0].Code != "not-checked" {
		t.Errorf("without a compound the warnings are %v", w)
	}
}

// Change gears of a lathe with a 3 mm leadscrew: by hand, 1 mm is a third and
// 20 tpi, 1.27 mm, is 127/300; 20/50 x 127/120 is that.
func TestChangeGears(t *testing.T) {
	screw, space := units.MustPitch("3mm"), int64(3)
	in := charts.Input{Shop: &shop.Shop{Lathe: &shop.Lathe{
		Leadscrew: &screw, ChangeGears: []int{20, 20, 30, 40, 50, 60, 120, 127}, BanjoClearance: &space,
	}}}
	gears := table(t, "gears", in, 0)
	for _, tc := range []struct {
		pitch, train string
		ppm          float64
	}{{"1 mm", "20/60", 0}, {"1.5 mm", "20/40", 0}, {"20 tpi", "127/50 x 20/120", 0}} {
		row := sheet.Text(tc.pitch)
		got, ppm := cell(t, gears, row, "train"), number(t, cell(t, gears, row, "error_ppm"))
		if got != sheet.Text(tc.train) || ppm != tc.ppm {
			t.Errorf("%s: %v, %g ppm", tc.pitch, got, ppm)
		}
	}
	if v := cell(t, gears, sheet.Text("0.7 mm"), "train"); v != nil {
		t.Errorf("0.7 mm needs a wheel of seven, and has %v", v)
	}
	r, err := charts.Make("gears", charts.Input{Shop: &shop.Shop{}})
	if err != nil {
		t.Fatal(err)
	}
	if w := r.Sheet().Warnings; len(w) != 1 || w[0].Code != "not-checked" {
		t.Errorf("without a lathe the warnings are %v", w)
	}
}

// Every gauge, fraction and metric size stands in the published list at the
// size printed there, and the sizes rise.
func TestDrillSizes(t *testing.T) {
	in := charts.Input{Shop: &shop.Shop{}}
	sizes := table(t, "drill-sizes", in, 0)
	last := units.Length{}
	for _, row := range sizes.Rows {
		mm, inch := row[1].(units.Rounded), row[2].(units.Rounded)
		if !mm.Length.Equal(inch.Length) || mm.In(units.Inch) != units.MM || inch.In(units.MM) != units.Inch {
			t.Errorf("%v: the two sizes are not one", row[0])
		}
		if mm.Length.Less(last) {
			t.Errorf("%v is smaller than the one before", row[0])
		}
		last = mm.Length
	}
	check := func(name, want, source string) {
		if got := units.AsPrinted(cell(t, sizes, sheet.Text(name), "size_in").(units.Rounded).Length, want); got != want {
			t.Errorf("%s: %s, want %s (%s)", name, got, want, source)
		}
	}
	n := 0
	for _, row := range published.Rows(t, "threads/drills.csv") {
		if row["series"] == "letter" {
			check(row["name"], row["size"]+row["unit"], row["source"])
			n++
		}
	}
	if n < 26 {
		t.Errorf("%d letters were compared, want A to Z at least", n)
	}
	for _, tc := range [][2]string{
		{"No80", "0.0135in"}, {"No7", "0.2010in"}, {"No1", "0.2280in"}, {"9/32 in", "0.28125in"}, {"6.8 mm", "6.8mm"},
	} {
		check(tc[0], tc[1], "common practice, no source")
	}
}

// The drills every shop knows: ISO 2306 (M8 6.8, M10 8.5) and the trade charts
// in testdata/reference/threads/inch_tap_chart.csv (1/4-20 No7, 8-32 No29).
// Clearance: ISO 273 M8 8.4, 9 and 10 mm.
func TestTapDrills(t *testing.T) {
	metric, inch := table(t, "tap-drills", charts.Input{}, 0), table(t, "tap-drills", charts.Input{}, 1)
	for _, tc := range []struct {
		table             sheet.Table
		thread, key, want string
	}{
		{metric, "M8", "drill", "6.8 mm"},
		{metric, "M10", "drill", "8.5 mm"},
		{metric, "M10x1", "drill", "9 mm"},
		{inch, "1/4-20UNC", "drill", "No7"},
		{inch, "No8-32UNC", "drill", "No29"},
		{inch, "1/2-13UNC", "drill", "27/64 in"},
	} {
		if got := cell(t, tc.table, sheet.Text(tc.thread), tc.key); got != sheet.Text(tc.want) {
			t.Errorf("%s: %v, want %s", tc.thread, got, tc.want)
		}
	}
	for key, want := range map[string]float64{"close_mm": 8.4, "medium_mm": 9, "free_mm": 10} {
		if got := number(t, cell(t, metric, sheet.Text("M8"), key)); got != want {
			t.Errorf("M8 %s: %v, want %v", key, got, want)
		}
	}
	if first := table(t, "tap-drills", charts.Input{Units: units.Inch}, 0); first.Title != "UNC and UNF" {
		t.Errorf("an inch sheet begins with %s", first.Title)
	}
}

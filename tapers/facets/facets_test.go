package facets_test

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"setover/setup/base/units"
	"setover/setup/page/published"
	"setover/tapers/facets"
)

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

// Why a published constant is not ours: each is right in the definition and
// in the neighbouring rows.
var disagree = map[string]string{
	"poly_area_factor 4": "a misprint for 1.0: a square of side 1 has the area 1",
	"poly_area_factor 5": "cut short: 1.720477",
	"poly_area_factor 6": "cut short: 2.598076",
	"poly_area_factor 8": "cut short: 4.828427",
}

// The sizes of polygons against printed constants.
func TestPublishedConstants(t *testing.T) {
	unit := units.Millimetres(1)
	same := func(key, got, want, source string) {
		if why, known := disagree[key]; known == (got == want) {
			t.Errorf("%s: got %s; %s prints %s (noted: %q)", key, got, source, want, why)
		}
	}
	for _, row := range published.Rows(t, "polygon_constants.csv") {
		n, err := strconv.Atoi(row["n"])
		if err != nil {
			t.Fatal(err)
		}
		corners, flats, side := facets.OfCorners(n, unit), facets.OfSide(n, unit), facets.OfSide(n, unit)
		circle := facets.Polygon{Sides: n, Apothem: unit.Half()} // across the circle its flats touch
		for _, c := range []struct {
			column string
			got    float64
		}{
			{"side_over_circumdia(chord factor)", corners.Side().MM()},
			{"circumdia_over_incirdia", circle.AcrossCorners().MM()},
			{"incirdia_over_circumdia", 2 * corners.Apothem.MM()},
			{"side_over_incirdia", circle.Side().MM()},
			{"circumradius_over_side", side.AcrossCorners().MM() / 2},
			{"inradius_over_side", flats.Apothem.MM()},
		} {
			want := row[c.column]
			if got := published.Printed(c.got, want); got != want {
				t.Errorf("%d sides, %s: got %s, want %s", n, c.column, got, want)
			}
		}
		want := row["area_over_side2_published"]
		area := float64(n) * side.Apothem.MM() / 2 // n triangles on a side of 1
		same("poly_area_factor "+row["n"], published.Printed(area, want), want, row["source_of_published"])
	}
	for _, e := range published.Examples(t, "side_over_R") {
		n := int(e.Num(t, 0))
		want, _ := e.Published.Float64()
		// lengths are rounded to 1e-9 mm
		if got := facets.OfCorners(n, unit.Times(2)).Side().MM(); math.Abs(got-want) > 1e-9 {
			t.Errorf("%d sides: chord %v; %s prints %v", n, got, e.Source, want)
		}
	}
	for _, e := range published.Examples(t, "inr_over_side") {
		want := string(*e.Published)
		if got := published.Printed(facets.OfSide(int(e.Num(t, 0)), unit).Apothem.MM(), want); got != want {
			t.Errorf("apothem over side: got %s; %s prints %s", got, e.Source, want)
		}
	}
}

type point struct{ x, y float64 }

// corners returns the polygon's corners, laid out on their circle with a flat
// at the bottom.
func corners(n int, across float64) []point {
	list := make([]point, n)
	for i := range list {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / float64(n))
		list[i] = point{across / 2 * s, -across / 2 * c}
	}
	return list
}

// flatToFar returns the height of the polygon on its flat: what a calliper
// reads across it.
func flatToFar(list []point) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range list {
		low, high = math.Min(low, p.y), math.Max(high, p.y)
	}
	return high - low
}

// Polygons laid out corner by corner and measured with a calliper, 3 to 24
// sides, by each way of giving the size.
func TestLaidOut(t *testing.T) {
	for n := facets.MinSides; n <= facets.MaxSides; n++ {
		for _, in := range []facets.Input{
			{
				Flats: length("34mm"), Leave: units.MustLength("0.3mm"),
			}, {Corners: length("1.25in")}, {Side: length("7mm"), Leave: units.MustLength("0.01in")},
		} {
			in.Sides, in.From = n, "round"
			s, err := facets.SizeOf(in)
			if err != nil {
				t.Fatal(err)
			}
			list := corners(n, s.AcrossCorners.MM())
			side := math.Hypot(list[0].x-list[1].x, list[0].y-list[1].y)
			near := func(what string, got, want float64) {
				if math.Abs(got-want) > 1e-7 {
					t.Errorf("%d sides: %s is %v, laid out %v", n, what, got, want)
				}
			}
			near("across flats", s.AcrossFlats.MM(), flatToFar(list))
			near("side", s.Side.MM(), side)
			// What is left on the bottom flat and on its neighbour lifts corner 0
			// straight away from the axis, until the bottom flat is lower by that.
			lift := 1 - in.Leave.MM()/list[0].y
			near("blank", s.Blank.MM(), 2*math.Hypot(list[0].x*lift, list[0].y*lift))
			near("first flat", s.FirstReading.MM(), s.Blank.MM()/2-list[0].y)
			near("depth", s.FlatDepth.MM(), s.Blank.MM()/2+list[0].y)
		}
	}
}

// An odd polygon's flat-to-corner height is not twice the apothem.
func TestOddSides(t *testing.T) {
	s, err := facets.SizeOf(facets.Input{Sides: 3, Flats: length("30mm"), From: "round"})
	if err != nil {
		t.Fatal(err)
	}
	// A triangle 30 high: the centre stands at a third, the corners at two.
	if !s.AcrossCorners.Equal(units.Millimetres(40)) || !s.FlatDepth.Equal(units.Millimetres(10)) {
		t.Errorf("corners %v, depth %v", s.AcrossCorners.Decimal(), s.FlatDepth.Decimal())
	}
	if note := s.Sheet().Notes[0]; note != "An odd number of sides has a corner opposite each flat: the size across "+
		"flats here is the height from flat to corner." {
		t.Error(note)
	}
}

// The smallest square around a polygon, found by turning the polygon in it;
// for 8 sides the leg that leaves equal sides.
func TestFromSquare(t *testing.T) {
	for n := facets.MinSides; n <= 16; n++ {
		s, err := facets.SizeOf(facets.Input{Sides: n, Corners: length("20mm"), From: "square"})
		if err != nil {
			t.Fatal(err)
		}
		least := math.Inf(1)
		for turn := 0.0; turn < 360/float64(n); turn += 0.01 {
			half := 0.0
			for i := range n {
				sin, cos := math.Sincos((turn + 360*float64(i)/float64(n)) * math.Pi / 180)
				half = max(half, 10*math.Abs(sin), 10*math.Abs(cos))
			}
			least = min(least, 2*half)
		}
		if math.Abs(s.Blank.MM()-least) > 0.002 { // the search's step of 0.01 deg moves a corner 0.0017 mm
			t.Errorf("%d sides: square of %v, searched %v", n, s.Blank.Decimal(), least)
		}
	}
	s, err := facets.SizeOf(facets.Input{Sides: 8, Flats: length("10mm"), From: "square"})
	if err != nil {
		t.Fatal(err)
	}
	// Sides equal: 10 - 2·leg = leg·√2, so leg = 10/(2 + √2) = 2.9289.
	if got := units.AsPrinted(*s.CornerLeg, "2.9289mm"); got != "2.9289mm" || !s.Blank.Equal(units.Millimetres(10)) {
		t.Errorf("leg %s from %v", got, s.Blank.Decimal())
	}
	// With 0.4 mm left on a flat the bar is 10.8, 15.2735 from corner to corner:
	// half of that less the apothem of 5 is 2.6368.
	s, err = facets.SizeOf(facets.Input{Sides: 8, Flats: length("10mm"), From: "square", Leave: units.MustLength("0.4mm")})
	if err != nil || units.AsPrinted(*s.FlatDepth, "2.6368mm") != "2.6368mm" {
		t.Error(s.FlatDepth.Decimal(), err)
	}
}

func TestRefusals(t *testing.T) {
	for _, tc := range []struct {
		in   facets.Input
		want string
	}{
		{facets.Input{Sides: 2, Flats: length("10mm"), From: "round"}, "sides: 2: write 3 to 24 sides"},
		{facets.Input{Sides: 25, Flats: length("10mm"), From: "round"}, "sides: 25: write 3 to 24 sides"},
		{facets.Input{Sides: 8, From: "round"}, "flats: needs exactly one of flats, corners and side"},
		{
			facets.Input{Sides: 8, Flats: length("10mm"), Side: length("4mm"), From: "round"},
			"flats: flats and side: give one of them",
		},
		{facets.Input{Sides: 8, Flats: length("0mm"), From: "round"}, "flats: 0 mm: must be above 0"},
		{
			facets.Input{Sides: 8, Corners: length("10mm"), Leave: units.MustLength("-0.1mm"), From: "round"},
			"leave: -0.1 mm: cannot be negative",
		},
		{ // 20 mm across flats is 10 mm from the axis to a flat
			facets.Input{Sides: 8, Flats: length("20mm"), Leave: units.MustLength("10mm"), From: "round"},
			"leave: 10 mm: is what stays on each flat for the grinder: less than 10 mm, from the axis to the flat",
		},
		{
			facets.Input{Sides: 8, Corners: length("10mm"), From: "sqare"},
			"from: sqare: write round or square\n  did you mean square?",
		},
	} {
		if _, err := facets.SizeOf(tc.in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
	ok := facets.TaperInput{
		Sides: 8, Large: units.MustLength("34mm"), Small: units.MustLength("20mm"), Length: units.MustLength("62mm"),
		Across: "flats",
	}
	for _, tc := range []struct {
		change func(*facets.TaperInput)
		want   string
	}{
		{func(in *facets.TaperInput) { in.Sides = 1 }, "sides: 1: write 3 to 24 sides"},
		{func(in *facets.TaperInput) { in.Across = "flat" }, "across: flat: write flats or corners\n  did you mean flats?"},
		{func(in *facets.TaperInput) { in.Small = units.MustLength("-1mm") }, "small: -1 mm: cannot be negative"},
		{func(in *facets.TaperInput) { in.Small = in.Large }, "large: 34 mm: must be above 34 mm, the small end"},
		{func(in *facets.TaperInput) { in.Length = units.Length{} }, "length: 0 mm: must be above 0"},
		{func(in *facets.TaperInput) { in.Leave = units.MustLength("-1mm") }, "leave: -1 mm: cannot be negative"},
		{
			func(in *facets.TaperInput) { in.Leave = units.MustLength("17mm") },
			"leave: 17 mm: is what stays on each flat for the grinder: less than 17 mm, from the axis to the flat",
		},
		{func(in *facets.TaperInput) { in.Every = length("0.06mm") }, "every: 0.06 mm: makes more than 1000 rows"},
	} {
		in := ok
		tc.change(&in)
		if _, err := facets.Taper(in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

type vec [3]float64

func (a vec) minus(b vec) vec { return vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func (a vec) dot(b vec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func (a vec) cross(b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func (a vec) size() float64 { return math.Sqrt(a.dot(a)) }

// A tapering polygon built as a solid: the corners of both ends joined. The
// corner edge's angle to the axis, and the angle of the plane through two
// edges, are what the result says; so is every station between.
func TestTaperedSolid(t *testing.T) {
	for _, tc := range []facets.TaperInput{
		{
			Sides: 8, Large: units.MustLength("34mm"), Small: units.MustLength("20mm"), Length: units.MustLength("62mm"),
			Across: "flats",
		},
		{
			Sides: 3, Large: units.MustLength("2in"), Small: units.MustLength("0in"), Length: units.MustLength("1.5in"),
			Across: "corners",
		},
		{
			Sides: 5, Large: units.MustLength("40mm"), Small: units.MustLength("39mm"), Length: units.MustLength("250mm"),
			Across: "flats",
		},
		{
			Sides: 24, Large: units.MustLength("60mm"), Small: units.MustLength("10mm"), Length: units.MustLength("20mm"),
			Across: "corners",
		},
	} {
		r, err := facets.Taper(tc)
		if err != nil {
			t.Fatal(err)
		}
		first, last := r.Stations[0], r.Stations[len(r.Stations)-1]
		at := func(across units.Length, z float64) (list []vec) {
			for _, p := range corners(tc.Sides, across.MM()) {
				list = append(list, vec{p.x, p.y, z})
			}
			return list
		}
		l := tc.Length.MM()
		big, little := at(first.AcrossCorners, 0), at(last.AcrossCorners, l)
		edge := little[0].minus(big[0])
		half := math.Acos(edge[2]/edge.size()) * 180 / math.Pi
		if math.Abs(half-r.CornerHalfAngle.Deg()) > 1e-6 {
			t.Errorf("%d sides: corner half angle %v, the solid's %v", tc.Sides, r.CornerHalfAngle, half)
		}
		// Corner 0 and the last one stand either side of the bottom flat.
		n := edge.cross(big[tc.Sides-1].minus(big[0]))
		facet := math.Asin(math.Abs(n[2])/n.size()) * 180 / math.Pi
		if math.Abs(facet-r.FacetHalfAngle.Deg()) > 1e-6 {
			t.Errorf("%d sides: facet half angle %v, the solid's %v", tc.Sides, r.FacetHalfAngle, facet)
		}
		if facet >= half {
			t.Errorf("%d sides: the flats rise by %v, the corners by %v", tc.Sides, facet, half)
		}
		for _, s := range r.Stations {
			f := s.At.MM() / l
			list := make([]point, tc.Sides)
			for i := range list {
				list[i] = point{big[i][0] + f*(little[i][0]-big[i][0]), big[i][1] + f*(little[i][1]-big[i][1])}
			}
			width := math.Hypot(list[0].x-list[1].x, list[0].y-list[1].y)
			if math.Abs(flatToFar(list)-s.AcrossFlats.MM()) > 1e-6 || math.Abs(width-s.Width.MM()) > 1e-6 {
				t.Errorf(
					"%d sides at %v: %v across and %v wide, the solid's %v and %v", tc.Sides, s.At.Decimal(),
					s.AcrossFlats.Decimal(), s.Width.Decimal(), flatToFar(list), width,
				)
			}
		}
	}
}

// An octagon of 34 mm across flats with 0.3 mm left on each flat (the sizes of
// a drawing; the constants are those of polygon_constants.csv).
func ExampleSizeOf() {
	flats := units.MustLength("34mm")
	s, err := facets.SizeOf(facets.Input{Sides: 8, Flats: &flats, Leave: units.MustLength("0.3mm"), From: "round"})
	if err != nil {
		panic(err)
	}
	mm := func(l units.Length, dir units.Direction) string { return l.Fixed(units.MM, 3, dir) }
	fmt.Printf(
		"turn to %s, first flat reads %s, flats %s wide\n", mm(s.Blank, units.Up), mm(*s.FirstReading, units.Nearest),
		mm(s.Side, units.Nearest),
	)
	// Output: turn to 37.451, first flat reads 35.725, flats 14.083 wide
}

// Less is left than what is from the axis to the flat: 9.9 mm on 20 mm across flats.
func TestLeavesLess(t *testing.T) {
	in := facets.Input{Sides: 8, Flats: length("20mm"), Leave: units.MustLength("9.9mm"), From: "round"}
	if _, err := facets.SizeOf(in); err != nil {
		t.Error(err)
	}
	if _, err := facets.ProgressOf(facets.ProgressInput{
		Sides: 8, Flats: units.MustLength("20mm"), Leave: length("50mm"),
	}); err == nil {
		t.Error("50 mm stay on 20 mm across flats")
	}
}

package facets_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/tapers/facets"
)

// fixed prints lengths in one unit, in a row.
func fixed(u units.Unit, list ...units.Length) string {
	var texts []string
	for _, l := range list {
		texts = append(texts, l.Fixed(u, 4, units.Nearest))
	}
	return strings.Join(texts, " ")
}

// Two tapering polygons whose flats come in by 5 in 12.
var (
	squareTaper = facets.TaperInput{
		Sides: 4, Large: units.MustLength("30mm"), Small: units.MustLength("20mm"), Length: units.MustLength("12mm"),
		Across: "flats", Every: length("6mm"),
	}
	hexagonTaper = facets.TaperInput{
		Sides: 6, Large: units.MustLength("1in"), Small: units.MustLength("0.4in"), Length: units.MustLength("0.72in"),
		Across: "flats", Leave: units.MustLength("0.02in"), Every: length("0.36in"),
	}
)

// Tapering polygons by hand. The square's flats come in by 15 - 10 = 5 over 12:
// atan 5/12 = 22.6199 deg, and its corners by 5·√2: 30.5090. Corners and turned
// size are √2 of the size across flats, a flat's depth is what is over on one
// side. The hexagon comes in by 0.5 - 0.2 = 0.3 over 0.72, 5/12 again; over cos
// 30 that is 25.6934 deg. Across corners is 1/cos 30 = 1.1547 of the size
// across flats, turned to (1 + 0.04)·1.1547 = 1.2009, and a flat is tan 30 of
// it: 0.5774. The point is a regular tetrahedron with edges of 60: the base's
// corners stand on a circle of 120/√3, its height is 60·√(2/3); the faces rise
// from the axis by asin 1/3 = 19.4712 deg and the edges by atan 1/√2 = 35.2644.
func TestTaperByHand(t *testing.T) {
	for _, tc := range []struct {
		name     string
		in       facets.TaperInput
		unit     units.Unit
		angles   string   // of the flats and of the corners
		stations []string // flats, corners, turn to, flat width, flat depth
	}{
		{"square", squareTaper, units.MM, "22.6199 30.5090", []string{
			"30.0000 42.4264 42.4264 30.0000 6.2132", "25.0000 35.3553 35.3553 25.0000 5.1777",
			"20.0000 28.2843 28.2843 20.0000 4.1421",
		}},
		{"hexagon", hexagonTaper, units.Inch, "22.6199 25.6934", []string{
			"1.0000 1.1547 1.2009 0.5774 0.1004", "0.7000 0.8083 0.8545 0.4041 0.0772",
			"0.4000 0.4619 0.5081 0.2309 0.0540",
		}},
		{"tetrahedron", facets.TaperInput{
			Sides: 3, Large: units.MustLength("69.282032303mm"), Length: units.MustLength("48.989794856mm"),
			Across: "corners", Every: length("24.494897428mm"),
		}, units.MM, "19.4712 35.2644", []string{
			"51.9615 69.2820 69.2820 60.0000 17.3205", "25.9808 34.6410 34.6410 30.0000 8.6603",
			"0.0000 0.0000 0.0000 0.0000 0.0000",
		}},
	} {
		r, err := facets.Taper(tc.in)
		if err != nil {
			t.Fatal(tc.name, err)
		}
		if got := fmt.Sprintf("%.4f %.4f", r.FacetHalfAngle.Deg(), r.CornerHalfAngle.Deg()); got != tc.angles {
			t.Errorf("%s: got %s deg, want %s", tc.name, got, tc.angles)
		}
		if len(r.Stations) != len(tc.stations) {
			t.Fatalf("%s: %d stations", tc.name, len(r.Stations))
		}
		for i, s := range r.Stations {
			got := fixed(tc.unit, s.AcrossFlats, s.AcrossCorners, s.Blank, s.Width, s.FlatDepth)
			if got != tc.stations[i] {
				t.Errorf("%s, station %d: got %s, want %s", tc.name, i+1, got, tc.stations[i])
			}
		}
	}
}

// The cradle of both polygons by hand. The cosine of atan 5/12 is 12/13, so the
// square's axis stands 15·12/13 = 13.8462 and 10·12/13 = 9.2308 over its flat,
// and the hexagon's 0.5·12/13 and 0.2·12/13. The first flat reads half the
// round and the apothem: 15·√2 + 15 and 10·√2 + 10; (0.52 and 0.22)·1.1547 +
// 0.5 and 0.2. A wheel of 200 hollows 30²/(8·100) and 20²/800; one of 8 in a
// flat of tan 30 of an inch by (1/3)/32, and one of 0.4 of that by 0.16 of it.
func TestJigByHand(t *testing.T) {
	for _, tc := range []struct {
		in     facets.TaperInput
		wheel  string
		unit   units.Unit
		angles string // of the cradle, and from flat to flat
		want   string // the stops and their difference, the first readings, the hollows
	}{
		{
			squareTaper, "200mm", units.MM, "22.6199 90.0000",
			"13.8462 9.2308 4.6154 36.2132 24.1421 1.1250 0.5000",
		},
		{
			hexagonTaper, "8in", units.Inch, "22.6199 60.0000",
			"0.4615 0.1846 0.2769 1.1004 0.4540 0.0104 0.0017",
		},
	} {
		r, err := facets.Jig(facets.JigInput{TaperInput: tc.in, Wheel: length(tc.wheel)})
		if err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprintf("%.4f %.4f", r.Cradle.Deg(), r.Index.Deg()); got != tc.angles {
			t.Errorf("%d sides: got %s deg, want %s", tc.in.Sides, got, tc.angles)
		}
		got := fixed(tc.unit, r.StopLarge, r.StopSmall, r.Difference, r.FirstLarge, r.FirstSmall, *r.HollowLarge,
			*r.HollowSmall)
		if got != tc.want {
			t.Errorf("%d sides: got %s, want %s", tc.in.Sides, got, tc.want)
		}
	}
}

// A growing flat by hand, in triangles of 7-24-25 and 3-4-5: in a round of the
// radius 25 a flat 24 from the axis is 2·7 wide, 20 from it 2·15 and 15 from it
// 2·20. A square's neighbours, 15 from the axis, leave 30 of it and no more. A
// hexagon's, 20 from the axis, leave 2·(20 - 24/2)/sin 60 = 18.475 at 24 from
// it, which is more than the round does, and 2·(20 - 10)/sin 60 = 23.094 at 20.
// In a round of the radius 1 in a flat 0.8 from the axis is 2·0.6 wide, and
// 2·(0.8 - 0.4)/sin 60 = 0.9238 between its neighbours.
func TestProgressByHand(t *testing.T) {
	for _, tc := range []struct {
		sides              int
		blank, flats, step string
		unit               units.Unit
		row                int
		want               string // depth, over the round opposite, first flats wide, last ones wide
	}{
		{4, "50mm", "30mm", "1mm", units.MM, 1, "1.0000 49.0000 14.0000 14.0000"},
		{4, "50mm", "30mm", "1mm", units.MM, 5, "5.0000 45.0000 30.0000 30.0000"},
		{4, "50mm", "30mm", "1mm", units.MM, 10, "10.0000 40.0000 40.0000 30.0000"},
		{6, "50mm", "40mm", "1mm", units.MM, 1, "1.0000 49.0000 14.0000 14.0000"},
		{6, "50mm", "40mm", "1mm", units.MM, 5, "5.0000 45.0000 30.0000 23.0940"},
		{6, "2in", "1.6in", "0.2in", units.Inch, 1, "0.2000 1.8000 1.2000 0.9238"},
	} {
		r, err := facets.ProgressOf(facets.ProgressInput{
			Sides: tc.sides, Blank: length(tc.blank), Flats: units.MustLength(tc.flats), Step: length(tc.step),
		})
		if err != nil {
			t.Fatal(err)
		}
		if tc.row > len(r.Steps) {
			t.Errorf("%d sides in %s: %d rows", tc.sides, tc.blank, len(r.Steps))
			continue
		}
		s := r.Steps[tc.row-1]
		if got := fixed(tc.unit, s.Depth, s.Reading, s.Width, s.WidthLast); got != tc.want {
			t.Errorf("%d sides in %s: got %s, want %s", tc.sides, tc.blank, got, tc.want)
		}
	}
}

// Planes that slope two ways, by hand. A cube stood on its corner slopes by 45
// deg both ways: its steepest rise is atan √2, and the second tilt atan 1/√2;
// where it falls along x, both stand on the other side. Slopes of 30 and 45
// deg: tan² is 1/3 and 1, so tan tilt is 2/√3, tan rotation √3 and the second
// tilt's cos 30; the other way round 1/√3·1/√2. Slopes of 3 in 4 and 1 in 1:
// tan tilt is 5/4, tan rotation 4/3 and the second tilt's 1·4/5, the other way
// round 3/4·1/√2.
func TestSlopeByHand(t *testing.T) {
	for _, tc := range []struct {
		x, y units.Angle
		want string // tilt, rotation, the second tilts
	}{
		{units.Degrees(45), units.Degrees(45), "54.7356 45.0000 35.2644 35.2644"},
		{units.Degrees(-45), units.Degrees(45), "54.7356 135.0000 35.2644 -35.2644"},
		{units.Degrees(30), units.Degrees(45), "49.1066 60.0000 40.8934 22.2077"},
		{units.Radians(math.Atan2(3, 4)), units.Degrees(45), "51.3402 53.1301 38.6598 27.9384"},
	} {
		r, err := facets.SlopeOf(facets.SlopeInput{AlongX: tc.x, AlongY: tc.y})
		if err != nil {
			t.Fatal(err)
		}
		got := fmt.Sprintf("%.4f %.4f %.4f %.4f", r.Tilt.Deg(), r.Rotation.Deg(), r.Second.Deg(), r.OtherSecond.Deg())
		if got != tc.want || r.First != tc.x || r.OtherFirst != tc.y {
			t.Errorf("%v and %v: got %s, first %v and %v; want %s", tc.x, tc.y, got, r.First, r.OtherFirst, tc.want)
		}
	}
}

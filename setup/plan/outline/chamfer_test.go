package outline_test

import (
	"testing"

	"setover/setup/maker/part"
)

// A chamfer of 2 takes 4 off the diameter at its edge. A hexagon of 17 across
// flats is 19.6299 across its corners.
func TestChamfers(t *testing.T) {
	for _, tc := range []struct {
		name, profile, z, size string
		sides                  int
		want                   string // its span, its diameters, where it ends
	}{
		{"the left end", "0:16 20:16 20:20 60:20", "0", "2", 0, "0 2: 12 16, 2"},
		{"the right end", "0:16 20:16 20:20 60:20", "60", "2", 0, "58 60: 20 16, 58"},
		{"a shoulder that rises to the right", "0:16 20:16 20:20 60:20", "20", "2", 0, "20 22: 16 20, 22"},
		{"one that falls", "0:20 40:20 40:16 60:16", "40", "2", 0, "38 40: 20 16, 38"},
		{"in inches", "0:1in 2in:1in", "0", "1/8in", 0, "0 3.175: 19.05 25.4, 3.175"},
		// the side rises by 5/60 = 1/12, and a line of 45 deg meets it at 2/(1 - 1/12) = 24/11, where it is
		// 10 + 24/11/6 = 10.3636 thick; where it falls by that at 2/(1 + 1/12) = 24/13, 20 - 24/13/6 = 19.6923
		{"on a taper that rises", "0:10 60:20", "0", "2", 0, "0 2.1818: 6 10.3636, 2.1818"},
		{"on a taper that falls", "0:20 60:10", "0", "2", 0, "0 1.8462: 16 19.6923, 1.8462"},
		{"on a hexagon", "0:17 60:17", "0", "1", 6, "0 1: 17.6299 19.6299, 1"},
		{"no edge", "0:16 20:16 20:20 60:20", "30", "2", 0, ""},
	} {
		r := &part.Round{Profile: points(tc.profile), Chamfers: []part.Chamfer{{Z: mm(tc.z), Size: mm(tc.size)}}}
		if tc.sides > 0 {
			r.Facets = []part.Facets{{Sides: tc.sides, To: mm("60")}}
		}
		got := ""
		for _, c := range must(t, r).Chamfers {
			got = digits(c.Span.From, c.Span.To) + ": " + digits(c.Left, c.Right) + ", " + digits(c.Inner())
			if c.ID() != "chamfer-1" {
				t.Errorf("%s: id %s", tc.name, c.ID())
			}
		}
		if got != tc.want {
			t.Errorf("%s: %q, want %q", tc.name, got, tc.want)
		}
	}
}

// The outside at z, with the chamfers on it.
func TestDiaAtAChamfer(t *testing.T) {
	o := must(t, &part.Round{
		Profile:  points("0:16 20:16 20:20 60:20"),
		Chamfers: []part.Chamfer{{Z: mm("0"), Size: mm("2")}, {Z: mm("20"), Size: mm("1")}},
	})
	for z, want := range map[string]string{
		"0": "12", "0.5": "13", "2": "16", "10": "16", "20": "18", "20.25": "18.5", "21": "20", "60": "20", "61": "0",
	} {
		if got := digits(o.DiaAt(mm(z))); got != want {
			t.Errorf("at %s: %s, want %s", z, got, want)
		}
	}
}

package plan

import (
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/plan/op"
)

// tapercut returns the operation of the card that cuts a taper from z.
func tapercut(t *testing.T, r Result, id string) Operation {
	t.Helper()
	for _, o := range r.Operations {
		if o.ID == id {
			return o
		}
	}
	t.Fatalf("no %s", id)
	return Operation{}
}

// A taper with the sizes of one that has a name is not left at a mark, though limits of 0.2 mm
// would allow it: 17.78 to 14.583 over 64 mm is a Morse 2. The mark at 1.5 deg would leave
// 2·64·(tan 1.5 - 3.197/128) = 0.155 mm. Another millimetre at the small end, 1.878 deg, has no
// name, and 2 deg cost 2·64·(tan 2 - 4.197/128) = 0.273 mm; 1.9 mm, 2.280 deg, is at
// 2.5 deg 0.49 mm off. A 20 mm shank of the same slope is none either, and its mark is kept.
func TestNamedTaperIsNotLeftAtAMark(t *testing.T) {
	_, s := demo(t)
	for _, tc := range []struct {
		profile, want, not string
	}{
		{
			"[[0, 14.583], [64, 17.78], [69, 17.78], [69, 20], [90, 20]]",
			"it has the sizes of MT2, and at its nearest mark", "the angle that the scale is set to",
		},
		{
			"[[0, 16.803], [64, 20], [69, 20], [69, 24], [90, 24]]",
			"the angle that the scale is set to, 1.5 deg, which the limits allow", "it has the sizes of",
		},
	} {
		r, err := Make(Input{Part: parse(t, "material: brass\nround:\n  profile: "+tc.profile+"\n"), Shop: s})
		if err != nil {
			t.Fatal(err)
		}
		if text := card(tapercut(t, r, "taper-z0")); !strings.Contains(text, tc.want) || strings.Contains(text, tc.not) {
			t.Errorf("%s: want %q:\n%s", tc.profile, tc.want, text)
		}
	}
}

// The last pass of a taper stops short of the line past the size: 18.16 mm as roughed to 17.78
// are 0.19 mm, 9.5 lines of 0.02, so that 9 leave 18.16 - 2·0.18 = 17.8. Where 14.593 is the most
// that is allowed at the small end, 17.8 - 3.201 = 14.599 is over it and the nearest line may stand: 10, 17.76.
func TestLastPassStopsShort(t *testing.T) {
	for _, tc := range []struct{ limits, set, out string }{
		{"", "0.180", "17.800"},
		{"  limits: [{at: 0, tol: [0.01, -0.1]}]\n", "0.200", "17.760"},
	} {
		_, s := demo(t)
		r, err := Make(Input{Part: parse(t, "material: brass\nround:\n  profile: "+
			"[[0, 14.583], [64, 17.78], [64, 22], [90, 22]]\n"+tc.limits), Shop: s})
		if err != nil {
			t.Fatal(err)
		}
		o := tapercut(t, r, "taper-z0")
		for _, d := range o.Dials {
			if got := d.Set.Fixed(units.MM, 3, units.Nearest); d.Slide == op.CrossSlide && got != tc.set {
				t.Errorf("%q: %s is set to %s, by hand %s", tc.limits, d.What, got, tc.set)
			}
		}
		large := o.op.Predicted[0].Out.Fixed(units.MM, 3, units.Nearest)
		if large != tc.out {
			t.Errorf("%q: %s comes out, by hand %s", tc.limits, large, tc.out)
		}
	}
}

// Where the large end is at its size before the taper is cut the card says so: 20 mm turned, a
// point of 60 deg.
func TestLastPassOnlyTouches(t *testing.T) {
	_, s := demo(t)
	r, err := Make(Input{Part: parse(t, "material: brass\nround:\n  profile: [[0, 20], [40, 20], [57.32, 0]]\n"), Shop: s})
	if err != nil {
		t.Fatal(err)
	}
	text := card(tapercut(t, r, "taper-z40"))
	for _, want := range []string{
		"last pass only touches at the large end, 20 mm already", "a side, in the last of them",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("want %q:\n%s", want, text)
		}
	}
}

package plan

import (
	"slices"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
)

// A bush that is parted off, worked out by hand: 24 long, 1 faced off, a grip of
// 1.5 x 21 = 31.5 taken as 32, 2.5 for the 2 mm blade, 3 clear of the jaws.
func TestBlankByHand(t *testing.T) {
	p := parse(t, "material: tin-bronze\nround:\n  profile: [[0, 20], [24, 20]]\n  bores: [{from: left, dia: 12, through: true}]\n")
	r := make1(t, p, loadShop(t, nil))
	if got := say.Of(r.Blank.Diameter, ", ", r.Blank.Length).In(units.MM); got != "21 mm, 62.5 mm" {
		t.Errorf("blank %s, by hand 21 mm, 62.5 mm", got)
	}
}

// Only a cylinder as long as its diameter is held: of 18 mm and 15 long none,
// of 18 and 18 long one.
func TestGripLength(t *testing.T) {
	for _, tc := range []struct {
		length string
		holds  bool
	}{{"15", false}, {"18", true}} {
		p := parse(t, "material: brass\nround:\n  profile: [[0, 10], [8, 18], [8, 17], [9, 18], ["+add(t, "9", tc.length)+", 18], [60, 10]]\n")
		holds := slices.ContainsFunc(jobOf(t, p, loadShop(t, nil)).ways(), func(w way) bool { return w.grip != offBar })
		if holds != tc.holds {
			t.Errorf("a cylinder of 18 mm, %s long, is held: %v", tc.length, holds)
		}
	}
}

func add(t *testing.T, a, b string) string {
	t.Helper()
	return units.MustLength(a).Plus(units.MustLength(b)).Decimal().String()
}

// The minutes between set-ups are DEFAULTS of the trade (a guess): a new grip 5,
// V-blocks 12, a dividing head 20, a swung compound 8, a new roll 2.
func TestSetupMinutes(t *testing.T) {
	on := op.Surface{Shape: op.Cylinder, Dia: 16e6, Stage: op.Finished}
	chuck := op.Setup{Machine: op.Lathe, Device: op.Chuck, On: on, Out: part.Left}
	swung := chuck
	swung.State = op.State{Swung: true, Compound: 10e6}
	blocks := op.Setup{Machine: op.MillMachine, Device: op.VBlocks, On: on, State: op.State{Rolled: true}}
	rolled := blocks
	rolled.State.Roll = 90e6
	shimmed := blocks
	shimmed.State.Shim = true
	head := op.Setup{Machine: op.MillMachine, Device: op.DividingHead, On: on}
	for _, tc := range []struct {
		name     string
		from, to op.Setup
		want     float64
	}{
		{"into the chuck", op.Setup{}, chuck, 5},
		{"the compound swung", chuck, swung, 8},
		{"into V-blocks", chuck, blocks, 12},
		{"into V-blocks with a shim", chuck, shimmed, 12},
		{"rolled on", blocks, rolled, 2},
		{"into the head", blocks, head, 20},
	} {
		if got := setupMinutes(tc.from, tc.to); got != tc.want {
			t.Errorf("%s: %v min, want %v", tc.name, got, tc.want)
		}
	}
}

// A slope of -9 deg along x over 32 and 3 deg along y over 24, the vice set to
// 9 and 3 deg where 2.963 was wanted: by hand the second tilt of 3 deg stands
// for atan(tan 3/cos 9) = 3.0374 deg along y, so the lowest corner comes out at
// 16 - 32·tan 9 - 24·tan 3.0374 = 9.658 mm.
func TestSlopeComesBack(t *testing.T) {
	r := make1(t, loadPart(t, "bracket.yaml", nil), loadShop(t, nil))
	for _, x := range r.Predicted {
		if x.Feature == "lowest corner of slope 1" {
			if got := x.Out.Fixed(units.MM, 3, units.Nearest); got != "9.658" {
				t.Errorf("the lowest corner comes out at %s, by hand 9.658", got)
			}
			return
		}
	}
	t.Error("the slope is not predicted")
}

// Facing comes before roughing, so the roughing of the demo, step 3, cannot
// move to before 3; the second drill of a roll may follow its spot at once.
func TestWhy(t *testing.T) {
	p, s := demo(t)
	r := make1(t, p, s)
	for i, o := range r.Operations {
		w, err := r.Why(o.N)
		if err != nil {
			t.Fatal(err)
		}
		last := 0
		for _, b := range w.Breaks {
			last = max(last, b.N)
		}
		if w.Earliest != last+1 || w.Earliest > o.N {
			t.Errorf("step %d: earliest %d with rules up to %d", o.N, w.Earliest, last)
		}
		if i == 0 && (w.Earliest != 1 || len(w.Breaks) != 0) {
			t.Errorf("the first step: %+v", w)
		}
		if o.ID == "rough-left" && w.Earliest != o.N {
			t.Errorf("roughing may come at %d", w.Earliest)
		}
	}
	for _, n := range []int{0, len(r.Operations) + 1} {
		if _, err := r.Why(n); err == nil {
			t.Errorf("step %d is none", n)
		}
	}
}

func TestClock(t *testing.T) {
	for text, want := range map[string]string{"9:30": "09:30", "14:05": "14:05", "0:00": "00:00", "23:59": "23:59"} {
		c, err := ParseClock(text)
		if err != nil || c.String() != want {
			t.Errorf("%s is read as %v, %v", text, c, err)
		}
	}
	for _, text := range []string{"24:00", "9:60", "930", "9:3", ":30", "9:", "-1:00", "9.30", ""} {
		if c, err := ParseClock(text); err == nil {
			t.Errorf("%q is read as %v", text, c)
		}
	}
}

// A collar of bore 26 on the demo's octagon-to-be, whose drawn cone runs from 32
// at z 48 to 20 at z 92: by hand it stops where 32 - 12·x/44 = 26, x = 22, z 70;
// and the cone is made before the collar.
func TestSeatOfAProject(t *testing.T) {
	project := &part.Project{Name: "Seat", Fits: []part.Fit{{Seat: "collar", On: "body", Bore: ptr(units.MustLength("26mm"))}}}
	collar := parse(t, "material: brass\nround:\n  profile: [[0, 40], [10, 40]]\n  bores: [{from: left, dia: 26, through: true}]\n")
	body, s := demo(t)
	project.Parts = []part.ProjectPart{{Key: "collar", Part: collar}, {Key: "body", Part: body}}
	r, err := MakeProject(ProjectInput{Project: project, Shop: s})
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Fits[0].SeatAt.Fixed(units.MM, 3, units.Nearest); got != "70.000" {
		t.Errorf("the collar stops at z %s, by hand 70: %s", got, r.Fits[0].How)
	}
	if !slices.Equal(r.Order, []string{"body", "collar"}) {
		t.Errorf("made in the order %v", r.Order)
	}
}

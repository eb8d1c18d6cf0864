package plan

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
)

// noes are parts that cannot be made in a shop, with the code and the key of what
// stands against each.
func noes(t *testing.T) map[string]struct {
	part      *part.Part
	shop      *shop.Shop
	code, key string
} {
	t.Helper()
	shed := loadShop(t, nil)
	without := func(away func(*shop.Shop)) *shop.Shop {
		s := loadShop(t, nil)
		away(s)
		return s
	}
	noLathe := without(func(s *shop.Shop) { s.Lathe = nil })
	noChuck := without(func(s *shop.Shop) { s.Lathe.Chuck = nil })
	noMill := without(func(s *shop.Shop) { s.Mill, s.DrillPress = nil, nil })
	bare := without(func(s *shop.Shop) { s.Lathe.Tailstock, s.Lathe.Steady = nil, nil })
	pin := brass(t, "  profile: [[0, 20], [30, 20]]\n")
	return map[string]struct {
		part      *part.Part
		shop      *shop.Shop
		code, key string
	}{
		"no lathe": {pin, noLathe, "not-available", "lathe"},
		"no chuck": {pin, noChuck, "not-available", "chuck"},
		"a bar too small": {
			brass(t, "  stock: 20\n  profile: [[0, 20], [30, 20]]\n  facets: [{sides: 6, from: 0, to: 30, across: flats}]\n"),
			shed, "not-reachable", "",
		},
		"a rod 280 out": {brass(t, "  stock: 12\n  profile: [[0, 10], [280, 10]]\n"), bare, "overhang", ""},
		"a bore past the bars": {
			brass(t, "  profile: [[0, 30], [80, 30]]\n  bores: [{from: left, dia: 11.3, depth: 70, tol: 0.06}]\n"), shed,
			"not-reachable", "bore-1",
		},
		"a thread into a shoulder": {
			brass(t, "  profile: [[0, 12], [12, 12], [12, 20], [40, 20]]\n  threads: [{from: left, spec: M12, length: 12}]\n"),
			shed, "shoulder", "thread-1",
		},
		"a thread on another size": {
			brass(t, "  profile: [[0, 14], [20, 14], [20, 20], [40, 20]]\n  threads: [{from: left, spec: M12, length: 12}]\n"),
			shed, "complete", "thread-1",
		},
		"a thread longer than its cylinder": {
			brass(t, "  profile: [[0, 12], [12, 12], [12, 20], [40, 20]]\n  threads: [{from: left, spec: M12, length: 16}]\n"),
			shed, "complete", "thread-1",
		},
		"a thread on a taper": {
			brass(t, "  profile: [[0, 11], [20, 12], [20, 20], [40, 20]]\n  threads: [{from: left, spec: M12, length: 12}]\n"),
			shed, "complete", "thread-1",
		},
		"a thread without a bore": {
			brass(t, "  profile: [[0, 20], [40, 20]]\n  threads: [{from: left, spec: M8, depth: 12, inside: true}]\n"),
			shed, "complete", "thread-1",
		},
		"a thread in a bore of 123 %": { // 8 - 1.23 x 1.6238 = 6
			brass(t, "  profile: [[0, 20], [40, 20]]\n  bores: [{from: left, dia: 6, depth: 20}]\n"+
				"  threads: [{from: left, spec: M8, depth: 12, inside: true}]\n"),
			shed, "complete", "thread-1",
		},
		"a thread in a bore of 185 %": { // 8 - 1.85 x 1.6238 = 5
			brass(t, "  profile: [[0, 20], [40, 20]]\n  bores: [{from: left, dia: 5, depth: 20}]\n"+
				"  threads: [{from: left, spec: M8, depth: 12, inside: true}]\n"),
			shed, "complete", "thread-1",
		},
		"no mill nor press": {
			brass(t, "  profile: [[0, 20], [50, 20]]\n  holes: [{at: 20, dia: 4}]\n"), noMill, "not-available", "hole-1",
		},
		"a wall too thin": {
			brass(t, "  min_wall: 2\n  profile: [[0, 18], [30, 18]]\n  bores: [{from: left, dia: 16, depth: 20}]\n"), shed,
			"wall-too-thin", "bore-1",
		},
		"a slot without a mill": {
			brass(t, "  profile: [[0, 20], [50, 20]]\n  slots: [{at: 25, length: 12, width: 4}]\n"),
			noMill, "not-available", "slot-1",
		},
		"a block without a mill": {
			parse(t, "material: brass\nblock:\n  size: [40, 20, 10]\n"), noMill, "not-available", "",
		},
	}
}

// What cannot be made is refused by its code and its feature, each cause once, with
// a reason; and a plan that is not refused is a yes.
func TestRefused(t *testing.T) {
	for name, tc := range noes(t) {
		t.Run(name, func(t *testing.T) {
			r := make1(t, tc.part, tc.shop)
			if len(r.Fails()) == 0 || len(r.Refused) == 0 {
				t.Fatalf("it is not refused: %v, %v", r.Fails(), r.Refused)
			}
			want := tc.code + " " + tc.key
			is := func(c string) bool { return c == want || tc.key == "" && strings.HasPrefix(c, want) }
			if !slices.ContainsFunc(codes(r), is) {
				t.Errorf("refused for %v, by hand %s: %v", codes(r), want, r.Fails())
			}
			honest(t, r)
		})
	}
}

// honest checks the form of a refusal: never empty where the answer is no, each
// cause once, with its code, what it is about and a reason.
func honest(t *testing.T, r Result) {
	t.Helper()
	if (len(r.Fails()) == 0) != (len(r.Refused) == 0) {
		t.Errorf("%d reasons to say no, %d of them in refused", len(r.Fails()), len(r.Refused))
	}
	told, about := map[string]bool{}, map[string]bool{}
	for _, f := range r.Refused {
		if follows := f.Code == problem.OutOfLimits || f.Code == problem.Complete; follows && about[f.Key] {
			t.Errorf("%s of %s follows from what was told of it: %v", f.Code, f.Key, r.Refused)
		}
		about[f.Key] = true
		cause := string(f.Code) + " " + f.Key
		switch {
		case f.Code == "" || f.Key == "" || f.Reason == "":
			t.Errorf("no code, key or reason: %+v", f)
		case told[cause]:
			t.Errorf("%s is told twice: %v", cause, r.Refused)
		case f.Remedies == nil:
			t.Errorf("%s has null for remedies", cause)
		}
		told[cause] = true
	}
}

// features returns the ids that a refusal may be about: those of the part's
// features, of its faces and length, and keys of the shop.
func features(p *part.Part, r Result) []string {
	list := []string{
		"lathe", "chuck", "round", "block", "hole-1", "slot-1", outline.FaceID(part.Left), outline.FaceID(part.Right),
		outline.WholeLength,
	}
	for _, o := range r.Operations {
		list = append(list, o.Makes...)
	}
	for _, x := range r.Predicted {
		list = append(list, x.Feature)
	}
	if p.Round != nil {
		for i := range p.Round.Threads {
			list = append(list, fmt.Sprint("thread-", i+1))
		}
		for i := range p.Round.Bores {
			list = append(list, fmt.Sprint("bore-", i+1))
		}
	}
	return list
}

// A refusal's key is the id of a feature of the part, or a key of the shop.
func TestRefusedByFeature(t *testing.T) {
	for name, tc := range noes(t) {
		r := make1(t, tc.part, tc.shop)
		for _, f := range r.Refused {
			if !slices.Contains(features(tc.part, r), f.Key) {
				t.Errorf("%s: %q is no feature: %s", name, f.Key, f.Reason)
			}
		}
	}
}

// With its way out each of them is made: a run-out behind the thread, a tailstock
// for the rod, a bar for the bore.
func TestMadeAllTheSame(t *testing.T) {
	shed := loadShop(t, nil)
	longBar := loadShop(t, map[string]string{"{diameter: 8, reach: 50}": "{diameter: 8, reach: 80}"})
	for name, tc := range map[string]struct {
		part  *part.Part
		shop  *shop.Shop
		makes []string
	}{
		"a thread with its run-out": {
			brass(t, "  profile: [[0, 12], [20, 12], [20, 20], [50, 20]]\n  threads: [{from: left, spec: M12, length: 12}]\n"),
			shed,
			[]string{"thread-1"},
		},
		"threads at both ends of a through bore": {
			brass(t, "  profile: [[0, 20], [50, 20]]\n  bores: [{from: left, dia: 6.8, through: true}]\n"+
				"  threads: [{from: left, spec: M8, depth: 12, inside: true}, {from: right, spec: M8, depth: 12, inside: true}]\n"),
			shed,
			[]string{"thread-1", "thread-2"},
		},
		"a counterbore with a tapped bore behind it": {
			brass(t, "  profile: [[0, 24], [50, 24]]\n"+
				"  bores: [{from: left, dia: 6.8, depth: 30}, {from: left, dia: 12, depth: 6}]\n"+
				"  threads: [{from: left, spec: M8, depth: 20, inside: true}]\n"),
			shed,
			[]string{"thread-1", "bore-1", "bore-2"},
		},
		"a bore that a bar reaches": {
			brass(t, "  profile: [[0, 30], [80, 30]]\n  bores: [{from: left, dia: 11.3, depth: 70, tol: 0.06}]\n"),
			longBar,
			[]string{"bore-1"},
		},
		"a bore within the bars": {
			brass(t, "  profile: [[0, 30], [80, 30]]\n  bores: [{from: left, dia: 11.3, depth: 48, tol: 0.06}]\n"),
			shed,
			[]string{"bore-1"},
		},
	} {
		r := make1(t, tc.part, tc.shop)
		if len(r.Refused) > 0 {
			t.Errorf("%s: %v", name, r.Fails())
		}
		for _, id := range tc.makes {
			made := 0
			for _, o := range r.Operations {
				if slices.Contains(o.Makes, id) {
					made++
				}
			}
			if made != 1 {
				t.Errorf("%s: %s is made by %d operations of %v", name, id, made, ids(r))
			}
		}
	}
}

// A reamer that is owned is used where its hole keeps the limits, and a hole is
// drilled and bored where there is none. H7 of 8 mm is 8 to 8.015, ISO 286-2.
func TestReamer(t *testing.T) {
	p := brass(t, "  profile: [[0, 20], [30, 20]]\n  bores: [{from: left, dia: 8, depth: 20, fit: H7}]\n")
	r := make1(t, p, loadShop(t, nil))
	o := op1(t, r, "bore-1-ream")
	reams := o.Kind == op.Ream && strings.HasPrefix(o.Tool.Name.In(units.MM), "reamer 8 mm")
	if !reams || !slices.Equal(o.Makes, []string{"bore-1"}) {
		t.Errorf("%s with %s, makes %v", o.Kind, o.Tool.Name, o.Makes)
	}
	// Before it the hole is 0.2 under, 7.8, at the most: N is 0.302 in = 7.671 and makes
	// 0.10 + 0.03 x 1.271/6.3 = 0.106 more, the next in the drawer is 5/16 in, 7.938.
	if d := op1(t, r, "bore-1-drill"); len(d.Makes) > 0 || d.Tool.Name != "N drill" {
		t.Errorf("drilled with %s, which makes %v as well", d.Tool.Name, d.Makes)
	}
	without := make1(t, p, loadShop(t, map[string]string{"reamers: [6mm, 8mm]": "reamers: [6mm]"}))
	for _, o := range without.Operations {
		if o.Kind == op.Ream {
			t.Errorf("%s with a reamer that is not owned", o.ID)
		}
	}
	op1(t, without, "bore-1-bore")
}

// A hole of 3 mm that is 200 deep is charged for its pecks, by hand: to 9, by 3 to
// 18, and by 1.5 from there. After every peck but the last the drill comes out and
// goes in again: 9 + 12 + 15 + 18 and the 121 of 19.5 to 199.5, 13 303.5 mm, both ways
// at 1000 mm/min are 26.6 min; the cut is (200 + 3 + 0.901)/(0.064 x 1450) and 0.2,
// 2.40.
func TestPecksOfADeepHole(t *testing.T) {
	p := brass(t, "  stock: 20\n  profile: [[0, 18], [210, 18]]\n  bores: [{from: left, dia: 3, depth: 200}]\n")
	j := jobOf(t, p, loadShop(t, nil))
	x := j.hold(way{first: part.Left, grip: offBar})
	for _, o := range x.make().ops {
		if o.ID == "bore-1-drill" {
			o.Do(x.start())
			if o.Minutes < 28.95 || o.Minutes > 29.05 {
				t.Errorf("it takes %.2f min, by hand 29.0", o.Minutes)
			}
			return
		}
	}
	t.Error("it is not drilled")
}

// Two holes of 3 mm across a bar of 24 take twice what one takes, the pecks too. Each is
// drilled from both sides, 12 to the full diameter with 3 to come up and a point of 0.901:
// by hand 15.901/(0.064 x 1750) + 15.901/1000 and, after a peck to 9, 2 x 9/1000, 0.1759 a
// side.
func TestPecksOfTwoHoles(t *testing.T) {
	p := brass(t, "  stock: 24\n  profile: [[0, 20], [50, 20]]\n  holes: [{at: 15, dia: 3}, {at: 35, dia: 3}]\n")
	j := jobOf(t, p, loadShop(t, nil))
	d, ring, err := j.attempt(j.hold(way{first: part.Left, grip: offBar}), bonds{})
	if err != nil || ring != nil {
		t.Fatal(ring, err)
	}
	for _, o := range d.ops {
		if o.Kind == op.CrossDrill {
			if o.Minutes < 0.7026 || o.Minutes > 0.7046 {
				t.Errorf("%s takes %.4f min, by hand 0.7036", o.ID, o.Minutes)
			}
			return
		}
	}
	t.Error("they are not drilled")
}

// The centre stands in the end that is out, where it was drilled, and nowhere is a
// unit said twice.
func TestCentreAndWords(t *testing.T) {
	p := loadPart(t, "spindle.yaml", nil)
	j := jobOf(t, p, loadShop(t, nil))
	body := slices.IndexFunc(j.shape.Stretches, func(x outline.Stretch) bool { return x.Left.Turned.MM() == 18 })
	d, ring, err := j.attempt(j.hold(way{first: part.Left, grip: body, centre: [2]bool{false, true}}), bonds{})
	if err != nil || ring != nil {
		t.Fatal(ring, err)
	}
	r := Result{Inputs: j.Input, Quantity: p.Quantity}
	r.fill(d)
	found := false
	for n, s := range r.Setups {
		if s.setup.Support != op.AtCentre || s.setup.Device == op.Centres {
			continue
		}
		found = true
		end := d.states[s.Operations[0]-1].Reach(s.setup.Out)
		if s.Support.At == nil || *s.Support.At != end || *s.Out != part.Right {
			t.Errorf("set-up %d: the centre stands at %v, the end that is out at %s", n+1, s.Support.At, say.Of(end))
		}
		if words := holding(s.setup).In(units.MM); !strings.Contains(words, "right end out, that end on a centre") {
			t.Error(words)
		}
	}
	if !found {
		t.Error("no centre")
	}
}

// A unit is never said twice, nor an end that is none: "29.993 mm mm".
func TestUnitsOnce(t *testing.T) {
	twice := regexp.MustCompile(`\b(mm|in|deg|min|rpm)"? (mm|deg|min|rpm)\b`)
	for _, u := range []units.Unit{units.MM, units.Inch} {
		for _, name := range []string{"plumb-bob.yaml", "spindle.yaml", "cap.yaml", "bracket.yaml"} {
			for _, o := range made(t, name).Operations {
				for _, s := range o.Settings {
					if text := s.Sentence().In(u); twice.MatchString(text) || strings.Contains(text, "  ") {
						t.Errorf("%s, %s: %s", name, o.ID, text)
					}
				}
			}
		}
	}
}

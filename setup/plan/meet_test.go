package plan

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
)

// projectOf plans parts as one project.
func projectOf(t *testing.T, fits []part.Fit, measured []Measure, parts ...part.ProjectPart) ProjectResult {
	t.Helper()
	in := ProjectInput{Project: &part.Project{Name: "Test", Fits: fits, Parts: parts}, Shop: loadShop(t, nil)}
	in.Measured = measured
	r, err := MakeProject(in)
	if err != nil {
		t.Fatal(err)
	}
	if f := r.Fails(); len(f) > 0 {
		t.Fatal(f)
	}
	return r
}

const (
	grip = "material: free-cutting-brass\nround:\n  stock: 34\n" +
		"  profile: [[0, 12], [30, 12], [30, 20], [70, 30], [90, 30]]\n"
	ring = "material: free-cutting-brass\nround:\n  stock: 42\n  profile: [[0, 40], [10, 40]]\n" +
		"  bores: [{from: left, dia: 26, through: true, fit: H9}]\n"
)

// A collar of bore 26 on a cone of 20 at z 30 and 30 at z 70 stops at 30 + 24 = z 54.
// A cone that measures 22.6 at z 40, where 22.5 is drawn, is 0.1 thick: bore 26.1. One
// that measures 27.4 at z 60 too has 22.6 + 4.8·14/20 = 25.96 at z 54. The number goes
// into the collar's card and its bore; the cone is made before.
func TestCollarToTheMeasuredCone(t *testing.T) {
	on := func(z, dia string) Measure {
		return Measure{"handle", units.MustLength(z + "mm"), units.MustLength(dia + "mm")}
	}
	for _, tc := range []struct {
		measured []Measure
		want     string
	}{
		{[]Measure{on("40", "22.6")}, "26.1"},
		{[]Measure{on("60", "27.4"), on("40", "22.6")}, "25.96"},
	} {
		fits := []part.Fit{{Seat: "collar", On: "handle", Bore: new(units.MustLength("26mm"))}}
		r := projectOf(t, fits, tc.measured, part.ProjectPart{Key: "collar", Part: parse(t, ring)},
			part.ProjectPart{Key: "handle", Part: parse(t, grip)})
		want := units.MustLength(tc.want + "mm")
		if f := r.Fits[0]; !f.SeatAt.Equal(units.MustLength("54mm")) || !f.Bore.Equal(want) {
			t.Errorf("%d measured: bored to %s at z %s, by hand %s at z 54", len(tc.measured), say.Of(f.Bore.Nearest()),
				say.Of(f.SeatAt.Nearest()), tc.want)
		}
		g := r.Given[0]
		line := r.Parts[0].Plan.Operations[g.Step-1]
		if g.Part != "collar" || line.Kind != op.Bore || !strings.Contains(card(line), "cone = "+tc.want+" mm") ||
			!strings.Contains(card(line), "as it was measured") {
			t.Errorf("%+v, and its card:\n%s", g, card(line))
		}
		for _, p := range r.Parts[0].Plan.Predicted {
			if p.Kind == "bore" && !p.Drawn.Equal(want) {
				t.Errorf("bored to %s, measured %s", say.Of(p.Drawn.Nearest()), tc.want)
			}
		}
		b := r.Before[0]
		if b.Part != "handle" || b.Before != "collar" || r.Parts[1].Plan.Operations[b.Step-1].Kind != op.Taper {
			t.Errorf("%+v: the cone comes before the collar", b)
		}
		inOrder(t, r)
	}
}

// What seats on a cone is bored, since only then can it follow what that measures: with general
// limits a drill of 17 keeps them by itself, and a hole that is drilled is past mending. No bar goes
// into one of 8, which is drilled, and the sheet says that it stops where it will.
func TestCollarIsBored(t *testing.T) {
	bored := func(dia string) string {
		return "material: free-cutting-brass\nround:\n  stock: 42\n  profile: [[0, 40], [10, 40]]\n" +
			"  bores: [{from: left, dia: " + dia + ", through: true}]\n"
	}
	cone := func(small, large string) string {
		return "material: free-cutting-brass\nround:\n  stock: 34\n" +
			"  profile: [[0, 12], [30, 12], [30, " + small + "], [70, " + large + "], [90, " + large + "]]\n"
	}
	for _, tc := range []struct {
		dia, small, large string
		told              []string
	}{{"17", "14", "22", []string{"bore to 17 mm"}}, {"8", "6", "10", []string{}}} {
		fits := []part.Fit{{Seat: "collar", On: "handle", Bore: new(units.MustLength(tc.dia + "mm"))}}
		r := projectOf(t, fits, nil, part.ProjectPart{Key: "collar", Part: parse(t, bored(tc.dia))},
			part.ProjectPart{Key: "handle", Part: parse(t, cone(tc.small, tc.large))})
		told := []string{}
		for _, g := range r.Given {
			told = append(told, g.Name.In(units.MM))
		}
		if !slices.Equal(told, tc.told) {
			t.Errorf("%s: told at %q", tc.dia, told)
		}
		warned := slices.ContainsFunc(r.Warnings, func(w sheet.Warning) bool { return w.Code == "not-bored" })
		if warned != (len(tc.told) == 0) {
			t.Errorf("%s: %v", tc.dia, r.Warnings)
		}
	}
}

// What is measured on no part is refused, and so is a part's name where there is one
// part.
func TestMeasuredOnWhichPart(t *testing.T) {
	m := []Measure{{"knob", units.MustLength("40mm"), units.MustLength("22mm")}}
	p := parse(t, grip)
	in := ProjectInput{
		Project: &part.Project{Parts: []part.ProjectPart{{Key: "handle", Part: p}}}, Shop: loadShop(t, nil), Measured: m,
	}
	_, err := MakeProject(in)
	if want := "--measured: knob: no part of this project"; err == nil || !strings.Contains(err.Error(), want[2:]) {
		t.Errorf("%v, want %s", err, want)
	}
	_, err = Make(Input{Part: p, Shop: in.Shop, Measured: m})
	if err == nil || !strings.Contains(err.Error(), "names a part") {
		t.Errorf("%v", err)
	}
	got, err := ParseMeasure("body:dia@31=31.9", units.MM)
	if err != nil || got.Part != "body" || !got.Z.Equal(units.MustLength("31mm")) {
		t.Errorf("%+v %v", got, err)
	}
}

// By hand: one part twice, each sawn, turned in the chuck, with the compound swung and
// along again to be parted off there. By itself each is set up four times. Both are sawn
// in one set-up; the first one's chuck is one, its swing one, and the compound along again
// one in which the second is turned too; then its swing, and along again: 6.
func TestSamePartTwice(t *testing.T) {
	r := projectOf(t, nil, nil, part.ProjectPart{Key: "a", Part: parse(t, grip)},
		part.ProjectPart{Key: "b", Part: parse(t, grip)})
	var ups []string
	for _, s := range r.Parts[0].Plan.Setups {
		ups = append(ups, fmt.Sprint(s.Machine, " ", s.Device, " ", s.setup.State.Swung))
	}
	if want := "[saw vice false lathe chuck false lathe chuck true lathe chuck false]"; fmt.Sprint(ups) != want {
		t.Fatalf("%v, want %s: another example is wanted", ups, want)
	}
	if got := r.Totals; got.Setups != 6 || got.Apart != 8 || !got.Exact {
		t.Errorf("%+v, by hand 6 of 8", got)
	}
	// Saved: the second saw's vice, 5 - 1 minutes, and the second chuck the same: 8.
	if got := r.Totals.Saved; got != 8 {
		t.Errorf("%v min saved, by hand 8", got)
	}
	inOrder(t, r)
}

// The demo's cap: the body's thread is cut before that in the cap, and its hole drilled
// before the cap's is scribed; one kit.
func TestDemoProject(t *testing.T) {
	body, _ := demo(t)
	fits := []part.Fit{{Screw: "body", Into: "cap", Thread: "M16x1.5", Align: "holes"}}
	r := projectOf(t, fits, nil, part.ProjectPart{Key: "body", Part: body},
		part.ProjectPart{Key: "cap", Part: loadPart(t, "cap.yaml", nil)})
	if m := r.Fits[0].Method; m != ByMate {
		t.Errorf("lined up %s", m)
	}
	var given []string
	for _, g := range r.Given {
		given = append(given, g.Part+" "+string(r.Parts[1].Plan.Operations[g.Step-1].Kind)+" "+string(g.What))
	}
	if want := []string{"cap thread gauge", "cap datum roll"}; !slices.Equal(given, want) {
		t.Errorf("%q, want %q", given, want)
	}
	if t1 := r.Totals; t1.Setups >= t1.Apart || t1.Saved <= 0 {
		t.Errorf("%+v: nothing is saved", t1)
	}
	seen := map[string]bool{}
	for _, k := range r.Kit {
		if name := string(k.Name); seen[name] || len(k.For) == 0 {
			t.Errorf("%s twice, or for none: %+v", name, k)
		}
		seen[string(k.Name)] = true
	}
	inOrder(t, r)
}

// inOrder walks the set-ups of a project's JSON as a reader would: every step of every
// part is there once and in its part's order, what waits comes after what it waits for,
// work that stays in its grip is not interrupted, and what is said to stand does: the
// same device with the same diameter on that machine, swung and geared alike.
func inOrder(t *testing.T, r ProjectResult) {
	t.Helper()
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	type state struct {
		Device string
		Grip   *struct {
			Dia float64 `json:"dia_mm"`
		}
		State struct {
			Compound float64   `json:"compound_deg"`
			Blocks   []float64 `json:"blocks_mm"`
		}
	}
	var p struct {
		Parts []struct {
			Key  string
			Plan struct {
				SetUps     []state `json:"set_ups"`
				Operations []any
			}
		}
		SetUps []struct {
			Machine, Part string
			SetUp         int `json:"set_up"`
			Operations    []int
			Stands        bool
			N             int
		} `json:"set_ups"`
		Before []struct {
			Part, Before string
			Step         int
			BeforeStep   int `json:"before_step"`
		}
		Totals struct {
			SetUps int `json:"set_ups"`
		}
	}
	if err := json.Unmarshal(text, &p); err != nil {
		t.Fatal(err)
	}
	type step struct {
		part string
		n    int
	}
	at, last, machine, anew := map[step]int{}, map[string]int{}, map[string]state{}, 0
	for i, s := range p.SetUps {
		for _, n := range s.Operations {
			if n != last[s.Part]+1 {
				t.Errorf("%s: step %d after %d", s.Part, n, last[s.Part])
			}
			last[s.Part], at[step{s.Part, n}] = n, i
		}
		if !s.Stands {
			anew++
		}
		for _, q := range p.Parts {
			if q.Key != s.Part || s.SetUp == 0 {
				continue
			}
			is, was := q.Plan.SetUps[s.SetUp-1], machine[s.Machine]
			dia := func(x state) float64 {
				switch {
				case len(x.State.Blocks) == 2:
					return x.State.Blocks[1] - x.State.Blocks[0]
				case x.Grip != nil:
					return x.Grip.Dia
				}
				return 0
			}
			if s.Stands && (is.Device != was.Device || dia(is) != dia(was) || is.State.Compound != was.State.Compound) {
				t.Errorf("%s set-up %d is said to stand: %+v, and there was %+v", s.Part, s.SetUp, is, was)
			}
			machine[s.Machine] = is
		}
	}
	highest := 0
	for _, s := range p.SetUps {
		if highest = max(highest, s.N); s.N < 1 || s.N > p.Totals.SetUps {
			t.Errorf("set-up %d of %d", s.N, p.Totals.SetUps)
		}
	}
	if anew != p.Totals.SetUps || highest != anew {
		t.Errorf("%d are set up, numbered to %d, said %d", anew, highest, p.Totals.SetUps)
	}
	for _, q := range p.Parts {
		if last[q.Key] != len(q.Plan.Operations) {
			t.Errorf("%s: %d of %d steps", q.Key, last[q.Key], len(q.Plan.Operations))
		}
	}
	for _, b := range p.Before {
		if b.Step > 0 && b.BeforeStep > 0 && at[step{b.Part, b.Step}] >= at[step{b.Before, b.BeforeStep}] {
			t.Errorf("%+v is not kept", b)
		}
	}
}

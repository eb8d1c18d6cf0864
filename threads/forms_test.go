package threads_test

import (
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/page/published"
	"setover/threads"
	"setover/threads/cut"
	"setover/threads/drill"
	"setover/threads/limits"
	"setover/threads/wires"
)

// mayBeEmpty are the fields of a form that may stand empty: Stress and Gaps on
// the condition below.
var mayBeEmpty = map[string]bool{
	"Step": true, "Stress": true, "Gaps": true, "Cone": true,
	"Usual": true, "Coarse": true, "Several": true, "Joined": true, "Numbered": true,
}

// Every form has every field, a size in the table, and what its kinds ask for.
func TestForms(t *testing.T) {
	sizes := map[*threads.Form]int{}
	for _, d := range threads.All() {
		sizes[d.Form]++
	}
	keys := map[string]bool{}
	for _, f := range threads.Forms() {
		row := reflect.ValueOf(f).Elem()
		for i := range row.NumField() {
			if field := row.Type().Field(i); field.IsExported() && row.Field(i).IsZero() && !mayBeEmpty[field.Name] {
				t.Errorf("%s has no %s", f.Key, field.Name)
			}
		}
		if keys[f.Key] || threads.FormOf(f.Key) != f {
			t.Errorf("%s stands twice", f.Key)
		}
		keys[f.Key] = true
		if sizes[f] == 0 {
			t.Errorf("%s has no size", f.Key)
		}
		if f.System != "mm" && f.System != "in" || f.PitchUnit != "mm" && f.PitchUnit != "tpi" {
			t.Errorf("%s: system %s, pitch in %s", f.Key, f.System, f.PitchUnit)
		}
		if f.Tapered() == (f.Stress > 0) || f.Tapered() != (f.Tapping == threads.BySmall) {
			t.Errorf("%s: a cylinder has a stress area, a cone a small end to drill for", f.Key)
		}
		if f.Pitch.By >= f.Minor.By || f.Root.By < f.Minor.By || f.Half <= 0 || f.Half >= 45 {
			t.Errorf("%s has no such heights: %+v %+v %+v", f.Key, f.Pitch, f.Minor, f.Root)
		}
		if truncated := f.Tool.Outside.Crest > 0 && f.Tool.Inside.Crest > 0; f.Tool.Own != (f.Gaps != nil) ||
			f.Tool.Own && (f.Tool.Alike || truncated) || !f.Tool.Own && f.Tool.Alike == truncated {
			t.Errorf("%s: crest and root are alike, or have their parts, or the tool is the form's own: %+v", f.Key, *f.Tool)
		}
	}
}

func TestNoSuchForm(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a form that is no row was given")
		}
	}()
	threads.FormOf("buttress")
}

// Every calculator answers for every size of every form, or says that the form
// has none of what it gives.
func TestEveryCalculatorKnowsEveryForm(t *testing.T) {
	for _, d := range threads.All() {
		show, err := limits.Show(limits.Input{Thread: d})
		if err != nil {
			t.Fatal(d, err)
		}
		published.Works(t, show.Sheet())
		if _, err := wires.Measure(wires.Input{Thread: d}); (err == nil) == d.Form.Tapered() {
			t.Errorf("%s over wires: %v", d, err)
		}
		if _, err := drill.For(drill.Input{Thread: d, Drills: "inch"}); err != nil {
			t.Error(d, err)
		}
		for _, inside := range []bool{false, true} {
			for _, nose := range []cut.Nose{cut.Sharp, cut.Flat, cut.Full} {
				g, err := cut.GrooveOf(d, inside, nose)
				if (err == nil) != (nose == cut.Full || !d.Form.Tool.Own) {
					t.Errorf("%s with a %s nose: %v", d, nose, err)
				}
				if err == nil && (g.Depth <= 0 || g.Depth > d.Pitch.MM() || g.T < 0 || (g.T == 0) != (nose == cut.Sharp)) {
					t.Errorf("%s with a %s nose: %+v", d, nose, g)
				}
			}
		}
	}
}

// Every form has a published figure of every kind that it has at all, or one
// worked by hand from published ones.
func TestPublishedForms(t *testing.T) {
	sources, err := os.ReadFile(filepath.Join(published.Dir(), "SOURCES.md"))
	if err != nil {
		t.Fatal(err)
	}
	have := map[string]bool{}
	for _, r := range published.Rows(t, "threads/forms.csv") {
		d := threads.MustParse(r["thread"])
		if d.Form.Key != r["form"] || d.String() != r["thread"] {
			t.Errorf("%s is %s, a %s", r["thread"], d, d.Form.Key)
		}
		if s := r["source"]; !strings.Contains(string(sources), "- "+s+":") && !strings.HasPrefix(s, "from memory of ") {
			t.Errorf("%s: the source %q is not in SOURCES.md", d, s)
		}
		have[r["form"]+" "+r["figure"]] = true
		s, got := d.Sizes(), ""
		want := r["value"] + r["unit"]
		switch r["figure"] {
		case "d2":
			got = units.AsPrinted(s.PitchDiameter, want)
		case "D1":
			got = units.AsPrinted(s.MinorInternal, want)
		case "d3":
			got = units.AsPrinted(s.MinorExternal, want)
		case "E0":
			got = units.AsPrinted(d.Cone().E0, want)
		case "wires":
			over := wires.Over(s.PitchDiameter, d.Pitch, d.Form.HalfAngle(), units.MustLength(r["wire"]))
			got = units.AsPrinted(over, want)
		case "area":
			area := float64(*s.StressArea)
			if r["unit"] == "in2" {
				area /= 25.4 * 25.4
			}
			got = published.Printed(area, r["value"]) + r["unit"]
		default:
			t.Fatal(r)
		}
		if got != want {
			t.Errorf("%s %s: got %s; %s has %s, %s", d, r["figure"], got, r["source"], want, r["by"])
		}
	}
	for _, f := range threads.Forms() {
		kinds := "d2 D1 d3 area wires"
		if f.Tapered() {
			kinds = "d2 D1 d3 E0"
		}
		for _, kind := range strings.Fields(kinds) {
			if !have[f.Key+" "+kind] {
				t.Errorf("%s has no published %s in threads/forms.csv", f.Key, kind)
			}
		}
	}
}

// The heights of a 60° form are what its working says they are.
func TestHeights(t *testing.T) {
	for _, f := range threads.Forms() {
		for _, h := range []threads.Height{f.Pitch, f.Minor, f.Root} {
			formula := strings.NewReplacer("P", "1", "h", "1").Replace(h.Text)
			want, err := published.Evaluate(formula)
			unit := 1.0
			if f.Step == "" && !f.Tapered() {
				unit = f.Unit
			}
			if err != nil || math.Abs(h.By*unit-want) > 1e-15 {
				t.Errorf("%s: %v by %s, %v", f.Key, h.By*unit, h.Text, err)
			}
		}
	}
	if math.Abs(threads.ChartDepth-3*math.Sqrt(3)/4) > 1e-15 {
		t.Error("the charts' depth is 3√3/4")
	}
}

package drill_test

import (
	"testing"

	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/threads"
	"setover/threads/drill"
)

// Where a form has no limits the drill is not under the nut's minor diameter:
// 2BA has 3.73 mm, so 3.7 mm is nearest to a full thread and 3.75 mm is taken.
func TestNotOverFull(t *testing.T) {
	full := units.Number(100)
	r, err := drill.For(drill.Input{Thread: threads.MustParse("2BA"), Percent: &full, Drawer: drawer("3.7mm", "3.8mm")})
	if err != nil || r.Recommended == nil || *r.Recommended != "3.8 mm" {
		t.Errorf("%v, %v", r.Recommended, err)
	}
}

// Of two drills as near to the target the smaller is taken: it can be opened
// out.
func TestAsNear(t *testing.T) {
	in := drill.Input{Thread: threads.MustParse("R1/2"), Drills: "metric"}
	r, err := drill.For(in)
	if err != nil {
		t.Fatal(err)
	}
	tenth := units.MustLength("0.1mm")
	in.Drills, in.Drawer = "", []drills.Drill{
		{Name: "under", Dia: r.Target.Minus(tenth), Series: "metric"},
		{Name: "over", Dia: r.Target.Plus(tenth), Series: "metric"},
	}
	if r, err = drill.For(in); err != nil || *r.Recommended != "under" {
		t.Errorf("%v, %v", r.Recommended, err)
	}
}

// Inch clearance holes go by their drills' names: ASME B18.2.8 has 9/32 for a
// normal fit of 1/4 in, and 0.297 in, which is no drill, for a loose one.
func TestClearanceNames(t *testing.T) {
	r, err := drill.For(drill.Input{Thread: threads.MustParse("1/4-20"), Drills: "inch"})
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, f := range r.Sheet().Facts {
		got[f.Key] = string(f.Remark)
	}
	for key, want := range map[string]string{"close_mm": "F", "medium_mm": "9/32 in", "free_mm": ""} {
		if got[key] != want {
			t.Errorf("%s: drill %q, want %q", key, got[key], want)
		}
	}
}

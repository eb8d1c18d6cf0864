package plan

import (
	"slices"
	"testing"

	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/setup/plan/op"
	"setover/setup/plan/predict"
)

// Pilot holes. A drill of 20 mm has a web of 4 mm (0.2 of it) and none is on hand between but
// 5 and 12 mm. In brass a motor of 550 W drives all of 20 mm: 5 goes in first, the narrowest
// as wide as the web. 13 mm is not so large, and 12 mm in the solid neither. What is open as
// wide as the web is a pilot by itself.
func TestPilots(t *testing.T) {
	s := loadShop(t, nil)
	s.Drills = nil
	for _, name := range []string{"3mm", "5mm", "12mm", "13mm", "20mm"} {
		s.Drills = append(s.Drills, drills.Of(units.MustLength(name)))
	}
	drilled := func(text string) (names []string) {
		r := make1(t, parse(t, "material: acetal\nround:\n  profile: [[0, 40], [50, 40]]\n"+text), s)
		for _, o := range r.Operations {
			if o.Kind == op.Drill {
				names = append(names, o.ID+" "+o.Tool.Name.In(units.MM))
			}
		}
		return names
	}
	for _, tc := range []struct {
		bores string
		want  []string
	}{
		{"  bores: [{from: right, dia: 20, depth: 30}]\n", []string{"bore-1-pilot-1 5 mm drill", "bore-1-drill 20 mm drill"}},
		{"  bores: [{from: right, dia: 13, depth: 30}]\n", []string{"bore-1-drill 13 mm drill"}},
		{
			"  bores: [{from: right, dia: 20, depth: 30}, {from: right, dia: 5, depth: 40}]\n",
			[]string{"bore-2-drill 5 mm drill", "bore-1-drill 20 mm drill"},
		},
	} {
		if got := drilled(tc.bores); !slices.Equal(got, tc.want) {
			t.Errorf("%s: %q, want %q", tc.bores, got, tc.want)
		}
	}
}

// A ladder of pilot holes is as short as may be: among all the ladders of up to three drills
// of the drawer there is none shorter in which every web runs in the hole before it and the
// motor drives half of every feed, and it is such a one.
func TestShortestLadder(t *testing.T) {
	s := loadShop(t, nil)
	s.Drills = nil
	for mm := 3; mm <= 24; mm++ {
		s.Drills = append(s.Drills, drills.Of(units.Millimetres(int64(mm))))
	}
	for _, tc := range []struct {
		material string
		last     int64
	}{{"mild-steel", 12}, {"mild-steel", 20}, {"mild-steel", 24}, {"brass", 24}, {"aluminium-6082", 16}} {
		j := jobOf(t, parse(t, "material: "+tc.material+"\nround:\n  profile: [[0, 40], [30, 40]]\n"+
			"  bores: [{from: right, dia: 24, depth: 20}]\n"), s)
		task := j.hold(j.ways()[0])
		b := j.shape.Bores[0]
		x := axial{task: task, Bore: b, n: 1, chucking: task.boredIn(b)}
		base, deep := x.base(x.chucking, x.Span), x.Span.Length()
		good := func(ladder []drills.Drill) bool {
			open := units.Length{}
			for _, d := range append(slices.Clone(ladder), drills.Of(units.Millimetres(tc.last))) {
				web := d.Dia.MM() / 5
				if d.Dia.MM() > 13 && open.MM() < web || x.strains(&base, d, deep, open) || open.MM() > d.Dia.MM() {
					return false
				}
				open = predict.Drilled(d.Dia)
			}
			return true
		}
		shortest := 9
		var try func(ladder []drills.Drill)
		try = func(ladder []drills.Drill) {
			if len(ladder) < shortest && good(ladder) {
				shortest = len(ladder)
			}
			if len(ladder) == 3 {
				return
			}
			for _, d := range s.Drills {
				if len(ladder) == 0 || ladder[len(ladder)-1].Dia.Less(d.Dia) {
					try(append(slices.Clone(ladder), d))
				}
			}
		}
		try(nil)
		got := x.pilots(&base, drills.Of(units.Millimetres(tc.last)), deep, false)
		if shortest == 9 {
			continue // the motor drives none
		}
		if len(got) != shortest || !good(got) {
			t.Errorf("%s, %d mm: %v, and %d would do", tc.material, tc.last, got, shortest)
		}
		t.Logf("%s %d mm: %v", tc.material, tc.last, got)
	}
}

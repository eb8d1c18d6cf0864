package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// A sleeve of 34 and 30, faced and bored as a bar from both ends, is turned between centres
// in the mouths of its bore, 6 and a millimetre a side: 8. A bore drilled from both ends meets
// in the middle.
func TestBetweenCentres(t *testing.T) {
	j := jobOf(t, parse(t, "material: low-carbon-steel\nround:\n  profile: [[0, 34], [60, 34], [60, 30], [120, 30]]\n"+
		"  bores: [{from: left, dia: 6, through: true}]\n"), loadShop(t, nil))
	ways := j.centreWays(part.Left)
	if len(ways) != 1 {
		t.Fatalf("%d ways between centres", len(ways))
	}
	d, ring, err := j.attempt(j.hold(ways[0]), bonds{})
	if err != nil || ring != nil || !d.passes() {
		t.Fatal(err, ring, d.no)
	}
	for _, o := range d.ops {
		switch o.ID {
		case "seat-left", "seat-right":
			if seat := o.Removes[0].(work.Bore); seat.Dia != 8*work.MM || !seat.Opens {
				t.Errorf("the seat is %+v", seat)
			}
		case "turn-z0", "turn-z60":
			if o.Setup.Device != op.Centres || o.Setup.Support != op.AtMouth || !slices.Contains(o.Cautions, cautions.Dog) {
				t.Errorf("%s is held in %s, %s, cautions %v", o.ID, o.Setup.Device, o.Setup.Support, o.Cautions)
			}
		}
	}
}

// A longer stub is 25 beyond its end, of which the bar is longer, its centre is in it, and it
// is half of the end of 18 thick, 9; it is sawn off last.
func TestLongerStub(t *testing.T) {
	j := jobOf(t, parse(t, "material: brass\nround:\n  profile: [[0, 20], [40, 20], [80, 18]]\n"), loadShop(t, nil))
	w := way{
		first: part.Right, grip: inDog, centre: [2]bool{true, true}, barEnds: true, split: 1, single: true,
		stubs: [2]bool{true, false},
	}
	task := j.hold(w)
	if to := task.blank.Span.To; to != 106*work.MM { // 80, 25 and 1 to face
		t.Errorf("the bar ends at %v", to.MM())
	}
	if d := task.stubDia(part.Right); !d.Equal(units.Millimetres(9)) {
		t.Error(say.Of("the stub is ", d))
	}
	d, ring, err := j.attempt(task, bonds{})
	if err != nil || ring != nil || !d.passes() {
		t.Fatal(err, ring, d.no)
	}
	if last := d.ops[d.sequence[len(d.sequence)-1]]; last.ID != "stub-off-right" {
		t.Errorf("%s is last", last.ID)
	}
}

// A bar of 12 that may keep no centre is turned on one in a stub, which is sawn off at the bench. There
// it is held clear of its row of holes of 5, over a third of it, and of its chamfers.
func TestCentreInAStub(t *testing.T) {
	const bar = "material: low-carbon-steel\nround:\n  centres: remove\n  profile: [[0, 12], [160, 12]]\n" +
		"  chamfers: [{at: 0, size: 1}]\n"
	for rows, from := range map[string]work.Len{
		"": 1 * work.MM,
		// the last of 5, no more than 5.1, at 110; the first is at 50, so that less is free before it
		"  rows: [{from: 50, dia: 5, count: 7, pitch: 10}]\n": 112_550_000,
	} {
		r := make1(t, parse(t, bar+rows), loadShop(t, nil))
		if f := r.Fails(); len(f) > 0 {
			t.Fatal(rows, f)
		}
		n := slices.IndexFunc(ids(r), func(id string) bool { return strings.HasPrefix(id, "stub-off") })
		if n < 0 {
			t.Fatalf("%sno stub is sawn off: %v", rows, ids(r))
		}
		s := r.Operations[n].op.Setup
		if s.Device != op.Vice || s.Held.From != from || s.Held.To != 160*work.MM {
			t.Errorf("%sheld in the %s at %+v", rows, s.Device, s.Held)
		}
	}
}

// A knob whose right cone falls from 30 to 10 toward the headstock, atan(10/5) = 63.4 deg: no
// right-hand tool that a person grinds clears it (60), so that a left-hand tool starts in room turned
// past its end, to 10 - 0.5.
func TestRoomPastTheEnd(t *testing.T) {
	r := make1(t, parse(t, "material: brass\nround:\n  profile: [[0, 18], [18, 30], [26, 30], [31, 10]]\n"+
		"  bores: [{from: left, dia: 6.8, depth: 24}]\n"), loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Fatal(f)
	}
	list := ids(r)
	room, taper := slices.Index(list, "room-right"), slices.Index(list, "taper-z26")
	if room < 0 || taper < room {
		t.Fatalf("no room before the taper: %v", list)
	}
	if p := r.Operations[room].op.Removes[0].(work.Outside).Profile; p[0].Z != 31*work.MM || p[0].Dia > 9_520_000 {
		t.Errorf("room of %+v", p)
	}
	if hand := r.Operations[taper].op.Tool.Hand; hand != op.Left {
		t.Errorf("the taper is cut with %v", hand)
	}
}

// A point of 1.2 on 6, 35 long, springs from a tool, which leaves 0.4 for the file all along; a
// file keeps no angle that is written.
func TestFiledTaper(t *testing.T) {
	const text = "material: silver-steel\nround:\n  stock: 6\n  profile: [[0, 6], [90, 6], [125, 1.2]]\n"
	r := make1(t, parse(t, text), loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Fatal(f)
	}
	file := op1(t, r, "file-z90")
	if file.op.Tool.Hand != op.File || !slices.Contains(file.op.Cautions, cautions.Files) {
		t.Errorf("%+v, %v", file.op.Tool, file.op.Cautions)
	}
	rough := op1(t, r, "taper-z90").Removes[0].(work.Outside).Profile
	if left := rough[1].Dia - 1_200_000; left < 200_000 || 600_000 < left {
		t.Errorf("%v is left for the file at the small end", left.MM())
	}
	r = make1(t, parse(t, text+"  limits: [{from: 90, to: 125, angle: 0.05deg}]\n"), loadShop(t, nil))
	if slices.Contains(ids(r), "file-z90") {
		t.Error("a file keeps an angle")
	}
}

// A chuck of 100 whose hole is not known passes 36. A bar of 35 that is faced close stands 10
// out of the jaws, which are 28 long; one of 39 ends in them: the sawn end 1 beyond the part
// while the left end is faced, and the faced one afterwards.
func TestFacedDrawnOut(t *testing.T) {
	for _, tc := range []struct{ dia, bar, left, right string }{
		{"34", "35", "z 10 mm to 38 mm", "z 144 mm to 172 mm"},
		{"38", "39", "z 155 mm to 183 mm", "z 0 mm to 28 mm"},
	} {
		j := jobOf(t, bored(t, "  profile: [[0, 30], [15, 30], [15, "+tc.dia+"], [182, "+tc.dia+"]]\n"+
			"  bores: [{from: left, dia: 10, through: true}]\n"), loadShop(t, nil))
		if want := units.MustLength(tc.bar + "mm"); !j.bar.Equal(want) {
			t.Fatalf("the bar is %v, by hand %v", say.Of(j.bar), say.Of(want))
		}
		c := j.hold(way{first: part.Left, grip: inDog, barEnds: true, centre: [2]bool{true, true}, split: 1}).chuckings
		for i, want := range []string{tc.left, tc.right} {
			held := c[i].facing.Held
			if got := say.Of(op.Span{From: held.From.Length(), To: held.To.Length()}).In(units.MM); got != want {
				t.Errorf("a bar of %s, %s end out: held over %s, by hand %s", tc.bar, c[i].out, got, want)
			}
		}
	}
}

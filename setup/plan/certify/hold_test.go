package certify

import (
	"encoding/json"
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// How the work is held, as a set-up's JSON has it. The jaws are 28 long: of what
// lies behind z 22, 22 reach further back. A hexagon of 16 across flats is told
// by them; a centre's mouth is 4 across.
func TestHold(t *testing.T) {
	r := setUp(t, shaft, shed)
	bar := r.bar(0, 101, 20)
	hex := bar.After(work.Flats{From: 0, To: 60 * mm, Sides: 6, AcrossFrom: 16 * mm, AcrossTo: 16 * mm})
	centred := r.bar(0, 101, 21).After(turned(0, 100, 20, work.Finished),
		work.Centre{End: part.Right, Dia: 4 * mm, Pilot: 2 * mm})
	bored := bar.After(work.Bore{From: part.Left, Dia: 10 * mm, Depth: 100 * mm, Through: true})
	in := func(d op.Device, from, to work.Len, s op.Support) op.Op {
		return op.Op{Kind: op.Turn, Setup: op.Setup{
			Machine: op.Lathe, Device: d, Held: span(from, to), Out: part.Right, Support: s,
		}}
	}
	for _, tc := range []struct {
		name string
		o    op.Op
		w    work.State
		want string
	}{
		{
			"in the chuck", in(op.Chuck, 22, 50, op.NoSupport), bar,
			`{"grip":{"from_mm":22,"to_mm":50,"dia_mm":20,"shape":"round","stage":"bought","inside":false,"over":null},` +
				`"jaw_face_mm":50,"stick_out_mm":51,"through":{"length_mm":22,"dia_mm":20},` +
				`"support":{"kind":"none","at_mm":null,"dia_mm":null}}`,
		},
		{
			"finished, on a centre", in(op.Chuck, 0, 20, op.AtCentre), centred,
			`{"grip":{"from_mm":0,"to_mm":20,"dia_mm":20,"shape":"round","stage":"finished","inside":false,"over":"card"},` +
				`"jaw_face_mm":20,"stick_out_mm":81,"through":null,"support":{"kind":"centre","at_mm":101,"dia_mm":4}}`,
		},
		{
			"a hexagon", in(op.Chuck, 0, 28, op.NoSupport), hex,
			`{"grip":{"from_mm":0,"to_mm":28,"dia_mm":16,"shape":6,"stage":"facetted","inside":false,"over":"card"},` +
				`"jaw_face_mm":28,"stick_out_mm":73,"through":null,"support":{"kind":"none","at_mm":null,"dia_mm":null}}`,
		},
		{
			"on a mandrel", in(op.Mandrel, 0, 100, op.NoSupport), bored,
			`{"grip":{"from_mm":0,"to_mm":100,"dia_mm":10,"shape":"round","stage":"finished","inside":true,"over":null},` +
				`"jaw_face_mm":null,"stick_out_mm":null,"through":null,` +
				`"support":{"kind":"none","at_mm":null,"dia_mm":null}}`,
		},
		{
			"ends in the V-blocks", in(op.VBlocks, -10, 30, op.NoSupport), bar,
			`{"grip":{"from_mm":0,"to_mm":30,"dia_mm":20,"shape":"round","stage":"bought","inside":false,"over":null},` +
				`"jaw_face_mm":null,"stick_out_mm":null,"through":null,` +
				`"support":{"kind":"none","at_mm":null,"dia_mm":null}}`,
		},
		{
			"between centres", in(op.Centres, 0, 0, op.AtCentre), centred,
			`{"grip":{"from_mm":0,"to_mm":12,"dia_mm":20,"shape":"round","stage":"finished","inside":false,"over":"card"},` +
				`"jaw_face_mm":null,"stick_out_mm":null,"through":null,` +
				`"support":{"kind":"centre","at_mm":101,"dia_mm":4}}`,
		},
	} {
		text, err := json.Marshal(Hold(r.of(tc.o, tc.w)))
		if err != nil || string(text) != tc.want {
			t.Errorf("%s: %v\ngot  %s\nwant %s", tc.name, err, text, tc.want)
		}
	}
}

// A part with two steps, the work it is turned from, and the same turned end for
// end: whatever holds or fails, by whatever it springs, does so on both.
func TestMirrored(t *testing.T) {
	shop := setUp(t, shaft, shed).Shop
	rapid.Check(t, func(t *rapid.T) {
		in := func(name string, from, to int) work.Len { return work.Len(rapid.IntRange(from, to).Draw(t, name)) }
		z1, z2, long := in("z1", 5, 60), in("z2", 65, 120), in("length", 125, 200)
		d := [3]work.Len{in("d1", 6, 13), in("d2", 14, 24), in("d3", 6, 13)}
		if rapid.Bool().Draw(t, "waist") {
			d = [3]work.Len{d[1], d[0], d[1]}
		}
		text := func(z1, z2 work.Len, d [3]work.Len) string {
			return fmt.Sprintf("format: 1\npart: P\nunits: mm\nmaterial: mild-steel\nround:\n  profile: [[0, %d], [%d, %d], "+
				"[%d, %d], [%d, %d], [%d, %d], [%d, %d]]\n", d[0], z1, d[0], z1, d[1], z2, d[1], z2, d[2], long, d[2])
		}
		one := newRig(t, text(z1, z2, d), shop)
		two := newRig(t, text(long-z2, long-z1, [3]work.Len{d[2], d[1], d[0]}), shop)
		from := in("from", 0, 100)
		to := min(from+in("held", 4, 40), long)
		cut, end := in("cut", 0, 120), in("end", 0, 60)
		dia := in("dia", 5, 26)
		device := rapid.SampledFrom([]op.Device{op.Chuck, op.SoftJaws, op.Collet, op.FourJaw}).Draw(t, "device")
		hand := rapid.SampledFrom([]op.Hand{op.Right, op.Left, op.Neutral}).Draw(t, "hand")
		finish := rapid.Bool().Draw(t, "finish")
		rough := rapid.Bool().Draw(t, "rough")
		judge := func(r rig, mirrored bool) []string {
			at := func(a, b work.Len) work.Span {
				if mirrored {
					a, b = long-b, long-a
				}
				return span(a, b)
			}
			w := work.Bar(op.LenOf(r.Shape.Length), at(-1, long+1), 26*mm, 0, 0)
			if rough {
				w = w.After(work.Turned(at(z1, long+1), max(d[1], d[2])*mm, work.Rough))
			}
			out := part.Right
			if mirrored {
				out = part.Left
			}
			o := op.Op{
				Kind: op.Turn, Tool: op.Tool{Name: "tool", Hand: hand},
				Setup:   op.Setup{Machine: op.Lathe, Device: device, Held: at(from, to), Out: out},
				Push:    op.Cut{Depth: 0.3, Feed: 0.1, Finish: finish},
				Removes: []work.Removal{work.Turned(at(cut, min(cut+end+1, long+1)), dia*mm, work.Finished)},
			}
			report := r.of(o, w).Check()
			var said []string
			for _, c := range report.Checks {
				said = append(said, fmt.Sprint(c.Code, c.OK))
			}
			if report.Spring != nil {
				said = append(said, fmt.Sprintf("%.6f", report.Spring.MM()))
			}
			return said
		}
		if a, b := fmt.Sprint(judge(one, false)), fmt.Sprint(judge(two, true)); a != b {
			t.Fatalf("one way %s\nturned  %s", a, b)
		}
	})
}

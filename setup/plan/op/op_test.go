package op_test

import (
	"encoding/json"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
	"setover/tapers/swivel"
)

func mm(text string) units.Length { return units.MustLength(text + "mm") }

// The face of the jaws is the end of what they hold that lies toward the end that
// stands out.
func TestFace(t *testing.T) {
	held := work.Span{From: 20e6, To: 47e6}
	if z := (op.Setup{Held: held, Out: part.Right}).Face(); z != 47e6 {
		t.Errorf("with the right end out the face is at %s", say.Of(z))
	}
	if z := (op.Setup{Held: held, Out: part.Left}).Face(); z != 20e6 {
		t.Errorf("with the left end out the face is at %s", say.Of(z))
	}
}

// A grip is another where the machine, the device, what is held, where, or the end
// that is out is another; the same whatever stands in the end and is swung.
func TestGrip(t *testing.T) {
	one := op.Setup{
		Machine: op.Lathe, Device: op.Chuck, On: op.Stock, Held: work.Span{From: 53e6, To: 81e6}, Out: part.Left,
		Support: op.AtCentre, State: op.State{Swung: true, Compound: 6e6},
	}
	for name, change := range map[string]func(*op.Setup){
		"machine": func(s *op.Setup) { s.Machine = op.MillMachine },
		"device":  func(s *op.Setup) { s.Device = op.Collet },
		"surface": func(s *op.Setup) { s.On.Dia = 1 },
		"held":    func(s *op.Setup) { s.Held.To++ },
		"out":     func(s *op.Setup) { s.Out = part.Right },
	} {
		other := one
		change(&other)
		if other.Grip() == one.Grip() {
			t.Errorf("another %s is the same grip", name)
		}
	}
	same := one
	same.Support, same.State = op.NoSupport, op.State{}
	if same.Grip() != one.Grip() {
		t.Error("a centre and a swung compound make another grip")
	}
	if one.Plain().Support != op.NoSupport || one.Plain().State != one.State || one.Support != op.AtCentre {
		t.Errorf("plain: %+v", one.Plain())
	}
}

// What finds the axis by itself, what has jaws, and what spares a finished surface,
// as the contract of the plan has them; every device has words and minutes.
func TestDevices(t *testing.T) {
	for _, x := range []struct {
		d                  op.Device
		axis, jaws, spares bool
	}{
		{op.Chuck, false, true, false},
		{op.FourJaw, false, true, false},
		{op.SoftJaws, true, true, true},
		{op.Collet, true, true, true},
		{op.Centres, true, false, true},
		{op.Mandrel, true, false, true},
		{op.Arbor, true, false, true},
		{op.ThreadedStub, true, false, true},
		{op.SplitNut, true, true, true},
		{op.VBlocks, true, false, true},
		{op.Vice, false, false, false},
		{op.ColletBlock, true, true, true},
		{op.DividingHead, true, true, false},
		{op.RotaryTable, false, true, false},
		{op.Cradle, false, false, true},
		{op.ByHand, false, false, true},
	} {
		if s := (op.Setup{Device: x.d}); s.RunsTrue() != x.axis || x.d.Jaws() != x.jaws || x.d.Spares() != x.spares {
			t.Errorf("%s: finds the axis %v, has jaws %v, spares %v", x.d, s.RunsTrue(), x.d.Jaws(), x.d.Spares())
		}
		if words, _ := x.d.Words(); words == "" || x.d.Minutes() <= 0 {
			t.Errorf("%s: %q, %v min", x.d, words, x.d.Minutes())
		}
	}
}

// Figures in JSON: a number in its unit or a word, and the sentence.
func TestSettingJSON(t *testing.T) {
	for _, tc := range []struct {
		name   say.Text
		value  say.Quantity
		remark []any
		want   string
	}{
		{
			"relief", op.With(mm("2.25"), "wide"),
			[]any{"down to ", mm("6")},
			`{"name":"relief","value":2.25,"unit":"mm","say":"relief 2.25 mm wide, down to 6 mm"}`,
		},
		{"take", mm("1").Down(), nil, `{"name":"take","value":1,"unit":"mm","say":"take 1 mm"}`},
		{"jaws", op.Len(53.5e6), nil, `{"name":"jaws","value":53.5,"unit":"mm","say":"jaws 53.5 mm"}`},
		{"tilt", sheet.Deg(units.Degrees(5.5)), nil, `{"name":"tilt","value":5.5,"unit":"deg","say":"tilt 5.5 deg"}`},
		{
			"compound", op.With(sheet.Number{V: 6, Places: 2, Unit: "deg"}, "on the scale"), nil,
			`{"name":"compound","value":6,"unit":"deg","say":"compound 6 deg on the scale"}`,
		},
		{"passes", sheet.Count(7), nil, `{"name":"passes","value":7,"unit":"","say":"passes 7"}`},
		{
			"depth", say.Text("through"),
			[]any{"the whole of it"},
			`{"name":"depth","value":"through","unit":"","say":"depth through, the whole of it"}`,
		},
		{"feed", units.MillimetresPerRev(0.06), nil, `{"name":"feed","value":0.06,"unit":"mm/rev","say":"feed 0.06 mm/rev"}`},
	} {
		var o op.Op
		o.Set(tc.name, tc.value, tc.remark...)
		if got, err := json.Marshal(o.Settings[0]); err != nil || string(got) != tc.want {
			t.Errorf("%s, %v, want %s", got, err, tc.want)
		}
	}
}

// A check keeps its remedy only where it does not hold.
func TestCheck(t *testing.T) {
	var o op.Op
	o.Check("wall-too-thin", true, op.With(mm("2"), "of wall"), mm("1.5"), "a smaller bore")
	o.Check("wall-too-thin", false, op.With(mm("1"), "of wall"), mm("1.5"), "a smaller bore of ", mm("6"))
	for i, want := range []string{
		`{"code":"wall-too-thin","ok":true,"value":2,"limit":1.5,"limit_is":"least","unit":"mm","remedy":""}`,
		`{"code":"wall-too-thin","ok":false,"value":1,"limit":1.5,"limit_is":"least","unit":"mm",` +
			`"remedy":"a smaller bore of 6 mm"}`,
	} {
		if got, err := json.Marshal(o.Checks[i]); err != nil || string(got) != want {
			t.Errorf("%s, %v, want %s", got, err, want)
		}
	}
}

// A length is predicted in millimetres, an angle in degrees; each is kept or not by
// its own limits. A size that the part does not have is left out.
func TestPredicted(t *testing.T) {
	d := limits.Dimension{
		Feature: "outside-2", Kind: limits.Diameter, From: mm("20"), To: mm("50"), Drawn: mm("32"),
		Low: mm("31.7"), High: mm("32.3"),
	}
	var o op.Op
	o.Foresee(limits.Dimension{}, "what is not there", mm("3"), "nothing")
	o.Foresee(d, "diameter", mm("31.5"), "measured")
	o.Foresee(d, "diameter", mm("31.7"), "the dial")
	if len(o.Predicted) != 2 || o.Predicted[0].OK() || !o.Predicted[1].OK() {
		t.Fatalf("%+v", o.Predicted)
	}
	want := `{"id":"outside-2","kind":"diameter","feature":"diameter","from_mm":20,"to_mm":50,"drawn_mm":32,` +
		`"low_mm":31.7,"high_mm":32.3,"out_mm":31.5,"error_mm":-0.5,"told_mm":0,"ok":false,"because":"measured"}`
	if got, err := json.Marshal(o.Predicted[0]); err != nil || string(got) != want {
		t.Errorf("%s, %v, want %s", got, err, want)
	}
	a := op.Predicted{
		Dimension: limits.Dimension{
			Feature: "outside-3", Kind: limits.Angle, DrawnAngle: units.Degrees(6), LowAngle: units.Degrees(5.5),
			HighAngle: units.Degrees(6.5),
		},
		OutAngle: units.Degrees(6.25), Words: "half angle", Because: "by indicator",
	}
	want = `{"id":"outside-3","kind":"angle","feature":"half angle","from_mm":0,"to_mm":0,"drawn_deg":6,"low_deg":5.5,` +
		`"high_deg":6.5,"out_deg":6.25,"error_deg":0.25,"ok":true,"because":"by indicator"}`
	if got, err := json.Marshal(a); err != nil || string(got) != want {
		t.Errorf("%s, %v, want %s", got, err, want)
	}
	if a.OutAngle = units.Degrees(6.51); a.OK() {
		t.Error("6.51 deg is kept within 5.5 to 6.5")
	}
}

// A tool's hand is a word, null where it has none.
func TestToolJSON(t *testing.T) {
	for want, x := range map[string]op.Tool{
		`{"name":"facing tool","hand":"right"}`: {Name: "facing tool", Hand: op.Right},
		`{"name":"tap M8","hand":null}`:         {Name: "tap M8"},
	} {
		if got, err := json.Marshal(x); err != nil || string(got) != want {
			t.Errorf("%s, %v, want %s", got, err, want)
		}
	}
}

// A dial of 2 mm a turn and 100 lines stands for the nearest 0.02: 4.813 is 2 turns
// and 41 lines, 4.82. Without a dial the position is set as it is.
func TestOnDial(t *testing.T) {
	var o op.Op
	dial := &shop.Dial{Lead: mm("2"), Divisions: 100}
	if set := o.OnDial("to 12 mm", op.CrossSlide, dial, mm("4.813"), "touching the bar"); !set.Equal(mm("4.82")) {
		t.Errorf("set to %s", say.Of(set))
	}
	if set := o.OnDial("shoulder", op.Carriage, nil, mm("4.813"), "the left face"); !set.Equal(mm("4.813")) {
		t.Errorf("without a dial %s", say.Of(set))
	}
	for i, want := range []string{
		`{"what":"to 12 mm","slide":"cross slide","exact_mm":4.813,"set_mm":4.82,"turns":2,"divisions":41,` +
			`"from":"touching the bar"}`,
		`{"what":"shoulder","slide":"carriage","exact_mm":4.813,"set_mm":null,"turns":null,"divisions":null,` +
			`"from":"the left face"}`,
	} {
		if got, err := json.Marshal(o.Dials[i]); err != nil || string(got) != want {
			t.Errorf("%s, %v, want %s", got, err, want)
		}
	}
}

// A lead is kept as it was written, in millimetres or by the inch.
func TestLead(t *testing.T) {
	for _, text := range []string{"1.75mm", "20tpi", "13tpi", "0.5mm"} {
		p := units.MustPitch(text)
		back := op.LeadOf(p).Pitch()
		if back.String() != p.String() || op.LeadOf(p) != op.LeadOf(units.MustPitch(text)) {
			t.Errorf("%s comes back as %v", text, back)
		}
	}
}

// What stands in a set-up is left out of its JSON where it is not so.
func TestStandsJSON(t *testing.T) {
	if got, _ := json.Marshal(op.Stands{}); string(got) != "{}" {
		t.Errorf("nothing is special: %s", got)
	}
	angle, offset := units.Degrees(6.25), mm("-4.59")
	s := op.Stands{Compound: &angle, Method: swivel.ByIndicator, Offset: &offset, Blocks: []op.Len{5e6, 25e6}}
	want := `{"compound_deg":6.25,"method":"indicator","tailstock_offset_mm":-4.59,"blocks_mm":[5,25]}`
	if got, _ := json.Marshal(s); string(got) != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// Another operation of the same set-up keeps its place and its feature, and what it
// is added to leaves the first as it was.
func TestAs(t *testing.T) {
	base := op.Op{
		Setup: op.Setup{Machine: op.Lathe, Out: part.Left}, Feature: op.Feature{Kind: op.Bore, N: 2}, Axial: true,
		Dia: mm("8"),
	}
	o := base.As("bore-2-drill", op.Drill, "drill 8 mm", "8 mm drill")
	o.Set("depth", mm("20"))
	if o.ID != "bore-2-drill" || o.Kind != op.Drill || o.Setup != base.Setup || o.Feature != base.Feature || !o.Axial ||
		o.Tool != (op.Tool{Name: "8 mm drill"}) {
		t.Errorf("%+v", o)
	}
	if base.ID != "" || len(base.Settings) > 0 {
		t.Errorf("the base became %+v", base)
	}
}

// What is taken off, and what of it may be smaller than the drawing.
func TestRemoved(t *testing.T) {
	var o op.Op
	o.Removed(work.EndCut{End: part.Left, Z: 0})
	o.Removed(work.Turned(work.Span{From: 0, To: 5e6}, 9e6, work.Finished), op.ThreadRelief, op.ThreadChamfer)
	if len(o.Removes) != 2 || len(o.Allowed) != 2 || o.Allowed[0] != op.ThreadRelief {
		t.Errorf("%v, %v", o.Removes, o.Allowed)
	}
	o.Cuts = op.Span{From: mm("1.5"), To: mm("20")}
	if o.Along() != (work.Span{From: 1500000, To: 20e6}) {
		t.Errorf("along %v", o.Along())
	}
}

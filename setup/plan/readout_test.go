package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/plan/op"
)

// Where a machine has a readout every position is printed for it too, by hand: a
// shoulder 50 - 14.003 = 35.997 from the face without a dial on the carriage is counted
// as 35.995 in steps of 0.005; from 20.4 to 20 the cross slide goes 0.2, ten lines of 0.02,
// which shows as 0.2, or 0.4 where the readout counts on the diameter. Without one
// there is a stop, and no word of a readout.
func TestReadout(t *testing.T) {
	p := parse(t, "material: brass\nround:\n  stock: 32\n  profile: [[0, 20], [14.003, 20], [14.003, 30], [50, 30]]\n")
	text := func(r Result) string {
		var list []string
		for _, o := range r.Operations {
			for _, d := range o.Dials {
				l := dialLine(d)
				list = append(list, say.Of(l.What, " | ", l.Set, " | ", l.Note).In(units.MM))
			}
		}
		return strings.Join(list, "\n")
	}
	with := make1(t, p, loadShop(t, map[string]string{"lathe:\n": "lathe:\n  readout: true\n"}))
	got := text(with)
	for _, want := range []string{
		"shoulder at z 14.003 mm | 35.995 mm | carriage by the readout",
		"; readout 0.2 mm, or 0.4 mm on the diameter",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	if !slices.ContainsFunc(with.Predicted, func(x op.Predicted) bool {
		return x.Because == "the carriage's readout" && x.Out.Equal(units.MustLength("14.005mm"))
	}) {
		t.Error("the shoulder is not foreseen where the readout puts it")
	}
	if got := text(make1(t, p, loadShop(t, nil))); strings.Contains(got, "readout") {
		t.Errorf("a readout that is not owned:\n%s", got)
	}
}

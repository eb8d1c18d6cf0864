package plan

import (
	"path/filepath"
	"testing"

	"setover/setup/maker/files"
	"setover/setup/plan/op"
)

// nearby returns what any step of a plan has in its place, each once.
func (r Result) nearby() []Instead {
	var list []Instead
	d, told := r.found, map[string]bool{}
	once := func(key string, of func() []Instead) {
		if !told[key] {
			told[key] = true
			list = append(list, of()...)
		}
	}
	for _, line := range r.Operations {
		o, key := line.op, ""
		for _, x := range d.offers {
			for _, p := range x.ops {
				if p.ID == o.ID {
					key += x.feature + " "
				}
			}
		}
		once("methods of "+key, func() []Instead { return r.otherMethods(d, o) })
		if o.Setup.Machine == op.Lathe {
			once("holds", func() []Instead { return r.otherHolds(d) })
		}
		if o.Roll != nil && o.Setup.Machine != op.Lathe {
			once("lies", func() []Instead { return r.otherLies(d) })
		}
	}
	return list
}

// Nothing that is one change away from a plan, another hold, another bed while it is cut across or
// another method of a feature, each planned by a search of its own that knows nothing of the plan, comes
// to less than it without being more trouble. The parts in the list are of the judge's folder; a drawbar
// that springs in all of its steps until it has a centre; a stud that a nut holds without the loss of a
// grip; a spindle whose bearings want three methods at once.
func TestNothingNearIsCheaper(t *testing.T) {
	type row struct{ part, shop string }
	own := map[string]string{
		"drawbar": "material: mild-steel\nround:\n  profile: [[0, 16], [12, 16], [12, 10], [200, 10]]\n" +
			"  threads: [{from: right, spec: M10, length: 30}]\n  facets: [{sides: 2, from: 0, to: 12, across: 13}]\n",
		"stud": "material: mild-steel\nquantity: 4\n" +
			"round:\n  profile: [[0, 8], [20, 8], [20, 10], [50, 10], [50, 8], [70, 8]]\n" +
			"  threads: [{from: left, spec: M8, length: 17}, {from: right, spec: M8, length: 17}]\n",
		"spindle": "material: mild-steel\nround:\n  profile: [[0, 12], [20, 12], [20, 17], [26, 17], [26, 20], " +
			"[80, 20], [80, 17], [86, 17], [86, 10], [110, 10]]\n" +
			"  limits: [{at: 23, fit: k6}, {at: 83, fit: k6}, {at: 92, fit: h7}]\n" +
			"  threads: [{from: right, spec: M10, length: 12}]\n",
	}
	rows := []row{{"drawbar", "shop-nomill"}, {"drawbar", "shop-big"}, {"stud", "shop-inch"}, {"spindle", "shop-big"}}
	parts := []string{
		"p05-ferrule", "p07-hexstandoff", "p08-punch", "p12-bushing", "p15-acetalroller", "p16-inchstud", "p17-wheel",
		"p22-plainpin", "p25-washer", "p26-tapend", "p29-rowcross",
	}
	shops := []string{"shop-nomill", "shop-inch"}
	for _, part := range parts {
		for _, shop := range shops {
			rows = append(rows, row{"named/" + part, shop})
		}
	}
	folder, planned := filepath.Join("judge", "testdata", "parts"), 0
	for _, x := range rows {
		name := filepath.Join(folder, "shops", x.shop+".yaml")
		s, _, err := files.ReadShop(name, readFile(t, name))
		if err != nil {
			t.Fatal(err)
		}
		text := "format: 1\nunits: mm\npart: " + x.part + "\n" + own[x.part]
		if own[x.part] == "" {
			text = string(readFile(t, filepath.Join(folder, x.part+".yaml")))
		}
		r := make1(t, read(t, text), s)
		if len(r.Fails()) > 0 || r.found == nil || r.found.block != nil {
			continue
		}
		planned++
		for _, y := range r.nearby() {
			if y.No == cheaper {
				t.Errorf("%s in %s: %s, %+d set-ups, %+d grips, %+v min", x.part, x.shop, y.What, *y.Setups, *y.Regrips, *y.Minutes)
			}
		}
	}
	if planned < 20 {
		t.Errorf("only %d were planned", planned)
	}
}

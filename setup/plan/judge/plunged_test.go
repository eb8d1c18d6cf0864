package judge_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"setover/setup/plan/judge"
)

// isPlunged reports whether an operation is an arc that is plunged.
func isPlunged(o object) bool {
	return o["kind"] == "curve" && strings.HasPrefix(o["name"].(string), "plunge ")
}

// plungedCases calls do with every plan of testdata/parts/arcs, in the demo shop and in one in inches,
// and with SETOVER_SLOW=1 in every shop.
func plungedCases(t *testing.T, do func(name string, text []byte, status int, part, shop judge.Tree)) {
	list, err := filepath.Glob(filepath.Join("testdata", "parts", "arcs", "*.yaml"))
	if err != nil || len(list) == 0 {
		t.Fatal("no arcs ", err)
	}
	shops := shops
	if os.Getenv("SETOVER_SLOW") == "" {
		shops = []string{"shed", "shop-inch"}
	}
	for _, path := range list {
		body, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, shop := range shops {
			text, status, err := planned(path, body, shopFile(shop))
			if err != nil {
				t.Fatal(path, " ", shop, ": ", err)
			}
			do(filepath.Base(path)+" in "+shop, text, status, tree(t, body), file(t, shopFile(shop)))
		}
	}
}

// spoiledPlunges spoil what a card says of an arc that is plunged: dial is the place it is told at.
var spoiledPlunges = map[string]struct {
	codes []string
	spoil func(o, dial object)
}{
	"a place that is not there": {[]string{"steps"}, func(o, _ object) {
		o["dials"] = append(o["dials"].([]any)[:1], o["dials"].([]any)[2:]...)
		for _, v := range o["settings"].([]any) {
			if s := v.(object); s["name"] == "steps" {
				s["value"] = s["value"].(float64) - 1
			}
		}
	}},
	"half a millimetre deeper": {[]string{"steps", "gouge"}, func(_, dial object) {
		for _, key := range []string{"exact_mm", "set_mm"} {
			if v, ok := dial[key].(float64); ok {
				dial[key] = v + 0.25
			}
		}
	}},
	"half a millimetre deeper, and said so": {[]string{"steps", "gouge"}, func(_, dial object) {
		var dia float64
		what := dial["what"].(string)
		fmt.Sscanf(what, "to %f mm", &dia)
		dial["what"] = strings.Replace(what, fmt.Sprintf("to %v mm", dia), fmt.Sprintf("to %.3f mm", dia-0.5), 1)
		for _, key := range []string{"exact_mm", "set_mm"} {
			if v, ok := dial[key].(float64); ok {
				dial[key] = v + 0.25
			}
		}
	}},
	"at another z than from the face": {[]string{"steps"}, func(_, dial object) {
		var dia, z float64
		what := dial["what"].(string)
		fmt.Sscanf(what, "to %f mm at z %f mm", &dia, &z)
		dial["what"] = strings.Replace(what, fmt.Sprintf("at z %v mm", z), fmt.Sprintf("at z %.3f mm", z+0.3), 1)
	}},
	"another blade": {[]string{"steps", "gouge"}, func(o, _ object) {
		for _, v := range o["settings"].([]any) {
			if s := v.(object); s["name"] == "width a plunge" {
				s["value"] = s["value"].(float64) + 1
			}
		}
	}},
	"less is said to be left": {[]string{"steps"}, func(o, _ object) {
		for _, v := range o["settings"].([]any) {
			if s := v.(object); s["name"] == "steps" {
				s["say"] = "leaving cusps of 0.01 mm to file and polish"
			}
		}
	}},
}

// What is plunged is true in every shop, and is not any more when its card is spoiled.
func TestPlungedArcs(t *testing.T) {
	const least = 17 // arcs that are plunged: no other tool gets at them
	plunged, refused := 0, 0
	plungedCases(t, func(name string, text []byte, status int, part, shop judge.Tree) {
		for _, f := range judge.Judge(status, text, part, shop) {
			t.Errorf("%s: %s", name, f)
		}
		if status != 0 {
			refused++
			t.Logf("%s: refused by %s", name, refusedCode(text))
			return
		}
		var whole card
		if err := json.Unmarshal(text, &whole); err != nil {
			t.Fatal(err)
		}
		for n, v := range whole["operations"].([]any) {
			const enough = 3 // places
			if !isPlunged(v.(object)) {
				continue
			}
			if plunged++; len(v.(object)["dials"].([]any)) < enough {
				continue
			}
			for what, m := range spoiledPlunges {
				var p card
				if err := json.Unmarshal(text, &p); err != nil {
					t.Fatal(err)
				}
				o := p.op(n + 1)
				list := o["dials"].([]any)
				m.spoil(o, list[len(list)/2].(object))
				spoiled, err := json.Marshal(p)
				if err != nil {
					t.Fatal(err)
				}
				if !hasOne(judge.Codes(judge.Judge(0, spoiled, part, shop)), m.codes) {
					t.Errorf("%s, operation %d, %s: it says nothing", name, n+1, what)
				}
			}
		}
	})
	if plunged < least {
		t.Errorf("%d arcs are plunged, of %d wanted at the least, and %d plans are refused", plunged, least, refused)
	}
	t.Log(plunged, " plunged, ", refused, " refused")
}

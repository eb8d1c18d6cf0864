package plan

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"setover/setup/maker/files"
	"setover/setup/maker/shop"
)

// plans are the plans of the demo parts, of the parts that are judged and of what
// is refused, as a program reads them.
func plans(t *testing.T) map[string]map[string]any {
	t.Helper()
	all := map[string]map[string]any{}
	for _, name := range []string{"plumb-bob.yaml", "spindle.yaml", "cap.yaml", "bracket.yaml"} {
		all[name] = marshalled(t, made(t, name))
	}
	bench := benchOf(t)
	list, err := filepath.Glob("judge/testdata/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range list {
		if filepath.Base(name) == "bench.yaml" {
			continue
		}
		p, _, err := files.ReadPart(name, readFile(t, name))
		if err != nil {
			t.Fatal(err)
		}
		all[name] = marshalled(t, make1(t, p, bench))
	}
	for name, tc := range noes(t) {
		all[name] = marshalled(t, make1(t, tc.part, tc.shop))
	}
	return all
}

// benchOf is the shop that the judged parts are made in.
func benchOf(t *testing.T) *shop.Shop {
	t.Helper()
	s, _, err := files.ReadShop("bench.yaml", readFile(t, "judge/testdata/bench.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// numeric are the ends of keys whose values are numbers; null where there is none.
var numeric = regexp.MustCompile(
	`_(mm|deg|min)$|^(n|set_up|set_ups|regrips|tool_changes|out_of_limit|turns|divisions|sides|pieces)$`)

// walkJSON calls look for every value of a tree, with where it is and its key.
func walkJSON(where, key string, v any, look func(where, key string, v any)) {
	look(where, key, v)
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			walkJSON(where+"."+k, k, x, look)
		}
	case []any:
		for i, x := range v {
			walkJSON(fmt.Sprintf("%s[%d]", where, i), key, x, look)
		}
	}
}

// Numbers are numbers wherever the key has a unit or counts, and no text says its
// unit twice.
func TestNumbersAreNumbers(t *testing.T) {
	twice := regexp.MustCompile(`\b(mm|deg|min|rpm) (mm|deg|min|rpm)\b`)
	for name, m := range plans(t) {
		delete(m, "inputs") // the file as it was read
		walkJSON(name, "", m, func(where, key string, v any) {
			switch v := v.(type) {
			case string:
				if numeric.MatchString(key) && !strings.Contains(where, ".set_ups[") || twice.MatchString(v) {
					t.Errorf("%s: %q", where, v)
				}
			case nil:
				list := []string{
					"refused", "tried", "operations", "set_ups", "predicted", "kit", "removes", "allowed", "settings", "dials",
					"checks", "makes", "not_checked", "remedies", "warnings", "cautions",
				}
				if slices.Contains(list, key) {
					t.Errorf("%s: null for a list", where)
				}
			}
		})
	}
}

// A setting's value and a check's are a number with its unit beside it, or a word
// or two; the sentence has the value in it.
func TestSettingsAreFigures(t *testing.T) {
	units := []string{"", "mm", "deg", "rpm", "m/min", "mm/rev", "mm/min", "W", "%"}
	for name, m := range plans(t) {
		for _, o := range list(m["operations"]) {
			for _, s := range list(o["settings"]) {
				unit, _ := s["unit"].(string)
				where := fmt.Sprint(name, ", ", o["id"], ", ", s["name"])
				switch v := s["value"].(type) {
				case float64:
					if !slices.Contains(units, unit) {
						t.Errorf("%s: %v %q", where, v, unit)
					}
				case string:
					n, counts := len(strings.Fields(v)), strings.ContainsAny(v, "0123456789")
					if n == 0 || n > 2 || unit != "" || counts && n > 1 {
						t.Errorf("%s: %q %q is no figure", where, v, unit)
					}
				default:
					t.Errorf("%s: %v", where, v)
				}
				if said, _ := s["say"].(string); said == "" || !strings.HasPrefix(said, s["name"].(string)) {
					t.Errorf("%s says %q", where, said)
				}
			}
			for _, c := range list(o["checks"]) {
				if _, ok := c["ok"].(bool); !ok || c["code"] == "" {
					t.Errorf("%s, %v: %v", name, o["id"], c)
				}
			}
		}
	}
}

// list returns a list of objects.
func list(v any) (all []map[string]any) {
	for _, x := range v.([]any) {
		all = append(all, x.(map[string]any))
	}
	return all
}

// What stands in a set-up is what its operations say, and each operation stands in
// one: set-ups and operations are counted from 1 in their order; a device, a
// machine and an end have one spelling; what has jaws has a face, at the end of the
// grip toward the end that stands out, and that end stands stick-out from it.
func TestSetUps(t *testing.T) {
	machines := []string{"saw", "lathe", "mill", "drill-press", "belt-grinder", "bench"}
	devices := []string{
		"chuck", "four-jaw", "soft-jaws", "collet", "between-centres", "mandrel", "arbor", "threaded-stub", "split-nut",
		"v-blocks", "vice", "collet-block", "dividing-head", "rotary-table", "cradle", "hand",
	}
	kinds := []string{"none", "centre", "bore-mouth", "steady"}
	for name, m := range plans(t) {
		ops, next := list(m["operations"]), 1
		once := map[any]bool{}
		for _, o := range ops {
			if once[o["id"]] {
				t.Errorf("%s: %v is there twice", name, o["id"])
			}
			once[o["id"]] = true
		}
		for n, s := range list(m["set_ups"]) {
			where := fmt.Sprint(name, ", set-up ", n+1)
			machine, device := s["machine"].(string), s["device"].(string)
			if s["n"] != float64(n+1) || !slices.Contains(machines, machine) || !slices.Contains(devices, device) {
				t.Errorf("%s: %v %v %v", where, s["n"], machine, device)
			}
			if out := s["out"]; out != nil && out != "left" && out != "right" {
				t.Errorf("%s: %v is out", where, out)
			}
			for _, i := range s["operations"].([]any) {
				if o := ops[next-1]; i != float64(next) || o["n"] != i || o["set_up"] != s["n"] {
					t.Errorf("%s: operation %v is %v of set-up %v", where, i, o["n"], o["set_up"])
				}
				next++
			}
			if k := s["support"].(map[string]any)["kind"]; !slices.Contains(kinds, k.(string)) {
				t.Errorf("%s: supported by %v", where, k)
			}
			face, jaws := s["jaw_face_mm"].(float64)
			grip, _ := s["grip"].(map[string]any)
			if !jaws {
				continue
			}
			end := grip["from_mm"]
			if s["out"] == "right" {
				end = grip["to_mm"]
			}
			if face != end || s["stick_out_mm"].(float64) < 0 {
				t.Errorf("%s: the jaws' face is at %v, the grip is %v, it stands out %v", where, face, grip, s["stick_out_mm"])
			}
		}
		if next-1 != len(ops) {
			t.Errorf("%s: %d operations, %d of them in set-ups", name, len(ops), next-1)
		}
	}
}

// By hand, the turned part of testdata/cards: the bar of 22 is held from 20 + 3 = 23 to
// 51 with the left end out and 23 + 1 of it; then the neck of 12, finished, from 0 to
// 17 with card about it, 3 short of its shoulder, and 51 - 17 = 34 of it out. The jaws
// of 28 reach beyond its end: nothing lies behind them.
func TestSetUpsByHand(t *testing.T) {
	r := inOneWay(t, byTheNeck(t))
	want := map[int]string{
		2: `{"device":"chuck","grip":{"dia_mm":22,"from_mm":23,"inside":false,"over":null,"shape":"round","stage":"bought",` +
			`"to_mm":51},"jaw_face_mm":23,"machine":"lathe","out":"left","stick_out_mm":24,"support":{"at_mm":null,` +
			`"dia_mm":null,"kind":"none"},"through":null}`,
		3: `{"device":"chuck","grip":{"dia_mm":12,"from_mm":0,"inside":false,"over":"card","shape":"round",` +
			`"stage":"finished","to_mm":17},"jaw_face_mm":17,"machine":"lathe","out":"right","stick_out_mm":34,` +
			`"support":{"at_mm":null,"dia_mm":null,"kind":"none"},"through":null}`,
	}
	for _, s := range list(marshalled(t, r)["set_ups"]) {
		by, ok := want[int(s["n"].(float64))]
		if !ok {
			continue
		}
		for _, k := range []string{"n", "roll_deg", "state", "operations", "not_checked"} {
			delete(s, k)
		}
		if got, _ := json.Marshal(s); string(got) != by {
			t.Errorf("set-up\n  got     %s\n  by hand %s", got, by)
		}
	}
}

// The blank's shape and place, what one piece and all take, by hand: three of 52 mm
// with 2 for each saw cut are 162.
func TestBlankJSON(t *testing.T) {
	text := strings.Replace(byTheNeck(t), "round:", "quantity: 3\nround:", 1)
	b := marshalled(t, inOneWay(t, text))["blank"].(map[string]any)
	want := map[string]any{
		"shape": "round", "diameter_mm": 22.0, "from_mm": -1.0, "to_mm": 51.0, "length_mm": 52.0, "pieces": 3.0,
		"bar_mm": 162.0,
	}
	for k, v := range want {
		if b[k] != v {
			t.Errorf("%s is %v, by hand %v", k, b[k], v)
		}
	}
	hex := marshalled(t, make1(t, brass(t, "  stock: {hex: 22}\n  profile: [[0, 18], [30, 18]]\n"), loadShop(t, nil)))
	b = hex["blank"].(map[string]any)
	if b["shape"] != "hex" || b["across_flats_mm"] != 22.0 || b["diameter_mm"] != nil {
		t.Errorf("a hexagon of 22: %v", b)
	}
}

// A refusal's JSON has its code, key and reason, and what was found as far as it
// went; status 0 has an empty list.
func TestRefusalJSON(t *testing.T) {
	for name, tc := range noes(t) {
		m := marshalled(t, make1(t, tc.part, tc.shop))
		if len(list(m["refused"])) == 0 {
			t.Errorf("%s: %v", name, m["refused"])
		}
		for _, f := range list(m["refused"]) {
			for _, k := range []string{"code", "key", "reason"} {
				if s, ok := f[k].(string); !ok || s == "" {
					t.Errorf("%s: its %s is %v", name, k, f[k])
				}
			}
			for _, x := range list(f["remedies"]) {
				if s, ok := x["say"].(string); !ok || s == "" {
					t.Errorf("%s: a remedy says %v", name, x["say"])
				}
			}
		}
	}
	if m := marshalled(t, made(t, "cap.yaml")); len(list(m["refused"])) != 0 {
		t.Errorf("a plan that passes is refused: %v", m["refused"])
	}
}

// A number that a check is held against says whether it is the most or the least, and the value lies on
// that side where the check holds, and on the other where it does not. One code has both: a step springs
// so much at the most, and a bore in the way leaves so much to hold at the least. Sizes that must be met,
// as a height over V-blocks, say neither.
func TestLimitsSayTheirSide(t *testing.T) {
	seen := map[string]int{}
	for name, plan := range plans(t) {
		walkJSON(name, "", plan, func(where, key string, v any) {
			c, is := v.(map[string]any)
			if _, check := c["limit_is"]; !is || !check {
				return
			}
			value, known := c["value"].(float64)
			limit, both := c["limit"].(float64)
			side := c["limit_is"].(string)
			seen[side]++
			switch {
			case !known || !both:
			case side == "" && c["ok"] == true && c["code"] != "support-v":
				t.Errorf("%s: %v says no side", where, c)
			case side == "most" && (value <= limit) != c["ok"], side == "least" && (value >= limit) != c["ok"]:
				t.Errorf("%s: %v is on the other side", where, c)
			}
		})
	}
	if seen["most"] == 0 || seen["least"] == 0 {
		t.Error(seen)
	}
}

package judge_test

import (
	"encoding/json"
	"os"
	"testing"

	"setover/setup/plan/judge"
)

// A mutation spoils an operation of a plan that was planned, where it applies,
// and the validator answers with one of the codes.
type mutation struct {
	codes []string
	spoil func(p card, o object) bool // false where it does not apply
}

// each calls do with the removals of a shape, and reports whether there are any.
func each(o object, shape string, do func(r object)) bool {
	found := false
	for _, v := range o["removes"].([]any) {
		if r := v.(object); r["shape"] == shape {
			do(r)
			found = true
		}
	}
	return found
}

// makes reports whether an operation brings a feature to size.
func makes(o object) bool { return len(o["makes"].([]any)) > 0 }

// where an operation is held.
func (p card) where(o object) object { return p.setUp(int(o["set_up"].(float64))) }

var mutations = map[string]mutation{
	// A plain stretch may be cut again by a relief, so what is turned is left out of
	// this one; a cone that stays rough is too thick for the jaws' hole, and what its flats read over
	// it is not what the card says.
	"what it removes is left out": {[]string{"complete", "support", "jaw-room", "steps"}, func(_ card, o object) bool {
		n := len(o["removes"].([]any))
		o["removes"] = []any{}
		return n > 0 && makes(o) && o["kind"] != "face" && o["kind"] != "turn"
	}},
	"turned a millimetre too large": {[]string{"complete", "grip-surface"}, func(_ card, o object) bool {
		return o["id"] == "turn-z0" && each(o, "outside", func(r object) {
			for _, q := range r["profile"].([]any) {
				q.([]any)[1] = q.([]any)[1].(float64) + 0.6
			}
		})
	}},
	"a millimetre too deep": {[]string{"gouge"}, func(_ card, o object) bool {
		return makes(o) && each(o, "outside", func(r object) {
			for _, q := range r["profile"].([]any) {
				q.([]any)[1] = q.([]any)[1].(float64) - 1.5
			}
		})
	}},
	"bored a millimetre too wide": {[]string{"gouge"}, func(_ card, o object) bool {
		return makes(o) && each(o, "bore", func(r object) {
			r["dia_mm"] = r["dia_mm"].(float64) + 1
			delete(r, "end_dia_mm")
		})
	}},
	"drilled beside its place": {[]string{"gouge", "support-v"}, func(_ card, o object) bool {
		return each(o, "cross", func(r object) { r["z_mm"] = r["z_mm"].(float64) + 1.7 })
	}},
	"faced into the part": {[]string{"gouge"}, func(_ card, o object) bool {
		return o["kind"] == "face" && each(o, "end", func(r object) {
			into := 2.0
			if r["end"] == "right" {
				into = -2
			}
			r["z_mm"] = r["z_mm"].(float64) + into
		})
	}},
	"a tool without a hand": {[]string{"tool-side"}, func(_ card, o object) bool {
		o["tool"].(object)["hand"] = nil
		return o["kind"] == "turn"
	}},
	"a thread with half a pitch more": {[]string{"complete"}, func(_ card, o object) bool {
		return each(o, "thread", func(r object) { r["spec"] = "M9x1" })
	}},
	"held by another diameter": {[]string{"grip-surface"}, func(p card, o object) bool {
		g, held := p.where(o)["grip"].(object)
		if held && p.where(o)["machine"] == "lathe" {
			g["dia_mm"] = g["dia_mm"].(float64) + 0.4
			return true
		}
		return false
	}},
	"nothing between the jaws and a finished surface": {[]string{"bruise"}, func(p card, o object) bool {
		s := p.where(o)
		g, held := s["grip"].(object)
		if held && s["device"] == "chuck" && g["over"] != nil {
			g["over"] = nil
			return true
		}
		return false
	}},
	"held by 3 mm": {[]string{"grip-length", "jaw-room", "grip-surface"}, func(p card, o object) bool {
		s := p.where(o)
		g, held := s["grip"].(object)
		if !held || s["device"] != "chuck" {
			return false
		}
		if s["out"] == "left" {
			g["to_mm"] = g["from_mm"].(float64) + 3
		} else {
			g["from_mm"] = g["to_mm"].(float64) - 3
		}
		return true
	}},
	"a centre that nobody drilled": {[]string{"support"}, func(p card, o object) bool {
		s := p.where(o)
		if s["machine"] == "lathe" && s["device"] == "chuck" && o["kind"] == "face" {
			s["support"] = object{"kind": "centre", "at_mm": 0.0, "dia_mm": 4.0}
			return true
		}
		return false
	}},
	"the height of another surface": {[]string{"support-v"}, func(_ card, o object) bool {
		drilled := o["kind"] == "cross-drill"
		for _, v := range o["settings"].([]any) {
			if v := v.(object); v["name"] == "centre" && drilled {
				v["value"] = v["value"].(float64) + 0.3
				return true
			}
		}
		return false
	}},
}

// Plans of the planner that are true are not any more when one step is spoiled.
func TestMutatedPlans(t *testing.T) {
	applied := map[string]int{}
	for _, name := range []string{"plumb-bob", "spindle", "cap"} {
		body, err := os.ReadFile(demos + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		text, status, err := planned(name, body, demos+"shed.yaml")
		if err != nil {
			t.Fatal(err)
		}
		part, shop := tree(t, body), file(t, demos+"shed.yaml")
		if status != 0 || len(judge.Judge(0, text, part, shop)) > 0 {
			continue // TestDemosAreTrue says why
		}
		var whole card
		if err := json.Unmarshal(text, &whole); err != nil {
			t.Fatal(err)
		}
		for what, m := range mutations {
			for n := range whole["operations"].([]any) {
				var p card
				if err := json.Unmarshal(text, &p); err != nil {
					t.Fatal(err)
				}
				if !m.spoil(p, p.op(n+1)) {
					continue
				}
				spoiled, err := json.Marshal(p)
				if err != nil {
					t.Fatal(err)
				}
				applied[what]++
				if !hasOne(judge.Codes(judge.Judge(0, spoiled, part, shop)), m.codes) {
					t.Errorf("%s, operation %d, %s: %v", name, n+1, what, judge.Judge(0, spoiled, part, shop))
				}
			}
		}
	}
	for what := range mutations {
		if len(applied) > 0 && applied[what] == 0 {
			t.Errorf("%s: no plan has it", what)
		}
	}
}

func hasOne(got, want []string) bool {
	for _, w := range want {
		for _, g := range got {
			if w == g {
				return true
			}
		}
	}
	return false
}

package judge

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// want is what stands under a key: "number", "text", "bool", "list", "object",
// with a "?" where it may be null and a "-" where the key may be absent.
type want map[string]string

// The keys of each object of a plan. What may be absent only is shown by "-".
var forms = map[string]want{
	"blank": {
		"shape": "text", "diameter_mm": "number-", "across_flats_mm": "number-", "bore_mm": "number-", "from_mm": "number",
		"to_mm": "number", "length_mm": "number", "pieces": "number", "bar_mm": "number", "because": "text",
	},
	"set_up": {
		"n": "number", "machine": "text", "device": "text", "out": "text?", "grip": "object?", "jaw_face_mm": "number?",
		"stick_out_mm": "number?", "through": "object?", "support": "object", "roll_deg": "number?", "state": "object",
		"operations": "list", "not_checked": "list",
	},
	"grip": {
		"from_mm": "number", "to_mm": "number", "dia_mm": "number", "shape": "any", "stage": "text", "inside": "bool",
		"over": "text?",
	},
	"through": {"length_mm": "number", "dia_mm": "number"},
	"support": {"kind": "text", "at_mm": "number?-", "dia_mm": "number?-"},
	"operation": {
		"n": "number", "id": "text", "kind": "text", "name": "text", "set_up": "number", "tool": "object", "makes": "list",
		"removes": "list", "allowed": "list", "settings": "list", "dials": "list", "steps": "list-", "checks": "list",
		"not_checked": "list", "spring_mm": "number?-", "time_min": "number", "because": "list",
	},
	"tool":    {"name": "text", "hand": "text?"},
	"setting": {"name": "text", "value": "any", "unit": "text?-", "say": "text?-"},
	"dial": {
		"what": "text", "slide": "text", "exact_mm": "number", "set_mm": "number?", "turns": "number?-",
		"divisions": "number?-", "from": "any-",
	},
	"check": {"code": "text", "ok": "bool", "value": "any-", "limit": "any-", "unit": "text?-", "remedy": "text?-"},
	"predicted": {
		"id": "text", "kind": "text", "feature": "text", "from_mm": "number?-", "to_mm": "number?-", "ok": "bool",
		"because": "text?-",
	},
	"totals": {
		"set_ups": "number", "regrips": "number", "tool_changes": "number", "time_min": "number", "batch_min": "number",
		"out_of_limit": "number",
	},
	"refused": {"code": "text", "key": "text?", "reason": "text", "remedies": "list"},

	"outside": {"profile": "list"},
	"end":     {"end": "text", "z_mm": "number"},
	"bore": {
		"from": "text", "start_mm": "number", "dia_mm": "number", "end_dia_mm": "number?-", "depth_mm": "number",
		"point_deg": "number?-",
	},
	"centre": {"end": "text", "dia_mm": "number", "pilot_mm": "number?-"},
	"cross": {
		"z_mm": "number", "roll_deg": "number", "dia_mm": "number", "depth_mm": "number?", "offset_mm": "number-",
	},
	"flats": {
		"from_mm": "number", "to_mm": "number", "sides": "number", "first_roll_deg": "number",
		"across_from_mm": "number", "across_to_mm": "number",
	},
	"thread": {
		"from_mm": "number", "to_mm": "number", "run_out_mm": "number", "spec": "text", "inside": "bool",
		"cut_toward": "text?-",
	},
	"slot": {"from_mm": "number", "to_mm": "number", "roll_deg": "number", "width_mm": "number", "depth_mm": "number?"},
}

// The words that a plan may use.
var words = map[string][]string{
	"machine": {"saw", "lathe", "mill", "drill-press", "belt-grinder", "bench"},
	"device": {
		"chuck", "four-jaw", "soft-jaws", "collet", "between-centres", "mandrel", "arbor", "threaded-stub", "split-nut",
		"v-blocks", "vice", "collet-block", "dividing-head", "rotary-table", "cradle", "hand",
	},
	"out":        {"left", "right"},
	"stage":      {"bought", "rough", "finished", "facetted", "threaded"},
	"over":       {"card", "soft-jaws", "bush", "collet"},
	"support":    {"none", "centre", "bore-mouth", "steady"},
	"method":     {"mark", "between-marks", "indicator", "sine-bar"},
	"hand":       {"right", "left", "neutral", "form", "file"},
	"cut_toward": {"headstock", "tailstock"},
	"shape":      {"round", "hex", "square", "tube", "block"},
	"predicted": {
		"diameter", "length", "place", "depth", "across-flats", "taper-end", "bore", "hole", "thread-blank", "thread",
		"angle",
	},
}

// former looks at the form of a plan.
type former struct{ faults []Fault }

func (f *former) bad(format string, args ...any) {
	f.faults = append(f.faults, Fault{Code: "form", Text: fmt.Sprintf(format, args...)})
}

// form returns what is wrong with the shape of a plan: a key that is not there,
// a number that is a text, a word that is none of the words, numbers that do
// not count up, an operation of a set-up that is none.
func form(text []byte, status int) []Fault {
	var t map[string]any
	f := &former{}
	if err := json.Unmarshal(text, &t); err != nil {
		f.bad("not JSON: %v", err)
		return f.faults
	}
	for _, key := range []string{"set_ups", "operations"} {
		if _, ok := t[key].([]any); !ok {
			f.bad("%s is not a list", key)
		}
	}
	f.refusal(t, status)
	ops, _ := t["operations"].([]any)
	if len(ops) == 0 {
		if status == 0 {
			f.bad("done, and no operations")
		}
		return f.faults
	}
	f.blank(t["blank"])
	f.object("totals", "totals", t["totals"])
	for i, s := range f.each(t, "set_ups") {
		f.setUp(fmt.Sprintf("set_ups[%d]", i), i+1, s)
	}
	for i, o := range f.each(t, "operations") {
		f.operation(fmt.Sprintf("operations[%d]", i), i+1, o)
	}
	for i, p := range f.each(t, "predicted") {
		f.predicted(fmt.Sprintf("predicted[%d]", i), p)
	}
	if len(f.faults) == 0 {
		f.agree(text)
	}
	return f.faults
}

// refusal looks at refused: never empty on status 1, absent or empty on 0.
func (f *former) refusal(t map[string]any, status int) {
	list, _ := t["refused"].([]any)
	switch {
	case status == 1 && len(list) == 0:
		f.bad("status 1 and refused is empty")
	case status == 0 && len(list) > 0:
		f.bad("status 0 and refused has %d reasons", len(list))
	}
	for i, r := range list {
		f.object(fmt.Sprintf("refused[%d]", i), "refused", r)
		if m, ok := r.(map[string]any); ok && fmt.Sprint(m["reason"]) == "" {
			f.bad("refused[%d]: no reason", i)
		}
	}
}

func (f *former) blank(v any) {
	b := f.object("blank", "blank", v)
	if b == nil {
		return
	}
	f.word("blank.shape", "shape", b["shape"])
	need := "diameter_mm"
	switch b["shape"] {
	case "hex", "square":
		need = "across_flats_mm"
	case "block":
		return
	case "tube":
		if b["bore_mm"] == nil {
			f.bad("blank: a tube has bore_mm")
		}
	}
	if b[need] == nil {
		f.bad("blank: a %v has %s", b["shape"], need)
	}
}

// each returns the objects of a list.
func (f *former) each(t map[string]any, key string) []any {
	list, ok := t[key].([]any)
	if !ok {
		f.bad("%s is not a list", key)
	}
	return list
}

// object holds a value against a form.
func (f *former) object(path, name string, v any) map[string]any {
	m, ok := v.(map[string]any)
	if !ok {
		f.bad("%s is not an object", path)
		return nil
	}
	for _, key := range sorted(forms[name]) {
		kind := forms[name][key]
		value, there := m[key]
		may := strings.TrimRight(kind, "?-")
		switch {
		case !there && strings.HasSuffix(kind, "-"):
		case !there:
			f.bad("%s: %s is not there", path, key)
		case value == nil:
			if !strings.Contains(kind, "?") && may != "any" && !strings.HasSuffix(kind, "-") {
				f.bad("%s: %s is null", path, key)
			}
		case !isKind(may, value):
			f.bad("%s: %s is %v (%T), not a %s", path, key, value, value, may)
		}
	}
	return m
}

func isKind(kind string, v any) bool {
	ok := true
	switch kind {
	case "number":
		_, ok = v.(float64)
	case "text":
		_, ok = v.(string)
	case "bool":
		_, ok = v.(bool)
	case "list":
		_, ok = v.([]any)
	case "object":
		_, ok = v.(map[string]any)
	}
	return ok
}

// word holds a text against a list of words; null is left alone.
func (f *former) word(path, list string, v any) {
	if v != nil && !slices.Contains(words[list], fmt.Sprint(v)) {
		f.bad("%s: %v is none of %s", path, v, strings.Join(words[list], " "))
	}
}

func (f *former) setUp(path string, n int, v any) {
	s := f.object(path, "set_up", v)
	if s == nil {
		return
	}
	if s["n"] != float64(n) {
		f.bad("%s: n is %v, not %d", path, s["n"], n)
	}
	f.word(path+".machine", "machine", s["machine"])
	f.word(path+".device", "device", s["device"])
	f.word(path+".out", "out", s["out"])
	if s["grip"] != nil {
		g := f.object(path+".grip", "grip", s["grip"])
		f.word(path+".grip.stage", "stage", g["stage"])
		f.word(path+".grip.over", "over", g["over"])
		if sides, isNumber := g["shape"].(float64); g["shape"] != "round" && (!isNumber || sides < 2) {
			f.bad("%s.grip: shape is %v, not round or a number of sides", path, g["shape"])
		}
	}
	if s["through"] != nil {
		f.object(path+".through", "through", s["through"])
	}
	if p := f.object(path+".support", "support", s["support"]); p != nil {
		f.word(path+".support.kind", "support", p["kind"])
		if p["kind"] != "none" && p["at_mm"] == nil {
			f.bad("%s.support: a %v has at_mm", path, p["kind"])
		}
	}
	if state, ok := s["state"].(map[string]any); ok {
		f.word(path+".state.method", "method", state["method"])
		f.state(path, s["device"], state)
	}
}

// state looks at what is special about a set-up.
func (f *former) state(path string, device any, state map[string]any) {
	if device == "v-blocks" {
		if blocks, ok := state["blocks_mm"].([]any); !ok || len(blocks) != 2 {
			f.bad("%s.state: V-blocks have blocks_mm, two places", path)
		}
		for _, key := range []string{"top_height_mm", "centre_height_mm"} {
			if _, ok := state[key].(float64); !ok {
				f.bad("%s.state: V-blocks have %s", path, key)
			}
		}
	}
	if state["compound_deg"] != nil && state["method"] == nil {
		f.bad("%s.state: a compound that is set has a method", path)
	}
}

func (f *former) operation(path string, n int, v any) {
	o := f.object(path, "operation", v)
	if o == nil {
		return
	}
	if o["n"] != float64(n) {
		f.bad("%s: n is %v, not %d", path, o["n"], n)
	}
	if t := f.object(path+".tool", "tool", o["tool"]); t != nil {
		f.word(path+".tool.hand", "hand", t["hand"])
	}
	for i, r := range list(o["removes"]) {
		f.removal(fmt.Sprintf("%s.removes[%d]", path, i), r)
	}
	for i, s := range list(o["settings"]) {
		f.setting(fmt.Sprintf("%s.settings[%d]", path, i), s)
	}
	for i, d := range list(o["dials"]) {
		f.object(fmt.Sprintf("%s.dials[%d]", path, i), "dial", d)
	}
	for i, c := range list(o["checks"]) {
		f.object(fmt.Sprintf("%s.checks[%d]", path, i), "check", c)
	}
	for _, b := range list(o["because"]) {
		if reason, ok := b.(map[string]any); !ok || !isKind("text", reason["rule"]) {
			f.bad("%s.because: %v is no rule", path, b)
		}
	}
	for _, m := range list(o["makes"]) {
		if _, ok := m.(string); !ok {
			f.bad("%s.makes: %v is not an id", path, m)
		}
	}
}

func list(v any) []any { l, _ := v.([]any); return l }

// setting looks at one: a value is a number, a word or two.
func (f *former) setting(path string, v any) {
	s := f.object(path, "setting", v)
	if s == nil {
		return
	}
	switch value := s["value"].(type) {
	case string:
		if len(strings.Fields(value)) > 2 && !strings.Contains(value, " x ") { // 20/40 x 30/60: gears
			f.bad("%s: %q is a sentence", path, value)
		}
		if first := strings.Fields(value + " "); len(first) > 1 && strings.Trim(first[0], "0123456789.-+") == "" {
			f.bad("%s: %q is a number and its unit", path, value)
		}
	case float64:
	case nil:
		f.bad("%s: no value", path)
	default:
		f.bad("%s: a value is a number or a word, not %v", path, value)
	}
}

func (f *former) removal(path string, v any) {
	r, ok := v.(map[string]any)
	if !ok {
		f.bad("%s is not an object", path)
		return
	}
	shape := fmt.Sprint(r["shape"])
	if shape == "block" || shape == "slope" {
		return
	}
	if forms[shape] == nil || !isWord(shape, "outside", "end", "bore", "centre", "cross", "flats", "thread", "slot") {
		f.bad("%s: shape %s is none", path, shape)
		return
	}
	f.object(path, shape, v)
	f.word(path+".cut_toward", "cut_toward", r["cut_toward"])
	for _, key := range []string{"end", "from"} {
		if text, isText := r[key].(string); isText {
			f.word(path+"."+key, "out", text)
		}
	}
	for _, p := range list(r["profile"]) {
		pair := list(p)
		if len(pair) != 2 || !isKind("number", pair[0]) || !isKind("number", pair[1]) {
			f.bad("%s.profile: %v is not [z, diameter]", path, p)
		}
	}
	if shape == "outside" && len(list(r["profile"])) < 2 {
		f.bad("%s.profile: needs two points", path)
	}
}

func (f *former) predicted(path string, v any) {
	p := f.object(path, "predicted", v)
	if p == nil {
		return
	}
	f.word(path+".kind", "predicted", p["kind"])
	unit, keys := "_mm", []string{"drawn", "out", "error", "low", "high", "told"}
	if p["kind"] == "angle" {
		unit, keys = "_deg", keys[:5]
	}
	for _, key := range keys {
		value, there := p[key+unit]
		switch {
		case !there:
			f.bad("%s: %s is not there", path, key+unit)
		case value == nil && isWord(key, "low", "high"):
		case !isKind("number", value):
			f.bad("%s: %s is %v, not a number", path, key+unit, value)
		}
	}
}

// agree looks at whether set-ups and operations name each other.
func (f *former) agree(text []byte) {
	var p struct {
		SetUps []struct {
			N          int
			Operations []any
		} `json:"set_ups"`
		Operations []struct {
			N     int
			ID    string
			SetUp int `json:"set_up"`
		}
	}
	if err := json.Unmarshal(text, &p); err != nil {
		f.bad("%v", err)
		return
	}
	seen, last := map[string]bool{}, 1
	of := map[int][]string{}
	for _, o := range p.Operations {
		if seen[o.ID] {
			f.bad("operation %d: the id %s is another's too", o.N, o.ID)
		}
		seen[o.ID] = true
		if o.SetUp < 1 || o.SetUp > len(p.SetUps) {
			f.bad("operation %d: there is no set-up %d", o.N, o.SetUp)
		}
		if o.SetUp < last {
			f.bad("operation %d: set-up %d after %d", o.N, o.SetUp, last)
		}
		last = o.SetUp
		of[o.SetUp] = append(of[o.SetUp], fmt.Sprint(o.N))
	}
	for _, s := range p.SetUps {
		var listed []string
		for _, v := range s.Operations {
			listed = append(listed, fmt.Sprint(v))
		}
		byID := len(listed) > 0 && seen[listed[0]]
		if !byID && !slices.Equal(listed, of[s.N]) {
			f.bad("set-up %d lists operations %v, and %v name it", s.N, listed, of[s.N])
		}
		if len(of[s.N]) == 0 {
			f.bad("set-up %d has no operation", s.N)
		}
	}
}

func sorted(m want) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

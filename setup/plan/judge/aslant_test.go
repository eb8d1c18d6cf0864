package judge_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"setover/setup/plan/judge"
)

// What the cards of tapers with the tailstock set over, both ways, and with form tools say is obeyed,
// and how far a compound is wound back before it feeds, and a card that is spoiled in one word is not true any more.
func TestObeyedAslantAndFormed(t *testing.T) {
	seen := map[string]int{}
	for _, tc := range []struct {
		part, shop string
		spoil      map[string]string // what is said, and what would be wrong
	}{
		{"random/142-handle.yaml", "shop-small", map[string]string{
			"away from you until it has come out by 4.81 mm": "toward you until it is pushed in by 4.81 mm",
			"is let out by 2.2712 mm":                        "is let out by 2.2812 mm",
			"17.4 mm thick as roughed":                       "17.3 mm thick as roughed",
			"out 3 turns and its slack":                      "out half a turn and its slack",
			"the last line is 0.175 mm":                      "the last line is 0.275 mm",
			"55.057 mm more":                                 "55 mm more",
			"z 51 mm. Then":                                  "z 52 mm. Then",
		}},
		{"random/012-spindle.yaml", "shop-inch", nil},
		{"random/024-spindle.yaml", "shop-small", map[string]string{
			"right in, then out 38.1 mm":                                  "right out, then in 38.1 mm",
			"38 turns + 4 div) and its slack":                             "38 turns + 5 div) and its slack",
			"out 38.1 mm (38 turns + 4 div)":                              "out 34.1 mm (34 turns + 4 div)",
			"out 38.1 mm (38 turns + 4 div) and":                          "out 98.1 mm (98 turns + 4 div) and",
			"right in, then out 38.1 mm (38 turns + 4 div) and its slack": "out until it has 38.1 mm to go",
		}},
		{"random/116-spindle.yaml", "shed", nil},
		{"named/p08-punch.yaml", "shop-small", map[string]string{
			"9.5 mm thick as cut in step 4":  "9.9 mm thick as cut in step 4",
			"the last line is 1.25 mm":       "the last line is 1.2 mm",
			"Grind a tool to 22.5 deg":       "Grind a tool to 24 deg",
			"from z 3 mm to z 0 mm":          "from z 3 mm to z 1 mm",
			"at the small end, z 102 mm, 4.": "at the small end, z 101 mm, 4.",
		}},
		{"named/p26-tapend.yaml", "shop-inch", nil},
	} {
		body, err := os.ReadFile("testdata/parts/" + tc.part)
		if err != nil {
			t.Fatal(err)
		}
		text, status, err := planned(tc.part, body, shopFile(tc.shop))
		if err != nil || status != 0 {
			t.Fatal(tc.part, tc.shop, status, err)
		}
		part, shop := tree(t, body), file(t, shopFile(tc.shop))
		for _, f := range judge.Judge(status, text, part, shop) {
			t.Errorf("%s in %s: %s", tc.part, tc.shop, f)
		}
		for says, wrong := range tc.spoil {
			spoiled := strings.Replace(string(text), says, wrong, 1)
			if spoiled == string(text) || !json.Valid([]byte(spoiled)) {
				t.Errorf("%s in %s does not say %q: %s", tc.part, tc.shop, says, steps(t, text))
				continue
			}
			if !hasOne(judge.Codes(judge.Judge(status, []byte(spoiled), part, shop)), []string{"steps"}) {
				t.Errorf("%s in %s is true with %q", tc.part, tc.shop, wrong)
			}
		}
		for _, word := range []string{"Move the tailstock toward you until it is pushed in", "Grind a tool to"} {
			seen[word] += strings.Count(string(text), word)
		}
	}
	for word, n := range seen {
		if n == 0 {
			t.Errorf("no card says %q", word)
		}
	}
}

// steps returns what the hand does in all steps of a plan.
func steps(t *testing.T, text []byte) string {
	t.Helper()
	var p struct{ Operations []struct{ Steps []string } }
	if err := json.Unmarshal(text, &p); err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, o := range p.Operations {
		list = append(list, o.Steps...)
	}
	return strings.Join(list, "\n")
}

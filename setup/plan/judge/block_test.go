package judge_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"setover/setup/plan/judge"
)

// blockPart is a block of low-carbon steel.
func blockPart(body string) []byte {
	return []byte("format: 1\npart: Block\nunits: mm\nmaterial: low-carbon-steel\nblock:\n" + body)
}

// wedge has slopes on both sides of both ends, slots in two faces, and holes from four.
const wedge = `  size: [70, 30, 30]
  slopes:
    - {from_x: 0, to_x: 25, along_x: 15deg}
    - {face: bottom, from_x: 45, to_x: 70, along_x: -15deg}
  slots:
    - {at: [35, 15], length: 20, width: 8, depth: 8}
    - {face: bottom, at: [20, 15], length: 20, width: 8, depth: 8}
  holes:
    - {face: front, at: [35, 10], dia: 6}
    - {face: right, at: [15, 10], dia: 5, depth: 12}
    - {face: left, at: [15, 20], dia: 5, depth: 12}
    - {at: [8, 8], dia: 5, depth: 8}
`

// blocks are planned, each in as many clampings as it takes.
var blocks = map[string]string{
	"wedge": wedge,
	"roof": "  size: [60, 30, 24]\n  slopes:\n    - {from_x: 0, to_x: 30, along_x: 25deg}\n" +
		"    - {from_x: 30, to_x: 60, along_x: -25deg}\n",
	"parallel slopes": "  size: [60, 30, 24]\n  slopes:\n    - {from_x: 0, to_x: 60, along_x: 15deg}\n" +
		"    - {face: bottom, from_x: 0, to_x: 60, along_x: -15deg}\n",
	"H": "  size: [60, 30, 20]\n  slots:\n    - {face: front, at: [30, 10], length: 80, width: 10, depth: 10}\n" +
		"    - {face: back, at: [30, 10], length: 80, width: 10, depth: 10}\n",
	"clevis": "  size: [60, 20, 20]\n  slots:\n    - {at: [50, 10], length: 40, width: 8}\n" +
		"    - {at: [10, 2], length: 12, width: 5}\n  holes: [{at: [10, 10], dia: 6, depth: 15}]\n",
	"reamed": "  size: [60, 30, 25]\n  holes: [{at: [15, 15], dia: 8, fit: H7, depth: 14}, " +
		"{at: [45, 15], dia: 8, fit: H7}, {face: front, at: [30, 12], dia: 6, fit: H7, depth: 10}]\n",
	"along y": "  size: [40, 30, 20]\n  slopes: [{from_x: 0, to_x: 40, along_y: 8deg}]\n" +
		"  holes: [{at: [20, 15], dia: 6}]\n",
	"bored": "  size: [150, 40, 40]\n  holes: [{face: left, at: [20, 20], dia: 4}]\n",
	"fork": "  size: [26, 12, 20]\n  slots: [{at: [18, 7], length: 26, width: 4}]\n" +
		"  slopes: [{from_x: 0, to_x: 13, along_x: -12}]\n",
	"slotted": "  size: [60, 30, 40]\n  slots: [{at: [30, 15], length: 20, width: 6, angle: 20}]\n",
	"plate":   "  size: [80, 30, 5]\n  holes: [{at: [20, 15], dia: 6}, {face: left, at: [15, 2.5], dia: 2, depth: 8}]\n",
}

// judgedBlock plans a block in the demo's shop.
func judgedBlock(t *testing.T, body string) (text []byte, status int, part, shop judge.Tree) {
	t.Helper()
	shop, part = file(t, demos+"shed.yaml"), tree(t, blockPart(body))
	text, status, err := planned("block", blockPart(body), demos+"shed.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return text, status, part, shop
}

func TestBlocksAreTrue(t *testing.T) {
	for name, body := range blocks {
		text, status, part, shop := judgedBlock(t, body)
		if status != 0 {
			t.Errorf("%s: no: %s", name, refusedCode(text))
		}
		for _, f := range judge.Judge(status, text, part, shop) {
			t.Errorf("%s: %s", name, f)
		}
	}
}

// drawnBlock is a block drawn at random, with cuts into any of its faces.
func drawnBlock(r *rand.Rand) string {
	size := [3]int{20 + r.IntN(60), 12 + r.IntN(40), 10 + r.IntN(30)}
	faces := []string{"top", "bottom", "front", "back", "left", "right"}
	var b strings.Builder
	fmt.Fprintf(&b, "  size: [%d, %d, %d]\n  holes:\n    - {at: [5, 5], dia: 3, depth: 4}\n", size[0], size[1], size[2])
	axes := func(face string) (u, v, deep int) {
		switch face {
		case "front", "back":
			return size[0], size[2], size[1]
		case "left", "right":
			return size[1], size[2], size[0]
		}
		return size[0], size[1], size[2]
	}
	deepOr := func(deep int) string {
		if r.IntN(3) == 0 {
			return ""
		}
		return fmt.Sprintf(", depth: %d", 1+r.IntN(deep-1))
	}
	for range r.IntN(4) {
		face := faces[r.IntN(6)]
		u, v, deep := axes(face)
		fmt.Fprintf(&b, "    - {face: %s, at: [%d, %d], dia: %d%s}\n", face, 4+r.IntN(u-8), 4+r.IntN(v-8), 2+r.IntN(4),
			deepOr(deep))
	}
	b.WriteString("  slots:\n    - {at: [10, 6], length: 6, width: 3, depth: 2}\n")
	for range r.IntN(3) {
		face := faces[r.IntN(6)]
		u, v, deep := axes(face)
		fmt.Fprintf(&b, "    - {face: %s, at: [%d, %d], length: %d, width: %d, angle: %d%s}\n", face, r.IntN(u), r.IntN(v),
			8+r.IntN(u), 2+r.IntN(6), 15*r.IntN(7), deepOr(deep))
	}
	if r.IntN(2) == 0 {
		b.WriteString("  slopes:\n")
		for i, face := range faces[:1+r.IntN(2)] {
			from, to := 0, size[0]/2
			if i == 1 && r.IntN(2) == 0 {
				from, to = to, size[0]
			}
			fmt.Fprintf(&b, "    - {face: %s, from_x: %d, to_x: %d, along_x: %d, along_y: %d}\n", face, from, to,
				r.IntN(31)-15, r.IntN(3)*r.IntN(5))
		}
	}
	return b.String()
}

// Blocks that are drawn at random: what is planned is true.
func TestDrawnBlocks(t *testing.T) {
	n := 40
	if os.Getenv("SETOVER_SLOW") != "" {
		n = 300
	}
	yes := 0
	for seed := range n {
		r := rand.New(rand.NewPCG(uint64(seed), 7))
		body := drawnBlock(r)
		text, status, err := planned("block", blockPart(body), demos+"shed.yaml")
		if err != nil {
			continue // what cannot be
		}
		if status == 0 {
			yes++
		}
		for _, f := range judge.Judge(status, text, tree(t, blockPart(body)), file(t, demos+"shed.yaml")) {
			t.Errorf("%d: %s\n%s", seed, f, body)
		}
	}
	if 2*yes < n {
		t.Errorf("%d of %d are planned", yes, n)
	}
}

// stateOf is the state of the set-up of an operation.
func (p card) stateOf(o object) object { return p.where(o)["state"].(object) }

// A block's plan with one thing wrong each, by the id of the step, and the code it earns.
type spoiledBlock struct {
	what, plan, id, code string
	spoil                func(p card, o object)
}

var spoiledBlocks = []spoiledBlock{
	{"held on the faces that the slot opens to", "clevis", "slot-2", "grip-length", func(p card, o object) {
		p.stateOf(o)["fixed_jaw"] = "front"
	}},
	{"a slot that runs into the jaws", "clevis", "slot-1", "grip-length", func(p card, o object) {
		p.stateOf(o)["fixed_jaw"] = "left"
	}},
	{"a drill on a slope", "wedge", "square-top", "tool-side", sloped(25)},
	{"lying on a slope", "wedge", "square-top", "grip-surface", sloped(70)},
	{"cut into the other face", "H", "slot-1", "tool-side", func(p card, o object) { p.stateOf(o)["up"] = "back" }},
	{"the fixed jaw on a sawn face", "roof", "square-front", "grip-surface", func(p card, o object) {
		p.stateOf(o)["fixed_jaw"] = "top"
	}},
	{"no face up", "roof", "square-front", "form", func(p card, o object) { p.stateOf(o)["up"] = "" }},
	{"a face up that lies in the jaws", "roof", "square-front", "form", func(p card, o object) {
		p.stateOf(o)["up"] = "bottom"
	}},
	{"level where it is tilted", "roof", "slope-1", "setting", func(p card, o object) {
		delete(p.stateOf(o), "tilt_x_deg")
	}},
	{"tilted along what lies in the jaws", "roof", "slope-1", "setting", func(p card, o object) {
		p.stateOf(o)["fixed_jaw"] = "left"
	}},
	{"a slope of another angle", "roof", "slope-1", "complete", func(p card, o object) {
		p.stateOf(o)["tilt_x_deg"] = 20.0
		o["removes"].([]any)[0].(object)["along_x_deg"] = 20.0
	}},
	{"a slope that nobody cuts", "roof", "slope-2", "complete", func(_ card, o object) { o["removes"] = []any{} }},
	{"a slope of the bottom", "roof", "slope-2", "gouge", func(p card, o object) {
		p.stateOf(o)["up"] = "bottom"
		o["removes"].([]any)[0].(object)["face"] = "bottom"
	}},
	{"a face that stays as sawn", "roof", "square-left", "complete", func(_ card, o object) { o["removes"] = []any{} }},
	{"milled too low", "roof", "square-top", "complete", func(_ card, o object) {
		o["removes"].([]any)[0].(object)["size"] = []any{60.0, 30.0, 23.0}
	}},
	{"milled along another axis", "roof", "square-top", "gouge", func(_ card, o object) {
		o["removes"].([]any)[0].(object)["size"] = []any{60.0, 29.0, 24.0}
	}},
	{"a hole at another place", "wedge", "hole-1-drill", "complete", func(_ card, o object) {
		o["removes"].([]any)[0].(object)["x_mm"] = 37.0
	}},
	{"a hole of another depth", "wedge", "hole-2-drill", "complete", func(_ card, o object) {
		o["removes"].([]any)[0].(object)["depth_mm"] = 14.0
	}},
	{"made by no step", "wedge", "hole-2-drill", "complete", func(_ card, o object) { o["makes"] = []any{} }},
	{"a slot turned", "wedge", "slot-1", "complete", func(_ card, o object) {
		o["removes"].([]any)[0].(object)["angle_deg"] = 5.0
	}},
	{"a hole too deep for its point", "wedge", "hole-4-drill", "gouge", func(_ card, o object) {
		o["removes"].([]any)[0].(object)["depth_mm"] = 29.0
	}},
	{"a slot too deep for its cutter", "wedge", "slot-1", "tool-side", func(_ card, o object) {
		r := o["removes"].([]any)[0].(object)
		r["width_mm"], r["depth_mm"] = 2.0, 12.0
	}},
	{"a hole too deep for its drill", "bored", "hole-1-drill", "tool-side", func(_ card, o object) {
		o["removes"].([]any)[0].(object)["depth_mm"] = 130.0
	}},
	{"a half that does not meet the other", "bored", "hole-1-drill", "complete", func(_ card, o object) {
		o["removes"].([]any)[0].(object)["depth_mm"] = 70.0
	}},
	{"a plate's end held by its sides", "plate", "square-left", "grip-length", func(p card, o object) {
		p.stateOf(o)["fixed_jaw"] = "front"
	}},
}

// spoiledReams are spoilt steps of the block that is reamed.
func spoiledReams() (list []spoiledBlock) {
	first := func(o object) object { return o["removes"].([]any)[0].(object) }
	for _, x := range []struct {
		what, id string
		spoil    func(o object)
	}{
		{"reamed where nothing is drilled", "hole-2-drill", func(o object) { o["removes"] = []any{} }},
		{"a hole too narrow for the reamer", "hole-2-drill", func(o object) { first(o)["dia_mm"] = 6.9 }},
		{"no room for the lead", "hole-1-drill", func(o object) { first(o)["depth_mm"] = 14.0 }},
		{"drilled too deep", "hole-1-drill", func(o object) { first(o)["depth_mm"] = 17.0 }},
		{"reamed too shallow", "hole-1-ream", func(o object) {
			for _, s := range o["settings"].([]any) {
				if s := s.(object); s["name"] == "depth" {
					s["value"] = 14.0
				}
			}
		}},
	} {
		list = append(list, spoiledBlock{
			x.what, "reamed", x.id, "complete", func(_ card, o object) { x.spoil(o) },
		})
	}
	return list
}

// sloped cuts a slope that is drawn later, or a longer one.
func sloped(to float64) func(card, object) {
	return func(_ card, o object) {
		o["removes"] = append(o["removes"].([]any), object{
			"shape": "slope", "face": "top", "from_x_mm": 0.0, "to_x_mm": to, "along_x_deg": 15.0, "along_y_deg": 0.0,
		})
	}
}

func TestSpoiledBlocks(t *testing.T) {
	for _, tc := range append(spoiledReams(), spoiledBlocks...) {
		text, status, part, shop := judgedBlock(t, blocks[tc.plan])
		var p card
		if err := json.Unmarshal(text, &p); err != nil || status != 0 {
			t.Fatal(tc.plan, status, err)
		}
		for n := range p["operations"].([]any) {
			if o := p.op(n + 1); o["id"] == tc.id {
				tc.spoil(p, o)
			}
		}
		spoiled, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		if got := judge.Judge(0, spoiled, part, shop); !hasOne(judge.Codes(got), []string{tc.code}) {
			t.Errorf("%s, %s, %s: want %s, got %v", tc.plan, tc.id, tc.what, tc.code, got)
		}
	}
}

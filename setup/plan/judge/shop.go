package judge

import (
	"strings"
)

// shop is what the shop file says is owned.
type shop struct {
	node
	lathe node
}

func readShop(t Tree) shop {
	n := rootOf(t)
	return shop{node: n, lathe: n.in("lathe")}
}

// owns reports whether a machine is there.
func (s shop) owns(machine string) bool {
	switch machine {
	case "lathe":
		return s.has("lathe")
	case "mill":
		return s.has("mill")
	case "drill-press":
		return s.has("drill_press")
	case "belt-grinder":
		return s.has("belt_grinder")
	}
	return true // a hacksaw and a bench are in every shop
}

// ownsDevice reports whether what holds the work is there, and the key that
// would say so.
func (s shop) ownsDevice(device string) (ok bool, key string) {
	switch device {
	case "chuck":
		return s.lathe.has("chuck"), "lathe.chuck"
	case "four-jaw":
		return s.lathe.has("four_jaw"), "lathe.four_jaw"
	case "soft-jaws":
		return s.lathe.text("soft_jaws") == "true", "lathe.soft_jaws"
	case "collet":
		return s.lathe.has("collets"), "lathe.collets"
	case "mandrel":
		return s.lathe.has("mandrels"), "lathe.mandrels"
	case "between-centres":
		return s.lathe.has("tailstock"), "lathe.tailstock"
	case "v-blocks":
		return s.has("v_blocks"), "v_blocks"
	case "collet-block":
		return s.has("collet_blocks"), "collet_blocks"
	case "dividing-head":
		return s.has("dividing_head"), "dividing_head"
	case "rotary-table":
		return s.has("rotary_table"), "rotary_table"
	}
	return true, "" // a vice, a hand, what is turned for the job
}

// colletRange is what a set of ER collets takes, in mm (DIN 6499 / ISO 15488).
var colletRange = map[string][2]float64{
	"er8": {0.5, 5}, "er11": {0.5, 7}, "er16": {0.5, 10}, "er20": {1, 13}, "er25": {1, 16}, "er32": {2, 20},
	"er40": {3, 30}, "er50": {6, 34},
}

// colletTakes reports whether a collet that is owned takes a diameter.
func (s shop) colletTakes(dia float64) bool {
	names := s.lathe.list("collets")
	if t, ok := s.lathe.tree["collets"].(Tree); ok {
		names = []any{"ER" + node{t, 1}.text("er")}
	}
	for _, v := range names {
		if text, ok := v.(string); ok {
			if r, known := colletRange[strings.ToLower(text)]; known {
				if dia >= r[0]-tiny && dia <= r[1]+tiny {
					return true
				}
				continue
			}
		}
		if l, ok := length(v, s.unit); ok && dia <= l+0.05 && dia >= l-0.5 {
			return true // a collet of one size closes by less than half a millimetre
		}
	}
	return false
}

// jawLength returns how long the jaws are, and whether the file says.
func (s shop) jawLength(device string) (float64, bool) {
	if device == "four-jaw" {
		if l, ok := s.lathe.in("four_jaw").length("jaw_length"); ok {
			return l, true
		}
	}
	return s.lathe.in("chuck").length("jaw_length")
}

// jawRange returns what the jaws open to.
func (s shop) jawRange(device string) (low, high float64, ok bool) {
	chuck := s.lathe.in("chuck")
	if device == "four-jaw" {
		chuck = s.lathe.in("four_jaw")
	}
	r := chuck.list("range")
	if len(r) != 2 {
		return 0, 0, false
	}
	low, _ = length(r[0], s.unit)
	high, _ = length(r[1], s.unit)
	return low, high, true
}

// blade returns the parting blade: its width, what it parts and its reach, 0
// where the file does not say.
func (s shop) blade() (width, most, reach float64, ok bool) {
	most = 25
	p := s.lathe.in("parting")
	if p.tree == nil {
		p = s.in("parting")
	}
	if p.tree != nil {
		return p.mm("blade"), p.or("most", most), p.mm("reach"), p.has("blade")
	}
	for _, n := range []node{s.node, s.lathe} {
		if w, found := n.length("parting_blade"); found {
			return w, most, 0, true
		}
	}
	return 0, most, 0, false
}

// trail returns the trailing angle of a hand's tools: the largest that is owned.
func (s shop) trail(hand string) (float64, bool) {
	best, found := 0.0, false
	for _, t := range s.lathe.nodes("tools") {
		if t.text("hand") == hand {
			if a, ok := degrees(t.tree["trail"]); ok && a > best {
				best, found = a, true
			}
		}
	}
	return best, found
}

// dial returns how far a slide goes in a turn and its divisions.
func (s shop) dial(slide string) (lead, divisions float64, ok bool) {
	n := node{}
	switch slide = strings.ToLower(slide); {
	case strings.Contains(slide, "cross"):
		n = s.lathe.in("cross_slide")
	case strings.Contains(slide, "compound"):
		n = s.lathe.in("compound")
	case strings.Contains(slide, "carriage"):
		n = s.lathe.in("carriage")
	case strings.Contains(slide, "table"):
		n = s.in("mill").in("table")
	}
	lead, found := n.length("lead")
	divisions, has := number(n.tree["divisions"])
	if u := n.text("unit"); u == "in" && s.unit == 1 {
		lead *= inch
	}
	return lead, divisions, found && has && lead > 0 && divisions > 0
}

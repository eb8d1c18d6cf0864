package cli

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"setover/setup/maker/files"
)

const bareShop = "format: 1\nshop: Bare shed\nunits: mm\n"

// instruments are those of a shop that has everything, and nothing as the
// built-in shop has it.
var instruments = map[string]string{
	"lathe: spindle":          "{speeds: [97, 173, 311, 523, 911, 1409]}",
	"lathe: motor":            "370W",
	"lathe: between_centres":  "310",
	"lathe: swing_over_bed":   "190",
	"lathe: swing_over_slide": "105",
	"lathe: chuck":            "{diameter: 80, jaws: 4, jaw_length: 24, jaw_circle: 95, max_rpm: 1900}",
	"lathe: collets":          "{er: 25}",
	"lathe: cross_slide":      "{lead: 1.5, divisions: 60, reads: radius, unit: mm}",
	"lathe: carriage":         "{lead: 18, divisions: 90, unit: mm}",
	"lathe: compound": "{scale: {zero: across, step: 5deg, numbering: back-after-90, limit: 170deg}, travel: " +
		"55, lead: 1.25, divisions: 40, width: 49, length: 111, top_below_centre: 17, handle: {beyond: 21, radius: 27}}",
	"lathe: tool_post":    "{size: 55, holder_width: 14, overhang: 21}",
	"lathe: tools":        "[{hand: left, trail: 11deg}, {hand: right, trail: 13deg}]",
	"lathe: tailstock":    "{setover: {toward: 5, away: 6}, taper: MT1, barrel: 24, barrel_out: 35, body: [55, 50]}",
	"lathe: leadscrew":    "10tpi",
	"lathe: stud_ratio":   "2",
	"lathe: banjo":        "{clearance: 4}",
	"lathe: change_gears": "[22, 24, 28, 32, 36, 44, 48, 52, 56, 63, 120]",
	"lathe: thread_dial":  "{gears: [13], marks: 6}",
	"lathe: steady":       "{from: 6, to: 35}",
	"mill": "{spindle: {speeds: [190, 370, 730, 1490]}, motor: 290W, table: {lead: 1.5, divisions: " +
		"60, unit: mm}}",
	"drill_press":   "{spindle: {speeds: [470, 830, 1510]}, motor: 210W}",
	"belt_grinder":  "{wheel: 150, rpm: 1400}",
	"dividing_head": "{ratio: 60, plates: [[22, 25, 26], [27, 32, 34, 38]]}",
	"rotary_table":  "{ratio: 72}",
	"v_blocks":      "{angle: 120deg, apex: 14, opening: 51, relief: 2.5, pair: false}",
	"sine_bar":      "127",
	"gauge_blocks":  "metric-112",
	"drills":        "[metric-0.5, 6.75mm]",
	"reamers":       "[7mm]",
	"taps":          "[M7]",
	"dies":          "[M7]",
	"centre_drills": "[2]",
	"parting_blade": "3",
	"boring_bars":   "[{diameter: 9, reach: 33}]",
	"collet_blocks": "[8]",
}

// shopWith returns the text of a shop that has only these of the instruments.
func shopWith(keys ...string) string {
	var b strings.Builder
	b.WriteString(bareShop)
	lathe := false
	for _, k := range slices.Sorted(slices.Values(keys)) {
		sub, onLathe := strings.CutPrefix(k, "lathe: ")
		if onLathe && !lathe {
			lathe = true
			b.WriteString("lathe:\n")
		}
		if onLathe {
			b.WriteString("  ")
		}
		fmt.Fprintf(&b, "%s: %s\n", sub, instruments[k])
	}
	return b.String()
}

// alsoAsked are lines that need an instrument where the examples bring their
// own.
var alsoAsked = []string{
	"setover thread dial 1.5mm", "setover thread gears 1.25mm", "setover thread drill M8 --drills shop",
	"setover thread passes M16x1.5",
	"setover holes vblock --dia 20", "setover holes vblock --dia 20 --small 18 --span 60 --support two-edges",
	"setover taper sine --angle 10", "setover dial 20 19 0.2 --slide compound", "setover dial 20 19 0.2 --slide table",
	"setover divide --angle 7",
	"setover chart rpm", "setover chart gears", "setover chart drill-sizes", "setover chart tapers",
}

// inItsPlace are examples whose own flags describe an instrument: the shop's
// would not be used, so its key changes nothing.
var inItsPlace = map[string]string{
	"setover holes vblock --dia 20 --angle 90 --apex 12": "another V-block",
	"setover holes vblock --dia 30 --angle 90 --apex 12": "another V-block",
	"setover thread dial 1.5mm --leadscrew 3mm --dial-gears 14,15,16": "another dial, whose marks have a default of " +
		"their own",
}

// answered is what a command says in a shop: its figures by their paths, what
// it did not check, or the refusal.
type answered struct {
	shop    bool // it used one
	figures map[string]any
	notes   []string // texts of not-checked
	refused string
}

// ask runs a line in a shop.
func ask(t *testing.T, line, shopText string) answered {
	t.Helper()
	file := filepath.Join(t.TempDir(), "shop.yaml")
	if shopText == "builtin" {
		file = shopText
	} else if err := os.WriteFile(file, []byte(shopText), 0o666); err != nil {
		t.Fatal(err)
	}
	status, out, problems := try(t, line+" --format json --shop "+file)
	a := answered{figures: map[string]any{}, refused: problems}
	if status > statusNo {
		return a
	}
	var x map[string]any
	if err := json.Unmarshal([]byte(out), &x); err != nil {
		t.Fatalf("%s: %v", line, err)
	}
	_, a.shop = x["shop"]
	for _, w := range x["warnings"].([]any) {
		if w := w.(map[string]any); w["code"] == "not-checked" {
			a.notes = append(a.notes, w["text"].(string))
		}
	}
	for _, k := range []string{"shop", "warnings", "cautions", "inputs"} {
		delete(x, k)
	}
	var walk func(at string, v any)
	walk = func(at string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, v := range v {
				walk(at+"."+k, v)
			}
		case []any:
			a.figures[at+".length"] = float64(len(v))
			for i, v := range v {
				walk(fmt.Sprintf("%s.%d", at, i), v)
			}
		default:
			a.figures[at] = v
		}
	}
	walk("", x)
	return a
}

// enabling returns the keys of a shop file that a text names, as in "(lathe:
// banjo: clearance)", "(v_blocks: opening, relief)" or "or lathe: leadscrew in
// the shop file".
func enabling(text string, keys map[string]bool) []string {
	const path = `[a-z_]+(?:: [a-z_]+)*`
	for _, m := range regexp.MustCompile(`\((`+path+`)((?:(?:,| and) [a-z_]+)*)\)|, or (`+path+`)() in the shop `+
		`file`).FindAllStringSubmatch(text, -1) {
		first := m[1] + m[3]
		if !keys[first] {
			continue
		}
		named := []string{first}
		group := ""
		if i := strings.LastIndex(first, ": "); i >= 0 {
			group = first[:i+2]
		}
		for _, w := range regexp.MustCompile(`[a-z_]{4,}`).FindAllString(m[2], -1) {
			named = append(named, group+w)
		}
		return named
	}
	return nil
}

// instrument returns which of the instruments a key belongs to.
func instrument(key string) (string, bool) {
	for k := range instruments {
		if key == k || strings.HasPrefix(key, k+": ") {
			return k, true
		}
	}
	return "", false
}

// onlyOwned are keys of figures that only an instrument can give.
var onlyOwned = []string{
	"mark_deg", "reading_deg", "turn_from_zero_deg", "turn_direction", "scale_zero", "slide_travel_available_mm", "bites",
	"turns", "divisions", "dial_error_mm", "next_reading", "rpm", "actual_speed_m_min", "power_available_w", "plate",
	"circle", "spaces",
}

// alike reports whether the lists that hold a figure are as long in both.
func (a answered) alike(b answered, at string) bool {
	for i, c := range at {
		if c == '.' && a.figures[at[:i]+".length"] != b.figures[at[:i]+".length"] {
			return false
		}
	}
	return true
}

// Every command that uses a shop, in one that has nothing but its name: what
// needs no instrument is as exact as ever; what needs one is not there, is not
// the built-in shop's, and the text says which key would bring it, which it
// does. Or the command refuses, and says the same.
func TestAbsentInstruments(t *testing.T) {
	keys := map[string]bool{}
	for _, r := range files.ShopKeys() {
		keys[strings.ReplaceAll(r.Key, ".", ": ")] = true
	}
	full := shopWith(slices.Collect(maps.Keys(instruments))...)
	tried := 0
	for _, line := range append(exampleLines(t), alsoAsked...) {
		if strings.Contains(line, "--out") || strings.Contains(line, "--into") || strings.Contains(line, " new") ||
			strings.HasPrefix(line, "setover plan") || strings.HasPrefix(line, "setover shop") {
			continue
		}
		line = regexp.MustCompile(` --(shop|format)[ =]\S+`).ReplaceAllString(line, "")
		t.Run(line, func(t *testing.T) {
			other := ask(t, line, full)
			if !other.shop {
				return
			}
			tried++
			builtin, bare := ask(t, line, "builtin"), ask(t, line, bareShop)
			if builtin.refused != "" || other.refused != "" {
				t.Fatal("not even with every instrument: ", builtin.refused, other.refused)
			}
			texts := slices.Clone(bare.notes)
			if bare.refused != "" {
				for l := range strings.Lines(bare.refused) {
					texts = append(texts, strings.TrimSpace(l))
				}
			}
			for _, text := range texts {
				named := enabling(text, keys)
				if len(named) == 0 {
					t.Errorf("names no key: %s", text)
				}
				var bring []string
				for _, k := range named {
					owner, ok := instrument(k)
					if !keys[k] || !ok {
						t.Errorf("%s is no key of a shop: %s", k, text)
					}
					bring = append(bring, owner)
				}
				if inItsPlace[line] != "" {
					continue
				}
				with := ask(t, line, shopWith(slices.Compact(bring)...))
				if slices.Contains(with.notes, text) || strings.Contains(with.refused, text) {
					t.Errorf("with %v it still says: %s", bring, text)
				}
			}
			if bare.refused != "" {
				return
			}
			depends := false
			for at, v := range builtin.figures {
				got, there := bare.figures[at]
				none := !there || got == nil || got == "" || got == false || got == 0.0
				moves := !reflect.DeepEqual(v, other.figures[at])
				depends = depends || moves
				switch key := at[strings.LastIndex(at, ".")+1:]; {
				case slices.Contains(onlyOwned, key) && moves && !none:
					t.Errorf("%s is %v in a shop that has nothing to give it (%v in the built-in one)", at, got, v)
				case moves:
				case key == "method" || key == "way": // how an angle is set is chosen from what there is
				case key == "cut": // what no dial tells from its neighbour is not cut
				case key == "title" || !none && reflect.DeepEqual(got, v):
				case strings.Contains(key, "_set_"):
					if exact := strings.Replace(at, "_set_", "_", 1); !none && !reflect.DeepEqual(got, bare.figures[exact]) {
						t.Errorf("%s is %v, with nothing to set", at, got)
					}
				case !none && !reflect.DeepEqual(got, v) && bare.alike(builtin, at) && builtin.alike(other, at):
					t.Errorf("%s is %v, and %v in either shop", at, got, v)
				}
			}
			if depends && len(bare.notes) == 0 && inItsPlace[line] == "" {
				t.Error("the answer depends on the shop, and nothing says what was not checked")
			}
		})
	}
	if tried < 20 {
		t.Errorf("only %d examples use a shop", tried)
	}
}

package cli

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/page/render"
)

// objects returns the keys of every object of a JSON value: of the value itself,
// of those inside it, and of the members of its lists. Those of an object that
// stands inside another count as the outer one's too.
func objects(v any) [][]string {
	switch v := v.(type) {
	case []any:
		var all [][]string
		for _, x := range v {
			all = append(all, objects(x)...)
		}
		return all
	case map[string]any:
		keys, all := slices.Collect(maps.Keys(v)), [][]string(nil)
		for _, x := range v {
			inside := objects(x)
			all = append(all, inside...)
			if _, object := x.(map[string]any); object && len(inside) > 0 {
				keys = append(keys, inside[len(inside)-1]...)
			}
		}
		return append(all, keys)
	}
	return nil
}

// notKeys are headings that no object of a command's JSON has, and why. The list
// only gets shorter: one that is a key by now fails.
var notKeys = map[string][]string{
	"convert": {"length_cm", "length_um", "length_thou"}, // the units of --to, each for itself
	"part check": {
		"diameter_mm", "length_mm", "x_mm", "y_mm", "z_mm", // size_mm holds them
		"arcs", "slopes", "slots", // left out of JSON where there are none
	},
	"part show":    {"z_mm", "dia_mm", "note"}, // the profile, which stands in the file
	"thread clock": {"turn_deg"},               // of a shim, and one example has none
	"thread show":  {"part"},                   // screw and nut stand under their own keys
}

// The headings of CSV are keys of JSON: those of one list's members, or of the
// object, for every example of README.md and help.
func TestHeadingsAreKeys(t *testing.T) {
	seen := map[string][]string{}
	for name, list := range results(t) {
		for _, r := range list {
			var text [2][]byte
			for i, format := range []render.Format{render.CSV, render.JSON} {
				b, err := render.Bytes(r, render.Look{Format: format})
				if err != nil {
					t.Fatal(name, err)
				}
				text[i] = b
			}
			heads, err := csv.NewReader(strings.NewReader(string(text[0]))).Read()
			if err != nil && err != io.EOF {
				t.Errorf("%s: %v", name, err)
			}
			var x any
			if err := json.Unmarshal(text[1], &x); err != nil {
				t.Fatal(name, err)
			}
			missing := heads
			for _, keys := range objects(x) {
				var not []string
				for _, h := range heads {
					if !slices.Contains(keys, h) {
						not = append(not, h)
					}
				}
				if len(not) < len(missing) {
					missing = not
				}
			}
			for _, h := range missing {
				if !slices.Contains(notKeys[name], h) {
					t.Errorf("%s: %T: no object of its JSON has %s of the headings %v", name, r, h, heads)
				}
			}
			seen[name] = append(seen[name], missing...)
		}
	}
	for name, list := range notKeys {
		for _, h := range list {
			if !slices.Contains(seen[name], h) {
				t.Errorf("%s: %s is a key of its JSON by now: take it out of notKeys", name, h)
			}
		}
	}
}

// millimetres is how a length in mm, or an area reckoned from one, stands on a
// page. A speed or a feed in both units is in the reader's too.
var millimetres = regexp.MustCompile(`\d ?(mm|mm²|mm³)(\s|[,.;:)])|\(mm\)`)

const (
	madeInMM  = "drills, threads, gauge blocks and leadscrews made in millimetres have their names on every page"
	dialsInMM = "the shop's dials count millimetres"
	bothUnits = "it is there to be read in both units"
	notYet    = "an area, a slope of so much for each mm or a chart asked for in mm: not converted yet"
)

// printMM are the commands whose examples print millimetres on a page in inches,
// and why. One that prints none any more fails.
var printMM = map[string]string{
	"chart":          notYet,
	"convert":        bothUnits,
	"dial":           dialsInMM,
	"holes clock":    notYet,
	"holes row":      madeInMM,
	"holes slot":     madeInMM,
	"plan":           madeInMM,
	"shop check":     dialsInMM,
	"shop show":      madeInMM,
	"taper compound": madeInMM,
	"taper sine":     madeInMM,
	"thread clock":   madeInMM,
	"thread dial":    madeInMM,
	"thread drill":   madeInMM,
	"thread engage":  notYet,
	"thread gears":   madeInMM,
	"thread passes":  dialsInMM,
	"thread show":    notYet,
}

// A page in inches speaks inches, for every example of README.md and help.
func TestInchPages(t *testing.T) {
	pages, printing := 0, map[string]int{}
	for name, list := range results(t) {
		for _, r := range list {
			text, err := render.Bytes(r, render.Look{Format: render.Table, Units: units.Inch})
			if err != nil {
				t.Fatal(name, err)
			}
			pages++
			for line := range strings.Lines(string(text)) {
				if millimetres.MatchString(line) {
					if printMM[name] == "" {
						t.Errorf("%s: a page in inches says %s", name, line)
					}
					printing[name]++
				}
			}
		}
	}
	for name, why := range printMM {
		if printing[name] == 0 {
			t.Errorf("%s prints no millimetres any more (%s): take it out of printMM", name, why)
		}
	}
	t.Logf("%d pages; %d commands of %d print millimetres", pages, len(printing), len(results(t)))
}

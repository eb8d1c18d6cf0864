package charts_test

import (
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/published"
	"setover/setup/page/sheet"
	"setover/setup/plan/charts"
)

// Every cell of the three tables as it is published, and no cell more.
func TestGeneralTolerances(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range published.Rows(t, "iso2768.csv") {
		if r["source"] != "iso-2768-tables" {
			continue
		}
		n := int(r["table"][0] - '1')
		of := table(t, "general", charts.Input{}, n)
		unit := "_mm"
		if n == 2 {
			unit = "_deg"
		}
		key, head := "to_"+r["to_mm"]+unit, r["above_mm"]+"-"+r["to_mm"]
		if r["to_mm"] == "" {
			key, head = "above"+unit, "over "+r["above_mm"]
		}
		var got string
		switch v := cell(t, of, say.Text(r["class"]), key).(type) {
		case units.Length:
			got = v.Decimal().String()
		case sheet.Angle:
			got = strings.NewReplacer("°", "d", "'", "m").Replace(v.V.DMS(false))
		}
		if got != r["limit"] {
			t.Errorf("table %s, %s, %s: %s; %s has %s", r["table"], r["class"], head, got, r["source"], r["limit"])
		}
		for _, c := range of.Cols {
			if c.Key == key && c.Head.String() != head {
				t.Errorf("table %s: %s is headed %s, want %s", r["table"], key, c.Head, head)
			}
		}
		seen[r["table"]+r["class"]+key] = true
	}
	cells := 0
	for n := range 3 {
		for _, row := range table(t, "general", charts.Input{}, n).Rows {
			for _, v := range row[1:] {
				if v != nil {
					cells++
				}
			}
		}
	}
	if cells != len(seen) {
		t.Errorf("the chart has %d cells, %d are published", cells, len(seen))
	}
}

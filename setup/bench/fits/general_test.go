package fits_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/bench/fits"
	"setover/setup/page/published"
)

// Every published cell, at both ends of its range and in its middle. Where a
// publication differs its row says what is believed, and must go on to differ.
func TestGeneralAsPrinted(t *testing.T) {
	cells := 0
	for _, r := range published.Rows(t, "iso2768.csv") {
		g, err := fits.ParseGeneral(r["class"])
		if err != nil {
			t.Fatal(err)
		}
		to := r["to_mm"]
		if to == "" { // the last range goes on
			to = "3000"
		}
		sizes := within(r["above_mm"], to)
		if r["above_mm"] == "0.5" {
			sizes = append(sizes, mm("0.5"))
		}
		for _, size := range sizes {
			cells++
			got := general(t, g, r["table"], size)
			if (got == r["limit"]) == (r["beside"] != "") {
				t.Errorf("table %s, %s, %s mm: %s; %s has %s %s", r["table"], g, size.Decimal(), got, r["source"],
					r["limit"], r["beside"])
			}
		}
	}
	if cells < 270 {
		t.Errorf("only %d", cells)
	}
}

// general returns a general tolerance as the standard prints it.
func general(t *testing.T, g fits.General, table string, size units.Length) string {
	t.Helper()
	if table == "3" {
		a, err := g.Angular(size)
		if err != nil {
			t.Fatal(err)
		}
		return strings.NewReplacer("°", "d", "'", "m").Replace(a.DMS(false))
	}
	of := g.Linear
	if table == "2" {
		of = g.Edge
	}
	l, err := of(size)
	if err != nil {
		t.Fatal(err)
	}
	return l.Decimal().String()
}

// The ends of the ranges: 3, 6 and 30 mm belong to the range below, and what is
// under 0.5 mm has 0.1 in every class, an edge too (common practice, no source).
func TestGeneralAtTheEnds(t *testing.T) {
	for _, tc := range []struct{ class, size, want string }{
		{"medium", "3", "0.1"},
		{"medium", "6", "0.1"},
		{"medium", "6.0001", "0.2"},
		{"medium", "30", "0.2"},
		{"m", "30.0001", "0.3"},
		{"f", "6", "0.05"},
		{"FINE", "30", "0.1"},
		{"c", "3", "0.2"},
		{"c", "3.0001", "0.3"},
		{"v", "3.0001", "0.5"},
		{"medium", "4000", "2"},
		{"fine", "0.499", "0.1"},
		{"very-coarse", "0.2", "0.1"},
		{"coarse", "0", "0.1"},
	} {
		g, err := fits.ParseGeneral(tc.class)
		if err != nil {
			t.Fatal(err)
		}
		if got := general(t, g, "1", mm(tc.size)); got != tc.want {
			t.Errorf("%s %s mm: %s, want %s", tc.class, tc.size, got, tc.want)
		}
		if small, edge := mm(tc.size).Less(mm("0.5")), general(t, g, "2", mm(tc.size)); small && edge != tc.want {
			t.Errorf("%s, an edge of %s mm: %s, want %s", tc.class, tc.size, edge, tc.want)
		}
	}
}

// An inch size is looked up in millimetres: 1/4 in are 6.35 mm.
func TestGeneralOfInches(t *testing.T) {
	if got := general(t, fits.Medium, "1", units.MustLength("1/4in")); got != "0.2" {
		t.Error(got)
	}
}

func TestGeneralRefusals(t *testing.T) {
	refused := func(what, want string, err error) {
		t.Helper()
		var p problem.Problem
		var list problem.List
		switch {
		case errors.As(err, &p):
		case errors.As(err, &list) && len(list) == 1:
			p = list[0]
		}
		if got := p.Error(); got != want {
			t.Errorf("%s:\ngot  %s\nwant %s", what, got, want)
		}
	}
	_, err := fits.ParseGeneral("mediun")
	refused("a word", "general: mediun: not a class of general tolerances: write fine, medium, coarse or very-coarse\n"+
		"  did you mean medium?", err)
	_, err = fits.Medium.Linear(mm("4000.5"))
	refused("too large", "general: 4000.5 mm: write 0 mm to 4000 mm", err)
	_, err = fits.Medium.Linear(mm("-1"))
	refused("negative", "general: -1 mm: write 0 mm to 4000 mm", err)
	_, err = fits.Fine.Linear(mm("2000.5"))
	refused("no figure", "general: fine: has no general tolerance for 2000.5 mm: write limits on it, "+
		"or take another class", err)
	_, err = fits.VeryCoarse.Linear(mm("3"))
	refused("no figure", "general: very-coarse: has no general tolerance for 3 mm: write limits on it, "+
		"or take another class", err)
	_, err = fits.Medium.Edge(mm("-0.4"))
	refused("a negative edge", "general: -0.4 mm: write 0 mm to 4000 mm", err)
	_, err = fits.Medium.Angular(mm("0"))
	refused("no leg", "general: 0 mm: must be above 0 and at most 4000 mm", err)
}

// Every row names its sources, which SOURCES.md lists; limits grow with the
// size (those of angles shrink) and from class to class.
func TestGeneralTables(t *testing.T) {
	sources, err := os.ReadFile(filepath.Join(published.Dir(), "SOURCES.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range []string{"general.csv", "edges.csv", "angles.csv"} {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		rows := tables.Rows(file, string(text))
		for i, r := range rows {
			if i >= len(fits.Generals) || r["class"] != string(fits.Generals[i]) {
				t.Errorf("%s: row %d is %s", file, i+1, r["class"])
			}
			for _, name := range []string{r["src"], r["checked"]} {
				if !strings.Contains(string(sources), "\n- "+name+": ") {
					t.Errorf("%s: %s: no source %q", file, r["class"], name)
				}
			}
		}
		if len(rows) != len(fits.Generals) {
			t.Errorf("%s: %d rows", file, len(rows))
		}
	}
	places := []string{"3", "6", "30", "120", "400", "1000", "2000", "4000"}
	finer := map[string]units.Length{}
	for _, g := range fits.Generals {
		var last units.Length
		for _, p := range places {
			l, err := g.Linear(mm(p))
			if err != nil {
				continue
			}
			if l.Less(last) || l.Cmp(finer[p]) <= 0 {
				t.Errorf("%s, %s mm: %s", g, p, l.Decimal())
			}
			last, finer[p] = l, l
		}
	}
}

// A size with its limits, by hand: 34 - 0.15 and 34 + 0.15 in fine, and what it
// would have in the other classes; nil where there is none.
func TestGeneralOf(t *testing.T) {
	r, err := fits.GeneralOf(fits.GeneralInput{Size: mm("34"), Class: fits.Fine})
	if err != nil {
		t.Fatal(err)
	}
	size := r.Least.Equal(mm("33.85")) && r.Most.Equal(mm("34.15"))
	if !size || !r.Edge.Equal(mm("1")) || r.Angle.DMS(false) != "0°30'" {
		t.Errorf("%+v", r)
	}
	r, err = fits.GeneralOf(fits.GeneralInput{Size: mm("3")})
	if err != nil {
		t.Fatal(err)
	}
	if r.Inputs.Class != fits.Medium || !r.Off.Equal(mm("0.1")) {
		t.Error("left out, the class is medium")
	}
	for _, c := range r.Classes {
		if (c.Off == nil) != (c.Class == fits.VeryCoarse) || c.Edge == nil || c.Angle == nil {
			t.Errorf("%s: %+v", c.Class, c)
		}
	}
}

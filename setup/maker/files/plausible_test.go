package files

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/tables"
	"setover/setup/base/units"
)

// nested returns a file of the kind with one value under a key's path.
func nested(key, value string) string {
	text := "units: mm\n"
	words := strings.Split(key, ".")
	for i, w := range words {
		text += strings.Repeat("  ", i) + w + ":"
		if i < len(words)-1 {
			text += "\n"
		}
	}
	return text + " " + value + "\n"
}

// askedOf returns what is asked about one value under a key.
func askedOf(t *testing.T, file, key, value string) []string {
	t.Helper()
	r, doc, err := parse("f", []byte(nested(key, value)))
	if err != nil {
		t.Fatal(key, err)
	}
	found := written{}
	r.scalars(doc, "", found)
	r.unusual(file, found)
	var list []string
	for _, a := range r.asked {
		list = append(list, a.text.String())
	}
	return list
}

func figure(t *testing.T, text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Every row of usual.csv is about a key that is read, asks beyond its bounds
// and nothing at them.
func TestUsual(t *testing.T) {
	keys := map[string][]Row{"shop": ShopKeys(), "part": PartKeys()}
	for _, row := range tables.Rows("usual.csv", usualCSV) {
		file, key, kind := row["file"], row["key"], row["kind"]
		if !slices.ContainsFunc(keys[file], func(r Row) bool { return r.Key == key }) {
			t.Errorf("%s: no key %s", file, key)
		}
		least, _, err1 := measure(kind, row["least"], units.MM)
		most, _, err2 := measure(kind, row["most"], units.MM)
		if err1 != nil || err2 != nil || least >= most || row["of"] == "" || row["src"] == "" {
			t.Errorf("%s: %v %v", key, err1, err2)
		}
		unit := strings.TrimLeft(row["most"], "0123456789.")
		for _, value := range []string{row["least"], row["most"], "0" + unit, "[" + row["least"] + "]"} {
			if got := askedOf(t, file, key, value); len(got) > 0 {
				t.Errorf("%s: %s: %s", key, value, got)
			}
		}
		beyond := fmt.Sprint(math.Ceil(1.2*figure(t, strings.TrimSuffix(row["most"], unit)))) + unit
		for _, value := range []string{beyond, "[" + beyond + ", " + beyond + "]"} {
			got := askedOf(t, file, key, value)
			if len(got) != 1 || !strings.Contains(got[0], row["of"]+"? usual is ") {
				t.Errorf("%s: %s: %q", key, value, got)
			}
		}
		if other := map[string]string{"shop": "part", "part": "shop"}[file]; len(askedOf(t, other, key, beyond)) > 0 &&
			!slices.ContainsFunc(keys[other], func(r Row) bool { return r.Key == key }) {
			t.Errorf("%s is asked of a %s", key, other)
		}
	}
}

// What is asked of a shop and of a part, and what is not.
func TestRemarks(t *testing.T) {
	shop := func(text string) string { return "format: 1\nshop: S\nunits: mm\nlathe:\n" + text }
	part := func(text string) string {
		return "format: 1\npart: P\nunits: mm\nmaterial: brass\nround:\n" + text
	}
	inch := strings.NewReplacer("units: mm", "units: in")
	for _, tc := range []struct{ name, text, want string }{
		{
			"between the centres, a slipped unit", inch.Replace(shop("  between_centres: 350\n")),
			"f:5:20: 8890 mm (8.9 m) between the centres? usual is 80 mm to 3000 mm",
		},
		{"the same in mm", shop("  between_centres: 350\n"), ""},
		{
			"a lead of 200 mm", shop("  cross_slide: {lead: 200, divisions: 100}\n"),
			"f:5:23: 200 mm for one turn of the cross slide? usual is 0.5 mm to 12.7 mm",
		},
		{
			"speeds out of order", shop("  spindle: {speeds: [120, 540, 200]}\n"),
			"f:5:21: the speeds neither rise nor fall from one to the next: is one mistyped?",
		},
		{
			"a speed twice", shop("  spindle: {speeds: [120, 120, 200]}\n"),
			"f:5:21: the speeds neither rise nor fall from one to the next: is one mistyped?",
		},
		{"speeds that fall", shop("  spindle: {speeds: [540, 200, 120]}\n"), ""},
		{
			"a scale that stops before its first mark",
			shop("  compound: {scale: {zero: along, step: 45deg, limit: 30deg}}\n"),
			"f:5:35: the scale has a mark every 45 deg and stops at 30 deg: it has none but its zero\n" +
				"f:5:41: 45 deg from mark to mark of the compound? usual is 0.05 deg to 10 deg",
		},
		{
			"swings", shop("  swing_over_bed: 200\n  swing_over_slide: 201\n"),
			"f:6:3: the swing over the slide, 201 mm, is above that over the bed, 200 mm",
		},
		{"swings alike", shop("  swing_over_bed: 200\n  swing_over_slide: 200\n"), ""},
		{
			"chucks that do not swing", shop("  swing_over_bed: 90\n  chuck: {diameter: 100, jaws: 3, range: [2, 95]}\n" +
				"  four_jaw: {diameter: 91}\n  steady: {from: 5, to: 91}\n"),
			"f:6:11: the chuck, 100 mm, does not swing over the bed, 90 mm\n" +
				"f:6:35: the chuck grips up to 95 mm, which does not swing over the bed, 90 mm\n" +
				"f:7:14: the four-jaw, 91 mm, does not swing over the bed, 90 mm\n" +
				"f:8:21: the steady takes up to 91 mm, which does not swing over the bed, 90 mm",
		},
		{
			"holes wider than the chuck", shop("  spindle_bore: 81\n  chuck: {diameter: 80, jaws: 3, through: 82}\n"),
			"f:5:3: the spindle's bore, 81 mm, is wider than the chuck, 80 mm\n" +
				"f:6:34: the hole through the chuck, 82 mm, is wider than the chuck, 80 mm",
		},
		{
			"a chuck that may never turn",
			shop("  spindle: {from: 900, to: 2000}\n  chuck: {diameter: 80, jaws: 3, max_rpm: 800}\n"),
			"f:6:34: the chuck is rated for 800 rpm, less than the spindle's lowest speed, 900 rpm",
		},
		{
			"parting", shop("  parting: {blade: 4, most: 3, reach: 1.4}\n"),
			"f:5:13: the blade, 4 mm, is wider than the bar it parts, 3 mm\n" +
				"f:5:32: a blade that reaches 1.4 mm does not part 3 mm off: half of that is 1.5 mm\n" +
				"f:5:39: 1.4 mm of reach on the parting blade? usual is 2 mm to 80 mm",
		},
		{
			"a part in the wrong unit", inch.Replace(part("  profile: [[0, 16], [100, 16]]\n")),
			"f:6:3: a part of 406.4 mm in diameter? usual is 1 mm to 300 mm\n" +
				"f:6:3: a part 2540 mm long? usual is 1 mm to 1500 mm",
		},
		{
			"a part in the other wrong unit", part("  profile: [[0, 0.5], [0.75, 0.5]]\n"),
			"f:6:3: a part 0.75 mm long? usual is 1 mm to 1500 mm\n" +
				"f:6:3: a part no thicker than 0.5 mm? usual is 1 mm to 300 mm",
		},
		{
			"a tolerance", part("  profile: [[0, 16], [20, 16]]\n  limits: [{at: 3, tol: [+0.0002, 0]}]\n"),
			"f:7:26: 0.0002 mm of tolerance? usual is 0.001 mm to 5 mm",
		},
		{
			"a fit of a shaft on a bore",
			part("  profile: [[0, 16], [20, 16]]\n  bores: [{from: left, dia: 6, depth: 9, fit: h7}]\n"),
			"f:7:47: h7 is read as H7: capital letters are those of holes, small ones of shafts",
		},
		{
			"what cannot be read is not asked about", shop("  cross_slide: {lead: 200, divisions: many}\n"),
			"f:5:23: 200 mm for one turn of the cross slide? usual is 0.5 mm to 12.7 mm",
		},
	} {
		var got []string
		read := ReadShop
		_, warnings, _ := read("f", []byte(tc.text))
		if strings.Contains(tc.text, "part: P") {
			_, warnings, _ = ReadPart("f", []byte(tc.text))
		}
		for _, w := range warnings {
			got = append(got, w.Text.String())
		}
		if list := strings.Join(got, "\n"); list != tc.want {
			t.Errorf("%s:\ngot  %s\nwant %s", tc.name, list, tc.want)
		}
	}
}

// The demo files are what is usual.
func TestDemosAreUsual(t *testing.T) {
	list, err := filepath.Glob("../../../testdata/*.yaml")
	if err != nil || len(list) < 5 {
		t.Fatal(list, err)
	}
	for _, name := range list {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		_, w, err := ReadPart(name, text)
		if strings.Contains(string(text), "\nshop:") {
			_, w, err = ReadShop(name, text)
		} else if IsProject(name) {
			_, w, err = Project(name)
		}
		if err != nil || len(w) > 0 {
			t.Errorf("%s: %v %v", name, err, w)
		}
	}
}

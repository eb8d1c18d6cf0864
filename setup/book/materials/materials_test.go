package materials

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"setover/setup/page/published"
)

// sources returns the keys listed in SOURCES.md, and the two admissions that
// need no entry.
func sources(t *testing.T) map[string]bool {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(published.Dir(), "SOURCES.md"))
	if err != nil {
		t.Fatal(err)
	}
	keys := map[string]bool{"from memory": true, "common practice, no source": true}
	for line := range strings.Lines(string(text)) {
		if entry, ok := strings.CutPrefix(line, "- "); ok {
			k, citation, _ := strings.Cut(entry, ": ")
			if strings.TrimSpace(citation) == "" {
				t.Errorf("SOURCES.md: %s: no citation", strings.TrimSpace(entry))
			}
			keys[k] = true
		}
	}
	return keys
}

func TestEveryFigureHasASource(t *testing.T) {
	listed := sources(t)
	for _, m := range All() {
		for k, f := range m.figures {
			if !listed[f.Source] {
				t.Errorf("%s %v: source %q is not in SOURCES.md", m.Name, k, f.Source)
			}
			if f.Checked != "" && !listed[f.Checked] {
				t.Errorf("%s %v: checked against %q, which is not in SOURCES.md", m.Name, k, f.Checked)
			}
			if f.Checked == f.Source {
				t.Errorf("%s %v: %q checked against itself", m.Name, k, f.Source)
			}
		}
	}
}

// check is a row of materials_checks.csv.
type check struct {
	key
	material, src, verdict, note string
	low, high                    string // as printed; low may be empty: an upper bound
	unit                         unit
	printed                      string // the source's own unit
}

func readChecks(t *testing.T) []check {
	t.Helper()
	var list []check
	for _, row := range published.Rows(t, "materials_checks.csv") {
		u, ok := units[row["quantity"]][row["unit"]]
		if !ok {
			t.Fatalf("materials_checks.csv: %s: unit %q does not fit", row["material"], row["unit"])
		}
		list = append(list, check{
			key{row["quantity"], row["operation"], row["tool"]},
			row["material"], row["src"], row["verdict"], row["note"], row["low"], row["high"], u, row["unit"],
		})
	}
	return list
}

// holds reports whether v, in the base unit, lies in the published range, or
// where one value is published prints as it.
func (c check) holds(v float64) bool {
	v /= c.unit.factor
	if c.low == c.high {
		_, decimals, _ := strings.Cut(c.low, ".")
		return strconv.FormatFloat(v, 'f', len(decimals), 64) == c.low
	}
	const slack = 1e-12 // the unit factor there and back, nothing more
	return v >= value(c.low)*(1-slack) && v <= value(c.high)*(1+slack)
}

// value reads a printed number; an empty one is 0.
func value(text string) float64 {
	v, _ := strconv.ParseFloat("0"+text, 64)
	return v
}

// TestPublished holds the table against figures that others published: those
// it was copied from, those that agree and those that do not.
func TestPublished(t *testing.T) {
	listed := sources(t)
	for _, p := range readChecks(t) {
		name := fmt.Sprintf("%s %s %s %s, %s", p.material, p.quantity, p.op, p.tool, p.src)
		m, err := Find(p.material)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		f, ok := m.figures[p.key]
		switch {
		case !ok:
			t.Errorf("%s: no such figure", name)
		case !listed[p.src]:
			t.Errorf("%s: source is not in SOURCES.md", name)
		case p.verdict == "same":
			low := check{low: p.low, high: p.low, unit: p.unit}
			high := check{low: p.high, high: p.high, unit: p.unit}
			if f.Source != p.src || !low.holds(f.Low) || !high.holds(f.High) {
				t.Errorf("%s: ours is %s, from %s; it prints %s to %s %s", name, f.Printed, f.Source, p.low, p.high, p.printed)
			}
		case p.verdict == "agrees":
			if f.Checked != p.src || !p.holds(f.Chosen) {
				t.Errorf("%s: ours is %v %s, checked against %q; it prints %s to %s %s", name, f.Chosen, f.Unit, f.Checked, p.low,
					p.high, p.printed)
			}
		case p.verdict == "differs":
			if p.note == "" || p.holds(f.Chosen) {
				t.Errorf("%s: marked as differing (%q), but ours, %v %s, holds", name, p.note, f.Chosen, f.Unit)
			}
		default:
			t.Errorf("%s: verdict %q", name, p.verdict)
		}
	}
}

// TestCheckedIsShown wants, for every figure that claims a second source, the
// second source's figure in materials_checks.csv.
func TestCheckedIsShown(t *testing.T) {
	shown := map[string]bool{}
	for _, p := range readChecks(t) {
		if p.verdict == "agrees" {
			shown[p.material+fmt.Sprint(p.key)+p.src] = true
		}
	}
	for _, m := range All() {
		for k, f := range m.figures {
			if f.Checked != "" && !shown[m.Name+fmt.Sprint(k)+f.Checked] {
				t.Errorf("%s %v: checked against %s, whose figure is not in materials_checks.csv", m.Name, k, f.Checked)
			}
		}
	}
}

// TestDerived follows the figures that a source gives by a rule it prints.
func TestDerived(t *testing.T) {
	kc := func(kc1, mc float64) (float64, float64) { return kc1, math.Round(kc1 * math.Pow(10, mc)) }
	times := func(low, high, a, b float64) (float64, float64) { return low * a, high * b }
	// NIST G-10 CR: (L-L293)/L293 = (a + bT + cT² + dT³)·1e-5, T in K, so the
	// slope is (b + 2cT + 3dT²)·10 in 1e-6/K.
	slope := func(b, c, d float64) float64 {
		const kelvin = 293
		return math.Round((b+2*c*kelvin+3*d*kelvin*kelvin)*100) / 10
	}
	for _, tc := range []struct {
		material string
		key      key
		src      string
		want     func() (float64, float64) // low and high as the row prints them
	}{
		// VDI 3323 groups 1, 14, 17, 22, 23, 26, 36, 37: kc1 and mc, Iscar 2017 p. 558.
		{
			"free-machining-steel",
			key{specificEnergy, anyOf, anyOf},
			"vdi-3323-kc",
			func() (float64, float64) { return kc(1350, 0.21) },
		},
		{
			"stainless-303",
			key{specificEnergy, anyOf, anyOf},
			"vdi-3323-kc",
			func() (float64, float64) { return kc(2150, 0.20) },
		},
		{
			"stainless-316",
			key{specificEnergy, anyOf, anyOf},
			"vdi-3323-kc",
			func() (float64, float64) { return kc(2150, 0.20) },
		},
		{
			"ductile-iron",
			key{specificEnergy, anyOf, anyOf},
			"vdi-3323-kc",
			func() (float64, float64) { return kc(1225, 0.25) },
		},
		{
			"aluminium-6061",
			key{specificEnergy, anyOf, anyOf},
			"vdi-3323-kc",
			func() (float64, float64) { return kc(800, 0.25) },
		},
		{
			"cast-aluminium",
			key{specificEnergy, anyOf, anyOf},
			"vdi-3323-kc",
			func() (float64, float64) { return kc(700, 0.25) },
		},
		{
			"free-cutting-brass",
			key{specificEnergy, anyOf, anyOf},
			"vdi-3323-kc",
			func() (float64, float64) { return kc(700, 0.27) },
		},
		{
			"titanium-grade-2",
			key{specificEnergy, anyOf, anyOf},
			"vdi-3323-kc",
			func() (float64, float64) { return kc(1700, 0.23) },
		},
		{
			"titanium-grade-5",
			key{specificEnergy, anyOf, anyOf},
			"vdi-3323-kc",
			func() (float64, float64) { return kc(2110, 0.22) },
		},
		// Carbide drills at 2 to 3 times the speeds of course 14345.
		{
			"low-carbon-steel",
			key{cuttingSpeed, "drill", "carbide"},
			"navedtra-14345-carbide",
			func() (float64, float64) { return times(80, 110, 2, 3) },
		},
		{
			"medium-carbon-steel",
			key{cuttingSpeed, "drill", "carbide"},
			"navedtra-14345-carbide",
			func() (float64, float64) { return times(70, 80, 2, 3) },
		},
		{
			"alloy-steel-4140",
			key{cuttingSpeed, "drill", "carbide"},
			"navedtra-14345-carbide",
			func() (float64, float64) { return times(50, 70, 2, 3) },
		},
		{
			"stainless-304",
			key{cuttingSpeed, "drill", "carbide"},
			"navedtra-14345-carbide",
			func() (float64, float64) { return times(30, 40, 2, 3) },
		},
		{
			"cast-iron",
			key{cuttingSpeed, "drill", "carbide"},
			"navedtra-14345-carbide",
			func() (float64, float64) { return times(70, 150, 2, 3) },
		},
		{
			"free-cutting-brass",
			key{cuttingSpeed, "drill", "carbide"},
			"navedtra-14345-carbide",
			func() (float64, float64) { return times(200, 300, 2, 3) },
		},
		{
			"aluminium-6061",
			key{cuttingSpeed, "drill", "carbide"},
			"navedtra-14345-carbide",
			func() (float64, float64) { return times(200, 300, 2, 3) },
		},
		// Carbide at twice the lab sheet's speeds.
		{
			"annealed-tool-steel",
			key{cuttingSpeed, "drill", "carbide"},
			"lab-sheet-carbide",
			func() (float64, float64) { return times(60, 60, 2, 2) },
		},
		{
			"copper",
			key{cuttingSpeed, "drill", "carbide"},
			"lab-sheet-carbide",
			func() (float64, float64) { return times(70, 70, 2, 2) },
		},
		{
			"copper",
			key{cuttingSpeed, "mill", "carbide"},
			"lab-sheet-carbide",
			func() (float64, float64) { return times(100, 200, 2, 2) },
		},
		{
			"titanium-grade-5",
			key{cuttingSpeed, "drill", "carbide"},
			"lab-sheet-carbide",
			func() (float64, float64) { return times(30, 30, 2, 2) },
		},
		{
			"magnesium-az31",
			key{cuttingSpeed, "mill", "carbide"},
			"lab-sheet-carbide",
			func() (float64, float64) { return times(200, 400, 2, 2) },
		},
		// D·n = 6000 to 9000 in·rpm is π·D·n/12 ft/min.
		{"hardwood", key{cuttingSpeed, "turn", "hss"}, "wood-turning-rule", func() (float64, float64) {
			return math.Round(6000 * math.Pi / 12), math.Round(9000 * math.Pi / 12)
		}},
		{"glass-epoxy-laminate", key{expansion, anyOf, anyOf}, "nist-g10cr", func() (float64, float64) {
			return slope(2.064e-1, 3.072e-3, -3.226e-6), slope(4.455e-1, 7.505e-3, -2.219e-6)
		}},
	} {
		m, err := Find(tc.material)
		if err != nil {
			t.Fatal(err)
		}
		f := m.figures[tc.key]
		low, high := tc.want()
		text := fmt.Sprint(low)
		if low != high {
			text += fmt.Sprint(" to ", high)
		}
		if got := f.Printed[:strings.LastIndex(f.Printed, " ")]; f.Source != tc.src || got != text {
			t.Errorf("%s %v: got %s from %s; %s gives %s", tc.material, tc.key, got, f.Source, tc.src, text)
		}
	}
}

// TestChipEnergy holds the law of the chip against the sources: where they
// print a constant and an exponent, it gives back the constant at 1 mm; where
// they print a table by the feed, its ends, and what is between within 6 %.
func TestChipEnergy(t *testing.T) {
	within := func(m *Material, chip, want, part float64) {
		t.Helper()
		if got := m.ChipEnergy(chip) * 1000; math.Abs(got/want-1) > part {
			t.Errorf("%s: %.0f MPa for a chip of %v mm, printed is %v", m.Name, got, chip, want)
		}
	}
	for _, m := range All() {
		u := m.SpecificEnergy()
		within(m, chosenChip, u.Chosen*1000, 1e-12)
		switch m.ChipExponent().Source {
		case "vdi-3323-kc":
			within(m, 1, u.Low*1000, 0.001)
		case "mitsubishi-kc-slope", "taken from annealed tool steel":
			within(m, 0.6, u.Low*1000, 0.001)
		case "":
			within(m, 1, u.Chosen*1000, 1e-12)
		default:
			t.Errorf("%s: the exponent is from %s", m.Name, m.ChipExponent().Source)
		}
	}
	names := map[string]string{
		"mild steel 520 MPa": "low-carbon-steel", "medium steel 620": "medium-carbon-steel",
		"Cr-Mo steel 600": "alloy-steel-4140", "tool steel 670": "annealed-tool-steel", "tool steel 770": "silver-steel",
		"grey cast iron 200HB": "cast-iron",
	}
	rows := 0
	for _, row := range published.Rows(t, "specific_cutting_force_kc.csv") {
		if m, err := Find(names[row["material"]]); err == nil {
			rows++
			for column, feed := range map[string]float64{"f0.1": 0.1, "f0.2": 0.2, "f0.3": 0.3, "f0.4": 0.4, "f0.6": 0.6} {
				within(m, feed, value(row[column]), 0.06)
			}
		}
	}
	if rows != len(names) {
		t.Errorf("%d rows, want %d", rows, len(names))
	}
}

// TestUnits compares the conversions with NIST SP 811 (2008), appendix B.8,
// whose seven-digit factors are quoted from memory.
func TestUnits(t *testing.T) {
	for _, tc := range []struct {
		quantity, unit string
		want           string // one of the unit in the base unit, seven figures
	}{
		{cuttingSpeed, "ft/min", "3.048000e-01"}, // 5.08 E-03 m/s
		{cuttingSpeed, "m/s", "6.000000e+01"},
		{feed, "in/rev", "2.540000e+01"},
		{feed, "in/tooth", "2.540000e+01"},
		{specificEnergy, "MPa", "1.000000e-03"}, // 1 N/mm2 is 1e-3 J/mm3
		{tensileStrength, "ksi", "6.894757e+00"},
		{modulus, "Mpsi", "6.894757e+00"},
		{modulus, "ksi", "6.894757e-03"},
		{density, "lb/in3", "2.767990e+04"},
		{density, "lb/ft3", "1.601846e+01"},
		{density, "g/cm3", "1.000000e+03"},
		{expansion, "1e-6/F", "1.800000e+00"},
	} {
		if got := fmt.Sprintf("%.6e", units[tc.quantity][tc.unit].factor); got != tc.want {
			t.Errorf("1 %s: got %s; SP 811 gives %s", tc.unit, got, tc.want)
		}
	}
	for quantity, list := range units {
		for name, u := range list {
			if b := list[u.base]; b.base != u.base || b.factor != 1 {
				t.Errorf("%s: %s: its base unit %s is not in the list", quantity, name, u.base)
			}
		}
	}
}

// TestPlausible needs no book: a slipped digit or a wrong unit shows as a
// density out of its group, or as carbide slower than high-speed steel.
func TestPlausible(t *testing.T) {
	bounds := map[Group][2]float64{
		"steel": {7700, 8000}, "stainless": {7700, 8100}, "iron": {7000, 7500}, "copper-alloy": {7300, 9000},
		"aluminium": {2600, 2900}, "titanium": {4400, 4600}, "magnesium": {1700, 1900}, "zinc": {6000, 7200},
		"plastic": {900, 2300}, "laminate": {1100, 2000}, "wood": {350, 1300},
	}
	for _, m := range All() {
		if d, b := m.Density().Chosen, bounds[m.Group]; d < b[0] || d > b[1] {
			t.Errorf("%s: %v kg/m3 is no density for %s", m.Name, d, m.Group)
		}
		for _, op := range []string{"turn", "drill", "mill"} {
			h, ok := m.CuttingSpeed(op, "hss")
			c, _ := m.CuttingSpeed(op, "carbide")
			if ok && c.Chosen < h.Chosen {
				t.Errorf("%s: %s: carbide %v under high-speed steel %v m/min", m.Name, op, c.Chosen, h.Chosen)
			}
			if carbon, both := m.CuttingSpeed(op, "carbon"); both && carbon.Chosen > h.Chosen {
				t.Errorf("%s: %s: carbon steel %v above high-speed steel %v m/min", m.Name, op, carbon.Chosen, h.Chosen)
			}
		}
		if ream, ok := m.CuttingSpeed("ream", "hss"); ok {
			if drill, _ := m.CuttingSpeed("drill", "hss"); ream.Chosen > drill.Chosen {
				t.Errorf("%s: reams at %v, drills at %v m/min", m.Name, ream.Chosen, drill.Chosen)
			}
		}
	}
}

func TestFind(t *testing.T) {
	for _, m := range All() {
		for _, w := range append([]string{m.Name}, m.Aliases...) {
			for _, asked := range []string{
				w, strings.ToUpper(w), strings.ReplaceAll(w, "-", " "),
				strings.ReplaceAll(w, "-", "_"), "  " + w + " ",
			} {
				if got, err := Find(asked); err != nil || got != m {
					t.Errorf("%q: got %v, %v; want %s", asked, got, err, m.Name)
				}
			}
		}
	}
	for _, tc := range []struct{ asked, want string }{
		{"brass", "free-cutting-brass"},
		{"Mild Steel", "low-carbon-steel"},
		{"12L14", "free-machining-steel"},
		{"CW614N", "free-cutting-brass"},
		{"aluminum", "aluminium-6061"},
		{"Ti-6Al-4V", "titanium-grade-5"},
		{"G10", "glass-epoxy-laminate"},
		{"bronze", "tin-bronze"},
		{"hardened steel", "hardened-steel"},
	} {
		if m, err := Find(tc.asked); err != nil || m.Name != tc.want {
			t.Errorf("%s: got %v, %v; want %s", tc.asked, m, err, tc.want)
		}
	}
	for _, tc := range []struct{ asked, want string }{
		{"", "material: a material is needed, such as free-cutting-brass or mild-steel"},
		{" - ", "material: a material is needed, such as free-cutting-brass or mild-steel"},
		{"bras", "material: bras: not a material in the table\n  did you mean brass?"},
		{"Acetyl", "material: Acetyl: not a material in the table\n  did you mean acetal?"},
		{"free cuting brass", "material: free cuting brass: not a material in the table\n  did you mean free-cutting-brass?"},
		{"unobtainium", "material: unobtainium: not a material in the table"},
		{"iron", "material: iron: not one material: write cast-iron or ductile-iron"},
		{"Wood", "material: Wood: not one material: write hardwood, dense-hardwood, softwood or stabilised-wood"},
	} {
		m, err := Find(tc.asked)
		if m != nil || err == nil || err.Error() != tc.want {
			t.Errorf("%q: got %v, %v; want %s", tc.asked, m, err, tc.want)
		}
	}
}

func TestNames(t *testing.T) {
	names := Names()
	for i, m := range All() {
		if names[i] != m.Name {
			t.Errorf("name %d: got %s, want %s", i, names[i], m.Name)
		}
	}
	All()[0] = nil // the caller's own list
	if All()[0] == nil {
		t.Error("All hands out the table itself")
	}
}

func TestLookup(t *testing.T) {
	for _, tc := range []struct {
		material, op, tool string
		speed, feed        string // "" where there is none
	}{
		{"brass", "turn", "hss", "76.2 m/min, 250 to 500 ft/min", "0.127 mm/rev, 0.003 to 0.025 in/rev"},
		{"brass", "mill", "carbon", "30.48 m/min, 100 to 120 ft/min", ""},
		{"stainless", "drill", "hss", "9.144 m/min, 30 to 40 ft/min", "0.0762 mm/rev, 0.002 to 0.004 in/rev"},
		{"acetal", "turn", "hss", "50 m/min, 50 m/min", "0.127 mm/rev, 0.004 to 0.015 in/rev"},
		{"pvc", "turn", "hss", "90 m/min, 1.5 to 5.0 m/s", "0.25 mm/rev, 0.25 to 0.75 mm/rev"},
		{"g10", "mill", "hss", "20 m/min, 15 to 40 m/min", "0.03 mm/tooth, 0.02 to 0.05 mm/tooth"},
		{"hardened-steel", "turn", "carbide", "30 m/min, 20 to 60 m/min", "0.05 mm/rev, 0.05 to 0.10 mm/rev"},
		{"hardened-steel", "turn", "hss", "", ""},
		{"hardened-steel", "drill", "carbon", "", ""},
		{"brass", "ream", "hss", "", ""},
		{"brass", "part-off", "hss", "", ""},
		{"brass", "whittle", "hss", "", ""},
		{"brass", "turn", "stone", "", ""},
		{"g10", "mill", "stone", "", ""},
	} {
		m, err := Find(tc.material)
		if err != nil {
			t.Fatal(err)
		}
		show := func(f Figure, ok bool) string {
			if !ok {
				return ""
			}
			return fmt.Sprintf("%.5g %s, %s", f.Chosen, f.Unit, f.Printed)
		}
		if got := show(m.CuttingSpeed(tc.op, tc.tool)); got != tc.speed {
			t.Errorf("%s, %s, %s: cutting speed %q, want %q", tc.material, tc.op, tc.tool, got, tc.speed)
		}
		if got := show(m.Feed(tc.op, tc.tool)); got != tc.feed {
			t.Errorf("%s, %s, %s: feed %q, want %q", tc.material, tc.op, tc.tool, got, tc.feed)
		}
	}
}

// TestFallBack shows that a row for any operation serves every operation, and
// that the row for just this one goes before it.
func TestFallBack(t *testing.T) {
	one, turn, hss := Figure{Chosen: 1}, Figure{Chosen: 2}, Figure{Chosen: 3}
	m := &Material{figures: map[key]Figure{
		{cuttingSpeed, anyOf, anyOf}:  one,
		{cuttingSpeed, "turn", anyOf}: turn,
		{cuttingSpeed, anyOf, "hss"}:  hss,
	}}
	for _, tc := range []struct {
		op, tool string
		want     Figure
	}{{"turn", "hss", turn}, {"turn", "carbide", turn}, {"drill", "hss", hss}, {"drill", "carbide", one}} {
		if got, ok := m.CuttingSpeed(tc.op, tc.tool); !ok || got != tc.want {
			t.Errorf("%s, %s: got %v, want %v", tc.op, tc.tool, got, tc.want)
		}
	}
}

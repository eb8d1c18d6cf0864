package files

import (
	"bufio"
	"fmt"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml/ast"

	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// The keys of testdata/keys.txt are those of the file format as it was agreed,
// written down by hand; what grew since stands below them.
func TestEveryKeyIsThere(t *testing.T) {
	f, err := os.Open("testdata/keys.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	agreed := map[string][]string{}
	file := ""
	for s := bufio.NewScanner(f); s.Scan(); {
		line := strings.TrimSpace(s.Text())
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
		case strings.HasSuffix(line, ":"):
			file = strings.TrimSuffix(line, ":")
		default:
			agreed[file] = append(agreed[file], line)
		}
	}
	for file, rows := range map[string][]Row{"shop": ShopKeys(), "part": PartKeys(), "project": ProjectKeys()} {
		var have []string
		for _, r := range rows {
			key := r.Key
			if r.Required {
				key += " *"
			}
			have = append(have, key)
			if r.Doc == "" || r.Kind == "" {
				t.Errorf("%s: %s: no caption or no kind", file, r.Key)
			}
			if !r.Required && r.Default == "" && r.Absent == "" && !strings.Contains(r.Key, ".") && r.Kind != "list of groups" {
				t.Errorf("%s: %s: it is not said what its absence means", file, r.Key)
			}
		}
		for _, k := range agreed[file] {
			if !slices.Contains(have, k) {
				t.Errorf("%s: %s is in the format and not read", file, k)
			}
		}
		for _, k := range have {
			if !slices.Contains(agreed[file], k) {
				t.Errorf("%s: %s is read and not in testdata/keys.txt", file, k)
			}
		}
	}
}

// keysOf returns the paths of the keys in a file.
func keysOf(t *testing.T, text string) map[string]bool {
	t.Helper()
	r, doc, err := parse("f", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	var walk func(n ast.Node, at string)
	walk = func(n ast.Node, at string) {
		if entries, ok := r.entries(n); ok {
			for _, e := range entries {
				found[at+e.key] = true
				walk(e.node, at+e.key+".")
			}
			return
		}
		if s, ok := n.(*ast.SequenceNode); ok {
			for _, v := range s.Values {
				walk(v, at)
			}
		}
	}
	walk(doc, "")
	return found
}

// The built-in shop and the example parts load and have every key; a key that
// cannot stand beside another is named in a comment.
func TestExamplesHaveEveryKey(t *testing.T) {
	for _, x := range []struct {
		name, text string
		rows       []Row
		commented  []string // not possible beside the others there
		other      string   // keys of the other kind of part
	}{
		{"shop", NewShop(), ShopKeys(), []string{
			"collets.er", "spindle.from", "spindle.to", "spindle.speeds", "parting_blade",
		}, "-"},
		{"round part", NewPart(false), PartKeys(), []string{
			"bores.through", "holes.crossing", "holes.through_thread",
			"rows.span", "stock.round", "stock.hex", "stock.square", "stock.tube", "centres", // under round
			"bores.fit", "holes.fit", "rows.fit", "limits.fit", "limits.angle", "limits.gauge",
		}, "block"},
		{"block part", NewPart(true), PartKeys(), []string{"holes.fit"}, "round"},
	} {
		have := keysOf(t, x.text)
		for _, r := range x.rows {
			turned := r.Key == "centres" // of a block there are none
			if have[r.Key] || r.Key == x.other || turned && x.other == "round" || strings.HasPrefix(r.Key, x.other+".") {
				continue
			}
			last := r.Key[strings.LastIndex(r.Key, ".")+1:]
			named := regexp.MustCompile(`#.*\b` + last + `:`).MatchString(x.text)
			if !named || !slices.ContainsFunc(x.commented, func(c string) bool { return strings.HasSuffix(r.Key, c) }) {
				t.Errorf("%s: no %s", x.name, r.Key)
			}
		}
	}
}

// Nothing that was read is lost: every field of a shop and of a part is set by
// the built-in shop, the example parts or, where those hold its zero value or
// the key beside it, by the texts here.
func TestEveryKeyIsKept(t *testing.T) {
	shopText := func(text string) *shop.Shop {
		return must(ReadShop("f", []byte("format: 1\nshop: S\nunits: in\n"+text)))
	}
	partText := func(text string) *part.Part {
		return must(ReadPart("f", []byte("format: 1\npart: P\nunits: in\nmaterial: brass\n"+text)))
	}
	all := []any{
		Builtin(),
		shopText("gauge_blocks: [1, 2.5]\nlathe: {readout: true, collets: [1/4in], compound: {scale: {zero: along, step: " +
			"1, " +
			"numbering: back-after-90}, unit: in, lead: 0.1, divisions: 100}}\n" +
			"mill: {readout: true, power_feed: true, spindle: {speeds: [100, 200]}, " +
			"table: {lead: 0.1, divisions: 100, unit: in}}\n" +
			"drill_press: {power_feed: true, spindle: {from: 100, to: 2000}}\n"),
		shopText("lathe: {spindle: {from: 100, to: 2000}, cross_slide: {lead: 0.1, divisions: 100, unit: in}, " +
			"carriage: {lead: 0.7, divisions: 100, unit: in}}\n"),
		must(ReadPart("f", []byte(NewPart(false)))),
		must(ReadPart("f", []byte(NewPart(true)))),
		partText("stress_relief: true\nround:\n  profile: [[0, 2], [6, 2]]\n" +
			"  stock: {tube: [2.5, 1]}\n  centres: remove\n" +
			"  facets: [{sides: 6, from: 0, to: 2, across: corners, roll: 10}, " +
			"{sides: 2, from: 2, to: 3, across: 1.5}]\n" +
			"  bores: [{from: right, dia: 1, through: true, fit: H7}]\n" +
			"  holes: [{at: 5, dia: 1/4, offset: 0.1, fit: H7, crossing: ok, through_thread: ok}]\n" +
			"  rows: [{from: 3, dia: 1/8, count: 3, span: 1, offset: 0.1, fit: H7, stagger: true, miss_bore: true}]\n" +
			"  limits: [{at: 1, fit: h6}]\n" +
			"  slots: [{at: 4, length: 1, width: 1/4, roll: 10, chain_drill: true}]\n"),
		partText("round:\n  profile: [[0, 2], [6, 1]]\n" +
			"  limits: [{from: 0, to: 6, angle: 1deg}, {from: 0, to: 6, gauge: MT2}]\n"),
		partText("block: {size: [3, 2, 1], holes: [{at: [2, 1], dia: 1/4, fit: H7}], " +
			"slots: [{at: [1, 1], length: 1, width: 1/4, angle: 10}]}\n"),
	}
	full := map[string]bool{} // fields that are set somewhere
	var walk func(v reflect.Value, at string)
	walk = func(v reflect.Value, at string) {
		if m := v.MethodByName("MarshalJSON"); m.IsValid() || v.Kind() != reflect.Struct && v.Kind() != reflect.Slice &&
			v.Kind() != reflect.Pointer {
			full[at] = full[at] || !v.IsZero()
			return
		}
		switch v.Kind() {
		case reflect.Pointer:
			full[at] = full[at] || !v.IsNil()
			if !v.IsNil() {
				walk(v.Elem(), at)
			}
		case reflect.Slice:
			full[at] = full[at] || v.Len() > 0
			for i := range v.Len() {
				walk(v.Index(i), at)
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i), at+"."+v.Type().Field(i).Name)
			}
		}
	}
	for _, x := range all {
		walk(reflect.ValueOf(x), reflect.TypeOf(x).Elem().Name())
	}
	other := regexp.MustCompile(`At\.Flag$|` + // a place in a file has no flag
		`(Table|Screw|Carriage)\.OnDiameter$|` + // only a cross slide counts on the diameter
		`Bores\.toMeasure$|` + // a project says so
		`Round\.Slots\.(X|Y|Angle|Face)$|Block\.Slots\.(Z|Roll)$`) // a slot's place is said otherwise there
	for at, set := range full {
		if set == other.MatchString(at) {
			t.Errorf("%s: set is %v", at, set)
		}
	}
}

func must[T any](v T, w sheet.Warnings, err error) T {
	if err != nil || len(w) > 0 {
		panic(fmt.Sprint(err, w))
	}
	return v
}

// The examples of the file format, as it was agreed.
func TestFormatExamples(t *testing.T) {
	_, w1, err1 := Shop("testdata/format/shop.yaml")
	_, w2, err2 := Part("testdata/format/plumb-bob.yaml")
	_, w3, err3 := Part("testdata/format/bracket.yaml")
	p, w4, err4 := Project("testdata/format/project.yaml")
	for _, err := range []error{err1, err2, err3, err4} {
		if err != nil {
			t.Error(err)
		}
	}
	for _, w := range []sheet.Warnings{w1, w2, w3, w4} {
		if len(w) > 0 {
			t.Error(w)
		}
	}
	if !IsProject("testdata/format/project.yaml") || IsProject("testdata/format/cap.yaml") ||
		IsProject("testdata/format/none.yaml") {
		t.Error("a project is not told from a part")
	}
	if len(p.Parts) != 2 || p.Parts[0].Part.Name != "Plumb bob" || p.Parts[1].Part.Name != "Cap" {
		t.Errorf("parts: %+v", p.Parts)
	}
}

// pick returns yes or no.
func pick(is bool, yes, no string) string {
	if is {
		return yes
	}
	return no
}

// What the table of keys says is taken when a key is absent is what is taken.
func TestDefaults(t *testing.T) {
	s := must(ReadShop("f", []byte("format: 1\nshop: S\nunits: in\nlathe:\n  cross_slide: {lead: 0.1, divisions: 100}\n"+
		"  carriage: {lead: 0.7, divisions: 100}\n"+
		"  compound: {scale: {zero: along, step: 1}, lead: 0.1, divisions: 100}\n"+
		"mill: {table: {lead: 0.1, divisions: 100}}\ndrill_press: {}\nv_blocks: {apex: 1}\n")))
	p := must(ReadPart("f", []byte("format: 1\npart: P\nunits: mm\nmaterial: brass\nround:\n"+
		"  profile: [[0, 20], [50, 20]]\n"+
		"  arcs: [{from: 0, to: 50, radius: 400}]\n  facets: [{sides: 6, from: 0, to: 20, across: flats}]\n"+
		"  bores: [{from: left, dia: 5, depth: 5}]\n"+
		"  threads: [{from: left, spec: M20, length: 10}]\n  holes: [{at: 5, dia: 1}]\n"+
		"  rows: [{from: 5, dia: 1, count: 2, pitch: 5}]\n  slots: [{at: 10, length: 5, width: 1}]\n")))
	b := must(ReadPart("f", []byte("format: 1\npart: P\nunits: mm\nmaterial: brass\nblock:\n  size: [9, 9, 9]\n"+
		"  slopes: [{from_x: 1, to_x: 5, along_x: 1}, {face: top, from_x: 5, to_x: 9, along_y: 1}]\n"+
		"  slots: [{at: [5, 5], length: 5, width: 1}]\n  holes: [{at: [5, 5], dia: 1}]\n")))
	r := &reader{name: "f"}
	facets, hole, row, slot := p.Round.Facets[0], p.Round.Holes[0], p.Round.Rows[0], p.Round.Slots[0]
	zero := func(v interface{ Sign() int }) string { return fmt.Sprint(v.Sign()) }
	taken := map[string]string{
		"shop display":                        pick(s.Display == units.Inch, "units", ""),
		"shop lathe.cross_slide.unit":         s.Lathe.CrossSlide.Unit.String(),
		"shop lathe.cross_slide.reads":        pick(s.Lathe.CrossSlide.OnDiameter, "diameter", "radius"),
		"shop lathe.compound.unit":            s.Lathe.Compound.Screw.Unit.String(),
		"shop lathe.compound.scale.numbering": pick(s.Lathe.Compound.Scale.BackAfter90, "", "up"),
		"shop lathe.readout":                  fmt.Sprint(s.Lathe.Readout),
		"shop lathe.stud_ratio":               pick(s.Lathe.StudRatio == nil, "1", ""), // none is one to one
		"shop lathe.carriage.unit":            s.Lathe.Carriage.Unit.String(),
		"shop lathe.soft_jaws":                fmt.Sprint(s.Lathe.SoftJaws),
		"shop lathe.power_feed":               fmt.Sprint(s.Lathe.PowerFeed),
		"shop mill.table.unit":                s.Mill.Table.Unit.String(),
		"shop mill.readout":                   fmt.Sprint(s.Mill.Readout),
		"shop mill.power_feed":                fmt.Sprint(s.Mill.PowerFeed),
		"shop drill_press.power_feed":         fmt.Sprint(s.DrillPress.PowerFeed),
		"shop v_blocks.angle":                 s.VBlocks.Angle.String(),
		"shop v_blocks.pair":                  fmt.Sprint(s.VBlocks.Pair),
		"part quantity":                       fmt.Sprint(p.Quantity),
		"part general":                        string(p.General),
		"part stress_relief":                  fmt.Sprint(p.StressRelief),
		"part round.arcs.bulge":               pick(p.Round.Arcs[0].Out, "out", "in"),
		"part round.facets.roll":              fmt.Sprint(facets.Roll.Deg()),
		"part round.facets.leave":             zero(facets.Leave),
		"part round.bores.through":            fmt.Sprint(p.Round.Bores[0].Through),
		"part round.threads.inside":           fmt.Sprint(p.Round.Threads[0].Inside),
		"part round.holes.roll":               fmt.Sprint(hole.Roll.Deg()),
		"part round.holes.offset":             zero(hole.Offset),
		"part round.holes.miss_bore":          fmt.Sprint(hole.MissBore),
		"part round.rows.rolls":               pick(len(row.Rolls) == 1 && row.Rolls[0].Deg() == 0, "[0]", ""),
		"part round.rows.stagger":             fmt.Sprint(row.Stagger),
		"part round.rows.offset":              zero(row.Offset),
		"part round.rows.miss_bore":           fmt.Sprint(row.MissBore),
		"part round.slots.roll":               fmt.Sprint(slot.Roll.Deg()),
		"part round.slots.chain_drill":        fmt.Sprint(slot.ChainDrill),
		"part block.slopes.face":              string(b.Block.Slopes[0].Face),
		"part block.slots.face":               string(b.Block.Slots[0].Face),
		"part block.holes.face":               string(b.Block.Holes[0].Face),
		"part block.slopes.along_x":           fmt.Sprint(b.Block.Slopes[1].AlongX.Deg()),
		"part block.slopes.along_y":           fmt.Sprint(b.Block.Slopes[0].AlongY.Deg()),
		"part block.slots.angle":              fmt.Sprint(b.Block.Slots[0].Angle.Deg()),
		"part block.slots.chain_drill":        fmt.Sprint(b.Block.Slots[0].ChainDrill),
		"project units":                       r.bare.String(),
	}
	for file, rows := range map[string][]Row{"shop": ShopKeys(), "part": PartKeys(), "project": ProjectKeys()} {
		for _, row := range rows {
			if got, ok := taken[file+" "+row.Key]; row.Default != "" && got != row.Default {
				t.Errorf("%s: %s: the table says %s, taken is %q (tested: %v)", file, row.Key, row.Default, got, ok)
			}
		}
	}
}

// Whatever the built-in shop loses is missing from its inventory.
func TestInventoryIsComplete(t *testing.T) {
	full := len(Builtin().Inventory(nil).Items)
	text := NewShop()
	for _, r := range ShopKeys() {
		depth := strings.Count(r.Key, ".")
		last := r.Key[strings.LastIndex(r.Key, ".")+1:]
		if depth > 1 || depth == 1 && !strings.HasPrefix(r.Key, "lathe.") || r.Required {
			continue
		}
		if r.Key == "parting_blade" {
			continue // named in a comment: it means lathe.parting
		}
		indent := strings.Repeat("  ", depth)
		key := regexp.MustCompile(`(?m)^` + indent + last + `:.*\n(` + indent + ` +.*\n)*`) // the first is the lathe's
		at := key.FindStringIndex(text)
		if at == nil {
			t.Errorf("%s is not in the built-in shop", r.Key)
			continue
		}
		s, _, err := ReadShop("f", []byte(text[:at[0]]+text[at[1]:]))
		if err != nil {
			t.Errorf("%s: %v", r.Key, err)
			continue
		}
		// No thing of their own, or not owned there.
		silent := []string{
			"display", "lathe.stud_ratio", "lathe.banjo",
			"lathe.readout",
		}
		if less := len(s.Inventory(nil).Items) < full; less == slices.Contains(silent, r.Key) {
			t.Errorf("without %s the inventory is shorter: %v", r.Key, less)
		}
	}
}

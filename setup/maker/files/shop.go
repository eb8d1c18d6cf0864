package files

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

//go:embed builtin.yaml
var builtinYAML string

// Builtin returns the shop that stands in where no shop file is found: an
// ordinary small hobby lathe, bench mill and drill press, invented.
func Builtin() *shop.Shop {
	s, _, err := ReadShop("builtin", []byte(builtinYAML))
	if err != nil {
		panic("files: the built-in shop does not load: " + err.Error())
	}
	s.From = "built in"
	return s
}

// NewShop returns a commented shop file with every key, which loads.
func NewShop() string { return builtinYAML }

// Shop reads a shop file. A file that cannot be read is the system's error;
// what is wrong inside it is a problem.List.
func Shop(name string) (*shop.Shop, sheet.Warnings, error) {
	text, err := open(name)
	if err != nil {
		return nil, nil, err
	}
	return ReadShop(name, text)
}

// ReadShop reads a shop from text; name is for messages.
func ReadShop(name string, text []byte) (*shop.Shop, sheet.Warnings, error) {
	r, doc, err := parse(name, text)
	if err != nil {
		return nil, nil, err
	}
	d := &shopDoc{Shop: &shop.Shop{From: name, Hash: hash(text)}}
	if r.header(doc, "shop") {
		mapping(r, doc, "", d, shopFields())
	}
	d.Display = r.bare
	if d.display != nil {
		d.Display = *d.display
	}
	return d.Shop, r.warnings, r.done()
}

// shopDoc is a shop with the keys of its file that the shop does not keep.
type shopDoc struct {
	*shop.Shop
	format  int
	units   units.Unit
	display *units.Unit
}

// header reads format and units before the rest, since every bare number
// depends on the unit and every key on the format. It returns false when the
// rest is not worth reading: a newer format, or another kind of file.
func (r *reader) header(doc ast.Node, kind string) bool {
	entries, ok := r.entries(doc)
	r.problems = nil // mapping tells them again
	r.harmless = 0
	if !ok {
		return true
	}
	keys := map[string]entry{}
	for _, e := range entries {
		if e.node == nil {
			continue
		}
		keys[e.key] = e
	}
	if f, ok := keys["format"]; ok {
		if n, err := asCount(1, 1<<20)(f.node.GetToken().Value, r); err == nil && n > formatRead {
			r.add(f.node, problem.Problem{Code: problem.OutOfRange, At: problem.Pos{Key: "format"}, Found: fmt.Sprint(n), Want: fmt.Sprintf("written for format %d; this reads up to %d", n, formatRead)})
			return false
		}
	}
	if _, ok := keys[kind]; !ok {
		for _, other := range []string{"shop", "part", "project"} {
			if e, ok := keys[other]; ok {
				r.add(e.at, problem.Problem{Code: problem.WrongType, Want: "this is a " + other + " file, and a " + kind + " file is wanted"})
				return false
			}
		}
	}
	if _, ok := keys["format"]; ok && entries[0].key != "format" {
		r.add(entries[0].at, problem.Problem{Code: problem.Missing, At: problem.Pos{Key: "format"}, Want: "the first line is format: 1"})
		r.harmless++
	}
	if u, ok := keys["units"]; ok {
		if u, err := units.ParseUnit(u.node.GetToken().Value); err == nil {
			r.bare = u
		}
	}
	return true
}

func asUnit(text string, _ *reader) (units.Unit, error) { return units.ParseUnit(text) }

func asFormat(text string, _ *reader) (int, error) {
	if text != "1" {
		return 0, problem.New(problem.OutOfRange, "", text, "there is no such format: write 1")
	}
	return 1, nil
}

// ShopKeys returns the table of keys of a shop file.
func ShopKeys() []Row { return rows(shopFields(), "") }

func shopFields() []field[shopDoc] {
	type S = shopDoc
	return []field[S]{
		value("format", "whole number", "yes", func(s *S) *int { return &s.format }, asFormat).required().says("the file format; 1 is the newest"),
		value("shop", "text", "", func(s *S) *string { return &s.Name }, asText).required().says("the shop's name, printed on every sheet"),
		value("units", "word", "", func(s *S) *units.Unit { return &s.units }, asUnit).required().says("mm or in: what bare numbers in this file are"),
		option("display", "word", "", func(s *S) **units.Unit { return &s.display }, asUnit).says("mm or in: how lengths are shown when the command does not say").defaults("units"),
		group("lathe", func(s *S) **shop.Lathe { return &s.Lathe }, latheFields).says("the lathe").without("turning is not planned; angles stay exact"),
		group("mill", func(s *S) **shop.Mill { return &s.Mill }, millFields).says("the mill").without("milling is not planned"),
		group("drill_press", func(s *S) **shop.DrillPress { return &s.DrillPress }, drillPressFields).says("the drill press").without("drilling falls to the mill or the lathe"),
		group("belt_grinder", func(s *S) **shop.BeltGrinder { return &s.BeltGrinder }, grinderFields).says("the belt grinder").without("facets are milled"),
		group("dividing_head", func(s *S) **shop.DividingHead { return &s.DividingHead }, dividingFields).says("a worm head with hole plates").without("sides are indexed in a collet block, by the chuck's jaws or by hand"),
		group("rotary_table", func(s *S) **shop.RotaryTable { return &s.RotaryTable }, rotaryFields).says("a worm table").without("no rotary settings are given"),
		group("v_blocks", func(s *S) **shop.VBlocks { return &s.VBlocks }, vblockFields).says("the V-blocks").without("cross holes are drilled in a vice, and heights are not given"),
		sizeMaybe("sine_bar", func(s *S) **units.Length { return &s.SineBar }).says("centre distance of the rollers").without("no sine bar settings are given"),
		gaugeBlocks().says("a set by name, or its pieces").without("heights are given without a stack"),
		drillList().says("named sets (" + strings.Join(drills.Sets(), ", ") + ") and single sizes; a size carries its unit").without("drills are taken from every size made"),
		list("reamers", "length", "no", func(s *S) *[]units.Length { return &s.Reamers }, withUnit).says("sizes, with their unit").without("no hole is reamed"),
		list("taps", "text", "", func(s *S) *[]string { return &s.Taps }, asText).says("thread designations").without("inside threads are cut with a single point or reported as missing kit"),
		list("dies", "text", "", func(s *S) *[]string { return &s.Dies }, asText).says("thread designations").without("outside threads are cut with a single point"),
		list("centre_drills", "length", fileUnits, func(s *S) *[]units.Length { return &s.CentreDrills }, asSize).says("pilot diameters").without("the centre drill's size is not checked"),
		sizeMaybe("parting_blade", func(s *S) **units.Length { return &s.PartingBlade }).says("width of the blade").without("parting off is not planned: the saw and a face cut are"),
		groups("boring_bars", func(s *S) *[]shop.BoringBar { return &s.BoringBars }, nil, barFields).says("each bar's diameter and reach").without("boring reach is not checked"),
		list("collet_blocks", "whole number", "yes", func(s *S) *[]int { return &s.ColletBlocks }, asCount(3, 24)).says("sides of each block: 4, 6").without("sides are not indexed in a block"),
	}
}

func latheFields() []field[shop.Lathe] {
	type L = shop.Lathe
	return []field[L]{
		spindle(func(l *L) **shop.Spindle { return &l.Spindle }),
		option("motor", "power", "no", func(l *L) **units.Power { return &l.Motor }, asPower).says("the motor's power").without("power is not checked"),
		sizeMaybe("between_centres", func(l *L) **units.Length { return &l.BetweenCentres }).says("longest work between the centres").without("the work's length is not checked"),
		sizeMaybe("swing_over_bed", func(l *L) **units.Length { return &l.SwingOverBed }).says("largest diameter over the bed").without("the work's diameter is not checked"),
		sizeMaybe("swing_over_slide", func(l *L) **units.Length { return &l.SwingOverSlide }).says("largest diameter over the cross slide").without("the work's diameter over the slide is not checked"),
		group("chuck", func(l *L) **shop.Chuck { return &l.Chuck }, chuckFields).says("the chuck").without("holding and its speed limit are not checked"),
		collets().says("{er: 32}, a name, or a list of sizes").without("nothing is held in a collet"),
		group("cross_slide", func(l *L) **shop.Dial { return &l.CrossSlide }, crossFields).says("the cross slide's screw and dial").without("no dial settings for diameters"),
		compound().says("the compound slide").without("no marks are looked for: angles stay exact"),
		group("tool_post", func(l *L) **shop.ToolPost { return &l.ToolPost }, postFields).says("the tool post, a square block").without("fouling is not checked"),
		groups("tools", func(l *L) *[]shop.Tool { return &l.Tools }, nil, toolFields).says("the turning tools, the usual one first").without("trailing edges are not checked"),
		group("tailstock", func(l *L) **shop.Tailstock { return &l.Tailstock }, tailstockFields).says("the tailstock").without("its setover is not checked"),
		option("leadscrew", "pitch", "no", func(l *L) **units.Pitch { return &l.Leadscrew }, asPitch).says("3mm or 8tpi").without("no change gears are found"),
		option("stud_ratio", "whole number", "yes", func(l *L) **int64 { return &l.StudRatio }, asCount64(1, 16)).says("turns of the spindle to one of the stud").defaults("1"),
		banjo(),
		list("change_gears", "whole number", "yes", func(l *L) *[]int { return &l.ChangeGears }, asCount(8, 300)).says("teeth of every wheel owned, one entry a wheel").without("no change gears are found"),
		group("thread_dial", func(l *L) **shop.ThreadDial { return &l.ThreadDial }, threadDialFields).says("the threading dial").without("keep the half-nuts closed"),
		group("steady", func(l *L) **shop.Range { return &l.Steady }, rangeFields).says("diameters the steady takes").without("no steady is planned"),
		flagOf("readout", func(l *L) *bool { return &l.Readout }).says("positions are printed for a digital readout too"),
	}
}

func spindle[T any](get func(*T) **shop.Spindle) field[T] {
	return group("spindle", get, func() []field[shop.Spindle] {
		return []field[shop.Spindle]{
			{
				key: "speeds", kind: "list of speeds", bare: "rpm", doc: "the speeds it has", read: func(r *reader, n ast.Node, s *shop.Spindle) {
					s.Speeds = readList(r, n, "speeds", "speed", asRPM)
					slices.SortFunc(s.Speeds, func(a, b units.SpindleSpeed) int {
						if a.RPM() < b.RPM() {
							return -1
						}
						return 1
					})
					if items, ok := r.items(n); ok && len(items) == 0 {
						r.add(n, problem.Problem{Code: problem.Missing, At: problem.Pos{Key: "speeds"}, Want: "needs at least one speed"})
					}
				},
			},
			value("from", "speed", "rpm", func(s *shop.Spindle) *units.SpindleSpeed { return &s.From }, asRPM).says("lowest of a range without steps"),
			value("to", "speed", "rpm", func(s *shop.Spindle) *units.SpindleSpeed { return &s.To }, asRPM).says("highest of a range without steps"),
			rule(func(r *reader, n ast.Node, s *shop.Spindle, wrote map[string]bool) {
				p := problem.Problem{Code: problem.Contradiction, At: problem.Pos{Key: "spindle"}}
				switch {
				case wrote["speeds"] && (wrote["from"] || wrote["to"]):
					p.Want = "has speeds and a range: write one of them"
				case !wrote["speeds"] && s.To.RPM() <= s.From.RPM():
					p.Code, p.Want = problem.Missing, "needs speeds, or from and a higher to"
				default:
					return
				}
				r.add(n, p)
			}),
		}
	}).says("{speeds: [120, 200]} or {from: 50, to: 2500}").without("the ideal speed stands alone")
}

// checked adds a check that runs after the field was read.
func (f field[T]) checked(check func(*reader, ast.Node, *T)) field[T] {
	read := f.read
	f.read = func(r *reader, n ast.Node, t *T) {
		read(r, n, t)
		check(r, n, t)
	}
	return f
}

func chuckFields() []field[shop.Chuck] {
	type C = shop.Chuck
	return []field[C]{
		sizeOf("diameter", func(c *C) *units.Length { return &c.Diameter }).required().says("of its body"),
		value("jaws", "whole number", "yes", func(c *C) *int { return &c.Jaws }, asCount(2, 6)).required().says("how many it has, 2 to 6"),
		sizeMaybe("jaw_length", func(c *C) **units.Length { return &c.JawLength }).says("how far the jaws stand out of the body").without("fouling is not checked"),
		sizeMaybe("jaw_circle", func(c *C) **units.Length { return &c.JawCircle }).says("circle the jaws sweep as gripped").without("fouling is not checked"),
		option("max_rpm", "speed", "rpm", func(c *C) **units.SpindleSpeed { return &c.MaxRPM }, asRPM).says("the speed marked on it").without("its rating is not checked"),
	}
}

func collets() field[shop.Lathe] {
	fields := func() []field[int] {
		return []field[int]{
			value("er", "whole number", "yes", func(e *int) *int { return e }, asCount(8, 50)).required().says("the ER size: 32"),
		}
	}
	return field[shop.Lathe]{key: "collets", kind: "name, list of lengths or group", bare: fileUnits, sub: func() []Row { return rows(fields(), "") }, read: func(r *reader, n ast.Node, l *shop.Lathe) {
		switch n.(type) {
		case *ast.SequenceNode:
			l.Collets = readList(r, n, "collets", "length", asSize)
			r.warnComma(n)
		case *ast.MappingNode, *ast.MappingValueNode:
			var er int
			mapping(r, n, "collets", &er, fields())
			l.ColletName = fmt.Sprintf("ER%d", er)
		default:
			l.ColletName, _ = r.text(n, "collets", "a name such as ER32")
		}
	}}
}

func crossFields() []field[shop.Dial] { return dialFields(true) }

// dialFields are the keys of a slide's dial. lead is the slide's real travel in
// one turn, whatever the numbers on the collar count.
func dialFields(reads bool) []field[shop.Dial] {
	type D = shop.Dial
	list := []field[D]{
		sizeOf("lead", func(d *D) *units.Length { return &d.Lead }).required().says("the slide's real travel in one turn"),
		value("divisions", "whole number", "yes", func(d *D) *int { return &d.Divisions }, asCount(2, 1000)).required().says("marks round the dial"),
		value("unit", "word", "", func(d *D) *units.Unit { return &d.Unit }, asUnit).says("mm or in: what its numbers are").defaults("mm"),
	}
	if reads {
		list = append(list, field[D]{key: "reads", kind: "word", doc: "diameter or radius: what the numbers count", def: "radius", read: func(r *reader, n ast.Node, d *D) {
			if w, ok := scalar(r, n, "reads", "word", oneOf("diameter", "radius")); ok {
				d.OnDiameter = w == "diameter"
			}
		}})
	}
	return list
}

// compoundDoc is a compound with its screw's keys beside the others.
type compoundDoc struct {
	shop.Compound
	lead      *units.Length
	divisions *int
	unit      units.Unit
}

// compound reads the compound slide, whose screw's keys stand among the rest.
func compound() field[shop.Lathe] {
	return field[shop.Lathe]{key: "compound", kind: "group", sub: func() []Row { return rows(compoundFields(), "") }, read: func(r *reader, n ast.Node, l *shop.Lathe) {
		var d compoundDoc
		mapping(r, n, "compound", &d, compoundFields())
		if d.lead != nil && d.divisions != nil {
			d.Screw = &shop.Dial{Lead: *d.lead, Divisions: *d.divisions, Unit: d.unit}
		}
		l.Compound = &d.Compound
	}}
}

func compoundFields() []field[compoundDoc] {
	type C = compoundDoc
	return []field[C]{
		{key: "scale", kind: "group", needed: true, doc: "the protractor under it", sub: func() []Row { return rows(scaleFields(), "") }, read: func(r *reader, n ast.Node, c *C) {
			mapping(r, n, "scale", &c.Scale, scaleFields())
		}},
		sizeMaybe("travel", func(c *C) **units.Length { return &c.Travel }).says("the slide's travel").without("its length is not checked"),
		sizeMaybe("lead", func(c *C) **units.Length { return &c.lead }).says("the slide's travel in one turn").without("no dial settings along the slope"),
		option("divisions", "whole number", "yes", func(c *C) **int { return &c.divisions }, asCount(2, 1000)).says("marks round its dial").without("no dial settings along the slope"),
		value("unit", "word", "", func(c *C) *units.Unit { return &c.unit }, asUnit).says("mm or in: what its dial's numbers are").defaults("mm"),
		sizeMaybe("width", func(c *C) **units.Length { return &c.Width }).says("of the slide").without("fouling is not checked"),
		sizeMaybe("length", func(c *C) **units.Length { return &c.Length }).says("of the slide").without("fouling is not checked"),
		option("top_below_centre", "length", fileUnits, func(c *C) **units.Length { return &c.TopBelowCentre }, asLength).says("the slide's top under the spindle axis").without("fouling is not checked"),
		group("handle", func(c *C) **shop.Handle { return &c.Handle }, func() []field[shop.Handle] {
			return []field[shop.Handle]{
				lengthOf("beyond", func(h *shop.Handle) *units.Length { return &h.Beyond }).required().says("its centre beyond the slide's end"),
				sizeOf("radius", func(h *shop.Handle) *units.Length { return &h.Radius }).required().says("of the circle it sweeps"),
			}
		}).says("the circle the handle sweeps").without("the handle is not modelled"),
		rule(func(r *reader, n ast.Node, _ *C, wrote map[string]bool) {
			if wrote["lead"] != wrote["divisions"] {
				r.add(n, problem.Problem{Code: problem.Missing, At: problem.Pos{Key: "compound"}, Want: "lead and divisions belong together: write both or neither"})
			}
		}),
	}
}

func scaleFields() []field[shop.Scale] {
	type S = shop.Scale
	return []field[S]{
		value("zero", "word", "", func(s *S) *shop.Zero { return &s.Zero }, oneOf(shop.Along, shop.Across)).required().
			says("along: reads 0 with the slide along the spindle axis; across: with it square to the axis"),
		value("step", "angle", "degrees", func(s *S) *units.Angle { return &s.Step }, asStep).required().says("from mark to mark"),
		{key: "numbering", kind: "word", doc: "up: straight on; back-after-90: up to 90 and down again", def: "up", read: func(r *reader, n ast.Node, s *S) {
			if w, ok := scalar(r, n, "numbering", "word", oneOf("up", "back-after-90")); ok {
				s.BackAfter90 = w == "back-after-90"
			}
		}},
		option("limit", "angle", "degrees", func(s *S) **units.Angle { return &s.Limit }, asStep).says("the most it turns from zero, either way").without("the scale is taken to go all the way round"),
	}
}

func asStep(text string, _ *reader) (units.Angle, error) {
	a, err := units.ParseAngle(text)
	if err == nil && (a.Deg() <= 0 || a.Deg() > 180) {
		err = problem.New(problem.OutOfRange, "", text, "must be above 0 and at most 180 deg")
	}
	return a, err
}

func postFields() []field[shop.ToolPost] {
	type P = shop.ToolPost
	return []field[P]{
		sizeOf("size", func(p *P) *units.Length { return &p.Size }).required().says("side of the square post"),
		sizeOf("holder_width", func(p *P) *units.Length { return &p.HolderWidth }).required().says("of the tool's holder"),
		sizeOf("overhang", func(p *P) *units.Length { return &p.Overhang }).required().says("the tip beyond the post's front face"),
	}
}

func toolFields() []field[shop.Tool] {
	type T = shop.Tool
	return []field[T]{
		value("hand", "word", "", func(t *T) *string { return &t.Hand }, oneOf("right", "left")).required().says("right cuts toward the headstock, left toward the tailstock"),
		angleOf("trail", func(t *T) *units.Angle { return &t.Trail }).required().says("the trailing edge's angle from the work"),
	}
}

func tailstockFields() []field[shop.Tailstock] {
	type T = shop.Tailstock
	return []field[T]{
		{key: "setover", kind: "group", doc: "{toward: 9, away: 7}", absent: "offsets are not checked", sub: func() []Row { return rows(setoverFields(), "") }, read: func(r *reader, n ast.Node, t *T) {
			mapping(r, n, "setover", t, setoverFields())
		}},
		value("taper", "text", "", func(t *T) *string { return &t.Taper }, asText).says("of its barrel: MT2").without("drill shanks are not checked"),
		sizeMaybe("barrel", func(t *T) **units.Length { return &t.Barrel }).says("diameter of the barrel").without("fouling with the tailstock is not checked"),
		sizeMaybe("barrel_out", func(t *T) **units.Length { return &t.BarrelOut }).says("how far it stands out").without("fouling with the tailstock is not checked"),
		{key: "body", kind: "list of 2 lengths", bare: fileUnits, doc: "[width, how far it reaches below the axis]", absent: "fouling with the tailstock is not checked", read: func(r *reader, n ast.Node, t *T) {
			if w, below, ok := pair(r, n, "body", "[width, below]"); ok {
				t.BodyWidth, t.BodyBelow = &w, &below
			}
		}},
	}
}

func setoverFields() []field[shop.Tailstock] {
	type T = shop.Tailstock
	return []field[T]{
		option("toward", "length", fileUnits, func(t *T) **units.Length { return &t.Toward }, asLength).required().says("toward the operator"),
		option("away", "length", fileUnits, func(t *T) **units.Length { return &t.Away }, asLength).required().says("away from the operator"),
	}
}

func banjo() field[shop.Lathe] {
	fields := func() []field[shop.Lathe] {
		return []field[shop.Lathe]{
			option("clearance", "whole number", "yes", func(l *shop.Lathe) **int64 { return &l.BanjoClearance }, asCount64(0, 200)).required().
				says("teeth that must be left between a wheel and the next stud"),
		}
	}
	return field[shop.Lathe]{
		key: "banjo", kind: "group", doc: "what the change-gear arm allows", absent: "no train is left out for collision", sub: func() []Row { return rows(fields(), "") },
		read: func(r *reader, n ast.Node, l *shop.Lathe) { mapping(r, n, "banjo", l, fields()) },
	}
}

func threadDialFields() []field[shop.ThreadDial] {
	type D = shop.ThreadDial
	return []field[D]{
		list("gears", "whole number", "yes", func(d *D) *[]int { return &d.Gears }, asCount(4, 200)).required().says("teeth of the gears it can carry"),
		value("marks", "whole number", "yes", func(d *D) *int { return &d.Marks }, asCount(1, 64)).required().says("numbered marks round it"),
	}
}

func rangeFields() []field[shop.Range] {
	type R = shop.Range
	return []field[R]{
		sizeOf("from", func(x *R) *units.Length { return &x.From }).required().says("the smallest"),
		sizeOf("to", func(x *R) *units.Length { return &x.To }).required().says("the largest"),
		rule(func(r *reader, n ast.Node, x *R, _ map[string]bool) {
			if x.To.Cmp(x.From) <= 0 {
				r.add(n, problem.Problem{Code: problem.Contradiction, At: problem.Pos{Key: "to"}, Found: x.To.String(), Want: fmt.Sprintf("must be larger than from, %v", x.From)})
			}
		}),
	}
}

func millFields() []field[shop.Mill] {
	type M = shop.Mill
	return []field[M]{
		spindle(func(m *M) **shop.Spindle { return &m.Spindle }),
		option("motor", "power", "no", func(m *M) **units.Power { return &m.Motor }, asPower).says("the motor's power").without("power is not checked"),
		group("table", func(m *M) **shop.Dial { return &m.Table }, func() []field[shop.Dial] { return dialFields(false) }).says("the table's screws and dials").without("no dial settings for positions"),
		flagOf("readout", func(m *M) *bool { return &m.Readout }).says("positions are printed for a digital readout too"),
	}
}

func drillPressFields() []field[shop.DrillPress] {
	type D = shop.DrillPress
	return []field[D]{
		spindle(func(d *D) **shop.Spindle { return &d.Spindle }),
		option("motor", "power", "no", func(d *D) **units.Power { return &d.Motor }, asPower).says("the motor's power").without("power is not checked"),
	}
}

func grinderFields() []field[shop.BeltGrinder] {
	type G = shop.BeltGrinder
	return []field[G]{
		sizeOf("wheel", func(g *G) *units.Length { return &g.Wheel }).required().says("diameter of the drive wheel"),
		value("rpm", "speed", "rpm", func(g *G) *units.SpindleSpeed { return &g.RPM }, asRPM).required().says("its speed"),
	}
}

func dividingFields() []field[shop.DividingHead] {
	type D = shop.DividingHead
	return []field[D]{
		value("ratio", "whole number", "yes", func(d *D) *int { return &d.Ratio }, asCount(2, 360)).required().says("turns of the crank to one of the spindle"),
		{key: "plates", kind: "list of lists of whole numbers", bare: "yes", needed: true, doc: "the circles of each plate", read: func(r *reader, n ast.Node, d *D) {
			items, ok := r.items(n)
			isList := func(i ast.Node) bool { _, ok := i.(*ast.SequenceNode); return ok }
			if !ok || len(items) == 0 || !isList(items[0]) {
				r.add(n, problem.Problem{Code: problem.WrongType, At: problem.Pos{Key: "plates"}, Want: "must be a list of plates, each a list of circles: [[15, 16], [21, 23]]"})
				return
			}
			for _, i := range items {
				d.Plates = append(d.Plates, readList(r, i, "plates", "whole number", asCount(2, 1000)))
			}
		}},
	}
}

func rotaryFields() []field[shop.RotaryTable] {
	type R = shop.RotaryTable
	return []field[R]{
		value("ratio", "whole number", "yes", func(x *R) *int { return &x.Ratio }, asCount(2, 360)).required().says("turns of the handwheel to one of the table"),
	}
}

func vblockFields() []field[shop.VBlocks] {
	type V = shop.VBlocks
	return []field[V]{
		value("angle", "angle", "degrees", func(v *V) *units.Angle { return &v.Angle }, asVAngle).says("between the faces").defaults("90 deg"),
		option("apex", "length", fileUnits, func(v *V) **units.Length { return &v.Apex }, asLength).says("height of the sharp point the faces would meet in, above the base").without("heights are from the apex"),
		sizeMaybe("opening", func(v *V) **units.Length { return &v.Opening }).says("width of the V at the top").without("whether a bar seats is not checked"),
		option("relief", "length", fileUnits, func(v *V) **units.Length { return &v.Relief }, asLength).says("width of the slot at the bottom").without("whether a small bar drops into the slot is not checked"),
		flagOf("pair", func(v *V) *bool { return &v.Pair }).says("whether there are two alike"),
		rule(func(_ *reader, _ ast.Node, v *V, wrote map[string]bool) {
			if !wrote["angle"] {
				v.Angle = units.Degrees(90)
			}
		}),
	}
}

func asVAngle(text string, _ *reader) (units.Angle, error) {
	a, err := units.ParseAngle(text)
	if err == nil && (a.Deg() < 30 || a.Deg() > 150) {
		err = problem.New(problem.OutOfRange, "", text, "a V is 30 to 150 deg")
	}
	return a, err
}

func gaugeBlocks() field[shopDoc] {
	return field[shopDoc]{key: "gauge_blocks", kind: "name or list of lengths", bare: fileUnits, read: func(r *reader, n ast.Node, s *shopDoc) {
		s.GaugeBlocks = &shop.GaugeBlocks{}
		if _, isList := n.(*ast.SequenceNode); isList {
			s.GaugeBlocks.Pieces = readList(r, n, "gauge_blocks", "length", asSize)
			r.warnComma(n)
			return
		}
		s.GaugeBlocks.Set, _ = r.text(n, "gauge_blocks", "a set's name or a list of sizes")
	}}
}

// withUnit reads a size that must carry its unit.
func withUnit(text string, r *reader) (units.Length, error) {
	if strings.Trim(text, "0123456789.") == "" {
		return units.Length{}, problem.New(problem.MissingUnit, "", text, "a size here needs its unit: write "+text+r.bare.String())
	}
	return asSize(text, r)
}

// drillList reads the drawer: sets by name, gauges and single sizes. Sizes
// that come twice are kept once.
func drillList() field[shopDoc] {
	return field[shopDoc]{key: "drills", kind: "list of sets and drills", bare: "no", read: func(r *reader, n ast.Node, s *shopDoc) {
		owned := map[drills.Drill]bool{}
		for _, l := range readList(r, n, "drills", "set or drill", asDrills) {
			for _, d := range l {
				if key := (drills.Drill{Name: d.Name, Series: d.Series}); !owned[key] {
					owned[key] = true
					s.Drills = append(s.Drills, d)
				}
			}
		}
		slices.SortStableFunc(s.Drills, func(a, b drills.Drill) int { return a.Dia.Cmp(b.Dia) })
	}}
}

func asDrills(text string, _ *reader) ([]drills.Drill, error) {
	if slices.Contains(drills.Sets(), text) {
		return drills.Set(text)
	}
	d, err := drills.Find(text)
	if err == nil {
		return []drills.Drill{d}, nil
	}
	if near := problem.Nearest(text, drills.Sets()); near != "" {
		_, err = drills.Set(text)
	}
	return nil, err
}

func barFields() []field[shop.BoringBar] {
	type B = shop.BoringBar
	return []field[B]{
		sizeOf("diameter", func(b *B) *units.Length { return &b.Diameter }).required().says("of the bar"),
		sizeOf("reach", func(b *B) *units.Length { return &b.Reach }).required().says("how deep it reaches"),
	}
}

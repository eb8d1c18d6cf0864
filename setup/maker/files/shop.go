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
	s := &shop.Shop{From: name, Hash: hash(text)}
	r, doc, known := read(name, text, "shop", func(r *reader) []field {
		s.Units, s.Display = r.bare, r.bare
		return shopFields(s)
	})
	if known {
		found := written{}
		r.scalars(doc, "", found)
		r.unusual("shop", found)
		if s.Lathe != nil {
			ask(r, found, shopRemarks(), s.Lathe)
		}
		if s.Parting != nil {
			ask(r, found, partingRemarks(), s.Parting)
		}
	}
	err := r.done()
	return s, r.Warnings, err
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
		if e.node != nil {
			keys[e.key] = e
		}
	}
	format, hasFormat := keys["format"]
	if hasFormat {
		n, err := count(1, 1<<20).parse(format.node.GetToken().Value, r)
		if err == nil && n > formatRead {
			r.no(format.node, problem.OutOfRange, "format", n, "written for format ", n, "; this reads up to ", formatRead)
			return false
		}
	}
	if _, ok := keys[kind]; !ok {
		for _, other := range []string{"shop", "part", "project"} {
			if e, ok := keys[other]; ok {
				r.no(e.at, problem.WrongType, "", nil, "this is a ", other, " file, and a ", kind, " file is wanted")
				return false
			}
		}
	}
	if hasFormat && entries[0].key != "format" {
		r.no(entries[0].at, problem.Missing, "format", nil, "the first line is format: 1")
		r.harmless++
	}
	if u, ok := keys["units"]; ok {
		if u, err := units.ParseUnit(u.node.GetToken().Value); err == nil {
			r.bare = u
		}
	}
	return true
}

// formatKey is the first key of every file, which header has looked at.
func formatKey() field {
	return kind[int]{"whole number", "yes", func(text string, _ *reader) (int, error) {
		if text != "1" {
			return 0, problem.New(problem.OutOfRange, "", text, "there is no such format: write 1")
		}
		return formatRead, nil
	}}.into("format", new(int), "the file format; 1 is the newest").needed()
}

// unitsKey is the unit of bare numbers, which header has read.
func unitsKey() field {
	return unit.into("units", new(units.Unit), "mm or in: what bare numbers in this file are")
}

// ShopKeys returns the table of keys of a shop file.
func ShopKeys() []Row { return rows(shopFields(&shop.Shop{})) }

func shopFields(s *shop.Shop) []field {
	var blade *units.Length
	return []field{
		formatKey(),
		text.into("shop", &s.Name, "the shop's name, printed on every sheet").needed(),
		unitsKey().needed(),
		unit.into("display", &s.Display, "mm or in: how lengths are shown when the command does not say").taken("units"),
		group("lathe", &s.Lathe, func(l *shop.Lathe) []field { return latheFields(l, &s.Parting) }, "the lathe").
			without("turning is not planned; angles stay exact"),
		group("mill", &s.Mill, millFields, "the mill").without("milling is not planned"),
		group("drill_press", &s.DrillPress, pressFields, "the drill press").
			without("drilling falls to the mill or the lathe"),
		group("belt_grinder", &s.BeltGrinder, grinderFields, "the belt grinder").without("facets are milled"),
		group("dividing_head", &s.DividingHead, dividingFields, "a worm head with hole plates").
			without("sides are indexed in a collet block, by the chuck's jaws or by hand"),
		group("rotary_table", &s.RotaryTable, func(t *shop.RotaryTable) []field {
			return []field{count(2, 360).into("ratio", &t.Ratio, "turns of the handwheel to one of the table").needed()}
		}, "a worm table").without("no rotary settings are given"),
		group("v_blocks", &s.VBlocks, vblockFields, "the V-blocks").
			without("cross holes are drilled in a vice, and heights are not given"),
		size.maybe("sine_bar", &s.SineBar, "centre distance of the rollers").without("no sine bar settings are given"),
		gaugeBlocks(s).without("heights are given without a stack"),
		drawer(s).without("drills are taken from every size made"),
		kind[units.Length]{"length", "no", withUnit}.list("reamers", &s.Reamers, "sizes, with their unit").
			without("no hole is reamed"),
		text.list("taps", &s.Taps, "thread designations").
			without("inside threads are cut with a single point or reported as missing kit"),
		text.list("dies", &s.Dies, "thread designations").without("outside threads are cut with a single point"),
		size.list("centre_drills", &s.CentreDrills, "pilot diameters").without("the centre drill's size is not checked"),
		size.field("parting_blade", "width of the blade: the same as blade under lathe, parting", func(l units.Length) {
			blade = &l
		}).without("it stands under lathe, or there is none"),
		rule(func(r *reader, n ast.Node, _ map[string]bool) {
			switch {
			case blade != nil && s.Parting != nil:
				r.no(n, problem.Contradiction, "parting_blade", nil, "and parting under lathe: write the blade there alone")
			case blade != nil:
				s.Parting = &shop.Parting{Blade: *blade}
			}
		}),
		groups("boring_bars", &s.BoringBars, func(b *shop.BoringBar) []field {
			return []field{
				size.into("diameter", &b.Diameter, "of the bar").needed(),
				size.into("reach", &b.Reach, "how deep it reaches").needed(),
			}
		}, "each bar's diameter and reach").without("boring reach is not checked"),
		count(3, 24).list("collet_blocks", &s.ColletBlocks, "sides of each block: 4, 6").
			without("sides are not indexed in a block"),
		groups("stock", &s.Stock, rackFields, "bars on hand: one of round, hex, square, tube, and the material"),
	}
}

// latheFields are the keys of the lathe.
//
// Long: a row a key.
func latheFields(l *shop.Lathe, parting **shop.Parting) []field {
	return []field{
		spindle(&l.Spindle),
		motor(&l.Motor),
		size.maybe("spindle_bore", &l.SpindleBore, "the largest diameter that passes through the spindle").
			without("what reaches through the chuck is held to 0.36 of the chuck's diameter"),
		size.maybe("between_centres", &l.BetweenCentres, "longest work between the centres").
			without("the work's length is not checked"),
		size.maybe("swing_over_bed", &l.SwingOverBed, "largest diameter over the bed").
			without("the work's diameter is not checked"),
		size.maybe("swing_over_slide", &l.SwingOverSlide, "largest diameter over the cross slide").
			without("the work's diameter over the slide is not checked"),
		group("chuck", &l.Chuck, chuckFields, "the chuck").without("holding and its speed limit are not checked"),
		group("four_jaw", &l.FourJaw, fourJawFields, "a chuck of four independent jaws").
			without("nothing is held in a four-jaw"),
		flag("soft_jaws", &l.SoftJaws, "jaws that are bored to fit the work"),
		size.list("mandrels", &l.Mandrels, "diameters of the mandrels").without("arbors are turned for the job"),
		collets(l).without("nothing is held in a collet"),
		group("cross_slide", &l.CrossSlide, func(d *shop.Dial) []field {
			return append(dialFields(d), whether("reads", &d.OnDiameter, "diameter",
				"diameter or radius: what the numbers count", "diameter", "radius").defaults("radius"))
		}, "the cross slide's screw and dial").without("no dial settings for diameters"),
		group("carriage", &l.Carriage, dialFields, "the dial of the carriage's handwheel").
			without("lengths are set by the compound or a stop"),
		group("compound", &l.Compound, compoundFields, "the compound slide").
			without("no marks are looked for: angles stay exact"),
		group("tool_post", &l.ToolPost, func(p *shop.ToolPost) []field {
			return []field{
				size.into("size", &p.Size, "side of the square post").needed(),
				size.into("holder_width", &p.HolderWidth, "of the tool's holder").needed(),
				size.into("overhang", &p.Overhang, "the tip beyond the post's front face").needed(),
			}
		}, "the tool post, a square block").without("fouling is not checked"),
		groups("tools", &l.Tools, func(t *shop.Tool) []field {
			return []field{
				oneOf("right", "left").into("hand", &t.Hand,
					"right cuts toward the headstock, left toward the tailstock").needed(),
				angle.into("trail", &t.Trail, "the trailing edge's angle from the work").needed(),
			}
		}, "the turning tools, the usual one first").without("trailing edges are not checked"),
		group("tailstock", &l.Tailstock, tailstockFields, "the tailstock").without("its setover is not checked"),
		size.maybe("centre_nose", &l.CentreNose, "the widest mouth of a bore that the centre's cone holds").
			without("a bore's mouth is not a centre"),
		group("parting", parting, partingFields, "what bars are parted off with").
			without("parting off is not planned: the saw and a face cut are"),
		pitch.maybe("leadscrew", &l.Leadscrew, "3mm or 8tpi").without("no change gears are found"),
		whole[int64](1, 16).maybe("stud_ratio", &l.StudRatio, "turns of the spindle to one of the stud").taken("1"),
		within("banjo", []field{
			whole[int64](0, 200).maybe("clearance", &l.BanjoClearance,
				"teeth that must be left between a wheel and the next stud").needed(),
		}, "what the change-gear arm allows").without("no train is left out for collision"),
		count(8, 300).list("change_gears", &l.ChangeGears, "teeth of every wheel owned, one entry a wheel").
			without("no change gears are found"),
		group("thread_dial", &l.ThreadDial, func(d *shop.ThreadDial) []field {
			return []field{
				count(4, 200).list("gears", &d.Gears, "teeth of the gears it can carry").needed(),
				count(1, 64).into("marks", &d.Marks, "numbered marks round it").needed(),
			}
		}, "the threading dial").without("keep the half-nuts closed"),
		group("steady", &l.Steady, rangeFields, "diameters the steady takes").without("no steady is planned"),
		powerFeed(&l.PowerFeed),
		readout(&l.Readout),
	}
}

func motor(dst **units.Power) field {
	return power.maybe("motor", dst, "the motor's power").without("power is not checked")
}

func readout(dst *bool) field {
	return flag("readout", dst, "positions are printed for a digital readout too")
}

func spindle(dst **shop.Spindle) field {
	return group("spindle", dst, func(s *shop.Spindle) []field {
		return []field{
			rpm.list("speeds", &s.Speeds, "the speeds it has").then(func(r *reader, n ast.Node) {
				if !inOrder(s.Speeds) {
					r.remark(n, "unusual", "the speeds neither rise nor fall from one to the next: is one mistyped?")
				}
				slices.SortFunc(s.Speeds, func(a, b units.SpindleSpeed) int {
					if a.RPM() < b.RPM() {
						return -1
					}
					return 1
				})
				if items, ok := r.items(n); ok && len(items) == 0 {
					r.no(n, problem.Missing, "speeds", nil, "needs at least one speed")
				}
			}),
			rpm.into("from", &s.From, "lowest of a range without steps"),
			rpm.into("to", &s.To, "highest of a range without steps"),
			rule(func(r *reader, n ast.Node, wrote map[string]bool) {
				switch {
				case wrote["speeds"] && (wrote["from"] || wrote["to"]):
					r.no(n, problem.Contradiction, "spindle", nil, "has speeds and a range: write one of them")
				case !wrote["speeds"] && s.To.RPM() <= s.From.RPM():
					r.no(n, problem.Missing, "spindle", nil, "needs speeds, or from and a higher to")
				}
			}),
		}
	}, "{speeds: [120, 200]} or {from: 50, to: 2500}").without("the ideal speed stands alone")
}

func powerFeed(dst *bool) field {
	return flag("power_feed", dst, "it feeds by itself, without a hand on the wheel")
}

func partingFields(p *shop.Parting) []field {
	return []field{
		size.into("blade", &p.Blade, "width of the blade").needed(),
		size.maybe("most", &p.Most, "the largest diameter that is parted off").without("25 mm, and larger is sawn"),
		size.maybe("reach", &p.Reach, "how deep the blade reaches").without("its reach is not checked"),
	}
}

func fourJawFields(c *shop.Chuck) []field {
	c.Jaws = 4
	return bodyFields(c)
}

func chuckFields(c *shop.Chuck) []field {
	return bodyFields(c, count(2, 6).into("jaws", &c.Jaws, "how many it has, 2 to 6").needed())
}

// bodyFields are the keys that every chuck has, with more behind its diameter.
func bodyFields(c *shop.Chuck, more ...field) []field {
	var takes shop.Range
	list := append([]field{size.into("diameter", &c.Diameter, "of its body").needed()}, more...)
	return append(list,
		size.maybe("jaw_length", &c.JawLength, "how far the jaws stand out of the body").without("fouling is not checked"),
		size.maybe("jaw_circle", &c.JawCircle, "circle the jaws sweep as gripped").without("fouling is not checked"),
		rpm.maybe("max_rpm", &c.MaxRPM, "the speed marked on it").without("its rating is not checked"),
		tuple("range", "[smallest, largest]", size, "[smallest, largest] diameter it grips", &takes.From, &takes.To).
			without("what it grips is not checked").then(func(r *reader, n ast.Node) {
			if c.Range = &takes; !takes.From.Less(takes.To) && takes.To.Sign() > 0 {
				r.no(n, problem.Contradiction, "range", takes.To, "must be larger than the smallest, ", takes.From)
			}
		}),
		size.maybe("through", &c.Through, "diameter of the hole through it").
			without("what reaches through it is held to 0.36 of its diameter"),
	)
}

func collets(l *shop.Lathe) field {
	er := 0
	group := within("collets", []field{count(8, 50).into("er", &er, "the ER size: 32").needed()}, "").
		then(func(*reader, ast.Node) { l.ColletName = fmt.Sprintf("ER%d", er) })
	f := sizes("collets", "a name such as ER32", &l.Collets, &l.ColletName, "{er: 32}, a name, or a list of sizes")
	f.Kind, f.sub = "name, list of lengths or group", group.sub
	other := f.read
	f.read = func(r *reader, n ast.Node) {
		if _, ok := r.entries(n); ok {
			group.read(r, n)
			return
		}
		other(r, n)
	}
	return f
}

// dialFields are the keys of a slide's dial. lead is the slide's real travel in
// one turn, whatever the numbers on the collar count.
func dialFields(d *shop.Dial) []field {
	return []field{
		size.into("lead", &d.Lead, "the slide's real travel in one turn").needed(),
		count(2, 1000).into("divisions", &d.Divisions, "marks round the dial").needed(),
		unit.into("unit", &d.Unit, "mm or in: what its numbers are").defaults("mm"),
	}
}

// compoundFields are the keys of the compound slide, its screw's among them.
func compoundFields(c *shop.Compound) []field {
	var screw shop.Dial
	return []field{
		within("scale", scaleFields(&c.Scale), "the protractor under it").needed(),
		size.maybe("travel", &c.Travel, "the slide's travel").without("its length is not checked"),
		size.into("lead", &screw.Lead, "the slide's travel in one turn").without("no dial settings along the slope"),
		count(2, 1000).into("divisions", &screw.Divisions, "marks round its dial").
			without("no dial settings along the slope"),
		unit.into("unit", &screw.Unit, "mm or in: what its dial's numbers are").defaults("mm"),
		size.maybe("width", &c.Width, "of the slide").without("fouling is not checked"),
		size.maybe("length", &c.Length, "of the slide").without("fouling is not checked"),
		length.maybe("top_below_centre", &c.TopBelowCentre, "the slide's top under the spindle axis").
			without("fouling is not checked"),
		group("handle", &c.Handle, func(h *shop.Handle) []field {
			return []field{
				length.into("beyond", &h.Beyond, "its centre beyond the slide's end").needed(),
				size.into("radius", &h.Radius, "of the circle it sweeps").needed(),
			}
		}, "the circle the handle sweeps").without("the handle is not modelled"),
		rule(func(r *reader, n ast.Node, wrote map[string]bool) {
			switch {
			case wrote["lead"] != wrote["divisions"]:
				r.no(n, problem.Missing, "compound", nil, "lead and divisions belong together: write both or neither")
			case wrote["lead"]:
				c.Screw = &screw
			}
		}),
	}
}

func scaleFields(s *shop.Scale) []field {
	step := limited(func(deg float64) bool { return deg > 0 && deg <= 180 }, "must be above 0 and at most 180 deg")
	return []field{
		oneOf(shop.Along, shop.Across).into("zero", &s.Zero,
			"along: reads 0 with the slide along the spindle axis; across: with it square to the axis").needed(),
		step.into("step", &s.Step, "from mark to mark").needed(),
		whether("numbering", &s.BackAfter90, "back-after-90",
			"up: straight on; back-after-90: up to 90 and down again", "up", "back-after-90").defaults("up"),
		step.maybe("limit", &s.Limit,
			"where the scale's marks end, either way from zero, not how far the slide turns: past them by an indicator").
			without("the scale is taken to go all the way round"),
	}
}

func tailstockFields(t *shop.Tailstock) []field {
	const fouls = "fouling with the tailstock is not checked"
	var width, below units.Length
	return []field{
		within("setover", []field{
			length.maybe("toward", &t.Toward, "toward the operator").needed(),
			length.maybe("away", &t.Away, "away from the operator").needed(),
		}, "{toward: 9, away: 7}").without("offsets are not checked"),
		text.into("taper", &t.Taper, "of its barrel: MT2").without("drill shanks are not checked"),
		size.maybe("barrel", &t.Barrel, "diameter of the barrel").without(fouls),
		size.maybe("barrel_out", &t.BarrelOut, "how far it stands out").without(fouls),
		tuple("body", "[width, below]", length, "[width, how far it reaches below the axis]", &width, &below).
			without(fouls).then(func(*reader, ast.Node) { t.BodyWidth, t.BodyBelow = &width, &below }),
	}
}

func rangeFields(x *shop.Range) []field {
	return []field{
		size.into("from", &x.From, "the smallest").needed(),
		size.into("to", &x.To, "the largest").needed(),
		rule(func(r *reader, n ast.Node, _ map[string]bool) {
			if !x.From.Less(x.To) {
				r.no(n, problem.Contradiction, "to", x.To, "must be larger than from, ", x.From)
			}
		}),
	}
}

func millFields(m *shop.Mill) []field {
	return []field{
		spindle(&m.Spindle),
		motor(&m.Motor),
		group("table", &m.Table, dialFields, "the table's screws and dials").without("no dial settings for positions"),
		powerFeed(&m.PowerFeed),
		readout(&m.Readout),
	}
}

func pressFields(d *shop.DrillPress) []field {
	return []field{spindle(&d.Spindle), motor(&d.Motor), powerFeed(&d.PowerFeed)}
}

func grinderFields(g *shop.BeltGrinder) []field {
	return []field{
		size.into("wheel", &g.Wheel, "diameter of the drive wheel").needed(),
		rpm.into("rpm", &g.RPM, "its speed").needed(),
		size.maybe("width", &g.Width, "width of the belt").without("a usual one is taken, 50 mm"),
	}
}

func dividingFields(d *shop.DividingHead) []field {
	plates := func(r *reader, n ast.Node) {
		items, ok := r.items(n)
		isList := func(i ast.Node) bool { _, ok := i.(*ast.SequenceNode); return ok }
		if !ok || len(items) == 0 || !isList(items[0]) {
			r.no(n, problem.WrongType, "plates", nil,
				"must be a list of plates, each a list of circles: [[15, 16], [21, 23]]")
			return
		}
		for _, i := range items {
			d.Plates = append(d.Plates, count(2, 1000).all(r, i, "plates"))
		}
	}
	return []field{
		count(2, 360).into("ratio", &d.Ratio, "turns of the crank to one of the spindle").needed(),
		{read: plates, Row: Row{
			Key: "plates", Kind: "list of lists of whole numbers", Bare: "yes", Doc: "the circles of each plate", Required: true,
		}},
	}
}

func vblockFields(v *shop.VBlocks) []field {
	between := limited(func(deg float64) bool { return deg >= 30 && deg <= 150 }, "a V is 30 to 150 deg")
	return []field{
		between.into("angle", &v.Angle, "between the faces").defaults("90 deg"),
		length.maybe("apex", &v.Apex, "height of the sharp point the faces would meet in, above the base").
			without("heights are from the apex"),
		size.maybe("opening", &v.Opening, "width of the V at the top").without("whether a bar seats is not checked"),
		length.maybe("relief", &v.Relief, "width of the slot at the bottom").
			without("whether a small bar drops into the slot is not checked"),
		flag("pair", &v.Pair, "whether there are two alike"),
	}
}

func gaugeBlocks(s *shop.Shop) field {
	var g shop.GaugeBlocks
	f := sizes("gauge_blocks", "a set's name or a list of sizes", &g.Pieces, &g.Set, "a set by name, or its pieces")
	f.Kind = "name or list of lengths"
	return f.then(func(*reader, ast.Node) { s.GaugeBlocks = &g })
}

// withUnit reads a size that must carry its unit.
func withUnit(text string, r *reader) (units.Length, error) {
	if strings.Trim(text, "0123456789.") == "" {
		return units.Length{}, problem.New(problem.MissingUnit, "", text, "a size here needs its unit: write ", text, r.bare)
	}
	return asSize(text, r)
}

// drawer reads the drills: sets by name, gauges and single sizes. Sizes that
// come twice are kept once.
func drawer(s *shop.Shop) field {
	var given [][]drills.Drill
	f := kind[[]drills.Drill]{"set or drill", "no", bare(asDrills)}.list("drills", &given,
		"named sets ("+strings.Join(drills.Sets(), ", ")+") and single sizes; a size carries its unit")
	f.Kind = "list of sets and drills"
	return f.then(func(*reader, ast.Node) {
		owned := map[drills.Drill]bool{}
		for _, d := range slices.Concat(given...) {
			if key := (drills.Drill{Name: d.Name, Series: d.Series}); !owned[key] {
				owned[key] = true
				s.Drills = append(s.Drills, d)
			}
		}
		slices.SortStableFunc(s.Drills, func(a, b drills.Drill) int { return a.Dia.Cmp(b.Dia) })
	})
}

func asDrills(text string) ([]drills.Drill, error) {
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

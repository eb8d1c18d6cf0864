package plan

import (
	"encoding/json"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"

	"setover/setup/base/units"
	"setover/setup/maker/files"
	"setover/setup/maker/shop"
	"setover/setup/plan/judge"
)

// mended is a part that is refused in the demo's shop, some of its file changed, what is
// told to mend it, and that written into the part's file, or else into the shop's.
type mended struct {
	say  string
	part string
	shop []string // from and to, each after the other
	do   [2]string
}

const (
	tailstocks = "  tailstock: {setover: {toward: 9, away: 7}, taper: MT2, barrel: 30, barrel_out: 40, body: [70, 60]}\n"
	steadies   = "  steady: {from: 5, to: 50}\n"
	mills      = "mill:\n  spindle: {speeds: [180, 320, 560, 1000, 1750]}\n  motor: 600W\n" +
		"  table: {lead: 2.5, divisions: 125, unit: mm}\n"
	presses = "drill_press: {spindle: {speeds: [500, 850, 1400, 2200]}, motor: 375W}\n"
	heads   = "dividing_head: {ratio: 40, plates: [[15, 16, 17, 18, 19, 20], [21, 23, 27, 29, 31, 33], " +
		"[37, 39, 41, 43, 47, 49]]}\n"
	tables = "rotary_table: {ratio: 90}\n"
	lathes = "lathe:\n" // all that is under it
	blades = "parting_blade: 2\n"
	chucks = "  chuck: {diameter: 100, jaws: 3, jaw_length: 28, jaw_circle: 110, max_rpm: 2000}\n"
)

func cases() []mended {
	wide := "  profile: [[0, 80], [40, 80]]\n  facets: [{sides: 6, from: 0, to: 40, across: flats}]\n"
	thick := "jaw_circle: 110, range: [12, 90]"
	thinStem := "  profile: [[0, 8], [20, 8], [20, 14], [24, 14]]\n" +
		"  bores: [{from: left, dia: 3, depth: 10}, {from: right, dia: 3, depth: 10}]\n"
	tight := "  profile: [[0, 30], [40, 30]]\n  bores: [{from: left, dia: 20, depth: 25, tol: 0.004}]\n"
	long := "  profile: [[0, 30], [80, 30]]\n  bores: [{from: left, dia: 11.3, depth: 70, tol: 0.06}]\n"
	slender := "  profile: [[0, 1.6], [20, 1.6], [20, 3], [22, 3]]\n"
	morse := "  profile: [[0, 17.78], [40, 15.782], [40, 12], [80, 12]]\n  limits: [{from: 0, to: 40, gauge: MT2}]\n"
	leans := "  profile: [[0, 14.583], [64, 17.78], [64, 24], [72, 24], [72, 9], [132, 9]]\n" +
		"  bores: [{from: left, dia: 8.5, depth: 28}]\n  limits: [{from: 0, to: 64, gauge: MT2}]\n"
	thin := "  min_wall: 2\n  profile: [[0, 20], [40, 20]]\n  bores: [{from: left, dia: 17, depth: 20}]\n"
	collar := "  profile: [[0, 38], [6, 38], [6, 30], [12, 30]]\n" +
		"  bores: [{from: left, dia: 10, depth: 4}, {from: right, dia: 10, depth: 4}]\n"
	spool := "  profile: [[0, 60], [4, 60], [4, 10], [12, 10], [12, 60], [16, 60]]\n"
	stud := "  profile: [[0, 12], [12, 12], [12, 20], [40, 20]]\n  threads: [{from: left, spec: M12, length: 12}]\n"
	standoff := "  profile: [[0, 20], [16, 20], [16, 24], [23, 24], [23, 20], [39, 20]]\n" +
		"  facets: [{sides: 6, from: 16, to: 23, across: flats}]\n" +
		"  threads: [{from: left, spec: M20x1.5, length: 13}, {from: right, spec: M20x1.5, length: 13}]\n"
	hole := "  profile: [[0, 20], [60, 20]]\n  holes: [{at: 20, dia: 4}]\n"
	tube := "  stock: 20\n  min_wall: 2\n  profile: [[0, 18], [20, 18], [20, 10], [40, 10]]\n" +
		"  bores: [{from: left, dia: 8, depth: 30}]\n"
	shallow := "  profile: [[0, 16], [60, 16]]\n  holes: [{at: 20, dia: 6, fit: H7, depth: 11}]\n"
	reamed := "block:\n  size: [60, 30, 14]\n  holes: [{at: [15, 15], dia: 8, fit: H7, depth: 11}]\n"
	ends := "  profile: [[0, 8], [20, 8], [20, 12], [220, 12], [220, 8], [240, 8]]\n" +
		"  limits: [{at: 10, fit: h6}, {at: 230, fit: h6}]\n"
	seats := "  profile: [[0, 32], [40, 32]]\n  bores: [{from: left, dia: 22, depth: 8, fit: H7}, " +
		"{from: right, dia: 22, depth: 8, fit: H7}, {from: left, dia: 14, through: true}]\n"
	return []mended{
		{
			"a bar of 23.5 mm (stock)",
			"  stock: 20\n  profile: [[0, 20], [30, 20]]\n  facets: [{sides: 6, from: 0, to: 30, across: flats}]\n", nil,
			[2]string{"stock: 20", "stock: 23.5"},
		},
		{
			"the smallest round bar that serves (stock left out)", "  stock: 105\n  profile: [[0, 90], [30, 90]]\n", nil,
			[2]string{"  stock: 105\n", ""},
		},
		{
			"a hex bar of 80 mm across flats, whose own flats they are (stock)", wide,
			[]string{"jaw_circle: 110", thick},
			[2]string{"  profile", "  stock: {hex: 80}\n  profile"},
		},
		{
			"a collet of 8 mm (lathe: collets)", thinStem,
			[]string{"collets: ER32", "collets: [4]", "jaw_circle: 110", thick},
			[2]string{"[4]", "[4, 8]"},
		},
		{
			"a set of ER16 collets (lathe: collets)", thinStem,
			[]string{"  collets: ER32\n", "", "jaw_circle: 110", thick},
			[2]string{"  motor: 550W", "  collets: ER16\n  motor: 550W"},
		},
		{
			"a collet of 20 mm (lathe: collets)", "  stock: 22\n  profile: [[0, 20], [30, 20]]\n" +
				"  bores: [{from: left, dia: 10, depth: 10}, {from: right, dia: 10, depth: 10}]\n",
			[]string{chucks, "", "collets: ER32", "collets: [22]"},
			[2]string{"[22]", "[22, 20]"},
		},
		{
			"the centre holes left in the ends (centres)", "  centres: remove\n  profile: [[0, 20], [360, 20]]\n", nil,
			[2]string{"  centres: remove\n", ""},
		},
		{
			"crossing: ok at hole 1, if that is meant",
			"  profile: [[0, 20], [60, 20]]\n  holes: [{at: 20, dia: 5}, {at: 22, dia: 5, roll: 90}]\n", nil,
			[2]string{"at: 20, dia: 5", "at: 20, dia: 5, crossing: ok"},
		},
		{
			say: "another bar, begun again", part: "  stock: 34\n  profile: [[0, 20], [20, 20], [20, 32], [50, 32]]\n",
		},
		{
			"through_thread: ok at hole 1, if that is meant", "  profile: [[0, 20], [20, 20], [20, 12], [40, 12]]\n" +
				"  threads: [{from: right, spec: M12, length: 16}]\n  holes: [{at: 36, dia: 3}]\n", nil,
			[2]string{"dia: 3", "dia: 3, through_thread: ok"},
		},
		{
			"plus or minus 0.05 mm in place of 0.004 mm for the bore of 20 mm (tol): no longer that tolerance", tight, nil,
			[2]string{"tol: 0.004", "tol: 0.05"},
		},
		{"a reamer of 20 mm (reamers)", tight, nil, [2]string{"[6mm, 8mm]", "[6mm, 8mm, 20mm]"}},
		{
			"plus or minus 0.14 mm for the diameters from z 0 mm to 20 mm (limits)", slender, nil,
			[2]string{slender, slender + "  limits: [{at: 10, tol: 0.14}]\n"},
		},
		{
			"the coarse class for what has no limits of its own (general: coarse)", slender, nil,
			[2]string{"material", "general: coarse\nmaterial"},
		},
		{
			"a half angle within 1' over z 0 mm to 40 mm (limits)", morse,
			[]string{"gauge_blocks: metric-47\n", "", tailstocks, ""},
			[2]string{"gauge: MT2", "angle: 1'"},
		},
		{"a half angle within 1' over z 0 mm to 64 mm (limits)", leans, nil, [2]string{"gauge: MT2", "angle: 1'"}},
		{
			"a set of gauge blocks (gauge_blocks)", morse,
			[]string{"gauge_blocks: metric-47\n", "", tailstocks, ""},
			[2]string{blades, blades + "gauge_blocks: metric-47\n"},
		},
		{
			"a sine bar of 100 mm (sine_bar)", morse,
			[]string{"sine_bar: 100\n", "", tailstocks, ""},
			[2]string{blades, blades + "sine_bar: 100\n"},
		},
		{"hole 1 right through", shallow, nil, [2]string{", depth: 11}", "}"}},
		{"hole 1 9 mm deep in place of 11 mm", shallow, nil, [2]string{"depth: 11", "depth: 9"}},
		{
			"miss_bore left out at hole 1, if it may open into the bore",
			"  profile: [[0, 30], [40, 30]]\n  bores: [{from: left, dia: 12, through: true}]\n" +
				"  holes: [{at: 20, dia: 4, miss_bore: true}]\n", nil,
			[2]string{", miss_bore: true", ""},
		},
		{
			"plus or minus 0.05 mm in place of H7 for the bore of 22 mm from the left (tol): no longer that fit and " +
				"plus or minus 0.05 mm in place of H7 for the bore of 22 mm from the right (tol): no longer that fit",
			seats, nil,
			[2]string{seats, strings.ReplaceAll(seats, "fit: H7", "tol: 0.05")},
		},
		{"hole 1 right through", reamed, nil, [2]string{", depth: 11}", "}"}},
		{"hole 1 8 mm deep in place of 11 mm", reamed, nil, [2]string{"depth: 11", "depth: 8"}},
		{
			"a reamer of 10 mm (reamers) and a reamer of 5 mm (reamers)",
			"block:\n  size: [60, 30, 14]\n  holes: [{at: [15, 15], dia: 10, fit: H7}, {at: [40, 15], dia: 5, fit: H7}]\n", nil,
			[2]string{"[6mm, 8mm]", "[6mm, 8mm, 10mm, 5mm]"},
		},
		{
			"a reamer of 10 mm (reamers)", "block:\n  size: [60, 30, 14]\n  holes: [{at: [15, 15], dia: 10, fit: H7}]\n", nil,
			[2]string{"[6mm, 8mm]", "[6mm, 8mm, 10mm]"},
		},
		{
			"plus or minus 0.02 mm in place of h6 for the diameters from z 0 mm to 20 mm (limits): no longer that fit and " +
				"plus or minus 0.02 mm in place of h6 for the diameters from z 220 mm to 240 mm (limits): no longer that fit",
			ends, nil,
			[2]string{"fit: h6}, {at: 230, fit: h6}", "tol: 0.02}, {at: 230, tol: 0.02}"},
		},
		{"a least wall of 1.5 mm (min_wall)", thin, nil, [2]string{"min_wall: 2", "min_wall: 1.5"}},
		{"a bore of 16 mm in place of 17 mm", thin, nil, [2]string{"dia: 17", "dia: 16"}},
		{
			"a drill of 6.2 mm (drills)", "  profile: [[0, 20], [60, 20]]\n  holes: [{at: 20, dia: 6.25, tol: 0.13}]\n",
			[]string{"[metric-0.5, number, letter, fraction-64, 6.8mm, 3.2mm]", "[metric-0.5]"},
			[2]string{"[metric-0.5]", "[metric-0.5, 6.2mm]"},
		},
		{
			"a boring bar of 8.5 mm that reaches 70 mm (boring_bars)", long, nil,
			[2]string{"reach: 50}", "reach: 50}, {diameter: 8.5, reach: 70}"},
		},
		{
			"a tap M5 (taps)", "  profile: [[0, 20], [30, 20]]\n  bores: [{from: left, dia: 4.2, depth: 18}]\n" +
				"  threads: [{from: left, spec: M5, depth: 12, inside: true}]\n",
			[]string{"taps: [M3, M4, M5,", "taps: [M3, M4,"},
			[2]string{"taps: [M3, M4,", "taps: [M3, M4, M5,"},
		},
		{
			"a die M8 (dies)", "  profile: [[0, 8], [20, 8], [20, 14], [40, 14]]\n" +
				"  threads: [{from: left, spec: M8, length: 12}]\n",
			[]string{"dies: [M3, M4, M5, M6, M8]", "dies: [M3, M4, M5, M6]", "  leadscrew: 3mm\n", ""},
			[2]string{"dies: [M3, M4, M5, M6]", "dies: [M3, M4, M5, M6, M8]"},
		},
		{
			"a right-hand tool whose edge trails by 8 deg (lathe: tools)", "  profile: [[0, 20], [30, 20]]\n",
			[]string{"{hand: right, trail: 8deg}, ", ""},
			[2]string{"{hand: left, trail: 8deg}", "{hand: left, trail: 8deg}, {hand: right, trail: 8deg}"},
		},
		{
			"a parting blade 4 mm wide that parts 61 mm (lathe: parting)", spool,
			[]string{blades, "", "  motor: 550W", "  parting: {blade: 2}\n  motor: 550W"},
			[2]string{"{blade: 2}", "{blade: 4, most: 61, reach: 30.5}"},
		},
		{
			"soft jaws (lathe: soft_jaws)", collar,
			[]string{blades, ""},
			[2]string{"  motor: 550W", "  soft_jaws: true\n  motor: 550W"},
		},
		{
			"the cylinder over z 6 mm to 12 mm drawn 15 mm longer",
			collar,
			[]string{blades, ""},
			[2]string{"[12, 30]", "[27, 30]"},
		},
		{
			"a spigot drawn on the right end, 20 mm across and 15 mm long, and sawn off when the rest is done",
			"  profile: [[0, 20], [4, 50], [7, 50], [7, 40], [10, 40], [10, 20], [14, 20]]\n",
			[]string{tailstocks, "", ", {hand: left, trail: 8deg}]", "]"},
			[2]string{"[14, 20]]", "[29, 20]]"},
		},
		{"a thread 10 mm long in place of 12 mm", stud, nil, [2]string{"length: 12", "length: 10"}},
		{
			"the cylinder over z 0 mm to 12 mm drawn 2 mm longer", stud, nil,
			[2]string{"[12, 12], [12, 20], [40, 20]", "[14, 12], [14, 20], [42, 20]"},
		},
		{
			"a relief of 5.5 mm down to 9.2 mm drawn behind the thread, and 6.5 mm of thread", stud, nil,
			[2]string{
				"[12, 12], [12, 20], [40, 20]]\n  threads: [{from: left, spec: M12, length: 12}",
				"[6.5, 12], [6.5, 9.2], [12, 9.2], [12, 20], [40, 20]]\n  threads: [{from: left, spec: M12, length: 6.5}",
			},
		},
		{
			"the cylinder under M12 turned to 12 mm",
			"  profile: [[0, 14], [20, 14], [20, 20], [40, 20]]\n  threads: [{from: left, spec: M12, length: 12}]\n", nil,
			[2]string{"[0, 14], [20, 14]", "[0, 12], [20, 12]"},
		},
		{
			"a bore of 6.8 mm, 17 mm deep, drawn for M8",
			"  profile: [[0, 20], [40, 20]]\n  threads: [{from: left, spec: M8, depth: 12, inside: true}]\n", nil,
			[2]string{"  threads", "  bores: [{from: left, dia: 6.8, depth: 17}]\n  threads"},
		},
		{
			"the bore of 2.5 mm 9.9 mm deep in place of 8.9 mm",
			"  profile: [[0, 20], [40, 20]]\n  bores: [{from: left, dia: 2.5, depth: 8.9}]\n" +
				"  threads: [{from: left, spec: M3, depth: 8, inside: true}]\n", nil,
			[2]string{"depth: 8.9", "depth: 9.9"},
		},
		{
			"hole 1 moved to z 3 mm", "  min_wall: 1.5\n  profile: [[0, 20], [40, 20]]\n  holes: [{at: 2, dia: 3}]\n", nil,
			[2]string{"at: 2", "at: 3"},
		},
		{
			"hole 1 moved to 4 mm, 10 mm",
			"block:\n  size: [40, 20, 10]\n  min_wall: 2\n  holes: [{at: [3, 10], dia: 4}]\n", nil,
			[2]string{"at: [3, 10]", "at: [4, 10]"},
		},
		{"the bore of 8 mm 20 mm deep in place of 30 mm", tube, nil, [2]string{"depth: 30", "depth: 20"}},
		{"a bore of 6 mm in place of 8 mm", tube, nil, [2]string{"dia: 8", "dia: 6"}},
		{
			"row 1 with a web of 2 mm between its holes", "  min_wall: 2\n  profile: [[0, 20], [60, 20]]\n" +
				"  rows: [{from: 20, dia: 5, count: 3, pitch: 5.5}]\n", nil, [2]string{"pitch: 5.5", "web: 2"},
		},
		{
			"the cylinder over z 10 mm to 10.8 mm drawn 0.5 mm longer",
			"  profile: [[0, 20], [10, 20], [10, 4], [10.8, 4], [10.8, 20], [40, 20]]\n", nil,
			[2]string{"[10.8, 4], [10.8, 20], [40, 20]", "[11.3, 4], [11.3, 20], [40.5, 20]"},
		},
		{
			"thread 1, M6, 9 mm long in place of 6 mm",
			"  profile: [[0, 6], [8, 6], [8, 8], [14, 8], [18, 3]]\n  bores: [{from: left, dia: 2.5, depth: 14}]\n" +
				"  facets: [{sides: 6, from: 8, to: 14, across: flats}]\n  threads: [{from: left, spec: M6, length: 6}]\n", nil,
			[2]string{
				"[8, 6], [8, 8], [14, 8], [18, 3]]\n  bores: [{from: left, dia: 2.5, depth: 14}]\n" +
					"  facets: [{sides: 6, from: 8, to: 14, across: flats}]\n  threads: [{from: left, spec: M6, length: 6}]",
				"[11, 6], [11, 8], [17, 8], [21, 3]]\n  bores: [{from: left, dia: 2.5, depth: 14}]\n" +
					"  facets: [{sides: 6, from: 11, to: 17, across: flats}]\n  threads: [{from: left, spec: M6, length: 9}]",
			},
		},
		{
			"thread 1, M20x1.5, 13.5 mm long in place of 13 mm", standoff, nil,
			[2]string{
				"[16, 20], [16, 24], [23, 24], [23, 20], [39, 20]]\n  facets: [{sides: 6, from: 16, to: 23, across: flats}]\n" +
					"  threads: [{from: left, spec: M20x1.5, length: 13}",
				"[16.5, 20], [16.5, 24], [23.5, 24], [23.5, 20], [39.5, 20]]\n" +
					"  facets: [{sides: 6, from: 16.5, to: 23.5, across: flats}]\n" +
					"  threads: [{from: left, spec: M20x1.5, length: 13.5}",
			},
		},
		{
			"the cylinder over z 0 mm to 122 mm drawn 2 mm shorter", "  profile: [[0, 12], [122, 12]]\n",
			[]string{tailstocks, "", steadies, ""},
			[2]string{"[122, 12]", "[120, 12]"},
		},
		{
			"a lathe with a chuck of 80 mm and a tailstock (lathe)", "  profile: [[0, 20], [30, 20]]\n",
			[]string{lathes, ""},
			[2]string{blades, blades + "lathe: {chuck: {diameter: 80, jaws: 3}, tailstock: {}}\n"},
		},
		{
			"a tailstock (lathe: tailstock)", "  stock: 12\n  profile: [[0, 10], [280, 10]]\n",
			[]string{tailstocks, "", steadies, ""},
			[2]string{"  motor: 550W", "  tailstock: {}\n  motor: 550W"},
		},
		{
			"a steady that takes 3 mm to 13 mm (lathe: steady)", "  profile: [[0, 12], [300, 12]]\n" +
				"  bores: [{from: left, dia: 8, depth: 20}, {from: right, dia: 8, depth: 20}]\n",
			[]string{steadies, ""},
			[2]string{"  motor: 550W", "  steady: {from: 3, to: 13}\n  motor: 550W"},
		},
		{
			"a chuck of 125 mm (lathe: chuck)", "  stock: 110\n  profile: [[0, 105], [30, 105]]\n", nil,
			[2]string{
				"diameter: 100, jaws: 3, jaw_length: 28, jaw_circle: 110",
				"diameter: 125, jaws: 3, jaw_length: 28, jaw_circle: 135",
			},
		},
		{
			"a chuck of 80 mm (lathe: chuck)", "  profile: [[0, 30], [30, 30]]\n",
			[]string{chucks + "  collets: ER32\n", ""},
			[2]string{"  motor: 550W", "  chuck: {diameter: 80, jaws: 3}\n  motor: 550W"},
		},
		{
			"a four-jaw chuck of 100 mm (lathe: four_jaw)",
			"  stock: {square: 20}\n  profile: [[0, 20], [20, 20], [20, 16], [50, 16]]\n" +
				"  facets: [{sides: 4, from: 0, to: 20, across: flats}]\n", nil,
			[2]string{"  motor: 550W", "  four_jaw: {diameter: 100, jaw_length: 28}\n  motor: 550W"},
		},
		{
			"a pair of V-blocks of 90 deg that open 32 mm (v_blocks)", hole,
			[]string{"opening: 56", "opening: 12"},
			[2]string{
				"v_blocks: {angle: 90deg, apex: 12, opening: 12, relief: 3, pair: true}",
				"v_blocks: {angle: 90deg, opening: 32, pair: true}",
			},
		},
		{
			"a drill press (drill_press)", hole,
			[]string{mills, "", presses, ""},
			[2]string{blades, blades + "drill_press: {}\n"},
		},
		{
			"a lathe that 50 mm goes through (lathe: spindle_bore, chuck: through)",
			"  profile: [[0, 50], [4, 50], [4, 30], [34, 30], [34, 50], [38, 50]]\n" +
				"  bores: [{from: left, dia: 10, depth: 8}, {from: right, dia: 10, depth: 8}]\n",
			[]string{chucks + "  collets: ER32\n", "  chuck: {diameter: 100, jaws: 3, jaw_length: 20, jaw_circle: 106, " +
				"range: [2, 90], through: 24}\n  spindle_bore: 24\n", blades, ""},
			[2]string{"through: 24}\n  spindle_bore: 24", "through: 50}\n  spindle_bore: 50"},
		},
		{"a block of 8 mm by 8 mm by 8 mm", "block:\n  size: [6, 5, 4]\n", nil, [2]string{"[6, 5, 4]", "[8, 8, 8]"}},
		{
			"a dial of 100 divisions on the cross slide (lathe: cross_slide: divisions)",
			"  profile: [[0, 40], [40, 40]]\n  bores: [{from: left, dia: 22.3, depth: 30, fit: H11}]\n",
			[]string{"{lead: 2, divisions: 100,", "{lead: 2, divisions: 2,"},
			[2]string{"{lead: 2, divisions: 2,", "{lead: 2, divisions: 100,"},
		},
		{
			"a mill (mill)", "  profile: [[0, 20], [60, 20]]\n  rows: [{from: 20, dia: 4, count: 2, pitch: 8}]\n",
			[]string{mills, "", presses, ""},
			[2]string{blades, blades + "mill: {}\n"},
		},
		{
			"a lathe of 282 mm between centres (lathe: between_centres)", "  profile: [[0, 10], [250, 10]]\n",
			[]string{"between_centres: 400", "between_centres: 100"},
			[2]string{"between_centres: 100", "between_centres: 282"},
		},
	}
}

// Each thing that mends a part is told by a part that it mends: written by hand into the
// two files as it is told, the part is planned, for the set-ups and the minutes that were
// told, and the validator finds nothing wrong with it. No row of the table is without one.
func TestRemedies(t *testing.T) {
	shown := map[int]bool{}
	for _, tc := range cases() {
		partText, shopText := "format: 1\npart: Test\nunits: mm\nmaterial: brass\n", edited(t, "shed.yaml", nil)
		if !strings.HasPrefix(tc.part, "block") {
			partText += "round:\n"
		}
		partText += tc.part
		for i := 0; i < len(tc.shop); i += 2 {
			from, to := tc.shop[i], tc.shop[i+1]
			if from == lathes {
				from = shopText[strings.Index(shopText, from):strings.Index(shopText, mills)]
			}
			if !strings.Contains(shopText, from) {
				t.Fatalf("the shop does not hold %q", from)
			}
			shopText = strings.Replace(shopText, from, to, 1)
		}
		in := Input{Part: read(t, partText), Shop: readShop(t, shopText)}
		if tc.say == "another bar, begun again" {
			in.Measured = []Measure{{Z: units.MustLength("31mm"), Dia: units.MustLength("31.5mm")}}
		}
		r, err := Make(in)
		if err != nil {
			t.Fatal(tc.say, ": ", err)
		}
		var m *Remedy
		for i := range r.Refused {
			for k, x := range r.Refused[i].Remedies {
				if x.Say.In(units.MM) == tc.say {
					m = &r.Refused[i].Remedies[k]
				}
			}
			shows(t, r, i, tc.say, shown)
		}
		if m == nil {
			t.Errorf("%q is not told:\n%s\n%v", tc.say, strings.Join(told(r), "\n"), r.Tried)
			continue
		}
		if strings.Contains(partText, tc.do[0]) {
			partText = strings.Replace(partText, tc.do[0], tc.do[1], 1)
		} else {
			shopText = strings.Replace(shopText, tc.do[0], tc.do[1], 1)
		}
		after := make1(t, read(t, partText), readShop(t, shopText))
		if after.Totals.Setups != m.Setups || after.Totals.Minutes != m.Minutes {
			t.Errorf("%s: %d set-ups and %v min; told %d and %v", tc.say, after.Totals.Setups, after.Totals.Minutes,
				m.Setups, m.Minutes)
		}
		judged(t, tc.say, after, partText, shopText)
	}
	for i, a := range answers() {
		if !shown[i] {
			t.Errorf("row %d of the table, for %v, mends nothing here", i, a.to)
		}
	}
}

// shows notes which rows of the table offer something for a refusal.
func shows(t *testing.T, r Result, i int, say string, shown map[int]bool) {
	t.Helper()
	j, err := newJob(r.Inputs)
	if err != nil {
		t.Fatal(err)
	}
	for n, a := range answers() {
		c := r.cause(j, &r.Refused[i])
		if slices.Contains(a.to, c.Code) {
			a.offer(c)
		}
		for _, x := range c.list {
			shown[n] = shown[n] || x.say.In(units.MM) == say || x.of != nil && r.offeredMore(x, say)
		}
	}
}

// offeredMore reports whether a trial of a size is the one that is told, of another size.
func (r Result) offeredMore(x trial, told string) bool {
	for steps := range 200 {
		if x.of(steps+1).say.In(units.MM) == told {
			return true
		}
	}
	return false
}

func readShop(t *testing.T, text string) *shop.Shop {
	t.Helper()
	s, _, err := files.ReadShop("shop.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return s
}

// judged demands that a plan says yes, and that the validator finds nothing wrong.
func judged(t *testing.T, name string, r Result, partText, shopText string) {
	t.Helper()
	if len(r.Refused) > 0 {
		t.Errorf("%s: mended, it still says %v", name, told(r))
		return
	}
	written, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var trees [2]map[string]any
	for i, text := range []string{partText, shopText} {
		if err := yaml.Unmarshal([]byte(text), &trees[i]); err != nil {
			t.Fatal(err)
		}
	}
	for _, f := range judge.Judge(0, written, trees[0], trees[1]) {
		t.Errorf("%s: %s", name, f)
	}
}

// Nothing is told to mend a part that does not, and never without what it costs; where
// nothing does it is told what was tried. The part and the shop that were asked about
// stay as they are.
func TestNoRemedyFails(t *testing.T) {
	all, err := filepath.Glob("judge/testdata/parts/*/*.yaml")
	if err != nil || len(all) == 0 {
		t.Fatal("no parts ", err)
	}
	all = slices.DeleteFunc(all, func(path string) bool { return strings.Contains(path, "/shops/") })
	var parts []string
	for i := 0; i < len(all); i += 11 {
		parts = append(parts, all[i])
	}
	mends := 0
	for _, name := range []string{"shop-small", "shop-latheonly"} {
		s := readShop(t, string(readFile(t, "judge/testdata/parts/shops/"+name+".yaml")))
		for _, path := range parts {
			p, _, err := files.ReadPart(path, readFile(t, path))
			if err != nil {
				t.Fatal(err)
			}
			in := Input{Part: own(p), Shop: own(s)}
			r, err := Make(in)
			if err != nil || len(r.Refused) == 0 {
				continue
			}
			if !reflect.DeepEqual(in.Part, p) || !reflect.DeepEqual(in.Shop, s) {
				t.Errorf("%s in %s: what was tried is left in it", path, name)
			}
			list := 0
			for _, f := range r.Refused {
				for _, m := range f.Remedies {
					list++
					after, err := Make(m.trial.on(in))
					cost := Remedy{m.Say, after.Totals.Setups, after.Totals.Minutes, m.trial}.cost()
					if err != nil || len(after.Refused) > 0 || cost != m.cost() {
						t.Errorf("%s in %s: %s: %v %v", path, name, m.Say.In(units.MM), err, told(after))
					}
				}
			}
			if list == 0 && len(r.Tried) == 0 {
				t.Errorf("%s in %s: nothing was tried: %v", path, name, told(r))
			}
			mends += list
		}
	}
	if mends < len(parts)/4 {
		t.Errorf("%d remedies for %d parts", mends, len(parts))
	}
}

// What cannot mend a part is not tried: what hangs too far is no spring, that a wider limit
// would allow; no collet is as wide as 105 mm; and where a cylinder is long enough to be held
// no spigot is drawn on it.
func TestNotTried(t *testing.T) {
	long, wheel := "  profile: [[0, 12], [122, 12]]\n", "  stock: 110\n  profile: [[0, 105], [30, 105]]\n"
	recess := "  profile: [[0, 26], [1.5, 12], [1.5, 30], [51.5, 30]]\n"
	for _, tc := range []struct {
		part, not string
		shop      map[string]string
	}{
		{long, "plus or minus", map[string]string{tailstocks: "", steadies: ""}},
		{wheel, "a collet", map[string]string{"collets: ER32": "collets: [4]"}},
		{recess, "a spigot drawn on the right end", map[string]string{tailstocks: ""}},
	} {
		r := make1(t, brass(t, tc.part), readShop(t, edited(t, "shed.yaml", tc.shop)))
		tried := told(r)
		for _, x := range r.Tried {
			tried = append(tried, x.In(units.MM))
		}
		if all := strings.Join(tried, "\n"); len(r.Refused) == 0 || strings.Contains(all, tc.not) {
			t.Errorf("%s\n%s", tc.part, all)
		}
	}
}

// A blade that the motor does not drive is not offered, by hand: cast iron of 91, 6 wide at
// 0.0762 mm/rev and 120 rpm, is pi·91·6·0.0762·2 = 261 mm3/s, at 2.11 W·s/mm3 551 W at the cut and
// 551/0.75 = 735 W of the motor, which has 550. A fit that is given up is named, and stands last.
func TestBeyondTheMotorAndTheFit(t *testing.T) {
	r := make1(t, parse(t, "material: cast-iron\nround:\n"+
		"  profile: [[0, 30], [14, 30], [14, 90], [30, 90], [30, 26], [36, 26]]\n"+
		"  bores: [{from: left, dia: 12, through: true}]\n"), loadShop(t, nil))
	if all := strings.Join(told(r), "\n"); len(r.Refused) == 0 || strings.Contains(all, "a parting blade") {
		t.Errorf("a blade of 6 on 550 W: %s", all)
	}
	r = make1(t, parse(t, "material: bearing-bronze\nround:\n  profile: [[0, 28], [40, 28]]\n"+
		"  bores: [{from: left, dia: 18, through: true}]\n  limits: [{at: 20, fit: p5}]\n"), loadShop(t, nil))
	want := "plus or minus 0.01 mm in place of p5 for the diameters from z 0 mm to 40 mm (limits): no longer that fit"
	var list []string
	for _, f := range r.Refused {
		for _, x := range f.Remedies {
			list = append(list, x.Say.In(units.MM))
		}
	}
	if n := len(list); n == 0 || list[n-1] != want {
		t.Errorf("%q, by hand %q last", list, want)
	}
}

// A trial gives up where none of so many ways passes; else it comes to what the part then
// comes to.
func TestTrialGivesUp(t *testing.T) {
	all, err := filepath.Glob("judge/testdata/parts/*/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	all = slices.DeleteFunc(all, func(path string) bool { return strings.Contains(path, "/shops/") })
	s, same, gone := readShop(t, string(readFile(t, "judge/testdata/parts/shops/shop-small.yaml"))), 0, 0
	for i := 0; i < len(all); i += 23 {
		p, _, err := files.ReadPart(all[i], readFile(t, all[i]))
		if err != nil {
			t.Fatal(err)
		}
		plan := func(most int) Result {
			j, err := newJob(Input{Part: p, Shop: s})
			if err != nil {
				t.Fatal(err)
			}
			j.most = most
			r, err := j.plan()
			if err != nil {
				t.Fatal(err)
			}
			return r
		}
		full := plan(maxTries)
		for _, most := range []int{1, lookedEach} {
			switch r := plan(most); {
			case len(full.Refused) > 0:
			case len(r.Refused) > 0:
				gone++
			case r.Totals != full.Totals:
				t.Errorf("%s: after %d ways %+v, else %+v", all[i], most, r.Totals, full.Totals)
			default:
				same++
			}
		}
	}
	if same < 10 || gone == 0 {
		t.Errorf("%d come to the same, and %d are given up", same, gone)
	}
}

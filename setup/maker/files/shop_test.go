package files_test

import (
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/files"
)

// Every refusal of a shop file that is its own, and several at once.
func TestShopRefusals(t *testing.T) {
	for _, c := range []trial{
		{"a name and units alone are a shop", shopHead, ``},
		{"the name alone is not", "format: 1\nshop: Shed\n", `
f.yaml:1:1: units: is needed here: mm or in: what bare numbers in this file are
  1 | format: 1
    | ^^^^^^`},
		{"nothing but the format", "format: 1\n", `
f.yaml:1:1: part: is needed here: the part's name, printed on every sheet
  1 | format: 1
    | ^^^^^^
f.yaml:1:1: units: is needed here: mm or in: what bare numbers in this file are
  1 | format: 1
    | ^^^^^^
f.yaml:1:1: material: is needed here: what it is made of, such as brass or low-carbon-steel
  1 | format: 1
    | ^^^^^^`},
		{"another format", "format: 2\nshop: Shed\nunits: mm\nlaser: {}\n", `
f.yaml:1:9: format: 2: written for format 2; this reads up to 1
  1 | format: 2
    |         ^`},
		{"no format", "shop: Shed\nunits: mm\n", `
f.yaml:1:1: format: is needed here: the file format; 1 is the newest
  1 | shop: Shed
    | ^^^^`},
		{"the format not first", "shop: Shed\nformat: 1\nunits: mm\n", `
f.yaml:1:1: format: the first line is format: 1
  1 | shop: Shed
    | ^^^^`},
		{"the format not a number", "format: one\nshop: Shed\nunits: mm\n", `
f.yaml:1:9: format: one: there is no such format: write 1
  1 | format: one
    |         ^^^`},
		{"units that are none", "format: 1\nshop: Shed\nunits: cables\ndisplay: metric\n", `
f.yaml:3:8: units: cables: not a unit for drawings: write mm or in
  3 | units: cables
    |        ^^^^^^
f.yaml:4:10: display: metric: not a unit for drawings: write mm or in
  4 | display: metric
    |          ^^^^^^`},
		{"an empty name", "format: 1\nshop: \"\"\nunits: mm\n", `
f.yaml:2:7: shop: is empty
  2 | shop: ""
    |       ^^`},
		{"several at once, in the order of the lines", shopHead + "lathe:\n  motor: 550\n  spindel: {from: 5, to: 50}\n" +
			"  leadscrew: 8\nmill:\n  motor: 1ph\ndrils: [number]\n", `
f.yaml:5:10: motor: 550: needs its unit: write 550W, 0.55kW or 0.75hp
  5 |   motor: 550
    |          ^^^
f.yaml:6:3: spindel: unknown key
  6 |   spindel: {from: 5, to: 50}
    |   ^^^^^^^
  did you mean spindle?
f.yaml:7:14: leadscrew: 8: a pitch needs its unit: write 8mm or 8tpi
  7 |   leadscrew: 8
    |              ^
f.yaml:9:10: motor: ph: not a unit of power in 1ph: write 550W, 0.55kW or 0.75hp
  9 |   motor: 1ph
    |          ^^^
f.yaml:10:1: drils: unknown key
  10 | drils: [number]
     | ^^^^^
  did you mean drills?`},
		{"unknown key with the keys there are", shopHead + "rotary_table: {x: 1}\n", `
f.yaml:4:15: ratio: is needed here: turns of the handwheel to one of the table
  4 | rotary_table: {x: 1}
    |               ^
f.yaml:4:16: x: unknown key: the keys here are ratio
  4 | rotary_table: {x: 1}
    |                ^`},
		{"speeds and a range", shopHead + "mill: {spindle: {speeds: [100], from: 5, to: 50}}\n", `
f.yaml:4:17: spindle: has speeds and a range: write one of them
  4 | mill: {spindle: {speeds: [100], from: 5, to: 50}}
    |                 ^`},
		{"half a range", shopHead + "mill: {spindle: {from: 50}}\n", `
f.yaml:4:17: spindle: needs speeds, or from and a higher to
  4 | mill: {spindle: {from: 50}}
    |                 ^`},
		{"a range the wrong way", shopHead + "mill: {spindle: {from: 50, to: 50}}\n", `
f.yaml:4:17: spindle: needs speeds, or from and a higher to
  4 | mill: {spindle: {from: 50, to: 50}}
    |                 ^`},
		{"no speeds", shopHead + "mill: {spindle: {speeds: []}}\n", `
f.yaml:4:26: speeds: needs at least one speed
  4 | mill: {spindle: {speeds: []}}
    |                          ^`},
		{"no speed at all", shopHead + "mill: {spindle: {speeds: [0, 60001]}}\n", `
f.yaml:4:27: speeds: 0: a spindle speed is above 0 and at most 60000 rpm
  4 | mill: {spindle: {speeds: [0, 60001]}}
    |                           ^
f.yaml:4:30: speeds: 60001: a spindle speed is above 0 and at most 60000 rpm
  4 | mill: {spindle: {speeds: [0, 60001]}}
    |                              ^^^^^`},
		{"jaws", shopHead + "lathe: {chuck: {diameter: 0, jaws: 1}}\n", `
f.yaml:4:27: diameter: 0: a size must be above 0
  4 | lathe: {chuck: {diameter: 0, jaws: 1}}
    |                           ^
f.yaml:4:36: jaws: 1: must be 2 to 6
  4 | lathe: {chuck: {diameter: 0, jaws: 1}}
    |                                    ^`},
		{"too many jaws", shopHead + "lathe: {chuck: {diameter: 1, jaws: 7}}\n", `
f.yaml:4:36: jaws: 7: must be 2 to 6
  4 | lathe: {chuck: {diameter: 1, jaws: 7}}
    |                                    ^`},
		{"collets", shopHead + "lathe: {collets: {er: 7}}\n", `
f.yaml:4:23: er: 7: must be 8 to 50
  4 | lathe: {collets: {er: 7}}
    |                       ^`},
		{"collets of no size", shopHead + "lathe: {collets: [6, 0]}\n", `
f.yaml:4:22: collets: 0: a size must be above 0
  4 | lathe: {collets: [6, 0]}
    |                      ^`},
		{"a dial without its divisions", shopHead + "lathe: {cross_slide: {lead: 2, reads: both}}\n", `
f.yaml:4:22: divisions: is needed here: marks round the dial
  4 | lathe: {cross_slide: {lead: 2, reads: both}}
    |                      ^
f.yaml:4:39: reads: both: write diameter or radius
  4 | lathe: {cross_slide: {lead: 2, reads: both}}
    |                                       ^^^^`},
		{"a dial of one division", shopHead + "mill: {table: {lead: -2, divisions: 1}}\n", `
f.yaml:4:22: lead: -2: a size must be above 0
  4 | mill: {table: {lead: -2, divisions: 1}}
    |                      ^^
f.yaml:4:37: divisions: 1: must be 2 to 1000
  4 | mill: {table: {lead: -2, divisions: 1}}
    |                                     ^`},
		{"a table reads the travel", shopHead + "mill: {table: {lead: 2, divisions: 100, reads: diameter}}\n", `
f.yaml:4:41: reads: unknown key: the keys here are lead, divisions, unit
  4 | mill: {table: {lead: 2, divisions: 100, reads: diameter}}
    |                                         ^^^^^`},
		{"a compound without its scale", shopHead + "lathe: {compound: {travel: 70}}\n", `
f.yaml:4:19: scale: is needed here: the protractor under it
  4 | lathe: {compound: {travel: 70}}
    |                   ^`},
		{"half a screw", shopHead + "lathe: {compound: {scale: {zero: along, step: 1}, lead: 1}}\n", `
f.yaml:4:19: compound: lead and divisions belong together: write both or neither
  4 | lathe: {compound: {scale: {zero: along, step: 1}, lead: 1}}
    |                   ^`},
		{"a scale", shopHead + "lathe: {compound: {scale: {zero: square, step: 0, numbering: down, limit: 181}}}\n", `
f.yaml:4:34: zero: square: write along or across
  4 | lathe: {compound: {scale: {zero: square, step: 0, numbering: down, lim
    |                                  ^^^^^^
f.yaml:4:48: step: 0: must be above 0 and at most 180 deg
  4 | ound: {scale: {zero: square, step: 0, numbering: down, limit: 181}}}
    |                                    ^
f.yaml:4:62: numbering: down: write up or back-after-90
  4 | {zero: square, step: 0, numbering: down, limit: 181}}}
    |                                    ^^^^
f.yaml:4:75: limit: 181: must be above 0 and at most 180 deg
  4 | , step: 0, numbering: down, limit: 181}}}
    |                                    ^^^`},
		{"half a setover", shopHead + "lathe: {tailstock: {setover: {toward: 8}}}\n", `
f.yaml:4:30: away: is needed here: away from the operator
  4 | lathe: {tailstock: {setover: {toward: 8}}}
    |                              ^`},
		{"a body of three", shopHead + "lathe: {tailstock: {body: [65, 58, 3]}}\n", `
f.yaml:4:27: body: 3 values: must be [width, below]
  4 | lathe: {tailstock: {body: [65, 58, 3]}}
    |                           ^`},
		{"a hand", shopHead + "lathe: {tools: [{hand: rigth, trail: 8}]}\n", `
f.yaml:4:24: hand: rigth: write right or left
  4 | lathe: {tools: [{hand: rigth, trail: 8}]}
    |                        ^^^^^
  did you mean right?`},
		{"wheels", shopHead + "lathe: {change_gears: [20, 7, 301, 2.5]}\n", `
f.yaml:4:28: change_gears: 7: must be 8 to 300
  4 | lathe: {change_gears: [20, 7, 301, 2.5]}
    |                            ^
f.yaml:4:31: change_gears: 301: must be 8 to 300
  4 | lathe: {change_gears: [20, 7, 301, 2.5]}
    |                               ^^^
f.yaml:4:36: change_gears: 2.5: not a whole number
  4 | lathe: {change_gears: [20, 7, 301, 2.5]}
    |                                    ^^^`},
		{"a stud and a banjo", shopHead + "lathe: {stud_ratio: 0, banjo: {clearance: 201}}\n", `
f.yaml:4:21: stud_ratio: 0: must be 1 to 16
  4 | lathe: {stud_ratio: 0, banjo: {clearance: 201}}
    |                     ^
f.yaml:4:43: clearance: 201: must be 0 to 200
  4 | lathe: {stud_ratio: 0, banjo: {clearance: 201}}
    |                                           ^^^`},
		{"a thread dial", shopHead + "lathe: {thread_dial: {gears: [3], marks: 65}}\n", `
f.yaml:4:31: gears: 3: must be 4 to 200
  4 | lathe: {thread_dial: {gears: [3], marks: 65}}
    |                               ^
f.yaml:4:42: marks: 65: must be 1 to 64
  4 | lathe: {thread_dial: {gears: [3], marks: 65}}
    |                                          ^^`},
		{"a steady the wrong way", shopHead + "lathe: {steady: {from: 50, to: 5}}\n", `
f.yaml:4:17: to: 5 mm: must be larger than from, 50 mm
  4 | lathe: {steady: {from: 50, to: 5}}
    |                 ^`},
		{"plates", shopHead + "dividing_head: {ratio: 1, plates: [15, 16]}\n", `
f.yaml:4:24: ratio: 1: must be 2 to 360
  4 | dividing_head: {ratio: 1, plates: [15, 16]}
    |                        ^
f.yaml:4:35: plates: must be a list of plates, each a list of circles: [[15, 16], [21, 23]]
  4 | dividing_head: {ratio: 1, plates: [15, 16]}
    |                                   ^`},
		{"no plates", shopHead + "dividing_head: {ratio: 40, plates: []}\n", `
f.yaml:4:36: plates: must be a list of plates, each a list of circles: [[15, 16], [21, 23]]
  4 | dividing_head: {ratio: 40, plates: []}
    |                                    ^`},
		{"a rotary table", shopHead + "rotary_table: {ratio: 361}\n", `
f.yaml:4:23: ratio: 361: must be 2 to 360
  4 | rotary_table: {ratio: 361}
    |                       ^^^`},
		{"V-blocks", shopHead + "v_blocks: {angle: 29}\n", `
f.yaml:4:19: angle: 29: a V is 30 to 150 deg
  4 | v_blocks: {angle: 29}
    |                   ^^`},
		{"flat V-blocks", shopHead + "v_blocks: {angle: 151}\n", `
f.yaml:4:19: angle: 151: a V is 30 to 150 deg
  4 | v_blocks: {angle: 151}
    |                   ^^^`},
		{"drills", shopHead + "drills: [metric-0.25, 6.8, 6.85mm, No81, 50mm]\n", `
f.yaml:4:10: drills: metric-0.25: not a set of drills: write number, letter, fraction-64, metric-0.1, ` +
			`metric-0.5 or a single size such as 6.8mm
  4 | drills: [metric-0.25, 6.8, 6.85mm, No81, 50mm]
    |          ^^^^^^^^^^^
  did you mean metric-0.5?
f.yaml:4:23: drills: 6.8: a drill needs its unit or its gauge: write 6.8mm
  4 | drills: [metric-0.25, 6.8, 6.85mm, No81, 50mm]
    |                       ^^^
f.yaml:4:28: drills: 6.85mm: no drill is made in this size
  4 | drills: [metric-0.25, 6.8, 6.85mm, No81, 50mm]
    |                            ^^^^^^
  did you mean 6.8 mm?
f.yaml:4:36: drills: No81: not a drill: write a gauge (No7, F), a fraction (3/8in) or a metric size (6.8mm)
  4 | drills: [metric-0.25, 6.8, 6.85mm, No81, 50mm]
    |                                    ^^^^
f.yaml:4:42: drills: 50mm: no drill is made in this size
  4 | drills: [metric-0.25, 6.8, 6.85mm, No81, 50mm]
    |                                          ^^^^
  did you mean 1 in?`},
		{"reamers carry their unit", shopHead + "reamers: [6, 8mm, 0mm]\n", `
f.yaml:4:11: reamers: 6: a size here needs its unit: write 6mm
  4 | reamers: [6, 8mm, 0mm]
    |           ^
f.yaml:4:19: reamers: 0mm: a size must be above 0
  4 | reamers: [6, 8mm, 0mm]
    |                   ^^^`},
		{"collet blocks", shopHead + "collet_blocks: [2, 25]\n", `
f.yaml:4:17: collet_blocks: 2: must be 3 to 24
  4 | collet_blocks: [2, 25]
    |                 ^
f.yaml:4:20: collet_blocks: 25: must be 3 to 24
  4 | collet_blocks: [2, 25]
    |                    ^^`},
		{"a boring bar without reach", shopHead + "boring_bars: [{diameter: 8}]\n", `
f.yaml:4:15: reach: is needed here: how deep it reaches
  4 | boring_bars: [{diameter: 8}]
    |               ^`},
		{"a part file", partHead + "shop:\n", `
f.yaml:2:1: part: unknown key: the keys here are format, shop, units, display, lathe, mill, drill_press, ` +
			`belt_grinder, dividing_head, rotary_table, v_blocks, sine_bar, gauge_blocks, drills, reamers, taps, dies, ` +
			`centre_drills, parting_blade, boring_bars, collet_blocks, stock
  2 | part: Pin
    | ^^^^
f.yaml:4:1: material: unknown key: the keys here are format, shop, units, display, lathe, mill, drill_press, ` +
			`belt_grinder, dividing_head, rotary_table, v_blocks, sine_bar, gauge_blocks, drills, reamers, taps, dies, ` +
			`centre_drills, parting_blade, boring_bars, collet_blocks, stock
  4 | material: free-cutting-brass
    | ^^^^^^^^
f.yaml:5:7: shop: has no value: write a text
  5 | shop:
    |      ^`},
	} {
		c.run(t)
	}
}

// A bare number is in the file's unit, and a number with its unit in that.
func TestShopUnits(t *testing.T) {
	s, _, err := files.ReadShop("f", []byte("format: 1\nshop: Shed\nunits: in\ndisplay: mm\n"+
		"lathe: {between_centres: 14, swing_over_bed: 200mm, leadscrew: 8tpi}\nsine_bar: 5\ncentre_drills: [1/16]\n"))
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		got  units.Length
		want string // in mm; 1 in = 25.4 mm
	}{
		"between_centres": {*s.Lathe.BetweenCentres, "355.6"},
		"swing_over_bed":  {*s.Lathe.SwingOverBed, "200"},
		"sine_bar":        {*s.SineBar, "127"},
		"centre_drills":   {s.CentreDrills[0], "1.5875"},
	} {
		if got := c.got.Decimal().String(); got != c.want {
			t.Errorf("%s: got %s mm, want %s", name, got, c.want)
		}
	}
	if s.Display != units.MM || s.Lathe.Leadscrew.String() != "8 tpi" {
		t.Errorf("display %v, leadscrew %v", s.Display, s.Lathe.Leadscrew)
	}
}

// Drills are read once however often they are named, smallest first, and speeds
// come rising.
func TestShopOrder(t *testing.T) {
	s, _, err := files.ReadShop("f", []byte(shopHead+"mill: {spindle: {speeds: [1450, 120rpm, 540]}}\n"+
		"drills: [6.8mm, metric-0.5, 6.5mm, No7, \"#7\", 0.201in, F]\n"))
	if err != nil {
		t.Fatal(err)
	}
	// metric-0.5 is 1 to 13 mm: 25 drills; 6.8 mm, No7 (0.201 in) and F beside them.
	if len(s.Drills) != 28 {
		t.Errorf("%d drills: %v", len(s.Drills), s.Drills)
	}
	for i := 1; i < len(s.Drills); i++ {
		if s.Drills[i].Dia.Less(s.Drills[i-1].Dia) {
			t.Errorf("%v after %v", s.Drills[i], s.Drills[i-1])
		}
	}
	if v := s.Mill.Spindle.Speeds; v[0].RPM() != 120 || v[1].RPM() != 540 || v[2].RPM() != 1450 {
		t.Errorf("speeds %v", v)
	}
}

// The built-in shop is the text that shop new writes.
func TestBuiltin(t *testing.T) {
	s, w, err := files.ReadShop("f", []byte(files.NewShop()))
	if err != nil || len(w) > 0 {
		t.Fatal(err, w)
	}
	b := files.Builtin()
	if b.From != "built in" || b.Name != s.Name || len(b.Drills) != len(s.Drills) {
		t.Errorf("built in: %+v", b)
	}
}

package files_test

import (
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/files"
)

// What YAML does that a maker does not expect, or that would hurt.
func TestTraps(t *testing.T) {
	for _, c := range []trial{
		{"plain scalars need no quotes", "format: 1\npart: 3/8\" pin & nut, 50%\nunits: in\nmaterial: low-carbon-steel\n" +
			"block: {size: [3/8in, 1-3/8in, 1.5 mm], slopes: [{from_x: 0, to_x: 1/4in, along_x: 6°54'}]}\n", ``},
		{"a byte order mark is nothing", "\xef\xbb\xbf" + blockHead, ``},
		{"lines end in CRLF", strings.ReplaceAll(blockHead, "\n", "\r\n"), ``},
		{"and are counted as lines", "\xef\xbb\xbf" + strings.ReplaceAll(partHead+"blok: 2\n", "\n", "\r\n"), `
f.yaml:5:1: blok: unknown key
  5 | blok: 2
    | ^^^^
  did you mean block?`},
		{"lines end in CR alone", strings.ReplaceAll(partHead+"blok: 2\n", "\n", "\r"), `
f.yaml:5:1: blok: unknown key
  5 | blok: 2
    | ^^^^
  did you mean block?`},
		{"a document may be marked", "---\n" + blockHead + "...\n", ``},
		{"a second document", blockHead + "---\nformat: 1\n", `
f.yaml:8:1: a second document in one file: one part, shop or project a file
  8 | format: 1
    | ^`},
		{"a second document after an end", blockHead + "...\nformat: 1\n", `
f.yaml:8:1: a second document in one file: one part, shop or project a file
  8 | format: 1
    | ^`},
		{"alias bomb", "format: 1\na: &a [x, x, x]\nb: &b [*a, *a, *a]\nc: [*b, *b, *b]\n", `
f.yaml:2:4: an anchor (&): not used in these files: write the value itself (in quotes if it is a text)
  2 | a: &a [x, x, x]
    |    ^
f.yaml:3:4: an anchor (&): not used in these files: write the value itself (in quotes if it is a text)
  3 | b: &b [*a, *a, *a]
    |    ^
f.yaml:3:8: an alias (*): not used in these files: write the value itself (in quotes if it is a text)
  3 | b: &b [*a, *a, *a]
    |        ^
f.yaml:3:12: an alias (*): not used in these files: write the value itself (in quotes if it is a text)
  3 | b: &b [*a, *a, *a]
    |            ^
f.yaml:3:16: an alias (*): not used in these files: write the value itself (in quotes if it is a text)
  3 | b: &b [*a, *a, *a]
    |                ^
f.yaml:4:5: an alias (*): not used in these files: write the value itself (in quotes if it is a text)
  4 | c: [*b, *b, *b]
    |     ^
f.yaml:4:9: an alias (*): not used in these files: write the value itself (in quotes if it is a text)
  4 | c: [*b, *b, *b]
    |         ^
f.yaml:4:13: an alias (*): not used in these files: write the value itself (in quotes if it is a text)
  4 | c: [*b, *b, *b]
    |             ^`},
		{"an alias where emphasis was meant", blockHead + "notes: *turn slowly*\n", `
f.yaml:7:8: an alias (*): not used in these files: write the value itself (in quotes if it is a text)
  7 | notes: *turn slowly*
    |        ^`},
		{"merge key", partHead + "block: {<<: {size: [1, 2, 3]}}\n", `
f.yaml:5:9: a merge key (<<): not used in these files: write the value itself (in quotes if it is a text)
  5 | block: {<<: {size: [1, 2, 3]}}
    |         ^`},
		{"tags", "format: !!int 1\npart: !!binary aGVsbG8=\n", `
f.yaml:1:9: a tag (!): not used in these files: write the value itself (in quotes if it is a text)
  1 | format: !!int 1
    |         ^
f.yaml:2:7: a tag (!): not used in these files: write the value itself (in quotes if it is a text)
  2 | part: !!binary aGVsbG8=
    |       ^`},
		{"a tag where an exclamation was meant", blockHead + "notes: !\n", `
f.yaml:7:8: a tag (!): not used in these files: write the value itself (in quotes if it is a text)
  7 | notes: !
    |        ^`},
		{"directive", "%YAML 1.2\n---\n" + blockHead, `
f.yaml:1:1: a directive (%): not used in these files: write the value itself (in quotes if it is a text)
  1 | %YAML 1.2
    | ^`},
		{"complex key", "? format\n: 1\n", `
f.yaml:1:1: a complex key (?): not used in these files: write the value itself (in quotes if it is a text)
  1 | ? format
    | ^`},
		{"NUL", partHead + "notes: \x00\n", `f.yaml: line 5 holds a NUL byte: this is not a text file`},
		{"UTF-16 is full of NUL", "f\x00o\x00r\x00", `f.yaml: line 1 holds a NUL byte: this is not a text file`},
		{"invalid UTF-8", partHead + "notes: 20 \xb0C\n", `f.yaml: line 5 is not UTF-8: save the file as UTF-8`},
		{
			"control character", partHead + "notes: \x1b[31m\n",
			`f.yaml: line 5 holds a control character: this is not a text file`,
		},
		{"control character by its escape", blockHead + "notes: \"\\e[31m\"\n", `
f.yaml:7:8: notes: "\x1b[31m": holds a character that cannot be printed
  7 | notes: "\e[31m"
    |        ^^^^^^^^`},
		{"the same in a key", blockHead + "\"\\e[31m\": 1\n", `
f.yaml:7:1: "\x1b[31m": holds a character that cannot be printed
  7 | "\e[31m": 1
    | ^^^^^^^^`},
		{"empty", "", `f.yaml: is empty: the first line is format: 1`},
		{"comments alone", "# to be written\n", `f.yaml: is empty: the first line is format: 1`},
		{"a word", "plumb bob\n", `
f.yaml:1:1: must be a group of keys
  1 | plumb bob
    | ^^^^^^^^^`},
		{"a list", "- format: 1\n", `
f.yaml:1:1: must be a group of keys
  1 | - format: 1
    | ^`},

		{"null from an unquoted hash, in a list", shopHead + "taps:\n  - M8\n  - #10-24\n", `
f.yaml:6:5: taps: has no value: write a text; a # starts a comment: put the size in quotes, or write No (No7, No8-32)
  6 |   - #10-24
    |     ^^^^`},
		{"null from an unquoted hash, of a key", blockHead + "  min_wall: #7\n", `
f.yaml:7:13: min_wall: has no value: write a length; a # starts a comment: put the size in quotes, or write No ` +
			`(No7, No8-32)
  7 |   min_wall: #7
    |             ^^`},
		{"an unquoted hash inside brackets", shopHead + "drills: [metric-0.5, #7, 3mm]\n", `
f.yaml:4:22: #7: a # starts a comment: put the size in quotes, or write No (No7, No8-32); as it is, the bracket ` +
			`before it has no end
  4 | drills: [metric-0.5, #7, 3mm]
    |                      ^^`},
		{"an unquoted hash inside braces", blockHead + "  holes:\n    - {at: [9, 9], dia: 5, spec: #10-24}\n", `
f.yaml:8:34: #10-24: a # starts a comment: put the size in quotes, or write No (No7, No8-32); as it is, the bracket ` +
			`before it has no end
  8 |     - {at: [9, 9], dia: 5, spec: #10-24}
    |                                  ^^^^^^`},
		{"in quotes a hash is a hash", shopHead + "drills: [\"#7\"]\ntaps: [\"#10-24\"]\n", ``},
		{"null by name", partHead + "block: {size: [~, null, 3]}\n", `
f.yaml:5:16: size: has no value: write a length
  5 | block: {size: [~, null, 3]}
    |                ^
f.yaml:5:19: size: has no value: write a length
  5 | block: {size: [~, null, 3]}
    |                   ^^^^`},
		{"null for nothing", "format: 1\npart:\nunits: mm\nmaterial: brass\nblock:\n", `
f.yaml:2:6: part: has no value: write a text
  2 | part:
    |      ^
f.yaml:5:8: block: has no keys under it
  5 | block:
    |       ^`},

		{"numbers that other readers read otherwise", partHead + "block: {size: [0x10, 0o10, 1_000]}\n", `
f.yaml:5:16: size: x10: not a unit of length in 0x10: write mm, cm, um, in or thou
  5 | block: {size: [0x10, 0o10, 1_000]}
    |                ^^^^
f.yaml:5:22: size: o10: not a unit of length in 0o10: write mm, cm, um, in or thou
  5 | block: {size: [0x10, 0o10, 1_000]}
    |                      ^^^^
f.yaml:5:28: size: 1_000: not a length: write 12.5mm, 0.5in, 3/8in, 1-3/8in or 10thou
  5 | block: {size: [0x10, 0o10, 1_000]}
    |                            ^^^^^`},
		{"exponents and what is no number", partHead + "block: {size: [1e3, .inf, .nan]}\n", `
f.yaml:5:16: size: e3: not a unit of length in 1e3: write mm, cm, um, in or thou
  5 | block: {size: [1e3, .inf, .nan]}
    |                ^^^
f.yaml:5:21: size: .inf: not a length: write 12.5mm, 0.5in, 3/8in, 1-3/8in or 10thou
  5 | block: {size: [1e3, .inf, .nan]}
    |                     ^^^^
f.yaml:5:27: size: .nan: not a length: write 12.5mm, 0.5in, 3/8in, 1-3/8in or 10thou
  5 | block: {size: [1e3, .inf, .nan]}
    |                           ^^^^`},
		{"a sign before a number", partHead + "block: {size: [+5, 5, -5]}\n", `
f.yaml:5:16: size: +5: not a length: write 12.5mm, 0.5in, 3/8in, 1-3/8in or 10thou
  5 | block: {size: [+5, 5, -5]}
    |                ^^
f.yaml:5:23: size: -5: a size must be above 0
  5 | block: {size: [+5, 5, -5]}
    |                       ^^`},
		{"yes, on and 1 for true", partHead + "stress_relief: on\nblock: {size: [1, 2, 3]}\n", `
f.yaml:5:16: stress_relief: on: write true or false
  5 | stress_relief: on
    |                ^^`},

		{"a decimal comma", blockHead + "  min_wall: 1,5\n", `
f.yaml:7:13: min_wall: 1,5: a comma is not read as a decimal point: write 1.5
  7 |   min_wall: 1,5
    |             ^^^`},
		{"a decimal comma inside braces", blockHead + "  holes: [{at: [9, 9], dia: 4,2}]\n", `
f.yaml:7:29: dia: 4,2: a comma is not read as a decimal point: write 4.2
  7 |   holes: [{at: [9, 9], dia: 4,2}]
    |                             ^^^`},
		{"with a unit", shopHead + "mill: {motor: 0,75kW, spindle: {from: 100, to: 2000}}\n", `
f.yaml:4:15: motor: 0,75kW: a comma is not read as a decimal point: write 0.75kW
  4 | mill: {motor: 0,75kW, spindle: {from: 100, to: 2000}}
    |               ^^^^^^`},
		{"a comma with a blank is a comma", blockHead + "  holes: [{at: [9, 9], dia: 4, 2}]\n", `
f.yaml:7:32: 2: unknown key: the keys here are at, face, dia, depth, spec, fit, tol
  7 |   holes: [{at: [9, 9], dia: 4, 2}]
    |                                ^`},
		{"a decimal comma in a list of three", partHead + "block: {size: [64,5, 24, 16]}\n", `
f.yaml:5:15: size: 4 values: must be [x, y, z]; 64,5 was read as two numbers, for one write 64.5
  5 | block: {size: [64,5, 24, 16]}
    |               ^`},
		{"a decimal comma in a pair", partHead + "round: {profile: [[0, 20], [50,5, 20]]}\n", `
f.yaml:5:28: profile: 3 values: must be [z, diameter]; 50,5 was read as two numbers, for one write 50.5
  5 | round: {profile: [[0, 20], [50,5, 20]]}
    |                            ^`},

		{"a key twice", partHead + "part: Peg\nblock: {size: [1, 2, 3]}\n", `
f.yaml:5:1: part: stands here and on line 2: say it once
  5 | part: Peg
    | ^^^^`},
		{"a tab for an indent", partHead + "block:\n\tsize: [1, 2, 3]\n", `
f.yaml:6:1: a tab does not indent: use spaces
  6 |  size: [1, 2, 3]
    | ^`},
		{"a brace left open", partHead + "block: {size: [1, 2, 3]\n", `
f.yaml:5:8: this { has no }
  5 | block: {size: [1, 2, 3]
    |        ^`},
		{"a bracket left open", partHead + "block:\n  size: [1, 2, 3\n", `
f.yaml:6:9: this [ has no ]
  6 |   size: [1, 2, 3
    |         ^`},
		{"a quote left open", partHead + "notes: \"soon\n", `
f.yaml:5:8: this " has no second one
  5 | notes: "soon
    |        ^`},
		{"a colon in a text", partHead + "notes: to do: all of it\n", `
f.yaml:5:8: a second colon on one line, or keys that do not stand under one another: put a text with a colon in quotes
  5 | notes: to do: all of it
    |        ^`},
		{"a text of two lines where one is wanted", strings.Replace(blockHead, "Pin", "|\n  Pin\n  Peg", 1), `
f.yaml:2:7: part: "Pin\nPeg\n": must stand on one line
  2 | part: |
    |       ^`},
		{"a list for a number", partHead + "quantity: [1]\nblock: {size: [1, 2, 3]}\n", `
f.yaml:5:11: quantity: must be a whole number, not a list or a group of keys
  5 | quantity: [1]
    |           ^`},
		{"a number for a list", partHead + "block: {size: 12}\n", `
f.yaml:5:15: size: must be [x, y, z]
  5 | block: {size: 12}
    |               ^^`},
		{"a group for a list", blockHead + "  holes: {at: [1, 1], dia: 2}\n", `
f.yaml:7:10: holes: must be a list: put - before each
  7 |   holes: {at: [1, 1], dia: 2}
    |          ^`},
		{"words for a list of groups", blockHead + "  holes: [M6, M8]\n", `
f.yaml:7:11: holes: must be a group of keys
  7 |   holes: [M6, M8]
    |           ^^
f.yaml:7:15: holes: must be a group of keys
  7 |   holes: [M6, M8]
    |               ^^`},
		{"a word for a group", partHead + "block: cube\n", `
f.yaml:5:8: block: must be a group of keys
  5 | block: cube
    |        ^^^^`},
		{"a group for a note", blockHead + "notes: {a: b}\n", `
f.yaml:7:8: notes: must be a text, not a list or a group of keys
  7 | notes: {a: b}
    |        ^`},
	} {
		c.run(t)
	}
}

// 010 is ten, and 19 digits are 19 digits.
func TestNumbersComeAsWritten(t *testing.T) {
	p, _, err := files.ReadPart("f.yaml", []byte(partHead+"block: {size: [010, 0.1234567890123456789, '007']}\n"))
	if err != nil {
		t.Fatal(err)
	}
	for i, size := range []units.Length{p.Block.X, p.Block.Y, p.Block.Z} {
		want := []string{"10", "0.1234567890123456789", "7"}
		if got := size.Decimal().String(); got != want[i] {
			t.Errorf("size %d: got %s mm, want %s", i, got, want[i])
		}
	}
}

// Neighbours that could be one number are warned about where their count does
// not tell, and only there.
func TestCommaWarnings(t *testing.T) {
	const row = roundHead + "  rows: [{from: 10, web: 2, dias: %}]\n"
	const warned = "f.yaml:7:36: 3,2 was read as two numbers; for one write 3.2, for two put a space after the comma"
	for _, c := range []struct{ name, text, want string }{
		{"tight and loose", strings.Replace(row, "%", "[3,2, 1]", 1), warned},
		{"all tight", strings.Replace(row, "%", "[3,2,1]", 1), warned},
		{"all loose", strings.Replace(row, "%", "[3, 2, 1]", 1), ""},
		{"with decimals it cannot be", strings.Replace(row, "%", "[3.5,2.5]", 1), ""},
		{"on two lines it cannot be", strings.Replace(row, "%", "[3,\n    2]", 1), ""},
		{"a pair is two numbers", partHead + "round: {profile: [[0,20], [50,20]]}\n", ""},
		{"a size is three", partHead + "block: {size: [64,24,16]}\n", ""},
		{"teeth are no lengths", shopHead + "lathe: {change_gears: [20,25,30]}\n", ""},
		{
			"pilots are", shopHead + "centre_drills: [1, 2,5]\n",
			"f.yaml:4:20: 2,5 was read as two numbers; for one write 2.5, for two put a space after the comma",
		},
	} {
		w, err := read(c.text)
		got := ""
		for _, x := range w {
			got += x.Text.String()
			if x.Code != "decimal-comma" {
				t.Errorf("%s: code %s", c.name, x.Code)
			}
		}
		if err != nil || got != c.want {
			t.Errorf("%s: got %q, %v; want %q", c.name, got, err, c.want)
		}
	}
}

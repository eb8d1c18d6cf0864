package files_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/maker/files"
)

// Every refusal of a part file that is reading's own; what cannot be is tested
// with setup/maker/part.
func TestPartRefusals(t *testing.T) {
	for _, c := range []trial{
		{"a block", blockHead, ``},
		{"a round", roundHead, ``},
		{"nothing to be made of", partHead, `
f.yaml:1:1: needs round or block: what it is made of
  1 | format: 1
    | ^^^^^^`},
		{"round and block", roundHead + "block: {size: [1, 2, 3]}\n", `
f.yaml:1:1: has round and block: a part is one of them
  1 | format: 1
    | ^^^^^^`},
		{"an unknown material, and a drawing that cannot be", "format: 1\npart: Pin\nunits: mm\nmaterial: bras\n" +
			"round: {profile: [[0, 20], [50, 20]], stock: 19}\n", `
f.yaml:4:11: material: bras: not a material in the table
  4 | material: bras
    |           ^^^^
  did you mean brass?
f.yaml:5:8: stock: 19 mm: smaller than the part's largest diameter, 20 mm
  5 | round: {profile: [[0, 20], [50, 20]], stock: 19}
    |        ^`},
		{"no part of any size", partHead + "quantity: 0\nblock: {size: [0, -2, 3]}\n", `
f.yaml:5:11: quantity: 0: must be 1 to 10000
  5 | quantity: 0
    |           ^
f.yaml:6:16: size: 0: a size must be above 0
  6 | block: {size: [0, -2, 3]}
    |                ^
f.yaml:6:19: size: -2: a size must be above 0
  6 | block: {size: [0, -2, 3]}
    |                   ^^`},
		{"too many parts", blockHead + "quantity: 10001\n", `
f.yaml:7:11: quantity: 10001: must be 1 to 10000
  7 | quantity: 10001
    |           ^^^^^`},
		{"a process", blockHead + "processes: [polish, anneal]\n", `
f.yaml:7:21: processes: anneal: write harden, temper, etch, glue, polish or mark
  7 | processes: [polish, anneal]
    |                     ^^^^^^`},
		{"a point of three", partHead + "round: {profile: [[0, 20, 3], 50]}\n", `
f.yaml:5:19: profile: 3 values: must be [z, diameter]
  5 | round: {profile: [[0, 20, 3], 50]}
    |                   ^
f.yaml:5:31: profile: must be [z, diameter]
  5 | round: {profile: [[0, 20, 3], 50]}
    |                               ^^`},
		{"a profile that is no list", partHead + "round: {profile: 20}\n", `
f.yaml:5:18: profile: must be a list of [z, diameter], left to right
  5 | round: {profile: 20}
    |                  ^^`},
		{"an arc", roundHead + "  arcs: [{from: 0, to: 10, radius: 0, bulge: outward}]\n", `
f.yaml:7:36: radius: 0: a size must be above 0
  7 |   arcs: [{from: 0, to: 10, radius: 0, bulge: outward}]
    |                                    ^
f.yaml:7:46: bulge: outward: write out or in
  7 |   arcs: [{from: 0, to: 10, radius: 0, bulge: outward}]
    |                                              ^^^^^^^`},
		{"facets", roundHead + "  facets: [{sides: 1, from: 0, to: 10, across: flat}, {sides: 25, from: 0, to: 10, across: " +
			"flats}]\n", `
f.yaml:7:20: sides: 1: must be 2 to 24
  7 |   facets: [{sides: 1, from: 0, to: 10, across: flat}, {sides: 25, from
    |                    ^
f.yaml:7:48: across: flat: write flats or corners
  7 | sides: 1, from: 0, to: 10, across: flat}, {sides: 25, from: 0, to: 10,
    |                                    ^^^^
  did you mean flats?
f.yaml:7:63: sides: 25: must be 2 to 24
  7 |  0, to: 10, across: flat}, {sides: 25, from: 0, to: 10, across: flats}
    |                                    ^^`},
		{"a bore", roundHead + "  bores: [{from: top, dia: 0, depth: 5}]\n", `
f.yaml:7:18: from: top: write left or right
  7 |   bores: [{from: top, dia: 0, depth: 5}]
    |                  ^^^
f.yaml:7:28: dia: 0: a size must be above 0
  7 |   bores: [{from: top, dia: 0, depth: 5}]
    |                            ^`},
		{"a thread without its end", roundHead + "  threads: [{spec: M20, length: 10}]\n", `
f.yaml:7:13: from: is needed here: left or right: the end it starts at
  7 |   threads: [{spec: M20, length: 10}]
    |             ^`},
		{"a thread of both", roundHead + "  threads: [{from: left, spec: M20, length: 10, depth: 10}]\n", `
f.yaml:7:13: depth: and length: write length outside, depth inside
  7 |   threads: [{from: left, spec: M20, length: 10, depth: 10}]
    |             ^`},
		{"an inside thread's length", roundHead + "  threads: [{from: left, spec: M8, length: 10, inside: true}]\n", `
f.yaml:7:13: length: an inside thread has a depth
  7 |   threads: [{from: left, spec: M8, length: 10, inside: true}]
    |             ^`},
		{"an outside thread's depth", roundHead + "  threads: [{from: left, spec: M20, depth: 10}]\n", `
f.yaml:7:13: depth: an outside thread has a length; for one in a bore write inside: true
  7 |   threads: [{from: left, spec: M20, depth: 10}]
    |             ^`},
		{"a hole", roundHead + "  holes: [{at: 5, dia: -1, roll: 10x, crossing: true, through_thread: yes}]\n", `
f.yaml:7:24: dia: -1: a size must be above 0
  7 |   holes: [{at: 5, dia: -1, roll: 10x, crossing: true, through_thread: 
    |                        ^^
f.yaml:7:34: roll: x: not a unit of angle in 10x: write 6.25deg, 6d15m, 6d15m30s or 6°15'30"
  7 |   holes: [{at: 5, dia: -1, roll: 10x, crossing: true, through_thread: 
    |                                  ^^^
f.yaml:7:49: crossing: true: write ok, or leave the key out
  7 | : 5, dia: -1, roll: 10x, crossing: true, through_thread: yes}]
    |                                    ^^^^
f.yaml:7:71: through_thread: yes: write ok, or leave the key out
  7 | x, crossing: true, through_thread: yes}]
    |                                    ^^^`},
		{"a row of both", roundHead + "  rows: [{from: 5, dia: 2, dias: [2, 3], pitch: 5}]\n", `
f.yaml:7:10: dia: and dias: write one of them
  7 |   rows: [{from: 5, dia: 2, dias: [2, 3], pitch: 5}]
    |          ^`},
		{"a row", roundHead + "  rows: [{from: 5, dia: 2, count: 0, pitch: 0, rolls: 90}]\n", `
f.yaml:7:35: count: 0: must be 1 to 1000
  7 |   rows: [{from: 5, dia: 2, count: 0, pitch: 0, rolls: 90}]
    |                                   ^
f.yaml:7:45: pitch: 0: a size must be above 0
  7 |   rows: [{from: 5, dia: 2, count: 0, pitch: 0, rolls: 90}]
    |                                             ^
f.yaml:7:55: rolls: must be a list, such as [a, b]
  7 |   rows: [{from: 5, dia: 2, count: 0, pitch: 0, rolls: 90}]
    |                                                       ^^`},
		{"a slot", roundHead + "  slots: [{at: 5, length: 5}]\n", `
f.yaml:7:11: width: is needed here: its width
  7 |   slots: [{at: 5, length: 5}]
    |           ^`},
		{"a slope", blockHead + "  slopes: [{face: front, from_x: 1}]\n", `
f.yaml:7:12: to_x: is needed here: x where it ends
  7 |   slopes: [{face: front, from_x: 1}]
    |            ^
f.yaml:7:19: face: front: write top or bottom
  7 |   slopes: [{face: front, from_x: 1}]
    |                   ^^^^^`},
		{"faces", blockHead + "  slots: [{face: under, at: [5, 5], length: 4, width: 2}]\n" +
			"  holes:\n    - {face: left, at: [25, 5], dia: 4}\n    - {face: left, at: [5, 5], dia: 4, depth: 64}\n", `
f.yaml:7:18: face: under: write top, bottom, front, back, left or right
  7 |   slots: [{face: under, at: [5, 5], length: 4, width: 2}]
    |                  ^^^^^
f.yaml:9:7: at: [25 mm, 5 mm]: beyond the block, 24 mm by 16 mm
  9 |     - {face: left, at: [25, 5], dia: 4}
    |       ^
f.yaml:10:7: depth: 64 mm: as deep as the block is long, 64 mm: leave depth out to go through
  10 |     - {face: left, at: [5, 5], dia: 4, depth: 64}
     |       ^`},
		{"a block's hole", blockHead + "  holes: [{at: 5, dia: 4}, {at: [5], dia: 4}]\n", `
f.yaml:7:16: at: must be [x, y]
  7 |   holes: [{at: 5, dia: 4}, {at: [5], dia: 4}]
    |                ^
f.yaml:7:33: at: 1 value: must be [x, y]
  7 |   holes: [{at: 5, dia: 4}, {at: [5], dia: 4}]
    |                                 ^`},
		{"one hole is wrong, and of the others one cannot be", blockHead + "  holes:\n    - {at: [5, 5], dia: 4mmm}\n" +
			"    - {at: [5, 5], dia: 4}\n    - {at: [5, 25], dia: 4}\n", `
f.yaml:8:25: dia: mmm: not a unit of length in 4mmm: write mm, cm, um, in or thou
  8 |     - {at: [5, 5], dia: 4mmm}
    |                         ^^^^
  did you mean mm?
f.yaml:10:7: at: [5 mm, 25 mm]: beyond the block, 64 mm by 24 mm
  10 |     - {at: [5, 25], dia: 4}
     |       ^`},
		{"an unknown key, and a hole that cannot be", blockHead + "  hole: []\n  holes: [{at: [5, 25], dia: 4}]\n", `
f.yaml:7:3: hole: unknown key
  7 |   hole: []
    |   ^^^^
  did you mean holes?
f.yaml:8:11: at: [5 mm, 25 mm]: beyond the block, 64 mm by 24 mm
  8 |   holes: [{at: [5, 25], dia: 4}]
    |           ^`},
		{"with a wrong profile nothing is measured against it", partHead + "round:\n  profile: [[0, 20], [50mmm, 20]]\n" +
			"  holes: [{at: 90, dia: 4}]\n", `
f.yaml:6:23: profile: mmm: not a unit of length in 50mmm: write mm, cm, um, in or thou
  6 |   profile: [[0, 20], [50mmm, 20]]
    |                       ^^^^^
  did you mean mm?`},
	} {
		c.run(t)
	}
}

// A file of another kind is said to be one, and no more.
func TestOtherKind(t *testing.T) {
	const shop = "format: 1\nshop: Shed\nunits: mm\n"
	_, _, err := files.ReadPart("f.yaml", []byte(shop))
	if got, want := fmt.Sprint(err), "f.yaml:2:1: this is a shop file, and a part file is wanted\n  2 | shop: Shed\n"+
		"    | ^^^^"; got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
	_, _, err = files.ReadShop("f.yaml", []byte(blockHead))
	if got, want := fmt.Sprint(err), "f.yaml:2:1: this is a part file, and a shop file is wanted\n  2 | part: Pin\n"+
		"    | ^^^^"; got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

// project writes a folder with two parts and a project file, and reads it.
func project(t *testing.T, text string) (dir string, err error) {
	t.Helper()
	dir = t.TempDir()
	for name, text := range map[string]string{
		"body.yaml": roundHead, "cap.yaml": roundHead, "wrong.yaml": roundHead + "  holes: [{at: 90, dia: 4}]\n",
		"../outside.yaml": roundHead, "sub/pin.yaml": blockHead, "p.yaml": "format: 1\nproject: Bob\n" + text,
	} {
		file := filepath.Join(dir, "here", name)
		if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	dir = filepath.Join(dir, "here")
	for link, to := range map[string]string{"link.yaml": "../outside.yaml", "inner.yaml": "body.yaml", "up": ".."} {
		if err := os.Symlink(to, filepath.Join(dir, link)); err != nil {
			t.Skip("no symbolic links here: ", err)
		}
	}
	t.Chdir(dir)
	_, _, err = files.Project("p.yaml")
	return dir, err
}

func TestProject(t *testing.T) {
	for _, c := range []trial{
		{"two parts that meet", "parts: {body: body.yaml, cap: cap.yaml}\nfits:\n" +
			"  - {screw: cap, into: body, thread: M16x1.5, align: facets}\n  - {seat: ring, on: body, bore: 22}\n", ``},
		{
			"a part below, and a link that stays", "parts: {body: sub/pin.yaml, cap: inner.yaml, same: ./sub/../cap.yaml}\n",
			``,
		},
		{"above", "parts: {body: ../outside.yaml}\n", `
p.yaml:3:15: body: ../outside.yaml: leaves the project's folder: a part lies beside the project file or below it
  3 | parts: {body: ../outside.yaml}
    |               ^^^^^^^^^^^^^^^`},
		{"above by way of below", "parts: {body: sub/../../outside.yaml}\n", `
p.yaml:3:15: body: sub/../../outside.yaml: leaves the project's folder: a part lies beside the project file or below it
  3 | parts: {body: sub/../../outside.yaml}
    |               ^^^^^^^^^^^^^^^^^^^^^^`},
		{"absolute", "parts: {body: /etc/passwd}\n", `
p.yaml:3:15: body: /etc/passwd: leaves the project's folder: a part lies beside the project file or below it
  3 | parts: {body: /etc/passwd}
    |               ^^^^^^^^^^^`},
		{"a link that leaves", "parts: {body: link.yaml, cap: up/outside.yaml}\n", `
p.yaml:3:15: body: link.yaml: leaves the project's folder: a part lies beside the project file or below it
  3 | parts: {body: link.yaml, cap: up/outside.yaml}
    |               ^^^^^^^^^
p.yaml:3:31: cap: up/outside.yaml: leaves the project's folder: a part lies beside the project file or below it
  3 | parts: {body: link.yaml, cap: up/outside.yaml}
    |                               ^^^^^^^^^^^^^^^`},
		{"a part with a problem", "parts: {body: body.yaml, cap: wrong.yaml}\n", `
wrong.yaml:7:11: at: 90 mm: beyond the part, which is 50 mm long
  7 |   holes: [{at: 90, dia: 4}]
    |           ^`},
		{"itself", "parts: {body: p.yaml}\n", `
p.yaml:2:1: this is a project file, and a part file is wanted
  2 | project: Bob
    | ^^^^^^^`},
		{"no parts", "parts: {}\n", `
p.yaml:3:8: parts: must be a group of names with files: {body: body.yaml}
  3 | parts: {}
    |        ^`},
		{"a list of parts", "parts: [body.yaml]\n", `
p.yaml:3:8: parts: must be a group of names with files: {body: body.yaml}
  3 | parts: [body.yaml]
    |        ^`},
		{"a part without a file", "parts: {body: }\n", `
p.yaml:3:14: body: has no value: write a text
  3 | parts: {body: }
    |              ^^`},
		{"names", "parts: {body: body.yaml, cap: cap.yaml}\nfits:\n  - {screw: capp, into: bdy, thread: M16}\n" +
			"  - {seat: ring, on: stem, bore: 22}\n", `
p.yaml:5:5: screw: capp: no such part of this project: body, cap
  5 |   - {screw: capp, into: bdy, thread: M16}
    |     ^
  did you mean cap?
p.yaml:5:5: into: bdy: no such part of this project: body, cap
  5 |   - {screw: capp, into: bdy, thread: M16}
    |     ^
  did you mean body?
p.yaml:6:5: on: stem: no such part of this project: body, cap
  6 |   - {seat: ring, on: stem, bore: 22}
    |     ^`},
		{"half fits", "parts: {body: body.yaml}\nfits:\n  - {screw: body}\n  - {seat: ring, on: body}\n" +
			"  - {screw: body, into: body}\n  - {screw: body, into: body, seat: ring, on: body, thread: M6, bore: 2}\n" +
			"  - {screw: body, into: body, thread: M6, align: holse}\n", `
p.yaml:5:5: fits: a fit is screw with into, or seat with on
  5 |   - {screw: body}
    |     ^
p.yaml:6:5: bore: a seat needs its bore
  6 |   - {seat: ring, on: body}
    |     ^
p.yaml:7:5: thread: a screwed fit needs its thread
  7 |   - {screw: body, into: body}
    |     ^
p.yaml:8:5: fits: a fit is screw with into, or seat with on
  8 |   - {screw: body, into: body, seat: ring, on: body, thread: M6, bore: 
    |     ^
p.yaml:9:50: align: holse: write facets or holes
  9 |   - {screw: body, into: body, thread: M6, align: holse}
    |                                                  ^^^^^
  did you mean holes?`},
		{"a fit of nothing", "parts: {body: body.yaml}\nfits: [{align: facets}]\n", `
p.yaml:4:8: fits: a fit is screw with into, or seat with on
  4 | fits: [{align: facets}]
    |        ^`},
		{"a part file", "part: Pin\n", `
p.yaml:1:1: parts: is needed here: a name of your own for each part, and its file beside this one or below
  1 | format: 1
    | ^^^^^^
p.yaml:3:1: part: unknown key
  3 | part: Pin
    | ^^^^
  did you mean parts?`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := project(t, c.text)
			got := ""
			if err != nil {
				got = err.Error()
			}
			if want := trimmed(c.want); got != want {
				t.Errorf("%s\n--- got\n%s\n--- want\n%s", c.name, got, want)
			}
		})
	}
}

// A part that is not there is the system's error, not a problem of the text.
func TestProjectMissingPart(t *testing.T) {
	_, err := project(t, "parts: {body: none.yaml}\n")
	var l problem.List
	if !errors.Is(err, os.ErrNotExist) || errors.As(err, &l) {
		t.Errorf("got %v", err)
	}
	if _, _, err := files.Project("none.yaml"); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("got %v", err)
	}
}

package limits_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/files"
	"setover/setup/maker/part"
	"setover/setup/plan/limits"
	"setover/setup/plan/outline"
)

func mm(text string) units.Length { return units.MustLength(text) }

// read reads a part of these lines under the usual head.
func read(t testing.TB, lines string) (*part.Part, *outline.Outline, error) {
	t.Helper()
	name := filepath.Join(t.TempDir(), "part.yaml")
	text := "format: 1\npart: Trial\nmaterial: mild-steel\n" + lines
	if !strings.Contains(lines, "units:") {
		text += "\nunits: mm\n"
	}
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	p, _, err := files.Part(name)
	if err != nil {
		return nil, nil, err
	}
	return p, drawn(t, p), nil
}

// load is read of a part that is right.
func load(t testing.TB, lines string) (*part.Part, *outline.Outline) {
	t.Helper()
	p, o, err := read(t, lines)
	if err != nil {
		t.Fatal(err)
	}
	return p, o
}

func drawn(t testing.TB, p *part.Part) *outline.Outline {
	t.Helper()
	if p.Round == nil {
		return nil
	}
	o, err := outline.New(p.Round)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

func of(t testing.TB, lines string) (*limits.Limits, *outline.Outline) {
	t.Helper()
	p, o := load(t, lines)
	l, err := limits.Of(p, o)
	if err != nil {
		t.Fatal(err)
	}
	return l, o
}

// digits returns a length in mm with at most six decimals.
func digits(l units.Length) string {
	return strings.TrimSuffix(strings.TrimRight(l.Fixed(units.MM, 6, units.Nearest), "0"), ".")
}

// told returns a dimension as a line: kind, feature, stretch, size and limits,
// those of an angle in thousandths of a degree.
func told(d limits.Dimension) string {
	place := digits(d.From)
	if !d.From.Equal(d.To) {
		place += "-" + digits(d.To)
	}
	figures := fmt.Sprintf("%s: %s to %s", digits(d.Drawn), digits(d.Low), digits(d.High))
	if d.Kind == limits.Angle {
		figures = fmt.Sprintf("%.4f deg: %.4f to %.4f", d.DrawnAngle.Deg(), d.LowAngle.Deg(), d.HighAngle.Deg())
	}
	return fmt.Sprintf("%s %s %s: %s (%s)", d.Kind, d.Feature, place, figures, d.Why.In(say.MM))
}

// compare reports where two lists of lines part.
func compare(t *testing.T, name string, got []string, want string) {
	t.Helper()
	lines := strings.Split(strings.TrimSpace(want), "\n")
	for i := range max(len(got), len(lines)) {
		g, w := "nothing", "nothing"
		if i < len(got) {
			g = got[i]
		}
		if i < len(lines) {
			w = strings.TrimSpace(lines[i])
		}
		if g != w {
			t.Errorf("%s:\ngot  %s\nwant %s", name, g, w)
		}
	}
}

func all(l *limits.Limits) []string {
	var list []string
	for _, d := range l.All() {
		list = append(list, told(d))
	}
	return list
}

// Worked by hand from ISO 2768-1's table 1: medium is 0.1 up to 6 mm, 0.2 to 30,
// 0.3 to 120 and 0.5 to 400. The threads' limits are those that ISO 965 tables
// print: M8 6H 7.188 to 7.348, M16x1.5 6g 15.732 to 15.968 and 14.854 to 14.994.
// An octagon that is drawn across its flats has no diameters, and a thread's
// cylinder is held by the thread.
func TestBobByHand(t *testing.T) {
	p, _, err := files.Part("../../../testdata/plumb-bob.yaml")
	if err != nil {
		t.Fatal(err)
	}
	l, err := limits.Of(p, drawn(t, p))
	if err != nil {
		t.Fatal(err)
	}
	compare(t, "bob", all(l)[:18], `
		length length 0-124: 124: 123.5 to 124.5 (ISO 2768-1, medium)
		place shoulder-1 14: 14: 13.8 to 14.2 (ISO 2768-1, medium)
		diameter outside-2 10-14: 16: 15.8 to 16.2 (ISO 2768-1, medium)
		diameter outside-3 14-48: 32: 31.7 to 32.3 (ISO 2768-1, medium)
		across-flats facets-1 48: 32: 31.7 to 32.3 (ISO 2768-1, medium)
		across-flats facets-1 92: 20: 19.8 to 20.2 (ISO 2768-1, medium)
		taper-end outside-5 92: 20: 19.8 to 20.2 (ISO 2768-1, medium)
		taper-end outside-5 124: 6: 5.9 to 6.1 (ISO 2768-1, medium)
		thread thread-1 0-12: 7.188101: 7.188 to 7.348 (class 6H)
		thread-blank thread-2 0-10: 16: 15.732 to 15.968 (turned for M16x1.5)
		thread thread-2 0-10: 15.025721: 14.854 to 14.994 (class 6g)
		bore bore-1 0-18: 6.8: 6.6 to 7 (ISO 2768-1, medium)
		depth bore-1 0-18: 18: 17.8 to 18.2 (ISO 2768-1, medium)
		hole hole-1 31: 4: 3.9 to 4.1 (ISO 2768-1, medium)
		place hole-1 31: 31: 30.7 to 31.3 (ISO 2768-1, medium)
		hole hole-2 58: 5: 4.9 to 5.1 (ISO 2768-1, medium)
		place hole-2 58: 58: 57.7 to 58.3 (ISO 2768-1, medium)
		hole hole-3 66.5: 4: 3.9 to 4.1 (ISO 2768-1, medium)`)
}

// A part with everything on it that can be limited, by hand. Fine is 0.05 up to
// 6 mm, 0.1 to 30 and 0.15 to 120, and 0.2 on a chamfer up to 3. ISO 286: g6 is
// -6 and -17 um from 10 to 18 mm, h6 0 and -13 from 18 to 30, H7 +15 and 0 from
// 6 to 10, JS9 half of 30 either way from 3 to 6. ISO 965: M16 6g 15.682 to
// 15.962 and 14.503 to 14.663. The square is 14/√2 = 9.899495 across its flats.
// The taper falls 4 over 40: atan(0.05) = 2.8624 deg, and 4' are 0.0667.
func TestEveryKindByHand(t *testing.T) {
	l, _ := of(t, `
general: fine
round:
  profile: [[0, 14], [20, 14], [20, 24], [60, 20], [70, 20], [70, 16], [100, 16]]
  facets:
    - {sides: 4, from: 2, to: 18, across: corners}
    - {sides: 2, from: 62, to: 68, across: 10}
  bores:
    - {from: left, dia: 8, depth: 25, fit: H7}
    - {from: right, dia: 5, depth: 10, tol: [+0.1, +0.05]}
  threads:
    - {from: right, spec: M16, length: 12}
  holes:
    - {at: 80, dia: 4, fit: JS9, depth: 3}
  rows:
    - {from: 30, dias: [2, 7], pitch: 12, rolls: [0], tol: 0.02}
  slots:
    - {at: 45, length: 8, width: 3, depth: 2}
  chamfers:
    - {at: 0, size: 1}
    - {at: 100, size: 0.4}
  limits:
    - {at: 1, fit: g6}
    - {at: 60, fit: h6}
    - {from: 0, to: 100, tol: [0, -0.1]}
    - {from: 0, to: 20, tol: 0.05}
    - {from: 20, to: 60, angle: 4'}
    - {from: 20, to: 70, tol: 0.08}
`)
	compare(t, "everything", all(l), `
		length length 0-100: 100: 99.9 to 100 (as written)
		length length-4 0-20: 20: 19.95 to 20.05 (as written)
		length length-6 20-70: 50: 49.92 to 50.08 (as written)
		place shoulder-1 20: 20: 19.95 to 20.05 (as written)
		place shoulder-2 70: 70: 69.85 to 70.15 (ISO 2768-1, fine)
		diameter outside-1 0-2: 14: 13.983 to 13.994 (fit g6)
		diameter outside-2 2-18: 14: 13.983 to 13.994 (fit g6)
		across-flats facets-1 2-18: 9.899495: 9.799495 to 9.999495 (ISO 2768-1, fine)
		diameter outside-3 18-20: 14: 13.983 to 13.994 (fit g6)
		taper-end outside-4 20: 24: 23.9 to 24.1 (ISO 2768-1, fine)
		taper-end outside-4 60: 20: 19.987 to 20 (fit h6)
		diameter outside-5 60-62: 20: 19.987 to 20 (fit h6)
		diameter outside-6 62-68: 20: 19.987 to 20 (fit h6)
		across-flats facets-2 62-68: 10: 9.9 to 10.1 (ISO 2768-1, fine)
		diameter outside-7 68-70: 20: 19.987 to 20 (fit h6)
		diameter outside-8 70-88: 16: 15.9 to 16.1 (ISO 2768-1, fine)
		angle outside-4 20-60: 2.8624 deg: 2.7957 to 2.9291 (as written)
		thread-blank thread-1 88-100: 16: 15.682 to 15.962 (turned for M16)
		thread thread-1 88-100: 14.700962: 14.503 to 14.663 (class 6g)
		bore bore-1 0-25: 8: 8 to 8.015 (fit H7)
		depth bore-1 0-25: 25: 24.9 to 25.1 (ISO 2768-1, fine)
		bore bore-2 90-100: 5: 5.05 to 5.1 (as written)
		depth bore-2 90-100: 10: 9.9 to 10.1 (ISO 2768-1, fine)
		hole hole-1 80: 4: 3.985 to 4.015 (fit JS9)
		depth hole-1 80: 3: 2.95 to 3.05 (ISO 2768-1, fine)
		place hole-1 80: 80: 79.85 to 80.15 (ISO 2768-1, fine)
		hole hole-2 30: 2: 1.98 to 2.02 (as written)
		place hole-2 30: 30: 29.9 to 30.1 (ISO 2768-1, fine)
		hole hole-3 42: 7: 6.98 to 7.02 (as written)
		place hole-3 42: 42: 41.85 to 42.15 (ISO 2768-1, fine)
		length slot-1 41-49: 8: 7.9 to 8.1 (ISO 2768-1, fine)
		length slot-1 41-49: 3: 2.95 to 3.05 (ISO 2768-1, fine)
		depth slot-1 41-49: 2: 1.95 to 2.05 (ISO 2768-1, fine)
		place slot-1 45: 45: 44.85 to 45.15 (ISO 2768-1, fine)
		length chamfer-1 0: 1: 0.8 to 1.2 (ISO 2768-1, fine)
		length chamfer-2 100: 0.4: 0.3 to 0.5 (common practice below 0.5 mm)`)
}

// What is asked for by features comes back as All has it, and what the part has
// not as no dimension. Coarse is 0.2 up to 3 mm, 0.3 to 6, 0.5 to 30 and 0.8 to
// 120. The taper falls 20 over 40: 25 at z 60, 15 at z 80, atan(1/4) = 14.0362.
func TestLookups(t *testing.T) {
	l, o := of(t, `
general: coarse
round:
  profile: [[0, 16], [20, 16], [20, 30], [50, 30], [90, 10]]
  facets: [{sides: 6, from: 60, to: 80, across: flats}, {sides: 6, from: 30, to: 40, across: flats}]
  bores: [{from: left, dia: 8, through: true}, {from: left, dia: 10, depth: 5}]
  threads: [{from: left, spec: M16, length: 10}, {from: left, spec: 3/8-16 UNC, depth: 5, inside: true}]
  holes: [{at: 45, dia: 3, depth: 4}]
  slots: [{at: 45, length: 8, width: 3, depth: 2}]
  chamfers: [{at: 20, size: 2}]
  limits: [{from: 50, to: 90, angle: 0.5}, {from: 20, to: 50, tol: 1}]
`)
	cone := o.Stretches[6]
	angle, ok := l.HalfAngle(cone)
	_, cylinder := l.HalfAngle(o.Stretches[0])
	if !ok || cylinder {
		t.Error("the half angle is that of the taper")
	}
	far, err := l.General(limits.Place, "slot-1", outline.Span{From: mm("49"), To: mm("49")}, mm("49"))
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		what, want string
		got        limits.Dimension
	}{
		{"length", "length length 0-90: 90: 89.2 to 90.8 (ISO 2768-1, coarse)", l.Length()},
		{"lengths", "length length-2 20-50: 30: 29 to 31 (as written)", l.Lengths()[0]},
		{"shoulder", "place shoulder-1 20: 20: 19.5 to 20.5 (ISO 2768-1, coarse)", l.Shoulder(o.Shoulders[0])},
		{"outside", "diameter outside-2 10-20: 16: 15.5 to 16.5 (ISO 2768-1, coarse)", l.Outside(o.Stretches[1])},
		{"under the thread", "", l.Outside(o.Stretches[0])},
		{"of the octagon", "", l.Outside(o.Stretches[3])},
		{"at z 20", "diameter outside-3 20-30: 30: 29.5 to 30.5 (ISO 2768-1, coarse)", l.Diameter(mm("20"))},
		{"at z 10", "diameter outside-2 10-20: 16: 15.5 to 16.5 (ISO 2768-1, coarse)", l.Diameter(mm("10"))},
		{"at z 30", "diameter outside-3 20-30: 30: 29.5 to 30.5 (ISO 2768-1, coarse)", l.Diameter(mm("30"))},
		{"at z 5", "", l.Diameter(mm("5"))},
		{"at z 70", "", l.Diameter(mm("70"))},
		{"beyond", "", l.Diameter(mm("91"))},
		{"left end", "taper-end outside-6 50: 30: 29.5 to 30.5 (ISO 2768-1, coarse)", l.TaperEnd(o.Stretches[5], part.Left)},
		{"cut", "taper-end outside-6 60: 25: 24.5 to 25.5 (ISO 2768-1, coarse)", l.TaperEnd(o.Stretches[5], part.Right)},
		{"facets", "", l.TaperEnd(o.Stretches[6], part.Left)},
		{"angle", "angle outside-6 50-90: 14.0362 deg: 13.5362 to 14.5362 (as written)", angle},
		{"flats", "across-flats facets-2 30-40: 30: 29.5 to 30.5 (ISO 2768-1, coarse)", l.Flats(o.Stretches[3], part.Left)},
		{"flats", "across-flats facets-2 30-40: 30: 29.5 to 30.5 (ISO 2768-1, coarse)", l.Flats(o.Stretches[3], part.Right)},
		{"left flats", "across-flats facets-1 60: 25: 24.5 to 25.5 (ISO 2768-1, coarse)", l.Flats(cone, part.Left)},
		{"right flats", "across-flats facets-1 80: 15: 14.5 to 15.5 (ISO 2768-1, coarse)", l.Flats(cone, part.Right)},
		{"no flats", "", l.Flats(o.Stretches[0], part.Left)},
		{"blank", "thread-blank thread-1 0-10: 16: 15.682 to 15.962 (turned for M16)", l.ThreadBlank(o.Threads[0])},
		{"no blank", "", l.ThreadBlank(o.Threads[1])},
		{"thread", "thread thread-2 0-5: 8.493889: 8.49376 to 8.63854 (class 2B)", l.Thread(o.Threads[1])},
		{"bore", "bore bore-2 0-5: 10: 9.5 to 10.5 (ISO 2768-1, coarse)", l.Bore(o.Bores[1])},
		{"its depth", "depth bore-2 0-5: 5: 4.7 to 5.3 (ISO 2768-1, coarse)", l.BoreDepth(o.Bores[1])},
		{"through", "", l.BoreDepth(o.Bores[0])},
		{"hole", "hole hole-1 45: 3: 2.8 to 3.2 (ISO 2768-1, coarse)", l.Hole(o.Holes[0])},
		{"its place", "place hole-1 45: 45: 44.2 to 45.8 (ISO 2768-1, coarse)", l.HolePlace(o.Holes[0])},
		{"its depth", "depth hole-1 45: 4: 3.7 to 4.3 (ISO 2768-1, coarse)", l.HoleDepth(o.Holes[0])},
		{"slot", "place slot-1 45: 45: 44.2 to 45.8 (ISO 2768-1, coarse)", l.SlotPlace(o.Slots[0])},
		{"its length", "length slot-1 41-49: 8: 7.5 to 8.5 (ISO 2768-1, coarse)", l.SlotLength(1)},
		{"its width", "length slot-1 41-49: 3: 2.8 to 3.2 (ISO 2768-1, coarse)", l.SlotWidth(1)},
		{"its depth", "depth slot-1 41-49: 2: 1.8 to 2.2 (ISO 2768-1, coarse)", l.SlotDepth(1)},
		{"its end", "place slot-1 49: 49: 48.2 to 49.8 (ISO 2768-1, coarse)", far},
		{"chamfer", "length chamfer-1 20: 2: 1.6 to 2.4 (ISO 2768-1, coarse)", l.Chamfer(1)},
		{"no chamfer", "", l.Chamfer(2)},
	} {
		got := ""
		if tc.got.Known() {
			got = told(tc.got)
		}
		if got != tc.want {
			t.Errorf("%s:\ngot  %s\nwant %s", tc.what, got, tc.want)
		}
	}
}

// A block, by hand. ISO 965 prints 5.35 to 5.5 for the pitch diameter of M6 6H.
func TestBlock(t *testing.T) {
	l, _ := of(t, `
block:
  size: [64, 24, 5]
  holes: [{at: [50, 12], dia: 4, fit: H8}, {at: [6, 12], dia: 5, depth: 2.5, spec: M6}]
  slots: [{at: [20, 12], length: 18, width: 6, depth: 1.5}]
`)
	x, y := l.BlockHolePlace(2)
	got := []string{
		told(l.BlockSize(outline.WholeLength)), told(l.BlockSize(outline.WholeWidth)), told(l.BlockSize(outline.WholeHeight)),
		told(l.BlockHole(1)), told(x), told(y), told(l.BlockHoleDepth(2)), told(l.BlockThread(2)),
		told(l.SlotLength(1)), told(l.SlotWidth(1)), told(l.SlotDepth(1)),
	}
	compare(t, "block", got, `
		length length 0-64: 64: 63.7 to 64.3 (ISO 2768-1, medium)
		length width 0-24: 24: 23.8 to 24.2 (ISO 2768-1, medium)
		length height 0-5: 5: 4.9 to 5.1 (ISO 2768-1, medium)
		hole hole-1 50: 4: 4 to 4.018 (fit H8)
		place hole-2 6: 6: 5.9 to 6.1 (ISO 2768-1, medium)
		place hole-2 12: 12: 11.8 to 12.2 (ISO 2768-1, medium)
		depth hole-2 6: 2.5: 2.4 to 2.6 (ISO 2768-1, medium)
		thread hole-2 6: 5.350481: 5.35 to 5.5 (class 6H)
		length slot-1 11-29: 18: 17.8 to 18.2 (ISO 2768-1, medium)
		length slot-1 11-29: 6: 5.9 to 6.1 (ISO 2768-1, medium)
		depth slot-1 11-29: 1.5: 1.4 to 1.6 (ISO 2768-1, medium)`)
	if l.BlockHoleDepth(1).Known() {
		t.Error("a hole through has a depth")
	}
}

// An inch part, by hand: the tables are entered in millimetres. 1/4 in are 6.35,
// 3/4 in 19.05, 1-1/4 in 31.75, 2 in 50.8; a tolerance of 0.001 in is 0.0254.
// ASME B1.1 prints 1/4-20 2A as 0.2408 to 0.2489 in and 0.2127 to 0.2164 over the
// pitch diameter, which is 0.25 - 0.649519/20 = 0.217524 in.
func TestInches(t *testing.T) {
	l, _ := of(t, `
units: in
round:
  profile: [[0, 1/4], [3/4, 1/4], [3/4, 1-1/4], [2, 1-1/4]]
  bores: [{from: right, dia: 3/8, depth: 1/2, tol: 0.001}]
  threads: [{from: left, spec: 1/4-20 UNC, length: 1/2}]
  limits:
    - {at: 1, tol: [0.002, 0]}
    - {from: 3/4, to: 2, tol: 10thou}
    - {at: 0.6, tol: 0.05mm}
`)
	compare(t, "inches", all(l), `
		length length 0-50.8: 50.8: 50.5 to 51.1 (ISO 2768-1, medium)
		length length-2 19.05-50.8: 31.75: 31.496 to 32.004 (as written)
		place shoulder-1 19.05: 19.05: 18.85 to 19.25 (ISO 2768-1, medium)
		diameter outside-2 12.7-19.05: 6.35: 6.3 to 6.4 (as written)
		diameter outside-3 19.05-50.8: 31.75: 31.75 to 31.8008 (as written)
		thread-blank thread-1 0-12.7: 6.35: 6.11632 to 6.32206 (turned for 1/4-20UNC)
		thread thread-1 0-12.7: 5.525111: 5.40258 to 5.49656 (class 2A)
		bore bore-1 38.1-50.8: 9.525: 9.4996 to 9.5504 (as written)
		depth bore-1 38.1-50.8: 12.7: 12.5 to 12.9 (ISO 2768-1, medium)`)
}

package render_test

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/render"
	"setover/setup/page/sheet"
)

// answer is a result made for these tests.
type answer struct {
	Length units.Length `json:"length_mm"`
	sheet.Remarks

	page  sheet.Sheet
	fails problem.List
}

func (a answer) Sheet() sheet.Sheet  { return a.page }
func (a answer) Fails() problem.List { return a.fails }

func draw(t testing.TB, a answer, look render.Look) string {
	t.Helper()
	b, err := render.Bytes(a, look)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// facts returns an answer of single values.
func facts(values ...sheet.Value) answer {
	var a answer
	a.page.Title = "Values"
	for i, v := range values {
		a.page.Facts = append(a.page.Facts, sheet.Fact{
			Key: fmt.Sprintf("v%d", i), Label: say.Of("value ", i),
			Value: v,
		})
	}
	return a
}

// How each kind of value is shown in mm and in inches, and written in CSV.
func TestValues(t *testing.T) {
	mm := units.MustLength
	for _, tc := range []struct {
		v               sheet.Value
		inMM, inch, csv string
	}{
		{mm("41.4213562mm").Nearest(), "41.421 mm", "1.6308 in", "41.4213562"},
		{mm("30mm").Nearest(), "30.00 mm", "1.1811 in", "30"},
		{mm("3/8in").Nearest(), "9.525 mm", "0.3750 in", "9.525"},
		{mm("10.0001mm").Up(), "10.001 mm", "0.3938 in", "10.0001"},
		{mm("10.0009mm").Down(), "10.00 mm", "0.3937 in", "10.0009"},
		{mm("-10.0009mm").Up(), "-10.00 mm", "-0.3937 in", "-10.0009"},
		{mm("0.001in").Marked(units.Inch), "0.001 in", "0.001 in", "0.0254"},
		{mm("0.0123mm").Fine(), "+0.0123 mm", "+0.00048 in", "0.0123"},
		{mm("-0.0123mm").Fine(), "-0.0123 mm", "-0.00048 in", "-0.0123"},
		{mm("0.00001mm").Fine(), "0.000 mm", "0.00000 in", "0.00001"},
		{mm("-0.00001mm").Fine(), "0.000 mm", "0.00000 in", "-0.00001"},
		{sheet.Deg(units.Degrees(6.25)), "6.250 deg", "6.250 deg", "6.25"},
		{sheet.Deg(units.Degrees(-0.0001)), "0.000 deg", "0.000 deg", "-0.0001"},
		{sheet.Ang(units.Degrees(12.8)), "12.800° (12°48')", "12.800° (12°48')", "12.8"},
		{sheet.Ang(units.Degrees(5.9999999)), "6.000° (6°00')", "6.000° (6°00')", "5.9999999"},
		{sheet.Ang(units.Degrees(0.1 + 0.2)), "0.300° (0°18')", "0.300° (0°18')", "0.3"},
		{sheet.Num(540, 0, "rpm"), "540 rpm", "540 rpm", "540"},
		{sheet.Num(math.Copysign(0, -1), 1, "W"), "0.0 W", "0.0 W", "0"},
		{sheet.Num(-0.04, 1, ""), "0.0", "0.0", "-0.04"},
		{sheet.Number{V: 0.25, Places: 1, Unit: "deg", Signed: true}, "+0.2 deg", "+0.2 deg", "0.25"},
		{sheet.Number{V: 0.04, Places: 1, Signed: true}, "0.0", "0.0", "0.04"},
		{sheet.Number{V: -0.26, Places: 1, Signed: true}, "-0.3", "-0.3", "-0.26"},
		{sheet.Count(8), "8", "8", "8"},
		{sheet.Text("clockwise"), "clockwise", "clockwise", "clockwise"},
		{sheet.Text("a\x1b[2Jb"), "a\ufffd[2Jb", "a\ufffd[2Jb", "a\x1b[2Jb"},
		{sheet.YesNo(true), "yes", "yes", "yes"},
		{sheet.YesNo(false), "no", "no", "no"},
	} {
		for u, want := range map[units.Unit]string{units.MM: tc.inMM, units.Inch: tc.inch} {
			if got := draw(t, facts(tc.v), render.Look{Format: render.Table, Units: u}); got != "Values\n\nvalue 0  "+want+"\n" {
				t.Errorf("%#v in %v:\n%swant %s", tc.v, u, got, want)
			}
		}
		for _, u := range []units.Unit{units.MM, units.Inch} { // CSV is in mm whatever is shown
			rows, err := csv.NewReader(strings.NewReader(draw(t, facts(tc.v, sheet.Text("end")),
				render.Look{Format: render.CSV, Units: u}))).ReadAll()
			if err != nil || rows[0][0] != "v0" || rows[1][0] != tc.csv {
				t.Errorf("%#v in CSV: %v, %v; want %s", tc.v, rows, err, tc.csv)
			}
		}
	}
}

// What does not exist has an empty cell under its key in CSV; people do not see
// it: neither a fact without a value nor a column that is hidden.
func TestWhatDoesNotExist(t *testing.T) {
	a := facts(nil, sheet.Count(2), nil)
	if got := draw(t, a, render.Look{Format: render.CSV}); got != "v0,v1,v2\n,2,\n" {
		t.Errorf("CSV:\n%s", got)
	}
	for f, want := range map[render.Format]string{
		render.Table:    "Values\n\nvalue 1  2\n",
		render.Markdown: "# Values\n\n| what  | value | remark |\n|:------|:----|:-----|\n| value 1 | 2   |      |\n",
	} {
		if got := draw(t, a, render.Look{Format: f}); got != want {
			t.Errorf("%s:\n%s\nwant\n%s", f, got, want)
		}
	}
	if got := draw(t, facts(nil), render.Look{Format: render.Table}); got != "Values\n" {
		t.Errorf("nothing to show:\n%q", got)
	}
	table := sheet.Table{Cols: []sheet.Column{{Key: "n", Head: "hole"}, {Key: "step_mm", Head: "step", Unseen: true}}}
	table.Add(sheet.Count(1), nil)
	a = answer{page: sheet.Sheet{Title: "Holes", Tables: []sheet.Table{table}}}
	if got := draw(t, a, render.Look{Format: render.CSV}); got != "n,step_mm\n1,\n" {
		t.Errorf("CSV:\n%s", got)
	}
	if got := draw(t, a, render.Look{Format: render.Table}); got != "Holes\n\nhole\n----\n   1\n" {
		t.Errorf("the table:\n%s", got)
	}
}

// What is shown never lies beyond the exact size in the direction that hurts.
func TestDirectionsNeverCross(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := units.MustLength(fmt.Sprintf("%d.%09dmm", rapid.IntRange(-200, 200).Draw(t, "mm"),
			rapid.IntRange(0, 999_999_999).Draw(t, "rest")))
		u := rapid.SampledFrom([]units.Unit{units.MM, units.Inch}).Draw(t, "unit")
		shown := func(v sheet.Value) units.Length {
			page, err := render.Bytes(facts(v), render.Look{Format: render.Table, Units: u})
			if err != nil {
				t.Fatal(err)
			}
			return units.MustLength(strings.TrimSpace(strings.TrimPrefix(string(page), "Values\n\nvalue 0 ")))
		}
		if up := shown(l.Up()); up.Less(l) {
			t.Fatalf("%v mm is shown as %v, smaller", l.Decimal(), up.Decimal())
		}
		if down := shown(l.Down()); l.Less(down) {
			t.Fatalf("%v mm is shown as %v, larger", l.Decimal(), down.Decimal())
		}
	})
}

// Every sentence and every word of a page is in its unit, what was given and
// why the answer is no too.
func TestWorded(t *testing.T) {
	half := say.Of(units.MustLength("0.5in"))
	text := half
	fact := []sheet.Fact{{Label: text, Value: half, Remark: text}}
	a := answer{
		page: sheet.Sheet{
			Title: text, Facts: fact, Notes: []sheet.Text{text}, Cautions: []sheet.Text{text},
			Warnings: sheet.Warnings{{Code: "a", Text: text}},
			Tables: []sheet.Table{{
				Title: text, Cols: []sheet.Column{{Head: text}}, Rows: [][]sheet.Value{{half}}, Check: []sheet.Value{half},
			}},
		},
		fails: problem.List{problem.New(problem.Missing, "wall", half, half)},
	}
	for u, want := range map[units.Unit]string{units.MM: "12.7 mm", units.Inch: "0.5 in"} {
		for _, f := range []render.Format{render.Table, render.Markdown} {
			got := draw(t, a, render.Look{Format: f, Units: u, Given: fact})
			if strings.Count(got, want) != 14 || strings.Contains(got, "\ue000") {
				t.Errorf("%s in %v: not 14 times %s:\n%s", f, u, want, got)
			}
		}
	}
}

// A number that is none is a defect, in every format.
func TestNoNumbers(t *testing.T) {
	for _, f := range []render.Format{render.Table, render.Markdown, render.CSV} {
		for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
			func() {
				defer func() {
					if r := recover(); r != "render: a number that is no number reached a sheet" {
						t.Errorf("%v as %s: recovered %v", v, f, r)
					}
				}()
				draw(t, facts(sheet.Num(v, 2, "mm")), render.Look{Format: f})
			}()
		}
	}
}

// A whole page on a terminal.
func TestTerminal(t *testing.T) {
	a := page()
	const want = `Row of holes
given: --pitch 12 (12.00 mm)
shop:  Garden shed (shed.yaml)

NO: wall: 0.2 mm: too thin

span  24.00 mm  first to last

From the left end
hole  at (mm)  drill
--------------------
   1    10.00  5 mm
   2    22.00  3/16
   3    34.00  -
--------------------
   1   -24.00

Working
  s = 2*p = 2*12 = 24 mm

Notes
- Counted from the datum.

warning: Hole 3 was not checked.

Caution
! Clamp the work.
`
	if got := draw(t, a, render.Look{
		Format: render.Table, Working: true, Given: given,
		Shop: "Garden shed (shed.yaml)",
	}); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if got := draw(t, a, render.Look{Format: render.Table}); strings.Contains(got, "Working") {
		t.Error("the working is shown without being asked for")
	}
	colored := draw(t, a, render.Look{Format: render.Table, Color: true})
	if !strings.HasPrefix(colored, "\x1b[1mRow of holes\x1b[0m\n") || !strings.Contains(colored, "───") {
		t.Errorf("no colour:\n%s", colored)
	}
	if plain := strings.NewReplacer("\x1b[1m", "", "\x1b[0m", "", "─", "-").Replace(colored); plain != draw(t, a,
		render.Look{Format: render.Table}) {
		t.Error("colour changes more than the colour")
	}
}

// Steps are numbered, and stand between the facts and the tables; what is behind
// the working is shown with it, and to machines always.
func TestSteps(t *testing.T) {
	a := page()
	a.page.Procedure = []sheet.Text{"Clamp it.", say.Of("Drill ", units.MustLength("25.4"), " deep, and clear the chips.")}
	a.page.Facts[0].Behind = true
	a.page.Tables, a.page.Notes, a.page.Cautions, a.page.Warnings, a.fails = nil, nil, nil, nil, nil
	for _, tc := range []struct {
		look render.Look
		want string
	}{
		{
			render.Look{Format: render.Table, Units: units.Inch, Width: 24},
			"Row of holes\n\nSteps\n1.  Clamp it.\n2.  Drill 1 in deep, and\n    clear the chips.\n",
		},
		{
			render.Look{Format: render.Table, Working: true},
			"Row of holes\n\nspan  24.00 mm  first to last\n\nSteps\n1.  Clamp it.\n" +
				"2.  Drill 25.4 mm deep, and clear the chips.\n\nWorking\n  s = 2*p = 2*12 = 24 mm\n",
		},
		{
			render.Look{Format: render.Markdown},
			"# Row of holes\n\n## Steps\n\n1. Clamp it.\n2. Drill 25.4 mm deep, and clear the chips.\n",
		},
		{render.Look{Format: render.CSV}, "span_mm,half_mm\n24,\n"},
	} {
		if got := draw(t, a, tc.look); got != tc.want {
			t.Errorf("%s: got\n%s\nwant\n%s", tc.look.Format, got, tc.want)
		}
	}
}

var given = []sheet.Fact{{Label: "--pitch 12", Value: units.MustLength("12").Nearest()}}

func page() answer {
	mm := units.MustLength
	table := sheet.Table{
		Title: "From the left end",
		Cols:  []sheet.Column{{Key: "n", Head: "hole"}, {Key: "at_mm", Head: "at"}, {Key: "drill", Head: "drill"}},
		Check: []sheet.Value{sheet.Count(1), mm("-24").Nearest(), sheet.Text("")},
	}
	table.Add(sheet.Count(1), mm("10").Nearest(), sheet.Text("5 mm"))
	table.Add(sheet.Count(2), mm("22").Nearest(), sheet.Text("3/16"))
	table.Add(sheet.Count(3), mm("34").Nearest(), nil)
	return answer{
		page: sheet.Sheet{
			Title: "Row of holes",
			Facts: []sheet.Fact{
				{Key: "span_mm", Label: "span", Value: mm("24").Nearest(), Remark: "first to last"},
				{Key: "half_mm", Label: "half", Value: nil},
			},
			Tables:   []sheet.Table{table},
			Working:  []sheet.Step{sheet.Work("s", "2*p", 24, "mm", sheet.Let("p", 12))},
			Notes:    []sheet.Text{"Counted from the datum."},
			Warnings: sheet.Warnings{{Code: "not-checked", Text: "Hole 3 was not checked."}},
			Cautions: sheet.Cautions{"Clamp the work."},
		},
		fails: problem.List{problem.New(problem.WallTooThin, "wall", "0.2 mm", "too thin")},
	}
}

// The same page as Markdown and as CSV.
func TestMarkdownAndCSV(t *testing.T) {
	const want = `# Row of holes

- Given: --pitch 12 (12.00 mm)
- Shop: Garden shed

## The answer is no

- wall: 0.2 mm: too thin

| what | value  | remark      |
|:---|:-------|:------------|
| span | 24.00 mm | first to last |

## From the left end

| hole | at (mm) | drill |
|---:|------:|:----|
|  1 | 10.00 | 5 mm |
|  2 | 22.00 | 3/16 |
|  3 | 34.00 | -   |
|  1 | -24.00 |     |

## Notes

- Counted from the datum.

## Warnings

- Hole 3 was not checked.

## Caution

- Clamp the work.
`
	got := draw(t, page(), render.Look{Format: render.Markdown, Given: given, Shop: "Garden shed"})
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if got := draw(t, page(), render.Look{Format: render.CSV, Units: units.Inch}); got != "n,at_mm,drill\n1,10,5 mm\n"+
		"2,22,3/16\n3,34,\n" {
		t.Errorf("CSV:\n%s", got)
	}
}

// Text cannot break out of a Markdown line, cell or heading.
func TestMarkdownEscaping(t *testing.T) {
	for _, tc := range []struct{ text, cell, bullet string }{
		{"a|b", `a\|b`, `a\|b`},
		{`a\|b`, `a\\\|b`, `a\\\|b`},
		{"two\nlines", "two lines", "two lines"},
		{"*bold* _it_", `\*bold\* \_it\_`, `\*bold\* \_it\_`},
		{"<b>&amp;", "&lt;b>&amp;amp;", "&lt;b>&amp;amp;"},
		{"[a](b)", `\[a\](b)`, `\[a\](b)`},
		{"`code`", "\\`code\\`", "\\`code\\`"},
		{"~~gone~~", `\~\~gone\~\~`, `\~\~gone\~\~`},
		{"#8-32", "#8-32", `\#8-32`},
		{"-5", "-5", `\-5`},
		{"> said", "> said", `\> said`},
		{"bell\x07", "bell\ufffd", "bell\ufffd"},
	} {
		a := facts(sheet.Text(tc.text))
		a.page.Title, a.page.Notes = sheet.Text(tc.text), []sheet.Text{sheet.Text(tc.text)}
		got := draw(t, a, render.Look{Format: render.Markdown})
		var cell string
		for _, l := range strings.Split(got, "\n") {
			if strings.Contains(l, "value 0") {
				cell = l
			}
		}
		if !strings.Contains(cell, tc.cell) || strings.Count(strings.ReplaceAll(strings.ReplaceAll(cell, `\\`, ""), `\|`,
			""), "|") != 4 {
			t.Errorf("%q in a cell: %s", tc.text, cell)
		}
		if !strings.HasPrefix(got, "# "+tc.cell+"\n") {
			t.Errorf("%q as a title: %s", tc.text, got)
		}
		if !strings.HasSuffix(got, "\n- "+tc.bullet+"\n") {
			t.Errorf("%q in a list: %s", tc.text, got)
		}
	}
}

// JSON is the result: empty lists are lists, text is text, the shop comes last.
func TestJSON(t *testing.T) {
	a := page()
	a.Length = units.MustLength("3/8in")
	got := draw(t, a, render.Look{Format: render.JSON, Units: units.Inch, Shop: `Shed <"&">`})
	const want = `{
  "length_mm": 9.525,
  "warnings": [],
  "cautions": [],
  "shop": "Shed <\"&\">"
}
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	a.Warnings.Add("not-checked", "a < b & c")
	a.Caution("Clamp the work.", "Clamp the work.", "Eyes.")
	var back struct {
		Warnings []struct{ Code, Text string }
		Cautions []string
	}
	text := draw(t, a, render.Look{Format: render.JSON})
	if err := json.Unmarshal([]byte(text), &back); err != nil {
		t.Fatal(err)
	}
	if fmt.Sprint(back) != "{[{not-checked a < b & c}] [Clamp the work. Eyes.]}" || !strings.Contains(text, "a < b & c") {
		t.Errorf("%v\n%s", back, text)
	}
	bad := struct {
		answer
		V units.Number `json:"v"`
	}{V: units.Number(math.NaN())}
	if text, err := render.Bytes(bad, render.Look{Format: render.JSON}); err == nil {
		t.Errorf("NaN was written: %s", text)
	}
}

// A table fits the terminal: its headings and words are wrapped first, and if
// that is not enough it is cut in two that share the first column.
func TestWidths(t *testing.T) {
	words := sheet.Table{Title: "Order of work", Cols: []sheet.Column{
		{Key: "n", Head: "step"},
		{Key: "because", Head: "because"},
		{Key: "time_min", Head: "time"},
	}}
	words.Add(sheet.Count(1), sheet.Text("the cross holes are drilled while the bar is still parallel and lies in "+
		"V-blocks, since the tapers leave nothing to hold"), sheet.Num(12, 0, "min"))
	words.Add(sheet.Count(2), sheet.Text("short"), sheet.Num(3, 0, "min"))
	var a answer
	a.page = sheet.Sheet{Title: "Words", Tables: []sheet.Table{words}}
	const wrapped = `Words

Order of work
step  because                                                       time (min)
------------------------------------------------------------------------------
   1  the cross holes are drilled while the bar is still parallel           12
      and lies in V-blocks, since the tapers leave nothing to hold
   2  short                                                                  3
`
	if got := draw(t, a, render.Look{Format: render.Table, Width: 80}); got != wrapped {
		t.Errorf("got\n%s\nwant\n%s", got, wrapped)
	}
	if got := draw(t, a, render.Look{Format: render.Table}); !strings.Contains(got,
		"V-blocks, since the tapers leave nothing to hold  ") {
		t.Errorf("a pipe has no width:\n%s", got)
	}

	a.page = sheet.Sheet{Title: "Numbers", Tables: []sheet.Table{numbers(4, "distance from jaws")}}
	const headings = `Numbers

hole     distance     distance     distance     distance
      from jaws 1  from jaws 2  from jaws 3  from jaws 4
             (mm)         (mm)         (mm)         (mm)
`
	if got := draw(t, a, render.Look{Format: render.Table, Width: 60}); widest(got) > 60 || !strings.HasPrefix(got,
		headings) {
		t.Errorf("headings are not wrapped to 60 columns:\n%s\nwant\n%s", got, headings)
	}

	a.page = sheet.Sheet{Title: "Numbers", Tables: []sheet.Table{numbers(12, "at")}}
	got := draw(t, a, render.Look{Format: render.Table, Width: 80})
	if widest(got) > 80 || strings.Count(got, "hole") != 2 || strings.Count(got, "1234.5") != 24 {
		t.Errorf("not cut into two tables of at most 80 columns:\n%s", got)
	}
}

// numbers returns a table of n columns of lengths behind a first one.
func numbers(n int, head string) sheet.Table {
	t := sheet.Table{Cols: []sheet.Column{{Key: "n", Head: "hole"}}}
	for i := range n {
		t.Cols = append(t.Cols, sheet.Column{Key: fmt.Sprintf("c%d_mm", i), Head: say.Of(head, " ", i+1)})
	}
	for i := range 2 {
		row := []sheet.Value{sheet.Count(i + 1)}
		for range n {
			row = append(row, units.MustLength("1234.5").Nearest())
		}
		t.Add(row...)
	}
	return t
}

// widest returns how many columns the widest line takes.
func widest(text string) int {
	most := 0
	for l := range strings.Lines(text) {
		most = max(most, utf8.RuneCountInString(strings.TrimSuffix(l, "\n")))
	}
	return most
}

// Whatever stands in a table, no line is wider than the terminal as long as
// one column fits beside the first, no cell is lost, and no line ends in
// blanks.
func TestWidthsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cols := rapid.IntRange(1, 9).Draw(t, "columns")
		table := sheet.Table{Title: "Any"}
		for i := range cols {
			table.Cols = append(table.Cols, sheet.Column{
				Key:  fmt.Sprint("c", i),
				Head: sheet.Text(rapid.StringMatching(`[a-z]{1,10}( [a-z]{1,10}){0,3}`).Draw(t, "head")),
			})
		}
		cells := 0
		for range rapid.IntRange(0, 4).Draw(t, "rows") {
			var row []sheet.Value
			for i := range cols {
				switch {
				case i%2 == 1:
					row = append(row, sheet.Text(rapid.StringMatching(`[a-z]{1,14}X( [a-z]{1,14}){0,12}`).Draw(t, "words")))
					cells++
				case rapid.Bool().Draw(t, "none"):
					row = append(row, nil)
				default:
					row = append(row, units.MustLength(fmt.Sprintf("%d.%03dmm", rapid.IntRange(-9999, 9999).Draw(t, "mm"),
						rapid.IntRange(0, 999).Draw(t, "thousandths"))).Nearest())
				}
			}
			table.Add(row...)
		}
		a := answer{page: sheet.Sheet{
			Title: "Any", Tables: []sheet.Table{table},
			Notes: []sheet.Text{sheet.Text(rapid.StringMatching(`[a-z]{1,14}( [a-z]{1,14}){0,20}`).Draw(t, "note"))},
		}}
		width := rapid.IntRange(44, 120).Draw(t, "width")
		b, err := render.Bytes(a, render.Look{Format: render.Table, Width: width})
		if err != nil {
			t.Fatal(err)
		}
		text := string(b)
		if widest(text) > width {
			t.Fatalf("%d columns, and it is %d wide:\n%s", width, widest(text), text)
		}
		if strings.Count(text, "X") < cells {
			t.Fatalf("cells were lost:\n%s", text)
		}
		if strings.Contains(text, " \n") {
			t.Fatalf("a line ends in a blank:\n%s", text)
		}
	})
}

// Notes, cautions and reasons hang under their mark.
func TestHangingLines(t *testing.T) {
	a := answer{page: sheet.Sheet{
		Title: "A title that is longer than the terminal is wide",
		Notes: []sheet.Text{"one two three four five six seven eight nine ten"},
	}}
	const want = `A title that is longer
than the terminal is wide

Notes
- one two three four five
  six seven eight nine ten
`
	if got := draw(t, a, render.Look{Format: render.Table, Width: 26}); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// The formats by name.
func TestParseFormat(t *testing.T) {
	all := say.Choice(render.Formats()).In(units.MM)
	for _, name := range render.Formats() {
		if f, err := render.ParseFormat(string(name)); err != nil || f != name || render.ByEnding(f.Ending()) != f {
			t.Errorf("%s: %v, %v, %s", name, f, err, f.Ending())
		}
	}
	for _, tc := range []struct{ text, want string }{
		{"jsno", "format: jsno: write " + all + "\n  did you mean json?"},
		{"", "format: write " + all},
	} {
		if _, err := render.ParseFormat(tc.text); err == nil || err.Error() != tc.want {
			t.Errorf("got %v, want %s", err, tc.want)
		}
	}
}

// A list of captions lines up.
func TestCaptions(t *testing.T) {
	got := render.Captions("commands", [][2]string{
		{"solve", "what taper"},
		{"°C", "two columns"},
		{"tailstock", "how far"},
	})
	if want := "commands:\n  solve      what taper\n  °C         two columns\n  tailstock  how far\n"; got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

package render

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// page is a sheet in words, all of them in the unit of the page.
type page struct {
	title, given string
	fails        []string // why the answer is no
	facts        []grid   // one or none: names, values and remarks
	tables       []grid
	drawings     []sheet.Drawing

	steps, working, notes, warnings, cautions []string

	brief bool // it is short, and what was left out can be asked for
}

// pageOf words the sheet of a result.
func pageOf(r sheet.Result, look Look) page {
	s, w := r.Sheet(), problem.Wording{Unit: look.Units, Key: look.Key}
	w.Brief = s.Brief && look.Format == Table && !look.Working
	p := page{
		title: worded(s.Title, w), given: givenText(look.Given, w), drawings: s.Drawings, brief: w.Brief,
		facts: factsOf(s.Facts, look, w), notes: wordedAll(s.Notes, w), cautions: wordedAll(s.Cautions, w),
	}
	for i, text := range wordedAll(s.Procedure, w) {
		p.steps = append(p.steps, strconv.Itoa(i+1)+". "+text)
	}
	for _, f := range r.Fails() {
		p.fails = append(p.fails, f.Worded(problem.Wording{Unit: look.Units, Key: look.Key}))
	}
	p.warnings = warningsOf(s.Warnings, w)
	for _, t := range s.Tables {
		if g := gridOf(t, w); len(g.heads) > 0 { // else all of it is left to the working
			p.tables = append(p.tables, g)
		}
	}
	if look.Working {
		for _, x := range s.Working {
			p.working = append(p.working, x.Text())
		}
	}
	return p
}

// warningsOf words the warnings. On a short page what was not checked is told in one, by what the
// shop's file does not say; the working has each.
func warningsOf(list sheet.Warnings, w problem.Wording) (out []string) {
	var unknown, look []string
	for _, x := range list {
		switch said := worded(x.Text, w); {
		case w.Brief && x.Code == "not-checked" && x.Look && said != "":
			look = append(look, said)
		case w.Brief && x.Code == "not-checked" && x.Key != "" && !x.Look:
			unknown = append(unknown, strings.TrimPrefix(x.Key, "lathe: "))
		case said != "":
			out = append(out, said)
		}
	}
	if len(look) > 0 {
		out = append(out, strings.Join(look, "; "))
	}
	if len(unknown) > 0 {
		out = append(out, "not checked for want of "+strings.Join(unknown, ", "))
	}
	return out
}

// factsOf returns the facts that people see as one grid, or none.
func factsOf(facts []sheet.Fact, look Look, w problem.Wording) []grid {
	g := grid{words: []bool{true, true, true}}
	for _, f := range facts {
		if f.Value != nil && (look.Working || !f.Behind) {
			g.rows = append(g.rows, []string{worded(f.Label, w), factText(f.Value, w), worded(f.Remark, w)})
		}
	}
	if len(g.rows) == 0 {
		return nil
	}
	return []grid{g}
}

func worded(text any, w problem.Wording) string { return w.Text(say.Of(text)) }

// wordedAll words the sentences of which something is said.
func wordedAll(list []sheet.Text, w problem.Wording) []string {
	var out []string
	for _, text := range list {
		if said := worded(text, w); said != "" {
			out = append(out, said)
		}
	}
	return out
}

// givenText returns what was understood from the question as one line.
func givenText(given []sheet.Fact, w problem.Wording) string {
	words := make([]string, len(given))
	was := ""
	for i, f := range given {
		words[i] = worded(f.Label, w)
		if key, value, ok := strings.Cut(words[i], " "); ok && w.Brief { // one that is given again
			if key == was {
				words[i] = value
			}
			was = key
		}
		if f.Value == nil {
			continue
		}
		text := factText(f.Value, w)
		if w.Brief {
			text = trimmed(f.Value, w)
			if number, unit, ok := strings.Cut(text, " "); ok && strings.HasSuffix(words[i], " "+number) {
				words[i] += " " + unit
			}
		}
		if !strings.HasSuffix(words[i], text) {
			words[i] += " (" + text + ")"
		}
	}
	return strings.Join(words, ", ")
}

// trimmed is a value without the figures that say nothing.
func trimmed(v sheet.Value, w problem.Wording) string {
	switch v := v.(type) {
	case units.Rounded:
		return say.Of(v).In(w.Unit)
	case sheet.Angle:
		return say.Of(say.Num(v.V.Deg(), 3), " deg").In(w.Unit)
	}
	return factText(v, w)
}

// none is how a figure that does not exist is shown.
const none = "-"

// shown returns a value for people, and the unit it is shown in, or "".
func shown(v sheet.Value, w problem.Wording) (text, unit string) {
	u := w.Unit
	switch v := v.(type) {
	case nil:
		return none, ""
	case units.Rounded:
		return v.Digits(v.In(u)), v.In(u).String()
	case sheet.Angle:
		if v.Minutes {
			return fixed(v.V.Deg(), 3) + "° (" + v.V.DMS(false) + ")", ""
		}
		return fixed(v.V.Deg(), 3), "deg"
	case sheet.Number:
		sound(v)
		text := fixed(v.V, v.Places)
		if v.Signed && !strings.HasPrefix(text, "-") && strings.Trim(text, "0.") != "" {
			text = "+" + text
		}
		return text, v.Unit
	case units.Measured:
		text, unit, _ := strings.Cut(say.Of(v).In(u), " ")
		return text, unit
	}
	return problem.Printable(worded(v, w)), ""
}

// exact returns a value for a machine: lengths in mm and angles in degrees,
// in full.
func exact(v sheet.Value) string {
	switch v := v.(type) {
	case nil:
		return ""
	case units.Rounded:
		if v.In(units.MM) == units.Inch {
			return strings.TrimSuffix(strings.TrimRight(v.Fixed(units.Inch, 9, units.Nearest), "0"), ".")
		}
		return v.Decimal().String()
	case units.Marked:
		return v.Decimal().String()
	case sheet.Angle:
		return fixed(v.V.Deg(), -1)
	case sheet.Number:
		sound(v)
		return fixed(v.V, -1)
	case units.Measured:
		bare, _ := v.In(units.MM)
		return fixed(bare, -1)
	}
	return worded(v, problem.Wording{})
}

// sound panics on NaN and infinity, which are a defect of the calculator's.
func sound(n sheet.Number) {
	if math.IsNaN(n.V) || math.IsInf(n.V, 0) {
		panic("render: a number that is no number reached a sheet")
	}
}

// fixed writes a number with so many decimals, -1 for as many as it has, and no
// minus before a 0. It takes the last few bits off, so that 6.2499999999999 is
// shown as the 6.25 it stands for.
func fixed(v float64, places int) string {
	s := strconv.FormatFloat(math.Round(v*1e9)/1e9, 'f', places, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// column returns the values of a column for people and the unit they are shown
// in. Lengths in mm that all end in a 0 lose it.
func column(values []sheet.Value, w problem.Wording) (cells []string, unit string) {
	trim := true
	isLength := func(v sheet.Value) bool { _, ok := v.(units.Rounded); return ok }
	for _, v := range values {
		text, one := shown(v, w)
		cells, unit = append(cells, text), cmp.Or(unit, one)
		if isLength(v) {
			trim = trim && one == units.MM.String() && strings.HasSuffix(text, "0")
		}
	}
	for i, v := range values {
		if trim && isLength(v) {
			cells[i] = strings.TrimSuffix(cells[i], "0")
		}
	}
	return cells, unit
}

// isFigure reports whether a value is a number, with a unit or without.
func isFigure(v sheet.Value) bool {
	switch v.(type) {
	case units.Rounded, sheet.Angle, sheet.Number, units.Measured:
		return true
	}
	return false
}

// factText returns a single value with its unit: "41.421 mm".
func factText(v sheet.Value, w problem.Wording) string {
	cells, unit := column([]sheet.Value{v}, w)
	return strings.TrimSpace(cells[0] + " " + unit)
}

// grid is a table turned into text: headings with units, and cells. Without
// headings it is a list of facts.
type grid struct {
	title string
	heads []string
	words []bool // columns of words: left-aligned, may be wrapped
	rows  [][]string
	check bool // the last row is the check line
}

// gridOf turns a table into text in the unit of the page. The unit of a column of
// numbers stands in its heading. A brief one leaves some columns out.
func gridOf(t sheet.Table, w problem.Wording) grid {
	all := slices.Clip(t.Rows)
	if t.Check != nil {
		all = append(all, t.Check)
	}
	g := grid{title: worded(t.Title, w), rows: make([][]string, len(all)), check: t.Check != nil}
	for c, col := range t.Cols {
		if col.Unseen || w.Brief && col.Behind {
			continue
		}
		values := make([]sheet.Value, len(all))
		words := true
		for i, row := range all {
			values[i] = row[c]
			words = words && !isFigure(row[c])
		}
		cells, unit := column(values, w)
		head := worded(col.Head, w)
		if unit != "" {
			head += " (" + unit + ")"
		}
		g.heads, g.words = append(g.heads, head), append(g.words, words)
		for i, text := range cells {
			g.rows[i] = append(g.rows[i], text)
		}
	}
	return g
}

// each calls do with every heading and every cell.
func (g grid) each(do func(col int, head bool, cell *string)) {
	for c := range g.heads {
		do(c, true, &g.heads[c])
	}
	for _, row := range g.rows {
		for c := range row {
			do(c, false, &row[c])
		}
	}
}

// picked returns g with what pick takes of each row.
func (g grid) picked(pick func(row []string) []string) grid {
	g.heads, g.rows = pick(g.heads), slices.Clone(g.rows)
	for i, row := range g.rows {
		g.rows[i] = pick(row)
	}
	return g
}

// cut returns g in parts that repeat the first column, each with as many of the
// others as fit, and at least one.
func (g grid) cut(fits func(grid) bool) []grid {
	columns := func(from, to int) grid {
		part := g.picked(func(row []string) []string {
			if row == nil {
				return nil
			}
			return append([]string{row[0]}, row[from:to]...)
		})
		part.words = append([]bool{g.words[0]}, g.words[from:to]...)
		return part
	}
	var parts []grid
	for from := 1; from < len(g.words); {
		to := from + 1
		for to < len(g.words) && fits(columns(from, to+1)) {
			to++
		}
		parts = append(parts, columns(from, to))
		from = to
	}
	return parts
}

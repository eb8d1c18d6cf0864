package render

import (
	"math"
	"strconv"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// none is how a figure that does not exist is shown.
const none = "-"

// text returns a value for people, without its unit.
func text(v sheet.Value, u units.Unit) string {
	switch v := v.(type) {
	case nil:
		return none
	case units.Rounded:
		return v.Digits(v.In(u))
	case sheet.Angle:
		s := strconv.FormatFloat(tidy(v.V.Deg()), 'f', 3, 64)
		if v.Minutes {
			s += "° (" + v.V.DMS(false) + ")"
		}
		return positiveZero(s)
	case sheet.Number:
		sound(v)
		s := positiveZero(strconv.FormatFloat(tidy(v.V), 'f', v.Places, 64))
		if v.Signed {
			return signed(s)
		}
		return s
	case units.Measured:
		number, _, _ := strings.Cut(say.Of(v).In(u), " ")
		return number
	}
	return problem.Printable(say.Of(v).In(u))
}

// tidy takes the last few bits off a float, so that 6.2499999999999 is shown
// as the 6.25 it stands for.
func tidy(v float64) float64 { return math.Round(v*1e9) / 1e9 }

// signed puts a plus before a number that is shown as more than 0.
func signed(s string) string {
	if strings.HasPrefix(s, "-") || strings.Trim(s, "0.") == "" {
		return s
	}
	return "+" + s
}

func positiveZero(s string) string {
	if strings.HasPrefix(s, "-") && strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return s
}

// unitOf returns the unit text shows a value in, or "".
func unitOf(v sheet.Value, u units.Unit) string {
	switch v := v.(type) {
	case units.Rounded:
		return v.In(u).String()
	case sheet.Angle:
		if v.Minutes {
			return ""
		}
		return "deg"
	case sheet.Number:
		return v.Unit
	case units.Measured:
		_, unit := v.In(u)
		return unit
	}
	return ""
}

// Quantity returns a value with its unit: "41.421 mm".
func Quantity(v sheet.Value, u units.Unit) string {
	return strings.TrimSpace(text(v, u) + " " + unitOf(v, u))
}

// exact returns a value for a machine: lengths in mm and angles in degrees,
// in full.
func exact(v sheet.Value) string {
	number := func(v float64) string { return positiveZero(strconv.FormatFloat(tidy(v), 'f', -1, 64)) }
	switch v := v.(type) {
	case nil:
		return ""
	case units.Rounded:
		if v.In(units.MM) == units.Inch {
			return strings.TrimSuffix(strings.TrimRight(v.Fixed(units.Inch, 9, units.Nearest), "0"), ".")
		}
		return v.Decimal().String()
	case sheet.Angle:
		return number(v.V.Deg())
	case sheet.Number:
		sound(v)
		return number(v.V)
	case units.Measured:
		bare, _ := v.In(units.MM)
		return number(bare)
	}
	return say.Of(v).In(units.MM)
}

// sound panics on NaN and infinity, which are a defect of the calculator's.
func sound(n sheet.Number) {
	if !n.Sound() {
		panic("render: a number that is no number reached a sheet")
	}
}

// isText reports whether a column holds words: whatever is no quantity.
func isText(t sheet.Table, col int) bool {
	for _, row := range t.Rows {
		switch row[col].(type) {
		case nil:
			continue
		case units.Rounded, sheet.Angle, sheet.Number, units.Measured:
			return false
		}
		break
	}
	return true
}

// grid is a table turned into text: headings with units, and cells.
type grid struct {
	title string
	heads []string
	words []bool // columns of words: left-aligned, may be wrapped
	rows  [][]string
	check []string
}

// gridOf turns a table into text in the unit u. The unit of a column of
// numbers stands in its heading; lengths that all end in a 0 lose it.
func gridOf(t sheet.Table, u units.Unit) grid {
	g := grid{title: t.Title, rows: make([][]string, len(t.Rows))}
	all := t.Rows
	if t.Check != nil {
		all = append(append([][]sheet.Value{}, t.Rows...), t.Check)
	}
	cells := make([][]string, len(all))
	for i := range all {
		cells[i] = make([]string, len(t.Cols))
	}
	for c, col := range t.Cols {
		head, unit := col.Head, ""
		lengths, trim := false, true
		for i, row := range all {
			cells[i][c] = text(row[c], u)
			if uu := unitOf(row[c], u); uu != "" && unit == "" {
				unit = uu
			}
			if l, ok := row[c].(units.Rounded); ok {
				lengths = true
				trim = trim && l.In(u) == units.MM && strings.HasSuffix(cells[i][c], "0")
			}
		}
		if lengths && trim {
			for i, row := range all {
				if _, ok := row[c].(units.Rounded); ok {
					cells[i][c] = strings.TrimSuffix(cells[i][c], "0")
				}
			}
		}
		if unit != "" {
			head += " (" + unit + ")"
		}
		g.heads = append(g.heads, head)
		g.words = append(g.words, isText(t, c))
	}
	copy(g.rows, cells)
	if t.Check != nil {
		g.check = cells[len(cells)-1]
	}
	return g
}

// factGrid turns facts into a table without headings: name, value, remark.
func factGrid(facts []sheet.Fact, u units.Unit) grid {
	g := grid{heads: []string{"", "", ""}, words: []bool{true, true, true}}
	for _, f := range facts {
		g.rows = append(g.rows, []string{f.Label, factText(f.Value, u), f.Remark})
	}
	return g
}

// factText is Quantity with a needless last 0 of millimetres left out.
func factText(v sheet.Value, u units.Unit) string {
	s := text(v, u)
	if l, ok := v.(units.Rounded); ok && l.In(u) == units.MM {
		s = strings.TrimSuffix(s, "0")
	}
	return strings.TrimSpace(s + " " + unitOf(v, u))
}

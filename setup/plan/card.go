package plan

import (
	"fmt"
	"slices"
	"strings"

	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/rules"
)

// PartHash returns the short hash of the part's file, for the foot of a page.
func (r Result) PartHash() string { return r.Inputs.Part.Hash }

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: "Route card: " + r.Inputs.Name, Warnings: r.Warnings, Cautions: r.Cautions, Working: r.working}
	s.Facts = []sheet.Fact{{Key: "material", Label: "material", Value: sheet.Text(r.Material)}, {Key: "quantity", Label: "quantity", Value: sheet.Count(r.Quantity)}}
	if r.Blank.Diameter != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "blank_diameter_mm", Label: "bar", Value: sheet.Up(*r.Blank.Diameter), Remark: "diameter"},
			sheet.Fact{Key: "blank_length_mm", Label: "sawn to", Value: sheet.Up(*r.Blank.Length), Remark: "length"})
	}
	if r.Blank.X != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "blank_x_mm", Label: "block sawn to x", Value: sheet.Up(*r.Blank.X)},
			sheet.Fact{Key: "blank_y_mm", Label: "y", Value: sheet.Up(*r.Blank.Y)}, sheet.Fact{Key: "blank_z_mm", Label: "z", Value: sheet.Up(*r.Blank.Z)})
	}
	if len(r.Operations) == 0 {
		return s
	}
	s.Facts = append(s.Facts,
		sheet.Fact{Key: "setups", Label: "set-ups", Value: sheet.Count(r.Setups)},
		sheet.Fact{Key: "time_min", Label: "time", Value: sheet.Num(float64(r.Minutes), 0, "min"), Remark: "cutting and set-ups, a guess; for one part"})
	if p, ok := r.worst(); ok {
		s.Facts = append(s.Facts, sheet.Fact{Key: "largest_error_mm", Label: "furthest off", Value: sheet.Fine(p.Error), Remark: p.Feature + ": " + p.Because})
	}
	s.Tables = append(s.Tables, r.orderTable())
	s.Tables = append(s.Tables, r.reasonTable())
	s.Tables = append(s.Tables, r.cards()...)
	s.Tables = append(s.Tables, r.predictedTable(), r.kitTable())
	axes := "z runs from the left end of the drawing; a roll is counted counter-clockwise seen from the right end, 0 is up."
	if r.Blank.X != nil {
		axes = "x and y run from the left front edges of the finished block, z up from its base."
	}
	s.Notes = append(s.Notes, "Blank: "+r.Blank.Because+".", axes,
		"Dial positions are counted from zero as named, and approached from one side.")
	return s
}

func (r Result) orderTable() sheet.Table {
	t := sheet.Table{Title: "Order of work", Cols: []sheet.Column{
		{Key: "n", Head: "n"}, {Key: "setup", Head: "set-up"}, {Key: "machine", Head: "machine"}, {Key: "name", Head: "operation"}, {Key: "because", Head: "because"},
	}}
	for _, o := range r.Operations {
		t.Add(sheet.Count(o.N), sheet.Count(o.Setup), o.Machine, sheet.Text(o.Name), sheet.Text(o.short))
	}
	return t
}

// reasonTable explains the rules that the order of work names.
func (r Result) reasonTable() sheet.Table {
	t := sheet.Table{Title: "Why in this order", Cols: []sheet.Column{{Key: "code", Head: "rule"}, {Key: "reason", Head: "since"}}}
	for _, rule := range rules.Table() {
		if slices.ContainsFunc(r.Operations, func(o Operation) bool { return strings.Contains(o.short, rule.Code) }) {
			t.Add(sheet.Text(rule.Code), sheet.Text(rule.Reason))
		}
	}
	t.Add(sheet.Text("free"), sheet.Text("no rule ties it to its neighbours: it stands where it saves a set-up, a grip or a tool change"))
	return t
}

// cards returns one table a set-up: how it is held, and for each operation
// what is set.
func (r Result) cards() []sheet.Table {
	var list []sheet.Table
	for i, o := range r.Operations {
		if i == 0 || o.Setup != r.Operations[i-1].Setup {
			list = append(list, sheet.Table{
				Title: fmt.Sprintf("Set-up %d, %s: %s", o.Setup, o.Machine.Name(), o.Hold),
				Cols:  []sheet.Column{{Key: "n", Head: "n"}, {Key: "what", Head: "what"}, {Key: "set", Head: "set to"}, {Key: "note", Head: "note"}},
			})
		}
		o.lines(&list[len(list)-1])
	}
	return list
}

// lines writes an operation's settings, dial positions and checks.
func (o Operation) lines(t *sheet.Table) {
	note := ""
	if o.Minutes > 0 {
		note = fmt.Sprintf("about %.0f min", max(1, float64(o.Minutes)))
	}
	t.Add(sheet.Count(o.N), sheet.Text(o.Name), sheet.Text(o.Tool), sheet.Text(note))
	for _, s := range o.Settings {
		t.Add(nilText(), sheet.Text("  "+s.Name), sheet.Text(s.Value), sheet.Text(s.Note))
	}
	for _, d := range o.Dials {
		t.Add(nilText(), sheet.Text("  "+d.What), sheet.Text(dialText(d)), sheet.Text(dialNote(d)))
	}
	for _, c := range o.Checks {
		word := "checked"
		if !c.OK {
			word = "NO"
		}
		t.Add(nilText(), sheet.Text("  "+word), sheet.Text(c.Value), sheet.Text("limit "+c.Limit))
	}
}

// nilText is an empty cell.
func nilText() sheet.Value { return sheet.Text("") }

func dialText(d op.Dial) string {
	if d.Turns == nil {
		return sheet.Inline(d.Exact, units.Nearest)
	}
	return d.Mark
}

func dialNote(d op.Dial) string {
	if d.Set == nil {
		return d.Slide + ", no dial"
	}
	text := fmt.Sprintf("%s, %s", d.Slide, sheet.Inline(d.Exact, units.Nearest))
	if lost := d.Set.Minus(d.Exact); lost.RoundTo(units.MustLength("0.001mm"), units.Nearest).Sign() != 0 {
		sign := ""
		if lost.Sign() > 0 {
			sign = "+"
		}
		text += fmt.Sprintf(" (the line is %s%s)", sign, sheet.Inline(lost, units.Nearest))
	}
	return text
}

// worst returns the predicted size that is furthest off the drawing, and
// whether any is off.
func (r Result) worst() (Predicted, bool) {
	var worst Predicted
	for _, p := range r.Predicted {
		if worst.Error.Abs().Less(p.Error.Abs()) {
			worst = p
		}
	}
	return worst, worst.Error.Sign() != 0
}

func (r Result) predictedTable() sheet.Table {
	t := sheet.Table{Title: "The part that will come out", Cols: []sheet.Column{
		{Key: "feature", Head: "feature"}, {Key: "drawn_mm", Head: "drawn"}, {Key: "out_mm", Head: "out"}, {Key: "error_mm", Head: "error"}, {Key: "because", Head: "because"},
	}}
	for _, p := range r.Predicted {
		t.Add(sheet.Text(p.Feature), sheet.Len(p.Drawn), sheet.Len(p.Out), sheet.Fine(p.Error), sheet.Text(p.Because))
	}
	return t
}

func (r Result) kitTable() sheet.Table {
	t := sheet.Table{Title: "Kit", Cols: []sheet.Column{{Key: "name", Head: "tool"}, {Key: "needed", Head: "needed"}, {Key: "have", Head: "on hand"}}}
	for _, k := range r.Kit {
		t.Add(sheet.Text(k.Name), sheet.Text(k.Needed), sheet.YesNo(k.Have))
	}
	return t
}

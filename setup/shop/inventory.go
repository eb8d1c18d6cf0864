package shop

import (
	"encoding/json"
	"fmt"
	"strings"

	"setover/setup/sheet"
	"setover/setup/units"
)

// Inventory is a shop as it was understood, for showing.
type Inventory struct {
	Shop *Shop
	sheet.Remarks
}

// Proof is one line a dial to prove at the machine.
type Proof struct {
	Shop *Shop
	sheet.Remarks
}

// item is one thing owned.
type item struct{ where, what string }

// items lists what the shop has.
func (s Shop) items() []item {
	var list []item
	add := func(where, format string, args ...any) {
		list = append(list, item{where, fmt.Sprintf(format, args...)})
	}
	if l := s.Lathe; l != nil {
		add("lathe", "spindle %s", l.Spindle.text())
		if l.Chuck != nil {
			add("lathe", "chuck of %v with %d jaws", l.Chuck.Diameter, l.Chuck.Jaws)
		}
		if c := l.CrossSlide; c != nil {
			add("lathe", "cross slide: %s", c.text())
		}
		if c := l.Compound; c != nil {
			add("lathe", "compound: zero %s, a mark every %v", c.Scale.Zero, c.Scale.Step)
		}
		if len(l.ChangeGears) > 0 {
			add("lathe", "%d change gears", len(l.ChangeGears))
		}
	}
	if s.Mill != nil {
		add("mill", "spindle %s", s.Mill.Spindle.text())
		if s.Mill.Table != nil {
			add("mill", "table: %s", s.Mill.Table.text())
		}
	}
	if s.DrillPress != nil {
		add("drill press", "spindle %s", s.DrillPress.Spindle.text())
	}
	if g := s.BeltGrinder; g != nil {
		add("belt grinder", "wheel %v at %v", g.Wheel, g.RPM)
	}
	if d := s.DividingHead; d != nil {
		add("dividing head", "%d to 1, %d plates", d.Ratio, len(d.Plates))
	}
	if v := s.VBlocks; v != nil {
		add("V-blocks", "%v", v.Angle)
	}
	add("drawer", "%d drills, %d taps, %d dies, %d reamers", len(s.Drills), len(s.Taps), len(s.Dies), len(s.Reamers))
	return list
}

func (s *Spindle) text() string {
	if s == nil {
		return "not given"
	}
	if len(s.Speeds) == 0 {
		return fmt.Sprintf("%.0f to %v", s.From.RPM(), s.To)
	}
	words := make([]string, len(s.Speeds))
	for i, v := range s.Speeds {
		words[i] = fmt.Sprintf("%.0f", v.RPM())
	}
	return strings.Join(words, ", ") + " rpm"
}

func (d Dial) text() string {
	return fmt.Sprintf("%v a turn, %d divisions of %v", d.Lead, d.Divisions, d.Division())
}

// MarshalJSON writes the shop's items.
func (i Inventory) MarshalJSON() ([]byte, error) {
	type line struct {
		Where string `json:"where"`
		What  string `json:"what"`
	}
	lines := []line{}
	for _, x := range i.Shop.items() {
		lines = append(lines, line{x.where, x.what})
	}
	return json.Marshal(struct {
		Name  string `json:"name"`
		From  string `json:"from"`
		Items []line `json:"items"`
		sheet.Remarks
	}{i.Shop.Name, i.Shop.From, lines, i.Remarks})
}

// Sheet implements sheet.Result.
func (i Inventory) Sheet() sheet.Sheet {
	t := sheet.Table{Cols: []sheet.Column{{Key: "where", Head: "where"}, {Key: "what", Head: "what"}}}
	for _, x := range i.Shop.items() {
		t.Add(sheet.Text(x.where), sheet.Text(x.what))
	}
	return sheet.Sheet{
		Title: "Shop: " + i.Shop.Name, Facts: []sheet.Fact{{Key: "from", Label: "read from", Value: sheet.Text(i.Shop.From)}},
		Tables: []sheet.Table{t}, Notes: []string{"What is not listed is not owned: nothing is borrowed, and sheets say what was not checked."},
		Warnings: i.Warnings,
	}
}

// Dials returns the shop's dials with their names.
func (s Shop) Dials() []NamedDial {
	var list []NamedDial
	if l := s.Lathe; l != nil {
		if l.CrossSlide != nil {
			list = append(list, NamedDial{"cross slide", *l.CrossSlide})
		}
		if l.Compound != nil && l.Compound.Screw != nil {
			list = append(list, NamedDial{"compound", *l.Compound.Screw})
		}
	}
	if s.Mill != nil && s.Mill.Table != nil {
		list = append(list, NamedDial{"mill table", *s.Mill.Table})
	}
	return list
}

// NamedDial is a dial and the slide it is on.
type NamedDial struct {
	Slide string
	Dial
}

// proofTravel is how far a slide is wound under an indicator to prove it.
const proofTurns = 5

// MarshalJSON writes a line a dial.
func (p Proof) MarshalJSON() ([]byte, error) {
	type line struct {
		Slide    string       `json:"slide"`
		Division units.Length `json:"division_mm"`
		Removes  units.Length `json:"one_division_removes_on_diameter_mm"`
	}
	lines := []line{}
	for _, d := range p.Shop.Dials() {
		lines = append(lines, line{d.Slide, d.Division(), d.Division().Times(2)})
	}
	return json.Marshal(struct {
		Name  string `json:"name"`
		From  string `json:"from"`
		Dials []line `json:"dials"`
		sheet.Remarks
	}{p.Shop.Name, p.Shop.From, lines, p.Remarks})
}

// Sheet implements sheet.Result.
func (p Proof) Sheet() sheet.Sheet {
	t := sheet.Table{Title: "Prove each dial at the machine", Cols: []sheet.Column{
		{Key: "slide", Head: "slide"}, {Key: "division_mm", Head: "division"}, {Key: "proof", Head: "what to see"},
	}}
	for _, d := range p.Shop.Dials() {
		t.Add(sheet.Text(d.Slide), sheet.Len(d.Division()), sheet.Text(d.proof()))
	}
	return sheet.Sheet{Title: "Shop file checked: no problems", Facts: []sheet.Fact{
		{Key: "shop", Label: "shop", Value: sheet.Text(p.Shop.Name), Remark: p.Shop.From},
	}, Tables: []sheet.Table{t}, Warnings: p.Warnings}
}

func (d NamedDial) proof() string {
	travel := fmt.Sprintf("an indicator shows %v for %d turns", d.Lead.Times(proofTurns), proofTurns)
	if d.Slide != "cross slide" {
		return travel
	}
	reads := "the numbers count the radius"
	if d.OnDiameter {
		reads = "the numbers count the diameter"
	}
	return fmt.Sprintf("one division removes %v on diameter; %s; %s", d.Division().Times(2), reads, travel)
}

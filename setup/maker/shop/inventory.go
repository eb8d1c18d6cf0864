package shop

import (
	"cmp"
	"fmt"
	"strings"

	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// Inventory is a shop as it was understood, for showing.
type Inventory struct {
	Name  string `json:"name"`
	From  string `json:"from"`
	Items []Item `json:"items"`
	sheet.Remarks
}

// Item is one thing owned: the machine it belongs to, and what it is.
type Item struct {
	Where string `json:"where"`
	What  string `json:"what"`
}

// Inventory returns everything the shop has, with the warnings of its file.
func (s Shop) Inventory(warnings sheet.Warnings) Inventory {
	return Inventory{Name: s.Name, From: s.From, Items: s.items(), Remarks: sheet.Remarks{Warnings: warnings}}
}

// stock collects items.
type stock struct {
	where string
	list  []Item
}

func (k *stock) add(format string, args ...any) {
	k.list = append(k.list, Item{k.where, fmt.Sprintf(format, args...)})
}

// size adds a size that may not be known.
func (k *stock) size(l *units.Length, name string) {
	if l != nil {
		k.add("%s %v", name, *l)
	}
}

// items lists what the shop has.
func (s Shop) items() []Item {
	k := stock{list: []Item{}}
	if s.Lathe != nil {
		k.where = "lathe"
		s.Lathe.items(&k)
	}
	if m := s.Mill; m != nil {
		k.where = "mill"
		drive(&k, m.Spindle, m.Motor)
		if m.Table != nil {
			k.add("table: %s", m.Table.text())
		}
		readout(&k, m.Readout)
	}
	if d := s.DrillPress; d != nil {
		k.where = "drill press"
		drive(&k, d.Spindle, d.Motor)
	}
	if g := s.BeltGrinder; g != nil {
		k.where = "belt grinder"
		k.add("wheel %v at %v", g.Wheel, g.RPM)
	}
	k.where = "dividing"
	if d := s.DividingHead; d != nil {
		k.add("dividing head, %d to 1, %d plates", d.Ratio, len(d.Plates))
	}
	if r := s.RotaryTable; r != nil {
		k.add("rotary table, %d to 1", r.Ratio)
	}
	if len(s.ColletBlocks) > 0 {
		k.add("collet blocks of %s sides", commas(s.ColletBlocks))
	}
	k.where = "bench"
	if v := s.VBlocks; v != nil {
		pair := "one V-block"
		if v.Pair {
			pair = "a pair of V-blocks"
		}
		k.add("%s, %v", pair, v.Angle)
	}
	k.size(s.SineBar, "sine bar")
	if g := s.GaugeBlocks; g != nil {
		k.add("gauge blocks: %s", cmp.Or(g.Set, fmt.Sprintf("%d pieces", len(g.Pieces))))
	}
	k.where = "drawer"
	if n := len(s.Drills); n > 0 {
		k.add("%d drills, %s to %s", n, s.Drills[0].Name, s.Drills[n-1].Name)
	}
	for _, t := range []struct {
		name string
		list []string
	}{{"taps", s.Taps}, {"dies", s.Dies}, {"reamers", texts(s.Reamers)}, {"centre drills", texts(s.CentreDrills)}} {
		if len(t.list) > 0 {
			k.add("%s: %s", t.name, strings.Join(t.list, ", "))
		}
	}
	k.size(s.PartingBlade, "parting blade")
	for _, b := range s.BoringBars {
		k.add("boring bar of %v reaching %v", b.Diameter, b.Reach)
	}
	return k.list
}

// drive adds a spindle and its motor.
func drive(k *stock, s *Spindle, motor *units.Power) {
	if s != nil {
		k.add("spindle %s", s.text())
	}
	if motor != nil {
		k.add("motor %v", *motor)
	}
}

func readout(k *stock, has bool) {
	if has {
		k.add("digital readout")
	}
}

func (l Lathe) items(k *stock) {
	drive(k, l.Spindle, l.Motor)
	k.size(l.BetweenCentres, "between centres")
	k.size(l.SwingOverBed, "swing over the bed")
	k.size(l.SwingOverSlide, "swing over the slide")
	if l.Chuck != nil {
		k.add("chuck of %v with %d jaws", l.Chuck.Diameter, l.Chuck.Jaws)
	}
	if l.ColletName != "" || len(l.Collets) > 0 {
		k.add("collets: %s", cmp.Or(l.ColletName, strings.Join(texts(l.Collets), ", ")))
	}
	if c := l.CrossSlide; c != nil {
		k.add("cross slide: %s", c.text())
	}
	if c := l.Compound; c != nil {
		k.add("compound: zero %s, a mark every %v", c.Scale.Zero, c.Scale.Step)
		k.size(c.Travel, "compound travel")
		if c.Screw != nil {
			k.add("compound screw: %s", c.Screw.text())
		}
	}
	if p := l.ToolPost; p != nil {
		k.add("tool post of %v", p.Size)
	}
	for _, t := range l.Tools {
		k.add("%s-hand tool", t.Hand)
	}
	if t := l.Tailstock; t != nil {
		k.add("tailstock%s", spaced(t.Taper))
		if t.Toward != nil && t.Away != nil {
			k.add("tailstock setover %v toward, %v away", *t.Toward, *t.Away)
		}
	}
	if l.Leadscrew != nil {
		k.add("leadscrew %v", *l.Leadscrew)
	}
	if len(l.ChangeGears) > 0 {
		k.add("change gears %s", commas(l.ChangeGears))
	}
	if d := l.ThreadDial; d != nil {
		k.add("thread dial of %d marks, gears %s", d.Marks, commas(d.Gears))
	}
	if r := l.Steady; r != nil {
		k.add("steady from %v to %v", r.From, r.To)
	}
	readout(k, l.Readout)
}

func spaced(word string) string {
	if word == "" {
		return ""
	}
	return " " + word
}

func commas(list []int) string {
	return strings.Trim(strings.ReplaceAll(fmt.Sprint(list), " ", ", "), "[]")
}

func texts(list []units.Length) []string {
	words := make([]string, len(list))
	for i, l := range list {
		words[i] = l.String()
	}
	return words
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

// Sheet implements sheet.Result.
func (i Inventory) Sheet() sheet.Sheet {
	t := sheet.Table{Cols: []sheet.Column{{Key: "where", Head: "where"}, {Key: "what", Head: "what"}}}
	for _, x := range i.Items {
		t.Add(sheet.Text(x.Where), sheet.Text(x.What))
	}
	return sheet.Sheet{
		Title: "Shop: " + i.Name, Facts: []sheet.Fact{{Key: "from", Label: "read from", Value: sheet.Text(i.From)}},
		Tables: []sheet.Table{t}, Notes: []string{"What is not listed is not owned: nothing is borrowed, and sheets say what was not checked."},
		Warnings: i.Warnings,
	}
}

// Dials returns the shop's dials with their names.
func (s Shop) Dials() []NamedDial {
	var list []NamedDial
	if l := s.Lathe; l != nil {
		if l.CrossSlide != nil {
			list = append(list, NamedDial{crossSlide, *l.CrossSlide})
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

const crossSlide = "cross slide"

// NamedDial is a dial and the slide it is on.
type NamedDial struct {
	Slide string
	Dial
}

// proofTurns is how far a slide is wound under an indicator to prove it.
const proofTurns = 5

// Proof is one line a dial to prove at the machine.
type Proof struct {
	Name  string      `json:"name"`
	From  string      `json:"from"`
	Dials []DialProof `json:"dials"`
	sheet.Remarks
}

// DialProof is what one dial must show. Removes is nil for a slide that does
// not cut a diameter.
type DialProof struct {
	Slide    string        `json:"slide"`
	Division units.Length  `json:"division_mm"`
	Removes  *units.Length `json:"one_division_removes_on_diameter_mm"`
	See      string        `json:"see"`
}

// Prove returns one line a dial, with the warnings of the shop's file.
func (s Shop) Prove(warnings sheet.Warnings) Proof {
	p := Proof{Name: s.Name, From: s.From, Dials: []DialProof{}, Remarks: sheet.Remarks{Warnings: warnings}}
	for _, d := range s.Dials() {
		line := DialProof{Slide: d.Slide, Division: d.Division(), See: d.proof()}
		if d.Slide == crossSlide {
			twice := d.Division().Times(2)
			line.Removes = &twice
		}
		p.Dials = append(p.Dials, line)
	}
	return p
}

// Sheet implements sheet.Result.
func (p Proof) Sheet() sheet.Sheet {
	t := sheet.Table{Title: "Prove each dial at the machine", Cols: []sheet.Column{
		{Key: "slide", Head: "slide"}, {Key: "division_mm", Head: "division"}, {Key: "see", Head: "what to see"},
	}}
	for _, d := range p.Dials {
		t.Add(sheet.Text(d.Slide), sheet.Len(d.Division), sheet.Text(d.See))
	}
	s := sheet.Sheet{Title: "Shop file checked: no problems", Facts: []sheet.Fact{
		{Key: "shop", Label: "shop", Value: sheet.Text(p.Name), Remark: p.From},
	}, Warnings: p.Warnings}
	if len(p.Dials) > 0 {
		s.Tables = []sheet.Table{t}
	}
	return s
}

func (d NamedDial) proof() string {
	travel := fmt.Sprintf("an indicator shows %v for %d turns", d.Lead.Times(proofTurns), proofTurns)
	if d.Slide != crossSlide {
		return travel
	}
	reads := "the numbers count the radius"
	if d.OnDiameter {
		reads = "the numbers count the diameter"
	}
	return fmt.Sprintf("one division removes %v on diameter; %s; %s", d.Division().Times(2), reads, travel)
}

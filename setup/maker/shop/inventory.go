package shop

import (
	"cmp"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/setup/page/sheet"
)

// Inventory is a shop as it was understood, for showing.
type Inventory struct {
	Name  string `json:"name"`
	From  string `json:"from" show:"read from"`
	Items []Item `json:"items"`
	sheet.Remarks
}

// Item is one thing owned: the machine it belongs to, and what it is.
type Item struct {
	Where string   `json:"where" show:"where"`
	What  say.Text `json:"what" show:"what"`
}

// Inventory returns everything the shop has, with the warnings of its file.
func (s Shop) Inventory(warnings sheet.Warnings) Inventory {
	return Inventory{Name: s.Name, From: s.From, Items: s.items(), Remarks: sheet.Remarks{Warnings: warnings}}
}

// Sheet implements sheet.Result.
func (i Inventory) Sheet() sheet.Sheet {
	s := sheet.Of(&i, "Shop: ", i.Name)
	s.Figures()
	s.Table(i.Items)
	s.Note("What is not listed is not owned: nothing is borrowed, and sheets say what was not checked.")
	return *s
}

// stock collects items.
type stock struct {
	where string
	list  []Item
}

// add adds an item.
func (k *stock) add(pieces ...any) {
	k.list = append(k.list, Item{k.where, say.Of(pieces...)})
}

// size adds a size that may not be known.
func (k *stock) size(name string, l *units.Length) {
	if l != nil {
		k.add(name, " ", *l)
	}
}

// each adds a list that may be empty.
func each[T any](k *stock, name string, list []T) {
	if len(list) > 0 {
		k.add(name, say.Join(list, ", "))
	}
}

// stamped returns sizes as they are stamped on tools.
func stamped(sizes []units.Length) []drills.Drill {
	list := make([]drills.Drill, len(sizes))
	for i, l := range sizes {
		list[i] = drills.Stamped(l)
	}
	return list
}

// items lists what the shop has.
func (s Shop) items() []Item {
	k := &stock{list: []Item{}}
	if l := s.Lathe; l != nil {
		k.where = OnLathe.Name()
		l.items(k)
	}
	if m := s.Mill; m != nil {
		k.where = OnMill.Name()
		k.drive(m.Spindle, m.Motor)
		k.dial("table: ", m.Table)
		k.has("power feed", m.PowerFeed)
		k.has("digital readout", m.Readout)
	}
	if d := s.DrillPress; d != nil {
		k.where = OnDrillPress.Name()
		k.drive(d.Spindle, d.Motor)
		k.has("power feed", d.PowerFeed)
	}
	if g := s.BeltGrinder; g != nil {
		k.where = OnBeltGrinder.Name()
		k.add("wheel ", g.Wheel, " at ", g.RPM)
	}
	k.where = "dividing"
	if d := s.DividingHead; d != nil {
		k.add("dividing head, ", d.Ratio, " to 1, ", len(d.Plates), " plates")
	}
	if r := s.RotaryTable; r != nil {
		k.add("rotary table, ", r.Ratio, " to 1")
	}
	if len(s.ColletBlocks) > 0 {
		k.add("collet blocks of ", say.Join(s.ColletBlocks, ", "), " sides")
	}
	k.where = "bench"
	if v := s.VBlocks; v != nil && v.Pair {
		k.add("a pair of V-blocks, ", v.Angle)
	} else if v != nil {
		k.add("one V-block, ", v.Angle)
	}
	k.size("sine bar", s.SineBar)
	if g := s.GaugeBlocks; g != nil {
		k.add("gauge blocks: ", cmp.Or(say.Plain(g.Set), say.Of(len(g.Pieces), " pieces")))
	}
	s.drawer(k)
	return k.list
}

// drawer adds the tools in the drawer and the bars on the rack.
func (s Shop) drawer(k *stock) {
	k.where = "drawer"
	if n := len(s.Drills); n > 0 {
		k.add(n, " drills, ", s.Drills[0].Name, " to ", s.Drills[n-1].Name)
	}
	each(k, "taps: ", s.Taps)
	each(k, "dies: ", s.Dies)
	each(k, "reamers: ", stamped(s.Reamers))
	each(k, "centre drills: ", stamped(s.CentreDrills))
	if p := s.Parting; p != nil {
		k.add("parting blade ", p.Blade)
		k.size("parting off up to", p.Most)
		k.size("parting blade reaching", p.Reach)
	}
	for _, b := range s.BoringBars {
		k.add("boring bar of ", b.Diameter, " reaching ", b.Reach)
	}
	k.where = "rack"
	for _, b := range s.Stock {
		if k.add(b.Material, ", ", b.Stock); b.Length != nil {
			k.list[len(k.list)-1].What += say.Of(", ", *b.Length, " long")
		}
	}
}

// drive adds a spindle and its motor.
func (k *stock) drive(s *Spindle, motor *units.Power) {
	switch {
	case s == nil:
	case len(s.Speeds) == 0:
		k.add("spindle ", say.Num(s.From.RPM(), 0), " to ", s.To)
	default:
		var speeds []say.Text
		for _, v := range s.Speeds {
			speeds = append(speeds, say.Num(v.RPM(), 0))
		}
		k.add("spindle ", say.Join(speeds, ", "), " rpm")
	}
	if motor != nil {
		k.add("motor ", *motor)
	}
}

func (k *stock) dial(name string, d *Dial) {
	if d != nil {
		k.add(name, d.Lead.Marked(d.Unit), " a turn, ", d.Divisions, " divisions of ", d.Division().Marked(d.Unit))
	}
}

// has adds what is there or is not.
func (k *stock) has(name string, there bool) {
	if there {
		k.add(name)
	}
}

// chuck adds a chuck with what it takes.
func (k *stock) chuck(name string, c *Chuck) {
	if c == nil {
		return
	}
	what := say.Of(name, " of ", c.Diameter, " with ", c.Jaws, " jaws")
	if c.Range != nil {
		what += say.Of(", gripping ", c.Range.From, " to ", c.Range.To)
	}
	if c.Through != nil {
		what += say.Of(", ", *c.Through, " through it")
	}
	k.add(what)
}

func (l Lathe) items(k *stock) {
	k.drive(l.Spindle, l.Motor)
	k.size("between centres", l.BetweenCentres)
	k.size("swing over the bed", l.SwingOverBed)
	k.size("swing over the slide", l.SwingOverSlide)
	k.size("spindle bore", l.SpindleBore)
	k.chuck("chuck", l.Chuck)
	k.chuck("four-jaw", l.FourJaw)
	k.has("soft jaws", l.SoftJaws)
	each(k, "mandrels: ", stamped(l.Mandrels))
	k.size("centre nose up to", l.CentreNose)
	if l.ColletName != "" || len(l.Collets) > 0 {
		k.add("collets: ", cmp.Or(say.Plain(l.ColletName), say.Join(stamped(l.Collets), ", ")))
	}
	k.dial("cross slide: ", l.CrossSlide)
	k.dial("carriage: ", l.Carriage)
	if c := l.Compound; c != nil {
		k.add("compound: zero ", c.Scale.Zero, ", a mark every ", c.Scale.Step)
		k.size("compound travel", c.Travel)
		k.dial("compound screw: ", c.Screw)
	}
	if p := l.ToolPost; p != nil {
		k.add("tool post of ", p.Size)
	}
	for _, t := range l.Tools {
		k.add(t.Hand, "-hand tool")
	}
	if t := l.Tailstock; t != nil {
		if t.Taper != "" {
			k.add("tailstock ", t.Taper)
		} else {
			k.add("tailstock")
		}
		if t.Toward != nil && t.Away != nil {
			k.add("tailstock setover ", *t.Toward, " toward, ", *t.Away, " away")
		}
	}
	if l.Leadscrew != nil {
		k.add("leadscrew ", *l.Leadscrew)
	}
	each(k, "change gears ", l.ChangeGears)
	if d := l.ThreadDial; d != nil {
		k.add("thread dial of ", d.Marks, " marks, gears ", say.Join(d.Gears, ", "))
	}
	if r := l.Steady; r != nil {
		k.add("steady from ", r.From, " to ", r.To)
	}
	k.has("power feed", l.PowerFeed)
	k.has("digital readout", l.Readout)
}

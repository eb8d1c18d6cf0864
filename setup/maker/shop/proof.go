package shop

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
)

// NamedDial is a dial and the slide it is on.
type NamedDial struct {
	Slide string
	Dial
	onDiameter bool // what it cuts is measured across
	far        bool // it goes further than an indicator's plunger
}

// Dials returns the shop's dials with their names.
func (s Shop) Dials() []NamedDial {
	var list []NamedDial
	if l := s.Lathe; l != nil {
		if l.CrossSlide != nil {
			list = append(list, NamedDial{Slide: "cross slide", Dial: *l.CrossSlide, onDiameter: true})
		}
		if l.Carriage != nil {
			list = append(list, NamedDial{Slide: "carriage", Dial: *l.Carriage, far: true})
		}
		if l.Compound != nil && l.Compound.Screw != nil {
			list = append(list, NamedDial{Slide: "compound", Dial: *l.Compound.Screw})
		}
	}
	if s.Mill != nil && s.Mill.Table != nil {
		list = append(list, NamedDial{Slide: "mill table", Dial: *s.Mill.Table})
	}
	return list
}

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
	Slide    string        `json:"slide" show:"slide"`
	Division units.Marked  `json:"division_mm" show:"division"`
	Removes  *units.Length `json:"one_division_removes_on_diameter_mm"`
	See      say.Text      `json:"see" show:"what to see"`
}

// Prove returns one line a dial, with the warnings of the shop's file.
func (s Shop) Prove(warnings sheet.Warnings) Proof {
	p := Proof{Name: s.Name, From: s.From, Dials: []DialProof{}, Remarks: sheet.Remarks{Warnings: warnings}}
	for _, d := range s.Dials() {
		p.Dials = append(p.Dials, d.proof())
	}
	return p
}

// proof returns what the dial must show.
func (d NamedDial) proof() DialProof {
	turns := practice.ProofTurns
	p := DialProof{Slide: d.Slide, Division: d.Division().Marked(d.Unit)}
	by := "an indicator"
	if d.far {
		by = "a rule"
	}
	p.See = say.Of(by, " shows ", turns.Of(d.Lead).Marked(d.Unit), " for ", say.Num(turns.Number(), 0), " turns")
	if !d.onDiameter {
		return p
	}
	twice, counts := d.Division().Times(2), "radius"
	if d.OnDiameter {
		counts = "diameter"
	}
	p.Removes = &twice
	p.See = say.Of("one division removes ", twice.Marked(d.Unit), " on diameter; the numbers count the ", counts,
		"; ", p.See)
	return p
}

// Sheet implements sheet.Result.
func (p Proof) Sheet() sheet.Sheet {
	s := sheet.Of(&p, "Shop file checked: no problems")
	s.Fact("shop", say.Plain(p.Name), p.From)
	if len(p.Dials) > 0 {
		s.Table(p.Dials, "Prove each dial at the machine")
	}
	return *s
}

package part

import (
	"fmt"

	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// Reading is a part as it was understood, for showing: what it is and how many
// features of each kind it has.
type Reading struct {
	Name     string         `json:"part"`
	From     string         `json:"from"`
	Units    string         `json:"units"`
	Material string         `json:"material"`
	Quantity int            `json:"quantity"`
	Size     []units.Length `json:"size_mm"` // largest diameter and length, or x, y, z
	Features map[string]int `json:"features"`
	sheet.Remarks

	part *Part
}

// Read returns the part p as it was understood, with the warnings of its file.
func Read(p *Part, warnings sheet.Warnings) Reading {
	r := Reading{
		Name: p.Name, From: p.From, Units: p.Units.String(), Material: p.Material, Quantity: p.Quantity,
		Size: p.size(), Features: map[string]int{}, part: p, Remarks: sheet.Remarks{Warnings: warnings},
	}
	for _, f := range p.features() {
		r.Features[f.key] = f.n
	}
	return r
}

// Verdict is a part file without problems.
type Verdict struct{ Reading }

// features counts what a part has, by kind, in the order of the file format.
func (p Part) features() []feature {
	var list []feature
	add := func(key, kind string, n int) {
		if n > 0 {
			list = append(list, feature{key, kind, n})
		}
	}
	if r := p.Round; r != nil {
		add("arcs", "arcs", len(r.Arcs))
		add("facets", "facets", len(r.Facets))
		add("bores", "bores", len(r.Bores))
		add("threads", "threads", len(r.Threads))
		add("holes", "single cross holes", len(r.Holes))
		add("rows", "rows of cross holes", len(r.Rows))
		add("slots", "slots", len(r.Slots))
	}
	if b := p.Block; b != nil {
		add("slopes", "slopes", len(b.Slopes))
		add("slots", "slots", len(b.Slots))
		add("holes", "holes", len(b.Holes))
	}
	add("processes", "processes", len(p.Processes))
	return list
}

type feature struct {
	key, name string
	n         int
}

// PartHash returns the short hash of the part's file, for the foot of a page.
func (r Reading) PartHash() string { return r.part.Hash }

// PartHash returns the short hash of the part's file, for the foot of a page.
func (v Verdict) PartHash() string { return v.part.Hash }

// size returns the part's outer sizes: largest diameter and length, or x, y, z.
func (p Part) size() []units.Length {
	if p.Round != nil {
		return []units.Length{p.Round.Largest(), p.Round.Length()}
	}
	return []units.Length{p.Block.X, p.Block.Y, p.Block.Z}
}

// Sheet implements sheet.Result.
func (v Verdict) Sheet() sheet.Sheet {
	s := v.part.summary("Part file checked: no problems")
	s.Warnings = v.Warnings
	return s
}

func (p Part) summary(title string) sheet.Sheet {
	s := sheet.Sheet{Title: title, Facts: []sheet.Fact{
		{Key: "part", Label: "part", Value: sheet.Text(p.Name), Remark: p.From},
		{Key: "material", Label: "material", Value: sheet.Text(p.Material)},
		{Key: "quantity", Label: "quantity", Value: sheet.Count(p.Quantity)},
	}}
	if p.Round != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "diameter_mm", Label: "largest diameter", Value: sheet.Len(p.Round.Largest())},
			sheet.Fact{Key: "length_mm", Label: "length", Value: sheet.Len(p.Round.Length())})
	} else {
		for _, d := range []struct {
			key string
			l   units.Length
		}{{"x", p.Block.X}, {"y", p.Block.Y}, {"z", p.Block.Z}} {
			s.Facts = append(s.Facts, sheet.Fact{Key: d.key + "_mm", Label: d.key, Value: sheet.Len(d.l)})
		}
	}
	for _, f := range p.features() {
		s.Facts = append(s.Facts, sheet.Fact{Key: f.key, Label: f.name, Value: sheet.Count(f.n)})
	}
	return s
}

// Sheet implements sheet.Result.
func (r Reading) Sheet() sheet.Sheet {
	s := r.part.summary("Part: " + r.Name)
	s.Warnings = r.Warnings
	if r.part.Round == nil {
		return s
	}
	t := sheet.Table{Title: "Profile, left to right", Cols: []sheet.Column{{Key: "z_mm", Head: "z"}, {Key: "dia_mm", Head: "diameter"}, {Key: "note", Head: ""}}}
	for i, st := range r.part.Round.Profile {
		note := ""
		for _, f := range r.part.Round.Facets {
			if st.Z.Cmp(f.From) >= 0 && st.Z.Cmp(f.To) <= 0 {
				across := "flats"
				if f.Corners {
					across = "corners"
				}
				note = fmt.Sprintf("%d sides, across %s", f.Sides, across)
			}
		}
		if i > 0 && r.part.Round.Profile[i-1].Z.Equal(st.Z) {
			note = "shoulder"
		}
		t.Add(sheet.Len(st.Z), sheet.Len(st.Dia), sheet.Text(note))
	}
	s.Tables = []sheet.Table{t}
	return s
}

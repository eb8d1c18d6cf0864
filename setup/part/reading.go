package part

import (
	"encoding/json"
	"fmt"

	"setover/setup/sheet"
	"setover/setup/units"
)

// Reading is a part as it was understood, for showing.
type Reading struct {
	Part *Part
	sheet.Remarks
}

// Verdict is a part file without problems.
type Verdict struct {
	Part *Part
	sheet.Remarks
}

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
func (r Reading) PartHash() string { return r.Part.Hash }

// PartHash returns the short hash of the part's file, for the foot of a page.
func (v Verdict) PartHash() string { return v.Part.Hash }

// MarshalJSON writes the part's main facts.
func (v Verdict) MarshalJSON() ([]byte, error) { return v.Part.json(v.Remarks) }

// MarshalJSON writes the part's main facts.
func (r Reading) MarshalJSON() ([]byte, error) { return r.Part.json(r.Remarks) }

func (p Part) json(remarks sheet.Remarks) ([]byte, error) {
	counts := map[string]int{}
	for _, f := range p.features() {
		counts[f.key] = f.n
	}
	return json.Marshal(struct {
		Part     string         `json:"part"`
		From     string         `json:"from"`
		Units    string         `json:"units"`
		Material string         `json:"material"`
		Quantity int            `json:"quantity"`
		Size     []units.Length `json:"size_mm"`
		Features map[string]int `json:"features"`
		sheet.Remarks
	}{p.Name, p.From, p.Units.String(), p.Material, p.Quantity, p.size(), counts, remarks})
}

// size returns the part's outer sizes: largest diameter and length, or x, y, z.
func (p Part) size() []units.Length {
	if p.Round != nil {
		return []units.Length{p.Round.Largest(), p.Round.Length()}
	}
	return []units.Length{p.Block.X, p.Block.Y, p.Block.Z}
}

// Sheet implements sheet.Result.
func (v Verdict) Sheet() sheet.Sheet {
	s := v.Part.summary("Part file checked: no problems")
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
	s := r.Part.summary("Part: " + r.Part.Name)
	s.Warnings = r.Warnings
	if r.Part.Round == nil {
		return s
	}
	t := sheet.Table{Title: "Profile, left to right", Cols: []sheet.Column{{Key: "z_mm", Head: "z"}, {Key: "dia_mm", Head: "diameter"}, {Key: "note", Head: ""}}}
	for i, st := range r.Part.Round.Profile {
		note := ""
		for _, f := range r.Part.Round.Facets {
			if st.Z.Cmp(f.From) >= 0 && st.Z.Cmp(f.To) <= 0 {
				across := "flats"
				if f.Corners {
					across = "corners"
				}
				note = fmt.Sprintf("%d sides, across %s", f.Sides, across)
			}
		}
		if i > 0 && r.Part.Round.Profile[i-1].Z.Equal(st.Z) {
			note = "shoulder"
		}
		t.Add(sheet.Len(st.Z), sheet.Len(st.Dia), sheet.Text(note))
	}
	s.Tables = []sheet.Table{t}
	return s
}
